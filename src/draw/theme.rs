//! Colours by day and by night. No colour says anything that its sign does not say without it, and
//! every sign stands out from the floor for every kind of eye (a test looks with each).

/// Day or night.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Theme {
    /// White floor, black lines: for paper.
    Day,
    /// Dim floor lit by the ball: for the screen.
    Night,
}

/// Colours of a theme.
pub(super) struct Ink {
    pub floor: &'static str,
    pub line: &'static str,
    pub light: &'static str,
    pub wash: &'static str,
    pub dusk: &'static str,
    pub shadow: &'static str,
    pub ink: &'static str,
    pub attacker: &'static str,
    pub attacker_number: &'static str,
    pub defender: &'static str,
    pub ball: &'static str,
    pub thin: &'static str,
}

const DAY: Ink = Ink {
    floor: "#ffffff",
    line: "#6b6b6b",
    light: "#f2c230",
    wash: "#fff5cc",
    dusk: "#d3d3da",
    shadow: "#8a8a8a",
    ink: "#000000",
    attacker: "#000000",
    attacker_number: "#ffffff",
    defender: "#000000",
    ball: "#f08a00",
    thin: "#444444",
};

const NIGHT: Ink = Ink {
    floor: "#2c1d12",
    line: "#a37d52",
    light: "#ffcf7a",
    wash: "#ffcf7a",
    dusk: "#2c1d12",
    shadow: "#000000",
    ink: "#f6ecd9",
    attacker: "#f6ecd9",
    attacker_number: "#1d130b",
    defender: "#bfe3f2",
    ball: "#fff7c9",
    thin: "#d8c3a0",
};

impl Theme {
    pub(super) fn ink(self) -> &'static Ink {
        match self {
            Theme::Day => &DAY,
            Theme::Night => &NIGHT,
        }
    }
}

/// How a colour looks to dichromats: Machado, Oliveira, Fernandes (2009), A Physiologically-
/// based Model for Simulation of Color Vision Deficiency, severity 1 (matrices from memory).
#[cfg(test)]
pub(crate) const SEEN: [[[f64; 3]; 3]; 4] = [
    [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
    [
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ],
    [
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ],
    [
        [1.255528, -0.076749, -0.178779],
        [-0.078411, 0.930809, 0.147602],
        [0.004733, 0.691367, 0.303900],
    ],
];

#[cfg(test)]
mod tests {
    use super::*;

    /// Linear parts of a colour "#rrggbb", 0..=1.
    fn linear(colour: &str) -> [f64; 3] {
        [1, 3, 5].map(|at| {
            let part = u8::from_str_radix(&colour[at..at + 2], 16).expect("a colour");
            let c = f64::from(part) / 255.0;
            if c <= 0.04045 {
                c / 12.92
            } else {
                libm::pow((c + 0.055) / 1.055, 2.4)
            }
        })
    }

    /// Relative luminance as somebody sees it (WCAG 2, relative luminance).
    fn luminance(colour: &str, seen: &[[f64; 3]; 3]) -> f64 {
        let own = linear(colour);
        let part = |row: &[f64; 3]| {
            let sum = row[0] * own[0] + row[1] * own[1] + row[2] * own[2];
            sum.clamp(0.0, 1.0)
        };
        0.2126 * part(&seen[0]) + 0.7152 * part(&seen[1]) + 0.0722 * part(&seen[2])
    }

    #[test]
    fn every_sign_stands_out_from_the_floor_for_every_kind_of_eye() {
        for theme in [Theme::Day, Theme::Night] {
            let ink = theme.ink();
            for seen in &SEEN {
                let contrast = |a: &str, b: &str| {
                    let (a, b) = (luminance(a, seen), luminance(b, seen));
                    (a.max(b) + 0.05) / (a.min(b) + 0.05)
                };
                // 4.5 to 1 for text, 3 to 1 for signs (WCAG 2, 1.4.3 and 1.4.11).
                for text in [ink.defender, ink.ink, ink.thin] {
                    assert!(contrast(text, ink.floor) >= 4.5, "{theme:?} {text}");
                }
                assert!(contrast(ink.attacker_number, ink.attacker) >= 4.5);
                for sign in [ink.attacker, ink.line] {
                    assert!(contrast(sign, ink.floor) >= 3.0, "{theme:?} {sign}");
                    assert!(contrast(sign, ink.dusk) >= 3.0, "{theme:?} {sign}");
                }
                // Where it is lit it is lighter, without colour too.
                let (lit, dark) = (luminance(ink.wash, seen), luminance(ink.dusk, seen));
                assert!(lit > dark + 0.15, "{theme:?}: {lit} {dark}");
            }
        }
    }
}
