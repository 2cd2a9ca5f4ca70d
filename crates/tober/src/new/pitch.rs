//! A new pitch: how its ground will be read. Nothing that somebody reads is filled in beforehand.

use super::asked::{Answers, Given, Question};
use super::{Begun, Beside, quoted};
use tober_book::FileKind;

pub const PITCH: Begun = Begun {
    file: FileKind::Pitch,
    about: "Begin a pitch: how its ground will be read. Readings are left out until somebody has read them",
    questions: &[
        Question::needed(
            "name",
            "What is the pitch called?",
            ("a name", "Mill Lane"),
            "it stands on every sheet.",
        ),
        Question::left(
            "where",
            "Where is it?",
            ("some words", "behind the mill, gate on the lane"),
            "nothing is said of it.",
        ),
        Question::needed(
            "method",
            "Which way will the ground be read?",
            (
                "\"tape\" (the trailer on its wheels, a level on its frame and a tape at each leg), \"staff\" (a level and a staff), \"laser\" (a rotating laser and a staff), \"water level\" (a hose), \"scale\" (the painted scale on the legs) or \"spots\" (heights that an instrument writes into a file)",
                "tape",
            ),
            "it says what has to be filled in.",
        ),
        Question::INVENTED,
    ],
    write,
    next: "fill in what is read, in FOLDER/pitch.toml; then tober new visit -o FOLDER",
};

fn write(answers: &Answers, beside: &Beside) -> Result<String, Given> {
    let mut out = format!("{HEAD}\n[pitch]\nname = {}\n", quoted(answers.needed("name")));
    if let Some(place) = answers.one("where") {
        out += &format!("where = {}\n", quoted(place));
    }
    if let Some(invented) = answers.one("invented") {
        out += &format!("invented = {}\n", quoted(invented));
    }
    let legs: Vec<String> = beside
        .ride
        .iter()
        .flat_map(|ride| ride.supports_in_order())
        .map(|support| quoted(&support.name))
        .collect();
    out += OF_THE_PITCH;
    out += &match answers.needed("method").trim() {
        "tape" => with_legs(TAPE, "tape", &legs),
        "scale" => with_legs(SCALE, "reading", &legs),
        "water level" => with_legs(WATER_LEVEL, "reading", &legs),
        "staff" => STAFF.to_owned(),
        "laser" => LASER.to_owned(),
        "spots" => SPOTS.to_owned(),
        other => {
            let words = ["tape", "staff", "laser", "water level", "scale", "spots"];
            let meant = tober_book::nearest(other, &words)
                .map_or(String::new(), |near| format!(" Did you mean \"{near}\"?"));
            let said = format!(
                "{other:?} is no way of reading the ground.{meant} It is one of {}.",
                words.join(", ")
            );
            return Err(Given::new("method", said));
        }
    };
    Ok(out + OF_THE_GROUND + OF_THE_REST)
}

/// The blanks of a way of reading, with a row for each leg.
fn with_legs(blanks: &str, key: &str, legs: &[String]) -> String {
    let row = |leg: &str| format!("#   {{ leg = {leg}, {key} =  }},\n");
    let rows: String = match legs {
        [] => format!("{}#   and so on, a row for each leg by its name in the ride book\n", row(" ")),
        legs => legs.iter().map(|leg| row(leg)).collect(),
    };
    blanks.replace("LEGS", &rows)
}

const HEAD: &str = r##"# A pitch: one piece of ground, what was read on it and what is known of it.
#
# A line that begins with "#" and no space behind it is an example of what can be added: put what is so in it and take
# the "#" away. A line that begins with "# " and ends with nothing behind "=" waits for somebody who has looked: fill in
# what was read, with its unit and in quotes, and take the "# " away. Nothing that is read is filled in beforehand.

format = 0
"##;

const OF_THE_PITCH: &str = r##"# The direction of its along axis, from north towards east.
#north = "20 deg"
"##;

const TAPE: &str = r##"
# The trailer on its wheels: a level on its frame, and a tape from the top of the frame down to the ground at each leg.
# A slope read again with the level turned end for end is written as a list of two; a tape read twice is written twice.
# [readings]
# method = "tape"
# slope-along =       # positive where its front is higher; in mm/m, % or in/ft
# slope-across =      # positive where its left is higher
# slope-deviation =   # the standard deviation of one slope: makes known how sure the heights are
# tape-deviation =    # the standard deviation of one tape
# leg = [
LEGS# ]
# measured =          # the day
# by =                # the two letters of who read it
"##;

const SCALE: &str = r##"
# Every foot on the ground: a level on the frame, and what the painted scale on each leg says, from the top of the frame
# down to the underside of the foot.
# [readings]
# method = "scale"
# slope-along =       # positive where its front is higher; in mm/m, % or in/ft
# slope-across =      # positive where its left is higher
# slope-deviation =   # the standard deviation of one slope: makes known how sure the heights are
# reading-deviation = # the standard deviation of one figure of a scale
# leg = [
LEGS# ]
# measured =          # the day
# by =                # the two letters of who read it
"##;

const WATER_LEVEL: &str = r##"
# A hose of water: from the water line down to the ground at each leg.
# [readings]
# method = "water level"
# reading-deviation = # the standard deviation of one height: makes known how sure they are
# leg = [
LEGS# ]
# measured =          # the day
# by =                # the two letters of who read it
"##;

const STAFF: &str = r##"
# A level and a staff. The readings stand in a file beside this one, with the columns point, x, y,
# set-up, kind ("back", "between" or "fore") and reading; x and y are where the point is on the pitch. Where the trailer
# stands among them is `[pose]` in visit.toml.
# [readings]
# method = "staff"
# reading-deviation =       # the standard deviation of one reading: makes known how sure the heights are
# line-of-sight-deviation = # the standard deviation of how far the line of sight is from level, in mm/m
# sight-longest =           # the longest sight that was taken
# file =                    # the file of the readings
# measured =                # the day
# by =                      # the two letters of who read it
"##;

const LASER: &str = r##"
# A rotating laser and a staff. The readings stand in a file beside this one, with the columns point, x, y, set-up, kind
# ("back", "between" or "fore") and reading; x and y are where the point is on the pitch. Where the trailer stands among
# them is `[pose]` in visit.toml. Where the laser stood makes known how its lean is shared by what was read from there.
# [readings]
# method = "laser"
# reading-deviation =       # the standard deviation of one reading: makes known how sure the heights are
# plane-deviation =         # the standard deviation of how far its plane leans, in mm/m
# cone-deviation =          # the standard deviation of how far its beam is from its plane, in mm/m
# sight-longest =           # the longest sight that was taken
# file =                    # the file of the readings
# measured =                # the day
# by =                      # the two letters of who read it
# [[readings.set-up]]
# name =                    # the set-up
# at =                      # where the laser stood on the pitch
"##;

const SPOTS: &str = r##"
# Heights of spots of the ground, as a survey instrument writes them into a file beside this one, with the columns point, x,
# y and height, and deviation where it is known. Where the trailer stands among them is `[pose]` in visit.toml.
# [readings]
# method = "spots"
# height-deviation =        # the standard deviation of one height: makes known how sure they are
# file =                    # the file of the heights
# measured =                # the day
# by =                      # the two letters of who read it
"##;

const OF_THE_GROUND: &str = r##"
# What lies under the feet. Nothing is known of the ground until somebody has looked; turf, fill and wet ground need a
# test: load a foot on its board, wait 15 minutes, measure how far it sank.
# [[ground]]
# under = "every foot"
# bottom =      # the board that must lie on the ground, by its name in the kit, or "any"
# surface =     # "below the topsoil", "topsoil", "turf", "fill" or "paved"
# wet =         # "dry", "wet" or "standing water"
# friction =    # the share of its weight that drew a loaded board sideways, the least of three pulls
# basis =       # { by = "tests" }, or { by = "class", table = ..., class = ... }, or { by = "report", ... },
#               # or { by = "soil", friction-angle = "30 deg", cohesion = "0 kPa", density = "1.8 t/m3", reference = ... } with
#               # figures of tests of the soil and, if you like, method = "EN 1997-1 Annex D"; unit weight 18 kN/m3 is 1.84 t/m3
# test =        # a list of { kind = "sink", load, plate-length, plate-width, wait, sink, at }; [] if none was made

# What the wind finds.
# [terrain]
# code =        # "EN 1991-1-4" or "ASCE 7"
# category =    # the category or exposure of that code
"##;

const OF_THE_REST: &str = r##"
# What stands or lies in the way. None is `obstacle = []` at the top of the file; not known unless written.
#[[obstacle]]
#name = "overhead line"
#kind = "overhead line"
#outline = [["-14 m", "15 m"], ["24 m", "19 m"]]
#bottom = "7.5 m"
#keep-away = "6 m"

# Drains. None is `drain = []` at the top of the file; not known unless written.
#[[drain]]
#name = "field drain"
#outline = [["-3 m", "-12 m"], ["2 m", "-4.5 m"]]

# Where power comes from.
#[[supply]]
#name = "pillar"
#voltage = "400 V"
#phases = 3
#current = "32 A"

# What it was like before.
#[[last-visit]]
#date = "2030-05-11"
#boards = ["rear right: mat 75 50"]
#note = "The gate post is tight on the left; the rear right corner stays wet."
"##;
