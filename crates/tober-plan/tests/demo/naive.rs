//! The first answer a person would try: every leg at its shortest, and boards to make up the difference.

use crate::books::{planned, plover_hard, quern_meadow};
use tober_calc::finding::Standing;
use tober_quantity::Length;

/// A board of the demo's kit: thickness in millimetres and how many there are.
const BOARDS: [(f64, usize); 4] = [(73.0, 9), (48.0, 7), (38.0, 3), (24.0, 6)];
const STACK_MOST_MM: f64 = 200.0;
const PLANARITY_MM: f64 = 3.0;

/// Every leg at hole 1. The corner on the highest ground stands on the thinnest board; every other corner is
/// brought up to it, thickest board first, each time the board that still fits, as one does by eye. What is
/// wrong with it at the end, if anything.
fn first_try(ground_mm: &[f64]) -> Vec<String> {
    let highest = ground_mm.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let mut left = BOARDS;
    let mut wrong = Vec::new();
    for (leg, ground) in ground_mm.iter().enumerate() {
        let wanted = highest - ground + 24.0;
        let mut stack = 0.0;
        for (thickness, count) in &mut left {
            while *count > 0 && stack + *thickness <= wanted + PLANARITY_MM {
                stack += *thickness;
                *count -= 1;
            }
        }
        if stack == 0.0 {
            wrong.push(format!("leg {leg} stands on bare ground"));
        }
        if stack > STACK_MOST_MM {
            wrong.push(format!("the stack of leg {leg} is {stack} mm, past {STACK_MOST_MM}"));
        }
        if (stack - wanted).abs() > PLANARITY_MM {
            wrong.push(format!("leg {leg} is {:.0} mm out of the plane", stack - wanted));
        }
    }
    wrong
}

#[test]
fn hand_on_the_hard_pitch_the_first_try_fails_where_the_plan_holds() {
    let plan = planned(&quern_meadow()).expect("the demo is sound");
    let ground: Vec<f64> = plan.legs.iter().filter_map(|leg| leg.ground).map(Length::as_mm).collect();
    assert_eq!(ground.len(), 6, "the ground is known under all six feet");
    let wrong = first_try(&ground);
    assert!(!wrong.is_empty(), "the first try must fail on the hard pitch");
    for code in
        ["packing.lift", "packing.stack", "packing.plane", "packing.level-along", "packing.level-across"]
    {
        let found: Vec<_> = plan.findings.iter().filter(|f| f.code == code).collect();
        assert!(!found.is_empty(), "{code} is there");
        for finding in found {
            assert!(
                matches!(finding.standing, Standing::Inside | Standing::Close),
                "{code} of {} holds: {}",
                finding.subject,
                finding.standing
            );
        }
    }
    println!("the first try: {}", wrong.join("; "));
}

#[test]
fn hand_the_easy_pitch_is_planned_whole() {
    let plan = planned(&plover_hard()).expect("the demo is sound");
    assert_eq!(plan.legs.len(), 6);
    assert!(plan.legs.iter().all(|leg| leg.load.is_some() && !leg.layers.is_empty()));
    // Common practice, no source: a board under every foot, whatever the ground.
    assert!(plan.findings.iter().any(|f| f.code == "packing.fit" && f.standing == Standing::Inside));
}
