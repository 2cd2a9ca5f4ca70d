//! What holds the frame up.

use super::BodyAt;
use crate::report::{Report, short};
use crate::section::{choice, section, variants};
use crate::table::{above, from};
use crate::{Code, Load, Place, Point};
use tober_quantity::{Length, Pressure, Stiffness};

section! {
    /// One leg or screw jack.
    pub struct Support {
        /// What it is called: by its corner, so that it shares its name with nothing.
        name: String, link defines Support;
        /// A name of two letters for narrow places, such as FL for front left.
        short: Option<String>, then two_letters;
        /// Where the middle of its foot is.
        at: Point;
        /// Whether it carries, or only steadies.
        does: Does;
        /// How its leg is held in the frame.
        held: Holding;
        /// The length of its foot, along the frame.
        foot_length: Option<Length>, within above("0 mm", "2 m");
        /// The width of its foot, across the frame.
        foot_width: Option<Length>, within above("0 mm", "2 m");
        /// What its foot is made of.
        foot_material: Option<FootMaterial>;
        /// The most it may carry: the maker's figure.
        rated_load: Option<Load>, within above("0 kN", "2000 kN");
        /// How much load shortens leg and sleeve by one length.
        stiffness: Option<Stiffness>, within above("0 kN/mm", "10000 kN/mm");
        /// How far past its place the frame must be lifted to get the pin out and in.
        overlift: Option<Length>, within from("0 mm", "200 mm");
        /// When its leg is set: 1 for the first.
        order: Option<usize>, within from("1", "99");
        /// Racks and loads that keep its leg from moving, each with the placement in which it does: they come off before.
        blocked_by: Vec<BodyAt>;
    }
}

choice! {
    /// What a support is for.
    pub enum Does {
        /// It carries its share of the ride.
        Carries = "carries",
        /// It only steadies; no load is counted on it.
        Steadies = "steadies",
    }
}

choice! {
    /// What a foot is made of. Metal may not stand on metal in a stack.
    pub enum FootMaterial {
        /// Steel.
        Steel = "steel",
        /// Aluminium.
        Aluminium = "aluminium",
        /// Timber.
        Timber = "timber",
        /// Hard plastic.
        Plastic = "plastic",
        /// Rubber, or shod with rubber.
        Rubber = "rubber",
    }
}

variants! {
    /// How a leg is held.
    pub enum Holding by "by" {
        /// A pin through holes in leg and sleeve: a hole of the leg meets the hole of the sleeve.
        LegAndSleeve(Holes) = "leg-and-sleeve holes",
        /// Holes in the leg only; the pin rests on top of the sleeve, so that the leg cannot drop out.
        LegOnlyAbove(Holes) = "leg-only holes above the sleeve",
        /// Holes in the leg only; the pin bears from below on the underside of the sleeve, which stands on it.
        LegOnlyBelow(Holes) = "leg-only holes below the sleeve",
        /// A screw.
        Screw(Screw) = "screw",
    }
}

section! {
    /// A leg with a row of holes. Hole 1 is the shortest leg.
    pub struct Holes checked by draws_up {
        /// From the datum plane down to the underside of the foot with the pin in hole 1.
        first_hole: Length, within above("0 mm", "5 m");
        /// The distance from hole to hole.
        hole_pitch: Length, within above("0 mm", "500 mm");
        /// How many holes there are.
        hole_count: usize, within from("1", "100");
        /// From the datum plane down to the underside of the foot with the leg drawn right up.
        retracted_length: Option<Length>, within from("-2 m", "5 m");
        /// The diameter of the pin.
        pin_diameter: Option<Length>, within above("0 mm", "200 mm");
        /// The yield strength of the pin.
        pin_strength: Option<Pressure>, within above("0 N/mm2", "2000 N/mm2");
        /// The thickness of one wall of the leg.
        leg_wall: Option<Length>, within from("1 mm", "100 mm");
        /// The thickness of one wall of the sleeve.
        sleeve_wall: Option<Length>, within from("1 mm", "100 mm");
        /// The yield strength of leg and sleeve, the lower of the two.
        wall_strength: Option<Pressure>, within above("0 N/mm2", "2000 N/mm2");
        /// The gap between leg and sleeve on one side.
        pin_gap: Option<Length>, within from("0 mm", "100 mm");
    }
}

section! {
    /// A screw jack: any length between its shortest and its longest.
    pub struct Screw {
        /// From the datum plane down to the underside of the foot, screwed right in.
        retracted_length: Length, within above("0 mm", "5 m");
        /// How far it may be screwed out.
        travel: Length, within above("0 mm", "2 m");
        /// How far one turn moves it.
        thread_pitch: Option<Length>, within above("0 mm", "50 mm");
    }
}

impl Holding {
    /// The row of holes, unless it is a screw.
    pub fn holes(&self) -> Option<&Holes> {
        match self {
            Self::LegAndSleeve(holes) | Self::LegOnlyAbove(holes) | Self::LegOnlyBelow(holes) => Some(holes),
            Self::Screw(_) => None,
        }
    }
    /// From the datum plane to the underside of the foot, at the shortest the frame can stand on it.
    pub fn shortest(&self) -> Length {
        match self {
            Self::LegAndSleeve(holes) | Self::LegOnlyAbove(holes) | Self::LegOnlyBelow(holes) => {
                holes.first_hole
            }
            Self::Screw(screw) => screw.retracted_length,
        }
    }
}

/// A leg drawn right up is no longer than one pinned in its first hole.
fn draws_up(holes: &Holes, report: &mut Report) {
    if let Some(retracted) = holes.retracted_length
        && retracted > holes.first_hole
    {
        let message = "This leg is longer drawn right up than pinned in hole 1.";
        let help = "Hole 1 is the shortest leg; both are measured from the datum plane down.";
        report.error(holes.place.key("retracted-length"), Code::Disagreement, message, help);
    }
}

fn two_letters(name: &Option<String>, place: &Place, report: &mut Report) {
    let Some(name) = name else { return };
    if name.chars().count() != 2 || !name.chars().all(char::is_alphabetic) {
        let message = format!("`short` is \"{}\", and that is not two letters.", short(name));
        report.error(place.key("short"), Code::OutOfRange, message, "Write two letters, such as \"FL\".");
    }
}

/// At least three supports carry, no two stand in one place, and those that carry are not in line.
pub(super) fn enough(supports: &[Support], place: &Place, report: &mut Report) {
    for (at, support) in supports.iter().enumerate() {
        if let Some(first) = supports[..at].iter().find(|earlier| distance_m(earlier.at, support.at) < 0.01) {
            let message = format!(
                "Support \"{}\" stands where \"{}\" stands.",
                short(&support.name),
                short(&first.name)
            );
            report.error(
                support.place.key("at"),
                Code::Geometry,
                message,
                "Give each its own place, at least 10 mm apart.",
            );
        }
        if let Some(first) =
            supports[..at].iter().find(|earlier| earlier.order.is_some() && earlier.order == support.order)
        {
            let message = format!(
                "Support \"{}\" has the same `order` as \"{}\".",
                short(&support.name),
                short(&first.name)
            );
            report.error(
                support.place.key("order"),
                Code::Disagreement,
                message,
                "Legs are set one after the other: number them 1, 2, 3.",
            );
        }
    }
    let written = report.written_items(place.key("support"));
    let carrying: Vec<Point> = supports.iter().filter(|s| s.does == Does::Carries).map(|s| s.at).collect();
    let wrong = supports.len() < written;
    if carrying.len() < 3 && !wrong && !report.torn {
        let message = format!("A frame needs three supports that carry, and here are {}.", carrying.len());
        let help = "Write a `[[support]]` for each, with `name`, `at`, `does = \"carries\"` and `held`.";
        report.error(place.key("support"), Code::Missing, message, help);
    } else if !wrong && carrying.len() >= 3 && in_line(&carrying) {
        let message =
            "The supports that carry all stand in one line: nothing keeps the frame from tipping over it.";
        report.error(
            supports[0].place.key("at"),
            Code::Geometry,
            message,
            "At least one must stand 50 mm or more beside the line.",
        );
    }
}

fn distance_m(a: Point, b: Point) -> f64 {
    tober_quantity::maths::hypot((a.along - b.along).as_m(), (a.across - b.across).as_m())
}

/// Whether every point lies within 50 mm of the line through the two that are farthest apart.
fn in_line(points: &[Point]) -> bool {
    let mut ends = (points[0], points[0], 0.0);
    for (at, &a) in points.iter().enumerate() {
        for &b in &points[..at] {
            let apart = distance_m(a, b);
            if apart > ends.2 {
                ends = (a, b, apart);
            }
        }
    }
    let (a, b, apart) = ends;
    let beside = |p: &Point| {
        let (ux, uy) = ((b.along - a.along).as_m(), (b.across - a.across).as_m());
        let (vx, vy) = ((p.along - a.along).as_m(), (p.across - a.across).as_m());
        (ux * vy - uy * vx).abs() / apart.max(1e-9)
    };
    points.iter().all(|p| beside(p) < 0.05)
}

/// What keeps a leg from moving exists.
pub(super) fn blocked(supports: &[Support], report: &mut Report) {
    supports.iter().for_each(|support| super::body::bodies_at(&support.blocked_by, report));
}
