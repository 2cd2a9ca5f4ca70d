//! Small rides by chance: every claim against every stage.

use std::collections::BTreeSet;
use std::fmt::Write;
use tober_book::{Ride, Source, parse_ride};
use tober_plan::again_by_stages;
use tober_procedure::{Cure, Rule, Verdict, prove};

/// How many rides are made.
const RIDES: u64 = 600;

/// Numbers that look like chance and are the same every time (a linear congruence; multiplier and increment as in
/// common use, from memory).
struct Chance(u64);

impl Chance {
    fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % end
    }

    fn one<'a>(&mut self, of: &[&'a str]) -> &'a str {
        of[self.below(of.len() as u64) as usize]
    }

    fn often(&mut self, of_ten: u64) -> bool {
        self.below(10) < of_ten
    }
}

const HEAD: &str = r#"
format = 0
[ride]
name = "Invented by chance"
invented = "Invented for a test."
mass = "2 t"
[frame]
length = "4 m"
width = "2 m"
stiffness = "rigid"
[[support]]
name = "left"
at = ["4 m", "1 m"]
does = "carries"
held = { by = "screw", retracted-length = "700 mm", travel = "400 mm" }
[[support]]
name = "right"
at = ["4 m", "-1 m"]
does = "carries"
held = { by = "screw", retracted-length = "700 mm", travel = "400 mm" }
[[support]]
name = "rear"
at = ["0 m", "0 m"]
does = "carries"
held = { by = "screw", retracted-length = "700 mm", travel = "400 mm" }
[[circuit]]
name = "drive"
kind = "motor"
power = "2 kW"
zone = "deck"
"#;

const BODIES: [&str; 3] = ["mast", "beam", "car"];

/// The text of a ride book.
pub fn book(seed: u64) -> String {
    let mut chance = Chance(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 77);
    let blocked = format!("blocked-by = [{{ body = \"{}\", at = \"road\" }}]\n", chance.one(&BODIES));
    let mut text =
        HEAD.replacen("does = ", &format!("{}does = ", if chance.often(5) { &blocked } else { "" }), 1);
    if chance.often(5) {
        text += "[[switch]]\nname = \"brake\"\non-the-road = \"locked\"\nwhen-open = \"free\"\n";
        text += "[turntable]\non-the-road = \"0 deg\"\nwhen-open = \"90 deg\"\n";
        text += "locked-by = [{ fixing = \"pin\", home = \"head\" }]\n";
    } else {
        text += "[[switch]]\nname = \"brake\"\n";
    }
    for (number, body) in BODIES.iter().enumerate() {
        let _ = write!(text, "[[body]]\nname = \"{body}\"\nmass = \"50 kg\"\n");
        if chance.often(4) {
            let _ = writeln!(text, "on-turntable = true");
        }
        for place in ["road", "mid", "open"] {
            let at = match place {
                "road" => 1,
                "mid" if chance.often(3) => 1,
                "mid" => 2,
                _ => 3,
            };
            let _ =
                write!(text, "[[body.placement]]\nname = \"{place}\"\ncg = [\"{at} m\", \"0 m\", \"1 m\"]\n");
            if number > 0 && chance.often(4) {
                let _ = writeln!(text, "carried-by = \"{}\"", BODIES[number - 1]);
            }
            if place == "open" && chance.often(3) {
                let beside = BODIES[(number + 1) % 3];
                let at = chance.one(&["mid", "open"]);
                let _ = writeln!(text, "between = [{{ body = \"{beside}\", at = \"{at}\" }}]");
            }
            if place != "road" && chance.often(2) {
                let _ = writeln!(text, "spot = \"bay\"");
            }
            if place != "road" && chance.often(5) {
                let home = chance.one(&["foot", "head"]);
                let count = 1 + chance.below(2);
                let _ =
                    writeln!(text, "held-by = [{{ fixing = \"pin\", home = \"{home}\", count = {count} }}]");
            } else if place == "mid" && chance.often(3) {
                let _ = writeln!(text, "on-the-line = true");
            }
        }
    }
    let only = if chance.often(3) { "only-with = [\"beam\"]\n" } else { "" };
    let road = if chance.often(9) { ", on-the-road = 3" } else { "" };
    let idle = if chance.often(2) { ", idle = true" } else { "" };
    let _ = write!(
        text,
        "[[fixing]]\nname = \"pin\"\nkind = \"pin\"\ncount = 3\n{only}home = [{{ name = \"foot\", holds = 2 }}, {{ name = \"head\", holds = {}{idle} }}, {{ name = \"tray\", holds = 3{road} }}]\n",
        1 + chance.below(3)
    );
    let steps = 4 + chance.below(7);
    let dense = 1 + chance.below(6);
    for step in 0..steps {
        let phase = match (step, steps - step) {
            (0, _) => "arrive",
            (_, 1) if chance.often(4) => "leave",
            (_, 1 | 2) if chance.often(3) => "pull-down",
            (_, 3) if chance.often(2) => "reopen",
            (_, 3) if chance.often(2) => "prove",
            _ => "build-up",
        };
        let _ = write!(text, "[[step]]\nname = \"s{step}\"\ntitle = \"Step {step}\"\nphase = \"{phase}\"\n");
        let after: Vec<String> =
            (0..step).filter(|_| chance.often(dense)).map(|before| format!("\"s{before}\"")).collect();
        // A step of an earlier phase may not wait for one of a later: such a book is refused, and passed over.
        let _ = writeln!(text, "after = [{}]", after.join(", "));
        work(&mut chance, &mut text);
    }
    text
}

fn work(chance: &mut Chance, text: &mut String) {
    let homes = ["foot", "head", "tray"];
    let places = ["road", "mid", "open"];
    let body = chance.one(&BODIES);
    if chance.often(5) {
        let (from, to) = (chance.one(&places[..2]), chance.one(&places[1..]));
        let _ = writeln!(text, "moves = [{{ body = \"{body}\", from = \"{from}\", to = \"{to}\" }}]");
    }
    if chance.often(5) {
        let from = if chance.often(6) { "tray" } else { chance.one(&homes) };
        let to = chance.one(&homes);
        let count = 1 + chance.below(2);
        if from != to {
            let _ = writeln!(
                text,
                "pins = [{{ fixing = \"pin\", from = \"{from}\", to = \"{to}\", count = {count} }}]"
            );
        }
    }
    match chance.below(8) {
        0 | 1 => drop(writeln!(text, "line-on = \"{body}\"")),
        2 | 3 => drop(writeln!(text, "line-off = \"{}\"", chance.one(&BODIES))),
        4 => drop(write!(text, "line-on = \"{body}\"\nline-off = \"{}\"\n", chance.one(&BODIES))),
        _ => {}
    }
    match chance.below(12) {
        10 => drop(writeln!(text, "switches = [{{ switch = \"brake\", to = \"free\" }}]")),
        11 => drop(writeln!(text, "switches = [{{ switch = \"brake\", to = \"locked\" }}]")),
        0 => drop(writeln!(text, "sets = [\"left\"]")),
        1 => drop(writeln!(text, "takes-away = [\"left\"]")),
        2 => drop(writeln!(text, "switches = [{{ switch = \"drive\", to = \"on\" }}]")),
        3 => drop(writeln!(text, "switches = [{{ switch = \"drive\", to = \"off\" }}]")),
        4 => drop(writeln!(text, "turns-to = \"{} deg\"", 90 * chance.below(5))),
        5 => drop(writeln!(text, "anchor = \"{}\"", chance.one(&["post", "tail"]))),
        6 => drop(writeln!(text, "place-for-one = [\"ladder\"]")),
        7 => drop(writeln!(text, "works-in = [\"deck\"]")),
        8 => drop(write!(
            text,
            "keep-clear = \"{}\"\nkeep-clear-at = [\"{} m\", \"0 m\"]\nkeep-clear-radius = \"1 m\"\n",
            chance.one(&["deck", "field"]),
            chance.below(4)
        )),
        _ => {}
    }
    if chance.often(2) {
        let _ = writeln!(text, "lift = {{ by = \"winch\", body = \"{body}\" }}");
    }
    if chance.often(1) {
        let _ = writeln!(text, "not-undone = \"it is glued\"");
    }
    if chance.often(4) {
        let need = match chance.below(6) {
            0 => format!("body = \"{}\", at = \"{}\"", chance.one(&BODIES), chance.one(&places)),
            1 => format!(
                "fixing = \"pin\", home = \"{}\", count = {}",
                chance.one(&homes),
                1 + chance.below(2)
            ),
            2 => "switch = \"drive\", is = \"off\"".to_owned(),
            3 => "support = \"left\"".to_owned(),
            4 => format!("line = \"{}\"", chance.one(&BODIES)),
            _ => "turned-to = \"90 deg\"".to_owned(),
        };
        let _ = writeln!(text, "needs = [{{ {need} }}]");
    }
}

/// The ride of a text, where it is one.
pub fn ride(text: &str) -> Option<Ride> {
    parse_ride(&Source::new("ride.toml", text)).value
}

/// Every claim over some hundreds of rides: what is proved, no stage offends, counted one by one; what is refuted is offended
/// at the end of its story, and where that is said to be a shortest, no stage with fewer steps offends; a cure cures, with no
/// rule to spare, and is the fewest where that is said; a way back is one from every stage tried.
#[test]
fn law_every_claim_agrees_with_every_stage() {
    let (mut made, mut claims, mut refuted, mut shortest) = (0, 0, 0, 0);
    let (mut cures, mut several, mut no_order, mut back) = (0, 0, 0, 0);
    let mut rules: BTreeSet<(Rule, bool)> = BTreeSet::new();
    let mut kinds: BTreeSet<(String, bool)> = BTreeSet::new();
    let mut wrong = Vec::new();
    for seed in 0..RIDES {
        let text = book(seed);
        let Some(ride) = ride(&text) else { continue };
        // Every third ride goes without its beam.
        let absent: BTreeSet<&str> = if seed % 3 == 0 { BTreeSet::from(["beam"]) } else { BTreeSet::new() };
        let proofs = prove(&ride, &absent);
        let again = again_by_stages(&ride, &absent, &proofs.claims);
        made += 1;
        claims += again.claims();
        cures += again.cures;
        back += again.ways_back;
        for claim in &proofs.claims {
            let is_refuted = matches!(claim.verdict, Verdict::Refuted(_));
            rules.insert((claim.rule, is_refuted));
            let kind = format!("{:?}", claim.said);
            let kind = kind.split(|sign: char| !sign.is_alphabetic()).next().unwrap_or_default();
            kinds.insert((kind.to_owned(), is_refuted));
        }
        for (_, refutation) in proofs.refuted() {
            refuted += 1;
            shortest += usize::from(refutation.shortest);
            no_order += usize::from(refutation.cure == Cure::NoOrder);
            several += usize::from(matches!(&refutation.cure, Cure::Rules { rules, .. } if rules.len() > 1));
        }
        let unsaid = again.not_checked.iter().filter(|(_, why)| why.contains("in words"));
        wrong.extend(unsaid.map(|(subject, _)| format!("ride {seed}: {subject} is said in words only")));
        wrong.extend(again.contradictions.into_iter().map(|says| format!("ride {seed}: {says}")));
    }
    let tried = format!(
        "{made} rides, {claims} claims, {refuted} refuted, {shortest} shortest, {cures} cures ({several} of several rules, {no_order} of none), {back} ways back"
    );
    let shown: Vec<&String> = wrong.iter().take(12).collect();
    assert!(wrong.is_empty(), "{} contradictions: {shown:#?}", wrong.len());
    assert!(
        made > 300 && refuted > 300 && shortest > 100 && several > 0 && no_order > 0,
        "too little was tried: {tried}"
    );
    for kind in ["Begins", "BeginsNot", "Least", "Most", "Held", "Never", "OpenIs", "Home", "HomeNot"] {
        assert!(kinds.contains(&(kind.to_owned(), false)), "{kind} was never proved");
        assert!(kinds.contains(&(kind.to_owned(), true)), "{kind} was never refuted");
    }
    for rule in Rule::ALL {
        assert!(rule == Rule::Order || rules.contains(&(rule, false)), "{rule:?} was never proved");
        assert!(rule == Rule::Order || rules.contains(&(rule, true)), "{rule:?} was never refuted");
    }
}
