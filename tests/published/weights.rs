//! Weights against definitions, weighed panels and trade checks.

use std::path::Path;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Patch, Strip};
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::mass::tally::{Heading, Maturity, growth_share, normal_cdf, normal_quantile};
use thistledown::physics::units::{LB_FT3_KG_M3, LBF_IN_N_M, OZ_FT2_KG_M2, OZ_YD2_KG_M2, POUND_KG, PSI_PA};
use thistledown::scenario::load;

fn near(got: f64, want: f64, rel: f64) {
    assert!((got - want).abs() <= rel * want.abs(), "got {got}, want {want}, off by {:.2e}", (got / want - 1.0).abs());
}

#[test]
fn conversions() {
    // Exact definitions of the international yard and pound, 1959 (NIST SP 811, appendix B, from memory).
    near(5.7 * OZ_YD2_KG_M2, 0.193263, 1e-4);
    near(3.0 * LB_FT3_KG_M3, 48.0554, 1e-4);
    // Laminate sample no. 1 (explorecomposites.com): 4.6 oz/ft2 is 1404 g/m2, whatever the page rounds to.
    near(4.6 * OZ_FT2_KG_M2, 1.4037, 1e-4);
    near(325.0 * PSI_PA, 2.2408e6, 1e-3);
    // FAA AC 43.13-1B Table 2-1: 50/35 lb per inch.
    near(50.0 * LBF_IN_N_M, 8756.3, 2e-3);
    near(35.0 * LBF_IN_N_M, 6129.4, 2e-3);
    // Common practice, no source: 1 oz/ft2 over 140 ft2 is 8.75 lb.
    near(OZ_FT2_KG_M2 * 140.0 * 0.3048 * 0.3048 / POUND_KG, 8.75, 1e-9);
}

#[test]
fn growth_and_percentiles() {
    // Source: composites row of a public transcription of a SAWE/AIAA growth table: 24, 19, 6, 3, 0 %.
    for (m, g) in
        [(Maturity::Sketch, 0.24), (Maturity::Layout, 0.19), (Maturity::Released, 0.06), (Maturity::Existing, 0.03)]
    {
        near(0.24 * growth_share(m), g, 1e-9);
    }
    assert_eq!(growth_share(Maturity::Weighed), 0.0);
    // Normal table: 1.2816 at 90 %, 0.8416 at 80 %.
    near(normal_quantile(0.9), 1.2816, 1e-4);
    near(normal_quantile(0.8), 0.8416, 1e-4);
    near(normal_cdf(1.2816), 0.9, 1e-4);
}

#[test]
fn an_ounce_a_square_foot_on_one_surface() {
    // Common practice, no source: +305 g/m2 on one surface grows the parts list by that surface's true area, within 4 % of
    // planform for the lower side; the upper side of sections as thick and cambered as 4417 is 5 to 6 % longer.
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-sandwich-tough.toml");
    let d = load(&path).unwrap().design;
    let e = evaluate(&d, &Assumptions::default());
    let upper: f64 = e.layout.zones.iter().filter(|z| z.strip.is_upper()).map(|z| 2.0 * z.area_m2).sum();
    let lower: f64 = e.layout.zones.iter().filter(|z| !z.strip.is_upper()).map(|z| 2.0 * z.area_m2).sum();
    near(lower, d.planform.area_m2, 0.04);
    near(upper, d.planform.area_m2, 0.06);
    let skins: f64 = e
        .weight
        .parts
        .iter()
        .filter(|p| p.strip.is_some_and(Strip::is_upper) && p.heading.word() == "skins")
        .map(|p| p.nominal_kg)
        .sum();
    let by_area: f64 = e
        .layout
        .zones
        .iter()
        .filter(|z| z.strip.is_upper())
        .map(|z| 2.0 * z.area_m2 * e.skins[z.construction].mass.total())
        .sum();
    near(skins, by_area, 1e-9);
}

#[test]
fn patches_weigh_their_cloth_resin_and_core() {
    // By hand: a patch over the bays from a quarter to half of a half span, on the nose from 0.10 to 0.25 of a chord of which the nose has
    // 0.30: half the area of four zones, on both halves. A ply is its cloth and the resin that fills what fibre and voids leave of it; a core
    // changed weighs its depth times what is denser.
    let plain = super::by_hand::plank();
    let e = evaluate(&plain, &Assumptions::default());
    let zones: Vec<_> =
        e.layout.zones.iter().filter(|z| z.strip == Strip::NoseUpper && (4..8).contains(&z.bay)).collect();
    let area: f64 = zones.iter().map(|z| 2.0 * 0.5 * z.area_m2).sum();
    let s = &e.skins[zones[0].construction];
    let old = s.foam.unwrap();
    let dense = (0..plain.library.foams.len())
        .find(|i| plain.library.foams[*i].density_kg_m3 > plain.library.foams[old].density_kg_m3)
        .unwrap();
    let ply = plain.constructions[zones[0].construction].outer[0];
    let lib = &plain.library;
    let (cloth, process, resin) = (&lib.fabrics[ply.fabric], &lib.processes[ply.process], lib.resin().unwrap());
    let vf = process.fibre_volume_fraction;
    let of_fibre = cloth.areal_mass_kg_m2 / lib.fibres[cloth.fibre].density_kg_m3;
    let wet = cloth.areal_mass_kg_m2 + of_fibre / vf * (1.0 - vf - process.void_fraction) * resin.density_kg_m3;
    let denser = s.core_thickness_m * (lib.foams[dense].density_kg_m3 - lib.foams[old].density_kg_m3);
    for (plies, core, areal) in [(2, None, 2.0 * wet), (0, Some(dense), denser), (1, Some(dense), wet + denser)] {
        let mut d = plain.clone();
        d.patches = vec![Patch {
            name: "patch".to_owned(),
            upper: true,
            from_eta: 0.25,
            to_eta: 0.5,
            chord_from: 0.10,
            chord_to: 0.25,
            extra_plies: vec![ply; plies],
            core,
            hold: false,
        }];
        let e = evaluate(&d, &Assumptions::default());
        let kg: f64 = e.weight.parts.iter().filter(|p| p.heading == Heading::Patches).map(|p| p.nominal_kg).sum();
        near(kg, area * areal, 1e-9);
    }
}
