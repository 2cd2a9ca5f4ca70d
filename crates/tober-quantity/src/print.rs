//! Numbers as they are printed.

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

/// The share of a limit that a demand uses, in whole per cent, rounded up.
///
/// A share that is above a whole per cent by less than one part in 10¹² counts as that per cent, so
/// that binary noise moves nothing. `None` where either is not a finite number. A demand of zero or
/// less uses nothing of a limit above zero; a limit of zero or less is wholly used by a demand that
/// does not exceed it, and is passed without measure by any other.
pub fn share_percent(demand: f64, limit: f64) -> Option<u32> {
    const WITHOUT_MEASURE: u32 = 1_000_000;
    if !demand.is_finite() || !limit.is_finite() {
        return None;
    }
    if limit <= 0.0 {
        return Some(if demand <= limit { 100 } else { WITHOUT_MEASURE });
    }
    let percent = (demand.max(0.0) / limit * 100.0 * (1.0 - 1e-12)).ceil();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped on this line")]
    Some(percent.clamp(0.0, f64::from(WITHOUT_MEASURE)) as u32)
}
