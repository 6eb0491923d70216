//! The program as a coach runs it, for all tests that start it.
// Each test takes what it needs.
#![allow(dead_code)]

use std::path::Path;
use std::process::{Child, Command, Output, Stdio};

/// The program with these arguments in this folder, not yet started.
pub fn program(folder: &Path, args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_lanelight"));
    command.current_dir(folder).args(args).stdin(Stdio::null());
    // Settings of whoever runs the tests are no part of them.
    command.env("LANELIGHT_DATA", folder.join("settings"));
    command
}

/// Runs it to its end.
pub fn run(folder: &Path, args: &[&str]) -> Output {
    program(folder, args).output().expect("it runs")
}

/// What it printed.
pub fn said(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("UTF-8")
}

/// As one line: what was broken over lines stands together again.
pub fn unbroken(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Runs what must succeed, and gives what it prints.
pub fn good(folder: &Path, args: &[&str]) -> String {
    let output = run(folder, args);
    let error = said(&output.stderr);
    assert!(output.status.success(), "{args:?}: {error}");
    said(&output.stdout)
}

/// Runs what must be refused as wrong input, and gives what it says.
pub fn refused(folder: &Path, args: &[&str]) -> String {
    let output = run(folder, args);
    let error = said(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{args:?}: {error}");
    assert!(output.stdout.is_empty(), "{args:?}");
    error
}

/// Starts it with what it prints caught.
pub fn start(folder: &Path, args: &[&str]) -> Child {
    let mut command = program(folder, args);
    command.stdout(Stdio::piped()).stderr(Stdio::piped());
    command.spawn().expect("it starts")
}

/// Interrupts it as Ctrl-C does, and waits for its end.
#[cfg(unix)]
pub fn interrupted(child: Child) -> Output {
    let killed = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status();
    assert!(killed.expect("kill").success());
    child.wait_with_output().expect("it ends")
}
