//! The kit: `kit.toml`. What travels with the ride to set it up.

use crate::report::{Report, any_tables, as_read, parse, short};
use crate::section::{choice, section};
use crate::table::{above, from};
use crate::{Code, Date, Load, Parsed, Place, Share, Source};
use tober_quantity::{Area, Current, Length, Mass, Power, Voltage};

section! {
    /// What travels with the ride to set it up.
    pub struct Kit {
        /// The format of the file; this version reads 0.
        format: usize, within from("0", "0");
        /// What the kit is.
        about as "kit": AboutKit;
        /// Timber: boards, wedges, thin ply, mats.
        boards as "board": Vec<Board>, then sizes;
        /// Cable.
        cables as "cable": Vec<Cable>;
        /// Winches.
        winches as "winch": Vec<Winch>;
        /// Jacks.
        jacks as "jack": Vec<Jack>;
        /// Generators.
        generators as "generator": Vec<Generator>;
        /// Tools.
        tools as "tool": Vec<Tool>;
    }
}

section! {
    /// What the kit is.
    pub struct AboutKit {
        /// What the kit is called.
        name: String;
        /// For invented data: the sentence that says so. It prints on every sheet.
        invented: Option<String>;
    }
}

section! {
    /// Boards of one kind. Measure them: a board sold as 50 mm is rarely 50 mm.
    pub struct Board {
        /// What it is called.
        name: String, link defines Board;
        /// Its actual thickness; of a wedge, at its thick end.
        thickness: Length, within above("0 mm", "500 mm");
        /// The thickness of a wedge at its thin end.
        thickness_thin: Option<Length>, within from("0 mm", "500 mm");
        /// How long it is.
        length: Length, within above("0 mm", "10 m");
        /// How wide it is.
        width: Length, within above("0 mm", "3 m");
        /// How many sound ones there are. Damaged ones are not counted.
        count: usize, within from("0", "10000");
        /// What it is for.
        role: TimberRole;
        /// The strength class of its timber, as a table of strengths names it: "C24".
        timber: Option<String>;
        /// Of a plate of metal laid as a board, its metal, as a table of strengths names it: "S275", "EN AW-6082 T6".
        metal: Option<String>;
        /// What one weighs.
        mass: Option<Mass>, within above("0 kg", "1 t");
    }
}

choice! {
    /// What a piece of timber is for.
    pub enum TimberRole {
        /// A board of a stack.
        Timber = "timber",
        /// Thin ply, only between timbers.
        ThinPly = "thin ply",
        /// One of a pair of wedges, only between timbers.
        Wedge = "wedge",
        /// A mat under a stack, to spread it.
        Mat = "mat",
    }
}

section! {
    /// Cables of one kind.
    pub struct Cable {
        /// What it is called.
        name: String, link defines Cable;
        /// How long one is.
        length: Length, within above("0 mm", "500 m");
        /// The area of one conductor.
        conductor_area: Area, within above("0 mm2", "1000 mm2");
        /// Of what its conductors are.
        conductor: Option<Conductor>;
        /// How many conductors it has, protective ones counted.
        cores: usize, within from("2", "7");
        /// The greatest temperature its insulation may have, in words of a cable table: "75 C", "90 C".
        insulation: Option<String>;
        /// What the maker rates it for.
        rating: Option<Current>, within above("0 A", "2000 A");
        /// What is at its ends.
        connector: Option<String>;
        /// How many there are.
        count: Option<usize>, within from("0", "1000");
        /// When it was last tested.
        examined: Option<Date>;
    }
}

choice! {
    /// Of what a conductor is.
    pub enum Conductor {
        /// Copper.
        Copper = "copper",
        /// Aluminium.
        Aluminium = "aluminium",
    }
}

section! {
    /// A winch. Only one that is rated for lifting may lift.
    pub struct Winch {
        /// What it is called.
        name: String, link defines Winch;
        /// What its maker rates it to lift. A winch without this is a pulling winch, and lifts nothing.
        lifting_rating: Option<Load>, within above("0 kN", "1000 kN");
        /// What its maker rates it to pull on the first layer.
        pulling_rating: Option<Load>, within above("0 kN", "1000 kN");
        /// When it was last examined.
        examined: Option<Date>;
        /// The diameter of its rope.
        rope_diameter: Option<Length>, within above("0 mm", "100 mm");
        /// The least load at which its rope breaks.
        rope_breaking_load: Option<Load>, within above("0 kN", "5000 kN");
        /// How much rope is on it.
        rope_length: Option<Length>, within above("0 mm", "500 m");
        /// The diameter of its drum.
        drum_diameter: Option<Length>, within above("0 mm", "2 m");
        /// The width of its drum.
        drum_width: Option<Length>, within above("0 mm", "3 m");
        /// The length of its crank, if it has one.
        crank: Option<Length>, within above("0 mm", "1 m");
        /// Turns of the crank for one of the drum.
        gear_ratio: Option<Share>, within above("0", "1000");
        /// The efficiency of its gears.
        efficiency: Option<Share>, within above("0", "1");
    }
}

section! {
    /// Jacks of one kind.
    pub struct Jack {
        /// What it is called.
        name: String, link defines Jack;
        /// What it may lift.
        rated_load: Load, within above("0 kN", "2000 kN");
        /// How high it is at its lowest.
        closed_height: Option<Length>, within above("0 mm", "2 m");
        /// How far it lifts.
        stroke: Option<Length>, within above("0 mm", "2 m");
        /// How many there are.
        count: Option<usize>, within from("0", "1000");
        /// When it was last examined.
        examined: Option<Date>;
    }
}

section! {
    /// A generator.
    pub struct Generator {
        /// What it is called.
        name: String, link defines Generator;
        /// The power it can give for as long as it has fuel.
        power: Power, within above("0 kW", "5000 kW");
        /// The power factor at which that is rated.
        power_factor: Option<Share>, within above("0", "1");
        /// Its voltage.
        voltage: Voltage, within above("0 V", "1000 V");
        /// How many phases it has: 1 or 3.
        phases: usize, within from("1", "3"), then crate::pitch::site::one_or_three;
        /// Its subtransient reactance, as a share.
        subtransient_reactance: Option<Share>, within above("0", "1");
    }
}

section! {
    /// Tools of one kind.
    pub struct Tool {
        /// What it is called.
        name: String, link defines Tool;
        /// How many there are.
        count: Option<usize>, within from("0", "1000");
        /// When it was last examined.
        examined: Option<Date>;
    }
}

/// Only a wedge has a thin end, and it is thinner than the other.
fn sizes(boards: &[Board], _: &Place, report: &mut Report) {
    for board in boards {
        match (board.role, board.thickness_thin) {
            (TimberRole::Wedge, Some(thin)) if thin >= board.thickness => {
                let message =
                    format!("The thin end of \"{}\" is not thinner than its thick end.", short(&board.name));
                report.error(
                    board.place.key("thickness-thin"),
                    Code::Disagreement,
                    message,
                    "`thickness` is the thick end.",
                );
            }
            (TimberRole::Wedge, _) | (_, None) => {}
            (_, Some(_)) => {
                let message = format!("\"{}\" has a thin end and is not a wedge.", short(&board.name));
                report.error(
                    board.place.key("thickness-thin"),
                    Code::Disagreement,
                    message,
                    "Write `role = \"wedge\"`, or leave `thickness-thin` out.",
                );
            }
        }
    }
}

impl Kit {
    /// The boards of a role, as they stand in the kit.
    pub fn of_role(&self, role: TimberRole) -> impl Iterator<Item = &Board> {
        self.boards.iter().filter(move |board| board.role == role)
    }
}

/// Reads a kit.
pub fn parse_kit(source: &Source) -> Parsed<Kit> {
    parse(source, &[], any_tables, as_read)
}
