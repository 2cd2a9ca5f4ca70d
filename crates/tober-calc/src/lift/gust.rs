//! The wind on a part while it is raised or let down.
//!
//! A gust of pressure `q` pushes a piece level, forward or backward, with at most `q A` at the middle of what it finds there, `z`
//! above the hinge, and lifts it with at most `q L` at `x` forward of it. Its moment about the hinge lies within
//!
//! `-q (A abs(z) + L max(x, 0)) <= Mw <= q (A abs(z) + L max(-x, 0))`
//!
//! and adds to that of the weight, so pull, force at the hinge, pull at the eye and force of what holds the part back are bands over the gust as
//! they are over tolerances. The force at the hinge is convex in all of them, so its greatest is at one of the corners of their ends. A part
//! that hangs takes the pull `sqrt((m g)^2 + (q A)^2)`.
//!
//! # The area
//! `A` and `L` are areas times force coefficients. A book tells them for the places where the part comes to rest. What a convex outline shows
//! to the wind is a convex function, of the first degree, of the direction it is seen from; so between two directions `theta` apart in
//! which it shows `A1` and `A2` it shows at most `(A1 sin(theta - t) + A2 sin(t)) / sin(theta)`, whose greatest is [`between_two`].
//!
//! # The gust at which it is used up
//! Every one of these grows with `q`, so the greatest gust that all ratings carry is found by halving ([`carried`]). Speed goes as the
//! square root of pressure; how gusts grow with height is in the ratio of two pressures at one height.
//!
//! Source: EN 1991-1-4:2005, 5.3 (force of wind on a body), equation 4.10 with the gust for the mean; mechanics. Validity: a part that is stiff and
//! lower than 15 m. Not covered: wind across the plane of the travel, which twists the hinge; a part that swings or flutters; wind
//! on the rope; a coefficient that grows aslant.

use super::LiftError;
use super::banded::Over;
use super::error::within;
use super::findings::{Asked, OF_LINE, lever, load, moment, not_told, of_first_layer, rated_at_layer};
use super::hinged::at;
use super::lowering::hold_part;
use super::rigging::{EyeKind, between, eye_share};
use super::{OnPart, pull_on_layer};
use crate::finding::{Basis, Finding, Sense, Subject};
use crate::working::{Provenance, Term, number, sum};
use tober_quantity::{Angle, Area, Force, Length, Pressure, Quantity, Ratio, Shown, Speed, maths};

/// What the wind finds of a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Pushed {
    /// What it is called.
    pub name: String,
    /// The most of its area times coefficient that it shows to wind in the plane of the travel.
    pub area: Area,
    /// The most of its area times coefficient of lift.
    pub lift: Area,
    /// Where that acts, as it is told for the two ends of the travel; the worse counts.
    pub at: [OnPart; 2],
}

/// The pressure of a gust at the part, and the speed of the limit it comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gust {
    /// At the height of the part.
    pub pressure: Pressure,
    /// The limit as it is told and read.
    pub speed: Speed,
}

/// The most that a convex outline shows between two directions, `theta` apart, in which it shows `one` and `other`: see the head of this part. `None` for
/// directions 120 degrees or more apart, where the bound says too little.
pub fn between_two(one: Area, other: Area, theta: Angle) -> Option<Area> {
    let (sin, cos) = (maths::sin(theta.as_rad()), maths::cos(theta.as_rad()));
    let most = one.max(other);
    if theta.as_deg() >= 120.0 {
        return None;
    }
    if sin <= 0.0 || one.min(other) <= most * cos {
        // The greatest is at an end.
        return Some(most);
    }
    let (a, b) = (one.si(), other.si());
    Some(Area::from_si((a * a + b * b - 2.0 * a * b * cos).max(0.0).sqrt() / sin))
}

/// A part at one angle, with what a pascal does there.
struct Row {
    phi: Angle,
    lever: f64,
    line: (f64, f64),
    /// Least and greatest moment of the weight, as the line holds against it.
    moment: (f64, f64),
    /// What a pascal takes off the least and adds to the greatest.
    gust: (f64, f64),
    /// What the eye keeps of its rating here.
    eye: f64,
    /// The lever of the hold.
    hold: Option<f64>,
}

/// What is used at a gust, as shares of what is rated; of what is not rated none.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Used {
    rope: Option<f64>,
    eye: Option<f64>,
    hinge: Option<f64>,
    hold: Option<f64>,
}

impl Used {
    fn most(self) -> f64 {
        [self.rope, self.eye, self.hinge, self.hold].into_iter().flatten().fold(0.0, f64::max)
    }

    /// What is used most.
    fn first(self) -> &'static str {
        let all = [
            (self.rope, "the winch and its rope"),
            (self.eye, "the eye"),
            (self.hinge, "the hinge"),
            (self.hold, "what holds it past its balance"),
        ];
        let by = |a: &(f64, &str), b: &(f64, &str)| a.0.total_cmp(&b.0);
        all.into_iter()
            .filter_map(|(used, what)| Some((used?, what)))
            .max_by(by)
            .map_or("nothing", |most| most.1)
    }
}

/// A part in the wind.
struct InWind {
    rows: Vec<Row>,
    /// Least and greatest weight, newtons.
    weight: (f64, f64),
    /// Newtons of push and of lift for a pascal.
    push: (f64, f64),
    advantage: f64,
}

impl InWind {
    fn of(over: &Over, pushed: &[Pushed], asked: &Asked) -> Result<Self, LiftError> {
        let part = over.raised.stated();
        let hold = asked.hold.as_ref().map(|hold| hold_part(over, hold));
        let mut rows = Vec::with_capacity(over.rows.len());
        for band in &over.rows {
            let row = at(&part, band.phi)?;
            let lever = row.lever.as_m();
            // Turned about where a pull lowers, so that the greater moment always asks for more pull.
            let way = if lever < 0.0 { -1.0 } else { 1.0 };
            let ends = [false, true].map(|more| over.raised.moment_nm(band.phi, more) * way);
            let (mut less, mut more) = (0.0, 0.0);
            for one in pushed {
                let placed = one.at.map(|at| at.placed_m(band.phi));
                let z = placed[0].1.abs().max(placed[1].1.abs());
                let most = |sign: f64| (placed[0].0 * sign).max(placed[1].0 * sign).max(0.0);
                let (area, lift) = (one.area.si(), one.lift.si());
                less += area * z + lift * most(way);
                more += area * z + lift * most(-way);
            }
            let eye = asked.eye.and_then(|eye| {
                let off = eye.axis.map_or(Angle::ZERO, |axis| between(row.eye_direction, axis));
                let told = eye.kind == Some(EyeKind::Lug) || eye.axis.is_some();
                eye.kind.filter(|_| told).map(|kind| eye_share(kind, off))
            });
            let hold = match &hold {
                Some(part) => Some(at(part, band.phi)?.lever.as_m().abs()),
                None => None,
            };
            rows.push(Row {
                phi: band.phi,
                lever: lever.abs(),
                line: (maths::cos(row.line_direction.as_rad()), maths::sin(row.line_direction.as_rad())),
                moment: (ends[0].min(ends[1]), ends[0].max(ends[1])),
                gust: (less, more),
                eye: eye.unwrap_or(1.0),
                hold,
            });
        }
        let g = over.raised.gravity.as_m_s2();
        let pieces = over.raised.pieces.iter();
        let weight = pieces.fold((0.0, 0.0), |(low, high), piece| {
            (low + piece.mass.low().as_kg() * g, high + piece.mass.high().as_kg() * g)
        });
        let push = pushed.iter().fold((0.0, 0.0), |(a, l), one| (a + one.area.si(), l + one.lift.si()));
        Ok(Self { rows, weight, push, advantage: part.advantage() })
    }

    /// The greatest pull at a pressure, and its row.
    fn pull(&self, q: f64) -> Option<(f64, &Row)> {
        let of = |row: &Row| (row.moment.1 + q * row.gust.1) / row.lever;
        self.rows.iter().map(|row| (of(row), row)).max_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// The greatest force at the hinge at a pressure.
    fn hinge(&self, q: f64) -> f64 {
        let mut most = 0.0_f64;
        for row in &self.rows {
            let high = (row.moment.1 + q * row.gust.1) / row.lever;
            if high < 0.0 {
                continue;
            }
            let low = ((row.moment.0 - q * row.gust.0) / row.lever).max(0.0);
            for pull in [low, high] {
                for up in [self.weight.0 - q * self.push.1, self.weight.1] {
                    let across = (pull * row.line.0).abs() + q * self.push.0;
                    most = most.max(maths::hypot(across, up - pull * row.line.1));
                }
            }
        }
        most
    }

    /// The greatest force of what holds the part back.
    fn hold(&self, q: f64) -> f64 {
        let need = |row: &Row| {
            let over = -(row.moment.0 - q * row.gust.0);
            if over <= 0.0 { 0.0 } else { over / row.hold.unwrap_or(0.0) }
        };
        self.rows.iter().map(need).fold(0.0, f64::max)
    }

    fn used(&self, q: f64, asked: &Asked) -> Result<Used, LiftError> {
        let rope = match (asked.winch_rated, &asked.drum) {
            (Some(first), Some(on)) => Some(pull_on_layer(first, on)?),
            (rated, _) => rated,
        };
        let pull = self.pull(q).map_or(0.0, |(pull, _)| pull.max(0.0));
        let eye = asked.eye.filter(|eye| eye.kind.is_some()).map(|eye| {
            let share = |row: &Row| {
                let pull = (row.moment.1 + q * row.gust.1) / row.lever;
                if pull <= 0.0 { 0.0 } else { pull / (row.eye * eye.rated.as_n()) }
            };
            self.rows.iter().map(share).fold(0.0, f64::max)
        });
        Ok(Used {
            rope: rope.map(|rope| pull / self.advantage / rope.as_n()),
            eye,
            hinge: asked.hinge_rated.map(|rated| self.hinge(q) / rated.as_n()),
            hold: asked.hold.and_then(|hold| hold.rated).map(|rated| self.hold(q) / rated.as_n()),
        })
    }
}

/// The most pressure that is tried, pascals: a gust of 126 m/s.
const PRESSURE_MOST: f64 = 1e4;
/// Halvings of that: down to a millionth of a pascal.
const HALVINGS: u32 = 34;

/// The greatest pressure of a gust that what is rated of a lift carries over the whole travel, on the safe side, and what is used up first; `None` where it
/// does not carry the part in a calm.
///
/// # Errors
/// Refuses areas outside 0 to 10,000 m2 and what [`super::over`] refuses.
pub fn carried(
    over: &Over,
    pushed: &[Pushed],
    asked: &Asked,
) -> Result<Option<(Pressure, &'static str)>, LiftError> {
    for one in pushed {
        within("area", "area in the wind in square metres", one.area.si(), 0.0, 1e4)?;
        within("area", "area of lift in square metres", one.lift.si(), 0.0, 1e4)?;
    }
    let wind = InWind::of(over, pushed, asked)?;
    let (mut low, mut high) = (0.0, PRESSURE_MOST);
    if wind.used(low, asked)?.most() > 1.0 {
        return Ok(None);
    }
    if wind.used(high, asked)?.most() <= 1.0 {
        return Ok(Some((Pressure::pa(high), wind.used(high, asked)?.first())));
    }
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if wind.used(middle, asked)?.most() > 1.0 { high = middle } else { low = middle }
    }
    Ok(Some((Pressure::pa(low), wind.used(high, asked)?.first())))
}

const PULL: (&str, &str) =
    ("lift.gust", "greatest pull of the winch rope in a gust of the lift's wind limit");
const LIMIT: (&str, &str) =
    ("lift.wind-most", "wind limit of the lift, against the gust that what lifts it carries");

/// What is told where the wind on the part cannot be worked.
pub fn gust_not_known(subject: &Subject, missing: &str) -> Vec<Finding> {
    [PULL, LIMIT]
        .map(|(code, title)| {
            Finding::not_known(code, subject.clone(), title, missing)
                .basis(Basis::Mechanics)
                .never_overridden()
        })
        .into()
}

/// The greatest pull, and greatest force at the hinge, in a gust.
///
/// # Errors
/// As [`carried`].
pub fn in_gust(
    over: &Over,
    pushed: &[Pushed],
    pressure: Pressure,
    asked: &Asked,
) -> Result<Option<(Force, Force)>, LiftError> {
    let wind = InWind::of(over, pushed, asked)?;
    let pull = wind.pull(pressure.as_pa());
    Ok(pull.map(|(pull, _)| (Force::n(pull), Force::n(wind.hinge(pressure.as_pa())))))
}

/// The findings of a part in the wind of its own limit. The limit is against the least of what winch and rope, eye, hinge, and what holds the part past
/// its balance carry; what is not rated of them leaves it not known.
///
/// # Errors
/// As [`carried`].
pub fn gusts(
    subject: &Subject,
    over: &Over,
    pushed: &[Pushed],
    gust: &Gust,
    asked: &Asked,
) -> Result<Vec<Finding>, LiftError> {
    if over.rows.is_empty() {
        return Ok(gust_not_known(
            subject,
            "A travel without a dead point: without one there is no greatest pull.",
        ));
    }
    let most = carried(over, pushed, asked)?;
    let wind = InWind::of(over, pushed, asked)?;
    let q = gust.pressure.as_pa();
    let Some((high, row)) = wind.pull(q) else {
        return Ok(gust_not_known(subject, "Where the line pulls at all."));
    };
    let calm = wind.pull(0.0).map_or(0.0, |(pull, _)| pull.max(0.0)) / wind.advantage;
    let high = high.max(0.0) / wind.advantage;

    let part = over.raised.stated();
    let stated = at(&part, row.phi)?;
    let mut w = crate::working::Working::new();
    let (_, _, d) = lever(&mut w, &part, &stated, OF_LINE);
    let m = moment(&mut w, &over.raised, over.raised.worst(row.phi, stated.lever > Length::ZERO));
    let told = || Provenance::Maker;
    let qt = w.given("q", "pressure of the gust at the part", gust.pressure, Provenance::Computed);
    let way = if stated.lever > Length::ZERO { -1.0 } else { 1.0 };
    let each: Vec<Term> = (1..)
        .zip(pushed)
        .map(|(i, one)| {
            let placed = one.at.map(|at| at.placed_m(row.phi));
            let z = Length::m(placed[0].1.abs().max(placed[1].1.abs())).amount().shown(Shown::Coarse);
            let meaning = format!("most area times coefficient of \"{}\"", one.name);
            let a = w.given(&format!("A{i}"), &meaning, one.area, told());
            let push = a * w.given(
                &format!("z{i}"),
                "how far over or under the hinge it acts",
                z,
                Provenance::Computed,
            );
            let x = (placed[0].0 * way).max(placed[1].0 * way).max(0.0);
            if one.lift <= Area::ZERO || x <= 0.0 {
                return push;
            }
            let l = w.given(&format!("L{i}"), "most area times coefficient of lift of it", one.lift, told());
            let x = Length::m(x).amount().shown(Shown::Coarse);
            push + l * w.given(
                &format!("b{i}"),
                "how far behind the hinge that acts",
                x,
                Provenance::Computed,
            )
        })
        .collect();
    let mw = if each.is_empty() { qt * number(0.0) } else { qt * sum(each) };
    let mw = w.line("Mw", "most moment of the gust about the hinge", mw, Shown::Moment);
    let f = if stated.lever > Length::ZERO { (m + mw) / d } else { (mw - m) / d.abs() };
    let f = w.line("Fw", "pull of all falls together in the gust", f, Shown::Force);
    let eta = w.given("\u{3b7}", "efficiency of a sheave", part.efficiency, told());
    let powers =
        (1..=part.falls).map(|fall| if fall == 1 { eta.clone() } else { eta.clone().power(f64::from(fall)) });
    let n = w.line("n", "how many times the winch's pull acts, after friction", sum(powers), Shown::Ratio);
    w.line("Rw", "pull of the winch rope while it hoists in the gust", f / n, Shown::Force);
    let band = (load(Force::n(calm)), load(Force::n(high)));
    let (code, title) = PULL;
    let pull = match rated_at_layer(&mut w, asked)? {
        Some(limit) => {
            let of = Finding::against_limit(code, subject.clone(), title, band, load(limit), Sense::AtMost);
            of_first_layer(of.basis(Basis::MakersLimit), asked)
        }
        None => Finding::without_limit(code, subject.clone(), title, band, &not_told(asked)),
    };
    let pull = pull.basis(Basis::Mechanics).basis(basis()).working(w).never_overridden();
    let note = "From a calm to a gust in the plane of the travel, the worse way. Wind across it twists the hinge, and is not covered.";
    Ok(vec![pull.note(note), limit(subject, over, gust, asked, most)])
}

fn basis() -> Basis {
    Basis::document("EN 1991-1-4", "5.3, force of the wind on a body", "2005")
}

/// The limit against what is carried.
fn limit(
    subject: &Subject,
    over: &Over,
    gust: &Gust,
    asked: &Asked,
    most: Option<(Pressure, &'static str)>,
) -> Finding {
    let (code, title) = LIMIT;
    let speed = |speed: Speed| speed.amount();
    let Some((pressure, first)) = most else {
        return Finding::statement(code, subject.clone(), title, false)
            .basis(Basis::Mechanics)
            .note("What is rated of it does not carry the part in a calm.")
            .never_overridden();
    };
    let mut w = crate::working::Working::new();
    let v = w.given("v", "wind limit of the lift", gust.speed, Provenance::Maker);
    let q = w.given("q", "pressure of its gust at the part", gust.pressure, Provenance::Computed);
    let qm = w.given("qm", "pressure of the gust that what lifts it carries", pressure, Provenance::Computed);
    let vm = w.line(
        "vm",
        "gust that what lifts it carries, read as the limit is",
        v * (qm / q).sqrt(),
        Shown::Speed,
    );
    let most = Speed::from_si(vm.value());
    let band = (speed(gust.speed), speed(gust.speed));
    let finding = Finding::against_limit(code, subject.clone(), title, band, speed(most), Sense::AtMost)
        .basis(Basis::Mechanics)
        .basis(basis())
        .working(w)
        .note(format!("First used up: {first}. The lift's wind limit is the lesser of the two."))
        .never_overridden();
    let slack = !over.slack.is_empty();
    let missing = [
        (asked.winch_rated.is_none(), asked.key("winch.rated_N", "lifting-rating")),
        (asked.drum.is_none(), "drum-diameter, drum-width, rope-diameter and rope-length"),
        (asked.hinge_rated.is_none(), asked.key("hinge_rated_N", "hinge-rated")),
        (asked.eye.is_none_or(|eye| eye.kind.is_none()), "eye-rated and eye-is"),
        (
            slack && asked.hold.and_then(|hold| hold.rated).is_none(),
            "held-back-at, held-back-to and held-back-rated",
        ),
    ];
    let missing = missing.iter().filter(|(gone, _)| *gone);
    missing.fold(finding, |finding, (_, key)| finding.doubted(&format!("What else it must carry: {key}.")))
}

/// The findings of a part that hangs on its line, in the wind of its own limit: the pull, and how far out of plumb it hangs.
///
/// # Errors
/// As [`carried`].
pub fn gusts_hung(
    subject: &Subject,
    weight: (Force, Force),
    (falls, efficiency): (u32, Ratio),
    pushed: &[Pushed],
    gust: &Gust,
    asked: &Asked,
) -> Result<Vec<Finding>, LiftError> {
    let areas = pushed.iter().fold(Area::ZERO, |all, one| all + one.area);
    within("area", "area in the wind in square metres", areas.si(), 0.0, 1e4)?;
    let told = || Provenance::Maker;
    let mut w = crate::working::Working::new();
    let wt = w.given("W", "weight on the line, the most", weight.1, Provenance::Computed);
    let a = w.given("A", "most area times coefficient of what hangs", areas, told());
    let q = w.given("q", "pressure of the gust at the part", gust.pressure, Provenance::Computed);
    let h = w.line("H", "push of the gust", a * q, Shown::Force);
    let f = w.line(
        "Fw",
        "pull of all falls together in the gust",
        (wt.squared() + h.clone().squared()).sqrt(),
        Shown::Force,
    );
    let eta = w.given("\u{3b7}", "efficiency of a sheave", efficiency, told());
    let powers =
        (1..=falls).map(|fall| if fall == 1 { eta.clone() } else { eta.clone().power(f64::from(fall)) });
    let n = w.line("n", "how many times the winch's pull acts, after friction", sum(powers), Shown::Ratio);
    let times = n.value();
    let r = w.line("Rw", "pull of the winch rope while it hoists in the gust", f / n, Shown::Force);
    let (code, title) = PULL;
    let band = (load(weight.0 / times), load(Force::n(r.value())));
    let out = Angle::rad(maths::atan2(h.value(), weight.0.as_n()));
    let rated = rated_at_layer(&mut w, asked)?;
    let pull = match rated {
        Some(limit) => {
            let of = Finding::against_limit(code, subject.clone(), title, band, load(limit), Sense::AtMost);
            of_first_layer(of.basis(Basis::MakersLimit), asked)
        }
        None => Finding::without_limit(code, subject.clone(), title, band, &not_told(asked)),
    };
    let pull = pull.basis(Basis::Mechanics).basis(basis()).working(w).never_overridden();
    let pull = pull.note(format!(
        "It hangs up to {} out of plumb in the gust where no tag line holds it; how it swings is not covered.",
        super::findings::degrees(out)
    ));
    let (code, title) = LIMIT;
    let Some(rated) = rated else {
        let finding = Finding::not_known(code, subject.clone(), title, &not_told(asked));
        return Ok(vec![pull, finding.basis(Basis::Mechanics).never_overridden()]);
    };
    let eye = asked.eye.filter(|eye| eye.kind == Some(EyeKind::Lug)).map(|eye| eye.rated);
    let most = eye.map_or(rated * times, |eye| eye.min(rated * times));
    let spare = most.as_n() * most.as_n() - weight.1.as_n() * weight.1.as_n();
    let Some(side) = (spare >= 0.0).then(|| spare.sqrt()) else {
        let finding = Finding::statement(code, subject.clone(), title, false).basis(Basis::Mechanics);
        let finding = finding.note("What is rated of it does not carry the part in a calm.");
        return Ok(vec![pull, finding.never_overridden()]);
    };
    let mut w = crate::working::Working::new();
    let f = w.given("Fa", "pull that winch, rope and eye carry", most, Provenance::Computed);
    let wt = w.given("W", "weight on the line, the most", weight.1, Provenance::Computed);
    let a = w.given("A", "most area times coefficient of what hangs", areas, told());
    let v = w.given("v", "wind limit of the lift", gust.speed, told());
    let q = w.given("q", "pressure of its gust at the part", gust.pressure, Provenance::Computed);
    let (qm, free) = if areas > Area::ZERO { (side / areas.si(), false) } else { (PRESSURE_MOST, true) };
    let speed = if free || qm > PRESSURE_MOST {
        gust.speed * (PRESSURE_MOST / gust.pressure.as_pa()).sqrt()
    } else {
        let qm =
            w.line("qm", "gust that they carry", (f.squared() - wt.squared()).sqrt() / a, Shown::Pressure);
        Speed::from_si(
            w.line("vm", "the same, read as the limit is", v * (qm / q).sqrt(), Shown::Speed).value(),
        )
    };
    let band = (gust.speed.amount(), gust.speed.amount());
    let finding = Finding::against_limit(code, subject.clone(), title, band, speed.amount(), Sense::AtMost)
        .basis(Basis::Mechanics)
        .basis(basis())
        .working(w)
        .note("Winch, rope and eye alone: a part that swings is let down long before. The lift's wind limit is the lesser of the two.")
        .never_overridden();
    let finding = of_first_layer(finding, asked);
    Ok(vec![
        pull,
        if eye.is_some() {
            finding
        } else {
            finding.doubted("What the eye carries, pulled aslant: eye-rated and eye-is.")
        },
    ])
}
