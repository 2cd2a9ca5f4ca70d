//! Where nothing serves: what the crew could do, each checked by the part that did not find it.

use crate::Books;
use crate::heights::{Heights, Moved};
use crate::nogo::NoGos;
use crate::packing::{as_claim, as_question, asked, broken_clearance, tenths};
use tober_book::{Does, Kit, Ride, TimberRole};
use tober_calc::packing::{
    Budget, Choice, Cure, DugShift, Means, Part, Problem, Remedy, Shift, There, Wedges, WhyNot, least_shift,
    least_shift_dug, why_not,
};
use tober_fit::packing as fit;
use tober_quantity::{Angle, TenthMm, maths};

/// Nodes for each question that is asked in search of a cure, and for each place of a shift.
const CURE_NODES: u64 = 5_000;
const PLACE_NODES: u64 = 400;
/// How far a trailer is shifted or turned at most, and in what steps. Ours: what a crew can set out with a tape.
const SHIFT_MM: i64 = 50;
const SHIFTS: i64 = 40;
const TURN_DEG: f64 = 0.5;
const TURNS: i64 = 20;

/// A pair of folding wedges from half overlap to full overlap (common practice, no source), and the pairs.
/// A wedge whose thin end is not known is not counted on.
fn wedges(kit: &Kit) -> Option<(Wedges, usize)> {
    let wedge = kit.boards.iter().find(|board| board.role == TimberRole::Wedge && board.count >= 2)?;
    let (thick, thin) = (wedge.thickness, wedge.thickness_thin?);
    let (least, most) = (tenths(thick * 0.5 + thin * 1.5), tenths(thick + thin));
    (TenthMm(0) < least && least <= most).then_some((Wedges { least, most }, wedge.count / 2))
}

/// What the crew could do at the feet, as sentences: each alone would do, and less would not. The rest of what
/// could be done is in the last sentence, where nothing at the feet cures.
pub(crate) fn cures(problem: &Problem, kit: &Kit) -> Vec<String> {
    let (list, why) = at_the_feet(problem, kit);
    if list.is_empty() {
        return why
            .map(|why| format!("{why} Shift or turn the trailer, or do not build here."))
            .into_iter()
            .collect();
    }
    list
}

/// The sentences of what cures at the feet, else why there is none; neither where the packing serves.
fn at_the_feet(problem: &Problem, kit: &Kit) -> (Vec<String>, Option<String>) {
    let (wedges, wedge_pairs) = wedges(kit).map_or((None, 0), |(wedges, pairs)| (Some(wedges), pairs));
    let means = Means { wedges, wedge_pairs, ..Means::usual() };
    let budget = Budget { nodes: CURE_NODES, tidying: 0 };
    match why_not(problem, &means, &budget) {
        Ok(WhyNot::Cures { cures, .. }) => {
            let fit = cures.iter().filter(|cure| fits(problem, kit, &means, cure));
            let list: Vec<String> = fit.map(|cure| cure.sentence(problem)).collect();
            let refused = "What was found at the feet was refused by the check; report it.".to_owned();
            let why = list.is_empty().then_some(refused);
            (list, why)
        }
        Ok(WhyNot::DoNotBuildHere) => {
            let alone = "Neither digging in, more boards nor wedges would do, alone or two together.";
            (Vec::new(), Some(alone.to_owned()))
        }
        Ok(WhyNot::NotReached { .. }) => {
            (Vec::new(), Some("No cure was found at the feet, and not all were ruled out.".to_owned()))
        }
        Ok(WhyNot::Serves) | Err(_) => (Vec::new(), None),
    }
}

/// Everything that the crew could do: at the feet, and by shifting or turning the trailer over the surveyed ground.
pub(crate) fn cures_and_shifts(books: Books<'_>, heights: &Heights, problem: &Problem) -> Vec<String> {
    let (mut list, why) = at_the_feet(problem, books.kit);
    let mut shifts = Vec::new();
    let surveyed = heights.surface.is_some();
    if surveyed {
        let ground = Ground { books, heights, nogos: NoGos::of(books.pitch, books.visit) };
        let ways = [Way::Along, Way::Across, Way::Turn];
        shifts.extend(ways.into_iter().filter_map(|way| ground.shift(way)));
        if list.is_empty() && shifts.is_empty() {
            shifts.extend(ways.into_iter().filter_map(|way| ground.shift_and_dig(way)));
        }
    }
    if let (true, Some(why)) = (list.is_empty(), why) {
        list.push(match (shifts.is_empty(), surveyed) {
            (false, _) => why,
            (true, true) => format!("{why} {NOWHERE}"),
            (true, false) => format!("{why} Shift or turn the trailer, or do not build here."),
        });
    }
    list.extend(shifts);
    list
}

const NOWHERE: &str = "Nor does any shift up to 2 m or turn up to 10 degrees over the ground that was surveyed, \
                       clear of what the pitch names, alone or with feet dug in. Survey more ground, or do not build here.";

/// How the trailer is moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    Along,
    Across,
    Turn,
}

impl Way {
    fn moved(self, ride: &Ride, steps: i64) -> Moved {
        let by = steps as f64 * SHIFT_MM as f64 / 1000.0;
        match self {
            Self::Along => Moved { x_m: by, ..Moved::default() },
            Self::Across => Moved { y_m: by, ..Moved::default() },
            Self::Turn => {
                // About the middle of its legs, so that all feet move alike.
                let feet: Vec<_> = ride.supports.iter().filter(|s| s.does == Does::Carries).collect();
                let mean = |of: &dyn Fn(&tober_book::Support) -> f64| {
                    feet.iter().map(|s| of(s)).sum::<f64>() / feet.len().max(1) as f64
                };
                let (x, y) = (mean(&|s| s.at.along.as_m()), mean(&|s| s.at.across.as_m()));
                let turned_rad = Angle::deg(steps as f64 * TURN_DEG).as_rad();
                let (sin, cos) = (maths::sin(turned_rad), maths::cos(turned_rad));
                Moved { x_m: x - (x * cos - y * sin), y_m: y - (x * sin + y * cos), turned_rad }
            }
        }
    }

    fn most(self) -> i64 {
        if self == Self::Turn { TURNS } else { SHIFTS }
    }

    fn sentence(self, steps: i64) -> String {
        let amount = steps.abs();
        let how = match (self, steps > 0) {
            (Self::Along, true) => format!("Shift the trailer {} mm forward", amount * SHIFT_MM),
            (Self::Along, false) => format!("Shift the trailer {} mm back", amount * SHIFT_MM),
            (Self::Across, true) => format!("Shift the trailer {} mm to its left", amount * SHIFT_MM),
            (Self::Across, false) => format!("Shift the trailer {} mm to its right", amount * SHIFT_MM),
            (Self::Turn, left) => {
                let degrees = tober_quantity::significant(amount as f64 * TURN_DEG, 4);
                let side = if left { "left" } else { "right" };
                format!(
                    "Turn the trailer by {degrees} degrees about the middle of its legs, its front to the {side}"
                )
            }
        };
        let steps = match self {
            Self::Turn => "half a degree".to_owned(),
            _ => format!("{SHIFT_MM} mm"),
        };
        format!("{how} (in steps of {steps}")
    }
}

/// The ground that a trailer may be moved over.
struct Ground<'a> {
    books: Books<'a>,
    heights: &'a Heights,
    nogos: NoGos,
}

impl Ground<'_> {
    /// What is known of the place after so many steps.
    fn there(&self, way: Way, steps: i64, assumed: usize) -> There {
        let Books { ride, kit, pitch, .. } = self.books;
        let moved = way.moved(ride, steps);
        if !self.nogos.clear(ride, kit, moved) {
            return There::Taken;
        }
        let there = self.heights.moved(ride, moved);
        let mut carrying = ride.supports.iter().filter(|s| s.does == Does::Carries);
        if carrying.any(|s| !there.under.contains_key(&s.name)) {
            return There::NotSurveyed;
        }
        // Ground that must be clear and was not surveyed there is no better than a foot off the survey.
        let asked = asked(ride, kit, pitch, &there);
        if asked.assumed.len() <= assumed { There::Asks(Box::new(asked.problem)) } else { There::NotSurveyed }
    }

    fn assumed(&self) -> usize {
        let Books { ride, kit, pitch, .. } = self.books;
        asked(ride, kit, pitch, self.heights).assumed.len()
    }

    fn sentence(&self, way: Way, steps: i64, undecided: usize, not_known: usize) -> String {
        let least = if undecided == 0 { "less would not do" } else { "less was not ruled out" };
        let rim = if not_known == 0 { "" } else { ", as far as the ground was surveyed" };
        format!("{}, {least}{rim}), {}", way.sentence(steps), self.nogos.besides(self.books.ride))
    }

    fn stood(&self, way: Way, steps: i64, problem: &Problem) -> Option<fit::Moves> {
        let ride = self.books.ride;
        let stood = stood(ride, self.heights, way.moved(ride, steps), problem)?;
        Some(fit::Moves { stood, ..fit::Moves::default() })
    }

    /// The least shift or turn of one kind, as a sentence.
    fn shift(&self, way: Way) -> Option<String> {
        let assumed = self.assumed();
        let budget = Budget { nodes: PLACE_NODES, tidying: 0 };
        let at = |steps| self.there(way, steps, assumed);
        let Ok(Shift::Found { steps, problem, choice, undecided, not_known }) =
            least_shift(&at, way.most(), &budget)
        else {
            return None;
        };
        let moves = self.stood(way, steps, &problem)?;
        passes(&problem, self.books.kit, &problem, &choice, &moves, &[]).then(|| {
            let moved = self.sentence(way, steps, undecided, not_known);
            format!("{moved}; and read the ground again before packing.")
        })
    }

    /// The least shift or turn of one kind after which digging feet in does, as a sentence.
    fn shift_and_dig(&self, way: Way) -> Option<String> {
        let assumed = self.assumed();
        let budget = Budget { nodes: PLACE_NODES, tidying: 0 };
        let at = |steps| self.there(way, steps, assumed);
        let means = Means::usual();
        let found = least_shift_dug(&at, way.most(), &means, &budget).ok()??;
        let DugShift { steps, problem, cure, undecided, not_known } = found;
        let Remedy::DigIn { feet, .. } = &cure.remedy else { return None };
        let mut moves = self.stood(way, steps, &problem)?;
        let dug = |&(support, by): &(usize, TenthMm)| fit::Dug { support, by, most: means.dig_most };
        moves.dug = feet.iter().map(dug).collect();
        let after = cure.remedy.applied(&problem);
        passes(&problem, self.books.kit, &after, &cure.choice, &moves, &[]).then(|| {
            let moved = self.sentence(way, steps, undecided, not_known);
            format!("{moved}; then: {}", cure.sentence(&problem))
        })
    }
}

/// Where each foot stands, with the surveyed triangle that it lies in.
fn stood(ride: &Ride, heights: &Heights, moved: Moved, problem: &Problem) -> Option<Vec<fit::Stood>> {
    let surface = heights.surface.as_ref()?;
    let one = |support: &tober_calc::packing::Support| {
        let at = moved.place(ride.support(&support.name)?.at);
        let at = (tenths(at.x), tenths(at.y));
        let corners = surface.triangles().map(|t| t.map(|(x, y, z)| (tenths(x), tenths(y), tenths(z))));
        let inside = |corners: &[(TenthMm, TenthMm, TenthMm); 3]| {
            let side = |i: usize| {
                let (a, b) = (corners[i], corners[(i + 1) % 3]);
                (b.0 - a.0).0 * (at.1 - a.1).0 - (b.1 - a.1).0 * (at.0 - a.0).0
            };
            (0..3).all(|i| side(i) >= 0) || (0..3).all(|i| side(i) <= 0)
        };
        let corners = corners.into_iter().find(inside)?;
        Some(fit::Stood { at, corners, ground: support.ground })
    };
    problem.supports.iter().map(one).collect()
}

/// Whether a cure at the feet passes the check.
fn fits(problem: &Problem, kit: &Kit, means: &Means, cure: &Cure) -> bool {
    let (mut moves, mut boards) = (fit::Moves::default(), problem.clone());
    let mut remedies = vec![&cure.remedy];
    while let Some(remedy) = remedies.pop() {
        match remedy {
            Remedy::MoreBoards { .. } | Remedy::Packers { .. } => boards = remedy.applied(&boards),
            Remedy::DigIn { feet, .. } => moves.dug.extend(feet.iter().map(|&(support, by)| fit::Dug {
                support,
                by,
                most: means.dig_most,
            })),
            Remedy::Wedges { supports, wedges } => {
                for &support in supports {
                    let Some(driven) = cure.choice.supports[support].wedges else { return false };
                    let Wedges { least, most } = *wedges;
                    moves.wedged.push(fit::Wedged { support, driven, least, most });
                }
            }
            Remedy::Together(one, other) => remedies.extend([&**one, &**other]),
        }
    }
    let wedged: Vec<usize> = moves.wedged.iter().map(|wedged| wedged.support).collect();
    passes(&boards, kit, &cure.remedy.applied(problem), &cure.choice, &moves, &wedged)
}

/// Whether a choice passes the check of the part that did not find it. `wedged` names the stacks that hold wedges, in the
/// order of the moves: they lie in the uppermost joint of two timbers.
fn passes(
    before: &Problem,
    kit: &Kit,
    after: &Problem,
    choice: &Choice,
    moves: &fit::Moves,
    wedged: &[usize],
) -> bool {
    let Some(mut claim) = as_claim(after, choice) else { return false };
    for (number, &support) in wedged.iter().enumerate() {
        for (place, placing) in claim.placings.iter_mut().enumerate() {
            placing.boards.push(i64::from(place == support));
        }
        claim.boards_total += 1;
        let laid = &choice.supports[support].laid;
        let timber = |at: usize| laid.get(at).is_some_and(|&kind| after.boards[kind].part == Part::Timber);
        let Some(joint) = (1..laid.len()).rev().find(|&at| timber(at) && timber(at - 1)) else {
            return false;
        };
        let layer = fit::Layer { kind: before.boards.len() + number, grain: fit::Grain::Along };
        if let Some(layers) = claim.placings.get_mut(support).and_then(|placing| placing.layers.as_mut()) {
            layers.insert(joint.min(layers.len()), layer);
        }
    }
    let question = as_question(before, kit);
    let checked = fit::check_moved(&question, moves, &claim);
    checked.is_ok_and(|verdict| verdict.is_whole() || !before.rules.foot_on_top)
        && broken_clearance(after, choice).is_none()
}
