//! `tober log`: files of entries, verified with nothing but the file; and what was written on paper, typed in.

mod table;
mod type_in;
mod wants;

use crate::Ended;
use crate::files;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use tober_log::text::{Opened, open};
use tober_log::{Entry, Head, Log, Stands};

/// What can be done with a log.
#[derive(clap::Subcommand)]
pub enum LogCommand {
    /// Say whether a file of entries is whole: every hash, every chain, every end.
    Verify {
        /// The file, as a phone hands it over.
        file: PathBuf,
        /// An earlier file of the same entries: what it has must still be there, unchanged.
        #[arg(long, value_name = "FILE")]
        earlier: Option<PathBuf>,
        /// Print every entry as a line.
        #[arg(long)]
        entries: bool,
    },
    /// Type in what was written into the blanks of printed sheets: a file of entries that `tober log verify` checks and a phone
    /// takes in. `tober sheets --beside` writes the table to fill; nothing is filled in by itself.
    TypeIn(type_in::TypeIn),
}

/// Runs a command of the log.
pub fn log(command: &LogCommand) -> Ended {
    match command {
        LogCommand::Verify { file, earlier, entries } => verify(file, earlier.as_deref(), *entries),
        LogCommand::TypeIn(asked) => type_in::type_in(asked),
    }
}

/// Verifies a file, and says in words what it holds and what is wrong with it.
fn verify(file: &Path, earlier: Option<&Path>, entries: bool) -> Ended {
    let named = file.display().to_string();
    let heads = match earlier.map(heads_of).transpose() {
        Ok(heads) => heads,
        Err(sentence) => return refused(&sentence),
    };
    let opened = match files::read_bytes(file) {
        Ok(bytes) => open(&bytes),
        Err(sentence) => return refused(&sentence),
    };
    let mut wrong: Vec<String> = opened.damage.iter().map(|damage| format!("{named}: {damage}")).collect();
    let mut troubles: BTreeSet<_> = opened.troubles.iter().cloned().collect();
    troubles.extend(heads.iter().flat_map(|heads| opened.log.against(heads)));
    wrong.extend(troubles.iter().map(|trouble| format!("{named}: {trouble}")));
    files::print(&found(&named, &opened));
    if entries {
        let lines = opened.log.entries().iter().map(|entry| format!("{}\n", opened.log.line(entry)));
        files::print(&lines.collect::<String>());
    }
    if wrong.is_empty() {
        let as_before =
            earlier.map_or(String::new(), |earlier| format!(", and all of {} is in it", earlier.display()));
        files::print(&format!(
            "Nothing is wrong: every entry and every chain is whole, to the ends that the file names{as_before}.\n"
        ));
        return Ended::Inside;
    }
    for sentence in &wrong {
        files::tell(sentence);
    }
    let count = wrong.len();
    files::tell(&if count == 1 {
        "1 thing is wrong.".to_owned()
    } else {
        format!("{count} things are wrong.")
    });
    Ended::WrongInput
}

fn refused(sentence: &str) -> Ended {
    files::tell(sentence);
    Ended::WrongInput
}

/// The ends of the chains that an earlier file names.
fn heads_of(path: &Path) -> Result<Vec<Head>, String> {
    let opened = open(&files::read_bytes(path)?);
    let Some(header) = &opened.header else {
        let named = path.display();
        return Err(format!(
            "{named} cannot be held against the file: its first line is spoiled or missing, so it does not say where its \
             chains end. Take another earlier file."
        ));
    };
    Ok(header.heads.clone())
}

/// The first characters of the hash of what stands in a file of entries: what the foot of a printed page says.
#[cfg(feature = "pdf")]
pub fn head_of(path: &Path) -> Result<String, String> {
    let opened = open(&files::read_bytes(path)?);
    if opened.log.entries().is_empty() {
        let named = path.display();
        return Err(format!(
            "{named} has no entry that can be read. Give a file of entries as a phone hands it over."
        ));
    }
    Ok(opened.log.state_hash().short())
}

/// What a file holds, in words.
fn found(named: &str, opened: &Opened) -> String {
    let log = &opened.log;
    let visit =
        opened.header.as_ref().map_or(String::new(), |header| format!(" of the visit {:?}", header.visit));
    let mut out = format!("{named}: {}{visit}.\n", counted(log.entries().len()));
    if log.entries().is_empty() {
        return out;
    }
    let mut chains: BTreeMap<&str, Vec<&Entry>> = BTreeMap::new();
    for entry in log.entries() {
        chains.entry(&entry.device).or_default().push(entry);
    }
    for head in log.heads() {
        let chain = chains.get(head.device.as_str()).map(Vec::as_slice).unwrap_or_default();
        let wall =
            |entry: Option<&&Entry>| entry.map_or(String::new(), |entry| entry.wall.replacen('T', " ", 1));
        out.push_str(&format!(
            "  {}: {}, {} to {}; ends with {}\n",
            head.device,
            counted(chain.len()),
            wall(chain.first()),
            wall(chain.last()),
            head.hash.short()
        ));
    }
    out.push_str(&by_kind(log));
    out.push_str(&not_agreed(log));
    let signed = log.entries().iter().filter(|entry| entry.signed()).count();
    out.push_str(&match signed {
        0 => "None is signed: they are proposals, and none counts as a record.\n".to_owned(),
        signed => format!(
            "{signed} of them are signed. This version checks no signature, so none counts as a record.\n"
        ),
    });
    out.push_str(&format!("The hash of what stands is {}.\n", log.state_hash()));
    out
}

fn counted(entries: usize) -> String {
    format!("{entries} {}", if entries == 1 { "entry" } else { "entries" })
}

fn by_kind(log: &Log) -> String {
    let mut kinds: BTreeMap<&str, usize> = BTreeMap::new();
    for entry in log.entries() {
        *kinds.entry(&entry.kind).or_default() += 1;
    }
    let kinds: Vec<String> = kinds.iter().map(|(kind, count)| format!("{kind} {count}")).collect();
    let replaced = log.entries().iter().filter(|entry| !log.replaced_by(entry).is_empty()).count();
    format!("By kind: {}. Replaced by later ones, and still readable: {replaced}.\n", kinds.join(", "))
}

/// The subjects about which entries that stand do not say the same.
fn not_agreed(log: &Log) -> String {
    let kinds: BTreeSet<&str> = log.entries().iter().map(|entry| entry.kind.as_str()).collect();
    let mut out = String::new();
    for kind in kinds {
        for (what, subject) in log.what_stands(kind) {
            if let Stands::Disagree(heads) = subject.stands() {
                let names: Vec<String> = heads.iter().map(|entry| entry.id().to_string()).collect();
                out.push_str(&format!(
                    "Not agreed: {kind} of {what:?} by {}. It has no value until one entry replaces them.\n",
                    names.join(" and ")
                ));
            }
        }
    }
    out
}
