//! Bad input: whole visits, spoiled in thousands of seeded ways. Never a panic; always a sentence with its place.

#![expect(clippy::print_stdout, reason = "a test prints what it measured")]

#[path = "../demo/books.rs"]
mod books;
#[path = "../../../tober-book/tests/spoil/mod.rs"]
mod spoil;

use books::{Texts, planned, plover_hard, quern_meadow};
use spoil::{Chance, number_replaced, spoiled};

#[test]
fn refuse_visits_of_spoiled_numbers_or_plan_them_and_never_a_panic() {
    let mut planned_at_all = 0;
    for seed in 0..1500_u64 {
        let mut chance = Chance(seed ^ 0xBEE5);
        let mut texts: Texts = if seed % 2 == 0 { plover_hard() } else { quern_meadow() };
        for _ in 0..=chance.below(2) {
            // Only numbers: a file with a broken bracket is refused before it gets this far.
            let with = chance.pick(&["0", "1", "2", "7", "30", "250", "999", "0.001", "-3", "100000"]);
            let file = [&mut texts.ride, &mut texts.kit, &mut texts.pitch, &mut texts.visit];
            let [ride, kit, pitch, visit] = file;
            let text = match chance.below(8) {
                0..4 => ride,
                4 | 5 => kit,
                6 => pitch,
                _ => visit,
            };
            *text = number_replaced(text, with, &mut chance);
        }
        if let Ok(plan) = planned(&texts) {
            planned_at_all += 1;
            assert!(!plan.findings.is_empty(), "seed {seed}");
            for finding in &plan.findings {
                let sentences = finding.unknown.iter().chain(&finding.advice).chain(&finding.notes);
                for sentence in sentences {
                    assert!(sentence.trim_end().ends_with(['.', '`', '"', ']']), "seed {seed}: {sentence}");
                }
            }
        }
    }
    println!("{planned_at_all} of 1500 spoiled visits could be planned");
    assert!(planned_at_all > 300);
}

#[test]
fn refuse_visits_of_spoiled_files_or_plan_them_and_never_a_panic() {
    let (mut planned_at_all, mut refused) = (0, 0);
    for seed in 0..1500_u64 {
        let mut chance = Chance(seed ^ 0xF11E5);
        let mut texts: Texts = if seed % 2 == 0 { plover_hard() } else { quern_meadow() };
        let file = match chance.below(6) {
            0 | 1 => &mut texts.ride,
            2 => &mut texts.kit,
            3 => &mut texts.pitch,
            4 => &mut texts.visit,
            _ => texts.rows.as_mut().unwrap_or(&mut texts.pitch),
        };
        *file = spoiled(file, &mut chance);
        match planned(&texts) {
            Ok(plan) => {
                planned_at_all += 1;
                assert!(!plan.findings.is_empty(), "seed {seed}");
            }
            Err(complaint) => {
                refused += 1;
                assert!(complaint.contains(": error: "), "seed {seed}: {complaint}");
            }
        }
    }
    println!("of 1500 spoiled visits {planned_at_all} were planned, {refused} refused");
    assert!(planned_at_all > 100 && refused > 500, "{planned_at_all} planned, {refused} refused");
}
