//! A new weighing: how the ride will stand on scales. What the scales say is left out until somebody has read it.

use super::asked::{Answers, Given, Question};
use super::{Begun, Beside, quoted};
use tober_book::{Carriers, FileKind, Places, StandsOn};

pub const WEIGHING: Begun = Begun {
    file: FileKind::Weighing,
    about: "Begin a weighing: on what the ride will stand. What the scales say is left out until somebody has read it",
    questions: &[
        Question::needed(
            "stands",
            "On what will the ride stand while it is weighed?",
            (
                "\"legs\", \"wheels and hitch\", \"wheels and hitch jack\" or \"one scale\"",
                "wheels and hitch",
            ),
            "it says which loads there are to be read.",
        ),
        Question::needed(
            "deviation",
            "What is the standard deviation of one reading? Half a division of the scale is the least it can be.",
            ("a load or a mass with its unit", "20 kg"),
            "it says how much a reading counts beside the book and beside the others.",
        ),
        Question::left(
            "placement",
            "In which placement will its bodies be?",
            ("a name that the ride book gives to placements", "road"),
            "where they are is not known, and each is taken to be anywhere on the frame.",
        ),
        Question::left(
            "with",
            "With what will it be weighed?",
            ("some words", "a pair of axle scales"),
            "nothing is said of it.",
        ),
        Question::INVENTED,
    ],
    write,
    next: "fill in what the scales say, in FOLDER/weighing.toml; then tober weigh FOLDER FOLDER",
};

fn write(answers: &Answers, beside: &Beside) -> Result<String, Given> {
    let stands = answers.needed("stands");
    let mut out = format!("{HEAD}\n[weighing]\ndeviation = {}\n", quoted(answers.needed("deviation")));
    for key in ["with", "invented"] {
        if let Some(answer) = answers.one(key) {
            out += &format!("{key} = {}\n", quoted(answer));
        }
    }
    out += OF_THE_WEIGHING;
    out += &format!("\n[[state]]\nname = {0}\nstands = {0}\n", quoted(stands));
    if let Some(placement) = answers.one("placement") {
        out += &format!("placement = {}\n", quoted(placement));
    }
    out += OF_A_STATE;
    for name in scales(stands, beside)? {
        out += &format!(
            "\n# [[reading]]\n# state = {}\n# on = {}\n# load =       # what the scale says\n",
            quoted(stands),
            quoted(&name)
        );
    }
    Ok(out + OF_THE_REST)
}

/// Under what a scale can be, each by itself, with everything last.
fn scales(stands: &str, beside: &Beside) -> Result<Vec<String>, Given> {
    let (Some(ride), Some(stands)) =
        (&beside.ride, StandsOn::ALL.iter().copied().find(|known| known.word() == stands.trim()))
    else {
        return Ok(Vec::new());
    };
    let carriers = Carriers::of(ride, stands, None);
    if carriers.each.is_empty() && stands != StandsOn::Scale {
        let said = "the ride book has no hitch with its place, or no axle; write them there, or weigh it on its legs.";
        return Err(Given::new("stands", said));
    }
    // An axle is read as a whole where it is one scale's width; its two sides make known where the weight acts across.
    let names = carriers.each.into_iter().map(|(name, _)| name);
    Ok(names.chain([Places::EVERYTHING.to_owned()]).collect())
}

const HEAD: &str = r##"# A weighing: how the ride stood on scales, and what they said.
#
# A line that begins with "#" and no space behind it is an example of what can be added: put your own in it and take the
# "#" away. A reading that begins with "# " waits for somebody who has read the scale: fill in what it said, with its unit
# and in quotes, and take the "# " of its lines away. What nobody read stays as it is, or is taken out.

format = 0
"##;

const OF_THE_WEIGHING: &str = r##"# When it was weighed, and the two letters of who read it.
#measured = "2031-04-11"
#by = "Wi"
"##;

const OF_A_STATE: &str = r##"# Whether its axles share their load evenly: with it, their scales tell where the weight acts.
#axles-even = true
"##;

const OF_THE_REST: &str = r##"
# Another way in which it stood; readings name it by its `state`.
#[[state]]
#name = "without the fence"
#stands = "legs"
#placement = "open"
"##;
