//! The three declarations from which the table, the types and the reading all come.

use crate::Span;
use crate::report::Report;
use crate::table::Section;
use toml::de::DeTable;

/// A table of a file as a type of the model.
pub(crate) trait Sectioned: Sized {
    const SECTION: &'static Section;
    /// Reads it; `tag` is a key that has been read already. Reports everything wrong, and gives `None`
    /// only when a required key is missing or wrong.
    fn read_section(table: &DeTable<'_>, span: Span, tag: &str, report: &mut Report) -> Option<Self>;
}

/// A table with many keys, kept apart so that its siblings take no more room than they need.
impl<T: Sectioned> Sectioned for Box<T> {
    const SECTION: &'static Section = T::SECTION;
    fn read_section(table: &DeTable<'_>, span: Span, tag: &str, report: &mut Report) -> Option<Self> {
        T::read_section(table, span, tag, report).map(Self::new)
    }
}

/// A Rust name as a key: `rated_load` is written `rated-load`, as in a sentence.
pub(crate) const fn hyphenated<const N: usize>(name: &str) -> [u8; N] {
    let bytes = name.as_bytes();
    let mut out = [0; N];
    let mut at = 0;
    while at < N {
        out[at] = if bytes[at] == b'_' { b'-' } else { bytes[at] };
        at += 1;
    }
    out
}

macro_rules! key_name {
    ($field:ident $key:literal) => {
        $key
    };
    ($field:ident) => {{
        const WRITTEN: &str = stringify!($field);
        const BYTES: [u8; WRITTEN.len()] = $crate::section::hyphenated::<{ WRITTEN.len() }>(WRITTEN);
        match core::str::from_utf8(&BYTES) {
            Ok(name) => name,
            Err(_) => WRITTEN,
        }
    }};
}

macro_rules! bounds {
    () => {
        $crate::table::Bounds::Any
    };
    ($bounds:expr) => {
        $bounds
    };
}

macro_rules! link_of {
    () => {
        $crate::table::Link::None
    };
    (defines $group:ident) => {
        $crate::table::Link::Defines($crate::table::Group::$group)
    };
    (refers $group:ident) => {
        $crate::table::Link::Refers($crate::table::Group::$group)
    };
}

/// Declares a table of a file: the type, its keys, and how it is read.
macro_rules! section {
    (
        $(#[doc = $about:literal])+
        pub struct $name:ident $(checked by $whole:path)? {
            $(
                $(#[doc = $doc:literal])+
                $field:ident $(as $key:literal)? : $ty:ty
                    $(, within $bounds:expr)?
                    $(, link $link:ident $group:ident)?
                    $(, then $check:path)? ;
            )*
        }
    ) => {
        $(#[doc = $about])+
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name {
            $( $(#[doc = $doc])+ pub $field: $ty, )*
            /// Where it stands in its file.
            pub place: $crate::Place,
        }

        impl $crate::section::Sectioned for $name {
            const SECTION: &'static $crate::table::Section = &$crate::table::Section {
                name: stringify!($name),
                doc: concat!($($about),+),
                keys: &[$(
                    $crate::table::Key {
                        name: $crate::section::key_name!($field $($key)?),
                        doc: concat!($($doc),+),
                        kind: <$ty as $crate::value::Value>::KIND,
                        required: <$ty as $crate::value::Value>::REQUIRED,
                        bounds: $crate::section::bounds!($($bounds)?),
                        link: $crate::section::link_of!($($link $group)?),
                    },
                )*],
            };

            fn read_section(
                table: &toml::de::DeTable<'_>,
                span: $crate::Span,
                tag: &str,
                report: &mut $crate::report::Report,
            ) -> Option<Self> {
                let misspelt = report.unknown_keys(table, Self::SECTION, tag);
                let mut place = $crate::Place::new(span, misspelt);
                let mut keys = Self::SECTION.keys.iter();
                $(
                    let $field = keys.next().and_then(|key| report.field::<$ty>(table, key, &mut place));
                    $( if let Some(value) = &$field { $check(value, &place, report); } )?
                )*
                let read = Self { $( $field: $field?, )* place };
                $( $whole(&read, report); )?
                Some(read)
            }
        }

        impl $crate::value::Value for $name {
            const KIND: $crate::table::Kind =
                $crate::table::Kind::Table(<Self as $crate::section::Sectioned>::SECTION);
            fn read(
                value: $crate::report::Node<'_, '_>,
                key: &'static $crate::table::Key,
                report: &mut $crate::report::Report,
            ) -> Option<Self> {
                report.table::<Self>(value, key)
            }
        }
    };
}

/// Declares a set of words, one of which stands as a value.
macro_rules! choice {
    (
        $(#[doc = $about:literal])+
        pub enum $name:ident {
            $( $(#[doc = $doc:literal])+ $variant:ident = $word:literal, )*
        }
    ) => {
        $(#[doc = $about])+
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name {
            $( $(#[doc = $doc])+ $variant, )*
        }
        impl $name {
            /// All of them.
            pub const ALL: &'static [Self] = &[$( Self::$variant, )*];
            /// How it is written.
            pub fn word(self) -> &'static str {
                match self { $( Self::$variant => $word, )* }
            }
        }
        impl $crate::value::Value for $name {
            const KIND: $crate::table::Kind = $crate::table::Kind::OneOf(&[$(
                $crate::table::Choice { word: $word, doc: concat!($($doc),+) },
            )*]);
            fn read(
                value: $crate::report::Node<'_, '_>,
                key: &'static $crate::table::Key,
                report: &mut $crate::report::Report,
            ) -> Option<Self> {
                let at = report.one_of(value, key.name, &[$( $word, )*])?;
                Self::ALL.get(at).copied()
            }
        }
    };
}

/// Declares tables of which one stands in a place, told apart by a word.
macro_rules! variants {
    (
        $(#[doc = $about:literal])+
        pub enum $name:ident by $tag:literal {
            $( $(#[doc = $doc:literal])+ $variant:ident($ty:ty) = $word:literal, )*
        }
    ) => {
        $(#[doc = $about])+
        #[derive(Clone, Debug, PartialEq)]
        pub enum $name {
            $( $(#[doc = $doc])+ $variant($ty), )*
        }
        impl $name {
            /// The word that says which it is.
            pub fn word(&self) -> &'static str {
                match self { $( Self::$variant(_) => $word, )* }
            }
            /// Where it stands in its file.
            pub fn place(&self) -> &$crate::Place {
                match self { $( Self::$variant(inner) => &inner.place, )* }
            }
        }
        impl $crate::value::Value for $name {
            const KIND: $crate::table::Kind = $crate::table::Kind::Variants {
                tag: $tag,
                variants: &[$(
                    $crate::table::Variant {
                        word: $word,
                        doc: concat!($($doc),+),
                        section: <$ty as $crate::section::Sectioned>::SECTION,
                    },
                )*],
            };
            fn read(
                value: $crate::report::Node<'_, '_>,
                key: &'static $crate::table::Key,
                report: &mut $crate::report::Report,
            ) -> Option<Self> {
                let (table, word) = report.tag(value, key, $tag, &[$( $word, )*])?;
                match word {
                    $( $word => <$ty as $crate::section::Sectioned>::read_section(
                        table, value.span, $tag, report).map(Self::$variant), )*
                    _ => None,
                }
            }
        }
    };
}

pub(crate) use {bounds, choice, key_name, link_of, section, variants};
