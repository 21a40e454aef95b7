//! Benchmarks of the outer search, run by hand: `cargo bench --bench cells` for cells with the exact search inside on one
//! and two threads; `cargo bench --bench cells -- memory 1000000` for the peak memory of a run of so many designs as drawn,
//! and with `exact` behind it with the exact search of a small question inside each.

#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::time::Instant;

use thistledown::mix::Ask;
use thistledown::physics::design::{Design, Excused, Strip};
use thistledown::scenario;
use thistledown::survey::run::{Plan, Shard};
use thistledown::survey::space::{Axis, Space, read_axis};

fn plan(base: &Design, axes: &[&str], inside: Option<Ask>, threads: usize) -> Option<Plan> {
    let axes: Vec<Axis> = axes.iter().filter_map(|x| read_axis(x, base).ok()).collect();
    let run_file = std::env::temp_dir().join(format!("thistledown-cells-{}-{threads}.run", std::process::id()));
    let space = Space::new(axes).ok()?;
    Some(Plan { base: base.clone(), space, shard: Shard::WHOLE, run_file, threads, inside })
}

/// Greatest resident memory of this process so far, MB.
fn peak_mb() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:")).unwrap_or("0");
    line.split_whitespace().next().and_then(|n| n.parse::<f64>().ok()).unwrap_or(0.0) / 1024.0
}

/// Seconds of a run, and its file.
fn run(plan: &Plan) -> (f64, Vec<u8>) {
    let began = Instant::now();
    let done = plan.run(&AtomicBool::new(false), |_, _| {}).map_or(0, |f| f.cells_done);
    let spent = began.elapsed().as_secs_f64();
    // Before the file is read back below: that is no part of a run.
    println!("  peak memory {:.1} MB", peak_mb());
    let bytes = std::fs::read(&plan.run_file).unwrap_or_default();
    let _ = std::fs::remove_file(&plan.run_file);
    println!("  {done} cells, {} threads: {spent:.2} s", plan.threads);
    (spent, bytes)
}

fn main() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml");
    let Ok(mut s) = scenario::load(&file) else { return };
    let words: Vec<String> = std::env::args().skip(1).filter(|a| a != "--bench").collect();
    if let [word, cells, rest @ ..] = &words[..]
        && word == "memory"
    {
        // The hold of the demo is short of strength, so with its noses as drawn no cell would have a mix.
        s.design.care.holds.clear();
        s.design.accepted.push(Excused { key: "holds".to_owned(), reason: "left out of a benchmark".to_owned() });
        // A question whose cells take little time: a sandwich, a covering and a film behind the noses, alike above and below, all else as drawn.
        let small = || {
            let named = ["skin_glass_pvc", "cover_polyester_90", "cover_film_23"];
            let found = |key: &&str| s.design.constructions.iter().position(|c| c.key == *key);
            let fixed = Strip::ALL.into_iter().filter(|x| x.is_nose()).collect();
            Ask {
                candidates: named.iter().filter_map(found).collect(),
                fixed,
                web_fixed: true,
                ribs_fixed: true,
                upper_as_lower: true,
                ..Ask::default()
            }
        };
        let inside = rest.first().filter(|w| *w == "exact").map(|_| small());
        // The same ranges of span and taper for any number of cells: finer steps, no other wings.
        let each = cells.parse::<f64>().unwrap_or(1e4).sqrt().round().max(2.0);
        let axis = |key: &str, from: f64, to: f64| {
            let step = (to - from) / (each - 1.0);
            format!("{key}={from}:{}:{step}", to + step / 4.0)
        };
        let axes = [axis("planform.span_m", 12.7, 13.7), axis("planform.taper", 0.4, 0.6)];
        if let Some(p) = plan(&s.design, &[&axes[0], &axes[1]], inside, 2) {
            run(&p);
        }
        return;
    }
    let axes = ["planform.span_m=13.0:13.78:0.02", "planform.taper=0.4:0.496:0.004"];
    let (mut ratios, mut files) = (Vec::new(), Vec::new());
    for _ in 0..3 {
        let mut times = [0.0; 2];
        for (threads, t) in (1..).zip(&mut times) {
            let Some(p) = plan(&s.design, &axes, Some(s.search.mix.clone()), threads) else { return };
            let (spent, bytes) = run(&p);
            *t = spent;
            files.push(bytes);
        }
        ratios.push(times[0] / times[1]);
    }
    if let Some(p) = plan(&s.design, &axes, Some(s.search.mix.clone()), 5) {
        files.push(run(&p).1);
    }
    ratios.sort_by(f64::total_cmp);
    println!("two threads against one: {:.2} times as fast, median of {}", ratios[ratios.len() / 2], ratios.len());
    let same = files.windows(2).all(|f| f[0] == f[1]) && files.iter().all(|f| !f.is_empty());
    println!("run files of one, two and five threads: {}", if same { "the same bytes" } else { "DIFFERENT" });
}
