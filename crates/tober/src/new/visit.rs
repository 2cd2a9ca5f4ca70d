//! A new visit: the books of its folder, tied together.

use super::asked::{Answers, Given, Question};
use super::{Begun, Beside, quoted};
use tober_book::FileKind;

pub const VISIT: Begun = Begun {
    file: FileKind::Visit,
    about: "Begin a visit: tie together the ride, kit, crew and pitch of a folder",
    questions: &[
        Question::left(
            "name",
            "What is the visit called?",
            ("a name", "Mill Lane, May fair"),
            "it is called by its ride and its pitch.",
        ),
        Question::left(
            "from",
            "Which day does the ride come?",
            ("a day", "2031-05-02"),
            "no day is written.",
        ),
        Question::left("until", "Which day does it leave?", ("a day", "2031-05-05"), "no day is written."),
        Question::left(
            "units",
            "Which units do the sheets have?",
            ("\"metric\", \"gb\" or \"us\"", "gb"),
            "metric ones.",
        ),
        Question::left(
            "words",
            "Which trade words do the sheets have?",
            ("\"gb\" or \"us\"", "gb"),
            "British ones.",
        ),
        Question::INVENTED,
    ],
    write,
    next: "tober check FOLDER, then tober plan FOLDER",
};

fn write(answers: &Answers, beside: &Beside) -> Result<String, Given> {
    let called = || {
        let ride = beside.ride.as_ref().map_or("ride", |ride| ride.about.name.as_str());
        format!("{ride} on {}", beside.pitch.as_deref().unwrap_or("its pitch"))
    };
    let name = answers.one("name").map_or_else(called, str::to_owned);
    let mut out = format!(
        "{HEAD}\n[visit]\nname = {}\nride = \"ride.toml\"\nkit = \"kit.toml\"\npitch = \"pitch.toml\"\n",
        quoted(&name)
    );
    if beside.crew {
        out += "crew = \"crew.toml\"\n";
    }
    for key in ["from", "until", "units", "words", "invented"] {
        if let Some(answer) = answers.one(key) {
            out += &format!("{key} = {}\n", quoted(answer));
        }
    }
    Ok(out + OF_THE_VISIT)
}

const HEAD: &str = r##"# A visit: one ride on one pitch between two dates. The files it names stand in this folder.
#
# A line that begins with "#" and no space behind it is an example of what can be added: put your own in it and take the
# "#" away.

format = 0
"##;

const OF_THE_VISIT: &str = r##"# Which set of factors against overturning, and which rules for wind; every one that is known, until one is written.
#stability-factors = "EN 13814:2004"
#wind-rules = "EN 1991-1-4"

# Where the trailer stands on the pitch: where the middle of its rear cross beam is, and the direction of its front.
#[pose]
#at = ["0 m", "0 m"]
#heading = "0 deg"

# Limits of the chief's own. They may only be stricter than the maker's.
#[limits]
#wind-in-service = { speed = "8 m/s", averaged-over = "3 s", at-height = "10 m" }
"##;
