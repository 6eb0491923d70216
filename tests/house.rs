//! How the house is laid out, checked: floors import only from floors above them, every source
//! file says first what it is for, none grows too long, some words never come in, and no text cites a
//! page that is not in the project.

use std::fs;
use std::path::{Path, PathBuf};

/// A source file longer than this is to be split, lines.
const LONGEST: usize = 500;

/// Never in any file of the project, whatever the case of the letters. (Written in two halves, so
/// that they do not stand here either.)
const NEVER: [(&str, &str); 8] = [
    ("trans", "cript"),
    ("you", "tube"),
    ("subs", "crib"),
    ("seed ", "document"),
    // Package registries, and paths of one machine.
    ("crates", ".io"),
    ("pypi", ".org"),
    ("/wo", "rk/"),
    // A paper that is not in the project.
    ("the des", "ign's "),
];

/// A number after this word is a section of a list that is not in the project. (Two halves, as above.)
const SECTION: (&str, &str) = ("sour", "ces");

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn name(path: &Path) -> String {
    let inside = path.strip_prefix(root()).unwrap_or(path);
    inside.to_string_lossy().replace('\\', "/")
}

/// Every file under a folder, in order of name; nothing built and nothing of git's.
fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut entries: Vec<_> = fs::read_dir(folder)
        .expect("the project's folders can be read")
        .map(|entry| entry.expect("an entry").path())
        .collect();
    entries.sort();
    for path in entries {
        let last = path.file_name().unwrap_or_default().to_string_lossy();
        if last == "target" || last == ".git" || last == "Cargo.lock" {
            continue;
        }
        if path.is_dir() {
            found.extend(files(&path));
        } else {
            found.push(path);
        }
    }
    found
}

fn sources() -> Vec<(String, String)> {
    files(&root().join("src"))
        .into_iter()
        .filter(|path| path.extension().is_some_and(|e| e == "rs"))
        .map(|path| (name(&path), fs::read_to_string(&path).expect("source text")))
        .collect()
}

/// The floors from the top down, as `src/play.rs` and `src/lib.rs` list them.
fn floors() -> Vec<String> {
    let list = |file: &str| fs::read_to_string(root().join(file)).expect("list of layers");
    let list = list("src/play.rs") + &list("src/lib.rs");
    list.lines()
        .filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';'))
        .map(str::to_string)
        .collect()
}

/// The word with which a text begins.
fn word(text: &str) -> &str {
    let end = text.find(|c: char| !c.is_alphanumeric() && c != '_');
    &text[..end.unwrap_or(text.len())]
}

/// What a file takes from the top of the crate: `crate::x`, `crate::{x, y::z}`, and `super::x` as
/// often as it takes to get there from `depth` modules down.
fn taken(text: &str, depth: usize) -> Vec<String> {
    let code: Vec<&str> = text
        .lines()
        .map(|line| line.split("//").next().unwrap_or(""))
        .collect();
    let code = code.join("\n");
    let mut found = Vec::new();
    for (at, start) in code.match_indices("crate::") {
        found.extend(firsts(&code[at + start.len()..]));
    }
    let up = "super::".repeat(depth);
    for (at, _) in code.match_indices(&up) {
        found.push(word(&code[at + up.len()..]).to_string());
    }
    found
}

/// The first words of what follows a path: of `x::y` it is `x`, of `{x, y::z}` they are `x` and `y`.
fn firsts(rest: &str) -> Vec<String> {
    let Some(group) = rest.strip_prefix('{') else {
        return vec![word(rest).to_string()];
    };
    let mut found = Vec::new();
    let (mut open, mut first) = (1, true);
    for (i, c) in group.char_indices() {
        match c {
            '{' => open += 1,
            '}' => open -= 1,
            ',' if open == 1 => first = true,
            c if open == 1 && first && !c.is_whitespace() => {
                found.push(word(&group[i..]).to_string());
                first = false;
            }
            _ => {}
        }
        if open == 0 {
            break;
        }
    }
    found
}

#[test]
fn a_floor_imports_only_from_the_floors_above_it() {
    let floors = floors();
    let place = |floor: &str| floors.iter().position(|f| f == floor);
    let mut wrong = Vec::new();
    let mut seen = 0;
    for (file, text) in sources() {
        let parts: Vec<&str> = file.trim_end_matches(".rs").split('/').skip(1).collect();
        let (floor, last) = (parts[0], parts[parts.len() - 1]);
        if ["lib", "main", "commands", "play"].contains(&floor) {
            continue;
        }
        let Some(own) = place(floor) else {
            wrong.push(format!(
                "{file}: its floor is neither in src/play.rs nor in src/lib.rs"
            ));
            continue;
        };
        let depth = parts.len() - usize::from(last == "mod");
        for other in taken(&text, depth) {
            seen += 1;
            if place(&other).is_some_and(|other| other > own) {
                wrong.push(format!(
                    "{file}: imports from {other}, which is below {floor}"
                ));
            }
        }
    }
    assert!(
        seen > 100,
        "only {seen} imports found: the search is broken"
    );
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn an_import_is_found_however_it_is_written() {
    let text = "use crate::court::Vec2;\n\
        use crate::{\n    ball,\n    body::{Body, step},\n    stats::mean as m,\n};\n\
        // use crate::report;\n\
        fn f() -> crate::squad::Level { super::super::looks::x() }";
    let found = taken(text, 2);
    assert_eq!(found, ["court", "ball", "body", "stats", "squad", "looks"]);
    assert!(!taken(text, 3).contains(&"looks".to_string()));
}

/// Modules of `src/sim` that lie on cycles of imports, and the imports among them (24 and 57 before
/// the cycles were cut).
const IN_CYCLES: (usize, usize) = (0, 0);

/// What a file takes from the module that is `depth` modules above its own: `super::x` and `super::{x, y::z}`
/// with just so many `super::`.
fn taken_from_above(code: &str, depth: usize) -> Vec<String> {
    let mut found = Vec::new();
    let up = "super::".repeat(depth);
    for (at, _) in code.match_indices(&up) {
        let rest = &code[at + up.len()..];
        let whole = !code[..at].ends_with("super::") && !rest.starts_with("super::");
        if whole && depth > 0 {
            found.extend(firsts(rest));
        }
    }
    found
}

/// The modules right under `src/sim` (a folder with all its files is one; `mod` is `src/sim/mod.rs`), and
/// which takes something from which.
fn imports_of_the_simulation(sources: &[(String, String)]) -> (Vec<String>, Vec<(usize, usize)>) {
    let path_of = |file: &str| {
        let inside = file.strip_prefix("src/sim/")?.strip_suffix(".rs")?;
        Some(inside.split('/').map(str::to_string).collect::<Vec<_>>())
    };
    let mut modules: Vec<String> = sources
        .iter()
        .filter_map(|(file, _)| Some(path_of(file)?.swap_remove(0)))
        .collect();
    modules.sort();
    modules.dedup();
    let place = |name: &str| modules.iter().position(|m| m == name);
    let root = place("mod").expect("src/sim/mod.rs");
    let mut arrows = Vec::new();
    for (file, text) in sources {
        let Some(path) = path_of(file) else { continue };
        let own = place(&path[0]).expect("a module of its own");
        let code = text.split("#[cfg(test)]").next().unwrap_or_default();
        let code: Vec<&str> = code
            .lines()
            .map(|line| line.split("//").next().unwrap_or(""))
            .collect();
        let code = code.join("\n");
        let mut taken = Vec::new();
        if own == root {
            // It names its children without more ado.
            for (to, name) in modules.iter().enumerate() {
                let named = code.match_indices(&format!("{name}::")).any(|(at, _)| {
                    let before = code[..at].chars().next_back().unwrap_or(' ');
                    !before.is_alphanumeric() && before != '_' && before != ':'
                });
                if named && to != root {
                    taken.push(name.clone());
                }
            }
        } else {
            let depth = path.len() - usize::from(path.last().is_some_and(|last| last == "mod"));
            taken.extend(taken_from_above(&code, depth));
        }
        for (at, start) in code.match_indices("crate::sim::") {
            taken.extend(firsts(&code[at + start.len()..]));
        }
        // What is no module stands in `src/sim/mod.rs`.
        let to = taken.iter().map(|name| place(name).unwrap_or(root));
        arrows.extend(to.filter(|&to| to != own).map(|to| (own, to)));
    }
    arrows.sort_unstable();
    arrows.dedup();
    (modules, arrows)
}

/// The modules that lie on a cycle, in groups of those that reach each other.
fn cycles(modules: usize, arrows: &[(usize, usize)]) -> Vec<Vec<usize>> {
    let mut reaches = vec![vec![false; modules]; modules];
    for &(from, to) in arrows {
        reaches[from][to] = true;
    }
    for by in 0..modules {
        for from in 0..modules {
            for to in 0..modules {
                reaches[from][to] |= reaches[from][by] && reaches[by][to];
            }
        }
    }
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for m in 0..modules {
        if !reaches[m][m] {
            continue;
        }
        match groups
            .iter_mut()
            .find(|g| reaches[m][g[0]] && reaches[g[0]][m])
        {
            Some(group) => group.push(m),
            None => groups.push(vec![m]),
        }
    }
    groups
}

#[test]
fn no_new_cycle_of_imports_comes_into_the_simulation() {
    let (modules, arrows) = imports_of_the_simulation(&sources());
    assert!(
        modules.len() > 20 && arrows.len() > 60,
        "only {} modules and {} imports found: the search is broken",
        modules.len(),
        arrows.len()
    );
    let (mut in_cycles, mut among, mut said) = (0, 0, String::new());
    for group in cycles(modules.len(), &arrows) {
        let names: Vec<&str> = group.iter().map(|&m| modules[m].as_str()).collect();
        said += &format!("\na cycle of {}: {}\n", names.len(), names.join(", "));
        in_cycles += group.len();
        for &from in &group {
            let to: Vec<&str> = arrows
                .iter()
                .filter(|a| a.0 == from && group.contains(&a.1))
                .map(|a| modules[a.1].as_str())
                .collect();
            among += to.len();
            said += &format!("    {} takes from {}\n", modules[from], to.join(", "));
        }
    }
    println!("{said}");
    assert!(
        in_cycles <= IN_CYCLES.0 && among <= IN_CYCLES.1,
        "{in_cycles} modules of src/sim lie on cycles of imports ({} today), with {among} imports \
         among them ({} today): a new import closes a cycle\n{said}",
        IN_CYCLES.0,
        IN_CYCLES.1
    );
}

#[test]
fn a_cycle_of_imports_is_found() {
    let file = |name: &str, text: &str| (format!("src/sim/{name}.rs"), text.to_string());
    let sources = [
        file("mod", "mod a;\nuse a::A;\nuse crate::court::b::B;"),
        file("a", "use super::{\n    b::B,\n    c,\n};\n// use super::d;"),
        file("b/mod", "mod deep;\npub use deep::B;"),
        file("b/deep", "use super::X;\nfn f() { super::super::c::g() }"),
        file("c", "use crate::sim::b;\n#[cfg(test)]\nuse super::a;"),
        file("d", "use super::Y;"),
    ];
    let (modules, arrows) = imports_of_the_simulation(&sources);
    assert_eq!(modules, ["a", "b", "c", "d", "mod"]);
    assert_eq!(arrows, [(0, 1), (0, 2), (1, 2), (2, 1), (3, 4), (4, 0)]);
    assert_eq!(cycles(modules.len(), &arrows), [vec![1, 2]]);
}

#[test]
fn every_source_file_says_first_what_it_is_for() {
    let silent: Vec<String> = sources()
        .into_iter()
        .filter(|(_, text)| !text.starts_with("//! "))
        .map(|(file, _)| file)
        .collect();
    assert!(silent.is_empty(), "no //! line at the top of {silent:?}");
}

#[test]
fn no_source_file_grows_too_long() {
    let long: Vec<String> = sources()
        .into_iter()
        .filter(|(_, text)| text.lines().count() > LONGEST)
        .map(|(file, _)| file)
        .collect();
    assert!(
        long.is_empty(),
        "files of more than {LONGEST} lines: {long:?}"
    );
}

#[test]
fn one_call_is_unsafe_and_says_why_and_the_play_forbids_it() {
    let word = concat!("uns", "afe ");
    let mut calls = Vec::new();
    for (name, text) in sources() {
        let lines: Vec<&str> = text.lines().collect();
        for (i, line) in lines.iter().enumerate() {
            let code = line.split("//").next().unwrap_or_default();
            if code.contains(word) {
                let why = lines[..i].iter().rev().take(3);
                let argued = why.clone().any(|l| l.contains("// SAFETY:"));
                calls.push((name.clone(), argued));
            }
        }
    }
    assert_eq!(calls, [("src/window/surface.rs".to_owned(), true)]);
    for part in ["src/play.rs", "src/main.rs"] {
        let text = fs::read_to_string(root().join(part)).expect("there");
        assert!(text.contains(&format!("#![forbid({}code)]", concat!("uns", "afe_"))));
    }
}

#[test]
fn words_that_never_come_in_stand_nowhere() {
    let mut found = Vec::new();
    let all = files(root());
    assert!(all.len() > 100, "only {} files found", all.len());
    for path in all {
        let bytes = fs::read(&path).expect("a file of the project");
        let text = String::from_utf8_lossy(&bytes).to_lowercase();
        for (a, b) in NEVER {
            if text.contains(&format!("{a}{b}")) {
                found.push(format!("{}: {a}{b}", name(&path)));
            }
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// What a text cites that nobody can look up in the project: pages (names that end in `.md`) that
/// `is_here` does not know, and sections by their number.
fn cited_from_elsewhere(text: &str, is_here: impl Fn(&str) -> bool) -> Vec<String> {
    let mut found = Vec::new();
    for (at, end) in text.match_indices(".md") {
        let after = text[at + end.len()..].chars().next();
        if after.is_some_and(|c| c.is_alphanumeric() || c == '_') {
            continue;
        }
        let other = |c: char| !c.is_ascii_alphanumeric() && !"_-./".contains(c);
        let before = text[..at].rsplit(other).next().unwrap_or_default();
        let page = format!("{before}{end}");
        if !before.is_empty() && !is_here(&page) {
            found.push(page);
        }
    }
    let word = format!("{}{}", SECTION.0, SECTION.1);
    let text = text.to_lowercase();
    for (at, _) in text.match_indices(&word) {
        let rest = &text[at + word.len()..];
        let number = rest.trim_start_matches([',', ' ', '§', '/', '!', '\n']);
        if number.len() < rest.len() && number.starts_with(|c: char| c.is_ascii_digit()) {
            let line = number.lines().next().unwrap_or_default();
            found.push(format!("{word} {line}"));
        }
    }
    found
}

#[test]
fn no_file_cites_a_page_that_is_not_in_the_project() {
    let mut found = Vec::new();
    for path in files(root()) {
        let bytes = fs::read(&path).expect("a file of the project");
        let folder = path.parent().unwrap_or(root());
        let is_here = |page: &str| root().join(page).is_file() || folder.join(page).is_file();
        for cited in cited_from_elsewhere(&String::from_utf8_lossy(&bytes), is_here) {
            found.push(format!("{}: {cited}", name(&path)));
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn a_page_from_elsewhere_is_found_however_it_is_cited() {
    let (page, list) = ("md", format!("{}{}", SECTION.0, SECTION.1));
    let is_here = |page: &str| page == "README.md";
    for (text, cited) in [
        (format!("as plans/speeds.{page} says"), true),
        (format!("(speeds.{page}: 0.3 m)"), true),
        (format!("// {list} 5.3, read"), true),
        (format!("(S{}, 8.2)", &list[1..]), true),
        (format!("/// of {list}\n    /// 3.4, computed"), true),
        ("README.md explains the labels".to_string(), false),
        (format!("`.{page}`, speeds.{page}x"), false),
        (
            format!("three {list}: 4 and 5; {list}5; {list} named here"),
            false,
        ),
    ] {
        let found = cited_from_elsewhere(&text, is_here);
        assert_eq!(found.len(), usize::from(cited), "{text}: {found:?}");
    }
}

/// DEVELOPERS.md is read before the first change, so it stays short: 10 KiB.
#[test]
fn developers_md_stays_short() {
    const MOST: usize = 10_240;
    let bytes = fs::read(root().join("DEVELOPERS.md"))
        .expect("DEVELOPERS.md")
        .len();
    assert!(
        bytes <= MOST,
        "DEVELOPERS.md has {bytes} bytes, {MOST} at most: figures belong in tests/VALIDATION.md \
         and tests/PERFORMANCE.md"
    );
}

/// Words by which a doc comment says what a number is counted in.
const UNITS: [&str; 39] = [
    "possessions",
    "metre",
    "metres",
    "m",
    "mm",
    "ft",
    "inch",
    "inches",
    "m²",
    "seconds",
    "s",
    "minutes",
    "tick",
    "ticks",
    "instants",
    "m/s",
    "m/s²",
    "1/s",
    "rad",
    "radian",
    "radians",
    "rad/s",
    "degrees",
    "kg",
    "kg/m³",
    "points",
    "share",
    "shares",
    "chance",
    "probability",
    "correlation",
    "count",
    "times",
    "factor",
    "ratio",
    "px",
    "pixels",
    "unit",
    "units",
];

/// Does a doc comment name a unit, or say that the number lies from 0 to 1?
fn says_a_unit(doc: &str) -> bool {
    let doc = doc.to_lowercase();
    let range = ["0..=1", "0 to 1", "[0, 1]"]
        .iter()
        .any(|r| doc.contains(r));
    let part = |c: char| !c.is_alphanumeric() && !"/²³'".contains(c);
    range || doc.split(part).any(|word| UNITS.contains(&word))
}

/// Is this the type of a number with a fraction, or of several of them?
fn is_a_number(kind: &str) -> bool {
    let words = kind.split(|c: char| !c.is_alphanumeric() && c != '_');
    let words: Vec<&str> = words.filter(|w| !w.is_empty()).collect();
    let fits = |w: &&str| ["f64", "f32", "Option", "Vec"].contains(w) || w.parse::<u32>().is_ok();
    words.iter().all(fits) && words.iter().any(|w| w.starts_with('f'))
}

/// The public numbers of a file (fields, fields of a public enum's variants, constants) whose docs
/// say no unit: line and name; and how many there are in all. A unit may stand in the doc of the
/// field, of its variant, or of the type, there after "all".
fn without_a_unit(text: &str) -> (Vec<(usize, String)>, usize) {
    let (mut found, mut all) = (Vec::new(), 0);
    let (mut doc, mut owner, mut variant) = (String::new(), String::new(), String::new());
    let mut in_enum = false;
    for (i, line) in text.lines().enumerate() {
        let code = line.trim_start();
        if let Some(said) = code.strip_prefix("///") {
            doc += said;
            continue;
        }
        if code.starts_with("#[") {
            continue;
        }
        let depth = line.len() - code.len();
        if depth == 0 && (code.starts_with("pub struct ") || code.starts_with("pub enum ")) {
            in_enum = code.starts_with("pub enum ");
            owner = format!(" {}", doc.to_lowercase());
        } else if depth == 0 && code.starts_with('}') {
            (in_enum, owner) = (false, String::new());
        } else if in_enum && depth == 4 {
            variant = doc.clone();
        }
        let constant = code.strip_prefix("pub const ");
        let field = code
            .strip_prefix("pub ")
            .or(Some(code).filter(|_| in_enum && depth == 8));
        if let Some((name, kind)) = constant.or(field).and_then(|c| c.split_once(": "))
            && let kind = kind.split(" = ").next().unwrap_or(kind)
            && !name.contains(['(', ' '])
            && is_a_number(kind)
        {
            all += 1;
            let shared = owner.split_once(" all ").map_or("", |(_, after)| after);
            let near = doc.clone() + if in_enum { variant.as_str() } else { "" };
            if !says_a_unit(&near) && !says_a_unit(shared) {
                found.push((i + 1, name.to_string()));
            }
        }
        doc.clear();
    }
    (found, all)
}

#[test]
fn every_public_number_says_its_unit() {
    let mut silent = Vec::new();
    let mut seen = 0;
    for (file, text) in sources() {
        if file.starts_with("src/sim/") || file.starts_with("src/window/") {
            continue;
        }
        let (found, all) = without_a_unit(&text);
        seen += all;
        silent.extend(
            found
                .iter()
                .map(|(line, name)| format!("{file}:{line}: {name}")),
        );
    }
    assert!(
        seen > 150,
        "only {seen} numbers found: the search is broken"
    );
    assert!(silent.is_empty(), "{}", silent.join("\n"));
}

#[test]
fn a_number_without_a_unit_is_found_wherever_it_stands() {
    let text = "/// How fast.\npub const FAST: f64 = 1.0;\n\
        /// How fast, m/s.\npub const FASTER: f64 = 2.0;\n\
        /// Sizes, all in metres.\npub struct Sizes {\n    /// The disc.\n    pub disc: f64,\n}\n\
        /// Sizes in metres.\npub struct Loose {\n    /// The ring.\n    pub ring: Option<f64>,\n    \
        /// Where it is.\n    #[serde(default)]\n    pub at: [f64; 3],\n    \
        /// When, seconds.\n    pub when: f32,\n    /// Not a fraction.\n    pub number: u8,\n}\n\
        /// What happens.\npub enum What {\n    /// A pass.\n    Pass {\n        /// How long.\n        \
        length: f64,\n    },\n    /// A stall, seconds.\n    Stall {\n        /// How long.\n        \
        long: f64,\n    },\n}\n";
    let (found, all) = without_a_unit(text);
    let names: Vec<&str> = found.iter().map(|(_, name)| name.as_str()).collect();
    assert_eq!(names, ["FAST", "ring", "at", "length"]);
    assert_eq!(all, 8);
}

/// Layers and files whose numbers stand in `assets/model.ron`. Not done yet: the rest of `src/sim` (about
/// 180 numbers in 26 files), and `src/squad` but for its shots (what differs by level, stopwatch numbers).
const NUMBERS_MOVED: [&str; 6] = [
    "src/ball/",
    "src/body/",
    "src/looks/",
    "src/squad/shot.rs",
    "src/sim/eyes.rs",
    "src/sim/feet.rs",
];

/// Decimals that say nothing about the game wherever they stand.
const PLAIN: [&str; 5] = ["0.0", "0.5", "1.0", "2.0", "3.0"];

/// Numerics that are written as decimals: the file, what its line holds, and why it is no number of the
/// model.
const NUMERICS: [(&str, &str, &str); 16] = [
    (
        "src/sim/eyes.rs",
        "const GLANCE_JITTER",
        "a draw of whole ticks",
    ),
    ("src/sim/eyes.rs", "const NEVER", "longer than any pass"),
    (
        "src/body/reach.rs",
        "const SMALL_ANGLE",
        "end of an iteration",
    ),
    ("src/body/separate.rs", "const ROOM", "list of near pairs"),
    ("src/body/separate.rs", "const GRAINS", "unit of a sum"),
    ("src/body/step.rs", "squared / 24.0", "series of the cosine"),
    ("src/body/step.rs", "const SURELY", "rounding"),
    ("src/looks/field.rs", "const FINEST", "finest grid"),
    ("src/looks/mod.rs", "const NIL", "end of the logistic"),
    ("src/looks/mod.rs", "const SURE", "end of the logistic"),
    ("src/looks/mod.rs", "const SLACK", "rounding"),
    (
        "src/looks/on_its_way.rs",
        "const SAMPLES",
        "points of a flight that are looked at",
    ),
    ("src/looks/passing.rs", "const THERE", "no way left to lead"),
    (
        "src/squad/shot.rs",
        "const FOOT",
        "exact, by definition of the foot",
    ),
    (
        "src/squad/shot.rs",
        "(5.0, contest.",
        "the room that the name says",
    ),
    (
        "src/squad/shot.rs",
        "clamp(0.0, 100.0)",
        "farther than any court",
    ),
];

/// The decimals of one line of code: `1.5`, `2.0e3`, `4e-6`; no ranges and no fields of tuples.
fn decimals(line: &str) -> Vec<&str> {
    let code = line.split("//").next().unwrap_or_default();
    let bytes = code.as_bytes();
    let digit = |i: usize| {
        bytes
            .get(i)
            .is_some_and(|b| b.is_ascii_digit() || *b == b'_')
    };
    let (mut found, mut i) = (Vec::new(), 0);
    while i < bytes.len() {
        let b = bytes[i];
        if b.is_ascii_alphanumeric() || b == b'_' || b == b'.' {
            let start = i;
            let number = b.is_ascii_digit();
            while digit(i) {
                i += 1;
            }
            let whole = i;
            if number && bytes.get(i) == Some(&b'.') && digit(i + 1) {
                i += 1;
                while digit(i) {
                    i += 1;
                }
            }
            if number && bytes.get(i) == Some(&b'e') {
                i += if bytes.get(i + 1) == Some(&b'-') {
                    2
                } else {
                    1
                };
                while digit(i) {
                    i += 1;
                }
            }
            if number && i > whole {
                found.push(code[start..i].trim_end_matches('_'));
            }
            // A word, a path of fields, or what is left of a number such as `_f64`.
            while i < bytes.len() && (bytes[i].is_ascii_alphanumeric() || b"_.".contains(&bytes[i]))
            {
                i += 1;
                if i < bytes.len() && bytes[i - 1] == b'.' && bytes[i] == b'.' {
                    // A range: its end is a number of its own.
                    i += 1;
                    break;
                }
            }
        } else {
            i += 1;
        }
    }
    found
}

/// What is no bound of rounding and none of the plain decimals: `1e-9` is one, `0.3` is not.
fn is_of_the_model(decimal: &str) -> bool {
    let power = |rest: &str| rest.chars().all(|c| c.is_ascii_digit());
    let tolerance = decimal.strip_prefix("1e-").is_some_and(power);
    !tolerance && !PLAIN.contains(&decimal)
}

#[test]
fn no_number_of_the_model_stands_in_the_code_of_the_layers_that_were_moved() {
    let (mut found, mut used, mut files) = (Vec::new(), [false; NUMERICS.len()], 0);
    for (file, text) in sources() {
        if !NUMBERS_MOVED.iter().any(|moved| file.starts_with(moved)) || file.ends_with("/tests.rs")
        {
            continue;
        }
        files += 1;
        let code = text.split("#[cfg(test)]").next().unwrap_or_default();
        for (place, line) in code.lines().enumerate() {
            let named = line
                .split("//")
                .next()
                .unwrap_or_default()
                .contains("const ")
                && line.contains(": f64 = ");
            let decimals = decimals(line);
            let tolerance = |d: &&str| d.starts_with("1e-") && !is_of_the_model(d);
            let number = decimals.iter().any(|d| is_of_the_model(d))
                || named && !(decimals.len() == 1 && decimals.iter().all(tolerance));
            let known = NUMERICS
                .iter()
                .position(|(of, holds, _)| *of == file && line.contains(holds));
            match known {
                Some(known) => used[known] = true,
                None if number => found.push(format!("{file}:{}: {}", place + 1, line.trim())),
                None => {}
            }
        }
    }
    assert!(files > 12, "only {files} files found");
    assert!(
        found.is_empty(),
        "these belong into assets/model.ron:\n{}",
        found.join("\n")
    );
    assert_eq!(
        used,
        [true; NUMERICS.len()],
        "an exception that is none any more"
    );
}

#[test]
fn a_decimal_is_found_however_it_is_written() {
    for (line, expected) in [
        ("let a = 1.5 * b.0.1 + x.2; // 7.5", vec!["1.5"]),
        ("for i in 0..5 { v[i] = 4e-6_f64; }", vec!["4e-6"]),
        ("(0.25..=0.75).contains(&k2.0)", vec!["0.25", "0.75"]),
        ("0.12..0.34", vec!["0.12", "0.34"]),
        ("f64::from(3) + 2.5e3 - 1_000.25", vec!["2.5e3", "1_000.25"]),
        ("1.0.max(-9.1)", vec!["1.0", "9.1"]),
    ] {
        assert_eq!(decimals(line), expected, "{line}");
    }
    let model = ["0.3", "4e-6", "9.1", "1.5"].map(is_of_the_model);
    assert_eq!(model, [true; 4]);
    assert_eq!(["0.0", "1e-9", "2.0"].map(is_of_the_model), [false; 3]);
}

/// The texts in quotation marks of a file, with their lines, up to its tests; none of comments and attributes.
fn quoted(code: &str) -> Vec<(usize, String)> {
    let end = ["#[cfg(test)]\nmod ", "#[cfg(all(test"].map(|mark| code.find(mark));
    let code = &code[..end.into_iter().flatten().min().unwrap_or(code.len())];
    let mut found = Vec::new();
    for (number, line) in code.lines().enumerate() {
        let text = line.trim_start();
        // (A text that runs over several lines is read line by line: its first one has the mark.)
        if text.starts_with("//") || text.starts_with("#[") {
            continue;
        }
        let mut inside: Option<String> = None;
        let mut letters = line.chars().peekable();
        while let Some(letter) = letters.next() {
            match (&mut inside, letter) {
                (Some(text), '\\') => text.extend(letters.next()),
                (Some(_), '"') => found.extend(inside.take().map(|text| (number + 1, text))),
                (Some(text), _) => text.push(letter),
                // A sign, not a text: '"'.
                (None, '\'') if letters.peek() == Some(&'"') => {
                    letters.next();
                }
                (None, '/') if letters.peek() == Some(&'/') => break,
                (None, '"') => inside = Some(String::new()),
                (None, _) => {}
            }
        }
        found.extend(inside.map(|text| (number + 1, text)));
    }
    found
}

/// Is it a sentence, or a piece of one: letters with a blank beside them, what is put in left out?
fn is_said(text: &str) -> bool {
    let mut depth = 0;
    let plain: String = text
        .chars()
        .filter(|letter| {
            depth += i32::from(*letter == '{');
            let outside = depth == 0;
            depth -= i32::from(*letter == '}');
            outside
        })
        .collect();
    text.contains(' ') && plain.chars().any(char::is_alphabetic)
}

/// What `--measure` prints is for a script; pieces of rules are read by the program.
fn is_for_no_coach(file: &str, text: &str) -> bool {
    file == "src/window/measure.rs" || text.starts_with("(name: ")
}

#[test]
fn every_sentence_of_the_window_stands_in_one_place() {
    let mut elsewhere = Vec::new();
    let mut there = 0;
    for (file, code) in sources() {
        if !file.starts_with("src/window/") || file.ends_with("_tests.rs") {
            continue;
        }
        let said = quoted(&code);
        let said = said.into_iter().filter(|(_, text)| is_said(text));
        if file.starts_with("src/window/words/") {
            there += said.count();
            continue;
        }
        let said = said.filter(|(_, text)| !is_for_no_coach(&file, text));
        elsewhere.extend(said.map(|(line, text)| format!("{file}:{line}: {text}")));
    }
    assert!(elsewhere.is_empty(), "{}", elsewhere.join("\n"));
    assert!(there > 500, "{there}");
}

#[test]
fn a_sentence_is_found_wherever_it_is_quoted() {
    let code = "const A: &str = \"two words\"; // \"not this one\"\n#[error(\"nor this\")]\nlet b = format!(\"{n} s\", '\"');\n\
                x(\"{a}, {b}\");\nid(\"strip\");\n#[cfg(test)]\nmod tests { \"nor that one\" }";
    let said = quoted(code);
    let said: Vec<_> = said.iter().filter(|(_, text)| is_said(text)).collect();
    assert_eq!(said, [&(1, "two words".into()), &(3, "{n} s".into())]);
}

/// Each picture of the window before and after stands in its list, with tests that there are.
#[test]
fn pictures_of_the_window_stand_in_their_list_with_tests_that_there_are() {
    let folder = root().join("tests/window_before_after");
    let list = fs::read_to_string(folder.join("README.md")).expect("the list");
    let sources: Vec<String> = files(root())
        .into_iter()
        .filter(|path| path.extension().is_some_and(|e| e == "rs"))
        .map(|path| fs::read_to_string(path).expect("source text"))
        .collect();
    let mut pictures = 0;
    for entry in fs::read_dir(&folder).expect("the folder") {
        let path = entry.expect("an entry").path();
        if path.extension().is_none_or(|e| e != "png") {
            continue;
        }
        pictures += 1;
        let size = fs::metadata(&path).expect("a file").len();
        assert!(size <= 95_000, "{}: {size} bytes", name(&path));
        let file = path
            .file_name()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        let row = list.lines().find(|line| line.contains(&file));
        let row = row.unwrap_or_else(|| panic!("{file} is not in the list"));
        // Names in back quotes with an underline are tests, but for those of files.
        let named = row.split('`').skip(1).step_by(2);
        let tests: Vec<&str> = named
            .filter(|n| n.contains('_') && !n.contains('/'))
            .collect();
        assert!(!tests.is_empty(), "{file} has no test");
        for test in tests {
            let begins = format!("fn {test}(");
            assert!(sources.iter().any(|text| text.contains(&begins)), "{test}");
        }
    }
    assert_eq!(pictures, 10);
}
