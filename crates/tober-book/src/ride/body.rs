//! The heavy parts and where each can be.

use super::Provenance;
use crate::report::{Report, short};
use crate::section::{section, variants};
use crate::table::{Group, above, from};
use crate::{Code, Place, Point3};
use std::collections::BTreeMap;
use tober_quantity::{Angle, Area, Length, Mass, Toleranced};

section! {
    /// A part heavy enough to matter.
    pub struct Body {
        /// What it is called.
        name: String, link defines Body;
        /// Its mass, widened as `[ride] mass-from` says.
        mass: Toleranced<Mass>, within above("0 kg", "100 t");
        /// How its mass is known.
        mass_from: Option<Provenance>;
        /// Its shape, simply.
        shape: Option<Shape>;
        /// The body that carries it, or "frame". Not known unless written.
        carried_by: Option<String>, link refers Body;
        /// The number or letter stamped on it, where it goes only into places that bear the same.
        mark: Option<String>;
        /// Whether it turns with the turntable.
        on_turntable: Option<bool>;
        /// Whether it is put into its placement "stowed" before the greatest wind in which the ride may stand: the maker's
        /// word.
        stowed_in_wind: Option<bool>;
        /// Where it can be. "road" is how it travels, "open" how it stands when the ride is open, "stowed" how it is
        /// lowered, taken in or tied before a wind.
        placements as "placement": Vec<Placement>;
    }
}

section! {
    /// A place a body can be in, and how it lies there.
    pub struct Placement {
        /// What it is called: "road", "open", or a name that says where the body is.
        name: String;
        /// The centre of gravity of the body there.
        cg: Point3;
        /// How far it is turned to the left, seen from above.
        heading: Option<Angle>, within from("-360 deg", "360 deg");
        /// How far its front end is raised.
        raised: Option<Angle>, within from("-180 deg", "180 deg");
        /// How far it is rolled over to the right, seen from behind.
        rolled: Option<Angle>, within from("-180 deg", "180 deg");
        /// What the wind finds of it here. Not known unless written.
        wind: Option<WindArea>;
        /// The body that carries it here, or "frame", where that is not what usually does.
        carried_by: Option<String>, link refers Body;
        /// What holds it there: every one of these must be in its home. Without any it lies there by its weight.
        held_by: Vec<Holder>;
        /// The bodies it closes a gap between, each in the placement in which it must be when this one comes and as long as
        /// this one is there.
        between: Vec<BodyAt>;
        /// The place it takes up, where there is room for one body: a bay, a cradle, a shelf.
        spot: Option<String>;
        /// The number or letter that the place bears.
        mark: Option<String>;
        /// What it rests on or hangs from without anything being put in: a hinge that is never drawn, a cradle.
        rests_on: Option<String>;
        /// Whether it is there only while it hangs on the winch line.
        on_the_line: Option<bool>;
    }
}

section! {
    /// A body in one of its placements.
    pub struct BodyAt {
        /// The body.
        body: String, link refers Body;
        /// The placement.
        at: String;
    }
}

section! {
    /// Fixings that hold a body where it is.
    pub struct Holder {
        /// The fixing.
        fixing: String, link refers Fixing;
        /// The home in which it holds.
        home: String;
        /// How many of them must be there; all that the home holds, unless written.
        count: Option<usize>, within from("1", "10000");
    }
}

section! {
    /// What the wind finds of a body in a placement. All of it is written or none, so that no part of it
    /// has to be assumed.
    pub struct WindArea {
        /// Its area times its force coefficient against wind along the frame.
        along: Area, within from("0 m2", "1000 m2");
        /// Its area times its force coefficient against wind across the frame.
        across: Area, within from("0 m2", "1000 m2");
        /// Its area times its coefficient of lift; 0 m2 where it has no roof, sail or wing that wind can lift.
        lift: Area, within from("0 m2", "1000 m2");
        /// How high above the datum plane the wind on it acts.
        up: Length, within from("-5 m", "100 m");
    }
}

variants! {
    /// A simple shape. Its middle is the centre of gravity; its length lies along the frame at heading 0.
    pub enum Shape by "is" {
        /// A box.
        Box(BoxShape) = "box",
        /// A solid round bar, its length along its axis.
        Cylinder(CylinderShape) = "cylinder",
        /// A round tube.
        Tube(TubeShape) = "tube",
        /// A flat plate.
        Plate(PlateShape) = "plate",
    }
}

section! {
    /// A box.
    pub struct BoxShape {
        /// Along.
        length: Length, within above("0 mm", "40 m");
        /// Across.
        width: Length, within above("0 mm", "40 m");
        /// Up.
        height: Length, within above("0 mm", "40 m");
    }
}

section! {
    /// A solid round bar.
    pub struct CylinderShape {
        /// Along its axis.
        length: Length, within above("0 mm", "40 m");
        /// Across its axis.
        diameter: Length, within above("0 mm", "40 m");
    }
}

section! {
    /// A round tube.
    pub struct TubeShape {
        /// Along its axis.
        length: Length, within above("0 mm", "40 m");
        /// Across its axis, outside.
        diameter: Length, within above("0 mm", "40 m");
        /// The thickness of its wall.
        wall: Length, within above("0 mm", "1 m");
    }
}

section! {
    /// A flat plate.
    pub struct PlateShape {
        /// Along.
        length: Length, within above("0 mm", "40 m");
        /// Across.
        width: Length, within above("0 mm", "40 m");
        /// Its thickness.
        thickness: Length, within above("0 mm", "1 m");
    }
}

impl Body {
    /// The placement of a name.
    pub fn placement(&self, name: &str) -> Option<&Placement> {
        self.placements.iter().find(|placement| placement.name == name)
    }
}

/// The placements that are named of other bodies exist.
pub(super) fn bodies_at(all: &[BodyAt], report: &mut Report) {
    for there in all {
        report.refer(Group::Placement, Some(&there.body), &there.at, there.place.key("at"));
    }
}

/// Placements are named within their body, and nothing carries itself, not even by way of others.
pub(super) fn agree(bodies: &[Body], _: &Place, report: &mut Report) {
    let mut carriers = BTreeMap::new();
    let mut spots: BTreeMap<&str, &str> = BTreeMap::new();
    for body in bodies {
        for placement in &body.placements {
            let other = placement.spot.as_deref().filter(|_| placement.name == "road");
            if let Some(other) = other.and_then(|spot| spots.insert(spot, &body.name)) {
                let message = format!(
                    "\"{}\" is on the road where \"{}\" is, and there is room for one.",
                    short(&body.name),
                    short(other)
                );
                report.error(
                    placement.place.key("spot"),
                    Code::Disagreement,
                    message,
                    "Give each its own `spot` on the road.",
                );
            }
            report.define(Group::Placement, Some(&body.name), &placement.name, placement.place.key("name"));
            for holder in &placement.held_by {
                report.refer(Group::Home, Some(&holder.fixing), &holder.home, holder.place.key("home"));
            }
            bodies_at(&placement.between, report);
            if let (Some(there), Some(mark)) = (&placement.mark, &body.mark)
                && there != mark
            {
                let message = format!(
                    "\"{}\" is marked \"{}\", and its place \"{}\" is marked \"{}\".",
                    short(&body.name),
                    short(mark),
                    short(&placement.name),
                    short(there)
                );
                let help = "A part that is marked goes into the place that bears its mark.";
                report.error(placement.place.key("mark"), Code::Disagreement, message, help);
            }
        }
        if let Some(carrier) = &body.carried_by {
            carriers.insert(body.name.as_str(), (carrier.as_str(), body.place.key("carried-by")));
        }
        if let Some(Shape::Tube(tube)) = &body.shape
            && tube.wall * 2.0 > tube.diameter
        {
            let message = "The wall of this tube is thicker than half its diameter.";
            report.error(tube.place.key("wall"), Code::Geometry, message, "Measure the wall, not the bore.");
        }
    }
    let mut told = std::collections::BTreeSet::new();
    for &start in carriers.keys() {
        let mut circle = vec![start];
        let mut at = start;
        while let Some(&(next, span)) = carriers.get(at) {
            if next == start {
                if circle.iter().all(|name| told.insert(*name)) {
                    let names: Vec<String> = circle.iter().map(|name| short(name)).collect();
                    let message = format!(
                        "\"{}\" carries itself: {} carried by {}.",
                        short(start),
                        names.join(" carried by "),
                        short(start)
                    );
                    report.error(
                        span,
                        Code::Circle,
                        message,
                        "Leave `carried-by` out where the frame carries it.",
                    );
                }
                break;
            }
            if circle.contains(&next) {
                break;
            }
            circle.push(next);
            at = next;
        }
    }
}
