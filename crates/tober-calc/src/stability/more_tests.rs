//! Guys, stowing, the loads of supports and the tables: closed forms, published figures and the laws that must hold.

use super::guys::{against_lifting_n, against_sliding_n};
use super::seats_tests::Chance;
use super::stand_tests::{G, LEVEL, body, face, governing, oblong, ride, set, share, single, sources};
use super::*;
use crate::finding::{Measure, Standing};
use crate::wind::WindLevel;
use tober_quantity::{Angle, Area, Force, Length, Mass, Pressure, Ratio, Speed, Stiffness, maths};

/// Binary noise of two ways to one number, as a share of it.
const NOISE: f64 = 1e-9;
/// Figures of a printed example are rounded to so much, as a share.
const PRINTED: f64 = 1e-3;
/// By how much the bound on sliding may be below the least there is, as a share: half a sector of a quarter degree.
const SECTOR: f64 = 0.01;

fn near(a: f64, b: f64, share: f64) -> bool {
    (a - b).abs() <= share * a.abs().max(b.abs())
}

fn guy(
    name: &str,
    from_m: (f64, f64, f64),
    anchor_m: (f64, f64, f64),
    pretension_n: f64,
    strength_n: f64,
) -> Guy {
    let place = |(x, y, z): (f64, f64, f64)| (Length::m(x), Length::m(y), Length::m(z));
    Guy {
        name: name.to_owned(),
        from: place(from_m),
        anchor: place(anchor_m),
        pretension: Some(Force::n(pretension_n)),
        strength: Some(Force::n(strength_n)),
        anchor_strength: Some(Force::n(strength_n)),
    }
}

/// Four guys from a mast 5 m up to anchors 5 m out at each corner.
fn four(pretension_n: f64, strength_n: f64) -> Vec<Guy> {
    let corner = |name: &str, x: f64, y: f64| {
        guy(name, (0.0, 0.0, 5.0), (x * 5.0, y * 5.0, 0.0), pretension_n, strength_n)
    };
    vec![
        corner("north", 1.0, 0.0),
        corner("south", -1.0, 0.0),
        corner("west", 0.0, 1.0),
        corner("east", 0.0, -1.0),
    ]
}

/// A tower-crane base of 7 m by 7 m by 1.5 m of concrete of 25 kN/m³ under a machine of 850 kN and a moment of 4,200 kN m, as a
/// public page on such bases works it: slab 1,837.5 kN, N 2,687.5 kN, eccentricity 1.563 m. Statics: half the base over that
/// eccentricity is how many times the moment is held.
#[test]
fn truth_tower_crane_base() {
    let mut input = single(0.0, 0.0, 0.0, 0.0, 0.0);
    input.contacts = oblong(3.5, 3.5);
    let slab = body("slab", 1_837_500.0 / G, 0.0, (0.0, 0.0, 0.75), CarriedBy::Frame);
    let machine = body("machine", 850_000.0 / G, 0.0, (0.0, 0.0, 20.0), CarriedBy::Frame);
    input.bodies = vec![slab, Body { wind: face(0.0, 100.0, 0.0, 42.0), ..machine }];
    input.wind = Some(WindAction { pressure: Pressure::kpa(1.0), level: WindLevel::Actual });
    let check = governing(&input);
    assert!(near(check.tipping.as_nm(), 4.2e6, NOISE));
    let eccentricity_m = 3.5 / (check.holding / check.tipping);
    assert!(near(eccentricity_m, 1.563, PRINTED), "{eccentricity_m} m");
    // Four equal springs at the corners: N/4 ± M/(2 · 7 m).
    let stiffness = [Stiffness::n_per_m(1e7); 4];
    let loads = support_extremes(&input, &stiffness).unwrap();
    for load in loads.known().expect("known") {
        assert!(near(load.greatest.as_kn(), 2687.5 / 4.0 + 300.0, NOISE), "{load:?}");
        assert!(near(load.least.as_kn(), 2687.5 / 4.0 - 300.0, NOISE), "{load:?}");
    }
}

/// A tent 6.0 m wide and 2.2 m high, 0.5 kN/m² and a coefficient of 1.3: a public page on tent building prints 8.6 kN.
#[test]
fn truth_wind_on_a_tent() {
    const ROUNDED: f64 = 5e-3;
    let mut input = single(5000.0, 2.0, 500.0, 6.0 * 2.2 * 1.3, 1.1);
    input.interfaces =
        vec![Interface { upper: Surface::Timber, lower: Surface::Concrete, condition: Condition::Clean }];
    let answers = sliding(&input).unwrap();
    let wind = answers[0].known().expect("known").wind;
    assert!(near(wind.as_kn(), 8.6, ROUNDED), "{wind:?}");
}

/// Two-leg sling, a rigging supplier's page and a rigging catalogue: 1,000 lb at 60 and 45 degrees from level pull each leg with
/// 577 and 707 lb; 10,000 lb at 60, 45 and 30 degrees with 5,775, 7,070 and 10,000 lb. Two guys of that strength hold as much down.
#[test]
fn truth_two_guys_hold_down_what_a_two_leg_sling_lifts() {
    let published = [
        (1000.0, 60.0, 577.0),
        (1000.0, 45.0, 707.0),
        (10_000.0, 60.0, 5775.0),
        (10_000.0, 45.0, 7070.0),
        (10_000.0, 30.0, 10_000.0),
    ];
    for (load_lb, degrees, leg_lb) in published {
        let angle = Angle::deg(degrees).as_rad();
        let out_m = 3.0 * maths::cos(angle) / maths::sin(angle);
        let strength = Force::weight(Mass::lb(leg_lb)).as_n();
        let mut input = single(1000.0, 2.0, 250.0, 1.0, 1.0);
        input.guys = vec![
            guy("left", (0.0, 0.0, 3.0), (0.0, out_m, 0.0), 0.0, strength),
            guy("right", (0.0, 0.0, 3.0), (0.0, -out_m, 0.0), 0.0, strength),
        ];
        let held_lb = against_lifting_n(&input.ropes()) / Force::weight(Mass::lb(1.0)).as_n();
        assert!(near(held_lb, load_lb, PRINTED), "{held_lb} lb at {degrees} degrees");
    }
}

/// Four equal legs, a load of 100 at 0.4 of the half length and 0.3 of the half width: 42.5, 27.5, 22.5 and 7.5, the planar
/// rule P/4 (1 ± x/a ± y/b) of textbooks on rigid frames on equal springs.
#[test]
fn truth_four_legs_share_by_the_planar_rule() {
    let mut input = single(0.0, 0.0, 0.0, 0.0, 0.0);
    input.situation = Situation::OpenEmpty;
    input.contacts = oblong(3.0, 2.0);
    input.bodies = vec![body("load", 100.0 / G * 1000.0, 0.0, (1.2, 0.6, 1.0), CarriedBy::Frame)];
    let loads = support_extremes(&input, &[Stiffness::n_per_m(2e7); 4]).unwrap();
    let loads: Vec<f64> = loads.known().expect("known").iter().map(|load| load.greatest.as_kn()).collect();
    for (load, published) in loads.iter().zip([42.5, 27.5, 22.5, 7.5]) {
        assert!(near(*load, published, NOISE), "{loads:?}");
    }
}

/// EN 13814:2004, EN 13782 and DIN 4112 ask for the same four factors (from memory), each known by its own name; EN 1990:2002
/// Table A1.2(B) 1.35, 1.0, 1.5 (from memory). Sets from memory say so.
#[test]
fn truth_sets_of_the_travelling_trade_and_of_strength() {
    for name in ["EN 13814:2004", "EN 13782:2005", "DIN 4112:1983"] {
        let set = set(name);
        let factors = [set.permanent_favourable, set.permanent_unfavourable, set.wind, set.other_variable];
        assert_eq!(factors, [1.0, 1.1, 1.2, 1.3].map(Ratio::one), "{name}");
        assert!(set.basis.to_string().contains("from memory"), "{name}: {}", set.basis);
    }
    let strength = set("EN 1990:2002 STR");
    assert_eq!(
        [strength.permanent_favourable, strength.permanent_unfavourable, strength.wind],
        [1.0, 1.35, 1.5].map(Ratio::one)
    );
    assert!(!set("unfactored 1.5").basis.to_string().contains("from memory"));
}

fn coefficient(upper: Surface, lower: Surface, condition: Condition) -> Option<f64> {
    friction(Interface { upper, lower, condition }).map(|found| found.coefficient.as_one())
}

/// EN 12195-1: sawn timber on plywood 0.45, on ribbed aluminium 0.25, on steel sheet 0.30, a plastic pallet on plywood 0.20,
/// anything on a rubber mat 0.60; not swept clean at most 0.20.
#[test]
fn truth_friction_of_cargo() {
    use Condition::{Clean, NotClean};
    assert_eq!(coefficient(Surface::Timber, Surface::Plywood, Clean), Some(0.45));
    assert_eq!(coefficient(Surface::Timber, Surface::RibbedAluminium, Clean), Some(0.25));
    assert_eq!(coefficient(Surface::Plastic, Surface::Plywood, Clean), Some(0.20));
    for other in [Surface::Timber, Surface::Steel, Surface::Plywood] {
        assert_eq!(coefficient(Surface::Rubber, other, Clean), Some(0.60));
        assert_eq!(coefficient(other, Surface::Rubber, NotClean), Some(0.20));
    }
    // A pallet of plastic on plywood says nothing of plastic on sawn timber.
    assert_eq!(coefficient(Surface::Plastic, Surface::Timber, Clean), None);
}

/// Concrete on ground: International Building Code 2012 Table 1806.2 has 0.70, 0.35, 0.25 and for silt and clay none, US Navy DM
/// 7.2 (FHWA GEC-6 Table 5-15) 0.70, 0.55, 0.35, 0.30 and 0.30 at the lower ends. The lower counts, and that they differ is said.
#[test]
fn truth_friction_of_concrete_on_ground_is_the_lower_of_two_codes() {
    let grounds = [
        (Surface::Rock, 0.70, false),
        (Surface::Gravel, 0.35, true),
        (Surface::Sand, 0.25, true),
        (Surface::Silt, 0.0, true),
        (Surface::Clay, 0.0, true),
    ];
    for (lower, lowest, differ) in grounds {
        let interface = Interface { upper: Surface::Concrete, lower, condition: Condition::Clean };
        assert_eq!(friction(interface).map(|found| found.coefficient), Some(Ratio::one(lowest)));
        assert_eq!(interface.disagreement().is_some(), differ, "{}", interface.words());
    }
}

/// Steel on concrete: 0.3 (EN 12812, lower bound), 0.2 (a fairground table, from memory), 0.1 measured on cast concrete (Health and
/// Safety Executive Research Report 071, 2003). All three are told, and 0.1 counts.
#[test]
fn truth_friction_tells_where_sources_differ() {
    let interface =
        Interface { upper: Surface::Steel, lower: Surface::Concrete, condition: Condition::Clean };
    let said = interface.disagreement().expect("they differ");
    for part in ["0.3 (EN 12812", "0.2 (DIN 4112", "0.1 (Health and Safety"] {
        assert!(said.contains(part), "{said}");
    }
    assert_eq!(friction(interface).map(|found| found.coefficient), Some(Ratio::one(0.1)));
}

/// Worked by hand. A block of 1,000 kg 1.5 m inside an edge, a guy at 4 m up over the middle of the base, its anchor 3 m
/// behind: u = (0, −0.6, −0.8), about the edge at y = 2: 0.8 · 2 + 0.6 · 4 = 4.0 m. At 2,000 N it holds 8,000 N m more.
#[test]
fn hand_one_guy_on_the_windward_side() {
    let plain = single(1000.0, 1.5, 250.0, 20.0, 3.0);
    let mut held = plain.clone();
    held.guys = vec![guy("back stay", (0.0, 0.0, 4.0), (0.0, -3.0, 0.0), 0.0, 2000.0)];
    let edge = |input: &StabilityInput| {
        let answers = overturning(input).unwrap();
        let of_left =
            |edge: &&EdgeCheck| (edge.from.as_str(), edge.to.as_str()) == ("front left", "rear left");
        answers[0].known().expect("known").edges.iter().find(of_left).expect("the left edge").clone()
    };
    let (without, with) = (edge(&plain), edge(&held));
    assert!(near(with.holding.as_nm() - without.holding.as_nm(), 8000.0, NOISE));
    assert_eq!(without.tipping, with.tipping);
}

/// Worked by hand. Ropes at 45° from 5 m, towards the edge and away: away its lever about the edge 2 m out is (2 + 5)/√2; the two
/// across stretch 2/√2 and so carry 2/7 of its pull. The lee guy's lever is (2 − 5)/√2: it goes slack and carries nothing.
#[test]
fn hand_guys_all_round_share_as_they_stretch() {
    let mut input = single(1000.0, 1.5, 250.0, 20.0, 3.0);
    input.guys = four(0.0, 7000.0);
    let answers = overturning(&input).unwrap();
    let edges = &answers[0].known().expect("known").edges;
    let left = edges.iter().find(|edge| edge.from == "front left" && edge.to == "rear left").expect("left");
    let pull = |name: &str| {
        left.actions.iter().find(|action| action.name == name).map(|action| match action.load {
            EdgeLoad::Pull(pull) => pull.as_n(),
            _ => panic!("{name} pulls"),
        })
    };
    assert!(near(pull("east").expect("windward"), 7000.0, NOISE));
    for across in ["north", "south"] {
        assert!(near(pull(across).expect("across"), 2000.0, NOISE));
    }
    assert_eq!(pull("west"), None);
}

#[test]
fn law_a_slack_guy_carries_nothing_and_a_guy_no_more_than_it_may() {
    let mut chance = Chance::new(77);
    for _ in 0..200 {
        let mut input = ride(Situation::WindOutOfService);
        let mut at = |low: f64, high: f64| chance.between(low, high);
        input.guys = (0..5)
            .map(|i| {
                let strength = at(500.0, 9000.0);
                let drawn = at(0.0, strength);
                let from = (at(-3.0, 3.0), at(-2.0, 2.0), at(1.0, 5.0));
                guy(&format!("guy {i}"), from, (at(-8.0, 8.0), at(-8.0, 8.0), at(-1.0, 0.5)), drawn, strength)
            })
            .collect();
        let strength = |name: &str| {
            input.guys.iter().find(|guy| guy.name == name).and_then(|guy| guy.strength).expect("a guy").as_n()
        };
        let answers = overturning(&input).unwrap();
        for edge in answers.iter().flat_map(|answer| &answer.known().expect("known").edges) {
            for action in edge.actions.iter().filter(|action| action.kind == ActionKind::Guy) {
                let EdgeLoad::Pull(pull) = action.load else { panic!("a guy pulls") };
                assert!(pull.as_n() > 0.0 && pull.as_n() <= strength(&action.name) * (1.0 + NOISE));
            }
        }
    }
}

/// What guys add against sliding is a lower bound on every direction, and close to the least of them.
#[test]
fn law_guys_against_sliding_are_bounded_from_below_and_close() {
    // By closed form: ropes at 45°, square to each other. Along a guy one carries its 1/√2; half-way two carry 1/√2 of that each
    // twice over. The least is along a guy.
    let mut input = single(1000.0, 2.0, 250.0, 1.0, 1.0);
    input.guys = four(0.0, 1000.0);
    let held = against_sliding_n(&input.ropes());
    let least = 1000.0 * maths::cos(Angle::deg(45.0).as_rad());
    assert!(held <= least && held > least * (1.0 - SECTOR), "{held} N for {least} N");
    // On one side only there is a direction in which none helps.
    input.guys.truncate(1);
    assert!(against_sliding_n(&input.ropes()) <= 0.0);
}

#[test]
fn law_guys_not_tested_are_not_known() {
    for change in [
        (|guy: &mut Guy| guy.anchor_strength = None) as fn(&mut Guy),
        |guy| guy.strength = None,
        |guy| guy.pretension = None,
    ] {
        let mut input = ride(Situation::WindOutOfService);
        input.guys = four(100.0, 3000.0);
        assert!(overturning(&input).unwrap().iter().all(|answer| answer.known().is_some()));
        change(&mut input.guys[2]);
        assert!(overturning(&input).unwrap().iter().all(|answer| answer.known().is_none()));
        assert!(sliding(&input).unwrap().iter().all(|answer| answer.known().is_none()));
        assert!(uplift(&input).unwrap().iter().all(|answer| answer.known().is_none()));
        // Nobody asks for guys before the ride is open.
        input.situation = Situation::Uncoupled;
        assert!(overturning(&input).unwrap().iter().all(|answer| answer.known().is_some()));
    }
}

fn doubled(input: &StabilityInput) -> StabilityInput {
    let mut twice = input.clone();
    for body in &mut twice.bodies {
        (body.mass.value, body.mass.off_by) = (body.mass.value * 2.0, body.mass.off_by * 2.0);
    }
    twice.seats.iter_mut().flatten().for_each(|seat| seat.riders *= 2);
    twice.wind.iter_mut().for_each(|wind| wind.pressure = wind.pressure * 2.0);
    for guy in &mut twice.guys {
        for force in [&mut guy.pretension, &mut guy.strength, &mut guy.anchor_strength] {
            *force = force.map(|force| force * 2.0);
        }
    }
    twice
}

/// All masses, riders, wind and guys doubled: the share of the limit is as it was, of tipping, sliding and lifting.
#[test]
fn law_doubling_everything_leaves_the_share() {
    for situation in Situation::ALL {
        let mut input = ride(situation);
        input.guys = four(200.0, 3000.0);
        let twice = doubled(&input);
        assert!(near(share(&input), share(&twice), NOISE), "{situation:?}");
        let slides = |input: &StabilityInput| {
            let answers = sliding(input).unwrap();
            let one = answers[0].known().expect("known");
            one.force / one.resistance
        };
        assert!(near(slides(&input), slides(&twice), NOISE), "{situation:?}");
        let lifts = |input: &StabilityInput| {
            uplift(input).unwrap().first().and_then(|a| a.known().map(|one| one.lifting / one.holding))
        };
        if let (Some(once), Some(twice)) = (lifts(&input), lifts(&twice)) {
            assert!(near(once, twice, NOISE), "{situation:?}");
        }
    }
}

/// More wind, heavier riders or a faster turntable raise no margin, of any edge by any set and of sliding, with guys or without.
#[test]
fn law_more_wind_riders_or_speed_raise_no_margin_at_any_edge() {
    let mut chance = Chance::new(5);
    let margins = |input: &StabilityInput| -> Vec<f64> {
        let tips = overturning(input).unwrap();
        let edges = tips.iter().flat_map(|answer| &answer.known().expect("known").edges);
        let mut all: Vec<f64> = edges.map(|edge| -edge.share.map_or(f64::INFINITY, Ratio::as_one)).collect();
        let slides = sliding(input).unwrap();
        all.extend(slides.iter().map(|answer| {
            let one = answer.known().expect("known");
            (one.resistance - one.force).as_n()
        }));
        all
    };
    for situation in [Situation::PartialLoad, Situation::Turning, Situation::WindInService] {
        for guys in [vec![], four(100.0, 2500.0)] {
            let mut input = ride(situation);
            input.guys = guys;
            let mut before = margins(&input);
            for _ in 0..15 {
                let by = chance.between(1.0, 1.2);
                input.wind.iter_mut().for_each(|wind| wind.pressure = wind.pressure * by);
                for seat in input.seats.iter_mut().flatten() {
                    seat.rider_mass = seat.rider_mass.map(|mass| mass * chance.between(1.0, 1.05));
                }
                let turntable = input.turntable.as_mut().expect("it turns");
                turntable.speed = turntable.speed.map(|speed| speed * chance.between(1.0, 1.05));
                let after = margins(&input);
                for (before, after) in before.iter().zip(&after) {
                    assert!(
                        *after <= before + NOISE * before.abs(),
                        "{situation:?}: {before} became {after}"
                    );
                }
                before = after;
            }
        }
    }
}

/// At the wind in which it just stands the worst share is 1, whichever of tipping, sliding and lifting it is.
#[test]
fn law_the_wind_withstood_is_where_the_limit_is_met() {
    let mut chance = Chance::new(41);
    let mut met = std::collections::BTreeSet::new();
    for _ in 0..60 {
        let mut input = ride(Situation::WindOutOfService);
        input.bodies[1].wind = face(8.0, 8.0, chance.between(0.0, 60.0), chance.between(1.0, 16.0));
        input.interfaces[0].upper = Surface::Rubber;
        if chance.between(0.0, 1.0) > 0.5 {
            input.factors.truncate(1);
        }
        input.interfaces[0].condition =
            if chance.between(0.0, 1.0) > 0.5 { Condition::Clean } else { Condition::NotClean };
        if chance.between(0.0, 1.0) > 0.5 {
            input.guys = four(0.0, chance.between(1000.0, 60_000.0));
        }
        let withstands = withstood(&input).unwrap().known().expect("known").clone();
        met.insert(withstands.first);
        let worst = |pressure: Pressure| {
            let mut question = input.clone();
            question.wind.iter_mut().for_each(|wind| wind.pressure = pressure);
            let tips = overturning(&question).unwrap();
            let tips =
                tips.iter().map(|a| a.known().expect("known").governing().share.map_or(9.0, Ratio::as_one));
            let slides = sliding(&question).unwrap();
            let slides = slides.iter().map(|a| a.known().map_or(9.0, |one| one.force / one.resistance));
            let lifts = uplift(&question).unwrap();
            let lifts = lifts.iter().map(|a| a.known().map_or(9.0, |one| one.lifting / one.holding));
            tips.chain(slides).chain(lifts).fold(0.0, f64::max)
        };
        let at = worst(withstands.pressure);
        assert!((at - 1.0).abs() < 1e-8, "{at} at {withstands:?}");
        assert!(worst(withstands.pressure * 1.001) > 1.0);
    }
    assert!(met.len() >= 2, "only {met:?} were met");
}

fn stowable(input: &StabilityInput) -> StowingInput {
    let lowered = |place: usize, share: f64, up: f64| {
        let mut body = input.bodies[place].clone();
        if let InWind::Face { drag_area_along, drag_area_across, lift_area, pressure_height } = &mut body.wind
        {
            (*drag_area_along, *drag_area_across) = (*drag_area_along * share, *drag_area_across * share);
            *lift_area = Area::ZERO;
            *pressure_height = Length::m(up);
        }
        (place, body)
    };
    let stowable = vec![lowered(2, 0.5, 1.0), lowered(1, 0.3, 2.0), lowered(3, 0.5, 1.0)];
    StowingInput { open: input.clone(), stowable, told: vec![] }
}

/// The fewest that must be stowed, against every choice tried by hand; one fewer never serves.
#[test]
fn law_the_least_to_be_stowed_is_the_least_of_all_choices() {
    for pressure_pa in [100.0, 420.0, 460.0, 700.0, 1500.0, 4000.0] {
        let mut input = ride(Situation::WindOutOfService);
        input.interfaces[0] =
            Interface { upper: Surface::Rubber, lower: Surface::Timber, condition: Condition::Clean };
        input.wind = Some(WindAction { pressure: Pressure::pa(pressure_pa), level: WindLevel::Actual });
        let question = stowable(&input);
        let stands = |choice: u32| {
            let mut open = question.open.clone();
            for (at, (place, body)) in question.stowable.iter().enumerate() {
                if choice >> at & 1 == 1 {
                    open.bodies[*place] = body.clone();
                }
            }
            withstood(&open).unwrap().known().expect("known").pressure.as_pa() >= pressure_pa
        };
        let least = (0_u32..8).filter(|choice| stands(*choice)).map(u32::count_ones).min();
        let answer = stowing(&question).unwrap();
        let answer = answer.known().expect("known");
        assert!(answer.proved);
        let found = answer.rungs.last().filter(|_| answer.serves).map(|rung| rung.stowed.len());
        assert_eq!(found, least.map(|count| count as usize), "{pressure_pa} Pa");
        let rising =
            answer.rungs.windows(2).all(|two| two[0].withstands.pressure < two[1].withstands.pressure);
        assert!(rising, "{:?}", answer.rungs);
    }
}

/// With what is stowed the finding is inside, with nothing stowed it is past its limit and says what must be.
#[test]
fn law_the_finding_on_stowing_says_what_must_be_stowed() {
    let mut input = ride(Situation::WindOutOfService);
    input.interfaces[0] =
        Interface { upper: Surface::Rubber, lower: Surface::Timber, condition: Condition::Clean };
    let nothing = withstood(&input).unwrap().known().expect("known").pressure;
    input.wind = Some(WindAction { pressure: nothing * 1.2, level: WindLevel::Actual });
    let mut question = stowable(&input);
    let speed = Speed::m_s(20.0);
    let bare = stowing_finding(&question, speed, &sources(&input)).unwrap();
    assert_eq!(bare.standing, Standing::PastLimit);
    assert!(bare.advice.iter().any(|advice| advice.contains("centre")), "{:?}", bare.advice);
    question.told = vec![1];
    let told = stowing_finding(&question, speed, &sources(&input)).unwrap();
    assert!(matches!(told.standing, Standing::Inside | Standing::Close), "{:?}", told.measure);
    let Measure::AgainstLimit { high, limit, .. } = &told.measure else { panic!("{:?}", told.measure) };
    assert!(near(high.si, 20.0, NOISE) && limit.si >= high.si);
    let notes = told.notes.join(" ");
    // √(1/1.2) = 0.9128.
    assert!(notes.contains("nothing stowed it stands up to 91 %"), "{notes}");
    assert!(notes.contains("The least that must be done: centre stowed."), "{notes}");
}

/// The extremes of every support hold over every subset of seats at every angle, and are met.
#[test]
fn law_extremes_of_supports_against_every_subset() {
    let stiffness = [1e7, 2e7, 1.5e7, 0.8e7].map(Stiffness::n_per_m);
    for situation in [Situation::PartialLoad, Situation::Turning] {
        let input = ride(situation);
        let all = support_extremes(&input, &stiffness).unwrap();
        let all = all.known().expect("known");
        let mut met = vec![(f64::INFINITY, f64::NEG_INFINITY); 4];
        for subset in 0_u32..256 {
            for step in 0..60 {
                let mut one = input.clone();
                one.situation = if situation == Situation::Turning { situation } else { Situation::OpenFull };
                one.turntable.as_mut().unwrap().angles =
                    TurntableAngles::Stated(vec![Angle::deg(f64::from(step) * 0.75)]);
                let mut index = 0;
                one.seats.as_mut().unwrap().retain(|_| {
                    index += 1;
                    subset >> (index - 1) & 1 == 1
                });
                let loads = support_extremes(&one, &stiffness).unwrap();
                for (load, met) in loads.known().expect("known").iter().zip(&mut met) {
                    *met = (met.0.min(load.least.as_n()), met.1.max(load.greatest.as_n()));
                }
            }
        }
        for (extremes, met) in all.iter().zip(met) {
            let (least, greatest) = (extremes.least.as_n(), extremes.greatest.as_n());
            assert!(
                least <= met.0 * (1.0 + NOISE) && greatest >= met.1 * (1.0 - NOISE),
                "{extremes:?}, {met:?}"
            );
            assert!(near(least, met.0, 5e-3) && near(greatest, met.1, 5e-3), "{extremes:?}, {met:?}");
        }
    }
}

/// Everything known exactly and at rest, the supports carry the weight between them, and the pull of guys down with it.
#[test]
fn law_supports_carry_the_weight_and_the_pull_of_the_guys() {
    let mut input = ride(Situation::OpenFull);
    input.bodies.iter_mut().for_each(|body| body.mass.off_by = Mass::ZERO);
    input.turntable.as_mut().unwrap().angles = TurntableAngles::Stated(vec![Angle::deg(17.0)]);
    input.tilt = Some(LEVEL);
    let weight: f64 = input.bodies.iter().map(|body| body.mass.value.as_kg()).sum::<f64>() + 16.0 * 90.0;
    let total = |input: &StabilityInput, of: fn(&SupportExtremes) -> Force| -> f64 {
        let loads = support_extremes(input, &[1e7, 3e7, 2e7, 1e7].map(Stiffness::n_per_m)).unwrap();
        loads.known().expect("known").iter().map(|load| of(load).as_n()).sum()
    };
    assert!(near(total(&input, |load| load.least), weight * G, NOISE));
    // A guy straight up over the middle of nothing else: √½ of 1,000 N down, shared among all, and no less than slack.
    input.guys = four(0.0, 1000.0);
    input.guys.iter_mut().for_each(|guy| guy.anchor.1 = guy.anchor.1 * 1e-9);
    input.guys.iter_mut().for_each(|guy| guy.anchor.0 = guy.anchor.0 * 1e-9);
    assert!(near(total(&input, |load| load.greatest), weight * G + 4000.0, 1e-6));
    assert!(near(total(&input, |load| load.least), weight * G, 1e-6));
}

#[test]
fn refuse_a_guy_that_is_none() {
    let refused = |change: &dyn Fn(&mut Guy)| {
        let mut input = ride(Situation::OpenEmpty);
        input.guys = four(100.0, 1000.0);
        change(&mut input.guys[1]);
        let message = overturning(&input).expect_err("refused").to_string();
        assert!(message.ends_with('.') && message.contains("south"), "{message}");
    };
    refused(&|guy| guy.anchor.2 = Length::m(6.0));
    refused(&|guy| guy.pretension = Some(Force::n(1001.0)));
    refused(&|guy| guy.strength = Some(Force::n(-1.0)));
    for bad in [f64::NAN, f64::INFINITY] {
        refused(&|guy| guy.from.0 = Length::m(bad));
        refused(&|guy| guy.anchor_strength = Some(Force::n(bad)));
    }
}
