//! C2 reach: can the crew get the frame onto its legs, and in what order with the hitch jack at what height?
//!
//! The trailer stands on its wheels, on its hitch jack and on the legs that are set. A *pose* is the equilibrium of C3
//! ([`crate::supports`]): a rigid frame on springs that push and do not pull. Heights are absolute, above the datum
//! of the pitch; every spring is known by the height of the frame plane at which it begins to push (its *top*):
//!
//! `u(x, y) = z + theta_x y - theta_y x`, `R = k max(0, top - u)`.
//!
//! - A wheel's top is where the frame plane is when the wheel just hangs: it pushes until then (droop).
//! - The hitch jack's top is the ground there, packing under it, its shortest and how far it is wound out.
//! - A leg's top is its *seat*: ground, stack and leg as the packing plan sets it.
//!
//! # What a leg wants before it is set
//! A leg carries nothing until it is set, so setting it changes no pose. With `r = u - seat`, how far the frame is above
//! where it will stand on this leg:
//!
//! | held by | wants | why |
//! | --- | --- | --- |
//! | holes in leg and sleeve | `r >= overlift` | the hole of the leg meets that of the sleeve at one length only, and at that length the foot is `r` above its stack: less than nothing and the foot is in the way; the overlift is the room to find the hole |
//! | holes in the leg, pin above the sleeve | `r >= overlift` | the pin lies on top of the sleeve, so the hole must be above its rim by room for the pin. Such a pin carries only where the sleeve belongs to the foot; with a sleeve of the frame it keeps the leg from dropping out and carries nothing |
//! | holes in the leg, pin below the sleeve | `r >= overlift` | the leg stands on its stack meanwhile; the hole must show under the sleeve by room for the pin |
//! | screw | `u >= shortest` | it is wound down until it touches, at any height of the frame above its shortest; it stops at its planned length where the frame is higher, and lifts to it where the frame is lower |
//!
//! The three clearances are the same number and are told apart since they ask for other work: see [`Way::work`].
//!
//! # How it is searched, and what is proved
//! With the legs that are set known, everything is piecewise linear in the height of the hitch jack: within one set of springs
//! in contact, reactions and heights are linear, and the solutions of one set are convex, so two poses with the same
//! set have only poses of that set between them. [`follow`] walks from break to break and stops at the first limit (a rated
//! load, a drawn-up leg that touches the ground, a frame that rocks). The heights that can be reached with a given set of legs are
//! then whole intervals, found exactly; the search goes over sets of legs and intervals, the maker's order first, and
//! an interval from which the rest cannot be set is never entered twice. That nothing serves is proved where no screw lifts: a screw is
//! wound to its length in even rounds of at most 50 mm only, which is how it is done and not all that could be.
//!
//! # Not covered
//! Bending of the frame, friction, slopes of the ground under the wheels, ground that stays down; a change of packing under
//! the hitch jack half-way; jacks at a corner; screws wound past their planned length.

mod answer;
mod cure;
mod findings;
mod follow;
mod model;
mod practice;
mod search;

pub use answer::{Because, Doing, Miss, Outcome, Sequence, Step, Stop};
pub use cure::{Cure, cures};
pub use findings::{Extremes, extremes, findings};
pub use follow::Pose;
pub use model::{Axle, JACK_STIFFNESS_N_PER_M, Jack, Leg, Question, ReachError, Spring, Way, Wheel};
pub use practice::{Practice, practice};
pub use search::{BUDGET, POSES_MOST, solve};
