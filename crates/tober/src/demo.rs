//! `tober demo`: needs nothing, writes the demo, plans it and says what to open.

use crate::plan::{ended, planned};
use crate::{Ended, Shape, files, phone, pictures, text};
use std::path::Path;

/// One visit of the demo: its folder and the files that differ from visit to visit.
struct DemoVisit {
    folder: &'static str,
    pitch: &'static str,
    visit: &'static str,
    /// A file of readings beside the pitch, where it names one.
    rows: Option<(&'static str, &'static str)>,
}

const RIDE: &str = include_str!("../../../demo/lantern/ride.toml");
const KIT: &str = include_str!("../../../demo/lantern/kit.toml");
const CREW: &str = include_str!("../../../demo/lantern/crew.toml");

const VISITS: [DemoVisit; 2] = [
    DemoVisit {
        folder: "plover-hard",
        pitch: include_str!("../../../demo/lantern/plover-hard/pitch.toml"),
        visit: include_str!("../../../demo/lantern/plover-hard/visit.toml"),
        rows: None,
    },
    DemoVisit {
        folder: "quern-meadow",
        pitch: include_str!("../../../demo/lantern/quern-meadow/pitch.toml"),
        visit: include_str!("../../../demo/lantern/quern-meadow/visit.toml"),
        rows: Some(("tape.csv", include_str!("../../../demo/lantern/quern-meadow/tape.csv"))),
    },
];

/// Writes the demo into a folder, plans its visits, prints the plans and says what to open.
///
/// It ends well whatever the plans say: a demo pitch that is past a limit is there to be looked at.
pub fn demo(folder: &Path) -> Ended {
    let shape = Shape { json: false, working: false, units: None, words: None };
    let mut open = Vec::new();
    for visit in &VISITS {
        let place = folder.join(visit.folder);
        let parts = [
            ("ride.toml", RIDE),
            ("kit.toml", KIT),
            ("crew.toml", CREW),
            ("pitch.toml", visit.pitch),
            ("visit.toml", visit.visit),
        ];
        for (name, contents) in parts.into_iter().chain(visit.rows) {
            let path = place.join(name);
            match files::write_or_keep(&path, contents.as_bytes()) {
                Ok(false) => {}
                Ok(true) => files::tell(&format!(
                    "{} differs from the demo's own and is kept. Move it away to have the demo's own.",
                    path.display()
                )),
                Err(sentence) => {
                    files::tell(&sentence);
                    return Ended::WrongInput;
                }
            }
        }
        let plan = match planned(&place, shape) {
            Ok(plan) => plan,
            Err(ended) => return ended,
        };
        files::print(&text::plan(&plan, false));
        files::print("\n");
        match pictures::write(&plan, &place.join("drawings"), false) {
            Ok(written) => open.extend(written),
            Err(sentence) => files::tell(&sentence),
        }
        let phone = place.join("phone.html");
        match phone::page(&place)
            .and_then(|page| files::write(&phone, page.as_bytes()).map_err(|said| vec![said]))
        {
            Ok(()) => open.push(format!("{}      the same on one phone", phone.display())),
            Err(sentences) => sentences.iter().for_each(|sentence| files::tell(sentence)),
        }
        let _ = ended(&plan);
    }
    files::print(&format!(
        "The demo is in {}. All of it is invented.\n\nTo look at next:\n",
        folder.display()
    ));
    for path in open {
        files::print(&format!("  {path}\n"));
    }
    let hard = folder.join(VISITS[1].folder);
    files::print(&format!(
        "  tober plan {} --working      how each number was obtained\n  {}      change a reading and plan again\n",
        hard.display(),
        hard.join("pitch.toml").display()
    ));
    Ended::Inside
}
