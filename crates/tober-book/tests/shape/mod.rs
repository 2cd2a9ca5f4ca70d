//! A file against the schema of its kind, by a general validator that has never seen this project.

use jsonschema::{Validator, validator_for};
use serde_json::Value as Json;
use std::collections::BTreeMap;
use tober_book::{Code, Diagnostic, FileKind, schema};

/// The schemas, ready for use.
pub struct Shapes(BTreeMap<FileKind, Validator>);

impl Shapes {
    pub fn new() -> Self {
        let ready = |file| {
            let schema: Json = serde_json::from_str(&schema(file)).expect("a schema is JSON");
            (file, validator_for(&schema).expect("a schema is a schema"))
        };
        Self(FileKind::ALL.into_iter().map(ready).collect())
    }

    /// What the schema says against a text; `None` if it is not TOML, or holds what JSON cannot.
    pub fn said(&self, file: FileKind, text: &str) -> Option<Vec<String>> {
        let table: toml::Table = text.parse().ok()?;
        let json = json(&toml::Value::Table(table))?;
        let said = self.0[&file].iter_errors(&json);
        Some(said.map(|error| format!("{}: {error}", error.instance_path())).collect())
    }
}

/// Whether a complaint is of the shape of a file, which a schema sees too. A key that another key asks for is not.
pub fn of_shape(said: &Diagnostic) -> bool {
    matches!(said.code, Code::UnknownKey | Code::WrongKind | Code::UnknownWord)
        || said.code == Code::Missing
            && (said.message.ends_with("is missing here.")
                || said.message.contains("is missing here: it says which"))
}

fn json(value: &toml::Value) -> Option<Json> {
    Some(match value {
        toml::Value::String(text) => Json::String(text.clone()),
        toml::Value::Integer(number) => Json::from(*number),
        toml::Value::Float(number) => Json::Number(serde_json::Number::from_f64(*number)?),
        toml::Value::Boolean(flag) => Json::Bool(*flag),
        // Editors hand a date or a time of TOML to the schema as its text.
        toml::Value::Datetime(time) => Json::String(time.to_string()),
        toml::Value::Array(items) => Json::Array(items.iter().map(json).collect::<Option<_>>()?),
        toml::Value::Table(table) => {
            let pair = |(key, value): (&String, &toml::Value)| Some((key.clone(), json(value)?));
            Json::Object(table.iter().map(pair).collect::<Option<_>>()?)
        }
    })
}
