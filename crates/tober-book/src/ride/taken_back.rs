//! Lifts that a book tells once and a crew does twice: up in the build-up, and back in the pull-down.

use super::{Lift, Ride, Step};

/// A lift that a step does.
#[derive(Clone, Copy, Debug)]
pub struct LiftDone<'a> {
    /// The lift as it is told.
    pub lift: &'a Lift,
    /// The step that tells it.
    pub told_by: &'a Step,
    /// Whether it is gone the other way, from its last angle or height to its first.
    pub back: bool,
}

impl LiftDone<'_> {
    /// What the lift says holds the part where this way of it ends.
    pub fn ends_held_by(&self) -> Option<&str> {
        let Lift::Winch(lift) = self.lift else { return None };
        if self.back { lift.first_held_by.as_deref() } else { lift.then_held_by.as_deref() }
    }
}

impl Ride {
    /// The lifts that a step does: the one it tells, or else those of the steps it takes back.
    ///
    /// A step takes a lift back if it moves a body from where the lift brings it to where the lift has it from; that of a
    /// winch the body on the line, that of hands any body of the step. The step it `undoes` comes first. Lifts by hand that
    /// say the same are one.
    pub fn lifts_of<'a>(&'a self, step: &'a Step) -> Vec<LiftDone<'a>> {
        if let Some(lift) = &step.lift {
            return vec![LiftDone { lift, told_by: step, back: false }];
        }
        let undone = |told_by: &Step| step.undoes.as_ref() == Some(&told_by.name);
        let mut all: Vec<LiftDone<'_>> = Vec::new();
        for first in [true, false] {
            for told_by in self.steps.iter().filter(|told_by| undone(told_by) == first) {
                let Some(lift) = &told_by.lift else { continue };
                let back = step.moves.iter().any(|moved| {
                    let of_it = match lift {
                        Lift::Winch(lift) => lift.body == moved.body,
                        Lift::Hand(_) => true,
                    };
                    of_it
                        && told_by.moves.iter().any(|told| {
                            told.body == moved.body && told.from == moved.to && told.to == moved.from
                        })
                });
                let alike = all.iter().any(|there| match (there.lift, lift) {
                    (Lift::Hand(a), Lift::Hand(b)) => a.says_as(b),
                    _ => false,
                });
                if back && !alike {
                    all.push(LiftDone { lift, told_by, back: true });
                }
            }
        }
        all
    }
}

impl super::HandLift {
    /// Whether another says the same.
    fn says_as(&self, other: &Self) -> bool {
        (self.mass, self.people, self.reach, self.height_first, self.height_last, self.twist)
            == (other.mass, other.people, other.reach, other.height_first, other.height_last, other.twist)
            && (self.every, self.during, self.rest, self.grip, &self.outside, self.most_each)
                == (other.every, other.during, other.rest, other.grip, &other.outside, other.most_each)
    }
}
