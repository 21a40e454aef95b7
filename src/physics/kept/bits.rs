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

impl To for Bits {
    fn word(&mut self, word: u64) {
        self.words.push(word);
    }
    fn library(&mut self, library: &Arc<Library>) {
        self.libraries.push(Arc::clone(library));
    }
}

/// The bits of a few inputs, `N` words at most; what is longer is the same as nothing.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Few<const N: usize> {
    words: [u64; N],
    length: usize,
}

impl<const N: usize> Default for Few<N> {
    fn default() -> Self {
        Self { words: [0; N], length: 0 }
    }
}

impl<const N: usize> PartialEq for Few<N> {
    fn eq(&self, other: &Self) -> bool {
        self.length <= N && self.length == other.length && self.words == other.words
    }
}

impl<const N: usize> To for Few<N> {
    fn word(&mut self, word: u64) {
        if let Some(slot) = self.words.get_mut(self.length) {
            *slot = word;
        }
        self.length += 1;
    }
    fn library(&mut self, _: &Arc<Library>) {
        self.length = N + 1;
    }
}

/// Where inputs are written to.
pub(crate) trait To {
    fn word(&mut self, word: u64);
    fn library(&mut self, library: &Arc<Library>);
}

/// Something a kept value is worked out from, and nothing it is worked out from left out.
pub(crate) trait Inputs {
    /// Write every bit of it. Take a struct apart without `..`, so that none of its fields can be forgotten.
    fn put<T: To>(&self, to: &mut T);
}

impl Inputs for u64 {
    fn put<T: To>(&self, to: &mut T) {
        to.word(*self);
    }
}

impl Inputs for f64 {
    fn put<T: To>(&self, to: &mut T) {
        to.word(self.to_bits());
    }
}

impl Inputs for usize {
    fn put<T: To>(&self, to: &mut T) {
        to.word(*self as u64);
    }
}

impl Inputs for u128 {
    fn put<T: To>(&self, to: &mut T) {
        to.word(*self as u64);
        to.word((*self >> 64) as u64);
    }
}

impl Inputs for u32 {
    fn put<T: To>(&self, to: &mut T) {
        to.word(u64::from(*self));
    }
}

impl Inputs for u16 {
    fn put<T: To>(&self, to: &mut T) {
        to.word(u64::from(*self));
    }
}

impl Inputs for bool {
    fn put<T: To>(&self, to: &mut T) {
        to.word(u64::from(*self));
    }
}

impl Inputs for str {
    fn put<T: To>(&self, to: &mut T) {
        self.len().put(to);
        for eight in self.as_bytes().chunks(8) {
            let mut word = [0; 8];
            word[..eight.len()].copy_from_slice(eight);
            to.word(u64::from_le_bytes(word));
        }
    }
}

impl Inputs for String {
    fn put<T: To>(&self, to: &mut T) {
        self.as_str().put(to);
    }
}

impl<I: Inputs + ?Sized> Inputs for &I {
    fn put<T: To>(&self, to: &mut T) {
        (**self).put(to);
    }
}

impl<I: Inputs> Inputs for [I] {
    fn put<T: To>(&self, to: &mut T) {
        self.len().put(to);
        self.iter().for_each(|v| v.put(to));
    }
}

impl<I: Inputs, const N: usize> Inputs for [I; N] {
    fn put<T: To>(&self, to: &mut T) {
        self.iter().for_each(|v| v.put(to));
    }
}

impl<I: Inputs> Inputs for Vec<I> {
    fn put<T: To>(&self, to: &mut T) {
        self.as_slice().put(to);
    }
}

impl<I: Inputs> Inputs for Option<I> {
    fn put<T: To>(&self, to: &mut T) {
        self.is_some().put(to);
        self.iter().for_each(|v| v.put(to));
    }
}

impl<A: Inputs, B: Inputs> Inputs for (A, B) {
    fn put<T: To>(&self, to: &mut T) {
        self.0.put(to);
        self.1.put(to);
    }
}

impl Inputs for Arc<Library> {
    fn put<T: To>(&self, to: &mut T) {
        to.library(self);
    }
}
