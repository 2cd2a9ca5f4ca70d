//! Whether the crew can get the frame onto its legs: from the books to the calculation, and its check.

mod ask;

use ask::{Asked, asked};

use crate::assemble::Books;
use crate::heights::Heights;
use crate::model::{LegPlan, Way, WayDoing, WayStep};
use crate::packing::Packed;
use tober_calc::finding::{Finding, Subject};
use tober_calc::packing::{Choice, Part};
use tober_calc::reach as calc;
use tober_calc::supports::Layer;
use tober_fit::reach as fit;
use tober_quantity::{Length, Quantity};

const TITLE: &str = "the crew can get the frame onto every leg";
/// How many heights of packing under the hitch jack are tried.
const PACKINGS_MOST: usize = 8;

/// What was found, and the way where there is one.
pub(crate) struct Reached {
    pub findings: Vec<Finding>,
    pub way: Option<Way>,
    /// What would make it go where it does not.
    pub cures: Vec<String>,
}

fn not_known(missing: Vec<String>) -> Reached {
    let mut finding = Finding::not_known("reach.way", Subject::Frame, TITLE, "");
    finding.unknown = missing;
    Reached { findings: vec![finding], way: None, cures: Vec::new() }
}

/// Looks for a way onto the legs of a packing, and has it checked.
pub(crate) fn reach(
    books: Books<'_>,
    heights: &Heights,
    packed: &Packed,
    choice: &Choice,
    legs: &[LegPlan],
    springs: &dyn Fn(&str) -> [Layer; 2],
) -> Reached {
    let asked = match asked(books, heights, packed, choice, legs, springs) {
        Ok(asked) => asked,
        Err(missing) => return not_known(missing),
    };
    let Asked { mut question, mut others, mut off_by, mut doubts } = asked;
    let mut outcome = match calc::solve(&question, calc::BUDGET) {
        Ok(outcome) => outcome,
        Err(error) => return not_known(vec![error.to_string()]),
    };
    for packing in packings(books, packed, choice) {
        if matches!(outcome, calc::Outcome::Reached(_)) {
            break;
        }
        let mut other = question.clone();
        other.jack.packing = packing;
        if let Ok(found @ calc::Outcome::Reached(_)) = calc::solve(&other, calc::BUDGET) {
            (question, outcome) = (other, found);
        }
    }
    let calc::Outcome::Reached(way) = &outcome else {
        let mut findings = calc::findings(&question, true, &outcome, &[], &off_by);
        for why in &doubts {
            findings = findings.into_iter().map(|finding| finding.doubted(why)).collect();
        }
        let cures = calc::cures(&question).map_or(Vec::new(), |cures| cures.iter().map(cure).collect());
        for sentence in &cures {
            findings = findings.into_iter().map(|finding| finding.advice(sentence.clone())).collect();
        }
        return Reached { findings, way: None, cures };
    };
    // From here on the legs stand in the order in which they are set, so that one order serves all trailers.
    let in_book_order = way.makers_order;
    let again;
    let way = if in_book_order {
        way
    } else {
        let order = way.order();
        let sorted = |legs: &[calc::Leg]| order.iter().map(|&leg| legs[leg].clone()).collect();
        for question in others.iter_mut().map(|(_, other)| other).chain([&mut question]) {
            question.legs = sorted(&question.legs);
        }
        off_by = order.iter().map(|&leg| off_by[leg]).collect();
        again = calc::solve(&question, calc::BUDGET);
        match &again {
            Ok(calc::Outcome::Reached(way)) => way,
            _ => {
                return not_known(vec![
                    "A way was found in one order and lost in the same: the fault is ours.".to_owned(),
                ]);
            }
        }
    };
    if let Err(refusals) = fit::check(&as_question(&question), &as_poses(way)) {
        let title = "the way onto the legs passes the check of the part that did not find it";
        let mut finding = Finding::statement("reach.fit", Subject::Frame, title, false).never_overridden();
        for refusal in refusals {
            finding = finding.note(refusal.to_string());
        }
        let finding = finding.advice("Do not set the legs by this plan, and report it: the fault is ours.");
        return Reached { findings: vec![finding], way: None, cures: Vec::new() };
    }
    let mut ways = Vec::new();
    for (what, mut other) in others {
        other.jack.packing = question.jack.packing;
        match calc::solve(&other, calc::BUDGET) {
            Ok(calc::Outcome::Reached(other)) if other.makers_order => ways.push(other),
            Ok(calc::Outcome::Missed { miss, .. }) => {
                doubts.push(format!("Whether it goes {what}: there {}", miss.sentence(&other)));
            }
            _ => doubts.push(format!("Whether it goes {what}: in this order it does not.")),
        }
    }
    let mut findings =
        calc::findings(&question, in_book_order, &calc::Outcome::Reached(way.clone()), &ways, &off_by);
    let practice = calc::practice(&question, way).ok().flatten();
    if let (Some(practice), Some(first)) = (&practice, findings.first_mut()) {
        let head = "Common practice (no source): rear legs first with the nose down, then front legs with the nose up.";
        let said = if practice.agrees { "This is so here." } else { "It differs here." };
        first.notes.push(format!("{head} {said} {}", practice.sentences.join(" ")).trim_end().to_owned());
    }
    for why in &doubts {
        findings = findings.into_iter().map(|finding| finding.doubted(why)).collect();
    }
    let way = for_the_crew(&question, way, legs, practice.as_ref(), in_book_order);
    Reached { findings, way: Some(way), cures: Vec::new() }
}

/// Heights of packing that boards left in the kit make under the hitch jack, least first.
fn packings(books: Books<'_>, packed: &Packed, choice: &Choice) -> Vec<Length> {
    let Some(most) = books.ride.frame.hitch.as_ref().and_then(|hitch| hitch.jack_packing) else {
        return Vec::new();
    };
    let mut heights = Vec::new();
    for (kind, board) in
        packed.problem.boards.iter().enumerate().filter(|(_, board)| board.part == Part::Timber)
    {
        let used: u32 = choice.supports.iter().map(|placed| placed.boards_by_kind[kind]).sum();
        for boards in 1..=board.count.saturating_sub(used).min(3) {
            heights.push(board.thickness.length() * f64::from(boards));
        }
    }
    heights.retain(|&height| height <= most);
    heights.sort_by(|a, b| a.si().total_cmp(&b.si()));
    heights.dedup();
    // Spread over what there is, so that few tries reach from the least to the greatest.
    let every = heights.len().div_ceil(PACKINGS_MOST).max(1);
    heights.into_iter().rev().step_by(every).collect::<Vec<_>>().into_iter().rev().collect()
}

fn cure(cure: &calc::Cure) -> String {
    let mm = |length: &Length| format!("{:.0} mm", length.as_mm());
    match cure {
        calc::Cure::JackPacking(jack) => {
            format!("Setting the legs: {} of packing under the hitch jack would do.", mm(jack))
        }
        calc::Cure::WheelsOnBoards(wheels) => {
            format!("Setting the legs: all wheels on boards of {} would do.", mm(wheels))
        }
        calc::Cure::Both { jack, wheels } => format!(
            "Setting the legs: all wheels on boards of {} and {} of packing under the hitch jack would do.",
            mm(wheels),
            mm(jack)
        ),
    }
}

fn as_question(question: &calc::Question) -> fit::Question {
    let stood = |s: &calc::Spring| fit::Stood { x: s.x, y: s.y, stiffness: s.stiffness, top: s.top };
    let mut shortest = stood(&question.jack.lowest);
    shortest.top = shortest.top + question.jack.packing;
    let axle = |axle: &calc::Axle| fit::Axle {
        name: axle.name.clone(),
        wheels: [stood(&axle.wheels[0]), stood(&axle.wheels[1])],
        rated: axle.rated,
    };
    let leg = |leg: &calc::Leg| fit::Leg {
        name: leg.name.clone(),
        stood: stood(&leg.spring),
        wants: match leg.way {
            calc::Way::Screw { shortest } => fit::Wants::Screw { shortest },
            _ => fit::Wants::Above(leg.overlift),
        },
        drawn_up: leg.drawn_up,
        rated: leg.rated,
    };
    let load = question.load;
    fit::Question {
        axles: question.axles.iter().map(axle).collect(),
        jack: fit::Jack {
            shortest,
            longest: shortest.top + question.jack.travel,
            rated: question.jack.rated,
        },
        legs: question.legs.iter().map(leg).collect(),
        load: tober_fit::supports::Load {
            weight: load.down,
            x: load.x,
            y: load.y,
            about_x: load.moment_x,
            about_y: load.moment_y,
        },
    }
}

fn as_poses(way: &calc::Sequence) -> Vec<fit::Pose> {
    let pose = |pose: &calc::Pose| fit::Pose {
        jack: pose.jack,
        legs: pose.legs.clone(),
        height: pose.lies.z,
        about_x: pose.lies.theta_x,
        about_y: pose.lies.theta_y,
        wheel_loads: pose.wheel_loads.clone(),
        jack_load: pose.jack_load,
        leg_loads: pose.leg_loads.clone(),
    };
    core::iter::once(&way.start).chain(way.steps.iter().flat_map(|step| &step.poses)).map(pose).collect()
}

/// The way in the crew's measures: heights above the ground beside the hitch jack, screws by how far they are out.
fn for_the_crew(
    question: &calc::Question,
    way: &calc::Sequence,
    legs: &[LegPlan],
    practice: Option<&calc::Practice>,
    in_book_order: bool,
) -> Way {
    let above = |height: Length| height - question.jack.ground;
    let screw_out = |leg: usize, top: Length| match question.legs[leg].way {
        calc::Way::Screw { shortest } => Some(top - shortest),
        _ => None,
    };
    let turns = |leg: usize, top: Length| {
        let of_plan = legs.iter().find(|of_plan| of_plan.name == question.legs[leg].name)?;
        let crate::model::Held::Screw { thread, .. } = of_plan.held else { return None };
        crate::model::turns_told(screw_out(leg, top)?, thread)
    };
    let short = |leg: usize| {
        let name = &question.legs[leg].name;
        legs.iter()
            .find(|of_plan| of_plan.name == *name)
            .map_or(name.clone(), |leg| format!("{} {name}", leg.short))
    };
    let mut before = &way.start;
    let mut steps = Vec::new();
    for step in &way.steps {
        let last = step.poses.last().unwrap_or(before);
        let doing = match step.doing {
            calc::Doing::Jack { to, least, most } => WayDoing::Jack {
                up: before.jack.is_none_or(|jack| to > jack),
                height: above(to),
                least: above(least),
                most: above(most),
            },
            calc::Doing::Set { leg, top, clear, .. } => WayDoing::Set {
                leg: short(leg),
                work: question.legs[leg].way.work(),
                clear,
                screw_out: screw_out(leg, top),
                turns: turns(leg, top),
            },
            calc::Doing::Wind { leg, to } => WayDoing::Wind {
                leg: short(leg),
                screw_out: screw_out(leg, to).unwrap_or(Length::ZERO),
                turns: turns(leg, to),
            },
            calc::Doing::Off => WayDoing::Off,
        };
        let hang = |pose: &calc::Pose| pose.on_wheels() <= question.load.down * 1e-6;
        let wheels_come_free = last.jack.is_some() && hang(last) && !hang(before);
        steps.push(WayStep { doing, jack_load: last.jack_load.mass(), wheels_come_free });
        before = last;
    }
    let differs = practice.filter(|practice| !practice.agrees);
    Way {
        jack_packing: question.jack.packing,
        steps,
        in_book_order,
        differs: differs.map_or(Vec::new(), |practice| practice.sentences.clone()),
        pin_above: question.legs.iter().any(|leg| leg.way == calc::Way::AboveSleeve),
    }
}
