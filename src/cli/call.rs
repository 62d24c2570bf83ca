//! What a call of `card` can say, and the part of it that every call which compiles an evening shares.

use std::path::PathBuf;

use super::given::{self, At, RollsAsked};
use crate::emit;
use crate::model::{Temperature, Volume};

/// Compile a recipe into tonight's card
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  wetside card estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five\n  wetside card recipes/estuary-400-mq.wet estuary-400-mq-800 --at 70F --rolls 3x120+2x135 --tank tall-five\n  wetside card estuary-400-mq --at 21.5C --ending 20C --rolls 5x120 --tank tall-five --start 19:30 -o tonight.json\n  wetside card estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five --as strip -o tonight.svg\n  wetside card estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five --date 2026-11-25 --start 19:30 -o tonight.ics\n  wetside card estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five -o card.html"
)]
pub(super) struct Arguments {
    #[command(flatten)]
    pub(super) evening: Evening,
    /// The clock on the wall at the start, as in 19:30
    #[arg(long, value_parser = given::start, value_name = "CLOCK")]
    pub(super) start: Option<u32>,
    /// The day of the start, for a calendar, as in 2026-11-25
    #[arg(long, value_parser = given::date, allow_hyphen_values = true, value_name = "DATE")]
    pub(super) date: Option<jiff::civil::Date>,
    /// Labels of the rolls, from the bottom of the tank up
    #[arg(long, value_delimiter = ',', value_name = "LABELS")]
    pub(super) label: Vec<String>,
    /// What to write; by the name after -o if not given
    #[arg(long = "as", value_enum, value_name = "FORM")]
    pub(super) form: Option<Form>,
    /// Write to this file, whole or not at all
    #[arg(short, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
    /// Columns of the text card, 40 to 200
    #[arg(long, default_value_t = 80, value_parser = clap::value_parser!(u16).range(40..=200), value_name = "COLUMNS")]
    pub(super) width: u16,
    /// The paper of a card in PDF
    #[arg(long, value_enum, default_value_t = Paper::A4, value_name = "PAPER")]
    pub(super) paper: Paper,
    /// Show how each number came about
    #[arg(long)]
    pub(super) why: bool,
}

// Which recipe, and tonight. Not a doc comment, which the help would show in place of the command's own.
#[derive(Debug, clap::Args)]
pub(super) struct Evening {
    /// A recipe's name, a file, or - for standard input
    pub(super) recipe: PathBuf,
    /// The recipe's name, where RECIPE is a file with several
    pub(super) name: Option<String>,
    /// Tonight's temperature, and those of single steps, as in 37.8C,wash=30C
    #[arg(long, value_parser = given::at, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    pub(super) at: At,
    /// What is in the tank, from the bottom up, as in 5x120 or 3x120+2x135
    #[arg(long, value_parser = given::rolls, allow_hyphen_values = true, value_name = "ROLLS")]
    pub(super) rolls: RollsAsked,
    /// The tank, by its name
    #[arg(long, value_name = "TANK")]
    pub(super) tank: Option<String>,
    /// Take the recipe of this family that is for this exposure index
    #[arg(long, value_name = "NUMBER")]
    pub(super) index: Option<u32>,
    /// What the baths at the evening's temperature are expected to end at
    #[arg(long, value_parser = given::ending, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    pub(super) ending: Option<Temperature>,
    /// The baths of your darkroom to pour from; if not given, the only ones that fit
    #[arg(long, value_delimiter = ',', value_name = "NAMES")]
    pub(super) bath: Vec<String>,
    /// Pour from a bath that is exhausted or past keeping all the same
    #[arg(long)]
    pub(super) spent_too: bool,
    /// How much to fill, whatever the tank takes
    #[arg(long, value_parser = given::volume, allow_hyphen_values = true, value_name = "VOLUME")]
    pub(super) volume: Option<Volume>,
    /// Pay no heed to wetside.toml
    #[arg(long)]
    pub(super) isolated: bool,
}

/// What a card is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum Form {
    /// For people
    Text,
    /// For a browser: one page to read, to print and to follow
    Html,
    /// For programs: one object, as grammar/schedule.schema.json says
    Json,
    /// For a printer, on --paper
    Pdf,
    /// The development chart as a picture (SVG), with tonight marked on it
    Curve,
    /// The whole session as a picture (SVG), to scale
    Strip,
    /// For a spreadsheet: a row an action
    Csv,
    /// For a calendar: an event a step, with --date and --start
    Ics,
    /// For the ear: tones from the first pour to the last drain
    Wav,
}

impl Form {
    /// Whether a terminal can show it.
    pub(super) fn is_text(self) -> bool {
        match self {
            Form::Text | Form::Html | Form::Json | Form::Curve | Form::Strip | Form::Csv | Form::Ics => true,
            Form::Pdf | Form::Wav => false,
        }
    }
}

/// The sizes of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum Paper {
    /// 210 by 297 mm
    A4,
    /// 8.5 by 11 inches
    Letter,
    /// 148 by 210 mm
    A5,
    /// 105 by 148 mm
    A6,
}

impl Paper {
    /// The same, as the card on paper knows it.
    pub(super) fn chosen(self) -> emit::Paper {
        match self {
            Paper::A4 => emit::Paper::A4,
            Paper::Letter => emit::Paper::Letter,
            Paper::A5 => emit::Paper::A5,
            Paper::A6 => emit::Paper::A6,
        }
    }
}
