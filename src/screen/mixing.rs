//! The lightest mix asked for from the screen: found on a thread of its own, loaded into the dials or shown as rows.

use std::sync::mpsc::Sender;
use std::thread;

use crate::mix::limits::Ticks;
use crate::mix::{self, Ask, Mix};
use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::report;
use crate::screen::action::{Action, Effects};
use crate::screen::app::{App, SearchRow, SearchView};
use crate::screen::update::replace;

/// Points of the front shown on the Search page beside the lightest.
const ROWS: usize = 12;

/// Find it here and now.
pub fn find(app: &App, load: bool) -> Action {
    search((&app.design, &app.scenario.search.mix), app.generation, load)
}

fn search((design, ask): (&Design, &Ask), generation: u64, load: bool) -> Action {
    // Loaded at once it must be there within a frame or two; shown as the answer it is on the fine grid.
    let (ticks, rows) = if load { (Ticks::LIVE, 0) } else { (Ticks::FINE, ROWS) };
    let found = mix::find(design, ask, ticks, rows, &Assumptions::default());
    let found = found.map(Box::new).map_err(|p| p.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "));
    Action::Mixed { generation, load, found }
}

/// Find it on a thread of its own.
pub fn start(app: &App, load: bool, to: Sender<Action>) {
    let (design, ask, generation) = (app.design.clone(), app.scenario.search.mix.clone(), app.generation);
    thread::spawn(move || {
        let work = std::panic::AssertUnwindSafe(|| search((&design, &ask), generation, load));
        let found = std::panic::catch_unwind(work);
        let _ = to.send(found.unwrap_or_else(|_| Action::Failed("the search for the lightest mix failed".to_owned())));
    });
}

/// Take an answer in.
pub(super) fn arrived(app: &mut App, generation: u64, load: bool, found: Result<Box<Mix>, String>) -> Effects {
    app.search.running = false;
    let found = match found {
        Ok(m) => m,
        Err(why) => {
            app.message = Some(why);
            return Vec::new();
        }
    };
    let Some(best) = &found.lightest else {
        app.message = Some(format!("{}: {}", report::mix::sure(&found), found.why_none.join("; ")));
        app.search.said.clone_from(&found.why_none);
        return Vec::new();
    };
    if load {
        if generation != app.generation {
            app.message = Some("the dials were turned meanwhile: press b again".to_owned());
            return Vec::new();
        }
        app.message = Some(format!("lightest mix in: {:.2} kg, {}", best.budget_kg, report::mix::sure(&found)));
        let design = best.design.clone();
        return replace(app, "the lightest mix".to_owned(), design);
    }
    show(app, &found);
    app.search.old = generation != app.generation;
    Vec::new()
}

fn show(app: &mut App, m: &Mix) {
    let all: Vec<_> = m.lightest.iter().chain(&m.rows).collect();
    app.mixes = all.iter().map(|r| r.design.clone()).collect();
    let mut said = vec![format!("first line: {}", report::mix::sure(m))];
    if let Some(best) = &m.lightest {
        said.push(format!(
            "every line was evaluated again in full; the first moved by {} kg, {} h from the table",
            report::signed(best.moved_kg(), 2),
            report::signed(best.moved_h(), 1)
        ));
    }
    if !m.rest.keeps_out.is_empty() {
        let words: Vec<String> = m.rest.keeps_out.iter().take(3).map(report::mix::kept_out).collect();
        said.push(format!("lighter skins are kept out by {}", words.join(", ")));
    }
    let relaxed = m.rest.relaxed.iter().filter_map(|r| r.saves_kg.map(|k| format!("{} saves {k:.2} kg", r.what)));
    said.extend(relaxed);
    app.search = SearchView {
        done: all.len() as u64,
        total: all.len() as u64,
        front: m.front.clone(),
        rows: all
            .iter()
            .enumerate()
            .map(|(i, r)| SearchRow {
                weight_kg: r.budget_kg,
                repair_h: r.repair_h,
                words: format!("{}{}", report::mix::skins(&r.design), report::mix::simplicity(r)),
                skins: String::new(),
                cell: i as u64,
                binds: report::mix::binds(r),
            })
            .collect(),
        said,
        told: report::mix::text(m).lines().map(str::to_owned).collect(),
        ..SearchView::default()
    };
}
