//! Every reader over real files that are spoiled in thousands of seeded ways: never a panic, and every complaint
//! a sentence at the place where it belongs.

#![expect(clippy::print_stdout, reason = "a test prints what it measured")]

mod spoil;

use spoil::{Chance, number_replaced, spoiled};
use tober_book::{
    Diagnostic, FileKind, Source, disagreements, parse_crew, parse_frame, parse_kit, parse_pitch, parse_ride,
    parse_visit, parse_weighing, with_rows,
};

const RIDE: &str = include_str!("data/full.ride.toml");
const KIT: &str = include_str!("data/full.kit.toml");
const PITCH: &str = include_str!("data/full.pitch.toml");
const VISIT: &str = include_str!("data/full.visit.toml");

const FILES: [(FileKind, &str); 18] = [
    (FileKind::Ride, RIDE),
    (FileKind::Ride, include_str!("data/least.ride.toml")),
    (FileKind::Ride, include_str!("../../../demo/lantern/ride.toml")),
    (FileKind::Kit, KIT),
    (FileKind::Kit, include_str!("../../../demo/lantern/kit.toml")),
    (FileKind::Crew, include_str!("data/full.crew.toml")),
    (FileKind::Crew, include_str!("../../../demo/lantern/crew.toml")),
    (FileKind::Pitch, PITCH),
    (FileKind::Pitch, include_str!("data/staff.pitch.toml")),
    (FileKind::Pitch, include_str!("../../../demo/lantern/plover-hard/pitch.toml")),
    (FileKind::Pitch, include_str!("../../../demo/osier/kestrel-yard/pitch.toml")),
    (FileKind::Pitch, include_str!("../../../demo/osier/sallow-green/pitch.toml")),
    (FileKind::Kit, include_str!("../../../demo/osier/kit.toml")),
    (FileKind::Visit, VISIT),
    (FileKind::Visit, include_str!("../../../demo/lantern/quern-meadow/visit.toml")),
    (FileKind::Frame, include_str!("data/heights.frame.toml")),
    (FileKind::Frame, include_str!("data/level.frame.toml")),
    (FileKind::Weighing, include_str!("data/full.weighing.toml")),
];

/// The pitch of the meadow names a file of rows.
const MEADOW: &str = include_str!("../../../demo/lantern/quern-meadow/pitch.toml");
const ROWS: &str = include_str!("../../../demo/lantern/quern-meadow/tape.csv");

/// A complaint stands where it says, on whole letters, and is made of sentences.
#[track_caller]
fn located(d: &Diagnostic, text: &str, seed: u64) {
    let shown = d.to_string();
    let (start, end) = (d.span.start, d.span.end);
    assert!(start <= end && end <= text.len(), "seed {seed}: {start}..{end} of {}: {shown}", text.len());
    assert!(text.is_char_boundary(start) && text.is_char_boundary(end), "seed {seed}: {shown}");
    let before = &text[..start];
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().map_or(0, |l| l.chars().count()) + 1;
    assert_eq!((d.line, d.column), (line, column), "seed {seed}: {shown}");
    for sentence in [&d.message, &d.help] {
        assert!(sentence.ends_with(['.', '?']), "seed {seed}: a sentence has a stop: {shown}");
    }
    let under = shown.lines().find(|line| line.starts_with("  | ") && line.contains('^'));
    assert!(under.is_some(), "seed {seed}: something is underlined: {shown}");
}

fn complaints(kind: FileKind, text: &str) -> (bool, Vec<Diagnostic>) {
    let source = Source::new(kind.file_name(), text);
    match kind {
        FileKind::Ride => told(parse_ride(&source)),
        FileKind::Kit => told(parse_kit(&source)),
        FileKind::Crew => told(parse_crew(&source)),
        FileKind::Pitch => told(parse_pitch(&source)),
        FileKind::Visit => told(parse_visit(&source)),
        FileKind::Frame => told(parse_frame(&source)),
        FileKind::Weighing => told(parse_weighing(&source)),
    }
}

fn told<T>(parsed: tober_book::Parsed<T>) -> (bool, Vec<Diagnostic>) {
    (parsed.value.is_some(), parsed.diagnostics)
}

#[test]
fn refuse_spoiled_files_at_the_place_and_never_a_panic() {
    let (mut refused, mut all) = (0, 0);
    for seed in 0..6000_u64 {
        let (kind, whole) = FILES[usize::try_from(seed).unwrap_or(0) % FILES.len()];
        let text = spoiled(whole, &mut Chance(seed));
        let (value, found) = complaints(kind, &text);
        assert_ne!(value, !found.is_empty(), "seed {seed}: a value, or what is wrong: {found:?}");
        refused += usize::from(!value);
        all += found.len();
        for diagnostic in &found {
            located(diagnostic, &text, seed);
        }
        let sorted = found.windows(2).all(|pair| pair[0].span.start <= pair[1].span.start);
        assert!(sorted, "seed {seed}: complaints stand in file order");
    }
    println!("{refused} of 6000 spoiled files refused, with {all} complaints");
    assert!(refused > 3000 && refused < 6000, "{refused} refused");
}

#[test]
fn refuse_spoiled_rows_at_the_place_and_never_a_panic() {
    let mut refused = 0;
    for seed in 0..1500_u64 {
        let mut chance = Chance(seed ^ 0x0C5F);
        let rows = spoiled(ROWS, &mut chance);
        let pitch = parse_pitch(&Source::new("pitch.toml", MEADOW));
        let read = with_rows(pitch, &Source::new("tape.csv", &rows));
        refused += usize::from(read.value.is_none());
        for diagnostic in &read.diagnostics {
            assert_eq!(diagnostic.file, "tape.csv", "seed {seed}: {diagnostic}");
            located(diagnostic, &rows, seed);
        }
    }
    println!("{refused} of 1500 spoiled files of rows refused");
    assert!(refused > 500 && refused < 1500, "{refused} refused");
}

#[test]
fn refuse_what_spoiled_files_disagree_on_and_never_a_panic() {
    let mut disagreed = 0;
    for seed in 0..600_u64 {
        let mut chance = Chance(seed ^ 0xD15A);
        let mut texts = [RIDE, KIT, PITCH, VISIT].map(str::to_owned);
        let which = chance.below(4);
        texts[which] = if seed % 3 == 0 {
            spoiled(&texts[which], &mut chance)
        } else {
            // A name with another number in it is a name that nobody bears.
            number_replaced(&texts[which].replace("left", "left 7"), "8", &mut chance)
        };
        let [ride, kit, pitch, visit] = &texts;
        let found = disagreements(
            &parse_ride(&Source::new("ride.toml", ride)),
            &parse_kit(&Source::new("kit.toml", kit)),
            &parse_pitch(&Source::new("pitch.toml", pitch)),
            &parse_visit(&Source::new("visit.toml", visit)),
        );
        disagreed += usize::from(!found.is_empty());
        for diagnostic in &found {
            let text = match diagnostic.file.as_str() {
                "ride.toml" => ride,
                "kit.toml" => kit,
                "pitch.toml" => pitch,
                _ => visit,
            };
            located(diagnostic, text, seed);
        }
    }
    println!("{disagreed} of 600 sets of spoiled files disagree");
    assert!(disagreed > 50, "{disagreed} disagree");
}
