//! What is looked at before the ride opens, and what is done when it stops.

use crate::report::Report;
use crate::section::{choice, section, variants};
use crate::table::{above, from};
use crate::{AnyQuantity, Code, Place};
use tober_quantity::{Angle, Length, Moment, Time};

section! {
    /// One thing that is looked at.
    pub struct Check {
        /// What is looked at.
        item: String, link defines Check;
        /// How to look.
        how: Option<String>;
        /// How often.
        interval: Interval;
        /// Who may sign for it; at least one.
        signed_by: Vec<Role>, then somebody;
        /// When it is good.
        pass: Option<PassRule>;
        /// Whether anybody may open without it. Never, unless written.
        may_be_overridden: Option<Override>;
        /// Where the maker's manual asks for it.
        manual: Option<String>;
    }
}

choice! {
    /// How often a check is due.
    pub enum Interval {
        /// At each build-up, before the first ride.
        BuildUp = "each build-up",
        /// After the first full load.
        FirstLoad = "after the first full load",
        /// After an hour of running.
        Hour = "after an hour",
        /// After rain.
        Rain = "after rain",
        /// Each morning.
        Day = "each day",
        /// Each week.
        Week = "each week",
        /// Each month.
        Month = "each month",
        /// Each year.
        Year = "each year",
        /// Before each journey.
        Journey = "each journey",
    }
}

choice! {
    /// Who somebody is on the pitch.
    pub enum Role {
        /// Runs the crew.
        Chief = "chief",
        /// Teaches crews the ride, and answers for what they were taught.
        Trainer = "trainer",
        /// Builds up and pulls down.
        Hand = "hand",
        /// Owns the panel, the stop and the signals.
        Operator = "operator",
        /// Loads seats and checks restraints.
        Attendant = "attendant",
        /// Comes from outside to look.
        Inspector = "inspector",
        /// Owns the ride.
        Owner = "owner",
        /// Licensed for electrical work.
        Electrician = "electrician",
    }
}

choice! {
    /// Whether a check may be taken on by somebody.
    pub enum Override {
        /// By nobody.
        Never = "never",
        /// By the chief, with a reason that prints.
        Chief = "by the chief with a reason",
    }
}

variants! {
    /// When a check is good.
    pub enum PassRule by "rule" {
        /// Somebody looked, and it is as described.
        Seen(SeenRule) = "seen",
        /// A reading lies between two figures.
        Between(BetweenRule) = "between",
    }
}

section! {
    /// Good when it is as described.
    pub struct SeenRule {
        /// What must be seen.
        text: Option<String>;
    }
}

section! {
    /// Good when the reading lies between two figures; at least one of them is written.
    pub struct BetweenRule checked by a_range {
        /// The least it may be.
        low: Option<AnyQuantity>;
        /// The most it may be.
        high: Option<AnyQuantity>;
    }
}

section! {
    /// How riders get off when the ride stops where it should not.
    pub struct Stopped {
        /// The ways there are, best first.
        ways as "way": Vec<WayOff>;
        /// Whether it may be turned by hand with riders aboard.
        turning_by_hand: Option<bool>;
        /// How many people turning it by hand takes.
        turning_people: Option<usize>, within from("1", "50");
        /// How the brake is released.
        brake_release: Option<String>;
        /// The torque about the axis that is held while riders get off: by brake, gear or hands, the least of them.
        holds: Option<Moment>, within above("0 kN m", "1000 kN m");
        /// Energy that is still stored when it has stopped: springs, oil, batteries, raised parts.
        stored_energy: Vec<String>;
    }
}

section! {
    /// One way of getting riders off.
    pub struct WayOff {
        /// What it is: a ladder, a platform, turning by hand.
        name: String;
        /// What to do, in the maker's words.
        instruction: Option<String>;
        /// Whether the ride is turned by hand, to bring each seat to one place.
        turned: Option<bool>;
        /// Where that place is: the angle of a seat that stands there, with the ride at angle zero.
        angle: Option<Angle>, within from("-360 deg", "360 deg");
        /// How far to either side of it a seat may stand; it must stand there, unless written.
        within: Option<Angle>, within from("0 deg", "180 deg");
        /// How high a seat it reaches.
        reaches: Option<Length>, within above("0 mm", "60 m");
        /// Who may do it.
        who: Vec<Role>;
        /// How many people it takes.
        people: Option<usize>, within from("1", "50");
        /// How long it takes for one seat.
        time_a_seat: Option<Time>, within above("0 s", "2 h");
    }
}

impl Check {
    /// Whether anybody may open without it.
    pub fn overridable(&self) -> Override {
        self.may_be_overridden.unwrap_or(Override::Never)
    }
}

fn a_range(rule: &BetweenRule, report: &mut Report) {
    if !rule.place.has("low") && !rule.place.has("high") {
        let help = "Write `low`, `high` or both.";
        report.error(rule.place.section, Code::Missing, "This says not between what.", help);
    }
    runs_upward(rule.low, rule.high, &rule.place, report);
}

/// A range has two ends of one kind, the lower one first.
pub(super) fn runs_upward(
    low: Option<AnyQuantity>,
    high: Option<AnyQuantity>,
    place: &Place,
    report: &mut Report,
) {
    let (Some(AnyQuantity(low)), Some(AnyQuantity(high))) = (low, high) else { return };
    if low.shown != high.shown {
        let message = "`low` and `high` are not of one kind.";
        report.error(place.key("high"), Code::Disagreement, message, "Give both in the unit that is read.");
    } else if low.si > high.si {
        let message = "`low` is above `high`.";
        report.error(place.key("low"), Code::Disagreement, message, "Change them round.");
    }
}

/// Somebody must be able to sign.
fn somebody(roles: &[Role], place: &Place, report: &mut Report) {
    if roles.is_empty() && !report.torn && !place.has("signed-by") {
        let help = "Write who may, such as `signed-by = [\"chief\"]`.";
        report.error(place.section, Code::Missing, "Nobody may sign for this check.", help);
    }
}
