//! Margins of the bonds and edges of skins and coverings, each worked again by hand.

use super::super::by_hand::{input, of, plank};
use super::super::handling::near;
use super::done;
use thistledown::physics::laminate::construction::Kind;
use thistledown::physics::strength::bond_peel::Bond;

#[test]
fn bonds_controls_and_edges_of_a_plank() {
    // By hand. Core and glue as springs one after the
    // other, glue 2 to 4 GPa (from memory; the low end), a tenth of the peel strength as fracture energy (an allowance).
    let d = plank();
    let e = done(&d);
    let mut cores = 0;
    for m in of(&e, "bond_peel") {
        let z = e.layout.zone(m.strip.unwrap(), m.bay.unwrap()).unwrap();
        let s = &e.skins[z.construction];
        let hot = d.service.core_share(z.strip.is_upper());
        let core = if s.kind == Kind::Sandwich {
            s.core_thickness_m / (d.library.foams[s.foam.unwrap()].modulus_min_pa * hot)
        } else {
            0.0
        };
        cores += usize::from(core > 0.0);
        let springs = 1.0 / (core + d.seams.bond_thickness_m / 2e9);
        near(input(m, "springs"), springs, 1e-9);
        let (p, b, bends) = (1.5 * input(m, "pressure limit"), input(m, "span"), input(m, "D"));
        // The bond itself is held to a solver in details.
        let bond = Bond { d_nm: bends, bed_n_m3: springs, width_m: d.seams.bond_width_m };
        near(m.applied, (2.0 * bends * bond.released_j_m2(p, b)).sqrt(), 1e-9);
        near(m.allowable, (2.0 * bends * d.seams.peel_n_m * 0.1).sqrt(), 1e-9);
    }
    assert!(cores > 10);
    // A strip of cloth at the trailing edge pulled by both surfaces between ribs: 2 T L^2/8, and 6 M/(E A b) of a flat strip.
    let cap = &e.skins[d.rib_kinds[0].cap.unwrap().0];
    let (mut strips, mut ends) = (0, 0);
    for m in of(&e, "edge_under_covering") {
        let z = e.layout.zone(m.strip.unwrap(), m.bay.unwrap()).unwrap();
        let covering = e.skins[z.construction].covering.unwrap();
        if m.inputs.iter().any(|i| i.label == "depth of the wall") {
            continue; // Held by hand in hinge_walls.
        }
        if m.unit == "strain" {
            // Paint carries nothing; pressure only adds to the pretension, which is pulled by both surfaces.
            let carries = cap.mass.fibre + cap.mass.resin + cap.mass.core + cap.mass.wood;
            let area = d.seams.trailing_edge_kg_m / (carries / cap.thickness_m);
            let pull = input(m, "pull ultimate");
            assert!(pull >= 2.0 * 1.5 * covering.pretension_n_m * (1.0 - 1e-9), "{pull}");
            let moment = pull * z.length_m.powi(2) / 8.0;
            let want = 6.0 * moment / (cap.outer.e_span_pa * area * d.seams.trailing_edge_width_m);
            near(m.applied, want, 1e-9);
            strips += 1;
        } else {
            // An end rib bent sideways: two caps on edge, 2 E t b^3/12, and half the depth of its body, a quarter cut away.
            let b = &e.layout.bays[z.bay];
            let outer = z.bay == 15 || !z.strip.is_control();
            let s = if outer && z.bay > 0 { &b.outer } else { &b.inner };
            let (from, deep) =
                if z.strip.is_control() { (0.78, s.hinge_depth_m) } else { (s.spar_frac, s.spar_depth_m) };
            near(input(m, "length of the rib"), 1.0 - from, 1e-9);
            let width = d.rib_kinds[0].cap.unwrap().1;
            let body = &e.skins[d.rib_kinds[0].body];
            let stiff = 2.0 * cap.a.s11 * width.powi(3) / 12.0 + body.d.s11 * 0.5 * deep * 0.75;
            near(input(m, "sideways EI"), stiff, 1e-9);
            let strain = cap.outer.strain_compression.min(cap.outer.strain_tension);
            if d.end_rib_nm.is_none() {
                near(m.allowable, strain * stiff / (0.5 * width.max(body.thickness_m)), 1e-9);
            }
            assert!(input(m, "pull ultimate") >= 2.0 * 1.5 * covering.pretension_n_m);
            ends += 1;
        }
    }
    assert!(strips > 5 && ends > 0, "{strips} {ends}");
}
