//! The situations in which a ride must stand, and what is asked of each.

use super::error::{StabilityError, counted, within};
use super::factors::FactorSet;
use super::friction::Interface;
use super::guys::Guy;
use super::ride::{Body, CarriedBy, Contact, InWind, Seat, Tilt, Turntable};
use crate::wind::WindLevel;
use tober_quantity::Pressure;

/// A situation in which the ride must not tip, slide or lift.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Situation {
    /// Uncoupled, on its wheels and the jack of the hitch bar, everything folded.
    Uncoupled,
    /// At a stage between the steps of the build-up, nobody aboard, in the wind in which that work may be done.
    Stage,
    /// Standing open, nobody aboard, at rest.
    OpenEmpty,
    /// Standing open, every seat full of the heaviest riders, at rest.
    OpenFull,
    /// Standing open, the worst seats full, at the worst angle, at rest.
    PartialLoad,
    /// Turning at the highest speed, the worst seats full.
    Turning,
    /// As that, or at rest, in the wind in which it may just run.
    WindInService,
    /// Standing open, nobody aboard, in the wind in which it may just stand.
    WindOutOfService,
}

/// Who is aboard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Aboard {
    Nobody,
    Everybody,
    TheWorst,
}

impl Situation {
    /// Every situation.
    pub const ALL: [Self; 8] = [
        Self::Uncoupled,
        Self::Stage,
        Self::OpenEmpty,
        Self::OpenFull,
        Self::PartialLoad,
        Self::Turning,
        Self::WindInService,
        Self::WindOutOfService,
    ];

    /// The situation in words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Uncoupled => "uncoupled on its wheels",
            Self::Stage => "at the worst stage of the build-up",
            Self::OpenEmpty => "open and empty",
            Self::OpenFull => "open and full",
            Self::PartialLoad => "with the worst seats full",
            Self::Turning => "turning with the worst seats full",
            Self::WindInService => "running in the greatest wind allowed",
            Self::WindOutOfService => "standing empty in the greatest wind allowed",
        }
    }
    pub(super) fn aboard(self) -> Aboard {
        match self {
            Self::Uncoupled | Self::Stage | Self::OpenEmpty | Self::WindOutOfService => Aboard::Nobody,
            Self::OpenFull => Aboard::Everybody,
            Self::PartialLoad | Self::Turning | Self::WindInService => Aboard::TheWorst,
        }
    }
    pub(super) fn turns(self) -> bool {
        matches!(self, Self::Turning | Self::WindInService)
    }
    /// Whether the guys are set: not before the ride is open.
    pub(super) fn guyed(self) -> bool {
        !matches!(self, Self::Uncoupled | Self::Stage)
    }
    /// Whether wind acts in it.
    pub fn in_wind(self) -> bool {
        matches!(self, Self::Stage | Self::WindInService | Self::WindOutOfService)
    }
}

/// The wind of a situation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WindAction {
    /// The pressure of the gust at the top of the ride: nowhere on it is there more.
    pub pressure: Pressure,
    /// How rare that wind is, which decides what factors belong to it.
    pub level: WindLevel,
}

/// The question: does the ride stand in a situation?
#[derive(Clone, Debug, PartialEq)]
pub struct StabilityInput {
    /// The situation.
    pub situation: Situation,
    /// Where it stands: feet, or wheels and jack.
    pub contacts: Vec<Contact>,
    /// Every body, where it is in this situation.
    pub bodies: Vec<Body>,
    /// The seats; none where they are not known.
    pub seats: Option<Vec<Seat>>,
    /// The turntable; none where it is not known. A ride without one has one whose only angle is zero.
    pub turntable: Option<Turntable>,
    /// How far out of level the frame may stand; none where it is not known.
    pub tilt: Option<Tilt>,
    /// The wind; none where it is not known.
    pub wind: Option<WindAction>,
    /// The factor sets that were chosen. None chosen is not known, never a silent choice.
    pub factors: Vec<FactorSet>,
    /// What touches what, from the feet down to the ground. None given is not known.
    pub interfaces: Vec<Interface>,
    /// The guys, which hold once the ride is open. None given is none.
    pub guys: Vec<Guy>,
}

impl StabilityInput {
    pub(super) fn check(&self) -> Result<(), StabilityError> {
        counted("bodies", self.bodies.len(), 1, 10_000)?;
        counted("seats", self.seats.as_ref().map_or(0, Vec::len), 0, 10_000)?;
        self.bodies.iter().try_for_each(Body::check)?;
        counted("guys", self.guys.len(), 0, 100)?;
        self.seats.iter().flatten().try_for_each(Seat::check)?;
        self.guys.iter().try_for_each(Guy::check)?;
        self.factors.iter().try_for_each(FactorSet::check)?;
        self.turntable.iter().try_for_each(Turntable::check)?;
        self.tilt.iter().try_for_each(Tilt::check)?;
        match self.wind {
            Some(wind) => {
                within("wind pressure", "the situation", wind.pressure, Pressure::ZERO, Pressure::kpa(20.0))
            }
            None => Ok(()),
        }
    }

    /// What would have to be known about the ride for its answer, as whole sentences. Empty when all of it is.
    pub(super) fn missing(&self) -> Vec<String> {
        let mut missing = Vec::new();
        let mut needs = |what: &str| missing.push(format!("Not known: {what}."));
        if self.tilt.is_none() {
            needs("how far out of level the frame may stand");
        }
        let turns = self.situation.turns();
        let aboard = self.situation.aboard() != Aboard::Nobody;
        if self.situation != Situation::Uncoupled {
            for body in self.bodies.iter().filter(|body| body.carried_by == CarriedBy::NotKnown) {
                needs(&format!("whether {} turns with the turntable", body.name));
            }
            let on_it = self.bodies.iter().any(|body| body.carried_by == CarriedBy::Turntable);
            if self.turntable.is_none() && (on_it || aboard || turns) {
                needs("the axis of the turntable");
            }
        }
        if turns && self.turntable.as_ref().is_some_and(|turntable| turntable.speed.is_none()) {
            needs("the highest turning speed");
        }
        if aboard {
            match &self.seats {
                None => needs("the seats"),
                Some(seats) => seats.iter().for_each(|seat| seat_needs(seat, turns, &mut needs)),
            }
        }
        missing.extend(self.wind_missing());
        missing.extend(self.guys_missing());
        missing
    }

    /// What would have to be known about the wind on the ride.
    pub(super) fn wind_missing(&self) -> Vec<String> {
        if !self.situation.in_wind() {
            return Vec::new();
        }
        let mut missing = Vec::new();
        if self.wind.is_none() {
            missing.push("Not known: the pressure of the greatest wind allowed.".to_owned());
        }
        for body in self.bodies.iter().filter(|body| body.wind == InWind::NotKnown) {
            missing.push(format!("Not known: the area of {} in the wind.", body.name));
        }
        missing
    }
}

fn seat_needs(seat: &Seat, turns: bool, needs: &mut impl FnMut(&str)) {
    let name = &seat.name;
    if seat.rider_mass.is_none() {
        needs(&format!("the greatest mass of a rider in {name}"));
    }
    if seat.z.is_none() {
        needs(&format!("the height of the riders in {name}"));
    }
    if turns && seat.radius_at_speed().is_none() {
        needs(&format!("how far {name} swings out at speed"));
    }
}
