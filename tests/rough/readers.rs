//! Every reader, fed with spoilt files: none panics, none takes a second of processor time, none eats
//! the memory; and what a reader takes can be played.
//!
//! Each kind of file is read in a process of its own (this same program, told by the environment), so
//! that an overflow of the stack or a hang is seen as well and the input that did it is kept.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use lanelight::contest::elimination::Rule;
use lanelight::contest::knobs::Range;
use lanelight::contest::{Plan, kept};
use lanelight::defence::Defence;
use lanelight::offence::Offence;
use lanelight::offence::check::{Weight, check};
use lanelight::report::Heading;
use lanelight::report::part::{Head, Reader, Writer, in_order};
use lanelight::scenario::shipped::{self, Kind as File};
use lanelight::scenario::{Scenario, Source, read_defence, read_offence, read_squad, read_tweak};
use lanelight::scrimmage::Row;
use lanelight::sim::{Keep, cast_untaught, play, play_shared};
use lanelight::squad::Squad;

use super::mutate::{Dice, bitten, spoilt};
use super::{factor, number};

/// Most processor time for one input, nanoseconds.
const SLOW: u64 = 1_000_000_000;
/// Most memory of a reading process, kibibytes: ten times what the longest file takes.
const FAT: u64 = 400 * 1024;
/// A process that says nothing for so long hangs.
const HANGS: Duration = Duration::from_secs(30);
/// Spoilt files of each kind.
const EACH: u64 = 2500;

#[derive(Clone, Copy, Debug, PartialEq)]
enum Kind {
    Offence,
    Defence,
    Tweak,
    Squad,
    Scenario,
    Search,
    Range,
    Part,
    Progress,
    Settings,
    Desk,
}

impl Kind {
    const ALL: [Kind; 11] = [
        Kind::Offence,
        Kind::Defence,
        Kind::Tweak,
        Kind::Squad,
        Kind::Scenario,
        Kind::Search,
        Kind::Range,
        Kind::Part,
        Kind::Progress,
        Kind::Settings,
        Kind::Desk,
    ];

    fn word(self) -> String {
        format!("{self:?}").to_lowercase()
    }

    fn shipped(self) -> Option<File> {
        Some(match self {
            Kind::Offence => File::Offence,
            Kind::Defence => File::Defence,
            Kind::Tweak => File::Tweak,
            Kind::Squad => File::Squad,
            Kind::Scenario => File::Scenario,
            _ => return None,
        })
    }

    /// Does only the window read such files?
    fn of_the_window(self) -> bool {
        matches!(self, Kind::Progress | Kind::Settings | Kind::Desk)
    }
}

/// Kept inputs, shipped files, and the bad files of that kind.
fn seeds(kind: Kind) -> Vec<Vec<u8>> {
    let mut all = kept_inputs(kind);
    if let Some(file) = kind.shipped() {
        all.extend(shipped::all(file).map(|f| f.text.as_bytes().to_vec()));
    }
    let head = format!("// {};", kind.word());
    for path in files(Path::new("tests/bad")) {
        let bytes = fs::read(path).expect("a bad file");
        if bytes.starts_with(head.as_bytes()) {
            all.push(bytes);
        }
    }
    if kind == Kind::Part {
        all.extend([part(1, 1), part(2, 3)]);
    }
    #[cfg(feature = "window")]
    if kind == Kind::Desk {
        all.push(window::desk());
    }
    assert!(!all.is_empty(), "no seeds for {kind:?}");
    all
}

/// A part of a scrimmage of six possessions of the demo.
fn part(part: u32, of: u32) -> Vec<u8> {
    let demo = Scenario::demo();
    let head = Head::new(&demo, Heading::of(&demo, &[]), (1, 6), (part, of));
    let (first, count) = head.seeds();
    let mut writer = Writer::start(Vec::new(), &head).expect("in memory");
    for seed in first..first + count {
        let row = Row::of(&play(&demo, seed, Keep::FIGURES));
        writer.add(&row).expect("in memory");
    }
    writer.finish().expect("in memory")
}

/// Reads a part to its end, and what else would be needed.
fn parts(bytes: &[u8], folder: &Path) {
    let path = folder.join("part");
    fs::write(&path, bytes).expect("written");
    let Ok(mut reader) = Reader::open(&path) else {
        return;
    };
    let mut rows = 0;
    while let Ok(Some(_)) = reader.row() {
        rows += 1;
        assert!(rows <= 6, "more rows than were written");
    }
    if let Err(error) = in_order(vec![reader]) {
        let said = error.to_string();
        assert!(said.len() < 4000, "an answer of {} bytes", said.len());
    }
}

fn kept_inputs(kind: Kind) -> Vec<Vec<u8>> {
    let folder = Path::new("tests/corpus").join(kind.word());
    let read = |path: PathBuf| fs::read(path).expect("a kept input");
    files(&folder).into_iter().map(read).collect()
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut all: Vec<PathBuf> = fs::read_dir(folder)
        .map(|entries| entries.filter_map(|e| Some(e.ok()?.path())).collect())
        .unwrap_or_default();
    all.retain(|path| path.is_file());
    all.sort();
    all
}

/// The demo with another part, as long as it can be played.
fn demo_with(part: impl FnOnce(&mut Scenario)) -> Scenario {
    let mut scenario = Scenario::demo();
    part(&mut scenario);
    scenario
}

fn offence(offence: Offence) -> Scenario {
    demo_with(|s| s.offence = offence)
}

fn defence(defence: Defence) -> Scenario {
    demo_with(|s| s.defence = defence)
}

fn squads(squad: Squad) -> Scenario {
    demo_with(|s| {
        s.attackers = squad.clone();
        s.defenders = squad;
    })
}

/// A tweak on the demo's offence, if it fits and nothing is wrong with what comes of it.
fn tweaked(tweak: &lanelight::offence::tweak::Tweak) -> Option<Scenario> {
    let demo = Scenario::demo();
    let changed = demo.with_tweak(tweak).ok()?;
    let found = check(&changed.offence);
    let sound = found.iter().all(|f| f.weight != Weight::Error);
    sound.then_some(changed)
}

/// Reads an input as its reader would, and plays what was read. Problems are put into words, too.
fn read(kind: Kind, bytes: &[u8], folder: &Path) {
    let text = Source::from_bytes("spoilt", bytes).map(|source| source.text);
    let any = kind.of_the_window() || matches!(kind, Kind::Search | Kind::Part);
    let text = match (text, any) {
        (Ok(text), _) => text,
        (Err(problems), false) => return drop(problems.to_string()),
        (Err(_), true) => String::from_utf8_lossy(bytes).into_owned(),
    };
    let said = |problems: lanelight::scenario::Problems| {
        let text = problems.to_string();
        assert!(text.len() < 1 << 20, "an answer of {} bytes", text.len());
    };
    let scenario = match kind {
        Kind::Offence => read_offence(&text, "spoilt").map(|r| Some(offence(r.value))),
        Kind::Defence => read_defence(&text, "spoilt").map(|r| Some(defence(r.value))),
        Kind::Tweak => read_tweak(&text, "spoilt").map(|r| tweaked(&r.value)),
        Kind::Squad => read_squad(&text, "spoilt").map(|r| Some(squads(r.value))),
        Kind::Scenario => Scenario::from_text(&text, "spoilt").map(Some),
        Kind::Search => {
            let rule = Rule::new(3, 0.05, 0.95).expect("a rule");
            let plan = Plan {
                candidates: 3,
                defences: 1,
                first_seed: 1,
                budget: 100,
                rule,
            };
            match kept::read(&text, "0123456789abcdef", plan) {
                Ok(search) => drop(search.ranking()),
                Err(error) => drop(error.to_string()),
            }
            Ok(None)
        }
        Kind::Range => {
            if let Ok(range) = Range::parse(&text) {
                assert!(range.values.iter().all(|v| v.is_finite()), "{range:?}");
            }
            Ok(None)
        }
        Kind::Part => {
            parts(bytes, folder);
            Ok(None)
        }
        Kind::Progress | Kind::Settings | Kind::Desk => {
            #[cfg(feature = "window")]
            window::read(kind, bytes, folder);
            let _ = folder;
            Ok(None)
        }
    };
    match scenario {
        Ok(Some(scenario)) => {
            let cast = cast_untaught(&scenario);
            let possession = play_shared(&scenario.into(), &cast, 1, Keep::FIGURES);
            assert!(possession.duration.is_finite());
        }
        Ok(None) => {}
        Err(problems) => said(problems),
    }
}

#[cfg(feature = "window")]
mod window {
    use super::{Kind, Path, fs};
    use lanelight::window::desk::Desk;
    use lanelight::window::store::{self, Kept};

    /// The desk as it is kept while it is open.
    pub fn desk() -> Vec<u8> {
        let folder = tempfile::tempdir().expect("a folder");
        let mut edit = store::demo();
        edit.name = "Changed".into();
        let kept = Kept {
            edit,
            saved: store::demo(),
            file: Some("friday.ron".into()),
            seed: 7,
            time: 2.4,
            closed: false,
        };
        store::keep(folder.path(), &kept).unwrap();
        fs::read(folder.path().join("desk.ron")).expect("the kept desk")
    }

    /// A desk that finds the file in its folder when it opens.
    pub fn read(kind: Kind, bytes: &[u8], folder: &Path) {
        let name = match kind {
            Kind::Progress => "stand_right.ron",
            Kind::Settings => "settings.ron",
            _ => "desk.ron",
        };
        for old in ["stand_right.ron", "settings.ron", "desk.ron"] {
            let _ = fs::remove_file(folder.join(old));
        }
        fs::write(folder.join(name), bytes).expect("written");
        if kind == Kind::Progress {
            let drill = lanelight::window::drill::Drill::new(folder);
            let spoilt = folder.join("stand_right.ron.spoilt");
            // Read, or kept aside: the next round must not destroy it.
            let kept = spoilt.exists() || folder.join(name).exists();
            assert!(kept, "{} learners and no file", drill.progress.len());
            let _ = fs::remove_file(spoilt);
            return;
        }
        let desk = Desk::new(store::demo(), None, folder.to_owned());
        let text = desk.settings.type_size;
        assert!((0.8..=1.8).contains(&text), "type of size {text}");
        assert!(
            desk.edit().sound(),
            "an offence on the desk that its checks refuse"
        );
        let now = desk.time.now;
        assert!(
            (0.0..=desk.recording.end()).contains(&now),
            "frozen at {now}"
        );
    }
}

/// Nanoseconds of processor time that this thread has had.
fn spent() -> u64 {
    let text = fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    text.split_whitespace()
        .next()
        .and_then(|n| n.parse().ok())
        .unwrap_or(0)
}

/// Most memory that this process has had, kibibytes.
fn most_memory() -> u64 {
    let text = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = text.lines().find_map(|l| l.strip_prefix("VmHWM:"));
    line.and_then(|l| l.split_whitespace().next()?.parse().ok())
        .unwrap_or(0)
}

/// One reading process. Not a test by itself.
#[test]
#[ignore = "started by the test below"]
fn reading_process() {
    let Ok(folder) = std::env::var("LANELIGHT_ROUGH_FOLDER") else {
        return;
    };
    let folder = PathBuf::from(folder);
    let kind = Kind::ALL[number("LANELIGHT_ROUGH_KIND", 0) as usize];
    let seeds = seeds(kind);
    let old = kept_inputs(kind).len() as u64;
    let (first, end) = (
        number("LANELIGHT_ROUGH_FIRST", 0),
        number("LANELIGHT_ROUGH_END", 0),
    );
    let seed = number("LANELIGHT_SEED", 1);
    std::panic::set_hook(Box::new(|_| {}));
    for i in first..end {
        // First what is kept, as it is.
        let input = match (i < old).then(|| seeds[i as usize].clone()) {
            Some(input) => input,
            None if kind == Kind::Part => bitten(&seeds, &mut Dice::new(seed, kind as usize, i)),
            None => spoilt(&seeds, &mut Dice::new(seed, kind as usize, i)),
        };
        fs::write(folder.join("now"), &input).expect("written");
        let keep = |what: &str, said: &str| {
            fs::write(folder.join(format!("{what}-{i}")), &input).expect("written");
            fs::write(folder.join(format!("{what}-{i}.said")), said).expect("written");
        };
        let began = spent();
        let done = std::panic::catch_unwind(|| read(kind, &input, &folder));
        if let Err(panic) = done {
            let said = panic.downcast_ref::<String>().cloned();
            let said = said.or_else(|| panic.downcast_ref::<&str>().map(|s| s.to_string()));
            keep("panic", &said.unwrap_or_default());
        }
        let took = spent() - began;
        if took > SLOW {
            keep("slow", &format!("{took} ns"));
        }
        if most_memory() > FAT {
            keep("fat", &format!("{} KiB", most_memory()));
            panic!("too much memory");
        }
    }
    fs::write(folder.join("done"), most_memory().to_string()).expect("written");
}

/// Runs a reading process over inputs `first..end`; what went wrong, and the most memory it had.
fn watch(kind: Kind, first: u64, end: u64, folder: &Path) -> (Vec<String>, u64) {
    let mut child = Command::new(std::env::current_exe().expect("this program"))
        .args([
            "--exact",
            "readers::reading_process",
            "--ignored",
            "--test-threads",
            "1",
        ])
        .env("LANELIGHT_ROUGH_FOLDER", folder)
        .env("LANELIGHT_ROUGH_KIND", (kind as usize).to_string())
        .env("LANELIGHT_ROUGH_FIRST", first.to_string())
        .env("LANELIGHT_ROUGH_END", end.to_string())
        .env("LANELIGHT_DATA", folder)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("it starts");
    let mut wrong = Vec::new();
    let (mut last, mut silent) = (Vec::new(), Duration::ZERO);
    let step = Duration::from_millis(100);
    loop {
        if child.try_wait().expect("a child").is_some() {
            break;
        }
        std::thread::sleep(step);
        let now = fs::read(folder.join("now")).unwrap_or_default();
        silent = if now == last {
            silent + step
        } else {
            Duration::ZERO
        };
        last = now;
        if silent > HANGS {
            let _ = child.kill();
            let _ = child.wait();
            wrong.push(format!(
                "{kind:?}: hangs on {}",
                keep_for_good(kind, "hang", &last)
            ));
            break;
        }
    }
    let memory = fs::read_to_string(folder.join("done"));
    let memory: u64 = memory.ok().and_then(|m| m.parse().ok()).unwrap_or(0);
    for path in files(folder) {
        let name = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let bad = ["panic-", "slow-", "fat-"]
            .iter()
            .any(|b| name.starts_with(b));
        if bad && !name.ends_with(".said") {
            let said = fs::read_to_string(path.with_file_name(format!("{name}.said")));
            let input = fs::read(&path).expect("an input");
            let place = keep_for_good(kind, &name, &input);
            wrong.push(format!(
                "{kind:?}: {name}: {}: {place}",
                said.unwrap_or_default()
            ));
        }
    }
    if memory == 0 && wrong.is_empty() {
        let input = fs::read(folder.join("now")).unwrap_or_default();
        let place = keep_for_good(kind, "died", &input);
        wrong.push(format!("{kind:?}: the reading process died on {place}"));
    }
    (wrong, memory)
}

/// Keeps an input where it can be looked at (and from where it may go into `tests/corpus`).
fn keep_for_good(kind: Kind, name: &str, input: &[u8]) -> String {
    let path = std::env::temp_dir().join(format!("lanelight-{}-{name}", kind.word()));
    let _ = fs::write(&path, input);
    path.display().to_string()
}

#[test]
fn no_reader_panics_hangs_or_eats_the_memory_whatever_it_is_fed() {
    let mut wrong = Vec::new();
    for kind in Kind::ALL {
        if kind.of_the_window() && !cfg!(feature = "window") {
            continue;
        }
        let folder = tempfile::tempdir().expect("a folder");
        // A desk is opened for each: that plays a possession.
        let desk = matches!(kind, Kind::Desk | Kind::Settings);
        let each = if desk { EACH / 8 } else { EACH };
        let (bad, memory) = watch(kind, 0, each * factor(), folder.path());
        println!(
            "{kind:?}: {} inputs, {memory} KiB at most, {} wrong",
            each * factor(),
            bad.len()
        );
        wrong.extend(bad);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
