//! Notes, leaders and labels keep apart, whatever stands on the plan.

use super::*;
use crate::place::along;
use invented::{four_screws, many_legs, six_legs};

#[path = "../../tests/invented/mod.rs"]
mod invented;

const BOTH: [Orientation; 2] = [Orientation::Portrait, Orientation::Landscape];

fn plans() -> Vec<Plan> {
    let mut plans = vec![six_legs(), four_screws()];
    plans.extend((3..=24).map(many_legs));
    plans
}

#[test]
fn law_every_leg_has_one_note_and_no_two_notes_overlap() {
    for plan in plans() {
        for orientation in BOTH {
            let (_, notes) = compose(&plan, orientation, None);
            let named: BTreeSet<usize> = notes.iter().map(|note| note.index).collect();
            assert_eq!((notes.len(), named.len()), (plan.legs.len(), plan.legs.len()));
            for (i, one) in notes.iter().enumerate() {
                for other in &notes[i + 1..] {
                    let both = (one.index, other.index);
                    assert!(!one.area.overlaps(other.area), "{} {orientation:?} {both:?}", plan.legs.len());
                }
            }
        }
    }
}

#[test]
fn law_no_leader_passes_under_a_note() {
    for plan in plans() {
        for orientation in BOTH {
            let (_, notes) = compose(&plan, orientation, None);
            for note in &notes {
                for spot in note.leader.windows(2).flat_map(|pair| along(pair[0], pair[1])) {
                    let under = notes.iter().find(|other| other.area.inset(0.5).holds_point(spot.middle()));
                    let count = plan.legs.len();
                    assert!(
                        under.is_none(),
                        "{count} {orientation:?}: leader of {} passes under {under:?}",
                        note.index
                    );
                }
            }
        }
    }
}

#[test]
fn law_no_two_labels_overlap() {
    for plan in plans() {
        for orientation in BOTH {
            let (sheet, _) = compose(&plan, orientation, None);
            for (i, (one, words)) in sheet.labels.iter().enumerate() {
                for (other, other_words) in &sheet.labels[i + 1..] {
                    assert!(
                        one.inset(0.5).shared(other.inset(0.5)) <= 0.0,
                        "{} legs, {orientation:?}: \"{words}\" lies on \"{other_words}\"",
                        plan.legs.len()
                    );
                }
            }
        }
    }
}

#[test]
fn law_labels_of_stacks_keep_apart() {
    for plan in plans() {
        for leg in &plan.legs {
            let sheet = crate::stack::compose(Figures::of(&plan), leg, "stack");
            for (i, (one, words)) in sheet.labels.iter().enumerate() {
                for (other, other_words) in &sheet.labels[i + 1..] {
                    let shared = one.inset(0.5).shared(other.inset(0.5));
                    assert!(shared <= 0.0, "{}: \"{words}\" lies on \"{other_words}\"", leg.name);
                }
            }
        }
    }
}

/// `hand_`: six columns of 100 and four rows of 50; (350, 120) is in the fourth column, third row.
#[test]
fn hand_a_zone_is_named_by_column_and_row() {
    let inner = Area { x: 0.0, y: 0.0, width: 600.0, height: 200.0 };
    assert_eq!(zone(Orientation::Landscape, inner, (350.0, 120.0)), "4R");
    assert_eq!(zone(Orientation::Landscape, inner, (-5.0, 900.0)), "1S");
    assert_eq!(zone(Orientation::Portrait, inner, (599.0, 0.0)), "4P");
}

/// The front is at the left of a landscape sheet with the left side of the ride below, and at the top of
/// a portrait one with the left side at the left: turned, never mirrored.
#[test]
fn law_neither_sheet_is_a_mirror_image() {
    for orientation in BOTH {
        let view = View::of(&six_legs(), orientation, (700.0, 300.0));
        let at = |x: f64, y: f64| view.place(tober_quantity::Length::m(x), tober_quantity::Length::m(y));
        let (origin, front, left) = (at(0.0, 0.0), at(1.0, 0.0), at(0.0, 1.0));
        let (fx, fy) = (front.0 - origin.0, front.1 - origin.1);
        let (lx, ly) = (left.0 - origin.0, left.1 - origin.1);
        // On paper, whose second axis points down, turning anticlockwise from front to left is negative.
        assert!(fx * ly - fy * lx < 0.0, "{orientation:?}");
    }
}
