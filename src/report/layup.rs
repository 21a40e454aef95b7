//! What a construction is laid up of, outside to inside, with weight and thickness of each layer and where it comes from.

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::laminate::construction::{Construction, Ply, Skin};

/// A material by what it is and its key in the library.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stuff {
    pub kind: &'static str,
    pub key: String,
}

/// A layer as listed.
pub struct Layer {
    pub what: String,
    pub thickness_mm: Option<f64>,
    pub areal_g_m2: Option<f64>,
    /// Its weight is of the fibre alone; the resin is told for the whole.
    pub dry: bool,
    /// What it is made of, and how.
    pub of: Vec<Stuff>,
}

fn stuff(kind: &'static str, key: &str) -> Stuff {
    Stuff { kind, key: key.to_owned() }
}

impl Layer {
    fn new(what: impl Into<String>, thickness_m: Option<f64>, areal_kg_m2: f64, of: Vec<Stuff>) -> Self {
        let thickness_mm = thickness_m.map(|t| t * 1000.0);
        Self { what: what.into(), thickness_mm, areal_g_m2: Some(areal_kg_m2 * 1000.0), dry: false, of }
    }
}

/// The layers of a construction, outside to inside.
pub fn stack(design: &Design, c: &Construction) -> Vec<Layer> {
    let lib = &design.library;
    let ply = |p: &Ply| {
        let (fabric, process) = (lib.fabrics.get(p.fabric), lib.processes.get(p.process));
        let name = fabric.map_or("", |f| f.name.as_str());
        let made = process.map_or("", |p| p.name.as_str());
        let cloth = fabric.map(|f| stuff("fabric", &f.key));
        Layer {
            what: format!("{name} at {:.0} deg, {made}", p.angle_rad.to_degrees()),
            thickness_mm: None,
            areal_g_m2: fabric.map(|f| f.areal_mass_kg_m2 * 1000.0),
            dry: true,
            of: cloth.into_iter().chain(process.map(|p| stuff("process", &p.key))).collect(),
        }
    };
    let mut out = Vec::new();
    if let Some(f) = c.finish.and_then(|f| lib.finishes.get(f)) {
        out.push(Layer::new(f.name.clone(), None, f.areal_mass_kg_m2, vec![stuff("finish", &f.key)]));
    }
    out.extend(c.outer.iter().map(ply));
    if let Some(u) = c.covering
        && let Some(v) = lib.coverings.get(u.covering)
    {
        let fastening = lib.fastenings.get(u.fastening);
        let held = fastening.map_or("", |f| f.name.as_str());
        let mut of = vec![stuff("covering", &v.key)];
        of.extend(fastening.map(|f| stuff("fastening", &f.key)));
        out.push(Layer::new(format!("{}, {held}", v.name), None, v.areal_mass_kg_m2, of));
    }
    if let Some((w, thickness)) = c.wood
        && let Some(wood) = lib.woods.get(w)
    {
        let of = vec![stuff("wood", &wood.key)];
        out.push(Layer::new(wood.name.clone(), Some(thickness), wood.density_kg_m3 * thickness, of));
    }
    if let Some(core) = c.core
        && let Some(foam) = lib.foams.get(core.foam)
    {
        let mut of = vec![stuff("foam", &foam.key)];
        of.extend(lib.fillings.get(core.filling).map(|f| stuff("filling", &f.key)));
        out.push(Layer::new(foam.name.clone(), Some(core.thickness_m), foam.density_kg_m3 * core.thickness_m, of));
    }
    out.extend(c.inner.iter().map(ply));
    out
}

/// Areal mass by cause, kg/m2, what is nothing left out.
pub fn causes(skin: &Skin) -> Vec<(&'static str, f64)> {
    let m = &skin.mass;
    let all = [
        ("fibre", m.fibre),
        ("resin", m.resin),
        ("core", m.core),
        ("resin in the core", m.pickup),
        ("covering", m.covering),
        ("wood", m.wood),
        ("fairing", m.fairing),
        ("finish", m.finish),
    ];
    all.into_iter().filter(|(_, v)| *v > 0.0).collect()
}

/// Constructions that stand somewhere in the wing, in the order of the scenario.
pub fn used(design: &Design) -> Vec<usize> {
    let used = design.constructions_used();
    (0..design.constructions.len()).filter(|i| used.get(*i).copied().unwrap_or(false)).collect()
}

/// The same for other programs.
pub fn json(design: &Design, e: &Evaluation) -> Vec<Value> {
    let one = |i: usize| {
        let (c, skin) = (design.constructions.get(i)?, e.skins.get(i)?);
        let layers: Vec<Value> = stack(design, c)
            .iter()
            .map(|l| {
                let of: Vec<Value> = l.of.iter().map(|s| json!({"kind": s.kind, "key": s.key})).collect();
                json!({"what": l.what, "thickness_mm": l.thickness_mm, "areal_g_m2": l.areal_g_m2, "fibre_alone": l.dry, "of": of})
            })
            .collect();
        let causes: serde_json::Map<String, Value> =
            causes(skin).into_iter().map(|(what, kg)| (what.to_owned(), json!(kg))).collect();
        Some(json!({
            "key": c.key, "name": c.name, "kind": skin.kind.word(), "areal_kg_m2": skin.mass.total(), "areal_sd_kg_m2": skin.mass_sd_kg_m2,
            "thickness_m": skin.thickness_m, "layers": layers, "areal_kg_m2_by_cause": causes,
        }))
    };
    used(design).into_iter().filter_map(one).collect()
}
