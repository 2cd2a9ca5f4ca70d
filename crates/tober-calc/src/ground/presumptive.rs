//! Presumptive pressures: published tables of what ground may be trusted with, chosen by name.

use super::GroundError;
use tober_quantity::{Length, Pressure};

/// How a figure came to be in a table here.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Confidence {
    /// Seen in the document or in several agreeing copies of it.
    Read,
    /// Quoted from memory: to be confirmed before anything rests on it alone.
    FromMemory,
}

/// What kind of ground a class is, for what water does to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum GroundKind {
    /// Rock and hard shale: water changes nothing here.
    Rock,
    /// Gravel and sand.
    Coarse,
    /// Silt and clay.
    Fine,
    /// Organic soil, mud, peat, fill.
    Unfit,
}

/// A figure as its table prints it.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Printed {
    Psf(f64),
    /// US tons of force for each square foot.
    Tsf(f64),
    Kpa(f64),
    /// The table gives none.
    None,
}

/// One class of a table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GroundClass {
    /// Its name in the table.
    pub name: &'static str,
    /// What kind of ground it is.
    pub kind: GroundKind,
    printed: Printed,
}

impl GroundClass {
    /// The pressure the table allows, or `None` where it gives none.
    pub fn pressure(&self) -> Option<Pressure> {
        match self.printed {
            Printed::Psf(psf) => Some(Pressure::psf(psf)),
            Printed::Tsf(tsf) => Some(Pressure::psf(tsf * 2000.0)),
            Printed::Kpa(kpa) => Some(Pressure::kpa(kpa)),
            Printed::None => None,
        }
    }
}

/// A published table of presumptive pressures, for ground below the topsoil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PresumptiveTable {
    /// The name it is chosen by.
    pub name: &'static str,
    /// The document.
    pub document: &'static str,
    /// The table or clause.
    pub table: &'static str,
    /// The year or edition.
    pub edition: &'static str,
    /// How its figures came here.
    pub confidence: Confidence,
    /// The narrowest base for which it holds, in metres.
    width_least_m: f64,
    /// Its classes.
    pub classes: &'static [GroundClass],
}

impl PresumptiveTable {
    /// The narrowest base for which it holds; nothing where it sets none.
    pub fn width_least(&self) -> Length {
        Length::m(self.width_least_m)
    }
    /// A class by its name in the table.
    ///
    /// # Errors
    /// No class bears that name.
    pub fn class(&self, name: &str) -> Result<&'static GroundClass, GroundError> {
        self.classes.iter().find(|class| class.name == name).ok_or_else(|| GroundError::NoSuch {
            what: "class of ground in that table",
            name: name.to_owned(),
            known: self.classes.iter().map(|class| class.name).collect(),
        })
    }
}

/// A table by its name.
///
/// # Errors
/// No table bears that name.
pub fn presumptive_table(name: &str) -> Result<&'static PresumptiveTable, GroundError> {
    TABLES.iter().find(|table| table.name == name).ok_or_else(|| GroundError::NoSuch {
        what: "table of presumptive pressures",
        name: name.to_owned(),
        known: TABLES.iter().map(|table| table.name).collect(),
    })
}

const fn class(name: &'static str, kind: GroundKind, printed: Printed) -> GroundClass {
    GroundClass { name, kind, printed }
}

use GroundKind::{Coarse, Fine, Rock, Unfit};
use Printed::{Kpa, Psf, Tsf};

/// Every table there is. The trade's own tables of outrigger ground are not among them: they allow two to four
/// times what building codes do (reference DIS-02). Where a range is printed its low end stands.
pub const TABLES: &[PresumptiveTable] = &[
    PresumptiveTable {
        name: "IBC 2012 1806.2",
        document: "International Building Code",
        table: "Table 1806.2, s.1806.2",
        edition: "2012",
        confidence: Confidence::Read,
        width_least_m: 0.0,
        classes: &[
            class("crystalline bedrock", Rock, Psf(12_000.0)),
            class("sedimentary and foliated rock", Rock, Psf(4_000.0)),
            class("sandy gravel and gravel (GW, GP)", Coarse, Psf(3_000.0)),
            class(
                "sand, silty sand, clayey sand, silty gravel and clayey gravel (SW, SP, SM, SC, GM, GC)",
                Coarse,
                Psf(2_000.0),
            ),
            class("clay, sandy clay, silty clay, clayey silt and silt (CL, ML, MH, CH)", Fine, Psf(1_500.0)),
            class("mud, organic silt, organic clay, peat and unprepared fill", Unfit, Printed::None),
        ],
    },
    PresumptiveTable {
        name: "NBC 9.4.4.1",
        document: "National Building Code of Canada, small buildings",
        table: "Table 9.4.4.1 (the table's number from memory, its figures read)",
        edition: "copy undated",
        confidence: Confidence::Read,
        width_least_m: 0.0,
        classes: &[
            class("dense sand or gravel", Coarse, Kpa(150.0)),
            class("loose sand or gravel", Coarse, Kpa(50.0)),
            class("dense silt", Fine, Kpa(100.0)),
            class("stiff clay", Fine, Kpa(150.0)),
            class("firm clay", Fine, Kpa(75.0)),
            class("soft clay", Fine, Kpa(40.0)),
            class("clay shale", Rock, Kpa(300.0)),
            class("sound rock", Rock, Kpa(500.0)),
        ],
    },
    PresumptiveTable {
        name: "Chicago 13-132-060",
        document: "Chicago Building Code (archived)",
        table: "13-132-060(a)",
        edition: "archived, undated",
        confidence: Confidence::Read,
        width_least_m: 0.0,
        classes: &[
            class("compact clean sand", Coarse, Psf(5_000.0)),
            class("silty compact sand", Coarse, Psf(3_000.0)),
            class("compact inorganic silt", Fine, Psf(2_500.0)),
            class("very soft clay", Fine, Psf(500.0)),
            class("soft clay", Fine, Psf(1_500.0)),
            class("stiff clay", Fine, Psf(2_500.0)),
            class("tough clay", Fine, Psf(3_500.0)),
            class("very tough clay", Fine, Psf(4_500.0)),
            class("hard clay", Fine, Psf(6_000.0)),
            class("gravel", Coarse, Psf(6_000.0)),
            class("hardpan", Fine, Psf(12_000.0)),
            class("solid rock", Rock, Psf(200_000.0)),
            class("organic soil", Unfit, Printed::None),
            // Printed as 500 psf; rule S4 wants a test of fill and loam whatever a table says.
            class("fill or loam", Unfit, Printed::None),
        ],
    },
    PresumptiveTable {
        name: "BS 8004:1986",
        document: "BS 8004 (superseded)",
        table: "Table 1",
        edition: "1986",
        confidence: Confidence::FromMemory,
        width_least_m: 1.0,
        classes: &[
            class("dense gravel", Coarse, Kpa(600.0)),
            class("medium dense gravel", Coarse, Kpa(200.0)),
            class("loose gravel", Coarse, Printed::None),
            class("compact sand", Coarse, Kpa(300.0)),
            class("medium dense sand", Coarse, Kpa(100.0)),
            class("loose sand", Coarse, Printed::None),
            class("very stiff boulder clay, hard clay", Fine, Kpa(300.0)),
            class("stiff clay", Fine, Kpa(150.0)),
            class("firm clay", Fine, Kpa(75.0)),
            class("soft clay or silt", Fine, Printed::None),
            class("very soft clay or silt", Fine, Printed::None),
        ],
    },
    PresumptiveTable {
        name: "DM 7.2 soil",
        document: "US Navy DM 7.2",
        table: "Chapter 4 Table 1, low end of each range",
        edition: "1982",
        confidence: Confidence::FromMemory,
        width_least_m: 0.0,
        classes: &[
            class("well-graded till, hardpan", Fine, Tsf(8.0)),
            class("very compact gravel", Coarse, Tsf(6.0)),
            class("medium to compact gravel", Coarse, Tsf(4.0)),
            class("loose gravel", Coarse, Tsf(2.0)),
            class("very compact coarse to medium sand", Coarse, Tsf(4.0)),
            class("medium to compact coarse to medium sand", Coarse, Tsf(2.0)),
            class("loose coarse to medium sand", Coarse, Tsf(1.0)),
            class("very compact fine, silty or clayey sand", Coarse, Tsf(3.0)),
            class("medium fine, silty or clayey sand", Coarse, Tsf(2.0)),
            class("loose fine, silty or clayey sand", Coarse, Tsf(1.0)),
            class("very stiff to hard clay", Fine, Tsf(3.0)),
            class("medium to stiff clay", Fine, Tsf(1.0)),
            class("soft clay", Fine, Tsf(0.5)),
            class("very stiff silt", Fine, Tsf(2.0)),
            class("medium to stiff silt", Fine, Tsf(1.0)),
            class("soft silt", Fine, Tsf(0.5)),
        ],
    },
    PresumptiveTable {
        name: "DM 7.2 rock",
        document: "US Navy DM 7.2, reprinted in FHWA-IF-02-054 (GEC-6)",
        table: "Table 5-7, low end of each range",
        edition: "2002",
        confidence: Confidence::Read,
        width_least_m: 0.0,
        classes: &[
            class("massive hard sound rock", Rock, Kpa(5_800.0)),
            class("foliated sound rock", Rock, Kpa(2_900.0)),
            class("hard cemented sedimentary rock", Rock, Kpa(1_400.0)),
            class("weathered or broken bedrock", Rock, Kpa(800.0)),
            class("compaction shale", Rock, Kpa(800.0)),
        ],
    },
    PresumptiveTable {
        name: "IRC R401.4.1",
        document: "International Residential Code",
        table: "Table R401.4.1",
        edition: "copy undated",
        confidence: Confidence::Read,
        width_least_m: 0.0,
        classes: &[
            class("crystalline bedrock", Rock, Psf(12_000.0)),
            class("sedimentary and foliated rock", Rock, Psf(4_000.0)),
            class("sandy gravel and gravel (GW, GP)", Coarse, Psf(3_000.0)),
            class("sand, silty or clayey, and silty or clayey gravel", Coarse, Psf(2_000.0)),
            class("clay and silt (CL, ML, MH, CH)", Fine, Psf(1_500.0)),
        ],
    },
];

/// What each plain description may be in the tables: the class of each that fits it.
const DESCRIBED: &[(&str, &[(&str, &str)])] = &[
    (
        "soft clay",
        &[
            ("NBC 9.4.4.1", "soft clay"),
            ("Chicago 13-132-060", "soft clay"),
            ("DM 7.2 soil", "soft clay"),
            ("IRC R401.4.1", "clay and silt (CL, ML, MH, CH)"),
        ],
    ),
    (
        "firm clay",
        &[
            ("NBC 9.4.4.1", "firm clay"),
            ("BS 8004:1986", "firm clay"),
            ("DM 7.2 soil", "medium to stiff clay"),
            ("IRC R401.4.1", "clay and silt (CL, ML, MH, CH)"),
        ],
    ),
    (
        "stiff clay",
        &[
            ("NBC 9.4.4.1", "stiff clay"),
            ("BS 8004:1986", "stiff clay"),
            ("Chicago 13-132-060", "stiff clay"),
            ("DM 7.2 soil", "medium to stiff clay"),
            ("IRC R401.4.1", "clay and silt (CL, ML, MH, CH)"),
        ],
    ),
    (
        "loose sand",
        &[
            ("NBC 9.4.4.1", "loose sand or gravel"),
            ("DM 7.2 soil", "loose fine, silty or clayey sand"),
            ("IRC R401.4.1", "sand, silty or clayey, and silty or clayey gravel"),
        ],
    ),
    (
        "dense sand",
        &[
            ("NBC 9.4.4.1", "dense sand or gravel"),
            ("BS 8004:1986", "compact sand"),
            ("DM 7.2 soil", "very compact fine, silty or clayey sand"),
            ("IRC R401.4.1", "sand, silty or clayey, and silty or clayey gravel"),
        ],
    ),
    (
        "loose gravel",
        &[
            ("NBC 9.4.4.1", "loose sand or gravel"),
            ("DM 7.2 soil", "loose gravel"),
            ("IRC R401.4.1", "sandy gravel and gravel (GW, GP)"),
        ],
    ),
    (
        "dense gravel",
        &[
            ("NBC 9.4.4.1", "dense sand or gravel"),
            ("BS 8004:1986", "dense gravel"),
            ("Chicago 13-132-060", "gravel"),
            ("DM 7.2 soil", "very compact gravel"),
            ("IRC R401.4.1", "sandy gravel and gravel (GW, GP)"),
        ],
    ),
];

/// The table and class that allow the least of all those which fit a plain description (reference DIS-01).
///
/// # Errors
/// A description that is not held.
pub fn cautious_class(
    description: &str,
) -> Result<(&'static PresumptiveTable, &'static GroundClass), GroundError> {
    let found =
        DESCRIBED.iter().find(|(name, _)| *name == description).ok_or_else(|| GroundError::NoSuch {
            what: "description of ground",
            name: description.to_owned(),
            known: DESCRIBED.iter().map(|(name, _)| *name).collect(),
        })?;
    let mut lowest: Option<(&'static PresumptiveTable, &'static GroundClass, f64)> = None;
    for (table, class) in found.1 {
        let table = presumptive_table(table)?;
        let class = table.class(class)?;
        // One that gives no figure for it is the most cautious of all.
        let allows = class.pressure().map_or(0.0, Pressure::as_kpa);
        if lowest.is_none_or(|(_, _, least)| allows < least) {
            lowest = Some((table, class, allows));
        }
    }
    let nothing = || GroundError::NoSuch { what: "class", name: description.to_owned(), known: Vec::new() };
    lowest.map(|(table, class, _)| (table, class)).ok_or_else(nothing)
}

/// How clay gives to a thumb.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Thumb {
    /// Hard to indent.
    Hard,
    /// Indented by moderate pressure.
    Moderate,
    /// Easily penetrated.
    Easy,
}

/// The class of "NBC 9.4.4.1" that a thumb pressed into clay tells: stiff, firm or soft clay (reference GS-07).
pub fn class_by_thumb(thumb: Thumb) -> &'static str {
    match thumb {
        Thumb::Hard => "stiff clay",
        Thumb::Moderate => "firm clay",
        Thumb::Easy => "soft clay",
    }
}

/// The class of "NBC 9.4.4.1" that a picket in sand or gravel tells (reference GS-07).
///
/// A 50 × 50 mm picket with a 45 degree point, pushed by a man of average weight: more than 200 mm is
/// loose. `None` where the depth is not a number or below nothing.
pub fn class_by_picket(depth: Length) -> Option<&'static str> {
    if !depth.is_finite() || depth < Length::ZERO {
        return None;
    }
    Some(if depth > Length::mm(200.0) { "loose sand or gravel" } else { "dense sand or gravel" })
}

/// What part of a presumptive pressure on gravel or sand is left, with water at a depth below the base.
///
/// One half at the base, the whole from one width B below it, a straight line between. `None` for the
/// depth counts as water at the base: less knowledge never allows more. Source: IS 1904:1961,
/// Table 2.2 note 6 (reference GS-32); its use with other codes' tables is ours and only ever lowers them.
///
/// # Errors
/// A depth or width out of range.
pub fn water_factor(depth: Option<Length>, width: Length) -> Result<f64, GroundError> {
    use super::error::{SIDE_M, within};
    within("width of the base", width.as_m(), SIDE_M, "m")?;
    let Some(depth) = depth else { return Ok(0.5) };
    within("depth of the water", depth.as_m(), (0.0, 1000.0), "m")?;
    Ok(0.5 + 0.5 * (depth / width).min(1.0))
}
