//! A report as one page for the browser and for paper: no script, nothing fetched, white paper and
//! black type. Whatever comes from files is escaped here and nowhere else.

use std::fmt::Write;

use crate::court::Units;

use super::Heading;
use super::html_plot::svg;
use super::shown::{Shown, Still};
use super::why::{CAUTION, Dots, Section, Table};
use super::why_page::{REPLAY, played};
use super::why_sections::Teller;
use super::wrap::tie;
use crate::clean;

/// A table of no more rows than this is kept in one piece on paper.
const ONE_PIECE: usize = 20;

const STYLE: &str = include_str!("html_style.css");

/// Text that can stand anywhere in a page: no markup, no hidden characters.
pub fn escape(text: &str) -> String {
    clean::escape(&clean::line(text))
}

/// The beginning of a page, into its header: its kind, its heading, and its title in the browser.
pub(super) fn head(short: &str, kind: &str, title: &str) -> String {
    let title = escape(title);
    let mut out = String::new();
    out += "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n";
    out += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
    // A page that fetches nothing even if something slipped in.
    out += "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; \
            style-src 'unsafe-inline'\">\n";
    add(
        &mut out,
        format_args!(
            "<title>{short}: {title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<header>\n\
             <p class=\"kind\">{kind}</p>\n<h1>{title}</h1>\n"
        ),
    );
    out
}

/// The end of a page, with something that stands at its foot.
pub(super) fn foot(out: &mut String, said: &str) {
    let version = env!("CARGO_PKG_VERSION");
    add(
        out,
        format_args!(
            "</main>\n<footer>\n<p>{}</p>\n<p>Made by Lanelight {version}. Every interval is at 95 %, clustered by \
             possession. The players and the game are simulated; the same seeds give this very page.</p>\n\
             </footer>\n</body>\n</html>\n",
            escape(said)
        ),
    );
}

/// The whole page.
pub fn page(heading: &Heading, teller: &Teller, sections: &[Section], shown: &Shown) -> String {
    let (summary, units) = (teller.summary, teller.units);
    let title = format!("{} against {}", heading.offence, heading.defence);
    let mut out = head("Why", "Why it stalls, and what to change", &title);
    for tweak in &heading.tweaks {
        add(
            &mut out,
            format_args!("<p>with the tweak {}</p>\n", escape(tweak)),
        );
    }
    let said = escape(&played(heading, summary));
    add(&mut out, format_args!("<p>{said}</p>\n"));
    add(
        &mut out,
        format_args!(
            "<p class=\"caution\">{}</p>\n</header>\n<main>\n",
            escape(CAUTION)
        ),
    );
    first(&mut out, teller, shown);
    let mut figure = 0;
    seen(&mut out, shown, units, &mut figure);
    for s in sections {
        section(&mut out, s, shown, units, &mut figure);
    }
    foot(&mut out, REPLAY);
    out
}

/// Writing into a string does not fail.
fn add(out: &mut String, text: std::fmt::Arguments) {
    let _ = out.write_fmt(text);
}

/// The first page: three findings, each with its picture, and what to try.
fn first(out: &mut String, teller: &Teller, shown: &Shown) {
    *out += "<section class=\"first\">\n<h2>Three findings</h2>\n<div class=\"three\">\n";
    for (i, (said, example)) in teller.first().iter().enumerate() {
        let still = example.and_then(|named| shown.of(named));
        let svg = still.map_or("", |s| s.svg.as_str());
        let says = still.map_or("", |s| s.says.as_str());
        add(
            out,
            format_args!(
                "<figure class=\"still\">\n{svg}<figcaption><b>{}.</b> {} <i>{}</i></figcaption>\n</figure>\n",
                i + 1,
                tie(&escape(said)),
                escape(says)
            ),
        );
    }
    add(
        out,
        format_args!(
            "</div>\n<p class=\"try\"><b>What to try.</b> {}</p>\n<p class=\"lead\">Bright \
             floor: a catch there pays. In brackets: the 95 % interval. The rest stands \
             behind the headings below.</p>\n</section>\n",
            escape(&teller.to_try())
        ),
    );
}

/// Light through a possession, where and when it stalls, and where help stands.
fn seen(out: &mut String, shown: &Shown, units: Units, figure: &mut u32) {
    if !shown.through.is_empty() {
        *out += "<details>\n<summary><h2>Light through a possession</h2></summary>\n";
        for dots in &shown.through {
            plot(out, dots, units, figure);
        }
        stills(out, shown.stalled.iter());
        *out += "</details>\n";
    }
    if !shown.help.is_empty() {
        *out += "<details>\n<summary><h2>Where help stands</h2></summary>\n\
                 <p>Defenders whose players are one or more passes away, for each place of the ball; with \
                 the ball on the left all is mirrored.</p>\n";
        stills(out, shown.help.iter());
        *out += "</details>\n";
    }
}

/// Pictures beside each other.
fn stills<'a>(out: &mut String, stills: impl Iterator<Item = &'a Still>) {
    let mut figures = String::new();
    for still in stills {
        add(
            &mut figures,
            format_args!(
                "<figure class=\"still\">\n{}<figcaption>{}</figcaption>\n</figure>\n",
                still.svg,
                escape(&still.says)
            ),
        );
    }
    if !figures.is_empty() {
        add(
            out,
            format_args!("<div class=\"three\">\n{figures}</div>\n"),
        );
    }
}

fn plot(out: &mut String, dots: &Dots, units: Units, figure: &mut u32) {
    let drawing = svg(dots, units);
    if drawing.is_empty() {
        return;
    }
    *figure += 1;
    add(
        out,
        format_args!(
            "<figure>\n{drawing}\n<figcaption>Figure {figure}. {}. Dot: the figure. Line: \
             its 95&nbsp;% interval.</figcaption>\n</figure>\n",
            escape(&dots.caption)
        ),
    );
}

fn section(out: &mut String, s: &Section, shown: &Shown, units: Units, figure: &mut u32) {
    add(
        out,
        format_args!(
            "<details>\n<summary><h2>{}</h2></summary>\n",
            escape(&s.title)
        ),
    );
    if !s.lead.is_empty() {
        add(
            out,
            format_args!("<p class=\"lead\">{}</p>\n", escape(&s.lead)),
        );
    }
    if !s.sentences.is_empty() {
        *out += "<ul>\n";
        for sentence in &s.sentences {
            add(out, format_args!("<li>{}</li>\n", tie(&escape(sentence))));
        }
        *out += "</ul>\n";
    }
    stills(out, s.named.iter().filter_map(|named| shown.of(*named)));
    for dots in &s.plots {
        plot(out, dots, units, figure);
    }
    s.tables.iter().for_each(|t| table(out, t));
    if !s.note.is_empty() {
        add(
            out,
            format_args!("<p class=\"note\">{}</p>\n", escape(&s.note)),
        );
    }
    *out += "</details>\n";
}

pub(super) fn table(out: &mut String, t: &Table) {
    if t.rows.is_empty() {
        return;
    }
    add(
        out,
        format_args!(
            "<div class=\"wide\"><table{}>\n<caption>{}.</caption>\n<thead><tr>",
            if t.rows.len() <= ONE_PIECE {
                " class=\"keep\""
            } else {
                ""
            },
            escape(&t.caption)
        ),
    );
    for (i, head) in t.heads.iter().enumerate() {
        let class = align(t, i);
        add(
            out,
            format_args!("<th scope=\"col\"{class}>{}</th>", escape(head)),
        );
    }
    *out += "</tr></thead>\n<tbody>\n";
    for row in &t.rows {
        if let ([group], true) = (row.as_slice(), t.heads.len() > 1) {
            let (n, group) = (t.heads.len(), escape(group));
            add(
                out,
                format_args!(
                    "<tr class=\"group\"><th scope=\"colgroup\" colspan=\"{n}\">{group}</th></tr>\n"
                ),
            );
            continue;
        }
        *out += "<tr>";
        for (i, cell) in row.iter().enumerate() {
            let below = i == 0 && cell.starts_with(' ');
            let class = if below { " class=\"in\"" } else { align(t, i) };
            let cell = escape(cell);
            let (open, close) = if i == 0 {
                ("th scope=\"row\"", "th")
            } else {
                ("td", "td")
            };
            add(out, format_args!("<{open}{class}>{cell}</{close}>"));
        }
        *out += "</tr>\n";
    }
    *out += "</tbody>\n</table></div>\n";
}

/// Columns of words stand to the left, of numbers to the right.
fn align(t: &Table, column: usize) -> &'static str {
    let number = |cell: &String| {
        let first = |c: char| c.is_ascii_digit() || matches!(c, '–' | '<' | '>');
        cell.is_empty() || cell.starts_with(first)
    };
    let numbers = t.rows.iter().filter_map(|r| r.get(column)).all(number);
    if numbers && column > 0 {
        " class=\"n\""
    } else {
        ""
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_stand_to_the_right_even_where_they_begin_with_a_sign() {
        let row = |cell: &str| vec!["a".to_string(), cell.to_string()];
        let mut t = Table {
            caption: String::new(),
            heads: vec![String::new(); 2],
            rows: vec![row("<1 (≤2)"), row(">99 (≥98)"), row("–"), row("12 ± 1")],
        };
        assert_eq!(align(&t, 1), " class=\"n\"");
        t.rows.push(row("skip"));
        assert_eq!(align(&t, 1), "");
    }

    #[test]
    fn no_text_can_become_markup() {
        assert_eq!(
            escape("<b onx='1'>\"&\u{202E}"),
            "&lt;b onx=&#39;1&#39;&gt;&quot;&amp;"
        );
    }
}
