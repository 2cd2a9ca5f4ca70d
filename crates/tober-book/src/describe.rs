//! The printed reference of the files, from the same table that reads them.

use crate::table::{Bounds, FileKind, Key, Kind, Link, Section};
use core::fmt::Write;

/// What a file may say, as Markdown: each section, its keys, and what each key means.
pub fn describe(file: FileKind) -> String {
    let mut out = String::new();
    let section = file.section();
    // Writing to a string cannot fail.
    let _ = writeln!(out, "# `{}`\n\n{}", file.file_name(), section.doc.trim());
    keys(section, "", &mut out);
    out
}

fn keys(section: &'static Section, path: &str, out: &mut String) {
    let _ = writeln!(out, "\n| key | value | |\n|---|---|---|");
    for key in section.keys {
        let _ = writeln!(out, "| `{}` | {} | {} |", key.name, cell(key), key.doc.trim());
    }
    for key in section.keys {
        below(key, &key.kind, path, false, out);
    }
}

fn below(key: &'static Key, kind: &'static Kind, path: &str, many: bool, out: &mut String) {
    let path = if path.is_empty() { key.name.to_owned() } else { format!("{path}.{}", key.name) };
    let header = if many { format!("[[{path}]]") } else { format!("[{path}]") };
    match kind {
        Kind::List(inner) => {
            below(key, inner, path.strip_suffix(key.name).unwrap_or("").trim_end_matches('.'), true, out);
        }
        Kind::Table(section) => {
            let _ = writeln!(out, "\n## `{header}`\n\n{}", section.doc.trim());
            keys(section, &path, out);
        }
        Kind::Variants { tag, variants } => {
            for variant in *variants {
                let _ = writeln!(
                    out,
                    "\n## `{header}` with `{tag} = \"{}\"`\n\n{}",
                    variant.word,
                    variant.doc.trim()
                );
                keys(variant.section, &path, out);
            }
        }
        _ => {}
    }
}

fn cell(key: &Key) -> String {
    let mut out = key.kind.noun().replace('|', "\\|");
    match key.bounds {
        Bounds::Any => {}
        Bounds::Above(low, high) => out += &format!("; more than {low}, at most {high}"),
        Bounds::From(low, high) => out += &format!("; {low} to {high}"),
    }
    match key.link {
        Link::None => {}
        Link::Defines(group) => out += &format!("; no other {} has it", group.noun()),
        Link::Refers(group) => out += &format!("; the name of a {}", group.noun()),
    }
    if key.required { format!("{out}; **required**") } else { out }
}
