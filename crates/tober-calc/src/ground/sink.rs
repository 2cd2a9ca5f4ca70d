//! The sink test: load a foot on its board, wait 15 minutes, measure how far it sank.

use super::GroundError;
use super::error::{LOAD_KN, load_within, within};
use super::spread::PlanSize;
use crate::finding::{Basis, Finding, Sense, Standing, Subject};
use crate::working::{Provenance, Working, greatest, number};
use tober_quantity::{Force, Length, Quantity, Shown, Subgrade, Time};

/// How many minutes the load stands before the sink is read (rule S4; common practice, no source).
pub const WAIT_LEAST_MIN: f64 = 15.0;
/// A working load may be at most this many times the tested load. Ours: a load that was never tried is
/// not judged by a straight line drawn through one point.
pub const BEYOND_TEST_MOST: f64 = 1.25;
/// A base whose sides fall short of the tested plate's by no more than this share counts as its size. Ours.
pub const SAME_SIZE_WITHIN: f64 = 0.05;

/// One sink test.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SinkTest {
    /// The load on the foot, by the jack's gauge.
    pub load: Force,
    /// How far that may be off.
    pub load_off_by: Force,
    /// What bore on the ground, as it is counted for the working stack too.
    pub plate: PlanSize,
    /// How long it stood loaded.
    pub waited: Time,
    /// How far it sank.
    pub sink: Length,
    /// How far that reading may be off.
    pub sink_off_by: Length,
}

impl SinkTest {
    fn check(&self) -> Result<(), GroundError> {
        self.plate.check("side of the plate")?;
        within("load of the test", self.load.as_kn(), (0.01, LOAD_KN.1), "kN")?;
        within(
            "tolerance of the test's load",
            self.load_off_by.as_kn(),
            (0.0, self.load.as_kn() * 0.9),
            "kN",
        )?;
        within("waiting time", self.waited.as_min(), (0.0, 1e5), "min")?;
        within("sink", self.sink.as_mm(), (0.0, 1000.0), "mm")?;
        within("tolerance of the sink", self.sink_off_by.as_mm(), (0.1, 100.0), "mm")
    }

    /// The load that surely stood on it.
    fn load_low(&self) -> Force {
        self.load - self.load_off_by
    }

    /// The most that it sank.
    fn sink_high(&self) -> Length {
        self.sink + self.sink_off_by
    }

    /// The subgrade stiffness k = p/s, from the least load and the greatest sink that the readings allow.
    ///
    /// For this plate only: soil under a wider one sinks more at the same pressure, so the number is not
    /// carried to another size. Source: the definition of the modulus of subgrade reaction.
    ///
    /// # Errors
    /// A reading out of range.
    pub fn subgrade(&self) -> Result<Subgrade, GroundError> {
        self.check()?;
        let pressure = self.load_low() / self.plate.area();
        Ok(Subgrade::from_si(pressure.si() / self.sink_high().si()))
    }
}

/// How far a foot will sink under its working load, from a test on the same ground with the same base.
///
/// With r the working load over the tested load, the sink is at least r times the tested sink (a straight line)
/// and counted as the greater of the tested sink itself and r² times it: a lower load earns no credit,
/// because the first part of a sink is bedding; a greater one is charged more than in proportion,
/// because soil gives way faster as it nears its strength. Past r = 1.25 nothing is said. A load past the
/// tested one is at best Close. A larger base than the tested plate gets no credit and is covered: under one
/// load it presses less on the soil at every depth (2:1 spread, reference GS-23). Not known: a smaller base
/// (by over 5 %), a shorter wait than 15 minutes,
/// no allowed sink. The rule is ours; no published one was found for a test of one load.
///
/// # Errors
/// A reading, load or limit out of range.
///
/// # Not covered
/// Settlement over days or under turning riders; ground that rain has softened since: test it again.
pub fn sink_under_load(
    subject: Subject,
    test: &SinkTest,
    load: (Force, Force),
    base: PlanSize,
    allowed: Option<Length>,
) -> Result<Finding, GroundError> {
    const CODE: &str = "ground.sink";
    const TITLE: &str = "sink of the foot under its load";
    test.check()?;
    base.check("side of the base")?;
    load_within(load)?;
    if let Some(allowed) = allowed {
        within("allowed sink", allowed.as_mm(), (0.1, 1000.0), "mm")?;
    }
    let unknown = |why: &str, advice: &str| {
        Ok(Finding::not_known(CODE, subject.clone(), TITLE, why).advice(advice).never_overridden())
    };
    if !covers(base, test.plate) {
        return unknown(
            "The foot will bear on a smaller area than the one that was tested.",
            "Test again on the board that will lie on the ground here.",
        );
    }
    if test.waited.as_min() < WAIT_LEAST_MIN {
        return unknown(
            "The test was read before 15 minutes were over.",
            "Load the foot again, wait 15 minutes, and measure the sink.",
        );
    }
    if load.1.si() > test.load_low().si() * BEYOND_TEST_MOST {
        let needed_t = load.1.mass().as_t();
        return unknown(
            "The leg will carry more than 1.25 times what was surely on the foot in the test.",
            &format!("Test again with at least {:.1} t on the foot.", (needed_t * 10.0).ceil() / 10.0),
        );
    }
    let mut working = Working::new();
    let measured = Provenance::measured;
    let carried = working.given("R", "load on the leg, greatest", load.1, Provenance::Computed);
    let tested = working.given("Rt", "load in the test, least", test.load_low(), measured("jack gauge"));
    let sank = working.given("st", "sink in the test, greatest", test.sink_high(), measured("rule, 15 min"));
    let ratio = working.line("r", "working load over tested load", carried / tested, Shown::Ratio);
    let counted = greatest(vec![number(1.0), ratio.clone().squared()]) * sank;
    let sink = working.line("s", "sink counted", counted, Shown::Fine);
    let straight = Length::m(test.sink_high().as_m() * load.0.si() / test.load_low().si());
    let short = |length: Length| length.amount().shown(Shown::Short);
    let band = (short(straight.min(Length::m(sink.value()))), short(Length::m(sink.value())));
    let beyond = ratio.value() > 1.0;
    let finding = match allowed {
        Some(most) => Finding::against_limit(CODE, subject, TITLE, band, short(most), Sense::AtMost),
        None => Finding::without_limit(CODE, subject, TITLE, band, "How far a foot may sink was not said."),
    };
    let mut finding = finding
        .working(working)
        .basis(Basis::ours(
            "a sink test on no larger a base and a load no more than 1.25 times the tested one",
        ))
        .advice("Lay a larger board, dig down to firmer ground, or move the foot, and test again.")
        .note("The test holds for the ground as it was: after rain, test again.")
        .never_overridden();
    if beyond && finding.standing == Standing::Inside {
        finding.standing = Standing::Close;
        finding = finding.note("The leg will carry more than was on it in the test.");
    }
    Ok(finding)
}

/// Whether a base is at least as large as the plate of the test, whichever way they are turned.
fn covers(base: PlanSize, plate: PlanSize) -> bool {
    let sides = |size: PlanSize| (size.along.min(size.across), size.along.max(size.across));
    let ((base_least, base_most), (plate_least, plate_most)) = (sides(base), sides(plate));
    let reaches = |side: Length, of: Length| side.as_m() >= (1.0 - SAME_SIZE_WITHIN) * of.as_m();
    reaches(base_least, plate_least) && reaches(base_most, plate_most)
}
