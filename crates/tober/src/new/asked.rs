//! Questions, and what is done with their answers.

use super::{Begun, Beside};
use crate::check::diagnostics;
use std::collections::BTreeMap;
use std::io::{BufRead, Write};
use tober_book::Source;

/// How often one question is put before the asking ends.
const MOST_TRIES: usize = 20;

/// One question.
pub struct Question {
    /// The flag that answers it, and its name among the answers.
    pub flag: &'static str,
    /// The question, as a sentence.
    pub asks: &'static str,
    /// What an answer is: `a length with its unit`.
    pub unit: &'static str,
    /// An answer that is good.
    pub example: &'static str,
    /// What happens if it is left empty.
    pub empty: Empty,
    /// Whether it is asked again for the next one, until it is left empty.
    pub many: bool,
    /// Whether somebody is asked; otherwise there is the flag alone.
    pub asked: bool,
    /// Whether it is asked after these answers.
    pub when: fn(&Answers) -> bool,
}

/// What happens if a question is left empty.
pub enum Empty {
    /// The book cannot be written; why.
    Needed(&'static str),
    /// What the book then says.
    Left(&'static str),
}

impl Question {
    /// A question that must be answered.
    pub const fn needed(
        flag: &'static str,
        asks: &'static str,
        (unit, example): (&'static str, &'static str),
        why: &'static str,
    ) -> Self {
        Self { flag, asks, unit, example, empty: Empty::Needed(why), many: false, asked: true, when: always }
    }
    /// A question that may be left empty.
    pub const fn left(
        flag: &'static str,
        asks: &'static str,
        (unit, example): (&'static str, &'static str),
        then: &'static str,
    ) -> Self {
        Self { flag, asks, unit, example, empty: Empty::Left(then), many: false, asked: true, when: always }
    }
    /// The same, asked only after such answers.
    #[must_use]
    pub const fn when(self, when: fn(&Answers) -> bool) -> Self {
        Self { when, ..self }
    }
    /// The same, asked again for the next one.
    #[must_use]
    pub const fn many(self) -> Self {
        Self { many: true, ..self }
    }
    /// The sentence for invented data; there is the flag alone.
    pub const INVENTED: Self = Self {
        asked: false,
        ..Self::left(
            "invented",
            "Is the data invented?",
            ("the sentence that says so", "Invented: this ride does not exist."),
            "Nothing is said; it is a real ride.",
        )
    };
    fn is_needed(&self) -> bool {
        matches!(self.empty, Empty::Needed(_))
    }
    /// What is printed before an answer, and as the help of the flag.
    pub fn help(&self) -> String {
        let (Empty::Needed(then) | Empty::Left(then)) = self.empty;
        let needed = if self.is_needed() { "Needed" } else { "Left empty" };
        format!("{}, such as: {}\n{needed}: {then}", sentence_case(self.unit), self.example)
    }
}

fn always(_: &Answers) -> bool {
    true
}

fn sentence_case(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// The answers, by the flag of their question.
#[derive(Clone, Default)]
pub struct Answers(BTreeMap<&'static str, Vec<String>>);

impl Answers {
    /// The answer to a question; nothing if it was left empty.
    pub fn one(&self, flag: &str) -> Option<&str> {
        self.0.get(flag)?.first().map(String::as_str)
    }
    /// All answers to a question that is asked again.
    pub fn all(&self, flag: &str) -> &[String] {
        self.0.get(flag).map_or(&[], Vec::as_slice)
    }
    /// The answer to a question that must be answered; its example where it is being tried.
    pub fn needed(&self, flag: &str) -> &str {
        self.one(flag).unwrap_or("")
    }
    /// Puts answers to a question.
    pub fn put(&mut self, flag: &'static str, answers: Vec<String>) {
        self.0.insert(flag, answers);
    }
    fn push(&mut self, flag: &'static str, answer: String) {
        self.0.entry(flag).or_default().push(answer);
    }
    fn has(&self, flag: &str) -> bool {
        self.0.contains_key(flag)
    }
}

/// An answer that cannot be put into the book.
#[derive(Debug)]
pub struct Given {
    flag: &'static str,
    said: String,
}

impl Given {
    /// What is wrong with the answer to a question, and what would be right.
    pub fn new(flag: &'static str, said: impl Into<String>) -> Self {
        Self { flag, said: said.into() }
    }
    /// As a sentence of the command.
    pub fn sentence(&self) -> String {
        format!("--{}: {}", self.flag, self.said)
    }
}

/// What is wrong with one answer: it is put into the book in the place of its example, with what else has been
/// answered, and the book is read.
fn wrong_with(
    begun: &Begun,
    beside: &Beside,
    others: &Answers,
    question: &Question,
    answer: &str,
) -> Option<String> {
    let mut trial = Answers::default();
    for other in begun.questions.iter().filter(|other| other.is_needed()) {
        trial.put(other.flag, vec![other.example.to_owned()]);
    }
    for (flag, answers) in &others.0 {
        trial.put(flag, answers.clone());
    }
    if question.many {
        trial.push(question.flag, answer.to_owned());
    } else {
        trial.put(question.flag, vec![answer.to_owned()]);
    }
    match (begun.write)(&trial, beside) {
        Err(given) if given.flag == question.flag => Some(given.said),
        // Another answer is wrong; that is told there.
        Err(_) => None,
        Ok(text) => {
            let found = diagnostics(begun.file, &Source::new(begun.file.file_name(), &text));
            found.first().map(|said| format!("{} {}", said.message, said.help).trim().to_owned())
        }
    }
}

/// Everything that is wrong with the answers given as flags, a sentence each.
pub fn said_wrong(begun: &Begun, beside: &Beside, answers: &Answers) -> Vec<String> {
    let mut said = Vec::new();
    // Answers that were tried and are good go with those still to be tried.
    let mut good = Answers::default();
    for question in begun.questions {
        for answer in answers.all(question.flag) {
            if !(question.when)(&good) {
                said.push(format!("--{}: this does not belong to the other answers.", question.flag));
            } else if let Some(wrong) = wrong_with(begun, beside, &good, question, answer) {
                said.push(Given::new(question.flag, wrong).sentence());
            } else {
                good.push(question.flag, answer.clone());
            }
        }
    }
    said
}

/// The flags that are needed and not given, all at once.
pub fn missing(begun: &Begun, answers: &Answers) -> Vec<String> {
    let wanted: Vec<&Question> = begun
        .questions
        .iter()
        .filter(|q| q.is_needed() && (q.when)(answers) && !answers.has(q.flag))
        .collect();
    if wanted.is_empty() {
        return Vec::new();
    }
    let mut said = vec![format!("A new {} needs these, and nobody can be asked here:", begun.file.word())];
    let width = wanted.iter().map(|q| q.flag.len() + q.example.len()).max().unwrap_or(0);
    said.extend(wanted.iter().map(|q| {
        let room = width - q.flag.len() - q.example.len();
        format!("  --{} \"{}\"{:room$}  {}", q.flag, q.example, "", q.asks)
    }));
    said
}

/// Asks what has not been answered; a wrong answer is asked for again.
///
/// # Errors
/// A sentence if the answers end before the questions, or one is wrong too often.
pub fn ask(
    begun: &Begun,
    beside: &Beside,
    answers: &mut Answers,
    input: &mut impl BufRead,
    out: &mut impl Write,
) -> Result<(), Vec<String>> {
    for question in begun.questions.iter().filter(|question| question.asked) {
        if answers.has(question.flag) || !(question.when)(answers) {
            continue;
        }
        say(out, &format!("\n{}\n{}\n", question.asks, indented(&question.help())));
        let mut tries = 0;
        loop {
            say(out, "> ");
            let mut line = String::new();
            // What cannot be read ends the asking as the end of it does.
            if !matches!(input.read_line(&mut line), Ok(1..)) {
                return Err(vec!["The answers ended before the questions. Nothing is written.".to_owned()]);
            }
            let answer = line.trim();
            if answer.is_empty() && !question.is_needed() {
                break;
            }
            let wrong = if answer.is_empty() {
                Some(format!("Something is needed here, such as: {}", question.example))
            } else {
                wrong_with(begun, beside, answers, question, answer)
            };
            match wrong {
                None => {
                    answers.push(question.flag, answer.to_owned());
                    if !question.many {
                        break;
                    }
                    tries = 0;
                    say(out, "  The next one; empty where there is none.\n");
                }
                Some(said) => {
                    tries += 1;
                    if tries == MOST_TRIES {
                        let sentence = format!(
                            "{} was answered wrong {MOST_TRIES} times. Nothing is written.",
                            question.asks
                        );
                        return Err(vec![sentence]);
                    }
                    say(out, &format!("{}\n", indented(&said)));
                }
            }
        }
    }
    Ok(())
}

/// A person who has gone away is no fault; the answers end then too.
fn say(out: &mut impl Write, text: &str) {
    let _ = out.write_all(text.as_bytes());
    let _ = out.flush();
}

fn indented(text: &str) -> String {
    text.lines().map(|line| format!("  {line}")).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::new::{BEGUN, kit, ride};

    /// Asks on what stands for a terminal; gives the book, or what ended it, and what was shown.
    fn asked(begun: &Begun, typed: &str) -> (Result<String, Vec<String>>, String) {
        let (mut answers, mut shown) = (Answers::default(), Vec::new());
        let beside = Beside::default();
        let ended = ask(begun, &beside, &mut answers, &mut typed.as_bytes(), &mut shown);
        let book = ended.map(|()| (begun.write)(&answers, &beside).expect("every answer was tried"));
        (book, String::from_utf8(shown).expect("it is text"))
    }

    #[test]
    fn hand_a_screw_ride_is_ten_questions_and_left_empty_is_left_out() {
        let typed = "Small Wheel\n6.2 m\n2.3 m\n0.6 m, 5.6 m\n1.05 m\nscrew\n420 mm\n310 mm\n3.4 t ± 5 %\n\n";
        let (book, shown) = asked(&ride::RIDE, typed);
        let book = book.expect("every question is answered");
        assert_eq!(shown.matches("> ").count(), 10, "{shown}");
        assert!(!book.contains("\nmass-from") && !book.contains("\ninvented"), "{book}");
        assert!(book.contains("name = \"front right\"\nat = [\"5.6 m\", \"-1.05 m\"]"), "{book}");
        assert!(!shown.contains("How many holes"), "nobody is asked for the holes of a screw:\n{shown}");
    }

    #[test]
    fn refuse_wrong_answers_and_ask_them_again() {
        let typed = "\nSmall Wheel\n6.2\n620 m\n6.2 m\n2.3 kg\n2.3 m\n5.6 m, 0.6 m\n0.6 m\n0.6 m, 5.6 m\n1 m, 2 m, 3 m\n\
                     1.05 m\nscrews\nleg-and-sleeve holes\n740 mm\n40 mm\nseven\n0\n8\n3.4 t\nmakers\nmaker\n";
        let (book, shown) = asked(&ride::RIDE, typed);
        for said in [
            // What is wrong, the limit, and what would be right.
            "Something is needed here, such as: Small Wheel",
            "\"6.2\" has no unit",
            "`length` is outside what it can be. It is more than \"0 mm\" and at most \"40 m\".",
            "kg",
            "\"0.6 m\" does not lie forward of \"5.6 m\"",
            "There are 1 lengths; two or three pairs",
            "There are 3 lengths for 2 pairs",
            "`by` cannot be \"screws\". Did you mean \"screw\"?",
            "\"seven\" is no whole number; write one, such as 8.",
            "`hole-count` cannot be 0. It is a whole number from 1 to 100.",
            "Did you mean \"maker\"?",
        ] {
            assert!(shown.contains(said), "{said} is missing from:\n{shown}");
        }
        let book = book.expect("every question is answered in the end");
        assert!(book.contains("hole-count = 8 }") && book.contains("mass-from = \"maker\""), "{book}");
    }

    #[test]
    fn refuse_answers_that_end_or_stay_wrong() {
        let (ended, _) = asked(&ride::RIDE, "Small Wheel\n6.2 m\n");
        assert!(ended.expect_err("it ends")[0].contains("Nothing is written"));
        let (ended, _) = asked(&ride::RIDE, &format!("Small Wheel\n{}", "6.2\n".repeat(100)));
        assert!(ended.expect_err("it ends")[0].contains("answered wrong 20 times"));
    }

    #[test]
    fn hand_boards_are_asked_for_until_there_is_none() {
        let typed =
            "\n12, 48 mm, 600 mm, 600 mm\n6; 24 mm\n6, 24 mm, 500 mm, 500 mm\n4, 48 mm, 900 mm, 300 mm\n\n";
        let (book, shown) = asked(&kit::KIT, typed);
        let book = book.expect("a kit");
        assert!(shown.contains("has 1 parts; write four"), "{shown}");
        for name in ["\"The kit\"", "\"48 mm\"", "\"24 mm\"", "\"48 mm, 900 mm\""] {
            assert!(book.contains(&format!("\nname = {name}\n")), "{name} is missing from:\n{book}");
        }
    }

    /// The examples are answers too.
    #[test]
    fn law_every_example_is_a_good_answer() {
        for begun in BEGUN {
            for question in begun.questions {
                let mut answers = Answers::default();
                for other in begun.questions.iter().filter(|other| other.flag == "held") {
                    let by = if question.flag.starts_with("hole") || question.flag == "first-hole" {
                        "leg-and-sleeve holes"
                    } else {
                        other.example
                    };
                    answers.put(other.flag, vec![by.to_owned()]);
                }
                let said = wrong_with(begun, &Beside::default(), &answers, question, question.example);
                assert_eq!(said, None, "{}", question.flag);
            }
        }
    }

    /// A text with quotes, backslashes and line ends stays one text.
    #[test]
    fn law_any_text_is_one_answer() {
        for name in ["O\"Brien's", "a\\b", "tab\there", "ü ½", "# no", "x = 1"] {
            let mut answers = Answers::default();
            answers.put("name", vec![name.to_owned()]);
            let text = (kit::KIT.write)(&answers, &Beside::default()).expect("a kit");
            let kit = tober_book::parse_kit(&Source::new("kit.toml", &text));
            assert_eq!(kit.value.map(|kit| kit.about.name), Some(name.to_owned()), "{text}");
        }
    }
}
