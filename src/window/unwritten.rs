//! Why something could not be written, in a coach's words and with what to do: never what the system says, which has
//! numbers and the names of files that nobody knows.

use std::io::ErrorKind;

use super::words::files as words;
use crate::report::clean;
use crate::report::files::Unwritten;

/// What is said of it.
pub fn said(unwritten: &Unwritten) -> String {
    let whole = std::path::absolute(&unwritten.path).unwrap_or(unwritten.path.clone());
    let text = |path: &std::path::Path| clean::line(&path.display().to_string());
    let name = whole.file_name().map(std::path::Path::new).map(text);
    let name = name.unwrap_or_else(|| text(&whole));
    let folder = whole.parent().map_or_else(|| text(&whole), text);
    match unwritten.error.kind() {
        ErrorKind::PermissionDenied => words::not_allowed_to_write(&name, &folder),
        ErrorKind::ReadOnlyFilesystem => words::only_to_be_read(&name, &folder),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => words::the_disk_is_full(&name),
        ErrorKind::NotFound => words::the_folder_is_gone(&name, &folder),
        ErrorKind::NotADirectory | ErrorKind::AlreadyExists => {
            let place = if whole.is_file() {
                text(&whole)
            } else {
                folder
            };
            words::no_folder(&place, &name)
        }
        ErrorKind::IsADirectory => words::a_folder_has_that_name(&name, &folder),
        _ => words::could_not_be_written(&name, &folder),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Error;
    use std::path::PathBuf;

    #[test]
    fn what_cannot_be_written_is_said_without_the_systems_words_and_with_what_to_do() {
        for kind in [
            ErrorKind::PermissionDenied,
            ErrorKind::ReadOnlyFilesystem,
            ErrorKind::StorageFull,
            ErrorKind::NotFound,
            ErrorKind::NotADirectory,
            ErrorKind::IsADirectory,
            ErrorKind::Other,
        ] {
            let said = said(&Unwritten {
                path: PathBuf::from("/plans/friday.ron"),
                error: Error::new(kind, "os error 13 at /plans/.tmpXq3"),
            });
            assert!(said.contains("friday.ron"), "{said}");
            assert!(
                !said.contains("os error") && !said.contains(".tmp"),
                "{said}"
            );
            let does = ["hoose", "Make room"]
                .iter()
                .any(|word| said.contains(word));
            assert!(does, "it does not say what to do: {said}");
        }
    }
}
