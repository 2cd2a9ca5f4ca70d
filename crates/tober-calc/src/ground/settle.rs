//! How far feet go on sinking, and when to read the levels again.

use super::GroundError;
use super::error::{LOAD_KN, within};
use super::spread::PlanSize;
use crate::finding::{Basis, Finding, Sense, Standing, Subject};
use crate::working::{Provenance, Working, least, number};
use tober_quantity::{Force, Length, Pressure, Quantity, Ratio, Shown, maths};

/// By what share of its first sink a foot sinks further in each tenfold of load cycles: least and greatest.
/// The law of railway ballast, s = s1 (1 + C log10 N), with the range of C from memory. Ground under a ride is not
/// ballast: the levels are read again, whatever it says.
pub const CYCLIC_SHARE: (f64, f64) = (0.2, 0.4);
/// The share of what is allowed that may be used up before the levels are read again. Ours.
pub const READ_AGAIN_AT: f64 = 0.5;
/// The cycles past which the law is not carried: it was seen to hold up to about a million.
const CYCLES_MOST: f64 = 1e6;

/// The sink of the middle of an even load on elastic ground: s = p B (1 − ν²) I/E.
///
/// I = (2/π)(ln(m + √(1 + m²)) + m ln((1 + √(1 + m²))/m)) with m = L/B: 1.12 for a square (Schleicher 1926, as
/// textbooks print it, from memory). The corners sink half of that and a stiff base about four fifths: the middle is the
/// cautious figure. Deep uniform ground, vertical load.
///
/// # Errors
/// A value out of range.
pub fn elastic_sink(
    load: Force,
    base: PlanSize,
    modulus: Pressure,
    poisson: f64,
) -> Result<Length, GroundError> {
    within("load", load.as_kn(), LOAD_KN, "kN")?;
    base.check("side of the base")?;
    within("stiffness of the ground", modulus.as_mpa(), (0.1, 1e5), "N/mm²")?;
    within("Poisson's ratio", poisson, (0.0, 0.5), "")?;
    let (b, l) = (base.least_side(), base.along.max(base.across));
    let pressure = load / base.area();
    Ok(b * (pressure.si() / modulus.si() * (1.0 - poisson * poisson) * middle_factor(l / b)))
}

/// The factor of the middle of a rectangle whose sides are in the ratio m, at least 1.
pub fn middle_factor(m: f64) -> f64 {
    let root = (1.0 + m * m).sqrt();
    (maths::ln(m + root) + m * maths::ln((1.0 + root) / m)) * core::f64::consts::FRAC_2_PI
}

/// What a foot has sunk at first, and what turns and riders do to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cycling {
    /// The first sink under the load: least and greatest.
    pub first: (Length, Length),
    /// Whether it comes from a test of this ground; otherwise it is an estimate, and nothing counts as inside.
    pub tested: bool,
    /// How many times an hour the load comes and goes.
    pub an_hour: f64,
    /// How many hours the ride runs between readings of its levels.
    pub hours: f64,
    /// How far a foot may sink further.
    pub allowed: Option<Length>,
}

/// How far a foot sinks further under its riding load, against what is allowed, and when to read again.
///
/// s = s1 C log10 N with C by [`CYCLIC_SHARE`], N at most a million; read again when half of what is allowed may be used
/// up, N = 10^(allowed/2/(s1 C)). Nobody may override it (rule S2). Not known where the allowed movement or the first sink is not told.
///
/// # Errors
/// A value out of range.
///
/// # Not covered
/// Rain, thaw, drains that give way, clay that squeezes out over weeks.
pub fn cyclic_sink(subject: Subject, of: &Cycling) -> Result<Finding, GroundError> {
    const CODE: &str = "ground.settlement";
    const TITLE: &str = "further sinking under the riding load";
    within("first sink", of.first.0.as_mm(), (0.0, of.first.1.as_mm()), "mm")?;
    within("first sink", of.first.1.as_mm(), (0.0, 1000.0), "mm")?;
    within("load cycles", of.an_hour, (0.01, 1e5), "an hour")?;
    within("hours", of.hours, (0.01, 1e4), "h")?;
    if let Some(allowed) = of.allowed {
        within("movement allowed", allowed.as_mm(), (0.1, 1000.0), "mm")?;
    }
    let mut w = Working::new();
    let law = || Provenance::chosen("law of railway ballast, C 0.2 to 0.4, from memory");
    let s1 = w.given("s1", "first sink, greatest", of.first.1, Provenance::Computed);
    let c = w.given("C", "share for each tenfold of cycles", Ratio::one(CYCLIC_SHARE.1), law());
    let n = w.given("n", "load cycles an hour", Ratio::one(of.an_hour), Provenance::Computed);
    let t = w.given("t", "hours between readings", Ratio::one(of.hours), Provenance::Computed);
    let most = w.given("Nm", "cycles past which the law is not carried", Ratio::one(CYCLES_MOST), law());
    let one = number(1.0);
    let cycles = crate::working::greatest(vec![one, least(vec![n * t, most])]);
    let cycles = w.line("N", "cycles", cycles, Shown::Ratio);
    let tenfolds =
        w.line("k", "tenfolds of cycles", cycles.ln() / number(core::f64::consts::LN_10), Shown::Ratio);
    let sink = w.line("s", "further sink, greatest", s1.clone() * c.clone() * tenfolds.clone(), Shown::Fine);
    let low = of.first.0 * (CYCLIC_SHARE.0 * tenfolds.value());
    let short = |length: Length| length.amount().shown(Shown::Short);
    let band = (short(low.min(Length::m(sink.value()))), short(Length::m(sink.value())));
    let mut finding = match of.allowed {
        Some(allowed) => Finding::against_limit(CODE, subject, TITLE, band, short(allowed), Sense::AtMost),
        None => Finding::without_limit(CODE, subject, TITLE, band, "How far a foot may sink was not said."),
    }
    .working(w)
    .basis(Basis::from_memory("law of railway ballast, s = s1 C log10 N, C from 0.2 to 0.4"));
    finding = finding.never_overridden();
    if !of.tested && finding.standing == Standing::Inside {
        finding.standing = Standing::Close;
    }
    if of.first.1.as_mm() < 1e-6 || of.allowed.is_none() {
        return Ok(finding.advice(READ));
    }
    let allowed = of.allowed.unwrap_or(Length::ZERO);
    let hours = read_again_hours(of.first.1, allowed, of.an_hour);
    Ok(finding.advice(format!("{READ} By this sink, also after {}.", in_words(hours.min(of.hours)))))
}

const READ: &str =
    "Read the levels again after the first full load, after an hour's running, after rain, and each morning.";

/// After how many hours half of the movement that is allowed may be used up: 10^(allowed/2/(s1 C)) cycles.
pub fn read_again_hours(first: Length, allowed: Length, an_hour: f64) -> f64 {
    let first = first.max(Length::mm(1e-6));
    let tenfolds = (READ_AGAIN_AT * (allowed / first) / CYCLIC_SHARE.1).min(9.0);
    maths::pow(10.0, tenfolds) / an_hour
}

/// Rounded down, so that nobody reads too late.
fn in_words(hours: f64) -> String {
    if hours < 1.0 {
        return format!("{:.0} min of running", (hours * 60.0).floor().max(1.0));
    }
    format!("{:.0} h of running", hours.floor())
}
