//! What is found of a lowered frame and of the change, with the working.

use super::super::answer::{Choice, Stage};
use super::super::model::Problem;
use super::super::plane::{Bound, most_central};
use super::answer::{Missing, Outcome, Trim};
use super::tops::{gap, height_read, slopes};
use super::{Foot, Frame, Question};
use crate::finding::{Basis, Finding, Proof, Sense, Subject};
use crate::working::{Provenance, Term, Working};
use tober_quantity::{Amount, Length, Quantity, Shown, Slope, TenthMm};

/// What is found of a frame that was read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// As it stands: level, each top against the plane of the frame, each foot, and whether a change serves.
    pub now: Vec<Finding>,
    /// As it will stand once changed; empty where nothing changes.
    pub after: Vec<Finding>,
}

/// A height, a slope along and a slope across, in tenths of a millimetre and those a metre, at the origin.
type Lying = [f64; 3];

/// The findings on a trim.
///
/// How far a top is from the plane of the frame is told against the plane in which the frame will lie, so that a leg
/// that has sunk alone is named alone; where no change is known, against the plane that shares the miss.
pub fn findings(question: &Question, trim: &Trim) -> Found {
    let lying = lying(question, trim);
    let mut found = Found { now: level_now(question, trim).to_vec(), after: Vec::new() };
    for place in 0..question.problem.supports.len() {
        found.now.push(top(question, trim, lying, place));
        found.now.push(foot(question, place));
    }
    found.now.extend(clear(question, trim, matches!(trim.outcome, Outcome::Inside { .. })));
    found.now.push(serves(question, trim));
    if let Outcome::Change { choice, .. } = &trim.outcome {
        found.after.extend(level_after(question, trim, choice));
        found.after.extend(clear(question, trim, true).map(|finding| finding.note(AS_WORKED_OUT)));
        found.after.extend(
            (0..question.problem.supports.len()).map(|place| top_after(question, trim, choice, place)),
        );
    }
    found
}

const AS_WORKED_OUT: &str = "As worked out. Read the frame again once it is done, and that reading counts.";

/// Whether what must be clear of the ground is, where the problem says what that is.
fn clear(question: &Question, trim: &Trim, holds: bool) -> Option<Finding> {
    if question.problem.clearances.is_empty() || !(holds || trim.too_low) {
        return None;
    }
    let title = "what must be clear of the ground is clear";
    let names = question.problem.clearances.iter().map(|clearance| clearance.name.as_str());
    let names: std::collections::BTreeSet<&str> = names.collect();
    let names: Vec<&str> = names.into_iter().collect();
    let finding = Finding::statement("trim.clearance", Subject::Frame, title, holds)
        .never_overridden()
        .basis(Basis::MakersLimit)
        .basis(Basis::ours("the foot that has sunk least since the survey is taken not to have sunk"))
        .note(format!("This is of: {}.", names.join(", ")))
        .note("Sinking that all feet share does not show in a reading of the frame: look, and measure.");
    Some(if holds {
        finding
    } else {
        finding.advice("The frame lies too low. Look, and measure, before going on.")
    })
}

/// How far the top of each support is above the plane of the frame, below it if negative; `None` where it is not known.
pub fn misses(question: &Question, trim: &Trim) -> Vec<Option<Length>> {
    let lying = lying(question, trim);
    (0..trim.tops.len()).map(|place| miss(question, trim, lying, place, trim.tops[place]?)).collect()
}

/// How far a height at a support is above the plane of the frame. Told exactly where a choice gives the plane, so that
/// a tie at a limit is told as it was decided.
#[expect(clippy::cast_precision_loss, reason = "heights on a pitch are far inside a double")]
fn miss(
    question: &Question,
    trim: &Trim,
    lying: Option<Lying>,
    place: usize,
    height: TenthMm,
) -> Option<Length> {
    let support = &question.problem.supports[place];
    let tenths = match trim.choice() {
        Some(choice) => {
            let (plane, over) = choice.plane.height_at(support.x_mm, support.y_mm);
            (i128::from(height.0) * over - plane) as f64 / over as f64
        }
        None => height.0 as f64 - height_of(lying?, &question.problem, place),
    };
    Some(Length::mm(tenths / 10.0))
}

fn height_of(lying: Lying, problem: &Problem, place: usize) -> f64 {
    let support = &problem.supports[place];
    lying[0] + lying[1] * support.x_mm as f64 / 1000.0 + lying[2] * support.y_mm as f64 / 1000.0
}

#[expect(clippy::cast_precision_loss, reason = "heights on a pitch are far inside a double")]
fn of_choice(choice: &Choice) -> Lying {
    let (height, over) = choice.plane.height_at(0, 0);
    let (along, across, under) = choice.plane.slopes();
    [height as f64 / over as f64, along as f64 / under as f64, across as f64 / under as f64]
}

/// Doublings of the tolerances until a plane shares the miss: more than any reading at the door needs.
const DOUBLINGS: u32 = 24;

/// The plane against which tops are told.
fn lying(question: &Question, trim: &Trim) -> Option<Lying> {
    if let Some(choice) = trim.choice() {
        return Some(of_choice(choice));
    }
    let problem = &question.problem;
    let known = trim.tops.iter().zip(&problem.supports).filter_map(|(top, support)| {
        let top = top.as_ref()?.0;
        Some(Bound { x_mm: support.x_mm, y_mm: support.y_mm, low: top, high: top })
    });
    let known: Vec<Bound> = known.collect();
    if known.len() < 3 {
        return None;
    }
    (0..DOUBLINGS).find_map(|doubled| {
        let times = |tolerance: i64| tolerance.max(1).saturating_mul(1 << doubled);
        let slopes = (times(problem.level_tol_x.0), times(problem.level_tol_y.0));
        most_central(&known, &[], times(problem.planarity_tol.0), slopes)
    })
}

fn hundredths(slope: i64) -> Slope {
    Slope::mm_per_m(slope as f64 / 100.0)
}

fn level_limit(tenths: i64) -> Amount {
    Slope::mm_per_m(tenths as f64 / 10.0).amount()
}

const NO_OFF_BY: &str = "What a reading of the frame may be off by.";

/// What a reading may be off by, as a term of the working.
fn off_by(w: &mut Working, given: Option<Amount>) -> Option<Term> {
    let given = given.filter(|off| off.si > 0.0);
    let from = Provenance::chosen("what the reading may be off by");
    given.map(|off| w.given("o", "what a reading may be off by, either way", off, from))
}

fn level_now(question: &Question, trim: &Trim) -> [Finding; 2] {
    let problem = &question.problem;
    let titles = [
        ("trim.level-along", "level along the frame", problem.level_tol_x.0),
        ("trim.level-across", "level across the frame", problem.level_tol_y.0),
    ];
    let slopes = slopes_now(question, trim);
    let mut axis = 0;
    titles.map(|(code, title, limit)| {
        let slope = slopes.map(|slopes| slopes[axis]);
        axis += 1;
        let subject = Subject::Frame;
        let Some(slope) = slope else {
            let what = "The height of the frame at three legs that are not in one line.";
            return Finding::not_known(code, subject, title, what).never_overridden();
        };
        let mut w = Working::new();
        let (meaning, from, off, known) = match &question.reading.frame {
            Frame::Level { off_by, .. } => {
                let off = off_by.map(|off| hundredths(off.0).amount());
                (
                    "slope, as the level shows it",
                    Provenance::measured("a level on the frame"),
                    off,
                    off.is_some(),
                )
            }
            Frame::Heights { off_by, .. } => (
                "slope of the plane through the heights that were read",
                Provenance::Computed,
                None,
                off_by.is_some(),
            ),
        };
        let a = w.given("a", meaning, slope, from);
        let size = match off_by(&mut w, off) {
            Some(off) => a.abs() + off,
            None => a.abs(),
        };
        let size = w.line("|a|", "the most it may be, without its sign", size, Shown::Slope);
        let least = (slope.abs().amount().si - off.map_or(0.0, |off| off.si)).max(0.0);
        let band =
            (Amount { si: least, shown: Shown::Slope }, Amount { si: size.value(), shown: Shown::Slope });
        let finding = Finding::against_limit(code, subject, title, band, level_limit(limit), Sense::AtMost)
            .never_overridden()
            .basis(Basis::MakersLimit)
            .working(w);
        if known { finding } else { finding.doubted(NO_OFF_BY) }
    })
}

/// The slopes of the frame as it stands, along and across.
pub fn slopes_now(question: &Question, trim: &Trim) -> Option<[Slope; 2]> {
    match &question.reading.frame {
        Frame::Level { along, across, .. } => Some([hundredths(along.0), hundredths(across.0)]),
        Frame::Heights { .. } => {
            if let Outcome::Inside { choice } = &trim.outcome {
                return Some(slopes_of(choice));
            }
            let read = question.problem.supports.iter().enumerate();
            let read = read.filter_map(|(place, s)| Some((s.clone(), height_read(question, place)?)));
            let (supports, heights): (Vec<_>, Vec<i64>) = read.unzip();
            ratio(slopes(&supports, &heights)?)
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "slopes of a frame are far inside a double")]
fn ratio((along, across, over): (i128, i128, i128)) -> Option<[Slope; 2]> {
    let slope = |up: i128| Slope::mm_per_m(up as f64 / over as f64 / 10.0);
    Some([slope(along), slope(across)])
}

fn slopes_of(choice: &Choice) -> [Slope; 2] {
    let lying = of_choice(choice);
    [Slope::mm_per_m(lying[1] / 10.0), Slope::mm_per_m(lying[2] / 10.0)]
}

/// The slopes that a reading will show once the change is made: with a level, those of the plane of least squares
/// through the tops; with heights, those of the plane that proves the change.
pub fn slopes_after(question: &Question, trim: &Trim) -> Option<[Slope; 2]> {
    let choice = trim.choice()?;
    match &question.reading.frame {
        Frame::Heights { .. } => Some(slopes_of(choice)),
        Frame::Level { .. } if trim.changed().is_empty() => slopes_now(question, trim),
        Frame::Level { .. } => {
            let heights: Vec<i64> = choice.supports.iter().map(|placed| placed.seat.0).collect();
            slopes(&question.problem.supports, &heights).and_then(ratio)
        }
    }
}

fn name(question: &Question, place: usize) -> &str {
    &question.problem.supports[place].name
}

/// The top of a support, built up from what was read of it.
fn top_term(w: &mut Working, question: &Question, place: usize) -> Option<Term> {
    let gap = TenthMm(gap(question, place)?).length();
    let read = TenthMm(height_read(question, place)?).length();
    let height = match &question.reading.frame {
        Frame::Level { .. } => {
            let meaning = "height of the frame here over its datum, from the two slopes, to 0.1 mm";
            w.given("h", meaning, read, Provenance::measured("a level on the frame"))
        }
        Frame::Heights { .. } => {
            w.given("h", "height of the frame here", read, Provenance::measured("over the string or laser"))
        }
    };
    let g =
        w.given("g", "gap under the foot", gap, Provenance::measured("kicked, and a rule or card under it"));
    Some(w.line("s", "height at which this leg would carry the frame", height - g, Shown::Fine))
}

fn height_off_by(question: &Question) -> Option<Option<Amount>> {
    match &question.reading.frame {
        // A level that is off tilts all legs together and is held against the level.
        Frame::Level { off_by, .. } => off_by.map(|_| None),
        Frame::Heights { off_by, .. } => off_by.map(|off| (off.0 > 0).then(|| off.length().amount())),
    }
}

const TOP: &str = "height of the leg, against the plane of the frame";

fn top(question: &Question, trim: &Trim, lying: Option<Lying>, place: usize) -> Finding {
    let subject = Subject::Support(name(question, place).to_owned());
    let top = trim.tops[place].zip(lying);
    let known = top.and_then(|(top, plane)| Some((plane, miss(question, trim, lying, place, top)?.abs())));
    let Some((plane, miss)) = known else {
        let what = "The height of the frame here, and whether the foot is snug or light, with its gap; at three legs.";
        return Finding::not_known("trim.plane", subject, TOP, what).never_overridden();
    };
    let mut w = Working::new();
    let plane = height_of(plane, &question.problem, place);
    if let Some(s) = top_term(&mut w, question, place) {
        let meaning = "height of the plane of the frame here";
        let f = w.given("f", meaning, Length::mm(plane / 10.0), Provenance::Computed);
        let d = w.line("d", "how far the leg is from it", (s - f).abs(), Shown::Finest);
        most(&mut w, question, d);
    }
    against_plane("trim.plane", TOP, question, subject, miss, w)
}

/// The last line of a working: with what the height may be off by.
fn most(w: &mut Working, question: &Question, d: Term) {
    if let Some(off) = height_off_by(question).flatten() {
        let from = Provenance::chosen("what the reading may be off by");
        let o = w.given("o", "what a height may be off by, either way", off.shown(Shown::Finest), from);
        w.line("m", "the most it may be", d + o, Shown::Finest);
    }
}

fn against_plane(
    code: &'static str,
    title: &str,
    question: &Question,
    subject: Subject,
    miss: Length,
    w: Working,
) -> Finding {
    let off = height_off_by(question);
    let width = off.flatten().map_or(0.0, |off| off.si);
    let shown = |si: f64| Amount { si, shown: Shown::Finest };
    let band = (shown((miss.si() - width).max(0.0)), shown(miss.si() + width));
    let limit = question.problem.planarity_tol.length().amount().shown(Shown::Finest);
    let finding = Finding::against_limit(code, subject, title, band, limit, Sense::AtMost)
        .never_overridden()
        .basis(Basis::MakersLimit)
        .working(w);
    if off.is_some() { finding } else { finding.doubted(NO_OFF_BY) }
}

const FOOT: &str = "foot on its boards";

fn foot(question: &Question, place: usize) -> Finding {
    let subject = Subject::Support(name(question, place).to_owned());
    match question.reading.feet[place] {
        None => Finding::not_known("trim.foot", subject, FOOT, "A kick at this foot: snug, or light?"),
        Some(Foot::Snug) => {
            Finding::statement("trim.foot", subject, FOOT, true).note("Snug: it does not move when kicked.")
        }
        Some(Foot::Light { gap: None }) => {
            Finding::not_known("trim.foot", subject, FOOT, "The gap under this foot, which is light.")
                .advice("Slide a rule or cards under the foot and read the gap.")
        }
        Some(Foot::Light { gap: Some(gap) }) => {
            let mut w = Working::new();
            let from = Provenance::measured("a rule or card under the foot");
            let gap = gap.length().amount().shown(Shown::Finest);
            let g = w.given("g", "gap under the foot", gap, from);
            let figure = Amount { si: g.value(), shown: Shown::Finest };
            let limit = question.problem.planarity_tol.length().amount().shown(Shown::Finest);
            Finding::against_limit(
                "trim.foot",
                subject,
                "gap under the foot",
                (figure, figure),
                limit,
                Sense::AtMost,
            )
            .basis(Basis::MakersLimit)
            .basis(Basis::ours(
                "a foot touches once its gap is no more than a foot may be off the plane of the frame",
            ))
            .working(w)
            .note("Light: the legs beside it carry its share until it touches.")
        }
    }
    .never_overridden()
}

const SERVES: &str = "a change of holes, screws and boards that brings the frame in";

fn serves(question: &Question, trim: &Trim) -> Finding {
    let (code, subject) = ("trim.serves", Subject::Frame);
    match &trim.outcome {
        Outcome::Inside { .. } => {
            Finding::statement(code, subject, "the frame is in, and nothing has to change", true)
                .proof(Proof::Proved)
        }
        Outcome::Change { proof, changed, .. } => {
            let proof = match proof {
                Stage::Proved => Proof::Proved,
                Stage::BestMet => Proof::NotReached {
                    best: format!("a change of {} of the legs; a lesser one is not ruled out", changed.len()),
                },
            };
            Finding::statement(code, subject, SERVES, true).proof(proof)
        }
        Outcome::NotRead { missing } => {
            let mut finding = Finding::not_known(code, subject, SERVES, &sentence(question, missing));
            finding.proof = None;
            finding
        }
        Outcome::TooCoarse => {
            let what = "A finer reading: this one may be off by as much as the frame may be.";
            Finding::not_known(code, subject, SERVES, what)
        }
        Outcome::Nothing { short } => {
            let finding = Finding::statement(code, subject, SERVES, false)
                .proof(Proof::Refuted { counterexample: "Every change was ruled out.".to_owned() });
            short.iter().fold(finding, |finding, &(place, short)| {
                finding.note(format!(
                    "{} cannot be brought in: the nearest that holes, screw and boards reach is {} mm short.",
                    capitalised(name(question, place)),
                    tober_quantity::significant(short.length().as_mm(), 6)
                ))
            })
        }
        Outcome::NotReached => Finding::not_known(
            code,
            subject,
            SERVES,
            "The search ended before it found a change or ruled all out.",
        )
        .proof(Proof::NotReached { best: "nothing found".to_owned() }),
    }
    .never_overridden()
}

fn capitalised(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// What is missing, in a sentence.
fn sentence(question: &Question, missing: &[Missing]) -> String {
    let named = |missing: &Missing| match *missing {
        Missing::Height(place) => format!("the height at {}", name(question, place)),
        Missing::Foot(place) => format!("whether {} is snug or light", name(question, place)),
        Missing::Gap(place) => format!("the gap under {}", name(question, place)),
    };
    let list: Vec<String> = missing.iter().map(named).collect();
    format!("{}.", capitalised(&list.join(", ")))
}

fn level_after(question: &Question, trim: &Trim, choice: &Choice) -> [Finding; 2] {
    let problem = &question.problem;
    let [along, across] = slopes_after(question, trim).unwrap_or_else(|| slopes_of(choice));
    let off = match &question.reading.frame {
        Frame::Level { off_by, .. } => off_by.map(|off| hundredths(off.0).amount()),
        Frame::Heights { .. } => None,
    };
    let known = match &question.reading.frame {
        Frame::Level { off_by, .. } => off_by.is_some(),
        Frame::Heights { off_by, .. } => off_by.is_some(),
    };
    let one = |code, title, slope: Slope, limit: i64| {
        let mut w = Working::new();
        let a = w.given("a", "slope of the plane through the legs", slope, Provenance::Computed);
        let size = match off_by(&mut w, off) {
            Some(off) => a.abs() + off,
            None => a.abs(),
        };
        let size = w.line("|a|", "the most it may be, without its sign", size, Shown::Slope);
        let figure = Amount { si: size.value(), shown: Shown::Slope };
        let limit = level_limit(limit);
        let finding =
            Finding::against_limit(code, Subject::Frame, title, (figure, figure), limit, Sense::AtMost)
                .never_overridden()
                .basis(Basis::MakersLimit)
                .working(w)
                .note(AS_WORKED_OUT);
        if known { finding } else { finding.doubted(NO_OFF_BY) }
    };
    [
        one(
            "trim.after-level-along",
            "level along the frame, after the change",
            along,
            problem.level_tol_x.0,
        ),
        one(
            "trim.after-level-across",
            "level across the frame, after the change",
            across,
            problem.level_tol_y.0,
        ),
    ]
}

fn top_after(question: &Question, trim: &Trim, choice: &Choice, place: usize) -> Finding {
    let subject = Subject::Support(name(question, place).to_owned());
    let mut w = Working::new();
    let top = trim.tops[place].unwrap_or_default();
    let up = choice.supports[place].seat - top;
    let plane = Length::mm(height_of(of_choice(choice), &question.problem, place) / 10.0);
    let s =
        w.given("s", "height at which this leg carries the frame now", top.length(), Provenance::Computed);
    let u = w.given("u", "how far the change takes it up", up.length(), Provenance::chosen("this change"));
    let f = w.given("f", "height of the plane of the frame here", plane, Provenance::Computed);
    let d = w.line("d", "how far the leg is from it", (s + u - f).abs(), Shown::Finest);
    most(&mut w, question, d);
    let seat = choice.supports[place].seat;
    let miss = miss(question, trim, None, place, seat).map_or(Length::ZERO, Length::abs);
    let title = "height of the leg, against the plane of the frame, after the change";
    against_plane("trim.after-plane", title, question, subject, miss, w)
}
