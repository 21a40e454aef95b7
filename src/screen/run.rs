//! The loop: one channel, everything waiting is applied, then at most one frame in 16 ms; at rest it sleeps.

use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread;
use std::time::{Duration, Instant};

use crate::problem::Problem;
use crate::scenario::Scenario;
use crate::screen::action::{Action, Effect, Effects};
use crate::screen::app::{App, Overlay, Page};
use crate::screen::draw;
use crate::screen::hunt::Hunt;
use crate::screen::keep::{self, Recovery};
use crate::screen::mixing;
use crate::screen::pairs::{self, Pairs};
use crate::screen::terminal::{self, Held};
use crate::screen::theme::Theme;
use crate::screen::update::update;
use crate::screen::worker::{Request, Worker};

/// Least time between two frames.
const SLOT: Duration = Duration::from_millis(16);
/// How long a frame waits for the new numbers, so that they need not be shown dimmed first.
const PATIENCE: Duration = Duration::from_millis(9);
/// Quiet time after a change before the recovery copy is written.
const QUIET: Duration = Duration::from_secs(2);

/// Everything of the loop that is not the state of the screen.
struct Outside {
    held: Held,
    to: Sender<Action>,
    from: Receiver<Action>,
    worker: Worker,
    recovery: Recovery,
    siblings: Vec<PathBuf>,
    hunt: Option<Hunt>,
    pairs: Option<Pairs>,
    keep_at: Option<Instant>,
    asked_at: Option<Instant>,
    fault: Option<String>,
}

/// Open the screen on a scenario and stay until the person leaves.
pub fn open(scenario: Scenario) -> Result<(), Problem> {
    let mut app = App::new(scenario);
    if std::env::var_os("NO_COLOR").is_some_and(|v| !v.is_empty()) {
        crossterm::style::force_color_output(true);
        app.theme = Theme::plain();
    }
    let path = app.scenario.path.clone();
    let (recovery, left) = Recovery::beside(path.as_deref());
    let siblings = keep::siblings(path.as_deref());
    app.has_neighbours = !siblings.is_empty();
    if let Some(name) = left {
        app.overlay = Some(Overlay::AskRecovered(name));
    }
    let held = Held::take(app.mouse)?;
    if let Ok(size) = held.terminal.size() {
        app.size = (size.width, size.height);
    }
    let (to, from) = channel();
    terminal::read_signals(to.clone())?;
    let worker = Worker::start(to.clone());
    let mut outside = Outside {
        held,
        to,
        from,
        worker,
        recovery,
        siblings,
        hunt: None,
        pairs: None,
        keep_at: None,
        asked_at: None,
        fault: None,
    };
    let outcome = catch_unwind(AssertUnwindSafe(|| stay(&mut app, &mut outside)));
    if let Some(hunt) = &outside.hunt {
        hunt.stop();
    }
    if outcome.is_err() || matches!(outcome, Ok(Err(_))) {
        let _ = outside.recovery.keep(&app.scenario, &app.design);
    }
    let fault = outside.fault.take();
    drop(outside);
    match (outcome, fault) {
        (Err(panic), _) => resume_unwind(panic),
        (Ok(_), Some(fault)) => Err(Problem::fault(fault)),
        (Ok(outcome), None) => outcome,
    }
}

/// Until the person leaves.
fn stay(app: &mut App, outside: &mut Outside) -> Result<(), Problem> {
    show(app, outside)?;
    terminal::read_input(outside.to.clone());
    ask(app, outside, 0, true);
    let (mut dirty, mut drawn) = (false, Instant::now());
    loop {
        let due = dirty.then(|| frame_due(app, outside, drawn));
        if due.is_some_and(|d| Instant::now() >= d) {
            show(app, outside)?;
            (dirty, drawn) = (false, Instant::now());
            continue;
        }
        let until = [due, outside.keep_at].into_iter().flatten().min();
        let Some(action) = next(&outside.from, until) else {
            if outside.keep_at.is_some_and(|k| Instant::now() >= k) {
                outside.keep_at = None;
                let kept = outside.recovery.keep(&app.scenario, &app.design);
                if let Err(why) = kept {
                    update(app, Action::Kept(Err(why)));
                    dirty = true;
                }
            }
            continue;
        };
        let chosen = chosen_key(app);
        let mut effects = Vec::new();
        for action in std::iter::once(action).chain(outside.from.try_iter().collect::<Vec<_>>()) {
            #[cfg(debug_assertions)]
            fail_for_test(&action);
            dirty |= shows(app, &action);
            effects.extend(update(app, action));
        }
        if done(app, outside, effects) {
            return Ok(());
        }
        if chosen_key(app) != chosen && !app.old() {
            ask(app, outside, app.generation, true);
        }
    }
}

/// When the next frame may be drawn: the slot is over, and the new numbers are here or have been waited for.
fn frame_due(app: &App, outside: &Outside, drawn: Instant) -> Instant {
    let slot = drawn + SLOT;
    match outside.asked_at {
        Some(asked) if app.old() => slot.max(asked + PATIENCE),
        _ => slot,
    }
}

/// The next action, or nothing when the time is over.
fn next(from: &Receiver<Action>, until: Option<Instant>) -> Option<Action> {
    match until {
        None => Some(from.recv().unwrap_or(Action::Quit)),
        Some(at) => match from.recv_timeout(at.saturating_duration_since(Instant::now())) {
            Ok(action) => Some(action),
            Err(RecvTimeoutError::Timeout) => None,
            Err(RecvTimeoutError::Disconnected) => Some(Action::Quit),
        },
    }
}

/// Does an action change what is seen?
fn shows(app: &App, action: &Action) -> bool {
    match action {
        Action::Stepped(..) => app.page == Page::Wing,
        Action::Kept(Ok(_)) | Action::Quit => false,
        _ => true,
    }
}

fn chosen_key(app: &App) -> Option<String> {
    app.dial().map(|d| d.key.clone())
}

fn show(app: &App, outside: &mut Outside) -> Result<(), Problem> {
    let drawn = outside.held.terminal.draw(|frame| draw::draw(app, frame));
    drawn.map(|_| ()).map_err(|e| Problem::io("the terminal", e.to_string()))
}

fn ask(app: &App, outside: &mut Outside, generation: u64, order_only: bool) {
    let first = chosen_key(app).unwrap_or_default();
    outside.worker.ask(Request { generation, design: app.design.clone(), first, order_only });
    if !order_only {
        outside.asked_at = Some(Instant::now());
    }
}

/// Do what the updates asked for; true when the loop is to end.
fn done(app: &mut App, outside: &mut Outside, effects: Effects) -> bool {
    let mut ending = false;
    let mut evaluate = None;
    let mut queue: std::collections::VecDeque<Effect> = effects.into();
    while let Some(effect) = queue.pop_front() {
        match effect {
            Effect::Evaluate { generation, .. } => evaluate = Some(generation),
            Effect::Save { force } => queue.extend(update(app, keep::save(app, None, force))),
            Effect::SaveAs(name) => queue.extend(update(app, keep::save(app, Some(&name), false))),
            Effect::ReadAgain => queue.extend(update(app, keep::read_again(app))),
            Effect::KeepSoon => outside.keep_at = Some(Instant::now() + QUIET),
            Effect::KeepNow => {
                let kept = outside.recovery.keep(&app.scenario, &app.design);
                if let Err(why) = kept {
                    queue.extend(update(app, Action::Kept(Err(why))));
                }
            }
            Effect::DropRecovery => {
                outside.keep_at = None;
                outside.recovery.discard();
            }
            Effect::TakeRecovered => {
                let found = outside.recovery.take().map(Box::new);
                queue.extend(update(app, Action::Recovered(found)));
            }
            Effect::ForgetRecovered => {
                let gone = outside.recovery.forget();
                queue.extend(update(app, Action::Forgotten(gone)));
            }
            Effect::ReadNeighbours => {
                let (paths, to) = (outside.siblings.clone(), outside.to.clone());
                thread::spawn(move || {
                    let _ = to.send(Action::Neighbours(keep::read_neighbours(&paths)));
                });
            }
            Effect::PairDraws => {
                if let Some(request) = pairs::Request::of(app) {
                    let to = outside.to.clone();
                    outside.pairs.get_or_insert_with(|| Pairs::start(to)).ask(request);
                }
            }
            Effect::FindMix { load } => {
                app.search.running |= !load;
                mixing::start(app, load, outside.to.clone());
            }
            Effect::StartSearch | Effect::StopSearch | Effect::LoadResult(_) => {
                queue.extend(search(app, outside, &effect));
            }
            Effect::Mouse(on) => terminal::listen_to_mouse(on),
            Effect::Suspend => outside.held.stop(app.mouse),
            Effect::Redraw => outside.held.again(app.mouse),
            Effect::Quit => ending = true,
            Effect::Fail(what) => {
                outside.fault = Some(what);
                ending = true;
            }
        }
    }
    if let Some(generation) = evaluate {
        ask(app, outside, generation, false);
    }
    ending
}

fn search(app: &mut App, outside: &mut Outside, effect: &Effect) -> Effects {
    match effect {
        Effect::StartSearch => match Hunt::start(app, outside.to.clone()) {
            Ok(hunt) => {
                let hunt_total = hunt.total();
                outside.hunt = Some(hunt);
                app.mixes.clear();
                let mut view = app.search.clone();
                (view.running, view.note) = (true, String::new());
                (view.done, view.total, view.rate) = (0, hunt_total, 0.0);
                update(app, Action::Search(view))
            }
            Err(why) => {
                let mut view = app.search.clone();
                view.note = why;
                update(app, Action::Search(view))
            }
        },
        Effect::StopSearch => {
            if let Some(hunt) = &outside.hunt {
                hunt.stop();
            }
            Vec::new()
        }
        Effect::LoadResult(row) => {
            let cell = app.search.rows.get(*row).map(|r| r.cell);
            if let (Some(hunt), Some(cell)) = (&outside.hunt, cell) {
                hunt.load(cell, outside.to.clone());
            }
            Vec::new()
        }
        _ => Vec::new(),
    }
}

/// In debug builds a test can ask the main thread to fail on the first key.
#[cfg(debug_assertions)]
fn fail_for_test(action: &Action) {
    let asked = std::env::var_os("THISTLEDOWN_TEST_PANIC").is_some_and(|v| v == "main");
    assert!(!(asked && matches!(action, Action::Key(_))), "a failure asked for by a test");
}
