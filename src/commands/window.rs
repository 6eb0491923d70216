//! `lanelight window`: opens the window; and what happens when no command is given at all.

use std::io::IsTerminal;
use std::path::PathBuf;

use clap::Args;

use crate::Failure;

#[derive(Args, Default)]
#[cfg_attr(not(feature = "window"), allow(dead_code))]
pub struct WindowArgs {
    /// A scenario: a file, or the word of a shipped one. Without it: the demo.
    file: Option<PathBuf>,
    /// Print how long the first lit frame took, and the rate of frames every two seconds.
    #[arg(long)]
    measure: bool,
}

/// Opens the window on a scenario.
#[cfg(feature = "window")]
pub fn window(args: &WindowArgs) -> Result<(), Failure> {
    use lanelight::window::{NoWindow, Opening, open};
    // The demo by its word is the demo.
    let file = args
        .file
        .clone()
        .filter(|f| super::choose::is_file(f) || f.as_os_str() != "demo");
    let opening = Opening {
        file,
        measure: args.measure,
    };
    match open(&opening) {
        Ok(()) => Ok(()),
        Err(dark @ (NoWindow::NoDisplay | NoWindow::GoneDisplay)) => Err(Failure::Wrong(format!(
            "{dark}\n  try: lanelight scrimmage, lanelight watch, or lanelight --help"
        ))),
        Err(none @ NoWindow::NoGraphics(_)) => Err(Failure::Wrong(format!(
            "{none}\n  install the driver of this machine's graphics, or the one that draws without a card \
             (on Debian: mesa-vulkan-drivers)"
        ))),
        Err(error) => Err(Failure::Wrong(error.to_string())),
    }
}

/// This program was built without the window.
#[cfg(not(feature = "window"))]
pub fn window(_: &WindowArgs) -> Result<(), Failure> {
    Err(Failure::Wrong(
        "this program was built without the window\n  \
         to build it with the window (about ten minutes, once): cargo run --release --features window -- window"
            .into(),
    ))
}

/// Should a call without any command open the window? Only where somebody sits at a screen: with the
/// output piped away, or without a display, it is the report that is wanted.
pub fn is_wanted() -> bool {
    #[cfg(feature = "window")]
    let display = lanelight::window::there_is_a_display();
    #[cfg(not(feature = "window"))]
    let display = false;
    display && std::io::stdout().is_terminal()
}
