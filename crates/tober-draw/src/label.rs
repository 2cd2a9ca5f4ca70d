//! Labels: how wide a text is, how it is cut, and how labels are kept apart.
//!
//! A drawing is made without the reader's fonts at hand. Widths are those of Roboto with a margin, so
//! that the usual sans serif of another device still fits.

/// How heavy a text is set, which decides how wide it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Weight {
    Regular,
    Bold,
    /// The slab serif of titles.
    Slab,
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Area {
    pub x: f64,
    pub y: f64,
    pub width: f64,
    pub height: f64,
}

impl Area {
    pub(crate) fn right(self) -> f64 {
        self.x + self.width
    }
    pub(crate) fn bottom(self) -> f64 {
        self.y + self.height
    }
    pub(crate) fn middle(self) -> (f64, f64) {
        (self.x + self.width / 2.0, self.y + self.height / 2.0)
    }
    /// Smaller by so much on every side; larger where that is negative.
    pub(crate) fn inset(self, by: f64) -> Self {
        Self { x: self.x + by, y: self.y + by, width: self.width - 2.0 * by, height: self.height - 2.0 * by }
    }
    /// The area two areas share; nothing where they only touch.
    pub(crate) fn shared(self, other: Self) -> f64 {
        let width = self.right().min(other.right()) - self.x.max(other.x);
        let height = self.bottom().min(other.bottom()) - self.y.max(other.y);
        if width > 0.0 && height > 0.0 { width * height } else { 0.0 }
    }
    pub(crate) fn overlaps(self, other: Self) -> bool {
        self.shared(other) > 0.0
    }
    /// Whether another area lies wholly inside.
    pub(crate) fn holds(self, other: Self) -> bool {
        other.x >= self.x
            && other.y >= self.y
            && other.right() <= self.right()
            && other.bottom() <= self.bottom()
    }
    /// Whether a point lies inside or on the rim.
    pub(crate) fn holds_point(self, (x, y): (f64, f64)) -> bool {
        x >= self.x && x <= self.right() && y >= self.y && y <= self.bottom()
    }
}

/// Advance widths of the printable ASCII signs in thousandths of the size: Roboto Regular, from its
/// `hmtx` table.
const REGULAR: [u16; 95] = [
    248, 258, 320, 616, 562, 732, 622, 175, 342, 348, 431, 567, 197, 276, 264, 413, 562, 562, 562, 562, 562,
    562, 562, 562, 562, 562, 242, 211, 508, 549, 523, 473, 898, 652, 623, 651, 656, 568, 553, 681, 713, 272,
    552, 627, 539, 873, 713, 688, 631, 688, 616, 594, 597, 648, 637, 887, 627, 601, 599, 265, 411, 265, 418,
    451, 309, 544, 562, 523, 564, 530, 348, 562, 551, 243, 239, 507, 243, 877, 552, 570, 562, 568, 339, 516,
    327, 551, 484, 751, 496, 473, 496, 338, 244, 338, 680,
];
/// The same of Roboto Bold.
const BOLD: [u16; 95] = [
    249, 272, 321, 596, 574, 738, 656, 162, 351, 353, 454, 546, 245, 388, 291, 374, 574, 574, 574, 574, 574,
    574, 574, 574, 574, 574, 282, 262, 509, 572, 517, 498, 895, 673, 638, 655, 650, 562, 548, 681, 707, 292,
    559, 635, 542, 876, 707, 690, 646, 690, 638, 615, 619, 658, 654, 875, 636, 619, 606, 278, 422, 278, 438,
    447, 331, 536, 563, 522, 564, 541, 358, 571, 560, 265, 260, 534, 265, 866, 560, 565, 563, 565, 365, 515,
    338, 560, 506, 735, 509, 502, 509, 331, 253, 331, 649,
];

/// How much wider than Roboto a reader's sans serif may be.
const MARGIN: f64 = 1.05;

/// How wide a text is, in the unit of its size.
pub(crate) fn width(text: &str, size: f64, weight: Weight) -> f64 {
    let thousandths: u32 = text.chars().map(|c| advance(c, weight)).sum();
    let serif = if weight == Weight::Slab { 1.1 } else { 1.0 };
    f64::from(thousandths) / 1000.0 * size * MARGIN * serif
}

fn advance(c: char, weight: Weight) -> u32 {
    let table = if weight == Weight::Regular { &REGULAR } else { &BOLD };
    let code = u32::from(c);
    match code {
        0x20..=0x7E => u32::from(table[(code - 0x20) as usize]),
        // Spaces that do not break, and thin ones.
        0xA0 | 0x2009 | 0x202F => 249,
        // Marks that stand on the sign before them.
        0x0300..=0x036F | 0x200B..=0x200D | 0xFE00..=0xFE0F => 0,
        0x2026 => 740,
        // East Asian and pictorial signs take a whole square.
        0x1100..=0x11FF | 0x2E80..=0xD7FF | 0xF900..=0xFAFF | 0xFF00..=0xFF60 | 0x1_F000.. => 1000,
        _ => 650,
    }
}

/// A text without what no drawing can show: control signs and line ends become spaces, signs that
/// turn the direction of what follows are dropped.
pub(crate) fn clean(text: &str) -> String {
    text.chars()
        .filter(|c| !matches!(u32::from(*c), 0x200E | 0x200F | 0x202A..=0x202E | 0x2066..=0x2069))
        .map(|c| {
            let code = u32::from(c);
            if c.is_control() || matches!(code, 0x2028 | 0x2029) {
                ' '
            } else if matches!(code, 0xFFFE | 0xFFFF) {
                '\u{FFFD}'
            } else {
                c
            }
        })
        .collect()
}

/// A text that fits into the room there is: itself, or its beginning with an ellipsis.
pub(crate) fn cut(text: &str, size: f64, weight: Weight, room: f64) -> String {
    let text = clean(text);
    if width(&text, size, weight) <= room {
        return text;
    }
    let mut kept = String::new();
    for c in text.chars() {
        let mut longer = kept.clone();
        longer.push(c);
        longer.push('…');
        if width(&longer, size, weight) > room {
            break;
        }
        kept.push(c);
    }
    kept.truncate(kept.trim_end().len());
    kept.push('…');
    kept
}

/// Moves points on a line apart so that no two are nearer than `gap`, keeping their order and moving
/// them little. `wanted` must rise. Runs twice over the points.
pub(crate) fn spread(wanted: &[f64], gap: f64, least: f64, greatest: f64) -> Vec<f64> {
    let mut placed: Vec<f64> = wanted.to_vec();
    let mut floor = least;
    for place in &mut placed {
        *place = place.max(floor);
        floor = *place + gap;
    }
    let mut ceiling = greatest;
    for place in placed.iter_mut().rev() {
        *place = place.min(ceiling);
        ceiling = *place - gap;
    }
    placed
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `hand_`: H is 713, a is 544 thousandths; at 10 with the margin that is 13.2.
    #[test]
    fn hand_width_of_two_letters() {
        assert!((width("Ha", 10.0, Weight::Regular) - (7.13 + 5.44) * MARGIN).abs() < 1e-9);
    }

    #[test]
    fn law_a_cut_text_fits_and_says_so() {
        let long = "a name that goes on for far longer than any label has room for";
        for room in [30.0, 60.0, 120.0] {
            let shown = cut(long, 15.0, Weight::Regular, room);
            assert!(width(&shown, 15.0, Weight::Regular) <= room, "{shown}");
            assert!(shown.ends_with('…'), "{shown}");
        }
        assert_eq!(cut("short", 15.0, Weight::Regular, 120.0), "short");
    }

    #[test]
    fn refuse_signs_that_break_a_drawing() {
        assert_eq!(clean("a\u{0}b\nc\u{202E}d\u{FFFF}"), "a b cd\u{FFFD}");
    }

    #[test]
    fn law_spread_keeps_order_and_distance() {
        let placed = spread(&[10.0, 11.0, 12.0, 90.0], 20.0, 0.0, 100.0);
        for pair in placed.windows(2) {
            assert!(pair[1] - pair[0] >= 20.0 - 1e-9, "{placed:?}");
        }
        assert!(placed.iter().all(|p| (0.0..=100.0).contains(p)), "{placed:?}");
    }
}
