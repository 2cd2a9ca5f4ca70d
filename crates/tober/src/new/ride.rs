//! A new ride book: a frame, its supports and one mass.

use super::asked::{Answers, Given, Question};
use super::{Begun, Beside, quoted};
use tober_book::FileKind;
use tober_quantity::{Length, Quantity};

const SCREW: &str = "screw";

pub const RIDE: Begun = Begun {
    file: FileKind::Ride,
    about: "Begin a ride book: its frame, where its supports stand, how they are held, and one mass",
    questions: &[
        Question::needed(
            "name",
            "What is the ride called?",
            ("a name", "Small Wheel"),
            "it stands on every sheet.",
        ),
        Question::needed(
            "length",
            "How long is the frame?",
            ("a length with its unit", "6.2 m"),
            "the frame is drawn and tipped over its edges by it.",
        ),
        Question::needed(
            "width",
            "How wide is the frame?",
            ("a length with its unit", "2.3 m"),
            "the frame is drawn and tipped over its edges by it.",
        ),
        Question::needed(
            "along",
            "How far forward of the middle of the rear cross beam does each pair of feet stand, from the rear to the front?",
            ("two or three lengths with their units, parted by commas", "0.6 m, 5.6 m"),
            "the packing is worked out where the feet are.",
        ),
        Question::needed(
            "aside",
            "How far to the side of the middle line does the middle of each foot stand?",
            ("a length with its unit, or one for each pair", "1.05 m"),
            "the packing is worked out where the feet are.",
        ),
        Question::needed(
            "held",
            "How are the legs held?",
            (
                "\"leg-and-sleeve holes\", \"leg-only holes above the sleeve\", \"leg-only holes below the sleeve\" or \"screw\"",
                SCREW,
            ),
            "it says at which lengths a leg can be.",
        ),
        Question::needed(
            "first-hole",
            "How far below the top of the frame is the underside of the foot, with the pin in the hole that makes the leg shortest?",
            ("a length with its unit", "740 mm"),
            "it is where the leg begins.",
        )
        .when(by_holes),
        Question::needed(
            "hole-pitch",
            "How far is it from hole to hole?",
            ("a length with its unit", "40 mm"),
            "it is the step by which a leg can change.",
        )
        .when(by_holes),
        Question::needed(
            "hole-count",
            "How many holes has a leg?",
            ("a whole number", "8"),
            "it is where the leg ends.",
        )
        .when(by_holes),
        Question::needed(
            "shortest",
            "How far below the top of the frame is the underside of the foot, screwed right in?",
            ("a length with its unit", "420 mm"),
            "it is where the leg begins.",
        )
        .when(by_screw),
        Question::needed(
            "travel",
            "How far can the screw be screwed out?",
            ("a length with its unit", "310 mm"),
            "it is where the leg ends.",
        )
        .when(by_screw),
        Question::needed(
            "mass",
            "What does the whole ride weigh as it stands, without riders?",
            ("a mass with its unit, and what it may be off by", "3.4 t ± 5 %"),
            "nothing can be said of any load without it.",
        ),
        Question::left(
            "mass-from",
            "How is that mass known?",
            ("\"weighed\", \"maker\" or \"guessed\"", "weighed"),
            "it is taken as a guess, off by 10 % at least.",
        ),
        Question::INVENTED,
    ],
    write,
    next: "tober new kit -o FOLDER",
};

fn by_screw(answers: &Answers) -> bool {
    answers.one("held") == Some(SCREW)
}
fn by_holes(answers: &Answers) -> bool {
    answers.one("held").is_some_and(|held| held != SCREW)
}

/// Lengths parted by commas, as they were typed.
fn lengths(flag: &'static str, text: &str) -> Result<Vec<(String, Length)>, Given> {
    let each = text.split(',').map(|part| {
        let part = part.trim();
        let read = Length::parse(part).map_err(|why| Given::new(flag, format!("{why} {}", why.hint())));
        read.map(|length| (part.to_owned(), length))
    });
    each.collect()
}

/// A leg: its corner, and its place as TOML.
struct Leg {
    name: String,
    at: String,
}

fn legs(answers: &Answers) -> Result<Vec<Leg>, Given> {
    let along = lengths("along", answers.needed("along"))?;
    let pairs: &[&str] = match along.len() {
        2 => &["rear", "front"],
        3 => &["rear", "middle", "front"],
        other => {
            let said = format!(
                "There are {other} lengths; two or three pairs of feet are begun here, such as \"0.6 m, 5.6 m\". Add the \
                 supports of another frame to the book by hand."
            );
            return Err(Given::new("along", said));
        }
    };
    for pair in along.windows(2) {
        if pair[1].1 <= pair[0].1 {
            let said = format!(
                "\"{}\" does not lie forward of \"{}\"; give them from the rear to the front.",
                pair[1].0, pair[0].0
            );
            return Err(Given::new("along", said));
        }
    }
    let aside = lengths("aside", answers.needed("aside"))?;
    if aside.len() != 1 && aside.len() != along.len() {
        let said = format!(
            "There are {} lengths for {} pairs of feet; give one, or one for each pair.",
            aside.len(),
            along.len()
        );
        return Err(Given::new("aside", said));
    }
    if let Some((text, _)) = aside.iter().find(|(_, length)| *length <= Length::ZERO) {
        let said = format!("\"{text}\" is not to the side; give how far it is, more than 0 mm.");
        return Err(Given::new("aside", said));
    }
    let mut legs = Vec::new();
    for (at, ((forward, _), pair)) in along.iter().zip(pairs).enumerate() {
        let side = aside.get(at).or(aside.first()).map_or("", |(text, _)| text.trim_start_matches('+'));
        for (hand, sign) in [("left", ""), ("right", "-")] {
            legs.push(Leg {
                name: format!("{pair} {hand}"),
                at: format!("[{}, {}]", quoted(forward), quoted(&format!("{sign}{side}"))),
            });
        }
    }
    Ok(legs)
}

fn held(answers: &Answers) -> Result<String, Given> {
    let by = quoted(answers.needed("held"));
    if answers.one("held") == Some(SCREW) {
        return Ok(format!(
            "{{ by = {by}, retracted-length = {}, travel = {} }}",
            quoted(answers.needed("shortest")),
            quoted(answers.needed("travel"))
        ));
    }
    let count = answers.needed("hole-count").trim();
    if count.is_empty() || count.len() > 9 || !count.bytes().all(|b| b.is_ascii_digit()) {
        return Err(Given::new("hole-count", format!("{count:?} is no whole number; write one, such as 8.")));
    }
    Ok(format!(
        "{{ by = {by}, first-hole = {}, hole-pitch = {}, hole-count = {} }}",
        quoted(answers.needed("first-hole")),
        quoted(answers.needed("hole-pitch")),
        // A number of TOML begins with no needless nought.
        count.trim_start_matches('0').chars().next().map_or("0", |_| count.trim_start_matches('0'))
    ))
}

fn write(answers: &Answers, _: &Beside) -> Result<String, Given> {
    let legs = legs(answers)?;
    let held = held(answers)?;
    let mut about = format!("name = {}\n", quoted(answers.needed("name")));
    if let Some(invented) = answers.one("invented") {
        about += &format!("invented = {}\n", quoted(invented));
    }
    about += &format!("mass = {}\n", quoted(answers.needed("mass")));
    if let Some(from) = answers.one("mass-from") {
        about += &format!("mass-from = {}\n", quoted(from));
    }
    let mut supports = String::new();
    for (at, leg) in legs.iter().enumerate() {
        supports += &format!(
            "\n[[support]]\nname = {}\nat = {}\ndoes = \"carries\"\nheld = {held}\n",
            quoted(&leg.name),
            leg.at
        );
        if at == 0 {
            supports += OF_A_SUPPORT;
        }
    }
    Ok(format!(
        "{HEAD}\n[ride]\n{about}{OF_THE_RIDE}\n[frame]\nlength = {}\nwidth = {}\n{OF_THE_FRAME}{supports}{OF_THE_REST}",
        quoted(answers.needed("length")),
        quoted(answers.needed("width"))
    ))
}

const HEAD: &str = r##"# A ride book. A frame, its supports and one mass are enough for a plan of the packing.
#
# What is not written is not known, and is never taken as good. A line that begins with "#" and no space behind it is an
# example of what can be added: put the ride's own figure in it and take the "#" away. `tober check` says what is wrong.
#
# Along is forward from the middle of the rear cross beam, across is to the left of somebody who faces the front, and
# up is from the top of the frame. A quantity stands in quotes with its unit.

format = 0
"##;

const OF_THE_RIDE: &str = r##"# Who made it, and the manual that the figures come from; they print on the sheets.
#maker = "Somebody & Daughters"
#manual = "Manual, second edition, 2031"
# Where the weight of the whole acts: makes the load on each leg surer, and whether the frame stands on its legs known.
#cg = ["3.1 m ± 100 mm", "0 m ± 50 mm", "0.8 m ± 200 mm"]
"##;

const OF_THE_FRAME: &str = r##"# Which point of the frame, one that can be touched, is zero along, across and up.
#datum = "the middle of the rear cross beam, on its top"
# The maker's tolerances: make known whether the plan keeps them. Until they are written 3 mm/m and 3 mm are assumed.
#level-along = "3 mm/m"
#level-across = "3 mm/m"
#planarity = "3 mm"
# How far every corner must be raised, and may be raised, above its shortest leg on bare ground.
#least-lift = "0 mm"
#greatest-lift = "300 mm"
# The highest stack and the most boards in it that the maker allows. Until written 200 mm and 4 are assumed.
#greatest-stack = "200 mm"
#greatest-boards = 4
# How the frame is taken in the loads of the legs: "rigid", or "beams" with their nodes and members.
#stiffness = "rigid"
# How high the top of the frame is on level ground, on its wheels: makes known whether it stands before it is jacked up.
#resting-height = "620 mm"
# How the wheels end, in the maker's word: "clear", "touching" or "sharing".
#wheels = "clear"

# What must stay clear of the ground: makes known whether it does. Where nothing hangs low, `clearance = []`.
#[[frame.clearance]]
#part = "wheels"
#below = "680 mm"
#least = "20 mm"
#over = [["2.2 m", "-1.1 m"], ["3 m", "-1.1 m"], ["3 m", "1.1 m"], ["2.2 m", "1.1 m"]]

# Each axle: makes the loads on the road and on the wheels known.
#[[frame.axle]]
#at = "2.6 m"
#track = "1.9 m"
#stiffness = "0.4 kN/mm"
#droop = "60 mm"
#rated-load = "3.5 t"

# The hitch and its jack: make known how far the front can be raised.
#[frame.hitch]
#at = ["7.4 m", "0 m"]
#height = "480 mm"
#jack-at = ["6.9 m", "0 m"]
#jack-travel = "400 mm"
"##;

const OF_A_SUPPORT: &str = r##"# The same can be added to each leg.
# A name of two letters, for narrow places.
#short = "LL"
# The foot: makes known whether it stands wholly on its board, and the pressure under it.
#foot-length = "250 mm"
#foot-width = "250 mm"
#foot-material = "steel"
# The most the leg may carry, the maker's figure: makes known whether it carries more.
#rated-load = "3 t"
# How much load shortens leg and sleeve by one length: makes the load on each leg surer.
#stiffness = "60 kN/mm"
# How far past its place the frame must be lifted to get a pin out and in.
#overlift = "6 mm"
# When this leg is set: 1 for the first.
#order = 1
"##;

const OF_THE_REST: &str = r##"
# Each heavy part, how it is carried, where it can be and what the wind finds of it: make known whether the ride stands,
# open. Once parts are written all of them are, as `mass` above is that of the whole.
#[[body]]
#name = "trailer"
#mass = "900 kg ± 5 %"
#mass-from = "guessed"
#carried-by = "frame"
#on-turntable = false
#[[body.placement]]
#name = "road"
#cg = ["3 m ± 100 mm", "0 m ± 50 mm", "-0.2 m ± 100 mm"]
#[[body.placement]]
#name = "open"
#cg = ["3 m ± 100 mm", "0 m ± 50 mm", "-0.2 m ± 100 mm"]
#wind = { along = "1.2 m2", across = "3.5 m2", lift = "0 m2", up = "0 m" }

# What turns and how fast, and what riders sit in: make known what turning and riders add to the loads.
#[[motion.rotation]]
#name = "wheel"
#about = ["3.1 m", "0 m", "4 m"]
#lean = "90 deg"
#speed-greatest = "8 rpm"
#carried-by = "frame"

#[[seat]]
#name = "car 1"
#radius = "3 m"
#angle = "0 deg"
#height = "1 m"
#places = 2
#mass = "60 kg"
#mass-from = "guessed"
#rider-mass-greatest = "100 kg"

# What the maker allows: makes known in which wind it may run, and how many riders count in the loads.
#[limits]
#wind-in-service = { speed = "12 m/s", averaged-over = "3 s", at-height = "10 m" }
#wind-out-of-service = { speed = "22 m/s", averaged-over = "3 s", at-height = "10 m" }
#riders-greatest = 16
"##;
