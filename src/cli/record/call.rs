//! What a call of `record` can say: an evening as `card` takes it and what was done that evening, or which
//! session is taken back.

use crate::model::Date;

use std::path::PathBuf;

use clap::error::ErrorKind;
use clap::{ArgMatches, FromArgMatches};

use super::super::given::{self, Evening};

/// One of the two.
#[derive(Debug)]
pub(in super::super) enum Arguments {
    /// An evening is recorded.
    Done(Box<Done>),
    /// A session is taken back.
    Undo(Undo),
}

/// Add tonight's session to the journal, or retract one
///
/// It takes the options of card. It changes nothing in the journal, and writes nothing that would contradict
/// it.
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "wetside record [OPTIONS] --at <TEMPERATURE> --rolls <ROLLS> <RECIPE> [NAME]\n       wetside record --undo [SESSION] --because <TEXT> [--journal <FILE>]",
    after_help = "Examples:\n  wetside record estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five\n  wetside record estuary-400-mq --at 21.5C --rolls 2x120 --tank tall-five --label E-01,E-02 --backlog autumn --bath fix-a,stop-a --date 2026-11-12 --note \"fixer smelled stale\"\n  wetside record --undo --because \"the tank was another\"\n  wetside record --undo evening-2026-11-12 --because \"it was put off\""
)]
pub(in super::super) struct Done {
    #[command(flatten)]
    pub(super) evening: Evening,
    /// Labels of the rolls, from the bottom of the tank up
    #[arg(long, value_delimiter = ',', value_parser = given::line, value_name = "LABELS")]
    pub(super) label: Vec<String>,
    /// The backlog that the labels are of; if not given, the only one that has any of them
    #[arg(long, value_name = "NAME")]
    pub(super) backlog: Option<String>,
    /// The day, as in 2026-11-12; today if not given
    #[arg(long, value_parser = given::value::<Date, _>, allow_hyphen_values = true, value_name = "DATE")]
    pub(super) date: Option<Date>,
    /// A remark; may be given several times
    #[arg(long, value_parser = given::line, value_name = "TEXT")]
    pub(super) note: Vec<String>,
    /// The journal; if not given, journal.wet here, else the one file that holds sessions, or a new one
    #[arg(long, value_name = "FILE")]
    pub(super) journal: Option<PathBuf>,
}

// Which session is taken back. Not a doc comment, which the help would show in place of the command's own.
#[derive(Debug, clap::Args)]
struct Back {
    /// Take this session back, or the one recorded last
    #[arg(long, num_args = 0..=1, value_name = "SESSION", conflicts_with_all = [
        "recipe", "name", "at", "rolls", "tank", "index", "ending", "volume", "no_config",
        "spent_too", "label", "backlog", "bath", "date", "note",
    ])]
    undo: Option<Option<String>>,
    /// Why it is taken back
    #[arg(long, value_parser = given::line, value_name = "TEXT")]
    because: Option<String>,
}

/// A session is taken back.
#[derive(Debug)]
pub(in super::super) struct Undo {
    /// Which; the one recorded last if not said.
    pub(super) session: Option<String>,
    /// Why.
    pub(super) because: String,
    /// The journal.
    pub(super) journal: Option<PathBuf>,
}

impl FromArgMatches for Arguments {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Arguments, clap::Error> {
        let back = Back::from_arg_matches(matches)?;
        match (back.undo, back.because) {
            (Some(_), None) => Err(clap::Error::raw(
                ErrorKind::MissingRequiredArgument,
                "--undo wants a reason; write --because \"the tank was another\"",
            )),
            (Some(session), Some(because)) => {
                let journal = matches.get_one::<PathBuf>("journal").cloned();
                Ok(Arguments::Undo(Undo { session, because, journal }))
            }
            (None, Some(_)) => Err(clap::Error::raw(
                ErrorKind::MissingRequiredArgument,
                "--because says why a session is taken back; write --undo before it, or --note for a remark",
            )),
            (None, None) => Ok(Arguments::Done(Box::new(Done::from_arg_matches(matches)?))),
        }
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        *self = Arguments::from_arg_matches(matches)?;
        Ok(())
    }
}

impl clap::Args for Arguments {
    fn augment_args(command: clap::Command) -> clap::Command {
        Back::augment_args(Done::augment_args(command))
    }

    fn augment_args_for_update(command: clap::Command) -> clap::Command {
        Arguments::augment_args(command)
    }
}
