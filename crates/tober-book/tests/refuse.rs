//! Every kind of error is refused, where it stands, with what would be right.

mod shape;

use shape::{Shapes, of_shape};
use tober_book::*;

const RIDE: &str = include_str!("data/full.ride.toml");
const KIT: &str = include_str!("data/full.kit.toml");
const CREW: &str = include_str!("data/full.crew.toml");
const PITCH: &str = include_str!("data/full.pitch.toml");
const STAFF: &str = include_str!("data/staff.pitch.toml");
const VISIT: &str = include_str!("data/full.visit.toml");

fn diagnostics(file: FileKind, text: &str) -> Vec<Diagnostic> {
    let source = Source::new(file.file_name(), text);
    match file {
        FileKind::Ride => parse_ride(&source).diagnostics,
        FileKind::Kit => parse_kit(&source).diagnostics,
        FileKind::Crew => parse_crew(&source).diagnostics,
        FileKind::Pitch => parse_pitch(&source).diagnostics,
        FileKind::Visit => parse_visit(&source).diagnostics,
        FileKind::Frame => parse_frame(&source).diagnostics,
        FileKind::Weighing => parse_weighing(&source).diagnostics,
    }
}

/// One thing is changed in a good file; it must be refused with this code, at the text `at`, and a sentence
/// or help that holds `says`. `at` empty means only that it is located somewhere.
#[track_caller]
fn refused(file: FileKind, text: &str, change: (&str, &str), code: Code, at: &str, says: &str) {
    assert_eq!(text.matches(change.0).count(), 1, "{:?} stands once in the good file", change.0);
    let text = text.replace(change.0, change.1);
    let found = diagnostics(file, &text);
    let told = |d: &&Diagnostic| {
        d.code == code
            && text[d.span.start..d.span.end].contains(at)
            && (d.message.contains(says) || d.help.contains(says))
    };
    let all: Vec<String> = found.iter().map(ToString::to_string).collect();
    let Some(d) = found.iter().find(told) else { panic!("not refused so:\n{}", all.join("\n")) };
    assert_eq!(found.len(), 1, "one mistake is one complaint:\n{}", all.join("\n"));
    if of_shape(d) {
        let said = Shapes::new().said(file, &text).expect("it is TOML");
        assert!(!said.is_empty(), "the schema takes what is wrong in its shape: {d}");
    }
    let line = text[..d.span.start].matches('\n').count() + 1;
    let column = text[..d.span.start].rsplit('\n').next().map_or(0, |l| l.chars().count()) + 1;
    assert_eq!((d.line, d.column), (line, column), "{d}");
    assert_eq!(d.excerpt, text.lines().nth(line - 1).unwrap_or(""));
    assert!(
        d.message.ends_with(['.', '?']) && d.help.ends_with(['.', '?']),
        "sentences end with a stop: {d}"
    );
}

/// The place stands under the mark whatever the length of the line, and what is left out of it is said.
#[test]
fn regress_the_mark_is_under_the_place_in_a_long_line() {
    for at in [0, 5, 39, 40, 41, 95, 96, 97, 200, 394] {
        let mut line = vec!['é'; 400];
        line.splice(at..at + 3, "xyz".chars());
        let text: String = line.into_iter().collect();
        let start = at * 'é'.len_utf8();
        let source = Source::new("ride.toml", &text);
        let told = Diagnostic::new(
            &source,
            Span { start, end: start + 3 },
            Code::Syntax,
            "No.".into(),
            String::new(),
        );
        let said = told.to_string();
        let [_, shown, mark] = said.lines().collect::<Vec<_>>()[..] else { panic!("three lines: {said}") };
        let under: String = shown
            .chars()
            .zip(mark.chars())
            .filter(|(_, mark)| *mark == '^')
            .map(|(shown, _)| shown)
            .collect();
        assert!(under == "xyz" || under == "xy" || under == "x", "{said}");
        assert_eq!(under, "xyz".chars().take(under.len()).collect::<String>());
        assert!(shown.chars().count() <= 104 && shown.contains('…'), "{said}");
    }
}

use Code::*;
use FileKind::*;

#[test]
fn refuse_syntax() {
    let found = diagnostics(Kit, &KIT.replace("[kit]", "[kit"));
    assert_eq!((found[0].code, found[0].line, found[0].column), (Syntax, 3, 5));
    assert!(found.iter().all(|d| d.code == Syntax), "nothing is said of what may only seem wrong: {found:?}");
    // What is wrong before the tear is told with it.
    let found =
        diagnostics(Kit, &KIT.replace("format = 0", "format = 9").replace("count = 24", "count = = 24"));
    assert_eq!(found.iter().map(|d| d.code).collect::<Vec<_>>(), [OutOfRange, Syntax, Syntax]);
    refused(Crew, CREW, ("tag = \"Ch\"", "tag = \"Ch"), Syntax, "", "not TOML");
}

#[test]
fn refuse_a_format_of_another_time() {
    for (file, text) in [(Ride, RIDE), (Kit, KIT), (Crew, CREW), (Pitch, PITCH), (Visit, VISIT)] {
        refused(file, text, ("format = 0", "format = 1"), OutOfRange, "1", "from 0 to 0");
        refused(file, text, ("format = 0", ""), Missing, "", "`format` is missing");
    }
}

#[test]
fn refuse_unknown_keys_with_the_nearest_name() {
    refused(
        Kit,
        KIT,
        ("thickness-thin =", "thicknes-thin ="),
        UnknownKey,
        "thicknes-thin",
        "`thickness-thin`",
    );
    refused(
        Ride,
        RIDE,
        ("rated-load = \"4.6 t\"", "rated_load = \"4.6 t\""),
        UnknownKey,
        "rated_load",
        "`rated-load`",
    );
    refused(Ride, RIDE, ("[motion]", "[motionn]"), UnknownKey, "motionn", "`motion`");
    refused(Visit, VISIT, ("[pose]", "[umbrella]"), UnknownKey, "umbrella", "The keys here are");
    // A key of another way of holding.
    let screw = ("thread-pitch = \"6 mm\"", "hole-pitch = \"6 mm\"");
    refused(Ride, RIDE, screw, UnknownKey, "hole-pitch", "The keys here are");
}

#[test]
fn refuse_what_is_missing() {
    refused(Ride, RIDE, ("name = \"Paper Lanterns\"\n", ""), Missing, "", "`name` is missing");
}

#[test]
fn refuse_a_ride_without_any_mass() {
    let least = include_str!("data/least.ride.toml");
    let mass = ("mass = \"3.4 t ± 5 %\"\nmass-from = \"maker\"\n", "");
    refused(Ride, least, mass, Missing, "[ride]", "No mass is written");
}

#[test]
fn refuse_bare_numbers_with_the_units_that_are_accepted() {
    refused(Kit, KIT, ("\"48 mm\"", "48"), WrongKind, "48", "\"640 mm\"");
    refused(Ride, RIDE, ("at = \"3.1 m\"", "at = 3.1"), WrongKind, "3.1", "with its unit");
    refused(Ride, RIDE, ("[\"9.6 m\", \"0 m\"]", "[9.6, \"0 m\"]"), WrongKind, "9.6", "with its unit");
    refused(Ride, RIDE, ("\"9.6 t ± 3 %\"", "9600"), WrongKind, "9600", "a mass with its unit");
    refused(Pitch, PITCH, ("\"6.5 mm/m\"", "6.5"), WrongKind, "6.5", "a slope with its unit");
    // A number in quotes without a unit.
    refused(Kit, KIT, ("\"48 mm\"", "\"48\""), Unreadable, "48", "mm");
}

#[test]
fn refuse_values_of_the_wrong_kind() {
    refused(Kit, KIT, ("count = 24", "count = \"24\""), WrongKind, "24", "whole number");
    refused(Kit, KIT, ("count = 24", "count = 24.5"), WrongKind, "24.5", "whole number");
    refused(Ride, RIDE, ("turning-by-hand = true", "turning-by-hand = 1"), WrongKind, "1", "true or false");
    refused(
        Ride,
        RIDE,
        ("after = [\"raise tower\"]", "after = \"raise tower\""),
        WrongKind,
        "raise",
        "a list",
    );
    refused(
        Ride,
        RIDE,
        ("wheels = \"clear\"", "wheels = [\"clear\"]"),
        WrongKind,
        "clear",
        "a word in quotes",
    );
    refused(
        Ride,
        RIDE,
        ("jack-at = [\"8.9 m\", \"0 m\"]", "jack-at = \"8.9 m\""),
        WrongKind,
        "8.9",
        "a list of two",
    );
}

#[test]
fn refuse_quantities_that_cannot_be_read() {
    refused(Kit, KIT, ("\"48 mm\"", "\"48 kg\""), Unreadable, "kg", "a length");
    refused(Kit, KIT, ("\"48 mm\"", "\"4,8 mm\""), Unreadable, "4,8", "4.8");
    refused(Ride, RIDE, ("\"11 rpm\"\ncarried", "\"fast\"\ncarried"), Unreadable, "fast", "");
    refused(Ride, RIDE, ("rated-load = \"4.6 t\"", "rated-load = \"4.6 m\""), Unreadable, "m", "");
    refused(
        Ride,
        RIDE,
        ("rated-load = \"4.6 t\"", "rated-load = \"4.6 t ± 5 %\""),
        Unreadable,
        "4.6",
        "without ±",
    );
    refused(Kit, KIT, ("\"2031-02-01\"", "\"2031-02-29\""), Unreadable, "2031-02-29", "not a day");
    refused(Crew, CREW, ("\"05:30\"", "\"5.30\""), Unreadable, "5.30", "time of day");
}

#[test]
fn refuse_what_is_out_of_range() {
    refused(Kit, KIT, ("\"48 mm\"", "\"0 mm\""), OutOfRange, "0 mm", "more than");
    refused(Kit, KIT, ("\"48 mm\"", "\"-48 mm\""), OutOfRange, "-48 mm", "more than");
    refused(Kit, KIT, ("\"48 mm\"", "\"48 m\""), OutOfRange, "48 m", "at most");
    refused(Kit, KIT, ("count = 24", "count = -1"), OutOfRange, "-1", "from 0");
    refused(Kit, KIT, ("count = 24", "count = 99999999999999999999"), OutOfRange, "9", "from 0");
    refused(Kit, KIT, ("power-factor = 0.8", "power-factor = 1.2"), OutOfRange, "1.2", "at most");
    refused(
        Ride,
        RIDE,
        ("hole-count = 9\nretracted", "hole-count = 0\nretracted"),
        OutOfRange,
        "0",
        "from 1",
    );
    refused(Ride, RIDE, ("\"310 kg\"", "\"310 kg ± 400 kg\""), OutOfRange, "310", "more than");
    refused(Ride, RIDE, ("[\"9.6 m\", \"0 m\"]", "[\"9.6 km\", \"0 m\"]"), OutOfRange, "9.6 km", "500 m");
    refused(Ride, RIDE, ("short = \"FL\"", "short = \"F1\""), OutOfRange, "F1", "two letters");
    refused(Crew, CREW, ("tag = \"Po\"", "tag = \"Pole\""), OutOfRange, "Pole", "two letters");
    refused(Visit, VISIT, ("\"kit.toml\"", "\"../kit.toml\""), OutOfRange, "../kit.toml", "folder");
    refused(Visit, VISIT, ("\"kit.toml\"", "\"/etc/kit.toml\""), OutOfRange, "/etc", "folder");
    refused(Ride, RIDE, ("maker = \"Nobody's Works\"", "maker = \" \""), OutOfRange, "", "empty");
}

#[test]
fn refuse_a_list_longer_than_any() {
    let many = format!("stored-energy = [{}]", "\"spring\", ".repeat(2001));
    refused(Ride, RIDE, ("stored-energy = [\"brake spring\"]", &many), OutOfRange, "spring", "At most 2000");
}

#[test]
fn refuse_words_and_names() {
    refused(Ride, RIDE, ("wheels = \"clear\"", "wheels = \"claer\""), UnknownWord, "claer", "\"clear\"");
    refused(Ride, RIDE, ("by = \"leg-and-sleeve holes\"", "by = \"rope\""), UnknownWord, "rope", "\"screw\"");
    refused(Ride, RIDE, ("from = \"n1\"", "from = \"n3\""), UnknownName, "n3", "n1");
    refused(Ride, RIDE, ("inlet = \"inlet 1\"", "inlet = \"inlet 2\""), UnknownName, "inlet 2", "inlet 1");
    refused(
        Ride,
        RIDE,
        ("from = \"road\", to = \"open\" }]\nsets", "from = \"road\", to = \"opn\" }]\nsets"),
        UnknownName,
        "opn",
        "\"open\"",
    );
    refused(
        Ride,
        RIDE,
        ("to = \"arm A root\"", "to = \"arm B root\""),
        UnknownName,
        "arm B root",
        "arm A root",
    );
    refused(Ride, RIDE, ("name = \"rod\"", "name = \"tower\""), RepeatedName, "tower", "already");
    refused(Ride, RIDE, ("name = \"rod\"", "name = \"frame\""), RepeatedName, "frame", "the frame itself");
    refused(
        Ride,
        RIDE,
        ("name = \"rear right\"", "name = \"rear left\""),
        RepeatedName,
        "rear left",
        "on line",
    );
    refused(Kit, KIT, ("name = \"wedge\"", "name = \"50\""), RepeatedName, "50", "already");
    refused(Ride, RIDE, ("name = \"rod\"", "name = \"rod \""), OutOfRange, "rod ", "name");
}

#[test]
fn refuse_circles() {
    let after = ("title = \"Raise the tower\"", "title = \"Raise\"\nafter = [\"swing A\"]");
    refused(Ride, RIDE, after, Circle, "swing A", "wait for each other");
    let itself = ("after = [\"raise tower\"]", "after = [\"swing A\"]");
    refused(Ride, RIDE, itself, Circle, "swing A", "waits for itself");
    let carried = ("carried-by = \"frame\"\nmass = \"2.1 t", "carried-by = \"arm A\"\nmass = \"2.1 t");
    refused(Ride, RIDE, carried, Circle, "", "carries itself");
}

#[test]
fn refuse_geometry() {
    let same = ("at = [\"0.6 m\", \"-1.1 m\"]", "at = [\"7.6 m\", \"-1.1 m\"]");
    refused(Ride, RIDE, same, Geometry, "7.6 m", "stands where");
    let line = ("at = [\"0.6 m\", \"1.1 m\"]", "at = [\"7.6 m\", \"0 m\"]");
    refused(Ride, RIDE, line, Geometry, "", "in one line");
    let flat = ("[\"8.4 m\", \"1.2 m\"], [\"0 m\", \"1.2 m\"]]", "[\"4 m\", \"-1.2 m\"]]");
    refused(Ride, RIDE, flat, Geometry, "", "no area");
    let twice =
        ("[\"8.4 m\", \"1.2 m\"], [\"0 m\", \"1.2 m\"]]", "[\"8.4 m\", \"1.2 m\"], [\"0 m\", \"-1.2 m\"]]");
    refused(Ride, RIDE, twice, Geometry, "", "same place");
    refused(
        Ride,
        RIDE,
        ("at = [\"8.4 m\", \"-1.2 m\"]", "at = [\"0 m\", \"-1.2 m\"]"),
        Geometry,
        "",
        "is where",
    );
    refused(Ride, RIDE, ("to = \"n2\"", "to = \"n1\""), Geometry, "n1", "begins and ends");
    refused(Ride, RIDE, ("wall = \"12 mm\"", "wall = \"400 mm\""), Geometry, "400 mm", "thicker");
    let car = "[[seat]]\nname = \"car B\"\nradius = \"4.4 m\"\nangle = \"360 deg\"\nheight = \"1.6 m\"\nplaces = 2\non = \"centre\"\n\n[limits]";
    refused(Ride, RIDE, ("[limits]", car), Geometry, "360 deg", "is where");
}

#[test]
fn refuse_too_few_supports() {
    let steady = (
        "at = [\"0.6 m\", \"1.1 m\"]\ndoes = \"carries\"",
        "at = [\"0.6 m\", \"1.1 m\"]\ndoes = \"steadies\"",
    );
    refused(Ride, RIDE, steady, Missing, "", "here are 2");
    let none = "format = 0\n[ride]\nname = \"x\"\nmass = \"1 t\"\n[frame]\n";
    assert_eq!(diagnostics(Ride, none).len(), 1, "only the supports are missing");
}

#[test]
fn refuse_what_cannot_both_be_true() {
    refused(Ride, RIDE, ("order = 2\nheld", "order = 1\nheld"), Disagreement, "1", "`order`");
    refused(Ride, RIDE, ("low = \"8 min\"", "low = \"13 min\""), Disagreement, "", "`usual`");
    refused(Ride, RIDE, ("low = \"6 A\"", "low = \"10 A\""), Disagreement, "10 A", "above");
    refused(Ride, RIDE, ("low = \"6 A\"", "low = \"6 V\""), Disagreement, "", "of one kind");
    refused(
        Ride,
        RIDE,
        ("\"9.6 t ± 3 %\"", "\"1.6 t ± 3 %\""),
        Disagreement,
        "1.6 t",
        "together are at least",
    );
    refused(
        Ride,
        RIDE,
        ("datum = \"the", "width = \"2.4 m\"\ndatum = \"the"),
        Disagreement,
        "",
        "also a length",
    );
    refused(Ride, RIDE, ("on-the-road = 4", "on-the-road = 3"), Disagreement, "4", "add up");
    refused(
        Ride,
        RIDE,
        ("holds = 6\non-the-road = 4", "holds = 3\non-the-road = 4"),
        Disagreement,
        "4",
        "which holds 3",
    );
    refused(
        Ride,
        RIDE,
        ("retracted-length = \"500 mm\"", "retracted-length = \"550 mm\""),
        Disagreement,
        "550",
        "hole 1",
    );
    refused(
        Ride,
        RIDE,
        ("temperature-least = \"-5 °C\"", "temperature-least = \"50 °C\""),
        Disagreement,
        "50",
        "hottest",
    );
    refused(Ride, RIDE, ("speed = \"13 m/s\"", "speed = \"30 m/s\""), Disagreement, "", "more wind");
    refused(
        Ride,
        RIDE,
        ("{ support = \"front left\" }", "{ support = \"front left\", switch = \"x\" }"),
        Disagreement,
        "",
        "one thing",
    );
    refused(Kit, KIT, ("role = \"wedge\"", "role = \"timber\""), Disagreement, "2 mm", "not a wedge");
    refused(
        Pitch,
        PITCH,
        ("under = [\"rear right\"]", "under = [\"front left\"]"),
        Disagreement,
        "front left",
        "told twice",
    );
    refused(Pitch, PITCH, ("bottom = \"6 m\"", "bottom = \"9 m\""), Disagreement, "9 m", "above its top");
    refused(
        Pitch,
        PITCH,
        ("with = \"tape and", "file = \"tape.csv\"\nwith = \"tape and"),
        Disagreement,
        "tape.csv",
        "in a file",
    );
    refused(
        Pitch,
        STAFF,
        ("set-up = \"S1\", kind = \"fore\"", "set-up = \"S2\", kind = \"fore\""),
        Missing,
        "S2",
        "back",
    );
    refused(
        Visit,
        VISIT,
        ("until = \"2031-05-06\"", "until = \"2031-05-01\""),
        Disagreement,
        "2031-05-01",
        "before",
    );
}

#[test]
fn refuse_all_at_once_in_file_order() {
    let text = RIDE
        .replace("name = \"Paper Lanterns\"", "nam = \"Paper Lanterns\"")
        .replace("level-along = \"4 mm/m\"", "level-along = 4")
        .replace("from = \"n1\"", "from = \"n9\"")
        .replace("wall = \"12 mm\"", "wall = \"400 mm\"")
        .replace("order = 2\nheld", "order = 1\nheld")
        .replace("\"0.03 A\"", "\"0.03 V\"");
    let found = diagnostics(Ride, &text);
    let codes: Vec<Code> = found.iter().map(|d| d.code).collect();
    let wanted = [UnknownKey, WrongKind, UnknownName, Disagreement, Geometry, Unreadable];
    assert_eq!(codes, wanted, "{found:#?}");
    assert!(found.is_sorted_by_key(|d| d.span.start));
}

#[test]
fn hand_a_complaint_is_printed_with_its_place_and_underlined() {
    let text = "format = 0\n[kit]\nname = \"Van 1\"\n[[board]]\nname = \"50\"\nthickness = 48\nlength = \"600 mm\"\nwidth = \"225 mm\"\ncount = 4\nrole = \"timber\"\n";
    let found = parse_kit(&Source::new("kit.toml", text)).diagnostics;
    let wanted = "kit.toml:6:13: error: `thickness` needs a length with its unit, in quotes, and this is a bare number.\n  | thickness = 48\n  |             ^^\n  = Write it as \"640 mm\", \"1.82 m\", \"25 1/4 in\" or \"5 ft 11 1/2 in\".";
    assert_eq!(found.iter().map(ToString::to_string).collect::<Vec<_>>(), [wanted]);
}

#[test]
fn refuse_files_that_disagree() {
    let ride = parse_ride(&Source::new("ride.toml", RIDE));
    let kit = parse_kit(&Source::new("kit.toml", KIT));
    let pitch = |text: &str| parse_pitch(&Source::new("pitch.toml", text));
    let visit = |text: &str| parse_visit(&Source::new("visit.toml", text));
    assert_eq!(disagreements(&ride, &kit, &pitch(PITCH), &visit(VISIT)).len(), 1, "10 m is not said");
    let like = VISIT.replace("averaged-over = \"3 s\" }", "averaged-over = \"3 s\", at-height = \"10 m\" }");
    assert_eq!(disagreements(&ride, &kit, &pitch(PITCH), &visit(&like)), []);

    let looser = like.replace("\"11 m/s\"", "\"14 m/s\"");
    let found = disagreements(&ride, &kit, &pitch(PITCH), &visit(&looser));
    assert_eq!((found[0].code, found[0].file.as_str()), (Disagreement, "visit.toml"));
    let body = like.replace("[\"floor\"]", "[\"flor\"]");
    let found = disagreements(&ride, &kit, &pitch(PITCH), &visit(&body));
    assert!(found[0].help.contains("\"floor\""), "{}", found[0]);
    let leg = PITCH.replace("leg = \"front left\", tape", "leg = \"front lefft\", tape");
    let found = disagreements(&ride, &kit, &pitch(&leg), &visit(&like));
    assert_eq!((found[0].code, found[0].file.as_str(), found.len()), (UnknownName, "pitch.toml", 1));
    let tools = parse_kit(&Source::new("kit.toml", &KIT.replace("name = \"bar\"", "name = \"spanner\"")));
    let found = disagreements(&ride, &tools, &pitch(PITCH), &visit(&like));
    assert_eq!((found[0].code, found[0].file.as_str(), found.len()), (UnknownName, "ride.toml", 1));
}
