//! Made-up writers and what they say.
#![allow(dead_code, reason = "each test file uses its part")]

use std::collections::BTreeSet;
use tober_log::{Body, Draft, Entry, Fields, Hlc, Named, Now, next};

/// 05:30 on 9 May 2026 in British summer time, in ms.
pub const HALF_PAST_FIVE: i64 = 1_778_301_000_000;

pub fn body(pairs: &[(&str, &str)]) -> Body {
    pairs.iter().map(|(key, text)| ((*key).to_owned(), (*text).to_owned())).collect()
}

pub fn names(texts: &[&str]) -> BTreeSet<Named> {
    texts.iter().map(|text| text.parse().expect("a name")).collect()
}

/// A device with its chain and its own clock.
pub struct Writer {
    pub device: String,
    pub chain: Vec<Entry>,
    pub now_ms: i64,
    pub seen: Hlc,
}

impl Writer {
    pub fn new(device: &str) -> Self {
        Self { device: device.to_owned(), chain: Vec::new(), now_ms: HALF_PAST_FIVE, seen: Hlc::default() }
    }

    pub fn say(&mut self, kind: &str, pairs: &[(&str, &str)], replaces: &[&str]) -> Entry {
        let draft = Draft {
            role: "chief".to_owned(),
            person_tag: Some("Ch".to_owned()),
            kind: kind.to_owned(),
            body: body(pairs),
            replaces: names(replaces),
            plan_hash: None,
        };
        let now = Now { ms: self.now_ms, offset_min: 60 };
        let entry = next(self.chain.last(), &self.device, self.seen, now, draft).expect("within limits");
        self.chain.push(entry.clone());
        // Nobody types by a metronome: 2 to 62 s, the same every time.
        self.now_ms += 2_000 + (self.now_ms * 7919 + self.chain.len() as i64 * 104_729).rem_euclid(60_000);
        entry
    }
}

/// A chain of a number of readings of six legs.
pub fn chain(device: &str, count: usize) -> Vec<Entry> {
    let legs = ["front left", "front right", "middle left", "middle right", "rear left", "rear right"];
    let mut writer = Writer::new(device);
    for index in 0..count {
        let value = format!("{} mm", 600 + (index * 37) % 211);
        writer.say("reading", &[("what", legs[index % 6]), ("value", &value)], &[]);
    }
    writer.chain
}

/// An entry with one thing about it changed, as somebody with a text editor and a calculator would.
pub fn altered(entry: &Entry, change: impl FnOnce(&mut Fields)) -> Entry {
    let mut fields: Fields = (**entry).clone();
    change(&mut fields);
    Entry::of(fields).expect("still within limits")
}

/// Numbers that look like chance and are the same every time (a linear congruence, 64 bits, upper half).
pub struct Dice(pub u64);

impl Dice {
    pub fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % limit
    }

    pub fn shuffle<T>(&mut self, things: &mut [T]) {
        for last in (1..things.len()).rev() {
            things.swap(last, self.below(last + 1));
        }
    }
}
