//! Inputs of a kept value, bit by bit: what makes two askings the same.

use std::sync::Arc;

use crate::physics::material::Library;

/// The bits of some inputs. Numbers that differ only in the sign of nothing differ.
#[derive(Debug, Clone, Default)]
pub(crate) struct Bits {
    words: Vec<u64>,
    /// Libraries are told apart by where they stand; while one is held here nothing else can stand there.
    libraries: Vec<Arc<Library>>,
}

impl PartialEq for Bits {
    fn eq(&self, other: &Self) -> bool {
        self.words == other.words
            && self.libraries.len() == other.libraries.len()
            && self.libraries.iter().zip(&other.libraries).all(|(a, b)| Arc::ptr_eq(a, b))
    }
}

impl Bits {
    pub(crate) fn clear(&mut self) {
        self.words.clear();
        self.libraries.clear();
    }
}

/// Something a kept value is worked out from, and nothing it is worked out from left out.
pub(crate) trait Inputs {
    /// Write every bit of it. Take a struct apart without `..`, so that none of its fields can be forgotten.
    fn put(&self, to: &mut Bits);
}

impl Inputs for u64 {
    fn put(&self, to: &mut Bits) {
        to.words.push(*self);
    }
}

impl Inputs for f64 {
    fn put(&self, to: &mut Bits) {
        to.words.push(self.to_bits());
    }
}

impl Inputs for usize {
    fn put(&self, to: &mut Bits) {
        to.words.push(*self as u64);
    }
}

impl Inputs for u32 {
    fn put(&self, to: &mut Bits) {
        to.words.push(u64::from(*self));
    }
}

impl Inputs for u16 {
    fn put(&self, to: &mut Bits) {
        to.words.push(u64::from(*self));
    }
}

impl Inputs for bool {
    fn put(&self, to: &mut Bits) {
        to.words.push(u64::from(*self));
    }
}

impl Inputs for str {
    fn put(&self, to: &mut Bits) {
        self.len().put(to);
        for eight in self.as_bytes().chunks(8) {
            let mut word = [0; 8];
            word[..eight.len()].copy_from_slice(eight);
            to.words.push(u64::from_le_bytes(word));
        }
    }
}

impl Inputs for String {
    fn put(&self, to: &mut Bits) {
        self.as_str().put(to);
    }
}

impl<T: Inputs + ?Sized> Inputs for &T {
    fn put(&self, to: &mut Bits) {
        (**self).put(to);
    }
}

impl<T: Inputs> Inputs for [T] {
    fn put(&self, to: &mut Bits) {
        self.len().put(to);
        self.iter().for_each(|v| v.put(to));
    }
}

impl<T: Inputs, const N: usize> Inputs for [T; N] {
    fn put(&self, to: &mut Bits) {
        self.iter().for_each(|v| v.put(to));
    }
}

impl<T: Inputs> Inputs for Vec<T> {
    fn put(&self, to: &mut Bits) {
        self.as_slice().put(to);
    }
}

impl<T: Inputs> Inputs for Option<T> {
    fn put(&self, to: &mut Bits) {
        self.is_some().put(to);
        self.iter().for_each(|v| v.put(to));
    }
}

impl<A: Inputs, B: Inputs> Inputs for (A, B) {
    fn put(&self, to: &mut Bits) {
        self.0.put(to);
        self.1.put(to);
    }
}

impl Inputs for Arc<Library> {
    fn put(&self, to: &mut Bits) {
        to.libraries.push(Self::clone(self));
    }
}
