//! Reach through the books: what a plan says, and what it wants to know.

use tober_book::{Source, parse_kit, parse_pitch, parse_ride, parse_visit};
use tober_calc::finding::{Finding, Standing};
use tober_plan::{Books, Plan, WayDoing, plan};

const RIDE: &str = include_str!("../../../../demo/lantern/ride.toml");
const KIT: &str = include_str!("../../../../demo/lantern/kit.toml");
const PITCH: &str = include_str!("../../../../demo/lantern/plover-hard/pitch.toml");
const VISIT: &str = include_str!("../../../../demo/lantern/plover-hard/visit.toml");

fn planned(ride: &str, pitch: &str) -> Plan {
    let ride = parse_ride(&Source::new("ride.toml", ride)).into_result().expect("a ride");
    let kit = parse_kit(&Source::new("kit.toml", KIT)).into_result().expect("a kit");
    let pitch = parse_pitch(&Source::new("pitch.toml", pitch)).into_result().expect("a pitch");
    let visit = parse_visit(&Source::new("visit.toml", VISIT)).into_result().expect("a visit");
    plan(Books { ride: &ride, kit: &kit, pitch: &pitch, visit: &visit })
}

fn reach(plan: &Plan) -> Vec<&Finding> {
    plan.findings.iter().filter(|finding| finding.code.starts_with("reach.")).collect()
}

fn without(text: &str, key: &str) -> String {
    let kept: Vec<&str> = text.lines().filter(|line| !line.starts_with(&format!("{key} = "))).collect();
    assert!(kept.len() < text.lines().count(), "no {key}");
    kept.join("\n")
}

/// Rear legs with the nose down, then front and middle with the nose up, in two windings and one to let it down.
#[test]
fn regress_the_demo_goes_onto_its_legs_in_the_order_of_its_book() {
    let plan = planned(RIDE, PITCH);
    let way = plan.way.as_ref().expect("a way");
    assert!(way.in_book_order && way.differs.is_empty());
    let told: Vec<String> = way
        .steps
        .iter()
        .map(|step| match &step.doing {
            WayDoing::Jack { up, .. } => if *up { "up" } else { "down" }.to_owned(),
            WayDoing::Set { leg, .. } => leg.split(' ').next().unwrap_or("").to_owned(),
            WayDoing::Wind { .. } => "wind".to_owned(),
            WayDoing::Off => "off".to_owned(),
        })
        .collect();
    assert_eq!(told.join(" "), "down RL RR up FL FR ML MR off");
    assert!(
        reach(&plan).iter().all(|finding| matches!(finding.standing, Standing::Inside | Standing::Close))
    );
    assert!(
        reach(&plan).iter().any(|finding| finding.notes.iter().any(|note| note.contains("Common practice")))
    );
}

/// Each key that a way needs is asked for by name once it is gone, and no way is given without it.
#[test]
fn refuse_to_give_a_way_where_a_figure_is_missing_and_name_it() {
    for key in ["jack-shortest", "jack-travel", "jack-at", "droop", "overlift"] {
        let plan = planned(&without(RIDE, key), PITCH);
        let found = reach(&plan);
        assert!(plan.way.is_none(), "{key}");
        assert!(found.len() == 1 && found[0].standing == Standing::NotKnown, "{key}: {found:?}");
        assert!(
            found[0].unknown.iter().any(|what| what.contains(&format!("`{key}`"))),
            "{key}: {:?}",
            found[0].unknown
        );
    }
    let plan = planned(RIDE, &without(PITCH, "hitch-jack"));
    assert!(plan.way.is_none());
    assert!(reach(&plan)[0].unknown[0].contains("`hitch-jack`"), "{:?}", reach(&plan)[0].unknown);
}

/// What only bounds it leaves a way that is not known to be good.
#[test]
fn refuse_to_call_a_way_good_where_a_limit_is_missing() {
    for key in ["jack-rated-load", "order"] {
        let plan = planned(&without(RIDE, key), PITCH);
        assert!(reach(&plan).iter().all(|finding| finding.standing == Standing::NotKnown), "{key}");
    }
}

/// A jack that does not go low enough: the leg and the millimetres are said, with what would do.
#[test]
fn refuse_a_demo_whose_jack_is_too_long_and_say_the_cure() {
    let plan = planned(&RIDE.replace("jack-shortest = \"420 mm\"", "jack-shortest = \"700 mm\""), PITCH);
    assert!(plan.way.is_none());
    let finding = reach(&plan)[0];
    assert_eq!(finding.standing, Standing::PastLimit);
    assert!(plan.cures.iter().any(|cure| cure.contains("wheels on boards")), "{:?}", plan.cures);
}
