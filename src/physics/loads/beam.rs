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
        let w = y - to;
        let x = p.x_m + p.x_slope * (0.5 * (y + to) - 0.5 * (p.from_m + p.to_m));
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

/// Sums at every edge (rising from the root) of loads given from the tip inwards.
///
/// Shear `S = int l`, moment `M = int l (eta - y)`, exact for piecewise constant loads.
/// **Source:** beam statics. **Valid for:** pieces that do not overlap; gaps carry nothing.
pub fn sums(edges_m: &[f64], pieces: impl Iterator<Item = Piece>) -> Vec<Sums> {
    let mut out = vec![Sums::default(); edges_m.len()];
    let Some(mut k) = edges_m.len().checked_sub(1) else {
        return out;
    };
    let mut y = edges_m[k];
    let mut s = Sums::default();
    let mut walk = |s: &mut Sums, y: &mut f64, to: f64, p: &Piece| {
        while k > 0 && edges_m[k - 1] >= to {
            k -= 1;
            s.inboard(*y, edges_m[k], p);
            *y = edges_m[k];
            out[k] = *s;
        }
        if *y > to {
            s.inboard(*y, to, p);
            *y = to;
        }
    };
    for p in pieces {
        if p.to_m < y {
            walk(&mut s, &mut y, p.to_m, &Piece::default());
        }
        walk(&mut s, &mut y, p.from_m, &p);
    }
    walk(&mut s, &mut y, edges_m[0], &Piece::default());
    out
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
    fn a_load_on_a_swept_axis_brings_no_torque_about_it() {
        let sweep = 0.3_f64;
        let mut s = Sums::default();
        s.point(0.0, 100.0, 4.0, 4.0 * sweep.tan());
        let (m, t) = resolve(&s, 0.0, sweep.sin(), sweep.cos());
        assert!(t.abs() < 1e-9 && (m - 400.0 / sweep.cos()).abs() < 1e-9);
    }
}
