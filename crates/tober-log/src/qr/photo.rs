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
    let mut texts = Vec::new();
    let (mut width, mut height, mut grey) = (width, height, grey.to_vec());
    loop {
        for text in read(width, height, &grey) {
            if !texts.contains(&text) {
                texts.push(text);
            }
        }
        // The reader finds the marks of a code at some sizes better than at others: half the size is tried as well.
        if width.min(height) < 2 * SIDE_MIN {
            return Ok(texts);
        }
        (width, height, grey) = halved(width, height, &grey);
    }
}

/// The least side at which a picture can hold a code: 21 modules and the white edge.
const SIDE_MIN: usize = 29;

fn read(width: usize, height: usize, grey: &[u8]) -> Vec<String> {
    let pixel = |x: usize, y: usize| grey.get(y * width + x).copied().unwrap_or(255);
    let mut image = PreparedImage::prepare_from_greyscale(width, height, pixel);
    image.detect_grids().iter().filter_map(|grid| grid.decode().ok()).map(|(_, text)| text).collect()
}

/// A picture at half the size: each pixel the mean of four.
fn halved(width: usize, height: usize, grey: &[u8]) -> (usize, usize, Vec<u8>) {
    let (half_width, half_height) = (width / 2, height / 2);
    let at = |x: usize, y: usize| grey.get(y * width + x).map_or(0, |light| u32::from(*light));
    let mean = |x: usize, y: usize| (at(x, y) + at(x + 1, y) + at(x, y + 1) + at(x + 1, y + 1)) / 4;
    let half = (0..half_height).flat_map(|y| (0..half_width).map(move |x| (x, y)));
    let half = half.map(|(x, y)| mean(2 * x, 2 * y) as u8).collect();
    (half_width, half_height, half)
}
