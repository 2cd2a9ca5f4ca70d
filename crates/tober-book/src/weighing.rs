//! What was read on scales: `weighing.toml`, beside the ride book.

use crate::nearest::nearest;
use crate::pitch::rows;
use crate::report::{Node, Report, any_tables, as_read, parse, quoted, short};
use crate::section::{choice, section};
use crate::table::{Group, Key, Kind, above};
use crate::value::Value;
use crate::{Code, Date, Diagnostic, Load, Parsed, Place, Point, Ride, Source};
use tober_quantity::Length;
use toml::de::DeValue;

section! {
    /// What was read on scales, and how the ride stood on them.
    pub struct Weighing checked by readings_once {
        /// The format of the file; this version reads 0.
        format: usize, within crate::table::from("0", "0");
        /// The weighing as a whole.
        about as "weighing": AboutWeighing;
        /// How the ride stood, each way once.
        states as "state": Vec<StoodState>;
        /// What the scales said.
        readings as "reading": Vec<ScaleReading>;
    }
}

section! {
    /// The weighing as a whole.
    pub struct AboutWeighing {
        /// The standard deviation of one reading, where the reading does not say its own: half a division of the scale at
        /// the least.
        deviation: Load, within above("0 kN", "500 kN");
        /// A file of readings beside this one, with the columns state, on, load and deviation.
        file: Option<String>, then file_in_folder;
        /// When it was weighed.
        measured: Option<Date>;
        /// With what it was weighed.
        with: Option<String>;
        /// The tag of who read it.
        by: Option<String>;
        /// For invented data: the sentence that says so. It prints on every sheet.
        invented: Option<String>;
    }
}

section! {
    /// The ride as it stood while it was weighed.
    pub struct StoodState {
        /// What it is called.
        name: String, link defines State;
        /// On what it stood.
        stands: StandsOn;
        /// The placement in which every body was, where `body` does not say another: "road", "open". Until it is written,
        /// where they were is not known, and only a scale under everything says something.
        placement: Option<String>;
        /// The bodies that were there, where not all were.
        only: Vec<String>, link refers Body;
        /// Bodies that were not there.
        without: Vec<String>, link refers Body;
        /// Bodies that were in another placement.
        bodies as "body": Vec<StoodBody>;
        /// Whether its axles share their load evenly, as those with an equalising beam do. Not known unless written.
        axles_even: Option<bool>;
    }
}

section! {
    /// A body in a placement that is not the others'.
    pub struct StoodBody {
        /// The body.
        body: String, link refers Body;
        /// Its placement.
        placement: String;
    }
}

choice! {
    /// On what the ride stood while it was weighed.
    pub enum StandsOn {
        /// On its supports, its wheels clear of the ground.
        Legs = "legs",
        /// On its wheels and its hitch.
        WheelsAndHitch = "wheels and hitch",
        /// On its wheels and its hitch jack.
        WheelsAndHitchJack = "wheels and hitch jack",
        /// All of it on one scale.
        Scale = "one scale",
    }
}

section! {
    /// What one scale said.
    pub struct ScaleReading {
        /// How the ride stood: the name of a state.
        state: String, link refers State;
        /// What was on the scale: "everything", the names of supports, "hitch", "hitch jack", "axle 1", "axle 1 left", "axles",
        /// "left wheels" or "right wheels"; several as a list, or parted by +. Axles count from the front.
        on: Places;
        /// What the scale said.
        load: Load, within crate::table::from("0 kN", "5000 kN");
        /// The standard deviation of that.
        deviation: Option<Load>, within above("0 kN", "500 kN");
    }
}

/// What was on a scale, by name.
#[derive(Clone, Debug, PartialEq)]
pub struct Places(pub Vec<String>);

impl Places {
    /// A scale under all there was.
    pub const EVERYTHING: &'static str = "everything";
    /// Whether everything was on the scale.
    pub fn is_everything(&self) -> bool {
        self.0.iter().any(|name| name == Self::EVERYTHING)
    }
}

impl Value for Places {
    const KIND: Kind = Kind::Repeated(&Kind::Text);
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        let names = match value.value {
            DeValue::Array(items) if items.is_empty() => {
                report.wrong_kind(value, key);
                return None;
            }
            DeValue::Array(_) => Vec::<String>::read(value, key, report)?,
            _ => String::read(value, key, report)?.split('+').map(|name| name.trim().to_owned()).collect(),
        };
        if names.iter().any(|name| name.trim().is_empty()) {
            let help = "Name what stood on the scale, several parted by +.";
            report.error(value.span, Code::OutOfRange, "A name of this list is empty.", help);
            return None;
        }
        Some(Self(names))
    }
}

fn file_in_folder(name: &Option<String>, place: &Place, report: &mut Report) {
    if let Some(name) = name {
        crate::visit::in_folder(name, "file", place, report);
    }
}

/// Readings stand here or in a file of their own, not in both.
fn readings_once(weighing: &Weighing, report: &mut Report) {
    if weighing.about.file.is_some() && weighing.place.has("reading") {
        let message = "There are readings here and in a file: which are to be used?";
        let help = "Leave out `file`, or every `reading`.";
        report.error(weighing.about.place.key("file"), Code::Disagreement, message, help);
    }
}

/// Reads a weighing. The bodies it names are looked for in the ride book by [`weighing_disagreements`].
pub fn parse_weighing(source: &Source) -> Parsed<Weighing> {
    parse(source, &[Group::Body], any_tables, as_read)
}

/// Reads a file of readings of scales, with the columns state, on, load and deviation.
pub fn parse_scale_rows(source: &Source) -> Parsed<Vec<ScaleReading>> {
    let mut report = Report::new(source);
    let rows = rows::rows::<ScaleReading>(&mut report);
    report.resolve(&[Group::State]);
    report.finish(Some(rows))
}

/// The weighing with the readings of the file it names, which the caller has opened.
///
/// A weighing that has errors of its own, or names no file, stays as it is.
pub fn with_scale_rows(mut weighing: Parsed<Weighing>, rows: &Source) -> Parsed<Weighing> {
    let Some(value) = weighing.value.as_mut().filter(|value| value.about.file.is_some()) else {
        return weighing;
    };
    let mut read = parse_scale_rows(rows);
    value.readings = read.value.unwrap_or_default();
    // The states that the rows name are in the weighing itself.
    let names = crate::names::Names::of(&weighing.names);
    for used in &read.references {
        if let Some((message, help)) = names.unresolved(used, read.diagnostics.len() < 200) {
            read.diagnostics.push(Diagnostic::new(&used.source, used.span, Code::UnknownName, message, help));
        }
    }
    if !read.diagnostics.is_empty() {
        weighing.value = None;
    }
    weighing.diagnostics.append(&mut read.diagnostics);
    weighing
}

/// What carries a ride while it is weighed: each support with its place, and those that stand on one scale by one name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Carriers {
    /// Each by itself.
    pub each: Vec<(String, Point)>,
    /// Several by one name.
    pub groups: Vec<(String, Vec<String>)>,
}

impl Carriers {
    /// What carries a ride that stands so, as far as the ride book says; nothing on one scale.
    ///
    /// Axles count from the front. Those that share evenly count as one, midway between them.
    pub fn of(ride: &Ride, stands: StandsOn, axles_even: Option<bool>) -> Self {
        let mut found = Self::default();
        let hitch = ride.frame.hitch.as_ref();
        let front = match stands {
            StandsOn::Scale => return found,
            StandsOn::Legs => {
                let carries = ride.supports.iter().filter(|support| support.does == crate::Does::Carries);
                found.each = carries.map(|support| (support.name.clone(), support.at)).collect();
                return found;
            }
            StandsOn::WheelsAndHitch => hitch.map(|hitch| ("hitch", hitch.at)),
            StandsOn::WheelsAndHitchJack => hitch.and_then(|hitch| Some(("hitch jack", hitch.jack_at?))),
        };
        // What is not all there would carry what it does not.
        let Some((name, at)) = front.filter(|_| !ride.frame.axles.is_empty()) else { return found };
        found.each.push((name.to_owned(), at));
        let mut axles: Vec<(Length, Length)> = ride.frame.axles.iter().map(|a| (a.at, a.track)).collect();
        axles.sort_by(|a, b| b.0.as_m().total_cmp(&a.0.as_m()));
        let count = axles.len();
        if count > 1 && axles_even == Some(true) {
            let mean = |of: fn(&(Length, Length)) -> Length| {
                axles.iter().map(of).fold(Length::ZERO, |sum, one| sum + one) / count as f64
            };
            axles = vec![(mean(|axle| axle.0), mean(|axle| axle.1))];
        }
        let (mut left, mut right) = (Vec::new(), Vec::new());
        for (number, (along, track)) in axles.iter().enumerate() {
            let axle = if axles.len() < count { "axles".to_owned() } else { format!("axle {}", number + 1) };
            for (hand, side, names) in
                [("left", *track / 2.0, &mut left), ("right", -*track / 2.0, &mut right)]
            {
                let name = format!("{axle} {hand}");
                found.each.push((name.clone(), Point { along: *along, across: side }));
                names.push(name);
            }
            if axle != "axles" {
                found.groups.push((axle.clone(), vec![format!("{axle} left"), format!("{axle} right")]));
            }
        }
        found.groups.push(("axles".into(), left.iter().chain(&right).cloned().collect()));
        found.groups.push(("left wheels".into(), left));
        found.groups.push(("right wheels".into(), right));
        found
    }
    /// Every name that a scale can be under.
    pub fn names(&self) -> Vec<&str> {
        let each = self.each.iter().map(|(name, _)| name.as_str());
        let groups = self.groups.iter().map(|(name, _)| name.as_str());
        core::iter::once(Places::EVERYTHING).chain(each).chain(groups).collect()
    }
}

/// What is wrong between a weighing and the ride book: bodies and placements that the book has not, and scales under
/// what did not carry.
pub fn weighing_disagreements(weighing: &Parsed<Weighing>, ride: &Parsed<Ride>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    crate::agree::look(weighing, Group::Body, ride, &mut found);
    let (Some(read), Some(book)) = (&weighing.value, &ride.value) else { return found };
    let mut wrong = |span, message, help| {
        found.push(Diagnostic::new(&weighing.source, span, Code::UnknownName, message, help));
    };
    for state in &read.states {
        for placed in &state.bodies {
            let Some(body) = book.body(&placed.body) else { continue };
            if body.placement(&placed.placement).is_none() {
                let names: Vec<&str> = body.placements.iter().map(|p| p.name.as_str()).collect();
                let message =
                    format!("\"{}\" has no placement \"{}\".", short(&body.name), short(&placed.placement));
                let help = match names.as_slice() {
                    [] => "Write its placements in the ride book.".to_owned(),
                    names => format!("It has {}.", quoted(names)),
                };
                wrong(placed.place.key("placement"), message, help);
            }
        }
    }
    for reading in &read.readings {
        let Some(state) = read.states.iter().find(|state| state.name == reading.state) else { continue };
        let carriers = Carriers::of(book, state.stands, state.axles_even);
        let known = carriers.names();
        for name in reading.on.0.iter().filter(|name| !known.contains(&name.as_str())) {
            let message =
                format!("Nothing called \"{}\" carries the ride in \"{}\".", short(name), short(&state.name));
            let help = match nearest(name, &known) {
                Some(near) => format!("Did you mean \"{near}\"?"),
                None if known.len() == 1 && state.stands != StandsOn::Scale => {
                    "The ride book has no hitch with its place, or no axle; write them there.".to_owned()
                }
                None => format!("A scale can be under {}.", quoted(&known)),
            };
            // Rows of a file are told by their reading; their places are in another text.
            let here = read.about.file.is_none();
            let span = if here { reading.place.key("on") } else { read.about.place.key("file") };
            wrong(span, message, help);
        }
    }
    found.sort_by(|a, b| (&a.file, a.span).cmp(&(&b.file, b.span)));
    found
}
