//! Getting riders off both rides of the demo.

use crate::books::plover_hard;
use crate::wheel::kestrel_yard;
use tober_book::{Source, parse_ride, parse_visit};
use tober_calc::finding::{Finding, Standing};
use tober_plan::{RidersOff, riders_off};

/// Moments are told in whole newton metres, rounded up.
const WHOLE_N_M: f64 = 1.0;
/// Standard gravity, m/s², 3rd CGPM (1901).
const GRAVITY: f64 = 9.80665;

fn found(ride: &str, visit: &str) -> RidersOff {
    let ride = parse_ride(&Source::new("ride.toml", ride)).into_result().expect("it reads");
    let visit = parse_visit(&Source::new("visit.toml", visit)).into_result().expect("it reads");
    riders_off(&ride, &visit).expect("it has seats")
}

fn standing(findings: &[Finding]) -> Vec<Standing> {
    findings.iter().map(|finding| finding.standing).collect()
}

/// One car of the wheel is 2 · 100 kg 3.5 m out: 6865 N m, and the order found never leaves more. Car by car round from the platform it
/// comes to four neighbours, 17.9 kN m, and is past what the gear holds; the order found is inside with any one car jammed.
#[test]
fn hand_on_the_wheel_car_by_car_fails_and_the_order_found_does_not() {
    let texts = kestrel_yard();
    let riders = found(&texts.ride, &texts.visit);
    assert!(
        riders.findings.iter().all(|finding| finding.standing == Standing::Inside),
        "{:#?}",
        riders.findings
    );
    let gear = &riders.ways[0];
    assert!((gear.answer.greatest.as_nm() - 200.0 * 3.5 * GRAVITY).abs() <= WHOLE_N_M);
    assert!(gear.answer.proved() && gear.answer.left.is_empty());
    assert_eq!(gear.answer.turns, 7);
    assert_eq!(standing(&gear.naive_findings), [Standing::Close, Standing::PastLimit]);
    let (naive, past) = gear.naive.as_ref().expect("it can be followed");
    assert_eq!(naive.order.iter().map(|off| off.seat).collect::<Vec<_>>(), [0, 1, 2, 3, 4, 5, 6, 7]);
    assert_eq!(past.as_ref().map(|off| off.seat), Some(1));
    // The ladder reaches what hangs below 3 m, hub 5 m, 3.5 cos a: the lowest car and its two neighbours, of which the lowest
    // must stay for the sake of what holds the wheel.
    let ladder = &riders.ways[1];
    assert_eq!(ladder.answer.order.len(), 2);
    assert_eq!(ladder.answer.left.len(), 6);
}

/// Two grown riders of the lantern ride, 220 kg 4.9 m out, are 10.6 kN m and the maker allows 9: a car is not emptied at once, one
/// rider is 5.3 kN m. With a car jammed somebody opposite stays until it is free.
#[test]
fn hand_on_the_lanterns_riders_leave_one_by_one() {
    let texts = plover_hard();
    let riders = found(&texts.ride, &texts.visit);
    assert!(
        riders.findings.iter().all(|finding| finding.standing <= Standing::Close),
        "{:#?}",
        riders.findings
    );
    let steps = &riders.ways[0];
    assert!(steps.one_by_one && steps.answer.left.is_empty());
    assert!((steps.answer.greatest.as_nm() - 110.0 * 4.9 * GRAVITY).abs() <= WHOLE_N_M);
    assert_eq!(standing(&steps.naive_findings)[0], Standing::PastLimit);
    for jammed in &steps.jammed {
        assert!(jammed.left.len() > 1, "somebody stays for the jammed car");
        assert!(jammed.greatest.as_knm() <= 9.0);
    }
}

/// No line of `[stopped]`, and none of the limits, makes anything better by not being there.
#[test]
fn law_a_line_left_out_is_never_better() {
    for texts in [plover_hard(), kestrel_yard()] {
        let whole = found(&texts.ride, &texts.visit);
        let worst = standing(&whole.findings).into_iter().max();
        let lines: Vec<&str> = texts.ride.lines().collect();
        let mut tried = 0;
        for (number, line) in lines.iter().enumerate() {
            let keys = [
                "turning-by-hand",
                "holds",
                "turned",
                "angle =",
                "reaches",
                "out-of-balance-greatest",
                "level-along",
            ];
            let within = line.starts_with("within = ") || line.starts_with("lean");
            if !within && !keys.iter().any(|key| line.starts_with(key)) {
                continue;
            }
            let less: Vec<&str> =
                lines.iter().enumerate().filter(|(i, _)| *i != number).map(|(_, line)| *line).collect();
            let Some(ride) = parse_ride(&Source::new("ride.toml", &less.join("\n"))).value else { continue };
            let visit =
                parse_visit(&Source::new("visit.toml", &texts.visit)).into_result().expect("it reads");
            let less = riders_off(&ride, &visit).map(|riders| standing(&riders.findings).into_iter().max());
            assert!(less.is_some_and(|less| less >= worst), "without line {}: {line}: {less:?}", number + 1);
            tried += 1;
        }
        assert!(tried > 8, "{tried}");
    }
}

#[test]
fn law_no_way_and_no_limit_are_not_known() {
    let texts = kestrel_yard();
    let (before, _) = texts.ride.split_once("[stopped]").expect("it is told");
    assert_eq!(standing(&found(before, &texts.visit).findings), [Standing::NotKnown]);
    let no_holds = texts.ride.replace("holds = \"12 kN m\"\n", "");
    assert!(standing(&found(&no_holds, &texts.visit).findings).contains(&Standing::NotKnown));
}
