//! A file taken apart and put together again, for tests that leave keys out or alter values.

use crate::table::{FileKind, Key, Kind, Section, says_less};
use core::fmt::{self, Write};
use toml::de::{DeTable, DeValue};

/// The tables and values of a file, without its comments and layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    root: Tree,
}

#[derive(Clone, Debug, PartialEq)]
enum Tree {
    Table(Vec<(String, Tree)>),
    List(Vec<Tree>),
    /// A text, number, date or flag as TOML writes it.
    Plain(String),
}

/// The way to a value: a key, or the place in a list, one behind the other.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Path(Vec<Part>);

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Part {
    Key(String),
    Item(usize),
}

impl Path {
    fn then(&self, part: Part) -> Self {
        let mut parts = self.0.clone();
        parts.push(part);
        Self(parts)
    }
}

impl fmt::Display for Path {
    /// As `support[1].rated-load`, counted from 0.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, part) in self.0.iter().enumerate() {
            match part {
                Part::Key(key) if at == 0 => f.write_str(key)?,
                Part::Key(key) => write!(f, ".{key}")?,
                Part::Item(item) => write!(f, "[{item}]")?,
            }
        }
        Ok(())
    }
}

/// A key that is written in a file, and what the table says of it.
#[derive(Clone, Debug)]
pub struct Found {
    /// Where it is.
    pub path: Path,
    /// What it may be.
    pub key: &'static Key,
    /// Its text, if its value is a text.
    pub text: Option<String>,
}

impl Document {
    /// The parts of a text, or nothing if it is not TOML.
    pub fn parse(text: &str) -> Option<Self> {
        let table = DeTable::parse(text).ok()?;
        Some(Self { root: of_table(table.get_ref()) })
    }

    /// Every key written that the table of the file knows, in the order of the table.
    pub fn keys(&self, file: FileKind) -> Vec<Found> {
        let mut found = Vec::new();
        walk(&self.root, file.section(), &Path::default(), &mut found);
        found
    }

    /// Every optional key written whose loss makes the file say less (see [`crate::optional_keys`]).
    pub fn optional(&self, file: FileKind) -> Vec<Found> {
        let mut found = self.keys(file);
        found.retain(|found| {
            let top = match found.path.0.as_slice() {
                [Part::Key(first), ..] => first.as_str(),
                _ => "",
            };
            !found.key.required && says_less(file, top, found.key.name)
        });
        found
    }

    /// The file without what stands at a path.
    #[must_use]
    pub fn without(&self, path: &Path) -> Self {
        let mut copy = self.clone();
        copy.alter(path, |_| None);
        copy
    }

    /// The file with another value at a path: TOML, such as `"40 mm"` in its quotes. Nothing if that is no
    /// value, or nothing stands at the path.
    pub fn with(&self, path: &Path, value: &str) -> Option<Self> {
        let value = of_value(DeValue::parse(value).ok()?.get_ref());
        let mut copy = self.clone();
        copy.alter(path, |_| Some(value)).then_some(copy)
    }

    /// The file as a text, one line for each key at its top.
    pub fn text(&self) -> String {
        let mut out = String::new();
        if let Tree::Table(keys) = &self.root {
            for (key, value) in keys {
                // Writing to a string cannot fail.
                let _ = writeln!(out, "{} = {value}", plain_text(key));
            }
        }
        out
    }

    /// Puts another value at a path, or none; says whether something stood there.
    fn alter(&mut self, path: &Path, change: impl FnOnce(&Tree) -> Option<Tree>) -> bool {
        let Some((last, way)) = path.0.split_last() else { return false };
        let mut at = &mut self.root;
        for part in way {
            let next = match (part, at) {
                (Part::Key(key), Tree::Table(keys)) => {
                    keys.iter_mut().find(|(k, _)| k == key).map(|(_, v)| v)
                }
                (Part::Item(item), Tree::List(items)) => items.get_mut(*item),
                _ => None,
            };
            let Some(next) = next else { return false };
            at = next;
        }
        match (last, at) {
            (Part::Key(key), Tree::Table(keys)) => {
                let Some(index) = keys.iter().position(|(k, _)| k == key) else { return false };
                match change(&keys[index].1) {
                    Some(value) => keys[index].1 = value,
                    None => drop(keys.remove(index)),
                }
                true
            }
            (Part::Item(item), Tree::List(items)) if *item < items.len() => {
                match change(&items[*item]) {
                    Some(value) => items[*item] = value,
                    None => drop(items.remove(*item)),
                }
                true
            }
            _ => false,
        }
    }
}

fn of_table(table: &DeTable<'_>) -> Tree {
    Tree::Table(
        table.iter().map(|(key, value)| (key.get_ref().to_string(), of_value(value.get_ref()))).collect(),
    )
}

fn of_value(value: &DeValue<'_>) -> Tree {
    match value {
        DeValue::String(text) => Tree::Plain(plain_text(text)),
        DeValue::Integer(number) => Tree::Plain(match number.radix() {
            16 => format!("0x{}", number.as_str()),
            8 => format!("0o{}", number.as_str()),
            2 => format!("0b{}", number.as_str()),
            _ => number.as_str().to_owned(),
        }),
        DeValue::Float(number) => Tree::Plain(number.as_str().to_owned()),
        DeValue::Boolean(flag) => Tree::Plain(flag.to_string()),
        DeValue::Datetime(time) => Tree::Plain(time.to_string()),
        DeValue::Array(items) => Tree::List(items.iter().map(|item| of_value(item.get_ref())).collect()),
        DeValue::Table(table) => of_table(table),
    }
}

/// A text in quotes, as TOML writes it.
fn plain_text(text: &str) -> String {
    let mut out = String::from('"');
    for letter in text.chars() {
        match letter {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => {
                let _ = write!(out, "\\u{:04X}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

impl fmt::Display for Tree {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Plain(text) => f.write_str(text),
            Self::List(items) => {
                f.write_str("[")?;
                for (at, item) in items.iter().enumerate() {
                    write!(f, "{}{item}", if at == 0 { "" } else { ", " })?;
                }
                f.write_str("]")
            }
            Self::Table(keys) => {
                f.write_str("{")?;
                for (at, (key, value)) in keys.iter().enumerate() {
                    write!(f, "{}{} = {value}", if at == 0 { " " } else { ", " }, plain_text(key))?;
                }
                f.write_str(" }")
            }
        }
    }
}

fn walk(tree: &Tree, section: &'static Section, path: &Path, found: &mut Vec<Found>) {
    let Tree::Table(keys) = tree else { return };
    for key in section.keys {
        let Some((_, value)) = keys.iter().find(|(name, _)| name == key.name) else { continue };
        let path = path.then(Part::Key(key.name.to_owned()));
        let text = match value {
            Tree::Plain(plain) => {
                plain.strip_prefix('"').and_then(|t| t.strip_suffix('"')).map(str::to_owned)
            }
            _ => None,
        };
        found.push(Found { path: path.clone(), key, text });
        walk_kind(value, &key.kind, &path, found);
    }
}

fn walk_kind(tree: &Tree, kind: &'static Kind, path: &Path, found: &mut Vec<Found>) {
    match (kind, tree) {
        (Kind::List(inner) | Kind::Repeated(inner), Tree::List(items)) => {
            for (at, item) in items.iter().enumerate() {
                walk_kind(item, inner, &path.then(Part::Item(at)), found);
            }
        }
        (Kind::Table(section), _) => walk(tree, section, path, found),
        (Kind::Variants { tag, variants }, Tree::Table(keys)) => {
            let word = keys.iter().find(|(name, _)| name == tag).map(|(_, word)| word);
            let variant =
                variants.iter().find(|variant| word == Some(&Tree::Plain(plain_text(variant.word))));
            if let Some(variant) = variant {
                walk(tree, variant.section, path, found);
            }
        }
        _ => {}
    }
}
