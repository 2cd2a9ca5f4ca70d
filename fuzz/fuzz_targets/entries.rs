//! Any bytes as a file of entries: never a panic, every complaint has its place, and what is kept is written and read again
//! the same.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tober_log::text::{open, write};

fuzz_target!(|bytes: &[u8]| {
    let opened = open(bytes);
    for damage in &opened.damage {
        assert!(damage.line >= 1 && damage.column >= 1 && !damage.sentence.is_empty(), "{damage:?}");
    }
    assert!(opened.header.is_some() || !opened.damage.is_empty(), "refused without a reason");
    let visit = opened.header.as_ref().map_or("", |header| header.visit.as_str());
    let again = open(write(visit, &opened.log).as_bytes());
    assert!(again.damage.is_empty() && again.log == opened.log, "{:?}", again.damage);
    assert_eq!(again.log.state_hash(), opened.log.state_hash());
});
