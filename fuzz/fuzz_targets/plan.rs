//! A demo visit with one of its files spoiled: a plan or complaints, never a panic.
//!
//! The spoiled text stands in for the ride book, the kit, the pitch and the visit in turn; where it can
//! be read as that file, the visit is planned with it.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tober_book::{Source, parse_kit, parse_pitch, parse_ride, parse_visit};
use tober_plan::{Books, plan};

const RIDE: &str = include_str!("../../demo/lantern/ride.toml");
const KIT: &str = include_str!("../../demo/lantern/kit.toml");
const PITCH: &str = include_str!("../../demo/lantern/quern-meadow/pitch.toml");
const VISIT: &str = include_str!("../../demo/lantern/quern-meadow/visit.toml");

fn plan_of(texts: [&str; 4]) {
    let ride = parse_ride(&Source::new("ride.toml", texts[0])).value;
    let kit = parse_kit(&Source::new("kit.toml", texts[1])).value;
    let pitch = parse_pitch(&Source::new("pitch.toml", texts[2])).value;
    let visit = parse_visit(&Source::new("visit.toml", texts[3])).value;
    if let (Some(ride), Some(kit), Some(pitch), Some(visit)) = (&ride, &kit, &pitch, &visit) {
        let plan = plan(Books { ride, kit, pitch, visit });
        assert!(!tober_wire::plan::plan(&plan).is_null());
    }
}

fuzz_target!(|text: &str| {
    for spoiled in 0..4 {
        let mut texts = [RIDE, KIT, PITCH, VISIT];
        texts[spoiled] = text;
        plan_of(texts);
    }
});
