//! What is found of the closing of a run, with the working.

use super::{Closure, ClosureLimit};
use crate::finding::{Basis, Finding, Sense, Subject};
use crate::working::{Provenance, Working};
use tober_quantity::{Length, Quantity, Shown};

/// How a run closed against the limit that was chosen.
///
/// Not known where no limit was chosen, where it needs a length that was not measured, or where its source is
/// too weak to judge by.
pub fn closure_finding(closure: &Closure, limit: Option<ClosureLimit>) -> Finding {
    const CODE: &str = "survey.closure";
    const TITLE: &str = "closing error of the levels";
    let subject = Subject::Reading(closure.to.clone());
    let mut working = Working::new();
    let measured = || Provenance::measured("staff");
    let error = working.given("e", "carried less known height at the end", closure.misclosure, measured());
    let off = working.line("w", TITLE, error.abs(), Shown::Fine);
    let size = Length::m(off.value()).amount();
    let figure = |missing: &str, working| {
        Finding::without_limit(CODE, subject.clone(), TITLE, (size, size), missing).working(working)
    };
    let Some(limit) = limit else {
        return figure("No limit for the closing error was chosen.", working);
    };
    let basis = if limit.basis().contains("from memory") {
        Basis::from_memory(limit.basis())
    } else {
        Basis::document(limit.basis(), "closing error", "as named")
    };
    let Some(most) = limit.most(closure.distance, closure.set_ups) else {
        return figure("The limit grows with the length of the run, and a sight was not measured.", working)
            .basis(basis)
            .advice("Measure every backsight and foresight, or choose another limit.");
    };
    if !limit.gates() {
        return figure("The limit chosen has too weak a source to judge by.", working).basis(basis);
    }
    if let Some(distance) = closure.distance {
        working.given("K", "length of the run", distance.amount().shown(Shown::Coarse), measured());
    }
    working.given("m", "closing error allowed", most, Provenance::tabulated(limit.basis()));
    Finding::against_limit(CODE, subject.clone(), TITLE, (size, size), most.amount(), Sense::AtMost)
        .working(working)
        .basis(basis)
        .advice("Read the run again, with back and fore sights of equal length.")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Standing;

    fn closure(misclosure_m: f64, distance_m: Option<f64>) -> Closure {
        Closure {
            from: "BM 1".into(),
            to: "BM 1".into(),
            set_ups: 8,
            distance: distance_m.map(Length::m),
            misclosure: Length::m(misclosure_m),
        }
    }

    fn standing(closure: &Closure, limit: Option<ClosureLimit>) -> Standing {
        closure_finding(closure, limit).standing
    }

    /// A public page of levelling problems (reference WE-16): 0.244 m on 30.5 km fails third order, 66 mm;
    /// and the Navy course's run (WE-15) of 0.015 ft passes 0.0318 ft.
    #[test]
    fn truth_runs_that_fail_and_pass_their_limit() {
        let third = Some(ClosureLimit::ThirdOrder);
        assert_eq!(standing(&closure(-0.244, Some(30_500.0)), third), Standing::PastLimit);
        let navy = closure(0.015 * 0.3048, Some(2140.0 * 0.3048));
        let found = closure_finding(&navy, Some(ClosureLimit::ThirdOrderFeet));
        assert_eq!((found.standing, found.share()), (Standing::Inside, Some(48)));
    }

    #[test]
    fn law_a_limit_that_is_unsaid_weak_or_unmeasurable_is_not_known() {
        let good = closure(0.001, Some(100.0));
        assert_eq!(standing(&good, None), Standing::NotKnown);
        assert_eq!(standing(&good, Some(ClosureLimit::EachSetUp)), Standing::NotKnown);
        assert_eq!(standing(&closure(0.001, None), Some(ClosureLimit::ThirdOrder)), Standing::NotKnown);
        assert_eq!(standing(&good, Some(ClosureLimit::ThirdOrder)), Standing::Inside);
    }
}
