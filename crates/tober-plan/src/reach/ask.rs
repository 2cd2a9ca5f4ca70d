//! From the books to a question of reach, with what is missing, what is doubtful, and how the trailer may be other than it is asked.

use crate::aboard::present;
use crate::assemble::Books;
use crate::carried::{DEVIATIONS, bedding};
use crate::heights::Heights;
use crate::model::LegPlan;
use crate::packing::Packed;
use tober_book::{Axle, Hitch, Holding, Readings, Ride, Support};
use tober_calc::packing::Choice;
use tober_calc::reach as calc;
use tober_calc::supports::{Between, Layer, Load, in_series};
use tober_quantity::{Force, Length, Mass, Quantity, Stiffness, Toleranced, maths};

/// What a leg may at most give under half the trailer where nobody knows what its layers give, in millimetres. Ours: a foot that
/// sinks half as far is past its limit elsewhere.
const GIVES_MOST_MM: f64 = 20.0;
/// Two figures for one spring that differ by less than this share are one.
const ALIKE: f64 = 0.01;

/// The weight of the trailer as the legs are set, with what it may be off.
struct Weighs {
    load: Load,
    low: f64,
    high: f64,
    off_along: Length,
    off_across: Length,
}

/// What is asked, and how the same trailer may be other than it is asked.
pub(super) struct Asked {
    pub question: calc::Question,
    /// Other trailers that may be meant, each with what is other about it.
    pub others: Vec<(&'static str, calc::Question)>,
    pub off_by: Vec<Length>,
    pub doubts: Vec<String>,
}

/// The frame plane and the ground, as far as they were read.
struct Ground<'a> {
    heights: &'a Heights,
    /// With a tape the trailer stood there on its wheels: slopes along and across of its frame.
    frame: Option<(f64, f64)>,
    jack: Option<Length>,
}

impl<'a> Ground<'a> {
    fn of(books: Books<'_>, heights: &'a Heights) -> Self {
        let (mut frame, mut jack) = (None, None);
        if let Some(Readings::Tape(tape)) = &books.pitch.readings {
            let mean = |slopes: &[tober_quantity::Slope]| {
                slopes.iter().map(|slope| slope.as_ratio()).sum::<f64>() / slopes.len().max(1) as f64
            };
            frame = Some((mean(&tape.slope_along.0), mean(&tape.slope_across.0)));
            jack = tape.hitch_jack;
        }
        Self { heights, frame, jack }
    }

    fn plane(&self, x: Length, y: Length) -> Option<Length> {
        self.frame.map(|(along, across)| x * along + y * across)
    }

    /// Under a wheel: a frame that was read as it rests on its wheels tells it.
    fn under_wheel(&self, x: Length, y: Length, resting: Length) -> Option<Length> {
        let read = || self.heights.surface.as_ref()?.height_at(x, y).map(|(height, _)| height);
        self.plane(x, y).map(|plane| plane - resting).or_else(read)
    }

    fn under_jack(&self, x: Length, y: Length) -> Option<Length> {
        let read = || self.heights.surface.as_ref()?.height_at(x, y).map(|(height, _)| height);
        self.plane(x, y).zip(self.jack).map(|(plane, tape)| plane - tape).or_else(read)
    }
}

/// The question of these books, or what is missing of it.
pub(super) fn asked(
    books: Books<'_>,
    heights: &Heights,
    packed: &Packed,
    choice: &Choice,
    legs: &[LegPlan],
    springs: &dyn Fn(&str) -> [Layer; 2],
) -> Result<Asked, Vec<String>> {
    let Books { ride, .. } = books;
    let ground = Ground::of(books, heights);
    let (mut missing, mut doubts) = (Vec::new(), Vec::new());
    let jack = jack(ride, &ground, &mut missing, &mut doubts);
    let (axles, other_axles) = axles(ride, &ground, &mut missing, &mut doubts);
    let weighs = weighs(books).map_err(|what| missing.push(what));
    let weight = weighs.as_ref().map_or(Force::ZERO, |weighs| weighs.load.down);
    let mut list = Vec::new();
    let (mut soft, mut off_by) = (Vec::new(), Vec::new());
    for leg in legs {
        let place = packed.problem.supports.iter().position(|s| s.name == leg.name);
        let (Some(place), Some(support)) = (place, ride.support(&leg.name)) else { continue };
        let placed = &choice.supports[place];
        let seat = placed.seat.length();
        if let Some(one) = leg_of(support, leg, seat, weight, springs, &mut missing, &mut doubts) {
            soft.push(one.1);
            list.push(one.0);
            let off =
                leg.ground_deviation.map_or(Length::ZERO, |d| d * (DEVIATIONS * maths::hypot(1.0, 1.0)));
            off_by.push(off + bedding(placed.laid.len() + 1));
        }
    }
    if !heights.deviations_known {
        doubts.push("How good the instrument is, with which the ground was read.".to_owned());
    }
    if legs.iter().any(|leg| ride.support(&leg.name).is_some_and(|support| support.order.is_none())) {
        doubts.push("The order in which the maker has the legs set: `order`.".to_owned());
    }
    let (Some(jack), Ok(weighs), true) = (jack, weighs, missing.is_empty()) else {
        return Err(missing);
    };
    // Heights are counted from the ground under the hitch jack: a datum may be far from the pitch.
    let datum = jack.ground;
    let mut question = calc::Question { axles, jack, legs: list, load: weighs.load };
    lower(&mut question, datum);
    let mut others = Vec::new();
    let mut other = |what, change: &dyn Fn(&mut calc::Question)| {
        let mut other = question.clone();
        change(&mut other);
        if other != question {
            others.push((what, other));
        }
    };
    other("where the wheels' springs follow their stiffness and not their droop", &|q| {
        for (axle, tops) in q.axles.iter_mut().zip(&other_axles) {
            for (wheel, (stiffness, lower)) in axle.wheels.iter_mut().zip(tops) {
                (wheel.stiffness, wheel.top) = (*stiffness, wheel.top - *lower);
            }
        }
    });
    other("where legs, stacks and ground are at their softest", &|q| {
        for (leg, stiffness) in q.legs.iter_mut().zip(&soft) {
            leg.spring.stiffness = *stiffness;
        }
    });
    let down = weighs.load.down;
    other("at its heaviest", &|q| q.load.down = down * weighs.high);
    other("at its lightest", &|q| q.load.down = down * weighs.low);
    other("with its weight as far forward as it may be", &|q| q.load.x = q.load.x + weighs.off_along);
    other("with its weight as far back as it may be", &|q| q.load.x = q.load.x - weighs.off_along);
    other("with its weight as far to the left as it may be", &|q| q.load.y = q.load.y + weighs.off_across);
    other("with its weight as far to the right as it may be", &|q| q.load.y = q.load.y - weighs.off_across);
    Ok(Asked { question, others, off_by, doubts })
}

fn lower(question: &mut calc::Question, by: Length) {
    let jack = &mut question.jack;
    for height in [&mut jack.lowest.top, &mut jack.ground, &mut jack.start] {
        *height = *height - by;
    }
    for wheel in question.axles.iter_mut().flat_map(|axle| &mut axle.wheels) {
        wheel.top = wheel.top - by;
    }
    for leg in &mut question.legs {
        leg.spring.top = leg.spring.top - by;
        leg.drawn_up = leg.drawn_up.map(|height| height - by);
        if let calc::Way::Screw { shortest } = &mut leg.way {
            *shortest = *shortest - by;
        }
    }
}

fn jack(
    ride: &Ride,
    ground: &Ground<'_>,
    missing: &mut Vec<String>,
    doubts: &mut Vec<String>,
) -> Option<calc::Jack> {
    let Some(hitch) = &ride.frame.hitch else {
        missing.push("The hitch and its jack: `[frame.hitch]`.".to_owned());
        return None;
    };
    let Hitch { jack_at, jack_shortest, jack_travel, jack_rated_load, .. } = hitch;
    let mut need = |there: bool, what: &str| {
        if !there {
            missing.push(what.to_owned());
        }
    };
    need(jack_at.is_some(), "Where the hitch jack stands: `jack-at`.");
    need(jack_shortest.is_some(), "How long the hitch jack is, wound right in: `jack-shortest`.");
    need(jack_travel.is_some(), "How far the hitch jack travels: `jack-travel`.");
    let under = jack_at.and_then(|at| ground.under_jack(at.along, at.across));
    need(
        jack_at.is_none() || under.is_some(),
        "The ground under the hitch jack: `hitch-jack` among the tapes, or a point of the staff beyond it.",
    );
    need(ride.frame.resting_height.is_some(), "How high the frame rests on its wheels: `resting-height`.");
    if jack_rated_load.is_none() {
        doubts.push("What the hitch jack may lift: `jack-rated-load`.".to_owned());
    }
    let (at, shortest, under) = ((*jack_at)?, (*jack_shortest)?, under?);
    let resting = ride.frame.resting_height?;
    Some(calc::Jack {
        lowest: calc::Spring {
            x: at.along,
            y: at.across,
            stiffness: Stiffness::n_per_m(calc::JACK_STIFFNESS_N_PER_M),
            top: under + shortest,
        },
        travel: (*jack_travel)?,
        packing: Length::ZERO,
        ground: under,
        rated: jack_rated_load.map(|load| load.0),
        start: ground.plane(at.along, at.across).unwrap_or(under + resting),
    })
}

/// Left and right: another stiffness, and how much lower it hangs with it.
type OtherSprings = [(Stiffness, Length); 2];

/// The axles, and the same with the springs as stiff as the book says where that is not what load and droop say.
///
/// The wheels of one side push what they carry at rest less what the frame rises, until they hang. Where load and droop are
/// written, the spring is the straight line between these two; where a stiffness is written beside them, the spring that
/// follows it is tried as well, since a spring that stiffens lies between the two.
fn axles(
    ride: &Ride,
    ground: &Ground<'_>,
    missing: &mut Vec<String>,
    doubts: &mut Vec<String>,
) -> (Vec<calc::Axle>, Vec<OtherSprings>) {
    let (mut axles, mut others) = (Vec::new(), Vec::new());
    if ride.frame.axles.is_empty() {
        missing.push("The axles: `[[frame.axle]]`.".to_owned());
    }
    for (i, axle) in ride.frame.axles.iter().enumerate() {
        let name = format!("axle {}", i + 1);
        let Axle { at, track, stiffness, droop, load, rated_load, .. } = axle;
        let Some(droop) = droop.filter(|droop| *droop > Length::ZERO) else {
            missing.push(format!("How far the wheels of {name} drop, unloaded: `droop`."));
            continue;
        };
        let side = load.map(|load| load.0.si() / 2.0);
        let Some(secant) = side.map(|side| side / droop.si()).or(stiffness.map(Quantity::si)) else {
            missing.push(format!(
                "What {name} carries at rest, or how stiff its springs are: `load`, `stiffness`."
            ));
            continue;
        };
        // Without one of them nothing tells whether the spring is a straight line.
        if load.is_none() || stiffness.is_none() {
            doubts.push(format!(
                "Both what {name} carries at rest and how stiff its springs are: `load`, `stiffness`."
            ));
        }
        if rated_load.is_none() {
            doubts.push(format!("What {name} may carry: `rated-load`."));
        }
        let Some(resting) = ride.frame.resting_height else { continue };
        let wheel = |across: Length| {
            let under = ground.under_wheel(*at, across, resting)?;
            let top = under + resting + droop;
            Some(calc::Wheel { x: *at, y: across, stiffness: Stiffness::n_per_m(secant), top })
        };
        let half = *track / 2.0;
        let (Some(left), Some(right)) = (wheel(half), wheel(-half)) else {
            missing.push(format!("The ground under the wheels of {name}: points of the staff round it."));
            continue;
        };
        axles.push(calc::Axle { name, wheels: [left, right], rated: rated_load.map(|load| load.0) });
        let tangent = stiffness.map(Quantity::si).filter(|k| (k / secant - 1.0).abs() > ALIKE);
        let other = match (tangent, side) {
            (Some(k), Some(side)) => (Stiffness::n_per_m(k), droop - Length::m((side / k).min(droop.si()))),
            _ => (Stiffness::n_per_m(secant), Length::ZERO),
        };
        others.push([other; 2]);
    }
    (axles, others)
}

/// What it weighs on the road, and where.
fn weighs(books: Books<'_>) -> Result<Weighs, String> {
    let Books { ride, visit, .. } = books;
    let bodies: Vec<&tober_book::Body> = present(ride, visit).collect();
    if bodies.is_empty() {
        let (mass, cg) = ride
            .about
            .mass
            .zip(ride.about.cg)
            .ok_or("What the trailer weighs and where: `mass` and `cg`.")?;
        return Ok(Weighs {
            load: Load::weight(Force::weight(mass.value), cg.along.value, cg.across.value),
            low: mass.low() / mass.value,
            high: mass.high() / mass.value,
            off_along: cg.along.off_by,
            off_across: cg.across.off_by,
        });
    }
    let (mut sum, mut along, mut across, mut off_along, mut off_across) = (0.0, 0.0, 0.0, 0.0, 0.0);
    let (mut low, mut high) = (0.0, 0.0);
    for body in bodies {
        let road = body
            .placement("road")
            .ok_or_else(|| format!("Where \"{}\" is on the road: a placement \"road\".", body.name))?;
        let mass: Toleranced<Mass> = body.mass;
        let (m, cg) = (mass.value.si(), road.cg);
        sum += m;
        low += mass.low().si();
        high += mass.high().si();
        along += m * cg.along.value.si();
        across += m * cg.across.value.si();
        off_along += m * cg.along.off_by.si();
        off_across += m * cg.across.off_by.si();
    }
    if sum <= 0.0 {
        return Err("What the trailer weighs.".to_owned());
    }
    Ok(Weighs {
        load: Load::weight(
            Force::weight(Mass::from_si(sum)),
            Length::m(along / sum),
            Length::m(across / sum),
        ),
        low: low / sum,
        high: high / sum,
        off_along: Length::m(off_along / sum),
        off_across: Length::m(off_across / sum),
    })
}

/// A leg on its stack, and its stiffness at the softest.
fn leg_of(
    support: &Support,
    leg: &LegPlan,
    seat: Length,
    weight: Force,
    springs: &dyn Fn(&str) -> [Layer; 2],
    missing: &mut Vec<String>,
    doubts: &mut Vec<String>,
) -> Option<(calc::Leg, Stiffness)> {
    let [timber, ground] = springs(&support.name);
    let own = support.stiffness.map_or(Layer::NotKnown, |k| Layer::Gives(Between::exact(k)));
    if matches!(own, Layer::NotKnown) || matches!(timber, Layer::NotKnown) {
        let what =
            "How much legs and stacks give under load: `stiffness` of each leg, `timber` of each board.";
        if !doubts.iter().any(|doubt| doubt == what) {
            doubts.push(what.to_owned());
        }
    }
    // A layer that is not known is taken not to give, and at its softest to give all of `GIVES_MOST_MM` under half the trailer.
    let layers = [own, timber, ground];
    let not_known = layers.iter().filter(|layer| matches!(layer, Layer::NotKnown)).count() as f64;
    let soft = Stiffness::n_per_m(weight.si() / 2.0 / Length::mm(GIVES_MOST_MM).si());
    let least = layers.map(|layer| match layer {
        Layer::NotKnown => Layer::Gives(Between::exact(soft * not_known)),
        known => known,
    });
    let most = layers.map(|layer| if matches!(layer, Layer::NotKnown) { Layer::DoesNotGive } else { layer });
    let stiff = Stiffness::n_per_m(calc::JACK_STIFFNESS_N_PER_M);
    let high = in_series(&most).map_or(stiff, |band| band.high.min(stiff));
    let low = in_series(&least).map_or(soft, |band| band.low).min(high);
    if support.rated_load.is_none() {
        doubts.push(format!("What leg {} may carry: `rated-load`.", support.name));
    }
    let overlift = support.overlift.or(support.held.holes().is_none().then_some(Length::ZERO));
    if overlift.is_none() {
        missing.push(format!(
            "How far past its place the frame must be for the pin of leg {}: `overlift`.",
            support.name
        ));
    }
    // The seat holds ground, stack and leg; the ground alone is what a drawn-up leg can touch.
    let bare = leg.ground?;
    let (way, drawn) = match &support.held {
        Holding::LegAndSleeve(holes) => (calc::Way::LegAndSleeve, holes.retracted_length),
        Holding::LegOnlyAbove(holes) => (calc::Way::AboveSleeve, holes.retracted_length),
        Holding::LegOnlyBelow(holes) => (calc::Way::BelowSleeve, holes.retracted_length),
        Holding::Screw(screw) => {
            let extension = match &leg.held {
                crate::model::Held::Screw { extension, .. } => *extension,
                crate::model::Held::Hole { .. } => Length::ZERO,
            };
            (calc::Way::Screw { shortest: seat - extension }, Some(screw.retracted_length))
        }
    };
    if drawn.is_none() {
        doubts.push(format!("How long leg {} is, drawn right up: `retracted-length`.", support.name));
    }
    let spring = calc::Spring { x: support.at.along, y: support.at.across, stiffness: high, top: seat };
    let of_calc = calc::Leg {
        name: support.name.clone(),
        spring,
        way,
        overlift: overlift?,
        drawn_up: drawn.map(|length| bare + length),
        rated: support.rated_load.map(|load| load.0),
    };
    Some((of_calc, low))
}
