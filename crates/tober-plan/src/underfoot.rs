//! Whether the ground takes each leg, and whether its stack does.

use crate::model::{Grain, LegPlan, PlanLayer};
use tober_book::{
    Firmness, GroundBasis, GroundTest, Holding, Kit, Pitch, Ride, Surface, TimberRole, Wetness,
};
use tober_calc::finding::{Finding, Measure, Standing, Subject};
use tober_calc::ground::{
    self, Allowed, Crush, Cycling, Ground, LoadDuration, Pin, PlanSize, Planes, Service, SinkTest, Spread,
    Stack, Thumb, TimberUse, allowed_by_cone, allowed_by_vane, bending_of_stack, class_by_picket,
    class_by_thumb, crushing_of_stack, cyclic_sink, ground_findings, ground_stiffness, metal, pin_findings,
    presumptive_table, read_again_hours, spread, stack_stiffness, timber,
};
use tober_calc::supports::{Between, Layer};
use tober_quantity::{Force, Length, Ratio, Stiffness};

/// The table to which the picket and thumb tests belong.
const TABLE_OF_HAND_TESTS: &str = "NBC 9.4.4.1";
/// How far off the load of a sink test may be: a jack's gauge, read in a field. Ours.
const GAUGE_OFF_BY: f64 = 0.10;
/// How far off the sink may be: a rule on a peg. Ours.
const RULE_OFF_BY_MM: f64 = 1.0;

/// A leg's stack as the calculation of the ground wants it, from the foot down.
pub(crate) fn stack(leg: &LegPlan, kit: &Kit) -> Option<Stack> {
    if leg.foot_length <= Length::ZERO || leg.foot_width <= Length::ZERO {
        return None;
    }
    let class = |layer: &PlanLayer| {
        let board = kit.boards.iter().find(|board| board.name == layer.board)?;
        match &board.metal {
            Some(name) => metal(name).ok(),
            None => timber(board.timber.as_deref()?).ok(),
        }
    };
    let top_down: Vec<&PlanLayer> = leg.layers.iter().rev().collect();
    let layers = top_down.iter().enumerate().map(|(i, layer)| {
        // Thin ply between timbers is taken to be no weaker across its faces than the timber under it: common
        // practice, no source.
        let below = top_down[i..].iter().find(|other| !other.thin && other.metal.is_none());
        let timber = class(layer).or_else(|| below.filter(|_| layer.thin).and_then(|other| class(other)));
        ground::Layer {
            thickness: layer.thickness,
            length: layer.length,
            width: layer.width,
            boards: layer.side_by_side,
            grain: match layer.grain {
                Grain::Along => ground::Grain::Along,
                Grain::Across => ground::Grain::Across,
            },
            off_along: Length::ZERO,
            off_across: Length::ZERO,
            timber,
        }
    });
    let foot = PlanSize { along: leg.foot_length, across: leg.foot_width };
    Some(Stack { foot, layers: layers.collect() })
}

/// The sink test that speaks for a leg: its own, or else the worst of those on the same ground.
struct Tested {
    test: SinkTest,
    here: bool,
}

fn sink_test(of_book: &tober_book::SinkTest, foot: Option<PlanSize>, kit: &Kit) -> SinkTest {
    let load = of_book.load.0;
    let whole = PlanSize { along: of_book.plate_length, across: of_book.plate_width };
    // Without the boards it stood on, the whole plate counts as having borne: that is the least it can tell.
    let plate = foot.and_then(|foot| spread_through(of_book, foot, kit)).unwrap_or(whole);
    SinkTest {
        load,
        load_off_by: load * GAUGE_OFF_BY,
        plate,
        waited: of_book.wait,
        sink: of_book.sink,
        sink_off_by: Length::mm(RULE_OFF_BY_MM),
    }
}

/// What the load of a test spreads to through the boards it stood on, counted as under a leg.
fn spread_through(test: &tober_book::SinkTest, foot: PlanSize, kit: &Kit) -> Option<PlanSize> {
    if test.boards.is_empty() {
        return None;
    }
    let mut layers = Vec::new();
    for (level, name) in test.boards.iter().enumerate() {
        let board = kit.boards.iter().find(|board| &board.name == name)?;
        let grain = if level % 2 == 0 { ground::Grain::Across } else { ground::Grain::Along };
        layers.push(ground::Layer {
            thickness: board.thickness,
            length: board.length,
            width: board.width,
            boards: 1,
            grain,
            off_along: Length::ZERO,
            off_across: Length::ZERO,
            timber: board.metal.as_deref().and_then(|name| metal(name).ok()),
        });
    }
    layers.reverse();
    spread(&Stack { foot, layers }).ok().map(|spread| spread.base)
}

/// How far it sank for its load: only for telling which of several tests is the worst.
fn softness(test: &SinkTest) -> f64 {
    test.sink.as_mm() / test.load.as_kn()
}

fn tested(pitch: &Pitch, leg: &LegPlan, kit: &Kit) -> Option<Tested> {
    let foot = (leg.foot_length > Length::ZERO && leg.foot_width > Length::ZERO)
        .then_some(PlanSize { along: leg.foot_length, across: leg.foot_width });
    let leg = leg.name.as_str();
    let sink_test = |of_book: &tober_book::SinkTest| sink_test(of_book, foot, kit);
    let tests = &pitch.ground_under(leg)?.tests.0;
    let sinks = tests.iter().filter_map(|test| match test {
        GroundTest::Sink(sink) => Some(sink),
        _ => None,
    });
    let all: Vec<&tober_book::SinkTest> = sinks.collect();
    let own = all.iter().find(|test| test.at.as_deref() == Some(leg));
    if let Some(own) = own {
        return Some(Tested { test: sink_test(own), here: true });
    }
    let worst = all.into_iter().map(sink_test).max_by(|a, b| softness(a).total_cmp(&softness(b)))?;
    Some(Tested { test: worst, here: false })
}

/// What is known of the ground under a leg, or why what was written cannot be used.
fn ground(pitch: &Pitch, leg: &str) -> Result<Ground, String> {
    let Some(of_book) = pitch.ground_under(leg) else { return Ok(Ground::default()) };
    let surface = of_book.surface.map(|surface| match surface {
        Surface::BelowTopsoil => ground::Surface::BelowTopsoil,
        Surface::Topsoil => ground::Surface::Topsoil,
        Surface::Turf => ground::Surface::Turf,
        Surface::Fill => ground::Surface::Fill,
        Surface::Paved => ground::Surface::Paved,
    });
    let wet = of_book.wet.map(|wet| match wet {
        Wetness::Dry => ground::Wetness::Dry,
        Wetness::Wet => ground::Wetness::Wet,
        Wetness::StandingWater => ground::Wetness::StandingWater,
    });
    let class = |table: &str, class: &str| -> Result<Allowed, String> {
        let table = presumptive_table(table).map_err(|error| error.to_string())?;
        let class = table.class(class).map_err(|error| error.to_string())?;
        Ok(Allowed::Class { table, class })
    };
    let allowed = match &of_book.basis {
        // What the soil takes depends on the base: see `crate::soil`.
        None | Some(GroundBasis::Soil(_)) => None,
        Some(GroundBasis::Class(chosen)) => Some(class(&chosen.table, &chosen.class)?),
        Some(GroundBasis::Report(report)) => {
            Some(Allowed::Report { pressure: report.pressure, reference: report.reference.clone() })
        }
        Some(GroundBasis::Tests(_)) => by_hand(&of_book.tests.0)?,
    };
    Ok(Ground { surface, wet, water_depth: of_book.water_depth, allowed })
}

/// The least that the picket, thumb, vane and penetrometer tests allow.
fn by_hand(tests: &[GroundTest]) -> Result<Option<Allowed>, String> {
    let mut least: Option<(f64, Allowed)> = None;
    for test in tests {
        let class = match test {
            GroundTest::Picket(picket) => class_by_picket(picket.depth),
            GroundTest::Thumb(thumb) => Some(class_by_thumb(match thumb.firmness {
                Firmness::Stiff => Thumb::Hard,
                Firmness::Firm => Thumb::Moderate,
                Firmness::Soft => Thumb::Easy,
            })),
            GroundTest::Sink(_) | GroundTest::Penetrometer(_) | GroundTest::Vane(_) => None,
        };
        let allowed = match (test, class) {
            (_, Some(class)) => presumptive_table(TABLE_OF_HAND_TESTS)
                .and_then(|table| table.class(class).map(|class| Some(Allowed::Class { table, class }))),
            (GroundTest::Vane(vane), _) => allowed_by_vane(vane.strength).map(Some),
            // A driven cone says how far a blow goes, not what it meets: no rule for that is held.
            (GroundTest::Penetrometer(cone), _) => cone.resistance.map(allowed_by_cone).transpose(),
            _ => Ok(None),
        };
        let Some(allowed) = allowed.map_err(|error| error.to_string())? else { continue };
        let kpa = match &allowed {
            Allowed::Class { class, .. } => class.pressure().map_or(0.0, tober_quantity::Pressure::as_kpa),
            Allowed::Tested { pressure, .. } | Allowed::Report { pressure, .. } => pressure.as_kpa(),
        };
        if least.as_ref().is_none_or(|(before, _)| kpa < *before) {
            least = Some((kpa, allowed));
        }
    }
    Ok(least.map(|(_, allowed)| allowed))
}

/// The springs of timber and ground under a leg, as far as they are known.
pub(crate) fn springs(leg: &LegPlan, kit: &Kit, pitch: &Pitch) -> [Layer; 2] {
    let Some((stack, spread)) = stack(leg, kit).and_then(|stack| spread(&stack).ok().map(|s| (stack, s)))
    else {
        return [Layer::NotKnown, Layer::NotKnown];
    };
    let timber = stack_stiffness(&stack, &spread)
        .map_or(Layer::NotKnown, |band| Layer::Gives(Between { low: band.low, high: band.high }));
    let ground = tested(pitch, leg, kit).and_then(|tested| tested.test.subgrade().ok()).map_or(
        Layer::NotKnown,
        |subgrade| {
            // The test shows how soft it may be. Ground that has been loaded once springs back far stiffer.
            let soft = ground_stiffness(subgrade, spread.base);
            Layer::Gives(Between { low: soft, high: Stiffness::n_per_m(1e11) })
        },
    );
    [timber, ground]
}

/// The findings on the ground under a leg and on its stack.
pub(crate) fn underfoot(leg: &LegPlan, ride: &Ride, kit: &Kit, pitch: &Pitch) -> Vec<Finding> {
    let subject = Subject::Support(leg.name.clone());
    let title = "pressure on the ground";
    let not_known = |what: &str| {
        vec![Finding::not_known("ground.pressure", subject.clone(), title, what).never_overridden()]
    };
    let Some((low, high)) = leg.load else {
        return not_known("What the leg carries.");
    };
    let load = (Force::weight(low), Force::weight(high));
    let Some(stack) = stack(leg, kit) else {
        return not_known("The size of the foot.");
    };
    let spread = match spread(&stack) {
        Ok(spread) => spread,
        Err(error) => return not_known(&error.to_string()),
    };
    let mut found = of_ground(&subject, load, &spread, leg, ride, kit, pitch);
    if let Some(board) = larger_board(leg, kit) {
        for finding in found.iter_mut().filter(|f| {
            matches!(f.code, "ground.pressure" | "ground.capacity") && f.standing != Standing::Inside
        }) {
            finding.advice.push(format!("The largest board of the kit for the bottom is \"{board}\"."));
        }
    }
    let settles = settlement(&subject, load, &found, leg, ride, kit, pitch);
    found.extend(of_stack(&subject, load, &stack, &spread));
    found.extend(of_pin(&subject, load, ride));
    found.extend(settles);
    found
}

fn of_ground(
    subject: &Subject,
    load: (Force, Force),
    spread: &Spread,
    leg: &LegPlan,
    ride: &Ride,
    kit: &Kit,
    pitch: &Pitch,
) -> Vec<Finding> {
    let title = "pressure on the ground";
    let ground = match ground(pitch, &leg.name) {
        Ok(ground) => ground,
        Err(why) => {
            return vec![
                Finding::not_known("ground.pressure", subject.clone(), title, &why).never_overridden(),
            ];
        }
    };
    let tested = tested(pitch, leg, kit);
    let allowed = ride.limits.as_ref().and_then(|limits| limits.sink_greatest);
    let found = ground_findings(subject, load, spread, &ground, tested.as_ref().map(|t| &t.test), allowed);
    let mut found = match found {
        Ok(found) => found,
        Err(error) => {
            vec![
                Finding::not_known("ground.pressure", subject.clone(), title, &error.to_string())
                    .never_overridden(),
            ]
        }
    };
    if let Some(of_book) = pitch.ground_under(&leg.name)
        && let Some(GroundBasis::Soil(soil)) = &of_book.basis
    {
        found.retain(|finding| finding.code != "ground.pressure");
        found.insert(0, crate::soil::capacity(subject, load, spread, of_book, soil));
    }
    let elsewhere = tested.is_some_and(|tested| !tested.here);
    for finding in found.iter_mut().filter(|f| f.code == "ground.sink" && elsewhere) {
        // A test at another foot says less than one here.
        if finding.standing == Standing::Inside {
            finding.standing = Standing::Close;
        }
        finding.notes.push("The test was made at another foot on the same ground.".to_owned());
    }
    found
}

/// By what the load on a leg is multiplied where a code compares design loads with design strengths.
const LOAD_FACTOR: f64 = 1.35;

/// Crushing, bending and shear of the timbers; of the many places of a stack only the worst of each is kept.
fn of_stack(subject: &Subject, load: (Force, Force), stack: &Stack, spread: &Spread) -> Vec<Finding> {
    let used = TimberUse {
        service: Service::Wet,
        duration: LoadDuration::Medium,
        crush: Crush::FourHundredths,
        load_factor: Ratio::one(LOAD_FACTOR),
    };
    let all = crushing_of_stack(subject, load, stack, spread, &used).and_then(|mut all| {
        all.extend(bending_of_stack(subject, load, stack, spread, &used)?);
        Ok(all)
    });
    match all {
        Err(error) => {
            let title = "crushing of timber across the grain";
            vec![Finding::not_known("ground.crushing", subject.clone(), title, &error.to_string())]
        }
        Ok(all) => {
            let worst = |code: &str| {
                let of_code = all.iter().filter(|finding| finding.code == code);
                of_code.max_by_key(|finding| (finding.standing, finding.share())).cloned()
            };
            ["ground.crushing", "ground.mat-bending", "ground.mat-shear"]
                .into_iter()
                .filter_map(worst)
                .collect()
        }
    }
}

/// The pin that holds the leg; nothing for a screw.
fn of_pin(subject: &Subject, load: (Force, Force), ride: &Ride) -> Vec<Finding> {
    let Subject::Support(name) = subject else { return Vec::new() };
    let Some(held) = ride.supports.iter().find(|support| &support.name == name).map(|s| &s.held) else {
        return Vec::new();
    };
    let Some(holes) = held.holes() else { return Vec::new() };
    let pin = Pin {
        diameter: holes.pin_diameter,
        strength: holes.pin_strength,
        // A leg's pin goes right through and bears on both sides, however it is held.
        planes: Planes::Double,
        leg_wall: holes.leg_wall,
        sleeve_wall: holes.sleeve_wall,
        wall_strength: holes.wall_strength,
        gap: holes.pin_gap,
        sleeve_bored: matches!(held, Holding::LegAndSleeve(_)),
    };
    pin_findings(subject, load, &pin, Ratio::one(LOAD_FACTOR)).unwrap_or_else(|error| {
        vec![Finding::not_known("pin.shear", subject.clone(), "shear of the pin", &error.to_string())]
    })
}

/// How many hours pass at most between two readings of the levels: they are read each morning.
const HOURS_MOST: f64 = 10.0;
/// The shortest time between two readings that a crew can keep while riders are on: the check after an hour.
const HOURS_LEAST: f64 = 1.0;

/// How far a foot goes on sinking until the levels are read again, and when that is.
fn settlement(
    subject: &Subject,
    load: (Force, Force),
    found: &[Finding],
    leg: &LegPlan,
    ride: &Ride,
    kit: &Kit,
    pitch: &Pitch,
) -> Option<Finding> {
    let title = "further sinking under the riding load";
    let not_known = |what: &str| Some(Finding::not_known("ground.settlement", subject.clone(), title, what));
    let Some(rotation) = ride.motion.as_ref().and_then(|motion| motion.rotations.first()) else {
        return not_known("How fast the ride turns.");
    };
    let sink = found.iter().find(|finding| finding.code == "ground.sink");
    let first = sink.and_then(|finding| match &finding.measure {
        Measure::AgainstLimit { high, .. } | Measure::Figure { high, .. } => Some(Length::m(high.si)),
        _ => None,
    });
    let (Some(first), Some(tested)) = (first, tested(pitch, leg, kit)) else {
        // Ground that a table speaks for is asked for no sink test: its pressure is what is held.
        if let Some(GroundBasis::Class(_)) = pitch.ground_under(&leg.name).and_then(|g| g.basis.as_ref())
            && first.is_none()
        {
            return None;
        }
        return not_known("How far the foot sinks under its load: no sink test speaks for it.")
            .map(|finding| finding.advice("Make a sink test; read the levels after the first full load, after an hour and after rain."));
    };
    let an_hour = rotation.speed_greatest.as_rpm() * 60.0;
    // Only what comes and goes of a load drives the foot down further.
    let share = if load.1 > Force::ZERO { 1.0 - (load.0 / load.1).clamp(0.0, 1.0) } else { 0.0 };
    let riding = first * share;
    // What the maker lets a foot sink at first is what it may sink further before the frame is packed again.
    let allowed = ride.limits.as_ref().and_then(|limits| limits.sink_greatest);
    let hours = allowed.map_or(HOURS_MOST, |allowed| read_again_hours(riding, allowed, an_hour));
    let of = Cycling {
        first: (Length::ZERO, riding),
        tested: tested.here,
        an_hour,
        hours: hours.clamp(HOURS_LEAST, HOURS_MOST),
        allowed,
    };
    match cyclic_sink(subject.clone(), &of) {
        Ok(finding) => {
            Some(finding.note("Each turn counts as one coming and going of the load, without a pause."))
        }
        Err(error) => not_known(&error.to_string()),
    }
}

/// Whether the kit has a larger board for the bottom than the leg has, by its name.
fn larger_board(leg: &LegPlan, kit: &Kit) -> Option<String> {
    let area = |length: Length, width: Length| (length * width).as_m2();
    let lowest = leg.layers.first()?;
    let now = area(lowest.length, lowest.width);
    let timbers =
        kit.boards.iter().filter(|b| matches!(b.role, TimberRole::Timber | TimberRole::Mat) && b.count > 0);
    let larger = timbers.filter(|b| area(b.length, b.width) > now);
    larger.max_by(|a, b| area(a.length, a.width).total_cmp(&area(b.length, b.width))).map(|b| b.name.clone())
}
