//! Numbers in the working: so many significant digits, whatever their size.

/// A number with the given count of significant digits, in plain decimals with a true minus sign.
///
/// Trailing zeros after the point are dropped. Outside 1e-9 to 1e15 a power of ten is used.
pub fn significant(value: f64, digits: usize) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    if !value.is_finite() {
        return "not a number".to_owned();
    }
    let digits = digits.clamp(1, 15);
    let rounded: f64 = format!("{value:.*e}", digits - 1).parse().unwrap_or(value);
    let text =
        if (1e-9..1e15).contains(&rounded.abs()) { format!("{rounded}") } else { format!("{rounded:e}") };
    text.replace('-', "\u{2212}")
}
