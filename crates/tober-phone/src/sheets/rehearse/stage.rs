//! Places of a rehearsal, as the address of the page writes them.
//!
//! A place is a word, and after points what it needs: `step-14` is the 14th step with all before it done,
//! `step-14.1-11.13` the same with the steps 1 to 11 and 13 done. So a browser's way back leads through a rehearsal, and
//! no other memory is needed.

use std::collections::BTreeSet;
use std::fmt::Write;

/// A step at a stage: its place among the cards, and those that are done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Stage {
    pub card: usize,
    pub done: BTreeSet<usize>,
}

impl Stage {
    /// With all before it done.
    pub(super) fn printed(card: usize) -> Self {
        Self { card, done: (0..card).collect() }
    }

    /// Whether just what stands before it is done.
    pub(super) fn is_printed(&self) -> bool {
        self.done.iter().copied().eq(0..self.card)
    }

    /// Reads what follows `step-` or `if-`; `None` where it is no step of so many.
    pub(super) fn read(text: &str, cards: usize) -> Option<Self> {
        let mut parts = text.split('.');
        let place = |text: &str| {
            let number: usize = text.parse().ok()?;
            (1..=cards).contains(&number).then(|| number - 1)
        };
        let card = place(parts.next()?)?;
        let mut stage = Self::printed(card);
        let mut told = false;
        for part in parts {
            if !told {
                (told, stage.done) = (true, BTreeSet::new());
            }
            if part.is_empty() {
                continue;
            }
            let (first, last) = part.split_once('-').unwrap_or((part, part));
            stage.done.extend(place(first)?..=place(last)?);
        }
        Some(stage)
    }

    /// What is done, as it is read: `.1-11.13`; one point where nothing is.
    pub(super) fn done_written(&self) -> String {
        let mut out = String::new();
        let mut left = self.done.iter().copied().peekable();
        while let Some(first) = left.next() {
            let mut last = first;
            while left.peek() == Some(&(last + 1)) {
                last += 1;
                left.next();
            }
            let _ = write!(out, ".{}", first + 1);
            if last > first {
                let _ = write!(out, "-{}", last + 1);
            }
        }
        if out.is_empty() { ".".to_owned() } else { out }
    }

    /// The address of it.
    pub(super) fn address(&self) -> String {
        let done = if self.is_printed() { String::new() } else { self.done_written() };
        format!("#step-{}{done}", self.card + 1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `step-14.1-11.13`: eleven steps and the thirteenth.
    #[test]
    fn hand_a_stage_is_read_as_it_is_written() {
        let read = |text| Stage::read(text, 20);
        assert_eq!(read("3"), Some(Stage { card: 2, done: BTreeSet::from([0, 1]) }));
        let stage = read("14.1-11.13").expect("it is a stage");
        assert_eq!((stage.card, stage.done.len()), (13, 12));
        assert_eq!(stage.address(), "#step-14.1-11.13");
        assert_eq!(read("3.1.2").map(|stage| stage.address()).as_deref(), Some("#step-3"));
        assert_eq!(read("3.").map(|stage| stage.address()).as_deref(), Some("#step-3."));
    }

    #[test]
    fn refuse_what_is_no_stage() {
        for text in
            ["", "0", "21", "x", "3.x", "3.0", "3.1-21", "3.1-x", "-1", "3.1-2-3", "99999999999999999999"]
        {
            assert_eq!(Stage::read(text, 20), None, "{text}");
        }
        // From high to low there is nothing between.
        assert_eq!(Stage::read("3.5-2", 20).map(|stage| stage.done.len()), Some(0));
    }
}
