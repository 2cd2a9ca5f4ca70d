//! What must hold of every plan, whatever the ride: a mirror, other units, a heavier ride, a scale, the weight it carries.

#[path = "../demo/books.rs"]
#[allow(dead_code)]
mod books;

use books::{Texts, planned, plover_hard, quern_meadow};
use std::collections::BTreeMap;
use tober_book::{
    Kit, Pitch, Point, Point3, Readings, Ride, Source, Under, Visit, parse_kit, parse_pitch, parse_ride,
    parse_visit, with_rows,
};
use tober_calc::finding::{Finding, Measure, Sense, Standing};
use tober_plan::{Books, Plan, plan};
use tober_quantity::{Angle, Length, Quantity};

/// How far apart two workings of one figure may be, as a share: sums in another order round otherwise.
const ROUNDING: f64 = 1e-9;
/// Where the plane of the frame is laid, which is searched on a grid, as a length.
const PLANE_M: f64 = 1e-6;

/// A visit as it was read.
#[derive(Clone)]
struct Read {
    ride: Ride,
    kit: Kit,
    pitch: Pitch,
    visit: Visit,
}

impl Read {
    fn of(texts: &Texts) -> Self {
        let mut pitch = parse_pitch(&Source::new("pitch.toml", &texts.pitch));
        if let Some(rows) = &texts.rows {
            pitch = with_rows(pitch, &Source::new("tape.csv", rows));
        }
        Self {
            ride: parse_ride(&Source::new("ride.toml", &texts.ride)).into_result().expect("a ride"),
            kit: parse_kit(&Source::new("kit.toml", &texts.kit)).into_result().expect("a kit"),
            pitch: pitch.into_result().expect("a pitch"),
            visit: parse_visit(&Source::new("visit.toml", &texts.visit)).into_result().expect("a visit"),
        }
    }
    fn plan(&self) -> Plan {
        plan(Books { ride: &self.ride, kit: &self.kit, pitch: &self.pitch, visit: &self.visit })
    }
}

fn both() -> [(&'static str, Texts); 2] {
    [("the easy pitch", plover_hard()), ("the hard pitch", quern_meadow())]
}

/// A finding by what it is about.
fn name_of(finding: &Finding) -> String {
    format!("{} {}: {}", finding.code, finding.subject, finding.title)
}

/// Every finding under its name and its turn among those of that name.
fn named(plan: &Plan) -> BTreeMap<(String, usize), &Finding> {
    let mut count = BTreeMap::new();
    plan.findings
        .iter()
        .map(|finding| {
            let turn: &mut usize = count.entry(name_of(finding)).or_default();
            *turn += 1;
            ((name_of(finding), *turn), finding)
        })
        .collect()
}

/// The numbers of a finding, in coherent SI units.
fn figures(finding: &Finding) -> Vec<f64> {
    match &finding.measure {
        Measure::AgainstLimit { low, high, limit, .. } => vec![low.si, high.si, limit.si],
        Measure::Figure { low, high } => vec![low.si, high.si],
        Measure::Statement { holds } => vec![f64::from(u8::from(*holds == Some(true)))],
        Measure::Nothing => Vec::new(),
    }
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= ROUNDING * a.abs().max(b.abs()) + PLANE_M
}

fn mirrored(point: &mut Point) {
    point.across = -point.across;
}
fn mirrored_in_space(point: &mut Point3) {
    point.across.value = -point.across.value;
}
fn turned(angle: &mut Angle) {
    *angle = Angle::rad(-angle.as_rad());
}

/// The ride, the pitch and the pose as a mirror along the frame shows them. Names are kept.
fn mirror(read: &mut Read) {
    let ride = &mut read.ride;
    ride.about.cg.iter_mut().for_each(mirrored_in_space);
    ride.frame.outline.iter_mut().for_each(mirrored);
    if let Some(hitch) = &mut ride.frame.hitch {
        mirrored(&mut hitch.at);
        hitch.jack_at.iter_mut().for_each(mirrored);
    }
    for clearance in ride.frame.clearances.iter_mut().flatten() {
        clearance.over.iter_mut().for_each(mirrored);
    }
    ride.frame.nodes.iter_mut().for_each(|node| mirrored(&mut node.at));
    ride.supports.iter_mut().for_each(|support| mirrored(&mut support.at));
    for placement in ride.bodies.iter_mut().flat_map(|body| &mut body.placements) {
        mirrored_in_space(&mut placement.cg);
        placement.heading.iter_mut().for_each(turned);
        placement.rolled.iter_mut().for_each(turned);
    }
    if let Some(motion) = &mut ride.motion {
        motion.rotations.iter_mut().for_each(|rotation| mirrored_in_space(&mut rotation.about));
    }
    ride.seats.iter_mut().for_each(|seat| turned(&mut seat.angle));
    if let Some(Readings::Tape(tape)) = &mut read.pitch.readings {
        tape.slope_across.0.iter_mut().for_each(|slope| *slope = -*slope);
    }
    read.pitch.obstacles.iter_mut().flatten().for_each(|o| o.outline.iter_mut().for_each(mirrored));
    if let Some(pose) = &mut read.visit.pose {
        mirrored(&mut pose.at);
        turned(&mut pose.heading);
    }
}

#[test]
fn law_a_mirrored_ride_on_a_mirrored_pitch_has_the_mirrored_plan() {
    for (pitch, texts) in both() {
        let read = Read::of(&texts);
        let mut other = read.clone();
        mirror(&mut other);
        let (plan, mirrored) = (read.plan(), other.plan());
        for (leg, seen) in plan.legs.iter().zip(&mirrored.legs) {
            assert_eq!(
                (&leg.name, &leg.held, &leg.layers),
                (&seen.name, &seen.held, &seen.layers),
                "{pitch}"
            );
            assert_eq!((leg.x, leg.y), (seen.x, -seen.y), "{pitch}: the mirror did nothing");
        }
        let (here, there) = (named(&plan), named(&mirrored));
        assert!(here.keys().eq(there.keys()), "{pitch}: not the same findings");
        for (name, finding) in here {
            let seen = there[&name];
            // Which way it falls changes with the mirror; how safe it is does not.
            let (a, b) = (figures(finding), figures(seen));
            assert_eq!(a.len(), b.len(), "{pitch}: {name:?}");
            assert!(a.iter().zip(&b).all(|(a, b)| near(a.abs(), b.abs())), "{pitch}: {name:?}: {a:?}, {b:?}");
            assert_eq!(finding.standing, seen.standing, "{pitch}: {name:?}");
        }
    }
}

/// The text with every quantity of one unit written in another, by moving the point.
fn in_other_units(text: &str) -> String {
    let moves =
        [("mm", "m", -3), ("m", "mm", 3), ("t", "kg", 3), ("kg", "t", -3), ("kN", "N", 3), ("min", "s", 0)];
    let mut out = String::new();
    for (at, part) in text.split('"').enumerate() {
        if at > 0 {
            out.push('"');
        }
        let other = (at % 2 == 1).then(|| part.split_once(' ')).flatten().and_then(|(number, unit)| {
            let &(_, to, by) = moves.iter().find(|(from, _, by)| *from == unit && *by != 0)?;
            Some(format!("{} {to}", with_point_moved(number, by)?))
        });
        out.push_str(other.as_deref().unwrap_or(part));
    }
    out
}

/// A decimal number times ten to a power, digit by digit, so that nothing is rounded.
fn with_point_moved(number: &str, by: i32) -> Option<String> {
    let (sign, number) = number.strip_prefix('-').map_or(("", number), |rest| ("-", rest));
    if number.is_empty() || !number.bytes().all(|b| b.is_ascii_digit() || b == b'.') {
        return None;
    }
    let (whole, part) = number.split_once('.').unwrap_or((number, ""));
    let digits = format!("{whole:0>4}{part:0<3}");
    let at = i32::try_from(digits.len() - part.len().max(3)).ok()? + by;
    let (whole, part) = digits.split_at(usize::try_from(at).ok()?);
    let (whole, part) = (whole.trim_start_matches('0'), part.trim_end_matches('0'));
    let point = if part.is_empty() { "" } else { "." };
    Some(format!("{sign}{}{point}{part}", if whole.is_empty() { "0" } else { whole }))
}

#[test]
fn hand_the_point_is_moved() {
    let moved: Vec<_> = [("740", -3), ("0.6", 3), ("-12.25", 3), ("8.1", 3), ("0", -3), ("5", -3)]
        .iter()
        .map(|(number, by)| with_point_moved(number, *by).expect("a number"))
        .collect();
    assert_eq!(moved, ["0.74", "600", "-12250", "8100", "0", "0.005"]);
    assert_eq!(with_point_moved("3 1/2", 3), None);
}

/// The name of a plan hashes what was chosen and every figure of it, to six digits.
#[test]
fn law_the_same_books_in_other_units_give_the_same_plan() {
    for (pitch, texts) in both() {
        let other = Texts {
            ride: in_other_units(&texts.ride),
            kit: in_other_units(&texts.kit),
            pitch: in_other_units(&texts.pitch),
            visit: texts.visit.clone(),
            rows: texts.rows.clone(),
        };
        let changed = texts.ride.lines().zip(other.ride.lines()).filter(|(a, b)| a != b).count();
        assert!(changed > 50, "only {changed} lines of the ride are in other units");
        let (plan, same) = (planned(&texts).expect("a plan"), planned(&other).expect("a plan"));
        assert_eq!(plan.name, same.name, "{pitch}");
        assert_eq!(plan.legs, same.legs, "{pitch}");
    }
}

/// Whether a weight holds this finding down: what tips, slides or lifts is held by it, and a foot that may
/// be light is pressed down by it.
fn held_by_weight(code: &str) -> bool {
    code.starts_with("stability.") || code == "supports.light"
}

fn heavier(read: &mut Read, times: f64) {
    let masses = read.ride.bodies.iter_mut().map(|body| &mut body.mass).chain(&mut read.ride.about.mass);
    for mass in masses {
        mass.value = mass.value * times;
        mass.off_by = mass.off_by * times;
    }
}

/// Loads on legs, ground and timber. Named exceptions: see [`held_by_weight`].
#[test]
fn law_a_heavier_ride_raises_no_margin_but_of_what_its_weight_holds() {
    for (pitch, texts) in both() {
        let read = Read::of(&texts);
        let mut before = read.plan();
        let mut looked = 0;
        for times in [1.01, 1.05, 1.2, 1.5] {
            let mut more = read.clone();
            heavier(&mut more, times);
            let after = more.plan();
            assert_eq!(before.legs.len(), after.legs.len(), "{pitch}: the packing does not rest on the mass");
            let (light, heavy) = (named(&before), named(&after));
            for (name, finding) in light {
                let Some(seen) = heavy.get(&name).filter(|_| !held_by_weight(finding.code)) else { continue };
                let better = |standing| matches!(standing, Standing::Inside | Standing::Close);
                assert!(
                    better(finding.standing) || !better(seen.standing),
                    "{pitch}, {times} times the mass: {name:?} became {:?}",
                    seen.standing
                );
                if let (
                    Measure::AgainstLimit { low: a, limit, sense: Sense::AtLeast, .. },
                    Measure::AgainstLimit { low: b, limit: then, .. },
                ) = (&finding.measure, &seen.measure)
                {
                    assert!(
                        b.si / then.si <= a.si / limit.si * (1.0 + ROUNDING),
                        "{pitch}, {times}: {name:?}"
                    );
                    continue;
                }
                if let (
                    Measure::AgainstLimit { high: a, limit, .. },
                    Measure::AgainstLimit { high: b, limit: then, .. },
                ) = (&finding.measure, &seen.measure)
                {
                    assert!(
                        b.si / then.si >= a.si / limit.si * (1.0 - ROUNDING),
                        "{pitch}, {times}: {name:?}"
                    );
                    looked += usize::from(b.si > a.si);
                }
            }
            before = after;
        }
        assert!(looked > 20, "{pitch}: only {looked} figures rose");
    }
}

/// All masses, riders and wind areas doubled: what tips and what holds are both twice what they were.
#[test]
fn law_doubling_every_mass_and_every_wind_area_leaves_what_tips_and_slides() {
    for (pitch, texts) in both() {
        let mut read = Read::of(&texts);
        // What holds by the ground's own strength does not double with the ride.
        read.pitch.grounds.retain(|ground| ground.under == Under::EveryFoot);
        let mut twice = read.clone();
        heavier(&mut twice, 2.0);
        for wind in
            twice.ride.bodies.iter_mut().flat_map(|b| &mut b.placements).filter_map(|p| p.wind.as_mut())
        {
            wind.along = wind.along * 2.0;
            wind.across = wind.across * 2.0;
            wind.lift = wind.lift * 2.0;
        }
        for seat in &mut twice.ride.seats {
            seat.rider_mass_greatest = seat.rider_mass_greatest.map(|mass| mass * 2.0);
            if let Some(mass) = &mut seat.mass {
                (mass.value, mass.off_by) = (mass.value * 2.0, mass.off_by * 2.0);
            }
        }
        if let Some(limits) = &mut twice.ride.limits {
            limits.rider_mass_greatest = limits.rider_mass_greatest.map(|mass| mass * 2.0);
        }
        let (once, twice) = (read.plan(), twice.plan());
        let there = named(&twice);
        let mut looked = 0;
        for (name, finding) in named(&once) {
            let (true, Measure::AgainstLimit { high, limit, .. }) =
                (finding.code.starts_with("stability."), &finding.measure)
            else {
                continue;
            };
            let Some(Measure::AgainstLimit { high: h, limit: l, .. }) = there.get(&name).map(|f| &f.measure)
            else {
                panic!("{pitch}: {name:?} is not there with everything doubled");
            };
            assert!(near(high.si / limit.si, h.si / l.si), "{pitch}: {name:?}");
            looked += 1;
        }
        assert!(looked >= 10, "{pitch}: only {looked} findings on the stand");
    }
}

/// Whatever the gaps, the legs carry the ride: the least of all of them is no more than its greatest weight, and the
/// greatest no less than its least.
#[test]
fn law_the_bands_of_the_legs_hold_the_weight_of_the_ride() {
    for (pitch, texts) in both() {
        let read = Read::of(&texts);
        let mass = read.ride.total_mass().expect("a mass");
        let plan = read.plan();
        let (mut least, mut greatest) = (0.0, 0.0);
        for leg in &plan.legs {
            let (low, high) = leg.load.expect("a load");
            (least, greatest) = (least + low.as_kg(), greatest + high.as_kg());
        }
        let (light, heavy) = ((mass.value - mass.off_by).as_kg(), (mass.value + mass.off_by).as_kg());
        assert!(least <= heavy, "{pitch}: {least} kg at least on a ride of {heavy} kg at most");
        assert!(greatest >= light, "{pitch}: {greatest} kg at most on a ride of {light} kg at least");
    }
}

/// Ground that is raised everywhere by the same height is the same ground: the tapes are shorter by it.
#[test]
fn law_a_higher_resting_trailer_reads_the_same_ground() {
    for (pitch, texts) in both() {
        let read = Read::of(&texts);
        let mut higher = read.clone();
        let Some(Readings::Tape(tape)) = &mut higher.pitch.readings else {
            panic!("{pitch} is read by tape")
        };
        for leg in &mut tape.legs {
            leg.tape = leg.tape + Length::mm(25.0);
        }
        let (plan, same) = (read.plan(), higher.plan());
        assert_eq!(plan.legs.len(), 6, "{pitch}");
        for (leg, seen) in plan.legs.iter().zip(&same.legs) {
            assert_eq!((&leg.held, &leg.layers), (&seen.held, &seen.layers), "{pitch}: {}", leg.name);
            assert!(near(leg.residual.si(), seen.residual.si()), "{pitch}: {}", leg.name);
        }
    }
}
