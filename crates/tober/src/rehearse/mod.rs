//! `tober rehearse`: a visit gone through beforehand, step by step, and questions on it. Nothing is recorded.

mod ask;
mod say;

use crate::files::{self, say as complain};
use crate::{Ended, Shape};
use std::collections::BTreeSet;
use std::io::BufRead;
use std::path::Path;
use tober_book::Role;
use tober_plan::rehearse::{Rehearsal, quiz, rehearsal};
use tober_quantity::UnitSet;

/// Who rehearses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum As {
    /// Runs the crew.
    Chief,
    /// Builds up and pulls down.
    Hand,
    /// Owns the panel, the stop and the signals.
    Operator,
    /// Loads seats and checks restraints.
    Attendant,
}

impl As {
    fn role(self) -> Role {
        match self {
            Self::Chief => Role::Chief,
            Self::Hand => Role::Hand,
            Self::Operator => Role::Operator,
            Self::Attendant => Role::Attendant,
        }
    }
}

/// How a visit is rehearsed.
#[derive(clap::Args)]
pub struct Wanted {
    /// Who rehearses.
    #[arg(long = "as", value_enum, default_value = "chief")]
    who: As,
    /// Ask questions instead, one a line; a number answers. Status 0 where every answer is right, 3 where something is to learn.
    #[arg(long)]
    quiz: bool,
    /// How many questions.
    #[arg(long, default_value_t = 12, value_parser = clap::value_parser!(u16).range(1..=200))]
    questions: u16,
    /// Which questions: the same number asks the same ones.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Print every step, and ask nothing.
    #[arg(long)]
    all: bool,
    /// Write the rehearsal as one HTML file, in the units of the visit.
    #[arg(short, value_name = "FILE.html")]
    out: Option<std::path::PathBuf>,
}

/// Rehearses a visit.
pub fn rehearse(path: &Path, wanted: &Wanted, shape: Shape) -> Ended {
    let books = match files::visit(path) {
        Ok(books) => books,
        Err(wrong) => return complain(&wrong),
    };
    let units = shape.units.unwrap_or(match books.visit.about.units {
        Some(tober_book::Units::Gb) => UnitSet::Gb,
        Some(tober_book::Units::Us) => UnitSet::Us,
        Some(tober_book::Units::Metric) | None => UnitSet::Metric,
    });
    let Some(all) = rehearsal(&books.ride, &books.visit, units) else {
        files::tell(
            "There is nothing to rehearse: the ride book has no [[step]], or its steps wait for each other in a circle. \
             tober check says which.",
        );
        return Ended::WrongInput;
    };
    if let Some(out) = &wanted.out {
        return written(path, out, &all);
    }
    let lines = &mut std::io::stdin().lock();
    if wanted.quiz {
        let asked = quiz(&all, wanted.who.role(), usize::from(wanted.questions), wanted.seed);
        return ask::ask(&all, &asked, lines);
    }
    if wanted.all {
        files::print(&say::head(&all));
        for card in &all.cards {
            files::print(&say::card(&all, card, wanted.who.role()));
        }
        files::print(&say::riders(&all, units));
        return Ended::Inside;
    }
    walk(&all, &books, wanted.who.role(), units, lines);
    Ended::Inside
}

/// Writes the visit's phone book, which opens at the rehearsal.
fn written(path: &Path, out: &Path, all: &Rehearsal) -> Ended {
    let page = crate::phone::rehearsal(path)
        .and_then(|page| files::write(out, page.as_bytes()).map_err(|sentence| vec![sentence]));
    match page {
        Ok(()) => {
            files::print(&format!(
                "{}: the rehearsal of {}, {} steps. Open it in a browser; it needs nothing else.\n",
                out.display(),
                all.ride,
                all.cards.len()
            ));
            Ended::Inside
        }
        Err(sentences) => {
            sentences.iter().for_each(|sentence| files::tell(sentence));
            Ended::WrongInput
        }
    }
}

/// A line of answers; none where they have ended or cannot be read.
fn line(lines: &mut dyn BufRead) -> Option<String> {
    let mut text = String::new();
    match lines.read_line(&mut text) {
        Ok(1..) => Some(text.trim().to_owned()),
        _ => None,
    }
}

/// Goes through the steps as somebody says.
fn walk(all: &Rehearsal, books: &files::Books, role: Role, units: UnitSet, lines: &mut dyn BufRead) {
    files::print(&say::head(all));
    let mut done: BTreeSet<usize> = BTreeSet::new();
    let mut at = 0;
    files::print(&say::card(all, &all.cards[at], role));
    loop {
        files::print("> ");
        let Some(text) = line(lines) else {
            files::print("\n");
            return;
        };
        let (word, rest) = text.split_once(' ').unwrap_or((&text, ""));
        let open = |done: &BTreeSet<usize>| all.open(&books.ride, &books.visit, done);
        match word {
            "" | "done" | "next" => {
                done.insert(at);
                let (free, _) = open(&done);
                let Some(next) = free.first() else {
                    files::print("Every step is done. ");
                    files::print(&say::riders(all, units));
                    return;
                };
                at = *next;
                files::print(&say::card(all, &all.cards[at], role));
            }
            "free" => files::print(&say::free(all, &open(&done).0)),
            "back" => files::print(&say::back(&open(&done).1)),
            "riders" => files::print(&say::riders(all, units)),
            "list" => files::print(&say::list(all, &done)),
            "help" | "?" => files::print(say::HELP),
            "quit" | "q" => return,
            // Without a name it is the step in hand.
            "if" | "do" | "show" => match if rest.is_empty() { Some(at) } else { all.find(rest) } {
                None => files::print(&format!(
                    "No step is called {rest:?}; a number, a name or part of a title is wanted. `list` lists them.\n"
                )),
                Some(card) if word == "show" => files::print(&say::card(all, &all.cards[card], role)),
                Some(card) => {
                    let now = all.what_if(&books.ride, &books.visit, &done, card);
                    files::print(&say::what_if(&all.cards[card], done.contains(&card), now.as_ref()));
                    if word == "do" && matches!(now, Some(None)) && !done.contains(&card) {
                        at = card;
                        files::print(&say::card(all, &all.cards[at], role));
                    }
                }
            },
            _ => files::print(&format!("{word:?} is no word here. {}", say::HELP)),
        }
    }
}
