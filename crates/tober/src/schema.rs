//! `tober schema`: what a file may say, for editors that complete keys.

use crate::Ended;
use crate::files;
use std::path::Path;
use tober_book::{FileKind, nearest, schema};

/// The usual name of the schema of a file: `ride.schema.json`.
pub fn file_name(kind: FileKind) -> String {
    format!("{}.schema.json", kind.word())
}

/// The kind of file that a word names, or a sentence that says which there are.
pub fn kind(word: &str) -> Result<FileKind, String> {
    let found = FileKind::ALL.into_iter().find(|kind| kind.word() == word || kind.file_name() == word);
    found.ok_or_else(|| {
        let words: Vec<&str> = FileKind::ALL.iter().map(|kind| kind.word()).collect();
        let meant = nearest(word, &words).map_or(String::new(), |near| format!(" Did you mean \"{near}\"?"));
        format!("There is no file {word:?}.{meant} There are: {}.", words.join(", "))
    })
}

/// Prints one schema, or writes one or all of them.
pub fn schemas(word: Option<&str>, out: Option<&Path>) -> Ended {
    let said = match (word.map(kind).transpose(), out) {
        (Err(sentence), _) => Err(sentence),
        (Ok(Some(kind)), None) => {
            files::print(&schema(kind));
            return Ended::Inside;
        }
        (Ok(Some(kind)), Some(path)) => {
            let path = if path.is_dir() { path.join(file_name(kind)) } else { path.to_owned() };
            written(kind, &path)
        }
        (Ok(None), Some(folder)) => {
            FileKind::ALL.into_iter().map(|kind| written(kind, &folder.join(file_name(kind)))).collect()
        }
        (Ok(None), None) => Ok(FileKind::ALL
            .into_iter()
            .map(|kind| format!("tober schema {:<8}{}\n", kind.word(), kind.section().doc.trim()))
            .chain(["tober schema -o FOLDER  all of them, as files\n".to_owned()])
            .collect()),
    };
    match said {
        Ok(text) => {
            files::print(&text);
            Ended::Inside
        }
        Err(sentence) => {
            files::tell(&sentence);
            Ended::WrongInput
        }
    }
}

fn written(kind: FileKind, path: &Path) -> Result<String, String> {
    files::write(path, schema(kind).as_bytes()).map(|()| format!("{}\n", path.display()))
}
