//! Feet or metres: one setting for the window, the terminal, the report, the sheets and the page. It
//! stands in the desk's own folder, where the window keeps it (`metric: true` or `metric: false` in
//! `settings.ron`); without it lengths are as the court's rule book has them.

use std::path::{Path, PathBuf};

use ron::extensions::Extensions;
use serde::Deserialize;

use crate::court::Units;

/// The file of the settings in the desk's folder.
pub const SETTINGS: &str = "settings.ron";
/// Longest file of settings that is read, bytes (ours).
const LONGEST: u64 = 1 << 20;

/// The desk's own folder: `LANELIGHT_DATA` if it is set, else the usual place of the system.
pub fn data_folder() -> PathBuf {
    let var = |name: &str| std::env::var_os(name).filter(|v| !v.is_empty());
    if let Some(own) = var("LANELIGHT_DATA") {
        return own.into();
    }
    let home = || var("HOME").map(PathBuf::from);
    let base = if cfg!(windows) {
        var("APPDATA").map(PathBuf::from)
    } else if cfg!(target_os = "macos") {
        home().map(|h| h.join("Library/Application Support"))
    } else {
        var("XDG_DATA_HOME")
            .map(PathBuf::from)
            .or_else(|| home().map(|h| h.join(".local/share")))
    };
    base.unwrap_or_else(std::env::temp_dir).join("lanelight")
}

/// What of the settings this is about.
#[derive(Deserialize)]
#[serde(default, rename = "Settings")]
#[derive(Default)]
struct Kept {
    metric: Option<bool>,
}

/// The units that are kept in a folder; `None` where nobody has chosen.
pub fn kept(folder: &Path) -> Option<Units> {
    let path = folder.join(SETTINGS);
    let is = std::fs::metadata(&path).ok()?;
    if !is.is_file() || is.len() > LONGEST {
        return None;
    }
    let text = std::fs::read_to_string(&path).ok()?;
    let options = ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
    let kept: Kept = options.from_str(&text).ok()?;
    kept.metric.map(|metric| match metric {
        true => Units::Metric,
        false => Units::Imperial,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_units_of_the_windows_settings_are_read_whatever_else_stands_there() {
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(kept(folder.path()), None);
        for (text, units) in [
            ("(metric: true)", Some(Units::Metric)),
            (
                "#![enable(implicit_some)]\n(type_size: 1.2, metric: false, layers: (light: true), recent: [\"a\"])",
                Some(Units::Imperial),
            ),
            ("(type_size: 1.0, metric: None)", None),
            ("nonsense", None),
        ] {
            std::fs::write(folder.path().join(SETTINGS), text).unwrap();
            assert_eq!(kept(folder.path()), units, "{text}");
        }
    }
}
