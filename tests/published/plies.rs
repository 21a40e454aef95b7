//! Plies and surfaces against handbooks and hand sums.

use std::path::Path;

use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::laminate::construction::{Construction, Kind, RESIN_SKIN_M, properties};
use thistledown::physics::laminate::limits::of_ply;
use thistledown::physics::material::{Fabric, Fibre, Weave};

fn demo(name: &str) -> Design {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/marram-{name}.toml"));
    thistledown::scenario::load(&path).unwrap().design
}

#[test]
fn limits_of_plies_stand_as_those_of_kaw() {
    // Kaw, Mechanics of Composite Materials, 2006 (from memory): carbon and epoxy 1500 MPa along over 181 GPa; across 40 and 246 MPa over
    // 10.3 GPa; 68 MPa in shear over 7.17 GPa. Ratios, for every strain has the same allowance.
    let fibre = Fibre { failure_strain: 1500.0 / 181e3, compression_share: 1.0, ..Fibre::default() };
    let ud = Fabric { weave: Weave::Unidirectional, warp_fraction: 1.0, ..Fabric::default() };
    let k = of_ply(&ud, &fibre);
    for (got, want) in [
        (k.across_tension, 40.0 / 10.3e3),
        (k.across_compression, 246.0 / 10.3e3),
        (k.shear, 68.0 / 7.17e3),
        (k.along_compression, 1500.0 / 181e3),
    ] {
        near(got / k.along_tension, want / (1500.0 / 181e3), 1e-9);
    }
    // Cloth: fibres both ways, resin in shear at 2 % (from memory).
    let cloth = of_ply(&Fabric { weave: Weave::Plain, warp_fraction: 0.5, ..Fabric::default() }, &fibre);
    near(cloth.across_tension, cloth.along_tension, 1e-12);
    near(cloth.shear / cloth.along_tension, 0.020 / (1500.0 / 181e3), 1e-9);
    // A cloth of nearly all warp stands across as one ply of it: resin. One with a fifth across still as cloth.
    let of = |warp: f64| of_ply(&Fabric { weave: Weave::Plain, warp_fraction: warp, ..Fabric::default() }, &fibre);
    near(of(0.95).across_tension, k.across_tension, 1e-12);
    near(of(0.85).across_tension, cloth.across_tension, 1e-12);
}

#[test]
fn surface_resin_is_what_two_thicknesses_leave() {
    // Measured: student aircraft team page, UC Davis: 2 plies 0.216 mm, 4 plies 0.368 mm. The straight line meets no plies at 0.064 mm.
    near(RESIN_SKIN_M, (2.0 * 0.216 - 0.368) * 1e-3, 1e-9);
    // Polyester cloth is as dense as polyester, 1.38-1.40 g/cm3 (from memory); its areal spread is P10 to P90, 2 x 1.2816 wide.
    let d = demo("mixed");
    for c in d.constructions.iter().filter(|c| c.kind == Kind::Covering) {
        let m = &d.library.coverings[c.covering.unwrap().covering];
        let s = properties(
            &Construction { finish: None, tool: usize::MAX, ..c.clone() },
            &d.library,
            &Assumptions::default(),
        );
        near(m.areal_mass_kg_m2 / s.thickness_m, 1390.0, 0.01);
        near(m.areal_high_kg_m2 - m.areal_low_kg_m2, 2.0 * 1.281_55 * s.mass_sd_kg_m2, 1e-3);
    }
}
