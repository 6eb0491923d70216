//! Against the world outside: one module a source. Each test names the author, year and title, the rule
//! book and article, or the library that it is held against; README.md lists them and explains the labels.

mod courts;
mod coverage;
mod franks;
mod generator;
mod geometry;
mod levels;
mod motion;
mod play;
mod spots;
mod statistics;
