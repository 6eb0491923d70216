//! A table with aligned columns: the first to the left, the rest to the right.

use super::wrap::{WIDTH, wrap_to};

/// Spaces between two columns, at most.
const GAP: usize = 3;
/// The first column is not made narrower than this, characters.
const NARROWEST: usize = 14;

/// The lines of a table under its heads, each indented by two spaces and no wider than a terminal:
/// columns stand closer together where there is no room, then the first is broken between words, and
/// then brackets stand below their figures. Rows shorter than the heads are filled up with nothing; a single cell under several heads
/// is a heading for the rows below it and makes no column wider.
pub fn table(heads: &[&str], rows: &[Vec<String>]) -> String {
    let (head, rows) = blocks(heads, rows, WIDTH);
    head + &rows.concat()
}

/// Of the columns, so many from the first on have room beside each other on a plain terminal.
pub fn columns_with_room(heads: &[String], rows: &[Vec<String>]) -> usize {
    let plain = || rows.iter().filter(|r| r.len() > 1);
    let column = |i: usize| {
        let cells = plain().filter_map(|r| r.get(i)).map(|c| wide(c));
        cells.chain([wide(&heads[i])]).max().unwrap_or(0)
    };
    let mut room = WIDTH.saturating_sub(2 + NARROWEST);
    let more = (1..heads.len()).take_while(|i| {
        let needs = 1 + column(*i);
        let fits = needs <= room;
        room = room.saturating_sub(needs);
        fits
    });
    1 + more.count()
}

/// The head and each row of such a table, no line wider than `most` characters.
pub fn blocks(heads: &[&str], rows: &[Vec<String>], most: usize) -> (String, Vec<String>) {
    let widest = |i: usize, wide: &dyn Fn(&str) -> usize| {
        let plain = rows.iter().filter(|r| r.len() > 1 || heads.len() == 1);
        let cells = plain.filter_map(|r| r.get(i)).map(|c| wide(c));
        cells.chain([self::wide(heads[i])]).max().unwrap_or(0)
    };
    let mut widths: Vec<usize> = (0..heads.len()).map(|i| widest(i, &wide)).collect();
    let folded = |i: usize| {
        let parts = |c: &str| below(c, 0).into_iter().map(wide).max().unwrap_or(0);
        widest(i, &parts)
    };
    // Brackets go below their figures in the column where that makes most room, until there is enough.
    loop {
        let first = widths.first().map_or(0, |first| *first.min(&NARROWEST));
        let needs = 2 + first + widths.iter().skip(1).map(|w| w + 1).sum::<usize>();
        let gains = (1..widths.len()).map(|i| (widths[i] - folded(i), i));
        match gains.max() {
            Some((gain, i)) if needs > most && gain > 0 => widths[i] -= gain,
            _ => break,
        }
    }
    let others: usize = widths.iter().skip(1).sum();
    let gaps = widths.len().saturating_sub(1);
    let first = widths.first().copied().unwrap_or(0);
    let fits = |gap: usize, first: usize| 2 + first + others + gap * gaps <= most;
    let gap = (1..=GAP).rev().find(|gap| fits(*gap, first)).unwrap_or(1);
    if !fits(gap, first) {
        let room = most.saturating_sub(2 + others + gap * gaps);
        widths[0] = room.max(NARROWEST);
    }
    let shape = Shape { widths, gap, most };
    let head = match heads.iter().any(|h| !h.is_empty()) {
        true => shape.row(heads),
        false => String::new(),
    };
    let row = |row: &Vec<String>| {
        let cells: Vec<&str> = row.iter().map(String::as_str).collect();
        shape.row(&cells)
    };
    (head, rows.iter().map(row).collect())
}

fn wide(text: &str) -> usize {
    text.chars().count()
}

/// The lines of a cell: its bracket below the figure where they have no room beside each other.
fn below(cell: &str, room: usize) -> Vec<&str> {
    match cell.find(" (").filter(|_| wide(cell) > room) {
        Some(at) => vec![&cell[..at], &cell[at + 1..]],
        None => vec![cell],
    }
}

/// How wide the columns are, and how far apart.
struct Shape {
    widths: Vec<usize>,
    gap: usize,
    most: usize,
}

impl Shape {
    /// One row; the first cell goes on below itself where it is too long, the others begin with its
    /// last line.
    fn row(&self, cells: &[&str]) -> String {
        let first = cells.first().copied().unwrap_or("");
        let alone = cells.len() == 1;
        let room = match alone {
            true => self.most.saturating_sub(2),
            false => self.widths[0],
        };
        let inside = first.len() - first.trim_start().len();
        let (before, after) = (" ".repeat(inside), " ".repeat(inside + 2));
        let folded = match wide(first) > room {
            true => wrap_to(first.trim_start(), &before, &after, room),
            false => format!("{first}\n"),
        };
        let lines: Vec<&str> = folded.lines().collect();
        let others: Vec<(usize, Vec<&str>)> = self
            .widths
            .iter()
            .zip(cells)
            .skip(1)
            .map(|(w, cell)| (*w, below(cell, *w)))
            .collect();
        let more = others
            .iter()
            .map(|(_, parts)| parts.len())
            .max()
            .unwrap_or(1);
        let last = lines.len().saturating_sub(1);
        let mut text = String::new();
        for i in 0..last + more {
            let line = lines.get(i).copied().unwrap_or("");
            let mut whole = format!("  {line}");
            if i >= last && !alone {
                whole += &" ".repeat(self.widths[0].saturating_sub(wide(line)));
                for (width, parts) in &others {
                    let cell = parts.get(i - last).copied().unwrap_or("");
                    let pad = width.saturating_sub(wide(cell)) + self.gap;
                    whole += &" ".repeat(pad);
                    whole += cell;
                }
            }
            text += whole.trim_end();
            text.push('\n');
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_heading_inside_a_table_makes_no_column_wider() {
        let rows = vec![
            vec!["a heading that is rather long".into()],
            vec!["drive".into(), "4 %".into()],
        ];
        assert_eq!(
            table(&["look", "open"], &rows),
            "  look    open\n  a heading that is rather long\n  drive    4 %\n"
        );
    }

    #[test]
    fn columns_move_together_where_there_is_no_room() {
        let rows = vec![vec!["a".into(), "b".into(), "c".into()]];
        let heads = ["", "", ""];
        let at = |most| blocks(&heads, &rows, most).1.concat();
        assert_eq!(at(80), table(&heads, &rows));
        assert_eq!(at(9), "  a  b  c\n");
    }

    #[test]
    fn no_line_is_wider_than_a_terminal() {
        let long = "open windows that the rules never take, in a possession".to_string();
        let cells = ["−2.67 (−3.57 to −1.76)", "too close to call", "12.3 ± 0.4"];
        let mut row = vec![long.clone()];
        row.extend(cells.map(String::from));
        let rows = vec![vec![long.repeat(3)], row];
        let text = table(&["", "difference", "sure", "now"], &rows);
        for line in text.lines() {
            assert!(line.chars().count() <= WIDTH, "{line}");
        }
        let last = text.lines().next_back().unwrap();
        assert!(
            last.contains("−2.67") && last.ends_with("12.3 ± 0.4"),
            "{text}"
        );
        let words = |text: &str| {
            text.split_whitespace()
                .map(String::from)
                .collect::<Vec<_>>()
        };
        let first = words(&rows[1][0]);
        assert!(first.iter().all(|w| words(&text).contains(w)), "{text}");
    }

    #[test]
    fn brackets_go_below_their_figures_where_there_is_no_room_and_nothing_is_left_out() {
        let rows = vec![
            vec!["drive".into(), "0.0 (0.0–0.1)".into(), "7 ± 2".into()],
            vec!["skip".into(), "31 ± 2".into(), "0 (0–1)".into()],
        ];
        let at = |most| blocks(&["", "", ""], &rows, most).1.concat();
        assert_eq!(
            at(29),
            "  drive 0.0 (0.0–0.1)   7 ± 2\n  skip         31 ± 2 0 (0–1)\n"
        );
        assert_eq!(
            at(25),
            "  drive       0.0   7 ± 2\n        (0.0–0.1)\n  skip     31 ± 2 0 (0–1)\n"
        );
    }

    #[test]
    fn columns_stand_under_their_heads() {
        let rows = vec![
            vec!["drive".into(), "4 %".into()],
            vec!["skip".into(), "12 %".into()],
        ];
        assert_eq!(
            table(&["look", "open"], &rows),
            "  look    open\n  drive    4 %\n  skip    12 %\n"
        );
    }
}
