//! Layers of the spar caps by bay: steps up for the upper cap, down for the lower, and the list with the web.

use super::Sheet;
use super::html::{Doc, FOUR, Row, Show, esc, numbers, table, whole, words};
use super::plan::WIDE;
use super::svg::{Anchor, INK, SMALL, Svg, dashed, ink};
use crate::physics::design::{Cap, CapMaterial};
use crate::report::nose_steps;

const LEFT: f64 = 60.0;
const RIGHT: f64 = 16.0;
const HALF: f64 = 110.0;

/// Drawing, words and list.
pub(super) fn html(s: &Sheet) -> String {
    let d = s.design();
    let words = |which: &str, c: &Cap| {
        let (made, of) = made_of(s, c);
        let backing = c.backing.map_or_else(String::new, |b| {
            format!(", backed {:.0} mm wide and {:.0} mm deep", 1e3 * b.width_m, 1e3 * b.depth_m)
        });
        format!(
            "<p>{which} cap: {made}{of}, {:.0} mm wide at the root and {:.0} mm at the tip{backing}.</p>\n",
            1e3 * c.width_root_m,
            1e3 * c.width_tip_m
        )
    };
    let nose = nose_steps::words(d, s.evaluation())
        .map_or_else(String::new, |w| format!("<p>Sized with them, {}.</p>\n", esc(&w)));
    drawing(s) + &words("Upper", &d.spar.upper) + &words("Lower", &d.spar.lower) + &nose + &list(s)
}

fn made_of(s: &Sheet, c: &Cap) -> (String, String) {
    let lib = &s.design().library;
    match c.material {
        CapMaterial::Plies(p) => lib.fabrics.get(p.fabric).map_or_else(Default::default, |f| {
            let process =
                lib.processes.get(p.process).map_or_else(String::new, |p| format!(", {}", s.cite("process", &p.key)));
            (esc(&f.name), format!(" ({}{process})", s.cite("fabric", &f.key)))
        }),
        CapMaterial::Wood { wood, layer_m } => lib.woods.get(wood).map_or_else(Default::default, |w| {
            (format!("{} in layers of {:.2} mm", esc(&w.name), 1e3 * layer_m), format!(" ({})", s.cite("wood", &w.key)))
        }),
        CapMaterial::Pultruded { layer_m, modulus_pa, .. } => (
            format!(
                "pultruded strip of {:.2} mm, {:.0} GPa as stated by the scenario",
                1e3 * layer_m,
                1e-9 * modulus_pa
            ),
            String::new(),
        ),
    }
}

fn drawing(s: &Sheet) -> String {
    let (e, a) = (s.evaluation(), s.assess());
    let (up, low) = (&e.sizing.upper, &e.sizing.lower);
    let most = up.iter().chain(low).copied().max().unwrap_or(0);
    if most == 0 || e.layout.half_span_m <= 0.0 {
        return String::new();
    }
    let list = |v: &[u32]| v.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
    let description =
        format!("Layers of the caps in each bay, root at the left. Upper: {}. Lower: {}.", list(up), list(low));
    let mut svg = Svg::new(
        s.id("cap-layers"),
        (WIDE, 2.0 * HALF + 62.0),
        "Layers of the spar caps along the half span",
        &description,
    );
    let axis = HALF + 14.0;
    let x = |y_m: f64| LEFT + (WIDE - LEFT - RIGHT) * y_m / e.layout.half_span_m;
    let y = |layers: f64| axis - HALF * layers / f64::from(most);
    let step = [1, 2, 5, 10, 20, 50].into_iter().find(|s| most / s <= 6).unwrap_or(100);
    for n in (step..=most).step_by(step as usize) {
        for sign in [1.0, -1.0] {
            let at = y(sign * f64::from(n));
            svg.line((LEFT, at), (WIDE - RIGHT, at), dashed(0.4, "2 3"));
            svg.text((LEFT - 6.0, at + 4.0), Anchor::End, SMALL, &n.to_string());
        }
    }
    for (i, bay) in e.layout.bays.iter().enumerate() {
        let (from, to) = (x(bay.inner.y_m), x(bay.outer.y_m));
        for (name, v, sign, opacity) in [("upper", up, 1.0, 0.45), ("lower", low, -1.0, 0.2)] {
            let Some(n) = v.get(i) else { continue };
            let end = y(sign * f64::from(*n));
            svg.rect((from, axis), (to, end), INK, opacity, Some(ink(0.8)));
            if to - from >= 16.0 {
                let at = (f64::midpoint(from, to), if sign > 0.0 { end - 3.0 } else { end + 12.0 });
                svg.number((at, Anchor::Middle, SMALL), a, &format!("/loads/sizing/{name}/{i}"), Show::digits(0), "");
            }
        }
    }
    svg.line((LEFT, axis), (WIDE - RIGHT, axis), ink(1.4));
    svg.upright((16.0, f64::midpoint(14.0, axis)), SMALL, "upper, layers");
    svg.upright((16.0, axis + HALF / 2.0), SMALL, "lower, layers");
    let foot = axis + HALF + 18.0;
    let mut m = 0.0;
    while m <= e.layout.half_span_m + 1e-9 {
        svg.line((x(m), foot - 4.0), (x(m), foot), ink(1.0));
        svg.text(
            (x(m), foot + 12.0),
            Anchor::Middle,
            SMALL,
            &if m == 0.0 { "0 m".to_owned() } else { format!("{m:.0}") },
        );
        m += 1.0;
    }
    svg.line((LEFT, foot), (WIDE - RIGHT, foot), ink(1.0));
    svg.done("wide")
}

fn list(s: &Sheet) -> String {
    let (e, a) = (s.evaluation(), s.assess());
    let kilo = FOUR.times(1e-3);
    let row = |(i, _)| -> Row {
        let last = i + 1;
        let layers = |name: &str| a.num(&format!("/loads/sizing/{name}/{i}"), Show::digits(0));
        let section = |doc: &Doc, field: &str, show: Show| doc.num(&format!("/loads/sections/{i}/{field}"), show);
        vec![
            format!("{last}"),
            whole(&format!(
                "{} to {}",
                a.num(&format!("/loads/stations_m/{i}"), Show::digits(2)),
                a.num(&format!("/loads/stations_m/{last}"), Show::digits(2))
            )),
            layers("upper"),
            layers("lower"),
            layers("web"),
            section(&a, "ei_nm2", kilo),
            section(&a, "ei_inplane_nm2", kilo),
            section(&a, "gj_nm2", kilo),
            section(&a, "shear_centre_aft_of_spar_m", Show::digits(0).times(1e3).signed()),
            section(&a, "cap_lever_m", Show::digits(0).times(1e3)),
        ]
        .into()
    };
    let rows: Vec<Row> = e.layout.bays.iter().enumerate().map(row).collect();
    let columns = [
        numbers("bay"),
        words("m from the root"),
        numbers("upper layers"),
        numbers("lower layers"),
        numbers("layers more on each web face"),
        numbers("EI, kN m2"),
        numbers("EI in plane, kN m2"),
        numbers("GJ, kN m2"),
        numbers("shear centre behind the spar, mm"),
        numbers("cap lever, mm"),
    ];
    table("Spar by bay; stiffness at its inner edge", &columns, &rows)
}
