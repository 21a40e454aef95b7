//! The thread behind the Compare page: every column under the same draws of all assumptions, the first against each of
//! the others. It works on the newest request only, keeps the draws of designs that stand in it again, and tells the
//! page column by column; the loop never waits for it.

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

use crate::physics::design::Design;
use crate::report::sureness::{Drawn, against};
use crate::screen::action::Action;
use crate::screen::app::App;
use crate::screen::page::compare;

/// The columns to work out, the first one and the chosen one before the others.
#[derive(Debug, Clone)]
pub struct Request {
    pub serial: u64,
    pub first: Design,
    pub others: Vec<(String, Design)>,
}

impl Request {
    /// Of the columns as they stand.
    pub fn of(app: &App) -> Option<Self> {
        let all = compare::columns(app);
        let first = all.first()?.design.clone();
        let mut others: Vec<(String, Design)> =
            all.iter().skip(1).map(|c| (c.name.clone(), c.design.clone())).collect();
        let chosen = app.line[crate::screen::app::Page::Compare as usize].saturating_sub(1);
        if chosen < others.len() {
            others.swap(0, chosen);
        }
        Some(Self { serial: app.sure.serial, first, others })
    }
}

/// The thread and the way to it.
#[derive(Debug)]
pub struct Pairs {
    to: Sender<Request>,
    newest: Arc<AtomicU64>,
}

impl Pairs {
    /// Start the thread. A panic in it is told as a failure.
    pub fn start(answers: Sender<Action>) -> Self {
        let (to, from) = channel();
        let newest = Arc::new(AtomicU64::new(0));
        let seen = Arc::clone(&newest);
        thread::spawn(move || {
            let work = std::panic::AssertUnwindSafe(|| serve(&from, &answers, &seen));
            if std::panic::catch_unwind(work).is_err() {
                let _ = answers.send(Action::Failed("the comparison failed".to_owned()));
            }
        });
        Self { to, newest }
    }

    /// Ask; what is not done of an earlier request is given up.
    pub fn ask(&self, request: Request) {
        self.newest.store(request.serial, Ordering::Release);
        let _ = self.to.send(request);
    }
}

fn serve(from: &Receiver<Request>, out: &Sender<Action>, newest: &AtomicU64) {
    let mut kept: Vec<(Design, Drawn)> = Vec::new();
    while let Ok(request) = from.recv() {
        let stop = || newest.load(Ordering::Acquire) != request.serial;
        if stop() {
            continue;
        }
        kept.retain(|(d, _)| *d == request.first || request.others.iter().any(|(_, o)| o == d));
        let gone = answer(&request, &mut kept, &stop, &mut |action| out.send(action).is_ok());
        if gone.is_none() && !stop() {
            return;
        }
    }
}

/// Work a request out; nothing when told to stop or nobody listens any more.
pub fn answer(
    request: &Request,
    kept: &mut Vec<(Design, Drawn)>,
    stop: &dyn Fn() -> bool,
    tell: &mut dyn FnMut(Action) -> bool,
) -> Option<()> {
    let first = drawn(&request.first, kept, stop)?;
    for (name, design) in &request.others {
        let mine = drawn(design, kept, stop)?;
        let found = Box::new(against(&first, &mine));
        tell(Action::Sure { serial: request.serial, name: name.clone(), found }).then_some(())?;
    }
    Some(())
}

fn drawn(design: &Design, kept: &mut Vec<(Design, Drawn)>, stop: &dyn Fn() -> bool) -> Option<Drawn> {
    if let Some((_, d)) = kept.iter().find(|(k, _)| k == design) {
        return Some(d.clone());
    }
    let d = Drawn::of(design, stop)?;
    kept.push((design.clone(), d.clone()));
    Some(d)
}
