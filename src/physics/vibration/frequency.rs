//! The lowest frequency of a beam held at one end, in bending and in torsion, by inverse iteration.

/// A length of beam, root to tip.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Cell {
    pub length_m: f64,
    /// 1/EI or 1/GJ, 1/(N m2).
    pub compliance: f64,
    /// Mass (kg) or mass moment of inertia about the axis (kg m2), taken at the middle of the cell.
    pub inertia: f64,
}

/// Turns of the iteration: each leaves the square of (lowest over second frequency squared) of the error, 1/80 at worst.
const TURNS: usize = 24;
/// Change of the frequency squared at which it is called found.
const SETTLED: f64 = 1e-12;

/// Lowest frequency in bending of a beam held at its root, rad/s; None without mass or where a stiffness is missing.
///
/// The shape of inertia loads `m w` is found from moment to curvature to deflection, again and again; the frequency is
/// Rayleigh's quotient of the last two shapes. Masses stand at the middles of cells, stiffness is constant in a cell.
/// **Source:** inverse iteration with Rayleigh's quotient, any text on vibration. **Valid for:** slender beams: no shear,
/// no turning inertia of the sections.
pub fn lowest_bending_rad_s(cells: &[Cell]) -> Option<f64> {
    lowest(cells, |cells, load, shape| {
        let n = cells.len();
        // Moments at the inner edge and the middle of each cell, tip to root.
        let mut moments = vec![(0.0, 0.0); n];
        let (mut shear, mut moment) = (0.0, 0.0);
        for i in (0..n).rev() {
            let h = 0.5 * cells[i].length_m;
            let middle = moment + shear * h;
            shear += load[i];
            moment = middle + shear * h;
            moments[i] = (moment, middle);
        }
        let (mut w, mut slope) = (0.0, 0.0);
        for i in 0..n {
            let (h, c) = (0.5 * cells[i].length_m, cells[i].compliance);
            let (inner, middle) = moments[i];
            let outer = moments.get(i + 1).map_or(0.0, |m| m.0);
            let mut half = |a: f64, b: f64| {
                w += slope * h + c * (2.0 * a + b) * h * h / 6.0;
                slope += c * (a + b) * h / 2.0;
                w
            };
            shape[i] = half(inner, middle);
            half(middle, outer);
        }
    })
}

/// Lowest frequency in torsion of a shaft held at its root, rad/s; None without inertia or where a stiffness is missing.
///
/// **Source:** as [`lowest_bending_rad_s`], `dth/dy = T/GJ`. **Valid for:** free warping.
pub fn lowest_torsion_rad_s(cells: &[Cell]) -> Option<f64> {
    lowest(cells, |cells, load, shape| {
        let mut torque: f64 = load.iter().sum();
        let mut twist = 0.0;
        for (i, c) in cells.iter().enumerate() {
            let h = 0.5 * c.length_m * c.compliance;
            twist += torque * h;
            shape[i] = twist;
            torque -= load[i];
            twist += torque * h;
        }
    })
}

/// The least root of `K x = w^2 M x` by inverse iteration; `flex` fills the shape that a load at the middles gives.
fn lowest(cells: &[Cell], flex: impl Fn(&[Cell], &[f64], &mut [f64])) -> Option<f64> {
    let sound = |c: &Cell| c.compliance.is_finite() && c.compliance > 0.0 && c.inertia >= 0.0 && c.length_m > 0.0;
    if !cells.iter().all(sound) || cells.iter().all(|c| c.inertia <= 0.0) {
        return None;
    }
    let mut at = 0.0;
    let mut shape: Vec<f64> = cells
        .iter()
        .map(|c| {
            at += c.length_m;
            at
        })
        .collect();
    let mut load = vec![0.0; cells.len()];
    let mut found = 0.0;
    for _ in 0..TURNS {
        for ((p, c), w) in load.iter_mut().zip(cells).zip(&shape) {
            *p = c.inertia * w;
        }
        flex(cells, &load, &mut shape);
        let work: f64 = load.iter().zip(&shape).map(|(p, w)| p * w).sum();
        let swing: f64 = cells.iter().zip(&shape).map(|(c, w)| c.inertia * w * w).sum();
        let next = work / swing;
        if !next.is_finite() || next <= 0.0 {
            return None;
        }
        let settled = (next - found).abs() <= SETTLED * next;
        found = next;
        if settled {
            break;
        }
        let most = shape.iter().fold(0.0, |a: f64, w| a.max(w.abs()));
        shape.iter_mut().for_each(|w| *w /= most);
    }
    Some(found.sqrt())
}
