//! The plan, put together.

use crate::aboard::Around;
use crate::carried::{Carried, band_of, loads_on_legs};
use crate::chance::chances;
use crate::heights::{Heights, heights};
use crate::model::{Grain, Held, KitLeft, LegPlan, LegWord, Plan, PlanLayer};
use crate::packing::{Check, Packed, along, pack};
use crate::reach::reach;
use crate::stand::stands;
use crate::surroundings::surroundings;
use crate::underfoot::{springs, underfoot};
use tober_book::{Board, Holding, Kit, Pitch, Ride, Support, TimberRole, Units, Visit, Words};
use tober_calc::finding::{Finding, Standing, Subject};
use tober_calc::packing::{Choice, Placed, Setting, residual};
use tober_calc::supports::Layer;
use tober_quantity::{Length, UnitSet, WordSet};

/// The books that a plan is made from.
#[derive(Clone, Copy, Debug)]
pub struct Books<'a> {
    /// The ride.
    pub ride: &'a Ride,
    /// The kit.
    pub kit: &'a Kit,
    /// The pitch.
    pub pitch: &'a Pitch,
    /// The visit.
    pub visit: &'a Visit,
}

/// Makes the plan of a visit.
///
/// Never fails: what cannot be worked out is a finding that is not known.
pub fn plan(books: Books<'_>) -> Plan {
    let Books { ride, kit, pitch, visit } = books;
    let heights = heights(ride, pitch, visit);
    let mut findings = Vec::new();
    let mut legs = Vec::new();
    let mut kit_left = Vec::new();
    let mut cures = Vec::new();
    let mut assumed = Vec::new();
    let mut way = None;
    match pack(ride, kit, pitch, &heights) {
        Err(missing) => findings.extend(missing),
        Ok(packed) => {
            assumed.clone_from(&packed.assumed);
            if let (Some(choice), false) = (packed.answer.choice(), refused(&packed)) {
                legs = legs_of(books, &heights, &packed, choice);
            }
            findings.extend(of_packing(books, &heights, &packed, &mut legs));
            if let (Check::Fits, Some(choice)) = (&packed.check, packed.answer.choice()) {
                let springs = |name: &str| {
                    let leg = legs.iter().find(|leg| leg.name == name);
                    leg.map_or([Layer::NotKnown, Layer::NotKnown], |leg| springs(leg, kit, pitch))
                };
                let reached = reach(books, &heights, &packed, choice, &legs, &springs);
                let doubt =
                    |finding: Finding| assumed.iter().fold(finding, |finding, why| finding.doubted(why));
                findings.extend(reached.findings.into_iter().map(doubt));
                (way, cures) = (reached.way, reached.cures);
            }
            if let (Some(choice), false) = (packed.answer.choice(), refused(&packed)) {
                kit_left = left_in(&packed, choice);
            } else if packed.answer.choice().is_none() {
                cures = crate::cures::cures_and_shifts(books, &heights, &packed.problem);
            }
        }
    }
    findings.extend(stands(ride, pitch, visit, &legs, &assumed));
    findings.extend(heights.findings);
    for leg in &mut legs {
        tell(leg, &findings);
    }
    findings.sort_by_key(|finding| match finding.standing {
        Standing::PastLimit => 0,
        Standing::NotKnown => 1,
        Standing::Close => 2,
        Standing::Inside => 3,
    });
    let standing = whole(&findings);
    Plan {
        ride: ride.about.name.clone(),
        pitch: pitch.about.name.clone(),
        visit: visit.about.name.clone(),
        invented: [&ride.about.invented, &pitch.about.invented, &visit.about.invented, &kit.about.invented]
            .iter()
            .any(|said| said.is_some()),
        units: units(visit),
        words: words(ride, visit),
        standing,
        name: crate::name::name_of(&legs, &findings),
        legs,
        way,
        findings,
        cures,
        kit_left,
        surroundings: surroundings(ride, pitch, visit),
        cautions: cautions(ride),
        assumed,
    }
}

fn refused(packed: &Packed) -> bool {
    matches!(packed.check, Check::Refused(_))
}

/// The word for the whole: past limit if anything is, else not known if anything is, else the worst.
pub(crate) fn whole(findings: &[Finding]) -> Standing {
    let any = |standing| findings.iter().any(|finding| finding.standing == standing);
    [Standing::PastLimit, Standing::NotKnown, Standing::Close]
        .into_iter()
        .find(|standing| any(*standing))
        .unwrap_or(if findings.is_empty() { Standing::NotKnown } else { Standing::Inside })
}

/// The units that a visit asks for.
pub fn units(visit: &Visit) -> UnitSet {
    match visit.about.units {
        Some(Units::Gb) => UnitSet::Gb,
        Some(Units::Us) => UnitSet::Us,
        Some(Units::Metric) | None => UnitSet::Metric,
    }
}

/// The words that a visit is spoken of in: its own, or the ride's.
pub fn words(ride: &Ride, visit: &Visit) -> WordSet {
    match visit.about.words.or(ride.about.words) {
        Some(Words::Us) => WordSet::Us,
        Some(Words::Gb) | None => WordSet::Gb,
    }
}

/// Everything that is found of a packing and of what rests on it.
fn of_packing(books: Books<'_>, heights: &Heights, packed: &Packed, legs: &mut [LegPlan]) -> Vec<Finding> {
    let Books { ride, visit, kit, pitch } = books;
    let limit = ride.frame.greatest_lift;
    let mut found = tober_calc::packing::findings(&packed.problem, &packed.answer, limit);
    match (&packed.check, packed.answer.choice()) {
        (Check::Refused(why), _) => {
            let title = "the packing passes the check of the part that did not choose it";
            let mut finding =
                Finding::statement("packing.fit", Subject::Frame, title, false).never_overridden();
            for sentence in why {
                finding = finding.note(sentence.clone());
            }
            return vec![finding.advice("Build nothing of this plan, and report it: the fault is ours.")];
        }
        (Check::Fits, Some(choice)) => {
            let title = "the packing passes the check of the part that did not choose it";
            found.push(Finding::statement("packing.fit", Subject::Frame, title, true).never_overridden());
            let springs = |name: &str| {
                let leg = legs.iter().find(|leg| leg.name == name);
                leg.map_or([Layer::NotKnown, Layer::NotKnown], |leg| springs(leg, kit, pitch))
            };
            let around = Around { ride, pitch, visit, legs: &*legs };
            let Carried { findings: loads, doubts } = loads_on_legs(&around, &springs, None);
            for leg in legs.iter_mut() {
                leg.load = band_of(&loads, &leg.name);
            }
            for leg in legs.iter() {
                let mut under = underfoot(leg, ride, kit, pitch);
                // What is not known of the load is not known of what the load does.
                for why in &doubts {
                    under = under.into_iter().map(|finding| finding.doubted(why)).collect();
                }
                found.extend(under);
            }
            found.extend(loads);
            let gives = |name: &str| {
                let leg = legs.iter().find(|leg| leg.name == name);
                leg.map_or([Layer::NotKnown, Layer::NotKnown], |leg| {
                    crate::underfoot::springs(leg, kit, pitch)
                })
            };
            for chance in chances(ride, pitch, heights, packed, choice, legs, &gives) {
                found.push(doubts.iter().fold(chance, |chance, why| chance.doubted(why)));
            }
        }
        _ => {}
    }
    for why in &packed.assumed {
        found = found.into_iter().map(|finding| finding.doubted(why)).collect();
    }
    found.extend(packed.findings.iter().cloned());
    found
}

/// A board lies as its kind in the kit.
pub(crate) fn layer(kit: &Kit, name: &str, along: bool) -> Option<PlanLayer> {
    let board: &Board = kit.boards.iter().find(|board| board.name == name)?;
    Some(PlanLayer {
        board: name.to_owned(),
        thickness: board.thickness,
        length: board.length,
        width: board.width,
        side_by_side: 1,
        grain: if along { Grain::Along } else { Grain::Across },
        thin: board.role == TimberRole::ThinPly,
        metal: board.metal.clone(),
    })
}

pub(crate) fn held(support: &Support, placed: &Placed) -> Held {
    match (&support.held, placed.setting) {
        (Holding::Screw(screw), Setting::Screw(extension)) => {
            Held::Screw { extension: extension.length(), travel: screw.travel, thread: screw.thread_pitch }
        }
        (holding, setting) => {
            let hole = if let Setting::Hole(hole) = setting { hole as usize } else { 0 };
            let (of, pitch) = holding.holes().map_or((1, Length::ZERO), |h| (h.hole_count, h.hole_pitch));
            Held::Hole { number: hole + 1, of, pitch }
        }
    }
}

fn legs_of(books: Books<'_>, heights: &Heights, packed: &Packed, choice: &Choice) -> Vec<LegPlan> {
    let mut legs = Vec::new();
    for support in books.ride.supports_in_order() {
        let Some(place) = packed.problem.supports.iter().position(|s| s.name == support.name) else {
            continue;
        };
        let placed = &choice.supports[place];
        let laid = placed.laid.iter().zip(along(&packed.problem, &placed.laid));
        let (ground, deviation) = heights.under.get(&support.name).copied().unzip();
        legs.push(LegPlan {
            name: support.name.clone(),
            short: support.short.clone().unwrap_or_else(|| initials(&support.name)),
            order: legs.len() + 1,
            x: support.at.along,
            y: support.at.across,
            foot_length: support.foot_length.unwrap_or(Length::ZERO),
            foot_width: support.foot_width.unwrap_or(Length::ZERO),
            held: held(support, placed),
            layers: laid
                .filter_map(|(&kind, along)| layer(books.kit, &packed.problem.boards[kind].name, along))
                .collect(),
            stack: placed.packing.length(),
            lift: placed.lift.length(),
            ground,
            ground_deviation: deviation.flatten(),
            residual: residual(&packed.problem, choice, place),
            load: None,
            rated: support.rated_load.map(|load| load.0.mass()),
            standing: Standing::NotKnown,
            remarks: Vec::new(),
        });
    }
    legs
}

/// The first letters of a name's words, for a support that has no short name.
fn initials(name: &str) -> String {
    name.split_whitespace()
        .filter_map(|word| word.chars().next())
        .flat_map(char::to_uppercase)
        .take(2)
        .collect()
}

/// The worst standing of what is found about a leg, and what is said of it.
fn tell(leg: &mut LegPlan, findings: &[Finding]) {
    let about: Vec<&Finding> =
        findings.iter().filter(|f| f.subject == Subject::Support(leg.name.clone())).collect();
    let worst = [Standing::PastLimit, Standing::NotKnown, Standing::Close];
    leg.standing = worst
        .into_iter()
        .find(|standing| about.iter().any(|f| f.standing == *standing))
        .unwrap_or(if about.is_empty() { Standing::NotKnown } else { Standing::Inside });
    for standing in worst {
        let told = about.iter().filter(|f| f.standing == standing);
        leg.remarks.extend(told.map(|f| LegWord { text: f.title.clone(), standing }));
    }
}

fn left_in(packed: &Packed, choice: &Choice) -> Vec<KitLeft> {
    let boards = packed.problem.boards.iter().enumerate();
    let left = boards.map(|(kind, board)| KitLeft {
        board: board.name.clone(),
        held: board.count,
        used: choice.supports.iter().map(|placed| placed.boards_by_kind[kind]).sum(),
    });
    left.collect()
}

/// The usual cautions of the work that this plan is for, where the work is.
fn cautions(ride: &Ride) -> Vec<String> {
    let mut list = vec![
        "Chock the wheels, both sides, before you uncouple.".to_owned(),
        "Hands never under a foot. Move boards with a hook or a stick.".to_owned(),
        "Fingers never in a hole. A stiff pin is a loaded pin: take the load off before the hammer."
            .to_owned(),
        "Look up before anything goes up, and look for what lies under every foot.".to_owned(),
    ];
    if let Some(manual) = &ride.about.manual {
        list.push(format!("Where this plan and the maker's manual differ, the manual is right: {manual}."));
    } else {
        list.push("Where this plan and the maker's manual differ, the manual is right.".to_owned());
    }
    list
}
