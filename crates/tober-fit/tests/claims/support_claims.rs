//! Reactions from outside pass, tipping is shown by a direction, and broken claims are refused for their stated reasons.

use crate::reading::{file, files, folder, list, text};
use serde_json::Value;
use std::collections::BTreeSet;
use tober_fit::supports::{self, Claim, Displacement, Load, Question, Refusal, Spring, Tips, Tolerance};
use tober_quantity::{Angle, Force, Length, Moment, Ratio, Stiffness, maths};

fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("no number `{key}` in {value}"))
}
fn numbers(value: &Value, key: &str) -> Vec<f64> {
    list(value, key).iter().map(|n| n.as_f64().expect("a number")).collect()
}

fn question(value: &Value) -> Question {
    let load = &value["load"];
    let spring = |support: &Value| Spring {
        name: text(support, "name").to_owned(),
        x: Length::m(number(support, "x_m")),
        y: Length::m(number(support, "y_m")),
        stiffness: Stiffness::n_per_m(number(support, "k_N_per_m")),
        gap: Length::m(number(support, "gap_m")),
    };
    Question {
        supports: list(value, "supports").iter().map(spring).collect(),
        load: Load {
            weight: Force::n(number(load, "W_N")),
            x: Length::m(number(load, "x_m")),
            y: Length::m(number(load, "y_m")),
            about_x: Moment::nm(number(load, "Mx_Nm")),
            about_y: Moment::nm(number(load, "My_Nm")),
        },
    }
}

fn claim(value: &Value) -> Claim {
    let displacement = if value.get("up_m").is_some() {
        Displacement::AtSupports(numbers(value, "up_m").into_iter().map(Length::m).collect())
    } else {
        Displacement::Rigid {
            height: Length::m(number(value, "z_at_origin_m")),
            about_x: Angle::rad(number(value, "theta_x_rad")),
            about_y: Angle::rad(number(value, "theta_y_rad")),
        }
    };
    Claim { reactions: numbers(value, "reactions_N").into_iter().map(Force::n).collect(), displacement }
}

/// 1e-9 of the weight and 1e-9 m, as the source of the cases suggests for an exact method.
fn tight(question: &Question) -> Tolerance {
    Tolerance { force: question.load.weight * 1e-9, length: Length::m(1e-9) }
}

fn codes(refusals: &[Refusal]) -> BTreeSet<&'static str> {
    refusals.iter().map(Refusal::code).collect()
}

/// Invented questions answered in exact rational arithmetic; see the `source` in the file.
#[test]
fn truth_exact_reactions_pass_and_the_same_supports_are_lifted() {
    let shared = file(&folder("sound/shared_supports.json"));
    let (mut passed, mut worst) = (0, 0.0_f64);
    for case in list(&shared, "cases") {
        let Some(claimed) = case.get("claim") else { continue };
        let id = text(case, "id");
        let question = question(&case["question"]);
        let verdict = supports::check(&question, &claim(claimed), tight(&question))
            .unwrap_or_else(|refusals| panic!("{id}: {refusals:?}"));
        let lifted: Vec<&str> =
            list(case, "lifted").iter().map(|name| name.as_str().expect("a name")).collect();
        assert_eq!(verdict.lifted, lifted, "{id}");
        assert_eq!(verdict.frame, supports::Frame::Rigid, "{id}");
        worst = worst.max(verdict.force_left.abs() / question.load.weight);
        passed += 1;
    }
    assert_eq!(passed, 22);
    // The reactions were rounded to doubles, of which a sum of eight loses some 1e-15.
    assert!(worst < 1e-14, "worst force left over: {worst:e} of the weight");
}

/// Of 3,600 directions some show that the two cases tip that do, and by the distance printed with the case; none
/// shows it for a case that stands.
#[test]
fn truth_tipping_is_shown_where_the_frame_tips_and_nowhere_else() {
    let shared = file(&folder("sound/shared_supports.json"));
    let mut tipping = 0;
    for case in list(&shared, "cases") {
        let id = text(case, "id");
        let question = question(&case["question"]);
        let shown = (0..3600)
            .filter_map(|tenth| {
                let angle_rad = Angle::deg(f64::from(tenth) / 10.0).as_rad();
                let tips =
                    Tips { x: Ratio::one(maths::cos(angle_rad)), y: Ratio::one(maths::sin(angle_rad)) };
                supports::check_tips(&question, tips, tight(&question)).ok()
            })
            .map(|tipping| tipping.beyond.as_m())
            .reduce(f64::max);
        match (case.get("outside_by_m").and_then(Value::as_f64), shown) {
            // The nearest direction tried is off by up to a twentieth of a degree, 9e-4, which on a hull of about ten
            // metres costs up to 9 mm at the far end of an edge; it can never show more than the true distance.
            (Some(outside), Some(shown)) => {
                assert!(shown <= outside + 1e-8 && shown > outside - 0.009, "{id}: {outside} m, {shown} m");
                tipping += 1;
            }
            (None, None) => {}
            other => panic!("{id}: {other:?}"),
        }
    }
    assert_eq!(tipping, 2);
}

/// A weight of 40 kN in the middle of four springs of 10 MN/m: 10 kN and 1 mm each.
#[test]
fn hand_four_equal_springs() {
    let question = question(&file(&folder("broken/supports/diagonal_shift.json"))["question"]);
    let sound = Claim {
        reactions: vec![Force::kn(10.0); 4],
        displacement: Displacement::AtSupports(vec![Length::mm(-1.0); 4]),
    };
    let verdict = supports::check(&question, &sound, tight(&question)).expect("it stands");
    assert_eq!(verdict.frame, supports::Frame::NotAsked);
    assert!(verdict.lifted.is_empty());
}

/// Every force ten times as large on springs ten times as stiff: the same displacements.
#[test]
fn law_a_claim_stays_sound_when_forces_and_stiffness_grow_together() {
    let shared = file(&folder("sound/shared_supports.json"));
    for case in list(&shared, "cases") {
        let Some(claimed) = case.get("claim") else { continue };
        let (mut question, mut claim) = (question(&case["question"]), claim(claimed));
        for spring in &mut question.supports {
            spring.stiffness = spring.stiffness * 10.0;
        }
        let load = &mut question.load;
        (load.weight, load.about_x, load.about_y) =
            (load.weight * 10.0, load.about_x * 10.0, load.about_y * 10.0);
        for reaction in &mut claim.reactions {
            *reaction = *reaction * 10.0;
        }
        let verdict = supports::check(&question, &claim, tight(&question));
        assert!(verdict.is_ok(), "{}: {verdict:?}", text(case, "id"));
    }
}

/// Reactions are unique, so moving a thousandth of the weight from one support to another is always refused.
#[test]
fn law_no_other_reactions_pass_at_the_same_question() {
    let shared = file(&folder("sound/shared_supports.json"));
    let mut refused = 0;
    for case in list(&shared, "cases") {
        let Some(claimed) = case.get("claim") else { continue };
        let (question, sound) = (question(&case["question"]), claim(claimed));
        let moved = question.load.weight * 1e-3;
        for from in 0..sound.reactions.len() {
            let to = (from + 1) % sound.reactions.len();
            let mut other = sound.clone();
            other.reactions[from] = other.reactions[from] - moved;
            other.reactions[to] = other.reactions[to] + moved;
            let verdict = supports::check(&question, &other, tight(&question));
            assert!(verdict.is_err(), "{}: {verdict:?}", text(case, "id"));
            refused += 1;
        }
    }
    assert!(refused > 80, "only {refused} tried");
}

#[test]
fn refuse_numbers_that_are_not_numbers() {
    let shared = file(&folder("sound/shared_supports.json"));
    let case = &list(&shared, "cases")[0];
    let (sound, sound_claim) = (question(&case["question"]), claim(&case["claim"]));
    let tolerance = tight(&sound);
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300, -1e300] {
        let mut questions = vec![sound.clone(); 5];
        questions[0].supports[1].x = Length::m(bad);
        questions[1].supports[1].stiffness = Stiffness::n_per_m(bad);
        questions[2].supports[1].gap = Length::m(bad);
        questions[3].load.weight = Force::n(bad);
        questions[4].load.about_x = Moment::nm(bad);
        for question in &questions {
            let refusals = supports::check(question, &sound_claim, tolerance).expect_err("it passed");
            assert!(codes(&refusals).contains("absurd"), "{bad}: {refusals:?}");
            let tips = Tips { x: Ratio::one(1.0), y: Ratio::one(0.0) };
            let refusals = supports::check_tips(question, tips, tolerance).expect_err("it passed");
            assert!(codes(&refusals).contains("absurd"), "{bad}: {refusals:?}");
        }
        let mut claims = vec![sound_claim.clone(); 2];
        claims[0].reactions[0] = Force::n(bad);
        claims[1].displacement = Displacement::AtSupports(vec![Length::m(bad); sound.supports.len()]);
        for claim in &claims {
            let refusals = supports::check(&sound, claim, tolerance).expect_err("it passed");
            assert_eq!(codes(&refusals), BTreeSet::from(["absurd"]), "{bad}: {refusals:?}");
        }
        for wide in [
            Tolerance { force: Force::n(bad), ..tolerance },
            Tolerance { length: Length::m(bad), ..tolerance },
        ] {
            let refusals = supports::check(&sound, &sound_claim, wide).expect_err("it passed");
            assert_eq!(codes(&refusals), BTreeSet::from(["tolerance-too-wide"]), "{bad}: {refusals:?}");
        }
        let tips = Tips { x: Ratio::one(bad), y: Ratio::one(0.0) };
        let refusals = supports::check_tips(&sound, tips, tolerance).expect_err("it passed");
        assert_eq!(codes(&refusals), BTreeSet::from(["no-direction"]), "{bad}: {refusals:?}");
    }
}

#[test]
fn refuse_more_supports_than_are_checked() {
    let shared = file(&folder("sound/shared_supports.json"));
    let case = &list(&shared, "cases")[0];
    let mut question = question(&case["question"]);
    question.supports = vec![question.supports[0].clone(); 65];
    let refusals =
        supports::check(&question, &claim(&case["claim"]), tight(&question)).expect_err("it passed");
    assert!(codes(&refusals).contains("too-many-supports"), "{refusals:?}");
}

#[test]
fn refuse_every_broken_claim_for_its_stated_reason_and_no_other() {
    let broken = files("broken/supports");
    assert!(broken.len() >= 20, "only {} broken claims", broken.len());
    let mut seen = BTreeSet::new();
    for (path, case) in broken {
        assert!(text(&case, "why").ends_with('.'), "{path}: say why, in a sentence");
        let stated: BTreeSet<&str> =
            list(&case, "refused_for").iter().map(|code| code.as_str().expect("a code")).collect();
        let question = question(&case["question"]);
        let tolerance = Tolerance {
            force: Force::n(number(&case["tolerance"], "force_N")),
            length: Length::m(number(&case["tolerance"], "length_m")),
        };
        let refusals = if let Some(tips) = case.get("tips") {
            let tips = Tips { x: Ratio::one(number(tips, "x")), y: Ratio::one(number(tips, "y")) };
            supports::check_tips(&question, tips, tolerance).err()
        } else {
            supports::check(&question, &claim(&case["claim"]), tolerance).err()
        };
        let refusals = refusals.unwrap_or_else(|| panic!("{path} passed"));
        assert_eq!(codes(&refusals), stated, "{path}: {refusals:?}");
        for refusal in &refusals {
            let sentence = refusal.to_string();
            assert!(sentence.ends_with('.') && sentence.len() > 20, "{path}: {sentence}");
        }
        seen.extend(codes(&refusals));
    }
    // All reasons of `Refusal::code` but too many supports, which would be a long file and has a test of its own.
    assert_eq!(seen.len(), 11, "{seen:?}");
}
