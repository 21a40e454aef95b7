//! What would help most: for each construction, zone and habit the best single change, found by computing it again.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::durability::index::{self, Durability};
use crate::physics::durability::{Memory, care};
use crate::physics::laminate::construction::{self, Construction, Kind, Skin};
use crate::physics::mass::tally::Weight;
use crate::physics::material::Library;
use crate::physics::wing::layout::Layout;

/// What a change is made to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum On {
    Construction,
    Zone,
    Habit,
}

impl On {
    pub const fn word(self) -> &'static str {
        match self {
            Self::Construction => "construction",
            Self::Zone => "zone",
            Self::Habit => "habit",
        }
    }
}

/// One change and what it would bring.
#[derive(Debug, Clone, PartialEq)]
pub struct Help {
    pub on: On,
    pub what: String,
    pub index_gain: f64,
    pub repair_h_gain: f64,
    /// Mass and building hours it costs, whole wing; nothing for habits.
    pub grams: f64,
    pub build_h: f64,
}

impl Help {
    /// Gain in index for 100 g; None where it costs no mass.
    pub fn per_100_g(&self) -> Option<f64> {
        (self.grams > 0.05).then(|| self.index_gain / self.grams * 100.0)
    }
    /// Gain in index for an hour of building; None where it costs none.
    /// Unchecked: no outside check runs it by itself.
    pub fn per_hour(&self) -> Option<f64> {
        (self.build_h > 1e-3).then(|| self.index_gain / self.build_h)
    }
}

/// Everything the changes are tried on.
pub struct Wing<'a> {
    pub design: &'a Design,
    pub layout: &'a Layout,
    pub skins: &'a [Skin],
    pub weight: &'a Weight,
    pub now: &'a Durability,
}

/// A better neighbour of a construction, and its words.
fn stronger(c: &Construction, lib: &Library) -> Vec<(Construction, String)> {
    let mut out = Vec::new();
    if let (Some(ply), true) = (c.outer.first(), c.outer.len() < construction::MOST_PLIES) {
        let mut more = c.clone();
        more.outer.insert(0, *ply);
        let name = lib.fabrics.get(ply.fabric).map_or("", |f| f.name.as_str());
        out.push((more, format!("one more outer ply of {name}")));
    }
    if let Some((core, foam)) = c.core.and_then(|k| lib.foams.get(k.foam).map(|f| (k, f))) {
        let denser = lib
            .foams
            .iter()
            .enumerate()
            .filter(|(_, f)| {
                f.family == foam.family && f.density_kg_m3 > foam.density_kg_m3 && f.crush_min_pa > foam.crush_min_pa
            })
            .min_by(|a, b| a.1.density_kg_m3.total_cmp(&b.1.density_kg_m3));
        if let Some((i, f)) = denser {
            let mut more = c.clone();
            more.core = Some(construction::Core { foam: i, ..core });
            out.push((more, format!("core of {}", f.name)));
        }
    }
    if let Some((u, m)) = c.covering.and_then(|u| lib.coverings.get(u.covering).map(|m| (u, m))) {
        let heavier = lib
            .coverings
            .iter()
            .enumerate()
            .filter(|(_, x)| x.film == m.film && x.strength_n_m > m.strength_n_m)
            .min_by(|a, b| a.1.areal_mass_kg_m2.total_cmp(&b.1.areal_mass_kg_m2));
        if let Some((i, x)) = heavier {
            let mut more = c.clone();
            more.covering = Some(construction::CoveringUse { covering: i, ..u });
            out.push((more, x.name.clone()));
        }
    }
    if let Some((w, t)) = c.wood {
        let mut more = c.clone();
        more.wood = Some((w, t + 0.0005));
        out.push((more, "sheet 0.5 mm thicker".to_owned()));
    }
    out
}

/// Gain in index below which a change is not told.
const LEAST_GAIN: f64 = 1e-3;

/// Of all changes the one that brings most index a gram, the one that does an hour of building, and the best habit.
/// Unchecked: no outside check runs it by itself.
pub fn best(all: &[Help]) -> [Option<&Help>; 3] {
    let by = |of: fn(&Help) -> Option<f64>| {
        let each = all.iter().filter_map(|h| of(h).map(|v| (h, v)));
        each.max_by(|a, b| a.1.total_cmp(&b.1)).map(|b| b.0)
    };
    [by(Help::per_100_g), by(Help::per_hour), all.iter().find(|h| h.on == On::Habit)]
}

/// The best single change of each construction, of each zone, and each habit; most index first.
pub fn what_would_help(wing: &Wing, assumed: &Assumptions) -> Vec<Help> {
    let mut out = Vec::new();
    let memory = &mut Memory::default();
    let zones = &wing.layout.zones;
    for (i, c) in wing.design.constructions.iter().enumerate() {
        let area: f64 = zones.iter().filter(|z| z.construction == i).map(|z| 2.0 * z.area_m2).sum();
        if area > 0.0 && c.kind != Kind::Open {
            let best = stronger(c, &wing.design.library)
                .into_iter()
                .map(|(more, words)| wing.with_construction(i, &more, format!("{}: {words}", c.name), area, assumed));
            out.extend(best.max_by(|a, b| a.index_gain.total_cmp(&b.index_gain)));
        }
    }
    for (i, z) in zones.iter().enumerate() {
        let Some(c) = wing.design.constructions.get(z.construction) else { continue };
        let best = stronger(c, &wing.design.library)
            .into_iter()
            .map(|(more, words)| wing.with_zone(i, &more, &words, (assumed, &mut *memory)));
        out.extend(best.max_by(|a, b| a.index_gain.total_cmp(&b.index_gain)));
    }
    out.extend(wing.habits(assumed));
    out.retain(|h| h.index_gain > LEAST_GAIN);
    out.sort_by(|a, b| b.index_gain.total_cmp(&a.index_gain));
    out
}

impl Wing<'_> {
    fn help(&self, on: On, what: String, then: &Durability, cost: (f64, f64)) -> Help {
        let (kg, build_h) = cost;
        Help {
            on,
            what,
            index_gain: then.index - self.now.index,
            repair_h_gain: self.now.repair_h - then.repair_h,
            grams: 1e3 * kg,
            build_h,
        }
    }

    fn heavier(&self, kg: f64) -> Weight {
        let mut w = self.weight.clone();
        w.expected_kg += kg;
        w
    }

    fn with_construction(&self, i: usize, c: &Construction, what: String, area_m2: f64, a: &Assumptions) -> Help {
        let mut design = self.design.clone();
        let mut skins = self.skins.to_vec();
        let skin = construction::properties(c, &design.library, a);
        let kg = (skin.mass.total() - skins[i].mass.total()) * area_m2;
        let hours = (skin.hours_per_m2 - skins[i].hours_per_m2) * area_m2;
        (skins[i], design.constructions[i]) = (skin, c.clone());
        let then = index::rate(&design, self.layout, &skins, &self.heavier(kg), a);
        self.help(On::Construction, what, &then, (kg, hours))
    }

    fn with_zone(&self, zone: usize, c: &Construction, words: &str, (a, m): (&Assumptions, &mut Memory)) -> Help {
        let mut design = self.design.clone();
        let mut layout = self.layout.clone();
        let mut skins = self.skins.to_vec();
        let skin = construction::properties(c, &design.library, a);
        let z = &mut layout.zones[zone];
        let old = &self.skins[z.construction];
        let area = 2.0 * z.area_m2;
        let kg = (skin.mass.total() - old.mass.total()) * area;
        let hours = (skin.hours_per_m2 - old.hours_per_m2) * area;
        z.construction = skins.len();
        let what = format!("{}: {words}", care::place(z.strip, z.bay));
        skins.push(skin);
        design.constructions.push(c.clone());
        let then = index::rate_again((&design, &layout, &skins), &self.heavier(kg), a, m);
        self.help(On::Zone, what, &then, (kg, hours))
    }

    /// Lifts and rests on their places one time in five more, and each of the five costliest events half as often.
    fn habits(&self, a: &Assumptions) -> Vec<Help> {
        let mut out = Vec::new();
        let again = |d: &Design| index::rate(d, self.layout, self.skins, self.weight, a);
        let care = &self.design.care;
        if !(care.holds.is_empty() && care.rests.is_empty()) && care.discipline < 1.0 {
            let mut d = self.design.clone();
            d.care.discipline = (care.discipline + 0.2).min(1.0);
            let what = format!("lift and rest on the marked places {:.0} % of the time", 100.0 * d.care.discipline);
            out.push(self.help(On::Habit, what, &again(&d), (0.0, 0.0)));
        }
        let mut costly: Vec<_> = self.now.events.iter().filter(|e| e.repair_h > 0.0).collect();
        costly.sort_by(|x, y| y.repair_h.total_cmp(&x.repair_h));
        for e in costly.into_iter().take(5) {
            let mut d = self.design.clone();
            d.care.event_factors.push((e.key.to_owned(), 0.5));
            out.push(self.help(
                On::Habit,
                format!("half as often: {}", e.title.to_lowercase()),
                &again(&d),
                (0.0, 0.0),
            ));
        }
        out
    }
}

/// The limit of the scenario on durability that is missed by most, or kept by least, as a part of itself; and what stands
/// against it now.
fn limit(wing: &Wing) -> Option<String> {
    let (d, t) = (wing.now, &wing.design.targets);
    let least = |limit: f64, now: f64| (now / limit.max(1e-9) - 1.0, limit, now);
    let most = |limit: f64, now: f64| (limit / now.max(1e-9) - 1.0, limit, now);
    let all = [
        t.durability_index.map(|l| ("durability index", "", least(l, d.index))),
        t.outings_lost_per_100.map(|l| ("outings lost", " per 100", most(l, d.outings_lost))),
        t.press_n.map(|l| ("press load", " N", least(l, d.least_press.value_n))),
    ];
    let (what, unit, (room, limit, now)) = all.into_iter().flatten().min_by(|a, b| a.2.0.total_cmp(&b.2.0))?;
    let word = if room < 0.0 { "missed" } else { "kept" };
    Some(format!("weakest limit: {what} {now:.1} against {limit:.1}{unit}, {word} by {:.0} %", 100.0 * room.abs()))
}

/// The weakest limit explained: which limit on durability is nearest, what marks first and by what it gives, and what costs most.
pub fn weakest(wing: &Wing) -> String {
    let d = wing.now;
    let at = |zone: usize| wing.layout.zones.get(zone).map_or(String::new(), |z| care::place(z.strip, z.bay));
    let made = wing.layout.zones.get(d.least_press.zone).and_then(|z| wing.design.constructions.get(z.construction));
    let mut out: Vec<String> = limit(wing).into_iter().collect();
    out.push(format!(
        "weakest under a thumb: {} at {:.0} N, {}{}",
        at(d.least_press.zone),
        d.least_press.value_n,
        d.least_press.kind.word(),
        made.map_or(String::new(), |c| format!(" ({}, {})", c.name, gives(c, &wing.design.library)))
    ));
    let worst = d.events.iter().max_by(|a, b| a.repair_h.total_cmp(&b.repair_h)).filter(|e| e.repair_h > 0.0);
    if let Some(e) = worst {
        let cause = wing.design.care.catalogue.find(e.key).map_or(String::new(), |x| x.cause.words());
        let on = e.landed_word().map_or(String::new(), |w| format!("the {w} in "));
        let zone = e.worst_zone.map_or(String::new(), at);
        let share = 100.0 * e.repair_h / d.repair_h.max(1e-12);
        let title = e.title.to_lowercase();
        out.push(format!("costs most: {title} ({cause}), {share:.0} % of all hours, most on {on}{zone}"));
    }
    out.join("; ")
}

/// What stands against a thumb in a construction.
fn gives(c: &Construction, lib: &Library) -> String {
    let foam = c.core.and_then(|k| lib.foams.get(k.foam));
    match (c.kind, foam) {
        (Kind::Sandwich | Kind::OneFaced, Some(f)) => {
            format!(
                "a soft pad is borne by the core, which crushes at {:.0} kPa cold; the face adds a membrane",
                1e-3 * f.crush_min_pa
            )
        }
        (Kind::Covering, _) => "the cloth slackens, is cut on a rib or pierced round the rim".to_owned(),
        _ => "the sheet alone bears it".to_owned(),
    }
}
