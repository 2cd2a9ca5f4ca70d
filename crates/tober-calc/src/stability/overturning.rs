//! Overturning about every edge of the base, with the worst riders at the worst angle.

use super::actions::{Action, ActionKind, Edging};
use super::error::StabilityError;
use super::factors::FactorSet;
use super::hull::{self, Edge};
use super::ride::{InWind, TurntableAngles};
use super::situation::StabilityInput;
use super::sweep::{self, Angles, Part};
use tober_quantity::{Angle, Area, Force, Length, Mass, Moment, Pressure, Quantity, Ratio};

/// An answer, or what must be known before there is one.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer<T> {
    /// The answer.
    Known(T),
    /// What is missing, as whole sentences.
    NotKnown(Vec<String>),
}

impl<T> Answer<T> {
    /// The answer, where there is one.
    pub fn known(&self) -> Option<&T> {
        match self {
            Self::Known(answer) => Some(answer),
            Self::NotKnown(_) => None,
        }
    }
}

/// What acts in an action, without its lever.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EdgeLoad {
    /// The weight of a mass.
    Mass(Mass),
    /// The wind's pressure on an area times its coefficient.
    Wind {
        /// The pressure.
        pressure: Pressure,
        /// The area times its coefficient.
        area: Area,
    },
    /// Forces of turning, which have no one lever.
    Turning,
    /// The pull of a guy.
    Pull(Force),
}

/// What one action adds to the moment about an edge, at the worst.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeAction {
    /// What kind of action.
    pub kind: ActionKind,
    /// Of what, by its name.
    pub name: String,
    /// What acts.
    pub load: EdgeLoad,
    /// The lever on which it acts, tilt and turning included; nothing for forces of turning alone.
    pub lever: Length,
    /// Its moment without factor; positive where it tips.
    pub moment: Moment,
    /// Its factor.
    pub factor: Ratio,
}

/// One edge in one situation by one factor set, at the angle and with the seats full that are worst for it.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeCheck {
    /// The contact at which the edge begins.
    pub from: String,
    /// The contact at which it ends.
    pub to: String,
    /// The moment that holds, factored.
    pub holding: Moment,
    /// The moment that tips, factored.
    pub tipping: Moment,
    /// How many times the first must exceed the second.
    pub factor_least: Ratio,
    /// holding − factor_least · tipping: below zero the ride is past its limit.
    pub margin: Moment,
    /// factor_least · tipping / holding; none where nothing holds.
    pub share: Option<Ratio>,
    /// The turntable's angle there; none where nothing turns.
    pub angle: Option<Angle>,
    /// The seats that are full there.
    pub full: Vec<String>,
    /// Every action, in the order weight, riders, out of balance, wind, lift, guys.
    pub actions: Vec<EdgeAction>,
}

/// Overturning by one factor set: every edge, and the worst of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Overturning {
    /// The set.
    pub set: FactorSet,
    /// Every edge of the base, anticlockwise.
    pub edges: Vec<EdgeCheck>,
    /// Which edge is nearest to tipping.
    pub worst: usize,
}

impl Overturning {
    /// The edge nearest to tipping.
    pub fn governing(&self) -> &EdgeCheck {
        &self.edges[self.worst]
    }
}

/// Overturning by each factor set that was chosen, about every edge of the hull of the contacts.
///
/// Σ γ · W · d over what holds must be at least factor_least · Σ γ · W · d over what tips; W weight (N), d distance
/// inside the edge (m), γ the set's factors. Each body counts with the mass of its band that is worse, as holding or as
/// tipping by where it is; horizontal forces F act with F · h, h above the lower end of the edge (m); tilt moves a
/// body out by slope · h. The worst turntable angle and the worst seats are found exactly: the greatest of
/// tipping − ratio · holding over all angles is a sweep, and raising the ratio to the one found there, until it
/// stays, gives the greatest ratio (Dinkelbach's method). Source: statics; EN 1990:2002, 6.4 for the form.
///
/// Guys hold with T (|u_z| d − u_o h): u the direction to the anchor, u_z its part down and u_o its part out over the edge.
/// As the ride begins to turn they stretch by that lever, like ropes of one kind, until the first carries all it may.
///
/// # Errors
/// Refuses input out of range: places, masses, areas, fewer than three contacts, contacts in one place or on a line.
///
/// # Not covered
/// Ground that yields under the edge, wind on shapes that shield each other, gusts that swing the ride, snow,
/// shocks and braking. Slanting wind is bounded and not computed: see the drag areas.
pub fn overturning(input: &StabilityInput) -> Result<Vec<Answer<Overturning>>, StabilityError> {
    input.check()?;
    let edges = hull::edges(&input.contacts)?;
    let missing = input.missing();
    let by_set = |set: &FactorSet| {
        let mut missing = missing.clone();
        missing.extend(level_missing(input, set));
        if missing.is_empty() {
            Answer::Known(by_one_set(input, &edges, set))
        } else {
            Answer::NotKnown(missing)
        }
    };
    if input.factors.is_empty() {
        return Ok(vec![Answer::NotKnown(vec![
            "Not known: the set of factors against overturning, sliding and uplift.".to_owned(),
        ])]);
    }
    Ok(input.factors.iter().map(by_set).collect())
}

/// A factor for a rare mapped wind is no factor for a gust that is simply kept as a limit, nor the other way.
pub(super) fn level_missing(input: &StabilityInput, set: &FactorSet) -> Option<String> {
    let wind = input.wind.filter(|_| input.situation.in_wind())?;
    (wind.level != set.wind_level)
        .then(|| format!("Not known: a wind of the rarity to which the wind factor of {} belongs.", set.name))
}

fn by_one_set(input: &StabilityInput, edges: &[Edge], set: &FactorSet) -> Overturning {
    let edges: Vec<EdgeCheck> = edges.iter().map(|edge| worst_at_edge(input, edge, set)).collect();
    let mut worst = 0;
    for (index, edge) in edges.iter().enumerate() {
        if nearer(edge, &edges[worst]) {
            worst = index;
        }
    }
    Overturning { set: set.clone(), edges, worst }
}

/// Whether one edge is nearer to tipping than another. An edge at which nothing holds is nearest.
fn nearer(one: &EdgeCheck, other: &EdgeCheck) -> bool {
    match (one.share, other.share) {
        (Some(one), Some(other)) => one > other,
        (None, Some(_)) => true,
        (None, None) => one.margin < other.margin,
        (Some(_), None) => false,
    }
}

fn worst_at_edge(input: &StabilityInput, edge: &Edge, set: &FactorSet) -> EdgeCheck {
    // The moments of turning grow with the square of the speed, so the worst speed is none or the highest.
    let full_speed = input.turntable.as_ref().and_then(|turntable| turntable.speed).map_or(0.0, Quantity::si);
    let mut worst: Option<EdgeCheck> = None;
    for speed in [0.0, full_speed] {
        if speed > 0.0 && !input.situation.turns() {
            continue;
        }
        let edging = Edging { input, edge, set, speed_squared: speed * speed };
        let check = at_speed(&edging);
        if worst.as_ref().is_none_or(|worst| nearer(&check, worst)) {
            worst = Some(check);
        }
    }
    worst.unwrap_or_else(|| at_speed(&Edging { input, edge, set, speed_squared: 0.0 }))
}

/// Rounds of raising the ratio; two or three are usual, and each at least halves what is left near the end.
const ROUNDS_MOST: usize = 60;

fn at_speed(edging: &Edging<'_>) -> EdgeCheck {
    let actions = edging.actions();
    let turns = actions.iter().any(|action| {
        let wave = action.wave;
        wave.cosine != 0.0 || wave.sine != 0.0
    });
    let stated = match &edging.input.turntable {
        Some(turntable) if turntable.angles != TurntableAngles::Any => turntable.stated_rad(),
        _ => Vec::new(),
    };
    let still = [0.0];
    let angles = match (turns, stated.is_empty()) {
        (false, _) => Angles::Stated(&still),
        (true, true) => Angles::Any,
        (true, false) => Angles::Stated(&stated),
    };

    let mut angle = match angles {
        Angles::Stated(stated) => stated[0],
        Angles::Any => 0.0,
    };
    for _ in 0..ROUNDS_MOST {
        let (tipping, holding) = totals(&actions, angle);
        if holding <= 0.0 {
            break;
        }
        let ratio = tipping / holding;
        let parts: Vec<Part> = actions.iter().map(|action| action.part(ratio)).collect();
        let peak = sweep::greatest(&parts, angles);
        let (next_tipping, next_holding) = totals(&actions, peak.angle);
        if next_holding > 0.0 && next_tipping / next_holding <= ratio {
            break;
        }
        angle = peak.angle;
    }
    report(edging, &actions, angle, turns)
}

/// What tips and what holds at an angle, factored.
fn totals(actions: &[Action], angle: f64) -> (f64, f64) {
    actions.iter().fold((0.0, 0.0), |(tipping, holding), action| {
        let moment = action.wave.at(angle);
        if moment > 0.0 {
            (tipping + moment * action.tips.0 * action.tips.1, holding)
        } else {
            (tipping, holding - moment * action.holds.0 * action.holds.1)
        }
    })
}

/// What acts in an action and on what lever, for those who want to work it over.
fn load_and_lever(edging: &Edging<'_>, action: &Action, load: f64, moment: Moment) -> (EdgeLoad, Length) {
    let moment_nm = moment.si().abs();
    if action.kind == ActionKind::Guy {
        return (EdgeLoad::Pull(Force::n(load)), Length::m(moment_nm / load));
    }
    let face = || match edging.input.bodies[action.of].wind {
        InWind::Face { lift_area, pressure_height, .. } => (lift_area.si(), pressure_height.si()),
        InWind::NotKnown | InWind::CountedElsewhere => (0.0, 0.0),
    };
    let pressure = Pressure::pa(load);
    match action.kind {
        ActionKind::Weight | ActionKind::Riders => {
            let mass = Mass::kg(load);
            (EdgeLoad::Mass(mass), Length::m(moment_nm / Force::weight(mass).si()))
        }
        ActionKind::OutOfBalance | ActionKind::Guy => (EdgeLoad::Turning, Length::ZERO),
        ActionKind::Wind => {
            let lever_m = face().1 - edging.edge.height_m;
            (EdgeLoad::Wind { pressure, area: Area::m2(moment_nm / load / lever_m) }, Length::m(lever_m))
        }
        ActionKind::Lift => {
            let area_m2 = face().0;
            (EdgeLoad::Wind { pressure, area: Area::m2(area_m2) }, Length::m(moment_nm / load / area_m2))
        }
    }
}

fn report(edging: &Edging<'_>, actions: &[Action], angle: f64, turns: bool) -> EdgeCheck {
    let (tipping, holding) = totals(actions, angle);
    let seats = edging.input.seats.as_deref().unwrap_or_default();
    let mut full = Vec::new();
    let mut listed = Vec::new();
    for action in actions {
        let moment = action.wave.at(angle);
        let (load, factor) = if moment > 0.0 { action.tips } else { action.holds };
        if load == 0.0 || moment == 0.0 {
            continue;
        }
        let name = match action.kind {
            ActionKind::Riders => seats[action.of].name.clone(),
            ActionKind::OutOfBalance if action.of == usize::MAX => {
                "what turns, at its stated masses".to_owned()
            }
            ActionKind::Guy => edging.input.guys[action.of].name.clone(),
            _ => edging.input.bodies[action.of].name.clone(),
        };
        if action.kind == ActionKind::Riders {
            full.push(name.clone());
        }
        let moment = Moment::nm(load * moment);
        let (load, lever) = load_and_lever(edging, action, load, moment);
        listed.push(EdgeAction { kind: action.kind, name, load, lever, moment, factor: Ratio::one(factor) });
    }
    let least = edging.set.overturning_least;
    EdgeCheck {
        from: edging.edge.from.clone(),
        to: edging.edge.to.clone(),
        holding: Moment::nm(holding),
        tipping: Moment::nm(tipping),
        factor_least: least,
        margin: Moment::nm(holding - least.as_one() * tipping),
        share: (holding > 0.0).then(|| Ratio::one(least.as_one() * tipping / holding)),
        angle: turns.then(|| Angle::rad(angle)),
        full,
        actions: listed,
    }
}
