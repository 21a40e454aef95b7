//! The shipped materials and constructions, read by the same path as a person's own.

use std::ops::RangeInclusive;
use std::sync::{Arc, OnceLock};

use crate::physics::durability::spread;
use crate::physics::laminate::construction::{Construction, Core, CoveringUse, Kind, Ply};
use crate::physics::material::{
    Covering, Fabric, Fastening, Fibre, Filling, Finish, Foam, Library, Mark, Origin, Process, Resin, Tool, Weave, Wood,
};
use crate::physics::units;
use crate::scenario::reader::{Faults, Quantity, Table, nearest, parse};

/// The text of the shipped library.
pub const TEXT: &str = include_str!("library.toml");

/// Materials and constructions together.
#[derive(Debug, Clone, Default)]
pub struct Shelf {
    pub library: Library,
    pub constructions: Vec<Construction>,
}

/// The shipped shelf.
pub fn shelf() -> &'static Shelf {
    static SHELF: OnceLock<Shelf> = OnceLock::new();
    SHELF.get_or_init(|| {
        let faults = Faults::new(TEXT, None);
        let table = parse(TEXT, &faults);
        let mut shelf = Shelf::default();
        extend(&mut shelf, &Table::new(&faults, &table, 0, ""));
        let problems = faults.into_problems();
        debug_assert!(problems.is_empty(), "{problems:#?}");
        shelf
    })
}

/// The built-in library.
pub fn built_in() -> Arc<Library> {
    Arc::new(shelf().library.clone())
}

const AREAL: &[(&str, f64)] = &[("g_m2", 1e-3), ("oz_yd2", units::OZ_YD2_KG_M2)];
const DENSITY: &[(&str, f64)] = &[("kg_m3", 1.0), ("lb_ft3", units::LB_FT3_KG_M3)];
const MPA: &[(&str, f64)] = &[("mpa", 1e6), ("psi", units::PSI_PA)];
const GPA: &[(&str, f64)] = &[("gpa", 1e9), ("msi", 1e6 * units::PSI_PA)];
const MM: &[(&str, f64)] = &[("mm", 1e-3), ("in", units::INCH_M)];

fn q<'q>(name: &'q str, units: &'q [(&'q str, f64)]) -> Quantity<'q> {
    Quantity { name, units }
}

fn origin(t: &Table) -> Origin {
    let mark = match t.word("mark", &["read", "computed", "memory", "assumed", "measured"]) {
        Some(0) => Mark::Read,
        Some(1) => Mark::Computed,
        Some(2) => Mark::Memory,
        Some(4) => Mark::Measured,
        _ => Mark::Assumed,
    };
    Origin { mark, source: t.text("source").unwrap_or_else(|| "stated in the scenario".to_owned()) }
}

/// Index of a named thing in a list, or a fault with the nearest name.
pub fn find<T>(t: &Table, key: &str, list: &[T], name: impl Fn(&T) -> &str) -> Option<usize> {
    let word = t.text(key)?;
    index_of(t, t.place(key), &word, list, name)
}

/// As [`find`], for a word already read.
pub fn index_of<T>(t: &Table, at: usize, word: &str, list: &[T], name: impl Fn(&T) -> &str) -> Option<usize> {
    let found = list.iter().position(|x| name(x) == word);
    if found.is_none() {
        let near = nearest(word, list.iter().map(&name)).unwrap_or("");
        t.faults.add(at, format!("nothing is called \"{word}\""), format!("the nearest valid name is \"{near}\""));
    }
    found
}

fn replace<T>(list: &mut Vec<T>, item: T, key: impl Fn(&T) -> &str) {
    match list.iter().position(|x| key(x) == key(&item)) {
        Some(i) => list[i] = item,
        None => list.push(item),
    }
}

/// Take the materials and constructions of a table onto the shelf; a known key replaces what was there.
pub fn extend(shelf: &mut Shelf, t: &Table) {
    let lib = &mut shelf.library;
    for r in t.tables("fibre") {
        let item = fibre(&r);
        r.done();
        replace(&mut lib.fibres, item, |x| &x.key);
    }
    for r in t.tables("resin") {
        let item = resin(&r);
        r.done();
        replace(&mut lib.resins, item, |x| &x.key);
    }
    for r in t.tables("fabric") {
        let item = fabric(&r, lib);
        r.done();
        replace(&mut lib.fabrics, item, |x| &x.key);
    }
    for r in t.tables("process") {
        let item = process(&r);
        r.done();
        replace(&mut lib.processes, item, |x| &x.key);
    }
    for r in t.tables("foam") {
        let item = foam(&r);
        r.done();
        replace(&mut lib.foams, item, |x| &x.key);
    }
    for r in t.tables("wood") {
        let item = wood(&r);
        r.done();
        replace(&mut lib.woods, item, |x| &x.key);
    }
    for r in t.tables("covering") {
        let item = covering(&r);
        r.done();
        replace(&mut lib.coverings, item, |x| &x.key);
    }
    small(lib, t);
    for r in t.tables("construction") {
        let item = construction(&r, &shelf.library);
        r.done();
        replace(&mut shelf.constructions, item, |x| &x.key);
    }
}

fn small(lib: &mut Library, t: &Table) {
    for r in t.tables("fastening") {
        let item = Fastening {
            key: r.need_text("key"),
            name: r.text("name").unwrap_or_default(),
            mass_kg_m: r.need_quantity(q("mass", &[("g_m", 1e-3)]), 0.0..=500.0),
            strength_n_m: r.need("strength_n_m", 1.0..=1e6),
            minutes_per_m: r.number_or("minutes_per_m", 0.0..=500.0, 5.0),
            removable: r.flag("removable", false),
            origin: origin(&r),
        };
        r.done();
        replace(&mut lib.fastenings, item, |x| &x.key);
    }
    for r in t.tables("filling") {
        let item = Filling {
            key: r.need_text("key"),
            name: r.text("name").unwrap_or_default(),
            pickup_ratio: r.need("pickup_ratio", 0.0..=5.0),
            added_kg_m2: r.quantity_or(q("added", AREAL), 0.0..=2000.0, 0.0),
            hours_per_m2: r.number_or("hours_per_m2", 0.0..=50.0, 0.2),
            origin: origin(&r),
        };
        r.done();
        replace(&mut lib.fillings, item, |x| &x.key);
    }
    for r in t.tables("tool") {
        let item = Tool {
            key: r.need_text("key"),
            name: r.text("name").unwrap_or_default(),
            fairing_kg_m2: r.quantity_or(q("fairing", AREAL), 0.0..=2000.0, 0.0),
            core_depth_sd_m: r.number_or("core_depth_sd_mm", 0.0..=10.0, 0.3) * 1e-3,
            face_spread: r.number_or("face_spread", 0.0..=0.5, 0.05),
            smooth: r.flag("smooth", false),
            bag_possible: r.flag("bag_possible", true),
            hours_per_m2: r.number_or("hours_per_m2", 0.0..=50.0, 0.5),
            origin: origin(&r),
        };
        r.done();
        replace(&mut lib.tools, item, |x| &x.key);
    }
    for r in t.tables("finish") {
        let mass = r.need_quantity(q("areal_mass", AREAL), 0.0..=2000.0);
        let item = Finish {
            key: r.need_text("key"),
            name: r.text("name").unwrap_or_default(),
            areal_mass_kg_m2: mass,
            areal_low_kg_m2: r.quantity_or(q("areal_low", AREAL), 0.0..=2000.0, 0.7 * mass),
            areal_high_kg_m2: r.quantity_or(q("areal_high", AREAL), 0.0..=2000.0, 1.4 * mass),
            hours_per_m2: r.number_or("hours_per_m2", 0.0..=50.0, 0.4),
            origin: origin(&r),
        };
        r.done();
        replace(&mut lib.finishes, item, |x| &x.key);
    }
}

const ALL_MPA: RangeInclusive<f64> = 0.0001..=10_000.0;

fn fibre(r: &Table) -> Fibre {
    let modulus = r.need_quantity(q("modulus", GPA), 1.0..=1000.0);
    Fibre {
        key: r.need_text("key"),
        name: r.text("name").unwrap_or_default(),
        density_kg_m3: r.need_quantity(q("density", DENSITY), 500.0..=5000.0),
        modulus_pa: modulus,
        transverse_modulus_pa: r.quantity_or(q("transverse_modulus", GPA), 0.1..=1000.0, modulus),
        shear_modulus_pa: r.quantity_or(q("shear_modulus", GPA), 0.1..=1000.0, modulus / 2.5),
        poisson: r.number_or("poisson", 0.0..=0.49, 0.25),
        strength_pa: r.need_quantity(q("strength", MPA), 10.0..=10_000.0),
        failure_strain: r.need("failure_strain", 0.0005..=2.0),
        compression_share: r.number_or("compression_share", 0.01..=1.5, 0.7),
        origin: origin(r),
    }
}

fn resin(r: &Table) -> Resin {
    Resin {
        key: r.need_text("key"),
        name: r.text("name").unwrap_or_default(),
        density_kg_m3: r.need_quantity(q("density", DENSITY), 500.0..=3000.0),
        modulus_pa: r.need_quantity(q("modulus", GPA), 0.1..=20.0),
        poisson: r.number_or("poisson", 0.0..=0.49, 0.35),
        price_per_kg: r.number_or("price_per_kg", 0.0..=10_000.0, 20.0),
        origin: origin(r),
    }
}

fn fabric(r: &Table, lib: &Library) -> Fabric {
    let mass = r.need_quantity(q("areal_mass", AREAL), 5.0..=3000.0);
    let weave = match r.word("weave", &["plain", "twill", "satin", "unidirectional", "sleeve"]) {
        Some(1) => Weave::Twill,
        Some(2) => Weave::Satin,
        Some(3) => Weave::Unidirectional,
        Some(4) => Weave::Sleeve,
        _ => Weave::Plain,
    };
    Fabric {
        key: r.need_text("key"),
        name: r.text("name").unwrap_or_default(),
        fibre: find(r, "fibre", &lib.fibres, |x| &x.key).unwrap_or(0),
        weave,
        areal_mass_kg_m2: mass,
        areal_low_kg_m2: r.quantity_or(q("areal_low", AREAL), 1.0..=3000.0, 0.97 * mass),
        areal_high_kg_m2: r.quantity_or(q("areal_high", AREAL), 1.0..=3000.0, 1.03 * mass),
        warp_fraction: r.number_or("warp_fraction", 0.0..=1.0, if weave == Weave::Unidirectional { 1.0 } else { 0.5 }),
        price_per_m2: r.number_or("price_per_m2", 0.0..=10_000.0, 15.0),
        origin: origin(r),
    }
}

fn process(r: &Table) -> Process {
    let vf = r.need("fibre_volume_fraction", 0.05..=0.75);
    Process {
        key: r.need_text("key"),
        name: r.text("name").unwrap_or_default(),
        fibre_volume_fraction: vf,
        fvf_low: r.number_or("fraction_low", 0.05..=0.75, vf * 0.88),
        fvf_high: r.number_or("fraction_high", 0.05..=0.8, vf * 1.12),
        void_fraction: r.number_or("void_fraction", 0.0..=0.2, 0.02),
        bag_pressure_pa: r.quantity_or(q("bag_pressure", &[("kpa", 1e3)]), 0.0..=1000.0, 0.0),
        cure_c: r.number_or("cure_c", 5.0..=250.0, 25.0),
        hours_per_m2: r.number_or("hours_per_m2", 0.0..=50.0, 0.8),
        resin_waste: r.number_or("resin_waste", 1.0..=5.0, 1.3),
        origin: origin(r),
    }
}

fn foam(r: &Table) -> Foam {
    let density = r.need_quantity(q("density", DENSITY), 5.0..=600.0);
    let crush = r.need_quantity(q("crush", MPA), 0.001..=100.0);
    let modulus = r.need_quantity(q("modulus", MPA), 0.1..=20_000.0);
    let shear_modulus = r.quantity_or(q("shear_modulus", MPA), 0.05..=5000.0, modulus / 2.6);
    let shear = r.quantity_or(q("shear_strength", MPA), 0.001..=100.0, 0.8 * crush);
    let pickup = r.quantity_or(q("pickup", AREAL), 0.0..=2000.0, 0.125);
    Foam {
        key: r.need_text("key"),
        name: r.text("name").unwrap_or_default(),
        family: r.text("family").unwrap_or_else(|| "own".to_owned()),
        density_kg_m3: density,
        density_low_kg_m3: r.quantity_or(q("density_low", DENSITY), 1.0..=600.0, 0.9 * density),
        density_high_kg_m3: r.quantity_or(q("density_high", DENSITY), 1.0..=800.0, 1.1 * density),
        crush_pa: crush,
        crush_min_pa: r.quantity_or(q("crush_min", MPA), 0.001..=100.0, 0.78 * crush),
        modulus_pa: modulus,
        modulus_min_pa: r.quantity_or(q("modulus_min", MPA), ALL_MPA, 0.85 * modulus),
        inplane_modulus_pa: r.quantity_or(q("inplane_modulus", MPA), ALL_MPA, modulus),
        shear_modulus_pa: shear_modulus,
        shear_modulus_min_pa: r.quantity_or(q("shear_modulus_min", MPA), ALL_MPA, 0.82 * shear_modulus),
        shear_strength_pa: shear,
        shear_strength_min_pa: r.quantity_or(q("shear_strength_min", MPA), ALL_MPA, 0.82 * shear),
        tensile_strength_pa: r.quantity_or(q("tensile_strength", MPA), ALL_MPA, 1.5 * crush),
        failure_strain: r.number_or("failure_strain", 0.001..=1.0, 0.025),
        max_process_c: r.number_or("max_process_c", 30.0..=300.0, 75.0),
        solvent_sensitive: r.flag("solvent_sensitive", false),
        brittle: r.flag("brittle", false),
        pickup_kg_m2: pickup,
        pickup_low_kg_m2: r.quantity_or(q("pickup_low", AREAL), 0.0..=2000.0, 0.6 * pickup),
        pickup_high_kg_m2: r.quantity_or(q("pickup_high", AREAL), 0.0..=3000.0, 1.5 * pickup),
        price_per_m3: r.number_or("price_per_m3", 0.0..=1e6, 1500.0),
        origin: origin(r),
    }
}

fn wood(r: &Table) -> Wood {
    let modulus = r.need_quantity(q("modulus", GPA), 0.5..=40.0);
    Wood {
        key: r.need_text("key"),
        name: r.text("name").unwrap_or_default(),
        density_kg_m3: r.need_quantity(q("density", DENSITY), 50.0..=1300.0),
        modulus_pa: modulus,
        cross_modulus_pa: r.quantity_or(q("cross_modulus", GPA), 0.01..=40.0, modulus / 16.0),
        shear_modulus_pa: r.quantity_or(q("shear_modulus", GPA), 0.01..=10.0, modulus / 16.0),
        tension_pa: r.need_quantity(q("tension", MPA), 1.0..=500.0),
        compression_pa: r.need_quantity(q("compression", MPA), 1.0..=300.0),
        crush_perp_pa: r.quantity_or(q("crush_perp", MPA), 0.1..=100.0, 3e6),
        shear_pa: r.quantity_or(q("shear", MPA), 0.1..=100.0, 6e6),
        price_per_m3: r.number_or("price_per_m3", 0.0..=1e6, 3000.0),
        origin: origin(r),
    }
}

fn covering(r: &Table) -> Covering {
    let mass = r.need_quantity(q("areal_mass", AREAL), 2.0..=1000.0);
    let strength = r.need_quantity(q("strength", &[("kn_m", 1e3), ("lbf_in", units::LBF_IN_N_M)]), 0.1..=500.0);
    let strain = r.number_or("failure_strain", 0.005..=3.0, 0.2);
    Covering {
        key: r.need_text("key"),
        name: r.text("name").unwrap_or_default(),
        areal_mass_kg_m2: mass,
        areal_low_kg_m2: r.quantity_or(q("areal_low", AREAL), 1.0..=1000.0, 0.96 * mass),
        areal_high_kg_m2: r.quantity_or(q("areal_high", AREAL), 1.0..=1200.0, 1.04 * mass),
        strength_n_m: strength,
        stiffness_n_m: r.quantity_or(q("stiffness", &[("kn_m", 1e3)]), 1.0..=10_000.0, strength / strain),
        failure_strain: strain,
        strength_spread: r.number_or("strength_spread", 0.0..=1.0, spread::CLOTH_STRENGTH),
        strain_spread: r.number_or("strain_spread", 0.0..=1.0, spread::CLOTH_STRAIN),
        tear_n: r.number_or("tear_n", 0.1..=5000.0, 30.0),
        film: r.flag("film", false),
        shrink_c: r.number_or("shrink_c", 0.0..=250.0, 0.0),
        price_per_m2: r.number_or("price_per_m2", 0.0..=10_000.0, 9.0),
        origin: origin(r),
    }
}

/// Plies of one face.
pub fn plies(t: &Table, key: &str, lib: &Library) -> Vec<Ply> {
    let mut out = Vec::new();
    for p in t.tables(key) {
        let fabric = find(&p, "fabric", &lib.fabrics, |x| &x.key);
        let process = find(&p, "process", &lib.processes, |x| &x.key).unwrap_or(0);
        let angle_rad = p.number_or("angle_deg", -90.0..=90.0, 0.0).to_radians();
        let times = p.whole_or("times", 1..=40, 1);
        p.done();
        if let Some(fabric) = fabric {
            out.extend((0..times).map(|_| Ply { fabric, process, angle_rad }));
        } else if !p.has("fabric") {
            p.faults.add(p.at, format!("{} names no fabric", p.path), "write fabric = \"glass_105\"");
        }
    }
    out
}

/// One construction.
pub fn construction(t: &Table, lib: &Library) -> Construction {
    const KINDS: [&str; 5] = ["sandwich", "one_faced", "laminate", "wood", "covering"];
    let kind = match t.word("kind", &KINDS) {
        Some(1) => Kind::OneFaced,
        Some(2) => Kind::Laminate,
        Some(3) => Kind::Wood,
        Some(4) => Kind::Covering,
        _ => Kind::Sandwich,
    };
    let core = t.table("core").and_then(|c| {
        let foam = find(&c, "foam", &lib.foams, |x| &x.key);
        let thickness_m = c.need_quantity(q("thickness", MM), 0.5..=200.0);
        let filling = find(&c, "filling", &lib.fillings, |x| &x.key).unwrap_or(0);
        c.done();
        foam.map(|foam| Core { foam, thickness_m, filling })
    });
    let wood = t.table("wood").and_then(|w| {
        let wood = find(&w, "wood", &lib.woods, |x| &x.key);
        let thickness = w.need_quantity(q("thickness", MM), 0.1..=100.0);
        w.done();
        wood.map(|i| (i, thickness))
    });
    let cover = t.table("covering").and_then(|c| {
        let covering = find(&c, "covering", &lib.coverings, |x| &x.key);
        let fastening = find(&c, "fastening", &lib.fastenings, |x| &x.key).unwrap_or(0);
        let pretension_n_m = c.number_or("pretension_n_m", 0.0..=20_000.0, 200.0);
        c.done();
        covering.map(|covering| CoveringUse { covering, fastening, pretension_n_m })
    });
    let c = Construction {
        key: t.need_text("key"),
        name: t.text("name").unwrap_or_default(),
        kind,
        outer: plies(t, "outer", lib),
        core,
        inner: plies(t, "inner", lib),
        wood,
        covering: cover,
        finish: find(t, "finish", &lib.finishes, |x| &x.key),
        tool: find(t, "tool", &lib.tools, |x| &x.key).unwrap_or(0),
        bagged: t.flag("bagged", false),
    };
    agrees(t, &c);
    c
}

/// What a kind must have.
fn agrees(t: &Table, c: &Construction) {
    let miss = |what: &str| {
        t.faults.add(
            t.at,
            format!("{} is a {} without {what}", t.path, c.kind.word()),
            format!("add {what}, or change its kind"),
        );
    };
    match c.kind {
        Kind::Sandwich | Kind::OneFaced => {
            if c.core.is_none() {
                miss("a core");
            }
            if c.outer.is_empty() && c.inner.is_empty() {
                miss("a face");
            }
        }
        Kind::Laminate if c.outer.is_empty() => miss("outer plies"),
        Kind::Wood if c.wood.is_none() => miss("a wood sheet"),
        Kind::Covering if c.covering.is_none() => miss("a covering"),
        _ => {}
    }
}
