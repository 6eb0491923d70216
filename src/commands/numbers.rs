//! `numbers`: every number of the model, with unit, source, plausible range and meaning.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use lanelight::model::{Number, Table};
use lanelight::report::files::{Output, is_screen};

use super::show;
use crate::Failure;

/// Columns of a terminal window as it usually opens.
const WIDTH: usize = 80;

#[derive(Args)]
pub struct NumbersArgs {
    /// Write the numbers as JSON ("-": to the standard output, instead of the table).
    #[arg(long, value_name = "FILE")]
    json: Option<PathBuf>,
}

/// Shows the table, or writes it as JSON.
pub fn numbers(args: &NumbersArgs) -> Result<(), Failure> {
    let table = Table::shipped();
    let out = args.json.as_deref().map(Output::start).transpose()?;
    if let Some(out) = out {
        out.fill(|out| {
            serde_json::to_writer_pretty(&mut *out, table)?;
            writeln!(out)
        })?;
    }
    if !args.json.as_deref().is_some_and(is_screen) {
        show(&page(table))?;
    }
    Ok(())
}

fn page(table: &Table) -> String {
    let mut text = wrap(
        &format!(
            "The numbers of the model. A scenario can change any of them: model: \
             {{\"looks.pivot_distance\": 1.2}}. A range in brackets is no known one: it goes from the \
             value divided by {0} to the value times {0}, and a share ends at 1.",
            table.unknown_range
        ),
        "",
    );
    for group in &table.groups {
        text += &format!("\n{}\n", group.title.to_uppercase());
        for number in &group.numbers {
            text += &entry(number);
        }
    }
    text
}

/// Name, value, unit and range on one line; below it what it means and where it comes from.
fn entry(number: &Number) -> String {
    let (least, most) = (short(number.range.0), short(number.range.1));
    let range = if number.range_known {
        format!("{least} to {most}")
    } else {
        format!("({least} to {most})")
    };
    let head = format!(
        "  {:<38} {:>7} {:<10} {range}",
        number.name,
        short(number.value),
        number.unit
    );
    let source = format!("{}: {}", number.source.word(), number.citation);
    let source = match number.citation.strip_prefix(number.source.word()) {
        Some(_) => number.citation.clone(),
        None => source,
    };
    format!(
        "{}\n{}{}",
        head.trim_end(),
        wrap(&number.says, "    "),
        wrap(&format!("[{source}]"), "    ")
    )
}

/// Running text in lines of at most [`WIDTH`], each with `before` before it.
fn wrap(text: &str, before: &str) -> String {
    let mut lines = vec![before.to_string()];
    let mut width = before.len();
    for word in text.split_whitespace() {
        let long = word.chars().count();
        if let Some(line) = lines.last_mut().filter(|_| width + 1 + long <= WIDTH) {
            if width > before.len() {
                line.push(' ');
                width += 1;
            }
            line.push_str(word);
            width += long;
        } else {
            lines.push(format!("{before}{word}"));
            width = before.len() + long;
        }
    }
    lines.join("\n") + "\n"
}

/// Four significant digits.
fn short(value: f64) -> String {
    let digits = format!("{value:.3e}");
    digits
        .parse::<f64>()
        .map_or(digits, |near| near.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_page_fits_eighty_columns_and_names_every_number() {
        let page = page(Table::shipped());
        for line in page.lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
        for name in lanelight::model::NAMES {
            assert!(page.contains(name), "{name}");
        }
    }
}
