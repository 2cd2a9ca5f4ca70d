//! A plan's figures in the plan's own units and words.
//!
//! Every number that a drawing or its table shows is printed here, and here only, so that the two can
//! never differ.

use crate::label;
use tober_plan::{Grain, Held, LegPlan, Plan, PlanLayer};
use tober_quantity::{Band, Length, Limit, Mass, Quantity as _, Rounding, Shown, UnitSet, WordSet};

/// How a plan's figures are written.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Figures {
    units: UnitSet,
    words: WordSet,
    provisional: bool,
}

impl Figures {
    pub(crate) fn of(plan: &Plan) -> Self {
        Self { units: plan.units, words: plan.words, provisional: !plan.assumed.is_empty() }
    }

    pub(crate) fn units(self) -> UnitSet {
        self.units
    }

    /// Whether the plan rests on something its books do not say.
    pub(crate) fn provisional(self) -> bool {
        self.provisional
    }

    /// The unit of thicknesses and heights: "mm".
    pub(crate) fn fine_unit(self) -> &'static str {
        Shown::Fine.caption(self.units)
    }

    /// A thickness or height without its unit: "75".
    pub(crate) fn fine(self, length: Length) -> String {
        length.amount().shown(Shown::Fine).print_number(self.units, Rounding::Nearest)
    }

    /// The setting of a screw without its unit, finer than any tolerance it is held against: "87.4".
    pub(crate) fn finest(self, length: Length) -> String {
        length.amount().shown(Shown::Finest).print_number(self.units, Rounding::Nearest)
    }

    /// The same with its unit: "87.4 mm".
    pub(crate) fn finest_with_unit(self, length: Length) -> String {
        length.amount().shown(Shown::Finest).print(self.units, Rounding::Nearest)
    }

    /// A height with its sign and no unit: "+33", "−44", "0".
    pub(crate) fn fine_signed(self, length: Length) -> String {
        let text = self.fine(length);
        if text == "0" || text.starts_with('\u{2212}') { text } else { format!("+{text}") }
    }

    /// A thickness or height with its unit: "75 mm".
    pub(crate) fn fine_with_unit(self, length: Length) -> String {
        length.amount().shown(Shown::Fine).print(self.units, Rounding::Nearest)
    }

    /// A distance on the pitch with its unit: "15 m".
    pub(crate) fn coarse(self, length: Length) -> String {
        length.amount().shown(Shown::Coarse).print(self.units, Rounding::Nearest)
    }

    /// A load as a band with what it may be: "2.4 to 2.9 of 4.6 t".
    ///
    /// The low end is rounded down, the high end up and the limit down, so that a printed figure never
    /// looks safer than the computed one.
    pub(crate) fn load(self, leg: &LegPlan) -> String {
        if leg.load.is_none() {
            return "load not known".to_owned();
        }
        self.whole(leg.load, leg.rated)
    }

    /// The same in two parts for two lines: "2.4 to 2.9 t" and "of 4.6 t".
    pub(crate) fn load_parts(self, leg: &LegPlan) -> (String, String) {
        let whole = self.whole(leg.load, leg.rated);
        match whole.split_once(" of ") {
            Some((band, limit)) => (format!("{band}\u{202F}{}", self.load_unit()), format!("of {limit}")),
            None => (whole, String::new()),
        }
    }

    /// A band of load with what it may be; one that is inside never prints as past it.
    fn whole(self, load: Option<(Mass, Mass)>, rated: Option<Mass>) -> String {
        let shown = |mass: Mass| mass.amount().shown(Shown::Load);
        let limit = rated.map_or(Limit::None, |rated| Limit::AtMost(shown(rated)));
        match (load, rated) {
            (Some((low, high)), _) => Band { low: shown(low), high: shown(high), limit }.print(self.units),
            (None, Some(rated)) => {
                format!("not known of {}\u{202F}{}", self.mass(rated, Rounding::Capacity), self.load_unit())
            }
            (None, None) => format!("not known\u{202F}{}", self.load_unit()),
        }
    }

    /// What a leg carries at a stage, without its unit: "1.2 to 1.4".
    pub(crate) fn stage_band(self, load: &tober_plan::LegLoad) -> String {
        let Some((low, high)) = load.load else { return "not known".to_owned() };
        let (low, high) = (self.mass(low, Rounding::Capacity), self.mass(high, Rounding::Requirement));
        if low == high { high } else { format!("{low} to {high}") }
    }

    /// The same with its unit and what the leg may carry: "1.2 to 1.4 of 4.6 t".
    pub(crate) fn stage_load(self, load: &tober_plan::LegLoad) -> String {
        self.whole(load.load, load.rated)
    }

    fn load_unit(self) -> &'static str {
        Shown::Load.caption(self.units)
    }

    fn mass(self, mass: Mass, rounding: Rounding) -> String {
        mass.amount().shown(Shown::Load).print_number(self.units, rounding)
    }

    /// The height of the ground with its deviation and no unit: "−95 ± 4".
    pub(crate) fn ground(self, leg: &LegPlan) -> Option<String> {
        let height = self.fine_signed(leg.ground?);
        Some(match leg.ground_deviation {
            Some(deviation) => {
                let off =
                    deviation.amount().shown(Shown::Fine).print_number(self.units, Rounding::Requirement);
                if off == "0" { height } else { format!("{height} ± {off}") }
            }
            None => height,
        })
    }

    /// How the leg is set: "hole 3", "screw out 120".
    pub(crate) fn held(self, held: &Held) -> String {
        match held {
            Held::Hole { number, .. } => format!("hole {number}"),
            Held::Screw { extension, .. } => held.turns().map_or_else(
                || format!("screw out {}", self.finest(*extension)),
                |turns| format!("out {}, {turns}", self.finest(*extension)),
            ),
        }
    }

    /// The same for a sentence: "hole 3", "screw out 87.4 mm, 21 7/8 turns".
    pub(crate) fn held_told(self, held: &Held) -> String {
        match (held, held.turns()) {
            (Held::Screw { extension, .. }, Some(turns)) => {
                format!("screw out {}, {turns}", self.finest_with_unit(*extension))
            }
            _ => self.held(held),
        }
    }

    /// The pieces from the ground up: "75 + 25".
    pub(crate) fn pieces(self, leg: &LegPlan) -> String {
        if leg.layers.is_empty() {
            return "none".to_owned();
        }
        let pieces: Vec<String> = leg.layers.iter().map(|layer| self.fine(layer.thickness)).collect();
        pieces.join(" + ")
    }

    /// The pieces from the ground up by the names the crew calls them: "mat + 75".
    pub(crate) fn pieces_by_name(self, leg: &LegPlan) -> String {
        if leg.layers.is_empty() {
            return "none".to_owned();
        }
        leg.layers.iter().map(|layer| label::clean(&layer.board)).collect::<Vec<_>>().join(" + ")
    }

    /// A board's name on a label. A name that is itself a figure is nominal and stands in quotation
    /// marks, so that nobody takes it for the thickness.
    pub(crate) fn board(self, layer: &PlanLayer) -> String {
        if layer.board.starts_with(|sign: char| sign.is_ascii_digit()) {
            format!("board \"{}\"", layer.board)
        } else {
            layer.board.clone()
        }
    }

    /// The pieces from the ground up with their names: "75 sleeper, along; 25 board, across".
    pub(crate) fn pieces_named(self, leg: &LegPlan) -> String {
        if leg.layers.is_empty() {
            return "none".to_owned();
        }
        let piece = |layer: &PlanLayer| {
            format!("{} {}, {}", self.fine(layer.thickness), self.board(layer), self.lies(layer))
        };
        leg.layers.iter().map(piece).collect::<Vec<_>>().join("; ")
    }

    /// How a layer lies, in words: "2 side by side, across".
    pub(crate) fn lies(self, layer: &PlanLayer) -> String {
        let way = way(layer);
        if layer.side_by_side > 1 { format!("{} side by side, {way}", layer.side_by_side) } else { way }
    }

    /// The same in a word or two, for a label: "2 across".
    pub(crate) fn lies_short(self, layer: &PlanLayer) -> String {
        let way = way(layer);
        if layer.side_by_side > 1 { format!("{} {way}", layer.side_by_side) } else { way }
    }

    /// What keeps the pin in.
    pub(crate) fn clip(self) -> &'static str {
        match self.words {
            WordSet::Gb => "clip",
            WordSet::Us => "hairpin",
        }
    }

    /// What lies between the ground and the foot.
    pub(crate) fn packing(self) -> &'static str {
        match self.words {
            WordSet::Gb => "packing",
            WordSet::Us => "blocking",
        }
    }
}

/// Which way a layer runs, and whether it is thin packing.
fn way(layer: &PlanLayer) -> String {
    let way = match layer.grain {
        Grain::Along => "along",
        Grain::Across => "across",
    };
    if layer.thin { format!("{way}, thin") } else { way.to_owned() }
}
