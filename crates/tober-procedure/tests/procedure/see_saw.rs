//! A small invented ride for these tests: a mast that a winch raises, and a beam that two people hang on it.

use std::collections::BTreeSet;
use tober_book::{Ride, Source, parse_ride};
use tober_procedure::{Proofs, prove};

/// The book. Every figure in it is invented.
pub const BOOK: &str = r#"
format = 0
[ride]
name = "Invented See-saw"
invented = "Invented for a test."
mass = "2 t"

[frame]
length = "4 m"
width = "2 m"
stiffness = "rigid"

[[support]]
name = "front"
at = ["4 m", "0 m"]
does = "carries"
held = { by = "screw", retracted-length = "700 mm", travel = "400 mm" }
[[support]]
name = "rear left"
at = ["0 m", "1 m"]
does = "carries"
held = { by = "screw", retracted-length = "700 mm", travel = "400 mm" }
[[support]]
name = "rear right"
at = ["0 m", "-1 m"]
does = "carries"
held = { by = "screw", retracted-length = "700 mm", travel = "400 mm" }

[[body]]
name = "trailer"
mass = "1.5 t"
[[body.placement]]
name = "road"
cg = ["2 m", "0 m", "0.3 m"]

[[body]]
name = "mast"
mass = "200 kg"
carried-by = "trailer"
[[body.placement]]
name = "road"
cg = ["2 m", "0 m", "0.8 m"]
[[body.placement]]
name = "open"
cg = ["1 m", "0 m", "2 m"]
held-by = [{ fixing = "mast pin", home = "mast foot" }]

[[body]]
name = "beam"
mass = "60 kg"
carried-by = "mast"
[[body.placement]]
name = "road"
carried-by = "trailer"
cg = ["3 m", "0 m", "0.6 m"]
[[body.placement]]
name = "open"
cg = ["1 m", "0 m", "2.5 m"]
held-by = [{ fixing = "beam pin", home = "mast head" }]

[[fixing]]
name = "mast pin"
kind = "pin"
count = 2
home = [{ name = "mast foot", holds = 2, fastens = "mast" }, { name = "pin tray", holds = 3, on-the-road = 2, idle = true }]
[[fixing]]
name = "beam pin"
kind = "pin"
count = 1
home = [{ name = "mast head", holds = 1, fastens = "beam" }, { name = "pin tray", holds = 1, on-the-road = 1, idle = true }]

[[circuit]]
name = "drive"
kind = "motor"
power = "2 kW"
zone = "round the mast"

[[step]]
name = "chock"
phase = "arrive"
title = "Chock the wheels"
[[step]]
name = "leg front"
phase = "build-up"
title = "Set the front leg"
sets = ["front"]
[[step]]
name = "leg rear left"
phase = "build-up"
title = "Set the rear left leg"
sets = ["rear left"]
[[step]]
name = "leg rear right"
phase = "build-up"
title = "Set the rear right leg"
sets = ["rear right"]
[[step]]
name = "line on"
phase = "build-up"
title = "Put the winch line on the mast"
after = ["leg front", "leg rear left", "leg rear right"]
line-on = "mast"
anchor = "tail post"
[[step]]
name = "raise"
phase = "build-up"
title = "Raise the mast"
after = ["line on"]
needs = [{ support = "front" }, { support = "rear left" }, { support = "rear right" }]
moves = [{ body = "mast", from = "road", to = "open" }]
keep-clear = "under the mast"
lift = { by = "winch", body = "mast" }
[[step]]
name = "pin mast"
phase = "build-up"
title = "Pin the mast"
after = ["raise"]
pins = [{ fixing = "mast pin", from = "pin tray", to = "mast foot", count = 2 }]
[[step]]
name = "line off"
phase = "build-up"
title = "Take the line off"
after = ["pin mast"]
line-off = "mast"
[[step]]
name = "hang beam"
phase = "build-up"
title = "Hang the beam on the mast and pin it"
after = ["line off"]
needs = [{ body = "mast", at = "open" }, { fixing = "mast pin", home = "mast foot" }]
moves = [{ body = "beam", from = "road", to = "open" }]
pins = [{ fixing = "beam pin", from = "pin tray", to = "mast head", count = 1 }]
works-in = ["round the mast"]
[[step]]
name = "empty run"
phase = "prove"
title = "Run it empty"
switches = [{ switch = "drive", to = "on" }]
[[step]]
name = "isolate"
phase = "pull-down"
title = "Switch off and lock"
switches = [{ switch = "drive", to = "off" }]
[[step]]
name = "beam off"
phase = "pull-down"
title = "Take the beam off"
after = ["isolate"]
moves = [{ body = "beam", from = "open", to = "road" }]
pins = [{ fixing = "beam pin", from = "mast head", to = "pin tray", count = 1 }]
works-in = ["round the mast"]
[[step]]
name = "line on again"
phase = "pull-down"
title = "Put the line on the mast"
after = ["beam off"]
line-on = "mast"
[[step]]
name = "unpin mast"
phase = "pull-down"
title = "Draw the mast pins"
after = ["line on again"]
pins = [{ fixing = "mast pin", from = "mast foot", to = "pin tray", count = 2 }]
[[step]]
name = "lower"
phase = "pull-down"
title = "Lower the mast"
after = ["unpin mast"]
moves = [{ body = "mast", from = "open", to = "road" }]
lift = { by = "winch", body = "mast" }
[[step]]
name = "line away"
phase = "pull-down"
title = "Take the line off"
after = ["lower"]
line-off = "mast"
[[step]]
name = "legs in"
phase = "leave"
title = "Wind the legs in"
takes-away = ["front", "rear left", "rear right"]
"#;

/// The book with one text in place of another, which must be there.
pub fn with(changes: &[(&str, &str)]) -> Ride {
    let mut text = BOOK.to_owned();
    for (from, to) in changes {
        assert!(text.contains(from), "{from:?} is not in the book");
        text = text.replacen(from, to, 1);
    }
    let parsed = parse_ride(&Source::new("ride.toml", &text));
    let said: Vec<String> = parsed.diagnostics.iter().map(ToString::to_string).collect();
    parsed.value.unwrap_or_else(|| panic!("{}", said.join("\n")))
}

/// What is proved of the book with changes.
pub fn proofs(changes: &[(&str, &str)]) -> Proofs {
    prove(&with(changes), &BTreeSet::new())
}
