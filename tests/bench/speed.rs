//! Benchmarks, run by hand: `cargo bench --bench speed`. Medians; quote ratios of one run rather than single times.

#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

use std::hint::black_box;
use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::time::Instant;

use thistledown::mix::ask::is_skin;
use thistledown::mix::layup::put_between;
use thistledown::mix::limits::Ticks;
use thistledown::mix::{self, Ask, fill};
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::durability::index;
use thistledown::physics::evaluation::{Memory, evaluate, evaluate_again};
use thistledown::physics::flight::speeds;
use thistledown::physics::laminate::construction;
use thistledown::physics::loads::{internal, lift};
use thistledown::physics::mass::tally;
use thistledown::physics::strength::{self, Context, sizer, sizing};
use thistledown::physics::wing::layout;
use thistledown::scenario;
use thistledown::search::wing::Wing;
use thistledown::survey::run::{Plan, Shard};
use thistledown::survey::space::{Space, read_axis};

/// Median microseconds of one call, over rounds of enough calls to be timed.
fn median_us<T>(mut f: impl FnMut() -> T) -> f64 {
    let mut times: Vec<f64> = (0..31)
        .map(|_| {
            let began = Instant::now();
            for _ in 0..20 {
                black_box(f());
            }
            began.elapsed().as_secs_f64() * 1e6 / 20.0
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

/// Median milliseconds of one call that takes some.
fn median_ms<T>(mut f: impl FnMut() -> T) -> f64 {
    let mut times: Vec<f64> = (0..15)
        .map(|_| {
            let began = Instant::now();
            black_box(f());
            began.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

/// Median microseconds of an evaluation after one zone of the wing took another construction, or its own again: anew, and
/// with what was kept, turn by turn, so that both are timed in the same minute.
fn one_zone(design: &Design, a: &Assumptions) -> (f64, f64) {
    let mut memory = Memory::default();
    let e = evaluate_again(design, a, &mut memory);
    let skins: Vec<usize> = (0..design.constructions.len()).filter(|c| is_skin(&design.constructions[*c])).collect();
    let (mut whole, mut changed) = (Vec::new(), Vec::new());
    for (i, z) in e.layout.zones.iter().enumerate() {
        let (mut other, bay) = (design.clone(), &e.layout.bays[z.bay]);
        put_between(&mut other, z.strip, (bay.inner.eta, bay.outer.eta), skins[i % skins.len()]);
        for wing in [&other, design, &other, design] {
            let began = Instant::now();
            black_box(evaluate(wing, a));
            let between = Instant::now();
            black_box(evaluate_again(wing, a, &mut memory));
            whole.push((between - began).as_secs_f64() * 1e6);
            changed.push(between.elapsed().as_secs_f64() * 1e6);
        }
    }
    let middle = |mut v: Vec<f64>| {
        v.sort_by(f64::total_cmp);
        v[v.len() / 2]
    };
    (middle(whole), middle(changed))
}

fn main() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let design = match scenario::load(&root.join("scenarios/marram-mixed.toml")) {
        Ok(s) => s.design,
        Err(p) => {
            println!("{p:?}");
            return;
        }
    };
    let a = Assumptions::default();
    let e = evaluate(&design, &a);
    println!("one evaluation of Marram: {:.0} us, {} passes", median_us(|| evaluate(&design, &a)), e.passes);
    let (whole, changed) = one_zone(&design, &a);
    println!(
        "one zone changed: {changed:.0} us with what was kept, {whole:.0} us anew: {:.2} times cheaper",
        whole / changed
    );
    let us = |name: &str, t: f64| println!("  {name:<22}{t:>8.1} us");
    let ask = Ask::default();
    us("lightest mix, live", median_ms(|| mix::find(&design, &ask, Ticks::LIVE, 0, &a)) * 1e3);
    us("table of it", median_ms(|| fill::fill(&design, &ask, Ticks::LIVE, &a)) * 1e3);
    let table = fill::fill(&design, &ask, Ticks::LIVE, &a).table().ok();
    us("exact front of it", median_ms(|| table.as_ref().map(|t| Wing::new(t, 0))) * 1e3);
    us("layout", median_us(|| layout::lay_out(&design)));
    us(
        "constructions",
        median_us(|| {
            design.constructions.iter().map(|c| construction::properties(c, &design.library, &a)).collect::<Vec<_>>()
        }),
    );
    us("lift", median_us(|| lift::basis(&design, &e.layout)));
    us("weight, each pass", median_us(|| tally::weigh(&design, &e.layout, &e.skins, &e.sizing, &a)));
    us("loads, each pass", median_us(|| internal::loads(&design, &e.layout, &e.lift, &e.weight)));
    us(
        "sizing, each pass",
        median_us(|| sizer::size(&design, &e.layout, &e.skins, &e.loads, &sizing::least(&design, &e.layout))),
    );
    us("sections", median_us(|| sizing::sections(&design, &e.layout, &e.skins, &e.sizing)));
    us("bending", median_us(|| sizing::bend(&e.layout, &e.sections, &e.loads)));
    let context = Context::new(&design, (&e.layout, &e.skins, &e.loads), (&e.sizing, &e.sections, &e.bending));
    us("margins", median_us(|| strength::margins(&context)));
    us("durability", median_us(|| index::rate(&design, &e.layout, &e.skins, &e.weight, &a)));
    us("flight", median_us(|| speeds::fly(&design, &e.layout, &e.skins, &e.lift, &e.weight, &a)));
    let dir = std::env::temp_dir();
    let mut rates = Vec::new();
    for threads in [1, 2, 1, 2] {
        let axes = ["planform.span_m=12.8:13.6:0.01", "planform.taper=0.4:0.6:0.005"].map(|x| read_axis(x, &design));
        let axes: Vec<_> = axes.into_iter().filter_map(Result::ok).collect();
        let Ok(space) = Space::new(axes) else { return };
        let run_file = dir.join(format!("thistledown-bench-{}-{threads}.run", std::process::id()));
        let plan = Plan {
            base: design.clone(),
            space,
            shard: Shard::WHOLE,
            run_file: run_file.clone(),
            threads,
            inside: None,
        };
        let began = Instant::now();
        let done = plan.run(&AtomicBool::new(false), |_, _| {}).map_or(0, |f| f.cells_done);
        rates.push((threads, done as f64 / began.elapsed().as_secs_f64()));
        let _ = std::fs::remove_file(run_file);
    }
    for (threads, rate) in rates {
        println!("search, {threads} threads: {rate:.0} designs/s");
    }
}
