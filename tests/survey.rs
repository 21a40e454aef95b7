//! The grid run: same bytes for any number of threads, after any kill, at any torn byte.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use thistledown::scenario;
use thistledown::survey::run::{Found, Plan, Shard};
use thistledown::survey::space::{MOST_CELLS, Space, read_axis};

fn marram() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml")
}

fn plan(dir: &Path, name: &str, threads: usize, shard: Shard) -> Plan {
    let base = scenario::load(&marram()).unwrap().design;
    let axes = ["planform.span_m=12.8:13.6:0.1", "planform.taper=0.4:0.6:0.01"].map(|a| read_axis(a, &base).unwrap());
    Plan { space: Space::new(axes.to_vec()).unwrap(), base, shard, run_file: dir.join(name), threads, inside: None }
}

fn whole(p: &Plan) -> Found {
    p.run(&AtomicBool::new(false), |_, _| {}).unwrap()
}

#[test]
fn one_and_two_threads_write_the_same_bytes() {
    let dir = tempfile::tempdir().unwrap();
    let (a, b) = (plan(dir.path(), "a.run", 1, Shard::WHOLE), plan(dir.path(), "b.run", 2, Shard::WHOLE));
    assert_eq!(whole(&a), whole(&b));
    assert_eq!(std::fs::read(&a.run_file).unwrap(), std::fs::read(&b.run_file).unwrap());
}

#[test]
fn a_run_cut_off_at_any_byte_goes_on_to_the_same_end() {
    let dir = tempfile::tempdir().unwrap();
    let p = plan(dir.path(), "a.run", 2, Shard::WHOLE);
    let (found, bytes) = (whole(&p), std::fs::read(&p.run_file).unwrap());
    for cut in [0, 1, 11, 12, 40, bytes.len() / 3, bytes.len() / 2, bytes.len() - 1] {
        let torn = plan(dir.path(), "torn.run", 2, Shard::WHOLE);
        std::fs::write(&torn.run_file, &bytes[..cut]).unwrap();
        assert_eq!(whole(&torn), found, "cut at {cut}");
        assert_eq!(std::fs::read(&torn.run_file).unwrap(), bytes, "cut at {cut}");
    }
}

#[test]
fn a_damaged_record_is_cut_and_computed_again() {
    let dir = tempfile::tempdir().unwrap();
    let p = plan(dir.path(), "a.run", 2, Shard::WHOLE);
    let (found, bytes) = (whole(&p), std::fs::read(&p.run_file).unwrap());
    let mut bad = bytes.clone();
    let place = bad.len() - 20;
    bad[place] ^= 0x40;
    std::fs::write(&p.run_file, &bad).unwrap();
    assert_eq!(whole(&p), found);
    assert_eq!(std::fs::read(&p.run_file).unwrap(), bytes);
}

#[test]
fn a_run_file_of_another_search_is_refused_and_left_alone() {
    let dir = tempfile::tempdir().unwrap();
    let p = plan(dir.path(), "a.run", 2, Shard::WHOLE);
    whole(&p);
    let before = std::fs::read(&p.run_file).unwrap();
    let mut other = p.clone();
    other.base.planform.washout_rad += 0.01;
    let refused = other.run(&AtomicBool::new(false), |_, _| {}).unwrap_err();
    assert!(refused.to_string().contains("another scenario"), "{refused}");
    std::fs::write(
        dir.path().join("letter.run"),
        "Dear aunt, the wing is nearly done and flies, we think, on Sunday. Yours",
    )
    .unwrap();
    let letter = Plan { run_file: dir.path().join("letter.run"), ..p.clone() };
    assert!(letter.run(&AtomicBool::new(false), |_, _| {}).is_err());
    assert!(std::fs::read_to_string(&letter.run_file).unwrap().starts_with("Dear aunt"));
    assert_eq!(std::fs::read(&p.run_file).unwrap(), before);
}

#[test]
fn parts_put_together_in_any_order_are_the_whole() {
    let dir = tempfile::tempdir().unwrap();
    let all = whole(&plan(dir.path(), "whole.run", 2, Shard::WHOLE));
    let parts: Vec<Found> =
        (0..3).map(|k| whole(&plan(dir.path(), &format!("{k}.run"), 2, Shard { k, n: 3 }))).collect();
    for order in [[0, 1, 2], [2, 0, 1], [1, 2, 0]] {
        let mut sum = Found::default();
        for i in order {
            sum = sum.merged(&parts[i]);
        }
        assert_eq!(sum, all);
    }
}

#[test]
fn stopping_keeps_every_finished_chunk() {
    let dir = tempfile::tempdir().unwrap();
    let p = plan(dir.path(), "a.run", 2, Shard::WHOLE);
    let stop = AtomicBool::new(false);
    let half = p.run(&stop, |_, f| stop.store(f.cells_done >= 64, Ordering::Relaxed)).unwrap();
    assert!(half.cells_done < p.space.cells());
    assert_eq!(p.show().unwrap(), half);
    let unbroken = plan(dir.path(), "b.run", 2, Shard::WHOLE);
    assert_eq!(whole(&p), whole(&unbroken));
}

#[test]
fn absurd_searches_are_refused() {
    let base = scenario::load(&marram()).unwrap().design;
    let axis = |a: &str| read_axis(a, &base);
    assert!(axis("planform.span_m=12:14:1e-12").unwrap_err().to_string().contains("steps"));
    assert!(axis("planform.spam_m=12:14:1").unwrap_err().to_string().contains("planform.span_m"));
    assert!(axis("planform.span_m=14:12:1").unwrap_err().to_string().contains("nowhere"));
    assert!(axis("planform.span_m=nan").unwrap_err().to_string().contains("not a number"));
    let wide = vec![axis("planform.span_m=12:14:0.0002").unwrap(), axis("planform.taper=0.4:0.6:0.00001").unwrap()];
    assert!(Space::new(wide).unwrap_err().to_string().contains(&MOST_CELLS.to_string()));
    assert!(Space::new(Vec::new()).is_err());
}

/// The whole program, killed with SIGKILL again and again, ends with the bytes of an unbroken run.
#[test]
fn a_search_killed_with_sigkill_resumes_to_the_same_bytes() {
    let dir = tempfile::tempdir().unwrap();
    let command = |run: &Path| {
        let mut c = Command::new(env!("CARGO_BIN_EXE_thistledown"));
        c.arg("search").arg(marram()).args([
            "--vary",
            "planform.span_m=12.8:13.6:0.02",
            "--vary",
            "planform.taper=0.4:0.6:0.01",
        ]);
        c.arg("--as-drawn").arg("--run").arg(run).stdout(Stdio::null()).stderr(Stdio::null());
        c
    };
    let (broken, unbroken) = (dir.path().join("broken.run"), dir.path().join("unbroken.run"));
    let mut kills = 0;
    for _ in 0..4 {
        let size = std::fs::metadata(&broken).map_or(0, |m| m.len());
        let mut child = command(&broken).spawn().unwrap();
        let deadline = Instant::now() + Duration::from_secs(60);
        while std::fs::metadata(&broken).map_or(0, |m| m.len()) <= size && Instant::now() < deadline {
            if child.try_wait().unwrap().is_some() {
                break;
            }
            std::thread::sleep(Duration::from_millis(2));
        }
        if child.try_wait().unwrap().is_none() {
            child.kill().unwrap();
            kills += 1;
        }
        child.wait().unwrap();
    }
    assert!(kills > 0, "the search ended before it could be killed");
    command(&broken).status().unwrap();
    command(&unbroken).status().unwrap();
    assert_eq!(std::fs::read(&broken).unwrap(), std::fs::read(&unbroken).unwrap());
}

/// A mix found inside every cell: same bytes on one and two threads, and the point's design is found again.
#[test]
fn mixes_inside_cells_do_not_depend_on_threads() {
    let dir = tempfile::tempdir().unwrap();
    let s = scenario::load(&marram()).unwrap();
    let axes = ["planform.span_m=13.0,13.4", "ribs.region.1.bays=14,16"].map(|a| read_axis(a, &s.design).unwrap());
    let plan = |name: &str, threads| Plan {
        space: Space::new(axes.to_vec()).unwrap(),
        base: s.design.clone(),
        shard: Shard::WHOLE,
        run_file: dir.path().join(name),
        threads,
        inside: Some(s.search.mix.clone()),
    };
    let (a, b) = (plan("a.run", 1), plan("b.run", 2));
    let found = whole(&a);
    assert_eq!(found, whole(&b));
    assert_eq!(std::fs::read(&a.run_file).unwrap(), std::fs::read(&b.run_file).unwrap());
    let best = found.front.first().expect("a mix within the limits");
    let again = thistledown::survey::cell::judge(&a.design(best.cell));
    assert_eq!((again.mass, again.repair), (best.mass, best.repair));
}

#[test]
fn refining_halves_the_steps_around_the_front_and_only_there() {
    let s = scenario::load(&marram()).unwrap();
    let axes = ["planform.span_m=12.8:13.6:0.2", "ribs.region.1.bays=14,16"].map(|a| read_axis(a, &s.design).unwrap());
    let space = Space::new(axes.to_vec()).unwrap();
    let at = (0..space.cells()).find(|c| space.values(*c) == [13.0, 16.0]).unwrap();
    let finer = space.refined(&[at]).unwrap();
    assert_eq!(finer.axes[0].values, [12.9, 13.0, 13.1]);
    assert_eq!(finer.axes[1].values, [16.0], "whole numbers have no half steps");
    assert!(space.refined(&[]).is_none());
}
