//! The stiffness of a support: leg, timber and ground one on top of another.

use super::error::{STIFFNESS, SupportsError, inside, limit};
use super::uncertain::Between;
use tober_quantity::{Amount, Area, Length, Pressure, Quantity, Shown, Stiffness, Subgrade};

/// What one layer of a support gives under load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Layer {
    /// Its stiffness lies between these.
    Gives(Between<Stiffness>),
    /// It does not give.
    DoesNotGive,
    /// Nobody knows how much it gives: anything from next to nothing to hardly holding at all.
    NotKnown,
}

/// The stiffness of layers one on top of another: `1/k = sum 1/k_i`.
///
/// Each end is that of all layers at that end, so the range is as wide as the layers allow. A layer that
/// is not known makes the low end the softest that is accepted for a support and leaves the others
/// the high end. Source: springs in series, any textbook of mechanics.
///
/// # Errors
/// Refuses a layer of no, negative or undefined stiffness and a range turned round. Nothing that has no stiffness carries: leave the support out instead.
pub fn in_series(layers: &[Layer]) -> Result<Between<Stiffness>, SupportsError> {
    let (mut give_most, mut give_least) = (0.0, 0.0);
    for (i, layer) in layers.iter().enumerate() {
        match *layer {
            Layer::DoesNotGive => {}
            Layer::NotKnown => give_most = f64::INFINITY,
            Layer::Gives(k) => {
                for end in [k.low, k.high] {
                    if !inside(end.si(), STIFFNESS.0, STIFFNESS.1) {
                        let limit = limit::<Stiffness>(STIFFNESS.0, STIFFNESS.1, Shown::Stiffness);
                        return Err(SupportsError::LayerOutOfRange { layer: i, given: end.amount(), limit });
                    }
                }
                if k.low.si() > k.high.si() {
                    let of = format!("the stiffness of layer {}", i + 1);
                    let (low, high) = (k.low.amount(), k.high.amount());
                    return Err(SupportsError::RangeTurnedRound { of, low, high });
                }
                give_most += 1.0 / k.low.si();
                give_least += 1.0 / k.high.si();
            }
        }
    }
    let stiffness = |give: f64| Stiffness::from_si((1.0 / give).clamp(STIFFNESS.0, STIFFNESS.1));
    Ok(Between { low: stiffness(give_most), high: stiffness(give_least) })
}

/// A stack of timber pressed across its grain: `k = E90*A/h`.
///
/// `E90` is the mean modulus across the grain (EN 338:2016 Table 1: 0.27 kN/mm² for C16, 0.37 for C24),
/// `A` the loaded area, `h` the height of the stack. Valid while the timber is elastic, below its crushing strength,
/// with layers that bear on their whole loaded area; the spreading of the load beyond `A` is left out, which
/// makes it softer than it is. A stack of no height does not give. The bedding of new joints is not
/// in it: that is a gap, not a spring.
///
/// # Errors
/// Refuses numbers that are none, and a modulus or area that is not above nothing.
pub fn timber_stack(e90: Between<Pressure>, area: Area, height: Length) -> Result<Layer, SupportsError> {
    check("modulus across the grain", e90.low, (1e6, 1e12))?;
    check("modulus across the grain", e90.high, (1e6, 1e12))?;
    check("loaded area", area, (1e-4, 1e3))?;
    check("height of the stack", height, (0.0, 10.0))?;
    if height.si() <= 0.0 {
        return Ok(Layer::DoesNotGive);
    }
    let k = |e: Pressure| Stiffness::from_si(e.si() * area.si() / height.si());
    Ok(Layer::Gives(Between { low: k(e90.low), high: k(e90.high) }))
}

/// Ground under a board: `k = k_s*A`, with the modulus of subgrade reaction `k_s` and the loaded area `A`.
///
/// `k_s` must have been found with a board of about this size: it falls as the board grows, and is no
/// property of the ground alone. Valid for loads no heavier than the one it was found with.
///
/// # Errors
/// Refuses numbers that are none, and a modulus or area that is not above nothing.
pub fn ground_under(subgrade: Between<Subgrade>, area: Area) -> Result<Layer, SupportsError> {
    check("stiffness of the ground", subgrade.low, (1e4, 1e12))?;
    check("stiffness of the ground", subgrade.high, (1e4, 1e12))?;
    check("loaded area", area, (1e-4, 1e3))?;
    let k = |s: Subgrade| Stiffness::from_si(s.si() * area.si());
    Ok(Layer::Gives(Between { low: k(subgrade.low), high: k(subgrade.high) }))
}

fn check<Q: Quantity>(what: &'static str, value: Q, ends: (f64, f64)) -> Result<(), SupportsError> {
    if inside(value.si(), ends.0, ends.1) {
        return Ok(());
    }
    let given: Amount = value.amount();
    Err(SupportsError::LayerNumberOutOfRange { what, given, limit: limit::<Q>(ends.0, ends.1, Q::SHOWN) })
}
