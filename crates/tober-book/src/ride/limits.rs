//! What the maker allows.

use crate::Code;
use crate::report::Report;
use crate::section::{choice, section};
use crate::table::{above, from};
use tober_quantity::{FrequencyOfTurning, Length, Mass, Moment, Slope, Speed, Temperature, Time};

section! {
    /// What the maker allows. A visit may only be stricter.
    pub struct Limits checked by agree {
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

/// The cold end is below the hot one, and the wind to stand in is not below the wind to run in.
fn agree(limits: &Limits, report: &mut Report) {
    if let (Some(cold), Some(hot)) = (limits.temperature_least, limits.temperature_greatest)
        && cold > hot
    {
        let message = "The coldest is above the hottest.";
        report.error(
            limits.place.key("temperature-least"),
            Code::Disagreement,
            message,
            "Change them round.",
        );
    }
    if let (Some(run), Some(stand)) = (&limits.wind_in_service, &limits.wind_out_of_service)
        && run.averaged_over == stand.averaged_over
        && run.speed > stand.speed
    {
        let message = "It may run in more wind than it may stand in, shut.";
        let span = limits.place.key("wind-in-service");
        report.error(span, Code::Disagreement, message, "Look at the maker's figures again.");
    }
}

impl Limits {
    /// The keys in which these limits are looser than others, or cannot be compared with them.
    ///
    /// A wind limit can be compared only over the same averaging time and at the same height.
    pub fn looser_than(&self, other: &Self) -> Vec<&'static str> {
        fn above<T: PartialOrd>(mine: Option<T>, theirs: Option<T>) -> bool {
            matches!((mine, theirs), (Some(mine), Some(theirs)) if mine > theirs)
        }
        fn wind(mine: Option<&WindLimit>, theirs: Option<&WindLimit>) -> bool {
            let (Some(mine), Some(theirs)) = (mine, theirs) else { return false };
            let alike = mine.averaged_over == theirs.averaged_over && mine.at_height == theirs.at_height;
            !alike || mine.speed > theirs.speed
        }
        let rank = |rule: Option<LoadingRule>| {
            rule.map(|rule| match rule {
                LoadingRule::AllOrNone => 0,
                LoadingRule::OppositePairs => 1,
                LoadingRule::Any => 2,
            })
        };
        let looser = [
            ("wind-in-service", wind(self.wind_in_service.as_ref(), other.wind_in_service.as_ref())),
            (
                "wind-out-of-service",
                wind(self.wind_out_of_service.as_ref(), other.wind_out_of_service.as_ref()),
            ),
            ("riders-greatest", above(self.riders_greatest, other.riders_greatest)),
            ("rider-mass-greatest", above(self.rider_mass_greatest, other.rider_mass_greatest)),
            ("speed-greatest", above(self.speed_greatest, other.speed_greatest)),
            ("out-of-balance-greatest", above(self.out_of_balance_greatest, other.out_of_balance_greatest)),
            (
                "opposite-difference-greatest",
                above(self.opposite_difference_greatest, other.opposite_difference_greatest),
            ),
            ("partial-loading", above(rank(self.partial_loading), rank(other.partial_loading))),
            ("sink-greatest", above(self.sink_greatest, other.sink_greatest)),
            (
                "sink-difference-greatest",
                above(self.sink_difference_greatest, other.sink_difference_greatest),
            ),
            ("ground-slope-greatest", above(self.ground_slope_greatest, other.ground_slope_greatest)),
            ("temperature-least", above(other.temperature_least, self.temperature_least)),
            ("temperature-greatest", above(self.temperature_greatest, other.temperature_greatest)),
        ];
        looser.into_iter().filter(|(_, looser)| *looser).map(|(key, _)| key).collect()
    }
}
