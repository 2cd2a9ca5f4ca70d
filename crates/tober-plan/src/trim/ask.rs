//! From a visit, what stands and what was read to the question.

use super::model::{Foot, FrameRead, FrameWay, Stood, TrimError};
use crate::model::{Held, Plan};
use std::collections::BTreeMap;
use tober_book::nearest;
use tober_calc::packing::trim::{self as calc, HundredthMmPerM, Question, Reading, Stands};
use tober_calc::packing::{Leg, Problem, Setting};
use tober_quantity::{Length, Slope, TenthMm};

/// The question, or what is wrong with what was told.
pub(super) fn question(
    problem: Problem,
    plan: &Plan,
    stood: &[Stood],
    read: &FrameRead,
) -> Result<Question, TrimError> {
    if plan.legs.is_empty() || problem.supports.is_empty() {
        return Err(TrimError::NoLegs);
    }
    let names: Vec<&str> = problem.supports.iter().map(|support| support.name.as_str()).collect();
    let heights = match &read.way {
        FrameWay::Heights { at, .. } => Some(at),
        FrameWay::Level { .. } => None,
    };
    let told = stood.iter().map(|stood| &stood.leg).chain(read.feet.keys()).chain(read.loads.keys());
    let told = told.chain(heights.into_iter().flat_map(BTreeMap::keys));
    if let Some(name) = told.into_iter().find(|name| !names.contains(&name.as_str())) {
        return Err(TrimError::UnknownLeg {
            name: name.clone(),
            near: nearest(name, &names).map(str::to_owned),
            known: names.iter().map(|&name| name.to_owned()).collect(),
        });
    }
    let stands = (0..names.len()).map(|place| stands(&problem, place, stood)).collect::<Result<_, _>>()?;
    let frame = match &read.way {
        FrameWay::Level { along, across, deviation } => calc::Frame::Level {
            along: hundredths(*along, "The slope along")?,
            across: hundredths(*across, "The slope across")?,
            off_by: deviation.map(|off| hundredths_up(off, "What a slope may be off by")).transpose()?,
        },
        FrameWay::Heights { at, deviation } => {
            let height = |name: &&str| {
                at.get(*name).map(|&height| tenths(height, || format!("The height at {name}"))).transpose()
            };
            calc::Frame::Heights {
                at: names.iter().map(height).collect::<Result<_, _>>()?,
                off_by: deviation.map(|off| tenths_up(off, "What a height may be off by")).transpose()?,
            }
        }
    };
    let foot = |name: &&str| {
        let foot = read.feet.get(*name).map(|foot| match *foot {
            Foot::Snug => Ok(calc::Foot::Snug),
            Foot::Light { gap } => {
                let gap = gap.map(|gap| tenths(gap, || format!("The gap under {name}"))).transpose()?;
                Ok(calc::Foot::Light { gap })
            }
        });
        foot.transpose()
    };
    let feet = names.iter().map(foot).collect::<Result<_, _>>()?;
    Ok(Question { reading: Reading { frame, feet }, stands, problem })
}

fn stands(problem: &Problem, place: usize, stood: &[Stood]) -> Result<Stands, TrimError> {
    let support = &problem.supports[place];
    let told: Vec<&Stood> = stood.iter().filter(|stood| stood.leg == support.name).collect();
    let [one] = told.as_slice() else {
        return Err(TrimError::Stood { leg: support.name.clone(), times: told.len() });
    };
    let wrong = |told: String| TrimError::Setting {
        leg: support.name.clone(),
        told,
        there_is: match support.leg {
            Leg::Holes { pin_count, .. } => format!("a leg with holes 1 to {pin_count}"),
            Leg::Screw { .. } => "a screw".to_owned(),
        },
    };
    let setting = match (&one.held, support.leg) {
        (Held::Hole { number, .. }, Leg::Holes { pin_count, .. }) => {
            let hole = u32::try_from(*number).ok().and_then(|number| number.checked_sub(1));
            let hole = hole.filter(|&hole| hole < pin_count);
            Setting::Hole(hole.ok_or_else(|| wrong(format!("hole {number}")))?)
        }
        (Held::Screw { extension, .. }, Leg::Screw { .. }) => {
            Setting::Screw(tenths(*extension, || format!("The screw of {}", support.name))?)
        }
        (Held::Hole { number, .. }, Leg::Screw { .. }) => return Err(wrong(format!("hole {number}"))),
        (Held::Screw { .. }, Leg::Holes { .. }) => return Err(wrong("a screw".to_owned())),
    };
    let kind = |name: &String| {
        let place = problem.boards.iter().position(|board| &board.name == name);
        place.ok_or_else(|| TrimError::UnknownBoard {
            leg: support.name.clone(),
            board: name.clone(),
            known: problem.boards.iter().map(|board| board.name.clone()).collect(),
        })
    };
    Ok(Stands { setting, laid: one.layers.iter().map(kind).collect::<Result<_, _>>()? })
}

fn tenths(length: Length, what: impl Fn() -> String) -> Result<TenthMm, TrimError> {
    TenthMm::nearest(length).ok_or_else(|| TrimError::Unreadable { what: what() })
}

/// To the unsafe side: what a reading may be off by is never made less.
#[expect(clippy::cast_possible_truncation, reason = "the range is tested before the cast")]
fn up(value: f64, what: &str) -> Result<i64, TrimError> {
    let value = (value - 1e-9).ceil();
    if value.abs() <= TenthMm::GREATEST as f64 {
        Ok(value as i64)
    } else {
        Err(TrimError::Unreadable { what: what.to_owned() })
    }
}

fn tenths_up(length: Length, what: &str) -> Result<TenthMm, TrimError> {
    up(length.as_mm() * 10.0, what).map(TenthMm)
}

fn hundredths_up(slope: Slope, what: &str) -> Result<HundredthMmPerM, TrimError> {
    up(slope.as_mm_per_m() * 100.0, what).map(HundredthMmPerM)
}

#[expect(clippy::cast_possible_truncation, reason = "the range is tested before the cast")]
fn hundredths(slope: Slope, what: &str) -> Result<HundredthMmPerM, TrimError> {
    let value = (slope.as_mm_per_m() * 100.0).round();
    if value.abs() <= TenthMm::GREATEST as f64 {
        Ok(HundredthMmPerM(value as i64))
    } else {
        Err(TrimError::Unreadable { what: what.to_owned() })
    }
}
