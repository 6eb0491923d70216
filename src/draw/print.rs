//! SVG to PNG and to PDF, with the font that comes along; nothing is looked up on the machine.

use krilla::geom::Size;
use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use krilla::{Document, SerializeSettings};
use krilla_svg::{SurfaceExt, SvgSettings};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};
use thiserror::Error;

use super::text::{FAMILY, fonts};

/// Most pixels of a picture, to either side.
pub const MOST_PIXELS: u32 = 8000;

/// Why a picture could not be made.
#[derive(Debug, Error)]
pub enum Unprintable {
    /// The SVG is not one (a fault of this program).
    #[error("a picture cannot be read back: {0}")]
    Svg(String),
    /// A width or a height, pixels, that no picture can have.
    #[error("a picture cannot be {0} pixels wide and {1} high")]
    Size(u32, u32),
    /// The PNG encoder's message.
    #[error("a picture cannot be packed as PNG: {0}")]
    Png(String),
    /// The GIF encoder's message.
    #[error("a moving picture cannot be packed: {0}")]
    Film(String),
    /// The PDF writer's message.
    #[error("a page cannot be written as PDF: {0}")]
    Pdf(String),
}

fn tree(svg: &str) -> Result<Tree, Unprintable> {
    let options = Options {
        fontdb: fonts(),
        font_family: FAMILY.to_string(),
        ..Options::default()
    };
    Tree::from_str(svg, &options).map_err(|e| Unprintable::Svg(e.to_string()))
}

/// Pixels of an SVG that is to be `wide` pixels wide.
///
/// # Errors
/// If the size makes no sense or the SVG is none.
pub fn pixels(svg: &str, wide: u32) -> Result<Pixmap, Unprintable> {
    let tree = tree(svg)?;
    let size = tree.size();
    let scale = wide as f32 / size.width();
    let high = (size.height() * scale).round() as u32;
    let wrong = Unprintable::Size(wide, high);
    if wide > MOST_PIXELS || high > MOST_PIXELS {
        return Err(wrong);
    }
    let mut map = Pixmap::new(wide, high).ok_or(wrong)?;
    resvg::render(
        &tree,
        Transform::from_scale(scale, scale),
        &mut map.as_mut(),
    );
    Ok(map)
}

/// An SVG as PNG, `wide` pixels wide.
///
/// # Errors
/// If the size makes no sense or the SVG is none.
pub fn png(svg: &str, wide: u32) -> Result<Vec<u8>, Unprintable> {
    pixels(svg, wide)?
        .encode_png()
        .map_err(|e| Unprintable::Png(e.to_string()))
}

/// Pages as one PDF; each page is an SVG of its size in points (1/72 inch).
///
/// # Errors
/// If a page is no SVG or the file cannot be put together.
pub fn pdf(title: &str, pages: &[String]) -> Result<Vec<u8>, Unprintable> {
    let mut document = Document::new_with(SerializeSettings::default());
    document.set_metadata(
        Metadata::new()
            .title(title.to_string())
            .language("en-GB".to_string()),
    );
    for svg in pages {
        let tree = tree(svg)?;
        let (wide, high) = (tree.size().width(), tree.size().height());
        let settings =
            PageSettings::from_wh(wide, high).ok_or(Unprintable::Size(wide as u32, high as u32))?;
        let size = Size::from_wh(wide, high).ok_or(Unprintable::Size(wide as u32, high as u32))?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        let drawn = surface.draw_svg(&tree, size, SvgSettings::default());
        surface.finish();
        page.finish();
        drawn.ok_or_else(|| Unprintable::Pdf("a page is empty".to_string()))?;
    }
    document
        .finish()
        .map_err(|e| Unprintable::Pdf(format!("{e:?}")))
}
