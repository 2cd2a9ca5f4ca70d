//! `tober calc`: one calculation, JSON in and JSON out.

use crate::Ended;
use crate::files;
use std::io::Read;
use std::path::Path;
use tober_quantity::UnitSet;
use tober_wire::calc::Standings;

/// Works one calculation on the questions of a file or of standard input.
pub fn calc(name: &str, file: Option<&Path>, units: UnitSet) -> Ended {
    let text = match file {
        Some(path) => files::read(path),
        None => standard_input(),
    };
    let answer = text.and_then(|text| tober_wire::calc::answer(name, &text, units));
    match answer {
        Err(sentence) => {
            files::tell(&sentence);
            Ended::WrongInput
        }
        Ok((json, standings)) => {
            files::print(&format!("{json}\n"));
            match standings {
                Standings { errors: 1.., .. } => Ended::WrongInput,
                Standings { past_limit: 1.., .. } => Ended::PastLimit,
                Standings { not_known: 1.., .. } => Ended::NotKnown,
                _ => Ended::Inside,
            }
        }
    }
}

fn standard_input() -> Result<String, String> {
    let mut text = String::new();
    let read = std::io::stdin().lock().read_to_string(&mut text);
    read.map(|_| text).map_err(|error| format!("Standard input cannot be read as UTF-8 text: {error}."))
}
