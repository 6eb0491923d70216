//! `package-files`: what an installed program brings beside itself: manual page, completions of three shells, menu
//! entry, file type and icons, written into a folder as they lie under `/usr/share`. Page and completions come from
//! the definition of the command line itself.

use std::fs;
use std::path::{Path, PathBuf};

use clap::{Args, Command, CommandFactory};
use lanelight::draw::icon;
use lanelight::report::files::Unwritten;

use super::{complete, manual};
use crate::{Cli, Failure};

#[derive(Args)]
pub struct PackageArgs {
    /// The folder: what lies under /usr/share when it is installed.
    share: PathBuf,
}

/// Sides of the icons that are made as pixels, besides the one that is drawn at any size.
const SIDES: [u32; 4] = [32, 48, 128, 256];

const MENU: &str = "[Desktop Entry]
Type=Application
Name=Lanelight
GenericName=Basketball motion offence
Comment=Play your offence against a defence, and see what is open and who shuts it
Exec=lanelight window %f
Icon=lanelight
Terminal=false
Categories=Education;Sports;
MimeType=application/x-lanelight-scenario;
Keywords=basketball;coach;offence;defence;practice;drill;
StartupNotify=true
";

const FILE_TYPE: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<mime-info xmlns="http://www.freedesktop.org/standards/shared-mime-info">
  <mime-type type="application/x-lanelight-scenario">
    <comment>Lanelight scenario</comment>
    <icon name="lanelight"/>
    <sub-class-of type="text/plain"/>
    <glob pattern="*.ron"/>
  </mime-type>
</mime-info>
"#;

/// The whole definition of the command line, complete and without what is not for people.
pub fn definition() -> Command {
    let mut command = Cli::command();
    command.build();
    command
}

/// Writes all of it.
pub fn package_files(args: &PackageArgs) -> Result<(), Failure> {
    let command = definition();
    let mut files: Vec<(String, Vec<u8>)> = vec![
        (
            "man/man1/lanelight.1".into(),
            manual::page(&command).into_bytes(),
        ),
        (
            "bash-completion/completions/lanelight".into(),
            complete::bash(&command).into_bytes(),
        ),
        (
            "zsh/vendor-completions/_lanelight".into(),
            complete::zsh(&command).into_bytes(),
        ),
        (
            "fish/vendor_completions.d/lanelight.fish".into(),
            complete::fish(&command).into_bytes(),
        ),
        ("applications/lanelight.desktop".into(), MENU.into()),
        ("mime/packages/lanelight.xml".into(), FILE_TYPE.into()),
        (
            "icons/hicolor/scalable/apps/lanelight.svg".into(),
            icon::svg().into_bytes(),
        ),
    ];
    for side in SIDES {
        let png = icon::pixels(side).map_err(|e| Failure::Wrong(e.to_string()))?;
        files.push((
            format!("icons/hicolor/{side}x{side}/apps/lanelight.png"),
            png,
        ));
    }
    for (name, bytes) in files {
        write(&args.share.join(name), &bytes)?;
    }
    Ok(())
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), Unwritten> {
    let folder = path.parent().unwrap_or(Path::new("."));
    let wrong = |error| Unwritten {
        path: path.to_owned(),
        error,
    };
    fs::create_dir_all(folder)
        .and_then(|()| fs::write(path, bytes))
        .map_err(wrong)
}
