//! Benchmarks of the exact search, run by hand: `cargo bench --bench search`. Medians; quote ratios of one run.

#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

use std::hint::black_box;
use std::time::Instant;

use thistledown::search::wing::{Scratch, Wing};
use thistledown::search::{CEILING, Limits, few, lightest};

#[path = "../search/tables.rs"]
mod tables;

/// Milliseconds of some calls, least first.
fn times_ms<T>(rounds: usize, mut f: impl FnMut() -> T) -> Vec<f64> {
    let one = |_| {
        let began = Instant::now();
        black_box(f());
        began.elapsed().as_secs_f64() * 1e3
    };
    let mut times: Vec<f64> = (0..rounds).map(one).collect();
    times.sort_by(f64::total_cmp);
    times
}

/// One call, median and least: on a machine with other work the least is nearer the truth.
fn ms<T>(rounds: usize, f: impl FnMut() -> T) -> String {
    let times = times_ms(rounds, f);
    format!("{:.2} ms (least {:.2})", times[times.len() / 2], times[0])
}

/// Median milliseconds.
fn median_ms<T>(rounds: usize, f: impl FnMut() -> T) -> f64 {
    times_ms(rounds, f)[rounds / 2]
}

/// One table for a rival, `rival SEED MOST_REPAIR REPAIR_LIMIT BUILD_LIMIT`: times and answers as JSON.
fn rival(of: &[u64]) {
    let [seed, most_repair, repair, build] = of else { return };
    let t = tables::wing(*seed, 7, 16, 60, 3, *most_repair as u32);
    let wing = Wing::new(&t, 0);
    let limits = Limits { repair: Some(*repair), build: Some(*build), ..Limits::default() };
    let alone = Limits { build: None, ..limits };
    let mass = |l: &Limits| lightest(&t, &wing, l, CEILING).0.map_or(0, |d| d.sum.mass);
    println!(
        "{{\"front_ms\": {}, \"points\": {}, \"limited_ms\": {}, \"mass\": {}, \"mass_limited\": {}}}",
        median_ms(31, || Wing::new(&t, 0)),
        wing.front().len(),
        median_ms(9, || {
            let wing = Wing::new(&t, 0);
            lightest(&t, &wing, &limits, CEILING)
        }),
        mass(&alone),
        mass(&limits),
    );
}

fn main() {
    let words: Vec<String> = std::env::args().skip(1).filter(|a| a != "--bench").collect();
    if words.first().is_some_and(|w| w == "rival") {
        return rival(&words[1..].iter().filter_map(|w| w.parse().ok()).collect::<Vec<u64>>());
    }
    for (tick, most_repair) in [("0.01 h", 20), ("0.001 h", 200)] {
        for seed in 0..3 {
            let t = tables::wing(seed, 7, 16, 60, 3, most_repair);
            let wing = Wing::new(&t, 0);
            let widest = (0..7).filter_map(|s| {
                let f = wing.strip_front(s);
                Some(f.last()?.repair - f.first()?.repair)
            });
            println!(
                "7 strips x 16 bays x 60, {tick} ticks, seed {seed}: front {}, {} points, widest strip {} ticks",
                ms(101, || Wing::new(&t, 0)),
                wing.front().len(),
                widest.max().unwrap_or(0),
            );
            println!(
                "  arrays against label lists: {:.1} times as fast",
                median_ms(9, || Wing::front_by_labels(&t, 0)) / median_ms(9, || Wing::new(&t, 0))
            );
            for most in [12, 6] {
                let (best, bound, status) = few::lightest_of(&t, &Limits::default(), most, 200_000);
                println!(
                    "  {most} constructions: {}, {:?} against bound {bound:?}, {}",
                    ms(1, || few::lightest_of(&t, &Limits::default(), most, 200_000)),
                    best.map(|d| d.sum.mass),
                    status.word()
                );
            }
            let (mut edited, mut scratch) = (wing.clone(), Scratch::default());
            let strip = &t.strips()[3];
            println!("  one strip edited to the new front: {}", ms(41, || edited.set_strip(3, strip, &mut scratch)));
            let f = wing.front();
            let point = f[f.len() * 2 / 3];
            let own = t.add_up(&wing.design(point).unwrap_or_default());
            if let Some(own) = own {
                for share in [97, 93, 88] {
                    let limits = Limits {
                        repair: Some(u64::from(point.repair)),
                        build: Some(u64::from(own.build) * share / 100),
                        ..Limits::default()
                    };
                    let found = lightest(&t, &wing, &limits, CEILING);
                    println!(
                        "  lightest with repair and build at {share} %: {}, {:.2} % above the front, {}",
                        ms(9, || lightest(&t, &wing, &limits, CEILING)),
                        found.0.map_or(0.0, |d| f64::from(d.sum.mass) / f64::from(point.mass) * 100.0 - 100.0),
                        found.2.word()
                    );
                }
            }
            let middle = wing.front()[wing.front().len() / 2];
            println!("  one design traced: {}", ms(41, || wing.design(middle)));
        }
    }
}
