//! The evaluation thread: works on the newest request only; while idle it finds what one step of each dial would do.

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::thread;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::{Evaluation, Memory, evaluate_again};
use crate::scenario::dials::{Dial, Turn, dials};
use crate::screen::action::Action;
use crate::screen::app::StepEffect;
use crate::screen::boundary::stepped;

/// A change smaller than this is no change: what the screen would show as zero.
const NO_KG: f64 = 0.005;
const NO_INDEX: f64 = 0.05;
/// Steps tried before a dial is said to change nothing.
const STEPS_TRIED: i32 = 12;

/// Work for the thread.
#[derive(Debug, Clone)]
pub struct Request {
    pub generation: u64,
    pub design: Design,
    /// The dial whose step effect is wanted first.
    pub first: String,
    /// Only the order of the idle work changes: the design was evaluated already.
    pub order_only: bool,
}

/// The thread and the way to it.
#[derive(Debug)]
pub struct Worker {
    to: Sender<Request>,
    newest: Arc<AtomicU64>,
}

impl Worker {
    /// Start the thread; answers come back as actions. A panic in it is told as a failure.
    pub fn start(answers: Sender<Action>) -> Self {
        let (to, from) = channel();
        let newest = Arc::new(AtomicU64::new(0));
        let seen = Arc::clone(&newest);
        thread::spawn(move || {
            let out = answers.clone();
            let work = std::panic::AssertUnwindSafe(|| serve(&from, &out, &seen));
            if let Err(fault) = std::panic::catch_unwind(work) {
                let words = fault
                    .downcast_ref::<&str>()
                    .map(|s| (*s).to_owned())
                    .or_else(|| fault.downcast_ref::<String>().cloned())
                    .unwrap_or_else(|| "the evaluation failed".to_owned());
                let _ = answers.send(Action::Failed(words));
            }
        });
        Self { to, newest }
    }

    /// Ask; an earlier request not yet begun is forgotten.
    pub fn ask(&self, request: Request) {
        self.newest.store(request.generation, Ordering::Release);
        let _ = self.to.send(request);
    }
}

fn serve(from: &Receiver<Request>, out: &Sender<Action>, newest: &AtomicU64) {
    let mut waiting: Option<Request> = None;
    // What was last shown, and the last step tried: neither pushes out what the other keeps.
    let (mut shown, mut tried) = (Memory::default(), Memory::default());
    while let Some(mut request) = waiting.take().or_else(|| from.recv().ok()) {
        while let Ok(later) = from.try_recv() {
            let order_only = request.order_only && later.order_only;
            request = Request { order_only, ..later };
        }
        #[cfg(debug_assertions)]
        fail_for_test(request.generation);
        let evaluation = evaluate_again(&request.design, &Assumptions::default(), &mut shown);
        let base = (evaluation.weight.budget_kg, evaluation.durability.index);
        if !request.order_only && out.send(Action::Evaluated(request.generation, Box::new(evaluation))).is_err() {
            return;
        }
        for dial in in_order(&request) {
            match from.try_recv() {
                Ok(later) => {
                    waiting = Some(later);
                    break;
                }
                Err(TryRecvError::Disconnected) => return,
                Err(TryRecvError::Empty) => {}
            }
            let overtaken = || newest.load(Ordering::Acquire) != request.generation;
            let Some(effect) = step_effect((&request.design, &mut tried), &dial, base, &overtaken) else { continue };
            if out.send(Action::Stepped(request.generation, dial.key, effect)).is_err() {
                return;
            }
        }
    }
}

/// The dials, nearest to the wanted one first.
fn in_order(request: &Request) -> Vec<Dial> {
    let mut all = dials(&request.design);
    let at = all.iter().position(|d| d.key == request.first).unwrap_or(0);
    let mut keyed: Vec<(usize, Dial)> = all.drain(..).enumerate().map(|(i, d)| (i.abs_diff(at), d)).collect();
    keyed.sort_by_key(|(far, _)| *far);
    keyed.into_iter().map(|(_, d)| d).collect()
}

/// What one step up would do; when it changes nothing, the next value that does; at the upper end, one step down.
/// The outer `None` says that newer work came meanwhile.
pub fn step_effect(
    (design, memory): (&Design, &mut Memory),
    dial: &Dial,
    base: (f64, f64),
    overtaken: &dyn Fn() -> bool,
) -> Option<Option<StepEffect>> {
    let now = dial.value(design);
    let up = (stepped(dial, now, 1, false) - now).abs() > 1e-12;
    let way = if up { 1 } else { -1 };
    let tried = if matches!(dial.turn, Turn::Choice(_)) { 1 } else { STEPS_TRIED };
    let mut last = None;
    let mut before = now;
    for n in 1..=tried {
        if overtaken() {
            return None;
        }
        let value = stepped(dial, now, way * n, false);
        if (value - before).abs() < 1e-12 {
            break;
        }
        before = value;
        let mut other = design.clone();
        dial.set(&mut other, value);
        let e: Evaluation = evaluate_again(&other, &Assumptions::default(), memory);
        let effect = StepEffect {
            value: dial.shown(&other),
            steps: way * n,
            weight_kg: e.weight.budget_kg - base.0,
            index: e.durability.index - base.1,
        };
        if changes(&effect) {
            return Some(Some(effect));
        }
        last = Some(effect);
    }
    Some(last)
}

/// Would the screen show a difference?
pub fn changes(effect: &StepEffect) -> bool {
    effect.weight_kg.abs() >= NO_KG || effect.index.abs() >= NO_INDEX
}

/// In debug builds a test can ask the worker to fail on its second request.
#[cfg(debug_assertions)]
fn fail_for_test(generation: u64) {
    assert!(
        !(generation > 0 && std::env::var_os("THISTLEDOWN_TEST_PANIC").is_some_and(|v| v == "worker")),
        "a failure asked for by a test"
    );
}
