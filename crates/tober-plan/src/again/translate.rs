//! What is claimed by names, in the numbers of a reading.

use super::reading::{Named, Reading, switched, tenths};
use tober_book::SwitchState;
use tober_fit::orders::{Claim as Extreme, Moved, Side};
use tober_fit::procedure::{Bar, Barred, Claim, Cut, NOTHING, Proof, Shared, UNTOLD};
use tober_procedure::{self as procedure, InCommon, Statement, Thing};

impl Reading {
    /// The number of a step.
    pub fn step(&self, name: &str) -> Option<usize> {
        self.steps.iter().position(|step| step == name)
    }

    fn number(&self, thing: &Thing) -> Option<usize> {
        let named = match thing {
            Thing::Body(name) => Named::Body(name.clone()),
            Thing::Switch(name) => Named::Switch(name.clone()),
            Thing::Leg(name) => Named::Leg(name.clone()),
            Thing::Line(name) => Named::Line(name.clone()),
            Thing::Anchor(name) => Named::Anchor(name.clone()),
            Thing::Turned => Named::Turntable,
        };
        self.things.get(&named).copied()
    }

    /// The number of a state that is told in words.
    fn state(&self, ride: &tober_book::Ride, thing: &Thing, words: &str) -> Option<usize> {
        match thing {
            Thing::Body(name) => {
                let body = ride.bodies.iter().find(|body| body.name == *name)?;
                body.placements.iter().position(|place| place.name == words)
            }
            Thing::Switch(_) => {
                let states = [
                    ("on", SwitchState::On),
                    ("off", SwitchState::Off),
                    ("locked", SwitchState::Locked),
                    ("free", SwitchState::Free),
                    ("connected", SwitchState::Connected),
                    ("apart", SwitchState::Apart),
                ];
                states.iter().find(|(word, _)| *word == words).map(|&(_, state)| switched(state))
            }
            Thing::Leg(_) => match words {
                "set" => Some(1),
                "not set" => Some(0),
                _ => None,
            },
            Thing::Line(_) if words == "nothing" => Some(NOTHING),
            Thing::Line(_) => self.number(&Thing::Body(words.to_owned())).map(|body| body + 1),
            Thing::Anchor(_) => self.anchors.get(words),
            Thing::Turned => words.strip_suffix(" deg")?.parse().ok().map(tenths),
        }
    }

    /// A statement in numbers. `None` where it names what this reading has not.
    pub fn claim(&self, ride: &tober_book::Ride, said: &Statement) -> Option<Claim> {
        let body = |name: &str| self.number(&Thing::Body(name.to_owned()));
        let place = |name: &str, place: &str| self.state(ride, &Thing::Body(name.to_owned()), place);
        Some(match said {
            Statement::Begins { step, thing, is } => Claim::Begins {
                step: self.step(step)?,
                thing: self.number(thing)?,
                state: self.state(ride, thing, is).or((is == "not known").then_some(UNTOLD))?,
            },
            Statement::BeginsNot { step, thing, are } => {
                let states = are.iter().map(|state| self.state(ride, thing, state));
                let mut states: Vec<usize> = states.collect::<Option<_>>()?;
                states.sort_unstable();
                Claim::BeginsNot { step: self.step(step)?, thing: self.number(thing)?, states }
            }
            Statement::Least { step, fixing, home, count } => {
                Claim::Least { step: self.step(step)?, home: self.home(fixing, home)?, count: *count }
            }
            Statement::Most { step, fixing, home, count } => {
                Claim::Most { step: self.step(step)?, home: self.home(fixing, home)?, count: *count }
            }
            Statement::Bounds { fixing, home } => Claim::Bounds { home: self.home(fixing, home)? },
            Statement::Race(shared) => Claim::Race(match shared {
                InCommon::Thing(thing) => Shared::Thing(self.number(thing)?),
                InCommon::Home(fixing, home) => Shared::Home(self.home(fixing, home)?),
                InCommon::Winch(name) => Shared::Winch(self.winches.get(name)?),
                InCommon::PlaceForOne(name) => Shared::Place(self.places.get(name)?),
                InCommon::Ground(name) => Shared::Ground(self.grounds.get(name)?),
            }),
            Statement::Overlap => Claim::Overlap,
            Statement::Held { body: name, place: at, fixing, home, count } => Claim::Held {
                body: body(name)?,
                state: place(name, at)?,
                home: self.home(fixing, home)?,
                count: *count,
            },
            Statement::OnTheLine { body: name, place: at } => {
                Claim::OnTheLine { body: body(name)?, state: place(name, at)? }
            }
            Statement::NobodyUnder { step } => Claim::NobodyUnder { step: self.step(step)? },
            Statement::Open { body: name } => Claim::Open { body: body(name)? },
            Statement::OpenIs { thing, is } => {
                Claim::OpenIs { thing: self.number(thing)?, state: self.state(ride, thing, is)? }
            }
            Statement::Never { body: name, place: at } => {
                Claim::Never { thing: body(name)?, state: place(name, at)? }
            }
            Statement::HomeNot { thing, is } => {
                Claim::HomeNot { thing: self.number(thing)?, state: self.state(ride, thing, is)? }
            }
            Statement::Home(thing) => Claim::Home { thing: self.number(thing)? },
            Statement::HomeAgain { fixing, home } => Claim::HomeAgain { home: self.home(fixing, home)? },
            Statement::WayBack { step } => Claim::WayBack { step: self.step(step)? },
            Statement::Order | Statement::Words => return None,
        })
    }

    /// A proof in numbers. Steps have the same numbers in both readings, which is compared first.
    pub fn proof(&self, proof: &procedure::Proof) -> Option<Proof> {
        Some(match proof {
            procedure::Proof::Ordered => Proof::Ordered,
            procedure::Proof::Plain => Proof::Plain,
            procedure::Proof::Bars(bars) => {
                let bars = bars.iter().map(|bar| {
                    let by = bar.by.map_or(Barred::NotYet, Barred::Overwritten);
                    Some(Bar { thing: self.number(&bar.thing)?, writer: bar.writer, by })
                });
                Proof::Bars(bars.collect::<Option<_>>()?)
            }
            procedure::Proof::Cuts(cuts) => {
                let cuts = cuts.iter().map(|cut| {
                    let moved = cut.extreme.proof.moved.iter();
                    Some(Cut {
                        home: self.home(&cut.fixing, &cut.home)?,
                        done: cut.done.clone(),
                        open: cut.open.clone(),
                        side: if cut.is_least { Side::Least } else { Side::Greatest },
                        claim: Extreme {
                            value: cut.extreme.value.into(),
                            done: cut.extreme.stage.iter().collect(),
                            under_way: cut.extreme.under_way.iter().collect(),
                            moved: moved
                                .map(|moved| Moved { from: moved.from, to: moved.to, amount: moved.amount })
                                .collect(),
                        },
                    })
                });
                Proof::Cuts(cuts.collect::<Option<_>>()?)
            }
        })
    }
}
