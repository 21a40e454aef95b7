//! The loads of all cases turned round, bay by bay: most modes look for the worst case of a place.

use crate::physics::loads::internal::{Loads, Peak};

/// Limit loads of all cases at the inner edge of a bay, each list in the order of [`Here::cases`].
#[derive(Debug, Clone, Copy, Default)]
pub struct Here<'a> {
    /// Index of each into `Loads::cases`.
    pub cases: &'a [usize],
    pub shear_n: &'a [f64],
    pub torque_nm: &'a [f64],
    pub moment_nm: &'a [f64],
    pub inplane_nm: &'a [f64],
}

/// Lists of a bay.
const LISTS: usize = 4;

/// All of them, bay after bay.
#[derive(Debug, Clone, Default)]
pub(super) struct ByBay {
    cases: Vec<usize>,
    all: Vec<f64>,
}

impl ByBay {
    /// The loads on so many bays.
    pub(super) fn of(loads: &Loads, bays: usize) -> Self {
        let mut all = Vec::with_capacity(LISTS * bays * loads.loads.len());
        let lists: Vec<[&[f64]; LISTS]> =
            loads.loads.iter().map(|l| [l.shear_n(), l.torque_nm(), l.moment_nm(), l.inplane_nm()]).collect();
        for bay in 0..bays {
            for which in 0..LISTS {
                all.extend(lists.iter().map(|l| l[which].get(bay).copied().unwrap_or(0.0)));
            }
        }
        // A support between edges: the bay bears what is greatest there.
        let n = loads.loads.len();
        for (case, p) in loads.loads.iter().enumerate().flat_map(|(i, l)| l.peaks.iter().map(move |p| (i, p))) {
            for (which, peak) in [p.shear_n, p.torque_nm, p.moment_nm].into_iter().enumerate() {
                if let Some(at) = all.get_mut((LISTS * p.bay + which) * n + case) {
                    *at = Peak::or(*at, peak);
                }
            }
        }
        Self { cases: loads.loads.iter().map(|l| l.case).collect(), all }
    }

    /// Every case in a bay; none beyond the last.
    pub(super) fn at(&self, bay: usize) -> Here<'_> {
        let n = self.cases.len();
        let Some(here) = self.all.get(LISTS * n * bay..LISTS * n * (bay + 1)) else { return Here::default() };
        let list = |which: usize| &here[which * n..(which + 1) * n];
        Here { cases: &self.cases, shear_n: list(0), torque_nm: list(1), moment_nm: list(2), inplane_nm: list(3) }
    }
}

/// Cases looked at in one go.
const ABREAST: usize = 4;

/// The greatest of the sizes that two loads of each case make, and which it is; nothing, of the first, where none is above
/// nothing.
#[inline]
pub(super) fn greatest(a: &[f64], b: &[f64], size: impl Fn(f64, f64) -> f64) -> (f64, usize) {
    let ((a4, a), (b4, b)) = (a.as_chunks::<ABREAST>(), b.as_chunks::<ABREAST>());
    let mut most = (0.0_f64, 0);
    for (block, (a, b)) in a4.iter().zip(b4).enumerate() {
        let sizes: [f64; ABREAST] = std::array::from_fn(|i| size(a[i], b[i]));
        look(&sizes, block * ABREAST, &mut most);
    }
    for (i, (a, b)) in a.iter().zip(b).enumerate() {
        let v = size(*a, *b);
        if v > most.0 {
            most = (v, a4.len() * ABREAST + i);
        }
    }
    most
}

/// The greatest of the sizes that moment, in-plane moment, shear and torque of each case make, and which it is; nothing, of the
/// first, where none is above nothing.
#[inline]
pub(super) fn hardest(here: &Here, size: impl Fn(f64, f64, f64, f64) -> f64) -> (f64, usize) {
    let n = here.cases.len();
    let lists = [&here.moment_nm[..n], &here.inplane_nm[..n], &here.shear_n[..n], &here.torque_nm[..n]];
    let [(m, m1), (mz, mz1), (v, v1), (t, t1)] = lists.map(|l| l.as_chunks::<ABREAST>());
    let mut most = (0.0_f64, 0);
    for (block, ((m, mz), (v, t))) in m.iter().zip(mz).zip(v.iter().zip(t)).enumerate() {
        let sizes: [f64; ABREAST] = std::array::from_fn(|i| size(m[i], mz[i], v[i], t[i]));
        look(&sizes, block * ABREAST, &mut most);
    }
    for (i, ((m, mz), (v, t))) in m1.iter().zip(mz1).zip(v1.iter().zip(t1)).enumerate() {
        let v = size(*m, *mz, *v, *t);
        if v > most.0 {
            most = (v, n - m1.len() + i);
        }
    }
    most
}

/// The greater of both; the second where either is no number. One instruction, unlike `f64::max`.
#[inline]
pub(super) const fn greater(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

/// Whether any of some sizes, which follow a first, is the greatest so far.
#[inline]
fn look(sizes: &[f64; ABREAST], first: usize, most: &mut (f64, usize)) {
    // Seldom is any of them greater; what is no number is looked at by itself.
    let top = greater(greater(sizes[0], sizes[1]), greater(sizes[2], sizes[3]));
    if top > most.0 || top.is_nan() {
        for (i, v) in sizes.iter().enumerate() {
            if *v > most.0 {
                *most = (*v, first + i);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Here, greatest, hardest};

    #[test]
    fn the_hardest_case_is_found_in_any_number_of_them() {
        for n in [0_usize, 1, 3, 4, 31, 32] {
            let list = |k: usize| (0..n).map(|i| ((i * k + 5) % 23) as f64 - 9.0).collect::<Vec<_>>();
            let (m, mz, v, t, cases) = (list(37), list(11), list(7), list(3), (0..n).collect::<Vec<_>>());
            let here = Here { cases: &cases, shear_n: &v, torque_nm: &t, moment_nm: &m, inplane_nm: &mz };
            let size = |m: f64, mz: f64, v: f64, t: f64| m - 2.0 * mz + (3.0 * v + t).abs();
            let mut plain = (0.0, 0);
            for i in 0..n {
                let s = size(m[i], mz[i], v[i], t[i]);
                if s > plain.0 {
                    plain = (s, i);
                }
            }
            assert_eq!(hardest(&here, size), plain, "{n}");
        }
    }

    #[test]
    fn the_first_of_the_greatest_is_found_in_any_length() {
        for n in [0, 1, 3, 4, 31, 32, 33, 70] {
            let a: Vec<f64> = (0..n).map(|i| f64::from((i * 37 + 5) % 23)).collect();
            let b: Vec<f64> = (0..n).map(|i| f64::from((i * 11) % 7) - 3.0).collect();
            let mut plain = (0.0, 0);
            for (i, (a, b)) in a.iter().zip(&b).enumerate() {
                if (a * b).abs() > plain.0 {
                    plain = ((a * b).abs(), i);
                }
            }
            assert_eq!(greatest(&a, &b, |a, b| (a * b).abs()), plain, "{n}");
        }
        assert_eq!(greatest(&[f64::NAN, 1.0], &[1.0, 1.0], |a, b| a * b), (1.0, 1));
    }
}
