//! The fewest more rules with which nothing offends.
//!
//! A rule `(u, v)`, "v after u", prevents a stage in which v is begun and u is not done, and no other. So a set of rules
//! that prevents every offence there is prevents each of those found so far: the smallest set that does is looked for, tried, and the offence
//! that it leaves is added, until it leaves none. No smaller set can do, because none prevents those found. Rules that together close a circle
//! are left out as that set, not one by one.
//!
//! Which size it takes is found with rules as strict as they can be: v after a later step than u, or an earlier step than v after u, prevents
//! all that "v after u" does, so what strict rules leave rules out many sets at once; and of the offences that are left while more rules are
//! laid on, the last is kept, which fewest rules prevent. Once a set of that size is known, one that leaves more freedom is looked for: by
//! the bound `(steps before u, and u) × (steps after v, and v)` of the pairs that each rule orders. Where that takes too many tries, the
//! set known is loosened step by step.
//!
//! Cost: a try of `offends` for each offence, and for a set of k rules at most (n^2)^k comparisons of bits, held to [`WORK`] for each try allowed.

use super::{Precedence, StepSet};

/// A stage at which something is wrong: the steps done, and the steps begun (those done and those under way).
pub type Offence = (StepSet, StepSet);
/// A rule: the second step after the first.
pub type Rule = (usize, usize);

/// The most rules of a set that is proved the smallest.
pub const PROVED_MOST: usize = 3;
/// The most offences that are kept for the proof: a bit each.
const OFFENCES_MOST: usize = 127;
/// How many tries go into a set that leaves more freedom, once one of its size is known to cure.
const BETTER: usize = 24;
/// How many rules more, one after the other, are laid on a set that does not cure.
const DEEPER: usize = 40;
/// The most comparisons in looking for smallest sets, for each try allowed: with 2000 tries about a second on a slow phone.
pub const WORK: u64 = 15_000;

/// What more rules can do.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Cures {
    /// Nothing offends as it is.
    NoneNeeded,
    /// With these rules nothing offends, and without any one of them something does.
    Rules {
        /// The rules, in order of the second step.
        rules: Vec<Rule>,
        /// No smaller set does; the offences prove it.
        fewest: bool,
        /// Offences of the rules as they were: each is prevented by some rule of the set, and for each rule there is one
        /// that no other rule of the set prevents.
        offences: Vec<Offence>,
    },
    /// No rule prevents this offence: every order meets it, or every rule that would prevent it closes a circle.
    NoRule {
        /// The offence.
        offence: Offence,
    },
    /// No set was found. What is known:
    NotReached {
        /// No set of up to so many rules does; the offences prove it.
        none_up_to: usize,
        /// The rule that alone prevents most of the offences found.
        best: Rule,
        /// The offences found.
        offences: Vec<Offence>,
    },
}

/// Does the rule prevent the offence?
pub fn prevents(rule: Rule, offence: &Offence) -> bool {
    offence.1.contains(rule.1) && !offence.0.contains(rule.0)
}

/// Looks for the fewest rules with which `offends` finds nothing.
///
/// `offends` is given rules and returns a stage that they admit at which something is wrong, or `None` if there is no such stage. It is asked
/// `tries` times at most, and once more for each rule of a set that is not proved. A set of up to [`PROVED_MOST`] rules is proved the
/// smallest; a larger one is only such that no rule of it can be spared, and so is a smaller one where the work ran out (`fewest` is false).
pub fn cures(p: &Precedence, offends: &dyn Fn(&Precedence) -> Option<Offence>, tries: usize) -> Cures {
    let mut search = Search {
        p,
        offends,
        offences: Vec::new(),
        tries,
        work: WORK.saturating_mul(tries as u64),
        strict: true,
    };
    let Some(offence) = search.find(&[]) else { return Cures::NoneNeeded };
    search.offences.push(offence);
    let mut size = 1;
    // A set of this size that cures, though perhaps not the one that leaves most freedom, and how many tries may go into a better one.
    let mut cured: Option<Vec<Rule>> = None;
    let mut better = BETTER;
    while size <= PROVED_MOST {
        if let Some(offence) =
            search.offences.iter().find(|offence| search.candidates(offence).next().is_none())
        {
            return Cures::NoRule { offence: offence.clone() };
        }
        // A quarter is kept for a set that is not proved.
        if search.tries <= tries / 4 || search.offences.len() + 1 >= OFFENCES_MOST || better == 0 {
            break;
        }
        match search.smallest(size) {
            Smallest::None => size += 1,
            Smallest::OutOfWork => break,
            Smallest::Set(rules) => {
                match search.find(&rules) {
                    None if cured.is_some() => return search.proved(rules),
                    None => {
                        cured = Some(rules);
                        search.strict = false;
                        continue;
                    }
                    // Not a stage of these rules: `offends` does not keep its promise, and would be asked for ever.
                    Some(offence) if rules.iter().any(|&rule| prevents(rule, &offence)) => break,
                    Some(offence) => search.offences.push(offence),
                }
                if cured.is_some() {
                    better -= 1;
                } else {
                    cured = search.deepened(rules);
                    search.strict = cured.is_none();
                }
            }
        }
    }
    if let Some(rules) = cured {
        let rules = search.loosened(rules);
        return search.proved(rules);
    }
    search.one_by_one(size - 1)
}

enum Smallest {
    Set(Vec<Rule>),
    None,
    OutOfWork,
}

/// Rules that prevent the same of the offences found, the cheapest first.
struct Alike {
    prevents: u128,
    rules: Vec<(u64, Rule)>,
}

struct Search<'a> {
    p: &'a Precedence,
    offends: &'a dyn Fn(&Precedence) -> Option<Offence>,
    offences: Vec<Offence>,
    tries: usize,
    work: u64,
    /// The costliest rules first, which prevent most: until the size is known.
    strict: bool,
}

impl Search<'_> {
    fn find(&mut self, rules: &[Rule]) -> Option<Offence> {
        self.tries = self.tries.saturating_sub(1);
        self.p.with(rules).and_then(|p| (self.offends)(&p))
    }

    /// The rules that would prevent an offence and close no circle by themselves.
    fn candidates<'b>(&'b self, offence: &'b Offence) -> impl Iterator<Item = Rule> + 'b {
        let open = (0..self.p.len()).filter(|&u| !offence.0.contains(u));
        open.flat_map(|u| offence.1.iter().map(move |v| (u, v))).filter(|&(u, v)| self.p.unordered(u, v))
    }

    fn cost(&self, (u, v): Rule) -> u64 {
        (self.p.before(u).count() as u64 + 1) * (self.p.later(v).count() as u64 + 1)
    }

    fn alike(&self) -> Vec<Alike> {
        let bits = |of: &dyn Fn(&Offence) -> bool| {
            self.offences.iter().enumerate().filter(|(_, o)| of(o)).fold(0_u128, |set, (i, _)| set | 1 << i)
        };
        let steps = 0..self.p.len();
        let open: Vec<u128> = steps.clone().map(|u| bits(&|o| !o.0.contains(u))).collect();
        let begun: Vec<u128> = steps.map(|v| bits(&|o| o.1.contains(v))).collect();
        let costliest = (self.p.len() * self.p.len()) as u64;
        let mut all: Vec<(u128, u64, Rule)> = Vec::new();
        for (v, begun) in begun.iter().enumerate().filter(|(_, begun)| **begun != 0) {
            for (u, open) in open.iter().enumerate() {
                if begun & open != 0 && self.p.unordered(u, v) {
                    let cost = self.cost((u, v));
                    let cost = if self.strict { costliest - cost } else { cost };
                    all.push((begun & open, cost, (u, v)));
                }
            }
        }
        all.sort_unstable_by_key(|&(prevents, cost, rule)| (core::cmp::Reverse(prevents), cost, rule));
        let mut alike: Vec<Alike> = Vec::new();
        for (prevents, cost, rule) in all {
            match alike.last_mut().filter(|last| last.prevents == prevents) {
                Some(last) => last.rules.push((cost, rule)),
                None => alike.push(Alike { prevents, rules: vec![(cost, rule)] }),
            }
        }
        alike
    }

    /// Adds an offence that is hard to prevent: the last one that the same rules leave, made as strict as they can be, with one strict rule more
    /// against each that was left. `Some` where the rules cure before any is added.
    fn deepened(&mut self, rules: Vec<Rule>) -> Option<Vec<Rule>> {
        let size = rules.len();
        let mut rules = self.strictest(rules);
        let mut hardest = None;
        for _ in 0..DEEPER {
            let Some(offence) = self.find(&rules) else { break };
            if rules.iter().any(|&rule| prevents(rule, &offence)) {
                return None;
            }
            let against = self.candidates(&offence).filter(|&rule| circle_free(self.p, &rules, rule));
            let against = against.min_by_key(|&rule| (self.cost(rule), rule));
            hardest = Some(offence);
            let Some(against) = against else { break };
            rules.push(against);
            rules = self.strictest(rules);
        }
        match hardest {
            Some(offence) => {
                self.offences.push(offence);
                None
            }
            None => (rules.len() == size).then_some(rules),
        }
    }

    /// The same rules, each as strict as it can be without closing a circle: after a later step, or for an earlier one.
    fn strictest(&self, mut rules: Vec<Rule>) -> Vec<Rule> {
        loop {
            let closer = rules.iter().enumerate().find_map(|(i, &(u, v))| {
                let rest: Vec<Rule> = others(&rules, i).collect();
                let firsts = self.p.later(u).iter().map(|u| (u, v));
                let waits = self.p.before(v).iter().map(|v| (u, v));
                let mut all = firsts.chain(waits);
                let fits = |&(u, v): &Rule| self.p.unordered(u, v) && circle_free(self.p, &rest, (u, v));
                all.find(fits).map(|rule| (i, rule))
            });
            let Some((i, rule)) = closer else { return rules };
            rules[i] = rule;
        }
    }

    /// Rules that cure, each loosened as long as they still do: after an earlier step, or for a later one.
    fn loosened(&mut self, mut rules: Vec<Rule>) -> Vec<Rule> {
        let mut seen = self.offences.clone();
        'again: loop {
            for i in 0..rules.len() {
                let (u, v) = rules[i];
                let firsts = self.p.direct(u).iter().map(|&u| (u, v));
                let waits = self.p.later(v).iter().filter(|&s| self.p.direct(s).contains(&v)).map(|v| (u, v));
                let mut looser: Vec<Rule> =
                    firsts.chain(waits).filter(|&(u, v)| self.p.unordered(u, v)).collect();
                looser.sort_by_key(|&rule| self.cost(rule));
                for rule in looser {
                    let mut next = rules.clone();
                    next[i] = rule;
                    if seen.iter().any(|offence| !next.iter().any(|&rule| prevents(rule, offence))) {
                        continue;
                    }
                    if self.tries == 0 {
                        return rules;
                    }
                    match self.find(&next) {
                        None => {
                            rules = next;
                            continue 'again;
                        }
                        Some(offence) => seen.push(offence),
                    }
                }
            }
            return rules;
        }
    }

    /// A set of so many rules that prevents every offence found, knowing that no smaller one does.
    fn smallest(&mut self, size: usize) -> Smallest {
        let alike = self.alike();
        let all = u128::MAX >> (u128::BITS as usize - self.offences.len());
        // First without minding circles: then what prevents less than another need not be looked at.
        let mut most: Vec<&Alike> = Vec::new();
        let mut by_count: Vec<&Alike> = alike.iter().collect();
        by_count.sort_by_key(|one| core::cmp::Reverse(one.prevents.count_ones()));
        for one in by_count {
            self.work = self.work.saturating_sub(most.len() as u64);
            if !most.iter().any(|other| one.prevents & !other.prevents == 0) {
                most.push(one);
            }
        }
        let mut any = Choice { p: self.p, circles: false, best: None, work: self.work };
        any.choose(&most, all, size, &mut Vec::new());
        self.work = any.work;
        if self.work == 0 {
            return Smallest::OutOfWork;
        }
        if any.best.is_none() {
            return Smallest::None;
        }
        let every: Vec<&Alike> = alike.iter().collect();
        let mut free = Choice { p: self.p, circles: true, best: None, work: self.work };
        free.choose(&every, all, size, &mut Vec::new());
        self.work = free.work;
        match free.best {
            Some((_, rules)) => Smallest::Set(rules),
            None if self.work == 0 => Smallest::OutOfWork,
            None => Smallest::None,
        }
    }

    fn proved(self, mut rules: Vec<Rule>) -> Cures {
        rules.sort_unstable_by_key(|&(u, v)| (v, u));
        Cures::Rules { rules, fewest: true, offences: self.offences }
    }

    /// Adds the rule that prevents most until nothing offends, then takes out what can be spared.
    fn one_by_one(mut self, none_up_to: usize) -> Cures {
        let mut rules: Vec<Rule> = Vec::new();
        loop {
            let left: Vec<&Offence> =
                self.offences.iter().filter(|o| !rules.iter().any(|&rule| prevents(rule, o))).collect();
            if let Some(newest) = left.last() {
                let counted =
                    self.candidates(newest).filter(|&rule| circle_free(self.p, &rules, rule)).map(|rule| {
                        let count = left.iter().filter(|o| prevents(rule, o)).count();
                        (core::cmp::Reverse(count), self.cost(rule), rule)
                    });
                let Some((_, _, rule)) = counted.min() else { return self.not_reached(none_up_to) };
                rules.push(rule);
            } else if self.tries == 0 {
                return self.not_reached(none_up_to);
            } else {
                match self.find(&rules) {
                    None => break,
                    Some(offence) if rules.iter().any(|&rule| prevents(rule, &offence)) => {
                        return self.not_reached(none_up_to);
                    }
                    Some(offence) => self.offences.push(offence),
                }
            }
        }
        // The offence that shows a rule to be needed is prevented by that rule alone.
        let mut place = rules.len();
        while place > 0 {
            place -= 1;
            let rest: Vec<Rule> =
                rules.iter().copied().enumerate().filter(|(i, _)| *i != place).map(|(_, r)| r).collect();
            match self.find(&rest) {
                None => rules = rest,
                Some(offence) => self.offences.push(offence),
            }
        }
        rules.sort_unstable_by_key(|&(u, v)| (v, u));
        Cures::Rules { rules, fewest: false, offences: self.offences }
    }

    fn not_reached(self, none_up_to: usize) -> Cures {
        let all = self.offences.iter().flat_map(|offence| self.candidates(offence));
        let counted = all.map(|rule| {
            let count = self.offences.iter().filter(|o| prevents(rule, o)).count();
            (core::cmp::Reverse(count), self.cost(rule), rule)
        });
        match counted.min() {
            Some((_, _, best)) => Cures::NotReached { none_up_to, best, offences: self.offences },
            None => Cures::NoRule {
                offence: self
                    .offences
                    .into_iter()
                    .next_back()
                    .unwrap_or_else(|| (StepSet::none(0), StepSet::none(0))),
            },
        }
    }
}

/// The rules but one.
fn others(rules: &[Rule], but: usize) -> impl Iterator<Item = Rule> + '_ {
    rules.iter().enumerate().filter(move |(i, _)| *i != but).map(|(_, &rule)| rule)
}

/// Do the rules close no circle, together and with the rules there are? Each of them alone closes none.
fn circle_free(p: &Precedence, rules: &[Rule], more: Rule) -> bool {
    // From rule to rule: the second step of one is, or must be before, the first of the next.
    let leads = |a: Rule, b: Rule| a.1 == b.0 || p.is_before(a.1, b.0);
    let mut reached = vec![false; rules.len()];
    let mut look = vec![more];
    while let Some(at) = look.pop() {
        if leads(at, more) {
            return false;
        }
        for (i, &rule) in rules.iter().enumerate() {
            if !reached[i] && leads(at, rule) {
                reached[i] = true;
                look.push(rule);
            }
        }
    }
    true
}

struct Choice<'a> {
    p: &'a Precedence,
    circles: bool,
    best: Option<(u64, Vec<Rule>)>,
    work: u64,
}

impl Choice<'_> {
    fn spend(&mut self, work: usize) -> bool {
        self.work = self.work.saturating_sub(work as u64);
        self.work > 0
    }

    /// Chooses `more` kinds of rules that prevent what is left, and of each kind a rule.
    fn choose<'b>(&mut self, alike: &[&'b Alike], left: u128, more: usize, chosen: &mut Vec<&'b Alike>) {
        if !self.spend(1) || (!self.circles && self.best.is_some()) {
            return;
        }
        let least: u64 = chosen.iter().filter_map(|one| one.rules.first()).map(|(cost, _)| cost).sum();
        if self.best.as_ref().is_some_and(|(best, _)| least >= *best) {
            return;
        }
        if left == 0 {
            let chosen = chosen.clone();
            self.pick(&chosen, 0, &mut Vec::new());
            return;
        }
        if more == 0 || !self.spend(alike.len()) {
            return;
        }
        if more == 1 {
            for one in alike.iter().filter(|one| left & !one.prevents == 0) {
                chosen.push(one);
                self.choose(alike, 0, 0, chosen);
                chosen.pop();
            }
            return;
        }
        // Some rule has to prevent this offence.
        let pivot = left & left.wrapping_neg();
        for one in alike.iter().filter(|one| one.prevents & pivot != 0) {
            chosen.push(one);
            self.choose(alike, left & !one.prevents, more - 1, chosen);
            chosen.pop();
        }
    }

    /// Of each kind chosen the cheapest rule, such that they close no circle.
    fn pick(&mut self, chosen: &[&Alike], cost: u64, rules: &mut Vec<Rule>) {
        let Some((one, rest)) = chosen.split_first() else {
            self.best = Some((cost, rules.clone()));
            return;
        };
        for &(more, rule) in &one.rules {
            if !self.spend(1) || self.best.as_ref().is_some_and(|(best, _)| cost + more >= *best) {
                return;
            }
            if self.circles && !circle_free(self.p, rules, rule) {
                continue;
            }
            rules.push(rule);
            self.pick(rest, cost + more, rules);
            rules.pop();
        }
    }
}
