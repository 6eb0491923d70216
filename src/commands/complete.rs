//! Completions of bash, zsh and fish, made from the definition of the command line. Where a value names something that
//! comes with the program, its words are offered.

use clap::{Arg, Command};
use lanelight::scenario::shipped::{self, Kind};

use super::manual::{about, arguments, commands, help, takes_value, value};

/// What can be written for the value of an argument; `None`: a file.
fn words(arg: &Arg) -> Option<Vec<String>> {
    let possible = arg.get_possible_values();
    if !possible.is_empty() {
        let names = possible.iter().map(|v| v.get_name().to_owned());
        return Some(names.collect());
    }
    let kind = match value(arg).as_str() {
        "DEFENCE" => Kind::Defence,
        "TWEAK" => Kind::Tweak,
        _ => return None,
    };
    Some(
        shipped::all(kind)
            .map(|file| file.word.to_owned())
            .collect(),
    )
}

/// "--seed", "--against".
fn options(command: &Command) -> Vec<String> {
    let mut all: Vec<String> = arguments(command)
        .filter_map(|a| Some(format!("--{}", a.get_long()?)))
        .collect();
    all.push("--help".into());
    all
}

/// The first sentence, of which a shell shows a line.
fn short(words: &str) -> String {
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    let end = words.find(". ").unwrap_or(words.len());
    let mut said = words[..end].trim_end_matches('.').to_owned();
    // Signs that end a text in one of the shells.
    said.retain(|c| !"'\"`$\\[]:{}".contains(c));
    said
}

/// For bash.
pub fn bash(command: &Command) -> String {
    let name = command.get_name();
    let list: Vec<&str> = commands(command).map(Command::get_name).collect();
    let mut out = format!(
        "# Completion of {name} for bash, made from its own definition.\n_{name}() {{\n    \
         local cur=${{COMP_WORDS[COMP_CWORD]}} prev=${{COMP_WORDS[COMP_CWORD-1]}} words= values=\n    \
         COMPREPLY=()\n    if [ \"$COMP_CWORD\" -eq 1 ]; then\n        \
         mapfile -t COMPREPLY < <(compgen -W \"{} help --help --version\" -- \"$cur\")\n        return\n    fi\n    \
         case ${{COMP_WORDS[1]}} in\n",
        list.join(" ")
    );
    for each in commands(command) {
        out += &format!(
            "    {})\n        words=\"{}\"\n",
            each.get_name(),
            options(each).join(" ")
        );
        let known: Vec<(String, Vec<String>)> = arguments(each)
            .filter_map(|a| Some((a.get_long()?.to_owned(), words(a)?)))
            .collect();
        if !known.is_empty() {
            out += "        case $prev in\n";
            for (long, words) in known {
                out += &format!("        --{long}) values=\"{}\" ;;\n", words.join(" "));
            }
            out += "        esac\n";
        }
        out += "        ;;\n";
    }
    out += &format!(
        "    help) words=\"{}\" ;;\n    esac\n    \
         if [ -n \"$values\" ]; then\n        mapfile -t COMPREPLY < <(compgen -W \"$values\" -- \"$cur\"; compgen -f -- \"$cur\")\n    \
         elif [[ $cur == -* || ${{COMP_WORDS[1]}} == help ]]; then\n        mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$cur\")\n    \
         else\n        mapfile -t COMPREPLY < <(compgen -f -- \"$cur\")\n    fi\n}}\ncomplete -o filenames -F _{name} {name}\n",
        list.join(" ")
    );
    out
}

/// For zsh.
pub fn zsh(command: &Command) -> String {
    let name = command.get_name();
    let mut out = format!(
        "#compdef {name}\n# Completion of {name} for zsh, made from its own definition.\n_{name}() {{\n    \
         local line state\n    local -a known=(\n"
    );
    for each in commands(command) {
        out += &format!("        '{}:{}'\n", each.get_name(), short(&about(each)));
    }
    out += "        'help:Print help of a command'\n    )\n    \
            _arguments -C '1: :->command' '*:: :->rest'\n    \
            case $state in\n    command) _describe command known ;;\n    rest)\n        case $line[1] in\n";
    for each in commands(command) {
        out += &format!("        {})\n            _arguments", each.get_name());
        for arg in arguments(each) {
            let Some(long) = arg.get_long() else { continue };
            let said = short(&help(arg));
            out += &match (takes_value(arg), words(arg)) {
                (false, _) => format!(" \\\n                '--{long}[{said}]'"),
                (true, Some(words)) => {
                    let value = value(arg);
                    format!(
                        " \\\n                '*--{long}[{said}]:{value}:({})'",
                        words.join(" ")
                    )
                }
                (true, None) => {
                    format!(
                        " \\\n                '*--{long}[{said}]:{}:_files'",
                        value(arg).replace(':', "\\:")
                    )
                }
            };
        }
        out += " \\\n                '--help[Print help]' '*:file:_files' ;;\n";
    }
    out += &format!("        esac ;;\n    esac\n}}\n_{name} \"$@\"\n");
    out
}

/// For fish.
pub fn fish(command: &Command) -> String {
    let name = command.get_name();
    let mut out = format!("# Completion of {name} for fish, made from its own definition.\n");
    for each in commands(command) {
        let word = each.get_name();
        out += &format!(
            "complete -c {name} -n __fish_use_subcommand -f -a {word} -d '{}'\n",
            short(&about(each))
        );
        for arg in arguments(each) {
            let Some(long) = arg.get_long() else { continue };
            let takes = match (takes_value(arg), words(arg)) {
                (false, _) => String::new(),
                (true, Some(words)) => format!(" -x -a '{}'", words.join(" ")),
                (true, None) => " -r".into(),
            };
            out += &format!(
                "complete -c {name} -n '__fish_seen_subcommand_from {word}' -l {long}{takes} -d '{}'\n",
                short(&help(arg))
            );
        }
    }
    out
}
