//! The crew: `crew.toml`.

use crate::report::{Report, any_tables, as_read, parse, short};
use crate::section::section;
use crate::table::from;
use crate::{Code, Parsed, Place, Role, Source, TimeOfDay};

section! {
    /// The people of a visit.
    pub struct Crew {
        /// The format of the file; this version reads 0.
        format: usize, within from("0", "0");
        /// What the crew is.
        about as "crew": AboutCrew;
        /// Its people.
        people as "person": Vec<Person>, then tags_and_hours;
    }
}

section! {
    /// What the crew is.
    pub struct AboutCrew {
        /// What the crew is called.
        name: String;
        /// For invented data: the sentence that says so. It prints on every sheet.
        invented: Option<String>;
    }
}

section! {
    /// One person. Sheets and the log carry the tag, never the name.
    pub struct Person {
        /// Two letters.
        tag: String, link defines Person;
        /// What they are called.
        name: Option<String>;
        /// What they may do.
        skills: Vec<Role>;
        /// The rides they have been taught.
        taught: Vec<String>;
        /// When their day begins.
        from: Option<TimeOfDay>;
        /// When their day ends; a time before it begins is on the next day.
        until: Option<TimeOfDay>;
    }
}

/// A tag is two letters, and a day has a length.
fn tags_and_hours(people: &[Person], _: &Place, report: &mut Report) {
    for person in people {
        if person.tag.chars().count() != 2 || !person.tag.chars().all(char::is_alphabetic) {
            let message = format!("`tag` is \"{}\", and that is not two letters.", short(&person.tag));
            report.error(
                person.place.key("tag"),
                Code::OutOfRange,
                message,
                "Write two letters, such as \"Ch\".",
            );
        }
        if person.from.is_some() && person.from == person.until {
            let message = format!("The day of \"{}\" ends when it begins.", short(&person.tag));
            report.error(
                person.place.key("until"),
                Code::Disagreement,
                message,
                "Leave both out where the hours are not known.",
            );
        }
    }
}

/// Reads a crew.
pub fn parse_crew(source: &Source) -> Parsed<Crew> {
    parse(source, &[], any_tables, as_read)
}
