//! Where whole layers of a spar begin and end: what every bay needs made into what a person can lay, from rib to rib.
//!
//! A cap layer runs from the root outwards or from the tip inwards, so that it ends once in a half wing. An extra ply of the web lies over
//! any stretch of bays. Neither leaves out one bay between others, nor covers one alone, but at the root.

/// Layers of a cap, none fewer than asked for: of all ways to lay each from the root outwards or from the tip inwards the lightest, and from
/// the root where two weigh the same. `most` a bay may have; `kg` is what a layer weighs in a bay. Says whether anything was added.
pub(super) fn of_cap(n: &mut [u32], most: impl Fn(usize) -> u32, kg: impl Fn(usize) -> f64) -> bool {
    let rises = |n: &[u32]| (1..n.len()).filter(|k| n[*k] > n[*k - 1]).collect::<Vec<_>>();
    // Layers that run from the tip begin where more are asked for than inward of it: further out they would only be shorter.
    let from_tip = rises(n);
    if from_tip.is_empty() {
        return false;
    }
    let laid = |split: usize| {
        let mut out = n.to_vec();
        let mut above = 0;
        for (bay, here) in out[..split].iter_mut().enumerate().rev() {
            above = above.max(*here);
            *here = above.min(most(bay)).max(*here);
        }
        above = 0;
        for (bay, here) in out.iter_mut().enumerate().skip(split) {
            above = above.max(*here);
            *here = above.min(most(bay)).max(*here);
        }
        close(&mut out, &most);
        let weight: f64 = out.iter().enumerate().map(|(bay, n)| f64::from(*n) * kg(bay)).sum();
        (weight, out)
    };
    let (mut least, mut best) = laid(n.len());
    for split in from_tip.into_iter().rev() {
        let (weight, out) = laid(split);
        if weight < least {
            (least, best) = (weight, out);
        }
    }
    let added = best != n;
    n.copy_from_slice(&best);
    added
}

/// Extra plies of a web, none fewer than asked for: each over a stretch of bays.
pub(super) fn of_web(n: &mut [u32], most: impl Fn(usize) -> u32) {
    close(n, &most);
}

/// Close gaps of one bay, and lengthen what would lie on one bay alone: to the neighbour that has more, inward of two that have as many. A
/// layer of the innermost bay alone stays, it goes on in the other half.
fn close(n: &mut [u32], most: impl Fn(usize) -> u32) {
    let len = n.len();
    let raise = |n: &mut [u32], bay: usize, to: u32| {
        let to = to.min(most(bay));
        let more = to > n[bay];
        n[bay] = n[bay].max(to);
        more
    };
    // Every turn adds a layer or is the last.
    let mut added = true;
    while added {
        added = false;
        for bay in 1..len {
            let (inner, here) = (n[bay - 1], n[bay]);
            let outer = n.get(bay + 1).copied();
            if let Some(outer) = outer.filter(|o| here < inner.min(*o)) {
                added |= raise(n, bay, inner.min(outer));
            } else if here > inner && outer.is_none_or(|o| here > o) {
                let to = if outer.is_some_and(|o| o > inner) { bay + 1 } else { bay - 1 };
                added |= raise(n, to, here);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every profile of so many bays with up to so many layers.
    fn profiles(bays: u32, most: u32) -> impl Iterator<Item = Vec<u32>> {
        (0..(most + 1).pow(bays)).map(move |i| (0..bays).map(|b| i / (most + 1).pow(b) % (most + 1)).collect())
    }

    /// Bays of the runs of a layer.
    fn runs(n: &[u32], layer: u32) -> Vec<(usize, usize)> {
        let mut out: Vec<(usize, usize)> = Vec::new();
        for bay in (0..n.len()).filter(|b| n[*b] >= layer) {
            match out.last_mut() {
                Some(r) if r.1 + 1 == bay => r.1 = bay,
                _ => out.push((bay, bay)),
            }
        }
        out
    }

    /// No bay between others left out, none alone but at the root.
    fn whole(n: &[u32]) -> bool {
        (1..=3).all(|layer| {
            let runs = runs(n, layer);
            runs.windows(2).all(|r| r[1].0 - r[0].1 > 2) && runs.iter().all(|r| r.1 > r.0 || r.0 == 0)
        })
    }

    /// Every layer from the root outwards or from the tip inwards.
    fn one_end(n: &[u32]) -> bool {
        (1..=3).all(|layer| runs(n, layer).iter().all(|r| r.0 == 0 || r.1 + 1 == n.len()))
    }

    #[test]
    fn caps_are_the_lightest_of_all_that_can_be_laid() {
        // Complete enumeration of five bays of up to three layers.
        let kg = |bay: usize| [5.0, 4.0, 3.0, 2.0, 1.0][bay];
        let all: Vec<Vec<u32>> = profiles(5, 3).filter(|n| whole(n) && one_end(n)).collect();
        let weight = |n: &[u32]| n.iter().enumerate().map(|(b, n)| f64::from(*n) * kg(b)).sum::<f64>();
        for asked in profiles(5, 3) {
            let mut got = asked.clone();
            let added = of_cap(&mut got, |_| 3, kg);
            assert_eq!(added, got != asked, "{asked:?}");
            assert!(whole(&got) && one_end(&got), "{asked:?} {got:?}");
            let over = |n: &&Vec<u32>| n.iter().zip(&asked).all(|(n, a)| n >= a);
            let least = all.iter().filter(over).map(|n| weight(n)).fold(f64::INFINITY, f64::min);
            assert!((weight(&got) - least).abs() < 1e-9, "{asked:?} {got:?}");
            let mut again = got.clone();
            assert!(!of_cap(&mut again, |_| 3, kg) && again == got, "{asked:?}");
        }
    }

    #[test]
    fn webs_have_stretches_and_no_more_than_they_need() {
        for asked in profiles(6, 2) {
            let mut got = asked.clone();
            of_web(&mut got, |_| 2);
            assert!(whole(&got) && got.iter().zip(&asked).all(|(g, a)| g >= a), "{asked:?} {got:?}");
            // Nothing goes more than two bays beyond where it is asked for: one to lie on two, one to close what that leaves open.
            for (bay, n) in got.iter().enumerate() {
                let near = &asked[bay.saturating_sub(2)..(bay + 3).min(6)];
                assert!(near.iter().any(|a| a >= n), "{asked:?} {got:?}");
            }
        }
        let mut tip = [0, 0, 0, 0, 0, 8];
        of_web(&mut tip, |_| 8);
        assert_eq!(tip, [0, 0, 0, 0, 8, 8]);
    }

    #[test]
    fn what_is_fixed_stays() {
        let drawn = [3, 1, 2, 0, 4];
        let (mut cap, mut web) = (drawn, drawn);
        assert!(!of_cap(&mut cap, |bay| drawn[bay], |_| 1.0));
        of_web(&mut web, |bay| drawn[bay]);
        assert_eq!((cap, web), (drawn, drawn));
    }
}
