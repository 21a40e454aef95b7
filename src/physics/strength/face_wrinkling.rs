//! Face wrinkling.

use crate::physics::laminate::construction::Kind;
use crate::physics::laminate::sandwich;
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin, skins};

pub const MODE: Mode = Mode {
    key: "face_wrinkling",
    title: "face wrinkling",
    formula: "0.5 (Ef Ez Gc)^(1/3) against face stress at the strain beside the cap or at the leading edge, of bending up or down and in plane",
    source: "NASA CR-1457 as quoted by Abbott, 3rd ed. 2019, 16.2.2.16",
    mark: Mark::Read,
    valid: "foam cores deeper than the decay depth; between two faces thinner cores are stronger; behind one face a core of less than 1.3 decay depths is not shown",
    safe_side: "strain beside the cap",
    knock_down: "inside the 0.5",
    power: 1.0,
    margins: Some(margins),
};

/// Decay depths of core behind a single face that still are a deep bed. **Source:** structures reference, 2.3.
const LEAST_DECAYS: f64 = 1.3;

fn margins(c: &Context, out: &mut Vec<Margin>) {
    // What both faces of a construction stand on one side, worked out for its first zone.
    let mut known: Vec<[Option<[f64; 2]>; 2]> = vec![[None; 2]; c.skins.len()];
    for (z, s) in skins::rigid(c, skins::not_control) {
        let Some(foam) = s.foam.and_then(|f| c.design.library.foams.get(f)) else { continue };
        let hot = c.core_share(z.strip);
        let (strain, case) = skins::compressive(c, z);
        let faces = [&s.outer, &s.inner];
        let stood = known[z.construction][usize::from(z.strip.is_upper())].get_or_insert_with(|| {
            faces.map(|f| sandwich::wrinkling(f.e_span_pa, foam.modulus_pa * hot, foam.shear_modulus_pa * hot))
        });
        let worst = faces
            .iter()
            .zip(*stood)
            .filter(|(f, _)| f.thickness_m > 0.0)
            .map(|(f, allowed)| (strain.max(0.0) * f.e_span_pa * c.ultimate(), allowed));
        let Some((stress, allowed)) = worst.min_by(|a, b| (a.1 / a.0.max(1e-9)).total_cmp(&(b.1 / b.0.max(1e-9))))
        else {
            continue;
        };
        let mut worked = margin(
            MODE.key,
            skins::at(z, case),
            (stress, allowed, "Pa"),
            inputs![
                ("compressive strain", strain, ""),
                ("core E", foam.modulus_pa * hot, "Pa"),
                ("core G", foam.shear_modulus_pa * hot, "Pa"),
                ("factor", c.ultimate(), ""),
            ],
        );
        if s.kind == Kind::OneFaced {
            let (ez, gc) = (foam.modulus_pa * hot, foam.shear_modulus_pa * hot);
            let decays = sandwich::wrinkling_depth(s.outer.thickness_m, s.outer.e_span_pa, ez, gc);
            if s.core_thickness_m < LEAST_DECAYS * decays {
                worked.verdict = Verdict::NotShown("a bare core this thin is no deep bed: below 1.3 decay depths");
            }
        }
        out.push(worked);
    }
}
