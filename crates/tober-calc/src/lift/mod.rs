//! C8 lifts: a part that turns about a hinge, raised by a winch line; and lifts by hand.
//!
//! By hand: the lifting equation is described at [`recommended`] and [`Task`], team lifts at [`team`]. The rest is the winch line.
//!
//! Plane `x` (forward), `z` (up), the hinge at the origin. The part stands at the angle `phi` above +x, anticlockwise
//! positive, and carries two directions with it: `e = (cos phi, sin phi)` along it and `n = (-sin phi, cos phi)`
//! square to it. A point of the part is told by its distances along both.
//!
//! | symbol | is | formula |
//! | --- | --- | --- |
//! | `G`, `P` | centre of gravity, eye of the line | `along e + normal n` |
//! | `S` | the fixed sheave | given |
//! | `l`, `t` | length and direction of the line, from eye to sheave | `abs(S - P)`, `(S - P) / l` |
//! | `d` | lever of the line about the hinge | `P x t = (P x S) / l` |
//! | `M` | moment of the weight about the hinge | `m g G_x` |
//! | `F` | pull of all falls together | `M / d` |
//! | `R` | pull of the winch rope while it hoists | `F / (eta + eta^2 + ... + eta^falls)` |
//! | `H` | force of the hinge on the part | `(-F t_x, m g - F t_z)` |
//!
//! A line only pulls. Where `F` is negative it is *slack*, the part wants to go the other way and something else must hold
//! it; `F` and `H` are then what a bar in place of the line would carry. Where `d` is nothing (a *dead point*) no pull
//! holds the part.
//!
//! # The peak between listed angles
//! With `r = abs(G)`, `a = abs(P)`, `b = abs(S)`, `psi` the angle of `G` and `theta` that from `P` to `S`,
//! `F = m g r cos(psi) l / (a b sin(theta))`, `l^2 = a^2 + b^2 - 2 a b cos(theta)`. Since `psi + theta` does not change,
//! `dF/dphi` has the sign of
//!
//! `q = (l^2 cos(psi + theta) - a b sin(theta)^2 cos(psi)) / (cos(psi) sin(theta))` times the sign of `F`,
//!
//! whose numerator is a sum of sines and cosines of up to three times `phi`: at most six turning points in a turn. Its changes of
//! sign are sought on a grid of a twentieth of a degree and bisected to the last digit; two that lie within one
//! step of the grid are passed over, where the pull between them is that at the grid within rounding of six digits.
//! A travel with a dead point inside has no greatest pull and says so.
//!
//! # Not covered
//! Acceleration, friction at the hinge, wind in these (see `gust`), weight of the line, how a lug is pulled out of its plane, a rope that bears on something between eye and
//! sheave, stretch, and the part's own bending.

mod banded;
mod error;
mod findings;
mod gear;
mod gust;
mod hinged;
mod lowering;
mod niosh;
mod rigging;
mod team;
mod travel;
mod winch;

pub use banded::{BandAt, Over, Piece, Raised, over};
pub use error::LiftError;
pub use findings::{Asked, findings, hung};
pub use gear::{AT_WINCH_LEAST, at_winch, examined, own_wind, rated};
pub use gust::{Gust, Pushed, between_two, carried, gust_not_known, gusts, gusts_hung, in_gust};
pub use hinged::{At, Hinged, OnPart, TURN_RAD, hinged_at};
pub use lowering::{Held, Hold, held_most, paid_out};
pub use niosh::{Grip, Hands, Lasting, Measures, OUTSIDE, Recommended, Task, recommended};
pub use rigging::{
    CRANK_FORCE_N, Crank, Day, Eye, EyeKind, SLING_LEAST_DEG, Sling, crank_force, days_between,
    days_of_a_year_from, eye_share, layers, leg_pull, legs_counted,
};
pub use team::{ByHand, Scope, TEAM_MOST, by_hand, people_needed, team};
pub use travel::{GRID_DEG, Listed, Peak, ROWS_MOST, Travel, Travelled, travelled};
pub use winch::{Drum, pull_on_layer};
