//! A large invented ride: 300 steps and 400 kinds of fixing, many of which a crew may do in any order.

use std::fmt::Write;

/// How many chains of parts there are; within a chain each part waits for the one before it.
const CHAINS: usize = 14;
/// How many parts a chain has.
const PARTS: usize = 10;
/// How many kinds of fixing the ride has.
const FIXINGS: usize = 400;

/// The book. `slip`: without the rule that the last part of the last chain waits for the one before it.
pub fn book(slip: bool) -> String {
    let mut text = String::from(
        "format = 0\n[ride]\nname = \"Long Train\"\ninvented = \"Invented for a test.\"\nmass = \"30 t\"\n\
         [frame]\nlength = \"12 m\"\nwidth = \"2 m\"\nstiffness = \"rigid\"\n",
    );
    let mut say = |line: String| writeln!(text, "{line}").expect("a text takes every line");
    for leg in 0..18 {
        let (along, across) = (0.5 + (leg / 2) as f64, if leg % 2 == 0 { 1 } else { -1 });
        say(format!(
            "[[support]]\nname = \"leg {leg}\"\nat = [\"{along} m\", \"{across} m\"]\ndoes = \"carries\"\n\
             held = {{ by = \"screw\", retracted-length = \"600 mm\", travel = \"300 mm\" }}"
        ));
    }
    let parts: Vec<(usize, usize)> =
        (0..CHAINS).flat_map(|chain| (0..PARTS).map(move |part| (chain, part))).collect();
    let held_by = |number: usize| (0..FIXINGS).filter(move |fixing| fixing % parts_len() == number);
    for (number, (chain, part)) in parts.iter().enumerate() {
        let holders: Vec<String> = held_by(number)
            .map(|fixing| format!("{{ fixing = \"pin {fixing}\", home = \"hole {fixing}\" }}"))
            .collect();
        let carrier = if *part == 0 { "frame".to_owned() } else { format!("part {chain}.{}", part - 1) };
        say(format!(
            "[[body]]\nname = \"part {chain}.{part}\"\nmass = \"20 kg\"\nplacement = [\n\
             {{ name = \"road\", cg = [\"{} m\", \"0 m\", \"1 m\"], carried-by = \"frame\" }},\n\
             {{ name = \"open\", cg = [\"{} m\", \"{} m\", \"2 m\"], carried-by = \"{carrier}\", held-by = [{}] }},\n]",
            0.05 * number as f64,
            0.05 * number as f64,
            1 + part,
            holders.join(", ")
        ));
    }
    for fixing in 0..FIXINGS {
        say(format!(
            "[[fixing]]\nname = \"pin {fixing}\"\nkind = \"pin\"\ncount = 2\nhome = [\
             {{ name = \"hole {fixing}\", holds = 2 }}, \
             {{ name = \"tray {fixing}\", holds = 2, on-the-road = 2, idle = true }}]"
        ));
    }
    for leg in 0..18 {
        say(format!(
            "[[step]]\nname = \"set {leg}\"\nphase = \"build-up\"\ntitle = \"Set leg {leg}\"\nsets = [\"leg {leg}\"]"
        ));
    }
    let legs: Vec<String> = (0..18).map(|leg| format!("\"set {leg}\"")).collect();
    let pins = |number: usize, from: &str, to: &str| {
        let moved: Vec<String> = held_by(number)
            .map(|fixing| {
                format!("{{ fixing = \"pin {fixing}\", from = \"{from} {fixing}\", to = \"{to} {fixing}\", count = 2 }}")
            })
            .collect();
        moved.join(", ")
    };
    for (number, (chain, part)) in parts.iter().enumerate() {
        let last = (*chain, *part) == (CHAINS - 1, PARTS - 1);
        let after = match part {
            0 => legs.join(", "),
            _ if slip && last => legs.join(", "),
            _ => format!("\"put {chain}.{}\"", part - 1),
        };
        let needs = if *part == 0 {
            String::new()
        } else {
            format!("needs = [{{ body = \"part {chain}.{}\", at = \"open\" }}]\n", part - 1)
        };
        say(format!(
            "[[step]]\nname = \"put {chain}.{part}\"\nphase = \"build-up\"\ntitle = \"Put it there\"\nafter = [{after}]\n{needs}\
             moves = [{{ body = \"part {chain}.{part}\", from = \"road\", to = \"open\" }}]\npins = [{}]\n\
             place-for-one = [\"chain {chain}\"]\nworks-in = [\"beside {chain}\"]\npeople = 2\n\
             lift = {{ by = \"hand\", mass = \"20 kg\", people = 2 }}",
            pins(number, "tray", "hole")
        ));
    }
    say("[[step]]\nname = \"empty\"\nphase = \"prove\"\ntitle = \"Empty test\"".to_owned());
    for (number, (chain, part)) in parts.iter().enumerate() {
        let after = if *part + 1 == PARTS { String::new() } else { format!("\"take {chain}.{}\"", part + 1) };
        say(format!(
            "[[step]]\nname = \"take {chain}.{part}\"\nphase = \"pull-down\"\ntitle = \"Take it away\"\nafter = [{after}]\n\
             moves = [{{ body = \"part {chain}.{part}\", from = \"open\", to = \"road\" }}]\npins = [{}]\n\
             place-for-one = [\"chain {chain}\"]\nworks-in = [\"beside {chain}\"]",
            pins(number, "hole", "tray")
        ));
    }
    let all: Vec<String> = (0..18).map(|leg| format!("\"leg {leg}\"")).collect();
    say(format!(
        "[[step]]\nname = \"legs\"\nphase = \"leave\"\ntitle = \"Legs up\"\ntakes-away = [{}]",
        all.join(", ")
    ));
    text
}

const fn parts_len() -> usize {
    CHAINS * PARTS
}
