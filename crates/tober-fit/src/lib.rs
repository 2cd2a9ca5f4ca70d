//! The part that says "fit".
//!
//! A plan is found by a search that is long and clever, and a long and clever program has faults. So the plan
//! is not believed: it is handed over together with a *certificate*, a small object from which the claim can be
//! checked by a program so plain that a person can read it in an hour. That program is here. It knows
//! quantities and nothing else: it shares no rule, type or line with the part that proposed.
//!
//! | module | the claim | what is checked |
//! | --- | --- | --- |
//! | [`packing`] | these holes and boards serve | every rule, in whole numbers, with a plane as the witness |
//! | [`packing::none`] | no holes and boards serve, or none lower or with fewer boards | a proof by cases whose ends are exact inequalities |
//! | [`lift`] | no pull of the line and no force at the hinge is more; people may take so much | bounds over whole intervals of the travel; the equation once more |
//! | [`orders`] | no stage of a procedure is worth more, or less, than this one | the stage and its value, and a bound that additions alone give |
//! | [`procedure`] | these steps keep this in every order; or this order shows that they do not; these rules cure it; this is the way back | a replay, bars, cuts added up, or every stage while there are few |
//! | [`reach`] | this way gets the frame from its wheels onto its legs | each pose as in [`supports`], each limit, and that nothing happens between poses |
//! | [`riders_off`] | riders get off in this order with no more than this out of balance, and no order has less | every stage added up anew; every set of who got off, while there are few |
//! | [`supports`] | these reactions carry the load, or the frame tips | equilibrium, no pull, the law of each spring; or a direction in which the load is beyond every support |
//! | [`working`] | these printed lines are true | each line is read back from its characters and worked out again |
//!
//! Invariant: no search but to go through everything while it is small (and then it is said), no iteration to convergence, no clock, no chance. Packing uses no floating point.
//! What was not asked or could not be known is listed in the verdict and never counts as checked.

pub mod lift;
pub mod orders;
pub mod packing;
pub mod procedure;
pub mod reach;
pub mod riders_off;
pub mod supports;
pub mod working;
