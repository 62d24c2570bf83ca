//! The arguments of `plan`.

use std::path::PathBuf;

use super::super::given::{self, At};
use super::super::output::{self, Output};
use crate::model::{Date, Time, Volume};
use crate::vocabulary::Moment;

/// Plan the tank loads of a backlog
///
/// Rolls share a tank if their steps are the same at that temperature. The loads are as few as possible, and in the
/// order in which the rolls were shot if that needs no more loads. Rolls that the journal has as developed are left out.
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "wetside plan [OPTIONS] <BACKLOG> [NAME]\n       wetside plan [OPTIONS] --from <FILE>",
    after_help = "Examples:\n  wetside plan autumn --tank tall-five --at 21C\n  wetside plan autumn --tank tall-five --package rapid-fix=1l --within 15s\n  wetside plan autumn --tank tall-five --at 21C --on 2026-11-25 --a-day 2 --every 7\n  wetside plan --from labels.csv --tank tall-five -o plan.html"
)]
pub(in super::super) struct Arguments {
    /// A backlog's name, or a file that declares one
    #[arg(required_unless_present = "from", conflicts_with = "from")]
    pub(super) backlog: Option<PathBuf>,
    /// The backlog's name, if BACKLOG is a file with several
    pub(super) name: Option<String>,
    /// A list of rolls from a spreadsheet, with the columns label, date, film, format, index
    #[arg(long, value_name = "FILE")]
    pub(super) from: Option<PathBuf>,
    /// The name of the tank
    #[arg(long, value_name = "TANK")]
    pub(super) tank: Option<String>,
    /// The temperature, and that of single steps, as in 37.8C,wash=30C; 20 C if not given
    #[arg(long, value_parser = given::at, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    pub(super) at: Option<At>,
    /// The most by which the developing times of rolls in one tank may differ; the longest applies
    #[arg(long, value_parser = given::value::<Moment, _>, allow_hyphen_values = true, value_name = "TIME")]
    pub(super) within: Option<Time>,
    /// The day of the first load, which decides which bottles keep, as in 2026-11-25; today if not given
    #[arg(long, value_parser = given::value::<Date, _>, allow_hyphen_values = true, value_name = "DATE")]
    pub(super) on: Option<Date>,
    /// The number of loads in a day; all on the first day if not given
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=100), value_name = "COUNT")]
    pub(super) a_day: Option<u32>,
    /// The days from one day with loads to the next; 1 if not given
    #[arg(long, requires = "a_day", value_parser = clap::value_parser!(u32).range(1..=366), value_name = "DAYS")]
    pub(super) every: Option<u32>,
    /// The volume of a package, as in rapid-fix=1l; may be given several times
    #[arg(long, value_parser = given::package, value_name = "NAME=VOLUME")]
    pub(super) package: Vec<(String, Volume)>,
    /// Ignore wetside.toml
    #[arg(long)]
    pub(super) no_config: bool,
    #[command(flatten)]
    pub(super) output: Output<Form>,
}

/// The forms of a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(in super::super) enum Form {
    /// For people
    Text,
    /// For programs: one object, as grammar/plan.schema.json says
    Json,
    /// For a spreadsheet: a row a roll
    Csv,
    /// For a browser: one page to print and to tick off
    Html,
    /// The rolls as a backlog in the language
    Wet,
}

impl output::Form for Form {
    const ENDINGS: &'static [(&'static str, Form)] = &[
        ("txt", Form::Text),
        ("json", Form::Json),
        ("csv", Form::Csv),
        ("html", Form::Html),
        ("wet", Form::Wet),
    ];
}
