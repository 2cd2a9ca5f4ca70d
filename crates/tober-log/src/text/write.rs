//! Entries to text.

use super::{FORMAT, Header, WHAT};
use crate::hash::hex;
use crate::{Entry, Log};
use serde_json::{Map, Value, json};

/// A log as a text file, for a visit.
pub fn write(visit: &str, log: &Log) -> String {
    let mut out = header_line(&Header { visit: visit.to_owned(), heads: log.heads() });
    out.push('\n');
    for entry in log.entries() {
        out.push_str(&entry_line(entry));
        out.push('\n');
    }
    out
}

pub(super) fn header_line(header: &Header) -> String {
    let heads = header
        .heads
        .iter()
        .map(|head| json!({ "device": head.device, "count": head.count, "hash": head.hash.to_string() }));
    let mut line = Map::new();
    line.insert("format".to_owned(), FORMAT.into());
    line.insert("what".to_owned(), WHAT.into());
    line.insert("visit".to_owned(), header.visit.as_str().into());
    line.insert("heads".to_owned(), heads.collect());
    line.insert("hash".to_owned(), header.hash().to_string().into());
    Value::Object(line).to_string()
}

/// One entry as its line, without the end of the line. The order of keys is fixed.
pub fn entry_line(entry: &Entry) -> String {
    let or_null = |text: &Option<String>| text.as_deref().map_or(Value::Null, Value::from);
    let body = entry.body.iter().map(|(key, text)| (key.clone(), Value::from(text.as_str())));
    let replaces = entry.replaces.iter().map(|named| Value::from(named.to_string()));
    let mut line = Map::new();
    let mut put = |key: &str, value: Value| line.insert(key.to_owned(), value);
    put("device", entry.device.as_str().into());
    put("seq", entry.seq.into());
    put("prev", entry.prev.map_or_else(String::new, |hash| hash.to_string()).into());
    put("l", entry.hlc.l.into());
    put("c", entry.hlc.c.into());
    put("wall", entry.wall.as_str().into());
    put("role", entry.role.as_str().into());
    put("person_tag", or_null(&entry.person_tag));
    put("kind", entry.kind.as_str().into());
    put("body", Value::Object(body.collect()));
    put("replaces", replaces.collect());
    put("plan_hash", or_null(&entry.plan_hash));
    put("sig", entry.sig.as_ref().map_or(Value::Null, |sig| hex(sig).into()));
    put("hash", entry.hash().to_string().into());
    Value::Object(line).to_string()
}
