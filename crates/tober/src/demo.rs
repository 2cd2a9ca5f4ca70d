//! `tober demo`: needs nothing, writes the demo, plans it and says what to open.

use crate::plan::{ended, planned};
use crate::{Ended, Shape, files, phone, pictures, text};
use std::path::Path;

/// A ride of the demo, with what travels with it.
struct DemoRide {
    ride: &'static str,
    kit: &'static str,
    crew: &'static str,
}

/// One visit of the demo: its folder, whose ride it is, and the files that differ from visit to visit.
struct DemoVisit {
    folder: &'static str,
    of: &'static DemoRide,
    pitch: &'static str,
    visit: &'static str,
    /// Files of readings beside the pitch: rows that it names, and what scales said.
    readings: &'static [(&'static str, &'static str)],
    /// What to do with it next, where it leaves the chief something to decide.
    decide: Option<&'static str>,
}

const LANTERN: DemoRide = DemoRide {
    ride: include_str!("../../../demo/lantern/ride.toml"),
    kit: include_str!("../../../demo/lantern/kit.toml"),
    crew: include_str!("../../../demo/lantern/crew.toml"),
};

const OSIER: DemoRide = DemoRide {
    ride: include_str!("../../../demo/osier/ride.toml"),
    kit: include_str!("../../../demo/osier/kit.toml"),
    crew: include_str!("../../../demo/osier/crew.toml"),
};

const VISITS: [DemoVisit; 4] = [
    DemoVisit {
        folder: "plover-hard",
        of: &LANTERN,
        pitch: include_str!("../../../demo/lantern/plover-hard/pitch.toml"),
        visit: include_str!("../../../demo/lantern/plover-hard/visit.toml"),
        readings: &[],
        decide: None,
    },
    DemoVisit {
        folder: "quern-meadow",
        of: &LANTERN,
        pitch: include_str!("../../../demo/lantern/quern-meadow/pitch.toml"),
        visit: include_str!("../../../demo/lantern/quern-meadow/visit.toml"),
        readings: &[
            ("tape.csv", include_str!("../../../demo/lantern/quern-meadow/tape.csv")),
            ("frame.toml", include_str!("../../../demo/lantern/quern-meadow/frame.toml")),
            ("weighing.toml", include_str!("../../../demo/lantern/weighing.toml")),
            ("weighing.csv", include_str!("../../../demo/lantern/weighing.csv")),
        ],
        decide: None,
    },
    DemoVisit {
        folder: "kestrel-yard",
        of: &OSIER,
        pitch: include_str!("../../../demo/osier/kestrel-yard/pitch.toml"),
        visit: include_str!("../../../demo/osier/kestrel-yard/visit.toml"),
        readings: &[],
        decide: None,
    },
    DemoVisit {
        folder: "sallow-green",
        of: &OSIER,
        pitch: include_str!("../../../demo/osier/sallow-green/pitch.toml"),
        visit: include_str!("../../../demo/osier/sallow-green/visit.toml"),
        readings: &[("staff.csv", include_str!("../../../demo/osier/sallow-green/staff.csv"))],
        decide: Some("a foot over a filled trench: what the chief can do"),
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
            ("ride.toml", visit.of.ride),
            ("kit.toml", visit.of.kit),
            ("crew.toml", visit.of.crew),
            ("pitch.toml", visit.pitch),
            ("visit.toml", visit.visit),
        ];
        for (name, contents) in parts.into_iter().chain(visit.readings.iter().copied()) {
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
        files::print_in(plan.units, plan.words, &text::plan(&plan, false));
        files::print("\n");
        match pictures::write(&plan, &place.join("drawings"), false) {
            Ok(written) => {
                let more = written.len().saturating_sub(1);
                let what = format!("{}, drawn; {more} more beside it", visit.folder);
                open.extend(written.first().map(|first| (what, first.clone())));
            }
            Err(sentence) => files::tell(&sentence),
        }
        let phone = place.join("phone.html");
        match phone::page(&place)
            .and_then(|page| files::write(&phone, page.as_bytes()).map_err(|said| vec![said]))
        {
            Ok(()) => open.push((format!("{}, on one phone", visit.folder), phone.display().to_string())),
            Err(sentences) => sentences.iter().for_each(|sentence| files::tell(sentence)),
        }
        #[cfg(feature = "pdf")]
        if visit.folder == PRINTED {
            print(&place, &mut open);
        }
        let _ = ended(&plan);
        if let Some(decide) = visit.decide {
            open.push((decide.to_owned(), place.join("visit.toml").display().to_string()));
        }
    }
    files::print(&format!(
        "The demo is in {}. All of it is invented.\n\nTo look at next:\n",
        folder.display()
    ));
    let hard = folder.join(VISITS[1].folder).display().to_string();
    let more = [
        ("all of it on one phone", format!("tober phone {} -o all.html", folder.display())),
        ("every step with its picture, and questions", format!("tober rehearse {hard} -o learn.html")),
        ("how each number was obtained", format!("tober plan {hard} --working")),
        ("the frame once it is down: the least change", format!("tober trim {hard}")),
        ("masses from scales", format!("tober weigh {hard} {hard}")),
        ("change a reading, and plan again", Path::new(&hard).join("pitch.toml").display().to_string()),
    ];
    open.extend(more.map(|(what, how)| (what.to_owned(), how)));
    let wide = open.iter().map(|(what, _)| what.chars().count()).max().unwrap_or(0);
    for (what, how) in open {
        files::print(&format!("  {what:wide$}  {how}\n"));
    }
    Ended::Inside
}

/// The visit of the demo that is printed: the one with the most to say.
#[cfg(feature = "pdf")]
const PRINTED: &str = "quern-meadow";

/// Prints a visit of the demo.
#[cfg(feature = "pdf")]
fn print(place: &Path, open: &mut Vec<(String, String)>) {
    let sheets = place.join("sheets.pdf");
    match crate::sheets::of_demo(place, &sheets) {
        Ok(pages) => open.push((format!("{PRINTED}, on paper, {pages} pages"), sheets.display().to_string())),
        Err(sentence) => files::tell(&sentence),
    }
}
