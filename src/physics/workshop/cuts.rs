//! The cut list: every blank of cloth, core, wood and covering of the wing, both halves, from the same layout, constructions
//! and areas that the parts list is summed from; and what else each part takes that is not cut: resin, glue, paint, fittings.

use std::fmt::Write as _;

use crate::physics::assumptions::{Assumed, Assumptions};
use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::laminate::construction::{Ply, Skin};
use crate::physics::laminate::ply;
use crate::physics::mass::tally::Heading;
use crate::physics::mass::weighed::Piece;
use crate::physics::stock::Size;
use crate::physics::workshop::outline::{self, Blank, Cutting, Outline, Sheet};
use crate::physics::workshop::{cut_hinge_walls, cut_ribs, cut_skins, cut_spar, cut_tidy};

/// What a blank is cut from, as an index into the library.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stuff {
    Cloth(usize),
    Covering(usize),
    Foam(usize),
    Wood(usize),
    /// A strip that is bought as it is: the upper or the lower cap's.
    Strip(bool),
}

/// Rectangles of one size to cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// The line of the parts list it belongs to.
    pub part: Piece,
    pub name: String,
    pub stuff: Stuff,
    /// Of a core, a board or a strip, m; 0 for cloth and covering.
    pub thickness_m: f64,
    /// Angle of the roll to the length, rad.
    pub angle_rad: f64,
    pub blank: Blank,
    /// How many, both halves.
    pub count: u32,
    /// Of all of them, in the parts list under `part`: m2 and kg of what is cut, kg of resin that stays in it.
    pub net_m2: f64,
    pub net_kg: f64,
    pub resin_kg: f64,
    /// Laps that the parts list counts under splices, m2, kg and kg of resin.
    pub lap: [f64; 3],
    /// Laps between lengths of one ply, m2 and kg dry, by these very blanks; the parts list counts them by a rule, [`Other::Laps`].
    pub join: [f64; 2],
    /// Resin that stays, kg/m2, and mixed over that which stays.
    pub resin_kg_m2: f64,
    pub resin_waste: f64,
    /// Place in [`CutList::lay_ups`].
    pub lay_up: Option<usize>,
}

impl Cut {
    /// Width at its narrower end, m, of a strip that is laid to its width and tapers: a layer of a cap. Other blanks are trimmed where
    /// they lie.
    /// Unchecked: no outside check runs it by itself.
    pub fn tapers_to_m(&self) -> Option<f64> {
        let b = &self.blank;
        (self.part.heading == Heading::Caps && b.width_m - b.narrow_m > TAPER_M).then_some(b.narrow_m)
    }
}

/// A strip that narrows by less is told as one width, m.
const TAPER_M: f64 = 0.000_5;

/// What a part takes that is not cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Other {
    /// Resin on the surface of a laminate, and what samples taught of a construction beyond its plies.
    SurfaceResin,
    /// What fills the face of a core: resin, or resin with a filler.
    PickUp,
    Fairing,
    Finish,
    Glue,
    /// Fibre and resin of laps between lengths of one ply, by the rule of the parts list.
    Laps,
    /// Core that a patch replaces, negative.
    Replaced,
    /// Edges known by the metre only, fastening by the metre, fittings.
    Edge,
    Fastening,
    Fitting,
}

impl Other {
    pub const ALL: [Self; 10] = [
        Self::SurfaceResin,
        Self::PickUp,
        Self::Fairing,
        Self::Finish,
        Self::Glue,
        Self::Laps,
        Self::Replaced,
        Self::Edge,
        Self::Fastening,
        Self::Fitting,
    ];
    pub const fn word(self) -> &'static str {
        match self {
            Self::SurfaceResin => "resin on the surface, and what samples taught",
            Self::PickUp => "core filling and pick-up",
            Self::Fairing => "filler for fairing",
            Self::Finish => "paint and finish",
            Self::Glue => "glue",
            Self::Laps => "laps between lengths of its plies, with resin",
            Self::Replaced => "core it takes the place of",
            Self::Edge => "edge, known by the metre only",
            Self::Fastening => "fastening of covering",
            Self::Fitting => "fittings and things bought",
        }
    }
}

/// Mass of it under a part, both halves.
#[derive(Debug, Clone, PartialEq)]
pub struct Use {
    pub part: Piece,
    pub what: Other,
    pub kg: f64,
    /// Metres of it where it goes by the metre.
    pub metres: f64,
    /// Where it is resin of a lay-up: its place, and mixed over what stays.
    pub lay_up: Option<usize>,
    pub resin_waste: f64,
}

/// What is laid up in one go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayUp {
    pub name: String,
    /// How many alike.
    pub times: u32,
    /// Glued, not laid up.
    pub glue: bool,
}

/// Everything to cut for a wing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CutList {
    pub cuts: Vec<Cut>,
    pub uses: Vec<Use>,
    pub lay_ups: Vec<LayUp>,
    /// What cannot be cut from what the model knows, and what was taken for granted.
    pub remarks: Vec<String>,
}

/// One panel being cut: a construction over an outline.
#[derive(Clone, Copy)]
pub(super) struct Panel<'a> {
    pub part: &'a Piece,
    pub name: &'a str,
    pub lay_up: Option<usize>,
    pub outline: &'a Outline,
    /// The same with what its plies lap on the next construction.
    pub lapped: &'a Outline,
    /// Of one, as the parts list has it, m2; how many, both halves.
    pub net_m2: f64,
    pub count: u32,
    /// Words for the outer and the inner face.
    pub faces: [&'a str; 2],
    /// Trim at the sides of plies, m: none where a ply is laid to width.
    pub side_m: f64,
    /// Area of one ply that laps on the next construction, m2 of one panel, and the part it is counted under.
    pub lap_m2: f64,
}

/// What cuts are gathered with.
pub(super) struct Bench<'a> {
    pub design: &'a Design,
    pub e: &'a Evaluation,
    pub list: CutList,
    /// Factor on the fibre fraction that samples taught.
    pub fibre_factor: f64,
}

impl Bench<'_> {
    /// The place of a lay-up, made when it is new.
    pub(super) fn lay_up(&mut self, name: &str, times: u32, glue: bool) -> usize {
        let all = &mut self.list.lay_ups;
        all.iter().position(|l| l.name == name).unwrap_or_else(|| {
            all.push(LayUp { name: name.to_owned(), times, glue });
            all.len() - 1
        })
    }

    pub(super) fn remark(&mut self, words: String) {
        if !self.list.remarks.contains(&words) {
            self.list.remarks.push(words);
        }
    }

    /// Note what is not cut.
    pub(super) fn take(&mut self, part: &Piece, what: Other, kg: f64) {
        self.take_by(Use { part: part.clone(), what, kg, metres: 0.0, lay_up: None, resin_waste: 1.0 });
    }

    pub(super) fn take_by(&mut self, new: Use) {
        if new.kg.abs() < 1e-12 {
            return;
        }
        let like = |u: &&mut Use| {
            u.part == new.part && u.what == new.what && u.lay_up == new.lay_up && u.resin_waste == new.resin_waste
        };
        match self.list.uses.iter_mut().find(like) {
            Some(u) => (u.kg, u.metres) = (u.kg + new.kg, u.metres + new.metres),
            None => self.list.uses.push(new),
        }
    }

    /// What a material comes in.
    pub(super) fn sheet(&self, stuff: Stuff) -> Sheet {
        sheet_of(self.design, stuff)
    }

    /// Resin that stays in a ply, kg/m2, and resin mixed over it.
    pub(super) fn resin(&self, p: &Ply, fibre_factor: f64) -> (f64, f64) {
        let lib = &self.design.library;
        let (Some(cloth), Some(process), Some(resin)) =
            (lib.fabrics.get(p.fabric), lib.processes.get(p.process), lib.resin())
        else {
            return (0.0, 1.0);
        };
        let Some(fibre) = lib.fibres.get(cloth.fibre) else { return (0.0, 1.0) };
        (ply::cure(cloth, fibre, resin, process, fibre_factor).resin_kg_m2, process.resin_waste)
    }

    /// Cut plies of one cloth, alike but for their place in the stack: their name together, and how many.
    pub(super) fn plies(&mut self, p: &Panel, (name, layers): (&str, u32), ply: &Ply, fibre_factor: f64) {
        let areal = self.design.library.fabrics.get(ply.fabric).map_or(0.0, |f| f.areal_mass_kg_m2);
        let (trim_m, lap_m) = (self.design.stock.trim_m, self.design.stock.join_lap_m);
        let stuff = Stuff::Cloth(ply.fabric);
        let cutting =
            Cutting { from: self.sheet(stuff), angle_rad: ply.angle_rad, end_m: trim_m, side_m: p.side_m, lap_m };
        let (resin_kg_m2, resin_waste) = self.resin(ply, fibre_factor);
        let like = Like { stuff, thickness_m: 0.0, areal, resin_kg_m2, resin_waste };
        self.cut((p, p.lapped), name, layers, &like, &cutting);
    }

    /// Cut one layer of anything in blanks.
    pub(super) fn cut(
        &mut self,
        (p, outline): (&Panel, &Outline),
        layer: &str,
        layers: u32,
        like: &Like,
        cutting: &Cutting,
    ) {
        let name = if layer.is_empty() { p.name.to_owned() } else { format!("{}: {layer}", p.name) };
        let Some(blanks) = outline::blanks(outline, cutting) else {
            // Counted all the same, as one blank that no roll holds.
            self.remark(format!("{name}: no roll or sheet given under [workshop] holds a blank of it"));
            let (length_m, width_m) = (outline.length_m(), outline.widest_m(0.0, outline.length_m()));
            let blank = Blank { length_m, width_m, narrow_m: width_m, net_m2: p.net_m2, ..Blank::default() };
            self.push(p, name, like, cutting, (blank, layers, 1.0));
            return;
        };
        let whole: f64 = blanks.iter().map(|b| b.net_m2).sum();
        for b in blanks {
            let share = if whole > 0.0 { b.net_m2 / whole } else { 0.0 };
            let mut full = name.clone();
            if b.length_of.1 > 1 {
                let _ = write!(full, " {}/{}", b.length_of.0, b.length_of.1);
            }
            if b.strip_of.1 > 1 {
                let _ = write!(full, " strip {}/{}", b.strip_of.0, b.strip_of.1);
            }
            self.push(p, full, like, cutting, (b, layers, share));
        }
    }

    fn push(
        &mut self,
        p: &Panel,
        name: String,
        like: &Like,
        cutting: &Cutting,
        (blank, layers, share): (Blank, u32, f64),
    ) {
        let n = f64::from(p.count * layers);
        let (net_m2, lap_m2) = (n * share * p.net_m2, n * share * p.lap_m2);
        let cloth = matches!(like.stuff, Stuff::Cloth(_));
        let lap_m2 = if cloth { lap_m2 } else { 0.0 };
        self.list.cuts.push(Cut {
            part: p.part.clone(),
            name,
            stuff: like.stuff,
            thickness_m: like.thickness_m,
            angle_rad: cutting.angle_rad,
            blank,
            count: p.count * layers,
            net_m2,
            net_kg: net_m2 * like.areal,
            resin_kg: net_m2 * like.resin_kg_m2,
            lap: [lap_m2, lap_m2 * like.areal, lap_m2 * like.resin_kg_m2],
            join: [n * blank.join_m2, n * blank.join_m2 * like.areal],
            resin_kg_m2: like.resin_kg_m2,
            resin_waste: like.resin_waste,
            lay_up: p.lay_up,
        });
    }
}

/// What all blanks of a layer share.
pub(super) struct Like {
    pub stuff: Stuff,
    pub thickness_m: f64,
    /// Of what is cut, kg/m2.
    pub areal: f64,
    pub resin_kg_m2: f64,
    pub resin_waste: f64,
}

impl Like {
    /// Something dry.
    pub(super) const fn dry(stuff: Stuff, thickness_m: f64, areal: f64) -> Self {
        Self { stuff, thickness_m, areal, resin_kg_m2: 0.0, resin_waste: 1.0 }
    }
}

/// Key of a material.
pub fn key_of(design: &Design, stuff: Stuff) -> &str {
    let lib = &design.library;
    match stuff {
        Stuff::Cloth(i) => lib.fabrics.get(i).map_or("", |x| &x.key),
        Stuff::Covering(i) => lib.coverings.get(i).map_or("", |x| &x.key),
        Stuff::Foam(i) => lib.foams.get(i).map_or("", |x| &x.key),
        Stuff::Wood(i) => lib.woods.get(i).map_or("", |x| &x.key),
        Stuff::Strip(true) => "upper cap strip",
        Stuff::Strip(false) => "lower cap strip",
    }
}

/// What a material comes in: what the scenario says of it, else of its kind.
pub fn sheet_of(design: &Design, stuff: Stuff) -> Sheet {
    let (stock, own) = (&design.stock, design.stock.size_of(key_of(design, stuff)));
    match (stuff, own) {
        (Stuff::Strip(_), _) => Sheet::Any,
        (_, Some(Size::Roll(w))) => Sheet::Roll(w),
        (_, Some(Size::Sheet(s))) => Sheet::Flat(s),
        (Stuff::Cloth(i), None) => match stock.of_cloth(&design.library, i) {
            Size::Roll(w) => Sheet::Roll(w),
            Size::Sheet(s) => Sheet::Flat(s),
        },
        (Stuff::Covering(_), None) => Sheet::Roll(stock.covering_roll_m),
        (Stuff::Foam(_), None) => Sheet::Flat(stock.foam_sheet_m),
        (Stuff::Wood(_), None) => Sheet::Flat(stock.wood_sheet_m),
    }
}

/// Everything to cut for a wing that was evaluated, as drawn: parts on the scales are listed like the others.
pub fn of(design: &Design, e: &Evaluation) -> CutList {
    let learnt = design.library.learnt.assumptions(&Assumptions::default());
    let fibre_factor = learnt.of(Assumed::FibreFraction);
    let mut bench = Bench { design, e, list: CutList::default(), fibre_factor };
    cut_skins::skins(&mut bench);
    cut_skins::patches(&mut bench);
    cut_spar::spar(&mut bench);
    cut_ribs::ribs(&mut bench);
    cut_hinge_walls::walls(&mut bench);
    cut_tidy::seams(&mut bench);
    cut_tidy::laps(&mut bench);
    cut_tidy::bought(&mut bench);
    cut_tidy::remarks(&mut bench);
    bench.list.cuts.sort_by_key(|c| c.part.heading);
    bench.list
}

/// Where along the span a piece lies, in words: its bays, counted from the root; nothing where it goes from root to tip.
pub(super) fn bays_words(e: &Evaluation, first: usize, last: usize) -> String {
    match (first, last) {
        (0, l) if l + 1 >= e.layout.bays.len() => String::new(),
        (f, l) if f == l => format!(" bay {}", f + 1),
        (f, l) => format!(" bays {}-{}", f + 1, l + 1),
    }
}

/// A skin as used, or nothing where the wing has no such.
pub(super) fn skin_of(e: &Evaluation, construction: usize) -> Option<&Skin> {
    e.skins.get(construction)
}
