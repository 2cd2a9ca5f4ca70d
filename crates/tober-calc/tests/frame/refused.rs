//! Frames that cannot be worked with, each with what would be right.

use crate::{beam, down, foot, spot};
use tober_calc::supports::flexible::{Beams, BeamsError, BeamsSolver, Condensed, Turn, attach};
use tober_quantity::{Length, Quantity, SecondMoment};

/// A square of beams.
fn square() -> Beams {
    let rail = |from, to| beam(from, to, 1e-5, 1e-7);
    Beams {
        nodes: vec![spot(0.0, 0.0), spot(4.0, 0.0), spot(4.0, 2.0), spot(0.0, 2.0)],
        members: vec![rail(0, 1), rail(1, 2), rail(2, 3), rail(3, 0)],
    }
}

fn refusal(beams: &Beams, supports: &[usize]) -> (BeamsError, String) {
    let error = Condensed::new(beams, supports).expect_err("it is refused");
    let sentence = error.to_string();
    (error, sentence)
}

#[test]
fn refuse_too_few_supports_and_supports_on_one_line() {
    let (error, sentence) = refusal(&square(), &[0, 1]);
    assert_eq!(error, BeamsError::TooFewSupports { given: 2 });
    assert!(sentence.contains("at least three"), "{sentence}");
    let mut beams = square();
    beams.nodes.push(spot(2.0, 0.0));
    beams.members.push(beam(4, 0, 1e-5, 1e-7));
    let (error, sentence) = refusal(&beams, &[0, 1, 4]);
    assert_eq!(error, BeamsError::SupportsOnOneLine);
    assert!(sentence.contains("off that line"), "{sentence}");
    let (error, _) = refusal(&square(), &[0, 1, 2, 1]);
    assert_eq!(error, BeamsError::SupportsAtOneNode { first: 1, second: 3 });
}

#[test]
fn refuse_parts_that_nothing_joins() {
    let mut beams = square();
    beams.nodes.extend([spot(9.0, 0.0), spot(9.0, 2.0)]);
    beams.members.push(beam(4, 5, 1e-5, 1e-7));
    let (error, sentence) = refusal(&beams, &[0, 1, 2]);
    assert_eq!(error, BeamsError::NotConnected { node: 4 });
    assert!(sentence.contains("node 5") && sentence.contains("Join it"), "{sentence}");
}

#[test]
fn refuse_a_mechanism_by_the_node_that_moves() {
    // A stub along x without torsion: its end turns about x as it likes.
    let mut beams = square();
    beams.nodes.push(spot(6.0, 0.0));
    beams.members.push(beam(1, 4, 1e-5, 0.0));
    let (error, sentence) = refusal(&beams, &[0, 1, 2, 3]);
    assert_eq!(error, BeamsError::Mechanism { node: 4, turn: Turn::AboutX });
    assert!(sentence.contains("torsion constant"), "{sentence}");
}

#[test]
fn refuse_members_without_length_or_with_impossible_numbers() {
    let mut beams = square();
    beams.nodes.push(spot(4.0, 0.0));
    beams.members.push(beam(1, 4, 1e-5, 1e-7));
    let (error, sentence) = refusal(&beams, &[0, 1, 2, 3]);
    assert!(matches!(error, BeamsError::MemberWithoutLength { member: 4, .. }), "{error:?}");
    assert!(sentence.contains("Join its two nodes"), "{sentence}");
    for bad in [-1e-5, 0.0, f64::NAN, f64::INFINITY, 1e9] {
        let mut beams = square();
        beams.members[2].second_moment = SecondMoment::from_si(bad);
        let (error, _) = refusal(&beams, &[0, 1, 2, 3]);
        assert!(matches!(error, BeamsError::MemberOutOfRange { member: 2, .. }), "{bad}: {error:?}");
        let mut beams = square();
        beams.nodes[3].x = Length::m(if bad == 0.0 { 2e3 } else { bad * 1e9 });
        let (error, _) = refusal(&beams, &[0, 1, 2, 3]);
        assert!(matches!(error, BeamsError::NodeOutOfRange { node: 3, .. }), "{bad}: {error:?}");
    }
    let mut beams = square();
    beams.members[1].to = 9;
    assert!(matches!(refusal(&beams, &[0, 1, 2]).0, BeamsError::UnknownNode { node: 9, .. }));
    assert!(matches!(refusal(&square(), &[0, 1, 7]).0, BeamsError::UnknownNode { node: 7, .. }));
}

#[test]
fn refuse_loads_and_springs_that_are_none() {
    let frame = Condensed::new(&square(), &[0, 1, 2, 3]).expect("sound");
    assert!(matches!(frame.column(&[down(8, 1e3)]), Err(BeamsError::UnknownNode { node: 8, .. })));
    assert!(matches!(frame.column(&[down(0, f64::NAN)]), Err(BeamsError::LoadOutOfRange { load: 0, .. })));
    let up = frame.column(&[down(0, -1e3)]).expect("it is a load");
    let some = frame.column(&[down(0, 1e3)]).expect("it is a load");
    let mut solver = BeamsSolver::new();
    let good = [foot(1e7, 0.0); 4];
    assert!(solver.solve(&frame, &good, &up).expect_err("it pulls up").to_string().contains("pressed down"));
    let few = solver.solve(&frame, &good[..3], &some).expect_err("a spring is missing");
    assert!(few.to_string().contains("3 springs for 4 supports"), "{few}");
    for bad in [foot(0.0, 0.0), foot(f64::NAN, 0.0), foot(1e7, f64::NAN), foot(1e7, 50.0)] {
        let mut feet = good;
        feet[2] = bad;
        assert!(solver.solve(&frame, &feet, &some).is_err(), "{bad:?}");
    }
}

#[test]
fn refuse_a_point_that_no_beam_reaches() {
    let mut beams = square();
    let error = attach(&mut beams, spot(2.0, -0.4), Length::mm(50.0), "Support", 2).expect_err("too far");
    let sentence = error.to_string();
    assert!(sentence.contains("Support 3") && sentence.contains("member"), "{sentence}");
    assert_eq!(beams, square(), "a refusal changes nothing");
    let none =
        attach(&mut Beams { nodes: vec![], members: vec![] }, spot(0.0, 0.0), Length::m(9.0), "Support", 0);
    assert!(none.is_err());
}
