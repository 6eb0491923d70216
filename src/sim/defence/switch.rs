//! Players traded on a screen.

use super::*;
use crate::possession::What;

/// Trade players where an attacker comes off a team-mate's body and the own defender is caught behind it.
pub(super) fn switch_on_screens(clock: &Clock, old: &Old, five: &mut Five, book: &mut Book) {
    for a in 0..5 {
        for b in 0..5 {
            if a == b {
                continue;
            }
            let (man_a, man_b) = (five[a].2.man, five[b].2.man);
            let (pa, pb) = (old.scene.pos[man_a], old.scene.pos[man_b]);
            let guard = old.scene.pos[5 + a];
            // b's man stands against a's defender, and a's man runs by.
            let screened = old.screens[man_b] && (pb - guard).length() < 1.0;
            let running = old.scene.vel[man_a].length() > 2.0
                && (pa - pb).length() < 2.0
                && (pa - guard).length() > 1.0;
            if screened && running {
                five[a].2.man = man_b;
                five[b].2.man = man_a;
                book.write(
                    clock,
                    What::Switches {
                        defender: a as u8 + 1,
                        with: b as u8 + 1,
                    },
                );
                return;
            }
        }
    }
}
