//! The arguments of `record`.

use std::path::PathBuf;

use super::super::given::{self, Evening};
use crate::model::Date;

/// Add tonight's session to the journal, or retract one
///
/// It takes the options of card. It only appends to the journal, and nothing that contradicts it.
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "wetside record [OPTIONS] --at <TEMPERATURE> --rolls <ROLLS> <RECIPE> [NAME]\n       wetside record --undo [SESSION] --because <TEXT> [--journal <FILE>]",
    after_help = "Examples:\n  wetside record estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five\n  wetside record estuary-400-mq --at 21.5C --rolls 2x120 --tank tall-five --label E-01,E-02 --backlog autumn --bath fix-a,stop-a --date 2026-11-12 --note \"fixer smelled stale\"\n  wetside record --undo --because \"the tank was another\"\n  wetside record --undo evening-2026-11-12 --because \"it was postponed\""
)]
pub(in super::super) struct Arguments {
    // None with --undo.
    #[command(flatten)]
    pub(super) evening: Option<Evening>,
    /// Labels of the rolls, from the bottom of the tank up
    #[arg(long, value_delimiter = ',', value_parser = given::line, value_name = "LABELS")]
    pub(super) label: Vec<String>,
    /// The backlog of the labels; if not given, the only one that has any of them
    #[arg(long, value_name = "NAME")]
    pub(super) backlog: Option<String>,
    /// The day, as in 2026-11-12; today if not given
    #[arg(long, value_parser = given::value::<Date, _>, allow_hyphen_values = true, value_name = "DATE")]
    pub(super) date: Option<Date>,
    /// A note; may be given several times
    #[arg(long, value_parser = given::line, value_name = "TEXT")]
    pub(super) note: Vec<String>,
    /// The journal; if not given, journal.wet here, else the one file that holds sessions, or a new one
    #[arg(long, value_name = "FILE")]
    pub(super) journal: Option<PathBuf>,
    /// Retract this session, or the one recorded last
    #[arg(long, num_args = 0..=1, value_name = "SESSION", conflicts_with_all = [
        "recipe", "name", "at", "rolls", "tank", "index", "ending", "volume", "no_config",
        "spent_too", "label", "backlog", "bath", "date", "note",
    ])]
    pub(super) undo: Option<Option<String>>,
    /// The reason for --undo
    #[arg(long, value_parser = given::line, value_name = "TEXT")]
    pub(super) because: Option<String>,
}
