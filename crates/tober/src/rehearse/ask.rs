//! Questions in the terminal: answers are numbers, one a line, typed or piped.

use super::line;
use crate::Ended;
use crate::files;
use std::io::BufRead;
use tober_plan::rehearse::{Asked, Rehearsal};

/// Asks, keeps score and says what to learn.
pub fn ask(all: &Rehearsal, asked: &[Asked], lines: &mut dyn BufRead) -> Ended {
    if asked.is_empty() {
        files::print("The book has nothing to ask about for this part.\n");
        return Ended::NotKnown;
    }
    files::print(&format!(
        "{}: {} questions. A number answers; an empty line passes.\n",
        all.ride,
        asked.len()
    ));
    let (mut right, mut told) = (0, 0);
    let mut learn: Vec<&str> = Vec::new();
    for (number, one) in asked.iter().enumerate() {
        files::print(&format!("\n{}. {}\n", number + 1, one.question));
        for (at, choice) in one.choices.iter().enumerate() {
            files::print(&format!("   {}  {choice}\n", at + 1));
        }
        files::print("> ");
        let Some(given) = answer(one, lines) else { break };
        told += 1;
        if given == Some(one.right) {
            right += 1;
            files::print("■ Right.\n");
        } else {
            let word = if given.is_some() { "▲ No." } else { "? Passed." };
            files::print(&format!(
                "{word} {}  {}\n   {}\n",
                one.right + 1,
                one.choices[one.right],
                one.because
            ));
            if !learn.contains(&one.learn.as_str()) {
                learn.push(&one.learn);
            }
        }
    }
    files::print(&format!("\n{right} of {told} right"));
    if told < asked.len() {
        files::print(&format!(", {} not answered", asked.len() - told));
    }
    files::print(".\n");
    if !learn.is_empty() {
        files::print("To learn:\n");
        for what in &learn {
            files::print(&format!("   {what}\n"));
        }
    }
    if told == asked.len() && right == told { Ended::Inside } else { Ended::NotKnown }
}

/// The choice given, `Some(None)` where it is passed, none where the answers have ended. What is no choice is asked again.
fn answer(one: &Asked, lines: &mut dyn BufRead) -> Option<Option<usize>> {
    loop {
        let text = line(lines)?;
        if text.is_empty() {
            return Some(None);
        }
        match text.parse::<usize>() {
            Ok(number) if (1..=one.choices.len()).contains(&number) => return Some(Some(number - 1)),
            _ => files::print(&format!(
                "{text:?} is no answer; a number from 1 to {} is wanted.\n> ",
                one.choices.len()
            )),
        }
    }
}
