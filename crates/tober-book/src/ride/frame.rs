//! The frame, its wheels and its hitch.

use crate::report::Report;
use crate::section::{choice, section};
use crate::table::{above, from};
use crate::{Code, Load, Place, Point};
use tober_quantity::{Length, Pressure, SecondMoment, Slope, Stiffness};

section! {
    /// What stands on the supports and carries everything.
    pub struct Frame {
        /// The corners of the frame on the plan, in order round it; instead of a length and a width.
        outline: Vec<Point>, then encloses;
        /// How long the frame is, if it is a rectangle: it reaches from the datum forward.
        length: Option<Length>, within above("0 mm", "40 m");
        /// How wide the frame is, if it is a rectangle: it reaches half of this to each side of the datum.
        width: Option<Length>, within above("0 mm", "20 m");
        /// Which point of the frame, one that can be touched, is zero along, across and up.
        datum: Option<String>;
        /// Whether the frame is taken as rigid or as beams.
        stiffness: Option<StiffnessModel>;
        /// The nodes of the beams.
        nodes as "node": Vec<Node>;
        /// The beams between nodes.
        members as "member": Vec<Member>, then members_join;
        /// How high the datum plane is above level ground when the trailer rests on its wheels.
        resting_height: Option<Length>, within above("0 mm", "4 m");
        /// The axles.
        axles as "axle": Vec<Axle>;
        /// The hitch and its jack.
        hitch: Option<Hitch>;
        /// How the wheels end once the frame stands on its supports: the maker's word.
        wheels: Option<Wheels>;
        /// How much the frame may slope along, once it stands: the maker's tolerance.
        level_along: Option<Slope>, within above("0 mm/m", "100 mm/m");
        /// How much the frame may slope across, once it stands: the maker's tolerance.
        level_across: Option<Slope>, within above("0 mm/m", "100 mm/m");
        /// How far each foot may be from the plane of the frame, up or down: the maker's tolerance.
        planarity: Option<Length>, within above("0 mm", "100 mm");
        /// Parts under the frame that must stay clear of the ground. None is `clearance = []`; not known unless
        /// written.
        clearances as "clearance": Option<Vec<Clearance>>;
        /// How far every corner must at least be raised above its shortest leg on bare ground.
        least_lift: Option<Length>, within from("0 mm", "3 m");
        /// How far a corner may at most be raised so.
        greatest_lift: Option<Length>, within above("0 mm", "3 m");
        /// The highest stack of packing the maker allows.
        greatest_stack: Option<Length>, within above("0 mm", "2 m");
        /// The most boards the maker allows in a stack.
        greatest_boards: Option<usize>, within from("1", "40");
    }
}

choice! {
    /// How the frame is taken in the support loads.
    pub enum StiffnessModel {
        /// It does not bend.
        Rigid = "rigid",
        /// It bends and twists as its nodes and members say.
        Beams = "beams",
    }
}

choice! {
    /// How the wheels end, in the maker's word.
    pub enum Wheels {
        /// Off the ground.
        Clear = "clear",
        /// On the ground, and carrying nothing to speak of.
        Touching = "touching",
        /// On the ground, and carrying their share.
        Sharing = "sharing",
    }
}

section! {
    /// A point where beams of the frame meet.
    pub struct Node {
        /// What it is called.
        name: String, link defines Node;
        /// Where it is.
        at: Point;
    }
}

section! {
    /// A straight beam between two nodes.
    pub struct Member {
        /// The node it begins at.
        from: String, link refers Node;
        /// The node it ends at.
        to: String, link refers Node;
        /// The modulus of elasticity of its material, E.
        elasticity: Pressure, within above("0 kPa", "1000000 N/mm2");
        /// The shear modulus of its material, G. Needed for twist.
        shear_modulus: Option<Pressure>, within above("0 kPa", "500000 N/mm2");
        /// Its second moment of area for bending up and down, I.
        second_moment: SecondMoment, within above("0 cm4", "10000000 cm4");
        /// Its torsion constant, J.
        torsion_constant: Option<SecondMoment>, within above("0 cm4", "10000000 cm4");
    }
}

section! {
    /// An axle with its wheels.
    pub struct Axle {
        /// Where it is along the frame.
        at: Length, within from("-40 m", "40 m");
        /// The distance between the middles of its left and right wheels.
        track: Length, within above("0 mm", "5 m");
        /// How much load on one side's wheels presses their spring and tyres by one length.
        stiffness: Option<Stiffness>, within above("0 kN/mm", "100 kN/mm");
        /// How far a wheel drops below its loaded height when the load is taken off.
        droop: Option<Length>, within from("0 mm", "500 mm");
        /// What the axle carries when the ride rests on its wheels.
        load: Option<Load>, within above("0 kN", "500 kN");
        /// The greatest the axle may carry.
        rated_load: Option<Load>, within above("0 kN", "500 kN");
    }
}

section! {
    /// The hitch and the jack that stands near it.
    pub struct Hitch {
        /// Where the hitch is.
        at: Point;
        /// How high the hitch is above level ground when the trailer rests level on its wheels.
        height: Option<Length>, within above("0 mm", "3 m");
        /// Where the hitch jack stands.
        jack_at: Option<Point>;
        /// From the datum plane down to the foot of the hitch jack, wound right in.
        jack_shortest: Option<Length>, within above("0 mm", "4 m");
        /// How far the hitch jack travels from its shortest to its longest.
        jack_travel: Option<Length>, within above("0 mm", "2 m");
        /// How much packing may lie under the hitch jack. None unless written.
        jack_packing: Option<Length>, within from("0 mm", "1 m");
        /// What the hitch jack may lift.
        jack_rated_load: Option<Load>, within above("0 kN", "500 kN");
        /// What the hitch carries when the ride rests on its wheels.
        load: Option<Load>, within from("0 kN", "500 kN");
    }
}

section! {
    /// A part that must stay clear of the ground.
    pub struct Clearance {
        /// What it is: wheels, platform, fence, an arm as it swings.
        part: String;
        /// How far its lowest point hangs below the datum plane; above it if negative.
        below: Length, within from("-10 m", "5 m");
        /// The least gap to the ground.
        least: Length, within from("0 mm", "5 m");
        /// The corners of the ground it passes over, in order round it; the whole of the surveyed ground
        /// unless written.
        over: Vec<Point>, then encloses;
    }
}

impl Frame {
    /// The corners of the frame: its outline, or the rectangle of its length and width.
    pub fn corners(&self) -> Vec<Point> {
        if !self.outline.is_empty() {
            return self.outline.clone();
        }
        let (Some(length), Some(width)) = (self.length, self.width) else { return Vec::new() };
        let side = width / 2.0;
        let corner = |along, across| Point { along, across };
        vec![
            corner(Length::ZERO, -side),
            corner(length, -side),
            corner(length, side),
            corner(Length::ZERO, side),
        ]
    }
}

/// An outline has at least three corners, no two in one place, and an area.
pub(crate) fn encloses(corners: &[Point], place: &Place, report: &mut Report) {
    let key = if place.has("outline") { "outline" } else { "over" };
    if corners.is_empty() {
        return;
    }
    let span = place.key(key);
    if corners.len() < 3 {
        report.error(
            span,
            Code::Geometry,
            format!("`{key}` has fewer than three corners."),
            "Give each corner once, in order round it.",
        );
        return;
    }
    for (at, corner) in corners.iter().enumerate() {
        if corners[..at].contains(corner) {
            let message = format!("Corner {} of `{key}` is in the same place as one before it.", at + 1);
            report.error(
                span,
                Code::Geometry,
                message,
                "Give each corner once; the last joins the first by itself.",
            );
            return;
        }
    }
    if doubled_area(corners).abs() < 1e-4 {
        report.error(
            span,
            Code::Geometry,
            format!("`{key}` encloses no area."),
            "Give the corners in order round it.",
        );
    }
}

/// Twice the area inside, in square metres, positive anticlockwise.
fn doubled_area(corners: &[Point]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    corners
        .iter()
        .zip(next)
        .map(|(a, b)| a.along.as_m() * b.across.as_m() - b.along.as_m() * a.across.as_m())
        .sum()
}

/// A member joins two different nodes.
fn members_join(members: &[Member], _: &Place, report: &mut Report) {
    for member in members {
        if member.from == member.to {
            let message = format!("This member begins and ends at node \"{}\".", member.from);
            report.error(member.place.key("to"), Code::Geometry, message, "Name two different nodes.");
        }
    }
}
