//! The run file: one checksummed record for each finished chunk, appended and never changed.
//!
//! The file begins with [`MARK`]. Record: length u32 of what follows the checksum, checksum u64, then the body: hash 16 bytes, chunk u64,
//! cells u32, per cell status u8 + mass u32 + repair u32, then points u32 of the cells that entered the front.
//! Little-endian. A short or damaged tail is cut off on opening; everything before it is kept.

use std::fs::{File, OpenOptions};
use std::io::{Read, Seek, SeekFrom, Write};
use std::path::Path;

use crate::problem::{Problem, io_words};
use crate::scenario::save::may_write;
use crate::survey::cell::{Outcome, Status};

/// First bytes of every run file.
pub const MARK: &[u8; 8] = b"thisrun1";

/// Bytes ahead of a record's body.
const HEAD: usize = 12;
/// The longest body a record may claim; a longer claim is damage.
const LONGEST: usize = 1 << 22;

/// What a run is of: base design, axes, limits, engine. A file of another run is refused.
pub type Fingerprint = [u8; 16];

/// One finished chunk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chunk {
    pub number: u64,
    pub outcomes: Vec<Outcome>,
    /// Cells that entered the front when this chunk was merged, by place in the chunk.
    pub entered: Vec<u32>,
}

/// Body and head of a record.
pub fn encode(chunk: &Chunk, of: &Fingerprint) -> Vec<u8> {
    let mut body = Vec::with_capacity(28 + chunk.outcomes.len() * 9 + chunk.entered.len() * 4 + 4);
    body.extend_from_slice(of);
    body.extend_from_slice(&chunk.number.to_le_bytes());
    body.extend_from_slice(&(chunk.outcomes.len() as u32).to_le_bytes());
    for o in &chunk.outcomes {
        body.push(o.status as u8);
        body.extend_from_slice(&o.mass.to_le_bytes());
        body.extend_from_slice(&o.repair.to_le_bytes());
    }
    body.extend_from_slice(&(chunk.entered.len() as u32).to_le_bytes());
    for e in &chunk.entered {
        body.extend_from_slice(&e.to_le_bytes());
    }
    let mut out = Vec::with_capacity(HEAD + body.len());
    out.extend_from_slice(&(body.len() as u32).to_le_bytes());
    out.extend_from_slice(&checksum(&body).to_le_bytes());
    out.extend_from_slice(&body);
    out
}

fn checksum(body: &[u8]) -> u64 {
    let hash = blake3::hash(body);
    let mut first = [0; 8];
    first.copy_from_slice(&hash.as_bytes()[..8]);
    u64::from_le_bytes(first)
}

/// Little-endian numbers off the front of a slice.
struct Reader<'a>(&'a [u8]);

impl Reader<'_> {
    fn take<const N: usize>(&mut self) -> Option<[u8; N]> {
        let (head, tail) = self.0.split_at_checked(N)?;
        self.0 = tail;
        head.try_into().ok()
    }
    fn u32(&mut self) -> Option<u32> {
        self.take().map(u32::from_le_bytes)
    }
}

fn decode(body: &[u8]) -> Option<(Fingerprint, Chunk)> {
    let mut r = Reader(body);
    let of = r.take::<16>()?;
    let number = u64::from_le_bytes(r.take()?);
    let cells = r.u32()? as usize;
    if cells > body.len() / 9 {
        return None;
    }
    let mut outcomes = Vec::with_capacity(cells);
    for _ in 0..cells {
        let status = Status::from_byte(r.take::<1>()?[0])?;
        outcomes.push(Outcome { status, mass: r.u32()?, repair: r.u32()? });
    }
    let n = r.u32()? as usize;
    let entered: Option<Vec<u32>> = (0..n.min(cells)).map(|_| r.u32()).collect();
    (r.0.is_empty() && n <= cells).then_some((of, Chunk { number, outcomes, entered: entered? }))
}

/// A run file held open and locked.
#[derive(Debug)]
pub struct RunFile {
    file: File,
    since_sync: u32,
    path: std::path::PathBuf,
}

/// Records between syncs; kill -9 needs only the write, power loss the sync.
const SYNC_EVERY: u32 = 32;

impl RunFile {
    /// Open or begin a run file, pass each whole record to `keep`, and cut a torn tail off.
    pub fn open(path: &Path, of: &Fingerprint, mut keep: impl FnMut(Chunk)) -> Result<Self, Problem> {
        let io = |e: std::io::Error| Problem::io(path, io_words(&e));
        may_write(path).map_err(io)?;
        let mut file = OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path).map_err(io)?;
        if file.try_lock().is_err() {
            return Err(Problem::io(
                path,
                "another search is writing this run file; wait for it or name another with --run",
            ));
        }
        let good = scan(&mut file, path, of, &mut keep)?;
        if good == 0 {
            file.set_len(0).map_err(io)?;
            file.seek(SeekFrom::Start(0)).map_err(io)?;
            file.write_all(MARK).map_err(io)?;
        }
        let good = good.max(MARK.len() as u64);
        file.set_len(good).map_err(io)?;
        file.seek(SeekFrom::Start(good)).map_err(io)?;
        Ok(Self { file, since_sync: 0, path: path.to_owned() })
    }

    /// Append one record in a single write.
    pub fn append(&mut self, chunk: &Chunk, of: &Fingerprint) -> Result<(), Problem> {
        let io = |e: std::io::Error| Problem::io(&self.path, io_words(&e));
        self.file.write_all(&encode(chunk, of)).map_err(io)?;
        self.since_sync += 1;
        if self.since_sync >= SYNC_EVERY {
            self.since_sync = 0;
            self.file.sync_data().map_err(io)?;
        }
        Ok(())
    }

    /// Make sure all is on the disk.
    pub fn finish(&mut self) -> Result<(), Problem> {
        self.file.sync_all().map_err(|e| Problem::io(&self.path, io_words(&e)))
    }
}

/// Read a run file without locking or changing it.
pub fn read(path: &Path, of: &Fingerprint, mut keep: impl FnMut(Chunk)) -> Result<(), Problem> {
    let mut file = File::open(path).map_err(|e| Problem::io(path, io_words(&e)))?;
    scan(&mut file, path, of, &mut keep).map(|_| ())
}

/// Bytes of whole, undamaged records from the start. A first whole record of another run is refused.
fn scan(file: &mut File, path: &Path, of: &Fingerprint, keep: &mut impl FnMut(Chunk)) -> Result<u64, Problem> {
    let mut input = std::io::BufReader::new(file);
    let mut first = Vec::new();
    input.by_ref().take(MARK.len() as u64).read_to_end(&mut first).map_err(|e| Problem::io(path, io_words(&e)))?;
    if !MARK.starts_with(&first) {
        return Err(Problem {
            kind: crate::problem::ProblemKind::Input,
            file: Some(path.to_owned()),
            place: None,
            what: "this is not a run file of a search".to_owned(),
            next: "name another with --run; nothing was written to it".to_owned(),
        });
    }
    if first.len() < MARK.len() {
        return Ok(0);
    }
    let mut good = MARK.len() as u64;
    let mut head = [0_u8; HEAD];
    let mut body = Vec::new();
    while input.read_exact(&mut head).is_ok() {
        let mut r = Reader(&head);
        let (Some(length), Some(sum)) = (r.u32().map(|n| n as usize), r.take::<8>().map(u64::from_le_bytes)) else {
            break;
        };
        if length > LONGEST {
            break;
        }
        body.resize(length, 0);
        if input.read_exact(&mut body).is_err() || checksum(&body) != sum {
            break;
        }
        let Some((found, chunk)) = decode(&body) else { break };
        if found != *of {
            return Err(Problem {
                kind: crate::problem::ProblemKind::Input,
                file: Some(path.to_owned()),
                place: None,
                what: "this run file is of another scenario, grid or version".to_owned(),
                next: "name another with --run, or move the old one away".to_owned(),
            });
        }
        good += (HEAD + length) as u64;
        keep(chunk);
    }
    Ok(good)
}
