//! Which of the things that are not known make the bands as wide as they are.

use super::band::{Asked, BandAnswer, band_of};
use super::error::SupportsError;
use super::uncertain::{Between, UncertainLoad, UncertainSupport};
use tober_quantity::{Force, Quantity};

/// One thing of which only a range is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Input {
    /// The gap of a support.
    Gap(usize),
    /// The stiffness of a support.
    Stiffness(usize),
    /// The force of a burden.
    Burden(usize),
    /// The couple about the x axis.
    MomentX,
    /// The couple about the y axis.
    MomentY,
}

/// What it would be worth to know one thing.
#[derive(Clone, Debug, PartialEq)]
pub struct Influence {
    /// The thing.
    pub input: Input,
    /// By how much the high end on each support would fall, were it known to be at the middle of its range.
    pub takes_off: Vec<Force>,
}

/// What it would be worth to know each thing of which only a range is known, in the order of the input.
///
/// Each is the fall of the high ends when that range alone shrinks to its middle; they do not add up.
/// Empty where there are no bands: the frame tips, or the readings disagree.
///
/// # Errors
/// As [`band`](super::band()).
pub fn influences(
    supports: &[UncertainSupport],
    load: &UncertainLoad,
) -> Result<Vec<Influence>, SupportsError> {
    influences_of(&Asked { supports, load, bearing: None, reading: None })
}

/// As [`influences`], for a frame that is rigid or bends, and with what was read of its feet.
///
/// # Errors
/// As [`band_of`].
pub fn influences_of(asked: &Asked<'_>) -> Result<Vec<Influence>, SupportsError> {
    let Asked { supports, load, .. } = *asked;
    let BandAnswer::Stands(all) = band_of(asked)? else { return Ok(Vec::new()) };
    let wide = |low: f64, high: f64| high > low;
    let mut inputs = Vec::new();
    for (i, s) in supports.iter().enumerate() {
        inputs.extend(wide(s.gap.low.si(), s.gap.high.si()).then_some(Input::Gap(i)));
        inputs.extend(wide(s.stiffness.low.si(), s.stiffness.high.si()).then_some(Input::Stiffness(i)));
    }
    for (b, burden) in load.burdens.iter().enumerate() {
        inputs.extend(wide(burden.down.low.si(), burden.down.high.si()).then_some(Input::Burden(b)));
    }
    inputs.extend(wide(load.moment_x.low.si(), load.moment_x.high.si()).then_some(Input::MomentX));
    inputs.extend(wide(load.moment_y.low.si(), load.moment_y.high.si()).then_some(Input::MomentY));

    let mut list = Vec::with_capacity(inputs.len());
    for input in inputs {
        let (mut supports, mut load) = (supports.to_vec(), load.clone());
        match input {
            Input::Gap(i) => supports[i].gap = Between::exact(supports[i].gap.middle()),
            Input::Stiffness(i) => supports[i].stiffness = Between::exact(supports[i].stiffness.middle()),
            Input::Burden(b) => load.burdens[b].down = Between::exact(load.burdens[b].down.middle()),
            Input::MomentX => load.moment_x = Between::exact(load.moment_x.middle()),
            Input::MomentY => load.moment_y = Between::exact(load.moment_y.middle()),
        }
        // Known to be at the middle, it may contradict a reading; then nothing is said of it.
        let Ok(BandAnswer::Stands(known)) = band_of(&Asked { supports: &supports, load: &load, ..*asked })
        else {
            continue;
        };
        let falls = all.supports.iter().zip(&known.supports);
        let takes_off = falls.map(|(a, b)| (a.load.high - b.load.high).max(Force::ZERO)).collect();
        list.push(Influence { input, takes_off });
    }
    Ok(list)
}
