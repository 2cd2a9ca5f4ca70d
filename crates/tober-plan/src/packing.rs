//! From heights, kit and book to the stacks and holes, and their check by the part that did not choose them.

use crate::heights::Heights;
use tober_book::{Does, Frame, Holding, Kit, Pitch, Ride, Support, TimberRole};
use tober_calc::finding::{Basis, Finding, Standing, Subject};
use tober_calc::packing::{
    Answer, BoardKind, Budget, Choice, Clearance, HeightToWidth, Leg, Part, PlanSize, Plane, Problem,
    Setting, StackRules, TenthMmPerM, solve,
};
use tober_fit::packing as fit;
use tober_quantity::{Length, Slope, TenthMm, maths};

/// What was asked of the packing calculation and what came out.
pub(crate) struct Packed {
    /// The question.
    pub problem: Problem,
    /// The answer.
    pub answer: Answer,
    /// What the book does not say and the plan had to assume. Nothing that rests on the plan is then known.
    pub assumed: Vec<String>,
    /// What was found while asking, before any answer.
    pub findings: Vec<Finding>,
    /// What the checker says of the choice.
    pub check: Check,
}

/// What `tober-fit` says of a choice.
pub(crate) enum Check {
    /// There is no choice to check.
    NoChoice,
    /// Every rule that was asked for holds.
    Fits,
    /// The choice is refused. Then the plan has a fault of ours, and no stack of it may be built.
    Refused(Vec<String>),
}

/// Chooses holes and stacks, or says why it cannot.
pub(crate) fn pack(ride: &Ride, kit: &Kit, pitch: &Pitch, heights: &Heights) -> Result<Packed, Vec<Finding>> {
    let carrying: Vec<&Support> = ride.supports.iter().filter(|s| s.does == Does::Carries).collect();
    let unread = carrying.iter().any(|s| !heights.under.contains_key(&s.name));
    if unread {
        let what = "The height of the ground under every foot that carries.";
        return Err(vec![no_packing(what)]);
    }
    let Asked { problem, assumed, mut findings } = asked(ride, kit, pitch, heights);
    let answer = match solve(&problem, &Budget::usual()) {
        Ok(answer) => answer,
        Err(error) => {
            findings.push(no_packing(&error.to_string()));
            return Err(findings);
        }
    };
    let check = answer.choice().map_or(Check::NoChoice, |choice| verify(&problem, choice, kit));
    Ok(Packed { problem, answer, assumed, findings, check })
}

/// What is asked of the packing calculation.
pub(crate) struct Asked {
    /// The question.
    pub problem: Problem,
    /// What the book does not say and had to be assumed.
    pub assumed: Vec<String>,
    /// What was found while asking.
    pub findings: Vec<Finding>,
}

/// The packing problem of these books. A foot under which nothing was read stands at the datum.
pub(crate) fn asked(ride: &Ride, kit: &Kit, pitch: &Pitch, heights: &Heights) -> Asked {
    let carrying: Vec<&Support> = ride.supports.iter().filter(|s| s.does == Does::Carries).collect();
    let (mut assumed, mut findings) = (Vec::new(), Vec::new());
    let problem = question(ride, kit, pitch, heights, &carrying, &mut assumed, &mut findings);
    Asked { problem, assumed, findings }
}

fn no_packing(what: &str) -> Finding {
    Finding::not_known("packing.serves", Subject::Frame, "a packing that serves", what)
}

/// A key of the frame that the plan cannot do without, or what stands in for it.
fn or_assumed<T>(written: Option<T>, stands_in: T, sentence: &str, assumed: &mut Vec<String>) -> T {
    written.unwrap_or_else(|| {
        assumed.push(sentence.to_owned());
        stands_in
    })
}

pub(crate) fn tenths(length: Length) -> TenthMm {
    // Out of range becomes the end of the range; the calculation then refuses it with its name.
    let end = TenthMm(if length.as_m() < 0.0 { -TenthMm::GREATEST } else { TenthMm::GREATEST });
    TenthMm::nearest(length).unwrap_or(end)
}

/// A tolerance in whole tenths, rounded to the strict side.
#[expect(clippy::cast_possible_truncation, reason = "tolerances are bounded by the book")]
fn tolerance(length: Length) -> TenthMm {
    TenthMm((length.as_mm() * 10.0 + 1e-9).floor() as i64)
}

#[expect(clippy::cast_possible_truncation, reason = "slopes are bounded by the book")]
fn slope(slope: Slope) -> TenthMmPerM {
    TenthMmPerM((slope.as_mm_per_m() * 10.0 + 1e-9).floor() as i64)
}

#[expect(clippy::cast_possible_truncation, reason = "places are bounded by the book to 500 m")]
fn whole_mm(length: Length) -> i64 {
    length.as_mm().round() as i64
}

fn question(
    ride: &Ride,
    kit: &Kit,
    pitch: &Pitch,
    heights: &Heights,
    carrying: &[&Support],
    assumed: &mut Vec<String>,
    findings: &mut Vec<Finding>,
) -> Problem {
    let frame = &ride.frame;
    let level = |written: Option<Slope>, which: &str, assumed: &mut Vec<String>| {
        let sentence = format!("The book gives no tolerance for level {which}; 3 mm/m is assumed.");
        slope(or_assumed(written, Slope::mm_per_m(3.0), &sentence, assumed))
    };
    let level_tol_x = level(frame.level_along, "along", assumed);
    let level_tol_y = level(frame.level_across, "across", assumed);
    let planarity_tol = tolerance(or_assumed(
        frame.planarity,
        Length::mm(3.0),
        "The book does not say how far a foot may be from the plane of the frame; 3 mm is assumed.",
        assumed,
    ));
    let max_stack = tolerance(or_assumed(
        frame.greatest_stack,
        Length::mm(200.0),
        "The book gives no greatest stack; 200 mm is assumed.",
        assumed,
    ));
    let most = or_assumed(
        frame.greatest_boards,
        4,
        "The book does not say how many boards a stack may have; 4 are assumed.",
        assumed,
    );
    let min_lift = tenths(or_assumed(
        frame.least_lift,
        Length::ZERO,
        "The book gives no least lift; none is asked for.",
        assumed,
    ));
    let feet_known = carrying.iter().all(|s| foot(s).is_some());
    if !feet_known {
        assumed.push(
            "The size of a foot is not in the book, so nothing shows that it stands wholly on its board."
                .to_owned(),
        );
    }
    let bottom_area_mm2 = bottom_area(pitch, kit, carrying, assumed);
    let supports = carrying.iter().map(|support| leg_of(support, heights)).collect();
    let boards = kit.boards.iter().filter_map(board).collect();
    Problem {
        supports,
        boards,
        max_stack,
        min_boards_per_stack: 1,
        max_boards_per_stack: u32::try_from(most).unwrap_or(u32::MAX),
        min_lift,
        level_tol_x,
        level_tol_y,
        planarity_tol,
        clearances: clearances(frame, heights, assumed, findings),
        rules: StackRules {
            height_to_width: Some(HeightToWidth { height: 1, width: 1 }),
            foot_on_top: feet_known,
            bottom_area_mm2,
            bottom_width: None,
            narrows_upward: true,
            packers_per_joint: 1,
        },
    }
}

/// The area that the lowest board must have: the largest that any ground under a foot asks for. What one
/// ground asks for is asked for under every foot, so that no crew has to keep two kinds of stack apart.
fn bottom_area(pitch: &Pitch, kit: &Kit, carrying: &[&Support], assumed: &mut Vec<String>) -> Option<i64> {
    let mut most: Option<i64> = None;
    for support in carrying {
        let Some(ground) = pitch.ground_under(&support.name) else {
            let sentence = "What the feet stand on is not said in the pitch, nor which board must lie on it.";
            if !assumed.iter().any(|said| said == sentence) {
                assumed.push(sentence.to_owned());
            }
            continue;
        };
        if ground.bottom == ANY_BOARD {
            continue;
        }
        let Some(board) = kit.boards.iter().find(|board| board.name == ground.bottom) else {
            let sentence = format!(
                "The pitch asks for \"{}\" on the ground, and the kit has no such board.",
                ground.bottom
            );
            if !assumed.contains(&sentence) {
                assumed.push(sentence);
            }
            continue;
        };
        let area = PlanSize::of(tenths(board.length), tenths(board.width)).area_mm2();
        most = most.max(Some(area));
    }
    most
}

/// What the pitch writes where any board may lie on the ground.
const ANY_BOARD: &str = "any";

fn foot(support: &Support) -> Option<PlanSize> {
    Some(PlanSize::of(tenths(support.foot_length?), tenths(support.foot_width?)))
}

fn leg_of(support: &Support, heights: &Heights) -> tober_calc::packing::Support {
    let leg = match &support.held {
        Holding::LegAndSleeve(holes) | Holding::LegOnlyAbove(holes) | Holding::LegOnlyBelow(holes) => {
            Leg::Holes {
                pin_first: tenths(holes.first_hole),
                pin_pitch: tenths(holes.hole_pitch),
                pin_count: u32::try_from(holes.hole_count).unwrap_or(u32::MAX),
            }
        }
        Holding::Screw(screw) => Leg::Screw {
            shortest: tenths(screw.retracted_length),
            longest: tenths(screw.retracted_length + screw.travel),
        },
    };
    let ground = heights.under.get(&support.name).map_or(Length::ZERO, |(height, _)| *height);
    let mut plain = tober_calc::packing::Support::plain(
        support.name.clone(),
        whole_mm(support.at.along),
        whole_mm(support.at.across),
        tenths(ground),
        leg,
    );
    plain.foot = foot(support);
    plain
}

fn board(board: &tober_book::Board) -> Option<BoardKind> {
    let part = match board.role {
        TimberRole::Timber | TimberRole::Mat => Part::Timber,
        TimberRole::ThinPly => Part::Packer,
        // Wedges are driven to fit; they are offered as a cure, and never planned for.
        TimberRole::Wedge => return None,
    };
    Some(BoardKind {
        name: board.name.clone(),
        thickness: tenths(board.thickness),
        count: u32::try_from(board.count).unwrap_or(u32::MAX),
        plan: Some(PlanSize::of(tenths(board.length), tenths(board.width))),
        part,
    })
}

/// What must stay clear of the ground, as least heights of the frame plane.
fn clearances(
    frame: &Frame,
    heights: &Heights,
    assumed: &mut Vec<String>,
    findings: &mut Vec<Finding>,
) -> Vec<Clearance> {
    let Some(parts) = &frame.clearances else {
        assumed.push("The book does not say what must stay clear of the ground.".to_owned());
        return Vec::new();
    };
    let mut list = Vec::new();
    for part in parts {
        let title = format!("{} clear of the ground", part.part);
        let mut unknown = |what: &str| {
            findings.push(Finding::not_known("packing.clearance", Subject::Frame, &title, what));
            assumed.push(format!("Nothing shows {} to be clear of the ground.", part.part));
        };
        if part.over.is_empty() {
            unknown("The corners of the ground it passes over.");
            continue;
        }
        let Some(highest) = heights.highest_within(&part.over) else {
            unknown("Readings all round the ground it passes over.");
            continue;
        };
        if !heights.deviations_known {
            unknown("How good the instrument is, with which the ground was read.");
            continue;
        }
        let (read, bumps) = (highest.readings.as_m(), highest.bumps.map_or(0.0, Length::as_m));
        let deviation = Length::m(maths::hypot(read, bumps));
        if highest.bumps.is_none() {
            findings.push(between_unknown(&part.part, heights.read_at_feet));
        }
        let least = highest.height + deviation * 2.0 + part.below + part.least;
        for corner in &part.over {
            list.push(Clearance {
                name: part.part.clone(),
                x_mm: whole_mm(corner.along),
                y_mm: whole_mm(corner.across),
                at_least: Some(tenths(least)),
                at_most: None,
            });
        }
    }
    list
}

/// That the readings do not tell how rough the ground under a part is.
///
/// Where every foot was read itself nothing else hangs on what is between, and the crew looks under the part once the frame
/// is down. Where the feet stand between points it is not known, as it is not for them.
fn between_unknown(part: &str, read_at_feet: bool) -> Finding {
    let title = format!("ground between the readings, under {part}");
    let basis = Basis::ours("a height between two points is a guess about what lies between them");
    if !read_at_feet {
        let missing = format!(
            "How rough the ground is under {part}: read four points at least that have others all round them."
        );
        return Finding::not_known("survey.between", Subject::Pitch, &title, &missing).basis(basis);
    }
    let mut finding = Finding::statement("survey.between", Subject::Pitch, &title, true)
        .basis(basis)
        .note("The feet were read and too little between them: what stands up there nobody has read.")
        .advice(format!("Once the frame is down, look at this and measure where it is least clear: {part}."));
    finding.standing = Standing::Close;
    finding
}

/// Has the choice checked by the part that shares no rule with the one that chose.
pub(crate) fn verify(problem: &Problem, choice: &Choice, kit: &Kit) -> Check {
    let question = as_question(problem, kit);
    let Some(claim) = as_claim(problem, choice) else {
        return Check::Refused(vec!["The plane of the choice is too fine to be checked.".to_owned()]);
    };
    match fit::check(&question, &claim) {
        Err(refusals) => Check::Refused(refusals.iter().map(ToString::to_string).collect()),
        // The size of a foot that is not in the book is said among what is assumed.
        Ok(verdict) if problem.rules.foot_on_top && !verdict.is_whole() => Check::Refused(vec![
            "A rule that was asked for could not be tried, since a size is missing.".to_owned(),
        ]),
        Ok(_) => match broken_clearance(problem, choice) {
            Some(sentence) => Check::Refused(vec![sentence]),
            None => Check::Fits,
        },
    }
}

pub(crate) fn broken_clearance(problem: &Problem, choice: &Choice) -> Option<String> {
    problem.clearances.iter().find_map(|clearance| {
        let (height, over) = choice.plane.height_at(clearance.x_mm, clearance.y_mm);
        let low = clearance.at_least.is_some_and(|least| height < i128::from(least.0) * over);
        let high = clearance.at_most.is_some_and(|most| height > i128::from(most.0) * over);
        (low || high).then(|| format!("The plane does not keep {} clear.", clearance.name))
    })
}

pub(crate) fn as_question(problem: &Problem, kit: &Kit) -> fit::Question {
    let size = |plan: PlanSize| fit::PlanSize { along: plan.length, across: plan.width };
    let support = |s: &tober_calc::packing::Support| fit::Support {
        name: s.name.clone(),
        x: TenthMm(s.x_mm * 10),
        y: TenthMm(s.y_mm * 10),
        ground: s.ground,
        leg: match s.leg {
            Leg::Holes { pin_first, pin_pitch, pin_count } => {
                fit::Leg::Holes { first: pin_first, pitch: pin_pitch, count: i64::from(pin_count) }
            }
            Leg::Screw { shortest, longest } => fit::Leg::Screw { shortest, longest },
        },
        foot: s.foot.map(size),
        stack_most: s.max_stack,
        hole_forced: s.forced_hole.map(i64::from),
    };
    let board = |b: &BoardKind| fit::Board {
        name: b.name.clone(),
        thickness: b.thickness,
        count: i64::from(b.count),
        made: match kit.boards.iter().find(|of_kit| of_kit.name == b.name).map(|of_kit| of_kit.role) {
            Some(TimberRole::ThinPly) => fit::Made::ThinPly,
            Some(TimberRole::Wedge) => fit::Made::Wedges,
            _ => fit::Made::Timber,
        },
        plan: b.plan.map(size),
    };
    fit::Question {
        supports: problem.supports.iter().map(support).collect(),
        boards: problem.boards.iter().map(board).collect(),
        stack: fit::StackLimits {
            height_most: problem.max_stack,
            boards_least: i64::from(problem.min_boards_per_stack),
            boards_most: i64::from(problem.max_boards_per_stack),
        },
        lift_least: problem.min_lift,
        level: fit::Level {
            along_per_m: TenthMm(problem.level_tol_x.0),
            across_per_m: TenthMm(problem.level_tol_y.0),
        },
        planarity: problem.planarity_tol,
        foot_board: fit::FootBoard::Always,
        layering: if problem.rules.foot_on_top { fit::Layering::Required } else { fit::Layering::NotAsked },
        slenderness: problem
            .rules
            .height_to_width
            .map(|r| fit::Slenderness { height: i64::from(r.height), width: i64::from(r.width) }),
    }
}

pub(crate) fn as_claim(problem: &Problem, choice: &Choice) -> Option<fit::Claim> {
    let plane = match choice.plane {
        Plane::Grid { height_0001mm, slope_x_001mm_per_m, slope_y_001mm_per_m } => {
            fit::Plane::on_grid(height_0001mm, slope_x_001mm_per_m, slope_y_001mm_per_m)?
        }
        Plane::Exact { height_01mm, slope_x_01mm_per_m, slope_y_01mm_per_m, over } => fit::Plane {
            height: i64::try_from(height_01mm).ok()?,
            along: i64::try_from(slope_x_01mm_per_m).ok()?,
            across: i64::try_from(slope_y_01mm_per_m).ok()?,
            denominator: i64::try_from(over).ok()?,
        },
    };
    let placing = |placed: &tober_calc::packing::Placed| fit::Placing {
        setting: match placed.setting {
            Setting::Hole(hole) => fit::Setting::Hole(i64::from(hole)),
            Setting::Screw(extension) => fit::Setting::Extension(extension),
        },
        boards: placed.boards_by_kind.iter().map(|&n| i64::from(n)).collect(),
        layers: Some(
            placed
                .laid
                .iter()
                .zip(along(problem, &placed.laid))
                .map(|(&kind, along)| fit::Layer {
                    kind,
                    grain: if along { fit::Grain::Along } else { fit::Grain::Across },
                })
                .collect(),
        ),
    };
    Some(fit::Claim {
        placings: choice.supports.iter().map(placing).collect(),
        plane,
        lift_greatest: choice.max_lift,
        boards_total: i64::from(choice.boards),
    })
}

/// Whether the grain of each layer runs along the frame. Timbers cross, and the lowest runs across; a thin packer
/// lies as the timber under it.
pub(crate) fn along(problem: &Problem, laid: &[usize]) -> Vec<bool> {
    let mut timbers = 0_usize;
    let way = |&kind: &usize| {
        timbers += usize::from(problem.boards[kind].part == Part::Timber);
        timbers.is_multiple_of(2)
    };
    laid.iter().map(way).collect()
}
