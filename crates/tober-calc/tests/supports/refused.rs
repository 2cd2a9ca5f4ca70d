//! Bad input: never a panic, always a sentence with what would be right.

use crate::{Chance, load, support};
use tober_calc::supports::{SupportsError, solve};

fn refusal(x: f64, k: f64, gap: f64, down: f64) -> String {
    let supports = [support(x, 0.0, k, gap), support(5.0, 0.0, 1e7, 0.0), support(2.0, 2.0, 1e7, 0.0)];
    solve(&supports, &load(down, 2.0, 0.5, 0.0, 0.0)).expect_err("it is refused").to_string()
}

#[test]
fn refuse_numbers_that_are_none_and_numbers_no_support_has() {
    assert_eq!(
        refusal(0.0, 0.0, 0.0, 1e5),
        "Support 1: the stiffness is 0 kN/mm; it must be from 0.001 kN/mm to 1000000 kN/mm."
    );
    assert!(refusal(0.0, -1e7, 0.0, 1e5).starts_with("Support 1: the stiffness is -10 kN/mm;"));
    assert!(refusal(0.0, f64::NAN, 0.0, 1e5).starts_with("Support 1: the stiffness is NaN kN/mm;"));
    assert!(
        refusal(f64::INFINITY, 1e7, 0.0, 1e5).starts_with("Support 1: the place along the frame is inf m;")
    );
    assert!(
        refusal(0.0, 1e7, 40.0, 1e5).contains("the gap is 40000 mm; it must be from -10000 mm to 10000 mm.")
    );
    assert!(refusal(0.0, 1e7, 0.0, 1e12).contains("the weight is 1000000000 kN;"));
}

#[test]
fn refuse_a_load_that_does_not_press_down() {
    for down in [0.0, -0.0, -5e4] {
        assert!(refusal(0.0, 1e7, 0.0, down).contains("a frame stands only when it is pressed down"));
    }
    assert!(refusal(0.0, 1e7, 0.0, f64::NAN).contains("the weight is NaN kN;"));
}

#[test]
fn refuse_no_supports_and_too_many() {
    let at = load(1e5, 0.0, 0.0, 0.0, 0.0);
    assert_eq!(solve(&[], &at), Err(SupportsError::NoSupports));
    let many = vec![support(0.0, 0.0, 1e7, 0.0); 65];
    assert_eq!(solve(&many, &at), Err(SupportsError::TooManySupports { given: 65, most: 64 }));
}

#[test]
fn refuse_or_answer_whatever_comes_and_never_panic() {
    let odd = [
        0.0,
        -0.0,
        1.0,
        -1.0,
        1e-300,
        -1e-12,
        1e-3,
        3.0,
        1e3,
        1e7,
        1e12,
        1e300,
        -1e300,
        f64::MAX,
        f64::MIN_POSITIVE,
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
    ];
    let mut chance = Chance::new(41);
    let (mut answered, mut refused) = (0, 0);
    for trial in 0..40_000 {
        let n = chance.below(7);
        // Half of the trials use only numbers that the door lets in, so that the search is met too.
        let strange = trial % 2 == 0;
        let mut pick = |tame: &[f64]| {
            if strange && chance.below(4) == 0 {
                odd[chance.below(odd.len())]
            } else {
                tame[chance.below(tame.len())]
            }
        };
        let supports: Vec<_> = (0..n)
            .map(|_| {
                let x = pick(&[0.0, 1.0, 2.0, 4.0, 1e-9, 1e3]);
                support(
                    x,
                    pick(&[0.0, 1.0, 2.0, 1e-13]),
                    pick(&[1e3, 1e7, 2e7, 1e12]),
                    pick(&[0.0, 1e-3, -1e-3, 10.0]),
                )
            })
            .collect();
        let at =
            load(pick(&[1e-3, 1e5, 1e9]), pick(&[0.0, 1.0, 1.5]), pick(&[0.0, 0.5]), pick(&[0.0, 1e4]), 0.0);
        match solve(&supports, &at) {
            Ok(_) => answered += 1,
            Err(error) => {
                refused += 1;
                assert!(error.to_string().ends_with('.'));
            }
        }
    }
    assert!(answered > 5000 && refused > 5000, "{answered} answered, {refused} refused");
}
