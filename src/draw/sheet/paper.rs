//! Pages to set words and pictures on, as SVG in points (1/72 inch), from the top down. What does
//! not fit goes to the next page.

use std::fmt::Write as _;

use super::super::CAUTION_SHORT;
use super::super::svg::Picture;
use super::super::text::{FAMILY, shown, width, wrap};
use crate::clean::escape;

/// A paper size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8½ by 11 inches.
    Letter,
}

impl Paper {
    /// Every size, in the order in which the program names them.
    pub const ALL: [Paper; 2] = [Paper::A4, Paper::Letter];

    /// Width and height, points.
    pub const fn size(self) -> (f64, f64) {
        match self {
            Paper::A4 => (595.0, 842.0),
            Paper::Letter => (612.0, 792.0),
        }
    }

    /// The word of the command line.
    pub const fn word(self) -> &'static str {
        match self {
            Paper::A4 => "a4",
            Paper::Letter => "letter",
        }
    }
}

/// Margin on all sides, points: what common printers leave and a hole punch needs.
pub const MARGIN: f64 = 42.0;
/// Height of a line of text over its size, a ratio.
pub const LEADING: f64 = 1.3;
/// The foot takes so much, points.
const FOOT: f64 = 34.0;

/// Words of one size and weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Type {
    /// Height of the letters, points.
    pub size: f64,
    /// Bold instead of regular.
    pub bold: bool,
    /// Grey instead of black.
    pub grey: bool,
}

impl Type {
    /// The title of a sheet.
    pub const TITLE: Type = Type {
        size: 21.0,
        bold: true,
        grey: false,
    };
    /// The heading of a part.
    pub const HEAD: Type = Type {
        size: 13.0,
        bold: true,
        grey: false,
    };
    /// Running text that stands out.
    pub const STRONG: Type = Type {
        size: 10.5,
        bold: true,
        grey: false,
    };
    /// Running text.
    pub const BODY: Type = Type {
        size: 10.5,
        bold: false,
        grey: false,
    };
    /// The foot of a page and small print.
    pub const SMALL: Type = Type {
        size: 8.0,
        bold: false,
        grey: true,
    };
}

/// Pages on their way.
pub struct Book {
    /// The size of all pages.
    pub paper: Paper,
    foot: String,
    pages: Vec<String>,
    /// How far down the page is full, points.
    pub y: f64,
}

impl Book {
    /// An empty first page; `foot` and the caution stand at the bottom of each.
    pub fn new(paper: Paper, foot: &str) -> Book {
        Book {
            paper,
            foot: foot.to_string(),
            pages: vec![String::new()],
            y: MARGIN,
        }
    }

    /// Width between the margins.
    pub fn wide(&self) -> f64 {
        self.paper.size().0 - 2.0 * MARGIN
    }

    /// Down to where there may be something.
    fn bottom(&self) -> f64 {
        self.paper.size().1 - MARGIN - FOOT
    }

    /// How much room there is on an empty page, points.
    pub fn high(&self) -> f64 {
        self.bottom() - MARGIN
    }

    /// Pages begun so far.
    pub fn pages(&self) -> usize {
        self.pages.len()
    }

    /// How much room is left on this page, points.
    pub fn room(&self) -> f64 {
        (self.bottom() - self.y).max(0.0)
    }

    /// Turns the page unless there is still so much room.
    pub fn need(&mut self, high: f64) {
        if self.y + high > self.bottom() && self.y > MARGIN {
            self.turn();
        }
    }

    /// Goes on with a new page.
    pub fn turn(&mut self) {
        self.pages.push(String::new());
        self.y = MARGIN;
    }

    /// Leaves room.
    pub fn gap(&mut self, high: f64) {
        self.y += high;
    }

    fn page(&mut self) -> &mut String {
        if self.pages.is_empty() {
            self.pages.push(String::new());
        }
        let last = self.pages.len() - 1;
        &mut self.pages[last]
    }

    /// Height of a paragraph.
    pub fn height(text: &str, kind: Type, wide: f64) -> f64 {
        wrap(text, kind.size, kind.bold, wide).len() as f64 * kind.size * LEADING
    }

    /// Sets a paragraph at a place of the page, without moving on; says how high it is.
    pub fn set(&mut self, text: &str, kind: Type, x: f64, y: f64, wide: f64) -> f64 {
        let lines = wrap(text, kind.size, kind.bold, wide);
        let mut at = y;
        for line in &lines {
            at += kind.size * LEADING;
            self.line(line, kind, x, at - kind.size * 0.3);
        }
        at - y
    }

    fn line(&mut self, text: &str, kind: Type, x: f64, base: f64) {
        let weight = if kind.bold {
            " font-weight=\"bold\""
        } else {
            ""
        };
        let fill = if kind.grey { "#444444" } else { "#000000" };
        let text = escape(&shown(text));
        let _ = write!(
            self.page(),
            "<text x=\"{x:.1}\" y=\"{base:.1}\" font-size=\"{}\"{weight} fill=\"{fill}\">{text}</text>",
            kind.size
        );
    }

    /// A paragraph across the page, line by line over page ends.
    pub fn para(&mut self, text: &str, kind: Type) {
        self.hung("", text, kind, 0.0);
    }

    /// A paragraph with something hung out in front of it ("1", "•").
    pub fn hung(&mut self, mark: &str, text: &str, kind: Type, indent: f64) {
        let wide = self.wide() - indent;
        for (i, line) in wrap(text, kind.size, kind.bold, wide).iter().enumerate() {
            self.need(kind.size * LEADING);
            self.y += kind.size * LEADING;
            let base = self.y - kind.size * 0.3;
            if i == 0 && !mark.is_empty() {
                self.line(mark, Type { bold: true, ..kind }, MARGIN, base);
            }
            self.line(line, kind, MARGIN + indent, base);
        }
    }

    /// A heading with a rule under it, kept with what follows.
    pub fn head(&mut self, text: &str, keep: f64) {
        self.need(Type::HEAD.size * LEADING + 10.0 + keep);
        self.gap(9.0);
        self.para(text, Type::HEAD);
        let (y, right) = (self.y + 2.0, MARGIN + self.wide());
        let _ = write!(
            self.page(),
            "<path d=\"M{MARGIN} {y:.1}H{right:.1}\" stroke=\"#000000\" stroke-width=\"0.8\"/>"
        );
        self.gap(5.0);
    }

    /// A picture at a place of the page, with a thin frame, without moving on.
    pub fn picture(&mut self, picture: &Picture, x: f64, y: f64, wide: f64) -> f64 {
        let high = picture.height_at(wide);
        let placed = picture.placed(x, y, wide);
        let _ = write!(
            self.page(),
            "{placed}<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{wide:.1}\" height=\"{high:.1}\" \
             fill=\"none\" stroke=\"#bbbbbb\" stroke-width=\"0.5\"/>"
        );
        high
    }

    /// Pictures at the left margin one under another, `wide` points, each with what it shows under it, and paragraphs
    /// beside them, on one page; `room` points between the two and `below` points under the longer.
    pub fn beside(
        &mut self,
        pictures: &[(Picture, &str)],
        wide: f64,
        lines: &[(String, Type)],
        (room, below): (f64, f64),
    ) {
        let (x, width) = (MARGIN + wide + room, self.wide() - wide - room);
        let words: f64 = lines
            .iter()
            .map(|(text, kind)| Book::height(text, *kind, width))
            .sum();
        let shown = |says: &str| match says.is_empty() {
            true => 0.0,
            false => Book::height(says, Type::SMALL, wide) + 2.0,
        };
        let high: f64 = pictures
            .iter()
            .map(|(p, says)| p.height_at(wide) + shown(says))
            .sum();
        self.need(high.max(words) + below);
        let y = self.y;
        let mut down = y;
        for (picture, says) in pictures {
            down += self.picture(picture, MARGIN, down, wide);
            if !says.is_empty() {
                self.set(says, Type::SMALL, MARGIN, down, wide);
            }
            down += shown(says);
        }
        let mut at = y;
        for (text, kind) in lines {
            at += self.set(text, *kind, x, at, width);
        }
        self.gap(high.max(at - y) + below);
    }

    /// A dashed line across the page, to cut along.
    pub fn cut_line(&mut self) {
        let (y, right) = (self.y, MARGIN + self.wide());
        let _ = write!(
            self.page(),
            "<path d=\"M{MARGIN} {y:.1}H{right:.1}\" stroke=\"#777777\" stroke-width=\"0.5\" \
             stroke-dasharray=\"4 3\"/>"
        );
    }

    /// An empty box to tick or write in.
    pub fn tick(&mut self, x: f64, y: f64, size: f64) {
        let _ = write!(
            self.page(),
            "<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{size:.1}\" height=\"{size:.1}\" \
             fill=\"none\" stroke=\"#000000\" stroke-width=\"0.7\"/>"
        );
    }

    /// A frame round what has been set from `top` on.
    pub fn frame(&mut self, top: f64) {
        let (wide, high) = (self.wide() + 12.0, self.y - top + 8.0);
        let x = MARGIN - 6.0;
        let _ = write!(
            self.page(),
            "<rect x=\"{x:.1}\" y=\"{top:.1}\" width=\"{wide:.1}\" height=\"{high:.1}\" \
             fill=\"none\" stroke=\"#000000\" stroke-width=\"1\"/>"
        );
        self.gap(10.0);
    }

    /// Lines to write on, down to the foot of the page; none if there is hardly room. `headed`:
    /// "Notes" stands over them.
    pub fn notes(&mut self, headed: bool) {
        let (top, bottom) = (self.y + 14.0, self.bottom());
        if bottom - top < 70.0 {
            return;
        }
        if headed {
            self.y = top;
            self.para("Notes", Type::HEAD);
        }
        let right = MARGIN + self.wide();
        let mut y = self.y + 22.0;
        while y <= bottom {
            let _ = write!(
                self.page(),
                "<path d=\"M{MARGIN} {y:.1}H{right:.1}\" stroke=\"#999999\" stroke-width=\"0.5\"/>"
            );
            y += 24.0;
        }
        self.y = bottom;
    }

    /// The pages as SVG files.
    pub fn finish(mut self) -> Vec<String> {
        let (wide, high) = self.paper.size();
        let count = self.pages.len();
        let (foot, base) = (self.foot.clone(), high - MARGIN + 8.0);
        let pages = std::mem::take(&mut self.pages);
        let kind = Type::SMALL;
        pages
            .into_iter()
            .enumerate()
            .map(|(i, inside)| {
                self.pages = vec![inside];
                let above = base - kind.size * LEADING;
                self.line(CAUTION_SHORT, kind, MARGIN, above);
                let lines = wrap(&foot, kind.size, false, self.wide() - 70.0);
                let first = lines.first().cloned().unwrap_or_default();
                self.line(&first, kind, MARGIN, base);
                let number = format!("page {} of {count}", i + 1);
                let x = MARGIN + self.wide() - width(&number, kind.size, false);
                self.line(&number, kind, x, base);
                format!(
                    "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {wide:.0} {high:.0}\" \
                     width=\"{wide:.0}\" height=\"{high:.0}\" font-family=\"{FAMILY}\">\
                     <rect width=\"{wide:.0}\" height=\"{high:.0}\" fill=\"#ffffff\"/>{}</svg>\n",
                    self.pages[0]
                )
            })
            .collect()
    }
}
