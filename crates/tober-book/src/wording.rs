//! What a kind of value is called, and how it is written.

use crate::table::Kind;
use crate::value::Measured;
use tober_quantity::Length;

impl Kind {
    /// What a value of the kind is, with its article.
    pub fn noun(&self) -> String {
        match self {
            Self::Text => "a text in quotes".into(),
            Self::Flag => "true or false".into(),
            Self::Count => "a whole number without quotes".into(),
            Self::Date => "a day".into(),
            Self::TimeOfDay => "a time of day".into(),
            Self::Quantity { what, toleranced: false, .. } => format!("{what} in quotes with its unit"),
            Self::Quantity { what, .. } => format!("{what} in quotes with its unit, with ± if it may be off"),
            Self::Share => "a plain number or a percentage in quotes".into(),
            Self::Point { axes: 2, .. } => "a list of two lengths, along and across".into(),
            Self::Point { .. } => "a list of three lengths, along, across and up".into(),
            Self::OneOf(choices) => {
                let words: Vec<&str> = choices.iter().map(|choice| choice.word).collect();
                format!("one of {}", crate::report::quoted(&words))
            }
            Self::Repeated(inner) => format!("{}, or a list of such where it was read again", inner.noun()),
            Self::List(Kind::Table(_) | Kind::Variants { .. }) => "a list of tables".into(),
            Self::List(inner) => format!("a list, each of it {}", inner.noun()),
            Self::Table(_) | Self::Variants { .. } => "a table".into(),
        }
    }

    /// How a value of the kind is written under a key.
    pub fn example(&self, key: &str) -> String {
        match self {
            Self::Text => format!("`{key} = \"...\"`"),
            Self::Flag => format!("`{key} = true` or `{key} = false`"),
            Self::Count => format!("`{key} = 4`"),
            Self::Date => format!("`{key} = \"2031-05-02\"`"),
            Self::TimeOfDay => format!("`{key} = \"05:30\"`"),
            Self::Quantity { examples, toleranced: false, .. } => format!("it as {examples}"),
            Self::Quantity { examples, .. } => {
                format!("it as {examples}, with \"± 5 %\" after it where it may be off")
            }
            Self::Share => format!("`{key} = 0.85` or `{key} = \"85 %\"`"),
            Self::Point { axes: 2, .. } => format!("`{key} = [\"3.2 m\", \"-1.05 m\"]`"),
            Self::Point { .. } => format!("`{key} = [\"3.2 m\", \"0 m\", \"1.15 m\"]`"),
            Self::OneOf(choices) => format!("`{key} = \"{}\"`", choices.first().map_or("", |c| c.word)),
            Self::Repeated(inner) => inner.example(key),
            Self::List(Kind::Table(_) | Kind::Variants { .. }) => {
                format!("`[[...{key}]]` and its keys below, or `{key} = [{{ ... }}]`")
            }
            Self::List(inner) => {
                let inner = inner.example(key);
                let one = inner.split_once(" = ").map_or("\"...\"", |(_, value)| value.trim_end_matches('`'));
                format!("`{key} = [{one}, ...]`")
            }
            Self::Table(_) => format!("`[...{key}]` and its keys below, or `{key} = {{ ... }}`"),
            Self::Variants { tag, variants } => {
                format!("`{key} = {{ {tag} = \"{}\", ... }}`", variants.first().map_or("", |v| v.word))
            }
        }
    }

    /// What is measured, and how it is written.
    pub(crate) fn quantity(&self) -> (&'static str, &'static str) {
        match self {
            Self::Quantity { what, examples, .. } => (what, examples),
            Self::List(inner) | Self::Repeated(inner) => inner.quantity(),
            _ => (Length::WHAT, Length::EXAMPLES),
        }
    }
}
