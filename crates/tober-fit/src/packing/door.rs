//! The door: shapes and magnitudes, before anything is computed.
//!
//! After it every length is within ±100 m, every count within a million and there are at most 64 supports and 64
//! kinds, so that the sums of the other modules stay below 1e14 and cannot overflow an `i64`.

use super::claim::{Claim, Setting};
use super::question::{Leg, PlanSize, Question, Support};
use super::refusal::Refusal;
use tober_quantity::TenthMm;

/// Most supports and most kinds of board in one question.
const MOST_OF_A_LIST: usize = 64;
/// Most boards of a kind.
const COUNT_MOST: i64 = 1_000_000;
/// Most holes in a leg.
const HOLES_MOST: i64 = 1_000;
const LENGTH_MOST: i64 = TenthMm::GREATEST;

/// Refuses in the words of the question or of the claim.
struct Door<'a> {
    refusals: Vec<Refusal>,
    refuse: fn(&'static str, String, i64, i64, i64) -> Refusal,
    at: &'a str,
}

impl Door<'_> {
    fn within(&mut self, what: &'static str, value: i64, least: i64, most: i64) {
        if value < least || value > most {
            self.refusals.push((self.refuse)(what, self.at.to_owned(), value, least, most));
        }
    }

    fn size(&mut self, size: Option<PlanSize>) {
        if let Some(size) = size {
            self.within("size along", size.along.0, 1, LENGTH_MOST);
            self.within("size across", size.across.0, 1, LENGTH_MOST);
        }
    }
}

pub(super) fn question(question: &Question) -> Vec<Refusal> {
    let refuse = |what, at, value, least, most| Refusal::QuestionAbsurd { what, at, value, least, most };
    let mut door = Door { refusals: Vec::new(), refuse, at: "the question" };
    let (supports, kinds) = (question.supports.len(), question.boards.len());
    door.within("number of supports", count(supports), 1, count(MOST_OF_A_LIST));
    door.within("number of kinds of board", count(kinds), 0, count(MOST_OF_A_LIST));
    door.within("greatest stack height", question.stack.height_most.0, 0, LENGTH_MOST);
    door.within("fewest boards in a stack", question.stack.boards_least, 0, COUNT_MOST);
    door.within("most boards in a stack", question.stack.boards_most, 0, COUNT_MOST);
    // A least lift below zero would say nothing, since no lift is below zero; it is more likely a slip of the pen.
    door.within("least lift", question.lift_least.0, 0, LENGTH_MOST);
    door.within("level tolerance along", question.level.along_per_m.0, 0, LENGTH_MOST);
    door.within("level tolerance across", question.level.across_per_m.0, 0, LENGTH_MOST);
    door.within("planarity tolerance", question.planarity.0, 0, LENGTH_MOST);
    if let Some(rule) = question.slenderness {
        door.within("height in the rule on slenderness", rule.height, 1, COUNT_MOST);
        door.within("width in the rule on slenderness", rule.width, 1, COUNT_MOST);
    }
    let mut refusals = door.refusals;
    for board in &question.boards {
        let mut door = Door { refusals: Vec::new(), refuse, at: &board.name };
        door.within("thickness", board.thickness.0, 1, LENGTH_MOST);
        door.within("count", board.count, 0, COUNT_MOST);
        door.size(board.plan);
        refusals.append(&mut door.refusals);
    }
    for support in &question.supports {
        let mut door = Door { refusals: Vec::new(), refuse, at: &support.name };
        one_support(&mut door, support);
        refusals.append(&mut door.refusals);
    }
    if refusals.is_empty() {
        places(question, &mut refusals);
    }
    refusals
}

fn one_support(door: &mut Door<'_>, support: &Support) {
    door.within("position along", support.x.0, -LENGTH_MOST, LENGTH_MOST);
    door.within("position across", support.y.0, -LENGTH_MOST, LENGTH_MOST);
    door.within("ground height", support.ground.0, -LENGTH_MOST, LENGTH_MOST);
    door.size(support.foot);
    if let Some(most) = support.stack_most {
        door.within("greatest stack height", most.0, 0, LENGTH_MOST);
    }
    match support.leg {
        Leg::Holes { first, pitch, count } => {
            door.within("length in the first hole", first.0, 0, LENGTH_MOST);
            door.within("number of holes", count, 1, HOLES_MOST);
            // One hole needs no pitch; two at the same place are a slip.
            door.within("pitch of the holes", pitch.0, i64::from(count > 1), LENGTH_MOST);
            if let Some(hole) = support.hole_forced {
                door.within("hole laid down", hole, 0, count - 1);
            }
        }
        Leg::Screw { shortest, longest } => {
            door.within("shortest length", shortest.0, 0, LENGTH_MOST);
            door.within("longest length", longest.0, shortest.0, LENGTH_MOST);
            if let Some(hole) = support.hole_forced {
                // A screw has no holes, so no number is right here.
                door.within("hole laid down for a screw", hole, 0, -1);
            }
        }
    }
}

fn places(question: &Question, refusals: &mut Vec<Refusal>) {
    let supports = &question.supports;
    for (i, first) in supports.iter().enumerate() {
        for second in &supports[i + 1..] {
            if (first.x, first.y) == (second.x, second.y) {
                refusals.push(Refusal::SupportsCoincide {
                    first: first.name.clone(),
                    second: second.name.clone(),
                });
            }
        }
    }
    let spans = supports.len() >= 3 && {
        let (o, a) = (&supports[0], &supports[1]);
        let (ux, uy) = (a.x.0 - o.x.0, a.y.0 - o.y.0);
        supports.iter().any(|s| ux * (s.y.0 - o.y.0) != uy * (s.x.0 - o.x.0))
    };
    if refusals.is_empty() && !spans {
        refusals.push(Refusal::SupportsInLine { supports: supports.len() });
    }
}

pub(super) fn claim(question: &Question, claim: &Claim) -> Vec<Refusal> {
    if claim.placings.len() != question.supports.len() {
        return vec![Refusal::Shape {
            what: "placings",
            at: "the supports".to_owned(),
            expected: question.supports.len(),
            found: claim.placings.len(),
        }];
    }
    let refuse = |what, at, value, least, most| Refusal::ClaimAbsurd { what, at, value, least, most };
    let mut refusals = Vec::new();
    for (support, placing) in question.supports.iter().zip(&claim.placings) {
        let mut door = Door { refusals: Vec::new(), refuse, at: &support.name };
        if placing.boards.len() != question.boards.len() {
            door.refusals.push(Refusal::Shape {
                what: "counts of boards",
                at: support.name.clone(),
                expected: question.boards.len(),
                found: placing.boards.len(),
            });
        }
        for &boards in &placing.boards {
            door.within("number of boards", boards, 0, COUNT_MOST);
        }
        for layer in placing.layers.iter().flatten() {
            door.within("kind of a layer", count(layer.kind), 0, count(question.boards.len()) - 1);
        }
        match (support.leg, placing.setting) {
            (Leg::Holes { .. }, Setting::Hole(_)) | (Leg::Screw { .. }, Setting::Extension(_)) => {}
            _ => door.refusals.push(Refusal::SettingMismatch { support: support.name.clone() }),
        }
        refusals.append(&mut door.refusals);
    }
    let mut door = Door { refusals: Vec::new(), refuse, at: "the claimed plane" };
    door.within("denominator", claim.plane.denominator, 1, i64::MAX);
    refusals.append(&mut door.refusals);
    refusals
}

fn count(length: usize) -> i64 {
    i64::try_from(length).unwrap_or(i64::MAX)
}
