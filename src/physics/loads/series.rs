//! The loads of one case along the span, all lists of it in one place.

/// Loads of one case at every bay edge, root to tip (bays + 1 values), and pressures on every bay. Limit loads.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CaseLoads {
    /// Index into `Loads::cases`.
    pub case: usize,
    /// Root moment of the air alone, what of it the wing's yielding makes, and the relief by the wing's own mass, N m.
    pub air_root_nm: f64,
    pub yielding_root_nm: f64,
    pub relief_root_nm: f64,
    /// Where supports stand.
    pub peaks: Vec<Peak>,
    edges: usize,
    /// Shear, moment, torque, in-plane bending at the edges; net pressure, pressure on nose and on aft skin by bay.
    all: Vec<f64>,
}

/// What a support between two bay edges makes of the bay it stands in, which no edge sees: the greatest shear beside it, the moment over it
/// and the greater torque of the two edges, limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Peak {
    pub bay: usize,
    pub shear_n: f64,
    pub moment_nm: f64,
    pub torque_nm: f64,
    /// What the support bears, up positive, N.
    pub borne_n: f64,
}

impl Peak {
    /// The greater in size of a load at the inner edge of its bay and at the support.
    pub(crate) fn or(edge: f64, peak: f64) -> f64 {
        if peak.abs() > edge.abs() { peak } else { edge }
    }
}

/// The lists of a case: four at the bay edges, three of pressures by bay.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum List {
    Shear,
    Moment,
    Torque,
    Inplane,
    Net,
    Nose,
    Aft,
}

/// Loads at the bay edges, to make a case of; a list left out is nothing everywhere.
#[derive(Debug, Clone, Copy, Default)]
pub struct Lists<'a> {
    pub shear_n: &'a [f64],
    pub moment_nm: &'a [f64],
    pub torque_nm: &'a [f64],
}

impl CaseLoads {
    /// Of a case, nothing loaded, at so many edges.
    pub(super) fn room(case: usize, edges: usize) -> Self {
        Self { case, edges, all: vec![0.0; 4 * edges + 3 * edges.saturating_sub(1)], ..Self::default() }
    }

    /// Of a case with these loads along its edges (shear, then moment, then torque), nothing else loaded.
    pub(super) fn along(case: usize, edges: usize, beam: &[f64]) -> Self {
        let total = 4 * edges + 3 * edges.saturating_sub(1);
        let mut all = Vec::with_capacity(total);
        all.extend_from_slice(beam);
        all.resize(total, 0.0);
        Self { case, edges, all, ..Self::default() }
    }

    /// Of these loads, no in-plane bending and no pressure.
    /// Unchecked: no outside check runs it by itself.
    pub fn of(case: usize, lists: Lists) -> Self {
        let lists = [lists.shear_n, lists.moment_nm, lists.torque_nm];
        let edges = lists.iter().map(|l| l.len()).max().unwrap_or(0);
        let mut out = Self::room(case, edges);
        for (i, list) in lists.into_iter().enumerate() {
            out.all[i * edges..i * edges + list.len()].copy_from_slice(list);
        }
        out
    }

    /// Every load of it so many times.
    /// Unchecked: no outside check runs it by itself.
    #[must_use]
    pub fn times(&self, k: f64) -> Self {
        let peak = |p: &Peak| Peak {
            bay: p.bay,
            shear_n: k * p.shear_n,
            moment_nm: k * p.moment_nm,
            torque_nm: k * p.torque_nm,
            borne_n: k * p.borne_n,
        };
        Self {
            case: self.case,
            edges: self.edges,
            all: self.all.iter().map(|v| k * v).collect(),
            peaks: self.peaks.iter().map(peak).collect(),
            ..Self::default()
        }
    }

    /// To be written to: in-plane bending, the three pressures.
    pub(super) fn parts_mut(&mut self) -> (&mut [f64], [&mut [f64]; 3]) {
        let (n, bays) = (self.edges, self.edges.saturating_sub(1));
        let (_, rest) = self.all.split_at_mut(3 * n);
        let (inplane, rest) = rest.split_at_mut(n);
        let (net, rest) = rest.split_at_mut(bays);
        let (nose, aft) = rest.split_at_mut(bays);
        (inplane, [net, nose, aft])
    }

    /// Where a list begins and ends.
    const fn place(&self, list: List) -> std::ops::Range<usize> {
        let (which, bays) = (list as usize, self.edges.saturating_sub(1));
        if which < 4 {
            return which * self.edges..(which + 1) * self.edges;
        }
        let from = 4 * self.edges + (which - 4) * bays;
        from..from + bays
    }

    /// One of the lists.
    pub fn list(&self, list: List) -> &[f64] {
        &self.all[self.place(list)]
    }

    /// The same to be written to.
    pub fn list_mut(&mut self, list: List) -> &mut [f64] {
        let place = self.place(list);
        &mut self.all[place]
    }

    /// Up positive, N.
    pub fn shear_n(&self) -> &[f64] {
        self.list(List::Shear)
    }

    /// Tip up positive, N m, about the swept spar axis.
    pub fn moment_nm(&self) -> &[f64] {
        self.list(List::Moment)
    }

    /// Nose-up positive about the spar line, N m.
    pub fn torque_nm(&self) -> &[f64] {
        self.list(List::Torque)
    }

    /// In-plane (drag-wise) bending, N m.
    pub fn inplane_nm(&self) -> &[f64] {
        self.list(List::Inplane)
    }

    /// Mean net air pressure on each bay, Pa.
    pub fn net_pa(&self) -> &[f64] {
        self.list(List::Net)
    }

    /// Greatest outward local pressure on the nose skin of each bay, Pa.
    pub fn nose_pa(&self) -> &[f64] {
        self.list(List::Nose)
    }

    /// The same on the aft skin, Pa.
    pub fn aft_pa(&self) -> &[f64] {
        self.list(List::Aft)
    }
}
