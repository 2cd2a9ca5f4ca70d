//! Whether further rules cure a claim that does not hold.

use super::enumerate::{Found, enumerate};
use super::offence::{Touched, overlap, pairs};
use super::replay::story;
use super::{Claim, Order, Program, Proof, Refusal, proof};

/// A story: the steps done in their order, and those begun.
pub type Story = (Vec<usize>, Vec<usize>);

/// A cure that is claimed: of each pair, the second step waits for the first.
#[derive(Clone, Debug, PartialEq)]
pub struct Cure {
    /// The pairs. None: it is claimed that no further rules cure it.
    pub rules: Vec<(usize, usize)>,
    /// It is claimed that no smaller set does.
    pub fewest: bool,
    /// Why the claim holds with them.
    pub with: Option<Proof>,
    /// For each pair, a story that shows the claim offended with the others alone.
    pub without: Vec<Option<Story>>,
}

/// What of a cure was checked, and what was not, because it would have taken too much work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct CureChecked {
    /// With the rules the claim holds; for none, no single rule cures it.
    pub cures: bool,
    /// Without any one of them it does not.
    pub each_needed: bool,
    /// No smaller set does.
    pub fewest: bool,
}

/// Up to how many smaller sets are tried.
const SETS: usize = 20_000;

/// Checks a cure of a claim that a story has shown not to hold; `limit` is the work of going through every stage once.
///
/// # Errors
/// The first thing that is not as claimed.
pub fn cure(program: &Program, claim: &Claim, cure: &Cure, limit: usize) -> Result<CureChecked, Refusal> {
    let mut checked = CureChecked::default();
    let mut left = Work { stages: limit.saturating_mul(20), sets: SETS };
    if cure.rules.is_empty() {
        let sets = smaller(program, claim, 1, limit, &mut left)?;
        checked.cures = match sets {
            Smaller::None => true,
            Smaller::Cures(rules) => {
                let (first, waits) = rules.first().copied().unwrap_or_default();
                return Err(Refusal::RuleCures { first, waits });
            }
            Smaller::NotChecked => false,
        };
        return Ok(checked);
    }
    let order = Order::new(program, &cure.rules)?;
    let proved = match &cure.with {
        Some(with) => match proof(program, &order, claim, with) {
            // A proof that leaves a case out proves nothing; while there are few stages, they decide.
            Err(Refusal::NotCovered { .. } | Refusal::NotBarred { .. } | Refusal::CutTooLow { .. }) => false,
            Err(refusal) => return Err(refusal),
            Ok(()) => true,
        },
        None => false,
    };
    checked.cures = proved
        || match decide(program, &order, claim, limit, &mut left)? {
            Found::Nothing { .. } => true,
            Found::Offence { done, begun } => return Err(Refusal::Offends { done, begun }),
            Found::TooMany => false,
        };
    checked.each_needed = true;
    for number in 0..cure.rules.len() {
        let mut others = cure.rules.clone();
        others.remove(number);
        let order = Order::new(program, &others)?;
        match cure.without.get(number) {
            Some(Some((done, begun))) => story(program, &order, claim, done, begun)?,
            _ => match decide(program, &order, claim, limit, &mut left)? {
                Found::Offence { .. } => {}
                Found::Nothing { .. } => return Err(Refusal::RuleToSpare { rule: number }),
                Found::TooMany => checked.each_needed = false,
            },
        }
    }
    if cure.fewest {
        checked.fewest = match cure.rules.len() {
            // One is the fewest: with none the story shows the offence.
            1 => true,
            more => match smaller(program, claim, more - 1, limit, &mut left)? {
                Smaller::None => true,
                Smaller::Cures(rules) => return Err(Refusal::FewerRules { rules }),
                Smaller::NotChecked => false,
            },
        };
    }
    Ok(checked)
}

/// Work left.
struct Work {
    stages: usize,
    sets: usize,
}

enum Smaller {
    None,
    Cures(Vec<(usize, usize)>),
    NotChecked,
}

/// Looks for a set of at most `most` rules that cures a claim: one rule, then two.
fn smaller(
    program: &Program,
    claim: &Claim,
    most: usize,
    limit: usize,
    left: &mut Work,
) -> Result<Smaller, Refusal> {
    if most > 2 {
        return Ok(Smaller::NotChecked);
    }
    let order = Order::new(program, &[])?;
    let steps = 0..program.work.len();
    let free: Vec<(usize, usize)> = steps
        .clone()
        .flat_map(|one| steps.clone().map(move |other| (one, other)))
        .filter(|&(one, other)| order.free(one, other))
        .collect();
    let mut sets: Vec<Vec<(usize, usize)>> = free.iter().map(|&rule| vec![rule]).collect();
    if most == 2 {
        if free.len().saturating_mul(free.len()) / 2 > left.sets {
            return Ok(Smaller::NotChecked);
        }
        sets.extend(
            free.iter()
                .enumerate()
                .flat_map(|(at, &one)| free[at + 1..].iter().map(move |&other| vec![one, other])),
        );
    }
    for rules in sets {
        if left.sets == 0 {
            return Ok(Smaller::NotChecked);
        }
        left.sets -= 1;
        // Rules that close a circle cure nothing.
        let Ok(order) = Order::new(program, &rules) else { continue };
        match decide(program, &order, claim, limit, left)? {
            Found::Nothing { .. } => return Ok(Smaller::Cures(rules)),
            Found::Offence { .. } => {}
            Found::TooMany => return Ok(Smaller::NotChecked),
        }
    }
    Ok(Smaller::None)
}

/// Whether a claim holds: races by their pairs, everything else by going through every stage while there are few.
fn decide(
    program: &Program,
    order: &Order,
    claim: &Claim,
    limit: usize,
    left: &mut Work,
) -> Result<Found, Refusal> {
    let pair = match claim {
        Claim::Race(_) => Touched::of(program, claim).unordered(order),
        Claim::Overlap => {
            let rounds = Touched::of(program, claim).steps(program, claim);
            pairs(&rounds).find(|&(one, other)| order.free(one, other) && overlap(program, one, other))
        }
        _ => {
            let found = enumerate(program, order, claim, limit.min(left.stages))?;
            left.stages = left.stages.saturating_sub(match found {
                Found::Nothing { looked_at } => looked_at,
                _ => 1,
            });
            return Ok(found);
        }
    };
    Ok(match pair {
        Some((one, other)) => Found::Offence { done: Vec::new(), begun: vec![one, other] },
        None => Found::Nothing { looked_at: 0 },
    })
}
