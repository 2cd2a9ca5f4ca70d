//! Strength classes of timber, and of metal for plates, as their tables print them.

use super::{Confidence, GroundError};
use tober_quantity::Pressure;

/// By which document a class is defined, and so by which rule it is checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TimberStandard {
    /// National Design Specification for Wood Construction; design values in psi.
    Nds,
    /// EN 338; characteristic values in N/mm².
    En338,
    /// A plate of steel, EN 1993-1-1; yield strengths in N/mm².
    Steel,
    /// A plate of aluminium, EN 1999-1-1; 0.2 % proof strengths in N/mm².
    Aluminium,
}

impl TimberStandard {
    /// Whether it is a plate of metal, which has no grain.
    pub fn is_metal(self) -> bool {
        matches!(self, Self::Steel | Self::Aluminium)
    }
}

/// A class of timber.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Timber {
    /// The name it is chosen by.
    pub name: &'static str,
    /// By which document.
    pub standard: TimberStandard,
    /// Table and edition.
    pub source: &'static str,
    /// How its figures came here.
    pub confidence: Confidence,
    /// Bearing strength across the grain, in the unit of its standard.
    across_grain: f64,
    /// Bending strength, in the unit of its standard: the lowest grade listed. `None` where it was not found.
    bending: Option<f64>,
    /// Shear strength along the grain, in the unit of its standard. `None` where it was not found.
    shear: Option<f64>,
    /// Mean stiffness along the grain: 10⁶ psi, or kN/mm². `None` where it was not found.
    stiffness_along: Option<f64>,
    /// Mean stiffness across the grain where the table prints it, kN/mm².
    stiffness_across: Option<f64>,
}

impl Timber {
    fn stress(&self, printed: f64) -> Pressure {
        match self.standard {
            TimberStandard::Nds => Pressure::psi(printed),
            _ => Pressure::mpa(printed),
        }
    }
    /// Bending strength: a design value for NDS, characteristic for EN 338.
    pub fn bending(&self) -> Option<Pressure> {
        self.bending.map(|f| self.stress(f))
    }
    /// Shear strength: a design value for NDS, characteristic for EN 338.
    pub fn shear(&self) -> Option<Pressure> {
        self.shear.map(|f| self.stress(f))
    }
    /// Bearing strength across the grain: a design value for NDS, characteristic for EN 338.
    pub fn across_grain(&self) -> Pressure {
        self.stress(self.across_grain)
    }

    /// Mean stiffness across the grain.
    ///
    /// As EN 338:2016 Table 1 prints it (C16, C24); otherwise one thirtieth of the stiffness along the
    /// grain, the ratio behind that table for softwood, used for the NDS species too (ours). `None` where neither
    /// is known.
    pub fn stiffness_across(&self) -> Option<Pressure> {
        let along = match self.standard {
            TimberStandard::Nds => self.stiffness_along.map(|e| Pressure::psi(e * 1e6)),
            _ => self.stiffness_along.map(|e| Pressure::mpa(e * 1e3)),
        };
        self.stiffness_across.map(|e| Pressure::mpa(e * 1e3)).or(along.map(|e| e / 30.0))
    }
}

/// A class of timber by its name.
///
/// # Errors
/// No class bears that name. Timber nobody knows is not in the table: it is left out, and what rests on it
/// is not known; a crew that sees softwood may say "softwood, unknown grade" and gets the lowest class.
pub fn timber(name: &str) -> Result<&'static Timber, GroundError> {
    TIMBERS.iter().find(|timber| timber.name == name).ok_or_else(|| GroundError::NoSuch {
        what: "class of timber",
        name: name.to_owned(),
        known: TIMBERS.iter().map(|timber| timber.name).collect(),
    })
}

/// A metal of a plate by its name.
///
/// Steels of EN 1993-1-1:2005 Table 3.1 up to 40 mm; aluminium of EN 1999-1-1:2007 Table 3.2a, the weakest of the
/// thicknesses of a plate, away from welds. From memory.
///
/// # Errors
/// No metal bears that name.
pub fn metal(name: &str) -> Result<&'static Timber, GroundError> {
    METALS.iter().find(|metal| metal.name == name).ok_or_else(|| GroundError::NoSuch {
        what: "metal of a plate",
        name: name.to_owned(),
        known: METALS.iter().map(|metal| metal.name).collect(),
    })
}

const fn plate(name: &'static str, standard: TimberStandard, yields: f64) -> Timber {
    let (source, stiffness) = match standard {
        TimberStandard::Aluminium => ("EN 1999-1-1:2007 Table 3.2a", 70.0),
        _ => ("EN 1993-1-1:2005 Table 3.1", 210.0),
    };
    Timber {
        name,
        standard,
        source,
        confidence: Confidence::FromMemory,
        across_grain: yields,
        bending: Some(yields),
        // fy/√3, rounded down.
        shear: Some(yields * 0.577),
        stiffness_along: Some(stiffness),
        stiffness_across: Some(stiffness),
    }
}

/// Every metal there is.
pub const METALS: &[Timber] = &[
    plate("S235", TimberStandard::Steel, 235.0),
    plate("S275", TimberStandard::Steel, 275.0),
    plate("S355", TimberStandard::Steel, 355.0),
    plate("EN AW-5083 O", TimberStandard::Aluminium, 110.0),
    plate("EN AW-6082 T6", TimberStandard::Aluminium, 240.0),
];

const fn nds(
    name: &'static str,
    source: &'static str,
    confidence: Confidence,
    psi: f64,
    (bending, shear): (Option<f64>, Option<f64>),
    stiffness_along: Option<f64>,
) -> Timber {
    let standard = TimberStandard::Nds;
    Timber {
        name,
        standard,
        source,
        confidence,
        across_grain: psi,
        bending,
        shear,
        stiffness_along,
        stiffness_across: None,
    }
}

const fn en338(
    name: &'static str,
    across_grain: f64,
    (bending, shear): (f64, f64),
    along: f64,
    across: Option<f64>,
) -> Timber {
    Timber {
        name,
        standard: TimberStandard::En338,
        source: "EN 338:2016 Table 1",
        confidence: Confidence::Read,
        across_grain,
        bending: Some(bending),
        shear: Some(shear),
        stiffness_along: Some(along),
        stiffness_across: across,
    }
}

const TABLE_4A: &str = "NDS Supplement 2018 Table 4A";

/// Every class there is (reference TM-04 to TM-10, TM-14 to TM-16).
pub const TIMBERS: &[Timber] = &[
    nds("Douglas fir-larch", TABLE_4A, Confidence::Read, 625.0, (Some(700.0), Some(180.0)), Some(1.4)),
    nds("southern pine", "NDS Supplement Table 4B", Confidence::Read, 565.0, (None, Some(175.0)), None),
    nds("spruce-pine-fir", TABLE_4A, Confidence::Read, 425.0, (Some(875.0), Some(135.0)), Some(1.4)),
    nds("hem-fir", TABLE_4A, Confidence::Read, 405.0, (Some(850.0), Some(150.0)), Some(1.3)),
    nds("mixed oak", "NDS Supplement", Confidence::FromMemory, 800.0, (None, None), None),
    nds("red oak", "NDS Supplement", Confidence::FromMemory, 820.0, (None, None), None),
    nds("white oak", "NDS Supplement", Confidence::FromMemory, 800.0, (None, None), None),
    en338("C14", 2.0, (14.0, 3.0), 7.0, None),
    en338("C16", 2.2, (16.0, 3.2), 8.0, Some(0.27)),
    en338("C18", 2.2, (18.0, 3.4), 9.0, None),
    en338("C20", 2.3, (20.0, 3.6), 9.5, None),
    en338("C22", 2.4, (22.0, 3.8), 10.0, None),
    en338("C24", 2.5, (24.0, 4.0), 11.0, Some(0.37)),
    en338("C27", 2.5, (27.0, 4.0), 11.5, None),
    en338("C30", 2.7, (30.0, 4.0), 12.0, None),
    Timber {
        name: "softwood, unknown grade",
        standard: TimberStandard::En338,
        source: "the lowest class listed, C14 of EN 338:2016 Table 1, taken for a softwood nobody graded (ours)",
        confidence: Confidence::Read,
        across_grain: 2.0,
        bending: Some(14.0),
        shear: Some(3.0),
        stiffness_along: Some(7.0),
        stiffness_across: None,
    },
];
