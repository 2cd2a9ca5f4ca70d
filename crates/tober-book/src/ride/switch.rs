//! What is switched, plugged or turned, how it is on the road and while the ride is open; and names that no book
//! declares but steps use, looked over for slips.

use super::{Holder, Need, Ride, SwitchState};
use crate::nearest::nearest;
use crate::report::{Report, short};
use crate::section::section;
use crate::table::{Group, from};
use crate::{Code, Place, Span};
use std::collections::BTreeMap;
use tober_quantity::Angle;

section! {
    /// Something that steps switch, lock, plug in or open and that is no circuit: a breaker, a cable, a lock, a panel.
    ///
    /// Where a book writes one, it writes them all: a step that names another is refused.
    pub struct Switch {
        /// What steps call it.
        name: String, link defines Switch;
        /// How it is when the ride comes off the road, and must be when it leaves. Not known unless written.
        on_the_road: Option<SwitchState>;
        /// How it must be when riders come.
        when_open: Option<SwitchState>;
    }
}

section! {
    /// A turntable that is turned by hand.
    pub struct Turntable {
        /// The angle at which it travels, and must be when the ride leaves. Not known unless written.
        on_the_road: Option<Angle>, within from("-360 deg", "360 deg");
        /// The angle at which it must be when riders come.
        when_open: Option<Angle>, within from("-360 deg", "360 deg");
        /// What locks it: while one of these is in its home, it does not turn.
        locked_by: Vec<Holder>;
    }
}

/// What locks the turntable exists.
pub(super) fn locked(turntable: &Option<Turntable>, _: &Place, report: &mut Report) {
    for holder in turntable.iter().flat_map(|turntable| &turntable.locked_by) {
        report.refer(Group::Home, Some(&holder.fixing), &holder.home, holder.place.key("home"));
    }
}

/// Names that steps give and use without a table of their own: a switch, an anchor, a winch, ground, a place for one.
pub(super) fn slips(ride: &Ride, report: &mut Report) {
    switches(ride, report);
    let used = |key: &'static str| Uses { key, by_name: BTreeMap::new() };
    let (mut anchors, mut wanted) = (used("anchor"), used("anchor"));
    let (mut grounds, mut works) = (used("keep-clear"), used("works-in"));
    let (mut winches, mut places) = (used("winch"), used("place-for-one"));
    for step in &ride.steps {
        anchors.note(step.anchor.as_deref(), &step.place);
        grounds.note(step.keep_clear.as_deref(), &step.place);
        winches.note(step.winch.as_deref(), &step.place);
        step.works_in.iter().for_each(|name| works.note(Some(name), &step.place));
        step.place_for_one.iter().for_each(|name| places.note(Some(name), &step.place));
        step.needs.iter().for_each(|need| wanted.note(need.anchor.as_deref(), &need.place));
    }
    for circuit in &ride.circuits {
        grounds.note(circuit.zone.as_deref(), &circuit.place);
    }
    wanted.not_among(&anchors, "No step moves a winch to", report);
    works.not_among(
        &grounds,
        "No step wants ground clear, and no circuit has a zone, that is called",
        report,
    );
    winches.once("Only one step names the winch", report);
    places.once("Only one step names the place", report);
}

/// A step switches what the book lists, or a circuit.
fn switches(ride: &Ride, report: &mut Report) {
    let circuits = ride.circuits.iter().map(|circuit| circuit.name.as_str());
    let known: Vec<&str> = ride.switches.iter().map(|switch| switch.name.as_str()).chain(circuits).collect();
    let mut used = Uses { key: "switch", by_name: BTreeMap::new() };
    let mut set = Uses { key: "switch", by_name: BTreeMap::new() };
    for step in &ride.steps {
        step.switches.iter().for_each(|change| set.note(Some(&change.switch), &change.place));
        // A need that speaks of two things has been refused for that.
        let whole = |need: &&Need| need.body.is_none() && need.fixing.is_none() && need.support.is_none();
        let needs = step.needs.iter().filter(whole);
        needs.for_each(|need| used.note(need.switch.as_deref(), &need.place));
    }
    if ride.switches.is_empty() {
        // Nothing is declared: what steps switch is what there is.
        for &circuit in &known {
            set.by_name.entry(circuit).or_default();
        }
        used.not_among(&set, "No step switches", report);
        return;
    }
    for (name, spans) in set.by_name.iter().chain(&used.by_name) {
        if known.contains(name) {
            continue;
        }
        let help = match nearest(name, &known) {
            Some(near) => format!("Did you mean \"{}\"?", short(near)),
            None => "Write a `[[switch]]` for it, or a `[[circuit]]`.".to_owned(),
        };
        for &span in spans {
            report.error(
                span,
                Code::UnknownName,
                format!("There is no switch \"{}\".", short(name)),
                help.clone(),
            );
        }
    }
    for switch in
        ride.switches.iter().filter(|switch| ride.circuits.iter().any(|circuit| circuit.name == switch.name))
    {
        let message = format!("\"{}\" is a circuit, and a circuit is off on the road.", short(&switch.name));
        report.error(switch.place.key("name"), Code::RepeatedName, message, "Leave the `[[switch]]` out.");
    }
}

/// Names by where they are used.
struct Uses<'a> {
    key: &'static str,
    by_name: BTreeMap<&'a str, Vec<Span>>,
}

impl<'a> Uses<'a> {
    fn note(&mut self, name: Option<&'a str>, place: &Place) {
        if let Some(name) = name {
            self.by_name.entry(name).or_default().push(place.key(self.key));
        }
    }

    /// Refuses a name that is not given and is a slip for one that is.
    fn not_among(&self, given: &Self, says: &str, report: &mut Report) {
        let known: Vec<&str> = given.by_name.keys().copied().collect();
        for (name, spans) in self.by_name.iter().filter(|(name, _)| !given.by_name.contains_key(*name)) {
            if let Some(near) = slip(name, &known) {
                refuse(spans, says, name, near, report);
            }
        }
    }

    /// Refuses a name that one step uses and is a slip for one that others use.
    fn once(&self, says: &str, report: &mut Report) {
        for (name, spans) in self.by_name.iter().filter(|(_, spans)| spans.len() == 1) {
            let often: Vec<&str> = self
                .by_name
                .iter()
                .filter(|(other, spans)| *other != name && spans.len() > 1)
                .map(|(name, _)| *name)
                .collect();
            if let Some(near) = slip(name, &often) {
                refuse(spans, says, name, near, report);
            }
        }
    }
}

fn refuse(spans: &[Span], says: &str, name: &str, near: &str, report: &mut Report) {
    for &span in spans {
        let help = format!("Did you mean \"{}\"?", short(near));
        report.error(span, Code::UnknownName, format!("{says} \"{}\".", short(name)), help);
    }
}

/// The known name that one is plainly a slip for: word by word the same but for a letter or so in a word of three
/// letters or more. "arm 1" is no slip for "arm 2", nor "rear left post" for "rear right post".
fn slip<'k>(name: &str, known: &[&'k str]) -> Option<&'k str> {
    let words = |text: &str| -> Vec<String> { text.split([' ', '-', '_']).map(str::to_lowercase).collect() };
    let mine = words(name);
    known.iter().copied().find(|other| {
        let theirs = words(other);
        if mine.len() != theirs.len() {
            return mine.concat() == theirs.concat();
        }
        mine.iter().zip(&theirs).all(|(mine, theirs)| {
            let marks = mine.chars().any(|c| c.is_ascii_digit()) || mine.chars().count() < 3;
            mine == theirs || (!marks && nearest(mine, &[theirs]).is_some())
        })
    })
}
