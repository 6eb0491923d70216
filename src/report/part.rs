//! A part of a scrimmage in a file, so that other machines can play the other parts: who plays whom,
//! which seeds, and then the row of every possession, from which the whole is added up in order of
//! seed exactly as one run would have done it.
//!
//! The first line is the [`Head`] as JSON, for people as well; then comes each row (postcard) after
//! its length (4 bytes, little-endian), then a length of nought and a check sum (FNV-1a, 64 bit) of
//! everything before it. A file that was cut off or changed is therefore known for one.

use std::fs::File;
use std::io::{self, BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::checksum::Checksum;
use crate::court::Units;
use crate::scenario::Scenario;
use crate::scrimmage::Row;

use super::Heading;

/// The first words of a part file, and the number of its layout.
const LAYOUT: u32 = 1;
/// A row longer than this is none, bytes.
const LONGEST_ROW: u32 = 1 << 20;
/// Most missing parts that are named.
const MOST_NAMED: usize = 20;
/// A first line longer than this is none, bytes.
const LONGEST_HEAD: u64 = 1 << 20;

/// What a part is a part of.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Head {
    lanelight_part: u32,
    /// Version of the program that played it.
    pub version: String,
    /// Which part, from 1, of how many.
    pub part: u32,
    /// How many parts the whole has.
    pub of: u32,
    /// Seed of the first possession of the whole, and how many it has.
    pub first_seed: u64,
    /// Possessions of the whole.
    pub possessions: u64,
    /// Tells scenarios apart that have the same names.
    pub scenario_sum: String,
    /// Who plays what against whom.
    pub heading: Heading,
    /// The units of the court.
    pub units: Units,
}

/// Why a part cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum Unusable {
    /// The file cannot be opened or read.
    #[error("cannot read {}: {error}", path.display())]
    Unread {
        /// The file.
        path: PathBuf,
        /// What the system says.
        error: io::Error,
    },
    /// The file is something else.
    #[error("{} is not a part of a scrimmage", path.display())]
    NotOne {
        /// The file.
        path: PathBuf,
    },
    /// The file does not end as it should, or its contents do not match its checksum.
    #[error("{} was cut off or changed: play that part again", path.display())]
    Broken {
        /// The file.
        path: PathBuf,
    },
    /// The parts are not those of one scrimmage, or some are missing; in words.
    #[error("{}", .0)]
    DoNotFit(String),
}

/// The seeds of part `part` of `of`: the first, and how many. Parts differ by at most one possession.
pub fn seeds(first_seed: u64, possessions: u64, part: u32, of: u32) -> (u64, u64) {
    let edge = |k: u32| (u128::from(possessions) * u128::from(k) / u128::from(of)) as u64;
    let (from, to) = (edge(part - 1), edge(part));
    (first_seed + from, to - from)
}

impl Head {
    /// The head of part `part` of `of`.
    pub fn new(
        scenario: &Scenario,
        heading: Heading,
        (first_seed, possessions): (u64, u64),
        (part, of): (u32, u32),
    ) -> Head {
        // What is played, without what was said about the file.
        let played = Scenario {
            warnings: Vec::new(),
            ..scenario.clone()
        };
        let mut sum = Checksum::default();
        sum.add(format!("{played:?}").as_bytes());
        Head {
            lanelight_part: LAYOUT,
            version: env!("CARGO_PKG_VERSION").to_string(),
            part,
            of,
            first_seed,
            possessions,
            scenario_sum: format!("{:016x}", sum.value()),
            heading,
            units: scenario.court.units,
        }
    }

    /// First seed and number of possessions of this part.
    pub fn seeds(&self) -> (u64, u64) {
        seeds(self.first_seed, self.possessions, self.part, self.of)
    }

    fn makes_sense(&self) -> bool {
        self.lanelight_part == LAYOUT
            && (1..=self.of).contains(&self.part)
            && self.possessions >= u64::from(self.of)
            && self.first_seed.checked_add(self.possessions).is_some()
    }
}

/// A part file on its way.
pub struct Writer<W: Write> {
    out: W,
    sum: Checksum,
}

impl<W: Write> Writer<W> {
    /// Starts with the head.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn start(out: W, head: &Head) -> io::Result<Self> {
        let mut writer = Writer {
            out,
            sum: Checksum::default(),
        };
        let mut line = serde_json::to_vec(head)?;
        line.push(b'\n');
        writer.put(&line)?;
        Ok(writer)
    }

    /// Adds the next possession.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn add(&mut self, row: &Row) -> io::Result<()> {
        let bytes = postcard::to_stdvec(row).map_err(io::Error::other)?;
        self.put(&(bytes.len() as u32).to_le_bytes())?;
        self.put(&bytes)
    }

    /// Closes with the check sum and gives back what was written to.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn finish(mut self) -> io::Result<W> {
        self.put(&0_u32.to_le_bytes())?;
        let sum = self.sum.value().to_le_bytes();
        self.out.write_all(&sum)?;
        Ok(self.out)
    }

    fn put(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.sum.add(bytes);
        self.out.write_all(bytes)
    }
}

/// A part file that is read row by row.
pub struct Reader {
    /// What the file's first line says.
    pub head: Head,
    path: PathBuf,
    file: BufReader<File>,
    sum: Checksum,
    next: u64,
    left: u64,
}

impl Reader {
    /// Opens a part and reads its head.
    ///
    /// # Errors
    /// If it cannot be read or is no part of a scrimmage.
    pub fn open(path: &Path) -> Result<Reader, Unusable> {
        let unread = |error| Unusable::Unread {
            path: path.to_path_buf(),
            error,
        };
        let not_one = || Unusable::NotOne {
            path: path.to_path_buf(),
        };
        let mut file = BufReader::new(File::open(path).map_err(unread)?);
        let mut line = Vec::new();
        (&mut file)
            .take(LONGEST_HEAD)
            .read_until(b'\n', &mut line)
            .map_err(unread)?;
        let head: Head = serde_json::from_slice(&line).map_err(|_| not_one())?;
        if !head.makes_sense() {
            return Err(not_one());
        }
        let mut sum = Checksum::default();
        sum.add(&line);
        let (next, left) = head.seeds();
        Ok(Reader {
            head,
            path: path.to_path_buf(),
            file,
            sum,
            next,
            left,
        })
    }

    /// The next possession; `None` once all are read and the check sum is right.
    ///
    /// # Errors
    /// If the file was cut off or changed.
    pub fn row(&mut self) -> Result<Option<Row>, Unusable> {
        let broken = Unusable::Broken {
            path: self.path.clone(),
        };
        match self.read() {
            Ok(row) => Ok(row),
            Err(_) => Err(broken),
        }
    }

    fn read(&mut self) -> io::Result<Option<Row>> {
        let wrong = || io::Error::from(io::ErrorKind::InvalidData);
        let mut four = [0; 4];
        self.file.read_exact(&mut four)?;
        self.sum.add(&four);
        let length = u32::from_le_bytes(four);
        if length == 0 {
            let mut eight = [0; 8];
            self.file.read_exact(&mut eight)?;
            let whole = self.left == 0
                && u64::from_le_bytes(eight) == self.sum.value()
                && self.file.fill_buf()?.is_empty();
            return if whole { Ok(None) } else { Err(wrong()) };
        }
        if length > LONGEST_ROW || self.left == 0 {
            return Err(wrong());
        }
        let mut bytes = vec![0; length as usize];
        self.file.read_exact(&mut bytes)?;
        self.sum.add(&bytes);
        let row: Row = postcard::from_bytes(&bytes).map_err(|_| wrong())?;
        if row.seed != self.next {
            return Err(wrong());
        }
        self.next += 1;
        self.left -= 1;
        Ok(Some(row))
    }
}

/// The parts in their order, if they are all there and belong together.
///
/// # Errors
/// If one is missing or there twice, or if they are not of the same scrimmage and version.
pub fn in_order(mut parts: Vec<Reader>) -> Result<Vec<Reader>, Unusable> {
    parts.sort_by_key(|p| p.head.part);
    let misfit = |said: String| Err(Unusable::DoNotFit(said));
    let Some(first) = parts.first() else {
        return misfit("no part was given".into());
    };
    let here = env!("CARGO_PKG_VERSION");
    let (name, head) = (first.path.display().to_string(), first.head.clone());
    for p in &parts {
        let path = p.path.display();
        if p.head.version != here {
            let theirs = super::clean::line(&p.head.version);
            return misfit(format!(
                "{path} was played by version {theirs}, this is {here}: play all parts with one version"
            ));
        }
        if p.head.scenario_sum != head.scenario_sum || p.head.heading != head.heading {
            return misfit(format!(
                "{path} and {name} are of different scenarios, offences, defences or squads"
            ));
        }
        let whole = |h: &Head| (h.first_seed, h.possessions);
        if whole(&p.head) != whole(&head) {
            return misfit(format!(
                "{path} and {name} are of scrimmages with other seeds"
            ));
        }
        if p.head.of != head.of {
            return misfit(format!(
                "{path} is one of {} parts, {name} one of {}",
                p.head.of, head.of
            ));
        }
    }
    for two in parts.windows(2) {
        if two[0].head.part == two[1].head.part {
            let (a, b) = (two[0].path.display(), two[1].path.display());
            return misfit(format!("{a} and {b} are both part {}", two[0].head.part));
        }
    }
    // A few of them will do: a spoilt file may say that there are billions.
    let missing: Vec<String> = (1..=head.of)
        .filter(|k| parts.binary_search_by_key(k, |p| p.head.part).is_err())
        .map(|k| k.to_string())
        .take(MOST_NAMED + 1)
        .collect();
    match missing.as_slice() {
        [] => Ok(parts),
        [one] => misfit(format!("part {one} of {} is missing", head.of)),
        many if many.len() > MOST_NAMED => misfit(format!(
            "parts {} and more of {} are missing",
            many[..MOST_NAMED].join(", "),
            head.of
        )),
        many => misfit(format!(
            "parts {} of {} are missing",
            many.join(", "),
            head.of
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::possession;

    fn written(part: u32, of: u32) -> (Head, Vec<u8>) {
        let scenario = Scenario::demo();
        let heading = Heading::of(&scenario, &[]);
        let head = Head::new(&scenario, heading, (1, 10), (part, of));
        let (first, count) = head.seeds();
        let mut writer = Writer::start(Vec::new(), &head).unwrap();
        for seed in first..first + count {
            writer.add(&Row::of(&possession(seed))).unwrap();
        }
        (head, writer.finish().unwrap())
    }

    fn read(bytes: &[u8]) -> Result<Vec<Row>, Unusable> {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("part");
        std::fs::write(&path, bytes).unwrap();
        let mut reader = Reader::open(&path)?;
        let mut rows = Vec::new();
        while let Some(row) = reader.row()? {
            rows.push(row);
        }
        Ok(rows)
    }

    #[test]
    fn parts_take_every_seed_once() {
        for (possessions, of) in [(10, 3), (7, 7), (1_000_000, 11)] {
            let mut next = 5;
            for part in 1..=of {
                let (first, count) = seeds(5, possessions, part, of);
                assert_eq!(first, next);
                assert!(count.abs_diff(possessions / u64::from(of)) <= 1);
                next += count;
            }
            assert_eq!(next, 5 + possessions);
        }
    }

    #[test]
    fn rows_come_back_to_the_last_bit() {
        let (_, bytes) = written(2, 3);
        let rows = read(&bytes).unwrap();
        let (first, count) = seeds(1, 10, 2, 3);
        let played: Vec<Row> = (first..first + count)
            .map(|seed| Row::of(&possession(seed)))
            .collect();
        assert_eq!(rows, played);
    }

    #[test]
    fn a_file_cut_off_or_changed_anywhere_is_refused() {
        let (_, bytes) = written(1, 3);
        for cut in [0, 1, 20, bytes.len() / 2, bytes.len() - 1] {
            assert!(read(&bytes[..cut]).is_err(), "cut off at {cut}");
        }
        let body = bytes.iter().position(|b| *b == b'\n').unwrap();
        for at in (body + 1..bytes.len()).step_by(7) {
            let mut changed = bytes.clone();
            changed[at] ^= 4;
            assert!(read(&changed).is_err(), "changed at {at}");
        }
        let mut longer = bytes.clone();
        longer.push(0);
        assert!(read(&longer).is_err());
    }
}
