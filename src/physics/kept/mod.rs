//! What an evaluation leaves behind for the next one: values kept beside the bits of all they were worked out from.
//!
//! A value is found by a plain function of its inputs ([`Inputs`]) and of nothing else: `work_out` is a function pointer,
//! which can capture nothing, so it sees only what the key was written from. Inputs write their key by taking themselves
//! apart field by field without `..`; a field added later does not compile until it is written. A value worked out from
//! another kept value has that value's stamp in its key ([`Known`]).
//!
//! A new kept part: a struct of all it hangs on with [`Inputs`], a function of that struct, a [`Kept`] (one value) or a
//! [`Row`] (one for each place) in the memory of its module, and that memory in `evaluation::Memory`.

use std::ops::Deref;

pub(crate) use bits::{Bits, Inputs};

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
}

impl<V> Kept<V> {
    /// The value of these inputs: the one kept if it was worked out from the same, worked out otherwise.
    pub(crate) fn of<I: Inputs + ?Sized>(&mut self, inputs: &I, work_out: fn(&I) -> V) -> Known<'_, V> {
        self.asked.clear();
        inputs.put(&mut self.asked);
        if self.stamp == 0 || self.asked != self.from {
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
    fn put(&self, to: &mut Bits) {
        self.stamp.put(to);
    }
}

/// Values of a row of places, each with its own key. Only what was asked for since the row was last begun is kept, so it
/// never holds more than two evaluations asked for.
#[derive(Debug, Default)]
pub(crate) struct Row<V> {
    before: Vec<(Bits, V)>,
    now: Vec<(Bits, V)>,
    /// Where in `before` the next is looked for first: places are mostly asked for in the same order.
    next: usize,
    asked: Bits,
}

impl<V: Clone> Row<V> {
    /// A new evaluation begins.
    pub(crate) fn begin(&mut self) {
        std::mem::swap(&mut self.before, &mut self.now);
        self.now.clear();
        self.next = 0;
    }

    /// The value of these inputs.
    pub(crate) fn of<I: Inputs + ?Sized>(&mut self, inputs: &I, work_out: fn(&I) -> V) -> V {
        self.asked.clear();
        inputs.put(&mut self.asked);
        let same = |kept: &(Bits, V)| kept.0 == self.asked;
        let ahead = self.before.get(self.next..).and_then(|b| b.iter().position(same)).map(|k| k + self.next);
        let found = ahead.or_else(|| self.before.iter().take(self.next).position(same));
        let kept = match found {
            Some(k) => {
                self.next = k + 1;
                let (bits, value) = &mut self.before[k];
                (std::mem::take(bits), value.clone())
            }
            None => (self.asked.clone(), work_out(inputs)),
        };
        let value = kept.1.clone();
        self.now.push(kept);
        value
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Two<'a>(&'a [f64], bool);

    impl Inputs for Two<'_> {
        fn put(&self, to: &mut Bits) {
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
        let mut row = Row::default();
        let ask = |row: &mut Row<f64>, of: &[f64]| {
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
}
