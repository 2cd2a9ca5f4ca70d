//! Partial-factor sets against overturning, sliding and uplift, as data with their source.

use super::error::{StabilityError, within};
use crate::finding::Basis;
use crate::wind::WindLevel;
use tober_quantity::Ratio;

/// A set of factors that belong together. Factors of different sets are never mixed.
#[derive(Clone, Debug, PartialEq)]
pub struct FactorSet {
    /// The name by which a visit chooses it.
    pub name: String,
    /// What it rests on: document, clause and edition, and whether that was seen.
    pub basis: Basis,
    /// On weight that holds the ride down.
    pub permanent_favourable: Ratio,
    /// On weight that tips it.
    pub permanent_unfavourable: Ratio,
    /// On wind.
    pub wind: Ratio,
    /// How rare the wind must be to which that factor belongs.
    pub wind_level: WindLevel,
    /// On riders and on forces of turning.
    pub other_variable: Ratio,
    /// What a friction is divided by.
    pub friction_divisor: Ratio,
    /// How many times the factored holding moment must exceed the factored tipping moment.
    pub overturning_least: Ratio,
}

pub(super) const TRAVELLING: &str = "EN 13814:2004";
pub(super) const UNFACTORED: &str = "unfactored 1.5";

impl FactorSet {
    /// The sets that are known here, each by its name.
    pub fn known() -> Vec<Self> {
        vec![
            travelling(TRAVELLING, "EN 13814:2004, proof of stability"),
            travelling("EN 13782:2005", "EN 13782:2005, proof of stability of tents"),
            travelling(
                "DIN 4112:1983",
                "DIN 4112, February 1983, proof of stability of travelling structures",
            ),
            unfactored(),
            equilibrium(),
            strength(),
            strength_2010(),
            allowable_2010(),
            strength_2005(),
            allowable_2005(),
        ]
    }
    /// The set of a name, if it is known here.
    pub fn named(name: &str) -> Option<Self> {
        Self::known().into_iter().find(|set| set.name == name)
    }
    pub(super) fn check(&self) -> Result<(), StabilityError> {
        let one = Ratio::one(1.0);
        let name = &self.name;
        within("factor on favourable weight", name, self.permanent_favourable, Ratio::one(0.1), one)?;
        within("factor on unfavourable weight", name, self.permanent_unfavourable, one, Ratio::one(3.0))?;
        within("factor on wind", name, self.wind, Ratio::one(0.5), Ratio::one(3.0))?;
        within("factor on other loads", name, self.other_variable, one, Ratio::one(3.0))?;
        within("divisor of friction", name, self.friction_divisor, one, Ratio::one(5.0))?;
        within("least factor against overturning", name, self.overturning_least, one, Ratio::one(5.0))
    }
}

struct Factors {
    weight: (f64, f64),
    wind: (f64, WindLevel),
    other: f64,
    friction: f64,
    least: f64,
}

fn set(name: &str, basis: Basis, factors: &Factors) -> FactorSet {
    FactorSet {
        name: name.to_owned(),
        basis,
        permanent_favourable: Ratio::one(factors.weight.0),
        permanent_unfavourable: Ratio::one(factors.weight.1),
        wind: Ratio::one(factors.wind.0),
        wind_level: factors.wind.1,
        other_variable: Ratio::one(factors.other),
        friction_divisor: Ratio::one(factors.friction),
        overturning_least: Ratio::one(factors.least),
    }
}

/// EN 13814, EN 13782 and DIN 4112 ask for the same, from memory: to be confirmed by somebody who holds the documents.
fn travelling(name: &str, document: &str) -> FactorSet {
    let basis = Basis::from_memory(document);
    let (weight, wind) = ((1.0, 1.1), (1.2, WindLevel::Actual));
    set(name, basis, &Factors { weight, wind, other: 1.3, friction: 1.0, least: 1.0 })
}

/// The older building rule: 1.5 on moments without factors. The 2.0 on friction is that of the practice notes to
/// EN 12812 for friction that carries a lateral force.
fn unfactored() -> FactorSet {
    let basis = Basis::document(
        "a general German reference on tipping; friction: EN 12812 practice note",
        "standing moment over tipping moment at least 1.5; at least 2.0 on friction",
        "2012; 2003",
    );
    let (weight, wind) = ((1.0, 1.0), (1.0, WindLevel::Actual));
    set(UNFACTORED, basis, &Factors { weight, wind, other: 1.0, friction: 2.0, least: 1.5 })
}

/// EN 1990, equilibrium, from memory. Friction is divided as EN 1997-1 divides a sliding resistance.
fn equilibrium() -> FactorSet {
    let basis =
        Basis::from_memory("EN 1990:2002, Table A1.2(A), EQU; friction EN 1997-1:2004, Table A.5, R2");
    let (weight, wind) = ((0.9, 1.1), (1.5, WindLevel::Actual));
    set("EN 1990:2002 EQU", basis, &Factors { weight, wind, other: 1.5, friction: 1.1, least: 1.0 })
}

/// EN 1990, strength, from memory: what the equilibrium set is checked together with where strength takes part, as of guys.
fn strength() -> FactorSet {
    let basis =
        Basis::from_memory("EN 1990:2002, Table A1.2(B), STR; friction EN 1997-1:2004, Table A.5, R2");
    let (weight, wind) = ((1.0, 1.35), (1.5, WindLevel::Actual));
    set("EN 1990:2002 STR", basis, &Factors { weight, wind, other: 1.5, friction: 1.1, least: 1.0 })
}

/// ASCE 7-10 and 7-16, strength: 0.9 D + 1.0 W with the map at the level of strength, from memory.
fn strength_2010() -> FactorSet {
    let basis = Basis::from_memory("ASCE 7-10 and 7-16, 2.3, 0.9 D + 1.0 W and 1.2 D + 1.6 L");
    let (weight, wind) = ((0.9, 1.2), (1.0, WindLevel::Strength));
    set("ASCE 7-16 strength", basis, &Factors { weight, wind, other: 1.6, friction: 1.0, least: 1.0 })
}

/// ASCE 7-10 and 7-16, allowable stress: 0.6 D + 0.6 W with the map at the level of strength, from memory.
fn allowable_2010() -> FactorSet {
    let basis = Basis::from_memory("ASCE 7-10 and 7-16, 2.4, 0.6 D + 0.6 W and D + L");
    let (weight, wind) = ((0.6, 1.0), (0.6, WindLevel::Strength));
    set("ASCE 7-16 allowable", basis, &Factors { weight, wind, other: 1.0, friction: 1.0, least: 1.0 })
}

/// ASCE 7-05, strength: 0.9 D + 1.6 W with the wind as it is, from memory. The set for a gust limit that is kept.
fn strength_2005() -> FactorSet {
    let basis = Basis::from_memory("ASCE 7-05, 2.3, 0.9 D + 1.6 W and 1.2 D + 1.6 L");
    let (weight, wind) = ((0.9, 1.2), (1.6, WindLevel::Actual));
    set("ASCE 7-05 strength", basis, &Factors { weight, wind, other: 1.6, friction: 1.0, least: 1.0 })
}

/// ASCE 7-05, allowable stress: 0.6 D + 1.0 W with the wind as it is, from memory.
fn allowable_2005() -> FactorSet {
    let basis = Basis::from_memory("ASCE 7-05, 2.4, 0.6 D + W and D + L");
    let (weight, wind) = ((0.6, 1.0), (1.0, WindLevel::Actual));
    set("ASCE 7-05 allowable", basis, &Factors { weight, wind, other: 1.0, friction: 1.0, least: 1.0 })
}
