//! Strength: the list of failure modes, one file each, and the margins they give.

use std::cell::{OnceCell, RefCell};
use std::sync::Arc;

use crate::physics::design::{Design, Strip};
use crate::physics::kept::{Kept, Row};
use crate::physics::laminate::construction::Skin;
use crate::physics::loads::divergence::Found;
use crate::physics::loads::internal::Loads;
use crate::physics::material::Mark;
use crate::physics::strength::by_bay::ByBay;
pub use crate::physics::strength::by_bay::Here;
pub(crate) use crate::physics::strength::margin::inputs;
pub use crate::physics::strength::margin::{Input, Inputs, Margin, Verdict, margin};
use crate::physics::strength::panel::Panel;
use crate::physics::strength::sizing::{Section, Sizing};
use crate::physics::strength::torsion::Shaft;
use crate::physics::wing::layout::{Layout, Zone};

pub mod aft_buckling;
pub mod aft_pressure;
pub mod aft_shear;
pub mod bare_foam;
pub mod bond_peel;
mod by_bay;
pub mod cap_compression;
pub mod cap_ply_end;
pub mod cap_skin_bond;
pub mod cap_stability;
pub mod cap_tension;
pub mod cap_web_bond;
pub mod caps;
pub mod checks;
pub mod closing_rib;
pub mod control_reversal;
pub mod control_rib;
pub mod core_shear;
pub mod covering;
pub mod covering_fastening;
pub mod covering_sag;
pub mod covering_tension;
pub mod divergence;
pub mod edge_under_covering;
pub mod face_wrinkling;
pub mod fitting_seat;
pub mod hinge_wall;
pub mod holds;
pub mod inplane_bending;
pub mod joint_lugs;
pub mod joint_pins;
pub mod joint_rib;
pub mod judged;
pub mod margin;
pub mod membrane;
pub mod nose_buckling;
pub mod nose_seam_bond;
pub mod nose_shear;
pub mod nose_steps;
pub mod panel;
pub mod post_crushing;
pub mod rear_fitting;
pub mod rib_bending;
pub mod rib_buckling;
pub mod rib_shear;
pub mod ribs;
pub mod shear_crimping;
pub mod sizer;
pub mod sizing;
pub mod skin_rib_bond;
pub mod skins;
pub mod softness;
mod stretches;
pub mod tip_deflection;
pub mod torsion;
pub mod twist;
pub mod unseen_dent;
pub(crate) mod validity;
pub mod web;
pub mod web_buckling;
pub mod web_crushing;
pub mod web_shear;

/// Everything a mode may look at.
pub struct Context<'a> {
    pub design: &'a Design,
    pub layout: &'a Layout,
    pub skins: &'a [Skin],
    pub loads: &'a Loads,
    pub sizing: &'a Sizing,
    /// Section properties by bay (at the inner edge), and of the tip: bays + 1.
    pub sections: &'a [Section],
    /// Deflection and twist by case at the stations.
    pub bending: &'a [sizing::Bent],
    /// Greatest loads of each bay.
    pub most: Vec<Most>,
    by_bay: Arc<ByBay>,
    /// Every load is a number.
    sound: bool,
    /// What several modes look at, worked out when the first of them does.
    aft_ribs: OnceCell<Vec<[ribs::Aft; 2]>>,
    /// What compresses each zone, by bay and strip: several modes ask.
    compressed: OnceCell<Vec<(f64, usize)>>,
    webs: OnceCell<Vec<web::InBay>>,
    shaft: OnceCell<Shaft>,
    memory: RefCell<Memory>,
}

/// What the margins leave behind: loads that panels stand, which hang on the panel alone; divergence and roll control, which
/// hang on the half wing in torsion.
#[derive(Debug, Default)]
pub(crate) struct Memory {
    panels: Row<panel::Stands, 18>,
    divergence: Kept<Option<Found>>,
    effect: Kept<Option<f64>>,
}

impl Memory {
    /// One that keeps nothing, for margins that nothing comes after.
    pub(crate) fn forgetting() -> Self {
        Self { panels: Row::forgetting(), divergence: Kept::forgetting(), effect: Kept::forgetting() }
    }
}

/// A shear flow, N/m, with its sign, and what makes it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Flow {
    pub n_m: f64,
    pub shear_n: f64,
    pub torque_nm: f64,
    pub case: usize,
}

/// The greatest limit loads at the inner edge of a bay over all cases that are on, each with its case.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Most {
    /// Greatest moment bending the tip up, and down (negative), N m.
    pub up_nm: (f64, usize),
    pub down_nm: (f64, usize),
    /// Shear flow of greatest size round the nose, up the web and round the aft box.
    pub nose_flow: Flow,
    pub web_flow: Flow,
    pub aft_flow: Flow,
    /// Outward pressure on nose and aft skin, Pa.
    pub nose_pa: (f64, usize),
    pub aft_pa: (f64, usize),
}

impl Most {
    /// Moments and pressures of every bay, which hang on no section; flows are still to come.
    fn of_loads(loads: &Loads, by_bay: &ByBay, bays: usize) -> Vec<Self> {
        let mut out = vec![Self::default(); bays];
        for (bay, m) in out.iter_mut().enumerate() {
            let Here { cases, moment_nm, .. } = by_bay.at(bay);
            let most = |sign: f64| {
                let (size, which) = by_bay::greatest(moment_nm, moment_nm, |m, _| sign * m);
                if size > 0.0 { (sign * size, cases[which]) } else { (0.0, 0) }
            };
            (m.up_nm, m.down_nm) = (most(1.0), most(-1.0));
        }
        for l in &loads.loads {
            for (m, (nose, aft)) in out.iter_mut().zip(l.nose_pa().iter().zip(l.aft_pa())) {
                if nose.abs() > m.nose_pa.0 {
                    m.nose_pa = (nose.abs(), l.case);
                }
                if aft.abs() > m.aft_pa.0 {
                    m.aft_pa = (aft.abs(), l.case);
                }
            }
        }
        out
    }

    /// What shear and torque make together in each wall of a bay, which hangs on its section.
    fn flows(&mut self, here: &Here, s: &Section) {
        let per = [
            (s.nose_flow_per_n, s.nose_flow_per_nm),
            (s.web_flow_per_n, s.web_flow_per_nm),
            (s.aft_flow_per_n, s.aft_flow_per_nm),
        ];
        let flow = |(per_n, per_nm): (f64, f64)| {
            let (size, which) = by_bay::greatest(here.shear_n, here.torque_nm, |v, t| (v * per_n + t * per_nm).abs());
            if size <= 0.0 {
                return Flow::default();
            }
            let (shear_n, torque_nm) = (here.shear_n[which], here.torque_nm[which]);
            Flow { n_m: shear_n * per_n + torque_nm * per_nm, shear_n, torque_nm, case: here.cases[which] }
        };
        [self.nose_flow, self.web_flow, self.aft_flow] = per.map(flow);
    }
}

/// What the loads of a wing say to every section that may carry them.
#[derive(Debug, Clone)]
pub struct OfLoads {
    /// Moments and pressures of every bay.
    most: Vec<Most>,
    by_bay: Arc<ByBay>,
    /// Every load is a number.
    sound: bool,
}

impl OfLoads {
    /// Of the loads on so many bays.
    /// Unchecked: no outside check runs it by itself.
    pub fn of(loads: &Loads, bays: usize) -> Self {
        let by_bay = Arc::new(ByBay::of(loads, bays));
        Self { most: Most::of_loads(loads, &by_bay, bays), by_bay, sound: validity::sound(loads) }
    }
}

/// A failure mode.
pub struct Mode {
    pub key: &'static str,
    pub title: &'static str,
    pub formula: &'static str,
    pub source: &'static str,
    /// How far the source can be trusted.
    pub mark: Mark,
    pub valid: &'static str,
    pub safe_side: &'static str,
    pub knock_down: &'static str,
    /// RF scales with load to minus this power; 0: it does not go with load.
    pub power: f64,
    /// None: the mode is not assessed, and `valid` says why.
    pub margins: Option<fn(&Context, &mut Vec<Margin>)>,
}

/// Every mode of the design document; those without a function are listed as not shown.
pub const MODES: &[Mode] = &[
    cap_tension::MODE,
    cap_compression::MODE,
    cap_stability::MODE,
    cap_ply_end::MODE,
    web_shear::MODE,
    web_buckling::MODE,
    web_crushing::MODE,
    post_crushing::MODE,
    nose_shear::MODE,
    nose_buckling::MODE,
    face_wrinkling::MODE,
    shear_crimping::MODE,
    bare_foam::MODE,
    aft_pressure::MODE,
    aft_buckling::MODE,
    aft_shear::MODE,
    hinge_wall::MODE,
    core_shear::MODE,
    unseen_dent::MODE,
    cap_web_bond::MODE,
    cap_skin_bond::MODE,
    skin_rib_bond::MODE,
    nose_seam_bond::MODE,
    bond_peel::MODE,
    inplane_bending::MODE,
    covering_tension::MODE,
    covering_sag::MODE,
    covering_fastening::MODE,
    edge_under_covering::MODE,
    rib_bending::MODE,
    rib_shear::MODE,
    rib_buckling::MODE,
    closing_rib::MODE,
    joint_rib::MODE,
    control_rib::MODE,
    joint_pins::MODE,
    joint_lugs::MODE,
    fitting_seat::MODE,
    rear_fitting::MODE,
    holds::MODE,
    tip_deflection::MODE,
    twist::MODE,
    divergence::MODE,
    control_reversal::MODE,
];

/// What no mode looks at. Said in every report, never part of the verdict.
pub const NOT_ASSESSED: [&str; 6] = [
    "flutter",
    "fatigue",
    "hang point and the pilot's load path",
    "keel, boom and tail",
    "rear brackets",
    "control hinges, brackets and pushrods",
];

impl<'a> Context<'a> {
    /// A wing under its loads; the spar as it stands, its sections and how they bend.
    pub fn new(
        design: &'a Design,
        (layout, skins, loads): (&'a Layout, &'a [Skin], &'a Loads),
        (sizing, sections, bending): (&'a Sizing, &'a [Section], &'a [sizing::Bent]),
    ) -> Self {
        Self::again(design, (layout, skins, loads), (sizing, sections, bending), Memory::forgetting())
    }
    /// The same where what the loads say is known already.
    /// Unchecked: no outside check runs it by itself.
    pub fn under(
        design: &'a Design,
        wing: (&'a Layout, &'a [Skin], &'a Loads),
        spar: (&'a Sizing, &'a [Section], &'a [sizing::Bent]),
        of_loads: &OfLoads,
    ) -> Self {
        Self::with(design, wing, spar, (of_loads.clone(), Memory::forgetting()))
    }
    /// The same, with what was kept; [`Context::into_memory`] gives it back.
    pub(crate) fn again(
        design: &'a Design,
        (layout, skins, loads): (&'a Layout, &'a [Skin], &'a Loads),
        (sizing, sections, bending): (&'a Sizing, &'a [Section], &'a [sizing::Bent]),
        memory: Memory,
    ) -> Self {
        let of_loads = OfLoads::of(loads, layout.bays.len());
        Self::with(design, (layout, skins, loads), (sizing, sections, bending), (of_loads, memory))
    }
    fn with(
        design: &'a Design,
        (layout, skins, loads): (&'a Layout, &'a [Skin], &'a Loads),
        (sizing, sections, bending): (&'a Sizing, &'a [Section], &'a [sizing::Bent]),
        (of_loads, mut memory): (OfLoads, Memory),
    ) -> Self {
        let OfLoads { mut most, by_bay, sound } = of_loads;
        for (bay, (m, s)) in most.iter_mut().zip(sections).enumerate() {
            m.flows(&by_bay.at(bay), s);
        }
        memory.panels.begin();
        let (aft_ribs, webs, shaft, memory) = (OnceCell::new(), OnceCell::new(), OnceCell::new(), RefCell::new(memory));
        Self {
            design,
            layout,
            skins,
            loads,
            sizing,
            sections,
            bending,
            most,
            by_bay,
            sound,
            aft_ribs,
            compressed: OnceCell::new(),
            webs,
            shaft,
            memory,
        }
    }
    /// What was kept, for the next.
    pub(crate) fn into_memory(self) -> Memory {
        self.memory.into_inner()
    }
    /// Something from what was kept, or kept from now on.
    fn kept<V>(&self, of: impl FnOnce(&mut Memory) -> V) -> V {
        of(&mut self.memory.borrow_mut())
    }
    /// What a panel stands before it buckles.
    fn panel(&self, p: &Panel) -> panel::Stands {
        self.kept(|m| m.panels.of(p, panel::stands))
    }
    /// The half wing in torsion.
    fn shaft(&self) -> &Shaft {
        self.shaft.get_or_init(|| Shaft::of(self))
    }
    /// What compresses a rigid nose or aft skin, limit strain with its case.
    fn compressed(&self, z: &Zone) -> (f64, usize) {
        let place = |bay: usize, strip: Strip| bay * Strip::ALL.len() + strip as usize;
        let all = self.compressed.get_or_init(|| {
            let mut out = vec![(0.0, 0); place(self.layout.bays.len(), Strip::AftUpper)];
            for (z, _) in skins::rigid(self, skins::not_control) {
                if let Some(here) = out.get_mut(place(z.bay, z.strip)) {
                    *here = skins::worked_out(self, z);
                }
            }
            out
        });
        all.get(place(z.bay, z.strip)).copied().unwrap_or_default()
    }
    /// Greatest shear and greatest moment of the aft rib of every bay.
    fn aft_ribs(&self) -> &[[ribs::Aft; 2]] {
        self.aft_ribs.get_or_init(|| ribs::loads(self))
    }
    /// The web of a bay under its greatest flow.
    fn web(&self, bay: usize) -> web::InBay {
        self.webs.get_or_init(|| web::in_bays(self)).get(bay).copied().unwrap_or_default()
    }
    /// The greatest loads of a bay; nothing beyond the last.
    /// Unchecked: no outside check runs it by itself.
    pub fn most(&self, bay: usize) -> Most {
        self.most.get(bay).copied().unwrap_or_default()
    }
    /// The loads of every case that is on at the inner edge of a bay.
    /// Unchecked: no outside check runs it by itself.
    pub fn here(&self, bay: usize) -> Here<'_> {
        self.by_bay.at(bay)
    }
    /// Ultimate over limit, as the design has it.
    /// Unchecked: no outside check runs it by itself.
    pub fn ultimate(&self) -> f64 {
        self.design.ultimate()
    }
    /// Share of core properties left at the service temperature of a surface.
    pub fn core_share(&self, strip: Strip) -> f64 {
        self.design.service.core_share(strip.is_upper())
    }
    /// Sweep of the spar line from root to tip, rad, aft positive.
    /// Unchecked: no outside check runs it by itself.
    pub fn spar_sweep_rad(&self) -> f64 {
        spar_sweep_rad(self.layout)
    }
}

fn spar_sweep_rad(layout: &Layout) -> f64 {
    let x = |s: &crate::physics::wing::layout::Station| s.x_le_m + s.spar_frac * s.chord_m;
    let (Some(a), Some(b)) = (layout.bays.first(), layout.bays.last()) else { return 0.0 };
    ((x(&b.outer) - x(&a.inner)) / (b.outer.y_m - a.inner.y_m).max(1e-9)).atan()
}

/// Share of core properties left in the web, which is as warm as the warmer skin at most.
/// Unchecked: no outside check runs it by itself.
pub fn web_core_share(design: &Design) -> f64 {
    design.service.core_share(true).min(design.service.core_share(false))
}

/// Modes whose margins stand on a zone and hang on nothing of the other zones but the sections they make.
pub const ON_ZONES: [&str; 17] = [
    "nose_shear",
    "nose_buckling",
    "face_wrinkling",
    "shear_crimping",
    "bare_foam",
    "aft_pressure",
    "aft_buckling",
    "aft_shear",
    "core_shear",
    "unseen_dent",
    "cap_skin_bond",
    "covering_tension",
    "covering_sag",
    "covering_fastening",
    "bond_peel",
    "edge_under_covering",
    "holds",
];

/// Margins of all modes.
pub fn margins(context: &Context) -> Vec<Margin> {
    margins_of(context, |_| true)
}

/// Margins of the modes wanted, by key, in the order of [`MODES`].
pub fn margins_of(context: &Context, want: impl Fn(&str) -> bool) -> Vec<Margin> {
    let mut out = Vec::with_capacity(9 * context.layout.zones.len() + 24 * context.layout.bays.len());
    let wing = validity::Wing::of(context);
    for mode in MODES.iter().filter(|m| want(m.key)) {
        match mode.margins {
            Some(f) => {
                let from = out.len();
                f(context, &mut out);
                wing.mark(mode.key, &mut out[from..]);
            }
            None => out.push(Margin {
                mode: mode.key,
                bay: None,
                strip: None,
                case: None,
                rf: f64::INFINITY,
                verdict: Verdict::NotShown(mode.valid),
                applied: 0.0,
                allowable: 0.0,
                unit: "",
                inputs: Inputs::default(),
            }),
        }
    }
    out
}
