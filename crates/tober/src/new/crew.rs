//! A new crew: its people by two letters, and what they may do.

use super::asked::{Answers, Given, Question};
use super::{Begun, Beside, quoted};
use tober_book::FileKind;

pub const CREW: Begun = Begun {
    file: FileKind::Crew,
    about: "Begin a crew: its people by two letters, and what they may do",
    questions: &[
        Question::left("name", "What is the crew called?", ("a name", "The four"), "it is called \"The crew\"."),
        Question::left(
            "person",
            "Who is in it?",
            (
                "two letters, then what they may do (chief, trainer, hand, operator, attendant, inspector, owner, electrician), parted by commas",
                "Wi, chief, hand",
            ),
            "nobody; add people later.",
        )
        .many(),
        Question::INVENTED,
    ],
    write,
    next: "tober new visit -o FOLDER",
};

fn write(answers: &Answers, _: &Beside) -> Result<String, Given> {
    let mut out = format!("{HEAD}\n[crew]\nname = {}\n", quoted(answers.one("name").unwrap_or("The crew")));
    if let Some(invented) = answers.one("invented") {
        out += &format!("invented = {}\n", quoted(invented));
    }
    for (at, text) in answers.all("person").iter().enumerate() {
        let mut parts = text.split(',').map(str::trim);
        let tag = parts.next().unwrap_or("");
        let skills: Vec<String> = parts.map(quoted).collect();
        out += &format!("\n[[person]]\ntag = {}\nskills = [{}]\n", quoted(tag), skills.join(", "));
        if at == 0 {
            out += OF_A_PERSON;
        }
    }
    Ok(out)
}

const HEAD: &str = r##"# A crew. Sheets and the log carry the two letters, never the name.
#
# A line that begins with "#" and no space behind it is an example of what can be added: put your own in it and take the
# "#" away.

format = 0
"##;

const OF_A_PERSON: &str = r##"# The same can be added to each person.
# The rides they have been taught: makes known who may do a step that needs it.
#taught = ["Small Wheel"]
# When their day begins and ends.
#from = "05:30"
#until = "16:00"
"##;
