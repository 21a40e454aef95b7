//! What a walk through the screen by a person found wrong, one test for each.

use std::path::Path;

use crossterm::event::{KeyCode, MouseButton, MouseEventKind};
use thistledown::scenario;
use thistledown::screen::app::{Focus, Overlay, Page};
use thistledown::screen::{Action, App};

use crate::screens::{act, find, keys, marram, mouse, press, text};

const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];

fn click(app: &mut App, column: u16, row: u16) {
    mouse(app, MouseEventKind::Down(MouseButton::Left), column, row);
    mouse(app, MouseEventKind::Up(MouseButton::Left), column, row);
}

/// Column and row of some words on the screen.
fn place(app: &App, words: &str) -> (u16, u16) {
    let t = text(app);
    let (y, line) = t.lines().enumerate().find(|(_, l)| l.contains(words)).unwrap_or_else(|| panic!("{words}: {t}"));
    let x = line[..line.find(words).unwrap()].chars().count();
    (x as u16, y as u16)
}

#[test]
fn the_head_line_says_not_saved_in_full_and_does_not_jump() {
    for (w, h) in SIZES {
        let mut app = marram(w, h);
        for page in "1234567890".chars() {
            keys(&mut app, &page.to_string());
            let head = |app: &App| text(app).lines().next().unwrap().to_owned();
            let before = head(&app);
            app.unsaved = true;
            let after = head(&app);
            app.unsaved = false;
            let mark = if after.contains("not saved") { " * not saved " } else { " * " };
            assert!(after.contains(mark) && (w != 80 || mark.contains("not")), "{w}x{h} {page}: {after}");
            // Nothing else moved.
            let rest = before.replace(' ', "");
            assert_eq!(after.replacen(mark.trim_end(), "", 1).replace(' ', ""), rest, "{w}x{h} {page}");
        }
    }
}

#[test]
fn the_names_of_the_pages_are_clicked() {
    for (w, h) in [(120, 40), (200, 60)] {
        let mut app = marram(w, h);
        for page in Page::ALL.into_iter().filter(|p| *p != Page::Compare) {
            let (x, y) = place(&app, page.word());
            assert_eq!(y, 0);
            click(&mut app, x + 1, y);
            assert_eq!(app.page, page, "{w}x{h}");
        }
    }
}

#[test]
fn lines_and_groups_of_dials_are_clicked() {
    for (w, h) in SIZES {
        for (digit, words) in
            [("3", "nose low"), ("4", "joint pins"), ("5", "Set down on a stone"), ("6", "best glide")]
        {
            let mut app = marram(w, h);
            keys(&mut app, digit);
            let (x, y) = place(&app, words);
            click(&mut app, x + 1, y);
            press(&mut app, KeyCode::Enter);
            let Some(Overlay::Working { title, .. }) = &app.overlay else { panic!("{w}x{h} {words}: no working") };
            let asked = if words == "best glide" { "best glide" } else { words };
            assert_eq!(title, asked, "{w}x{h}");
        }
        let mut app = marram(w, h);
        keys(&mut app, "0");
        let (_, y) = place(&app, "  4   1256");
        click(&mut app, 10, y);
        assert_eq!(app.line(), 3, "{w}x{h}");
        keys(&mut app, "1");
        let (x, y) = place(&app, "planform");
        click(&mut app, x + 1, y);
        assert_eq!(app.dial().unwrap().key, "planform.span_m", "{w}x{h}");
    }
}

#[test]
fn the_section_page_goes_through_strips_and_its_working_is_of_the_bay_shown() {
    for (w, h) in SIZES {
        let mut app = marram(w, h);
        keys(&mut app, "2");
        press(&mut app, KeyCode::Right);
        press(&mut app, KeyCode::Right);
        let mut seen = std::collections::BTreeSet::new();
        for _ in 0..6 {
            press(&mut app, KeyCode::Up);
        }
        for _ in 0..6 {
            let label = app.at.0.label();
            assert!(text(&app).contains(&format!("{label} bay 3, outside in: ")), "{w}x{h}: {}", text(&app));
            press(&mut app, KeyCode::Enter);
            let Some(Overlay::Working { title, lines, .. }) = &app.overlay else { panic!("no working") };
            assert_eq!(*title, format!("{label} bay 3"));
            assert!(!lines.iter().any(|l| l.contains("move Boundary")), "these keys move the spar here: {lines:?}");
            press(&mut app, KeyCode::Esc);
            seen.insert(label);
            press(&mut app, KeyCode::Down);
        }
        // The control begins further out.
        assert_eq!(seen.len(), 4, "{seen:?}");
        assert!(text(&app).contains(" kN m2"), "{}", text(&app));
    }
}

#[test]
fn the_plan_stands_over_the_section_where_there_is_room_and_shows_the_station() {
    for (w, h, there) in [(80, 24, false), (120, 40, true), (200, 60, true)] {
        let mut app = marram(w, h);
        keys(&mut app, "2");
        let marks = |app: &App| {
            text(app)
                .lines()
                .find(|l| l.contains('▼'))
                .map(|l| l.chars().enumerate().filter(|(_, c)| *c == '▼').map(|(i, _)| i).collect::<Vec<_>>())
        };
        assert_eq!(marks(&app).is_some(), there, "{w}x{h}: {}", text(&app));
        press(&mut app, KeyCode::Right);
        press(&mut app, KeyCode::Right);
        if let Some(m) = marks(&app) {
            let middle = usize::from(w) / 2;
            assert!(m.len() == 2 && m[0] < middle && m[1] > middle, "{m:?}");
            // The tip is at the edge of the screen.
            for _ in 0..40 {
                press(&mut app, KeyCode::Right);
            }
            assert_eq!(marks(&app), Some(vec![0, usize::from(w) - 1]));
        }
    }
}

#[test]
fn the_working_of_a_part_is_of_that_part() {
    let mut app = marram(80, 24);
    keys(&mut app, "3");
    for _ in 0..40 {
        let rows = thistledown::screen::page::weight::rows(&app);
        let row = rows[app.line()].clone();
        press(&mut app, KeyCode::Enter);
        let Some(Overlay::Working { lines, .. }) = &app.overlay else { panic!("no working") };
        if !row.top {
            for line in lines.iter().filter(|l| l.contains(" m out")) {
                assert!(line.trim_start().starts_with(&row.name), "{}: {line}", row.name);
            }
        }
        assert!(!lines.iter().any(|l| l.contains("pieces")), "a bay is no piece: {lines:?}");
        press(&mut app, KeyCode::Esc);
        press(&mut app, KeyCode::Down);
    }
}

#[test]
fn every_line_of_what_is_opened_can_be_reached_and_none_is_wider_than_its_box() {
    for (w, h) in SIZES {
        let mut app = marram(w, h);
        press(&mut app, KeyCode::Char('?'));
        let end = "hot-wire fumes and proof loading are hazards";
        press(&mut app, KeyCode::End);
        let shown: String = text(&app).replace(['│', '\n'], " ").split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(shown.contains(end), "{w}x{h}: {}", text(&app));
        // Scrolling on past the end is not to be scrolled back.
        for _ in 0..50 {
            press(&mut app, KeyCode::Down);
        }
        let last = text(&app);
        press(&mut app, KeyCode::Up);
        if h == 24 {
            assert_ne!(text(&app), last);
        }
        press(&mut app, KeyCode::Home);
        assert!(text(&app).contains("turn the chosen dial one step"), "{}", text(&app));
    }
    // What follows a label hangs under its text.
    let mut app = marram(80, 24);
    keys(&mut app, "4");
    press(&mut app, KeyCode::Enter);
    let t = text(&app);
    let at = t.lines().position(|l| l.contains("│formula ")).unwrap();
    assert!(t.lines().nth(at + 1).unwrap().starts_with("│           "), "{t}");
    assert!(!t.contains("263.0091"), "digits nobody measures: {t}");
}

#[test]
fn a_message_longer_than_the_line_is_told_whole() {
    let mut app = marram(80, 24);
    let why =
        "/a/long/name/of/a/folder/where/nobody/may/write/marram.recovered.toml: permission denied, so nothing is kept";
    act(&mut app, Action::Kept(Err(why.to_owned())));
    let shown: String = text(&app).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(shown.contains("permission denied, so nothing is kept"), "{}", text(&app));
}

#[test]
fn the_turns_of_an_earlier_session_are_taken_or_deleted() {
    let mut app = marram(80, 24);
    app.overlay = Some(Overlay::AskRecovered("marram.recovered.toml".to_owned()));
    assert!(text(&app).contains("t take them"), "{}", text(&app));
    let asked = press(&mut app, KeyCode::Char('t'));
    assert_eq!(asked, [thistledown::screen::Effect::TakeRecovered]);
    let other = scenario::load(Path::new("scenarios/marram-ribs.toml")).unwrap().design;
    act(&mut app, Action::Recovered(Ok(Box::new(other.clone()))));
    assert!(app.design == other && app.unsaved);
    keys(&mut app, "u");
    assert!(app.design != other, "one undo step");
    app.overlay = Some(Overlay::AskRecovered("marram.recovered.toml".to_owned()));
    assert_eq!(press(&mut app, KeyCode::Char('d')), [thistledown::screen::Effect::ForgetRecovered]);
}

#[test]
fn keys_that_can_do_nothing_say_so() {
    let mut app = marram(80, 24);
    keys(&mut app, "7");
    for _ in 0..5 {
        keys(&mut app, "x");
    }
    assert!(text(&app).contains("no dial varies"), "{}", text(&app));
    keys(&mut app, "1");
    keys(&mut app, "p8l");
    assert!(text(&app).contains("choose the column of another scenario"), "{}", text(&app));
    // What can not be opened says so, and an absent page says why.
    let mut app = marram(80, 24);
    for (page, words) in [("7", "no result to open yet"), ("9", "no sample stands in the log")] {
        keys(&mut app, page);
        press(&mut app, KeyCode::Enter);
        assert!(text(&app).contains(words), "{words}: {}", text(&app));
    }
    keys(&mut app, "8");
    assert!(text(&app).contains("p pins a wing to compare with"), "{}", text(&app));
    // Among the scores v goes to the next strip.
    let mut app = marram(80, 24);
    press(&mut app, KeyCode::Tab);
    press(&mut app, KeyCode::Tab);
    assert_eq!(app.focus, Focus::Scores);
    let strip = |app: &App| text(app).lines().skip(21).take(2).collect::<Vec<_>>().join("\n");
    let mut seen = vec![strip(&app)];
    for _ in 0..2 {
        keys(&mut app, "v");
        assert!(!seen.contains(&strip(&app)), "{seen:?}");
        seen.push(strip(&app));
    }
    keys(&mut app, "v");
    assert_eq!(strip(&app), seen[0], "and round again");
}

#[test]
fn the_boundary_of_the_strip_under_the_cursor_moves() {
    let mut app = marram(80, 24);
    assert_eq!(app.dial().unwrap().key, "skins.aft_upper.boundary");
    press(&mut app, KeyCode::Tab);
    assert_eq!(app.at.0.label(), "aft low");
    keys(&mut app, ".");
    assert_eq!(app.dial().unwrap().key, "skins.aft_lower.boundary");
}

#[test]
fn names_of_constructions_are_whole_in_the_list_of_dials() {
    for (w, h) in SIZES {
        let mut app = marram(w, h);
        find(&mut app, "skin aft up outer");
        let row = |l: &str| l.contains("▸Skin aft up outer") && l.contains(" cover_polyester_90");
        assert!(text(&app).lines().any(row), "{}", text(&app));
        // Beside it stands what the arrows would take, not a list that is cut.
        assert!(text(&app).contains("→ cover_polyester_58"), "{}", text(&app));
        // Typing names those that fit what is typed so far.
        keys(&mut app, "=film");
        let hint = text(&app).lines().last().unwrap().to_owned();
        assert!(hint.contains("cover_film_23") && !hint.contains("skin_glass"), "{hint}");
    }
}

#[test]
fn lines_of_the_polar_are_told_apart_without_colour() {
    for (w, h) in SIZES {
        let mut app = marram(w, h);
        keys(&mut app, "6");
        assert!(text(&app).contains("dots: band"), "{}", text(&app));
        keys(&mut app, "p");
        keys(&mut app, "1");
        press(&mut app, KeyCode::Right);
        keys(&mut app, "6");
        assert!(text(&app).contains("dashes: pinned"), "{}", text(&app));
        press(&mut app, KeyCode::Down);
        press(&mut app, KeyCode::Down);
        press(&mut app, KeyCode::Enter);
        assert!(text(&app).contains("Working: speed of least sink"), "{}", text(&app));
    }
}

#[test]
fn the_columns_of_the_workshop_page_have_their_units_at_every_size() {
    for (w, h) in SIZES {
        let mut app = marram(w, h);
        keys(&mut app, "0");
        let t = text(&app);
        for words in ["mm from the root, heap mm behind the nose", "kg asked", "bags laid in all"] {
            assert!(t.contains(words), "{w}x{h} {words}: {t}");
        }
        // How far the tip goes stands under the share of the load it belongs to.
        let rows: Vec<&str> = t.lines().collect();
        let head = rows.iter().position(|l| l.starts_with("bay   from")).unwrap();
        assert!(rows[head + 1].starts_with("tip from the empty rig, mm"), "{t}");
        let end = |l: &str| l.trim_end().chars().count();
        assert_eq!(end(rows[head + 1]), end(rows[head]), "{t}");
        // No number is parted from its unit, no caution cut in the middle.
        assert!(!t.lines().any(|l| l.trim_end().ends_with("100") && !l.contains("bay ")), "{t}");
        for caution in thistledown::report::workshop::cautions() {
            let (first, last) =
                (caution.split(' ').take(4).collect::<Vec<_>>().join(" "), &caution[caution.len() - 8..]);
            assert!(!t.contains(&first) || t.contains(last), "{w}x{h}: {t}");
        }
    }
}

#[test]
fn the_strength_page_cuts_nothing_without_a_sign_and_tells_what_is_accepted() {
    let mut app = marram(80, 24);
    keys(&mut app, "4");
    assert!(text(&app).contains("1 accepted as not shown"), "{}", text(&app));
    press(&mut app, KeyCode::End);
    let t = text(&app);
    assert!(t.contains("? accepted  edges under covering tension"), "{t}");
    for line in t.lines().filter(|l| l.starts_with("? ")) {
        let full = line.trim_end().chars().count() == 80;
        assert!(!full || line.trim_end().ends_with('…'), "{line}");
    }
}

#[test]
fn every_kind_of_skin_on_the_map_is_named_and_the_web_on_the_section() {
    let file = "scenarios/can-say-nose-one-faced.toml";
    let mut app = App::new(scenario::load(Path::new(file)).unwrap());
    act(&mut app, Action::Resize(80, 24));
    let t = text(&app);
    for kind in ["F covering", "O one-faced", "S sandwich"] {
        assert!(t.contains(kind), "{kind}: {t}");
    }
    let file = "scenarios/can-say-web-bands.toml";
    let mut app = App::new(scenario::load(Path::new(file)).unwrap());
    for (w, h) in SIZES {
        act(&mut app, Action::Resize(w, h));
        keys(&mut app, "2");
        let shown: String = text(&app).split_whitespace().collect::<Vec<_>>().join(" ");
        for band in ["web from the top 30 % carbon 93", "40 % carbon 93 at 45 on the front alone", "30 % glass 105"] {
            assert!(shown.contains(band), "{w}x{h} {band}: {}", text(&app));
        }
    }
}

#[test]
fn without_limits_the_strength_page_says_in_full_that_no_flight_case_is_on() {
    let text_of = std::fs::read_to_string("scenarios/marram-mixed.toml").unwrap();
    let (before, rest) = text_of.split_once("[limits]").unwrap();
    let after = rest.find("\n[").map_or("", |i| &rest[i..]);
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("wing.toml");
    std::fs::write(&path, format!("{before}{after}")).unwrap();
    let mut app = App::new(scenario::load(&path).unwrap());
    act(&mut app, Action::Resize(80, 24));
    keys(&mut app, "4");
    assert!(text(&app).contains("no set of limits is chosen, so no flight case is computed"), "{}", text(&app));
    keys(&mut app, "0");
    assert!(text(&app).contains("no flight case is on"), "{}", text(&app));
}

#[test]
fn a_long_name_of_a_wing_does_not_take_the_names_of_the_pages_away() {
    let mut app = marram(120, 40);
    app.design.name = "Marram, all sandwich, tough, second try".to_owned();
    let head = text(&app).lines().next().unwrap().to_owned();
    assert!(head.contains("Marram") && head.contains('…') && head.contains("0 Workshop"), "{head}");
}
