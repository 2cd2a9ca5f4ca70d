//! Every printed line of working is read back from its characters and worked out again.

use crate::books::{planned, plover_hard, quern_meadow};
use crate::wheel::{kestrel_yard, sallow_green};
use tober_fit::working::check_line;
use tober_quantity::UnitSet;

/// Lines whose numbers cancel so far that six digits no longer decide them. They agree as well, but a
/// wrong digit might hide in them, so there may be only a few.
const LOOSE: f64 = 1e-3;

#[test]
fn law_every_printed_line_of_the_demo_adds_up_in_every_set_of_units() {
    let (mut checked, mut loose) = (0, 0);
    for texts in [plover_hard(), quern_meadow(), kestrel_yard(), sallow_green()] {
        let plan = planned(&texts).expect("the demo is sound");
        for units in UnitSet::ALL {
            for finding in &plan.findings {
                for line in finding.working.print(units) {
                    if line.numbers.is_empty() {
                        continue;
                    }
                    match check_line(&line.numbers, &line.result) {
                        Err(why) => {
                            panic!("{} of {}: {}: {why}", finding.code, finding.subject, line.symbols)
                        }
                        Ok(agreement) if agreement.looseness > LOOSE => loose += 1,
                        Ok(_) => {}
                    }
                    checked += 1;
                }
            }
        }
    }
    println!("{checked} lines checked, {loose} of them loose");
    assert!(checked > 300, "only {checked} lines were there to check");
    assert!(loose * 5 < checked, "{loose} of {checked} lines cancel too far to be checked");
}

#[test]
fn refuse_a_line_with_one_digit_changed() {
    let plan = planned(&quern_meadow()).expect("the demo is sound");
    let (mut tried, mut caught) = (0, 0);
    for finding in &plan.findings {
        for line in finding.working.print(UnitSet::Metric).iter().filter(|l| !l.numbers.is_empty()) {
            let Some(at) = line.result.find(|c: char| c.is_ascii_digit() && c != '0') else { continue };
            let digit = line.result.as_bytes()[at];
            let other = if digit == b'9' { b'8' } else { digit + 1 };
            let mut wrong = line.result.clone().into_bytes();
            wrong[at] = other;
            let wrong = String::from_utf8(wrong).expect("a digit for a digit");
            tried += 1;
            caught += usize::from(check_line(&line.numbers, &wrong).is_err());
        }
    }
    assert!(tried > 50, "only {tried} lines were there to spoil");
    assert!(caught * 100 >= tried * 95, "of {tried} spoiled lines only {caught} were caught");
}
