//! The second ride of the demo, a wheel: its masses and loads by hand, and what its turning may never be.

use crate::books::{Texts, planned, without_steps};
use tober_book::{Ride, Source, parse_kit, parse_ride};
use tober_calc::finding::{Finding, Override, Standing, Subject};
use tober_plan::{Held, Plan, turns_told};
use tober_quantity::{Length, Quantity, UnitSet, maths};

/// Binary noise of two ways to one number, as a share of it.
const NOISE: f64 = 1e-9;
/// A kilogramme, in a sum of masses that are whole ones.
const KG: f64 = 1e-6;
/// A millimetre, of a centre of gravity given to the millimetre.
const MM: f64 = 1e-3;
/// A share is printed as a whole per cent, rounded up.
const WHOLE_PER_CENT: f64 = 1.0;
/// Standard gravity, m/s², 3rd CGPM (1901).
const GRAVITY: f64 = 9.80665;

/// The wheel's easy pitch.
pub fn kestrel_yard() -> Texts {
    Texts {
        ride: without_steps(include_str!("../../../../demo/osier/ride.toml")),
        kit: include_str!("../../../../demo/osier/kit.toml").to_owned(),
        pitch: include_str!("../../../../demo/osier/kestrel-yard/pitch.toml").to_owned(),
        visit: include_str!("../../../../demo/osier/kestrel-yard/visit.toml").to_owned(),
        rows: None,
    }
}

/// The one on which the wheel's chief has to decide.
pub fn sallow_green() -> Texts {
    Texts {
        pitch: include_str!("../../../../demo/osier/sallow-green/pitch.toml").to_owned(),
        visit: include_str!("../../../../demo/osier/sallow-green/visit.toml").to_owned(),
        rows: Some(include_str!("../../../../demo/osier/sallow-green/staff.csv").to_owned()),
        ..kestrel_yard()
    }
}

fn ride(texts: &Texts) -> Ride {
    parse_ride(&Source::new("ride.toml", &texts.ride)).value.expect("the demo is sound")
}

/// Mass and centre of gravity of all bodies in a placement.
fn whole(ride: &Ride, placement: &str) -> (f64, [f64; 3]) {
    let (mut mass, mut at) = (0.0, [0.0; 3]);
    for body in &ride.bodies {
        let cg = &body.placement(placement).expect("it is placed").cg;
        let kg = body.mass.value.as_kg();
        mass += kg;
        for (sum, part) in at.iter_mut().zip([&cg.along, &cg.across, &cg.up]) {
            *sum += kg * part.value.as_m();
        }
    }
    (mass, at.map(|moment| moment / mass))
}

/// 2450 + 4·48 + 820 + 160 + 190 + 8·74 + 2·38 + 240 + 8·56 = 5168 kg. Open, along: 2450·3.6 + 2·48·0.5 + 2·48·6.3 +
/// 820·1.9 + 160·1.55 + 190·1.0 + 592·1.0 + 76·3.0 − 240·0.55 + 448·1.0 = 12 605 kg m, so 2.439 m; the book says
/// 2.44 m ± 60 mm.
#[test]
fn hand_masses_and_centre_of_gravity_of_the_wheel() {
    let ride = ride(&kestrel_yard());
    let (mass, at) = whole(&ride, "open");
    assert!((mass - 5168.0).abs() < KG, "{mass}");
    assert!((at[0] - 12_605.0 / 5168.0).abs() < 2.0 * MM, "{}", at[0]);
    assert!(at[1].abs() < MM, "nothing stands to one side: {}", at[1]);
    let (told, cg) = (ride.about.mass.expect("it is told"), ride.about.cg.expect("it is told"));
    assert!(told.low().as_kg() <= mass && mass <= told.high().as_kg());
    for (at, cg) in at.into_iter().zip([cg.along, cg.across, cg.up]) {
        assert!(cg.low().as_m() <= at && at <= cg.high().as_m(), "{at}");
    }
}

/// On the road, about the middle of the two axles at 3.1 m: 5168·(3.731 − 3.1) / (8.4 − 3.1) = 615 kg on the hitch, 12 %.
/// Vehicle handbooks ask 10 to 15 per cent of a trailer's weight on its hitch (US vehicle handbooks of two makers, tongue
/// weight); below 9 % no source allows.
#[test]
fn truth_the_hitch_carries_what_vehicle_handbooks_ask() {
    let ride = ride(&kestrel_yard());
    let (mass, at) = whole(&ride, "road");
    let axles = &ride.frame.axles;
    let middle = axles.iter().map(|axle| axle.at.as_m()).sum::<f64>() / axles.len() as f64;
    let hitch = ride.frame.hitch.as_ref().expect("it has one");
    let on_hitch = mass * (at[0] - middle) / (hitch.at.along.as_m() - middle);
    assert!((0.10..=0.15).contains(&(on_hitch / mass)), "{:.1} %", on_hitch / mass * 100.0);
    // What the book says the hitch and the axles carry is what its bodies weigh, to 3 %.
    let told = hitch.load.expect("it is told").0.as_n() / GRAVITY;
    assert!((told - on_hitch).abs() < 0.03 * on_hitch, "{told} against {on_hitch}");
    let axles_told: f64 = axles.iter().filter_map(|axle| axle.load).map(|load| load.0.as_n() / GRAVITY).sum();
    assert!((axles_told - (mass - on_hitch)).abs() < 0.03 * mass, "{axles_told}");
}

/// Two axles of a trailer that are 1 m to less than 1.3 m apart may carry 16 000 kg together (Authorised Weight Regulations
/// (Northern Ireland) 1999, Schedule 3, Table VI, non-driving tandem), and a vehicle may be 2.55 m wide (House of Commons
/// Library, SN/BT/654, 2009).
#[test]
fn truth_the_wheel_may_go_on_a_british_road() {
    let ride = ride(&kestrel_yard());
    let [front, rear] = ride.frame.axles.as_slice() else { panic!("two axles") };
    let apart = (front.at - rear.at).abs().as_m();
    assert!((1.0..1.3).contains(&apart), "{apart}");
    let load = |axle: &tober_book::Axle| axle.load.expect("it is told").0.as_n() / GRAVITY;
    assert!(load(front) + load(rear) <= 16_000.0);
    let widest = ride.bodies.iter().filter_map(|body| {
        let width = match body.shape.as_ref()? {
            tober_book::Shape::Box(shape) => shape.width,
            tober_book::Shape::Plate(shape) => shape.width,
            tober_book::Shape::Cylinder(shape) => shape.diameter,
            tober_book::Shape::Tube(shape) => shape.diameter,
        };
        let at = body.placement("road")?.cg.across.value;
        Some(at.abs().as_m() + width.as_m() / 2.0).filter(|_| !body.name.starts_with("outrigger"))
    });
    let widest = widest.fold(0.0, f64::max).max(ride.frame.width.expect("a rectangle").as_m() / 2.0);
    assert!(2.0 * widest <= 2.55, "{}", 2.0 * widest);
}

/// A line of a finding's working, by its symbol: its value in SI.
fn given(plan: &Plan, code: &str, symbol: &str) -> f64 {
    let of = plan.findings.iter().find(|finding| finding.code == code).expect("the finding is there");
    let inputs = of.working.inputs();
    inputs.iter().find(|input| input.symbol == symbol).expect("the line is there").amount.si
}

/// The pressure of a gust of 12 m/s is ½ · 1.25 · 12² = 90 N/m²: the air of EN 1991-1-4:2005, 4.5, Note 2; and the lower
/// bound of Beaufort 6 in the wind classes of EN 13659, 0.625 v² (10.8 m/s: 73 N/m²), is from the same air.
#[test]
fn truth_the_gust_in_which_it_may_run_presses_with_ninety_pascals() {
    let plan = planned(&kestrel_yard()).expect("the demo is sound");
    let q = given(&plan, "supports.couples", "q");
    assert!((q - 90.0).abs() < 90.0 * NOISE, "{q}");
    let ratio: f64 = 12.0 / 10.8;
    assert!((q / (ratio * ratio) - 73.0).abs() < 0.5, "to the whole pascal that is printed there");
}

/// Eight seats at 45 degrees: with half of them full the arrows of length 1 add up to 1/sin(22.5°) = 2.6131, as the chords
/// of an octagon do. 200 kg · 3.5 m · 2.6131 = 1829.2 kg m, and at 4 rpm (0.41888 rad/s) they pull with 321 N.
#[test]
fn hand_half_of_the_cars_full() {
    let plan = planned(&kestrel_yard()).expect("the demo is sound");
    let chord = 1.0 / maths::sin(core::f64::consts::PI / 8.0);
    let mass = given(&plan, "supports.couples", "mr");
    assert!((mass - 200.0 * 3.5 * chord).abs() < 1e-6, "{mass}");
    assert!((given(&plan, "supports.couples", "mt") - mass).abs() < 1e-6);
    let omega = given(&plan, "supports.couples", "ω");
    assert!((mass * omega * omega - 321.0).abs() < 0.5, "{}", mass * omega * omega);
    // The wheel is in balance without riders: what is left is what masses and places may be off by.
    // 592 kg and 448 kg by 3 %, at 1.85 m and 3.5 m, and spokes and hub by 50 mm; places are written to the centimetre.
    let off = 592.0 * 0.03 * 1.85 + 448.0 * 0.03 * 3.5 + (592.0 + 190.0) * 1.03 * 0.05;
    let mo = given(&plan, "supports.couples", "Mo") / GRAVITY;
    assert!((mo - off).abs() < 1e-3 * off, "{mo} against {off}");
}

/// All riders aboard, level, no wind: (5168·2.439 + 1600·1.0) / 6768 = 2.099 m; the two rear feet at 0.4 m, the front ones
/// at 6.4 m, so the rear carry 6768·(6.4 − 2.099)/6 = 4851 kg, half of it each.
#[test]
fn hand_the_rear_feet_carry_seven_tenths() {
    let plan = planned(&kestrel_yard()).expect("the demo is sound");
    for (name, each) in [("rear left", 4851.0 / 2.0), ("front right", (6768.0 - 4851.0) / 2.0)] {
        let leg = plan.legs.iter().find(|leg| leg.name == name).expect("it is there");
        let (low, high) = leg.load.expect("it is known");
        assert!(low.as_kg() <= each && each <= high.as_kg(), "{name}: {each} in {low:?} to {high:?}");
    }
}

/// 158.2 mm of a thread of 6 mm are 26.37 turns, to the eighth 26 3/8; 6 mm are 1, 1.5 mm a quarter, nothing none.
#[test]
fn hand_a_screw_is_told_in_turns() {
    let told = |length, pitch| turns_told(Length::mm(length), Some(Length::mm(pitch)));
    assert_eq!(told(158.2, 6.0).as_deref(), Some("26 3/8 turns"));
    assert_eq!(told(84.0, 4.0).as_deref(), Some("21 turns"));
    assert_eq!(told(6.0, 6.0).as_deref(), Some("1 turn"));
    assert_eq!(told(1.5, 6.0).as_deref(), Some("1/4 turn"));
    assert_eq!(told(0.0, 6.0).as_deref(), Some("0 turns"));
    assert_eq!(told(5.9, 6.0).as_deref(), Some("1 turn"));
    assert_eq!(turns_told(Length::mm(84.0), None), None);
    for texts in [kestrel_yard(), sallow_green()] {
        for leg in planned(&texts).expect("the demo is sound").legs {
            let Held::Screw { extension, thread, .. } = leg.held else { panic!("four screws") };
            let turns = tober_plan::turns(extension, thread).expect("its book tells of its thread");
            assert!(
                (turns * 6.0 - extension.as_mm()).abs() <= 6.0 / 16.0 + KG,
                "{turns}: within half an eighth"
            );
        }
    }
}

/// What the chief decides on the green, as its visit says: forward by 1.5 m, off the trench.
fn moved() -> Texts {
    let mut texts = sallow_green();
    texts.visit =
        texts.visit.replace("at = [\"0 m\", \"0 m\"]\nheading", "at = [\"1.5 m\", \"0 m\"]\nheading");
    let from = texts.pitch.find("# The trench").expect("it is told");
    let to = texts.pitch.find("[[obstacle]]").expect("it is there");
    texts.pitch.replace_range(from..to, "");
    texts
}

/// As it first stood, one foot is past its limit and nobody may pass it; where the chief moves it, nothing is.
#[test]
fn hand_the_green_is_planned_once_the_chief_has_decided() {
    let first = planned(&sallow_green()).expect("the demo is sound");
    assert_eq!(first.standing, Standing::PastLimit);
    let past: Vec<&Finding> = first.findings.iter().filter(|f| f.standing == Standing::PastLimit).collect();
    assert!(
        past.iter().all(|f| f.subject == Subject::Support("rear left".to_owned())
            && f.overriding == Override::Never)
    );
    // It falls by more than a front jack is long, and so the front feet stand on more than their mat.
    for leg in &first.legs {
        let Held::Screw { travel, .. } = leg.held else { panic!("four screws") };
        let front = leg.name.starts_with("front");
        assert_eq!(leg.lift > travel, front, "{}: lift {:?}", leg.name, leg.lift);
        assert_eq!(leg.layers.len(), if front { 2 } else { 1 }, "{}", leg.name);
    }
    let then = planned(&moved()).expect("it is still sound");
    assert_eq!(then.standing, Standing::Close, "{:?}", then.findings.first().map(|f| &f.title));
}

/// The same ground, bodies and seats with left and right changed over.
fn mirrored(texts: &Texts) -> Texts {
    let over =
        |text: &str| text.replace(" left", " LEFT").replace(" right", " left").replace(" LEFT", " right");
    let across = |line: &str, nth: usize| {
        let mut parts: Vec<String> = line.split('"').map(str::to_owned).collect();
        let at = 2 * nth + 1;
        if parts.len() > at {
            parts[at] = match parts[at].strip_prefix('-') {
                Some(rest) => rest.to_owned(),
                None if parts[at].starts_with("0 ") => parts[at].clone(),
                None => format!("-{}", parts[at]),
            };
        }
        parts.join("\"")
    };
    let point = |line: &str| line.starts_with("cg = [") || line.starts_with("at = [");
    let ride = texts.ride.lines().map(|line| if point(line) { across(line, 1) } else { line.to_owned() });
    let rows = texts.rows.iter().flat_map(|rows| rows.lines()).map(|line| {
        let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
        if cells.len() > 3 && cells[2].ends_with(" m") {
            cells[2] = match cells[2].strip_prefix('-') {
                Some(rest) => rest.to_owned(),
                None => format!("-{}", cells[2]),
            };
        }
        cells.join(",")
    });
    let join = |lines: Vec<String>| lines.join("\n");
    Texts {
        ride: over(&join(ride.collect())),
        pitch: over(&texts.pitch),
        rows: texts.rows.as_ref().map(|_| join(rows.collect())),
        ..texts.clone()
    }
}

#[test]
fn law_a_mirrored_pitch_gives_the_mirrored_plan() {
    let (plan, mirror) = (planned(&moved()), planned(&mirrored(&moved())));
    let (plan, mirror) = (plan.expect("the demo is sound"), mirror.expect("and so is its mirror"));
    assert_eq!(plan.standing, mirror.standing);
    for leg in &plan.legs {
        let other = leg.name.replace("left", "LEFT").replace("right", "left").replace("LEFT", "right");
        let other = mirror.legs.iter().find(|leg| leg.name == other).expect("it has its mirror");
        assert!((leg.y + other.y).abs().as_m() < MM);
        assert!((leg.lift - other.lift).abs().as_mm() < 0.1 + NOISE, "{}: a tenth is a tie", leg.name);
        assert_eq!(leg.layers, other.layers);
        let ends = |leg: &tober_plan::LegPlan| leg.load.map(|(low, high)| (low.as_kg(), high.as_kg()));
        let ((low, high), (low_other, high_other)) = (ends(leg).expect("known"), ends(other).expect("known"));
        // Loads are printed in steps of 0.1 t, and a step is what a tenth of a millimetre may change.
        assert!((low - low_other).abs() < 101.0 && (high - high_other).abs() < 101.0, "{}", leg.name);
    }
}

/// All seats a place further round: with eight alike nothing is another.
#[test]
fn law_a_wheel_turned_by_one_car_is_the_same_wheel() {
    let texts = kestrel_yard();
    let mut turned = texts.clone();
    for angle in (0..8).rev() {
        turned.ride = turned.ride.replace(
            &format!("angle = \"{} deg\"", angle * 45),
            &format!("angle = \"{} deg\"", angle * 45 + 45),
        );
    }
    assert_ne!(texts.ride, turned.ride);
    let (plan, turned) = (planned(&texts).expect("sound"), planned(&turned).expect("sound"));
    assert_eq!(plan.findings.len(), turned.findings.len());
    for finding in &plan.findings {
        let same =
            |f: &&Finding| f.code == finding.code && f.subject == finding.subject && f.title == finding.title;
        let other = turned.findings.iter().find(same).expect("it is there");
        assert_eq!((finding.standing, finding.share()), (other.standing, other.share()), "{}", finding.title);
    }
    for (leg, other) in plan.legs.iter().zip(&turned.legs) {
        assert_eq!(leg.load, other.load, "{}", leg.name);
    }
}

/// The same book in feet, inches and pounds where it speaks of the seats: the same plan.
#[test]
fn law_a_change_of_units_changes_no_finding() {
    let texts = kestrel_yard();
    let mut other = texts.clone();
    // 3.5 m are 3500 mm, 4 rpm are 24 degrees a second: the first is another way to write the same length.
    for (from, to) in [
        ("radius = \"3.5 m\"", "radius = \"3500 mm\""),
        ("radius-at-speed = \"3.5 m\"", "radius-at-speed = \"350 cm\""),
        ("rated-load = \"5 t\"", "rated-load = \"5000 kg\""),
    ] {
        assert!(other.ride.contains(from), "{from}");
        other.ride = other.ride.replace(from, to);
    }
    other.visit = other.visit.replace("units = \"us\"", "units = \"metric\"");
    let (plan, other) = (planned(&texts).expect("sound"), planned(&other).expect("sound"));
    assert_eq!((plan.name.as_str(), plan.units), (other.name.as_str(), UnitSet::Us));
}

/// A heavier rider never raises a margin: every share grows or stays.
#[test]
fn law_heavier_riders_raise_no_margin_of_the_wheel() {
    let texts = kestrel_yard();
    let mut heavier = texts.clone();
    heavier.ride =
        heavier.ride.replace("rider-mass-greatest = \"100 kg\"", "rider-mass-greatest = \"112 kg\"");
    let (plan, heavier) = (planned(&texts).expect("sound"), planned(&heavier).expect("sound"));
    let mut compared = 0;
    for finding in plan.findings.iter().filter(|f| f.code.starts_with("s")) {
        let same =
            |f: &&Finding| f.code == finding.code && f.subject == finding.subject && f.title == finding.title;
        let Some(then) = heavier.findings.iter().find(same) else { continue };
        let (Some(now), Some(then)) = (finding.share(), then.share()) else { continue };
        assert!(then >= now, "{} of {}: {now} % became {then} %", finding.title, finding.subject);
        compared += 1;
    }
    assert!(compared >= 10, "{compared}");
}

mod worst {
    //! The worst of a wheel by trying: every set of full cars at every degree, with its forces where they really are.

    use super::{GRAVITY, Ride, maths};

    /// Factors of EN 13814:2004 (from memory in our sources): what holds, weight that tips, anything else that tips.
    const HOLDS: f64 = 1.0;
    const WEIGHT: f64 = 1.1;
    const OTHER: f64 = 1.3;

    /// Tipping over holding, in per cent, about the worst edge of four feet, standing still or turning.
    pub fn share(ride: &Ride, feet: &[(f64, f64, f64)], omega: f64) -> f64 {
        let hub = ride.motion.as_ref().expect("it turns").rotations[0].about;
        let (hub_x, hub_y, hub_z) = (hub.along.value.as_m(), hub.across.value.as_m(), hub.up.high().as_m());
        let tilt = ride.frame.level_along.expect("told").as_ratio();
        let mut worst: f64 = 0.0;
        for edge in 0..feet.len() {
            let (a, b) = (feet[edge], feet[(edge + 1) % feet.len()]);
            let length = maths::hypot(b.0 - a.0, b.1 - a.1);
            // Outward, the feet going round anticlockwise.
            let out = ((b.1 - a.1) / length, -(b.0 - a.0) / length);
            let low = a.2.min(b.2);
            let lever = |x: f64, y: f64, z: f64| {
                (x - a.0) * out.0 + (y - a.1) * out.1 + tilt * (out.0.abs() + out.1.abs()) * (z - low)
            };
            let (mut tips, mut holds) = (0.0, 0.0);
            for body in &ride.bodies {
                let cg = &body.placement("open").expect("placed").cg;
                let at = lever(cg.along.value.as_m(), cg.across.value.as_m(), cg.up.value.as_m());
                if at > 0.0 {
                    tips += WEIGHT * GRAVITY * body.mass.high().as_kg() * at;
                } else {
                    holds -= HOLDS * GRAVITY * body.mass.low().as_kg() * at;
                }
            }
            for degree in 0..360 {
                for set in 0_u32..(1 << ride.seats.len()) {
                    let (mut riders, mut force) = (0.0, (0.0, 0.0));
                    for (i, seat) in ride.seats.iter().enumerate().filter(|(i, _)| set & (1 << i) != 0) {
                        let _ = i;
                        let angle = seat.angle.as_rad() + f64::from(degree).to_radians();
                        let (left, up) =
                            (seat.radius.as_m() * maths::sin(angle), -seat.radius.as_m() * maths::cos(angle));
                        let kg = 100.0 * seat.places as f64;
                        riders += GRAVITY * kg * lever(hub_x, hub_y + left, hub_z + up);
                        force.0 += kg * omega * omega * left;
                        force.1 += kg * omega * omega * up;
                    }
                    // Through the hub: along the ground on its height, and upward on its distance inside the edge.
                    let turning =
                        force.0 * out.1 * (hub_z - low) + force.1 * lever(hub_x, hub_y, 0.0).min(0.0).abs();
                    // Riders count where they tip; one whose weight holds is not counted on.
                    let all = OTHER * (riders + turning);
                    worst = worst.max((tips + all.max(0.0)) / holds * 100.0);
                }
            }
        }
        worst
    }
}

/// The wheel's turning is bounded and not followed. What is found by trying every set of cars
/// at every degree, with the forces of turning in the wheel's own plane, is never more than what the plan says.
#[test]
fn law_no_set_of_cars_at_any_angle_is_worse_than_what_is_told() {
    let texts = kestrel_yard();
    let plan = planned(&texts).expect("the demo is sound");
    let ride = ride(&texts);
    let foot = |name: &str| {
        let leg = plan.legs.iter().find(|leg| leg.name == name).expect("it is there");
        let shortest = ride.support(name).expect("it is there").held.shortest();
        (leg.x.as_m(), leg.y.as_m(), -(shortest + leg.lift).as_m())
    };
    let feet = ["rear right", "front right", "front left", "rear left"].map(foot);
    for (situation, omega) in [
        ("with the worst seats full", 0.0),
        ("turning with the worst seats full", 4.0 * core::f64::consts::PI / 30.0),
    ] {
        let title = format!("overturning, {situation}");
        let told =
            plan.findings.iter().find(|f| f.title == title).and_then(Finding::share).expect("it is known");
        let tried = worst::share(&ride, &feet, omega);
        println!("{title}: told {told} %, by trying {tried:.1} %");
        assert!(f64::from(told) + NOISE >= tried, "{title}: {told} % is told, and {tried} % was found");
        // And it is no wild guess either.
        assert!(f64::from(told) <= 1.5 * tried + WHOLE_PER_CENT, "{title}: {told} % against {tried} %");
    }
}

/// A winch's rope breaks at five times what it lifts or later: the design factor of wire rope slings (ASME B30.9, from
/// memory), and the examination of lifting gear is no older than 12 months (LOLER 1998, regulation 9; HSE leaflet INDG422).
#[test]
fn truth_winches_of_the_demo_have_ropes_of_five_times_their_load_and_were_examined() {
    for (kit, last) in [
        (include_str!("../../../../demo/osier/kit.toml"), "2031-09-14"),
        (include_str!("../../../../demo/lantern/kit.toml"), "2031-06-24"),
    ] {
        let kit = parse_kit(&Source::new("kit.toml", kit)).value.expect("the demo is sound");
        for winch in &kit.winches {
            let (lifts, breaks) =
                (winch.lifting_rating.expect("told"), winch.rope_breaking_load.expect("told"));
            assert!(breaks.0.si() >= 5.0 * lifts.0.si(), "{}", winch.name);
            let examined = winch.examined.expect("told").to_string();
            let a_year_on =
                format!("{}{}", examined[..4].parse::<u32>().expect("a year") + 1, &examined[4..]);
            assert!(last <= a_year_on.as_str(), "{} was examined {examined}", winch.name);
        }
    }
}

fn stowing(texts: &Texts) -> Finding {
    let plan = planned(texts).expect("a plan");
    plan.findings
        .into_iter()
        .find(|finding| finding.code == "stability.stowing")
        .expect("the cars can be stowed")
}

/// The speed to which it stands, as the finding's limit.
fn stands_to(finding: &Finding) -> f64 {
    match &finding.measure {
        tober_calc::finding::Measure::AgainstLimit { limit, .. } => limit.si,
        other => panic!("{other:?}"),
    }
}

/// Where the book has the covers of all cars rolled in before a wind, it stands in more of it; and it is told by the cars'
/// names. A car whose stowed place is elsewhere cannot be counted, and the wind then is not known.
#[test]
fn law_cars_stowed_where_they_hang_let_the_wheel_stand_in_more_wind() {
    let open = kestrel_yard();
    let mut told = open.clone();
    for car in 'A'..='H' {
        let name = format!("[[body]]\nname = \"car {car}\"\n");
        assert!(told.ride.contains(&name), "car {car}");
        told.ride = told.ride.replace(&name, &format!("{name}stowed-in-wind = true\n"));
    }
    let (before, after) = (stowing(&open), stowing(&told));
    assert!(stands_to(&after) > stands_to(&before), "{before:?} {after:?}");
    assert!(after.notes.iter().any(|note| note.contains("car A, car B")), "{:?}", after.notes);
    let mut away = told.clone();
    let there = "name = \"stowed\"\ncg = [\"1 m\", \"0 m\", \"1.05 m";
    assert!(away.ride.contains(there), "car A is stowed");
    away.ride = away.ride.replacen(there, &there.replace("1 m", "3 m"), 1);
    let plan = planned(&away).expect("a plan");
    let of = |finding: &&Finding| finding.title.contains("standing empty in the greatest wind allowed");
    let found: Vec<&Finding> = plan.findings.iter().filter(of).collect();
    assert!(!found.is_empty() && found.iter().all(|f| f.standing == Standing::NotKnown), "{found:?}");
}
