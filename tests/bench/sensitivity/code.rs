//! Numbers that are constants in the code: found in the sources by their form, with the source that
//! their comment names, and made to turn in a copy.

use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::Path;

/// A constant of the model.
#[derive(Clone, Debug)]
pub struct Constant {
    /// Such as `src/sim/eyes.rs`.
    pub file: String,
    pub name: String,
    pub value: String,
    pub source: &'static str,
    public: bool,
}

const FOLDERS: [&str; 2] = ["src/squad", "src/sim"];

/// Constants that are no guesses (exact, computed, read, bounds of rounding), or that play no part in a
/// possession of typical players (walk-throughs, stopwatch numbers, the picture of the light).
const NOT: [(&str, &str); 5] = [
    ("", "FOOT"),
    ("eyes.rs", "GLANCE_JITTER"),
    ("eyes.rs", "NEVER"),
    ("defenders.rs", "GIVES_WAY"),
    ("defenders.rs", "MAKES_WAY"),
];
const NOT_FILES: [&str; 3] = ["walk.rs", "account.rs", "measured.rs"];

/// Copies a file or a folder with all that is in it.
pub fn copy(from: &Path, to: &Path) {
    if from.is_dir() {
        fs::create_dir_all(to).expect("a folder");
        for entry in fs::read_dir(from).expect("a folder").flatten() {
            copy(&entry.path(), &to.join(entry.file_name()));
        }
    } else if from.is_file() {
        fs::create_dir_all(to.parent().expect("a folder")).expect("a folder");
        fs::copy(from, to).expect("copied");
    }
}

fn sources(root: &Path) -> Vec<(String, String)> {
    fn within(folder: &Path, root: &Path, out: &mut Vec<(String, String)>) {
        let entries = fs::read_dir(folder).expect("a folder of sources");
        let mut paths: Vec<_> = entries.flatten().map(|e| e.path()).collect();
        paths.sort();
        for path in paths {
            if path.is_dir() {
                within(&path, root, out);
            } else if path.extension().is_some_and(|e| e == "rs") {
                let name = path
                    .strip_prefix(root)
                    .expect("inside")
                    .display()
                    .to_string();
                out.push((name, fs::read_to_string(&path).expect("text")));
            }
        }
    }
    let mut out = Vec::new();
    for folder in FOLDERS {
        within(&root.join(folder), root, &mut out);
    }
    out
}

/// The label of a comment, in the words of the house.
fn label(comment: &str) -> &'static str {
    let said = comment.to_lowercase();
    let labels = ["from memory", "common practice", "invented", "ours"];
    labels
        .into_iter()
        .find(|l| said.contains(l))
        .unwrap_or("ours")
}

/// Name, value and whether others may use it, if the line defines a number.
fn definition(line: &str) -> Option<(String, String, bool)> {
    let start = line.find("const ")?;
    let head = &line[..start];
    if !(head.is_empty() || head.starts_with("pub")) {
        return None;
    }
    let (name, rest) = line[start + 6..].split_once(": ")?;
    let value = rest
        .strip_prefix("f64 = ")
        .or(rest.strip_prefix("(f64, f64) = "))?;
    let value = value.split(';').next()?.to_owned();
    Some((name.to_owned(), value, !head.is_empty()))
}

/// Every constant that is turned, in order of file and line.
pub fn constants(root: &Path) -> Vec<Constant> {
    let mut found = Vec::new();
    for (file, text) in sources(root) {
        let last = file.rsplit('/').next().unwrap_or_default().to_owned();
        if NOT_FILES.contains(&last.as_str()) {
            continue;
        }
        let (mut comment, mut in_comment) = (String::new(), false);
        for line in text.lines() {
            if line.starts_with("#[cfg(test)]") {
                break;
            }
            if let Some(said) = line.strip_prefix("///") {
                if !in_comment {
                    comment.clear();
                }
                in_comment = true;
                comment += said;
                continue;
            }
            in_comment = false;
            let Some((name, value, public)) = definition(line) else {
                continue;
            };
            // Bounds of rounding, such as 1e-9.
            if value.contains("e-") {
                continue;
            }
            if !NOT
                .iter()
                .any(|(f, n)| *n == name && (f.is_empty() || *f == last))
            {
                found.push(Constant {
                    file: file.clone(),
                    name,
                    value,
                    source: label(&comment),
                    public,
                });
            }
        }
    }
    found
}

/// In the copy under `root`, every use of a constant asks first whether it is turned.
pub fn let_turn(root: &Path, constants: &[Constant]) {
    for (file, text) in sources(root) {
        let mut text = text;
        for (number, constant) in constants.iter().enumerate() {
            let own = constant.file == file;
            let defined = text
                .lines()
                .any(|l| definition(l).is_some_and(|d| d.0 == constant.name));
            if own || constant.public && !defined {
                text = uses_turned(&text, number, constant, own);
            }
        }
        fs::write(root.join(&file), text).expect("written");
    }
    let values = super::data::KNOBS.len() + super::model::numbers().len();
    let turning = TURNING.replace("OF_THE_VALUES", &values.to_string());
    let again = "pub use lanelight_play::turn;".to_string();
    for (library, more) in [("src/play.rs", turning), ("src/lib.rs", again)] {
        let library = root.join(library);
        let text = fs::read_to_string(&library).expect("text");
        fs::write(library, format!("{text}\n{more}\n")).expect("written");
    }
}

/// Which constants are used nowhere in the copy in a way that turns: such as only in other constants.
pub fn never_used(root: &Path, constants: &[Constant]) -> Vec<bool> {
    let all: String = sources(root).into_iter().map(|(_, text)| text).collect();
    let used = |i: usize| all.contains(&format!("crate::turn::turned({i}, "));
    (0..constants.len()).map(|i| !used(i)).collect()
}

/// The texts of a file, or of all files of a folder.
fn texts(path: &Path) -> Vec<String> {
    if path.is_file() {
        return vec![fs::read_to_string(path).expect("text")];
    }
    let entries = fs::read_dir(path).expect("a folder of sources");
    let mut paths: Vec<_> = entries.flatten().map(|e| e.path()).collect();
    paths.sort();
    paths.iter().flat_map(|path| texts(path)).collect()
}

/// A number that is another one if any source is.
pub fn fingerprint(root: &Path) -> u64 {
    let mut hasher = DefaultHasher::new();
    sources(root).hash(&mut hasher);
    for layer in [
        "assets/model.ron",
        "src/ball",
        "src/body",
        "src/looks",
        "src/model",
    ] {
        texts(&root.join(layer)).hash(&mut hasher);
    }
    hasher.finish()
}

/// The copy's packages are of their own, without a program, so that what is built of it does not take the
/// place of what is built of the original.
pub fn of_its_own(root: &Path) {
    let _ = fs::remove_file(root.join("src/main.rs"));
    let _ = fs::remove_dir_all(root.join("src/commands"));
    let edit = |name: &str, old: &str, new: &str| {
        let path = root.join(name);
        let text = fs::read_to_string(&path).expect("text");
        assert!(text.contains(old), "{name} has no {old:?}");
        fs::write(path, text.replacen(old, new, 1)).expect("written");
    };
    let version = env!("CARGO_PKG_VERSION");
    let own = format!("[workspace.package]\nversion = \"{version}");
    edit("Cargo.toml", &own, &format!("{own}-turned"));
    for package in ["lanelight", "lanelight-play"] {
        let own = format!("name = \"{package}\"\nversion = \"{version}");
        edit("Cargo.lock", &own, &format!("{own}-turned"));
    }
    let program = "[[bin]]\nname = \"lanelight\"\npath = \"src/main.rs\"\n";
    edit("Cargo.toml", program, "");
}

/// A text with every use of one constant wrapped.
fn uses_turned(text: &str, number: usize, constant: &Constant, own: bool) -> String {
    let stem = constant
        .file
        .trim_end_matches("/mod.rs")
        .trim_end_matches(".rs");
    let module = stem.rsplit('/').next().unwrap_or_default();
    let mut imported = own;
    let mut in_use = false;
    let mut out = String::with_capacity(text.len() + 256);
    for line in text.lines() {
        in_use |=
            line.trim_start().starts_with("use ") || line.trim_start().starts_with("pub use ");
        let word = |c: char| c.is_alphanumeric() || c == '_';
        if in_use {
            imported |= line.split(|c| !word(c)).any(|w| w == constant.name);
            in_use = !line.contains(';');
            out += line;
        } else if line.trim_start().starts_with("//")
            || definition(line).is_some()
            || line.contains("const ")
        {
            out += line;
        } else {
            let mut rest = line;
            while let Some(at) = rest.find(&constant.name) {
                let end = at + constant.name.len();
                let path = |c: char| word(c) || c == ':';
                let start = rest[..at].rfind(|c| !path(c)).map_or(0, |i| {
                    i + rest[i..].chars().next().map_or(1, char::len_utf8)
                });
                let before = &rest[start..at];
                let whole = !rest[end..].starts_with(word) && !before.ends_with(word);
                let meant = if before.is_empty() {
                    imported
                } else {
                    before.ends_with(&format!("{module}::"))
                };
                if whole && meant {
                    out += &rest[..start];
                    out += &format!("crate::turn::turned({number}, {})", &rest[start..end]);
                } else {
                    out += &rest[..end];
                }
                rest = &rest[end..];
            }
            out += rest;
        }
        out.push('\n');
    }
    out
}

/// What the copy has besides.
const TURNING: &str = r#"
/// Numbers turned from outside.
pub mod turn {
    use std::sync::OnceLock;

    /// How many numbers are data or stand in the model.
    const OF_VALUES: usize = OF_THE_VALUES;

    pub trait Turn {
        fn by(self, factor: f64) -> Self;
    }
    impl Turn for f64 {
        fn by(self, factor: f64) -> f64 {
            self * factor
        }
    }
    impl Turn for (f64, f64) {
        fn by(self, factor: f64) -> (f64, f64) {
            (self.0 * factor, self.1 * factor)
        }
    }

    /// By what each constant is multiplied: the signs after those of data and model.
    fn factors() -> &'static [f64] {
        static FACTORS: OnceLock<Vec<f64>> = OnceLock::new();
        FACTORS.get_or_init(|| {
            let text = std::env::var("LANELIGHT_TURN").unwrap_or_default();
            let signs = text.chars().skip(OF_VALUES);
            signs
                .map(|c| match c {
                    '-' => 0.8,
                    '+' => 1.2,
                    _ => 1.0,
                })
                .collect()
        })
    }

    #[inline]
    pub fn turned<T: Turn>(number: usize, value: T) -> T {
        value.by(factors().get(number).copied().unwrap_or(1.0))
    }
}
"#;
