//! Claims on bands of support loads: sound ones pass, and each way of being wrong is refused by its name.

use tober_fit::supports::{
    BandQuestion, Case, Claim, Displacement, Ends, RangedSupport, RangedWeight, Refusal, check_band,
    check_cut,
};
use tober_quantity::{Angle, Force, Length, Moment, Stiffness};

/// What a check may be off by, as a share of the load.
const SHARE: f64 = 1e-6;
const STIFFNESS: f64 = 1e6;

/// Three legs at (0, 0), (4, 0) and (0, 3), and 8 to 12 kN at (1, 1), all in metres.
fn question() -> BandQuestion {
    let leg = |name: &str, x: f64, y: f64| RangedSupport {
        name: name.to_owned(),
        x: Length::m(x),
        y: Length::m(y),
        stiffness: (Stiffness::n_per_m(STIFFNESS), Stiffness::n_per_m(2.0 * STIFFNESS)),
        gap: (Length::mm(-1.0), Length::mm(1.0)),
    };
    BandQuestion {
        supports: vec![leg("a", 0.0, 0.0), leg("b", 4.0, 0.0), leg("c", 0.0, 3.0)],
        weights: vec![RangedWeight {
            name: "load".to_owned(),
            x: Length::m(1.0),
            y: Length::m(1.0),
            down: (Force::kn(8.0), Force::kn(12.0)),
        }],
        about_x: (Moment::ZERO, Moment::ZERO),
        about_y: (Moment::ZERO, Moment::ZERO),
    }
}

/// By moments leg b carries 1/4, leg c 1/3 and leg a the other 5/12, whatever the springs are. Each sinks by R / k, with no
/// gap; the plane through the three: z = -Ra/k, theta_y = (Rb - Ra)/4k, theta_x = -(Rc - Ra)/3k.
fn case(kn: f64) -> Case {
    let share = [5.0 / 12.0, 1.0 / 4.0, 1.0 / 3.0].map(|part| part * kn * 1e3);
    let [a, b, c] = share;
    Case {
        springs: vec![(Stiffness::n_per_m(STIFFNESS), Length::ZERO); 3],
        weights: vec![Force::kn(kn)],
        about_x: Moment::ZERO,
        about_y: Moment::ZERO,
        claim: Claim {
            reactions: share.map(Force::n).to_vec(),
            displacement: Displacement::Rigid {
                height: Length::m(-a / STIFFNESS),
                about_x: Angle::rad(-(c - a) / 3.0 / STIFFNESS),
                about_y: Angle::rad((b - a) / 4.0 / STIFFNESS),
            },
        },
    }
}

fn claim() -> Vec<Ends> {
    let ends = |part: f64| Ends {
        low: Force::kn(8.0 * part),
        high: Force::kn(12.0 * part),
        lightest: Some(case(8.0)),
        heaviest: Some(case(12.0)),
        reached: true,
    };
    vec![ends(5.0 / 12.0), ends(1.0 / 4.0), ends(1.0 / 3.0)]
}

fn refused(question: &BandQuestion, claim: &[Ends]) -> Vec<&'static str> {
    let why = check_band(question, claim, SHARE).expect_err("it is refused");
    assert!(why.iter().all(|why| !why.to_string().is_empty()));
    why.iter().map(Refusal::code).collect()
}

#[test]
fn hand_three_legs_under_8_to_12_kn() {
    let verdict = check_band(&question(), &claim(), SHARE).expect("it is sound");
    assert!(verdict.unchecked.is_empty());
}

#[test]
fn hand_a_leg_without_a_case_is_told_and_not_counted_as_checked() {
    let mut claim = claim();
    (claim[1].heaviest, claim[1].lightest) = (None, None);
    let verdict = check_band(&question(), &claim, SHARE).expect("what is there is sound");
    assert_eq!(verdict.unchecked, ["b"]);
}

#[test]
fn refuse_bands_that_are_wrong() {
    let question = question();
    let wrong = |spoil: &dyn Fn(&mut Vec<Ends>)| {
        let mut claim = claim();
        spoil(&mut claim);
        refused(&question, &claim)
    };
    // b may carry 3 kN, and is said to carry no more than 2.9.
    let too_low = wrong(&|claim| claim[1].high = Force::kn(2.9));
    assert!(too_low.contains(&"outside-its-band") && too_low.contains(&"end-not-reached"), "{too_low:?}");
    // A high end that nothing reaches is said to be reached.
    assert_eq!(wrong(&|claim| claim[1].high = Force::kn(3.2)), ["end-not-reached"]);
    // The same as a bound alone is no lie.
    let mut bound = claim();
    (bound[1].high, bound[1].reached) = (Force::kn(3.2), false);
    assert!(check_band(&question, &bound, SHARE).is_ok());
    // A case outside the ranges proves nothing.
    assert_eq!(wrong(&|claim| claim[1].heaviest = Some(case(12.5))), ["outside-its-range"]);
    let soft = |claim: &mut Vec<Ends>| {
        let case = claim[0].heaviest.as_mut().expect("a case");
        case.springs[2].0 = Stiffness::n_per_m(0.9 * STIFFNESS);
    };
    assert_eq!(wrong(&soft), ["outside-its-range"]);
    // The reactions of a case are checked as any are.
    let pulls = |claim: &mut Vec<Ends>| {
        let case = claim[0].heaviest.as_mut().expect("a case");
        case.claim.reactions[1] = Force::kn(-3.0);
    };
    assert!(wrong(&pulls).contains(&"pulls"));
    assert_eq!(wrong(&|claim| drop(claim.pop())), ["shape"]);
    assert_eq!(wrong(&|claim| claim[0].lightest.as_mut().expect("a case").weights.clear()), ["shape"]);
    assert_eq!(
        wrong(&|claim| claim[2].lightest.as_mut().expect("a case").weights[0] = Force::n(f64::NAN)),
        ["outside-its-range"]
    );
}

#[test]
fn refuse_a_band_that_grew_by_a_reading() {
    let names = ["a".to_owned(), "b".to_owned()];
    let kn = |low: f64, high: f64| (Force::kn(low), Force::kn(high));
    let before = [kn(1.0, 5.0), kn(0.0, 4.0)];
    assert!(check_cut(&names, &before, &[kn(1.0, 4.0), kn(2.0, 4.0)]).is_ok());
    let why = check_cut(&names, &before, &[kn(0.9, 5.0), kn(0.0, 4.1)]).expect_err("both grew");
    assert_eq!(why.iter().map(Refusal::code).collect::<Vec<_>>(), ["outside-its-band"; 2]);
    assert!(check_cut(&names, &before, &[kn(1.0, f64::NAN), kn(0.0, 4.0)]).is_err());
    assert!(check_cut(&names, &before, &before[..1]).is_err());
}
