//! Assembles a plan from a visit; decides nothing.
//!
//! A [`Plan`] is what a chief acts on: which hole and which boards at every leg in the order in which
//! the legs are set, what each leg carries, and every finding with its working. Everything that draws,
//! prints or sends a plan reads this type and adds no judgement of its own.
//!
//! Invariant: this crate never judges. Standings come from `tober-calc`, checks from `tober-fit`.

mod aboard;
mod again;
mod assemble;
mod beams;
mod carried;
mod chance;
mod confirm;
mod cures;
mod every_order;
mod gusts;
mod heights;
mod hold;
mod hold_points;
mod kicked;
#[cfg(feature = "command")]
mod lifts;
mod loads;
mod model;
mod name;
mod nogo;
mod packing;
mod reach;
mod readings;
pub mod rehearse;
mod riders;
mod settled;
mod shown;
mod soil;
mod stages;
mod stand;
mod stow;
mod surroundings;
mod trim;
mod turning;
mod underfoot;
mod weighing;
mod wheel;

pub use again::{Again, again, again_by_stages};
pub use assemble::{Books, plan, units, words};
pub use every_order::{EveryOrder, HomeCount, every_order};
pub use hold_points::{HoldPoint, looked_at};
#[cfg(feature = "command")]
pub use lifts::{LiftBooks, LiftOfStep, lifts, standing_of};
pub use model::{
    Grain, Held, KitLeft, LegPlan, LegWord, MapFeature, MapFeatureKind, Plan, PlanLayer, Surroundings, Way,
    WayDoing, WayStep, turns, turns_told,
};
pub use riders::{OffBy, RidersOff, riders_checked, riders_off};
pub use shown::{BodyShown, LegLoad, StepShown, Turn, loads_after, steps_shown, turned_with};
pub use trim::{
    After, AfterLeg, Foot, FootLoad, FrameRead, FrameWay, LegChange, Stood, Trim, TrimError, TrimLeg, trim,
};
pub use weighing::{Entry, WeighedRide, weigh};
