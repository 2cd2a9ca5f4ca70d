//! The one door to functions that the standard library hands to the platform.
//!
//! `libm` computes them in software, so a plan comes out the same to the last byte on a laptop and
//! on a phone. `clippy.toml` bans the platform versions everywhere in the workspace.
//! (`f64::sqrt`, `abs`, `floor`, `ceil` and `round` are exact by IEEE 754 and are allowed.)

/// Sine of an angle in radians.
pub fn sin(x: f64) -> f64 {
    libm::sin(x)
}
/// Cosine of an angle in radians.
pub fn cos(x: f64) -> f64 {
    libm::cos(x)
}
/// Tangent of an angle in radians.
pub fn tan(x: f64) -> f64 {
    libm::tan(x)
}
/// Arc sine, in radians.
pub fn asin(x: f64) -> f64 {
    libm::asin(x)
}
/// Arc cosine, in radians.
pub fn acos(x: f64) -> f64 {
    libm::acos(x)
}
/// Arc tangent, in radians.
pub fn atan(x: f64) -> f64 {
    libm::atan(x)
}
/// Arc tangent of `y / x` with the quadrant, in radians.
pub fn atan2(y: f64, x: f64) -> f64 {
    libm::atan2(y, x)
}
/// `e` to the power `x`.
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}
/// Natural logarithm.
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}
/// Logarithm to base ten.
pub fn log10(x: f64) -> f64 {
    libm::log10(x)
}
/// `x` to the power `y`.
pub fn pow(x: f64, y: f64) -> f64 {
    libm::pow(x, y)
}
/// Length of the vector (x, y), without overflow on the way.
pub fn hypot(x: f64, y: f64) -> f64 {
    libm::hypot(x, y)
}
/// The error function, for the chance that a normally spread reading lies inside a limit.
pub fn erf(x: f64) -> f64 {
    libm::erf(x)
}

/// One less the error function, without loss where that is small.
pub fn erfc(x: f64) -> f64 {
    libm::erfc(x)
}
