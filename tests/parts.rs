//! A scrimmage played in parts, on as many machines as one likes, and put together: the same page and
//! files to the last bit as one run; and whatever does not belong together is refused by name.

use std::fs;
use std::path::Path;

mod program;

use program::{good, refused, said};

/// Plays part `part` of a scrimmage of 300 into `file`, with further words.
fn play(folder: &Path, part: &str, file: &str, more: &[&str]) {
    let mut args = vec!["scrimmage", "--possessions", "300", "--part", part];
    args.extend(["--part-file", file]);
    args.extend(more);
    let page = good(folder, &args);
    assert!(page.starts_with("Part "), "{page}");
}

const FILES: [&str; 6] = [
    "--summary-json",
    "all.json",
    "--summary-csv",
    "all.csv",
    "--rows",
    "rows.csv",
];

#[test]
fn parts_put_together_are_the_single_run_to_the_last_bit() {
    let (one, parts) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let mut whole = vec!["scrimmage", "--possessions", "300", "--seed", "7"];
    whole.extend(FILES);
    let page = good(one.path(), &whole);
    for (part, threads) in [("3/3", "1"), ("1/3", "2"), ("2/3", "2")] {
        let file = format!("{}.part", &part[..1]);
        play(
            parts.path(),
            part,
            &file,
            &["--seed", "7", "--threads", threads],
        );
    }
    let mut merge = vec!["merge", "2.part", "3.part", "1.part"];
    merge.extend(FILES);
    assert_eq!(good(parts.path(), &merge), page);
    for file in ["all.json", "all.csv", "rows.csv"] {
        let read = |folder: &Path| fs::read(folder.join(file)).unwrap();
        assert_eq!(read(one.path()), read(parts.path()), "{file}");
    }
}

#[test]
fn parts_that_do_not_belong_together_are_refused_by_name() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    play(folder, "1/2", "a", &[]);
    play(folder, "2/2", "b", &[]);
    play(folder, "2/2", "other_defence", &["--against", "denial"]);
    play(folder, "2/2", "other_seeds", &["--seed", "2"]);
    play(folder, "2/3", "of_three", &[]);
    let merge = |files: &[&str]| refused(folder, &[&["merge"], files].concat());
    assert!(merge(&["a"]).contains("part 2 of 2 is missing"));
    assert!(merge(&["of_three"]).contains("parts 1, 3 of 3 are missing"));
    assert!(merge(&["a", "b", "a"]).contains("a and a are both part 1"));
    assert!(merge(&["a", "other_defence"]).contains("different scenarios"));
    assert!(merge(&["a", "other_seeds"]).contains("other seeds"));
    assert!(merge(&["a", "of_three"]).contains("one of 3 parts"));
    assert!(merge(&["a", "nowhere"]).contains("cannot read nowhere"));
    fs::write(folder.join("letter"), "Dear coach,\n").unwrap();
    assert!(merge(&["a", "letter"]).contains("letter is not a part"));
    let mut bytes = fs::read(folder.join("b")).unwrap();
    fs::write(folder.join("cut"), &bytes[..bytes.len() - 9]).unwrap();
    assert!(merge(&["a", "cut"]).contains("cut was cut off or changed"));
    let head = said(&bytes[..bytes.iter().position(|b| *b == b'\n').unwrap()]);
    let version = format!("\"version\":\"{}\"", env!("CARGO_PKG_VERSION"));
    assert!(head.contains(&version), "{head}");
    let newer = head.replace(&version, "\"version\":\"99.0.0\"");
    bytes.splice(..head.len(), newer.bytes());
    fs::write(folder.join("newer"), &bytes).unwrap();
    assert!(merge(&["a", "newer"]).contains("played by version 99.0.0"));
}

#[test]
fn a_senseless_part_is_refused_before_anything_is_played() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let ask = |part: &str, more: &[&str]| {
        let args = ["scrimmage", "--part", part, "--part-file", "p"];
        refused(folder, &[&args[..], more].concat())
    };
    for part in ["0/3", "4/3", "3", "a/b", "1/0"] {
        assert!(ask(part, &[]).contains("as 3/8"), "{part}");
    }
    assert!(ask("1/9", &["--possessions", "8"]).contains("more parts than possessions"));
    assert!(ask("1/2", &["--rows", "r.csv"]).contains("`merge`"));
    assert!(ask("1/2", &["--until", "points:0.1"]).contains("--until"));
    assert_eq!(fs::read_dir(folder).unwrap().count(), 0);
}
