//! Saving: what changed is written into the person's own text, comments and order kept; the file is replaced
//! in one step, and never over somebody else's change.

use std::io::Write as _;
use std::path::Path;

use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, Value, value};

use crate::physics::design::{Design, Use};
use crate::physics::laminate::construction::{Construction, Kind, Ply};
use crate::physics::material::Library;
use crate::problem::{Problem, io_words};
use crate::scenario::dials::{Dial, Turn, What, dials};
use crate::scenario::{Saved, Scenario, cap_kinds, parse, samples, weighed};

/// The text of `scenario` with everything of `design` that differs written in place.
pub fn written(scenario: &Scenario, design: &Design) -> Result<String, Problem> {
    let mut doc: DocumentMut =
        scenario.text.parse().map_err(|e| Problem::fault(format!("the text of the scenario no longer parses: {e}")))?;
    for dial in dials(design) {
        let (before, after) = (dial.value(&scenario.design), dial.value(design));
        if (before - after).abs() > 1e-12 || dial.shown(&scenario.design) != dial.shown(design) {
            put(&mut doc, &dial, (&scenario.design, design));
        }
    }
    structure(&mut doc, scenario, design);
    weighed::written(&mut doc, &scenario.design.weighed, &design.weighed);
    samples::written(&mut doc, &scenario.design.samples, &design.samples, &design.library);
    samples::keep_with_their_stack(&mut doc, &design.samples, design);
    for (i, c) in design.constructions.iter().enumerate() {
        if scenario.design.constructions.get(i) != Some(c) {
            put_construction(&mut doc, c, &design.library);
        }
    }
    Ok(doc.to_string())
}

/// Runs of skins and web and the bodies of ribs, where they are others than dials can say.
fn structure(doc: &mut DocumentMut, scenario: &Scenario, design: &Design) {
    let key_of = |c: usize| design.constructions.get(c).map_or("", |k| k.key.as_str()).to_owned();
    let one = |to: f64, c: usize| {
        let mut t = InlineTable::new();
        t.insert("to", Value::from((to * 1e6).round() / 1e6));
        t.insert("use", Value::from(key_of(c)));
        t
    };
    for s in &design.strips {
        let before = scenario.design.runs(s.strip);
        if before.len() == s.runs.len() {
            continue;
        }
        let mut list = Array::new();
        for (i, r) in s.runs.iter().enumerate() {
            let mut t = one(r.to_eta, r.construction);
            if i == 0 {
                t.insert("may_buckle", Value::from(s.may_buckle.key()));
            }
            list.push(Value::InlineTable(t));
        }
        put_list(doc, "skins", s.strip.key(), list);
    }
    if scenario.design.nose_steps != design.nose_steps {
        let names: Array = design.nose_steps.iter().map(|c| Value::from(key_of(*c))).collect();
        if names.is_empty() {
            doc.get_mut("skins").and_then(Item::as_table_like_mut).map(|t| t.remove("nose_steps"));
        } else {
            put_list(doc, "skins", "nose_steps", names);
        }
    }
    if scenario.design.spar.web != design.spar.web && design.spar.web.iter().all(|r| r.bands.len() == 1) {
        let all = design.spar.web.iter().map(|r| Value::InlineTable(one(r.to_eta, r.bands[0].construction)));
        put_list(doc, "spar", "web", all.collect());
    }
    for (i, kind) in design.rib_kinds.iter().enumerate() {
        if scenario.design.rib_kinds.get(i).is_some_and(|k| k.body != kind.body) {
            set_path(doc.as_item_mut(), &["ribs", "kind", &i.to_string(), "body"], Value::from(key_of(kind.body)));
        }
    }
}

/// A list in place of another, the remark behind it kept.
fn put_list(doc: &mut DocumentMut, table: &str, key: &str, list: Array) {
    let Some(t) = doc.get_mut(table).and_then(Item::as_table_like_mut) else { return };
    let mut new = Value::Array(list);
    // In its place, for the comment above it belongs to the key: `insert` would clear that.
    if let Some(old) = t.get_mut(key) {
        if let Some(d) = old.as_value().map(|v| v.decor().clone()) {
            *new.decor_mut() = d;
        }
        *old = Item::Value(new);
    } else {
        t.insert(key, Item::Value(new));
    }
}

fn put(doc: &mut DocumentMut, dial: &Dial, (before, d): (&Design, &Design)) {
    let v = dial.value(d);
    let number = || match dial.turn {
        Turn::Number { digits, .. } => {
            let k = 10_f64.powi(digits as i32);
            Value::from((v * k).round() / k)
        }
        Turn::Whole { .. } => Value::from(v as i64),
        Turn::Choice(_) => Value::from(dial.shown(d)),
    };
    match dial.what {
        What::Plain(_) => {
            let path: Vec<&str> = dial.key.split('.').collect();
            set_path(doc.as_item_mut(), &path, number());
        }
        What::RibBays(i) => set_path(doc.as_item_mut(), &["ribs", "region", &i.to_string(), "bays"], number()),
        What::NoseRibs(i) => set_path(doc.as_item_mut(), &["ribs", "region", &i.to_string(), "nose_between"], number()),
        What::Boundary(s, i) => set_path(doc.as_item_mut(), &["skins", s.key(), &i.to_string(), "to"], number()),
        What::RunChoice(s, i) => set_path(doc.as_item_mut(), &["skins", s.key(), &i.to_string(), "use"], number()),
        What::CapLeast => {
            for cap in ["upper_cap", "lower_cap"] {
                set_path(doc.as_item_mut(), &["spar", cap, "layers", "least"], number());
            }
        }
        What::CapKind(upper) => cap_kinds::write(doc, before, d, upper),
        What::Usage => {
            let word = Use::ALL.iter().find(|u| **u == d.care.usage).map_or("careful_owner", |u| u.key());
            set_path(doc.as_item_mut(), &["care", "use"], Value::from(word));
        }
        // Written with the construction itself.
        What::CoreMm(_)
        | What::CoreFoam(_)
        | What::OuterFabric(_)
        | What::OuterPlies(_)
        | What::OuterAngle(_)
        | What::InnerFabric(_) => {}
        What::OfJoint(..) => {
            if let Some(path) = super::joint_dials::path(dial.what) {
                set_path(doc.as_item_mut(), &path.each_ref().map(String::as_str), number());
            }
        }
        What::HoldAt(_)
        | What::HoldChord(_)
        | What::HoldUpper(_)
        | What::RestAt(_)
        | What::RestPad(_)
        | What::Flown(_)
        | What::EventFactor(_)
        | What::EventNumber(_)
        | What::Times(_) => {
            if let Some((path, yes_or_no)) = super::care_dials::path(d, dial.what) {
                let path: Vec<&str> = path.iter().map(String::as_str).collect();
                let new = if yes_or_no { Value::from(v > 0.5) } else { number() };
                set_path(doc.as_item_mut(), &path, new);
            }
        }
    }
}

/// Units other than the dial's own a person may have written the same input in, with their factor to it.
const OTHER_UNITS: [(&str, &str, f64); 7] = [
    ("_g", "_oz", 28.349523125),
    ("_m2", "_ft2", 0.09290304),
    ("_m_s", "_km_h", 1.0 / 3.6),
    ("_m_s", "_kt", 1852.0 / 3600.0),
    ("_mm", "_in", 25.4),
    ("_kg", "_lb", 0.45359237),
    ("_m", "_ft", 0.3048),
];

/// Set a value at a path of keys and indices; a missing table is made; the remark behind a value is kept.
pub(super) fn set_path(item: &mut Item, path: &[&str], new: Value) {
    let Some((head, rest)) = path.split_first() else { return };
    if rest.is_empty() {
        set_leaf(item, head, new);
        return;
    }
    if let Ok(i) = head.parse::<usize>() {
        if let Some(list) = item.as_array_of_tables_mut() {
            if let Some(t) = list.get_mut(i) {
                set_in_table(t, rest, new);
            }
        } else if let Some(Value::InlineTable(t)) = item.as_array_mut().and_then(|a| a.get_mut(i))
            && let [leaf] = rest
        {
            set_inline(t, leaf, new);
        }
        return;
    }
    if item.is_none() {
        *item = Item::Table(Table::new());
    }
    if let Some(t) = item.as_table_mut() {
        set_path(t.entry(head).or_insert(Item::Table(Table::new())), rest, new);
    } else if let Some(t) = item.as_inline_table_mut()
        && let [leaf] = rest
        && let Some(Value::InlineTable(inner)) = t.get_mut(head)
    {
        set_inline(inner, leaf, new);
    }
}

fn set_in_table(t: &mut Table, rest: &[&str], new: Value) {
    if let [leaf] = rest {
        keep_remark(t.entry(leaf).or_insert(value(0)), new);
    }
}

fn set_leaf(item: &mut Item, leaf: &str, new: Value) {
    if let Some(t) = item.as_table_mut() {
        if !t.contains_key(leaf)
            && let Some(n) = new.as_float().or_else(|| new.as_integer().map(|i| i as f64))
        {
            for (own, other, factor) in OTHER_UNITS {
                let Some(stem) = leaf.strip_suffix(own) else { continue };
                let key = format!("{stem}{other}");
                if let Some(slot) = t.get_mut(&key) {
                    keep_remark(slot, Value::from((n / factor * 1e4).round() / 1e4));
                    return;
                }
            }
        }
        keep_remark(t.entry(leaf).or_insert(value(0)), new);
    } else if let Some(t) = item.as_inline_table_mut() {
        set_inline(t, leaf, new);
    }
}

fn set_inline(t: &mut InlineTable, leaf: &str, new: Value) {
    match t.get_mut(leaf) {
        Some(old) => {
            let decor = old.decor().clone();
            *old = new;
            *old.decor_mut() = decor;
        }
        None => {
            t.insert(leaf, new);
        }
    }
}

fn keep_remark(slot: &mut Item, new: Value) {
    let decor = slot.as_value().map(|v| v.decor().clone());
    *slot = Item::Value(new);
    if let (Some(d), Some(v)) = (decor, slot.as_value_mut()) {
        *v.decor_mut() = d;
    }
}

/// Write a construction under [[materials.construction]], replacing the one of the same key.
pub(super) fn put_construction(doc: &mut DocumentMut, c: &Construction, lib: &Library) {
    let materials = doc.entry("materials").or_insert(Item::Table(Table::new()));
    if let Some(t) = materials.as_table_mut() {
        t.set_implicit(true);
        let list = t.entry("construction").or_insert(Item::ArrayOfTables(ArrayOfTables::new()));
        if let Some(list) = list.as_array_of_tables_mut() {
            let table = construction_table(c, lib);
            let at = list.iter().position(|x| x.get("key").and_then(Item::as_str) == Some(&c.key));
            match at.and_then(|i| list.get_mut(i)) {
                Some(old) => {
                    for (k, v) in &table {
                        match v.as_value() {
                            Some(v) => keep_remark(old.entry(k).or_insert(value(0)), v.clone()),
                            None => old[k] = v.clone(),
                        }
                    }
                }
                None => list.push(table),
            }
        }
    }
}

fn construction_table(c: &Construction, lib: &Library) -> Table {
    let kind = match c.kind {
        Kind::OneFaced => "one_faced",
        Kind::Laminate => "laminate",
        Kind::Wood => "wood",
        Kind::Covering => "covering",
        Kind::Sandwich | Kind::Open => "sandwich",
    };
    let mut t = Table::new();
    t["key"] = value(&c.key);
    t["name"] = value(&c.name);
    t["kind"] = value(kind);
    let mut inline = |key: &str, pairs: Vec<(&str, Value)>| {
        t[key] = value(pairs.into_iter().collect::<InlineTable>());
    };
    if let Some(k) = c.core {
        let foam = lib.foams.get(k.foam).map_or("", |f| &f.key);
        let filling = lib.fillings.get(k.filling).map_or("", |f| &f.key);
        inline(
            "core",
            vec![
                ("foam", foam.into()),
                ("thickness_mm", tidy(k.thickness_m * 1e3).into()),
                ("filling", filling.into()),
            ],
        );
    }
    if let Some((i, thick)) = c.wood {
        let wood = lib.woods.get(i).map_or("", |w| &w.key);
        inline("wood", vec![("wood", wood.into()), ("thickness_mm", tidy(thick * 1e3).into())]);
    }
    if let Some(u) = c.covering {
        let covering = lib.coverings.get(u.covering).map_or("", |x| &x.key);
        let fastening = lib.fastenings.get(u.fastening).map_or("", |x| &x.key);
        inline(
            "covering",
            vec![
                ("covering", covering.into()),
                ("fastening", fastening.into()),
                ("pretension_n_m", tidy(u.pretension_n_m).into()),
            ],
        );
    }
    for (key, face) in [("outer", &c.outer), ("inner", &c.inner)] {
        if !face.is_empty() {
            t[key] = value(face.iter().map(|p| Value::InlineTable(ply(p, lib))).collect::<Array>());
        }
    }
    if let Some(f) = c.finish.and_then(|i| lib.finishes.get(i)) {
        t["finish"] = value(&f.key);
    }
    if let Some(x) = lib.tools.get(c.tool) {
        t["tool"] = value(&x.key);
    }
    t["bagged"] = value(c.bagged);
    t
}

fn ply(p: &Ply, lib: &Library) -> InlineTable {
    let fabric = lib.fabrics.get(p.fabric).map_or("", |f| &f.key);
    let process = lib.processes.get(p.process).map_or("", |x| &x.key);
    [("fabric", Value::from(fabric)), ("angle_deg", tidy(p.angle_rad.to_degrees()).into()), ("process", process.into())]
        .into_iter()
        .collect()
}

fn tidy(v: f64) -> f64 {
    (v * 1e6).round() / 1e6
}

/// Save atomically to `path`; refuses when that file is not what was read or last saved, unless `force`.
pub fn save(scenario: &mut Scenario, design: &Design, path: &Path, force: bool) -> Result<Saved, Problem> {
    let io = |e: std::io::Error| Problem::io(path, io_words(&e));
    let text = written(scenario, design)?;
    if let Err(p) = parse(&text, Some(path)) {
        return Err(Problem::fault(format!(
            "what was to be saved would not load again: {}",
            p.first().map_or(String::new(), ToString::to_string)
        )));
    }
    let real = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let own = scenario.path.as_deref() == Some(path);
    match std::fs::read_to_string(&real) {
        Ok(now) if !force && (!own || now != scenario.text) && now != text => return Ok(Saved::ChangedMeanwhile),
        Err(e) if e.kind() != std::io::ErrorKind::NotFound => return Err(io(e)),
        _ => {}
    }
    replace_file(&real, text.as_bytes()).map_err(io)?;
    scenario.path = Some(path.to_owned());
    scenario.text = text;
    scenario.design = design.clone();
    Ok(Saved::Done)
}

/// Whether a file that is there may be written. A rename would pass over its protection.
pub fn may_write(path: &Path) -> std::io::Result<()> {
    use std::io::{Error, ErrorKind};
    let refuse = || {
        let words = "it is write-protected: nothing was written; take the protection off, or write to another name";
        Err(Error::new(ErrorKind::PermissionDenied, words))
    };
    match std::fs::metadata(path) {
        Ok(m) if m.permissions().readonly() => return refuse(),
        Ok(m) if m.is_file() => {}
        _ => return Ok(()),
    }
    // Somebody else's file, which this person may only read.
    match std::fs::OpenOptions::new().write(true).open(path) {
        Err(e) if e.kind() == ErrorKind::PermissionDenied => refuse(),
        _ => Ok(()),
    }
}

/// Replace a file in one step: written beside it, synced, renamed over it; its permissions are kept, and one that may only be read
/// is left alone.
pub fn replace_file(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    may_write(path)?;
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let temp = tempfile::Builder::new().prefix(".thistledown-").tempfile_in(folder);
    // Without the name of the file beside it, which nobody asked for.
    let mut temp = temp.map_err(|e| match e.kind() {
        std::io::ErrorKind::NotFound if folder.is_dir() => std::io::Error::new(e.kind(), "it cannot be written there"),
        std::io::ErrorKind::NotFound => std::io::Error::new(e.kind(), "its folder is not there"),
        kind => std::io::Error::from(kind),
    })?;
    temp.write_all(bytes)?;
    temp.as_file().sync_all()?;
    match std::fs::metadata(path) {
        Ok(m) => temp.as_file().set_permissions(m.permissions())?,
        #[cfg(unix)]
        Err(_) => temp.as_file().set_permissions(std::os::unix::fs::PermissionsExt::from_mode(0o644))?,
        #[cfg(not(unix))]
        Err(_) => {}
    }
    temp.persist(path).map_err(|e| e.error)?;
    if let Ok(f) = std::fs::File::open(folder) {
        let _ = f.sync_all();
    }
    Ok(())
}
