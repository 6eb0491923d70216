//! How the window's process keeps its memory.
//!
//! A renderer in software builds every picture in fresh memory and gives it back when the picture is shown. The C
//! library of Linux then returns it to the system, which hands it out again for the next picture, page by page, each
//! wiped first: some 700 pages a frame (measured: 65,717 page faults in 8 s of play; 9 with the memory kept), a third
//! of all that a frame took beside the renderer's own work. What the library keeps can only be set before the program
//! begins, so it begins anew, in the same process, with these settings.

use std::path::Path;
use std::process::Command;

/// What the C library is told (glibc's manual, *Memory Allocation Tunables*), bytes: up to 64 MB that lie free are kept,
/// only pieces above 32 MB are had from the system one by one, and 16 MB more than needed are asked for at a time.
const SETTINGS: [(&str, &str); 3] = [
    ("MALLOC_TRIM_THRESHOLD_", "67108864"),
    ("MALLOC_MMAP_THRESHOLD_", "33554432"),
    ("MALLOC_TOP_PAD_", "16777216"),
];

/// Begins the program anew with the settings, unless it has them or somebody has set others; comes back if it has
/// them, or if that is not to be had here.
pub fn keep() {
    if std::env::var_os(SETTINGS[0].0).is_some() {
        return;
    }
    if let Ok(program) = std::env::current_exe() {
        begin_anew(&program);
    }
}

#[cfg(target_os = "linux")]
fn begin_anew(program: &Path) {
    use std::os::unix::process::CommandExt;
    // It comes back only if it failed: then all goes on as it is, a little slower.
    let _ = Command::new(program)
        .args(std::env::args_os().skip(1))
        .envs(SETTINGS)
        .exec();
}

#[cfg(not(target_os = "linux"))]
fn begin_anew(_: &Path) {}

/// Another program is not told how to keep its memory.
pub fn as_usual(command: &mut Command) -> &mut Command {
    for (name, _) in SETTINGS {
        command.env_remove(name);
    }
    command
}
