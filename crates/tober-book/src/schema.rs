//! The files as JSON Schema (draft 2020-12), from the same table that reads them.
//!
//! A schema asks for less than the reader does: it knows keys, kinds, words and how a quantity is written, and
//! nothing of what two keys must agree on. What the reader takes the schema takes; what the schema refuses
//! the reader refuses.

use crate::table::{Bounds, FileKind, Key, Kind, Link, Section};
use core::fmt::{self, Write};
use std::collections::BTreeMap;
use tober_quantity::{Kind as Measure, Unit};

/// The dialect that the schemas are written in.
const DIALECT: &str = "https://json-schema.org/draft/2020-12/schema";

/// What a file may say, as JSON Schema: every key with its meaning, which must be there, their words, and how a
/// quantity is written.
///
/// Not covered: what two keys must agree on, names that must be there, and the range of a quantity, which stands in
/// the key's description.
pub fn schema(file: FileKind) -> String {
    let section = file.section();
    let mut sections = BTreeMap::new();
    gather(section, &mut sections);
    let mut root = Object::new();
    root.text("$schema", DIALECT);
    root.text("title", file.file_name());
    object_of(section, None, &mut root);
    let mut definitions = Object::new();
    for (name, section) in &sections {
        let mut definition = Object::new();
        object_of(section, None, &mut definition);
        definitions.put(name, Json::Object(definition));
    }
    root.put("$defs", Json::Object(definitions));
    let mut out = String::new();
    // Writing to a string cannot fail.
    let _ = writeln!(out, "{}", Json::Object(root));
    out
}

/// Every section that stands under a key by itself, by the name of its type. The variants of a key are written
/// out where they stand, as each has its word.
fn gather(section: &'static Section, found: &mut BTreeMap<&'static str, &'static Section>) {
    for key in section.keys {
        gather_kind(&key.kind, found);
    }
}

fn gather_kind(kind: &'static Kind, found: &mut BTreeMap<&'static str, &'static Section>) {
    match kind {
        Kind::List(inner) | Kind::Repeated(inner) => gather_kind(inner, found),
        Kind::Table(section) => {
            let first = found.insert(section.name, section).is_none();
            if first {
                gather(section, found);
            }
        }
        Kind::Variants { variants, .. } => variants.iter().for_each(|v| gather(v.section, found)),
        _ => {}
    }
}

/// A table: its keys, those that must be there, and no others. A variant has the key that says which it is.
fn object_of(section: &'static Section, tag: Option<(&str, &str, &str)>, out: &mut Object) {
    let about = tag.map_or(section.doc, |(_, _, doc)| doc);
    out.text("description", about.trim());
    out.text("type", "object");
    let mut properties = Object::new();
    let mut required = Vec::new();
    if let Some((tag, word, doc)) = tag {
        let mut one = Object::new();
        one.text("const", word);
        one.text("description", doc.trim());
        properties.put(tag, Json::Object(one));
        required.push(Json::Text(tag.to_owned()));
    }
    for key in section.keys {
        let mut value = Object::new();
        value.text("description", &meaning(key));
        value_of(&key.kind, key, &mut value);
        properties.put(key.name, Json::Object(value));
        if key.required {
            required.push(Json::Text(key.name.to_owned()));
        }
    }
    out.put("properties", Json::Object(properties));
    if !required.is_empty() {
        out.put("required", Json::List(required));
    }
    out.put("additionalProperties", Json::Plain("false".into()));
}

/// What a key means, with what a schema cannot say by itself: its range, its words, and the names it uses.
fn meaning(key: &Key) -> String {
    let mut out = key.doc.trim().to_owned();
    match key.bounds {
        Bounds::Any => {}
        Bounds::Above(low, high) => out += &format!(" More than {low}, at most {high}."),
        Bounds::From(low, high) => out += &format!(" From {low} to {high}."),
    }
    match key.link {
        Link::None => {}
        Link::Defines(group) => out += &format!(" No other {} has it.", group.noun()),
        Link::Refers(group) => out += &format!(" The name of a {}.", group.noun()),
    }
    if let Kind::OneOf(choices) = key.kind {
        for choice in choices {
            out += &format!(" \"{}\": {}", choice.word, choice.doc.trim());
        }
    }
    out
}

fn value_of(kind: &'static Kind, key: &'static Key, out: &mut Object) {
    match kind {
        Kind::Text => {
            out.text("type", "string");
            out.text("pattern", r"\S");
        }
        Kind::Flag => out.text("type", "boolean"),
        Kind::Count => {
            out.text("type", "integer");
            bounds(key.bounds, out);
        }
        Kind::Date => {
            out.text("type", "string");
            out.text("pattern", "^[0-9]{4}-[0-9]{2}-[0-9]{2}$");
            out.put("examples", texts(["2031-05-02"]));
        }
        Kind::TimeOfDay => {
            out.text("type", "string");
            out.text("pattern", "^([01][0-9]|2[0-3]):[0-5][0-9](:00)?$");
            out.put("examples", texts(["05:30"]));
        }
        Kind::Quantity { what, examples, toleranced } => {
            out.text("type", "string");
            out.text("pattern", &quantity_pattern(what, *toleranced));
            out.put("examples", texts(examples.split('"').skip(1).step_by(2)));
        }
        Kind::Share => {
            out.put("type", texts(["number", "string"]));
            bounds(key.bounds, out);
            out.text("pattern", &quantity_pattern(Measure::Ratio.name(), false));
            out.put("examples", Json::List(vec![Json::Plain("0.85".into()), Json::Text("85 %".into())]));
        }
        Kind::Point { axes, toleranced } => {
            let mut part = Object::new();
            part.text("type", "string");
            part.text("pattern", &quantity_pattern(Measure::Length.name(), *toleranced));
            out.text("type", "array");
            out.put("items", Json::Object(part));
            out.put("minItems", Json::Plain(axes.to_string()));
            out.put("maxItems", Json::Plain(axes.to_string()));
            let example = texts(["3.2 m", "-1.05 m", "0 m"].into_iter().take(*axes));
            out.put("examples", Json::List(vec![example]));
        }
        Kind::OneOf(choices) => out.put("enum", texts(choices.iter().map(|choice| choice.word))),
        Kind::Repeated(inner) => {
            let mut one = Object::new();
            value_of(inner, key, &mut one);
            let mut many = Object::new();
            many.text("type", "array");
            many.put("minItems", Json::Plain("1".into()));
            many.put("items", Json::Object(one.clone()));
            out.put("anyOf", Json::List(vec![Json::Object(one), Json::Object(many)]));
        }
        Kind::List(inner) => {
            let mut item = Object::new();
            value_of(inner, key, &mut item);
            out.text("type", "array");
            out.put("items", Json::Object(item));
            out.put("maxItems", Json::Plain(crate::value::MOST_ITEMS.to_string()));
        }
        Kind::Table(section) => out.text("$ref", &format!("#/$defs/{}", section.name)),
        Kind::Variants { tag, variants } => {
            let each = variants.iter().map(|variant| {
                let mut one = Object::new();
                object_of(variant.section, Some((tag, variant.word, variant.doc)), &mut one);
                Json::Object(one)
            });
            out.put("oneOf", Json::List(each.collect()));
        }
    }
}

/// The range of a plain number.
fn bounds(bounds: Bounds, out: &mut Object) {
    let (low, key, high) = match bounds {
        Bounds::Any => return,
        Bounds::Above(low, high) => (low, "exclusiveMinimum", high),
        Bounds::From(low, high) => (low, "minimum", high),
    };
    out.put(key, Json::Plain(low.to_owned()));
    out.put("maximum", Json::Plain(high.to_owned()));
}

/// A number as the reader takes it, loosely: digits with points, groups, powers of ten and fractions.
const NUMBER: &str = r"\.?[0-9](?:[0-9.,/eE+ \-\u00a0\u202f]*[0-9])?";

/// A pattern that every text fits which the reader takes as this quantity, and no text without a unit of its kind.
fn quantity_pattern(what: &str, toleranced: bool) -> String {
    let kinds: Vec<Measure> = match what {
        // A load is a force, or the mass whose weight it is.
        "a load" => vec![Measure::Force, Measure::Mass],
        "a quantity" => Measure::ALL.to_vec(),
        _ => Measure::ALL.into_iter().filter(|kind| kind.name() == what).collect(),
    };
    let mut names: Vec<&str> = kinds
        .iter()
        .flat_map(|kind| kind.units())
        .flat_map(|unit: &Unit| unit.names.iter().copied())
        .collect();
    // A plain number needs no unit.
    let bare = names.contains(&"");
    names.retain(|name| !name.is_empty());
    names.sort_unstable();
    names.dedup();
    let units = names.iter().map(|name| unit_pattern(name)).collect::<Vec<_>>().join("|");
    let unit = format!(r"\s*(?:{units}){}", if bare { "?" } else { "" });
    // Feet and inches, hours and minutes: several numbers, each with its unit.
    let value = format!(r"{NUMBER}{unit}(?:\s*-?{NUMBER}{unit})*");
    let sign = r"[+\-\u2212]?\s*";
    if !toleranced {
        return format!(r"^\s*{sign}{value}\s*$");
    }
    let mark = r"\s*(?:±|\+/-)\s*";
    let percent = r"\s*(?:%|per cent|percent)";
    format!(r"^\s*{sign}(?:{value}(?:{mark}(?:{NUMBER}{percent}|{value}))?|{NUMBER}{mark}{value})\s*$")
}

/// A unit as it may be typed: `kN/m²`, `kN/m2`, `kN m`, `′`.
fn unit_pattern(name: &str) -> String {
    let mut out = String::new();
    for letter in name.chars() {
        match letter {
            '2' => out += r"\^?[2²]",
            '3' => out += r"\^?[3³]",
            '4' => out += r"\^?[4⁴]",
            ' ' => out += r"[\s·]+",
            plain => out.push(plain),
        }
    }
    match name {
        "ft" => out += "|['′’]",
        "in" => out += "|[\"″”]",
        _ => {}
    }
    out
}

/// JSON, as far as a schema needs it; what is put first stands first.
#[derive(Clone)]
enum Json {
    Text(String),
    /// A number or a truth, as it is written.
    Plain(String),
    List(Vec<Json>),
    Object(Object),
}

#[derive(Clone)]
struct Object(Vec<(String, Json)>);

impl Object {
    fn new() -> Self {
        Self(Vec::new())
    }
    fn put(&mut self, key: &str, value: Json) {
        self.0.push((key.to_owned(), value));
    }
    fn text(&mut self, key: &str, value: &str) {
        self.put(key, Json::Text(value.to_owned()));
    }
}

fn texts<'a>(texts: impl IntoIterator<Item = &'a str>) -> Json {
    Json::List(texts.into_iter().map(|text| Json::Text(text.to_owned())).collect())
}

impl fmt::Display for Json {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Text(text) => quoted(text, f),
            Self::Plain(plain) => f.write_str(plain),
            Self::List(items) => {
                f.write_str("[")?;
                for (at, item) in items.iter().enumerate() {
                    write!(f, "{}{item}", if at == 0 { "" } else { ", " })?;
                }
                f.write_str("]")
            }
            Self::Object(object) => {
                f.write_str("{")?;
                for (at, (key, value)) in object.0.iter().enumerate() {
                    f.write_str(if at == 0 { "\n" } else { ",\n" })?;
                    quoted(key, f)?;
                    write!(f, ": {value}")?;
                }
                f.write_str("\n}")
            }
        }
    }
}

fn quoted(text: &str, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    f.write_char('"')?;
    for letter in text.chars() {
        match letter {
            '"' => f.write_str("\\\"")?,
            '\\' => f.write_str("\\\\")?,
            c if c.is_control() => write!(f, "\\u{:04x}", u32::from(c))?,
            c => f.write_char(c)?,
        }
    }
    f.write_char('"')
}
