//! What the maker allows.

use crate::section::{choice, section};
use crate::table::{above, from};
use tober_quantity::{FrequencyOfTurning, Length, Mass, Moment, Slope, Speed, Temperature, Time};

section! {
    /// What the maker allows. A visit may only be stricter.
    pub struct Limits {
        /// The wind in which it may run.
        wind_in_service: Option<WindLimit>;
        /// The wind in which it may stand, shut and unloaded as the maker says.
        wind_out_of_service: Option<WindLimit>;
        /// The most riders at once.
        riders_greatest: Option<usize>, within from("1", "1000");
        /// The heaviest rider in one place, where the seats do not say.
        rider_mass_greatest: Option<Mass>, within above("0 kg", "500 kg");
        /// The greatest speed of turning; it may only lower that of a rotation.
        speed_greatest: Option<FrequencyOfTurning>, within above("0 rpm", "200 rpm");
        /// The greatest moment about the axis by which the riders' weights may be out of balance.
        out_of_balance_greatest: Option<Moment>, within above("0 kN m", "1000 kN m");
        /// By how much the load of a seat may differ from that of the seat opposite.
        opposite_difference_greatest: Option<Mass>, within above("0 kg", "2 t");
        /// Which seats may be filled while others are empty.
        partial_loading: Option<LoadingRule>;
        /// The name of the set of factors against overturning, sliding and uplift; every set that is known, unless
        /// written.
        stability_factors: Option<String>;
        /// The most a foot may sink before it is set anew.
        sink_greatest: Option<Length>, within above("0 mm", "200 mm");
        /// The most one foot may sink more than its neighbour.
        sink_difference_greatest: Option<Length>, within above("0 mm", "200 mm");
        /// The steepest ground on which it may be built.
        ground_slope_greatest: Option<Slope>, within above("0 %", "30 %");
        /// The coldest in which it may run.
        temperature_least: Option<Temperature>;
        /// The hottest in which it may run.
        temperature_greatest: Option<Temperature>;
    }
}

section! {
    /// A wind that may not be passed. A speed means nothing without the time over which it is averaged.
    pub struct WindLimit {
        /// The speed.
        speed: Speed, within above("0 m/s", "80 m/s");
        /// The time over which it is averaged: "3 s" is a gust.
        averaged_over: Time, within above("0 s", "1 h");
        /// The height above ground at which it is meant.
        at_height: Option<Length>, within above("0 mm", "100 m");
    }
}

choice! {
    /// Which seats may be filled while others are empty.
    pub enum LoadingRule {
        /// Any, in any order.
        Any = "any",
        /// In pairs that face each other across the axis.
        OppositePairs = "opposite pairs",
        /// Only all of them.
        AllOrNone = "all or none",
    }
}
