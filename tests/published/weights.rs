//! Weights against definitions, weighed panels and trade checks.

use std::path::Path;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Strip;
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::mass::tally::{Maturity, growth_share, normal_cdf, normal_quantile};
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
