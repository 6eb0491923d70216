//! Dots with their intervals, drawn as SVG for paper: black on white, nothing told by colour.

use plotters::coord::Shift;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

use crate::court::Units;

use super::html::escape;
use super::why::{Dots, In, said};

/// Sizes in SVG units, of which a figure is 900 wide.
const WIDTH: u32 = 900;
const ROW: u32 = 26;
const TOP: u32 = 8;
const FOOT: u32 = 56;
const RIGHT: u32 = 150;
const TYPE: u32 = 18;
/// Width of a letter and the least room for names.
const LETTER: f64 = 8.6;
const NAMES: u32 = 110;

/// The figure as an `<svg>` element, or nothing if there is nothing to draw.
pub fn svg(dots: &Dots, units: Units) -> String {
    if dots.rows.is_empty() {
        return String::new();
    }
    let mut text = String::new();
    let height = TOP + FOOT + ROW * dots.rows.len() as u32;
    {
        let area = SVGBackend::with_string(&mut text, (WIDTH, height)).into_drawing_area();
        // Drawing into a string can only fail for want of memory; half a figure is then no figure.
        if draw(&area, dots, units).is_err() || area.present().is_err() {
            return String::new();
        }
    }
    let told = format!(
        "<svg role=\"img\" aria-label=\"{}\" ",
        escape(&dots.caption)
    );
    text.replacen("<svg ", &told, 1)
}

fn draw<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    dots: &Dots,
    units: Units,
) -> Result<(), DrawingAreaErrorKind<DB::ErrorType>> {
    let factor = match dots.unit {
        In::Percent | In::PointsPerHundred => 100.0,
        _ => 1.0,
    };
    let n = dots.rows.len();
    let high = dots.rows.iter().map(|r| r.1.high * factor);
    // Changes go below nought.
    let low = dots.rows.iter().map(|r| r.1.low * factor);
    let bottom = low.fold(0.0, f64::min) * 1.02;
    let top = match dots.unit {
        In::Percent if bottom >= 0.0 => 100.0,
        _ => high.fold(0.0, f64::max).max(1e-6) * 1.02,
    };
    let rows = n as f64;
    let longest = dots.rows.iter().map(|r| r.0.chars().count()).max();
    let left = (LETTER * longest.unwrap_or(0) as f64) as u32 + 24;
    let names = left.clamp(NAMES, WIDTH / 2);
    let whole = top >= 10.0;
    let mut chart = ChartBuilder::on(area)
        .margin_top(TOP)
        .margin_right(RIGHT)
        .x_label_area_size(FOOT - 2)
        .set_label_area_size(LabelAreaPosition::Left, names)
        .build_cartesian_2d(bottom..top, 0.0..rows)?;
    let label = |h, v| {
        ("sans-serif", TYPE)
            .into_font()
            .color(&BLACK)
            .pos(Pos::new(h, v))
    };
    chart
        .configure_mesh()
        .disable_y_mesh()
        .disable_y_axis()
        .y_labels(0)
        .x_labels(6)
        .x_label_formatter(&|x| format!("{:.*}", usize::from(!whole), x))
        .light_line_style(WHITE)
        .bold_line_style(RGBColor(215, 215, 215))
        .axis_style(BLACK)
        .x_desc(dots.axis.as_str())
        .x_label_style(("sans-serif", TYPE - 2))
        .axis_desc_style(("sans-serif", TYPE - 1))
        .draw()?;
    for (i, (name, e)) in dots.rows.iter().enumerate() {
        let y = rows - 0.5 - i as f64;
        let [low, value, high] = [e.low, e.value, e.high].map(|x| (x * factor).clamp(bottom, top));
        if dots.bars {
            let grey = RGBColor(190, 190, 190).filled();
            let corners = [(0.0, y - 0.32), (value, y + 0.32)];
            chart.draw_series([Rectangle::new(corners, grey)])?;
        }
        let bar = BLACK.stroke_width(2);
        let line = |a: (f64, f64), b: (f64, f64)| PathElement::new(vec![a, b], bar);
        chart.draw_series([
            line((low, y), (high, y)),
            line((low, y - 0.18), (low, y + 0.18)),
            line((high, y - 0.18), (high, y + 0.18)),
        ])?;
        chart.draw_series([Circle::new((value, y), 5, BLACK.filled())])?;
        let (_, py) = chart.backend_coord(&(bottom, y));
        let left = label(HPos::Right, VPos::Center);
        area.draw_text(name, &left, (names as i32 - 12, py))?;
        let right = label(HPos::Left, VPos::Center);
        let number = said(Some(*e), dots.unit, units);
        area.draw_text(&number, &right, ((WIDTH - RIGHT) as i32 + 12, py))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::Estimate;

    fn dots(name: &str, value: f64) -> Dots {
        let e = Estimate {
            value,
            low: value - 0.1,
            high: value + 0.1,
            n: 9,
        };
        Dots {
            caption: "a \"caption\" & <more>".into(),
            axis: "share, %".into(),
            unit: In::Percent,
            bars: false,
            rows: vec![(name.into(), e)],
        }
    }

    #[test]
    fn a_figure_draws_the_interval_and_says_it_and_lets_no_markup_in() {
        let text = svg(&dots("<script>&", 0.5), Units::Metric);
        assert!(text.starts_with(
            "<svg role=\"img\" aria-label=\"a &quot;caption&quot; &amp; &lt;more&gt;\""
        ));
        assert!(text.contains("&lt;script&gt;&amp;") && !text.contains("<script"));
        assert!(text.contains("50 % (±10)"), "{text}");
        assert!(text.contains("<circle") && text.contains("<polyline"));
        assert!(!text.contains("href") && !text.contains("url("));
    }

    #[test]
    fn the_dot_moves_with_the_value() {
        let at = |v| {
            svg(&dots("x", v), Units::Metric)
                .split("<circle cx=\"")
                .nth(1)
                .map(|t| {
                    t.split('"')
                        .next()
                        .unwrap_or("")
                        .parse::<i32>()
                        .unwrap_or(0)
                })
        };
        assert!(at(0.2) < at(0.6));
    }
}
