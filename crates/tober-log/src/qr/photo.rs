//! Codes out of a grey picture.

use crate::Refused;
use rqrr::PreparedImage;

/// The longest side of a picture, in pixels. A page makes a photo smaller before it hands it over.
pub const PHOTO_SIDE_MAX: usize = 4096;

/// The texts of the codes in a picture of `width` · `height` grey pixels, row after row, 0 black to 255 white. Codes that
/// cannot be read are left out.
///
/// # Errors
/// A side of 0 or past [`PHOTO_SIDE_MAX`], or another number of pixels.
pub fn texts_in(width: usize, height: usize, grey: &[u8]) -> Result<Vec<String>, Refused> {
    let sides = 1..=PHOTO_SIDE_MAX;
    if !sides.contains(&width) || !sides.contains(&height) || grey.len() != width * height {
        let given = format!("{width} by {height} with {} pixels", grey.len());
        return Err(Refused::new("the picture", &given, "1 to 4096 pixels a side, one byte for each"));
    }
    let mut image = PreparedImage::prepare_from_greyscale(width, height, |x, y| {
        grey.get(y * width + x).copied().unwrap_or(255)
    });
    let texts =
        image.detect_grids().iter().filter_map(|grid| grid.decode().ok()).map(|(_, text)| text).collect();
    Ok(texts)
}
