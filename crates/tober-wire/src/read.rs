//! Reads fields out of JSON and says exactly what is wrong with one.

use core::fmt;
use serde_json::Value;
use tober_book::nearest;
use tober_quantity::{Quantity, Toleranced};

/// Why a question could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DoorError {
    /// The field, as a path: `supports[2].k_N_per_m`. Empty for the question as a whole.
    pub at: String,
    /// What is wrong and what would be right, as sentences.
    pub message: String,
}

impl fmt::Display for DoorError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.at.is_empty() {
            f.write_str(&self.message)
        } else {
            write!(f, "{}: {}", self.at, self.message)
        }
    }
}

/// A place in a question.
#[derive(Clone, Debug)]
pub struct Field<'a> {
    value: &'a Value,
    at: String,
}

/// What a field turned into, or why not.
pub type Read<T> = Result<T, DoorError>;

/// A value as it stands in the question, cut short for a message.
fn excerpt(value: &Value) -> String {
    let text = value.to_string();
    let short: String = text.chars().take(60).collect();
    if short.len() < text.len() { format!("{short}…") } else { short }
}

impl<'a> Field<'a> {
    /// The question as a whole.
    pub fn whole_question(value: &'a Value) -> Self {
        Self { value, at: String::new() }
    }

    /// Where this field is.
    pub fn at(&self) -> &str {
        &self.at
    }

    /// The raw JSON.
    pub fn json(&self) -> &'a Value {
        self.value
    }

    /// An error at this field.
    pub fn error(&self, message: impl Into<String>) -> DoorError {
        DoorError { at: self.at.clone(), message: message.into() }
    }

    fn wanted(&self, wanted: &str) -> DoorError {
        self.error(format!("`{}` stands here; {wanted} is wanted.", excerpt(self.value)))
    }

    fn path_to(&self, key: &str) -> String {
        if self.at.is_empty() { key.to_owned() } else { format!("{}.{key}", self.at) }
    }

    /// A field that must be there.
    ///
    /// # Errors
    /// Where this is not an object or the field is missing.
    pub fn get(&self, key: &str) -> Read<Field<'a>> {
        let object = self.value.as_object().ok_or_else(|| self.wanted("an object with named fields"))?;
        match object.get(key) {
            Some(value) => Ok(Field { value, at: self.path_to(key) }),
            None => {
                let held: Vec<&str> = object.keys().map(String::as_str).take(12).collect();
                Err(self.error(format!(
                    "the field `{key}` is missing; the fields here are: {}.",
                    held.join(", ")
                )))
            }
        }
    }

    /// A field that may be left out, or be `null`.
    ///
    /// # Errors
    /// Where this is not an object.
    pub fn maybe(&self, key: &str) -> Read<Option<Field<'a>>> {
        let object = self.value.as_object().ok_or_else(|| self.wanted("an object with named fields"))?;
        let there = object.get(key).filter(|value| !value.is_null());
        Ok(there.map(|value| Field { value, at: self.path_to(key) }))
    }

    /// Refuses fields that are not in the list.
    ///
    /// # Errors
    /// At the first unknown field, with the list of known ones.
    pub fn only(&self, known: &[&str]) -> Read<()> {
        let object = self.value.as_object().ok_or_else(|| self.wanted("an object with named fields"))?;
        match object.keys().find(|key| !known.contains(&key.as_str())) {
            None => Ok(()),
            Some(key) => {
                let meant =
                    nearest(key, known).map_or(String::new(), |near| format!(" Did you mean `{near}`?"));
                let message = format!("no such field is known.{meant} Known here are: {}.", known.join(", "));
                Err(DoorError { at: self.path_to(key), message })
            }
        }
    }

    /// The entries of a list.
    ///
    /// # Errors
    /// Where this is not a list.
    pub fn list(&self) -> Read<Vec<Field<'a>>> {
        let entries = self.value.as_array().ok_or_else(|| self.wanted("a list"))?;
        let entry = |(i, value)| Field { value, at: format!("{}[{i}]", self.at) };
        Ok(entries.iter().enumerate().map(entry).collect())
    }

    /// The fields of an object whose names are the user's own, in the order in which they stand.
    ///
    /// # Errors
    /// Where this is not an object.
    pub fn entries(&self) -> Read<Vec<(&'a str, Field<'a>)>> {
        let object = self.value.as_object().ok_or_else(|| self.wanted("an object with named fields"))?;
        let entry =
            |(key, value): (&'a String, &'a Value)| (key.as_str(), Field { value, at: self.path_to(key) });
        Ok(object.iter().map(entry).collect())
    }

    /// A number, written as one or as a decimal string.
    ///
    /// # Errors
    /// Where it is neither, or not finite.
    pub fn number(&self) -> Read<f64> {
        let number = match self.value {
            Value::Number(n) => n.as_f64(),
            Value::String(text)
                if !text.is_empty() && text.bytes().all(|b| b"+-.0123456789eE".contains(&b)) =>
            {
                text.parse().ok()
            }
            _ => None,
        };
        number.filter(|n| n.is_finite()).ok_or_else(|| self.wanted("a finite number"))
    }

    /// A whole number inside a range.
    ///
    /// # Errors
    /// Where it is not whole or lies outside.
    pub fn whole(&self, least: i64, greatest: i64) -> Read<i64> {
        let whole = self.value.as_i64().or_else(|| {
            let float = self.value.as_f64()?;
            #[expect(clippy::cast_possible_truncation, reason = "the range is tested before the cast")]
            (float.fract() == 0.0 && float.abs() < 9e15).then_some(float as i64)
        });
        whole
            .filter(|n| (least..=greatest).contains(n))
            .ok_or_else(|| self.wanted(&format!("a whole number from {least} to {greatest}")))
    }

    /// True or false.
    ///
    /// # Errors
    /// Where it is neither.
    pub fn truth(&self) -> Read<bool> {
        self.value.as_bool().ok_or_else(|| self.wanted("true or false"))
    }

    /// Text.
    ///
    /// # Errors
    /// Where it is not a string.
    pub fn text(&self) -> Read<&'a str> {
        self.value.as_str().ok_or_else(|| self.wanted("text in quotation marks"))
    }

    /// One of several words.
    ///
    /// # Errors
    /// Where it is none of them; the error lists them.
    pub fn choice<T: Copy>(&self, words: &[(&str, T)]) -> Read<T> {
        let text = self.text()?;
        let found = words.iter().find(|(word, _)| *word == text).map(|(_, value)| *value);
        found.ok_or_else(|| {
            let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            self.wanted(&format!("one of {}", known.join(", ")))
        })
    }

    /// A quantity with its unit, as in the files: `"1.82 m"`.
    ///
    /// # Errors
    /// Where it is not text, or the text is not such a quantity.
    pub fn quantity<Q: Quantity>(&self) -> Read<Q> {
        let text = self.text().map_err(|_| self.wanted("a quantity with its unit in quotation marks"))?;
        Q::parse(text).map_err(|error| self.error(error.to_string()))
    }

    /// A quantity with its unit and what it may be off by: `"3.4 t ± 5 %"`.
    ///
    /// # Errors
    /// As for [`Field::quantity`].
    pub fn toleranced<Q: Quantity>(&self) -> Read<Toleranced<Q>> {
        let text = self.text().map_err(|_| self.wanted("a quantity with its unit in quotation marks"))?;
        Q::parse_toleranced(text).map_err(|error| self.error(error.to_string()))
    }
}
