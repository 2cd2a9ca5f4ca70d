//! Cases worked by hand on the demo's hard pitch.

use crate::books::{Texts, quern_meadow};
use tober_book::{
    Kit, Pitch, Ride, Source, Visit, parse_kit, parse_pitch, parse_ride, parse_visit, with_rows,
};
use tober_calc::finding::Standing;
use tober_plan::{Books, Foot, FrameRead, FrameWay, Plan, Stood, Trim, plan};
use tober_quantity::Length;

pub struct Read {
    ride: Ride,
    kit: Kit,
    pitch: Pitch,
    visit: Visit,
}

impl Read {
    pub fn of(texts: &Texts) -> Self {
        let mut pitch = parse_pitch(&Source::new("pitch.toml", &texts.pitch));
        if let Some(rows) = &texts.rows {
            pitch = with_rows(pitch, &Source::new("tape.csv", rows));
        }
        Self {
            ride: parse_ride(&Source::new("ride.toml", &texts.ride)).value.expect("a ride"),
            kit: parse_kit(&Source::new("kit.toml", &texts.kit)).value.expect("a kit"),
            pitch: pitch.value.expect("a pitch"),
            visit: parse_visit(&Source::new("visit.toml", &texts.visit)).value.expect("a visit"),
        }
    }
    pub fn books(&self) -> Books<'_> {
        Books { ride: &self.ride, kit: &self.kit, pitch: &self.pitch, visit: &self.visit }
    }
}

pub fn heights(read: &[(&str, f64, Option<f64>)]) -> FrameRead {
    let at = read.iter().map(|(leg, mm, _)| ((*leg).to_owned(), Length::mm(*mm))).collect();
    let foot = |gap: Option<f64>| gap.map_or(Foot::Snug, |gap| Foot::Light { gap: Some(Length::mm(gap)) });
    let feet = read.iter().map(|(leg, _, gap)| ((*leg).to_owned(), foot(*gap))).collect();
    FrameRead { way: FrameWay::Heights { at, deviation: Some(Length::ZERO) }, feet }
}

fn told(plan: &Plan, read: &FrameRead, books: &Read) -> Trim {
    tober_plan::trim(books.books(), plan, &Stood::of(plan), read).expect("a trim")
}

/// Rear right stands in hole 3 on mat + 50 + ply 12 + 25 and has sunk: 637 with a gap of 6, so its top is at 631. The
/// others lie within 2 either way of 644, so it wants up by 10 to 16 with the frame level, and a little more
/// or less with the frame tilted. A hole is 40 and the boards are 73, 48, 24, 12 and 38, so 24 and 12 out and 48 in, up 12, is
/// the first that serves: two off, one on. Nothing with fewer boards handled gives 10 to 18: one off leaves the
/// ply on top, which is not allowed; one on is 24 or more, and with a hole up 24 - 40, 38 - 40, 48 - 40 = 8, 73 - 40 = 33.
#[test]
fn hand_rear_right_sunk_on_the_hard_pitch() {
    let books = Read::of(&quern_meadow());
    let plan = plan(books.books());
    let read = heights(&[
        ("front left", 643.0, None),
        ("middle left", 645.0, None),
        ("rear left", 645.0, None),
        ("front right", 646.0, None),
        ("middle right", 642.0, None),
        ("rear right", 637.0, Some(6.0)),
    ]);
    let trim = told(&plan, &read, &books);
    assert_eq!(trim.standing, Standing::PastLimit);
    assert_eq!(trim.proof, "Proved least.");
    let [change] = trim.change.as_slice() else { panic!("one leg changes") };
    assert_eq!(change.words, "Rear right: take out the 25 and the ply 12, put in one 50.");
    assert_eq!(
        change.sum.replace('\u{202f}', " "),
        "Board 25 out, −24; board ply 12 out, −12; board 50 in, +48: up 12 mm."
    );
    assert_eq!(change.handled, 3);
    assert!(change.steps[0].contains("Hands never under the foot"));
    let after = trim.after.expect("it says how it will stand");
    assert_eq!(after.standing, Standing::Close);
    // Once it is done and read as worked out, nothing has to change any more.
    let again: Vec<(&str, f64, Option<f64>)> = after
        .legs
        .iter()
        .map(|leg| (leg.name.as_str(), leg.height.expect("a height").as_mm(), None))
        .collect();
    let then = tober_plan::trim(books.books(), &plan, &trim.stood, &heights(&again)).expect("a trim");
    assert_eq!((then.standing, then.change.len()), (Standing::Close, 0));
    assert_eq!(then.proof, "Proved: nothing has to change.");
}
