//! How the profile drag of the wing and its laminar share come about: the sum over bays, friction and transition of each.

use serde_json::{Value, json};

use crate::physics::evaluation::Evaluation;
use crate::physics::flight::profile::{self, BayDrag, LIFT_GROWTH, REFERENCE_M_S, SECOND_M_S};

/// The drag.
pub const FORMULA: &str = "CD = CD12 (v / 12 m/s)^-p (1 + 1.2 (CL - CLb)^2), v and CL of best glide";
/// What it sums.
pub const SUM: &str = "CD12 = sum of area x cd over area at 12 m/s; p = ln(CD12 / CD24) / ln 2; cd = covering (cf upper + cf lower)(1 + 2 t/c + 60 (t/c)^4)";
/// Friction of a surface.
pub const FRICTION: &str = "laminar to the transition xt, then turbulent: theta = 0.664 xt / sqrt(Re xt); cf = 0.455 L / log10(Re L)^2.58, L the turbulent length that has \
theta at xt, and 1 - xt";
/// Where they come from.
pub const SOURCE: &str = "momentum thickness matched at transition (public course notes, method); form after Hoerner, from memory; growth with lift from NACA 0012, \
SAND80-2114; transition by finish and by where the rigid skin ends less 0.02, covering x 1.05: assumptions";
/// The laminar share.
pub const LAMINAR: &str = "share = sum of area x (xt upper + xt lower)/2 over area";

/// Area of a half, m2.
fn area_m2(bays: &[BayDrag]) -> f64 {
    bays.iter().map(|b| b.area_m2).sum()
}

/// Both traced to the bays, a line each.
pub fn lines(e: &Evaluation) -> Vec<String> {
    let (bays, p) = (profile::bays(&e.layout, &e.skins), profile::profile(&e.layout, &e.skins));
    let at = &e.flight.at_best_glide;
    let (slower, growth) =
        ((at.speed_m_s / REFERENCE_M_S).powf(-p.power), 1.0 + LIFT_GROWTH * (at.cl - p.cl_best).powi(2));
    let mut out = vec![
        format!("formula    {FORMULA}"),
        format!("           {SUM}"),
        format!("friction   {FRICTION}"),
        format!("laminar    {LAMINAR}"),
        format!("source     {SOURCE}"),
        format!(
            "drag       {:.5} = {:.5} x {slower:.4} x {growth:.4}, at {:.2} m/s and CL {:.3}; p {:.3}, CLb {:.3}",
            e.flight.cd_profile, p.cd, at.speed_m_s, at.cl, p.power, p.cl_best
        ),
        format!("laminar    {:.1} % of {:.3} m2, one half, each side", 100.0 * p.laminar_share, area_m2(&bays)),
        "by bay, one half; cf and cd at 12 m/s, the last cd at 24 m/s".to_owned(),
        "bay area,m2 chord  t/c  xt up  low  cover   cf up  cf low      cd   cd 24".to_owned(),
    ];
    out.extend(bays.iter().enumerate().map(|(i, b)| {
        let ([up, low], [at_12, at_24]) = (b.friction[0], b.cd);
        format!(
            "{:>3} {:>7.3} {:>5.3} {:>4.3} {:>5.2} {:>4.2} {:>6.4} {up:>7.5} {low:>7.5} {at_12:>7.5} {at_24:>7.5}",
            i + 1,
            b.area_m2,
            b.chord_m,
            b.thickness_frac,
            b.transitions[0],
            b.transitions[1],
            b.covering
        )
    }));
    out
}

/// For other programs.
pub fn json(e: &Evaluation) -> Value {
    let p = profile::profile(&e.layout, &e.skins);
    let bays: Vec<Value> = profile::bays(&e.layout, &e.skins)
        .iter()
        .enumerate()
        .map(|(i, b)| {
            json!({
                "bay": i + 1, "area_m2": b.area_m2, "chord_m": b.chord_m, "thickness_share": b.thickness_frac, "transition_upper": b.transitions[0],
                "transition_lower": b.transitions[1], "covering": b.covering,
                "cf_upper": b.friction.map(|f| f[0]), "cf_lower": b.friction.map(|f| f[1]), "cd": b.cd,
            })
        })
        .collect();
    json!({
        "formula": FORMULA, "formula_sum": SUM, "formula_friction": FRICTION, "formula_laminar": LAMINAR, "source": SOURCE,
        "speeds_m_s": [REFERENCE_M_S, SECOND_M_S], "cd_12": p.cd, "power": p.power, "cl_best": p.cl_best, "laminar_share": p.laminar_share, "bays": bays,
    })
}
