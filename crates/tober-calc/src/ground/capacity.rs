//! Bearing capacity of soil by named methods, which differ.

use super::GroundError;
use super::eccentric::effective_base;
use super::error::{LOAD_KN, load_within, within};
use super::spread::PlanSize;
use crate::finding::{Basis, Finding, Sense, Subject};
use crate::working::{Provenance, Term, Working, number};
use core::f64::consts::PI;
use tober_quantity::{
    Acceleration, Amount, Angle, Density, Force, Length, Pressure, Quantity, Ratio, Shown, maths,
};

/// A method of bearing capacity. For one soil they differ by half and more (reference DIS-05), so none is used
/// without its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Method {
    /// Terzaghi with Nγ of the older tables (GS-17).
    TerzaghiOlder,
    /// Terzaghi with Nγ after Kumbhojkar, as US textbooks print it.
    TerzaghiKumbhojkar,
    /// Meyerhof.
    Meyerhof,
    /// Hansen.
    Hansen,
    /// Vesic.
    Vesic,
    /// EN 1997-1 Annex D.
    Eurocode,
}

impl Method {
    /// Every method.
    pub const ALL: [Self; 6] = [
        Self::TerzaghiOlder,
        Self::TerzaghiKumbhojkar,
        Self::Meyerhof,
        Self::Hansen,
        Self::Vesic,
        Self::Eurocode,
    ];

    /// The name it is chosen by.
    pub fn name(self) -> &'static str {
        match self {
            Self::TerzaghiOlder => "Terzaghi, older table",
            Self::TerzaghiKumbhojkar => "Terzaghi, Kumbhojkar",
            Self::Meyerhof => "Meyerhof",
            Self::Hansen => "Hansen",
            Self::Vesic => "Vesic",
            Self::Eurocode => "EN 1997-1 Annex D",
        }
    }

    /// The greatest angle of friction for which it is worked here: where its table ends.
    fn friction_most_deg(self) -> f64 {
        match self {
            Self::TerzaghiOlder | Self::TerzaghiKumbhojkar => 40.0,
            _ => 45.0,
        }
    }

    fn basis(self) -> Basis {
        match self {
            Self::Vesic => {
                Basis::document("FHWA-IF-02-054 (GEC-6), Vesic", "shape and depth factors", "2002")
            }
            Self::Eurocode => Basis::from_memory("EN 1997-1:2004 Annex D.3, D.4"),
            Self::TerzaghiOlder | Self::TerzaghiKumbhojkar => {
                Basis::from_memory("Terzaghi 1943, as textbooks print it")
            }
            Self::Meyerhof => Basis::from_memory("Meyerhof 1963, as textbooks print it"),
            Self::Hansen => Basis::from_memory("Hansen 1970, as textbooks print it"),
        }
    }
}

/// Nγ of Terzaghi by degrees of friction: the older tables (reference GS-17).
const OLDER: &[(f64, f64)] = &[(20.0, 5.0), (25.0, 9.7), (30.0, 19.7), (35.0, 42.4), (40.0, 100.4)];
/// Nγ of Terzaghi after Kumbhojkar (1993): 25 and 40 degrees are those of WE-05 and WE-07, the rest from memory.
const KUMBHOJKAR: &[(f64, f64)] = &[
    (5.0, 0.14),
    (10.0, 0.56),
    (15.0, 1.52),
    (20.0, 3.64),
    (25.0, 8.34),
    (30.0, 19.13),
    (35.0, 45.41),
    (40.0, 115.31),
];

/// The bearing capacity factors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Factors {
    /// Nc, of cohesion.
    pub cohesion: f64,
    /// Nq, of the ground beside the base.
    pub surcharge: f64,
    /// Nγ, of the ground under it.
    pub weight: f64,
}

/// A table read between its rows by equal ratios; below its first row nothing is counted.
fn read(table: &[(f64, f64)], degrees: f64) -> f64 {
    for pair in table.windows(2) {
        if let [(low, n), (high, m)] = *pair
            && degrees >= low - 1e-9
            && degrees <= high + 1e-9
        {
            return n * maths::pow(m / n, (degrees - low) / (high - low));
        }
    }
    0.0
}

/// The bearing capacity factors of a method.
///
/// Nq = e^(π tan φ) tan²(45° + φ/2) and Nc = (Nq − 1)/tan φ, 5.14 at nought (GS-12), for all but Terzaghi, whose
/// Nq = e^(2(3π/4 − φ/2) tan φ)/(2 cos²(45° + φ/2)) with Nc 5.7 at nought (GS-17). Nγ: Meyerhof (Nq − 1) tan 1.4φ;
/// Hansen 1.5 (Nq − 1) tan φ; Vesic 2 (Nq + 1) tan φ; EN 1997-1 2 (Nq − 1) tan φ, rough base (GS-13 to
/// GS-16); Terzaghi by table, read between its rows by equal ratios, nothing below its first row.
///
/// # Errors
/// An angle below nothing, past 45 degrees, or past the end of the method's table.
pub fn factors(method: Method, friction: Angle) -> Result<Factors, GroundError> {
    let degrees = friction.as_deg();
    within("angle of friction", degrees, (0.0, method.friction_most_deg()), "degrees")?;
    let phi = friction.si();
    let tan = maths::tan(phi);
    let half = PI / 4.0 + phi / 2.0;
    let terzaghi = matches!(method, Method::TerzaghiOlder | Method::TerzaghiKumbhojkar);
    let surcharge = if terzaghi {
        let cos = maths::cos(half);
        maths::exp(2.0 * (0.75 * PI - phi / 2.0) * tan) / (2.0 * cos * cos)
    } else {
        let t = maths::tan(half);
        maths::exp(PI * tan) * t * t
    };
    let cohesion = match (tan > 1e-9, terzaghi) {
        (true, _) => (surcharge - 1.0) / tan,
        (false, true) => 1.5 * PI + 1.0,
        (false, false) => PI + 2.0,
    };
    let weight = match method {
        Method::TerzaghiOlder => read(OLDER, degrees),
        Method::TerzaghiKumbhojkar => read(KUMBHOJKAR, degrees),
        Method::Meyerhof => (surcharge - 1.0) * maths::tan(1.4 * phi),
        Method::Hansen => 1.5 * (surcharge - 1.0) * tan,
        Method::Vesic => 2.0 * (surcharge + 1.0) * tan,
        Method::Eurocode => 2.0 * (surcharge - 1.0) * tan,
    };
    Ok(Factors { cohesion, surcharge, weight })
}

/// Soil under a base.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Soil {
    /// The angle of friction; nothing for undrained clay.
    pub friction: Angle,
    /// Its cohesion; the undrained strength where the friction is nothing.
    pub cohesion: Pressure,
    /// Its density as it lies.
    pub density: Density,
    /// How deep below the base the water stands; `None` counts as at the surface.
    pub water_depth: Option<Length>,
}

/// What multiplies each of the three parts, for the shape of the base.
///
/// r is B/L. Terzaghi prints strip and square; between them r is taken straight (common practice, no source).
/// Vesic: GS-20. Others from memory, as each method's textbook prints them.
pub fn shape_factors(method: Method, n: &Factors, friction: Angle, r: f64) -> Factors {
    let phi = friction.si();
    let undrained = friction.as_deg() < 1e-6;
    let (sin, tan) = (maths::sin(phi), maths::tan(phi));
    let of = |cohesion, surcharge, weight| Factors { cohesion, surcharge, weight };
    match method {
        Method::TerzaghiOlder | Method::TerzaghiKumbhojkar => of(1.0 + 0.3 * r, 1.0, 1.0 - 0.2 * r),
        Method::Meyerhof => {
            let t = maths::tan(PI / 4.0 + phi / 2.0);
            let with_friction = if friction.as_deg() > 10.0 { 1.0 + 0.1 * t * t * r } else { 1.0 };
            of(1.0 + 0.2 * t * t * r, with_friction, with_friction)
        }
        Method::Hansen if undrained => of(1.0 + 0.2 * r, 1.0, 1.0 - 0.4 * r),
        Method::Hansen => of(1.0 + n.surcharge / n.cohesion * r, 1.0 + r * sin, 1.0 - 0.4 * r),
        Method::Vesic => of(1.0 + n.surcharge / n.cohesion * r, 1.0 + r * tan, 1.0 - 0.4 * r),
        Method::Eurocode if undrained => of(1.0 + 0.2 * r, 1.0, 1.0 - 0.3 * r),
        Method::Eurocode => {
            let surcharge = 1.0 + r * sin;
            of((surcharge * n.surcharge - 1.0) / (n.surcharge - 1.0), surcharge, 1.0 - 0.3 * r)
        }
    }
}

/// The depth factor dq of Vesic: 1 + 2 tan φ (1 − sin φ)² k, k = D/B up to 1, then its arc tangent (GS-21).
///
/// It is 1 for packing laid on the surface, and [`capacity`] never counts it: ground beside a pit dug for a foot
/// is disturbed.
pub fn depth_factor(friction: Angle, depth_over_width: f64) -> f64 {
    let phi = friction.si();
    let k = if depth_over_width <= 1.0 { depth_over_width } else { maths::atan(depth_over_width) };
    let less = 1.0 - maths::sin(phi);
    1.0 + 2.0 * maths::tan(phi) * less * less * k
}

/// A base on soil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnSoil {
    /// The base.
    pub base: PlanSize,
    /// How far the load stands from its middle, along the frame.
    pub off_along: Length,
    /// How far the load stands from its middle, across the frame.
    pub off_across: Length,
    /// How deep the base is let into the ground.
    pub depth: Length,
}

/// The pressure at which the soil under a base gives way, by a method.
///
/// qu = c Nc sc + q Nq sq + ½ γ B′ Nγ sγ with B′ = B − 2e (GS-22) and q = γ D. Depth factors are 1. Weights
/// below water count less that of water: the wedge under the base wholly where water stands at the base,
/// not at all from B′ below it, a straight line between; where its depth is not told, the ground beside the
/// base too. Vertical load, level ground, general shear.
///
/// # Errors
/// A value out of range, or a load beyond the edge.
///
/// # Not covered
/// Inclined loads, slopes, layers, loose soil that shears locally, neighbouring feet.
pub fn capacity(method: Method, soil: &Soil, on: &OnSoil) -> Result<Pressure, GroundError> {
    worked(method, soil, on).map(|(ultimate, _)| Pressure::from_si(ultimate.value()))
}

fn worked(method: Method, soil: &Soil, on: &OnSoil) -> Result<(Term, Working), GroundError> {
    within("cohesion", soil.cohesion.as_kpa(), (0.0, 1e4), "kPa")?;
    within("density of the soil", soil.density.si(), (1000.0, 3000.0), "kg/m³")?;
    within("depth of the base", on.depth.as_m(), (0.0, 10.0), "m")?;
    if let Some(depth) = soil.water_depth {
        within("depth of the water", depth.as_m(), (0.0, 1000.0), "m")?;
    }
    let effective = effective_base(on.base, on.off_along, on.off_across)?;
    let (width, length) = (effective.least_side(), effective.along.max(effective.across));
    let n = factors(method, soil.friction)?;
    let s = shape_factors(method, &n, soil.friction, width / length);
    let share = soil.water_depth.map_or(0.0, |depth| (depth / width).min(1.0));
    let water = Density::kg_m3(1000.0);
    let beside = if soil.water_depth.is_none() { soil.density - water } else { soil.density };
    let under = soil.density - water * (1.0 - share);

    let mut w = Working::new();
    let from = || Provenance::tabulated(method.name());
    let c = w.given("c", "cohesion", soil.cohesion, Provenance::measured("test of the soil"));
    let wide = w.given("B", "lesser side that counts", width, Provenance::Computed);
    let deep = w.given("D", "depth of the base", on.depth, Provenance::measured("tape"));
    let g = w.given("g", "gravity", Acceleration::g(1.0), Provenance::tabulated("ISO 80000-3"));
    let beside = w.given("ρq", "density beside the base, less water", beside, Provenance::Computed);
    let under = w.given("ργ", "density under the base, less water", under, Provenance::Computed);
    let mut factor =
        |symbol: &str, meaning: &str, value: f64| w.given(symbol, meaning, Ratio::one(value), from());
    let [nc, nq, ng] = [
        factor("Nc", "factor of cohesion", n.cohesion),
        factor("Nq", "factor of the ground beside", n.surcharge),
        factor("Nγ", "factor of the ground under", n.weight),
    ];
    let [sc, sq, sg] = [
        factor("sc", "shape, cohesion", s.cohesion),
        factor("sq", "shape, ground beside", s.surcharge),
        factor("sγ", "shape, ground under", s.weight),
    ];
    let of_cohesion = w.line("q1", "from cohesion", c * nc * sc, Shown::Pressure);
    let of_beside =
        w.line("q2", "from the ground beside", beside * g.clone() * deep * nq * sq, Shown::Pressure);
    let of_under =
        w.line("q3", "from the ground under", number(0.5) * under * g * wide * ng * sg, Shown::Pressure);
    let ultimate =
        w.line("qu", "pressure at which it gives way", of_cohesion + of_beside + of_under, Shown::Pressure);
    Ok((ultimate, w))
}

/// The safety factor where none is told: textbook practice for bearing capacity.
pub const SAFETY: f64 = 3.0;
/// The least safety factor that is taken: that inside BS 5975:2019 Table 18 (reference GS-26).
pub const SAFETY_LEAST: f64 = 2.0;

/// The pressure of a load against what the soil under it takes, by one method or by the lowest of all.
///
/// p = R/(B′L′) against qu/F. Without a method the lowest of those that reach this friction decides; either way the
/// least and greatest of the methods are said. Nobody may override it (rule S2).
///
/// # Errors
/// As [`capacity`]; a safety factor below 2.
pub fn capacity_finding(
    subject: Subject,
    load: (Force, Force),
    soil: &Soil,
    on: &OnSoil,
    method: Option<Method>,
    safety: f64,
) -> Result<Finding, GroundError> {
    load_within(load)?;
    within("load", load.1.as_kn(), LOAD_KN, "kN")?;
    within("safety factor", safety, (SAFETY_LEAST, 20.0), "")?;
    let all = capacities(soil, on)?;
    let lowest = all.iter().min_by(|a, b| a.1.as_kpa().total_cmp(&b.1.as_kpa())).map(|(method, _)| *method);
    let chosen = method.or(lowest).unwrap_or(Method::Eurocode);
    let (ultimate, mut w) = worked(chosen, soil, on)?;
    let area = effective_base(on.base, on.off_along, on.off_across)?.area();
    let r = w.given("R", "load, greatest", load.1, Provenance::Computed);
    let counted = w.given("A", "area that counts", area, Provenance::Computed);
    let pressure = w.line("p", "pressure on the ground", r / counted, Shown::Pressure);
    let f = w.given(
        "F",
        "safety factor",
        Ratio::one(safety),
        Provenance::chosen("at least 2; 3 is textbook practice"),
    );
    let allowed = w.line("qa", "pressure allowed", ultimate / f, Shown::Pressure);
    let amount = |si| Amount { si, shown: Shown::Pressure };
    let band = (amount((load.0 / area).si().min(pressure.value())), amount(pressure.value()));
    let title = "pressure against bearing capacity";
    let kpa = |pick: fn(f64, f64) -> f64, from: f64| all.iter().map(|(_, q)| q.as_kpa()).fold(from, pick);
    let mut finding = Finding::against_limit(
        "ground.capacity",
        subject,
        title,
        band,
        amount(allowed.value()),
        Sense::AtMost,
    )
    .working(w)
    .basis(chosen.basis())
    .note(format!(
        "Method: {}. The methods differ: from {:.0} to {:.0} kPa before the safety factor.",
        chosen.name(),
        kpa(f64::min, f64::INFINITY),
        kpa(f64::max, 0.0)
    ))
    .note("Depth factors are 1: packing lies on the surface.")
    .advice("Lay larger boards, or bring the load over their middle.")
    .never_overridden();
    if soil.water_depth.is_none() {
        finding = finding.note("How deep the water stands was not told: it counts as at the surface.");
    }
    Ok(finding)
}

/// What every method that reaches this friction gives, for the same soil and base.
///
/// # Errors
/// As [`capacity`].
pub fn capacities(soil: &Soil, on: &OnSoil) -> Result<Vec<(Method, Pressure)>, GroundError> {
    within("angle of friction", soil.friction.as_deg(), (0.0, 45.0), "degrees")?;
    let reaches = |method: &Method| soil.friction.as_deg() <= method.friction_most_deg();
    let each = |method| capacity(method, soil, on).map(|pressure| (method, pressure));
    Method::ALL.into_iter().filter(reaches).map(each).collect()
}

/// The pressure that undrained clay takes on its surface under any base: π + 2 times its strength, over the factor.
///
/// A square takes about a fifth more, which is left out. Reference GS-19.
///
/// # Errors
/// A strength or factor out of range.
pub fn undrained_allowed(strength: Pressure, safety: f64) -> Result<Pressure, GroundError> {
    within("undrained strength", strength.as_kpa(), (0.1, 1000.0), "kPa")?;
    within("safety factor", safety, (SAFETY_LEAST, 20.0), "")?;
    Ok(strength * (PI + 2.0) / safety)
}
