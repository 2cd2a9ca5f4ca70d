//! The steps of the demo's rides, done one after the other as they stand in the book: nothing is used from where it is
//! not, everything comes home, and the rules that no step may break.

use std::collections::{BTreeMap, BTreeSet};
use tober_book::{
    Kit, Lift, Phase, Ride, Role, Source, Step, SwitchState, parse_crew, parse_kit, parse_ride,
};
use tober_quantity::{Quantity, maths};

const RIDES: [(&str, &str, &str, &str); 2] = [
    (
        "lantern",
        include_str!("../../../demo/lantern/ride.toml"),
        include_str!("../../../demo/lantern/kit.toml"),
        include_str!("../../../demo/lantern/crew.toml"),
    ),
    (
        "osier",
        include_str!("../../../demo/osier/ride.toml"),
        include_str!("../../../demo/osier/kit.toml"),
        include_str!("../../../demo/osier/crew.toml"),
    ),
];

fn rides() -> Vec<(&'static str, Ride, Kit)> {
    RIDES
        .iter()
        .map(|(name, ride, kit, _)| {
            let ride = parse_ride(&Source::new("ride.toml", ride)).into_result().expect("the demo is sound");
            let kit = parse_kit(&Source::new("kit.toml", kit)).into_result().expect("the demo is sound");
            (*name, ride, kit)
        })
        .collect()
}

/// Where everything is: bodies, fixings by home, legs that are set, switches.
#[derive(Clone, Debug, PartialEq)]
struct State<'a> {
    bodies: BTreeMap<&'a str, &'a str>,
    fixings: BTreeMap<(&'a str, &'a str), usize>,
    set: BTreeSet<&'a str>,
    switches: BTreeMap<&'a str, SwitchState>,
}

impl<'a> State<'a> {
    fn on_the_road(ride: &'a Ride) -> Self {
        let homes = ride.fixings.iter().flat_map(|fixing| {
            fixing.homes.iter().map(|home| {
                ((fixing.name.as_str(), home.name.as_str()), home.on_the_road.expect("it is told"))
            })
        });
        Self {
            bodies: ride.bodies.iter().map(|body| (body.name.as_str(), "road")).collect(),
            fixings: homes.collect(),
            set: BTreeSet::new(),
            switches: BTreeMap::new(),
        }
    }

    /// Does one step, or says why it cannot be done from here.
    fn done(&mut self, ride: &'a Ride, step: &'a Step) -> Result<(), String> {
        for need in &step.needs {
            if let (Some(body), Some(at)) = (&need.body, &need.at)
                && self.bodies.get(body.as_str()) != Some(&at.as_str())
            {
                return Err(format!(
                    "needs {body} at {at}, and it is at {:?}",
                    self.bodies.get(body.as_str())
                ));
            }
            if let (Some(fixing), Some(home)) = (&need.fixing, &need.home) {
                let there = self.fixings[&(fixing.as_str(), home.as_str())];
                let holds = home_of(ride, fixing, home);
                if there < need.count.unwrap_or(holds) {
                    return Err(format!("needs {fixing} in {home}, and {there} of {holds} are there"));
                }
            }
            if let Some(support) = &need.support
                && !self.set.contains(support.as_str())
            {
                return Err(format!("needs {support} set"));
            }
            if let (Some(switch), Some(is)) = (&need.switch, need.is)
                && self.switches.get(switch.as_str()) != Some(&is)
            {
                return Err(format!("needs {switch} {is:?}"));
            }
        }
        for moved in &step.moves {
            let at = self.bodies.insert(&moved.body, &moved.to);
            if at != Some(&moved.from) {
                return Err(format!("moves {} from {}, and it is at {at:?}", moved.body, moved.from));
            }
        }
        for pins in &step.pins {
            let from =
                self.fixings.get_mut(&(pins.fixing.as_str(), pins.from.as_str())).expect("it is a home");
            *from = from.checked_sub(pins.count).ok_or_else(|| {
                format!("takes {} of {} from {}, where {from} are", pins.count, pins.fixing, pins.from)
            })?;
            let to = self.fixings.get_mut(&(pins.fixing.as_str(), pins.to.as_str())).expect("it is a home");
            *to += pins.count;
            if *to > home_of(ride, &pins.fixing, &pins.to) {
                return Err(format!("puts {to} of {} into {}", pins.fixing, pins.to));
            }
        }
        self.set.extend(step.sets.iter().map(String::as_str));
        for support in &step.takes_away {
            if !self.set.remove(support.as_str()) {
                return Err(format!("takes {support} away, which was not set"));
            }
        }
        self.switches.extend(step.switches.iter().map(|change| (change.switch.as_str(), change.to)));
        Ok(())
    }
}

fn home_of(ride: &Ride, fixing: &str, home: &str) -> usize {
    let fixing = ride.fixings.iter().find(|of| of.name == fixing).expect("it is a fixing");
    fixing.homes.iter().find(|of| of.name == home).expect("it is a home").holds
}

fn of_phase<'a>(ride: &'a Ride, phases: &'a [Phase]) -> impl Iterator<Item = &'a Step> {
    phases.iter().flat_map(|phase| ride.steps.iter().filter(move |step| step.phase == *phase))
}

fn did<'a>(name: &str, ride: &'a Ride, state: &mut State<'a>, phases: &[Phase]) {
    for phase in phases {
        for step in ride.steps.iter().filter(|step| step.phase == *phase) {
            state.done(ride, step).unwrap_or_else(|why| panic!("{name}, {}: {why}", step.name));
        }
    }
}

/// From the road to open, shut and opened again, and back on the road: in the order of the book every step can be done, every
/// body is open when riders come, and at the end everything is where it began.
#[test]
fn law_the_steps_in_their_order_open_the_ride_and_bring_everything_home() {
    use Phase::{Arrive, BuildUp, Leave, Open, Prove, PullDown, Reopen, Shut};
    for (name, ride, _) in rides() {
        let road = State::on_the_road(&ride);
        for days in [&[Open][..], &[Open, Shut, Reopen, Open][..]] {
            let mut state = road.clone();
            did(name, &ride, &mut state, &[Arrive, BuildUp, Prove]);
            for body in &ride.bodies {
                // What lies open as it lay on the road is moved by no step.
                let stays = body.placement("road").map(|at| at.cg) == body.placement("open").map(|at| at.cg);
                assert!(stays || state.bodies[body.name.as_str()] == "open", "{name}: {}", body.name);
            }
            for support in &ride.supports {
                assert!(state.set.contains(support.name.as_str()), "{name}: {} is set", support.name);
            }
            did(name, &ride, &mut state, days);
            did(name, &ride, &mut state, &[PullDown, Leave]);
            assert_eq!(state.bodies, road.bodies, "{name}: every body is back");
            assert_eq!(state.fixings, road.fixings, "{name}: every fixing is home");
            assert!(state.set.is_empty(), "{name}: no leg is left down");
        }
    }
}

/// What a step waits for stands before it in the book.
#[test]
fn law_no_step_waits_for_one_that_comes_later() {
    for (name, ride, _) in rides() {
        let mut before = BTreeSet::new();
        for step in &ride.steps {
            for earlier in step.after.iter().chain(&step.undoes) {
                assert!(before.contains(earlier.as_str()), "{name}: {} waits for {earlier}", step.name);
            }
            before.insert(step.name.as_str());
        }
    }
}

/// 60 to 90 steps, and about eight hold points until it is proved; each step says what to do, who does it and how long it takes.
#[test]
fn hand_each_ride_has_sixty_to_ninety_whole_steps() {
    for (name, ride, _) in rides() {
        assert!((60..=90).contains(&ride.steps.len()), "{name}: {}", ride.steps.len());
        let until_proved = [Phase::Arrive, Phase::BuildUp, Phase::Prove];
        let holds = of_phase(&ride, &until_proved).filter(|step| step.hold_point.is_some()).count();
        assert!((6..=9).contains(&holds), "{name}: {holds} hold points");
        for phase in [
            Phase::Arrive,
            Phase::BuildUp,
            Phase::Prove,
            Phase::Open,
            Phase::Shut,
            Phase::Reopen,
            Phase::PullDown,
            Phase::Leave,
            Phase::Stopped,
        ] {
            assert!(ride.steps.iter().any(|step| step.phase == phase), "{name}: {phase:?}");
        }
        for step in &ride.steps {
            let instruction = step.instruction.as_deref().unwrap_or_default();
            assert!(instruction.ends_with(['.', '!']), "{name}: {} says what to do", step.name);
            assert!(step.people.is_some() && step.duration.is_some(), "{name}: {}", step.name);
            // A sentence that a trainer can say in one breath.
            for sentence in instruction.split(['.', ':', ';']) {
                let words = sentence.split_whitespace().count();
                assert!(words <= 22, "{name}: {}: \"{sentence}\" has {words} words", step.name);
            }
        }
        // S3: a reading has limits and no value; S9: chocks before uncoupling; frame read before anything goes up.
        let at = |wanted: &str| {
            ride.steps
                .iter()
                .position(|step| step.name == wanted)
                .unwrap_or_else(|| panic!("{name}: {wanted}"))
        };
        assert!(at("chock") < at("uncouple"), "{name}");
        assert_eq!(ride.steps[at("uncouple")].needs.len(), 1, "{name}: uncoupling needs the chocks in");
        let first_lift = ride.steps.iter().position(|step| matches!(step.lift, Some(Lift::Winch(_))));
        assert!(at("frame read") < first_lift.expect("something is raised"), "{name}");
    }
}

/// S6: what is raised or lowered by a winch has a wind of its own, below the ride's and below it at the same averaging time; and
/// S7: nobody is under it.
#[test]
fn law_each_lift_has_a_lower_wind_and_ground_that_is_kept_clear() {
    for (name, ride, _) in rides() {
        let limit = ride.limits.as_ref().and_then(|limits| limits.wind_in_service.as_ref()).expect("told");
        let mut lifts = 0;
        for step in ride.steps.iter().filter(|step| matches!(step.lift, Some(Lift::Winch(_)))) {
            let own = step.wind_limit.as_ref().unwrap_or_else(|| panic!("{name}: {}", step.name));
            assert!(
                own.speed < limit.speed && own.averaged_over == limit.averaged_over,
                "{name}: {}",
                step.name
            );
            assert!(step.keep_clear_radius.is_some(), "{name}: {}", step.name);
            assert!(step.people.is_some_and(|people| people >= 2), "{name}: {}", step.name);
            assert!(step.skills.contains(&Role::Chief), "{name}: {}", step.name);
            lifts += 1;
        }
        assert!(lifts > 0, "{name}");
    }
}

/// A winch must pull what the part weighs at the worst: T = W d / a, W d the moment of all that moves about the hinge at the
/// lift's first angle, a the line's distance from the hinge there, over falls · (1 + η + η² ...) of the tackle.
#[test]
fn hand_the_winch_lifts_the_tower_at_its_first_angle() {
    let (_, ride, kit) = rides().into_iter().find(|(name, ..)| *name == "osier").expect("it is there");
    let step = ride.step("raise half").expect("it is a step");
    let Some(Lift::Winch(lift)) = &step.lift else { panic!("by a winch") };
    let (hinge, eye, sheave) =
        (lift.hinge.expect("told"), lift.eye.expect("told"), lift.sheave.expect("told"));
    let moment_nm: f64 = step
        .moves
        .iter()
        .map(|moved| {
            let body = ride.body(&moved.body).expect("it is a body");
            let cg = body.placement(&moved.from).expect("told").cg;
            9.80665 * body.mass.high().as_kg() * (cg.along.value - hinge.along.value).as_m()
        })
        .sum();
    let (ex, ez) = ((eye.along.value - hinge.along.value).as_m(), (eye.up.value - hinge.up.value).as_m());
    let (sx, sz) = ((sheave.along.value - eye.along.value).as_m(), (sheave.up.value - eye.up.value).as_m());
    let arm_m = (ex * sz - ez * sx).abs() / maths::hypot(sx, sz);
    let eta = lift.sheave_efficiency.expect("told").0.as_one();
    let falls: f64 = (1..=lift.falls.expect("told")).map(|n| maths::pow(eta, n as f64)).sum();
    let pull = moment_nm / arm_m / falls;
    let rated = kit.winches[0].lifting_rating.expect("told").0;
    // By hand: 52.8 kN m with masses at their greatest, 1.18 m, 3.64 falls: 12.3 kN of 14 kN.
    assert!((11_000.0..=rated.si()).contains(&pull), "{pull} of {}", rated.si());
}

/// Two people together lift two thirds of what they could alone, three half of it, and more than four do not work (HSE L23); at
/// its best one person lifts 23 kg (NIOSH Publication 94-110, load constant).
#[test]
fn truth_no_step_asks_people_for_more_than_a_team_can_lift() {
    for (name, ride, _) in rides() {
        let mut lifts = 0;
        for step in &ride.steps {
            let Some(Lift::Hand(lift)) = &step.lift else { continue };
            let people = lift.people.expect("it is told");
            let share = match people {
                1 => 1.0,
                2 => 2.0 / 3.0,
                3 => 0.5,
                _ => panic!("{name}, {}: {people} people", step.name),
            };
            let most = 23.0 * people as f64 * share;
            let mass_kg = lift.mass.high().as_kg();
            assert!(mass_kg <= most, "{name}, {}: {mass_kg} of {most} kg", step.name);
            assert!(step.people.is_some_and(|all| all >= people), "{name}, {}", step.name);
            lifts += 1;
        }
        assert!(lifts >= 3, "{name}: {lifts}");
    }
}

/// A detached trailer is chocked on both sides, with at least two chocks (29 CFR 1910.178(k)(1), (m)(7)).
#[test]
fn truth_there_are_chocks_for_both_sides() {
    for (name, ride, _) in rides() {
        let chocks: usize = ride.fixings.iter().filter(|f| f.name.contains("chock")).map(|f| f.count).sum();
        assert!(chocks >= 2 && chocks.is_multiple_of(2), "{name}: {chocks}");
    }
}

/// The crew has every skill that a step asks for, and enough people.
#[test]
fn law_the_crew_can_do_every_step() {
    for ((name, ride, _), (_, _, _, crew)) in rides().iter().zip(RIDES) {
        let crew = parse_crew(&Source::new("crew.toml", crew)).into_result().expect("the demo is sound");
        for step in &ride.steps {
            for skill in &step.skills {
                assert!(
                    crew.people.iter().any(|person| person.skills.contains(skill)),
                    "{name}, {}: {skill:?}",
                    step.name
                );
            }
            assert!(step.people.is_none_or(|people| people <= crew.people.len()), "{name}, {}", step.name);
        }
    }
}
