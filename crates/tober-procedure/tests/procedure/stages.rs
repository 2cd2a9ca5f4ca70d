//! The worst of every stage against the enumeration of every stage, with the loads of the legs by C3.

use std::collections::BTreeSet;
use tober_book::{Body, Ride, Source, parse_ride};
use tober_calc::supports::{Answer, Load, Support, solve};
use tober_procedure::stages::{Foot, Standing, stages, turntables};
use tober_quantity::{Force, Length, Mass, Stiffness, Toleranced};

/// Newtons: each share of a body is rounded to a hundredth, and C3 is good to 1e-9 of a load of some 1e5 N.
pub const NEWTONS: f64 = 0.5;

/// Numbers that look like chance and are the same every time.
pub struct Chance(pub u64);
impl Chance {
    pub fn next(&mut self, below: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % below
    }
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next(1_000_000) as f64 / 1e6
    }
}

/// An invented ride: a heavy trailer on feet, and a few bodies that steps move in any order that `after` leaves.
fn ride(chance: &mut Chance) -> Ride {
    ride_with(chance, false)
}

/// The same, with a step that sets each leg, and with wheels and a hitch, where wanted.
pub fn ride_with(chance: &mut Chance, legs_set: bool) -> Ride {
    let mut text = String::from(
        "format = 0\n[ride]\nname = \"Invented\"\ninvented = \"Invented for a test.\"\nmass = \"9 t\"\n[frame]\nlength = \"6 m\"\nwidth = \"3 m\"\nstiffness = \"rigid\"\nlevel-along = \"4 mm/m\"\nlevel-across = \"3 mm/m\"\nresting-height = \"700 mm\"\n",
    );
    let corners = [(0.0, -1.5), (6.0, -1.4), (6.2, 1.6), (-0.1, 1.5), (3.0, 2.0), (3.0, -1.9)];
    let feet = 3 + chance.next(4) as usize;
    for (number, (x, y)) in corners.iter().take(feet.max(4)).enumerate() {
        let k = 5 + chance.next(40);
        text += &format!(
            "[[support]]\nname = \"leg {number}\"\nat = [\"{x} m\", \"{y} m\"]\ndoes = \"carries\"\nstiffness = \"{k} kN/mm\"\nrated-load = \"5 t\"\nheld = {{ by = \"screw\", retracted-length = \"700 mm\", travel = \"400 mm\" }}\n"
        );
    }
    text += "[[body]]\nname = \"trailer\"\nmass = \"6 t ± 5 %\"\nmass-from = \"weighed\"\n[[body.placement]]\nname = \"road\"\ncg = [\"3 m ± 100 mm\", \"0.1 m ± 50 mm\", \"0.2 m\"]\n";
    let bodies = 2 + chance.next(3) as usize;
    let mut steps = String::new();
    let mut earlier: Vec<String> = Vec::new();
    let legs = feet.max(4);
    if legs_set {
        let axles =
            "[[frame.axle]]\nat = \"2.5 m\"\ntrack = \"2 m\"\n[frame.hitch]\nat = [\"7 m\", \"0 m\"]\n";
        text = text.replacen("[[support]]", &format!("{axles}[[support]]"), 1);
        for leg in legs - 2..legs {
            let after = earlier.iter().find(|_| chance.next(2) == 0).cloned().unwrap_or_default();
            steps += &format!(
                "[[step]]\nname = \"set {leg}\"\nphase = \"build-up\"\ntitle = \"Set\"\nafter = [{after}]\nsets = [\"leg {leg}\"]\n"
            );
            earlier.push(format!("\"set {leg}\""));
        }
    }
    for body in 0..bodies {
        let mass = 100 + chance.next(500);
        text += &format!(
            "[[body]]\nname = \"part {body}\"\nmass = \"{mass} kg ± 10 %\"\nmass-from = \"weighed\"\n"
        );
        let places = 2 + chance.next(2) as usize;
        for place in 0..places {
            let name = if place == 0 { "road".to_owned() } else { format!("place {place}") };
            let (x, y, z) = (chance.between(0.0, 6.0), chance.between(-4.0, 4.0), chance.between(0.0, 3.0));
            text += &format!(
                "[[body.placement]]\nname = \"{name}\"\ncg = [\"{x:.3} m ± 20 mm\", \"{y:.3} m ± 30 mm\", \"{z:.3} m\"]\n"
            );
        }
        for place in 1..places {
            let from = if place == 1 { "road".to_owned() } else { format!("place {}", place - 1) };
            let mut after: Vec<String> =
                if place > 1 { vec![format!("\"{body} to {}\"", place - 1)] } else { Vec::new() };
            if !earlier.is_empty() && chance.next(2) == 0 {
                after.push(earlier[chance.next(earlier.len() as u64) as usize].clone());
            }
            steps += &format!(
                "[[step]]\nname = \"{body} to {place}\"\nphase = \"build-up\"\ntitle = \"Move\"\nafter = [{}]\nmoves = [{{ body = \"part {body}\", from = \"{from}\", to = \"place {place}\" }}]\n",
                after.join(", ")
            );
            earlier.push(format!("\"{body} to {place}\""));
        }
    }
    if legs_set && chance.next(2) == 0 {
        let (leg, also) = (legs - 1, &earlier[chance.next(earlier.len() as u64) as usize]);
        steps += &format!(
            "[[step]]\nname = \"take {leg}\"\nphase = \"build-up\"\ntitle = \"Take\"\nafter = [\"set {leg}\", {also}]\ntakes-away = [\"leg {leg}\"]\n"
        );
    }
    text += &steps;
    let parsed = parse_ride(&Source::new("ride.toml", &text));
    let said: Vec<String> = parsed.diagnostics.iter().map(ToString::to_string).collect();
    parsed.value.unwrap_or_else(|| panic!("{}\n{text}", said.join("\n")))
}

/// Every stage: the steps done, and those under way.
pub fn every(ride: &Ride) -> Vec<(Vec<usize>, Vec<usize>)> {
    let len = ride.steps.len();
    let before = |step: usize| -> Vec<usize> {
        ride.steps[step]
            .after
            .iter()
            .map(|name| ride.steps.iter().position(|s| s.name == *name).expect("it is there"))
            .collect()
    };
    let mut all = Vec::new();
    for done in 0..1_usize << len {
        let is_done = |step: usize| done >> step & 1 == 1;
        if !(0..len).all(|step| !is_done(step) || before(step).into_iter().all(is_done)) {
            continue;
        }
        let may: Vec<usize> =
            (0..len).filter(|&s| !is_done(s) && before(s).into_iter().all(is_done)).collect();
        for some in 0..1_usize << may.len() {
            let begun = may.iter().enumerate().filter(|(n, _)| some >> n & 1 == 1).map(|(_, s)| *s).collect();
            all.push(((0..len).filter(|&s| is_done(s)).collect(), begun));
        }
    }
    all
}

/// A body's centre and how far it may be off, at a stage: where it rests, or the middle and radius of its way.
pub struct Where {
    pub at: [f64; 3],
    off: [f64; 3],
    reach: f64,
    rests: Vec<[f64; 3]>,
}

pub fn place(ride: &Ride, body: &Body, stage: &(Vec<usize>, Vec<usize>)) -> Where {
    let cg = |name: &str| {
        let cg = body.placement(name).expect("it is there").cg;
        let of = |part: fn(&Toleranced<Length>) -> f64| [part(&cg.along), part(&cg.across), part(&cg.up)];
        (of(|part| part.value.as_m()), of(|part| part.off_by.as_m()))
    };
    let moved = |step: &usize| ride.steps[*step].moves.iter().find(|moved| moved.body == body.name);
    let mut at = "road";
    // The moves of a body stand in the book in their order.
    for step in &stage.0 {
        at = moved(step).map_or(at, |moved| &moved.to);
    }
    match stage.1.iter().find_map(moved) {
        None => {
            let (at, off) = cg(at);
            Where { at, off, reach: 0.0, rests: vec![at] }
        }
        Some(moved) => {
            let ((a, off), (b, _)) = (cg(&moved.from), cg(&moved.to));
            let span: f64 = (0..3).map(|i| (a[i] - b[i]) * (a[i] - b[i])).sum();
            Where {
                at: [0, 1, 2].map(|i| (a[i] + b[i]) / 2.0),
                off,
                reach: span.sqrt() / 2.0,
                rests: vec![a, b],
            }
        }
    }
}

/// The worst of a linear quantity over every stage: each body at its worst point and as heavy or light as is worse.
///
/// `counts(point, mass, light)` is the quantity of a mass at a point; it is asked at points only, so that nothing is known here of how it
/// is made.
fn worst(ride: &Ride, lean: [f64; 3], counts: &dyn Fn([f64; 3], Mass) -> f64, sign: f64) -> f64 {
    worst_of(ride, every(ride), lean, counts, sign)
}

/// The same over some stages.
pub fn worst_of(
    ride: &Ride,
    stages: impl IntoIterator<Item = (Vec<usize>, Vec<usize>)>,
    lean: [f64; 3],
    counts: &dyn Fn([f64; 3], Mass) -> f64,
    sign: f64,
) -> f64 {
    let mut most = f64::NEG_INFINITY;
    for stage in stages {
        let mut sum = 0.0;
        for body in &ride.bodies {
            let there = place(ride, body, &stage);
            let steep = (lean[0] * lean[0] + lean[1] * lean[1] + lean[2] * lean[2]).sqrt().max(1e-300);
            let mut best = f64::NEG_INFINITY;
            let ball = [0, 1, 2].map(|i| there.at[i] + sign * lean[i] / steep * there.reach);
            for middle in there.rests.iter().copied().chain([ball]) {
                let point = [0, 1, 2].map(|i| middle[i] + sign * lean[i].signum() * there.off[i]);
                for mass in [body.mass.low(), body.mass.high()] {
                    best = best.max(sign * counts(point, mass));
                }
            }
            sum += best;
        }
        most = most.max(sum);
    }
    sign * most
}

/// What C3 says a weight alone adds to a foot: the difference that it makes to a frame that is pressed down hard.
fn by_c3(standing: &Standing, foot: usize, at: [f64; 3], weight: f64) -> f64 {
    let feet: Vec<Support> = standing
        .feet
        .iter()
        .map(|foot| Support {
            x: Length::m(foot.at[0]),
            y: Length::m(foot.at[1]),
            stiffness: Stiffness::n_per_m(foot.stiffness),
            gap: Length::ZERO,
        })
        .collect();
    let middle = [0, 1].map(|i| {
        standing.feet.iter().map(|foot| foot.at[i] * foot.stiffness).sum::<f64>()
            / standing.feet.iter().map(|foot| foot.stiffness).sum::<f64>()
    });
    let pressed = 1e6;
    let reaction = |extra: f64| {
        let whole = pressed + extra;
        let x = (pressed * middle[0] + extra * at[0]) / whole;
        let y = (pressed * middle[1] + extra * at[1]) / whole;
        match solve(&feet, &Load::weight(Force::n(whole), Length::m(x), Length::m(y))).expect("C3 answers") {
            Answer::Stands(stands) => stands.reactions[foot].as_n(),
            Answer::Tips(_) => panic!("it is pressed down in its middle"),
        }
    };
    reaction(weight) - reaction(0.0)
}

#[test]
fn law_the_worst_of_every_stage_is_that_of_the_enumeration_by_c3() {
    let mut chance = Chance(7);
    let (mut stood, mut stages_seen) = (0, 0);
    for _ in 0..60 {
        let ride = ride(&mut chance);
        let standing = Standing::of_book(&ride);
        let found = stages(&ride, &BTreeSet::new(), &standing).expect("it moves something");
        assert!(found.conditions.iter().all(|condition| condition.broken.is_none()));
        stages_seen += every(&ride).len();
        for (number, foot) in found.feet.iter().enumerate() {
            let at = |x: f64, y: f64| by_c3(&standing, number, [x, y, 0.0], 1e4) / 1e4;
            let (middle, along, across) = (at(0.0, 0.0), at(1.0, 0.0), at(0.0, 1.0));
            let lean = [along - middle, across - middle, 0.0];
            let counts =
                |point: [f64; 3], mass: Mass| by_c3(&standing, number, point, Force::weight(mass).as_n());
            for (sign, value) in [(1.0, foot.greatest.value), (-1.0, foot.least.value)] {
                let own = worst(&ride, lean, &counts, sign);
                assert!((own - value).abs() < NEWTONS, "{}: {value} N, enumerated {own} N", foot.name);
            }
        }
        stood += usize::from(found.all_touch);
        if !found.all_touch {
            for foot in &found.feet {
                assert!(foot.found.is_none_or(|most| most <= foot.bound + NEWTONS), "{foot:?}");
            }
        }
    }
    assert!(stood > 5 && stood < 55, "{stood} of 60 stand on all legs: both kinds must be met");
    assert!(stages_seen > 2000, "{stages_seen}");
}

#[test]
fn law_no_stage_with_legs_that_only_push_passes_the_bound() {
    let mut chance = Chance(99);
    let mut lifted = 0;
    for _ in 0..60 {
        let ride = ride(&mut chance);
        let standing = Standing::of_book(&ride);
        let found = stages(&ride, &BTreeSet::new(), &standing).expect("it moves something");
        let feet: Vec<Support> = standing
            .feet
            .iter()
            .map(|foot| Support {
                x: Length::m(foot.at[0]),
                y: Length::m(foot.at[1]),
                stiffness: Stiffness::n_per_m(foot.stiffness),
                gap: Length::ZERO,
            })
            .collect();
        for stage in every(&ride).into_iter().filter(|stage| stage.1.is_empty()) {
            let (mut weight, mut along, mut across) = (0.0, 0.0, 0.0);
            for body in &ride.bodies {
                let there = place(&ride, body, &stage);
                let own = Force::weight(if chance.next(2) == 0 { body.mass.low() } else { body.mass.high() })
                    .as_n();
                weight += own;
                along += own * there.at[0];
                across += own * there.at[1];
            }
            let load = Load::weight(Force::n(weight), Length::m(along / weight), Length::m(across / weight));
            let Answer::Stands(stands) = solve(&feet, &load).expect("C3 answers") else { continue };
            lifted += usize::from(!stands.lifted.is_empty());
            for (foot, reaction) in found.feet.iter().zip(&stands.reactions) {
                let most = if found.all_touch { foot.greatest.value } else { foot.bound };
                assert!(
                    reaction.as_n() <= most + NEWTONS,
                    "{}: {} N passes {most} N",
                    foot.name,
                    reaction.as_n()
                );
            }
        }
    }
    assert!(lifted > 0, "no leg was ever lifted");
}

#[test]
fn law_the_moment_over_an_edge_is_that_of_the_enumeration() {
    let mut chance = Chance(31);
    for _ in 0..40 {
        let ride = ride(&mut chance);
        let standing = Standing::of_book(&ride);
        let found = stages(&ride, &BTreeSet::new(), &standing).expect("it moves something");
        assert!(!found.edges.is_empty());
        for edge in &found.edges {
            let set = standing.factors.iter().find(|set| set.name == edge.factors).expect("it is there");
            let foot = |name: &String| -> &Foot {
                standing.feet.iter().find(|foot| foot.name == *name).expect("it is there")
            };
            let ([x, y], [u, v]) = (foot(&edge.between[0]).at, foot(&edge.between[1]).at);
            let long = ((u - x) * (u - x) + (v - y) * (v - y)).sqrt();
            let (nx, ny) = ((v - y) / long, (x - u) / long);
            let out = |point: [f64; 3]| {
                nx * (point[0] - x) + ny * (point[1] - y) + standing.lean * (point[2] + standing.height)
            };
            let counts = |point: [f64; 3], mass: Mass| {
                let lever = out(point);
                let factor = if lever > 0.0 {
                    set.permanent_unfavourable.as_one() * set.overturning_least.as_one()
                } else {
                    set.permanent_favourable.as_one()
                };
                factor * Force::weight(mass).as_n() * lever
            };
            let own = worst(&ride, [nx, ny, standing.lean], &counts, 1.0);
            assert!(
                (own - edge.over.value).abs() < NEWTONS,
                "{:?}: {} N m, enumerated {own} N m",
                edge.between,
                edge.over.value
            );
            let holds_or_not = edge.over.value <= 0.0;
            assert_eq!(holds_or_not, edge.share() <= 1.0, "{edge:?}");
        }
    }
}

fn demo(name: &str) -> Ride {
    let path =
        std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo").join(name).join("ride.toml");
    let text = std::fs::read_to_string(&path).expect("the demo is there");
    parse_ride(&Source::new("ride.toml", &text)).value.expect("it is a ride book")
}

#[test]
fn hand_the_part_that_must_be_held_on_ride_one_is_found() {
    // Nothing in the book says that this lock is the one: it is a lock, and its home fastens what carries all that turns.
    let ride = demo("lantern");
    let found = turntables(&ride, &BTreeSet::new());
    let [only] = found.as_slice() else { panic!("{found:?}") };
    assert_eq!((only.lock.as_str(), only.home.as_str()), ("turntable lock", "locked"));
    let limit = only.limit.expect("the book gives one");
    assert!(only.worst.value > limit, "it must be held at some stage: {only:?}");
    assert!(only.free_bound < limit, "and may be free where the book frees it: {only:?}");
    let (first, last) = only.hold_from_to.clone().expect("from a step to a step");
    assert_eq!((first.as_str(), last.as_str()), ("raise mast", "lower mast"));
}

#[test]
fn hand_one_arm_out_is_as_far_out_of_balance_as_its_weight_times_its_arm() {
    // An arm of 190 kg + 3 % whose centre goes from 1.6 m and 0.5 m off the axis to 2.6 m off it. Held where it is, the rest of
    // the lantern is mirrored about the axis on the road but for mast and canopy; so with the mast's 620 kg + 3 % at 0.9 m the
    // worst before the first lift is not less than 638.6 kg x 9.80665 m/s2 x 0.9 m = 5.64 kN m.
    let found = turntables(&demo("lantern"), &BTreeSet::new());
    assert!(found[0].worst.value >= 5636.0, "{:?}", found[0].worst);
}

#[test]
fn hand_a_lock_taken_out_with_one_arm_out_is_found() {
    // The same book with the lock taken out when four arms of one side hang: the sum while it is free passes the limit.
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/lantern/ride.toml");
    let text = std::fs::read_to_string(&path).expect("the demo is there");
    let from = "pins = [{ fixing = \"turntable lock\", from = \"locked\", to = \"free\", count = 1 }]";
    assert!(text.contains(from));
    // Taken out of "free to turn", put into "winch ready".
    let moved = text.replacen(from, "", 1).replacen(
        "line-on = \"mast\"\nanchor",
        &format!("{from}\nline-on = \"mast\"\nanchor"),
        1,
    );
    let ride = parse_ride(&Source::new("ride.toml", &moved)).value.expect("it is a ride book");
    let found = turntables(&ride, &BTreeSet::new());
    let free = found[0].free.as_ref().expect("it is free");
    assert!(free.value > found[0].limit.expect("a limit"), "{free:?}");
}

#[test]
fn law_a_heavier_part_never_lowers_the_greatest_load() {
    let mut chance = Chance(5);
    for _ in 0..20 {
        let mut ride = ride(&mut chance);
        let standing = Standing::of_book(&ride);
        let light = stages(&ride, &BTreeSet::new(), &standing).expect("it moves something");
        for body in &mut ride.bodies {
            body.mass.off_by = body.mass.off_by * 1.5;
        }
        let heavy = stages(&ride, &BTreeSet::new(), &standing).expect("it moves something");
        for (one, other) in light.feet.iter().zip(&heavy.feet) {
            assert!(other.greatest.value >= one.greatest.value - 1e-9, "wider masses");
            assert!(other.least.value <= one.least.value + 1e-9, "wider masses");
        }
    }
}

#[test]
fn law_a_further_rule_never_worsens_a_stage() {
    let mut chance = Chance(11);
    for _ in 0..20 {
        let mut ride = ride(&mut chance);
        let standing = Standing::of_book(&ride);
        let free = stages(&ride, &BTreeSet::new(), &standing).expect("it moves something");
        let last = ride.steps.len() - 1;
        let first = ride.steps[0].name.clone();
        ride.steps[last].after.push(first);
        let ruled = stages(&ride, &BTreeSet::new(), &standing).expect("it moves something");
        for (one, other) in free.feet.iter().zip(&ruled.feet) {
            assert!(other.greatest.value <= one.greatest.value + 1e-9);
            assert!(other.least.value >= one.least.value - 1e-9);
        }
    }
}
