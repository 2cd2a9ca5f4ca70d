//! Every step of every demo visit, drawn.

use super::ground::{all_outside, kept_clear, outside, swept};
use super::scene::Scene;
use super::*;
use tober_book::{
    Kit, Pitch, Ride, Source, Visit, parse_kit, parse_pitch, parse_ride, parse_visit, with_rows,
};
use tober_plan::{Books, loads_after, steps_shown};

struct Demo {
    name: &'static str,
    ride: Ride,
    kit: Kit,
    pitch: Pitch,
    visit: Visit,
}

macro_rules! demo {
    ($ride:literal, $name:literal, $rows:expr) => {
        Demo::read(
            $name,
            [
                include_str!(concat!("../../../../demo/", $ride, "/ride.toml")),
                include_str!(concat!("../../../../demo/", $ride, "/kit.toml")),
                include_str!(concat!("../../../../demo/", $ride, "/", $name, "/pitch.toml")),
                include_str!(concat!("../../../../demo/", $ride, "/", $name, "/visit.toml")),
            ],
            $rows,
        )
    };
}

fn demos() -> Vec<Demo> {
    let tape = include_str!("../../../../demo/lantern/quern-meadow/tape.csv");
    let staff = include_str!("../../../../demo/osier/sallow-green/staff.csv");
    vec![
        demo!("lantern", "quern-meadow", Some(tape)),
        demo!("lantern", "plover-hard", None),
        demo!("osier", "sallow-green", Some(staff)),
        demo!("osier", "kestrel-yard", None),
    ]
}

impl Demo {
    fn read(name: &'static str, [ride, kit, pitch, visit]: [&str; 4], rows: Option<&str>) -> Self {
        let good = "the demo is read";
        let mut pitch = parse_pitch(&Source::new("pitch.toml", pitch));
        if let Some(rows) = rows {
            pitch = with_rows(pitch, &Source::new("rows.csv", rows));
        }
        Self {
            name,
            ride: parse_ride(&Source::new("ride.toml", ride)).value.expect(good),
            kit: parse_kit(&Source::new("kit.toml", kit)).value.expect(good),
            pitch: pitch.value.expect(good),
            visit: parse_visit(&Source::new("visit.toml", visit)).value.expect(good),
        }
    }

    fn books(&self) -> Books<'_> {
        Books { ride: &self.ride, kit: &self.kit, pitch: &self.pitch, visit: &self.visit }
    }
}

/// The most that a picture may weigh, packed as a server packs it, in bytes: the limit.
const HEAVIEST: usize = 40_000;

fn packed(svg: &str) -> usize {
    miniz_oxide::deflate::compress_to_vec(svg.as_bytes(), 6).len() + 18
}

/// Every picture and view is XML with a title of one sentence and a description, of texts as texts, within the weight, and
/// the same twice.
#[test]
fn law_every_step_is_a_titled_drawing_within_the_weight() {
    let mut heaviest = 0;
    for demo in demos() {
        let plan = tober_plan::plan(demo.books());
        assert!(!plan.legs.is_empty(), "{}: it stands on its packing", demo.name);
        let steps = steps_shown(&demo.ride, &demo.visit).expect("the demo's steps lead through");
        assert!(steps.len() > 80, "{}", demo.name);
        let mut stages = Vec::new();
        let mut all = Vec::new();
        for shown in &steps {
            let svg = step_picture(&demo.ride, &plan, shown, StyleSheet::Embedded).expect("it can be drawn");
            let again = step_picture(&demo.ride, &plan, shown, StyleSheet::Embedded);
            assert_eq!(again, Ok(svg.clone()), "{} {}", demo.name, shown.number);
            all.push((shown.number, svg));
            if shown.on_legs(&demo.ride) && !shown.step.moves.is_empty() {
                let loads = loads_after(demo.books(), &plan, shown);
                let views = stage_views(&demo.ride, &plan, shown, &loads, StyleSheet::Embedded);
                all.push((shown.number, views.expect("it can be drawn")));
                stages.push((shown, loads));
            }
        }
        assert!(stages.len() > 15, "{}", demo.name);
        all.push((0, load_strip(&plan, &stages, StyleSheet::Embedded).expect("it can be drawn")));
        for (number, svg) in &all {
            let here = format!("{} {number}", demo.name);
            let document = roxmltree::Document::parse(svg).unwrap_or_else(|e| panic!("{here}: {e}"));
            let part = |name: &str| {
                let child = document.root_element().children().find(|node| node.has_tag_name(name));
                child.and_then(|node| node.text()).unwrap_or_default().to_owned()
            };
            let title = part("title");
            assert!(title.ends_with('.') && !title.trim_end_matches('.').contains(". "), "{here}: {title}");
            assert!(part("desc").len() > 20, "{here}: {}", part("desc"));
            assert!(document.descendants().any(|node| node.has_tag_name("text")), "{here}");
            assert!(!svg.contains("NaN") && !svg.contains("inf"), "{here}");
            let weight = packed(svg);
            heaviest = heaviest.max(weight);
            assert!(weight <= HEAVIEST, "{here}: {weight} bytes");
        }
    }
    assert!(heaviest > 3_000, "the weight was weighed: {heaviest}");
}

/// The least share of what a step moves that its picture shows. Ours: under a quarter nobody sees what a part is.
const LEAST_SEEN: f64 = 0.25;

/// What moves is in sight in every picture.
#[test]
fn law_what_moves_is_in_sight() {
    let mut moved = 0;
    for demo in demos() {
        let plan = tober_plan::plan(demo.books());
        for shown in steps_shown(&demo.ride, &demo.visit).expect("the demo's steps lead through") {
            if shown.step.moves.is_empty() {
                continue;
            }
            moved += 1;
            let seen = seen_of_step(&demo.ride, &plan, &shown).expect("something moves");
            assert!(seen >= LEAST_SEEN, "{} {} \"{}\": {seen}", demo.name, shown.number, shown.step.title);
        }
    }
    assert!(moved > 60, "{moved}");
}

/// Nobody is drawn under what moves, in what stands on the ground, or, where a rope lifts, on the ground that is kept
/// clear; and everybody is drawn.
#[test]
fn law_people_stand_where_nothing_comes_down() {
    let mut stood = 0;
    for demo in demos() {
        let plan = tober_plan::plan(demo.books());
        for shown in steps_shown(&demo.ride, &demo.visit).expect("the demo's steps lead through") {
            let (scene, chosen) = seen_best(&demo.ride, &plan, &shown);
            let patches = swept(&scene);
            let (_, _, stand) = step::compose(&scene, &chosen);
            let here = format!("{} {}", demo.name, shown.number);
            assert_eq!(stand.len(), shown.step.people.unwrap_or(0).max(shown.step.skills.len()), "{here}");
            for person in &stand {
                stood += 1;
                assert!(patches.iter().all(|patch| outside(patch, person.at) > 0.0), "{here}: {person:?}");
                for solid in &scene.solids {
                    assert!(!solid.holds([person.at[0], person.at[1], scene.ground + 0.05], 0.0), "{here}");
                }
                if let (Some((middle, radius)), true) = (kept_clear(&scene), all_outside(&scene)) {
                    let away =
                        tober_quantity::maths::hypot(person.at[0] - middle[0], person.at[1] - middle[1]);
                    assert!(away > radius, "{here}: {person:?} {away} m from the middle");
                }
            }
        }
    }
    assert!(stood > 300, "{stood}");
}

/// A line told in the book is drawn from its drum over its sheave, in the steps that take the lift back and in those between as well; nobody whose place
/// the drawing chooses stands in line with it; and who is told of stands where the book says.
#[test]
fn law_the_winch_line_runs_as_told_and_nobody_stands_in_line_with_it() {
    let (mut whole, mut told) = (0, 0);
    for demo in demos() {
        let plan = tober_plan::plan(demo.books());
        for shown in steps_shown(&demo.ride, &demo.visit).expect("the demo's steps lead through") {
            let (scene, chosen) = seen_best(&demo.ride, &plan, &shown);
            let (_, _, stand) = step::compose(&scene, &chosen);
            for (person, at) in stand.iter().zip(&shown.step.stands) {
                let off = (person.at[0] - at.along.as_m()).abs() + (person.at[1] - at.across.as_m()).abs();
                assert!(person.told && off < 1e-12, "{}: {person:?}", shown.number);
                told += 1;
            }
            let Some(run) = rope::run(&scene) else { continue };
            let here = format!("{} {}", demo.name, shown.number);
            if let Some(lift) = scene.by_winch() {
                assert!(run.drum.is_some() && run.sheave.is_some(), "{here}: {}", lift.body);
                whole += 1;
            }
            for person in stand.iter().filter(|person| !person.told) {
                assert!(!rope::in_line(&run, person.at), "{here}: {person:?}");
            }
        }
    }
    assert!(whole > 20 && told > 4, "{whole} {told}");
}

/// The eye goes with its part: upright, the eye of the mast, told 2 m before its hinge and 0.1 m under it, stands 2 m over it and 0.1 m before.
#[test]
fn hand_the_eye_of_the_mast_goes_with_it() {
    let demo = demos().remove(0);
    let plan = tober_plan::plan(demo.books());
    let steps = steps_shown(&demo.ride, &demo.visit).expect("the demo's steps lead through");
    for name in ["raise mast", "pin mast", "unpin mast"] {
        let shown = steps.iter().find(|shown| shown.step.name == name).expect("such a step");
        let run = rope::run(&Scene::of(&demo.ride, &plan, shown, false)).expect("the line is on");
        // The book's own places are rounded: half a hand's breadth.
        for (found, expected) in run.eye.iter().zip([4.4, 0.0, 3.1]) {
            assert!((found - expected).abs() < 0.25, "{name}: {:?}", run.eye);
        }
    }
}

/// Where the book gives no ring, one is worked that holds all that moves, and it says so.
#[test]
fn law_a_lift_without_a_ring_gets_one_that_holds_what_moves() {
    let mut demo = demos().remove(0);
    let step = demo.ride.steps.iter_mut().find(|step| step.name == "raise mast").expect("such a step");
    step.keep_clear_radius = None;
    step.stands.clear();
    let plan = tober_plan::plan(demo.books());
    let steps = steps_shown(&demo.ride, &demo.visit).expect("the demo's steps lead through");
    let shown = steps.iter().find(|shown| shown.step.name == "raise mast").expect("such a step");
    let scene = Scene::of(&demo.ride, &plan, shown, false);
    let (middle, radius) = kept_clear(&scene).expect("a ring");
    for p in swept(&scene).iter().flatten() {
        assert!(tober_quantity::maths::hypot(p[0] - middle[0], p[1] - middle[1]) < radius, "{p:?}");
    }
    let svg = step_picture(&demo.ride, &plan, shown, StyleSheet::Embedded).expect("it can be drawn");
    assert!(svg.contains("the book gives no ring"), "it is said");
}

/// No word lies on another.
#[test]
fn law_no_label_lies_on_another() {
    for demo in demos() {
        let plan = tober_plan::plan(demo.books());
        for shown in steps_shown(&demo.ride, &demo.visit).expect("the demo's steps lead through") {
            let (scene, chosen) = seen_best(&demo.ride, &plan, &shown);
            let (sheet, _, _) = step::compose(&scene, &chosen);
            for (at, (one, text)) in sheet.labels.iter().enumerate() {
                for (other, second) in &sheet.labels[at + 1..] {
                    let apart = !one.inset(1.0).overlaps(other.inset(1.0));
                    assert!(apart, "{} {}: \"{text}\" and \"{second}\"", demo.name, shown.number);
                }
            }
        }
    }
}

/// A place of a body that is not told of, and a step that moves what is elsewhere, are said.
#[test]
fn refuse_steps_that_do_not_lead_through() {
    let mut demo = demos().remove(0);
    let at = demo.ride.steps.iter().position(|step| !step.moves.is_empty()).expect("something moves");
    demo.ride.steps[at].moves[0].from = "nowhere".to_owned();
    let error = steps_shown(&demo.ride, &demo.visit).expect_err("it is not there");
    assert!(error.contains("nowhere") && error.contains("road"), "{error}");
    demo.ride.bodies[0].placements.retain(|place| place.name != "road");
    let error = steps_shown(&demo.ride, &demo.visit).expect_err("it is not told");
    assert!(error.contains(&demo.ride.bodies[0].name), "{error}");
}

/// The drawing keeps to what is left when shapes are not told: it says which bodies are not drawn.
#[test]
fn law_a_body_without_a_shape_is_named_and_not_drawn() {
    let mut demo = demos().remove(0);
    demo.ride.bodies.iter_mut().find(|body| body.name == "mast").expect("there is one").shape = None;
    let plan = tober_plan::plan(demo.books());
    let steps = steps_shown(&demo.ride, &demo.visit).expect("the demo's steps lead through");
    let svg = step_picture(&demo.ride, &plan, &steps[23], StyleSheet::Embedded).expect("it can be drawn");
    assert!(svg.contains("gives no shape: mast"), "{svg}");
}
