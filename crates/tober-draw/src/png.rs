//! SVG to PNG, with fonts that are part of the program.
//!
//! Only the bundled fonts are used, so the same drawing gives the same picture everywhere. They hold
//! Latin, Greek and Cyrillic letters; other scripts come out as empty boxes in a PNG, never in an SVG.

use crate::error::DrawError;
use crate::style::{Palette, STYLE, fixed_style};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};
use std::sync::Arc;

const FONTS: [&[u8]; 3] = [
    include_bytes!("../fonts/Roboto-Regular.ttf"),
    include_bytes!("../fonts/Roboto-Bold.ttf"),
    include_bytes!("../fonts/RobotoSlab-Bold.otf"),
];

/// The widest and highest picture that is made, in pixels.
const GREATEST: u32 = 16_384;

/// A drawing of this crate as a PNG, in the day scheme, at so many pixels for each of the drawing's.
///
/// # Errors
/// If the text is no SVG, or the picture would be empty or larger than 16,384 pixels either way.
///
/// # Not covered
/// Night and print schemes; letters outside the bundled fonts.
pub fn png(svg: &str, scale: f32) -> Result<Vec<u8>, DrawError> {
    let refused = DrawError::Scale { scale, greatest: GREATEST };
    if !(scale.is_finite() && scale > 0.0) {
        return Err(refused);
    }
    let mut options = Options { font_family: "Roboto".to_owned(), ..Options::default() };
    let fonts = Arc::make_mut(&mut options.fontdb);
    for font in FONTS {
        fonts.load_font_data(font.to_vec());
    }
    fonts.set_sans_serif_family("Roboto");
    fonts.set_serif_family("Roboto Slab");
    let tree = Tree::from_str(&in_day(svg), &options).map_err(|e| DrawError::Svg { why: e.to_string() })?;
    let size = tree.size();
    let (width, height) = (size.width() * scale, size.height() * scale);
    #[expect(clippy::cast_precision_loss, reason = "16,384 is exact in an f32")]
    let greatest = GREATEST as f32;
    if !(width >= 1.0 && height >= 1.0 && width <= greatest && height <= greatest) {
        return Err(refused);
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "both are 1 to 16,384")]
    let mut pixels = Pixmap::new(width.ceil() as u32, height.ceil() as u32).ok_or(refused)?;
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut pixels.as_mut());
    pixels.encode_png().map_err(|e| DrawError::Svg { why: e.to_string() })
}

/// The drawing with the day scheme written out: the rasteriser knows neither custom properties nor
/// media queries.
fn in_day(svg: &str) -> String {
    let day = fixed_style(&Palette::DAY);
    if svg.contains(STYLE) {
        return svg.replacen(STYLE, &day, 1);
    }
    match svg.find("</desc>") {
        Some(at) => {
            let after = at + "</desc>".len();
            format!("{}<style>\n{day}</style>{}", &svg[..after], &svg[after..])
        }
        None => svg.to_owned(),
    }
}
