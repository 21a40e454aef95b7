//! The run itself: chunks in order, cells of a chunk on all cores, one record for each chunk.
//! The same bytes come out whatever the number of threads, and after any number of kills.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Instant;

use rayon::prelude::*;

use crate::mix::limits::Ticks;
use crate::mix::{self, Ask, Start};
use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::problem::Problem;
use crate::survey::cell::{self, Outcome, Status};
use crate::survey::record::{self, Chunk, Fingerprint, RunFile};
use crate::survey::space::Space;

/// Cells in a chunk: what kill -9 can lose.
pub const CHUNK: u64 = 64;

/// Part `k` of `n` of the cells: those whose number leaves `k` when divided by `n`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shard {
    pub k: u64,
    pub n: u64,
}

impl Shard {
    /// The whole.
    pub const WHOLE: Self = Self { k: 0, n: 1 };

    /// Cells of this part.
    pub const fn cells(self, of: u64) -> u64 {
        if self.k >= of { 0 } else { (of - self.k).div_ceil(self.n) }
    }
    const fn id(self, place: u64) -> u64 {
        self.k + place * self.n
    }
}

/// A design on the front.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Point {
    pub mass: u32,
    pub repair: u32,
    pub cell: u64,
}

/// What is known so far.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Found {
    /// Lightest first; each later one takes fewer repair hours.
    pub front: Vec<Point>,
    /// How many cells ended with each [`Status`].
    pub counts: [u64; Status::ALL.len()],
    pub cells_done: u64,
}

impl Found {
    /// Take one cell in; true when it enters the front. Ties go to the lower cell number.
    pub fn take(&mut self, id: u64, o: Outcome) -> bool {
        self.counts[o.status as usize] += 1;
        self.cells_done += 1;
        o.status == Status::Within && self.enter(Point { mass: o.mass, repair: o.repair, cell: id })
    }

    fn enter(&mut self, p: Point) -> bool {
        let beaten = |q: &Point| {
            q.mass <= p.mass && q.repair <= p.repair && !(q.mass == p.mass && q.repair == p.repair && q.cell > p.cell)
        };
        if self.front.iter().any(beaten) {
            return false;
        }
        self.front.retain(|q| q.mass < p.mass || q.repair < p.repair);
        let at = self.front.partition_point(|q| *q < p);
        self.front.insert(at, p);
        true
    }

    /// Union of two, as if run together: the same whatever the order, and twice is once for the front.
    #[must_use]
    pub fn merged(mut self, other: &Self) -> Self {
        for (a, b) in self.counts.iter_mut().zip(other.counts) {
            *a += b;
        }
        self.cells_done += other.cells_done;
        for p in &other.front {
            self.enter(*p);
        }
        self
    }
}

/// Progress, for a screen or a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    pub done: u64,
    pub total: u64,
    /// Designs a second in this session.
    pub rate: f64,
    pub time_left_s: f64,
}

/// A search ready to run.
#[derive(Debug, Clone)]
pub struct Plan {
    pub base: Design,
    pub space: Space,
    pub shard: Shard,
    pub run_file: PathBuf,
    pub threads: usize,
    /// What is searched inside each cell: the lightest mix, or nothing (constructions as the dials say).
    pub inside: Option<Ask>,
}

impl Plan {
    /// What this run is of. The debug form of a design shows every bit of every number.
    pub fn fingerprint(&self) -> Fingerprint {
        let mut hash = blake3::Hasher::new();
        hash.update(env!("CARGO_PKG_VERSION").as_bytes());
        hash.update(format!("{:?}", self.base).as_bytes());
        hash.update(format!("{:?}", self.inside).as_bytes());
        for axis in &self.space.axes {
            hash.update(axis.dial.key.as_bytes());
            for v in &axis.values {
                hash.update(&v.to_bits().to_le_bytes());
            }
        }
        hash.update(&self.shard.k.to_le_bytes());
        hash.update(&self.shard.n.to_le_bytes());
        let mut out = [0; 16];
        out.copy_from_slice(&hash.finalize().as_bytes()[..16]);
        out
    }

    /// What every cell starts from, whichever cells come before it: the lightest mix at the scenario's own dials, with every
    /// pair of caps that may be. Nothing where constructions stay as the dials say.
    fn starts(&self) -> Vec<Start> {
        let Some(ask) = &self.inside else { return Vec::new() };
        mix::starts(&self.base, ask, Ticks::LIVE, &Assumptions::default())
    }

    /// The same at the dials of a cell.
    fn at(&self, starts: &[Start], cell: u64) -> Vec<Start> {
        starts.iter().map(|s| Start { design: self.space.design(&s.design, cell), prices: s.prices }).collect()
    }

    fn judge(&self, starts: &[Start], cell: u64) -> Outcome {
        match &self.inside {
            Some(ask) => cell::judge_mix(&self.at(starts, cell), ask),
            None => cell::judge(&self.space.design(&self.base, cell)),
        }
    }

    /// The design of a cell: as the dials say, or the lightest mix there, found again.
    pub fn design(&self, cell: u64) -> Design {
        let as_drawn = || self.space.design(&self.base, cell);
        let Some(ask) = &self.inside else { return as_drawn() };
        let starts = self.at(&self.starts(), cell);
        let found = mix::find_near(&starts, ask, Ticks::LIVE, &Assumptions::default());
        found.ok().and_then(|(m, _)| m.lightest).map_or_else(as_drawn, |r| r.design)
    }

    /// What the run file holds already, without running.
    pub fn show(&self) -> Result<Found, Problem> {
        let mut found = Found::default();
        record::read(&self.run_file, &self.fingerprint(), |c| take_chunk(&mut found, self.shard, &c))?;
        Ok(found)
    }

    /// Run to the end, or until `stop`, resuming what the run file holds. `tell` hears of each chunk.
    pub fn run(&self, stop: &AtomicBool, mut tell: impl FnMut(&Progress, &Found)) -> Result<Found, Problem> {
        let of = self.fingerprint();
        let mut found = Found::default();
        let mut next = 0;
        let mut file = RunFile::open(&self.run_file, &of, |c| {
            next = c.number + 1;
            take_chunk(&mut found, self.shard, &c);
        })?;
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(self.threads)
            .build()
            .map_err(|e| Problem::fault(format!("the worker threads did not start: {e}")))?;
        let total = self.shard.cells(self.space.cells());
        let began = Instant::now();
        let before = found.cells_done;
        let starts = self.starts();
        while next * CHUNK < total && !stop.load(Ordering::Relaxed) {
            let (first, end) = (next * CHUNK, ((next + 1) * CHUNK).min(total));
            let outcomes: Vec<Outcome> = pool.install(|| {
                (0..(end - first) as usize)
                    .into_par_iter()
                    .with_max_len(if self.inside.is_some() { 1 } else { 4 })
                    .map(|i| self.judge(&starts, self.shard.id(first + i as u64)))
                    .collect()
            });
            let entered = (first..end)
                .zip(&outcomes)
                .filter_map(|(place, o)| found.take(self.shard.id(place), *o).then_some((place - first) as u32))
                .collect();
            file.append(&Chunk { number: next, outcomes, entered }, &of)?;
            next += 1;
            let rate = (found.cells_done - before) as f64 / began.elapsed().as_secs_f64().max(1e-6);
            let left = total - found.cells_done;
            tell(&Progress { done: found.cells_done, total, rate, time_left_s: left as f64 / rate.max(1e-9) }, &found);
        }
        file.finish()?;
        Ok(found)
    }
}

fn take_chunk(found: &mut Found, shard: Shard, chunk: &Chunk) {
    for (i, o) in chunk.outcomes.iter().enumerate() {
        found.take(shard.id(chunk.number * CHUNK + i as u64), *o);
    }
}

/// The run file beside a scenario, and of one part of it.
pub fn run_file_beside(scenario: Option<&Path>, shard: Shard) -> PathBuf {
    let stem = scenario.map_or_else(|| PathBuf::from("marram-demo"), |p| p.with_extension(""));
    let mut name = stem.into_os_string();
    if shard == Shard::WHOLE {
        name.push(".run");
    } else {
        name.push(format!(".{}of{}.run", shard.k, shard.n));
    }
    PathBuf::from(name)
}
