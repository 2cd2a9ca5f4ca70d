//! The reading of one file: what was found wrong, and which names it gave and used.

use crate::diagnostic::{Named, Reference};
use crate::nearest::nearest;
use crate::section::Sectioned;
use crate::table::{Group, Key, Link, Section};
use crate::value::Value;
use crate::{Code, Diagnostic, Parsed, Place, Source, Span};
use toml::de::{DeTable, DeValue};

/// A value with where it stands.
#[derive(Clone, Copy)]
pub(crate) struct Node<'a, 'i> {
    pub value: &'a DeValue<'i>,
    pub span: Span,
}

/// Everything learned while reading one file.
pub(crate) struct Report {
    pub source: Source,
    pub diagnostics: Vec<Diagnostic>,
    pub names: Vec<Named>,
    pub references: Vec<Reference>,
    /// Part of the text could not be read, so that what seems to be missing may be there.
    pub torn: bool,
    /// How many items each list has, also those that were refused.
    pub lists: std::collections::BTreeMap<Span, usize>,
}

/// Reads a whole file.
///
/// `first` looks at the text's tables before anything is read, `last` at what was read, also where other
/// things are wrong, so that everything comes at once.
pub(crate) fn parse<T: Sectioned>(
    source: &Source,
    groups_elsewhere: &[Group],
    first: fn(&DeTable<'_>, &mut Report),
    last: fn(&mut T, &mut Report),
) -> Parsed<T> {
    let mut report = Report::new(source);
    let (document, errors) = DeTable::parse_recoverable(source.text());
    for error in errors {
        report.torn = true;
        let span = error.span().unwrap_or(0..0).into();
        let message = format!("This is not TOML: {}.", error.message().trim_end_matches('.'));
        let help = "A line is `key = \"value\"`, `[section]` or `[[section of many]]`.";
        report.error(span, Code::Syntax, message, help);
    }
    let whole = Span { start: 0, end: 0 };
    first(document.get_ref(), &mut report);
    let mut value = T::read_section(document.get_ref(), whole, "", &mut report);
    if let Some(value) = &mut value {
        last(value, &mut report);
    }
    report.resolve(groups_elsewhere);
    report.finish(value)
}

/// Nothing to look at in the tables.
pub(crate) fn any_tables(_: &DeTable<'_>, _: &mut Report) {}

/// Nothing to look at in the model.
pub(crate) fn as_read<T>(_: &mut T, _: &mut Report) {}

impl Report {
    /// A report of nothing yet.
    pub fn new(source: &Source) -> Self {
        Self {
            source: source.clone(),
            diagnostics: Vec::new(),
            names: Vec::new(),
            references: Vec::new(),
            torn: false,
            lists: std::collections::BTreeMap::new(),
        }
    }

    /// Notes an error.
    pub fn error(&mut self, span: Span, code: Code, message: impl Into<String>, help: impl Into<String>) {
        self.diagnostics.push(Diagnostic::new(&self.source, span, code, message.into(), help.into()));
    }

    /// The file's value and its diagnostics, in file order.
    pub fn finish<T>(mut self, value: Option<T>) -> Parsed<T> {
        self.keep_what_was_whole();
        self.diagnostics.sort_by_key(|d| (d.span.start, d.code, d.message.clone()));
        self.diagnostics.dedup();
        let value = value.filter(|_| self.diagnostics.is_empty());
        Parsed {
            source: self.source,
            value,
            diagnostics: self.diagnostics,
            names: self.names,
            references: self.references,
        }
    }

    /// Behind the first place that is not TOML it is not known which section a line belongs to, so only
    /// what is wrong on the lines before it is told, and everything that is not TOML.
    fn keep_what_was_whole(&mut self) {
        let torn = self.diagnostics.iter().filter(|d| d.code == Code::Syntax).map(|d| d.line).min();
        if let (true, Some(torn)) = (self.torn, torn) {
            self.diagnostics.retain(|d| d.code == Code::Syntax || d.line < torn);
        }
    }

    /// Refuses keys that the section does not have, with the nearest that it has; gives those nearest, so
    /// that none of them is said to be missing too.
    pub fn unknown_keys(
        &mut self,
        table: &DeTable<'_>,
        section: &'static Section,
        tag: &str,
    ) -> Vec<&'static str> {
        let known: Vec<&'static str> = section.keys.iter().map(|known| known.name).collect();
        let mut misspelt = Vec::new();
        for key in table.keys() {
            let name = key.get_ref().as_ref();
            if name == tag || section.keys.iter().any(|known| known.name == name) {
                continue;
            }
            let near = nearest(name, &known);
            misspelt.extend(near);
            let help = match near {
                Some(near) => format!("Did you mean `{near}`?"),
                None => format!("The keys here are {}.", listed(&known)),
            };
            let message = format!("There is no key `{}` here.", short(name));
            self.error(key.span().into(), Code::UnknownKey, message, help);
        }
        misspelt
    }

    /// Reads one key of a section.
    pub fn field<T: Value>(
        &mut self,
        table: &DeTable<'_>,
        key: &'static Key,
        place: &mut Place,
    ) -> Option<T> {
        let Some(value) = table.get(key.name) else {
            if T::REQUIRED && !self.torn && !place.is_misspelt(key.name) {
                let help = format!("{} Write {}.", key.doc.trim(), key.kind.example(key.name));
                self.error(place.section, Code::Missing, format!("`{}` is missing here.", key.name), help);
            }
            return T::absent();
        };
        let span = value.span().into();
        place.note(key.name, span);
        T::read(Node { value: value.get_ref(), span }, key, self)
    }

    /// The part of a value in quotes that lies at some bytes of its text; the whole value if it is written
    /// with escapes, or otherwise than in plain quotes.
    pub fn inside(&self, value: Span, part: &core::ops::Range<usize>) -> Span {
        let written = self.source.text().get(value.start..value.end).unwrap_or("");
        let plain = written.len() >= 2
            && written.starts_with(['"', '\''])
            && !written.starts_with("\"\"\"")
            && !written.starts_with("'''")
            && !written.contains('\\');
        let (start, end) = (value.start + 1 + part.start, value.start + 1 + part.end);
        if plain && part.start < part.end && end < value.end { Span { start, end } } else { value }
    }

    /// How many tables of a list the text has, at the place where the list stands.
    pub fn written_items(&self, list: Span) -> usize {
        self.lists.get(&list).copied().unwrap_or(0)
    }

    /// Reads a table.
    pub fn table<T: Sectioned>(&mut self, node: Node<'_, '_>, key: &'static Key) -> Option<T> {
        let table = self.as_table(node, key)?;
        T::read_section(table, node.span, "", self)
    }

    fn as_table<'a, 'i>(&mut self, node: Node<'a, 'i>, key: &'static Key) -> Option<&'a DeTable<'i>> {
        if let DeValue::Table(table) = node.value {
            return Some(table);
        }
        self.wrong_kind(node, key);
        None
    }

    /// Reads a table and the word that says which of several it is.
    pub fn tag<'a, 'i>(
        &mut self,
        node: Node<'a, 'i>,
        key: &'static Key,
        tag: &str,
        words: &[&'static str],
    ) -> Option<(&'a DeTable<'i>, &'static str)> {
        let table = self.as_table(node, key)?;
        let Some(value) = table.get(tag) else {
            if !self.torn {
                let message = format!("`{tag}` is missing here: it says which `{}` this is.", key.name);
                let help = format!("Write `{tag} = ` and one of {}.", quoted(words));
                self.error(node.span, Code::Missing, message, help);
            }
            return None;
        };
        let inner = Node { value: value.get_ref(), span: value.span().into() };
        let at = self.one_of(inner, tag, words)?;
        Some((table, words[at]))
    }

    /// Reads one of a set of words.
    pub fn one_of(&mut self, node: Node<'_, '_>, key: &str, words: &[&'static str]) -> Option<usize> {
        let DeValue::String(text) = node.value else {
            let message = format!("`{key}` must be a word in quotes, and this is {}.", kind_of(node.value));
            self.error(node.span, Code::WrongKind, message, format!("Write one of {}.", quoted(words)));
            return None;
        };
        if let Some(at) = words.iter().position(|word| *word == text.as_ref()) {
            return Some(at);
        }
        let message = format!("`{key}` cannot be \"{}\".", short(text));
        let help = match nearest(text, words) {
            Some(near) => format!("Did you mean \"{near}\"? It is one of {}.", quoted(words)),
            None => format!("Write one of {}.", quoted(words)),
        };
        self.error(node.span, Code::UnknownWord, message, help);
        None
    }

    /// Says that a value is of the wrong kind, and what would be right.
    pub fn wrong_kind(&mut self, node: Node<'_, '_>, key: &Key) {
        let message =
            format!("`{}` must be {}, and this is {}.", key.name, key.kind.noun(), kind_of(node.value));
        let help = format!("Write {}.", key.kind.example(key.name));
        self.error(node.span, Code::WrongKind, message, help);
    }

    /// Notes a name that is given or used.
    pub fn link(&mut self, link: Link, name: &str, span: Span) {
        match link {
            Link::None => {}
            Link::Defines(group) => self.define(group, None, name, span),
            Link::Refers(group) => self.refer(group, None, name, span),
        }
    }
    /// Notes that a name is given to something.
    pub fn define(&mut self, group: Group, within: Option<&str>, name: &str, span: Span) {
        let within = within.map(str::to_owned);
        self.names.push(Named { group, within, name: name.to_owned(), span });
    }
    /// Notes that a name is used.
    pub fn refer(&mut self, group: Group, within: Option<&str>, name: &str, span: Span) {
        let within = within.map(str::to_owned);
        let source = self.source.clone();
        self.references.push(Reference { source, group, within, name: name.to_owned(), span });
    }
}

/// What a TOML value is, with its article.
pub(crate) fn kind_of(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) | DeValue::Float(_) => "a bare number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date or time",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

/// Text that is safe to repeat in a sentence, however long it was.
pub(crate) fn short(text: &str) -> String {
    let mut out: String = text.chars().take(60).flat_map(char::escape_debug).collect();
    if text.chars().nth(60).is_some() {
        out.push('…');
    }
    out.replace("\\'", "'")
}

/// Names in a sentence: `a`, `b` and `c`.
pub(crate) fn listed(words: &[&str]) -> String {
    join(words.iter().map(|word| format!("`{word}`")).collect())
}

/// Words in a sentence: "a", "b" and "c".
pub(crate) fn quoted(words: &[&str]) -> String {
    let more = words.len().saturating_sub(30);
    let mut all: Vec<String> = words.iter().take(30).map(|word| format!("\"{}\"", short(word))).collect();
    if more > 0 {
        all.push(format!("{more} more"));
    }
    join(all)
}

fn join(mut words: Vec<String>) -> String {
    let last = words.pop().unwrap_or_default();
    if words.is_empty() { last } else { format!("{} and {last}", words.join(", ")) }
}
