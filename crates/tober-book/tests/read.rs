//! Whole files are read, and say what they say.

use tober_book::*;

/// What a file of the test data says, or the test ends with everything that is wrong with it.
fn read<T>(name: &str, parse: fn(&Source) -> Parsed<T>) -> T {
    let path = format!("{}/tests/data/{name}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).expect("the test data is there");
    parse(&Source::new(name, &text)).into_result().unwrap_or_else(|wrong| {
        let all: Vec<String> = wrong.iter().map(ToString::to_string).collect();
        panic!("{}", all.join("\n"))
    })
}

#[test]
fn hand_a_frame_supports_and_one_mass_are_enough() {
    let ride = read("least.ride.toml", parse_ride);
    assert_eq!(ride.supports.len(), 3);
    let mass = ride.total_mass().expect("the mass is written");
    assert!((mass.value.as_t() - 3.4).abs() < 1e-12);
    // 5 % of 3.4 t.
    assert!((mass.off_by.as_t() - 0.17).abs() < 1e-12);
    assert_eq!(ride.frame.corners().len(), 4);
    assert!((ride.supports[0].held.shortest().as_mm() - 420.0).abs() < 1e-9);
}

#[test]
fn hand_every_section_is_read() {
    let ride = read("full.ride.toml", parse_ride);
    assert_eq!((ride.supports.len(), ride.bodies.len(), ride.steps.len()), (4, 4, 3));
    // 4.6 t hang with 4.6 x 9.80665 kN.
    let rated = ride.support("front left").and_then(|s| s.rated_load).expect("it is written");
    assert!((rated.0.as_kn() - 45.11059).abs() < 1e-9);
    let Some(Lift::Winch(lift)) = &ride.steps[0].lift else { panic!("the first lift is by winch") };
    assert_eq!(lift.falls, Some(2));
    assert_eq!(ride.checks[1].overridable(), Override::Chief);
    assert_eq!(ride.stopped.as_ref().map(|s| s.ways.len()), Some(1));
    let order: Vec<&str> = ride.supports_in_order().iter().map(|s| s.name.as_str()).collect();
    assert_eq!(order, ["front left", "front right", "rear left", "rear right"]);

    let kit = read("full.kit.toml", parse_kit);
    assert_eq!(kit.of_role(TimberRole::Timber).count(), 1);
    let crew = read("full.crew.toml", parse_crew);
    assert_eq!(crew.people[0].until.map(|t| t.to_string()).as_deref(), Some("22:00"));
    let pitch = read("full.pitch.toml", parse_pitch);
    assert_eq!(pitch.ground_under("front left").and_then(|g| g.surface), Some(Surface::Turf));
    assert_eq!(pitch.ground_under("rear left").and_then(|g| g.surface), Some(Surface::BelowTopsoil));
    let staff = read("staff.pitch.toml", parse_pitch);
    assert!(matches!(&staff.readings, Some(Readings::Staff(staff)) if staff.readings.len() == 3));
    let visit = read("full.visit.toml", parse_visit);
    assert_eq!(visit.about.from.map(|d| d.to_string()).as_deref(), Some("2031-05-02"));
}

#[test]
fn hand_masses_are_as_uncertain_as_they_are_known() {
    let ride = read("full.ride.toml", parse_ride);
    let share = |name: &str| ride.body(name).map(|b| b.mass.off_by.as_kg() / b.mass.value.as_kg());
    let near = |name: &str, share_wanted: f64| (share(name).unwrap_or(9.0) - share_wanted).abs() < 1e-9;
    assert!(near("tower", 0.04), "the maker's 4 % stands");
    assert!(near("arm A", 0.10), "guessed without ± is 10 %");
    assert!(near("rod", 0.10), "not said how known is 10 %");
    assert!(near("floor", 10.0 / 90.0), "not said how known, with more than 10 % written");
}
