//! Pins, clips, bolts and straps: what is always somewhere.

use crate::report::{Report, short};
use crate::section::{choice, section};
use crate::table::{Group, from};
use crate::{Code, Place};

section! {
    /// One kind of fixing. Each one of them is always in one of its homes.
    pub struct Fixing {
        /// What it is called.
        name: String, link defines Fixing;
        /// What it is.
        kind: FixingKind;
        /// How many there are, spares not counted.
        count: usize, within from("1", "10000");
        /// How many spares travel with the ride.
        spares: Option<usize>, within from("0", "10000");
        /// Where they can be.
        homes as "home": Vec<Home>;
        /// The bodies without which there are none of them.
        only_with: Vec<String>, link refers Body;
    }
}

choice! {
    /// What a fixing is.
    pub enum FixingKind {
        /// A pin.
        Pin = "pin",
        /// A clip that keeps a pin in.
        Clip = "clip",
        /// A bolt.
        Bolt = "bolt",
        /// A strap.
        Strap = "strap",
        /// A chain.
        Chain = "chain",
        /// A lock or catch.
        Lock = "lock",
        /// A prop.
        Prop = "prop",
        /// A loose part that fits any of its places: a board, a tread, a floor panel.
        Part = "loose part",
        /// A chock.
        Chock = "chock",
        /// Anything else.
        Other = "other",
    }
}

section! {
    /// A place a fixing can be in.
    pub struct Home {
        /// What it is called.
        name: String;
        /// How many it holds.
        holds: usize, within from("1", "10000");
        /// How many are there when the ride comes off the road.
        on_the_road: Option<usize>, within from("0", "10000");
        /// Where a fixing here fastens something: the body.
        fastens: Option<String>, link refers Body;
        /// Whether a fixing does nothing there: a spare hole, a rack, a tray.
        idle: Option<bool>;
    }
}

/// Homes are named within their fixing, hold what starts in them, and together hold every one.
pub(super) fn agree(fixings: &[Fixing], _: &Place, report: &mut Report) {
    for fixing in fixings {
        let mut road = 0;
        for home in &fixing.homes {
            report.define(Group::Home, Some(&fixing.name), &home.name, home.place.key("name"));
            let start = home.on_the_road.unwrap_or(0);
            road += start;
            if start > home.holds {
                let message =
                    format!("{start} start in home \"{}\", which holds {}.", short(&home.name), home.holds);
                report.error(
                    home.place.key("on-the-road"),
                    Code::Disagreement,
                    message,
                    "Put the others in another home.",
                );
            }
        }
        if fixing.homes.is_empty() {
            continue;
        }
        let room: usize = fixing.homes.iter().map(|home| home.holds).sum();
        if room < fixing.count {
            let message = format!(
                "There are {} of \"{}\", and its homes hold {room}.",
                fixing.count,
                short(&fixing.name)
            );
            report.error(
                fixing.place.key("count"),
                Code::Disagreement,
                message,
                "Every one of them is always in a home.",
            );
        }
        let said = fixing.homes.iter().any(|home| home.on_the_road.is_some());
        if said && road != fixing.count {
            let message = format!(
                "There are {} of \"{}\", and {road} of them are in a home on the road.",
                fixing.count,
                short(&fixing.name)
            );
            report.error(
                fixing.place.key("count"),
                Code::Disagreement,
                message,
                "The homes' `on-the-road` add up to `count`.",
            );
        }
    }
}
