//! Lifts worked by hand, findings, and what is refused.

use crate::{TONNE_N, assert_near, part, point, travel};
use tober_calc::finding::{Standing, Subject};
use tober_calc::lift::{Asked, Drum, Hinged, LiftError, Raised, findings, hinged_at, over, travelled};
use tober_calc::working::Provenance;
use tober_quantity::{Angle, Force, Length, Mass, Ratio};

fn of(arm: &Hinged) -> Raised {
    Raised::exact(arm, "arm", Provenance::Weighed)
}

/// N and m: a few roundings.
const ROUNDING: f64 = 1e-8;

/// A tonne at 2 m on an arm that lies level, its eye at 4 m, the sheave straight above the eye: half its weight in the line,
/// straight up, and half at the hinge. Two falls at 0.9: the winch pulls 4903.325 / (0.9 + 0.81) = 2867.442 N.
#[test]
fn hand_half_the_weight_hangs_on_a_line_at_twice_the_distance() {
    let arm = part(1000.0, point(2.0, 0.0), point(4.0, 0.0), (4.0, 3.0), 2, 0.9);
    let at = hinged_at(&arm, Angle::deg(0.0)).expect("a sound lift");
    let n = |force: Option<Force>| force.expect("a force").as_n();
    assert_near(n(at.pull), TONNE_N / 2.0, ROUNDING);
    assert_near(n(at.per_fall), TONNE_N / 4.0, ROUNDING);
    assert_near(n(at.winch), TONNE_N / 2.0 / 1.71, ROUNDING);
    let (x, z) = at.hinge.expect("a hinge");
    assert_near(x.as_n(), 0.0, ROUNDING);
    assert_near(z.as_n(), TONNE_N / 2.0, ROUNDING);
    assert_near(at.line_length.as_m(), 3.0, ROUNDING);
    assert_near(at.lever.as_m(), 4.0, ROUNDING);
    assert_near(at.line_direction.as_deg(), 90.0, ROUNDING);
    assert_near(at.eye_direction.as_deg(), 90.0, ROUNDING);
}

/// The same arm upright, the sheave at (-4, 4): the line pulls level backward. Against the arm, which points up, that is 90
/// degrees to its left. Nothing hangs on the line and all on the hinge.
#[test]
fn hand_an_upright_part_hangs_on_its_hinge_alone() {
    let arm = part(1000.0, point(2.0, 0.0), point(4.0, 0.0), (-4.0, 4.0), 1, 1.0);
    let at = hinged_at(&arm, Angle::deg(90.0)).expect("a sound lift");
    assert_near(at.pull.expect("a force").as_n(), 0.0, ROUNDING);
    assert_near(at.hinge.expect("a hinge").1.as_n(), TONNE_N, ROUNDING);
    assert_near(at.line_direction.as_deg().abs(), 180.0, ROUNDING);
    assert_near(at.eye_direction.as_deg(), 90.0, ROUNDING);
}

/// Eye and sheave at one distance a from the hinge: l = 2 a sin(theta / 2), so F = m g r cos(psi) / (a cos(theta / 2)). With the
/// sheave straight up and the weight 40 degrees under the arm, psi = phi - 40 and theta = 90 - phi, so
/// d ln F / d phi = -tan(psi) - tan(theta / 2) / 2. At 20 degrees that is 0.364 - 0.350, at 22 degrees 0.325 - 0.337: the pull
/// is greatest between them, and the listed angles 0, 40 and 80 miss it.
#[test]
fn hand_the_greatest_pull_lies_between_two_listed_angles() {
    let (sin, cos) = (tober_quantity::maths::sin(0.698_131_700_797_731_8), 0.766_044_443_118_978);
    let arm = part(1000.0, point(2.0 * cos, -2.0 * sin), point(5.0, 0.0), (0.0, 5.0), 1, 1.0);
    let found = travelled(&arm, &travel(0.0, 80.0, 40.0)).expect("a sound lift");
    let (peak, listed) = (found.peak.expect("a peak"), found.listed.peak.expect("a listed peak"));
    let (psi, theta) = ((peak.phi - Angle::deg(40.0)).as_rad(), (Angle::deg(90.0) - peak.phi).as_rad());
    let tan = tober_quantity::maths::tan;
    assert_near(tan(psi) + tan(theta / 2.0) / 2.0, 0.0, 1e-9);
    assert!((20.0..22.0).contains(&peak.phi.as_deg()), "{peak:?}");
    let wanted =
        TONNE_N * 2.0 * tober_quantity::maths::cos(psi) / (5.0 * tober_quantity::maths::cos(theta / 2.0));
    assert_near(peak.force.as_n(), wanted, 1e-6);
    assert!(peak.force.as_n() > listed.force.as_n() * 1.02, "{peak:?} against {listed:?}");
}

#[test]
fn hand_findings_of_a_lift_that_goes_over_centre() {
    let arm = part(1000.0, point(2.0, 0.0), point(4.0, 0.0), (-4.0, 4.0), 1, 1.0);
    let found = over(&of(&arm), &travel(0.0, 100.0, 30.0)).expect("a sound lift");
    // 30 degrees a row ends at 90, where nothing is slack yet; the travel goes on to 100.
    assert!(!found.stated.listed.slack);
    assert_eq!(found.slack.len(), 1);
    assert_near(found.slack[0].0.as_deg(), 90.0, ROUNDING);
    assert_near(found.slack[0].1.as_deg(), 100.0, ROUNDING);
    let subject = Subject::Body("mast".to_owned());
    let standing = |asked: &Asked| -> Vec<Standing> {
        let found = findings(&subject, &found, asked).expect("sound");
        found.iter().map(|finding| finding.standing).collect()
    };
    let nothing = Asked::default();
    assert_eq!(standing(&nothing), [Standing::PastLimit, Standing::NotKnown, Standing::NotKnown]);
    // At 0 degrees the line runs from (4, 0) to (-4, 4): lever 16 / sqrt(80) = 1.789 m, pull 2 t x 1 m / 1.789 = 1.118 t = 10.96 kN.
    let told = Asked {
        winch_rated: Some(Force::kn(20.0)),
        drum: Some(Drum { drum: Length::mm(64.0), rope: Length::mm(8.0), layer: 1 }),
        hinge_rated: Some(Force::kn(10.0)),
        held_back_by: Some("a second line".to_owned()),
        ..Asked::default()
    };
    assert_eq!(standing(&told), [Standing::Inside, Standing::Inside, Standing::PastLimit]);
    // On the fourth layer 20 x 72 / (64 + 56) = 12 kN: 10.96 is 92 % of it. On the sixth 20 x 72 / 152 = 9.5 kN.
    let on = |layer| Asked {
        drum: Some(Drum { drum: Length::mm(64.0), rope: Length::mm(8.0), layer }),
        ..told.clone()
    };
    assert_eq!(standing(&on(4))[1], Standing::Close);
    assert_eq!(standing(&on(6))[1], Standing::PastLimit);
    assert_eq!(standing(&Asked { drum: None, ..told })[1], Standing::NotKnown);
}

/// Sheave at 45 degrees and 6 m, eye at 4 m on the arm: at 45 degrees the line runs along the arm.
#[test]
fn hand_a_dead_point_has_no_greatest_pull() {
    let arm = part(1000.0, point(2.0, 0.0), point(4.0, 0.0), (4.5, 4.5), 1, 1.0);
    let found = travelled(&arm, &travel(0.0, 60.0, 20.0)).expect("a sound lift");
    assert_eq!(found.dead.len(), 1);
    assert_near(found.dead[0].as_deg(), 45.0, ROUNDING);
    assert_eq!((found.peak, found.hinge), (None, None));
    let found = over(&of(&arm), &travel(0.0, 60.0, 20.0)).expect("a sound lift");
    let found = findings(&Subject::Ride, &found, &Asked::default()).expect("sound");
    assert_eq!(found[0].standing, Standing::PastLimit);
    assert_eq!(found[1].standing, Standing::NotKnown);
}

#[test]
fn refuse_lifts_that_are_none_with_the_value_and_the_range() {
    let arm = part(1000.0, point(2.0, 0.0), point(4.0, 0.0), (-4.0, 4.0), 1, 1.0);
    let sound = travel(0.0, 80.0, 5.0);
    let mut worse = arm;
    worse.mass = Mass::kg(f64::NAN);
    let mut efficient = arm;
    efficient.efficiency = Ratio::one(1.05);
    let mut none = arm;
    none.falls = 0;
    for (part, travel, field) in [
        (worse, sound, "mass_kg"),
        (efficient, sound, "sheave_efficiency"),
        (none, sound, "falls"),
        (arm, travel(10.0, 0.0, 5.0), "phi_end_deg"),
        (arm, travel(0.0, 80.0, 0.001), "step_deg"),
        (arm, travel(0.0, 80.0, 0.0), "step_deg"),
        (arm, travel(0.0, 0.0, 0.0), "step_deg"),
    ] {
        let error = travelled(&part, &travel).expect_err("not sound");
        assert_eq!(error.field(), Some(field), "{error}");
        assert!(error.to_string().contains("must be a number from"), "{error}");
    }
    let mut on_hinge = arm;
    on_hinge.eye = point(0.0, 0.0);
    let error = travelled(&on_hinge, &sound).expect_err("no lever");
    assert!(matches!(error, LiftError::NoLine { on: "hinge", .. }), "{error}");
    let mut on_sheave = arm;
    on_sheave.sheave_x = Length::m(4.0);
    on_sheave.sheave_z = Length::ZERO;
    let error = travelled(&on_sheave, &sound).expect_err("no line");
    assert!(matches!(error, LiftError::NoLine { on: "sheave", .. }), "{error}");
}
