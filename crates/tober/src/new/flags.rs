//! The flags of `tober new`: one for each question, so that what can be asked can be given.

use super::asked::Answers;
use super::{BEGUN, Begun};
use clap::{Arg, ArgAction, ArgMatches, Command, Error, FromArgMatches, Subcommand};
use std::path::PathBuf;

/// A book to begin, and what is known of it.
pub struct New {
    /// Which.
    pub begun: &'static Begun,
    /// Where it is written.
    pub folder: PathBuf,
    /// Whether its schema is written beside it.
    pub schema: bool,
    /// What was given as flags.
    pub answers: Answers,
}

fn command(begun: &Begun) -> Command {
    let mut command = Command::new(begun.file.word()).about(begun.about);
    for question in begun.questions {
        let action = if question.many { ArgAction::Append } else { ArgAction::Set };
        let each = if question.many { " The flag stands once for each." } else { "" };
        let help = format!("{} {}{each}", question.asks, question.help().replace('\n', ". "));
        // A number across the frame may begin with a minus sign.
        let flag = Arg::new(question.flag).long(question.flag).help(help).action(action);
        command = command.arg(flag.value_name("TEXT").allow_hyphen_values(true));
    }
    command
        .arg(
            Arg::new("folder")
                .short('o')
                .value_name("FOLDER")
                .default_value(".")
                .value_parser(clap::value_parser!(PathBuf))
                .help("The folder to write it into"),
        )
        .arg(
            Arg::new("schema")
                .long("schema")
                .action(ArgAction::SetTrue)
                .help("Write its schema beside it, and name that on its first line, for editors"),
        )
}

impl Subcommand for New {
    fn augment_subcommands(parent: Command) -> Command {
        let parent = parent.subcommand_required(true).arg_required_else_help(true);
        BEGUN.iter().fold(parent, |parent, begun| parent.subcommand(command(begun)))
    }
    fn augment_subcommands_for_update(parent: Command) -> Command {
        Self::augment_subcommands(parent)
    }
    fn has_subcommand(name: &str) -> bool {
        BEGUN.iter().any(|begun| begun.file.word() == name)
    }
}

impl FromArgMatches for New {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, Error> {
        let missing = || Error::new(clap::error::ErrorKind::MissingSubcommand);
        let (name, given) = matches.subcommand().ok_or_else(missing)?;
        let begun = BEGUN.into_iter().find(|begun| begun.file.word() == name).ok_or_else(missing)?;
        let mut answers = Answers::default();
        for question in begun.questions {
            if let Some(values) = given.get_many::<String>(question.flag) {
                answers.put(question.flag, values.cloned().collect());
            }
        }
        let folder = given.get_one::<PathBuf>("folder").cloned().unwrap_or_default();
        Ok(Self { begun, folder, schema: given.get_flag("schema"), answers })
    }
    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), Error> {
        *self = Self::from_arg_matches(matches)?;
        Ok(())
    }
}
