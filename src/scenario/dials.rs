//! The one table of dials: every input a person turns, where it stands in the design and in the file.

use crate::mix::ask::is_skin;
use crate::physics::design::{Design, Layers, Strip, Use};
use crate::scenario::dial_table::PLAIN;

/// Heading a dial stands under on the Wing page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Group {
    Planform,
    Layout,
    AftSkins,
    PliesAndCores,
    Spar,
    Loads,
    Masses,
    GroundCare,
    Workshop,
}

/// What a dial turns through.
#[derive(Debug, Clone, PartialEq)]
pub enum Turn {
    /// A quantity in the shown unit.
    Number { least: f64, most: f64, step: f64, coarse: f64, digits: usize },
    /// A whole number.
    Whole { least: i64, most: i64 },
    /// One of a list; the value is the index.
    Choice(Vec<String>),
}

/// What a dial turns inside the design.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum What {
    Plain(usize),
    RibBays(usize),
    NoseRibs(usize),
    Boundary(Strip, usize),
    RunChoice(Strip, usize),
    CoreMm(usize),
    CoreFoam(usize),
    OuterFabric(usize),
    OuterPlies(usize),
    OuterAngle(usize),
    InnerFabric(usize),
    CapLeast,
    /// What the upper cap is made of, or the lower.
    CapKind(bool),
    Usage,
    /// A hold: where along the span, where on the chord, which surface.
    HoldAt(usize),
    HoldChord(usize),
    HoldUpper(usize),
    /// A rest: where along the span, and the area of its pad.
    RestAt(usize),
    RestPad(usize),
    /// Whether a protection is flown or left on the ground.
    Flown(usize),
    /// A person's own factor on how often an event comes.
    EventFactor(usize),
    /// A number of an event given by the scenario, by its place among those.
    EventNumber(usize),
    /// A factor of the scenario's own on how often an exposure comes.
    Times(usize),
    /// A number of a joint.
    OfJoint(usize, usize),
}

const DEG: f64 = std::f64::consts::PI / 180.0;

/// One dial.
#[derive(Debug, Clone, PartialEq)]
pub struct Dial {
    /// Key, also for `--set KEY=VALUE` and `search`, e.g. `planform.span_m`.
    pub key: String,
    pub label: String,
    pub group: Group,
    /// Unit shown.
    pub unit: &'static str,
    pub turn: Turn,
    pub what: What,
}

impl Dial {
    /// Value in the shown unit (index for a choice).
    pub fn value(&self, d: &Design) -> f64 {
        let construction = |i: usize| d.constructions.get(i);
        let raw = match self.what {
            What::Plain(i) => PLAIN.get(i).map_or(0.0, |p| (p.read)(d)),
            What::RibBays(i) => d.ribs.get(i).map_or(0.0, |r| f64::from(r.bays)),
            What::NoseRibs(i) => d.ribs.get(i).map_or(0.0, |r| f64::from(r.nose_between)),
            What::Boundary(s, i) => d.runs(s).get(i).map_or(0.0, |r| r.to_eta),
            What::RunChoice(s, i) => {
                let key = d.runs(s).get(i).and_then(|r| construction(r.construction)).map(|c| c.key.as_str());
                return self.place_of(key);
            }
            What::CoreMm(i) => construction(i).and_then(|c| c.core).map_or(0.0, |c| c.thickness_m * 1e3),
            What::CoreFoam(i) => {
                let key = construction(i)
                    .and_then(|c| c.core)
                    .and_then(|c| d.library.foams.get(c.foam))
                    .map(|f| f.key.as_str());
                return self.place_of(key);
            }
            What::OuterFabric(i) => return self.place_of(fabric(d, construction(i).map(|c| c.outer.as_slice()))),
            What::InnerFabric(i) => return self.place_of(fabric(d, construction(i).map(|c| c.inner.as_slice()))),
            What::OuterPlies(i) => construction(i).map_or(0.0, |c| c.outer.len() as f64),
            What::OuterAngle(i) => construction(i).and_then(|c| c.outer.first()).map_or(0.0, |p| p.angle_rad / DEG),
            What::CapLeast => match d.spar.upper.layers {
                Layers::Sized { least, .. } => f64::from(least),
                Layers::Fixed(_) => 0.0,
            },
            What::CapKind(upper) => return self.place_of(super::cap_kinds::kind(d, upper).map(|k| k.key.as_str())),
            What::Usage => Use::ALL.iter().position(|u| *u == d.care.usage).unwrap_or(0) as f64,
            What::OfJoint(..) => super::joint_dials::value(d, self.what).unwrap_or(0.0),
            _ => super::care_dials::value(d, self.what),
        };
        self.rounded(raw)
    }

    fn place_of(&self, key: Option<&str>) -> f64 {
        match (&self.turn, key) {
            (Turn::Choice(list), Some(k)) => list.iter().position(|c| c == k).unwrap_or(0) as f64,
            _ => 0.0,
        }
    }

    fn rounded(&self, v: f64) -> f64 {
        match self.turn {
            Turn::Number { digits, .. } => {
                let k = 10_f64.powi(digits as i32);
                (v * k).round() / k
            }
            _ => v.round(),
        }
    }

    /// Least and most value.
    pub fn range(&self) -> (f64, f64) {
        match &self.turn {
            Turn::Number { least, most, .. } => (*least, *most),
            Turn::Whole { least, most } => (*least as f64, *most as f64),
            Turn::Choice(list) => (0.0, list.len().saturating_sub(1) as f64),
        }
    }

    /// Set it; out-of-range values are clamped, anything not finite is ignored. Rounded to the dial's digits.
    pub fn set(&self, d: &mut Design, value: f64) {
        if !value.is_finite() {
            return;
        }
        let (least, most) = self.range();
        let v = self.rounded(value.clamp(least, most));
        match self.what {
            What::Plain(i) => {
                if let Some(p) = PLAIN.get(i) {
                    (p.write)(d, v);
                }
            }
            What::RibBays(i) => {
                if let Some(r) = d.ribs.get_mut(i) {
                    r.bays = v as u32;
                }
            }
            What::NoseRibs(i) => {
                if let Some(r) = d.ribs.get_mut(i) {
                    r.nose_between = v as u32;
                }
            }
            What::Boundary(s, i) => set_boundary(d, s, i, v),
            What::RunChoice(s, i) => {
                let to = self.word(v).and_then(|k| d.constructions.iter().position(|c| c.key == k));
                let run = d.strips.iter_mut().find(|x| x.strip == s).and_then(|x| x.runs.get_mut(i));
                if let (Some(to), Some(run)) = (to, run) {
                    run.construction = to;
                }
            }
            What::CapLeast => {
                for cap in [&mut d.spar.upper, &mut d.spar.lower] {
                    if let Layers::Sized { least, most } = &mut cap.layers {
                        *least = (v as u32).min(*most);
                    }
                }
            }
            What::CapKind(upper) => super::cap_kinds::set(d, upper, self.word(v).unwrap_or_default()),
            What::Usage => d.care.usage = Use::ALL.get(v as usize).copied().unwrap_or(d.care.usage),
            _ if super::care_dials::set(d, self.what, v) => {}
            _ if super::joint_dials::set(d, self.what, v) => {}
            _ => self.set_in_construction(d, v),
        }
    }

    fn word(&self, v: f64) -> Option<&str> {
        match &self.turn {
            Turn::Choice(list) => list.get(v as usize).map(String::as_str),
            _ => None,
        }
    }

    fn set_in_construction(&self, d: &mut Design, v: f64) {
        let word = self.word(v).unwrap_or_default();
        let foam = d.library.foams.iter().position(|f| f.key == word);
        let cloth = d.library.fabrics.iter().position(|f| f.key == word);
        match self.what {
            What::CoreMm(i) => {
                if let Some(c) = d.constructions.get_mut(i).and_then(|c| c.core.as_mut()) {
                    c.thickness_m = v * 1e-3;
                }
            }
            What::CoreFoam(i) => {
                if let (Some(c), Some(f)) = (d.constructions.get_mut(i).and_then(|c| c.core.as_mut()), foam) {
                    c.foam = f;
                }
            }
            What::OuterFabric(i) => {
                if let (Some(c), Some(f)) = (d.constructions.get_mut(i), cloth) {
                    c.outer.iter_mut().for_each(|p| p.fabric = f);
                }
            }
            What::InnerFabric(i) => {
                if let (Some(c), Some(f)) = (d.constructions.get_mut(i), cloth) {
                    c.inner.iter_mut().for_each(|p| p.fabric = f);
                }
            }
            What::OuterAngle(i) => {
                if let Some(c) = d.constructions.get_mut(i) {
                    c.outer.iter_mut().for_each(|p| p.angle_rad = v * DEG);
                }
            }
            What::OuterPlies(i) => {
                if let Some(c) = d.constructions.get_mut(i)
                    && let Some(first) = c.outer.first().copied()
                {
                    c.outer.resize((v as usize).max(1), first);
                }
            }
            _ => {}
        }
    }

    /// The value as shown, unit not included.
    pub fn shown(&self, design: &Design) -> String {
        let v = self.value(design);
        match &self.turn {
            Turn::Number { digits, .. } => format!("{v:.digits$}"),
            Turn::Whole { .. } => format!("{v:.0}"),
            Turn::Choice(list) => list.get(v as usize).cloned().unwrap_or_default(),
        }
    }
}

fn fabric<'d>(d: &'d Design, plies: Option<&[crate::physics::laminate::construction::Ply]>) -> Option<&'d str> {
    plies.and_then(<[_]>::first).and_then(|p| d.library.fabrics.get(p.fabric)).map(|f| f.key.as_str())
}

/// Move the end of a run; the next run begins there. A boundary never passes its neighbours.
fn set_boundary(d: &mut Design, strip: Strip, i: usize, eta: f64) {
    let Some(s) = d.strips.iter_mut().find(|s| s.strip == strip) else { return };
    let (Some(this), Some(next)) = (s.runs.get(i).copied(), s.runs.get(i + 1).copied()) else { return };
    let eta = eta.clamp(this.from_eta + 0.01, next.to_eta - 0.01);
    s.runs[i].to_eta = eta;
    s.runs[i + 1].from_eta = eta;
}

/// All dials of this design, in the order of the Wing page.
pub fn dials(d: &Design) -> Vec<Dial> {
    let mut out = Vec::with_capacity(90);
    let limits = d.limits.is_some();
    let plain_of = |group: &[Group], out: &mut Vec<Dial>| {
        for (i, p) in PLAIN.iter().enumerate().filter(|(_, p)| group.contains(&p.group)) {
            if p.key.starts_with("limits.") && !limits || (p.read)(d).is_nan() {
                continue;
            }
            let (least, most, step, coarse, digits) = p.range;
            let turn = Turn::Number { least, most, step, coarse, digits };
            out.push(Dial {
                key: p.key.to_owned(),
                label: p.label.to_owned(),
                group: p.group,
                unit: p.unit,
                turn,
                what: What::Plain(i),
            });
        }
    };
    plain_of(&[Group::Planform, Group::Layout], &mut out);
    for i in 0..d.ribs.len() {
        let tail = if d.ribs.len() > 1 { format!(" {}", i + 1) } else { String::new() };
        out.push(whole(
            format!("ribs.region.{}.bays", i + 1),
            format!("Rib bays{tail}"),
            Group::Layout,
            (1, 80),
            What::RibBays(i),
        ));
        out.push(whole(
            format!("ribs.region.{}.nose_between", i + 1),
            format!("Nose ribs a bay{tail}"),
            Group::Layout,
            (0, 12),
            What::NoseRibs(i),
        ));
    }
    skins(d, &mut out);
    inside(d, &mut out);
    plain_of(&[Group::Spar], &mut out);
    if matches!(d.spar.upper.layers, Layers::Sized { .. }) {
        out.push(whole(
            "spar.upper_cap.layers.least".to_owned(),
            "Cap layers, least".to_owned(),
            Group::Spar,
            (0, 40),
            What::CapLeast,
        ));
    }
    super::cap_kinds::push(d, &mut out);
    super::joint_dials::push(d, &mut out);
    plain_of(&[Group::Loads, Group::Masses], &mut out);
    let uses = Use::ALL.iter().map(|u| u.key().to_owned()).collect();
    out.push(Dial {
        key: "care.use".to_owned(),
        label: "Use".to_owned(),
        group: Group::GroundCare,
        unit: "",
        turn: Turn::Choice(uses),
        what: What::Usage,
    });
    plain_of(&[Group::GroundCare], &mut out);
    super::care_dials::push(d, &mut out);
    plain_of(&[Group::Workshop], &mut out);
    out
}

fn whole(key: String, label: String, group: Group, (least, most): (i64, i64), what: What) -> Dial {
    Dial { key, label, group, unit: "", turn: Turn::Whole { least, most }, what }
}

fn skins(d: &Design, out: &mut Vec<Dial>) {
    let choices: Vec<String> = d.constructions.iter().filter(|c| is_skin(c)).map(|c| c.key.clone()).collect();
    for strip in Strip::ALL {
        let runs = d.runs(strip);
        let group = if strip.is_nose() { Group::PliesAndCores } else { Group::AftSkins };
        for (i, _) in runs.iter().enumerate().take(runs.len().saturating_sub(1)) {
            let tail = if runs.len() > 2 { format!(" {}", i + 1) } else { String::new() };
            let key = if i == 0 {
                format!("skins.{}.boundary", strip.key())
            } else {
                format!("skins.{}.boundary_{}", strip.key(), i + 1)
            };
            let turn = Turn::Number { least: 0.01, most: 0.99, step: 0.01, coarse: 0.0625, digits: 4 };
            out.push(Dial {
                key,
                label: format!("Boundary {}{tail}", strip.label()),
                group,
                unit: "span",
                turn,
                what: What::Boundary(strip, i),
            });
        }
        for i in 0..runs.len() {
            let tail = match (i, runs.len()) {
                (_, 1) => String::new(),
                (0, _) => " inner".to_owned(),
                (_, 2) => " outer".to_owned(),
                _ => format!(" {}", i + 1),
            };
            let mut list = choices.clone();
            if let Some(c) = d.constructions.get(runs[i].construction).filter(|c| !list.contains(&c.key)) {
                list.push(c.key.clone());
            }
            out.push(Dial {
                key: format!("skins.{}.{}", strip.key(), i + 1),
                label: format!("Skin {}{tail}", strip.label()),
                group,
                unit: "",
                turn: Turn::Choice(list),
                what: What::RunChoice(strip, i),
            });
        }
    }
}

/// Dials inside the constructions the skins use.
fn inside(d: &Design, out: &mut Vec<Dial>) {
    let mut used: Vec<usize> = d.strips.iter().flat_map(|s| s.runs.iter().map(|r| r.construction)).collect();
    used.sort_unstable();
    used.dedup();
    let foams: Vec<String> = d.library.foams.iter().map(|f| f.key.clone()).collect();
    let cloths: Vec<String> = d.library.fabrics.iter().map(|f| f.key.clone()).collect();
    let group = Group::PliesAndCores;
    for i in used {
        let Some(c) = d.constructions.get(i) else { continue };
        let short = c.key.replace('_', " ");
        let mut push = |tail: &str, word: &str, unit: &'static str, turn: Turn, what: What| {
            out.push(Dial {
                key: format!("construction.{}.{tail}", c.key),
                label: format!("{short}: {word}"),
                group,
                unit,
                turn,
                what,
            });
        };
        if c.core.is_some() {
            push(
                "core_mm",
                "core",
                "mm",
                Turn::Number { least: 0.5, most: 200.0, step: 0.5, coarse: 2.0, digits: 1 },
                What::CoreMm(i),
            );
            push("foam", "foam", "", Turn::Choice(foams.clone()), What::CoreFoam(i));
        }
        if !c.outer.is_empty() {
            push("outer_fabric", "outer cloth", "", Turn::Choice(cloths.clone()), What::OuterFabric(i));
            push("outer_plies", "outer plies", "", Turn::Whole { least: 1, most: 12 }, What::OuterPlies(i));
            push(
                "outer_angle_deg",
                "outer angle",
                "°",
                Turn::Number { least: -90.0, most: 90.0, step: 45.0, coarse: 45.0, digits: 0 },
                What::OuterAngle(i),
            );
        }
        if !c.inner.is_empty() {
            push("inner_fabric", "inner cloth", "", Turn::Choice(cloths.clone()), What::InnerFabric(i));
        }
    }
}
