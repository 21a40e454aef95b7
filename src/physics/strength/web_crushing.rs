//! Web crushed between bent caps.

use crate::physics::material::Mark;
use crate::physics::strength::caps::{crush_load_n_m, moments};
use crate::physics::strength::{Context, Margin, Mode, inputs, margin, web, web_core_share};

pub const MODE: Mode = Mode {
    key: "web_crushing",
    title: "web crushed by bending",
    formula: "p = M^2/(EI h) per metre of span against what the web carries upright: faces to wrinkling with the core at their strain, or the web as a pinned column",
    source: "derived: cap force times curvature; core minimum crush strength; wrinkling rule of NASA CR-1457 as quoted by Abbott 2019",
    mark: Mark::Computed,
    valid: "both caps press on the same web; load counts once",
    safe_side: "posts are left out",
    knock_down: "minimum crush strength at service temperature",
    power: 2.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let hot = web_core_share(c.design);
    let mut last = None;
    for (bay, b) in c.layout.bays.iter().enumerate() {
        let Some(s) = c.sections.get(bay) else { continue };
        let [up, down] = moments(c, bay);
        let (m, case) = if up.0 > down.0.abs() { up } else { down };
        let ult = m.abs() * c.ultimate();
        let eta = b.mid.eta;
        let run = web::run_at(c.design, eta).map(std::ptr::from_ref);
        // What hangs on no height is worked out once for each run of the web.
        let upright = match last {
            Some((of, upright)) if of == run => upright,
            _ => web::upright_n_m(c.design, c.skins, eta, hot),
        };
        last = Some((run, upright));
        let ((core, faces), column) = (upright, web::column_n_m(c.design, c.skins, (eta, s.cap_lever_m), hot));
        out.push(margin(
            MODE.key,
            (Some(bay), None, Some(case)),
            (crush_load_n_m(ult, s), (core + faces).min(column), "N/m"),
            inputs![
                ("M ultimate", ult, "N m"),
                ("EI", s.ei_nm2, "N m2"),
                ("core carries", core, "N/m"),
                ("faces carry", faces, "N/m"),
                ("as a column", column, "N/m"),
            ],
        ));
    }
}
