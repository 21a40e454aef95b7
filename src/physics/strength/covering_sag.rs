//! Covering sag.

use crate::physics::loads::case::{self, Case};
use crate::physics::loads::envelope::pressure_pa;
use crate::physics::loads::internal::CaseLoads;
use crate::physics::loads::skin_pressure;
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, Verdict, covering, inputs, margin, membrane};
use crate::physics::wing::layout::Zone;

pub const MODE: Mode = Mode {
    key: "covering_sag",
    title: "covering sag",
    formula: "p L^2/(8 T) against 3 % of the rib pitch, pretension gone, under the pressure of level flight at 1.4 times the stall speed",
    source: "parabolic cable; 2-3 % is an aerodynamic limit from memory: shape in ordinary flight, not strength; that speed, about the best glide, is our reading of it",
    mark: Mark::Memory,
    valid: "sag below a tenth of the rib pitch",
    safe_side: "pretension taken as lost",
    knock_down: "none",
    power: 1.0 / 3.0,
    margins: Some(margins),
};

/// Why it is not shown without any case it is judged under.
pub const NO_CASE: &str = "no manoeuvre case to take level flight from";

/// Speed of ordinary flight over the stall, about the best glide. A choice.
const ORDINARY: f64 = 1.4;

/// The pull-ups at the manoeuvring speed, which level flight is taken from.
fn level<'c>(c: &'c Context) -> Vec<(&'c CaseLoads, &'c Case)> {
    let of_case = |l: &'c CaseLoads| c.loads.cases.get(l.case).map(|k| (l, k));
    c.loads.loads.iter().filter_map(of_case).filter(|(_, k)| case::is_of(k.key, "pull_va")).collect()
}

/// Pressure in ordinary level flight, Pa, and the case it is taken from. A pull-up that the dive speed holds below the greatest
/// lift tells less than the dynamic pressure of the stall: then that is its least.
fn level_pa(c: &Context, cases: &[(&CaseLoads, &Case)], z: &Zone) -> Option<(f64, usize)> {
    let held = c.loads.manoeuvre_speed_m_s >= c.loads.dive_speed_m_s;
    let least_q_pa = if held { pressure_pa(c.loads.stall_1g_m_s) } else { 0.0 };
    let mut worst: Option<(f64, usize)> = None;
    for (l, k) in cases {
        let p = skin_pressure::level_pa(l, k, (z.bay, z.strip.is_nose()), (ORDINARY, least_q_pa));
        if worst.is_none_or(|w| p > w.0) {
            worst = Some((p, l.case));
        }
    }
    worst
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let cases = level(c);
    covering::each(c, |z, m, _, _, _| {
        let Some((p, case)) = level_pa(c, &cases, z) else {
            let mut m = margin(MODE.key, (Some(z.bay), Some(z.strip), None), (0.0, 0.0, "m"), inputs![]);
            m.verdict = Verdict::NotShown(NO_CASE);
            out.push(m);
            return;
        };
        let t = membrane::tension(p, z.length_m, m.stiffness_n_m, 0.0);
        let s = membrane::sag_m(p, z.length_m, t);
        out.push(margin(
            MODE.key,
            (Some(z.bay), Some(z.strip), Some(case)),
            (s, 0.03 * z.length_m, "m"),
            inputs![("pressure in level flight", p, "Pa"), ("rib pitch", z.length_m, "m"), ("tension", t, "N/m")],
        ));
    });
}
