//! What is answered: who gets off next, what is out of balance then, and who stays.

use super::kinds::{Kinds, apart_deg, reached_at, round_deg};
use super::search::{greatest_of, least, most_within};
use super::turns::{Removal, fewest, plainly};
use super::{RidersError, Stopped};
use tober_quantity::{Angle, Moment, maths};

/// Why riders of a seat stay aboard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhyLeft {
    /// The seat cannot be opened.
    Jammed,
    /// No place reaches it.
    NotReached,
    /// It would take the ride past what is allowed.
    PastLimit,
}

/// Riders get off one seat.
#[derive(Clone, Debug, PartialEq)]
pub struct Off {
    /// The seat, by its place in the question.
    pub seat: usize,
    /// Which of its riders get off now, by their places in the question.
    pub riders: Vec<usize>,
    /// How far the ride is turned then.
    pub turned: Angle,
    /// By how much it is turned for this, the shorter way; positive with the directions of the seats.
    pub turn: Angle,
    /// The place at which they get off, by its place in the question.
    pub access: usize,
    /// What is out of balance after it, at the worst angle of the ride.
    pub out_of_balance: Moment,
    /// The same about the axis with the ride turned as it then stands: what brake or gear feels.
    pub felt: Moment,
}

/// An order in which riders get off.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Who gets off, first to last.
    pub order: Vec<Off>,
    /// What is out of balance as it stopped.
    pub at_start: Moment,
    /// The greatest that is out of balance at any stage.
    pub greatest: Moment,
    /// What that is at least, whatever the order; the same where the order is proved best.
    pub greatest_bound: Moment,
    /// How often it is turned by hand.
    pub turns: usize,
    /// How often at least, with that greatest moment.
    pub turns_bound: usize,
    /// Whether no order with as few turns is turned through less.
    pub least_angle: bool,
    /// Who stays aboard, and why.
    pub left: Vec<(usize, WhyLeft)>,
    /// Whether everybody who stays for the sake of the limit was shown to have to.
    pub left_proved: bool,
}

impl Answer {
    /// Whether the greatest moment and the turns are both proved least.
    pub fn proved(&self) -> bool {
        self.greatest <= self.greatest_bound && self.turns <= self.turns_bound && self.left_proved
    }
}

#[expect(clippy::cast_precision_loss, reason = "moments of riders are far below 2^52 N m")]
fn moment(whole: u64) -> Moment {
    Moment::nm(whole as f64)
}

/// The order in which riders get off: the least greatest moment, then the fewest turns. Where even the best order passes
/// `allowed`, the longest one that does not, and who has to stay.
///
/// # Errors
/// Refuses seats, masses and angles that are out of range.
pub fn answered(question: &Stopped, allowed: Option<Moment>) -> Result<Answer, RidersError> {
    let kinds = Kinds::new(question)?;
    let best = least(&kinds);
    let cap = allowed.map(|allowed| {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
        let whole = allowed.as_nm().clamp(0.0, 1e15).floor() as u64;
        whole
    });
    if let Some(cap) = cap.filter(|&cap| best.greatest_n_m > cap) {
        let (order, proved) = most_within(&kinds, cap);
        let greatest = greatest_of(&kinds, &order);
        let turned = fewest(&kinds, greatest.max(cap), &order);
        let mut answer = told(question, &kinds, &turned.order);
        answer.turns_bound = turned.turns_bound;
        answer.least_angle = turned.least_angle;
        answer.greatest_bound = answer.greatest.min(moment(greatest));
        answer.left_proved = proved;
        let gone = |seat: usize| {
            answer.order.iter().filter(|off| off.seat == seat).map(|off| off.riders.len()).sum::<usize>()
        };
        let stay = |seat: &usize| {
            let riders = question.seats[*seat].riders.len();
            riders > gone(*seat) && answer.left.iter().all(|(left, _)| left != seat)
        };
        let stay: Vec<usize> = (0..question.seats.len()).filter(stay).collect();
        answer.left.extend(stay.into_iter().map(|seat| (seat, WhyLeft::PastLimit)));
        return Ok(answer);
    }
    let turned = fewest(&kinds, best.greatest_n_m, &best.order);
    let mut answer = told(question, &kinds, &turned.order);
    answer.greatest = moment(best.greatest_n_m);
    answer.greatest_bound = moment(best.bound_n_m);
    answer.turns_bound = turned.turns_bound;
    answer.least_angle = turned.least_angle;
    Ok(answer)
}

/// What becomes of it in an order that somebody names, seat by seat.
///
/// # Errors
/// Refuses an order that names a seat with nobody to get off, or that cannot be reached or opened.
pub fn followed(question: &Stopped, seats: &[usize]) -> Result<Answer, RidersError> {
    let kinds = Kinds::new(question)?;
    let mut left: Vec<Vec<(usize, usize)>> = kinds.kinds.iter().map(|kind| kind.seats.clone()).collect();
    let mut order = Vec::new();
    for &seat in seats {
        let name = || question.seats.get(seat).map_or_else(|| seat.to_string(), |seat| seat.name.clone());
        let mut any = false;
        for (kind, seats) in left.iter_mut().enumerate() {
            while let Some(place) = seats.iter().position(|&(other, _)| other == seat) {
                order.push((kind, seats.remove(place)));
                any = true;
            }
        }
        if !any {
            let why = match kinds.left.iter().find(|(other, _)| *other == seat) {
                Some((_, WhyLeft::Jammed)) => "it cannot be opened",
                Some(_) => "no place reaches it",
                None => "nobody is left in it",
            };
            return Err(RidersError::NotThere { name: name(), why: why.to_owned() });
        }
    }
    let given: Vec<usize> = order.iter().map(|(kind, _)| *kind).collect();
    let turned = plainly(&kinds, &given, 0);
    let named: Vec<(Removal, One)> =
        turned.order.iter().copied().zip(order.iter().map(|(_, one)| *one)).collect();
    Ok(told_as(question, &kinds, &named))
}

/// A seat and one of its riders.
type One = (usize, usize);

/// Which seat of its kind each removal is of: the ones of a kind in the order of the question.
fn told(question: &Stopped, kinds: &Kinds, order: &[Removal]) -> Answer {
    let mut next = vec![0_usize; kinds.kinds.len()];
    let mut named = Vec::with_capacity(order.len());
    for &(kind, stop) in order {
        named.push(((kind, stop), kinds.kinds[kind].seats[next[kind]]));
        next[kind] += 1;
    }
    told_as(question, kinds, &named)
}

fn told_as(question: &Stopped, kinds: &Kinds, named: &[(Removal, One)]) -> Answer {
    let start = kinds.whole_n_m(0);
    let (mut stage, mut here, mut greatest, mut turns) = (0, 0_usize, start, 0);
    let mut order: Vec<Off> = Vec::new();
    for &((kind, stop), (seat, rider)) in named {
        stage += kinds.radix[kind];
        let from = kinds.turned_deg[here];
        let to = kinds.turned_deg[stop];
        let apart = apart_deg(from, to);
        let forward = round_deg(to - from) <= 180.0;
        turns += usize::from(stop != here);
        here = stop;
        let whole = kinds.whole_n_m(stage);
        greatest = greatest.max(whole);
        let riders =
            if question.one_by_one { vec![rider] } else { (0..question.seats[seat].riders.len()).collect() };
        let felt =
            Moment::nm(kinds.felt_n_m(stage, Angle::deg(to)) * maths::sin(question.lean.as_rad()).abs());
        // Riders of one seat that follow each other at one stop are told together.
        if let Some(last) = order.last_mut().filter(|last| last.seat == seat && last.turned == Angle::deg(to))
        {
            last.riders.extend(riders);
            (last.out_of_balance, last.felt) = (moment(whole), felt);
            continue;
        }
        order.push(Off {
            seat,
            riders,
            turned: Angle::deg(to),
            turn: Angle::deg(if forward { apart } else { -apart }),
            access: reached_at(question, seat, to).unwrap_or(0),
            out_of_balance: moment(whole),
            felt,
        });
    }
    Answer {
        order,
        at_start: moment(start),
        greatest: moment(greatest),
        greatest_bound: Moment::ZERO,
        turns,
        turns_bound: 0,
        least_angle: false,
        left: kinds.left.clone(),
        left_proved: true,
    }
}
