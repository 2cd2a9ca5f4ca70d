//! What is found of an order in which riders get off.

use super::Stopped;
use super::answer::{Answer, WhyLeft};
use crate::finding::{Basis, Finding, Proof, Sense, Subject};
use crate::working::{Provenance, Working};
use tober_quantity::{Angle, Moment, Quantity, Rounding, Shown, UnitSet};

/// What an order is held against. What is not told leaves its finding not known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Allowed {
    /// The greatest moment about the axis by which riders may be out of balance.
    pub out_of_balance: Option<Moment>,
    /// What brake, gear or hands hold about the axis, the least of those that hold on the way.
    pub holds: Option<Moment>,
    /// What is out of balance without riders, in whatever direction; it counts towards what must be held.
    pub own: Moment,
}

impl Allowed {
    /// The greatest moment that is inside both, for an axis that leans so far.
    pub fn moment(self, lean: Angle) -> Option<Moment> {
        let sin = tober_quantity::maths::sin(lean.as_rad()).abs();
        let held = self.holds.filter(|_| sin > 0.0).map(|holds| holds / sin - self.own);
        match (self.out_of_balance, held) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        }
    }
}

/// The findings of the order that was found.
pub fn findings(subject: &Subject, question: &Stopped, answer: &Answer, allowed: Allowed) -> Vec<Finding> {
    let mut list = findings_of(subject, question, answer, allowed);
    let proof = if answer.proved() {
        Proof::Proved
    } else {
        let bound = answer.greatest_bound.amount().shown(Shown::Moment);
        Proof::Bounded {
            bound: format!(
                "no order does better than {}, and none takes fewer than {} turns",
                bound.print(UnitSet::Metric, Rounding::Capacity),
                answer.turns_bound
            ),
        }
    };
    if let Some(first) = list.first_mut() {
        first.proof = Some(proof);
    }
    list.push(off(subject, question, answer));
    list
}

/// The findings of any order: what is out of balance, and what must hold.
pub fn findings_of(subject: &Subject, question: &Stopped, answer: &Answer, allowed: Allowed) -> Vec<Finding> {
    vec![overloads(subject, answer, allowed), runs_away(subject, question, answer, allowed)]
}

fn overloads(subject: &Subject, answer: &Answer, allowed: Allowed) -> Finding {
    let (code, title) =
        ("riders-off.out-of-balance", "greatest moment of riders out of balance while they get off");
    let amount = answer.greatest.amount().shown(Shown::Moment);
    let finding = match allowed.out_of_balance {
        Some(limit) => {
            let limit = limit.amount().shown(Shown::Moment);
            Finding::against_limit(code, subject.clone(), title, (amount, amount), limit, Sense::AtMost)
                .basis(Basis::MakersLimit)
        }
        None => {
            let missing = "By how much riders may be out of balance is not said.";
            Finding::without_limit(code, subject.clone(), title, (amount, amount), missing)
        }
    };
    finding.basis(Basis::Mechanics).never_overridden()
}

fn runs_away(subject: &Subject, question: &Stopped, answer: &Answer, allowed: Allowed) -> Finding {
    let (code, title) =
        ("riders-off.runs-away", "torque about the axis that brake and gear must hold while riders get off");
    let mut w = Working::new();
    let m = w.given("M", "greatest moment of riders out of balance", answer.greatest, Provenance::Computed);
    let own = w.given("M0", "out of balance without riders", allowed.own, Provenance::Computed);
    let l = w.given("l", "lean of the axis from upright", question.lean, Provenance::Maker);
    let t = (m + own) * l.sin().abs();
    let t = w.line("T", "torque about the axis at the worst angle of the ride", t, Shown::Moment);
    let amount = Moment::nm(t.value()).amount().shown(Shown::Moment);
    let finding = match allowed.holds {
        Some(limit) => {
            let limit = limit.amount().shown(Shown::Moment);
            Finding::against_limit(code, subject.clone(), title, (amount, amount), limit, Sense::AtMost)
                .basis(Basis::MakersLimit)
        }
        None => {
            let missing = "What brake and gear hold about the axis is not said.";
            Finding::without_limit(code, subject.clone(), title, (amount, amount), missing)
        }
    };
    finding.basis(Basis::Mechanics).never_overridden().working(w)
}

fn off(subject: &Subject, question: &Stopped, answer: &Answer) -> Finding {
    let title = "everybody gets off";
    let named = |why: WhyLeft| -> Vec<&str> {
        let of = answer.left.iter().filter(|(_, left)| *left == why);
        of.filter_map(|(seat, _)| question.seats.get(*seat)).map(|seat| seat.name.as_str()).collect()
    };
    let mut finding = Finding::statement("riders-off.all", subject.clone(), title, answer.left.is_empty())
        .basis(Basis::Mechanics)
        .never_overridden();
    let each = [
        (
            WhyLeft::Jammed,
            "Cannot be opened: ",
            "Talk to them, keep the seat opposite for last, and free the bar where it stands.",
        ),
        (WhyLeft::NotReached, "No place reaches: ", "Call the fire service before anything is turned."),
        (
            WhyLeft::PastLimit,
            "Would take it past what is allowed: ",
            "Stop there, hold it, and call for help.",
        ),
    ];
    for (why, says, help) in each {
        let names = named(why);
        if !names.is_empty() {
            finding = finding.note(format!("{says}{}.", names.join(", "))).advice(help);
        }
    }
    finding
}
