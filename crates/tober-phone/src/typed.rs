//! From what was typed to the pitch: the readings, the ground and its tests.
//!
//! What is typed is written as the part of a pitch it stands for and read by the reader of the pitch, so that a thumb
//! is held to the same limits as a file and gets the same words. What does not fit is left out and named at its
//! field; nothing stands in for it.

use crate::fields::Speaks;
use crate::stands::Stands;
use std::collections::BTreeMap;
use std::fmt::Write;
use tober_book::{
    Code, Diagnostic, GroundTest, Kit, Listed, Parsed, Pitch, Ride, Source, TimberRole, Under, parse_pitch,
};
use tober_quantity::UnitSet;

/// How many minutes a foot stands loaded before its sink is read (rule S4; common practice, no source).
pub(crate) const WAIT_MIN: u64 = 15;

/// The ways to read the pitch that the page has fields for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Method {
    /// Trailer on its wheels, level on the frame, tape at each leg.
    Tape,
    /// A level or laser and a staff.
    Staff,
}

/// What the typed part came to.
#[derive(Debug, Default)]
pub(crate) struct Typed {
    /// What is wrong at a field, by its name: message and help.
    pub wrong: BTreeMap<String, String>,
    /// What is still wanted, as the names of fields.
    pub wanted: Vec<String>,
    /// How many fields of readings are read, and how many there are.
    pub read: (usize, usize),
    /// Whether readings were typed at all.
    pub any: bool,
}

/// The method that was chosen, or that of the pitch's own file.
pub(crate) fn method(stands: &Stands, pitch: &Pitch) -> Option<Method> {
    match stands.value("method") {
        Some("tape") => Some(Method::Tape),
        Some("staff") => Some(Method::Staff),
        _ => match &pitch.readings {
            Some(tober_book::Readings::Tape(_)) => Some(Method::Tape),
            Some(tober_book::Readings::Staff(_)) => Some(Method::Staff),
            _ => None,
        },
    }
}

/// A text as a TOML string.
pub(crate) fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' | '\\' => out.extend(['\\', letter]),
            '\n' | '\r' | '\t' => out.push(' '),
            control if control.is_control() => {}
            plain => out.push(plain),
        }
    }
    out.push('"');
    out
}

/// A pitch that holds what was typed alone, with the field that each line came from.
struct Draft {
    text: String,
    lines: BTreeMap<usize, String>,
    /// Whether everything is there that the rest of it rests on.
    whole: bool,
}

impl Draft {
    fn new(name: &str) -> Self {
        Self {
            text: format!("format = 0\n[pitch]\nname = {}\n", quoted(name)),
            lines: BTreeMap::new(),
            whole: true,
        }
    }
    fn line(&mut self, field: &str, text: &str) {
        self.lines.insert(self.text.lines().count() + 1, field.to_owned());
        let _ = writeln!(self.text, "{text}");
    }
    fn plain(&mut self, text: &str) {
        let _ = writeln!(self.text, "{text}");
    }
    fn parsed(&self) -> Parsed<Pitch> {
        parse_pitch(&Source::new("typed", &self.text))
    }
}

/// A draft that parses, after every field that does not fit has been left out and named.
fn settled(
    build: impl Fn(&BTreeMap<String, String>) -> Draft,
    stands: &Stands,
    wrong: &mut BTreeMap<String, String>,
) -> (Parsed<Pitch>, bool) {
    // Each round leaves out at least one field, so this ends.
    loop {
        let draft = build(wrong);
        let parsed = draft.parsed();
        let mut more = false;
        for found in &parsed.diagnostics {
            if let Some(field) = draft.lines.get(&found.line) {
                let typed = stands.value(field).unwrap_or("nothing");
                more |= wrong.insert(field.clone(), sentence(found, typed)).is_none();
            }
        }
        if !more {
            return (parsed, draft.whole);
        }
    }
}

/// What is wrong in a thumb's words: what was typed and what would be right, without the names of keys.
fn sentence(found: &Diagnostic, typed: &str) -> String {
    // Two figures in one field are not put together to a third.
    let figures: Vec<&str> = typed.split_whitespace().collect();
    if figures.len() > 1 && figures.iter().all(|figure| figure.chars().all(|c| c.is_ascii_digit())) {
        return format!("You typed {typed}. Write one figure, such as {}.", figures[0]);
    }
    let message = match found.message.split_once("`: ") {
        Some((_, why)) => why.replace('`', ""),
        // That it is past its limits is said by the limits.
        None if found.code == Code::OutOfRange => String::new(),
        None => found.message.replace('`', ""),
    };
    let help = found.help.replace(['"', '`'], "");
    let help = help.strip_prefix("It is ").map_or(help.clone(), |limits| format!("It must be {limits}"));
    let said = [format!("You typed {typed}."), crate::html::capital(&message), help];
    said.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
}

/// The slope as it was typed: which end is high, and by how much. Level is a reading of nought.
fn slope(stands: &Stands, axis: &str, high: &str, units: UnitSet) -> Option<String> {
    let way = stands.value(&format!("slope {axis} way"))?;
    if way == "level" {
        return Some(format!("0 {}", Speaks::Slope.unit(units)));
    }
    let amount = Speaks::Slope.complete(stands.value(&format!("slope {axis}"))?, units);
    // A sign and a word would be two signs.
    let amount = amount.trim_start_matches(['+', '-', '\u{2212}']).to_owned();
    Some(if way == high { amount } else { format!("-{amount}") })
}

/// The pitch of the file with what was typed in the place of its own.
pub(crate) fn merged(
    pitch: &Pitch,
    stands: &Stands,
    ride: &Ride,
    kit: &Kit,
    units: UnitSet,
) -> (Pitch, Typed) {
    let mut typed = Typed::default();
    let mut pitch = pitch.clone();
    readings(&mut pitch, stands, ride, units, &mut typed);
    ground(&mut pitch, stands, kit, &mut typed);
    friction(&mut pitch, stands, &mut typed);
    tests(&mut pitch, stands, ride, kit, units, &mut typed);
    for (what, stand) in stands.iter() {
        if !stand.others.is_empty() {
            let said = format!(
                "Two entries stand: {} and {}. Read it again, and type what you read.",
                stand.value,
                stand.others.join(", ")
            );
            typed.wrong.insert(what.to_owned(), said);
        }
    }
    (pitch, typed)
}

fn readings(pitch: &mut Pitch, stands: &Stands, ride: &Ride, units: UnitSet, typed: &mut Typed) {
    let how = method(stands, pitch);
    let names = names_of(how, ride);
    typed.any = stands.get("method").is_some() || names.iter().any(|name| stands.get(name).is_some());
    let read = names.iter().filter(|name| stands.value(name).is_some()).count();
    typed.read = (read, names.len());
    if !typed.any {
        return;
    }
    typed.wanted = names.iter().filter(|name| stands.get(name).is_none()).cloned().collect();
    // The tape's fields are those that are seen until another way is chosen.
    let (how, name) = (how.unwrap_or(Method::Tape), pitch.about.name.clone());
    let of_file = pitch.readings.take();
    let build = |wrong: &BTreeMap<String, String>| match how {
        Method::Tape => tape(&name, stands, ride, units, of_file.as_ref(), wrong),
        Method::Staff => staff(&name, stands, ride, units, of_file.as_ref(), wrong),
    };
    let (found, whole) = settled(build, stands, &mut typed.wrong);
    // Where a reading is wanted that the others rest on, none of them tells anything.
    pitch.readings = found.value.and_then(|value| value.readings).filter(|_| whole);
    if typed.wrong.keys().any(|name| names.contains(name)) {
        typed.read.0 =
            names.iter().filter(|n| stands.value(n).is_some() && !typed.wrong.contains_key(*n)).count();
    }
}

/// The fields that a method wants, in the order in which they are read.
pub(crate) fn names_of(how: Option<Method>, ride: &Ride) -> Vec<String> {
    let legs = ride.supports_in_order();
    match how {
        Some(Method::Tape) | None => {
            let mut names: Vec<String> = legs.iter().map(|leg| format!("leg {}", leg.name)).collect();
            names.extend(["slope along way".to_owned(), "slope across way".to_owned()]);
            names
        }
        Some(Method::Staff) => {
            let mut names = vec!["staff datum".to_owned()];
            names.extend(legs.iter().map(|leg| format!("staff {}", leg.name)));
            names
        }
    }
}

fn tape(
    name: &str,
    stands: &Stands,
    ride: &Ride,
    units: UnitSet,
    of_file: Option<&tober_book::Readings>,
    wrong: &BTreeMap<String, String>,
) -> Draft {
    let mut draft = Draft::new(name);
    let slopes: Vec<(&str, Option<String>)> = [("along", "front"), ("across", "left")]
        .into_iter()
        .map(|(axis, high)| {
            let field = format!("slope {axis}");
            (axis, slope(stands, axis, high, units).filter(|_| !wrong.contains_key(&field)))
        })
        .collect();
    // Without both slopes a tape tells nothing of the ground; what was typed is still held against its limits.
    draft.whole = slopes.iter().all(|(_, slope)| slope.is_some());
    draft.plain("[readings]\nmethod = \"tape\"");
    for (axis, slope) in slopes {
        match slope {
            Some(slope) => {
                draft.line(&format!("slope {axis}"), &format!("slope-{axis} = {}", quoted(&slope)));
            }
            None => draft.plain(&format!("slope-{axis} = \"0 mm/m\"")),
        }
    }
    let file = match of_file {
        Some(tober_book::Readings::Tape(file)) => Some(file),
        _ => None,
    };
    let own = [
        (
            "slope-deviation",
            "slope deviation",
            Speaks::Slope,
            file.and_then(|f| f.slope_deviation).map(|s| format!("{} mm/m", s.as_mm_per_m())),
        ),
        (
            "tape-deviation",
            "tape deviation",
            Speaks::Fine,
            file.and_then(|f| f.tape_deviation).map(|l| format!("{} mm", l.as_mm())),
        ),
    ];
    for (key, field, speaks, of_file) in own {
        deviation(&mut draft, stands, units, wrong, key, field, speaks, of_file);
    }
    legs(&mut draft, stands, ride, units, wrong);
    draft
}

/// How good an instrument is: typed, or as the pitch's file says of the same instrument.
#[expect(clippy::too_many_arguments, reason = "a line of a table, called twice")]
fn deviation(
    draft: &mut Draft,
    stands: &Stands,
    units: UnitSet,
    wrong: &BTreeMap<String, String>,
    key: &str,
    field: &str,
    speaks: Speaks,
    of_file: Option<String>,
) {
    let typed = stands.value(field).filter(|_| !wrong.contains_key(field));
    if let Some(typed) = typed {
        draft.line(field, &format!("{key} = {}", quoted(&speaks.complete(typed, units))));
    } else if let Some(of_file) = of_file {
        draft.plain(&format!("{key} = {}", quoted(&of_file)));
    }
}

fn legs(draft: &mut Draft, stands: &Stands, ride: &Ride, units: UnitSet, wrong: &BTreeMap<String, String>) {
    draft.plain("leg = [");
    for leg in ride.supports_in_order() {
        let field = format!("leg {}", leg.name);
        if let (Some(typed), false) = (stands.value(&field), wrong.contains_key(&field)) {
            let tape = quoted(&Speaks::Fine.complete(typed, units));
            draft.line(&field, &format!("  {{ leg = {}, tape = {tape} }},", quoted(&leg.name)));
        }
    }
    draft.plain("]");
}

fn staff(
    name: &str,
    stands: &Stands,
    ride: &Ride,
    units: UnitSet,
    of_file: Option<&tober_book::Readings>,
    wrong: &BTreeMap<String, String>,
) -> Draft {
    let mut draft = Draft::new(name);
    draft.plain("[readings]\nmethod = \"staff\"");
    let file = match of_file {
        Some(tober_book::Readings::Staff(file)) => Some(file),
        _ => None,
    };
    let of_file = file.and_then(|f| f.reading_deviation).map(|l| format!("{} mm", l.as_mm()));
    deviation(
        &mut draft,
        stands,
        units,
        wrong,
        "reading-deviation",
        "staff deviation",
        Speaks::Fine,
        of_file,
    );
    // One set-up, whose sights are short: what its line of sight is off by is in the reading's own deviation.
    if draft.text.contains("reading-deviation") {
        let line =
            file.and_then(|f| f.line_of_sight_deviation).map_or(0.1, tober_quantity::Slope::as_mm_per_m);
        draft.plain(&format!("line-of-sight-deviation = \"{line} mm/m\""));
    }
    let datum = stands.value("staff datum").filter(|_| !wrong.contains_key("staff datum"));
    draft.whole = datum.is_some();
    draft.plain("reading = [");
    if let Some(datum) = datum {
        let datum = quoted(&Speaks::Fine.complete(datum, units));
        draft.line(
            "staff datum",
            &format!("  {{ point = \"datum\", set-up = \"1\", kind = \"back\", reading = {datum} }},"),
        );
        for leg in ride.supports_in_order() {
            let field = format!("staff {}", leg.name);
            if let (Some(typed), false) = (stands.value(&field), wrong.contains_key(&field)) {
                let reading = quoted(&Speaks::Fine.complete(typed, units));
                let point = quoted(&leg.name);
                draft.line(
                    &field,
                    &format!(
                        "  {{ point = {point}, set-up = \"1\", kind = \"between\", reading = {reading} }},"
                    ),
                );
            }
        }
    }
    draft.plain("]");
    draft
}

/// The kinds of ground on the page: what is kept, what is shown, and what the pitch calls it.
pub(crate) const GROUNDS: [(&str, &str, &str); 6] = [
    ("paved", "Concrete, tarmac or paving", "what is below it: test it"),
    ("below the topsoil", "Bared: no turf, no topsoil", "say which, or test it"),
    ("topsoil", "Topsoil without turf", "test it"),
    ("turf", "Turf", "test it"),
    ("fill", "Fill or made ground", "test it"),
    ("", "Nobody has looked", "not known"),
];

/// The boards that may lie on the ground.
pub(crate) fn bottoms(kit: &Kit) -> Vec<&str> {
    let big =
        kit.boards.iter().filter(|b| matches!(b.role, TimberRole::Timber | TimberRole::Mat) && b.count > 0);
    big.map(|board| board.name.as_str()).collect()
}

fn ground(pitch: &mut Pitch, stands: &Stands, kit: &Kit, typed: &mut Typed) {
    let Some(surface) = stands.value("ground") else { return };
    let name = pitch.about.name.clone();
    // A board that was asked for in the file stays asked for until another is chosen.
    let of_file = pitch.grounds.first().map(|ground| ground.bottom.clone());
    let chosen = stands.value("bottom").map(str::to_owned).or(of_file);
    let Some(bottom) = chosen.filter(|b| b == "any" || kit.boards.iter().any(|board| &board.name == b))
    else {
        typed.wrong.insert("bottom".to_owned(), "Say which board lies on the ground.".to_owned());
        pitch.grounds.clear();
        return;
    };
    let build = |wrong: &BTreeMap<String, String>| {
        let mut draft = Draft::new(&name);
        draft.plain("[[ground]]\nunder = \"every foot\"\ntest = []");
        draft.line("bottom", &format!("bottom = {}", quoted(&bottom)));
        if !wrong.contains_key("ground") {
            draft.line("ground", &format!("surface = {}", quoted(surface)));
        }
        if let (Some(wet), false) = (stands.value("wet"), wrong.contains_key("wet")) {
            draft.line("wet", &format!("wet = {}", quoted(wet)));
        }
        if let (Some(class), "below the topsoil") = (stands.value("ground class"), surface)
            && let Some((table, class)) = class.split_once(" / ")
            && !wrong.contains_key("ground class")
        {
            draft.line(
                "ground class",
                &format!(
                    "basis = {{ by = \"class\", table = {}, class = {} }}",
                    quoted(table),
                    quoted(class)
                ),
            );
        } else {
            draft.plain("basis = { by = \"tests\" }");
        }
        draft
    };
    let (found, _) = settled(build, stands, &mut typed.wrong);
    pitch.grounds = found.value.map(|value| value.grounds).unwrap_or_default();
}

/// What a pull test told, of all the ground there is.
fn friction(pitch: &mut Pitch, stands: &Stands, typed: &mut Typed) {
    let Some(pull) = stands.value("friction") else { return };
    if pitch.grounds.is_empty() {
        typed.wrong.insert("friction".to_owned(), "Say first what the feet stand on.".to_owned());
        return;
    }
    let name = pitch.about.name.clone();
    let build = |wrong: &BTreeMap<String, String>| {
        let mut draft = Draft::new(&name);
        draft.plain("[[ground]]\nunder = \"every foot\"\nbottom = \"any\"\ntest = []");
        let figure = Speaks::Count.complete(pull, UnitSet::Metric);
        // A bare number, so only letters of one may stand there.
        let bare = !figure.is_empty() && figure.chars().all(|c| c.is_ascii_digit() || c == '.');
        let figure = if bare { figure } else { quoted(&figure) };
        if !wrong.contains_key("friction") {
            draft.line("friction", &format!("friction = {figure}"));
        }
        draft
    };
    let (found, _) = settled(build, stands, &mut typed.wrong);
    let told =
        found.value.and_then(|value| value.grounds.into_iter().next()).and_then(|ground| ground.friction);
    // What was typed wrong is not known: no older figure stands in for it.
    pitch.grounds.iter_mut().for_each(|ground| ground.friction = told);
}

/// When a foot was loaded and when its sink was read, in whole minutes between.
pub(crate) fn waited_min(stands: &Stands, leg: &str) -> Option<u64> {
    let begun = stands.get(&format!("loaded {leg}"))?;
    let read = stands.get(&format!("sink {leg}"))?;
    // Both by the clock that never steps back, rounded down: a wait is never counted longer than it was.
    Some(read.at_ms.saturating_sub(begun.at_ms) / 60_000)
}

fn tests(pitch: &mut Pitch, stands: &Stands, ride: &Ride, kit: &Kit, units: UnitSet, typed: &mut Typed) {
    for leg in ride.supports_in_order() {
        let (load, sink) = (format!("sink load {}", leg.name), format!("sink {}", leg.name));
        let (Some(on), Some(sunk)) = (stands.value(&load), stands.value(&sink)) else { continue };
        let Some(wait) = waited_min(stands, &leg.name) else {
            typed.wrong.insert(sink, "Say when the load came on: the wait is counted from there.".to_owned());
            continue;
        };
        let Some(ground) = ground_of(pitch, &leg.name) else {
            typed.wrong.insert(
                "ground".to_owned(),
                "Say what lies under the feet: a test is of some ground.".to_owned(),
            );
            continue;
        };
        let board = kit.boards.iter().find(|board| board.name == ground.bottom);
        let Some(board) = board else {
            typed
                .wrong
                .insert(sink, "Say which board lies on the ground: the test was made on it.".to_owned());
            continue;
        };
        let (length, width, bottom) = (board.length.as_mm(), board.width.as_mm(), board.name.clone());
        let name = pitch.about.name.clone();
        let leg_name = leg.name.clone();
        let build = |wrong: &BTreeMap<String, String>| {
            let mut draft = Draft::new(&name);
            if wrong.contains_key(&load) || wrong.contains_key(&sink) {
                return draft;
            }
            draft.plain(
                "[[ground]]\nunder = \"every foot\"\nbottom = \"any\"\n[[ground.test]]\nkind = \"sink\"",
            );
            draft.line(&load, &format!("load = {}", quoted(&Speaks::Load.complete(on, units))));
            draft.plain(&format!("plate-length = \"{length} mm\"\nplate-width = \"{width} mm\""));
            draft.plain(&format!("boards = [{}]", quoted(&bottom)));
            draft.plain(&format!("wait = \"{} min\"", wait.max(1)));
            draft.line(&sink, &format!("sink = {}", quoted(&Speaks::Fine.complete(sunk, units))));
            draft.plain(&format!("at = {}", quoted(&leg_name)));
            draft
        };
        let (found, _) = settled(build, stands, &mut typed.wrong);
        let test = found.value.and_then(|value| value.grounds.into_iter().next()?.tests.0.into_iter().next());
        if let (Some(test), Some(ground)) = (test, ground_of(pitch, &leg.name)) {
            // A new test of a foot takes the place of the older one.
            let older = |test: &GroundTest| matches!(test, GroundTest::Sink(s) if s.at.as_deref() == Some(leg.name.as_str()));
            let kept = core::mem::replace(&mut ground.tests, Listed(Vec::new())).0;
            ground.tests.0 = kept.into_iter().filter(|test| !older(test)).chain([test]).collect();
        }
    }
}

fn ground_of<'a>(pitch: &'a mut Pitch, leg: &str) -> Option<&'a mut tober_book::Ground> {
    let named = |g: &tober_book::Ground| g.under.names().iter().any(|name| name == leg);
    let place = pitch
        .grounds
        .iter()
        .position(named)
        .or_else(|| pitch.grounds.iter().position(|g| g.under == Under::EveryFoot))?;
    pitch.grounds.get_mut(place)
}
