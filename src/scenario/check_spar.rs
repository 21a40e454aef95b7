//! The spar, seams and rates of a scenario.

use crate::physics::design::{
    Backing, BackingMaterial, Cap, CapKind, CapMaterial, Layers, Posts, Rates, Seams, Spar, WebBand, WebRun,
};
use crate::physics::laminate::construction::Ply;
use crate::scenario::cap_kinds;
use crate::scenario::check::{MM, Picked, q};
use crate::scenario::library::{Shelf, find};
use crate::scenario::reader::Table;

/// Fracture energy at the end of a cap layer where the scenario is silent, J/m2. An assumption: a third of 1387 J/m2,
/// vacuum-bagged carbon and epoxy prepreg in end-notched flexure (Universitaet der Bundeswehr Muenchen, abstract).
const PLY_END_J_M2: f64 = 460.0;

/// The `[spar]` table.
pub(super) fn spar(root: &Table, picked: &Picked, hinge: f64) -> Spar {
    let Some(t) = root.table("spar") else {
        root.faults.add(0, "[spar] is missing", "give position_root, the caps and the web");
        return nothing();
    };
    let position_root = t.number_or("position_root", 0.05..=0.6, 0.28);
    let position_tip = t.number_or("position_tip", 0.05..=0.6, position_root);
    if position_root.max(position_tip) >= hinge - 0.05 {
        t.faults.add(t.place("position_root"), "the spar stands behind the hinge line", "move it forward");
    }
    let mut kinds = kinds(&t, picked);
    let [upper, lower] = ["upper_cap", "lower_cap"].map(|key| cap(&t, key, (&kinds, picked)));
    cap_kinds::with_those_written(&mut kinds, [&upper, &lower]);
    let s = Spar {
        position_root,
        position_tip,
        upper,
        lower,
        kinds,
        web: web(&t, picked),
        web_layers: layers(&t, "web_layers", 0),
        posts: posts(&t, picked),
        bond_width_m: t.quantity_or(q("bond_width", MM), 2.0..=200.0, 0.020),
        bond_thickness_m: t.quantity_or(q("bond_thickness", MM), 0.05..=5.0, 0.0004),
        ply_end_j_m2: t.number_or("ply_end_j_m2", 10.0..=5000.0, PLY_END_J_M2),
    };
    t.done();
    s
}

fn nothing() -> Spar {
    let material = CapMaterial::Plies(Ply { fabric: 0, process: 0, angle_rad: 0.0 });
    let cap = Cap {
        width_root_m: 0.06,
        width_tip_m: 0.03,
        material,
        layers: Layers::Sized { least: 1, most: 40 },
        backing: None,
        strain_tension: None,
        strain_compression: None,
    };
    Spar {
        position_root: 0.28,
        position_tip: 0.28,
        upper: cap.clone(),
        lower: cap,
        kinds: Vec::new(),
        web: Vec::new(),
        web_layers: Layers::Sized { least: 0, most: 6 },
        posts: Vec::new(),
        bond_width_m: 0.02,
        bond_thickness_m: 0.0004,
        ply_end_j_m2: PLY_END_J_M2,
    }
}

/// Every `[[spar.cap]]`: what a cap may be made of.
fn kinds(t: &Table, picked: &Picked) -> Vec<CapKind> {
    let mut out: Vec<CapKind> = Vec::new();
    for c in t.tables("cap") {
        let key = c.need_text("key");
        if out.iter().any(|k| k.key == key) {
            c.faults.add(c.place("key"), format!("two caps are called \"{key}\""), "give each its own key");
        }
        let cap = made_of(&c, picked);
        // A choice between the two would be none: what a cap is made of says which it is.
        if let Some(same) = out.iter().find(|k| k.is_in(&cap)).filter(|k| k.key != key) {
            c.faults.add(
                c.at,
                format!("the caps \"{}\" and \"{key}\" are made alike", same.key),
                "leave one of them out",
            );
        }
        out.push(CapKind::of(key, &cap));
        c.done();
    }
    if out.len() > MOST_KINDS {
        let next = "each may stand above and below with every other: leave some out";
        t.faults.add(t.place("cap"), format!("{} caps are more than {MOST_KINDS}", out.len()), next);
    }
    out
}

/// Kinds of cap a scenario may name: a search looks at every pair of them.
const MOST_KINDS: usize = 6;

fn cap(t: &Table, key: &str, (kinds, picked): (&[CapKind], &Picked)) -> Cap {
    let Some(c) = t.table(key) else {
        t.faults.add(t.at, format!("spar.{key} is missing"), "give width_root_mm and fabric");
        return nothing().upper;
    };
    let width_root_m = c.need_quantity(q("width_root", MM), 3.0..=500.0);
    let mut out = if c.has("use") {
        let mut out = nothing().upper;
        if let Some(k) = find(&c, "use", kinds, |k| &k.key).and_then(|i| kinds.get(i)) {
            k.put(&mut out);
        }
        for own in OF_A_KIND.into_iter().filter(|k| c.has(k)) {
            let next = "write it in the spar.cap named there, or leave out `use`";
            c.faults.add(c.place(own), format!("{}: both `use` and `{own}` say what it is made of", c.path), next);
        }
        out
    } else {
        made_of(&c, picked)
    };
    out.width_root_m = width_root_m;
    out.width_tip_m = c.quantity_or(q("width_tip", MM), 2.0..=500.0, width_root_m);
    out.layers = layers(&c, "layers", 1);
    c.done();
    out
}

/// Keys that say what a cap is made of.
pub(super) const OF_A_KIND: [&str; 13] = [
    "fabric",
    "process",
    "wood",
    "layer_mm",
    "layer_in",
    "pultruded_modulus_gpa",
    "density_kg_m3",
    "tension_mpa",
    "compression_mpa",
    "price_per_kg",
    "backing",
    "strain_tension",
    "strain_compression",
];

/// A cap of the material, backing and strains of a table; widths and layers are left open.
fn made_of(c: &Table, picked: &Picked) -> Cap {
    let lib = &picked.shelf.library;
    let material = if c.has("wood") {
        let wood = find(c, "wood", &lib.woods, |w| &w.key).unwrap_or(0);
        CapMaterial::Wood { wood, layer_m: c.quantity_or(q("layer", MM), 0.3..=40.0, 0.003) }
    } else if c.has("pultruded_modulus_gpa") {
        CapMaterial::Pultruded {
            layer_m: c.quantity_or(q("layer", MM), 0.1..=10.0, 0.0012),
            modulus_pa: c.need("pultruded_modulus_gpa", 5.0..=400.0) * 1e9,
            density_kg_m3: c.number_or("density_kg_m3", 800.0..=2500.0, 1560.0),
            tension_pa: c.number_or("tension_mpa", 50.0..=4000.0, 1200.0) * 1e6,
            compression_pa: c.number_or("compression_mpa", 50.0..=3000.0, 800.0) * 1e6,
            price_per_kg: c.number_or("price_per_kg", 0.0..=5000.0, 120.0),
        }
    } else {
        if !c.has("fabric") {
            c.faults.add(
                c.at,
                format!("{} names no material", c.path),
                "write fabric = \"carbon_ud_200\", wood = \"spruce\" or pultruded_modulus_gpa",
            );
        }
        CapMaterial::Plies(Ply {
            fabric: find(c, "fabric", &lib.fabrics, |f| &f.key).unwrap_or(0),
            process: find(c, "process", &lib.processes, |p| &p.key).unwrap_or(0),
            angle_rad: 0.0,
        })
    };
    let backing = c.table("backing").map(|b| {
        let out = Backing {
            material: backing(&b, picked),
            width_m: b.need_quantity(q("width", MM), 1.0..=500.0),
            depth_m: b.need_quantity(q("depth", MM), 0.5..=200.0),
        };
        b.done();
        out
    });
    Cap {
        material,
        backing,
        strain_tension: c.number("strain_tension", 0.0005..=0.05),
        strain_compression: c.number("strain_compression", 0.0005..=0.05),
        ..nothing().upper
    }
}

fn backing(t: &Table, picked: &Picked) -> BackingMaterial {
    let lib = &picked.shelf.library;
    if t.has("wood") {
        BackingMaterial::Wood(find(t, "wood", &lib.woods, |w| &w.key).unwrap_or(0))
    } else {
        if !t.has("foam") {
            t.faults.add(
                t.at,
                format!("{} names no material", t.path),
                "write foam = \"pvc_100\" or wood = \"spruce\"",
            );
        }
        BackingMaterial::Foam(find(t, "foam", &lib.foams, |f| &f.key).unwrap_or(0))
    }
}

/// `layers = { least, most }` to be sized, or `{ to = [..], count = [..] }` as fixed.
fn layers(t: &Table, key: &str, least: u32) -> Layers {
    let Some(l) = t.table(key) else { return Layers::Sized { least, most: if least == 0 { 8 } else { 60 } } };
    let out = if l.has("count") {
        let (to, count) = (l.numbers("to", 0.0..=1.0), l.numbers("count", 0.0..=200.0));
        if to.len() != count.len() || to.windows(2).any(|w| w[1] <= w[0]) {
            l.faults.add(
                l.at,
                format!("{}: `to` and `count` do not match", l.path),
                "give one count for each `to`, ascending to 1.0",
            );
        }
        Layers::Fixed(to.into_iter().zip(count.into_iter().map(|c| c.round() as u32)).collect())
    } else {
        let least = l.whole_or("least", 0..=200, least);
        let most = l.whole_or("most", 0..=400, 60);
        if most < least {
            l.faults.add(l.at, format!("{}: most is below least", l.path), "make most the greater");
        }
        Layers::Sized { least, most }
    };
    l.done();
    out
}

fn web(t: &Table, picked: &Picked) -> Vec<WebRun> {
    let mut out = Vec::new();
    let mut from_eta = 0.0;
    for r in t.tables("web") {
        let to_eta = r.number_or("to", 0.0..=1.0, 1.0);
        let mut bands = Vec::new();
        for b in r.tables("bands") {
            let height_frac = b.number_or("height", 0.01..=1.0, 1.0);
            if let Some(construction) = picked.find(&b, "use") {
                bands.push(WebBand { height_frac, construction });
            }
            b.done();
        }
        if bands.is_empty()
            && let Some(construction) = picked.find(&r, "use")
        {
            bands.push(WebBand { height_frac: 1.0, construction });
        }
        let sum: f64 = bands.iter().map(|b| b.height_frac).sum();
        if bands.is_empty() || bands.len() > 5 || (sum - 1.0).abs() > 0.01 {
            r.faults.add(
                r.at,
                format!("{}: bands must be 1 to 5 and their heights add to 1", r.path),
                "write use = \"web_glass\", or bands = [{ height = 0.5, use = \"...\" }, ...]",
            );
        }
        out.push(WebRun { from_eta, to_eta, bands });
        from_eta = to_eta;
        r.done();
    }
    if out.is_empty() {
        t.faults.add(t.at, "spar.web is missing", "write web = [{ to = 1.0, use = \"web_glass\" }]");
    }
    out
}

fn posts(t: &Table, picked: &Picked) -> Vec<Posts> {
    t.tables("posts")
        .iter()
        .map(|p| {
            let out = Posts {
                from_eta: p.number_or("from", 0.0..=1.0, 0.0),
                to_eta: p.number_or("to", 0.0..=1.0, 1.0),
                material: backing(p, picked),
                pitch_m: p.need_quantity(q("pitch", MM), 20.0..=5000.0),
                width_m: p.need_quantity(q("width", MM), 1.0..=300.0),
                depth_m: p.need_quantity(q("depth", MM), 1.0..=300.0),
            };
            p.done();
            out
        })
        .collect()
}

/// The `[seams]` table; every value has a default.
pub(super) fn seams(root: &Table) -> Seams {
    let t = root.table("seams");
    let get = |f: &dyn Fn(&Table) -> f64, default: f64| t.as_ref().map_or(default, f);
    let s = Seams {
        bond_width_m: get(&|t| t.quantity_or(q("bond_width", MM), 2.0..=100.0, 0.012), 0.012),
        bond_thickness_m: get(&|t| t.quantity_or(q("bond_thickness", MM), 0.05..=5.0, 0.0005), 0.0005),
        bond_density_kg_m3: get(&|t| t.number_or("bond_density_kg_m3", 200.0..=2000.0, 800.0), 800.0),
        squeeze_out: get(&|t| t.number_or("squeeze_out", 0.0..=3.0, 0.7), 0.7),
        shear_pa: get(&|t| t.number_or("bond_shear_mpa", 0.5..=50.0, 10.0), 10.0) * 1e6,
        peel_n_m: get(&|t| t.number_or("bond_peel_n_mm", 0.1..=50.0, 2.0), 2.0) * 1e3,
        splice_lap_m: get(&|t| t.quantity_or(q("splice_lap", MM), 5.0..=200.0, 0.025), 0.025),
        trailing_edge_kg_m: get(&|t| t.number_or("trailing_edge_g_m", 0.0..=500.0, 25.0), 25.0) * 1e-3,
        // An assumption where the scenario is silent: 15 mm, which at 25 g/m is a millimetre of carbon.
        trailing_edge_width_m: get(&|t| t.quantity_or(q("trailing_edge_width", MM), 3.0..=100.0, 0.015), 0.015),
        nose_seam_kg_m: get(&|t| t.number_or("nose_seam_g_m", 0.0..=500.0, 15.0), 15.0) * 1e-3,
    };
    if let Some(t) = t {
        t.done();
    }
    s
}

/// The `[rates]` table.
pub(super) fn rates(root: &Table, own: &Shelf) -> Rates {
    let mut r = Rates {
        currency: "EUR".to_owned(),
        hour_price: 0.0,
        resin: 0,
        spar_hours_per_m: 4.0,
        joint_hours: 12.0,
        fitting_out_hours: 80.0,
        waste: 0.15,
        growth: 0.20,
    };
    let Some(t) = root.table("rates") else { return r };
    r.currency = t.text("currency").unwrap_or(r.currency);
    r.hour_price = t.number_or("hour_price", 0.0..=1000.0, 0.0);
    r.resin = find(&t, "resin", &own.library.resins, |x| &x.key).unwrap_or(0);
    r.spar_hours_per_m = t.number_or("spar_hours_per_m", 0.0..=100.0, 4.0);
    r.joint_hours = t.number_or("joint_hours", 0.0..=500.0, 12.0);
    r.fitting_out_hours = t.number_or("fitting_out_hours", 0.0..=5000.0, 80.0);
    r.waste = t.number_or("waste", 0.0..=2.0, 0.15);
    r.growth = t.number_or("growth", 0.0..=1.0, 0.20);
    t.done();
    r
}
