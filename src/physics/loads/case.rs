//! The list of load cases. All are limit loads.

use crate::physics::design::{Design, LimitSet};
use crate::physics::loads::case_keys::BACK_NAMES;
use crate::physics::loads::envelope::{gust_alleviation, gust_cap, gust_per_speed, pressure_pa, speed_for_lift_m_s};
use crate::physics::loads::lift::LiftBasis;
use crate::physics::loads::limits;
use crate::physics::loads::section::{HINGE_FACTOR, HINGE_FACTOR_MOST};
use crate::physics::loads::trim::{Trim, Trimmed};
use crate::physics::units::GRAVITY_M_S2;
use crate::physics::wing::layout::Layout;

pub use crate::physics::loads::case_keys::{KEYS, TAILLESS, is_of};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CaseKind {
    Manoeuvre,
    Gust,
    Dive,
    Roll,
    /// Controls of a tailless wing moved all together.
    Pitch,
    Landing,
    Carried,
    Rack,
    Parked,
    TipCaught,
}

impl CaseKind {
    /// A case of flight: the pilot hangs on the wing and air carries both.
    pub const fn in_flight(self) -> bool {
        matches!(self, Self::Manoeuvre | Self::Gust | Self::Dive | Self::Roll | Self::Pitch)
    }
}

/// What holds the half wing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Support {
    /// The centre: each half is a cantilever.
    #[default]
    Root,
    /// Both halves joined, held at this y on each side, m.
    Outboard(f64),
    /// Both halves joined, borne at their tips: this half's tip at `y_m`, where no more torque than `most_nm` is held. On the ground
    /// that is none, in two hands what they can. The other tip is the other one.
    Tip { y_m: f64, most_nm: f64 },
    /// The half wing by itself on two bars at these y, m; its root end is free.
    Bars(f64, f64),
}

/// How the load factor of a gust comes about: `n = 1 +/- V (k/2) rho U a S/(m g)`, an upward one no more than its cap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gust {
    /// Speed of the air, m/s, before alleviation.
    pub gust_m_s: f64,
    pub mass_kg: f64,
    /// Mean chord, area over span.
    pub chord_m: f64,
    pub slope_per_rad: f64,
    pub mass_ratio: f64,
    pub alleviation: f64,
    /// Before the cap.
    pub n_uncapped: f64,
    /// `1.25 (V/VS)^2`; none for a gust from above.
    pub n_cap: Option<f64>,
    /// Stall at 1 g with this mass, m/s.
    pub stall_m_s: f64,
    /// Airspeed at which this gust brings a limit load factor, m/s; infinite where it brings none.
    pub limit_at_m_s: f64,
}

/// One case, fully stated.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    pub key: &'static str,
    pub title: &'static str,
    pub kind: CaseKind,
    /// Load factor on all masses; masses push down when positive.
    pub n: f64,
    pub speed_m_s: f64,
    pub pilot_kg: f64,
    /// Lift coefficient of the whole wing.
    pub cl: f64,
    /// Control deflection, rad, effective (hinge factor applied); antisymmetric for roll, symmetric for trim and push.
    pub control_anti_rad: f64,
    pub control_sym_rad: f64,
    /// Where the controls of a tailless wing balance it, or stood when they were moved or the gust came.
    pub trim: Option<Trimmed>,
    pub support: Support,
    /// Rearward force at the tip, N.
    pub tip_drag_n: f64,
    /// Load factor forward on the wing's own mass, stopped at its centre.
    pub forward_n: f64,
    /// Where a gust makes the load factor, how.
    pub gust: Option<Gust>,
    /// Air temperature case: skin hot.
    pub hot: bool,
    pub source: &'static str,
    pub excused: Option<String>,
}

/// Share of full deflection at the dive speed. **Source:** flight reference, safer than one third of the rate.
const DIVE_CONTROL: f64 = 1.0 / 3.0;
/// What one chordwise row leaves out of the rolling moment. **Source:** many-row lattice, 3 %.
const ROLL_GROWTH: f64 = 1.03;
/// Factor on weight with one end on the ground. Assumption.
const ONE_END_FACTOR: f64 = 2.0;
/// What one hand of a strong person pushes or pulls upright for a moment, N. **Source:** above the greatest mean of 120 lifts, pushes and
/// pulls by one or both hands of 29 men, 386 N (abstract read: Maximum voluntary strengths of male adults, Ergonomics, 1980); the
/// greatest pull of men, 400 N (abstract read: Das and Wang, JOSE 10(1), 2004).
const HAND_N: f64 = 400.0;
/// How far apart two hands are on a tip at most, m. Assumption: half as far again as shoulders are wide.
const HANDS_APART_M: f64 = 0.8;
/// Lift coefficient of a half wing carried flat on a car. Assumption, after the roof air-load example.
const RACK_CL: f64 = 0.3;
/// Two people carry the wing here when no holds are given: equal moments at hands and middle of a uniform beam.
const CARRY_ETA: f64 = 0.585_786_437_6;
/// A half that lies upside down.
const TURNED_OVER: &str =
    "statics; the half lies upside down, its weight towards its upper surface; factor is an assumption of the scenario";
/// Distance between roof bars when fewer than two rests are given, m. Assumption.
const BAR_SPACING_M: f64 = 1.2;

const ENVELOPE: &str = "manoeuvre envelope: VS sqrt(n), load factor of the chosen limit set";
const GUST: &str = "CS 22.341 gust with alleviation after NACA TN 2964; positive gust capped at 1.25 CLmax";
/// The highest speed in rough air.
pub const ROUGH_AIR: &str = "V = min(n+ - 1, 1 - n-) / ((k/2) rho U a S / (m g)), the lower of both pilots, by a set of CS-22 at least VA, at most VD";
/// Where that comes from.
pub const ROUGH_AIR_SOURCE: &str = "CS 22.341 solved for the speed at which the gust brings the limit; CS 22.335(c) asks VB of at least VA (read); alleviation k after NACA TN 2964";
const DIVE: &str = "low load factor at the dive speed: section moment at the highest pressure";
const ROLL: &str = "two thirds of the positive load factor, and none at VA, with full control at VA, a third of it at VD (after 14 CFR 25.349, second-hand); no roll rate, +3 % for the single row, 0.8 of the thin-aerofoil effect of a control";
const PITCH: &str = "sudden movement of the pitch control to either stop at VA (14 CFR 23.423(a), read; written for horizontal surfaces), lift still of level flight; a third up at VD, no lift, beside the same down";
const ONE_END: &str = "statics: simply supported at the tips, with what is fixed at the centre: M = W L/8 of an even wing and P L/4 of a mass there; the ground holds no torque, hands no more than they can (386 and 400 N by abstracts of 1980 and 2004); factor 2 is an assumption";
/// Pull-ups and push-overs of a wing that its own controls turn: the lift is still there when they are back.
const BACK: &str = "checked manoeuvre: lift of the corner of the envelope, controls back where they trim level flight at that speed (14 CFR 23.423(b) asks for the checked one, from memory); the turning it begins is not counted as relief";
const NOSE: &str = "statics: both halves held at the centre, their mass thrown forward; V^2/(2 g s): a run of 6 m/s ended within 0.45 m is 4 g (definition); the factor is an assumption of the scenario";
const GROUND: &str = "statics; factor is an assumption of the scenario";

/// Torque that a person's two hands can hold at a tip of this chord, N m: one pushes up and one pulls down, `F d`.
///
/// **Source:** a couple; [`HAND_N`] and [`HANDS_APART_M`] say theirs. **Safe side:** what the same hands carry of the weight is not
/// taken off.
fn hands_couple_nm(tip_chord_m: f64) -> f64 {
    HAND_N * tip_chord_m.clamp(0.0, HANDS_APART_M)
}

/// The speeds and masses that the cases rest on.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Speeds {
    pub dive_m_s: f64,
    pub manoeuvre_m_s: f64,
    /// Highest speed at which the stated gust stays inside the limits, lightest and heaviest pilot.
    pub rough_air_m_s: f64,
    pub stall_1g_m_s: f64,
}

/// One pilot's corner of the envelope.
#[derive(Debug, Clone, Copy)]
struct Aboard {
    pilot_kg: f64,
    mass_kg: f64,
    va: f64,
    va_negative: f64,
    stall: f64,
}

/// Key and title.
type Name = (&'static str, &'static str);

struct Builder<'a> {
    design: &'a Design,
    layout: &'a Layout,
    lift: &'a LiftBasis,
    trim: Option<Trim>,
    out: Vec<Case>,
}

/// Stall, manoeuvring, rough-air and dive speed. Without limits only the stall is known.
///
/// **Source:** `VA = VS1 sqrt(n)` (CS 22.335(a)); rough air from CS 22.341 solved for the speed at which the gust
/// brings the limit. **Valid for:** wing at the given mass. CLmax is the wing's own or, of a tailless wing, its trimmed one,
/// the lower of both: the higher corner speed. With a tail that presses down corners lie a little higher than said.
/// Unchecked: no outside check runs it by itself.
pub fn speeds(design: &Design, layout: &Layout, lift: &LiftBasis, wing_kg: f64) -> Speeds {
    let usual = wing_kg + design.hung_mass_kg(design.aboard.pilot_kg);
    let stall_1g_m_s = speed_for_lift_m_s(1.0, usual, layout.area_m2, corner_cl(design, lift).0);
    let Some(set) = &design.limits else {
        return Speeds { stall_1g_m_s, ..Speeds::default() };
    };
    let aboard = pilots(design, layout, lift, wing_kg, set);
    Speeds {
        dive_m_s: set.dive_speed_m_s,
        manoeuvre_m_s: aboard.1.va,
        rough_air_m_s: rough_air(&aboard, layout, lift, set),
        stall_1g_m_s,
    }
}

fn pilots(design: &Design, layout: &Layout, lift: &LiftBasis, wing_kg: f64, set: &LimitSet) -> (Aboard, Aboard) {
    let (most, least) = corner_cl(design, lift);
    let area = layout.area_m2;
    // A wing that cannot carry a load factor at any speed is flown at the highest.
    let corner = |n: f64, mass_kg: f64, cl: f64| match speed_for_lift_m_s(n, mass_kg, area, cl) {
        v if v > 0.0 => v.min(set.dive_speed_m_s),
        _ => set.dive_speed_m_s,
    };
    let of = |pilot_kg: f64| {
        let mass_kg = wing_kg + design.hung_mass_kg(pilot_kg);
        Aboard {
            pilot_kg,
            mass_kg,
            va: corner(set.n_positive, mass_kg, most),
            va_negative: corner(set.n_negative, mass_kg, least),
            stall: speed_for_lift_m_s(1.0, mass_kg, area, lift.cl_max),
        }
    };
    let [light, heavy] = design.aboard.pilots_kg().map(of);
    (light, heavy)
}

/// Greatest and least lift coefficients of the corners.
fn corner_cl(design: &Design, lift: &LiftBasis) -> (f64, f64) {
    let Some((most, least)) = Trim::of(design, lift).map(|t| t.cl_range(lift)) else {
        return (lift.cl_max, lift.cl_min);
    };
    (lift.cl_max.min(most), lift.cl_min.max(least))
}

/// The speed that gusts of rough air are met at: where they bring a limit with either pilot, at most VD; by a code that asks so no
/// less than VA.
fn rough_air((light, heavy): &(Aboard, Aboard), layout: &Layout, lift: &LiftBasis, set: &LimitSet) -> f64 {
    let ends = |a: &Aboard| limit_at(set, gust_slope(a, layout, lift, set.gust_m_s));
    let asked = if limits::gusts_at_va(set) { heavy.va } else { 0.0 };
    ends(light).min(ends(heavy)).max(asked).min(set.dive_speed_m_s)
}

/// Speed at which a gust of so much load factor per speed brings a limit; infinite where it brings none.
fn limit_at(set: &LimitSet, slope: f64) -> f64 {
    let room = (set.n_positive - 1.0).min(1.0 - set.n_negative);
    if slope > 0.0 { room / slope } else { f64::INFINITY }
}

fn mean_chord_m(layout: &Layout) -> f64 {
    if layout.half_span_m > 0.0 { layout.area_m2 / (2.0 * layout.half_span_m) } else { 0.0 }
}

fn gust_slope(a: &Aboard, layout: &Layout, lift: &LiftBasis, gust_m_s: f64) -> f64 {
    gust_per_speed(a.mass_kg, layout.area_m2, mean_chord_m(layout), lift.slope_per_rad, gust_m_s)
}

/// Every case for this design at this wing mass, those switched off included with their reason.
///
/// With no limit set chosen the flight cases are absent: nothing is assumed for the person. A tailless wing pulls up and pushes over
/// with the controls where they trim it at that lift, and again with them back where they trim level flight at that speed; a gust
/// finds them there and leaves them. Both pilots are trimmed about one centre of gravity.
/// **Source:** beside each case. **Valid for:** limit loads; multiply once by the safety factor.
pub fn list(design: &Design, layout: &Layout, lift: &LiftBasis, wing_kg: f64) -> Vec<Case> {
    let mut b = Builder { design, layout, lift, trim: Trim::of(design, lift), out: Vec::with_capacity(40) };
    if let Some(set) = &design.limits {
        let (light, heavy) = pilots(design, layout, lift, wing_kg, set);
        b.manoeuvres(set, &light, &heavy);
        b.gusts(set, &light, &heavy);
        b.dives_and_rolls(set, &heavy);
    }
    b.ground();
    b.transport();
    b.out
}

impl Builder<'_> {
    fn push(&mut self, mut case: Case) {
        case.excused = self.design.cases_off.iter().find(|e| is_of(case.key, &e.key)).map(|e| e.reason.clone());
        self.out.push(case);
    }

    fn flight(&mut self, name: Name, kind: CaseKind, n: f64, speed: f64, who: &Aboard) -> Case {
        Case {
            key: name.0,
            title: name.1,
            kind,
            n,
            speed_m_s: speed,
            pilot_kg: who.pilot_kg,
            cl: self.lift_at(n, speed, who),
            control_anti_rad: 0.0,
            control_sym_rad: 0.0,
            trim: None,
            support: Support::Root,
            tip_drag_n: 0.0,
            forward_n: 0.0,
            gust: None,
            hot: true,
            source: "",
            excused: None,
        }
    }

    /// Lift coefficient that carries a load factor at a speed.
    fn lift_at(&self, n: f64, speed: f64, who: &Aboard) -> f64 {
        let pull = pressure_pa(speed) * self.layout.area_m2;
        if pull > 0.0 { n * who.mass_kg * GRAVITY_M_S2 / pull } else { 0.0 }
    }

    /// The controls of a tailless wing where they balance it at a lift coefficient; with a tail at rest.
    fn trimmed(&self, cl: f64, case: Case) -> Case {
        let trim = self.trim.map(|t| t.at(cl));
        Case { control_sym_rad: trim.map_or(0.0, |t| t.flown_rad), trim, ..case }
    }

    fn manoeuvres(&mut self, set: &LimitSet, light: &Aboard, heavy: &Aboard) {
        let (up, down, vd) = (set.n_positive, set.n_negative, set.dive_speed_m_s);
        let table: [(Name, f64, f64, &Aboard); 8] = [
            (("pull_va_light", "pull-up at VA, lightest pilot"), up, light.va, light),
            (("pull_va_heavy", "pull-up at VA, heaviest pilot"), up, heavy.va, heavy),
            (("pull_vd_light", "pull-up at VD, lightest pilot"), up, vd, light),
            (("pull_vd_heavy", "pull-up at VD, heaviest pilot"), up, vd, heavy),
            (("push_va_light", "negative corner, lightest pilot"), down, light.va_negative, light),
            (("push_va_heavy", "negative corner, heaviest pilot"), down, heavy.va_negative, heavy),
            (("push_vd_light", "negative load at VD, lightest pilot"), down, vd, light),
            (("push_vd_heavy", "negative load at VD, heaviest pilot"), down, vd, heavy),
        ];
        for (name, n, v, who) in table {
            let case = self.flight(name, CaseKind::Manoeuvre, n, v, who);
            let case = self.trimmed(case.cl, case);
            self.push(Case { source: ENVELOPE, ..case });
        }
        if !self.design.aboard.tailless {
            return;
        }
        for (name, (_, n, v, who)) in BACK_NAMES.into_iter().zip(table) {
            let case = self.flight(name, CaseKind::Manoeuvre, n, v, who);
            let case = self.trimmed(self.lift_at(1.0, v, who), case);
            self.push(Case { source: BACK, ..case });
        }
    }

    fn gusts(&mut self, set: &LimitSet, light: &Aboard, heavy: &Aboard) {
        let vd = set.dive_speed_m_s;
        let rough = rough_air(&(*light, *heavy), self.layout, self.lift, set);
        let table: [(Name, f64, f64, f64, &Aboard); 8] = [
            (("gust_up_rough_light", "up gust at rough-air speed, lightest pilot"), 1.0, rough, set.gust_m_s, light),
            (("gust_up_rough_heavy", "up gust at rough-air speed, heaviest pilot"), 1.0, rough, set.gust_m_s, heavy),
            (
                ("gust_down_rough_light", "down gust at rough-air speed, lightest pilot"),
                -1.0,
                rough,
                set.gust_m_s,
                light,
            ),
            (
                ("gust_down_rough_heavy", "down gust at rough-air speed, heaviest pilot"),
                -1.0,
                rough,
                set.gust_m_s,
                heavy,
            ),
            (("gust_up_vd_light", "up gust at VD, lightest pilot"), 1.0, vd, set.gust_dive_m_s, light),
            (("gust_up_vd_heavy", "up gust at VD, heaviest pilot"), 1.0, vd, set.gust_dive_m_s, heavy),
            (("gust_down_vd_light", "down gust at VD, lightest pilot"), -1.0, vd, set.gust_dive_m_s, light),
            (("gust_down_vd_heavy", "down gust at VD, heaviest pilot"), -1.0, vd, set.gust_dive_m_s, heavy),
        ];
        for (name, sign, v, gust, who) in table {
            let per_speed = gust_slope(who, self.layout, self.lift, gust);
            let (chord_m, slope_per_rad) = (mean_chord_m(self.layout), self.lift.slope_per_rad);
            let (mass_ratio, alleviation) = gust_alleviation(who.mass_kg, self.layout.area_m2, chord_m, slope_per_rad);
            let raw = 1.0 + sign * v * per_speed;
            let cap = (sign > 0.0).then(|| gust_cap(v, who.stall));
            let how = Gust {
                gust_m_s: gust,
                mass_kg: who.mass_kg,
                chord_m,
                slope_per_rad,
                mass_ratio,
                alleviation,
                n_uncapped: raw,
                n_cap: cap,
                stall_m_s: who.stall,
                limit_at_m_s: limit_at(set, per_speed),
            };
            let case = self.flight(name, CaseKind::Gust, cap.map_or(raw, |c| raw.min(c)), v, who);
            let case = self.trimmed(self.lift_at(1.0, v, who), case);
            self.push(Case { source: GUST, gust: Some(how), ..case });
        }
    }

    fn dives_and_rolls(&mut self, set: &LimitSet, heavy: &Aboard) {
        let vd = set.dive_speed_m_s;
        let effect = self.lift.control_effect * HINGE_FACTOR_MOST / HINGE_FACTOR;
        let down = self.lift.control_down_rad * effect;
        // One side up by its travel, the other down by its own: half the sum is antisymmetric, half the difference
        // symmetric.
        let up = self.lift.control_up_rad * effect;
        let most = 0.5 * (up + down) * ROLL_GROWTH;
        let drop = 0.5 * (down - up);
        // Moved by so much from where they trim the wing or from rest, whichever takes them further; the stop ends it.
        let moved = |trim: f64, by: f64| {
            if by.is_sign_negative() {
                (trim.min(0.0) + by).max(by.min(-up))
            } else {
                (trim.max(0.0) + by).min(by.max(down))
            }
        };
        let case = self.flight(("dive_torsion", "no lift at VD"), CaseKind::Dive, 0.0, vd, heavy);
        let still = self.trimmed(0.0, case);
        self.push(Case { source: DIVE, ..still.clone() });
        let case = self.flight(("dive_push", "no lift at VD, controls a third down"), CaseKind::Dive, 0.0, vd, heavy);
        let control_sym_rad = moved(still.control_sym_rad, DIVE_CONTROL * down);
        self.push(Case { control_sym_rad, trim: still.trim, source: DIVE, ..case });
        let n = 2.0 / 3.0 * set.n_positive;
        // Lift turns the wing against a control that goes down: without it the control twists the spar most.
        let table = [
            (("roll_va_down", "roll at VA, side with control down"), n, heavy.va, 1.0),
            (("roll_va_up", "roll at VA, side with control up"), n, heavy.va, -1.0),
            (("roll_vd_down", "roll at VD, a third of the control down"), n, vd, DIVE_CONTROL),
            (("roll_vd_up", "roll at VD, a third of the control up"), n, vd, -DIVE_CONTROL),
            (("roll_va_down_idle", "roll at VA without lift, control down"), 0.0, heavy.va, 1.0),
            (("roll_va_up_idle", "roll at VA without lift, control up"), 0.0, heavy.va, -1.0),
        ];
        for (name, n, v, share) in table {
            let case = self.flight(name, CaseKind::Roll, n, v, heavy);
            let before = self.trimmed(case.cl, case);
            let (control_anti_rad, together) = (share * most, share.abs() * drop);
            // The side looked at begins at rest or in trim, whichever takes it further, and goes no further than its stop.
            let control_sym_rad = if share > 0.0 {
                (together + before.control_sym_rad.max(0.0)).min(together.max(down - control_anti_rad))
            } else {
                (together + before.control_sym_rad.min(0.0)).max(together.min(-up - control_anti_rad))
            };
            self.push(Case { control_anti_rad, control_sym_rad, source: ROLL, ..before });
        }
        // The controls of a wing that flies with a tail roll it only.
        if !self.design.aboard.tailless {
            return;
        }
        let third_up = moved(still.control_sym_rad, -DIVE_CONTROL * up);
        let table = [
            (("pitch_va_down", "controls full down at VA, level flight"), 1.0, heavy.va, down),
            (("pitch_va_up", "controls full up at VA, level flight"), 1.0, heavy.va, -up),
            (("pitch_vd_up", "no lift at VD, controls a third up"), 0.0, vd, third_up),
        ];
        for (name, n, v, control_sym_rad) in table {
            let case = self.flight(name, CaseKind::Pitch, n, v, heavy);
            let before = self.trimmed(case.cl, case);
            self.push(Case { control_sym_rad, source: PITCH, ..before });
        }
    }

    fn on_ground(name: Name, kind: CaseKind, n: f64) -> Case {
        Case {
            key: name.0,
            title: name.1,
            kind,
            n,
            speed_m_s: 0.0,
            pilot_kg: 0.0,
            cl: 0.0,
            control_anti_rad: 0.0,
            control_sym_rad: 0.0,
            trim: None,
            support: Support::Root,
            tip_drag_n: 0.0,
            forward_n: 0.0,
            gust: None,
            hot: true,
            source: GROUND,
            excused: None,
        }
    }

    fn ground(&mut self) {
        let service = self.design.service;
        let half = self.layout.half_span_m;
        let landing = Self::on_ground(
            ("landing_hang", "hard landing on the hang point"),
            CaseKind::Landing,
            service.landing_factor,
        );
        self.push(Case {
            source: "wing stopped at the hang point, no lift counted; factor is an assumption",
            ..landing
        });
        let nose = Self::on_ground(("landing_nose", "stopped on the nose"), CaseKind::Landing, 1.0);
        self.push(Case { forward_n: service.nose_factor, source: NOSE, ..nose });
        self.push(Self::on_ground(
            ("carried_one", "carried at the centre by one"),
            CaseKind::Carried,
            service.carry_factor,
        ));
        let holds = self.design.care.holds.iter().map(|h| h.eta).fold(0.0, f64::max);
        let hands = if holds > 0.0 { holds } else { CARRY_ETA };
        let two = Self::on_ground(("carried_two", "carried by two"), CaseKind::Carried, service.carry_factor);
        self.push(Case {
            support: Support::Outboard(hands * half),
            source: "statics, with what is fixed at the centre; factor is an assumption of the scenario",
            ..two
        });
        let tip_m = self.layout.bays.last().map_or(0.0, |b| b.outer.chord_m);
        let ends = [
            (("one_end_down", "lifted by one tip: the half on the ground"), 0.0),
            (("one_end_lifted", "lifted by one tip: the half in the hands"), hands_couple_nm(tip_m)),
        ];
        for (name, most_nm) in ends {
            let end = Self::on_ground(name, CaseKind::Carried, ONE_END_FACTOR);
            self.push(Case { support: Support::Tip { y_m: half, most_nm }, source: ONE_END, ..end });
        }
        let caught = Self::on_ground(("tip_caught", "tip caught while turning"), CaseKind::TipCaught, 1.0);
        self.push(Case {
            tip_drag_n: service.tip_force_n,
            source: "rearward force at the tip by the scenario; 200 N where it is silent is an assumption, half the 400 N that JAR 22.501 asks of sailplanes as quoted second-hand",
            ..caught
        });
        let parked = Self::on_ground(("parked_wind", "parked in wind at its greatest lift"), CaseKind::Parked, 1.0);
        self.push(Case {
            speed_m_s: service.parked_wind_m_s,
            cl: self.lift.cl_max,
            source: "q S CLmax in the stated wind, held at the centre",
            ..parked
        });
    }

    fn transport(&mut self) {
        let service = self.design.service;
        let support = self.bars();
        let down = Self::on_ground(("rack_bump_down", "on the rack, bump down"), CaseKind::Rack, service.bump_factor);
        self.push(Case { support, ..down });
        let over =
            Self::on_ground(("rack_over_bump", "on the rack, turned over, bump"), CaseKind::Rack, -service.bump_factor);
        self.push(Case { support, source: TURNED_OVER, ..over });
        let up = Self::on_ground(("rack_bump_up", "on the rack, bump up"), CaseKind::Rack, -0.5 * service.bump_factor);
        self.push(Case { support, source: "half the bump factor upward, strapped to the bars; assumption", ..up });
        for (name, n, cl) in [
            (("rack_air", "on the rack, air load"), 1.0, RACK_CL),
            (("rack_air_down", "on the rack, pressed down by the air"), 1.0, -RACK_CL),
            (("rack_over_air", "on the rack, turned over, air load"), -1.0, RACK_CL),
        ] {
            let air = Self::on_ground(name, CaseKind::Rack, n);
            self.push(Case {
                support,
                speed_m_s: service.rack_speed_m_s,
                cl,
                source: "q S CL of a half wing laid flat either way up, CL 0.3 either way an assumption: turned over, mass and the lift of its camber go the same way",
                ..air
            });
        }
    }

    /// The bars of the rack: the outermost and innermost rest, or two bars about the middle of the half wing's mass.
    fn bars(&self) -> Support {
        let half = self.layout.half_span_m;
        let etas = self.design.care.rests.iter().map(|r| r.eta);
        let (least, most) = etas.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), e| (a.min(e), b.max(e)));
        if most - least > 0.05 {
            return Support::Bars(least * half, most * half);
        }
        let middle = 0.4 * half;
        let gap = 0.5 * BAR_SPACING_M.min(0.5 * half);
        Support::Bars(middle - gap, middle + gap)
    }
}
