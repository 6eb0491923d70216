//! Files written whole or not at all: everything goes into a nameless neighbour first, which takes
//! the file's name only once it is complete. `-` is the standard output. What is no file but a pipe
//! or a device is written straight to, and never replaced by a file.

use std::fs::{File, OpenOptions, Permissions};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

/// A file that could not be written.
#[derive(Debug, thiserror::Error)]
#[error("cannot write {}: {error}", path.display())]
pub struct Unwritten {
    /// The file.
    pub path: PathBuf,
    /// What the system says.
    pub error: io::Error,
}

enum Sink {
    File(Box<BufWriter<NamedTempFile>>),
    Straight(BufWriter<File>),
    Screen(BufWriter<io::Stdout>),
}

/// A file on its way.
pub struct Output {
    path: PathBuf,
    sink: Sink,
}

/// Is this the standard output?
pub fn is_screen(path: &Path) -> bool {
    path.as_os_str() == "-"
}

impl Output {
    /// Starts a file. Nothing is to be seen of it at `path` before [`Output::finish`].
    ///
    /// # Errors
    /// If its folder is not there or may not be written to, or if `path` is a folder.
    pub fn start(path: &Path) -> Result<Output, Unwritten> {
        let fail = |error| Unwritten {
            path: path.to_path_buf(),
            error,
        };
        if is_screen(path) {
            let sink = Sink::Screen(BufWriter::new(io::stdout()));
            return Ok(Output {
                path: path.to_path_buf(),
                sink,
            });
        }
        if path.is_dir() {
            return Err(fail(io::Error::new(
                io::ErrorKind::IsADirectory,
                "it is a folder",
            )));
        }
        if std::fs::metadata(path).is_ok_and(|is| !is.is_file()) {
            let open = OpenOptions::new().write(true).open(path).map_err(fail)?;
            return Ok(Output {
                path: path.to_path_buf(),
                sink: Sink::Straight(BufWriter::new(open)),
            });
        }
        let folder = match path.parent() {
            Some(p) if !p.as_os_str().is_empty() => p,
            _ => Path::new("."),
        };
        let mut builder = tempfile::Builder::new();
        builder.prefix(".lanelight-");
        let usual = usual_permissions();
        if let Some(permissions) = &usual {
            builder.permissions(permissions.clone());
        }
        let file = builder.tempfile_in(folder).map_err(fail)?;
        let sink = Sink::File(Box::new(BufWriter::new(file)));
        Ok(Output {
            path: path.to_path_buf(),
            sink,
        })
    }

    /// The file takes its name.
    ///
    /// # Errors
    /// If the rest cannot be written or the name not be taken; nothing is left behind then.
    pub fn finish(self) -> Result<(), Unwritten> {
        self.complete()?.take_name()
    }

    /// All of it is on the disk; only the name is not taken yet. For several files that belong together.
    ///
    /// # Errors
    /// If the rest cannot be written; nothing is left behind then.
    pub fn complete(self) -> Result<Complete, Unwritten> {
        let Output { path, sink } = self;
        let file = match sink {
            Sink::Screen(mut out) => out.flush().map(|()| None),
            Sink::Straight(mut out) => out.flush().map(|()| None),
            Sink::File(file) => match file.into_inner() {
                Ok(whole) => whole.as_file().sync_all().map(|()| Some(whole)),
                Err(e) => Err(e.into_error()),
            },
        };
        match file {
            Ok(file) => Ok(Complete { path, file }),
            Err(error) => Err(Unwritten { path, error }),
        }
    }

    /// What `write` writes becomes the file.
    ///
    /// # Errors
    /// As for [`Output::start`] and [`Output::finish`], or if `write` fails.
    pub fn whole(
        path: &Path,
        write: impl FnOnce(&mut Output) -> io::Result<()>,
    ) -> Result<(), Unwritten> {
        Output::start(path)?.fill(write)
    }

    /// Writes with `write`, then finishes.
    ///
    /// # Errors
    /// As for [`Output::finish`], or if `write` fails.
    pub fn fill(
        mut self,
        write: impl FnOnce(&mut Output) -> io::Result<()>,
    ) -> Result<(), Unwritten> {
        match write(&mut self) {
            Ok(()) => self.finish(),
            Err(error) => Err(Unwritten {
                path: self.path.clone(),
                error,
            }),
        }
    }

    /// Where it will be.
    pub fn path(&self) -> &Path {
        &self.path
    }
}

/// A file that is written and waits for its name.
pub struct Complete {
    path: PathBuf,
    /// None for what was written straight to.
    file: Option<NamedTempFile>,
}

impl Complete {
    /// The file takes its name.
    ///
    /// # Errors
    /// If it cannot; nothing is left behind then.
    pub fn take_name(self) -> Result<(), Unwritten> {
        let Complete { path, file } = self;
        let done = file.map_or(Ok(()), |file| file.persist(&path).map(drop));
        done.map_err(|e| Unwritten {
            path,
            error: e.error,
        })
    }
}

impl Write for Output {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        match &mut self.sink {
            Sink::File(file) => file.write(bytes),
            Sink::Straight(out) => out.write(bytes),
            Sink::Screen(out) => out.write(bytes),
        }
    }

    fn flush(&mut self) -> io::Result<()> {
        match &mut self.sink {
            Sink::File(file) => file.flush(),
            Sink::Straight(out) => out.flush(),
            Sink::Screen(out) => out.flush(),
        }
    }
}

/// What a new file may usually be read and written by (the user's own mask still applies).
#[cfg(unix)]
fn usual_permissions() -> Option<Permissions> {
    use std::os::unix::fs::PermissionsExt;
    Some(Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn usual_permissions() -> Option<Permissions> {
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    #[test]
    fn a_file_is_there_whole_or_not_at_all() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.csv");
        fs::write(&path, "old").unwrap();
        let mut out = Output::start(&path).unwrap();
        out.write_all(b"half").unwrap();
        out.flush().unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "old");
        drop(out);
        let broken = Output::whole(&path, |o| {
            o.write_all(b"half")?;
            Err(io::Error::other("no"))
        });
        assert!(broken.is_err());
        assert_eq!(fs::read_to_string(&path).unwrap(), "old");
        Output::whole(&path, |o| o.write_all(b"new")).unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "new");
        assert_eq!(
            fs::read_dir(folder.path()).unwrap().count(),
            1,
            "nothing is left behind"
        );
    }

    #[test]
    fn a_folder_that_is_not_there_is_said_before_anything_is_played() {
        let folder = tempfile::tempdir().unwrap();
        assert!(Output::start(&folder.path().join("no/such/a.csv")).is_err());
        assert!(Output::start(folder.path()).is_err());
    }
}
