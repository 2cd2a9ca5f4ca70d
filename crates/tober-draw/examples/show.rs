//! Writes the drawings of two invented rides, as SVG and PNG, into a folder given as the argument.

#[path = "../tests/invented/mod.rs"]
mod invented;

use std::error::Error;
use std::fs;
use std::path::PathBuf;
use tober_draw::{StyleSheet, png, stack};

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(std::env::args_os().nth(1).ok_or("Give a folder to write into.")?);
    fs::create_dir_all(&folder)?;
    for (name, plan) in [("six", invented::six_legs()), ("four", invented::four_screws())] {
        for (place, leg) in plan.legs.iter().enumerate() {
            let svg = stack(&plan, place, StyleSheet::Embedded)?;
            fs::write(folder.join(format!("{name}-stack-{}.png", leg.short)), png(&svg, 2.0)?)?;
            fs::write(folder.join(format!("{name}-stack-{}.svg", leg.short)), svg)?;
        }
    }
    Ok(())
}
