//! The practice sheet: one or two pages to hang up or hand out, made from a scenario and the
//! figures of its `why` report. What is written on it is in `practice`, the time plan in `plan`,
//! the sentences with figures in `findings`, and how it is set on paper in `paper` and `set`.

pub mod ages;
mod answers;
pub mod breakdown;
mod cue;
pub mod drills;
mod examples;
pub mod findings;
mod five;
mod fronts;
pub mod groups;
pub mod handout;
mod next;
mod pages;
pub mod paper;
pub mod plan;
mod points;
pub mod positions;
pub mod practice;
mod reads;
pub mod reasons;
mod runs;
pub mod scoring;
pub mod scout;
pub mod series;
pub mod set;
pub mod stands;
mod starts;
pub mod turns;

pub use findings::Said;
pub use paper::Paper;
pub use practice::Practice;
