//! The catalogue of handling events: what happens to a wing on the ground, why, how hard and how often.
//! Every frequency and most causes are assumptions a builder replaces with a log of their own.

use crate::physics::durability::cause::Cause;

/// How a contact presses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Contact {
    /// Flesh or foam of this radius, m, pressed with a force.
    Pad { radius_m: f64 },
    /// A hard rounded thing of this nose radius, m, pressed with a force.
    Ball { radius_m: f64 },
    /// A pressure, Pa, over a strap or pad: half its width, or the radius of its area, m.
    Pressure { radius_m: f64 },
    /// A hard straight edge (severity in N/m).
    Edge,
    /// A hard rounded thing that hits (severity in J). `local`: too light and quick for the panel to
    /// give way (hail, gravel); `ice`: breaks before it bends a face round its own radius.
    Blow { radius_m: f64, local: bool, ice: bool },
}

/// Which kind of exposure an event belongs to; uses and assumptions act on these.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exposure {
    Hand,
    Lift,
    Rest,
    Ground,
    Transport,
    Weather,
}

impl Exposure {
    pub const ALL: [Self; 6] = [Self::Hand, Self::Lift, Self::Rest, Self::Ground, Self::Transport, Self::Weather];
    /// Key in a scenario, and the word a person reads.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Hand => "hands",
            Self::Lift => "lifts",
            Self::Rest => "rests",
            Self::Ground => "ground",
            Self::Transport => "transport",
            Self::Weather => "weather",
        }
    }
}

/// Surface groups: a partition of the wing.
pub const GROUPS: [&str; 6] = ["nose", "upper", "lower", "edge", "tip", "root"];

/// One event.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Event {
    pub key: &'static str,
    pub title: &'static str,
    pub contact: Contact,
    /// What makes it as hard as it is: the median.
    pub cause: Cause,
    /// Standard deviation of the natural logarithm of its severity.
    pub beta: f64,
    /// Events per 100 outings on the whole wing, one careful owner.
    pub per_100_outings: f64,
    /// Share by [`GROUPS`]; sums to 1.
    pub share: [f64; 6],
    /// Hits on each square metre exposed (hail), or 0.
    pub hits_per_m2: f64,
    pub exposure: Exposure,
    /// Happens on the field while rigged, launching or landing: a protection left on the ground cannot meet it.
    pub in_use: bool,
    /// The cause itself is assumed, not only how often it comes (that is assumed for every event).
    pub assumption: bool,
    pub source: &'static str,
}

impl Contact {
    /// In words.
    pub fn words(self) -> String {
        match self {
            Self::Pad { radius_m } => format!("soft, {:.1} mm in radius", 1e3 * radius_m),
            Self::Ball { radius_m } => format!("hard, {:.1} mm in radius", 1e3 * radius_m),
            Self::Pressure { radius_m } => format!("pressure over {:.0} mm to each side", 1e3 * radius_m),
            Self::Edge => "hard straight edge".to_owned(),
            Self::Blow { radius_m, local, ice } => format!(
                "blow{}, {:.1} mm in radius{}",
                if ice { " of ice" } else { "" },
                1e3 * radius_m,
                if local { ", too light and quick for the panel to give" } else { "" }
            ),
        }
    }
}

impl Event {
    /// Which groups of surfaces it comes to.
    pub fn where_words(&self) -> String {
        let there = GROUPS.iter().zip(self.share).filter(|(_, s)| *s > 0.0);
        let each = there.map(|(g, s)| format!("{:.0} % {g}", 100.0 * s)).collect::<Vec<_>>().join(", ");
        if self.hits_per_m2 > 0.0 {
            format!("{each}, {} hits on each square metre of nose and upper skins", self.hits_per_m2)
        } else {
            each
        }
    }
}

/// The catalogue.
pub const EVENTS: &[Event] = &[
    Event {
        key: "fingertip_touch",
        title: "Fingertip touch",
        contact: Contact::Pad { radius_m: 0.005 },
        cause: Cause::Press { force_n: 1.8 },
        beta: 0.52,
        per_100_outings: 600.0,
        share: [0.35, 0.2, 0.2, 0.15, 0.05, 0.05],
        hits_per_m2: 0.0,
        exposure: Exposure::Hand,
        in_use: false,
        assumption: false,
        source: "the heaviest of the gestures 13 people made on a touch screen, a stretch by two fingers: mean 2.05 N (SD 1.13), a tap 0.50 N (SD 0.09) (study of fingertip forces in gestures, abstract read); as a lognormal median 1.8 N, spread 0.52 (computed); that a wing is touched no harder, the contact radius and the frequency are assumed",
    },
    Event {
        key: "curious_press",
        title: "Casual thumb press",
        contact: Contact::Pad { radius_m: 0.007 },
        cause: Cause::Press { force_n: 25.0 },
        beta: 0.5,
        per_100_outings: 40.0,
        share: [0.3, 0.35, 0.2, 0.05, 0.05, 0.05],
        hits_per_m2: 0.0,
        exposure: Exposure::Hand,
        in_use: false,
        assumption: false,
        source: "about 18 % of the mean male maximum 136.7 N (Choi et al. 2020, abstract read: people press harder than they mean to at 10-30 % targets); frequency assumed",
    },
    Event {
        key: "firm_thumb_press",
        title: "Firm thumb press",
        contact: Contact::Pad { radius_m: 0.008 },
        cause: Cause::Press { force_n: 70.0 },
        beta: 0.35,
        per_100_outings: 8.0,
        share: [0.4, 0.25, 0.2, 0.05, 0.05, 0.05],
        hits_per_m2: 0.0,
        exposure: Exposure::Hand,
        in_use: false,
        assumption: false,
        source: "half of the mean male maximum 136.7 N; the mean maximum then sits at the 97th percentile (computed); frequency assumed",
    },
    Event {
        key: "fingernail_or_ring",
        title: "Fingernail, ring or zip",
        contact: Contact::Ball { radius_m: 0.002 },
        cause: Cause::Press { force_n: 15.0 },
        beta: 0.6,
        per_100_outings: 25.0,
        share: [0.35, 0.2, 0.25, 0.1, 0.05, 0.05],
        hits_per_m2: 0.0,
        exposure: Exposure::Hand,
        in_use: false,
        assumption: false,
        source: "forces of the fingers in daily tasks, by gauges on the nails of 8 people: the hardest tasks about 15 N (doi 10.1177/2055668318793587, abstract read); radius of nail or ring, spread and frequency assumed",
    },
    Event {
        key: "four_finger_push",
        title: "Push by spread fingertips",
        contact: Contact::Pad { radius_m: 0.0055 },
        cause: Cause::Press { force_n: 20.0 },
        beta: 0.5,
        per_100_outings: 80.0,
        share: [0.75, 0.1, 0.05, 0.05, 0.05, 0.0],
        hits_per_m2: 0.0,
        exposure: Exposure::Hand,
        in_use: false,
        assumption: false,
        source: "per finger: one-hand push 113 N (SD 19; Human Factors 50(2), 2008, table 2 read) shared unevenly by 4-5 digits; finger dents on a glass/foam sailplane nose skin are reported (Shalbourne club note 2016, read)",
    },
    Event {
        key: "palm_push",
        title: "Flat palm push",
        contact: Contact::Pad { radius_m: 0.025 },
        cause: Cause::Press { force_n: 90.0 },
        beta: 0.4,
        per_100_outings: 150.0,
        share: [0.55, 0.15, 0.1, 0.05, 0.1, 0.05],
        hits_per_m2: 0.0,
        exposure: Exposure::Hand,
        in_use: false,
        assumption: false,
        source: "one-hand push 113 N (SD 19) as a near-maximum (same table); contact radius assumed",
    },
    Event {
        key: "palm_lift",
        title: "Lift on the palm",
        contact: Contact::Pad { radius_m: 0.03 },
        cause: Cause::Weight { share: 0.5 },
        beta: 0.35,
        per_100_outings: 400.0,
        share: [0.35, 0.0, 0.45, 0.0, 0.05, 0.15],
        hits_per_m2: 0.0,
        exposure: Exposure::Lift,
        in_use: false,
        assumption: true,
        source: "half of a 20 kg half-wing per lifter on two palms: 98 N per palm (computed); the share is an assumption",
    },
    Event {
        key: "edge_grip",
        title: "Grip on the trailing edge",
        contact: Contact::Pad { radius_m: 0.008 },
        cause: Cause::Press { force_n: 30.0 },
        beta: 0.45,
        per_100_outings: 120.0,
        share: [0.0, 0.0, 0.0, 0.85, 0.15, 0.0],
        hits_per_m2: 0.0,
        exposure: Exposure::Lift,
        in_use: false,
        assumption: false,
        source: "under the 5th-percentile male palmar thumb-finger grip of 48 N (FAA Human Factors Design Standard ch. 14, exhibit 14.5.2.1, read)",
    },
    Event {
        key: "elbow_or_knee",
        title: "Elbow or knee bump",
        contact: Contact::Pad { radius_m: 0.015 },
        cause: Cause::Press { force_n: 188.0 },
        beta: 0.5,
        per_100_outings: 6.0,
        share: [0.4, 0.15, 0.3, 0.1, 0.05, 0.0],
        hits_per_m2: 0.0,
        exposure: Exposure::Hand,
        in_use: false,
        assumption: false,
        source: "a bump ends where it begins to hurt: 160 N for the lower arm with the elbow, 220 N for the thigh with the knee (ISO/TS 15066 table A.2, read second-hand in public tables that quote it and agree), 188 N between them; contact radius, spread and frequency assumed",
    },
    Event {
        key: "shoulder_carry",
        title: "Carry on the shoulder",
        contact: Contact::Pad { radius_m: 0.04 },
        cause: Cause::Weight { share: 0.75 },
        beta: 0.3,
        per_100_outings: 100.0,
        share: [0.3, 0.0, 0.55, 0.0, 0.0, 0.15],
        hits_per_m2: 0.0,
        exposure: Exposure::Lift,
        in_use: false,
        assumption: true,
        source: "a 15 kg share on one pad",
    },
    Event {
        key: "set_down_on_grass",
        title: "Set down on grass",
        contact: Contact::Pad { radius_m: 0.04 },
        cause: Cause::Weight { share: 0.3 },
        beta: 0.4,
        per_100_outings: 400.0,
        share: [0.2, 0.05, 0.45, 0.15, 0.15, 0.0],
        hits_per_m2: 0.0,
        exposure: Exposure::Ground,
        in_use: true,
        assumption: true,
        source: "several contact patches share the weight",
    },
    Event {
        key: "stone_set_down",
        title: "Set down on a stone",
        contact: Contact::Ball { radius_m: 0.01 },
        cause: Cause::SetDown { share: 0.2, drop_m: 0.003 },
        beta: 0.7,
        per_100_outings: 6.0,
        share: [0.25, 0.0, 0.45, 0.1, 0.2, 0.0],
        hits_per_m2: 0.0,
        exposure: Exposure::Ground,
        in_use: true,
        assumption: true,
        source: "m g (1 + sqrt(1 + 2 h k/(m g))) with m = 4 kg of a 20 kg half wing on the stone, h = 3 mm, k of the zone (50 N/mm gives 155 N); m, h and frequency assumed",
    },
    Event {
        key: "stubble_or_stick",
        title: "Stubble, stick or thorn",
        contact: Contact::Ball { radius_m: 0.0025 },
        cause: Cause::Press { force_n: 25.0 },
        beta: 0.7,
        per_100_outings: 12.0,
        share: [0.15, 0.0, 0.6, 0.15, 0.1, 0.0],
        hits_per_m2: 0.0,
        exposure: Exposure::Ground,
        in_use: true,
        assumption: true,
        source: "no publication read",
    },
    Event {
        key: "dropped_small_tool",
        title: "Dropped spanner or phone",
        contact: Contact::Blow { radius_m: 0.005, local: false, ice: false },
        cause: Cause::Falls { mass_kg: 0.2, drop_m: 0.3 },
        beta: 0.7,
        per_100_outings: 1.5,
        share: [0.3, 0.6, 0.0, 0.05, 0.0, 0.05],
        hits_per_m2: 0.0,
        exposure: Exposure::Ground,
        in_use: false,
        assumption: true,
        source: "0.2 kg falling 0.3 m = 0.59 J (computed); the drop-test ladder of IEC/EN 62262 (read) spans 0.14-2 J for such hits; mass, height, frequency assumed",
    },
    Event {
        key: "workshop_tool_drop",
        title: "Heavy tool dropped on it",
        contact: Contact::Blow { radius_m: 0.008, local: false, ice: false },
        cause: Cause::Falls { mass_kg: 0.6, drop_m: 0.51 },
        beta: 0.6,
        per_100_outings: 0.2,
        share: [0.35, 0.6, 0.0, 0.0, 0.0, 0.05],
        hits_per_m2: 0.0,
        exposure: Exposure::Ground,
        in_use: false,
        assumption: true,
        source: "0.6 kg falling 0.51 m = 3.0 J, assumed; transport-aircraft practice for a dropped tool is about 5.4 J (4 ft-lb), recalled from composite handbook practice, NOT read",
    },
    Event {
        key: "frame_or_doorway_knock",
        title: "Knock on door, post or car",
        contact: Contact::Blow { radius_m: 0.01, local: false, ice: false },
        cause: Cause::Knock { share: 0.5, speed_m_s: 0.71 },
        beta: 0.8,
        per_100_outings: 2.0,
        share: [0.35, 0.05, 0.05, 0.25, 0.3, 0.0],
        hits_per_m2: 0.0,
        exposure: Exposure::Ground,
        in_use: false,
        assumption: false,
        source: "speed: people carry at 0.5 to 1.0 m/s (scope of ISO 11228-1:2021, read), 0.71 m/s between them. Mass: a free bar struck at x from its middle counts m/(1 + 12 (x/L)2), a quarter at its end, 0.60 on the mean along it (derived); 0.3 of the knocks at the tip make 0.50. Spread and frequency assumed",
    },
    Event {
        key: "tie_down_strap",
        title: "Roof-rack strap",
        contact: Contact::Pressure { radius_m: 0.0125 },
        cause: Cause::Strap { tension_n: 70.0, width_m: 0.025 },
        beta: 0.5,
        per_100_outings: 160.0,
        share: [0.6, 0.2, 0.0, 0.2, 0.0, 0.0],
        hits_per_m2: 0.0,
        exposure: Exposure::Transport,
        in_use: false,
        assumption: true,
        source: "p = T/(R b): tension 70 N, width 25 mm, R of the skin (80 mm gives 35 kPa); tension assumed: it is a pull of 41 N by hand on a cam buckle, which holds 1.72 times the pull (maker's note on cam straps, read), a sixth of the 250 N that makers of 25 mm lashing straps allow a hand (manual of a lashing strap, read). A 50 mm ratchet strap makes about 300 kgf, 2900 N (maker's note on load restraint, read): forbid it",
    },
    Event {
        key: "rack_pad",
        title: "Padded rack, rough road",
        contact: Contact::Pressure { radius_m: 0.044 },
        cause: Cause::OnPad { share: 0.5, shock: 1.5, pad_m2: 0.006 },
        beta: 0.5,
        per_100_outings: 200.0,
        share: [0.3, 0.1, 0.6, 0.0, 0.0, 0.0],
        hits_per_m2: 0.0,
        exposure: Exposure::Rest,
        in_use: false,
        assumption: true,
        source: "20 kg half wing on two pads of 6000 mm2, times 1.5 for road shocks: 24.5 kPa (computed); pad area and shock factor assumed",
    },
    Event {
        key: "rack_bare_edge",
        title: "Slip on to a bare rack",
        contact: Contact::Edge,
        cause: Cause::OnEdge { share: 0.765, length_m: 0.1 },
        beta: 0.5,
        per_100_outings: 2.0,
        share: [0.3, 0.05, 0.5, 0.15, 0.0, 0.0],
        hits_per_m2: 0.0,
        exposure: Exposure::Transport,
        in_use: false,
        assumption: true,
        source: "150 N over 100 mm",
    },
    Event {
        key: "hail_small",
        title: "Hail about 13 mm",
        contact: Contact::Blow { radius_m: 0.0065, local: true, ice: true },
        cause: Cause::Flies { mass_kg: 0.000_965, speed_m_s: 15.5 },
        beta: 0.6,
        per_100_outings: 0.3,
        share: [0.3, 0.65, 0.0, 0.0, 0.05, 0.0],
        hits_per_m2: 3.0,
        exposure: Exposure::Weather,
        in_use: false,
        assumption: false,
        source: "0.965 g at 15.5 m/s (speed read in a free-fall hail table attributed to T. Marshall, energy computed). Storms: 7782 hits of 367 hailpads in 29 warm seasons in Friuli (Manzato and others 2022, abstract read), so 0.4 for 100 days outdoors by hail of any size (computed), against 0.3 here, since people take cover. Hits per m2 assumed: a pad that was hit has 80 valid dents (same abstract, computed), on the 0.1 m2 recommended for a pad (Long and others 1980, abstract read) 800 a m2 of all sizes from 5 mm, most of them smaller than this",
    },
    Event {
        key: "hail_large",
        title: "Hail about 25 mm",
        contact: Contact::Blow { radius_m: 0.0127, local: true, ice: true },
        cause: Cause::Flies { mass_kg: 0.007_83, speed_m_s: 22.26 },
        beta: 0.6,
        per_100_outings: 0.03,
        share: [0.3, 0.65, 0.0, 0.0, 0.05, 0.0],
        hits_per_m2: 2.0,
        exposure: Exposure::Weather,
        in_use: false,
        assumption: false,
        source: "free-fall hail table attributed to T. Marshall: 1 inch, 49.8 mph, 1.43 ft-lb; storms caught outdoors and hits per m2 assumed",
    },
    Event {
        key: "kicked_gravel",
        title: "Gravel thrown up or blown",
        contact: Contact::Blow { radius_m: 0.00475, local: true, ice: false },
        cause: Cause::Flies { mass_kg: 0.0012, speed_m_s: 5.0 },
        beta: 0.8,
        per_100_outings: 10.0,
        share: [0.25, 0.0, 0.65, 0.05, 0.05, 0.0],
        hits_per_m2: 0.0,
        exposure: Exposure::Weather,
        in_use: true,
        assumption: false,
        source: "1.2 g at 5 m/s = 0.015 J (computed). Size: road gravel of the chip test of vehicle coatings passes 16 mm and is held at 9.5 mm (ASTM D3170, read), the smallest 1.2 g at 2650 kg/m3. Speed: an aircraft tyre rolling over stones at take-off throws them up at less than 5 m/s (Improved models for runway debris lofting simulations, Aeronautical Journal, abstract read); that feet and carts throw no faster, the spread and the frequency are assumed",
    },
    Event {
        key: "tip_strike",
        title: "Wing tip hits the ground",
        contact: Contact::Blow { radius_m: 0.03, local: false, ice: false },
        cause: Cause::Knock { share: 0.2, speed_m_s: 2.0 },
        beta: 0.8,
        per_100_outings: 1.0,
        share: [0.15, 0.0, 0.1, 0.0, 0.75, 0.0],
        hits_per_m2: 0.0,
        exposure: Exposure::Ground,
        in_use: true,
        assumption: true,
        source: "4 kg at 2 m/s = 8 J (computed). Mass: a half wing that rolls about its root counts 0.27 of its mass at the tip when mass goes with the chord, 0.22 when with its square (derived, taper 0.45); 2 m/s is a tip that falls 0.2 m. Both and frequency assumed",
    },
];
