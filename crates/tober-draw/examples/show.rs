//! Writes the drawings of two invented rides, as SVG and PNG, into a folder given as the argument.

#[path = "../tests/invented/mod.rs"]
mod invented;

use std::error::Error;
use std::fs;
use std::path::PathBuf;
use tober_draw::{Orientation, RideSide, StyleSheet, ground_plan, png, side_strip, stack};

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(std::env::args_os().nth(1).ok_or("Give a folder to write into.")?);
    fs::create_dir_all(&folder)?;
    let plans = [
        ("six", invented::six_legs()),
        ("four", invented::four_screws()),
        ("twelve", invented::many_legs(12)),
        ("twenty-three", invented::many_legs(23)),
    ];
    for (name, plan) in plans {
        for orientation in [Orientation::Portrait, Orientation::Landscape] {
            let svg = ground_plan(&plan, orientation, Some(0), StyleSheet::Embedded)?;
            let file = format!("{name}-plan-{orientation:?}").to_lowercase();
            fs::write(folder.join(format!("{file}.png")), png(&svg, 2.0)?)?;
            fs::write(folder.join(format!("{file}.svg")), svg)?;
        }
        for side in [RideSide::Left, RideSide::Right] {
            let svg = side_strip(&plan, side, StyleSheet::Embedded)?;
            let file = format!("{name}-side-{side:?}").to_lowercase();
            fs::write(folder.join(format!("{file}.png")), png(&svg, 2.0)?)?;
            fs::write(folder.join(format!("{file}.svg")), svg)?;
        }
        for (place, leg) in plan.legs.iter().enumerate() {
            let svg = stack(&plan, place, StyleSheet::Embedded)?;
            fs::write(folder.join(format!("{name}-stack-{}.png", leg.short)), png(&svg, 2.0)?)?;
            fs::write(folder.join(format!("{name}-stack-{}.svg", leg.short)), svg)?;
        }
    }
    Ok(())
}
