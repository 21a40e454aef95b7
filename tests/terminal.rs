//! Tests in a real pseudo-terminal.
#![expect(clippy::unwrap_used, clippy::panic, reason = "helpers of tests may fail as tests do")]
#![cfg(unix)]

use std::io::{Read, Write};
use std::num::NonZero;
use std::path::PathBuf;
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};

/// A program in a terminal of its own, and the scenario it works on.
struct Tty {
    screen: Arc<Mutex<vt100::Parser>>,
    raw: Arc<Mutex<Vec<u8>>>,
    keys: Box<dyn Write + Send>,
    child: Box<dyn Child + Send + Sync>,
    master: Box<dyn MasterPty + Send>,
    folder: tempfile::TempDir,
}

fn size(rows: u16, cols: u16) -> PtySize {
    PtySize { rows, cols, pixel_width: 0, pixel_height: 0 }
}

impl Tty {
    fn start(env: &[(&str, &str)]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        std::fs::copy("scenarios/marram-mixed.toml", folder.path().join("marram.toml")).unwrap();
        Self::start_in(folder, env, "quit")
    }

    /// In a folder that stands, until some words are there.
    fn start_in(folder: tempfile::TempDir, env: &[(&str, &str)], words: &str) -> Self {
        let file = folder.path().join("marram.toml");
        let pair = native_pty_system().openpty(size(24, 80)).unwrap();
        let mut cmd = CommandBuilder::new(env!("CARGO_BIN_EXE_thistledown"));
        cmd.arg(&file);
        for gone in ["NO_COLOR", "COLORTERM", "THISTLEDOWN_TEST_PANIC", "RUST_BACKTRACE"] {
            cmd.env_remove(gone);
        }
        cmd.env("TERM", "xterm-256color");
        for (k, v) in env {
            cmd.env(k, v);
        }
        let child = pair.slave.spawn_command(cmd).unwrap();
        drop(pair.slave);
        let (mut from, keys) = (pair.master.try_clone_reader().unwrap(), pair.master.take_writer().unwrap());
        let parser = vt100::Parser::new(NonZero::new(24).unwrap(), NonZero::new(80).unwrap(), 0);
        let (screen, raw) = (Arc::new(Mutex::new(parser)), Arc::new(Mutex::new(Vec::new())));
        let (fill, bytes) = (Arc::clone(&screen), Arc::clone(&raw));
        thread::spawn(move || {
            let mut b = [0; 4096];
            while let Ok(n @ 1..) = from.read(&mut b) {
                fill.lock().unwrap().process(&b[..n]);
                bytes.lock().unwrap().extend_from_slice(&b[..n]);
            }
        });
        let t = Self { screen, raw, keys, child, master: pair.master, folder };
        t.until("the first frame", |s| s.contents().contains("Marram") && s.contents().contains(words));
        t
    }

    /// Poll every 5 ms, at most 10 s; print the screen when it does not come.
    fn until(&self, what: &str, ok: impl Fn(&vt100::Screen) -> bool) {
        let end = Instant::now() + Duration::from_secs(10);
        loop {
            if ok(self.screen.lock().unwrap().screen()) {
                return;
            }
            let screen = self.screen.lock().unwrap().screen().contents();
            assert!(Instant::now() < end, "waited in vain for {what}:\n{screen}");
            thread::sleep(Duration::from_millis(5));
        }
    }

    fn send(&mut self, bytes: &str) {
        self.keys.write_all(bytes.as_bytes()).unwrap();
        self.keys.flush().unwrap();
    }

    fn mouse(&mut self, code: u8, col: u16, row: u16, end: char) {
        self.send(&format!("\x1b[<{code};{};{}{end}", col + 1, row + 1));
    }

    /// The budget weight in the score strip.
    fn weight(&self) -> f64 {
        let words = self.screen.lock().unwrap().screen().contents();
        let after = words.split("Weight ").nth(1).unwrap_or_else(|| panic!("no weight:\n{words}"));
        after.split(' ').next().unwrap().parse().unwrap()
    }

    /// Column and row of the heavy bar of the aft upper strip, right half.
    fn bar(&self) -> (u16, u16) {
        let screen = self.screen.lock().unwrap();
        let s = screen.screen();
        for row in 0..24 {
            let line: Vec<String> = (0..80).map(|c| s.cell(row, c).unwrap().contents().to_owned()).collect();
            if line.concat().starts_with("aft up ") {
                let column = line.iter().rposition(|c| c == "┃").unwrap_or_else(|| panic!("no bar:\n{}", s.contents()));
                return (u16::try_from(column).unwrap(), row);
            }
        }
        panic!("no strip:\n{}", s.contents());
    }

    fn left_clean(&self) {
        self.until("a clean terminal", |s| {
            !s.alternate_screen() && s.mouse_protocol_mode() == vt100::MouseProtocolMode::None && !s.hide_cursor()
        });
        let raw = self.raw.lock().unwrap();
        let has = |end: &[u8]| raw.windows(end.len()).any(|w| w == end);
        assert!(has(b"\x1b[?1049l") && has(b"\x1b[?1002l") && has(b"\x1b[?2004l"));
    }

    fn signal(&self, name: &str) {
        let pid = self.child.process_id().unwrap().to_string();
        assert!(std::process::Command::new("kill").args([name, &pid]).status().unwrap().success());
    }

    /// The system says that the program is stopped.
    fn stopped(&self) -> bool {
        let pid = self.child.process_id().unwrap().to_string();
        let told = std::process::Command::new("ps").args(["-o", "stat=", "-p", &pid]).output().unwrap();
        String::from_utf8_lossy(&told.stdout).contains('T')
    }

    fn recovery(&self) -> PathBuf {
        self.folder.path().join("marram.recovered.toml")
    }
}

#[test]
fn dragging_the_boundary_with_the_mouse_moves_the_weight() {
    let mut t = Tty::start(&[]);
    let (column, row) = t.bar();
    let before = t.weight();
    t.mouse(0, column, row, 'M');
    for c in column + 1..=column + 5 {
        t.mouse(32, c, row, 'M');
    }
    t.until("words of the drag", |s| s.contents().contains("took hold"));
    t.mouse(0, column + 5, row, 'm');
    t.until("the end of the drag", |s| !s.contents().contains("took hold"));
    assert_eq!(t.bar(), (column + 5, row));
    assert!(t.weight() > before + 0.1, "{} {before}", t.weight());
    t.send("u");
    t.until("the boundary back", |s| s.contents().contains("taken back"));
    assert_eq!(t.bar(), (column, row));
    t.send("q");
    assert!(t.child.wait().unwrap().success());
    t.left_clean();
}

#[test]
fn saving_keeps_the_file_and_a_turn_unsaved_is_asked_about() {
    let mut t = Tty::start(&[]);
    t.send(".");
    t.until("the mark", |s| s.contents().contains("not saved"));
    t.send("q");
    t.until("the question", |s| s.contents().contains("save and leave"));
    t.send("s");
    assert!(t.child.wait().unwrap().success());
    t.left_clean();
    let saved = thistledown::scenario::load(&t.folder.path().join("marram.toml")).unwrap();
    let first = thistledown::scenario::load(std::path::Path::new("scenarios/marram-mixed.toml")).unwrap();
    assert_ne!(saved.design.strips, first.design.strips, "the boundary was written");
    assert!(!t.recovery().exists());
}

#[test]
fn a_file_changed_elsewhere_is_read_again_and_taken_back() {
    let mut t = Tty::start(&[]);
    let path = t.folder.path().join("marram.toml");
    let text = std::fs::read_to_string(&path).unwrap();
    let before = t.weight();
    t.send("R");
    t.until("that nothing changed", |s| s.contents().contains("the file holds this wing as it is"));
    // A span of a metre more, by hand in an editor.
    let span = text.lines().find(|l| l.starts_with("span_m")).unwrap();
    std::fs::write(&path, text.replacen(span, "span_m = 14.4", 1)).unwrap();
    t.send(".");
    t.until("the mark", |s| s.contents().contains("not saved"));
    t.send("s");
    t.until("the question", |s| s.contents().contains("R read it"));
    t.send("R");
    t.until("the file as it is", |s| s.contents().contains("read again") && !s.contents().contains("not saved"));
    assert!((t.weight() - before).abs() > 0.5, "{} {before}", t.weight());
    t.send("u");
    t.until("the wing as it was", |s| s.contents().contains("taken back") && s.contents().contains("not saved"));
    // A file that is none is told with its line, and the wing stays.
    std::fs::write(&path, text.replacen(span, "span_m = 'wide'", 1)).unwrap();
    t.send("R");
    t.until("the fault", |s| s.contents().contains("not read again") && s.contents().contains("marram.toml:"));
    t.send("qd");
    assert!(t.child.wait().unwrap().success());
    t.left_clean();
}

#[test]
fn sigterm_gives_the_terminal_back_and_keeps_a_recovery_copy() {
    let mut t = Tty::start(&[]);
    t.send(".");
    t.until("the mark", |s| s.contents().contains("not saved"));
    t.signal("-TERM");
    assert_eq!(t.child.wait().unwrap().exit_code(), 143, "128 and the signal");
    t.left_clean();
    assert!(t.recovery().exists());
}

#[test]
fn what_a_killed_session_left_is_offered_and_taken() {
    let mut t = Tty::start(&[]);
    let (column, row) = t.bar();
    t.send(".");
    t.until("the mark", |s| s.contents().contains("not saved"));
    let end = Instant::now() + Duration::from_secs(20);
    while !t.recovery().exists() {
        assert!(Instant::now() < end, "no recovery copy");
        thread::sleep(Duration::from_millis(20));
    }
    t.signal("-KILL");
    t.child.wait().unwrap();
    let Tty { folder, .. } = t;
    let mut t = Tty::start_in(folder, &[], "t take them");
    t.send("t");
    t.until("the turns of the earlier session", |s| s.contents().contains("are in the dials"));
    assert_eq!(t.bar(), (column, row), "one step of a hundredth stays in its cell");
    t.send("s");
    t.until("saved", |s| s.contents().contains("saved: "));
    t.send("q");
    assert!(t.child.wait().unwrap().success());
    assert!(!t.recovery().exists(), "the copy goes when its turns are saved");
    let saved = thistledown::scenario::load(&t.folder.path().join("marram.toml")).unwrap();
    let first = thistledown::scenario::load(std::path::Path::new("scenarios/marram-mixed.toml")).unwrap();
    assert_ne!(saved.design.strips, first.design.strips);
}

#[test]
fn stop_and_continue_draws_again() {
    let mut t = Tty::start(&[]);
    t.signal("-TSTP");
    t.until("the shell's screen, the program stopped", |s| !s.alternate_screen() && t.stopped());
    t.signal("-CONT");
    t.until("the wing again", |s| s.alternate_screen() && s.contents().contains("Marram"));
    t.send("q");
    assert!(t.child.wait().unwrap().success());
    t.left_clean();
}

#[cfg(debug_assertions)]
#[test]
fn a_panic_gives_the_terminal_back() {
    let mut t = Tty::start(&[("THISTLEDOWN_TEST_PANIC", "main")]);
    t.send(".");
    let status = t.child.wait().unwrap();
    assert_eq!(status.exit_code(), 101);
    t.left_clean();
    t.until("the message", |s| s.contents().contains("a failure asked for by a test"));
}

#[cfg(debug_assertions)]
#[test]
fn a_panic_of_the_worker_is_told_and_the_terminal_given_back() {
    let mut t = Tty::start(&[("THISTLEDOWN_TEST_PANIC", "worker")]);
    t.send(".");
    assert_eq!(t.child.wait().unwrap().exit_code(), 70);
    t.left_clean();
    t.until("the message", |s| s.contents().contains("a failure asked for by a test"));
    assert!(t.recovery().exists());
}

#[test]
fn without_colour_the_chosen_dial_still_stands_out() {
    let mut t = Tty::start(&[("NO_COLOR", "1")]);
    let plain = |s: &vt100::Screen| {
        (0..24).all(|r| (0..80).all(|c| s.cell(r, c).is_none_or(|c| c.fgcolor() == vt100::Color::Default)))
    };
    let inverse = |s: &vt100::Screen| (1..23).any(|r| (0..80).any(|c| s.cell(r, c).is_some_and(vt100::Cell::inverse)));
    t.until("inverse without colour", |s| plain(s) && inverse(s));
    t.send("q");
    assert!(t.child.wait().unwrap().success());
    t.left_clean();
}

/// A terminal that counts places from nought must not end the thread that reads the keys.
#[test]
fn a_place_no_terminal_should_report_leaves_the_keys_alive() {
    let mut t = Tty::start(&[]);
    for place in ["0;5;0", "0;0;5", "0;0;0", "32;0;0", "64;0;0", "0;99999;99999", "0;65535;65535"] {
        t.send(&format!("\x1b[<{place}M"));
    }
    t.send("q");
    assert!(t.child.wait().unwrap().success());
    t.left_clean();
}

#[test]
fn the_screen_follows_the_window() {
    let mut t = Tty::start(&[]);
    let resize = |t: &Tty, rows: u16, cols: u16| {
        t.screen.lock().unwrap().screen_mut().set_size(NonZero::new(rows).unwrap(), NonZero::new(cols).unwrap());
        t.master.resize(size(rows, cols)).unwrap();
    };
    resize(&t, 18, 60);
    t.until("the polite words", |s| s.contents().contains("60x18"));
    resize(&t, 40, 120);
    t.until("boxes and the hint on the last row", |s| {
        s.contents().contains("Skin map") && s.rows(0, 120).nth(39).is_some_and(|r| r.contains("quit"))
    });
    t.send("q");
    assert!(t.child.wait().unwrap().success());
    t.left_clean();
}

#[test]
fn at_rest_nothing_is_written() {
    let mut t = Tty::start(&[]);
    // Quiet is reached when the length has not grown for 300 ms; from then on it must stay so.
    let length = || t.raw.lock().unwrap().len();
    let end = Instant::now() + Duration::from_secs(20);
    let mut last = (length(), Instant::now());
    while last.1.elapsed() < Duration::from_millis(300) {
        assert!(Instant::now() < end, "never quiet");
        thread::sleep(Duration::from_millis(5));
        if length() != last.0 {
            last = (length(), Instant::now());
        }
    }
    thread::sleep(Duration::from_millis(500));
    assert_eq!(length(), last.0);
    t.send("q");
    assert!(t.child.wait().unwrap().success());
}

/// What the command line prints on a terminal is broken to its width, between words.
#[test]
fn an_answer_on_a_terminal_is_broken_to_its_width() {
    let pair = native_pty_system().openpty(size(24, 80)).unwrap();
    let mut cmd = CommandBuilder::new(env!("CARGO_BIN_EXE_thistledown"));
    cmd.args(["explain", "web_buckling"]);
    cmd.cwd(env!("CARGO_MANIFEST_DIR"));
    let mut child = pair.slave.spawn_command(cmd).unwrap();
    drop(pair.slave);
    let mut from = pair.master.try_clone_reader().unwrap();
    let reading = thread::spawn(move || {
        let mut all = Vec::new();
        let mut b = [0; 4096];
        while let Ok(n @ 1..) = from.read(&mut b) {
            all.extend_from_slice(&b[..n]);
        }
        String::from_utf8_lossy(&all).into_owned()
    });
    assert!(child.wait().unwrap().success());
    drop(pair.master);
    let said = reading.join().unwrap();
    let lines: Vec<&str> = said.lines().map(str::trim_end).collect();
    assert!(lines.iter().all(|l| l.chars().count() <= 80), "{said}");
    let at = lines.iter().position(|l| l.starts_with("  source ")).unwrap();
    assert!(lines[at].chars().count() > 50 && lines[at + 1].starts_with("              "), "{said}");
}
