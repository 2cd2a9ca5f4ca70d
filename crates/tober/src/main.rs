//! The `tober` command. It knows every part and decides nothing.

mod calc;
mod check;
mod demo;
mod files;
mod log;
mod new;
mod phone;
mod picture;
mod pictures;
mod plan;
mod rehearse;
mod schema;
#[cfg(feature = "pdf")]
mod sheets;
mod text;
mod trim;
mod weigh;

use clap::{Parser, Subcommand};
use std::path::PathBuf;
use std::process::ExitCode;
use tober_quantity::{UnitSet, WordSet};

/// From a few readings of the ground to a ride that stands: which hole and which boards at every leg, what
/// each leg carries, whether the ground takes it, each number with its working.
#[derive(Parser)]
#[command(name = "tober", version, arg_required_else_help = false)]
struct Arguments {
    #[command(subcommand)]
    command: Option<Command>,
}

/// How a result is shown.
#[derive(clap::Args, Clone, Copy)]
struct Shape {
    /// Print JSON.
    #[arg(long)]
    json: bool,
    /// Print how each number was obtained.
    #[arg(long)]
    working: bool,
    /// The units: metric, gb or us. What the visit chose, unless given.
    #[arg(long)]
    units: Option<UnitSet>,
    /// The trade words: gb or us. What the visit chose, unless given.
    #[arg(long)]
    words: Option<WordSet>,
}

#[derive(Subcommand)]
enum Command {
    /// Say what is wrong with books, or with a visit and all that belongs to it.
    Check {
        /// Files, or folders of visits.
        #[arg(required = true)]
        files: Vec<PathBuf>,
    },
    /// Plan a visit: holes and stacks in the order the legs are set, then what needs attention.
    Plan {
        /// The folder of the visit, or its visit.toml.
        visit: PathBuf,
        #[command(flatten)]
        shape: Shape,
        /// Write the drawings, as SVG, into this folder.
        #[arg(long, value_name = "FOLDER")]
        drawings: Option<PathBuf>,
        /// Write the drawings as PNG too.
        #[arg(long, requires = "drawings")]
        png: bool,
    },
    /// Draw a step of the ride book as it is done here: what moves, where from and to, its pins, who stands where.
    Picture {
        /// The folder of the visit, or its visit.toml.
        visit: PathBuf,
        /// The step, by its number or its name; all of them, with what each leg carries at each stage, unless given.
        step: Option<String>,
        /// The file to write, or the folder for all steps.
        #[arg(short, value_name = "PATH")]
        out: PathBuf,
        /// Write PNG beside each SVG.
        #[arg(long)]
        png: bool,
        /// The units: metric, gb or us. What the visit chose, unless given.
        #[arg(long)]
        units: Option<UnitSet>,
        /// The trade words: gb or us. What the visit chose, unless given.
        #[arg(long)]
        words: Option<WordSet>,
    },
    /// Lower, read, trim: the least change of holes and boards that brings a lowered frame in.
    Trim {
        /// The folder of the visit, or its visit.toml.
        visit: PathBuf,
        /// The file of the readings; frame.toml beside the visit, unless given.
        #[arg(long, value_name = "FILE")]
        frame: Option<PathBuf>,
        #[command(flatten)]
        shape: Shape,
    },
    /// Learn a visit before it: each step with who, pins and cautions, what goes wrong if it is done too early, the way back;
    /// and questions.
    Rehearse {
        /// The folder of the visit, or its visit.toml.
        visit: PathBuf,
        #[command(flatten)]
        wanted: rehearse::Wanted,
        /// The units: metric, gb or us. What the visit chose, unless given.
        #[arg(long)]
        units: Option<UnitSet>,
    },
    /// Masses that nobody knows, from readings of scales: what they say, what does not fit, what to weigh next.
    Weigh {
        /// The ride book, or its folder.
        ride: PathBuf,
        /// The file of the readings: weighing.toml, or its folder.
        readings: PathBuf,
        #[command(flatten)]
        shape: Shape,
    },
    /// Work one calculation: JSON in, JSON out.
    Calc {
        /// survey, packing, supports, frame, ground, bearing-capacity, pin, stability, lift, riders-off, trim,
        /// weighing or wind-pressure.
        name: String,
        /// The file of the question; standard input, unless given.
        file: Option<PathBuf>,
        /// The units of the working: metric, gb or us.
        #[arg(long)]
        units: Option<UnitSet>,
    },
    /// Write a visit as one file that does the ground work on one phone.
    Phone {
        /// The folder of the visit, or its visit.toml; a folder of visits, for all of them; or a ride book with its kit
        /// beside it, with which pitches are begun on the phone.
        visit: PathBuf,
        /// The file to write.
        #[arg(short, value_name = "FILE.html", default_value = "tober-phone.html")]
        out: PathBuf,
    },
    /// Print a visit: the page to work from, the packing, a card for each leg and step, the pins, the limits, what is
    /// looked at and signed, and the working, as one PDF.
    #[cfg(feature = "pdf")]
    Sheets {
        /// The folder of the visit, or its visit.toml.
        visit: PathBuf,
        #[command(flatten)]
        asked: sheets::Asked,
    },
    /// Files of entries: those that phones hand over, verified, and what was written on paper, typed in.
    Log {
        #[command(subcommand)]
        command: log::LogCommand,
    },
    /// Begin a book: the fewest questions on a terminal, flags without one. A file that is there is never written over.
    New {
        #[command(subcommand)]
        book: new::New,
    },
    /// Say what a file may hold, as JSON Schema, so that an editor completes its keys.
    Schema {
        /// ride, kit, crew, pitch, visit, frame or weighing; which there are, unless given.
        file: Option<String>,
        /// The file to write; without a name, the folder to write all of them into.
        #[arg(short, value_name = "PATH")]
        out: Option<PathBuf>,
    },
    /// Write the demo into a folder, plan its visits, and say what to open.
    Demo {
        /// Where to write it.
        #[arg(default_value = "tober-demo")]
        folder: PathBuf,
    },
}

/// What a command ends with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ended {
    /// All inside.
    Inside,
    /// Something is past its limit.
    PastLimit,
    /// The input is wrong.
    WrongInput,
    /// Nothing is past its limit, and something that is needed is not known.
    NotKnown,
}

impl Ended {
    /// The worse of two: wrong input, then past a limit, then not known.
    fn worse(self, other: Self) -> Self {
        let rank = |ended: Self| match ended {
            Self::Inside => 0,
            Self::NotKnown => 1,
            Self::PastLimit => 2,
            Self::WrongInput => 3,
        };
        if rank(other) > rank(self) { other } else { self }
    }
}

impl From<Ended> for ExitCode {
    fn from(ended: Ended) -> Self {
        Self::from(match ended {
            Ended::Inside => 0,
            Ended::PastLimit => 1,
            Ended::WrongInput => 2,
            Ended::NotKnown => 3,
        })
    }
}

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    // A fault of ours stops the sum; it must not reach a user as anything but a sentence.
    std::panic::set_hook(Box::new(|_| {}));
    let run = std::panic::catch_unwind(|| run(arguments));
    let ended = run.unwrap_or_else(|_| {
        files::tell(
            "Tober stopped: this input met a fault of ours, and no number is better than a wrong one. \
             Please report it with the files. Until it is mended, plan this one by hand.",
        );
        Ended::WrongInput
    });
    ended.into()
}

fn run(arguments: Arguments) -> Ended {
    match arguments.command {
        None => {
            files::print(
                "Tober plans how a trailer-mounted ride stands on a pitch.\n\n\
                 To see it work:         tober demo\n\
                 To write your own:      tober new ride\n\
                 To plan your visit:     tober plan FOLDER\n\
                 To check what you wrote: tober check FOLDER\n\
                 Everything it can do:   tober help\n",
            );
            Ended::Inside
        }
        Some(Command::Check { files }) => check::check(&files),
        Some(Command::Plan { visit, shape, drawings, png }) => {
            plan::plan(&visit, shape, drawings.as_deref(), png)
        }
        Some(Command::Picture { visit, step, out, png, units, words }) => {
            let shape = Shape { json: false, working: false, units, words };
            picture::picture(&visit, step.as_deref(), &out, shape, png)
        }
        Some(Command::Trim { visit, frame, shape }) => trim::trim(&visit, frame.as_deref(), shape),
        Some(Command::Rehearse { visit, wanted, units }) => {
            let shape = Shape { json: false, working: false, units, words: None };
            rehearse::rehearse(&visit, &wanted, shape)
        }
        Some(Command::Weigh { ride, readings, shape }) => weigh::weigh(&ride, &readings, shape),
        Some(Command::Calc { name, file, units }) => {
            calc::calc(&name, file.as_deref(), units.unwrap_or_default())
        }
        Some(Command::Phone { visit, out }) => phone::phone(&visit, &out),
        #[cfg(feature = "pdf")]
        Some(Command::Sheets { visit, asked }) => sheets::sheets(&visit, &asked),
        Some(Command::Log { command }) => log::log(&command),
        Some(Command::New { book }) => new::new(&book),
        Some(Command::Schema { file, out }) => schema::schemas(file.as_deref(), out.as_deref()),
        Some(Command::Demo { folder }) => demo::demo(&folder),
    }
}
