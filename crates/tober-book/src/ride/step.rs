//! The work, one piece each.

use super::{Role, WindLimit};
use crate::report::{Report, short};
use crate::section::{choice, section, variants};
use crate::table::{Group, above, from};
use crate::{AnyQuantity, Code, Load, Place, Point, Point3, Share};
use std::collections::{BTreeMap, BTreeSet};
use tober_quantity::{Angle, Length, Mass, Time, Toleranced};

section! {
    /// One piece of work.
    pub struct Step {
        /// What it is called, for `after` and `undoes`.
        name: String, link defines Step;
        /// In which phase it is done.
        phase: Phase;
        /// One line that says it.
        title: String;
        /// What to do, in the maker's words.
        instruction: Option<String>;
        /// The steps that must be done before.
        after: Vec<String>, link refers Step;
        /// The bodies without which it is not done: where one of them stays at home, it is left out.
        only_with: Vec<String>, link refers Body;
        /// The step of the build-up that this one takes back.
        undoes: Option<String>, link refers Step;
        /// What must be so before it begins.
        needs: Vec<Need>;
        /// The bodies it moves.
        moves: Vec<Move>;
        /// The fixings it moves.
        pins: Vec<PinMove>;
        /// The supports whose legs it sets.
        sets: Vec<String>, link refers Support;
        /// The supports whose legs it takes away.
        takes_away: Vec<String>, link refers Support;
        /// What it switches or locks.
        switches: Vec<SwitchChange>;
        /// The angle to which it turns the turntable.
        turns_to: Option<Angle>, within from("-360 deg", "360 deg");
        /// The body that the winch line is put on.
        line_on: Option<String>, link refers Body;
        /// The body that the winch line is taken off.
        line_off: Option<String>, link refers Body;
        /// The winch, where there is more than one.
        winch: Option<String>;
        /// Where the winch stands from this step on.
        anchor: Option<String>;
        /// How many people it takes.
        people: Option<usize>, within from("1", "50");
        /// Who must be among them.
        skills: Vec<Role>;
        /// Where its people stand, on the ground, in the order of `skills` and then the others. Who is not told of stands where a drawing
        /// puts them, and it says so.
        stands: Vec<Point>;
        /// The tools it takes, by their names in the kit.
        tools: Vec<String>, link refers Tool;
        /// How long it takes.
        duration: Option<Duration>;
        /// The ground or room in which its people work, by the names that `keep-clear` and circuits give.
        works_in: Vec<String>;
        /// The places it takes where there is room for one person, or for one piece of work, at a time.
        place_for_one: Vec<String>;
        /// The name of the ground that must be clear of people.
        keep_clear: Option<String>;
        /// The middle of that ground.
        keep_clear_at: Option<Point>;
        /// How far around its middle it must be clear.
        keep_clear_radius: Option<Length>, within above("0 mm", "60 m");
        /// How a heavy part is raised or lowered in it.
        lift: Option<Lift>;
        /// The wind in which it may be done: for a lift, lower than the ride's.
        wind_limit: Option<WindLimit>;
        /// How long everything that comes after waits when it is done: ground that settles, oil that warms.
        waits: Option<Time>, within above("0 s", "24 h");
        /// Why it cannot be taken back, where it cannot.
        not_undone: Option<String>;
        /// What is read off when it is done.
        reading: Option<Reading>;
        /// For a hold point: what the chief looks at before anything goes on.
        hold_point: Option<String>;
        /// What can hurt somebody, where the work is.
        cautions: Vec<String>;
    }
}

choice! {
    /// A phase of a visit.
    pub enum Phase {
        /// The trailer comes onto the pitch.
        Arrive = "arrive",
        /// It is unfolded.
        BuildUp = "build-up",
        /// It is checked and tested empty.
        Prove = "prove",
        /// Riders are on it.
        Open = "open",
        /// It is shut for the night.
        Shut = "shut",
        /// It is proved again in the morning.
        Reopen = "reopen",
        /// It is folded.
        PullDown = "pull-down",
        /// It goes back on the road.
        Leave = "leave",
        /// Riders are aboard and something is wrong.
        Stopped = "stopped",
    }
}

section! {
    /// One thing that must be so before a step begins: a body somewhere, fixings in a home, something
    /// switched, or a leg set.
    pub struct Need {
        /// The body that must be somewhere.
        body: Option<String>, link refers Body;
        /// The placement in which the body must be.
        at: Option<String>;
        /// The fixing that must be in a home.
        fixing: Option<String>, link refers Fixing;
        /// The home in which it must be.
        home: Option<String>;
        /// How many of it must be there; all that the home holds, unless written.
        count: Option<usize>, within from("0", "10000");
        /// What must be switched or locked: a circuit, or a name such as "turntable lock".
        switch: Option<String>;
        /// How that must be.
        is: Option<SwitchState>;
        /// The support whose leg must be set.
        support: Option<String>, link refers Support;
        /// The body that the winch line must be on.
        line: Option<String>, link refers Body;
        /// The angle to which the turntable must be turned.
        turned_to: Option<Angle>, within from("-360 deg", "360 deg");
        /// Where the winch must stand.
        anchor: Option<String>;
    }
}

choice! {
    /// How something is switched or locked.
    pub enum SwitchState {
        /// On.
        On = "on",
        /// Off.
        Off = "off",
        /// Locked.
        Locked = "locked",
        /// Free.
        Free = "free",
        /// Plugged in, coupled.
        Connected = "connected",
        /// Unplugged, uncoupled.
        Apart = "apart",
    }
}

section! {
    /// A body that goes from one of its placements to another.
    pub struct Move {
        /// The body.
        body: String, link refers Body;
        /// The placement it leaves.
        from: String;
        /// The placement it comes to.
        to: String;
    }
}

section! {
    /// Fixings that go from one home to another.
    pub struct PinMove {
        /// The fixing.
        fixing: String, link refers Fixing;
        /// The home they leave.
        from: String;
        /// The home they come to.
        to: String;
        /// How many.
        count: usize, within from("1", "10000");
    }
}

section! {
    /// Something switched or locked.
    pub struct SwitchChange {
        /// What: a circuit, or a name such as "turntable lock".
        switch: String;
        /// How it is afterwards.
        to: SwitchState;
    }
}

section! {
    /// How long a step takes.
    pub struct Duration {
        /// When all goes well.
        low: Option<Time>, within above("0 s", "24 h");
        /// As a rule.
        usual: Time, within above("0 s", "24 h");
        /// When it does not.
        high: Option<Time>, within above("0 s", "24 h");
    }
}

section! {
    /// Something that is read off. The field stays blank until somebody reads it.
    pub struct Reading checked by reading_runs_upward {
        /// What is read.
        what: String;
        /// The least it may be.
        low: Option<AnyQuantity>;
        /// The most it may be.
        high: Option<AnyQuantity>;
        /// Whether it is read at every support.
        at_each_support: Option<bool>;
    }
}

variants! {
    /// How a heavy part is raised or lowered.
    pub enum Lift by "by" {
        /// By a winch, about a hinge.
        Winch(Box<WinchLift>) = "winch",
        /// By people.
        Hand(Box<HandLift>) = "hand",
    }
}

section! {
    /// A part that turns about a hinge, drawn up or let down by a winch line.
    pub struct WinchLift {
        /// The body that is raised.
        body: String, link refers Body;
        /// A point of the hinge.
        hinge: Option<Point3>;
        /// Where the line is made fast to the part, as the part lies at its first angle.
        eye: Option<Point3>;
        /// The fixed sheave over which the line runs.
        sheave: Option<Point3>;
        /// Where the drum of the winch is. For drawings alone: the pull of the line does not rest on it.
        winch_at: Option<Point3>;
        /// The angle of the part above the horizontal where the lift begins.
        angle_first: Option<Angle>, within from("-180 deg", "180 deg");
        /// The angle where it ends.
        angle_last: Option<Angle>, within from("-180 deg", "180 deg");
        /// How many falls of line carry the part.
        falls: Option<usize>, within from("1", "12");
        /// The efficiency of one sheave.
        sheave_efficiency: Option<Share>, within above("0", "1");
        /// What holds the part when the line comes off.
        then_held_by: Option<String>;
        /// What holds the part where the lift begins, before the line has it; there it comes to rest when it is taken back.
        first_held_by: Option<String>;
        /// Whether the whole part hangs on the line, and neither hinge nor rail carries any of it.
        hangs: Option<bool>;
        /// What the hinge is rated to carry.
        hinge_rated: Option<Load>, within above("0 kN", "10000 kN");
        /// What holds the part where its weight has passed the hinge and the line is slack.
        held_back_by: Option<String>;
        /// Where that is made fast to the part, or bears on it, as the part lies at its first angle.
        held_back_at: Option<Point3>;
        /// The fixed point to which it runs.
        held_back_to: Option<Point3>;
        /// What that is rated to hold along the line between the two.
        held_back_rated: Option<Load>, within above("0 kN", "5000 kN");
        /// What brings the part back over its balance where the line is slack as the travel begins, this way or taken back.
        brought_over_by: Option<String>;
        /// What the eye of the line is.
        eye_is: Option<EyeKind>;
        /// What the eye is rated for, pulled straight.
        eye_rated: Option<Load>, within above("0 kN", "5000 kN");
        /// Which way an eye bolt points, against the direction along the part: "90 deg" out of its upper side, lying level. On
        /// a part that hangs, against the horizontal.
        eye_axis: Option<Angle>, within from("-360 deg", "360 deg");
        /// How many legs the sling between hook and part has, if there is one.
        sling_legs: Option<usize>, within from("1", "4");
        /// The angle of its legs above the horizontal.
        sling_angle: Option<Angle>, within from("1 deg", "90 deg");
        /// What one of its legs may carry, pulled straight.
        sling_rated: Option<Load>, within above("0 kN", "5000 kN");
    }
}

choice! {
    /// What an eye is.
    pub enum EyeKind {
        /// A plate with a shackle through it, pulled in its plane.
        Lug = "lug",
        /// An eye bolt with a shoulder that bears on the part.
        Shoulder = "shoulder eye bolt",
        /// An eye bolt without one.
        Plain = "plain eye bolt",
    }
}

section! {
    /// A part that people lift.
    pub struct HandLift {
        /// The mass lifted.
        mass: Toleranced<Mass>, within above("0 kg", "2 t");
        /// How many lift it together.
        people: Option<usize>, within from("1", "20");
        /// How far the hands are from the ankles, level.
        reach: Option<Length>, within from("0 mm", "2 m");
        /// The height of the hands where it begins.
        height_first: Option<Length>, within from("0 mm", "3 m");
        /// The height of the hands where it ends.
        height_last: Option<Length>, within from("0 mm", "3 m");
        /// How far the body twists.
        twist: Option<Angle>, within from("0 deg", "180 deg");
        /// The time from one lift to the next.
        every: Option<Time>, within above("0 s", "8 h");
        /// How long the lifting goes on.
        during: Option<Time>, within above("0 s", "24 h");
        /// How long those who lift do lighter work after it.
        rest: Option<Time>, within from("0 s", "24 h");
        /// How the hands hold it.
        grip: Option<Grip>;
        /// What takes it out of the scope of the lifting equation; `["nothing"]` where each was looked at.
        outside: Vec<Outside>;
        /// The most that the maker lets one person take of it. Where the equation does not apply, this counts alone.
        most_each: Option<Mass>, within above("0 kg", "200 kg");
    }
}

choice! {
    /// How hands hold a load.
    pub enum Grip {
        /// By handles, or a shape that a hand goes round.
        Good = "good",
        /// By poor handles, or with the fingers bent under it.
        Fair = "fair",
        /// Neither.
        Poor = "poor",
    }
}

choice! {
    /// Where the lifting equation does not apply: NIOSH 94-110 (1994, revised 2021), p. 6.
    pub enum Outside {
        /// It applies.
        Nothing = "nothing",
        /// Lifted with one hand.
        OneHand = "one hand",
        /// For more than eight hours.
        Long = "over 8 hours",
        /// Sitting or on the knees.
        Seated = "seated or kneeling",
        /// Where there is little room to stand or move.
        Room = "little room",
        /// A load that shifts or swings.
        Unstable = "unstable load",
        /// While carrying, pushing or pulling.
        Carrying = "carrying, pushing or pulling",
        /// With a wheelbarrow or a shovel.
        Barrow = "wheelbarrow or shovel",
        /// Faster than about 0.75 m/s.
        Fast = "fast",
        /// On ground that gives little grip.
        Slippery = "slippery",
        /// Outside 19 to 26 degrees Celsius, or 35 to 50 per cent humidity: most work outdoors.
        Weather = "hot, cold, damp or dry",
    }
}

/// What steps say of placements and homes exists; a range runs upward; no step waits for itself.
pub(super) fn agree(steps: &[Step], _: &Place, report: &mut Report) {
    for step in steps {
        for need in &step.needs {
            need_is_whole(need, report);
        }
        for moved in &step.moves {
            for (key, name) in [("from", &moved.from), ("to", &moved.to)] {
                report.refer(Group::Placement, Some(&moved.body), name, moved.place.key(key));
            }
        }
        for pins in &step.pins {
            for (key, name) in [("from", &pins.from), ("to", &pins.to)] {
                report.refer(Group::Home, Some(&pins.fixing), name, pins.place.key(key));
            }
        }
        if let Some(duration) = &step.duration {
            duration_runs_upward(duration, report);
        }
        if let (Some(Lift::Hand(lift)), Some(people)) = (&step.lift, step.people)
            && let Some(lifting) = lift.people
            && lifting > people
        {
            let message = format!("{lifting} people lift it together, and the step takes {people}.");
            let help = "`people` of the step counts those who lift.";
            report.error(lift.place.key("people"), Code::Disagreement, message, help);
        }
    }
    circle(steps, report);
}

/// A need speaks of exactly one thing, and says how it must be.
fn need_is_whole(need: &Need, report: &mut Report) {
    let subjects = [
        need.body.is_some(),
        need.fixing.is_some(),
        need.switch.is_some(),
        need.support.is_some(),
        need.line.is_some(),
        need.turned_to.is_some(),
        need.anchor.is_some(),
    ];
    if subjects.iter().filter(|there| **there).count() != 1 {
        let message = "A need speaks of one thing: a `body`, a `fixing`, a `switch`, a `support`, a `line`, an angle `turned-to` or an `anchor`.";
        report.error(need.place.section, Code::Disagreement, message, "Write one need for each thing.");
        return;
    }
    let missing = match (&need.body, &need.fixing, &need.switch) {
        (Some(body), ..) => match &need.at {
            Some(at) => {
                report.refer(Group::Placement, Some(body), at, need.place.key("at"));
                None
            }
            None => Some("at"),
        },
        (_, Some(fixing), _) => match &need.home {
            Some(home) => {
                report.refer(Group::Home, Some(fixing), home, need.place.key("home"));
                None
            }
            None => Some("home"),
        },
        (.., Some(_)) => need.is.is_none().then_some("is"),
        _ => None,
    };
    if let Some(key) = missing {
        let message = format!("`{key}` is missing here: how must it be?");
        report.error(need.place.section, Code::Missing, message, format!("Write `{key} = \"...\"`."));
    }
}

fn reading_runs_upward(reading: &Reading, report: &mut Report) {
    super::checks::runs_upward(reading.low, reading.high, &reading.place, report);
}

fn duration_runs_upward(duration: &Duration, report: &mut Report) {
    let low = duration.low.is_none_or(|low| low <= duration.usual);
    let high = duration.high.is_none_or(|high| duration.usual <= high);
    if !(low && high) {
        let message = "A duration runs from `low` over `usual` to `high`, and this one does not.";
        report.error(duration.place.section, Code::Disagreement, message, "Order the three.");
    }
}

/// Finds steps that wait for each other in a circle, and names the steps of one circle each.
fn circle(steps: &[Step], report: &mut Report) {
    let by_name: BTreeMap<&str, &Step> = steps.iter().map(|step| (step.name.as_str(), step)).collect();
    // Take away every step that waits for nothing that is left, until none goes.
    let mut left: BTreeSet<&str> = by_name.keys().copied().collect();
    loop {
        let free: Vec<&str> = left
            .iter()
            .copied()
            .filter(|name| !by_name[name].after.iter().any(|before| left.contains(before.as_str())))
            .collect();
        if free.is_empty() {
            break;
        }
        for name in free {
            left.remove(name);
        }
    }
    // Whoever is left waits for somebody left, so a walk comes back to where it was.
    while let Some(&start) = left.iter().next() {
        let mut walk = vec![start];
        let found = loop {
            let here = walk[walk.len() - 1];
            let next = by_name[here].after.iter().find(|before| left.contains(before.as_str()));
            let Some(next) = next else { break None };
            if let Some(first) = walk.iter().position(|name| name == next) {
                break Some(first);
            }
            walk.push(next);
        };
        if let Some(first) = found {
            let names: Vec<String> =
                walk[first..].iter().map(|name| format!("\"{}\"", short(name))).collect();
            let message = if names.len() == 1 {
                format!("Step {} waits for itself.", names[0])
            } else {
                format!("These steps wait for each other in a circle: {}.", names.join(" after "))
            };
            let span = by_name[walk[first]].place.key("after");
            report.error(span, Code::Circle, message, "Take one of them out of an `after`.");
        }
        for name in walk {
            left.remove(name);
        }
    }
}
