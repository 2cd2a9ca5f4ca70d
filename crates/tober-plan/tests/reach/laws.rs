//! What must hold of every trailer.

use crate::slow::Chance;
use crate::trailer::{checked, four_legs, sets, way};
use tober_calc::reach::{BUDGET, Outcome, Question, Way, solve};
use tober_quantity::{Force, Length, Stiffness};

/// What heights of one way may differ by where they must be the same, in metres: rounding, far below a whole millimetre.
const SAME_M: f64 = 1e-7;

fn heights(question: &Question) -> Vec<(usize, f64)> {
    sets(way(&solve(question, BUDGET).expect("asked")))
}

fn assert_same(a: &[(usize, f64)], b: &[(usize, f64)], off: f64) {
    assert_eq!(a.len(), b.len());
    for (a, b) in a.iter().zip(b) {
        assert!(a.0 == b.0 && (a.1 - b.1 - off).abs() < SAME_M, "{a:?}, {b:?}");
    }
}

fn ways() -> [Way; 4] {
    [Way::LegAndSleeve, Way::AboveSleeve, Way::BelowSleeve, Way::Screw { shortest: Length::m(0.7) }]
}

/// Left for right: the same jack at the same heights.
#[test]
fn law_a_trailer_in_a_mirror_goes_the_same_way() {
    for held in ways() {
        let mut question = four_legs(held);
        question.load.y = Length::mm(40.0);
        question.legs[0].spring.top = Length::m(0.868);
        let before = heights(&question);
        question.load.y = -question.load.y;
        for leg in &mut question.legs {
            leg.spring.y = -leg.spring.y;
        }
        assert_same(&before, &heights(&question), 0.0);
    }
}

/// Twice the weight on springs twice as stiff and ratings twice as high: the same heights.
#[test]
fn law_weight_and_springs_grow_together() {
    for held in ways() {
        let mut question = four_legs(held);
        let before = heights(&question);
        let twice = |k: &mut Stiffness| *k = *k * 2.0;
        let rated = |rated: &mut Option<Force>| *rated = rated.map(|rated| rated * 2.0);
        question.load.down = question.load.down * 2.0;
        twice(&mut question.jack.lowest.stiffness);
        rated(&mut question.jack.rated);
        for axle in &mut question.axles {
            rated(&mut axle.rated);
            axle.wheels.iter_mut().for_each(|wheel| twice(&mut wheel.stiffness));
        }
        for leg in &mut question.legs {
            rated(&mut leg.rated);
            twice(&mut leg.spring.stiffness);
        }
        assert_same(&before, &heights(&question), 0.0);
    }
}

/// Everything 2.5 m higher: every height is.
#[test]
fn law_another_datum_moves_every_height_by_as_much() {
    let by = Length::m(2.5);
    for held in ways() {
        let mut question = four_legs(held);
        let before = heights(&question);
        let jack = &mut question.jack;
        (jack.lowest.top, jack.ground, jack.start) =
            (jack.lowest.top + by, jack.ground + by, jack.start + by);
        question
            .axles
            .iter_mut()
            .flat_map(|axle| &mut axle.wheels)
            .for_each(|wheel| wheel.top = wheel.top + by);
        for leg in &mut question.legs {
            leg.spring.top = leg.spring.top + by;
            leg.drawn_up = leg.drawn_up.map(|height| height + by);
            if let Way::Screw { shortest } = &mut leg.way {
                *shortest = *shortest + by;
            }
        }
        assert_same(&heights(&question), &before, by.as_m());
    }
}

/// A trailer like the four-legged one with every figure moved by chance.
fn moved(chance: &mut Chance) -> Question {
    let mut question = four_legs(Way::LegAndSleeve);
    let mut off = |most: f64| Length::m((chance.next() * 2.0 - 1.0) * most);
    question.jack.lowest.top = question.jack.lowest.top + off(0.12);
    question.jack.travel = question.jack.travel + off(0.1);
    question.load.x = question.load.x + off(0.5);
    question.load.y = off(0.1);
    for wheel in question.axles.iter_mut().flat_map(|axle| &mut axle.wheels) {
        wheel.top = wheel.top + off(0.02);
    }
    for leg in &mut question.legs {
        leg.spring.top = leg.spring.top + off(0.04);
        leg.drawn_up = leg.drawn_up.map(|height| height + off(0.08));
    }
    question
}

/// Whatever is found on trailers made by chance passes the check; more travel of the hitch jack or more rated load never loses a way.
#[test]
fn law_every_way_found_passes_and_a_better_jack_never_loses_it() {
    let mut chance = Chance(7);
    let mut reached = 0;
    for _ in 0..300 {
        let question = moved(&mut chance);
        let Outcome::Reached(found) = solve(&question, BUDGET).expect("asked") else { continue };
        checked(&question, &found).unwrap_or_else(|refusals| panic!("{refusals:?}"));
        reached += 1;
        let mut better = question.clone();
        better.jack.travel = better.jack.travel + Length::mm(50.0);
        better.jack.rated = better.jack.rated.map(|rated| rated * 1.2);
        let outcome = solve(&better, BUDGET).expect("asked");
        checked(&better, way(&outcome)).unwrap_or_else(|refusals| panic!("{refusals:?}"));
    }
    assert!((50..290).contains(&reached), "{reached} of 300");
}

/// A slow search of every set of legs and every 2 mm of the hitch jack finds nothing where it is proved that there is nothing.
#[test]
fn law_a_slow_search_finds_no_way_where_none_is_proved() {
    let mut chance = Chance(11);
    let (mut none, mut both) = (0, 0);
    for _ in 0..60 {
        let question = moved(&mut chance);
        let slow = crate::slow::goes(&question);
        match solve(&question, BUDGET).expect("asked") {
            Outcome::Missed { miss, proved } => {
                assert!(proved && !slow, "the slow search gets there: {miss:?}");
                none += 1;
            }
            Outcome::Reached(_) => both += usize::from(slow),
        }
    }
    assert!(none > 5 && both > 5, "{none} without a way, {both} found by both");
}
