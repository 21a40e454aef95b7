//! What an evaluation leaves behind for the next one: values kept beside the bits of all they were worked out from.
//!
//! A value is found by a plain function of its inputs ([`Inputs`]) and of nothing else: `work_out` is a function pointer,
//! which can capture nothing, so it sees only what the key was written from. Inputs write their key by taking themselves
//! apart field by field without `..`; a field added later does not compile until it is written. A value worked out from
//! another kept value has that value's stamp in its key ([`Known`], [`Stamped`]).
//!
//! A new kept part: a struct of all it hangs on with [`Inputs`], a function of that struct, a [`Kept`] (one value) or a
//! [`Row`] (one for each of many places, under a short key; [`Names`] shorten what is long) in the memory of its module, and
//! that memory in `evaluation::Memory`.

use std::ops::Deref;
use std::sync::Arc;

pub(crate) use bits::{Bits, Few, Inputs, To};

mod bits;
mod design;

/// One value, with the bits of what it was worked out from.
#[derive(Debug, Default)]
pub(crate) struct Kept<V> {
    from: Bits,
    value: V,
    /// Times it was worked out; 0: never.
    stamp: u64,
    asked: Bits,
    forgets: bool,
}

impl<V: Default> Kept<V> {
    /// One that works everything out anew, for an evaluation that nothing comes after.
    pub(crate) fn forgetting() -> Self {
        Self { forgets: true, ..Self::default() }
    }
}

impl<V> Kept<V> {
    /// Whether nothing comes after.
    pub(crate) const fn forgets(&self) -> bool {
        self.forgets
    }
    /// The value of these inputs: the one kept if it was worked out from the same, worked out otherwise.
    pub(crate) fn of<I: Inputs + ?Sized>(&mut self, inputs: &I, work_out: fn(&I) -> V) -> Known<'_, V> {
        self.asked.clear();
        if !self.forgets {
            inputs.put(&mut self.asked);
        }
        if self.forgets || self.stamp == 0 || self.asked != self.from {
            self.value = work_out(inputs);
            self.stamp += 1;
            std::mem::swap(&mut self.asked, &mut self.from);
        }
        Known { value: &self.value, stamp: self.stamp }
    }
}

/// A kept value as the input of another: within one memory, the same stamp is the same value.
#[derive(Debug)]
pub(crate) struct Known<'a, V> {
    value: &'a V,
    stamp: u64,
}

impl<V> Clone for Known<'_, V> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<V> Copy for Known<'_, V> {}

impl<V> Deref for Known<'_, V> {
    type Target = V;
    fn deref(&self) -> &V {
        self.value
    }
}

impl<'a, V> Known<'a, V> {
    /// The value for as long as the memory is not asked for it again.
    pub(crate) const fn value(self) -> &'a V {
        self.value
    }
}

impl<V> Inputs for Known<'_, V> {
    fn put<T: To>(&self, to: &mut T) {
        self.stamp.put(to);
    }
}

/// Values of a row of places, each found from no more than `N` words of input. Only what was asked for since the row was
/// last begun is kept, so it never holds more than two evaluations asked for.
#[derive(Debug)]
pub(crate) struct Row<V, const N: usize> {
    before: Vec<(Few<N>, Stamped<V>)>,
    now: Vec<(Few<N>, Stamped<V>)>,
    /// Values worked out so far.
    stamps: u64,
    /// Where in `before` the next is looked for: places are mostly asked for in the order they were asked for before.
    next: usize,
    forgets: bool,
}

/// How far from where it is expected a place is looked for: past what one changed zone moves.
const AROUND: usize = 12;

/// Places that a row makes room for when it does not know better.
const ROOM: usize = 64;

impl<V, const N: usize> Default for Row<V, N> {
    fn default() -> Self {
        Self { before: Vec::new(), now: Vec::new(), stamps: 0, next: 0, forgets: false }
    }
}

impl<V: Clone, const N: usize> Row<V, N> {
    /// One that works everything out anew.
    pub(crate) fn forgetting() -> Self {
        Self { forgets: true, ..Self::default() }
    }

    /// Whether nothing comes after.
    pub(crate) const fn forgets(&self) -> bool {
        self.forgets
    }

    /// A new evaluation begins.
    pub(crate) fn begin(&mut self) {
        if self.forgets {
            return;
        }
        std::mem::swap(&mut self.before, &mut self.now);
        self.now.clear();
        self.now.reserve(self.before.len().max(ROOM));
        self.next = 0;
    }

    /// The value of these inputs.
    pub(crate) fn of<I: Inputs + ?Sized>(&mut self, inputs: &I, work_out: fn(&I) -> V) -> V {
        self.known(inputs, work_out).value
    }

    /// The value of these inputs with its stamp, to be the input of another.
    pub(crate) fn known<I: Inputs + ?Sized>(&mut self, inputs: &I, work_out: fn(&I) -> V) -> Stamped<V> {
        if self.forgets {
            self.stamps += 1;
            return Stamped { value: work_out(inputs), stamp: self.stamps };
        }
        let mut asked = Few::default();
        inputs.put(&mut asked);
        let value = self.found(&asked).unwrap_or_else(|| {
            self.stamps += 1;
            Stamped { value: work_out(inputs), stamp: self.stamps }
        });
        self.now.push((asked, value.clone()));
        value
    }

    fn found(&mut self, asked: &Few<N>) -> Option<Stamped<V>> {
        // Mostly it is the next.
        if let Some((_, value)) = self.before.get(self.next).filter(|kept| kept.0 == *asked) {
            self.next += 1;
            return Some(value.clone());
        }
        let ahead = self.before.iter().enumerate().skip(self.next).take(AROUND);
        let behind = self.before.iter().enumerate().take(self.next).rev().take(AROUND);
        let (k, (_, value)) = ahead.chain(behind).find(|(_, kept)| kept.0 == *asked)?;
        self.next = k + 1;
        Some(value.clone())
    }
}

/// A value of a row as the input of another: within one memory, the same stamp is the same value.
#[derive(Debug, Clone)]
pub(crate) struct Stamped<V> {
    value: V,
    stamp: u64,
}

/// Nothing, under a stamp that no row gives.
impl<T> Default for Stamped<Arc<[T]>> {
    fn default() -> Self {
        Self { value: Arc::from([]), stamp: 0 }
    }
}

impl<V> Deref for Stamped<V> {
    type Target = V;
    fn deref(&self) -> &V {
        &self.value
    }
}

impl<V> Inputs for Stamped<V> {
    fn put<T: To>(&self, to: &mut T) {
        self.stamp.put(to);
    }
}

/// Short names for long inputs: the same name is the same bits, within one memory.
#[derive(Debug, Default)]
pub(crate) struct Names {
    before: Vec<(Bits, u64)>,
    now: Vec<(Bits, u64)>,
    given: u64,
    asked: Bits,
    forgets: bool,
}

impl Names {
    /// One that gives every value a name of its own.
    pub(crate) fn forgetting() -> Self {
        Self { forgets: true, ..Self::default() }
    }

    /// A new evaluation begins: names that nobody asks for until the next are forgotten, and not given again.
    pub(crate) fn begin(&mut self) {
        std::mem::swap(&mut self.before, &mut self.now);
        self.now.clear();
    }

    /// A value under its name.
    pub(crate) fn of<I: Inputs + Copy>(&mut self, value: I) -> Named<I> {
        if self.forgets {
            self.given += 1;
            return Named { value, name: self.given };
        }
        self.asked.clear();
        value.put(&mut self.asked);
        let known = self.now.iter().chain(&self.before).find(|k| k.0 == self.asked).map(|k| k.1);
        let name = known.unwrap_or_else(|| {
            self.given += 1;
            self.given
        });
        if !self.now.iter().any(|k| k.1 == name) {
            self.now.push((self.asked.clone(), name));
        }
        Named { value, name }
    }
}

/// A value with its name, which is all of it that a key holds.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Named<I> {
    value: I,
    name: u64,
}

impl<I> Deref for Named<I> {
    type Target = I;
    fn deref(&self) -> &I {
        &self.value
    }
}

impl<I> Inputs for Named<I> {
    fn put<T: To>(&self, to: &mut T) {
        self.name.put(to);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Two<'a>(&'a [f64], bool);

    impl Inputs for Two<'_> {
        fn put<T: To>(&self, to: &mut T) {
            let Self(list, flag) = self;
            list.put(to);
            flag.put(to);
        }
    }

    fn sum(t: &Two) -> f64 {
        t.0.iter().sum::<f64>() + f64::from(t.1)
    }

    #[test]
    fn a_value_is_worked_out_again_for_any_other_bit() {
        let mut kept = Kept::default();
        let stamp = |k: &mut Kept<f64>, t: &Two| k.of(t, sum).stamp;
        assert_eq!(stamp(&mut kept, &Two(&[1.0, 2.0], false)), 1);
        assert_eq!(stamp(&mut kept, &Two(&[1.0, 2.0], false)), 1);
        assert_eq!(stamp(&mut kept, &Two(&[1.0, 2.0], true)), 2);
        assert_eq!(stamp(&mut kept, &Two(&[1.0], true)), 3);
        assert_eq!(stamp(&mut kept, &Two(&[0.0], true)), 4);
        assert_eq!(stamp(&mut kept, &Two(&[-0.0], true)), 5, "minus nothing is not the same");
        assert_eq!(stamp(&mut kept, &Two(&[f64::NAN], true)), 6);
        assert_eq!(stamp(&mut kept, &Two(&[f64::NAN], true)), 6, "the same bits are");
    }

    #[test]
    fn a_row_keeps_what_moved_to_another_place_and_forgets_the_rest() {
        let mut row = Row::<f64, 3>::default();
        let ask = |row: &mut Row<f64, 3>, of: &[f64]| {
            row.begin();
            of.iter().map(|v| row.of(&Two(&[*v], false), sum)).collect::<Vec<_>>()
        };
        assert_eq!(ask(&mut row, &[1.0, 2.0, 3.0]), [1.0, 2.0, 3.0]);
        assert_eq!(ask(&mut row, &[0.5, 1.0, 3.0, 2.0]), [0.5, 1.0, 3.0, 2.0]);
        assert_eq!((row.before.len(), row.now.len()), (3, 4));
        assert_eq!(ask(&mut row, &[2.0]), [2.0]);
        assert_eq!(ask(&mut row, &[3.0]), [3.0]);
        assert_eq!((row.before.len(), row.now.len()), (1, 1));
    }

    #[test]
    fn what_does_not_fit_its_key_is_worked_out_every_time() {
        let mut row = Row::<f64, 2>::default();
        for (list, expected) in [([1.0, 2.0], 3.0), ([1.0, 5.0], 6.0)] {
            row.begin();
            assert_eq!(row.of(&Two(&list, false), sum), expected);
        }
    }

    #[test]
    fn a_name_is_not_given_to_something_else() {
        let (a, b) = ([1.0, 2.0], [1.0, 3.0]);
        let mut names = Names::default();
        names.begin();
        let first = (names.of(&a[..]).name, names.of(&b[..]).name, names.of(&a[..]).name);
        assert!(first.0 == first.2 && first.0 != first.1);
        names.begin();
        assert_eq!(names.of(&b[..]).name, first.1);
        names.begin();
        assert!(![first.0, first.1].contains(&names.of(&a[..]).name), "forgotten, so named anew");
    }
}
