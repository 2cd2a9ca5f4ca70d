//! From a ride book and what was read on scales to a question for `tober_calc::weighing`, and its answer for the book.

use crate::aboard::provenance;
use tober_book::{Carriers, Point, Point3, Ride, StandsOn, StoodState, Weighing as Read, Wheels};
use tober_calc::finding::Finding;
use tober_calc::weighing::{
    Carrier, Group, KnownBody, On, PlacedBody, ScaleReading, State, Weighed, Weighing, WeighingError,
    findings, weigh as worked, workings,
};
use tober_calc::working::{Provenance, Working};
use tober_quantity::{Force, Length, Mass, Quantity, Toleranced, Unit};

/// What a ride without bodies is called among bodies.
const WHOLE: &str = "the whole ride";
/// The mass of the whole that the book has beside those of its bodies, as a reading.
const BY_THE_BOOK: &str = "the book's mass of the whole ride";
/// A mass is written into the book as weighed where the readings tell at least this part of what is known of it.
const WEIGHED: f64 = 0.9;
/// What a figure of the book may be off by is twice its standard deviation: nineteen times in twenty it is less.
const OFF_BY: f64 = 2.0;

/// A ride that was weighed.
#[derive(Clone, Debug)]
pub struct WeighedRide {
    /// What was asked.
    pub question: Weighing,
    /// What was found.
    pub found: Weighed,
    /// The findings.
    pub findings: Vec<Finding>,
    /// How each mass was obtained.
    pub workings: Vec<Working>,
    /// What was left out, and why, a sentence each.
    pub left_out: Vec<String>,
    /// What to write into the ride book.
    pub entries: Vec<Entry>,
}

/// A mass to write into the ride book, with `mass-from = "weighed"`.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The body; nothing for the whole ride.
    pub body: Option<String>,
    /// Its mass and what it may be off by.
    pub mass: Toleranced<Mass>,
    /// What the book says.
    pub before: Mass,
    /// How that is known.
    pub from: Provenance,
    /// For the whole ride on its legs: where its weight acts along and across, with what each may be off by.
    pub place: Option<[Toleranced<Length>; 2]>,
}

/// What scales say of a ride.
///
/// The tolerance of a mass and of a place in the book is taken as its standard deviation. Where the book has bodies and
/// a mass of the whole too, that is one reading more, of everything.
///
/// # Errors
/// As [`tober_calc::weighing::weigh`]; names are taken to have been looked up.
pub fn weigh(ride: &Ride, read: &Read) -> Result<WeighedRide, WeighingError> {
    let mut left_out = Vec::new();
    let question = question(ride, read, &mut left_out);
    let found = worked(&question)?;
    if ride.seats.iter().any(|seat| seat.body.is_none() && seat.mass.is_some()) && !ride.bodies.is_empty() {
        left_out.push(
            "Seats that are no bodies of the book are not counted: make each a body, or weigh without them."
                .to_owned(),
        );
    }
    let on_legs = read.states.iter().any(|state| state.stands == StandsOn::Legs);
    if on_legs && matches!(ride.frame.wheels, Some(Wheels::Touching | Wheels::Sharing)) {
        left_out.push(
            "The book has the wheels on the ground while the ride stands on its legs: what they carry is not counted."
                .to_owned(),
        );
    }
    Ok(WeighedRide {
        findings: findings(&found),
        workings: workings(&question, &found)?,
        entries: entries(ride, read, &found, by_the_book(&question).as_ref()),
        question,
        found,
        left_out,
    })
}

fn question(ride: &Ride, read: &Read, left_out: &mut Vec<String>) -> Weighing {
    let known = |name: &str, mass: Toleranced<Mass>, from| KnownBody {
        name: name.to_owned(),
        mass: mass.value,
        deviation: mass.off_by,
        from: provenance(from),
    };
    let mut bodies: Vec<KnownBody> =
        ride.bodies.iter().map(|body| known(&body.name, body.mass, body.mass_from)).collect();
    let mut states: Vec<State> = read.states.iter().map(|state| stood(ride, state)).collect();
    let mut readings = Vec::new();
    for reading in &read.readings {
        let on = if reading.on.is_everything() { On::Everything } else { On::These(reading.on.0.clone()) };
        let name = format!("{}, {}", reading.on.0.join(" + "), reading.state);
        let state = states.iter().find(|state| state.name == reading.state);
        let nowhere = |placed: &&PlacedBody| placed.along.is_none() || placed.across.is_none();
        if let Some(body) =
            state.and_then(|state| state.bodies.iter().find(nowhere)).filter(|_| on != On::Everything)
        {
            left_out.push(format!(
                "The reading \"{name}\" is left out: where \"{}\" was in \"{}\" is not in the books, nor how large the frame is.",
                body.body, reading.state
            ));
            continue;
        }
        readings.push(ScaleReading {
            name,
            state: reading.state.clone(),
            on,
            mass: mass_of(reading.load.0),
            deviation: mass_of(reading.deviation.unwrap_or(read.about.deviation).0),
            from: Provenance::measured(read.about.with.as_deref().unwrap_or("scale")),
        });
    }
    if ride.bodies.is_empty() {
        bodies.extend(ride.about.mass.map(|mass| known(WHOLE, mass, ride.about.mass_from)));
    } else if let Some(mass) = ride.about.mass.filter(|mass| mass.off_by > Mass::ZERO) {
        let name = BY_THE_BOOK.to_owned();
        let there = ride.bodies.iter().map(|body| PlacedBody {
            body: body.name.clone(),
            placement: String::new(),
            along: None,
            across: None,
        });
        states.push(State {
            name: name.clone(),
            supports: Vec::new(),
            groups: Vec::new(),
            bodies: there.collect(),
        });
        readings.push(ScaleReading {
            name: BY_THE_BOOK.to_owned(),
            state: name,
            on: On::Everything,
            mass: mass.value,
            deviation: mass.off_by,
            from: provenance(ride.about.mass_from),
        });
    }
    Weighing { bodies, states, readings, deviation_next: Some(mass_of(read.about.deviation.0)) }
}

/// The mass whose weight a load is.
fn mass_of(load: Force) -> Mass {
    Mass::kg(load.si() / Unit::STANDARD_GRAVITY.factor)
}

/// Where on the plan a weight acts, along and across, each with its standard deviation.
type At = ((Length, Length), (Length, Length));

/// A state with what carried it and the bodies that were there.
fn stood(ride: &Ride, state: &StoodState) -> State {
    let carriers = Carriers::of(ride, state.stands, state.axles_even);
    let placement = |body: &str| {
        let own = state.bodies.iter().find(|placed| placed.body == body);
        own.map(|placed| placed.placement.as_str()).or(state.placement.as_deref())
    };
    let there = |name: &str| {
        (state.only.is_empty() || state.only.iter().any(|only| only == name))
            && !state.without.iter().any(|without| without == name)
    };
    // Of a body whose place is not in the books it is taken as known that it is on the frame: in the middle, or as far
    // from there as the frame is long or wide.
    // On one scale it is all the same.
    let somewhere = on_the_frame(ride).filter(|_| state.stands != StandsOn::Scale);
    let mut bodies: Vec<PlacedBody> = ride
        .bodies
        .iter()
        .filter(|body| there(&body.name))
        .map(|body| {
            let name = placement(&body.name);
            let known = name.and_then(|name| body.placement(name)).map(|placement| at(&placement.cg));
            let key = if known.is_some() { name.unwrap_or("") } else { &state.name };
            placed(&body.name, key, known.or(somewhere))
        })
        .collect();
    if ride.bodies.is_empty() && ride.about.mass.is_some() {
        let known = ride.about.cg.as_ref().filter(|_| state.stands == StandsOn::Legs).map(at);
        let key = state.placement.as_deref().unwrap_or(&state.name);
        bodies.push(placed(WHOLE, key, known.or(somewhere)));
    }
    State {
        name: state.name.clone(),
        supports: carriers
            .each
            .iter()
            .map(|(name, at)| Carrier { name: name.clone(), along: at.along, across: at.across })
            .collect(),
        groups: carriers
            .groups
            .iter()
            .map(|(name, supports)| Group { name: name.clone(), supports: supports.clone() })
            .collect(),
        bodies,
    }
}

fn at(cg: &Point3) -> At {
    ((cg.along.value, cg.along.off_by), (cg.across.value, cg.across.off_by))
}

/// Anywhere on the frame; nothing where its size is not in the book.
fn on_the_frame(ride: &Ride) -> Option<At> {
    let corners = ride.frame.corners();
    let span = |of: fn(&Point) -> Length| {
        let least = corners.iter().map(of).reduce(Length::min)?;
        let most = corners.iter().map(of).reduce(Length::max)?;
        Some(((least + most) / 2.0, most - least))
    };
    Some((span(|corner| corner.along)?, span(|corner| corner.across)?))
}

fn placed(body: &str, placement: &str, at: Option<At>) -> PlacedBody {
    PlacedBody {
        body: body.to_owned(),
        placement: placement.to_owned(),
        along: at.map(|(along, _)| along),
        across: at.map(|(_, across)| across),
    }
}

/// What the book's mass of the whole says of its bodies, without any scale; nothing where there is none.
fn by_the_book(question: &Weighing) -> Option<Weighed> {
    let readings = question.readings.iter().filter(|reading| reading.name == BY_THE_BOOK).cloned().collect();
    worked(&Weighing { readings, ..question.clone() }).ok()
}

/// What the readings carry, for the book; a mass that the book tells by itself is not weighed.
fn entries(ride: &Ride, read: &Read, found: &Weighed, book: Option<&Weighed>) -> Vec<Entry> {
    let off = |deviation: Mass| deviation * OFF_BY;
    let told = |after: Mass, before: Mass| {
        let share = after.as_kg() / before.as_kg();
        share.is_finite() && 1.0 - share * share >= WEIGHED
    };
    let body_before = |name: &str| {
        let bodies = &book.unwrap_or(found).bodies;
        let of = |body: &tober_calc::weighing::FoundBody| {
            if book.is_some() { body.deviation } else { body.before.deviation }
        };
        bodies.iter().find(|body| body.name == name).map_or(Mass::ZERO, of)
    };
    let mut all = Vec::new();
    let carried = |body: &&tober_calc::weighing::FoundBody| {
        told(body.deviation, body_before(&body.name)) && body.mass > Mass::ZERO && body.name != WHOLE
    };
    for body in found.bodies.iter().filter(carried) {
        all.push(Entry {
            body: Some(body.name.clone()),
            mass: Toleranced { value: body.mass, off_by: off(body.deviation) },
            before: body.before.mass,
            from: body.before.from.clone(),
            place: None,
        });
    }
    // The whole, as it stands open on its legs or else as it was anywhere.
    let everything = |state: &&tober_calc::weighing::FoundState| state.parts.len() == found.bodies.len();
    let on_legs = |name: &str| {
        let open = |state: &&StoodState| state.name == name && state.stands == StandsOn::Legs;
        read.states.iter().any(|state| open(&state))
    };
    let mut whole: Vec<_> = found.states.iter().filter(everything).collect();
    whole.sort_by_key(|state| !on_legs(&state.name));
    if let (Some(state), Some(before)) = (whole.first(), ride.total_mass()) {
        let place = on_legs(&state.name).then_some(()).and_then(|()| {
            let toleranced = |(at, off): (Length, Length)| Toleranced { value: at, off_by: off * OFF_BY };
            Some([toleranced(state.along?), toleranced(state.across?)])
        });
        // Without a mass of the whole in the book, the whole was known as its bodies are.
        let before_whole = book.and_then(|book| book.states.iter().find(|other| other.name == state.name));
        let weighed =
            before_whole.map_or(state.told.as_one() >= WEIGHED, |other| told(state.total.1, other.total.1));
        if weighed {
            all.push(Entry {
                body: None,
                mass: Toleranced { value: state.total.0, off_by: off(state.total.1) },
                before: before.value,
                from: provenance(ride.about.mass_from),
                place,
            });
        }
    }
    all
}
