//! Starts the terminal and gives it back whole: on leaving, on a panic, on a signal, over stop and continue.

use std::io::{Write, stdout};
use std::sync::atomic::{AtomicI32, Ordering};
use std::sync::mpsc::Sender;
use std::thread;

use crossterm::event::{self, DisableBracketedPaste, DisableMouseCapture, EnableBracketedPaste, Event, MouseEventKind};
use crossterm::execute;
use crossterm::terminal::{
    Clear, ClearType, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
};
use ratatui::backend::CrosstermBackend;
use ratatui::{DefaultTerminal, Terminal};

use crate::problem::Problem;
use crate::screen::action::Action;

/// Presses, releases and drags of the mouse, in the form with decimal places; bare motion is not asked for.
const MOUSE_ON: &str = "\x1b[?1000h\x1b[?1002h\x1b[?1006h";

/// The terminal in our hands. Dropping it gives the terminal back.
#[derive(Debug)]
pub struct Held {
    pub terminal: DefaultTerminal,
}

/// Columns of the terminal an answer is printed on; nothing when it goes elsewhere.
pub fn columns() -> Option<usize> {
    use std::io::IsTerminal;
    if !std::io::stdout().is_terminal() {
        return None;
    }
    crossterm::terminal::size().ok().map(|(columns, _)| usize::from(columns)).filter(|c| *c >= 40)
}

impl Held {
    /// Take the terminal: screen and raw mode first, then the panic hook, then the mouse.
    pub fn take(mouse: bool) -> Result<Self, Problem> {
        let terminal = ratatui::try_init().map_err(|e| Problem::io("the terminal", e.to_string()))?;
        only_main_thread_restores();
        let held = Self { terminal };
        listen_to_mouse(mouse);
        let _ = execute!(stdout(), EnableBracketedPaste);
        Ok(held)
    }

    /// Stop as the shell's job control expects, and take the terminal again when continued.
    pub fn stop(&mut self, mouse: bool) {
        give_back();
        #[cfg(unix)]
        let _ = signal_hook::low_level::emulate_default_handler(signal_hook::consts::SIGTSTP);
        self.again(mouse);
    }

    /// Take the terminal again after a stop: a shell may have changed everything meanwhile.
    pub fn again(&mut self, mouse: bool) {
        let _ = disable_raw_mode();
        let _ = enable_raw_mode();
        let _ = execute!(stdout(), EnterAlternateScreen, EnableBracketedPaste);
        listen_to_mouse(mouse);
        let _ = execute!(stdout(), Clear(ClearType::All));
        // A new terminal knows nothing of what was drawn. Clearing the old one would ask it for the cursor, which the
        // input thread would answer in its place.
        if let Ok(fresh) = Terminal::new(CrosstermBackend::new(stdout())) {
            self.terminal = fresh;
        }
    }
}

impl Drop for Held {
    fn drop(&mut self) {
        give_back();
    }
}

/// Mouse off first, then the screen as it was.
fn give_back() {
    let _ = execute!(stdout(), DisableMouseCapture, DisableBracketedPaste);
    let _ = disable_raw_mode();
    let _ = execute!(stdout(), LeaveAlternateScreen, crossterm::cursor::Show);
}

/// Ask the terminal for the mouse, or leave it to the person.
pub fn listen_to_mouse(on: bool) {
    let mut out = stdout();
    if on {
        let _ = out.write_all(MOUSE_ON.as_bytes()).and_then(|()| out.flush());
    } else {
        let _ = execute!(out, DisableMouseCapture);
    }
}

/// A panic on the main thread gives the terminal back before its message is printed. A panic on another thread does
/// not: the screen goes on, is told of it, and leaves properly.
fn only_main_thread_restores() {
    let main = thread::current().id();
    let previous = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |info| {
        if thread::current().id() == main {
            let _ = execute!(stdout(), DisableMouseCapture, DisableBracketedPaste);
            previous(info);
        }
    }));
}

/// The thread that reads keys and mouse. An error of the terminal, or a panic in reading it, is an end, never a silent stop.
pub fn read_input(to: Sender<Action>) {
    thread::spawn(move || {
        loop {
            let action =
                match std::panic::catch_unwind(event::read).unwrap_or_else(|_| Err(std::io::ErrorKind::Other.into())) {
                    Ok(Event::Key(key)) if key.is_press() || key.is_repeat() => Action::Key(key),
                    Ok(Event::Mouse(m)) if m.kind != MouseEventKind::Moved => Action::Mouse(m),
                    Ok(Event::Resize(w, h)) => Action::Resize(w, h),
                    Ok(Event::Paste(text)) => Action::Pasted(text),
                    Ok(_) => continue,
                    Err(_) => {
                        let _ = to.send(Action::Quit);
                        return;
                    }
                };
            if to.send(action).is_err() {
                return;
            }
        }
    });
}

/// The signal that ended the screen; 0: none.
static ENDED_BY: AtomicI32 = AtomicI32::new(0);

/// Exit code of a screen that has been left: 0, or 128 and the signal that ended it.
pub fn exit_code() -> u8 {
    match ENDED_BY.load(Ordering::Relaxed) {
        0 => 0,
        signal => u8::try_from(128 + signal).unwrap_or(255),
    }
}

/// Signals become actions, so that everything is put away in order.
#[cfg(unix)]
pub fn read_signals(to: Sender<Action>) -> Result<(), Problem> {
    use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGTERM, SIGTSTP};
    let mut signals = signal_hook::iterator::Signals::new([SIGTERM, SIGHUP, SIGINT, SIGTSTP, SIGCONT])
        .map_err(|e| Problem::fault(format!("signals cannot be received: {e}")))?;
    thread::spawn(move || {
        for signal in signals.forever() {
            let action = match signal {
                SIGTSTP => Action::Suspend,
                SIGCONT => Action::Continued,
                other => {
                    ENDED_BY.store(other, Ordering::Relaxed);
                    Action::Quit
                }
            };
            if to.send(action).is_err() {
                return;
            }
        }
    });
    Ok(())
}

/// Elsewhere there are no signals to receive.
#[cfg(not(unix))]
pub fn read_signals(_to: Sender<Action>) -> Result<(), Problem> {
    Ok(())
}
