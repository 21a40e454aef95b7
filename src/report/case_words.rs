//! What a load case is, in words: what holds the wing, how speed, load factor and lift come about, what is assumed, which keys
//! of a scenario move it. Loads are in `load`.

use std::fmt::Write as _;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::evaluate;
use crate::physics::loads::case::{self, Case, CaseKind, Support};
use crate::report::{four_figures, load};

/// What is said of a case beside its title and source.
pub struct About {
    pub formula: &'static str,
    pub comes_about: &'static str,
    pub assumed: &'static str,
    /// Keys of a scenario that move it.
    pub edit: &'static str,
}

/// The kind in a word.
pub const fn kind_word(kind: CaseKind) -> &'static str {
    match kind {
        CaseKind::Manoeuvre => "manoeuvre, in flight",
        CaseKind::Gust => "gust, in flight",
        CaseKind::Dive => "dive, in flight",
        CaseKind::Roll => "roll, in flight",
        CaseKind::Pitch => "pitch control, in flight",
        CaseKind::Landing => "landing",
        CaseKind::Carried => "carried on the ground",
        CaseKind::Rack => "on the rack of a car",
        CaseKind::Parked => "parked in wind",
        CaseKind::TipCaught => "handled on the ground",
    }
}

const LIFT: &str = "CL = n m g / (q S), q = rho V^2 / 2, m wing at budget, kit, what hangs on it and the pilot";

/// What is said of a case. Its key chooses among those of a kind.
pub fn about(c: &Case) -> About {
    match c.kind {
        CaseKind::Manoeuvre => manoeuvre(c),
        CaseKind::Gust => gust(c),
        CaseKind::Dive if c.key == "dive_push" => About {
            formula: "n = 0, V = VD, CL = 0; controls a third of their travel down, times their effect",
            comes_about: "lift of the controls and of twist and camber cancel over the wing; what is left twists it",
            assumed: "a third of the travel at VD, from rest or from where they trim the wing, whichever is further down; effect of a hinged control 0.8 of thin-aerofoil theory",
            edit: "limits.dive_speed_m_s, layout.control.N.down_deg",
        },
        CaseKind::Dive => About {
            formula: "n = 0, V = VD, CL = 0",
            comes_about: "no lift in all; twist and camber and the moment of the sections at the highest pressure twist the wing",
            assumed: if c.trim.is_some() { "the controls trim it there" } else { "none but the dive speed you state" },
            edit: "limits.dive_speed_m_s",
        },
        CaseKind::Roll if c.key.ends_with("_idle") => About {
            formula: "n = 0, CL = 0; V = VA with full travel; mean of both sides opposed, half their difference together",
            comes_about: "a roll in a push-over, as part 25 asks; no lift turns the wing against its control",
            assumed: "no roll has begun; heaviest pilot; effect of a hinged control 0.8 of thin-aerofoil theory",
            edit: "limits.n_positive, limits.dive_speed_m_s, aboard.heaviest_pilot_kg, layout.control.N.up_deg, layout.control.N.down_deg",
        },
        CaseKind::Roll => About {
            formula: "n = 2/3 n positive; V = VA with full travel, VD with a third; mean of both sides opposed, half their difference together",
            comes_about: LIFT,
            assumed: "no roll has begun; heaviest pilot; effect of a hinged control 0.8 of thin-aerofoil theory",
            edit: "limits.n_positive, limits.dive_speed_m_s, aboard.heaviest_pilot_kg, layout.control.N.up_deg, layout.control.N.down_deg",
        },
        CaseKind::Pitch => About {
            formula: "to either stop at VA with n = 1; a third of the way up at VD with n = 0",
            comes_about: LIFT,
            assumed: "the wing has not answered yet; heaviest pilot; effect of a hinged control 0.8 of thin-aerofoil theory",
            edit: "limits.dive_speed_m_s, aboard.heaviest_pilot_kg, layout.control.N.up_deg, layout.control.N.down_deg",
        },
        _ => ground(c.key),
    }
}

/// What is assumed of corners: of a wing with a tail; of one without, in trim; with the controls back.
const CORNERS: [&str; 3] = [
    "CLmax and CLmin of the wing alone; a tail that presses down is left out: it puts corner speeds a little higher",
    "CLmax and CLmin in trim where they are less than the wing's own; a steady turn of the path: its damping asks nothing of the controls; one centre of gravity for both pilots",
    "as the trimmed one, but the controls are back where they trim n = 1 at that speed while the lift still stands",
];

fn manoeuvre(c: &Case) -> About {
    let key = c.key;
    let up = key.starts_with("pull");
    let corner = key.contains("_va");
    About {
        formula: match (up, corner) {
            (true, true) => "n positive of the set; V = VA = sqrt(2 n m g / (rho S CLmax)), at most VD",
            (false, true) => "n negative of the set; V = sqrt(2 n m g / (rho S CLmin)), at most VD",
            (true, false) => "n positive of the set; V = VD",
            (false, false) => "n negative of the set; V = VD",
        },
        comes_about: LIFT,
        assumed: CORNERS[usize::from(c.trim.is_some()) + usize::from(c.trim.is_some() && key.contains("_back_"))],
        edit: match (up, key.ends_with("light")) {
            (true, true) => "limits.set, limits.n_positive, limits.dive_speed_m_s, aboard.lightest_pilot_kg",
            (true, false) => "limits.set, limits.n_positive, limits.dive_speed_m_s, aboard.heaviest_pilot_kg",
            (false, true) => "limits.set, limits.n_negative, limits.dive_speed_m_s, aboard.lightest_pilot_kg",
            (false, false) => "limits.set, limits.n_negative, limits.dive_speed_m_s, aboard.heaviest_pilot_kg",
        },
    }
}

fn gust(c: &Case) -> About {
    let key = c.key;
    let dive = key.contains("_vd");
    About {
        formula: if key.contains("_up") {
            "n = 1 + (k/2) rho U a V S / (m g), at most 1.25 (V/VS)^2; k = 0.88 mu/(5.3 + mu), mu = 2 (m/S)/(rho c a), c = S/b"
        } else {
            "n = 1 - (k/2) rho U a V S / (m g); k = 0.88 mu/(5.3 + mu), mu = 2 (m/S)/(rho c a), c = S/b"
        },
        comes_about: if dive {
            "at VD with the gust of the dive speed; lift as n m g / (q S), level flight before the gust"
        } else {
            "at rough-air speed, the highest at which the gust stays within the load factors for both pilots, at most VD; lift as n m g / (q S)"
        },
        assumed: if c.trim.is_some() {
            "controls stay where they trim level flight at that speed; a wing this light lies at the edge of what k was made for; the cap, 1.25 CLmax, is from memory"
        } else {
            "a wing this light lies at the edge of what k was made for; the cap, 1.25 CLmax, is from memory"
        },
        edit: match (dive, key.ends_with("light")) {
            (true, true) => "limits.gust_dive_m_s, limits.dive_speed_m_s, aboard.lightest_pilot_kg",
            (true, false) => "limits.gust_dive_m_s, limits.dive_speed_m_s, aboard.heaviest_pilot_kg",
            (false, true) => "limits.gust_m_s, limits.n_positive, limits.n_negative, aboard.lightest_pilot_kg",
            (false, false) => "limits.gust_m_s, limits.n_positive, limits.n_negative, aboard.heaviest_pilot_kg",
        },
    }
}

fn ground(key: &str) -> About {
    let (formula, comes_about, assumed, edit) = match key {
        "landing_hang" => (
            "n = service.landing_factor",
            "the wing's mass alone, times n; no air",
            "the factor, and that no lift is left",
            "service.landing_factor",
        ),
        "landing_nose" => (
            "n = 1; nf = service.nose_factor forward; about the vertical M = nf int g m (y - y0) dy",
            "the wing's own mass at budget, thrown forward by nf and down by its weight; no air; held at the centre",
            "the factor: 4 where the scenario is silent, a run of 6 m/s ended within 0.45 m; that nothing but the centre holds the wing",
            "service.nose_factor",
        ),
        "carried_one" => {
            ("n = service.carry_factor", "the wing's mass alone, times n; no air", "the factor", "service.carry_factor")
        }
        "carried_two" => (
            "n = service.carry_factor",
            "the mass of the wing and of what is fixed to it at the centre (keel, boom, tail; pilot and kit aside), times n; no air; both halves joined",
            "the factor; without holds hands at 0.586 of the half span, where moments at hands and middle are alike",
            "service.carry_factor, care.hold.N.at (the outermost), aboard.mass.N.mass_kg",
        ),
        "one_end_down" | "one_end_lifted" => (
            "n = 2; a whole wing on its two tips: in the middle M = W L/8 of an even beam and P L/4 of a mass there; about the line through the tips W d, d the distance of the centre of mass from it: of that the ground holds nothing, two hands at most 400 N x the tip's chord (0.8 m at most)",
            "the mass of the wing and of what is fixed to it at the centre (keel, boom, tail; pilot and kit aside), times n; no air; both halves joined",
            "the factor 2, for the jerk of a lift; hands of 400 N each (the means of what was tried end at 386 and 400 N); what turns a swept wing beyond their strength the middle holds, on the ground or in other hands, and that the tips then bear less is left out",
            "aboard.mass.N.mass_kg; else it follows the wing",
        ),
        "tip_caught" => (
            "n = 1; H = service.tip_force_n rearward at the tip; M = H x length about the vertical",
            "the wing's mass and the force at one tip; no air",
            "200 N where the scenario is silent, half the 400 N that JAR 22.501 asks of sailplanes as quoted second-hand",
            "service.tip_force_n",
        ),
        "parked_wind" => (
            "n = 1; V = service.parked_wind_m_s, CL = CLmax, lift q S CLmax",
            "the wing's mass against its lift in the stated wind",
            "the wing stands at its greatest lift, held at its centre",
            "service.parked_wind_m_s",
        ),
        "rack_bump_up" => (
            "n = -0.5 service.bump_factor",
            "half a wing, its mass times n; no air",
            "half the bump factor upward; without two rests two bars about 0.4 of the half span",
            "service.bump_factor, care.rest.N.at",
        ),
        "rack_air_down" => (
            "n = 1; V = service.rack_speed_m_s, CL = -0.3, lift q S CL",
            "half a wing laid flat, nose down or behind a screen: pressed down by the air beside its mass",
            "CL 0.3 as for the air load upward; without two rests two bars about 0.4 of the half span",
            "service.rack_speed_m_s, care.rest.N.at",
        ),
        "rack_over_bump" => (
            "n = -service.bump_factor in the wing's own axes",
            "half a wing turned over, its mass times n towards its upper surface; no air",
            "the factor; that a half may be laid either way up; without two rests two bars about 0.4 of the half span",
            "service.bump_factor, care.rest.N.at",
        ),
        "rack_over_air" => (
            "n = -1; V = service.rack_speed_m_s, CL = 0.3, lift q S CL, in the wing's own axes",
            "half a wing turned over: its mass and the lift of its camber both towards its upper surface",
            "CL 0.3 as for the air load upward; without two rests two bars about 0.4 of the half span",
            "service.rack_speed_m_s, care.rest.N.at",
        ),
        "rack_air" => (
            "n = 1; V = service.rack_speed_m_s, CL = 0.3, lift q S CL",
            "half a wing laid flat, its mass against the air",
            "CL 0.3, after the roof air-load example; without two rests two bars about 0.4 of the half span",
            "service.rack_speed_m_s, care.rest.N.at",
        ),
        _ => (
            "n = service.bump_factor",
            "half a wing, its mass times n; no air",
            "the factor; without two rests two bars about 0.4 of the half span",
            "service.bump_factor, care.rest.N.at",
        ),
    };
    About { formula, comes_about, assumed, edit }
}

/// What holds the wing.
pub fn held(c: &Case) -> String {
    match c.support {
        Support::Root if c.kind.in_flight() || c.kind == CaseKind::Landing => {
            "by the pilot at the hang point: each half is a cantilever".to_owned()
        }
        Support::Root => "at the centre: each half is a cantilever".to_owned(),
        Support::Outboard(y) => format!("on both sides {y:.2} m from the middle, halves joined"),
        Support::Tip { y_m, most_nm } if most_nm > 0.0 => format!(
            "at both tips {y_m:.2} m from the middle, halves joined: this half's in two hands, which hold {most_nm:.0} N m of torque at most"
        ),
        Support::Tip { y_m, .. } => format!(
            "at both tips {y_m:.2} m from the middle, halves joined: this half's on the ground, which holds no torque"
        ),
        Support::Bars(a, b) => format!("half a wing on two bars at {a:.2} and {b:.2} m, its root end free"),
    }
}

/// Every case that may be built; those of tailless wings alone on the same wing taken to have no tail.
pub fn all(design: &Design) -> Vec<Case> {
    let e = evaluate(design, &Assumptions::default());
    let mut all = e.loads.cases;
    let mut tailless = design.clone();
    tailless.aboard.tailless = true;
    let more = case::list(&tailless, &e.layout, &e.lift, e.weight.budget_kg);
    all.extend(more.into_iter().filter(|c| !design.aboard.tailless && case::TAILLESS.contains(&c.key)));
    all
}

/// A case explained, with its numbers on a wing of this name.
pub fn text(c: &Case, wing: &str) -> String {
    let a = about(c);
    let only = if case::TAILLESS.contains(&c.key) { ", tailless wings only" } else { "" };
    let mut out = format!("{}: load case, {}{only}\n", c.title, kind_word(c.kind));
    let trim = if c.trim.is_some() { ", aboard.tailless, aboard.cg_mac" } else { "" };
    let rows = [
        ("held", held(c)),
        ("formula", a.formula.to_owned()),
        ("comes about", a.comes_about.to_owned()),
        ("source", c.source.to_owned()),
        ("assumption", a.assumed.to_owned()),
        ("trim", c.trim.map_or_else(String::new, |_| load::TRIM.to_owned())),
        ("yours", format!("{}{trim}", a.edit)),
        ("loads", load::FORMULA.to_owned()),
        ("", load::SOURCE.to_owned()),
        (
            "there",
            format!(
                "n {}, {} m/s, CL {}, pilot {} kg: {wing}",
                four_figures(c.n),
                four_figures(c.speed_m_s),
                four_figures(c.cl),
                four_figures(c.pilot_kg)
            ),
        ),
        ("off", format!("[[cases_off]] case = \"{}\" with a reason, which every report repeats", c.key)),
    ];
    for (word, text) in rows.into_iter().filter(|(_, text)| !text.is_empty()) {
        let _ = writeln!(out, "  {word:<11} {text}");
    }
    out
}
