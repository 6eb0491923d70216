//! A table with aligned columns: the first to the left, the rest to the right.

/// Widest line of a table, characters: half a wide screen, a sheet of paper across.
pub const WIDEST: usize = 100;
/// Spaces between two columns.
const GAP: usize = 3;

/// The lines of a table under its heads, each indented by two spaces. Rows shorter than the heads
/// are filled up with nothing; a single cell under several heads is a heading for the rows below
/// it and makes no column wider.
pub fn table(heads: &[&str], rows: &[Vec<String>]) -> String {
    spaced(heads, rows, GAP)
}

/// The same with its columns closer together where no line may be wider than `most` characters.
pub fn fitted(heads: &[&str], rows: &[Vec<String>], most: usize) -> String {
    let fits = |text: &String| text.lines().all(|l| l.chars().count() <= most);
    let texts = (1..=GAP).rev().map(|gap| spaced(heads, rows, gap));
    let mut texts: Vec<String> = texts.collect();
    let first = texts.iter().position(fits).unwrap_or(texts.len() - 1);
    texts.swap_remove(first)
}

fn spaced(heads: &[&str], rows: &[Vec<String>], between: usize) -> String {
    let wide = |text: &str| text.chars().count();
    let widths: Vec<usize> = heads
        .iter()
        .enumerate()
        .map(|(i, head)| {
            let plain = rows.iter().filter(|r| r.len() > 1 || heads.len() == 1);
            let cells = plain.filter_map(|r| r.get(i)).map(|c| wide(c));
            cells.chain([wide(head)]).max().unwrap_or(0)
        })
        .collect();
    let line = |cells: &mut dyn Iterator<Item = &str>| {
        let mut text = String::from(" ");
        for (i, width) in widths.iter().enumerate() {
            let cell = cells.next().unwrap_or("");
            let pad = " ".repeat(width.saturating_sub(wide(cell)));
            let gap = " ".repeat(if i == 0 { 1 } else { between });
            text += &if i == 0 {
                format!("{gap}{cell}{pad}")
            } else {
                format!("{gap}{pad}{cell}")
            };
        }
        text.trim_end().to_string() + "\n"
    };
    let mut text = String::new();
    if heads.iter().any(|h| !h.is_empty()) {
        text += &line(&mut heads.iter().copied());
    }
    for row in rows {
        text += &line(&mut row.iter().map(String::as_str));
    }
    text
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
        assert_eq!(fitted(&heads, &rows, 80), table(&heads, &rows));
        assert_eq!(fitted(&heads, &rows, 9), "  a  b  c\n");
        assert_eq!(fitted(&heads, &rows, 3), "  a b c\n");
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
