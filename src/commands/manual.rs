//! The manual page, in the language of `man`, made from the definition of the command line.

use clap::{Arg, Command};

/// The whole page.
pub fn page(command: &Command) -> String {
    let name = command.get_name();
    let version = command.get_version().unwrap_or_default();
    let mut out = format!(
        ".TH {} 1 \"\" \"{name} {version}\" \"User Commands\"\n.SH NAME\n{name} \\- {}\n",
        name.to_uppercase(),
        plain("plays a basketball motion offence against a defence, and shows what is open")
    );
    out += &format!(".SH SYNOPSIS\n.B {name}\n[\\fICOMMAND\\fR] [\\fIOPTIONS\\fR]\n");
    out += &format!(".SH DESCRIPTION\n{}\n", text(&about(command)));
    out += ".SH COMMANDS\n";
    for each in commands(command) {
        out += &format!(".SS {}\n", plain(&usage(name, each)));
        out += &format!("{}\n", text(&about(each)));
        for arg in arguments(each) {
            out += &option(arg);
        }
    }
    out += ".SH EXIT STATUS\n";
    for (code, means) in [
        ("0", "All went well."),
        ("1", "Something cannot be written."),
        (
            "2",
            "What was asked for, or a file, is wrong; it is said what.",
        ),
        ("3", "check \\-\\-play finds what never works."),
        ("130", "Interrupted; what was complete has been written."),
    ] {
        out += &format!(".TP\n.B {code}\n{means}\n");
    }
    out
}

/// The commands that are for people.
pub fn commands(command: &Command) -> impl Iterator<Item = &Command> {
    command.get_subcommands().filter(|c| !c.is_hide_set())
}

/// What a command takes that is for people.
pub fn arguments(command: &Command) -> impl Iterator<Item = &Arg> {
    let known = |a: &&Arg| !a.is_hide_set() && !["help", "version"].contains(&a.get_id().as_str());
    command.get_arguments().filter(known)
}

/// What a command is for.
pub fn about(command: &Command) -> String {
    let about = command.get_long_about().or(command.get_about());
    about.map_or(String::new(), ToString::to_string)
}

/// What an argument is for.
pub fn help(arg: &Arg) -> String {
    let help = arg.get_long_help().or(arg.get_help());
    help.map_or(String::new(), ToString::to_string)
}

/// Does it take a value?
pub fn takes_value(arg: &Arg) -> bool {
    arg.get_action().takes_values()
}

/// What stands for the value of an argument.
pub fn value(arg: &Arg) -> String {
    let names = arg.get_value_names().unwrap_or_default();
    let names: Vec<&str> = names.iter().map(|name| name.as_str()).collect();
    if names.is_empty() {
        arg.get_id().as_str().to_uppercase()
    } else {
        names.join(" ")
    }
}

/// "lanelight watch [OPTIONS] [FILE]".
fn usage(name: &str, command: &Command) -> String {
    let mut usage = format!("{name} {}", command.get_name());
    if arguments(command).any(|a| !a.is_positional()) {
        usage += " [OPTIONS]";
    }
    for arg in arguments(command).filter(|a| a.is_positional()) {
        let value = value(arg);
        usage += &if arg.is_required_set() {
            format!(" {value}")
        } else {
            format!(" [{value}]")
        };
    }
    usage
}

/// One argument with what it is for.
fn option(arg: &Arg) -> String {
    let value = plain(&value(arg));
    let head = match arg.get_long() {
        None => format!("\\fI{value}\\fR"),
        Some(long) if takes_value(arg) => format!("\\fB\\-\\-{}\\fR \\fI{value}\\fR", plain(long)),
        Some(long) => format!("\\fB\\-\\-{}\\fR", plain(long)),
    };
    let mut said = help(arg);
    let given: Vec<String> = arg
        .get_default_values()
        .iter()
        .map(|v| v.to_string_lossy().into_owned())
        .collect();
    if !given.is_empty() && takes_value(arg) {
        said += &format!(" [default: {}]", given.join(", "));
    }
    let possible: Vec<String> = arg
        .get_possible_values()
        .iter()
        .map(|v| v.get_name().to_owned())
        .collect();
    if !possible.is_empty() && takes_value(arg) {
        said += &format!(" [one of: {}]", possible.join(", "));
    }
    format!(".TP\n{head}\n{}\n", text(&said))
}

/// Words as `man` takes them.
fn plain(words: &str) -> String {
    words.replace('\\', "\\e").replace('-', "\\-")
}

/// Text of one or several lines: none begins with a sign that `man` would take for an order.
fn text(words: &str) -> String {
    let lines = words.lines().map(|line| {
        let line = plain(line.trim());
        if line.starts_with(['.', '\'']) {
            format!("\\&{line}")
        } else if line.is_empty() {
            ".PP".to_owned()
        } else {
            line
        }
    });
    lines.collect::<Vec<_>>().join("\n")
}
