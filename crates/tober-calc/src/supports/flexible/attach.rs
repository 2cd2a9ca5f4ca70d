//! Puts points on a frame: what stands under it or bears on it acts at a point of a beam.

use super::error::BeamsError;
use super::{Beams, Spot};
use tober_quantity::{Length, Quantity, maths::hypot};

/// A point nearer to a node than this is at the node.
const AT_NODE_M: f64 = 5e-3;

/// A point put on the frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Attached {
    /// The node, which was there or has been put in.
    pub node: usize,
    /// How far the point is from it in plan.
    pub away: Length,
}

/// Puts a point on the nearest place of the frame: a node, or a new one that parts a member in two.
///
/// A member parted so bends as it did before. `what` and `which` name the point in a refusal: "Support", 2.
///
/// # Errors
/// Refuses a point that is farther than `most` from every beam, and a frame without beams.
pub fn attach(
    beams: &mut Beams,
    spot: Spot,
    most: Length,
    what: &'static str,
    which: usize,
) -> Result<Attached, BeamsError> {
    let to = |at: Spot| hypot((at.x - spot.x).si(), (at.y - spot.y).si());
    let mut best: Option<(f64, usize, f64)> = None;
    for (m, member) in beams.members.iter().enumerate() {
        let (Some(&a), Some(&b)) = (beams.nodes.get(member.from), beams.nodes.get(member.to)) else {
            continue;
        };
        let (dx, dy) = ((b.x - a.x).si(), (b.y - a.y).si());
        let long = dx * dx + dy * dy;
        if long <= 0.0 {
            continue;
        }
        let along = ((spot.x - a.x).si() * dx + (spot.y - a.y).si() * dy) / long;
        let share = along.clamp(0.0, 1.0);
        let away = to(between(a, b, share));
        if best.is_none_or(|(least, ..)| away < least) {
            best = Some((away, m, share));
        }
    }
    let Some((away, m, share)) = best.filter(|(away, ..)| *away <= most.si()) else {
        let away = best.map_or(Length::m(f64::INFINITY), |(away, ..)| Length::m(away));
        return Err(BeamsError::TooFar { what, which, away, most });
    };
    let member = beams.members[m];
    let (a, b) = (beams.nodes[member.from], beams.nodes[member.to]);
    let at = between(a, b, share);
    let near = |node: Spot| hypot((node.x - at.x).si(), (node.y - at.y).si()) <= AT_NODE_M;
    let node = if near(a) {
        member.from
    } else if near(b) {
        member.to
    } else {
        beams.nodes.push(at);
        let new = beams.nodes.len() - 1;
        beams.members[m].to = new;
        beams.members.push(super::Beam { from: new, ..member });
        new
    };
    Ok(Attached {
        node,
        away: Length::m(if node + 1 == beams.nodes.len() { away } else { to(beams.nodes[node]) }),
    })
}

fn between(a: Spot, b: Spot, share: f64) -> Spot {
    Spot { x: a.x + (b.x - a.x) * share, y: a.y + (b.y - a.y) * share }
}
