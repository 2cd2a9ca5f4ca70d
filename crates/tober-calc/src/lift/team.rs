//! Lifts by hand: what people who lift together may take, how many it takes, and where the lifting equation says nothing.
//!
//! People who lift together take less than the sum of what each can: two take two thirds of it, three a half, and more than
//! four are unlikely to work together (HSE L23, Manual handling). No share is printed for four; here a fourth adds nothing.

use super::LiftError;
use super::error::within;
use super::niosh::Task;
use crate::finding::{Basis, Finding, Proof, Sense, Subject};
use crate::working::{Provenance, Term, Working, number};
use tober_quantity::{Mass, Quantity, Ratio, Shown, Toleranced};

/// The most people that a lift is worked for.
pub const TEAM_MOST: u32 = 4;

/// How many times what one person may take a team of people may take. `None` for nobody, and for more than [`TEAM_MOST`].
pub fn team(people: u32) -> Option<f64> {
    match people {
        1 => Some(1.0),
        2 => Some(2.0 * (2.0 / 3.0)),
        3 | 4 => Some(3.0 * (1.0 / 2.0)),
        _ => None,
    }
}

/// The least number of people who may take a mass, if one of them may take so much.
pub fn people_needed(mass: Mass, one: Mass) -> Option<u32> {
    // As a share is rounded: binary noise moves no limit.
    (1..=TEAM_MOST)
        .find(|n| team(*n).is_some_and(|times| mass.as_kg() * (1.0 - 1e-12) <= one.as_kg() * times))
}

/// Whether the lifting equation applies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Scope {
    /// Somebody looked at every one of [`super::OUTSIDE`], and none is so.
    Inside,
    /// These are so.
    Outside(Vec<String>),
    /// Nobody said.
    NotTold,
}

/// A lift by hand.
#[derive(Clone, Debug, PartialEq)]
pub struct ByHand {
    /// What is lifted.
    pub mass: Toleranced<Mass>,
    /// Where that comes from.
    pub mass_from: Provenance,
    /// How many lift together.
    pub people: Option<u32>,
    /// The task of each, or what is missing to tell it.
    pub task: Result<Task, String>,
    /// Whether the equation applies to it.
    pub scope: Scope,
    /// The most that the maker lets one person take of it.
    pub most_each: Option<Mass>,
}

/// The most that one person may take, on what that rests, and why it is in doubt.
struct One {
    w: Working,
    term: Term,
    basis: Basis,
    doubts: Vec<String>,
    notes: Vec<String>,
    none_at_all: Option<String>,
}

fn equation() -> Basis {
    Basis::document("NIOSH 94-110", "revised lifting equation, p. 7 and Tables 5 and 7", "1994, rev. 9/2021")
}

/// The findings of a lift by hand: the mass against what the people may take together, and whether they are enough.
///
/// Where the equation does not apply the maker's own figure for one person counts. Without one the equation is worked all
/// the same, since what takes a lift out of its scope makes it harder and never easier: a lift past it is past
/// its limit, and any other is *not known*.
///
/// # Errors
/// Refuses a mass outside 0 to 2 t, a maker's figure outside 0 to 200 kg, and a task that is none.
pub fn by_hand(subject: &Subject, lift: &ByHand) -> Result<Vec<Finding>, LiftError> {
    within("mass_kg", "mass that is lifted in kilogrammes", lift.mass.low().as_kg(), 0.0, 2000.0)?;
    within("mass_kg", "mass that is lifted in kilogrammes", lift.mass.high().as_kg(), 0.0, 2000.0)?;
    if let Some(each) = lift.most_each {
        within("most_each_kg", "most that one person may take in kilogrammes", each.as_kg(), 0.0, 200.0)?;
    }
    Ok(match one(lift)? {
        Ok(one) => vec![together(subject, lift, &one), enough(subject, lift, &one)],
        Err(missing) => [TOGETHER, ENOUGH]
            .map(|(code, title)| {
                missing[1..]
                    .iter()
                    .fold(Finding::not_known(code, subject.clone(), title, &missing[0]), |finding, why| {
                        finding.doubted(why)
                    })
            })
            .into(),
    })
}

const TOGETHER: (&str, &str) = ("lift.hand", "mass, against what those who lift it together may take");
const ENOUGH: (&str, &str) = ("lift.people", "enough people lift it");

/// What one person may take: [`Err`] says what is missing for any figure at all.
fn one(lift: &ByHand) -> Result<Result<One, Vec<String>>, LiftError> {
    let mut doubts = Vec::new();
    let mut notes = Vec::new();
    match &lift.scope {
        Scope::Inside => {}
        Scope::NotTold => doubts.push(
            "Whether the lifting equation applies: say `outside`, or that nothing is outside its scope."
                .to_owned(),
        ),
        Scope::Outside(why) => {
            let why = format!("Outside the scope of the lifting equation: {}.", why.join("; "));
            match lift.most_each {
                Some(_) => notes.push(format!("{why} The maker's figure for one person counts.")),
                None => {
                    doubts.push(format!(
                        "{why} What the maker lets one person take of it (`most-each`) is not said."
                    ));
                }
            }
        }
    }
    let outside = matches!(lift.scope, Scope::Outside(_));
    if let (true, Some(each)) = (outside, lift.most_each) {
        return Ok(Ok(of_maker(each, doubts, notes)));
    }
    let task = match (&lift.task, lift.most_each) {
        (Ok(task), _) => task,
        (Err(missing), Some(each)) => {
            doubts.push(missing.clone());
            return Ok(Ok(of_maker(each, doubts, notes)));
        }
        (Err(missing), None) => {
            doubts.push(missing.clone());
            return Ok(Err(doubts));
        }
    };
    super::recommended(task)?;
    let mut best: Option<One> = None;
    for (end, hands) in task.ends() {
        let mut w = Working::new();
        let (_, term) = task.lines(hands, &mut w);
        let none_at_all = task.beyond(hands).map(|why| format!("{end}, {why}."));
        let at = One {
            w,
            term,
            basis: equation(),
            doubts: doubts.clone(),
            notes: [notes.clone(), vec![format!("By the lifting equation, {end}.")]].concat(),
            none_at_all,
        };
        let worse = best.as_ref().is_none_or(|so_far| {
            so_far.none_at_all.is_none()
                && (at.none_at_all.is_some() || at.term.value() < so_far.term.value())
        });
        if worse {
            best = Some(at);
        }
    }
    let Some(best) = best else { return Ok(Err(doubts)) };
    Ok(Ok(match lift.most_each {
        Some(each) if each.as_kg() < best.term.value() && best.none_at_all.is_none() => {
            of_maker(each, best.doubts, notes)
        }
        _ => best,
    }))
}

fn of_maker(each: Mass, doubts: Vec<String>, notes: Vec<String>) -> One {
    let mut w = Working::new();
    let term = w.given("c", "the most that the maker lets one person take", each, Provenance::Maker);
    One { w, term, basis: Basis::MakersLimit, doubts, notes, none_at_all: None }
}

fn shares() -> Basis {
    Basis::document("HSE L23", "team handling: two thirds for two, a half for three", "Manual handling")
}

fn finished(finding: Finding, one: &One) -> Finding {
    let finding = finding.basis(one.basis.clone()).basis(shares());
    let finding = one.notes.iter().fold(finding, |finding, note| finding.note(note.clone()));
    one.doubts.iter().fold(finding, |finding, why| finding.doubted(why))
}

fn together(subject: &Subject, lift: &ByHand, one: &One) -> Finding {
    let (code, title) = TOGETHER;
    let band = (lift.mass.low().amount(), lift.mass.high().amount());
    let of = |missing: &str| Finding::without_limit(code, subject.clone(), title, band, missing);
    let Some(people) = lift.people else {
        return finished(of("How many lift it together: `people`."), one).working(one.w.clone());
    };
    if let Some(why) = &one.none_at_all {
        let finding = Finding::statement(code, subject.clone(), title, false)
            .proof(Proof::Refuted { counterexample: format!("The lifting equation allows no mass: {why}") })
            .advice("Bring the hands nearer or lower, from a trolley or a step, or lift it by other means.");
        return finished(finding, one);
    }
    let Some(times) = team(people) else {
        let why =
            format!("What {people} people may take together: more than four are unlikely to lift as one.");
        return finished(of(&why), one).working(one.w.clone());
    };
    let mut w = one.w.clone();
    let source = || Provenance::tabulated("HSE L23, Manual handling");
    let limit = if people > 1 {
        let counted = people.min(3);
        let n =
            w.given("n", "people who lift it, as many as count", Ratio::one(f64::from(counted)), source());
        let share = match counted {
            2 => number(2.0) / number(3.0),
            _ => number(1.0) / number(2.0),
        };
        w.line("T", "the most that they may take together", n * share * one.term.clone(), Shown::Mass)
    } else {
        one.term.clone()
    };
    let m = w.given("m", "mass lifted, the most it may be", lift.mass.high(), lift.mass_from.clone());
    w.line("u", "share of that", m / limit, Shown::Ratio);
    let limit = (Mass::kg(one.term.value()) * times).amount();
    let finding = Finding::against_limit(code, subject.clone(), title, band, limit, Sense::AtMost).working(w);
    finished(finding, one)
}

fn enough(subject: &Subject, lift: &ByHand, one: &One) -> Finding {
    let (code, title) = ENOUGH;
    let not_known = |missing: &str| finished(Finding::not_known(code, subject.clone(), title, missing), one);
    let needed = match &one.none_at_all {
        Some(_) => None,
        None => people_needed(lift.mass.high(), Mass::kg(one.term.value())),
    };
    let statement = |holds| Finding::statement(code, subject.clone(), title, holds);
    let Some(needed) = needed else {
        let finding = statement(false)
            .proof(Proof::Refuted { counterexample: "No team of up to four may take it.".to_owned() });
        return finished(finding.advice("Lift it by other means, or take it apart."), one);
    };
    let told = format!("It takes {needed}.");
    match lift.people {
        None => not_known(&format!("How many lift it together: `people`. {told}")),
        Some(people) if people > TEAM_MOST => {
            not_known(&format!("Whether {people} can lift as one: more than four are unlikely to. {told}"))
        }
        Some(people) if people < needed => finished(
            statement(false)
                .proof(Proof::Refuted { counterexample: format!("It takes {needed}, and {people} lift it.") })
                .advice(format!("Set {needed} people to it.")),
            one,
        ),
        Some(_) => finished(statement(true).note(told), one),
    }
}
