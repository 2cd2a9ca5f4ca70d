//! Do these rules prevent the offences, is none to spare, and are there no fewer that would do?
//!
//! A rule "v after u" prevents a stage in which v is begun and u is not done. Checked: the rules close no circle; every offence is a
//! stage of the rules as they were; each is prevented; for each rule there is an offence that no other prevents. For a set said to
//! be the smallest, every set of one rule less is tried that closes no circle, and none prevents every offence named.
//!
//! # Not covered
//! That something is wrong at the offences, and that nothing is wrong once they are prevented: for that there is a proof of its own
//! for each quantity ([`super::check`]).

use super::Refusal;

/// The most rules of a set that is checked to be the smallest.
pub const FEWEST_MOST: usize = 3;

/// A stage at which something is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offence {
    /// The steps done.
    pub done: Vec<usize>,
    /// The steps begun: those done and those under way.
    pub begun: Vec<usize>,
}

/// A set of rules and what it is said to be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cure {
    /// The rules: for each `(u, v)`, v after u.
    pub rules: Vec<(usize, usize)>,
    /// The offences that they prevent.
    pub offences: Vec<Offence>,
    /// No smaller set prevents every offence named.
    pub fewest: bool,
}

struct Marked {
    open: Vec<bool>,
    begun: Vec<bool>,
}

impl Marked {
    fn prevented_by(&self, &(u, v): &(usize, usize)) -> bool {
        self.open[u] && self.begun[v]
    }
}

/// Checks a set of rules that is said to cure what offends. `after` are the rules as they were.
///
/// # Errors
/// The first reason that the claim fails.
pub fn check_cure(after: &[Vec<usize>], cure: &Cure) -> Result<(), Refusal> {
    let steps = after.len();
    let of_rules = cure.rules.iter().flat_map(|&(u, v)| [u, v]);
    let of_offences = cure.offences.iter().flat_map(|o| o.done.iter().chain(&o.begun)).copied();
    let named = after.iter().flatten().copied().chain(of_rules).chain(of_offences);
    if let Some(step) = named.into_iter().find(|&step| step >= steps) {
        return Err(Refusal::NoSuchStep { step, steps });
    }
    let follows = following(after, &cure.rules);
    if (0..steps).any(|step| follows[step][step]) {
        return Err(Refusal::Circle);
    }
    let mut offences = Vec::new();
    for (offence, named) in cure.offences.iter().enumerate() {
        let (done, begun) = (super::marked(steps, &named.done), super::marked(steps, &named.begun));
        let admitted = |&step: &usize| begun[step] && after[step].iter().all(|&first| done[first]);
        if let Some(&step) = named.done.iter().chain(&named.begun).find(|step| !admitted(step)) {
            return Err(Refusal::NoOffence { offence, step });
        }
        let marked = Marked { open: done.iter().map(|done| !done).collect(), begun };
        if !cure.rules.iter().any(|rule| marked.prevented_by(rule)) {
            return Err(Refusal::NotPrevented { offence });
        }
        offences.push(marked);
    }
    for (rule, this) in cure.rules.iter().enumerate() {
        let alone = |offence: &Marked| {
            let others = cure.rules.iter().enumerate().filter(|(other, _)| *other != rule);
            offence.prevented_by(this) && !others.into_iter().any(|(_, other)| offence.prevented_by(other))
        };
        if !offences.iter().any(alone) {
            return Err(Refusal::RuleToSpare { rule });
        }
    }
    if cure.fewest {
        if cure.rules.len() > FEWEST_MOST {
            return Err(Refusal::NotCounted { rules: cure.rules.len(), most: FEWEST_MOST });
        }
        let all: Vec<&Marked> = offences.iter().collect();
        if let Some(rules) = fewer(after, &all, cure.rules.len().saturating_sub(1), &mut Vec::new()) {
            return Err(Refusal::FewerRules { rules });
        }
    }
    Ok(())
}

/// Which step follows which, through any number of rules; `[a][b]`: b follows a.
fn following(after: &[Vec<usize>], rules: &[(usize, usize)]) -> Vec<Vec<bool>> {
    let steps = after.len();
    let mut next = vec![Vec::new(); steps];
    for (step, firsts) in after.iter().enumerate() {
        for &first in firsts {
            next[first].push(step);
        }
    }
    for &(first, then) in rules {
        next[first].push(then);
    }
    let from = |start: usize| {
        let mut seen = vec![false; steps];
        let mut look = vec![start];
        while let Some(at) = look.pop() {
            for &then in &next[at] {
                if !seen[then] {
                    seen[then] = true;
                    look.push(then);
                }
            }
        }
        seen
    };
    (0..steps).map(from).collect()
}

/// At most so many rules more that prevent what is left and close no circle.
fn fewer(
    after: &[Vec<usize>],
    left: &[&Marked],
    more: usize,
    rules: &mut Vec<(usize, usize)>,
) -> Option<Vec<(usize, usize)>> {
    let Some(first) = left.first() else { return Some(rules.clone()) };
    if more == 0 {
        return None;
    }
    // The last rule has to prevent all that is left.
    let of_all = if more == 1 { left } else { &left[..1] };
    let steps = 0..first.open.len();
    let open: Vec<usize> = steps.clone().filter(|&u| of_all.iter().all(|o| o.open[u])).collect();
    let begun: Vec<usize> = steps.filter(|&v| of_all.iter().all(|o| o.begun[v])).collect();
    if open.is_empty() || begun.is_empty() {
        return None;
    }
    let follows = following(after, rules);
    for &v in &begun {
        for &u in open.iter().filter(|&&u| u != v && !follows[v][u]) {
            let rest: Vec<&Marked> = left.iter().copied().filter(|o| !o.prevented_by(&(u, v))).collect();
            rules.push((u, v));
            let found = fewer(after, &rest, more - 1, rules);
            rules.pop();
            if found.is_some() {
                return found;
            }
        }
    }
    None
}
