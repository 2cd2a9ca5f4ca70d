//! The base: the convex hull of the contacts, and its edges.

use super::error::{StabilityError, counted};
use super::ride::{Contact, check_place};
use tober_quantity::{Length, Quantity, maths};

/// The narrowest base that counts as one.
const WIDTH_LEAST_M: f64 = 0.05;
/// Contacts nearer to each other than this are one.
const APART_LEAST_M: f64 = 0.001;

/// An edge of the base, anticlockwise: the base lies to its left.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Edge {
    pub from: String,
    pub to: String,
    /// Unit vector into the base.
    pub inward: (f64, f64),
    /// Inward distance of the origin, in m.
    pub origin_m: f64,
    /// Height of the lower of its two ends, in m: from it forces have the longer lever.
    pub height_m: f64,
}

impl Edge {
    /// How far inside the edge a place is, in m; negative outside.
    pub fn inside_m(&self, x_m: f64, y_m: f64) -> f64 {
        self.origin_m + self.inward.0 * x_m + self.inward.1 * y_m
    }
}

/// The edges of the hull of the contacts.
pub(super) fn edges(contacts: &[Contact]) -> Result<Vec<Edge>, StabilityError> {
    counted("contacts with the ground", contacts.len(), 3, 1000)?;
    for contact in contacts {
        check_place(&contact.name, contact.x, contact.y, Some(contact.z))?;
    }
    let mut order: Vec<&Contact> = contacts.iter().collect();
    order.sort_by(|a, b| a.x.si().total_cmp(&b.x.si()).then(a.y.si().total_cmp(&b.y.si())));
    for (index, first) in order.iter().enumerate() {
        let near = |other: &&&Contact| (other.x - first.x).si() <= APART_LEAST_M;
        for second in order[index + 1..].iter().take_while(near) {
            if maths::hypot((second.x - first.x).si(), (second.y - first.y).si()) < APART_LEAST_M {
                return Err(StabilityError::SamePlace {
                    first: first.name.clone(),
                    second: second.name.clone(),
                });
            }
        }
    }
    let mut corners = half(order.iter().copied());
    corners.pop();
    let mut upper = half(order.iter().rev().copied());
    upper.pop();
    corners.append(&mut upper);

    let next = |index: usize| corners[(index + 1) % corners.len()];
    let edges: Vec<Edge> =
        corners.iter().enumerate().map(|(index, corner)| edge(corner, next(index))).collect();
    // The width of a hull is least square to one of its edges.
    let width = |edge: &Edge| {
        corners.iter().map(|corner| edge.inside_m(corner.x.si(), corner.y.si())).fold(0.0, f64::max)
    };
    let width_m = edges.iter().map(width).fold(f64::INFINITY, f64::min);
    if width_m < WIDTH_LEAST_M || edges.len() < 3 {
        let width_m = if edges.len() < 3 { 0.0 } else { width_m };
        return Err(StabilityError::OneLine {
            width: Length::m(width_m).amount(),
            least: Length::m(WIDTH_LEAST_M).amount(),
        });
    }
    Ok(edges)
}

/// One chain of the hull, by Andrew's monotone chain. Contacts on a straight side are left out.
fn half<'a>(order: impl Iterator<Item = &'a Contact>) -> Vec<&'a Contact> {
    let mut chain: Vec<&Contact> = Vec::new();
    for contact in order {
        while let [.., before, last] = chain[..] {
            if turn_m2(before, last, contact) > 0.0 {
                break;
            }
            chain.pop();
        }
        chain.push(contact);
    }
    chain
}

/// Twice the area of the triangle, positive if it turns left.
fn turn_m2(a: &Contact, b: &Contact, c: &Contact) -> f64 {
    let (ux, uy) = ((b.x - a.x).si(), (b.y - a.y).si());
    let (vx, vy) = ((c.x - a.x).si(), (c.y - a.y).si());
    ux * vy - uy * vx
}

fn edge(from: &Contact, to: &Contact) -> Edge {
    let (dx, dy) = ((to.x - from.x).si(), (to.y - from.y).si());
    let length_m = maths::hypot(dx, dy);
    let inward = (-dy / length_m, dx / length_m);
    Edge {
        from: from.name.clone(),
        to: to.name.clone(),
        inward,
        origin_m: -(inward.0 * from.x.si() + inward.1 * from.y.si()),
        height_m: from.z.si().min(to.z.si()),
    }
}
