//! What would make it go where it does not.

use super::answer::Outcome;
use super::model::{Question, ReachError};
use super::search::solve;
use tober_quantity::Length;

/// In what steps a cure is looked for, in millimetres: no thinner than the thinnest packing.
const FINE_MM: u32 = 10;
const COARSE_MM: u32 = 50;
/// The most packing that is tried under the hitch jack and under the wheels, in millimetres.
const JACK_MOST_MM: u32 = 400;
const WHEELS_MOST_MM: u32 = 150;
/// What each question on the way may cost.
const CURE_BUDGET: usize = 60;

/// Something the crew can do, after which there is a way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cure {
    /// Packing under the hitch jack.
    JackPacking(Length),
    /// All wheels on boards before anything is wound.
    WheelsOnBoards(Length),
    /// Both.
    Both {
        /// Packing under the hitch jack.
        jack: Length,
        /// Boards under all wheels.
        wheels: Length,
    },
}

fn with(question: &Question, jack: Length, wheels: Length) -> Question {
    let mut question = question.clone();
    question.jack.packing = question.jack.packing + jack;
    for wheel in question.axles.iter_mut().flat_map(|axle| &mut axle.wheels) {
        wheel.top = wheel.top + wheels;
    }
    question.jack.start = question.jack.start + wheels;
    question
}

/// The least in steps of 10 mm that does, looked for in steps of 50 mm first.
fn least(
    question: &Question,
    most_mm: u32,
    as_lengths: fn(Length) -> (Length, Length),
) -> Result<Option<Length>, ReachError> {
    let does = |mm: u32| -> Result<bool, ReachError> {
        let (jack, wheels) = as_lengths(Length::mm(f64::from(mm)));
        Ok(matches!(solve(&with(question, jack, wheels), CURE_BUDGET)?, Outcome::Reached(_)))
    };
    let mut coarse = COARSE_MM;
    while coarse <= most_mm {
        if does(coarse)? {
            let mut mm = coarse - COARSE_MM + FINE_MM;
            while mm < coarse && !does(mm)? {
                mm += FINE_MM;
            }
            return Ok(Some(Length::mm(f64::from(mm))));
        }
        coarse += COARSE_MM;
    }
    Ok(None)
}

/// What alone would do, or else what would do together. Empty where nothing that was tried does: that is no proof.
///
/// # Errors
/// Where the question is refused.
pub fn cures(question: &Question) -> Result<Vec<Cure>, ReachError> {
    let mut found = Vec::new();
    if let Some(jack) = least(question, JACK_MOST_MM, |jack| (jack, Length::ZERO))? {
        found.push(Cure::JackPacking(jack));
    }
    if let Some(wheels) = least(question, WHEELS_MOST_MM, |wheels| (Length::ZERO, wheels))? {
        found.push(Cure::WheelsOnBoards(wheels));
    }
    if found.is_empty()
        && let Some(both) = least(question, WHEELS_MOST_MM, |both| (both * 2.0, both))?
    {
        found.push(Cure::Both { jack: both * 2.0, wheels: both });
    }
    Ok(found)
}
