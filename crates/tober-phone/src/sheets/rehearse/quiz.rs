//! Questions: which part somebody has, then one after the other, and what to learn.
//!
//! The place says it all: `quiz-hand.7.2-4` are the questions of a hand by the seed 7, of which the first was answered by
//! its second choice and the second by its fourth; a line at the end (`2-4-`) asks the next.

use super::named;
use crate::html::{capital, escape, marked};
use std::fmt::Write;
use tober_book::Role;
use tober_draw::Mark;
use tober_plan::rehearse::{Asked, Rehearsal, quiz};
use tober_quantity::WordSet;

/// How many are asked.
const QUESTIONS: usize = 12;
/// Who may be asked, as the sheet lists them.
const ROLES: [Role; 4] = [Role::Chief, Role::Hand, Role::Operator, Role::Attendant];

fn head(title: &str, aside: &str) -> String {
    format!(
        "<div class=\"head\"><h2 id=\"h-lesson\" tabindex=\"-1\">{}</h2><p class=\"headr\">{aside}</p></div>",
        escape(title)
    )
}

/// The sheet at a place after "quiz"; `None` where there is no such place.
pub(super) fn sheet(all: &Rehearsal, asked: &str, seed: u64, words: WordSet) -> Option<String> {
    let Some(asked) = asked.strip_prefix('-') else {
        return asked.is_empty().then(|| begin(seed, words));
    };
    let mut parts = asked.split('.');
    let (word, seed, answers) = (parts.next()?, parts.next()?, parts.next()?);
    let role = *ROLES.iter().find(|role| role.word() == word)?;
    let questions = quiz(all, role, QUESTIONS, seed.parse().ok()?);
    let here = format!("quiz-{word}.{seed}");
    let mut given = Vec::new();
    for text in answers.split('-').filter(|text| !text.is_empty()) {
        let question: &Asked = questions.get(given.len())?;
        let choice: usize = text.parse().ok()?;
        given.push(choice.checked_sub(1).filter(|choice| *choice < question.choices.len())?);
    }
    let right = given.iter().zip(&questions).filter(|(choice, asked)| **choice == asked.right).count();
    let told = if given.is_empty() || answers.ends_with('-') { None } else { given.last() };
    Some(match told {
        Some(&choice) => answered(&questions, given.len() - 1, choice, right, &format!("{here}.{answers}")),
        None if given.len() < questions.len() => {
            ask(&questions, given.len(), right, &format!("{here}.{answers}"))
        }
        None => end(&questions, &given, right, named(role, words)),
    })
}

fn begin(seed: u64, words: WordSet) -> String {
    let mut out = head("Questions", "");
    let _ = write!(
        out,
        "<p><b>Rehearsal.</b> Nothing here is recorded. {QUESTIONS} questions from the book, in no order; then what to learn.</p><h3>What is your part?</h3>"
    );
    for role in ROLES {
        let _ = write!(
            out,
            "<a class=\"btn plainb\" href=\"#quiz-{0}.{seed}.\">{1}</a>",
            role.word(),
            escape(&capital(named(role, words)))
        );
    }
    out.push_str("<p class=\"to\"><a href=\"#rehearse\">All steps</a></p>");
    out
}

fn score(right: usize, of: usize) -> String {
    if of == 0 { String::new() } else { format!("{right} of {of}<span>right</span>") }
}

fn ask(questions: &[Asked], at: usize, right: usize, here: &str) -> String {
    let asked = &questions[at];
    let mut out = head(&format!("Question {} of {}", at + 1, questions.len()), &score(right, at));
    let _ = write!(out, "<p class=\"call coach\">{}</p>", escape(&asked.question));
    for (place, choice) in asked.choices.iter().enumerate() {
        let _ = write!(
            out,
            "<a class=\"btn plainb choice\" href=\"#{here}{}\">{}</a>",
            place + 1,
            escape(&capital(choice))
        );
    }
    out
}

fn answered(questions: &[Asked], at: usize, choice: usize, right: usize, here: &str) -> String {
    let asked = &questions[at];
    let good = choice == asked.right;
    let mut out = head(&format!("Question {} of {}", at + 1, questions.len()), &score(right, at + 1));
    let _ = write!(out, "<p class=\"call coach\">{}</p><ul class=\"choices\">", escape(&asked.question));
    for (place, text) in asked.choices.iter().enumerate() {
        let mark = match (place == asked.right, place == choice) {
            (true, true) => marked(Mark::Done, "Right:"),
            (true, false) => marked(Mark::Done, "It is:"),
            (false, true) => marked(Mark::PastLimit, "No:"),
            (false, false) => String::new(),
        };
        let _ = write!(out, "<li>{mark} {}</li>", escape(&capital(text)));
    }
    let _ = write!(out, "</ul><p>{}</p>", escape(&asked.because));
    if !good {
        let _ = write!(
            out,
            "<p class=\"to\"><a href=\"{}\">To learn: {}</a></p>",
            link(asked),
            escape(&asked.learn)
        );
    }
    let on = if at + 1 < questions.len() { "Next question" } else { "How it went" };
    let _ = write!(out, "<a class=\"btn plainb\" href=\"#{here}-\">{on}</a>");
    out
}

fn end(questions: &[Asked], given: &[usize], right: usize, word: &str) -> String {
    let mut out = head(&format!("{right} of {} right", questions.len()), &escape(&capital(word)));
    if questions.is_empty() {
        out.push_str("<p>The book has nothing to ask about for this part.</p>");
    }
    let mut learn: Vec<&Asked> = Vec::new();
    for (asked, choice) in questions.iter().zip(given) {
        if *choice != asked.right && !learn.iter().any(|other| other.learn == asked.learn) {
            learn.push(asked);
        }
    }
    if !learn.is_empty() {
        out.push_str("<h3>To learn</h3><ul class=\"list\">");
        for asked in learn {
            let _ = write!(
                out,
                "<li><a href=\"{}\"><b>{}</b></a></li>",
                link(asked),
                escape(&capital(&asked.learn))
            );
        }
        out.push_str("</ul>");
    }
    out.push_str("<a class=\"btn plainb\" href=\"#quiz\">Other questions</a><p class=\"to\"><a href=\"#rehearse\">All steps</a></p>");
    out
}

/// Where what is to be learnt stands.
fn link(asked: &Asked) -> String {
    let number = asked.learn.strip_prefix("step ").and_then(|rest| rest.split(',').next());
    match number {
        Some(number) => format!("#step-{number}"),
        None if asked.learn.starts_with("check") => "#checks".to_owned(),
        None => "#riders".to_owned(),
    }
}
