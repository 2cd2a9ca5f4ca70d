//! Laws of a lift known within tolerances: every true state inside them lies inside the band, and the band is met.

use crate::{assert_near, point, travel};
use tober_calc::finding::{Measure, Subject};
use tober_calc::lift::{Asked, Drum, Hinged, OnPart, Piece, Raised, findings, hinged_at, over};
use tober_calc::working::Provenance;
use tober_quantity::{Acceleration, Angle, Force, Length, Mass, Ratio, Toleranced, maths};

/// A share of the greatest pull: sums of a dozen products of doubles.
const SHARE: f64 = 1e-9;

fn piece(name: &str, mass: (f64, f64), centre: OnPart, off_by: OnPart) -> Piece {
    Piece {
        name: name.to_owned(),
        mass: Toleranced { value: Mass::kg(mass.0), off_by: Mass::kg(mass.1) },
        mass_from: Provenance::Maker,
        centre,
        off_by,
    }
}

fn tower() -> Raised {
    Raised {
        pieces: vec![
            piece("tower", (820.0, 25.0), point(2.1, 0.1), point(0.02, 0.05)),
            piece("drive", (160.0, 5.0), point(4.6, 0.3), point(0.0, 0.05)),
            piece("counterweight", (200.0, 20.0), point(-0.8, 0.0), point(0.05, 0.0)),
        ],
        eye: point(3.2, 0.3),
        sheave_x: Length::m(-1.6),
        sheave_z: Length::m(1.7),
        falls: 4,
        efficiency: Ratio::one(0.96),
        gravity: Acceleration::m_s2(9.80665),
    }
}

/// The part with every tolerance taken at one of its ends, by the bits of a number.
fn at_ends(raised: &Raised, bits: u32) -> Hinged {
    let mut stated = raised.clone();
    for (i, piece) in stated.pieces.iter_mut().enumerate() {
        let sign = |j: usize| if bits >> (3 * i + j) & 1 == 1 { 1.0 } else { -1.0 };
        piece.mass = Toleranced::exact(piece.mass.value + piece.mass.off_by * sign(0));
        piece.centre.along = piece.centre.along + piece.off_by.along * sign(1);
        piece.centre.normal = piece.centre.normal + piece.off_by.normal * sign(2);
    }
    stated.stated()
}

/// All 512 corners of the tolerances of three pieces: pull and hinge lie in the band, and the pull meets both of its ends.
#[test]
fn law_every_corner_of_the_tolerances_lies_in_the_band() {
    let raised = tower();
    let found = over(&raised, &travel(0.0, 90.0, 30.0)).expect("sound");
    for row in found.rows.iter().step_by(97) {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for bits in 0..512 {
            let at = hinged_at(&at_ends(&raised, bits), row.phi).expect("sound");
            let pull = at.pull.expect("no dead point").as_n();
            low = low.min(pull);
            high = high.max(pull);
            let (x, z) = at.hinge.expect("a hinge");
            let hinge = maths::hypot(x.as_n(), z.as_n());
            if pull >= 0.0 {
                assert!(hinge <= row.hinge.as_n() * (1.0 + SHARE), "{hinge} at {:?}", row.phi);
            }
        }
        let most = SHARE * 20_000.0;
        assert_near(low, row.low.as_n(), most);
        assert_near(high, row.high.as_n(), most);
    }
}

/// Near upright the tower may be on either side of its balance: the stated part is not slack, the tolerances make it so.
#[test]
fn law_what_may_be_slack_is_slack() {
    let mut raised = tower();
    raised.pieces.truncate(1);
    raised.pieces[0].centre.normal = Length::m(0.0);
    let found = over(&raised, &travel(0.0, 89.5, 30.0)).expect("sound");
    assert!(found.stated.slack.is_empty());
    assert_eq!(found.slack.len(), 1);
    // 2.08 cos(phi) = 0.05 + 0.02 cos... : the worst is 2.08 cos(phi) - 0.05 sin(phi) = 0 at 88.62 degrees.
    let from = found.slack[0].0.as_deg();
    assert_near(from, Angle::rad(maths::atan(2.08 / 0.05)).as_deg(), 0.051);
    let all = findings(&Subject::Ride, &found, &Asked::default()).expect("sound");
    assert!(all[0].standing == tober_calc::finding::Standing::PastLimit, "{:?}", all[0]);
}

/// What more is not known never takes a share off a finding.
#[test]
fn law_wider_tolerances_use_no_less_of_any_limit() {
    let asked = Asked {
        winch_rated: Some(Force::kn(14.0)),
        drum: Some(Drum { drum: Length::mm(140.0), rope: Length::mm(10.0), layer: 3 }),
        hinge_rated: Some(Force::kn(60.0)),
        held_back_by: Some("check line".to_owned()),
        ..Asked::default()
    };
    let shares = |raised: &Raised| -> Vec<(u32, f64)> {
        let found = over(raised, &travel(0.0, 85.0, 30.0)).expect("sound");
        let all = findings(&Subject::Ride, &found, &asked).expect("sound");
        all.iter()
            .filter_map(|finding| match finding.measure {
                Measure::AgainstLimit { high, .. } => Some((finding.share()?, high.si)),
                _ => None,
            })
            .collect()
    };
    let base = shares(&tower());
    assert_eq!(base.len(), 2);
    for i in 0..3 {
        for what in 0..3 {
            let mut wider = tower();
            let piece = &mut wider.pieces[i];
            match what {
                0 => piece.mass.off_by = piece.mass.off_by * 3.0 + Mass::kg(1.0),
                1 => piece.off_by.along = piece.off_by.along * 3.0 + Length::mm(5.0),
                _ => piece.off_by.normal = piece.off_by.normal * 3.0 + Length::mm(5.0),
            }
            for (before, after) in base.iter().zip(shares(&wider)) {
                assert!(after.0 >= before.0 && after.1 >= before.1 - 1e-9, "piece {i}, {what}");
            }
        }
    }
}

#[test]
fn refuse_pieces_that_are_none() {
    let mut none = tower();
    none.pieces.clear();
    assert_eq!(over(&none, &travel(0.0, 90.0, 5.0)).expect_err("no piece").field(), Some("mass_kg"));
    let mut negative = tower();
    negative.pieces[0].off_by.along = Length::m(-0.1);
    let error = over(&negative, &travel(0.0, 90.0, 5.0)).expect_err("no tolerance");
    assert_eq!(error.field(), Some("cg"), "{error}");
    let mut light = tower();
    light.pieces[1].mass.off_by = Mass::kg(161.0);
    assert!(over(&light, &travel(0.0, 90.0, 5.0)).is_err());
}
