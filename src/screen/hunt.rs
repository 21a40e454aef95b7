//! The search run from the screen: the survey on its own thread, told to the page at most ten times a second.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::Sender;
use std::thread;
use std::time::{Duration, Instant};

use crate::report;
use crate::screen::action::Action;
use crate::screen::app::{App, SearchRow, SearchView};
use crate::survey::cell::{HOUR_TICK_H, MASS_TICK_KG, Status};
use crate::survey::run::{Found, Plan, Progress, Shard, run_file_beside};
use crate::survey::space::{Axis, Space};

/// Least time between two reports to the page.
const TELL_EVERY: Duration = Duration::from_millis(100);

/// A search under way or done.
#[derive(Debug)]
pub struct Hunt {
    stop: Arc<AtomicBool>,
    plan: Plan,
}

impl Hunt {
    /// Start over the dials that vary; a run of the same grid goes on where it stopped.
    pub fn start(app: &App, to: Sender<Action>) -> Result<Self, String> {
        let axes = app
            .varied
            .iter()
            .filter_map(|v| app.dial_of(&v.key).map(|d| Axis { dial: d.clone(), values: v.values.clone() }))
            .collect();
        let space = Space::new(axes).map_err(|p| p.to_string())?;
        let cores = thread::available_parallelism().map_or(2, usize::from);
        let mut plan = Plan {
            base: app.design.clone(),
            space: space.clone(),
            shard: Shard::WHOLE,
            run_file: PathBuf::new(),
            threads: cores.saturating_sub(1).max(1),
            inside: space.inside(&app.scenario.search.mix),
        };
        let print = plan.fingerprint();
        let mark = format!("{:02x}{:02x}{:02x}{:02x}", print[0], print[1], print[2], print[3]);
        plan.run_file =
            run_file_beside(app.scenario.path.as_deref(), Shard::WHOLE).with_extension(format!("{mark}.run"));
        let stop = Arc::new(AtomicBool::new(false));
        let (halt, kept) = (Arc::clone(&stop), plan.clone());
        thread::spawn(move || {
            let out = to.clone();
            let work = std::panic::AssertUnwindSafe(|| hunt(&plan, &halt, &out));
            if std::panic::catch_unwind(work).is_err() {
                let _ = to.send(Action::Failed("the search failed".to_owned()));
            }
        });
        Ok(Self { stop, plan: kept })
    }

    /// How many settings there are to go through.
    pub fn total(&self) -> u64 {
        self.plan.space.cells()
    }

    /// Ask it to end; what is done is kept.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// Find the design of a result again and send it: a mix takes longer than a frame.
    pub fn load(&self, cell: u64, to: Sender<Action>) {
        let plan = self.plan.clone();
        thread::spawn(move || {
            let work = std::panic::AssertUnwindSafe(|| plan.design(cell));
            let _ = to.send(std::panic::catch_unwind(work).map_or_else(
                |_| Action::Failed("the result could not be found again".to_owned()),
                |d| Action::Loaded(Box::new(d)),
            ));
        });
    }
}

fn hunt(plan: &Plan, stop: &AtomicBool, out: &Sender<Action>) {
    let mut told: Option<Instant> = None;
    let mut last = Progress { done: 0, total: plan.space.cells(), rate: 0.0, time_left_s: 0.0 };
    let outcome = plan.run(stop, |progress, found| {
        last = *progress;
        if told.is_none_or(|t| t.elapsed() >= TELL_EVERY) {
            told = Some(Instant::now());
            let _ = out.send(Action::Search(view(plan, progress, found, true)));
        }
    });
    let last_words = match outcome {
        Ok(found) => {
            last.done = found.cells_done;
            let mut v = view(plan, &last, &found, false);
            let end = if found.cells_done >= last.total { "done" } else { "stopped; s goes on" };
            // The run keeps what a setting gives, not its skins: they are found again, once, when it ends.
            for row in &mut v.rows {
                row.skins = report::mix::skins(&plan.design(row.cell));
            }
            v.note = format!("{end}; kept in {}", plan.run_file.display());
            v
        }
        Err(p) => SearchView { note: p.to_string(), ..SearchView::default() },
    };
    let _ = out.send(Action::Search(last_words));
}

fn view(plan: &Plan, progress: &Progress, found: &Found, running: bool) -> SearchView {
    let kg = |m: u32| f64::from(m) * MASS_TICK_KG;
    let hours = |r: u32| f64::from(r) * HOUR_TICK_H;
    SearchView {
        running,
        done: progress.done,
        total: progress.total,
        rate: progress.rate,
        time_left_s: progress.time_left_s,
        front: found.front.iter().map(|p| (kg(p.mass), hours(p.repair))).collect(),
        rows: found
            .front
            .iter()
            .map(|p| SearchRow {
                weight_kg: kg(p.mass),
                repair_h: hours(p.repair),
                words: plan.space.words(&plan.base, p.cell),
                skins: String::new(),
                cell: p.cell,
                binds: String::new(),
            })
            .collect(),
        ended: Status::ALL
            .iter()
            .zip(found.counts)
            .filter(|(_, n)| *n > 0)
            .map(|(s, n)| (s.word().to_owned(), n))
            .collect(),
        note: String::new(),
        said: Vec::new(),
        old: false,
        told: Vec::new(),
    }
}
