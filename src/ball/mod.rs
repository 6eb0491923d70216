//! The ball: its size and bounce, kinds of pass, and a pass in flight. Pure functions.
//!
//! * [`BallSize`] – radius, drag and rebound of the sizes 5, 6 and 7.
//! * [`PassKind`] – chest, bounce, overhead and drop-off pass: speed, heights, range.
//! * [`Flight`] – where the ball is at every moment of a pass.
//!
//! Horizontal motion: quadratic drag in closed form, x(t) = ln(1 + k·v₀·t) / k, with
//! k = ρ·C_d·A / 2m (ρ 1.2 kg/m³, C_d 0.47: read in inpredictable.com 2015-08 "Kind of a Drag").
//! Vertical motion: gravity only. Units: metres, seconds; heights are of the centre of the ball.
//!
//! *Not* modelled: spin, the drag of the vertical motion and its coupling with the horizontal one
//! (a steep lob would fly a few per cent shorter), the ball's radius against a hand.

mod flight;
mod pass;
mod size;
#[cfg(test)]
mod tests;

pub use flight::Flight;
pub use pass::{Hands, PassKind};
pub use size::{BallSize, rebound_height};
