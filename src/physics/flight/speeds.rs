//! Results of flight and how they are put together.

use crate::physics::assumptions::{Assumed, Assumptions};
use crate::physics::design::Design;
use crate::physics::flight::profile::{self, Profile};
use crate::physics::flight::{launch, polar};
use crate::physics::laminate::construction::Skin;
use crate::physics::loads::envelope::{least_dive_speed_m_s, speed_for_lift_m_s};
use crate::physics::loads::lift::LiftBasis;
use crate::physics::loads::trim::{Trim, trimmed_cl_max};
use crate::physics::mass::tally::Weight;
use crate::physics::units::{AIR_DENSITY_KG_M3, GRAVITY_M_S2};
use crate::physics::wing::layout::Layout;

/// A value with its low and high.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Band {
    pub low: f64,
    pub likely: f64,
    pub high: f64,
}

/// One point of the polar: speed, sink, CL, CD.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PolarPoint {
    pub speed_m_s: f64,
    pub sink_m_s: f64,
    pub cl: f64,
    pub cd: f64,
}

/// What the drag is made of at one speed of the likely polar, as coefficients; interference is counted in `cd` alone.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Terms {
    pub speed_m_s: f64,
    pub cl: f64,
    /// Of the lift, with the controls where they trim.
    pub cd_induced: f64,
    pub cd_profile: f64,
    /// Pilot and rigging.
    pub cd_parasite: f64,
    pub cd: f64,
}

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Flight {
    pub all_up_kg: f64,
    /// Greatest lift coefficient: trimmed where `trimmed` says so, else the wing's own.
    pub cl_max_trimmed: f64,
    /// The wing's own controls balance it; never with a tail, whose load is left out.
    pub trimmed: bool,
    pub stall_m_s: f64,
    pub least_sink_m_s: Band,
    pub least_sink_speed_m_s: f64,
    pub best_glide: Band,
    pub best_glide_speed_m_s: f64,
    pub at_least_sink: Terms,
    pub at_best_glide: Terms,
    /// Speed to fly through air sinking as the scenario says.
    pub to_fly_m_s: Band,
    /// Fastest speed at the sink the scenario gives; 0 where it sinks more at any speed.
    pub fastest_m_s: Band,
    /// Airspeed at which the wing carries itself and what is fixed to it.
    pub wing_float_m_s: f64,
    pub launch_speed_m_s: f64,
    /// Ground speed to launch in still air and in the scenario's wind, m/s.
    pub ground_speed_m_s: f64,
    pub ground_speed_in_wind_m_s: f64,
    /// Weight in the hands at rest, N, and at a run of 6 m/s: of the wing and what is fixed to it.
    pub hands_n: f64,
    pub hands_running_n: f64,
    /// Profile drag coefficient of the wing at best glide, and by strip: (zone strip, share).
    pub cd_profile: f64,
    pub cd_pilot: Band,
    pub polar: Vec<PolarPoint>,
    pub polar_low: Vec<PolarPoint>,
    pub polar_high: Vec<PolarPoint>,
    /// Laminar share of the wetted area.
    pub laminar_share: f64,
    pub warnings: Vec<String>,
}

/// Share by which interference adds to the drag of pilot, rigging and wing. Assumption.
pub const INTERFERENCE: f64 = 1.05;
/// Half width of the band on profile drag. **Source:** 10-20 % model uncertainty of the build-up (assumption).
const PROFILE_BAND: f64 = 0.12;
/// The shipped set of the code that asks a least dive speed.
const CODE_WITH_LEAST_DIVE: &str = "cs22_utility";
/// Lowest speed flown, over the stall. Assumption.
const SLOWEST: f64 = 1.05;
/// Points of a polar.
const POINTS: u32 = 24;

/// Everything the drag needs, for one of the three bands.
#[derive(Clone, Copy)]
struct Drag<'a> {
    profile: &'a Profile,
    lift: &'a LiftBasis,
    /// Effective elevon angle at CL 0 and per CL.
    trim: (f64, f64),
    /// Pilot and rigging over wing area.
    parasite: f64,
    profile_factor: f64,
    /// 2 m g / (rho S).
    loading: f64,
}

impl Drag<'_> {
    /// What CD is made of in a steady glide at a speed (small angles: lift equals weight).
    fn terms(&self, speed_m_s: f64) -> Terms {
        let cl = self.loading / (speed_m_s * speed_m_s);
        let [a, b, c] = self.lift.induced;
        let [ca, cb, cc] = self.lift.induced_control;
        let d = self.trim.0 + self.trim.1 * cl;
        let induced = a * cl * cl + b * cl + c + d * (ca * cl + cb) + cc * d * d;
        let (cd_induced, cd_parasite) = (induced.max(0.0), self.parasite);
        let cd_profile = self.profile.at(speed_m_s, cl) * self.profile_factor;
        let cd = cd_induced + INTERFERENCE * (cd_profile + cd_parasite);
        Terms { speed_m_s, cl, cd_induced, cd_profile, cd_parasite, cd }
    }

    /// CL and CD at a speed.
    fn at(&self, speed_m_s: f64) -> (f64, f64) {
        let t = self.terms(speed_m_s);
        (t.cl, t.cd)
    }

    /// Sink at a speed on the path, m/s: `V CD / sqrt(CL^2 + CD^2)`.
    fn sink(&self, speed_m_s: f64) -> f64 {
        let (cl, cd) = self.at(speed_m_s);
        speed_m_s * cd / (cl * cl + cd * cd).sqrt()
    }

    fn polar(&self, slow: f64, fast: f64) -> Vec<PolarPoint> {
        (0..POINTS)
            .map(|i| {
                let speed_m_s = slow + (fast - slow) * f64::from(i) / f64::from(POINTS - 1);
                let (cl, cd) = self.at(speed_m_s);
                PolarPoint { speed_m_s, sink_m_s: speed_m_s * cd / (cl * cl + cd * cd).sqrt(), cl, cd }
            })
            .collect()
    }
}

/// Fly it: stall and polar at the budget weight with the usual pilot, bands by pilot drag and profile drag.
///
/// Stall `V = sqrt(2 m g/(rho S CLmax))` with CLmax trimmed when tailless; least sink not flown below 1.05 VS.
/// **Source:** balance of forces; drag from [`profile`], far-wake induced drag with trim, drag area of the pilot by the
/// person. **Valid for:** sea level, steady flight. The build-up is blind to laminar bubbles: compare surfaces at one
/// pilot, trust differences before values.
/// Unchecked: no outside check runs it by itself.
pub fn fly(
    design: &Design,
    layout: &Layout,
    skins: &[Skin],
    lift: &LiftBasis,
    weight: &Weight,
    assumed: &Assumptions,
) -> Flight {
    fly_again((design, layout, skins), lift, weight, assumed, &mut profile::Memory::forgetting())
}

/// The same, with what was kept.
pub(crate) fn fly_again(
    (design, layout, skins): (&Design, &Layout, &[Skin]),
    lift: &LiftBasis,
    weight: &Weight,
    assumed: &Assumptions,
    memory: &mut profile::Memory,
) -> Flight {
    let all_up_kg = weight.budget_kg + design.hung_mass_kg(design.aboard.pilot_kg);
    let empty_kg = weight.budget_kg + design.fixed_mass_kg();
    let area = layout.area_m2;
    let mut out = Flight { all_up_kg, hands_n: launch::hands_n(empty_kg, 0.0, area, 0.0), ..Flight::default() };
    if area <= 0.0 || lift.cl_max <= 0.0 {
        out.warnings.push("flight not shown: no lift worked out for this wing".to_owned());
        return out;
    }
    let trim = trimmed(design, lift, &mut out);
    slow_flight(&mut out, empty_kg, area);
    let air = profile::profile_again(layout, skins, memory);
    let pilot = design.aboard.pilot_drag_m2;
    let pilot_factor = assumed.of(Assumed::PilotDrag);
    let drag = |k: usize| Drag {
        profile: &air,
        lift,
        trim,
        parasite: (pilot[k] * pilot_factor + design.aboard.rigging_drag_m2) / area,
        profile_factor: assumed.of(Assumed::ProfileDrag) * (1.0 + PROFILE_BAND * (k as f64 - 1.0)),
        loading: 2.0 * all_up_kg * GRAVITY_M_S2 / (AIR_DENSITY_KG_M3 * area),
    };
    let slow = SLOWEST * out.stall_m_s;
    let fast = design.limits.as_ref().map_or(2.5 * out.stall_m_s, |l| l.dive_speed_m_s).max(1.6 * out.stall_m_s);
    let mut sinks = [(0.0, 0.0); 3];
    let mut glides = [(0.0, 0.0); 3];
    for k in 0..3 {
        let d = drag(k);
        sinks[k] = polar::least(slow, fast, |v| d.sink(v));
        let (v, inverse) = polar::least(slow, fast, |v| {
            let (cl, cd) = d.at(v);
            cd / cl
        });
        glides[k] = (v, 1.0 / inverse.max(1e-9));
    }
    out.least_sink_m_s = Band { low: sinks[0].1, likely: sinks[1].1, high: sinks[2].1 };
    out.least_sink_speed_m_s = sinks[1].0;
    out.best_glide = Band { low: glides[2].1, likely: glides[1].1, high: glides[0].1 };
    out.best_glide_speed_m_s = glides[1].0;
    out.cd_pilot = Band { low: drag(0).parasite, likely: drag(1).parasite, high: drag(2).parasite };
    (out.at_least_sink, out.at_best_glide) = (drag(1).terms(sinks[1].0), drag(1).terms(glides[1].0));
    out.cd_profile = out.at_best_glide.cd_profile;
    out.laminar_share = air.laminar_share;
    out.polar_low = drag(0).polar(slow, fast);
    out.polar = drag(1).polar(slow, fast);
    out.polar_high = drag(2).polar(slow, fast);
    let of = |read: &dyn Fn(&[(f64, f64)]) -> f64| {
        let [low, likely, high] = [&out.polar_high, &out.polar, &out.polar_low]
            .map(|p| read(&p.iter().map(|q| (q.speed_m_s, q.sink_m_s)).collect::<Vec<_>>()));
        Band { low, likely, high }
    };
    let to_fly = of(&|p| polar::speed_to_fly_m_s(p, design.aboard.sinking_air_m_s));
    let fastest = of(&|p| polar::fastest_at_sink_m_s(p, design.aboard.given_sink_m_s).unwrap_or(0.0));
    (out.to_fly_m_s, out.fastest_m_s) = (to_fly, fastest);
    out.ground_speed_in_wind_m_s = launch::ground_speed_m_s(out.stall_m_s, design.aboard.headwind_m_s);
    advise(&mut out, &air, design, layout);
    out
}

/// Trim line and trimmed CLmax; a wing with a tail, or without controls, keeps the section limit.
fn trimmed(design: &Design, lift: &LiftBasis, out: &mut Flight) -> (f64, f64) {
    out.cl_max_trimmed = lift.cl_max;
    if !design.aboard.tailless {
        return (0.0, 0.0);
    }
    let cg = design.aboard.cg_mac;
    let (Some(trim), Some((_, at))) = (Trim::of(design, lift), trimmed_cl_max(lift, cg)) else {
        out.warnings.push("trim not shown: tailless, but no control can balance it".to_owned());
        return (0.0, 0.0);
    };
    (out.cl_max_trimmed, out.trimmed) = (trim.cl_range(lift).0, true);
    let travel = if at < 0.0 { trim.up_rad } else { trim.down_rad };
    if at.abs() > travel {
        out.warnings.push(format!(
            "trim at the stall asks {:.0} deg of control, {}: it will not reach this stall speed",
            (at / lift.control_effect.max(1e-9)).to_degrees().abs(),
            trim.travel_words(lift, at)
        ));
    }
    if cg - 0.25 + lift.cm_per_cl > 0.0 {
        out.warnings.push("centre of gravity behind the neutral point: unstable in pitch".to_owned());
    }
    trim.line
}

/// Stall, launch, and what is in the hands.
fn slow_flight(out: &mut Flight, empty_kg: f64, area_m2: f64) {
    out.stall_m_s = speed_for_lift_m_s(1.0, out.all_up_kg, area_m2, out.cl_max_trimmed);
    out.wing_float_m_s = launch::float_speed_m_s(out.stall_m_s, empty_kg, out.all_up_kg);
    out.launch_speed_m_s = launch::LAUNCH_OVER_STALL * out.stall_m_s;
    out.ground_speed_m_s = launch::ground_speed_m_s(out.stall_m_s, 0.0);
    let cl = out.cl_max_trimmed / (launch::LAUNCH_OVER_STALL * launch::LAUNCH_OVER_STALL);
    out.hands_running_n = launch::hands_n(empty_kg, launch::RUN_M_S, area_m2, cl);
}

/// Words a pilot expects.
fn advise(out: &mut Flight, air: &Profile, design: &Design, layout: &Layout) {
    if out.ground_speed_m_s > launch::RUN_M_S + 2.0 {
        out.warnings.push(format!(
            "launch asks {:.1} m/s of air over the wing: {:.1} m/s of wind or slope beyond a run of {:.0} m/s",
            out.launch_speed_m_s,
            out.launch_speed_m_s - launch::RUN_M_S,
            launch::RUN_M_S
        ));
    }
    let wind_m_s = design.aboard.headwind_m_s;
    if wind_m_s > 0.0 && wind_m_s >= out.wing_float_m_s {
        out.warnings.push(format!(
            "wind {wind_m_s:.1} m/s: the wing flies by itself from {:.1} m/s, nobody holds it on the ground",
            out.wing_float_m_s
        ));
    }
    if air.sag_measure > 0.0 {
        // Mean pressure of one g on the covering, two thirds of it on the upper surface.
        let pressure = out.all_up_kg * GRAVITY_M_S2 / layout.area_m2 * 2.0 / 3.0;
        let sag = profile::sag_m(pressure, air.sag_pitch_m, air.sag_pitch_m * air.sag_pitch_m / air.sag_measure);
        if sag > 0.02 * air.sag_pitch_m {
            out.warnings.push(format!(
                "covering sags {:.0} mm between ribs {:.0} mm apart in level flight",
                sag * 1000.0,
                air.sag_pitch_m * 1000.0
            ));
        }
    }
    if let Some(set) = design.limits.as_ref().filter(|l| l.key == CODE_WITH_LEAST_DIVE) {
        // Least drag of the whole, pilot at the least of his band.
        let cd_min = out.polar_low.iter().map(|p| p.cd).fold(f64::INFINITY, f64::min);
        let least = least_dive_speed_m_s(out.all_up_kg * GRAVITY_M_S2 / layout.area_m2, cd_min);
        if set.dive_speed_m_s < least {
            out.warnings.push(format!(
                "dive speed {:.1} m/s is below the {least:.1} m/s CS 22.335(f) asks of this loading and drag",
                set.dive_speed_m_s
            ));
        }
    }
    if let Some(target) = design.targets.stall_m_s
        && out.stall_m_s > target
    {
        out.warnings.push(format!("stall {:.1} m/s is above the target {target:.1} m/s", out.stall_m_s));
    }
}
