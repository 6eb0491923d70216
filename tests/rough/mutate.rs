//! Spoils texts as people, editors and disks do: words and brackets go astray, numbers become huge,
//! strings odd, the end is cut off, bits flip.

use rand::{Rng, SeedableRng};
use rand_pcg::Pcg64;

/// Longest input made, bytes: somewhat more than any reader takes.
const LONGEST: usize = 1_300_000;

const NUMBERS: &[&str] = &[
    "0",
    "-0",
    "1",
    "-1",
    "6",
    "255",
    "256",
    "65536",
    "4294967296",
    "18446744073709551615",
    "18446744073709551616",
    "340282366920938463463374607431768211456",
    "0.1",
    "-0.5",
    "1e308",
    "1e309",
    "-1e309",
    "5e-324",
    "1e-400",
    "NaN",
    "inf",
    "-inf",
    "0x7fffffffffffffff",
    "0b1",
    "1_0",
    "1.",
    ".5",
    "1e",
    "++1",
    "120",
    "120.0001",
    "1e17",
];

const STRINGS: &[&str] = &[
    "\"\"",
    "\"\\u{202E}abc\"",
    "\"\\u{0}\"",
    "\"\\u{10FFFF}\"",
    "\"\\u{D800}\"",
    "\"\\u{110000}\"",
    "\"a\u{300}\u{301}\u{302}\"",
    "\"\u{1F3C0}\u{200D}\u{1F3FD}\"",
    "\"\u{FEFF}\"",
    "\"\r\n\"",
    "r#\"raw \" #\"#",
    "r####\"",
    "\"\\x1b[2J\"",
    "\"../../etc/passwd.ron\"",
    "\"demo.ron\"",
    "'x'",
    "'",
    "b\"bytes\"",
    "\"unclosed",
    "\"\\q\"",
    "\"\\",
    "\"=1+1\"",
];

const PIECES: &[&str] = &[
    "/*",
    "*/",
    "//",
    "#![enable(implicit_some)]",
    "#![enable(unwrap_newtypes)]",
    "#![enable(",
    "Some(",
    "None",
    "()",
    "[]",
    "{}",
    "(((",
    ")))",
    "]",
    "}",
    ",",
    ":",
    "ft(3)",
    "ft_in(3, 4)",
    "m(1e400)",
    "ft(ft(3))",
    "\u{0}",
    "\u{FEFF}",
    "\u{202E}",
    "\u{2028}",
    "\u{85}",
    "é",
    "\u{1}",
    "null",
    "true",
    "ball",
    "slot(weak)",
    "player(9)",
    "unfed:",
    "r#type",
    "/* /* */",
    "\\",
];

const DEPTHS: &[usize] = &[1, 2, 10, 63, 64, 65, 127, 128, 129, 1000, 20_000];

/// The stream of one input.
pub struct Dice(Pcg64);

impl Dice {
    pub fn new(seed: u64, kind: usize, number: u64) -> Dice {
        let mixed = seed.wrapping_mul(1_000_003).wrapping_add(kind as u64);
        Dice(Pcg64::seed_from_u64(
            mixed.wrapping_mul(1 << 32).wrapping_add(number),
        ))
    }

    pub fn below(&mut self, n: usize) -> usize {
        (self.0.next_u64() % n.max(1) as u64) as usize
    }

    fn one<'a, T: ?Sized>(&mut self, list: &[&'a T]) -> &'a T {
        list[self.below(list.len())]
    }
}

/// Words, numbers, strings, brackets and the space between.
fn tokens(text: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let same = |keep: fn(char) -> bool| rest.find(|c| !keep(c)).unwrap_or(rest.len());
        let word = |c: char| c.is_alphanumeric() || matches!(c, '_' | '.' | '+' | '-');
        let length = if first.is_whitespace() {
            same(char::is_whitespace)
        } else if word(first) {
            same(word)
        } else if first == '"' {
            let end = rest[1..].find('"').map_or(rest.len(), |i| i + 2);
            end.min(rest.len())
        } else {
            first.len_utf8()
        };
        let (token, after) = rest.split_at(length);
        out.push(token.to_owned());
        rest = after;
    }
    out
}

fn starts(token: &str, what: fn(char) -> bool) -> bool {
    token.chars().next().is_some_and(what)
}

/// A spoilt text, made from one of `seeds` and bits of the others.
pub fn spoilt(seeds: &[Vec<u8>], dice: &mut Dice) -> Vec<u8> {
    let text = |dice: &mut Dice| {
        let seed = &seeds[dice.below(seeds.len())];
        String::from_utf8_lossy(seed).into_owned()
    };
    let mut now = tokens(&text(dice));
    let other = tokens(&text(dice));
    let times = 1
        + dice.below(3)
        + if dice.below(6) == 0 {
            dice.below(30)
        } else {
            0
        };
    for _ in 0..times {
        if now.is_empty() {
            now.push("(".into());
        }
        let at = dice.below(now.len());
        let most = if dice.below(4) == 0 { 60 } else { 6 };
        let end = (at + 1 + dice.below(most)).min(now.len());
        match dice.below(13) {
            0 => {
                let with = dice.below(now.len());
                now.swap(at, with);
            }
            1 => drop(now.drain(at..end)),
            2 => {
                let piece = now[at..end].to_vec();
                let to = dice.below(now.len());
                now.splice(to..to, piece);
            }
            3 if !other.is_empty() => now[at] = other[dice.below(other.len())].clone(),
            4 | 5 => {
                let digits: Vec<usize> = (0..now.len())
                    .filter(|i| starts(&now[*i], |c| c.is_ascii_digit() || c == '-'))
                    .collect();
                let at = digits.get(dice.below(digits.len())).copied().unwrap_or(at);
                now[at] = match dice.below(12) {
                    0 => "9".repeat(1 + dice.below(2000)),
                    1 => format!("0.{}1", "0".repeat(dice.below(2000))),
                    _ => dice.one(NUMBERS).to_owned(),
                };
            }
            6 => {
                let quoted: Vec<usize> = (0..now.len())
                    .filter(|i| starts(&now[*i], |c| c == '"'))
                    .collect();
                let at = quoted.get(dice.below(quoted.len())).copied().unwrap_or(at);
                now[at] = match dice.below(10) {
                    0 => format!("\"{}\"", "\u{301}".repeat(1 + dice.below(5000))),
                    1 => format!("\"{}\"", "x".repeat(1 + dice.below(100_000))),
                    _ => dice.one(STRINGS).to_owned(),
                };
            }
            7 => {
                let depth = DEPTHS[dice.below(DEPTHS.len())];
                let (open, close) = [
                    ("(", ")"),
                    ("[", "]"),
                    ("Some(", ")"),
                    ("{", "}"),
                    ("a(", ")"),
                ][dice.below(5)];
                now.insert(
                    end,
                    close.repeat(if dice.below(4) == 0 { 0 } else { depth }),
                );
                now.insert(at, open.repeat(depth));
            }
            8 | 9 => now.insert(at, dice.one(PIECES).to_owned()),
            10 if !other.is_empty() => {
                let from = dice.below(other.len());
                now.truncate(at);
                now.extend_from_slice(&other[from..]);
            }
            11 => {
                let piece = now[at..end].to_vec();
                let times = if dice.below(5) == 0 { 3000 } else { 30 };
                let long: usize = piece.iter().map(String::len).sum();
                if long * times < LONGEST {
                    let many = std::iter::repeat_n(piece, times).flatten();
                    now.splice(end..end, many.collect::<Vec<_>>());
                }
            }
            _ => now[at] = dice.one(PIECES).to_owned(),
        }
    }
    let mut bytes = now.concat().into_bytes();
    bytes.truncate(LONGEST);
    match dice.below(12) {
        0 | 1 => bytes.truncate(dice.below(bytes.len())),
        2 => {
            for _ in 0..1 + dice.below(8) {
                if !bytes.is_empty() {
                    let at = dice.below(bytes.len());
                    bytes[at] ^= 1 << dice.below(8);
                }
            }
        }
        3 => {
            let at = dice.below(bytes.len());
            let noise: Vec<u8> = (0..dice.below(40)).map(|_| dice.below(256) as u8).collect();
            bytes.splice(at..at, noise);
        }
        _ => {}
    }
    bytes
}
