//! The only writer of `App`. It does no input or output: what is to be done outside is returned as effects.

use std::sync::Arc;

use crossterm::event::{KeyCode, KeyEvent};
use tui_input::Input;

use crate::physics::design::{Design, Strip};
use crate::physics::workshop::proof_load;
use crate::scenario::dials::dials;
use crate::screen::action::{Action, Effect, Effects};
use crate::screen::app::{App, Focus, Known, Overlay, Page, Pinned, Proving, Sheet, Turned, Varied};
use crate::screen::boundary::{boundaries, stepped};
use crate::screen::grip;
use crate::screen::keys::{self, Command};
use crate::screen::saving::{on_read_again, on_saved, quit, read_again, save};
use crate::screen::{areas, draw, logging, mixing, mouse, overlay, page, score, warned, weighing};

/// Undo steps kept.
const UNDO_DEPTH: usize = 500;
/// Places kept of the trail on the trade plot.
const TRAIL: usize = 60;

/// Apply one action.
pub fn update(app: &mut App, action: Action) -> Effects {
    let mut effects = apply(app, action);
    ask_for_draws(app, &mut effects);
    effects
}

/// On Compare the draws are asked for whenever its columns are others than those last asked for.
fn ask_for_draws(app: &mut App, effects: &mut Effects) {
    let now = Some((app.generation, app.pins, app.neighbours.len(), app.against.clone()));
    let reading = app.has_neighbours && app.neighbours.is_empty();
    if app.page == Page::Compare && !reading && app.sure.asked != now {
        app.sure.asked = now;
        app.sure.serial += 1;
        effects.push(Effect::PairDraws);
    }
}

fn apply(app: &mut App, action: Action) -> Effects {
    match action {
        Action::Key(key) => on_key(app, key),
        Action::Mouse(event) => mouse::on_mouse(app, event),
        Action::Pasted(text) => overlay::paste(app, &text),
        Action::Resize(w, h) => {
            app.size = (w, h);
            mouse::put_back(app)
        }
        Action::Evaluated(generation, evaluation) => {
            if generation > app.answered && generation <= app.generation {
                app.answered = generation;
                let before = std::mem::replace(&mut app.evaluation, Arc::new(*evaluation));
                warned::say_what_is_new(app, &before.warnings);
                remember_place(app);
                clamp(app);
            }
            Vec::new()
        }
        Action::Stepped(generation, key, effect) => {
            let known = Known { generation, effect };
            match app.steps.iter_mut().find(|(k, _)| *k == key) {
                Some((_, old)) if old.generation <= generation => *old = known,
                Some(_) => {}
                None => app.steps.push((key, known)),
            }
            Vec::new()
        }
        Action::Saved(outcome, scenario) => {
            app.scenario = *scenario;
            on_saved(app, outcome)
        }
        Action::ReadAgain(found) => on_read_again(app, found.map(|s| *s)),
        Action::Kept(outcome) => {
            if let Err(why) = outcome {
                app.message = Some(format!("no recovery copy could be written: {why}"));
            }
            Vec::new()
        }
        Action::Recovered(Ok(design)) => {
            if *design == app.design {
                app.message = Some("the recovery copy holds nothing else than this scenario".to_owned());
                return vec![Effect::DropRecovery];
            }
            app.message =
                Some("the turns of the earlier session are in the dials; s saves them, u takes them back".to_owned());
            replace(app, "the turns of an earlier session".to_owned(), *design)
        }
        Action::Recovered(Err(why)) => {
            app.message = Some(format!("not recovered: {why}"));
            Vec::new()
        }
        Action::Forgotten(gone) => {
            app.message =
                Some(gone.map_or_else(|why| format!("not deleted: {why}"), |name| format!("{name} is deleted")));
            Vec::new()
        }
        Action::Neighbours(found) => {
            app.has_neighbours = !found.is_empty();
            app.neighbours = found;
            Vec::new()
        }
        Action::Sure { serial, name, found } => {
            if serial == app.sure.serial {
                app.sure.found.retain(|(n, _, _)| *n != name);
                app.sure.found.push((name, serial, *found));
            }
            Vec::new()
        }
        Action::Search(view) => {
            app.search = view;
            clamp(app);
            Vec::new()
        }
        Action::Mixed { generation, load, found } => {
            let effects = mixing::arrived(app, generation, load, found);
            clamp(app);
            effects
        }
        Action::Loaded(design) => {
            app.message = Some("the result is in the dials; u takes it back".to_owned());
            // A design of the front is no turn away from it.
            let old = app.search.old;
            let effects = replace(app, "a search result".to_owned(), *design);
            app.search.old = old;
            effects
        }
        Action::Failed(what) => vec![Effect::KeepNow, Effect::Fail(what)],
        Action::Quit => vec![Effect::KeepNow, Effect::Quit],
        Action::Suspend => vec![Effect::Suspend],
        Action::Continued => vec![Effect::Redraw],
    }
}

fn on_key(app: &mut App, key: KeyEvent) -> Effects {
    app.message = None;
    if app.drag.is_some() {
        let leaving = key.code == KeyCode::Esc;
        return if leaving { mouse::put_back(app) } else { mouse::let_go(app) };
    }
    if app.overlay.is_some() {
        return overlay::on_key(app, key);
    }
    match keys::command(app, &key) {
        Some(command) => obey(app, command),
        None => Vec::new(),
    }
}

/// Do what a key asks for.
fn obey(app: &mut App, command: Command) -> Effects {
    match command {
        Command::Turn { steps, coarse } => return turn(app, steps, coarse),
        Command::Boundary(steps) => return move_boundary(app, steps),
        Command::Line(line, steps) => return grip::step(app, line, steps),
        Command::Up => move_line(app, -1),
        Command::Down => move_line(app, 1),
        Command::PageUp => move_line(app, -10),
        Command::PageDown => move_line(app, 10),
        Command::First => move_line(app, isize::MIN),
        Command::Last => move_line(app, isize::MAX),
        Command::NextPart => {
            app.focus = match app.focus {
                Focus::Dials if app.evaluation.layout.bays.is_empty() => Focus::Scores,
                Focus::Dials => Focus::Map,
                Focus::Map => Focus::Scores,
                Focus::Scores => Focus::Dials,
            };
        }
        Command::Type => {
            if app.dial().is_some() {
                app.overlay = Some(Overlay::Typing(Input::default()));
            }
        }
        Command::Tests => page::proving::turn(app),
        Command::Scales | Command::Build | Command::Weigh | Command::TakeOff => return weighing::on(app, command),
        Command::Log => logging::open(app),
        Command::ReadAgain => return read_again(app),
        Command::Find => app.overlay = Some(Overlay::Find(Input::default())),
        Command::Pin => pin(app),
        Command::Undo => return undo(app),
        Command::Redo => return redo(app),
        Command::Working => {
            app.overlay =
                page::working::of_chosen(app).map(|(title, lines)| Overlay::Working { title, lines, scroll: 0 });
            if app.overlay.is_none() {
                let why = match app.page {
                    Page::Search => "no result to open yet; s starts the search",
                    Page::Samples => "no sample stands in the log yet",
                    Page::Compare => "choose another column: its order against the first is opened",
                    _ => "nothing to open here",
                };
                app.message = Some(why.to_owned());
            }
        }
        Command::Save => return save(app),
        Command::SaveAs => app.overlay = Some(Overlay::SaveAs(Input::default())),
        Command::OtherScores if app.page == Page::Wing && app.focus == Focus::Scores => {
            app.score = draw::score_of_next_strip(app);
        }
        Command::OtherScores => app.score_page += 1,
        Command::Trade => app.trade = !app.trade,
        Command::Shade(half) => {
            if let Some(s) = app.shadings.get_mut(half) {
                *s = s.next();
            }
        }
        Command::Against => against(app),
        Command::NextCase(by) => next_case(app, by),
        Command::ScrollPart(by) => {
            // Part of it is always in sight.
            let n = page::compare::part_lines(app).saturating_sub(usize::from(app.size.1).saturating_sub(14)).max(1);
            app.part_from = moved(app.part_from, by as isize, n);
        }
        Command::Vary => vary(app),
        Command::Search => {
            return vec![if app.search.running {
                Effect::StopSearch
            } else if app.varied.is_empty() {
                Effect::FindMix { load: false }
            } else {
                Effect::StartSearch
            }];
        }
        Command::Helps => {
            let lines = crate::report::text::what_would_help(&app.design, &app.evaluation);
            app.overlay = Some(Overlay::Working { title: "what would help".to_owned(), lines, scroll: 0 });
        }
        Command::Care => {
            let lines = crate::report::care::lines(&app.design, &app.evaluation);
            app.overlay = Some(Overlay::Working { title: "how the wing is treated".to_owned(), lines, scroll: 0 });
        }
        Command::Warnings => {
            let title = "warnings of this wing".to_owned();
            app.overlay = Some(Overlay::Working { title, lines: warned::lines(app), scroll: 0 });
        }
        Command::Lightest => {
            app.message = Some("looking for the lightest durable mix at these dials".to_owned());
            return vec![Effect::FindMix { load: true }];
        }
        Command::Load => return load(app),
        Command::ToPage(to) => return to_page(app, to),
        Command::NextPage => {
            let pages: Vec<Page> = app.pages().map(|(_, p)| p).collect();
            let at = pages.iter().position(|p| *p == app.page).unwrap_or(0);
            if let Some(next) = pages.get((at + 1) % pages.len().max(1)) {
                return to_page(app, *next);
            }
        }
        Command::FreeMouse => {
            app.mouse = !app.mouse;
            let words = if app.mouse {
                "the mouse drags and picks again"
            } else {
                "the mouse is free for selecting text; m takes it back"
            };
            app.message = Some(words.to_owned());
            return vec![Effect::Mouse(app.mouse)];
        }
        Command::Help => app.overlay = Some(Overlay::Help { scroll: 0 }),
        Command::Suspend => return vec![Effect::Suspend],
        Command::Quit => return quit(app),
        Command::Leave => app.focus = Focus::Dials,
    }
    Vec::new()
}

pub(super) fn to_page(app: &mut App, to: Page) -> Effects {
    if !app.has(to) {
        let why = match to {
            Page::Compare => "no other scenario stands beside this one; p pins a wing to compare with",
            Page::Workshop | Page::Strength => "no flight case is on; [limits] of the scenario chooses the rules",
            _ => "the wing has no such numbers yet",
        };
        app.message = Some(format!("{}: {why}", to.word()));
        return Vec::new();
    }
    app.page = to;
    if to == Page::Compare && app.neighbours.is_empty() && app.has_neighbours {
        return vec![Effect::ReadNeighbours];
    }
    Vec::new()
}

/// Left and right: a dial turns, a bay is chosen.
fn turn(app: &mut App, steps: i32, coarse: bool) -> Effects {
    if app.page == Page::Wing && app.focus == Focus::Map && !coarse {
        let bays = app.evaluation.layout.bays.len();
        app.at.1 = moved(app.at.1, steps as isize, bays);
        return Vec::new();
    }
    turn_dial(app, app.chosen, steps, coarse)
}

/// Turn one dial some steps.
pub(super) fn turn_dial(app: &mut App, which: usize, steps: i32, coarse: bool) -> Effects {
    let Some(dial) = app.dials.get(which) else { return Vec::new() };
    let now = dial.value(&app.design);
    let value = stepped(dial, now, steps, coarse);
    set_dial(app, which, value)
}

/// Set a dial: one undo step. Nothing happens when it stands there already.
pub(super) fn set_dial(app: &mut App, which: usize, value: f64) -> Effects {
    let Some(dial) = app.dials.get(which) else { return Vec::new() };
    let mut design = app.design.clone();
    dial.set(&mut design, value);
    if design == app.design {
        app.message = Some(format!("{} is at the end of its range", dial.label));
        return Vec::new();
    }
    let key = dial.key.clone();
    replace(app, key, design)
}

/// Put another design in place, as one undo step.
pub(super) fn replace(app: &mut App, key: String, design: Design) -> Effects {
    let before = std::mem::replace(&mut app.design, design);
    push_undo(app, Turned { key, before, after: app.design.clone() });
    changed(app)
}

pub(super) fn push_undo(app: &mut App, turned: Turned) {
    app.undo.push(turned);
    if app.undo.len() > UNDO_DEPTH {
        app.undo.remove(0);
    }
    app.redo.clear();
}

/// The design is another: new generation, dials looked up anew, evaluation asked for.
pub(super) fn changed(app: &mut App) -> Effects {
    app.generation += 1;
    app.unsaved = app.design != app.scenario.design;
    let key = app.dial().map(|d| d.key.clone()).unwrap_or_default();
    app.dials = dials(&app.design);
    app.chosen =
        app.dials.iter().position(|d| d.key == key).unwrap_or(app.chosen).min(app.dials.len().saturating_sub(1));
    app.search.old = !app.search.front.is_empty();
    vec![Effect::Evaluate { generation: app.generation, first: key }, Effect::KeepSoon]
}

/// Ask for the step effects of a newly chosen dial when they are not known yet.
fn chosen_another(app: &mut App) {
    app.focus = Focus::Dials;
}

fn move_boundary(app: &mut App, steps: i32) -> Effects {
    let all = boundaries(app);
    // On the map the strip under the cursor comes first, among the dials the chosen one.
    let chosen = || all.iter().find(|b| b.dial == app.chosen);
    let under = || all.iter().find(|b| b.strips.contains(&app.at.0));
    let here = if app.focus == Focus::Map { under().or_else(chosen) } else { chosen().or_else(under) };
    let here = here.or_else(|| all.first());
    let Some(standing) = here else {
        app.message = Some("no strip of this wing has a boundary to move".to_owned());
        return Vec::new();
    };
    let which = standing.dial;
    app.chosen = which;
    turn_dial(app, which, steps, false)
}

/// A place in a list of `n`, moved.
pub(super) fn moved(at: usize, by: isize, n: usize) -> usize {
    at.saturating_add_signed(by).min(n.saturating_sub(1))
}

/// Up and down: a dial, a strip, a score or a line of a page.
fn move_line(app: &mut App, by: isize) {
    if app.page == Page::Section && by.abs() == 1 {
        // The strips that the wing has at this station.
        let bay = page::section::bay(app);
        let here = |s: &Strip| app.evaluation.layout.zone(*s, bay).is_some();
        let strips: Vec<Strip> = areas::strips(app).into_iter().filter(here).collect();
        let next = match strips.iter().position(|s| *s == app.at.0) {
            Some(at) => moved(at, by, strips.len()),
            None => 0,
        };
        app.at.0 = strips.get(next).copied().unwrap_or(app.at.0);
        app.line[Page::Section as usize] = 0;
        return;
    }
    if app.page != Page::Wing {
        let n = page::lines(app);
        app.line[app.page as usize] = moved(app.line(), by, n);
        return;
    }
    match app.focus {
        Focus::Dials => app.chosen = moved(app.chosen, by, app.dials.len()),
        Focus::Map => {
            let strips = areas::strips(app);
            let at = strips.iter().position(|s| *s == app.at.0).unwrap_or(0);
            if let Some(s) = strips.get(moved(at, by, strips.len())) {
                app.at.0 = *s;
            }
        }
        Focus::Scores => app.score = moved(app.score, by, score::scores(app).len()),
    }
}

fn next_case(app: &mut App, by: i32) {
    if weighing::next_sheet(app, by) || (app.page == Page::Workshop && app.sheet == Sheet::Scales) {
        return;
    }
    let (at, n) = match app.page {
        Page::Section => (&mut app.station, app.evaluation.layout.bays.len() + 1),
        Page::Compare => (&mut app.part, page::compare::Part::ALL.len()),
        Page::Workshop if app.proving == Proving::Section => {
            (&mut app.proving_bay, app.evaluation.layout.bays.len() + 1)
        }
        Page::Workshop => (&mut app.proof, proof_load::cases(&app.evaluation.loads).len()),
        _ => (&mut app.case, app.evaluation.loads.loads.len()),
    };
    *at = moved(*at, by as isize, n);
    app.part_from = 0;
}

/// Hold all columns of Compare against the chosen one; again, or on the first, against this wing.
fn against(app: &mut App) {
    let chosen = page::compare::columns(app).into_iter().nth(app.line()).map(|c| c.name);
    let first = page::compare::columns(app).into_iter().next().map(|c| c.name);
    app.against = if chosen == first { None } else { chosen };
    app.line[Page::Compare as usize] = 0;
    app.sure.found.clear();
    let words = app.against.as_deref().unwrap_or(page::compare::NOW);
    app.message = Some(format!("all columns are held against {words}"));
}

fn pin(app: &mut App) {
    let same = app.pin.as_ref().is_some_and(|p| p.design == app.design);
    if same {
        app.pin = None;
        app.pins += 1;
        app.message = Some("unpinned".to_owned());
    } else if app.old() {
        app.message = Some("wait for the new numbers, then pin".to_owned());
    } else {
        app.pins += 1;
        app.pin = Some(Pinned { design: app.design.clone(), evaluation: Arc::clone(&app.evaluation) });
        app.message = Some("pinned: changes against this wing carry a triangle".to_owned());
    }
}

fn undo(app: &mut App) -> Effects {
    let Some(turned) = app.undo.pop() else {
        app.message = Some("nothing to take back".to_owned());
        return Vec::new();
    };
    app.design = turned.before.clone();
    show_dial(app, &turned.key);
    app.message = Some(format!("taken back: {}", label(app, &turned.key)));
    app.redo.push(turned);
    changed(app)
}

fn redo(app: &mut App) -> Effects {
    let Some(turned) = app.redo.pop() else {
        app.message = Some("nothing to do again".to_owned());
        return Vec::new();
    };
    app.design = turned.after.clone();
    show_dial(app, &turned.key);
    app.message = Some(format!("done again: {}", label(app, &turned.key)));
    app.undo.push(turned);
    changed(app)
}

fn label(app: &App, key: &str) -> String {
    app.dial_of(key).map_or_else(|| key.to_owned(), |d| d.label.clone())
}

fn show_dial(app: &mut App, key: &str) {
    if let Some(i) = app.dials.iter().position(|d| d.key == key) {
        app.chosen = i;
    }
}

/// Choose a dial by its place in the list.
pub(super) fn choose(app: &mut App, which: usize) {
    app.chosen = which.min(app.dials.len().saturating_sub(1));
    chosen_another(app);
}

fn vary(app: &mut App) {
    if app.page == Page::Search {
        if let Some(gone) = app.varied.pop() {
            app.message = Some(format!("{} no longer varies", label(app, &gone.key)));
        } else {
            app.message = Some("no dial varies; x on a dial of the Wing page lets it vary".to_owned());
        }
        return;
    }
    let Some(dial) = app.dial() else { return };
    let (key, words) = (dial.key.clone(), dial.label.clone());
    if let Some(at) = app.varied.iter().position(|v| v.key == key) {
        app.varied.remove(at);
        app.message = Some(format!("{words} no longer varies in the search"));
        return;
    }
    let values = page::search::values_around(dial, dial.value(&app.design));
    app.message = Some(format!("{words} varies in the search: {} values (page 7)", values.len()));
    app.varied.push(Varied { key, values });
}

fn load(app: &mut App) -> Effects {
    if app.page == Page::Compare {
        let Some(n) = page::compare::chosen(app) else {
            app.message = Some("choose the column of another scenario: its inputs can be loaded".to_owned());
            return Vec::new();
        };
        let (file, mut design) = (n.file.clone(), n.design.clone());
        let own_log = design.samples != app.design.samples;
        if own_log {
            design.with_log_of(&app.design);
        }
        let log = if own_log { ", without its samples" } else { "" };
        app.message = Some(format!("the inputs of {file} are in the dials{log}; u takes them back"));
        return replace(app, file, design);
    }
    if app.line() < app.search.rows.len() {
        if let Some(design) = app.mixes.get(app.line()).cloned() {
            app.message = Some("the mix is in the dials; u takes it back".to_owned());
            return replace(app, "a mix of the front".to_owned(), design);
        }
        return vec![Effect::LoadResult(app.line())];
    }
    app.message = Some("no result to load yet".to_owned());
    Vec::new()
}

/// The trail of where the person has been.
fn remember_place(app: &mut App) {
    let here = (app.evaluation.weight.budget_kg, app.evaluation.durability.index);
    if app.trail.back() != Some(&here) {
        app.trail.push_back(here);
        if app.trail.len() > TRAIL {
            app.trail.pop_front();
        }
    }
}

/// Pull every choice back to what there is.
fn clamp(app: &mut App) {
    let bays = app.evaluation.layout.bays.len();
    app.at.1 = app.at.1.min(bays.saturating_sub(1));
    app.station = app.station.min(bays);
    app.case = app.case.min(app.evaluation.loads.loads.len().saturating_sub(1));
    let n = page::lines(app);
    if app.page != Page::Wing {
        app.line[app.page as usize] = app.line().min(n.saturating_sub(1));
    }
    if !app.has(app.page) {
        app.page = Page::Wing;
    }
}

/// Where a dial stands while it is dragged: the design is changed without an undo step.
pub(super) fn drag_to(app: &mut App, value: f64) -> Effects {
    let Some(drag) = &app.drag else { return Vec::new() };
    let Some(dial) = app.dial_of(&drag.key) else { return Vec::new() };
    let mut design = app.design.clone();
    dial.set(&mut design, value);
    if design == app.design {
        return Vec::new();
    }
    app.design = design;
    changed(app)
}
