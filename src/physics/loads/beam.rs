//! One integration kernel for every spanwise load: running sums from the tip at the bay edges.

/// A length of span carrying a constant load, all per metre of span.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Piece {
    pub from_m: f64,
    pub to_m: f64,
    pub load: f64,
    /// Where the load acts at the middle of the piece, m aft, and how that moves with y.
    pub x_m: f64,
    pub x_slope: f64,
    /// Nose-up couple.
    pub couple: f64,
}

impl Piece {
    /// Where the load between two places of the piece acts, m aft.
    fn x_at(&self, y: f64, to: f64) -> f64 {
        self.x_m + self.x_slope * (0.5 * (y + to) - 0.5 * (self.from_m + self.to_m))
    }
}

/// Sums outboard of an edge: load; load times span distance; load times x; couple.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sums {
    pub force: f64,
    pub arm: f64,
    pub fore_aft: f64,
    pub couple: f64,
}

impl Sums {
    /// `self + k other`.
    #[must_use]
    pub fn plus(self, k: f64, other: &Self) -> Self {
        Self {
            force: self.force + k * other.force,
            arm: self.arm + k * other.arm,
            fore_aft: self.fore_aft + k * other.fore_aft,
            couple: self.couple + k * other.couple,
        }
    }

    /// Move the cut inboard from `y` to `to` over a piece.
    fn inboard(&mut self, y: f64, to: f64, p: &Piece) {
        let (w, x) = (y - to, p.x_at(y, to));
        self.arm += self.force * w + 0.5 * p.load * w * w;
        self.force += p.load * w;
        self.fore_aft += p.load * w * x;
        self.couple += p.couple * w;
    }

    /// Add a concentrated load outboard of this edge at `y0`.
    pub fn point(&mut self, y0_m: f64, load: f64, y_m: f64, x_m: f64) {
        if y_m > y0_m {
            self.force += load;
            self.arm += load * (y_m - y0_m);
            self.fore_aft += load * x_m;
        }
    }
}

/// A piece as it is walked over: which, how much of it, and the edge that is reached, if any.
struct Step<'p> {
    piece: Option<usize>,
    on: &'p Piece,
    from_m: f64,
    to_m: f64,
    edge: Option<usize>,
}

/// Walk the cut from the last edge to the first over pieces given from the tip inwards, each under its number.
fn walk(edges_m: &[f64], pieces: impl Iterator<Item = (usize, Piece)>, mut step: impl FnMut(&Step)) {
    let Some(mut k) = edges_m.len().checked_sub(1) else { return };
    let mut y = edges_m[k];
    let mut over = |y: &mut f64, to: f64, piece: Option<usize>, on: &Piece| {
        while k > 0 && edges_m[k - 1] >= to {
            k -= 1;
            step(&Step { piece, on, from_m: *y, to_m: edges_m[k], edge: Some(k) });
            *y = edges_m[k];
        }
        if *y > to {
            step(&Step { piece, on, from_m: *y, to_m: to, edge: None });
            *y = to;
        }
    };
    let gap = Piece::default();
    for (i, p) in pieces {
        if p.to_m < y {
            over(&mut y, p.to_m, None, &gap);
        }
        over(&mut y, p.from_m, Some(i), &p);
    }
    over(&mut y, edges_m[0], None, &gap);
}

/// Sums at every edge (rising from the root) of loads given from the tip inwards.
///
/// Shear `S = int l`, moment `M = int l (eta - y)`, exact for piecewise constant loads.
/// **Source:** beam statics. **Valid for:** pieces that do not overlap; gaps carry nothing.
pub fn sums(edges_m: &[f64], pieces: impl Iterator<Item = Piece>) -> Vec<Sums> {
    let mut out = vec![Sums::default(); edges_m.len()];
    let mut s = Sums::default();
    walk(edges_m, pieces.enumerate(), |step| {
        s.inboard(step.from_m, step.to_m, step.on);
        if let Some(at) = step.edge.and_then(|k| out.get_mut(k)) {
            *at = s;
        }
    });
    out
}

/// The way of the cut over strips that stay where they are, walked once for loads that change.
#[derive(Debug, Default)]
pub struct Way {
    steps: Vec<Pace>,
    edges: usize,
}

#[derive(Debug, Clone, Copy)]
struct Pace {
    strip: Option<usize>,
    width_m: f64,
    /// Where the load of the step acts, m aft.
    x_m: f64,
    edge: Option<usize>,
}

/// Force, arm and fore-and-aft moment outboard of an edge, of several loads side by side.
pub type Abreast<const N: usize> = [[f64; N]; 3];

impl Way {
    /// Over strips given from the tip inwards, each under its number.
    pub fn over(edges_m: &[f64], strips: impl Iterator<Item = (usize, Piece)>) -> Self {
        let mut steps = Vec::with_capacity(3 * edges_m.len());
        walk(edges_m, strips, |s| {
            let width_m = s.from_m - s.to_m;
            steps.push(Pace { strip: s.piece, width_m, x_m: s.on.x_at(s.from_m, s.to_m), edge: s.edge });
        });
        Self { steps, edges: edges_m.len() }
    }

    /// The same as [`sums`] of loads by strip, without couples.
    pub fn sums<const N: usize>(&self, load: &[[f64; N]]) -> Vec<Abreast<N>> {
        let mut out = vec![[[0.0; N]; 3]; self.edges];
        let [mut force, mut arm, mut fore_aft] = [[0.0; N]; 3];
        for step in &self.steps {
            let l = step.strip.and_then(|i| load.get(i)).copied().unwrap_or([0.0; N]);
            let w = step.width_m;
            for i in 0..N {
                arm[i] += force[i] * w + 0.5 * l[i] * w * w;
                force[i] += l[i] * w;
                fore_aft[i] += l[i] * w * step.x_m;
            }
            if let Some(at) = step.edge.and_then(|k| out.get_mut(k)) {
                *at = [force, arm, fore_aft];
            }
        }
        out
    }
}

/// Resolve sums about the point `(x_ref, edge)` on an axis swept by an angle with the given sine and cosine:
/// (bending, tip up positive; torque, nose-up positive), N m.
///
/// `Mx = int l (eta - y)`, `My = x_ref S - int l x + couple`; `M = Mx cos - My sin`, `T = Mx sin + My cos`.
/// **Source:** moment vector of a vertical force. Derived here. **Valid for:** no dihedral.
/// Unchecked: no outside check runs it by itself.
pub fn resolve(s: &Sums, x_ref_m: f64, sin: f64, cos: f64) -> (f64, f64) {
    let pitch = x_ref_m * s.force - s.fore_aft + s.couple;
    (s.arm * cos - pitch * sin, s.arm * sin + pitch * cos)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_uniform_load_gives_the_cantilever_formulas() {
        // M = w l^2/2 at the root, w (l - y)^2/2 along it: any strength-of-materials handbook.
        let edges = [0.0, 1.3, 2.5];
        let piece = Piece { from_m: 0.0, to_m: 2.5, load: 34.323, ..Piece::default() };
        let s = sums(&edges, std::iter::once(piece));
        assert!((s[0].arm - 34.323 * 2.5 * 2.5 / 2.0).abs() < 1e-9);
        assert!((s[1].arm - 34.323 * 1.2 * 1.2 / 2.0).abs() < 1e-9);
        assert!((s[0].force - 34.323 * 2.5).abs() < 1e-9 && s[2].force == 0.0);
    }

    #[test]
    fn loads_abreast_are_summed_as_each_by_itself() {
        let edges = [0.0, 0.7, 1.3, 2.5];
        let strips = |load: [f64; 3]| {
            (0..3).rev().map(move |i| {
                let (from_m, x_slope) = (0.75 * i as f64, 0.2);
                (i, Piece { from_m, to_m: from_m + 0.75, load: load[i], x_m: 0.1 * i as f64, x_slope, couple: 0.0 })
            })
        };
        let (a, b) = ([1.0, 5.0, -2.0], [0.3, 0.0, 7.0]);
        let abreast = Way::over(&edges, strips([0.0; 3])).sums(&[0, 1, 2].map(|i| [a[i], b[i]]));
        for (lane, load) in [a, b].into_iter().enumerate() {
            let alone = sums(&edges, strips(load).map(|s| s.1));
            for (got, want) in abreast.iter().zip(alone) {
                assert_eq!(got.map(|v| v[lane]), [want.force, want.arm, want.fore_aft]);
            }
        }
    }

    #[test]
    fn a_load_on_a_swept_axis_brings_no_torque_about_it() {
        let sweep = 0.3_f64;
        let mut s = Sums::default();
        s.point(0.0, 100.0, 4.0, 4.0 * sweep.tan());
        let (m, t) = resolve(&s, 0.0, sweep.sin(), sweep.cos());
        assert!(t.abs() < 1e-9 && (m - 400.0 / sweep.cos()).abs() < 1e-9);
    }
}
