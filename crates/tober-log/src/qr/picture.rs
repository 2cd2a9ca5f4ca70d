//! A text as a QR code (ISO/IEC 18004), and that as SVG.

use crate::Refused;
use qrcode::{Color, EcLevel, QrCode};

/// The white edge around a code, in modules: four, which the standard asks for.
pub const QUIET_MODULES: usize = 4;

/// The modules of a code, without the white edge.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Modules {
    /// How many a side has.
    pub side: usize,
    /// Row after row; true is dark.
    pub dark: Vec<bool>,
}

/// A text as the smallest code of error correction M that holds it.
///
/// # Errors
/// The text is longer than any code holds.
pub fn modules(text: &str) -> Result<Modules, Refused> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M).map_err(|_| {
        Refused::new(
            "the length of the text for a code",
            &text.len().to_string(),
            "at most 483 letters, as `codes` makes them",
        )
    })?;
    Ok(Modules { side: code.width(), dark: code.to_colors().iter().map(|c| *c == Color::Dark).collect() })
}

/// A text as an SVG picture: dark on white with its white edge whatever the page around it looks like, one unit a
/// module, no width of its own. The label says to a reader of screens what it is.
///
/// # Errors
/// As [`modules`].
pub fn svg(text: &str, label: &str) -> Result<String, Refused> {
    let Modules { side, dark } = modules(text)?;
    let mut path = String::new();
    for (y, row) in dark.chunks(side).enumerate() {
        let mut x = 0;
        for run in row.chunk_by(|one, other| one == other) {
            if run[0] {
                path.push_str(&format!(
                    "M{} {}h{}v1h-{}z",
                    x + QUIET_MODULES,
                    y + QUIET_MODULES,
                    run.len(),
                    run.len()
                ));
            }
            x += run.len();
        }
    }
    let whole = side + 2 * QUIET_MODULES;
    let label = label.replace('&', "&amp;").replace('<', "&lt;").replace('"', "&quot;");
    Ok(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {whole} {whole}\" role=\"img\" aria-label=\"{label}\" \
         shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h{whole}v{whole}H0z\"/><path d=\"{path}\"/></svg>"
    ))
}
