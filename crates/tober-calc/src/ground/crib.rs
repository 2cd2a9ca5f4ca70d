//! Open cribs by the rules of rescue practice, as a check beside the crushing of timber.

use super::GroundError;
use super::error::within;
use tober_quantity::{Force, Length, Pressure};

/// What a square timber carries at one crossing: 500 psi on the dressed contact, rounded down as it is taught.
///
/// 4×4 in (3½ in dressed): 6,000 lb; 6×6 in (5½ in dressed): 15,000 lb. Between and above, 500 psi ×
/// width². Sources: US urban search and rescue shoring practice, references TM-20 to TM-22; where
/// published figures differ (54,000, 55,000 and 55,125 lb for nine crossings) the least stands (DIS-06).
///
/// # Errors
/// A width out of range.
pub fn crossing_capacity(dressed_width: Length) -> Result<Force, GroundError> {
    within("width of a timber", dressed_width.as_m(), (0.01, 1.0), "m")?;
    let computed = Pressure::psi(500.0) * (dressed_width * dressed_width);
    let taught = [(3.5, 6_000.0), (5.5, 15_000.0)];
    let named = taught.iter().find(|(inches, _)| (dressed_width.as_in() - inches).abs() < 0.01);
    Ok(named.map_or(computed, |(_, pounds)| Force::lbf(*pounds)))
}

/// What a crib carries: pieces in a layer squared, times [`crossing_capacity`].
///
/// # Errors
/// Fewer than two or more than ten pieces in a layer, or a width out of range.
pub fn crib_capacity(pieces: usize, dressed_width: Length) -> Result<Force, GroundError> {
    within("number of pieces in a layer", pieces as f64, (2.0, 10.0), "pieces")?;
    Ok(crossing_capacity(dressed_width)? * (pieces * pieces) as f64)
}

/// The greatest height of a crib: 3 × its least width, 1½ × on two crossings, 1 × on one.
///
/// Sources: rescue practice, reference TM-23; for fewer crossings TM-27 (from memory).
///
/// # Errors
/// No crossing, or a width out of range.
pub fn crib_height_most(width_least: Length, crossings_loaded: usize) -> Result<Length, GroundError> {
    within("width of the crib", width_least.as_m(), (0.01, 100.0), "m")?;
    within("number of crossings", crossings_loaded as f64, (1.0, 1000.0), "crossings")?;
    Ok(width_least
        * match crossings_loaded {
            1 => 1.0,
            2 => 1.5,
            _ => 3.0,
        })
}
