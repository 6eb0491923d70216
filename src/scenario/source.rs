//! A text to be read: from a file on disk, with the limits that keep a hostile file harmless, or
//! embedded.

use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;

use super::problem::{Problem, Problems};
use crate::offence::check::Finding;

/// Largest file that is read, bytes (invented; the longest shipped file has a hundredth of it).
pub const MOST_BYTES: u64 = 1 << 20;

/// A named text.
#[derive(Clone, Debug)]
pub struct Source {
    /// The file as it was named, or the shipped word.
    pub file: String,
    /// Its text, without a byte-order mark.
    pub text: String,
}

impl Source {
    /// A text that is already in memory.
    ///
    /// # Errors
    /// If it is too long.
    pub fn new(file: &str, text: &str) -> Result<Self, Problems> {
        if text.len() as u64 > MOST_BYTES {
            return Err(too_long(file));
        }
        Ok(Source {
            file: file.to_owned(),
            text: text.strip_prefix('\u{feff}').unwrap_or(text).to_owned(),
        })
    }

    /// Reads a file of at most [`MOST_BYTES`].
    ///
    /// # Errors
    /// If it is not there, not a plain file, too long, or not UTF-8.
    pub fn load(path: &Path) -> Result<Self, Problems> {
        let file = path.display().to_string();
        let cannot = |error: std::io::Error| {
            let said = match error.kind() {
                ErrorKind::NotFound => "there is no such file".to_owned(),
                ErrorKind::PermissionDenied => "the file may not be read".to_owned(),
                _ => format!("the file cannot be read: {error}"),
            };
            Problems::from(Problem::with_file(&file, said))
        };
        let metadata = std::fs::metadata(path).map_err(cannot)?;
        if !metadata.is_file() {
            return Err(Problem::with_file(&file, "this is not a file").into());
        }
        if metadata.len() > MOST_BYTES {
            return Err(too_long(&file));
        }
        let mut bytes = Vec::new();
        // The file may have grown meanwhile: read no more than the limit and one byte.
        File::open(path)
            .and_then(|open| open.take(MOST_BYTES + 1).read_to_end(&mut bytes))
            .map_err(cannot)?;
        Self::from_bytes(&file, &bytes)
    }

    /// A text from raw bytes.
    ///
    /// # Errors
    /// If it is too long or not UTF-8.
    pub fn from_bytes(file: &str, bytes: &[u8]) -> Result<Self, Problems> {
        if bytes.len() as u64 > MOST_BYTES {
            return Err(too_long(file));
        }
        match std::str::from_utf8(bytes) {
            Ok(text) => Self::new(file, text),
            Err(error) => {
                let good = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
                let said = "from here on this is not text (UTF-8); save the file as plain text";
                let end = good.len();
                Err(Problem::at(file, &good, end, end, Finding::error("", said)).into())
            }
        }
    }
}

fn too_long(file: &str) -> Problems {
    Problem::with_file(
        file,
        "the file is longer than 1 MiB; no scenario file is that long",
    )
    .into()
}
