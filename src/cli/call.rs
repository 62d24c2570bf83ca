//! What a call of `card` can say.

use super::evening::Evening;
use super::given;
use super::output::Output;
use crate::emit;
use crate::model::Date;

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
    #[arg(long, value_parser = given::value::<Date, _>, allow_hyphen_values = true, value_name = "DATE")]
    pub(super) date: Option<Date>,
    /// Labels of the rolls, from the bottom of the tank up
    #[arg(long, value_delimiter = ',', value_name = "LABELS")]
    pub(super) label: Vec<String>,
    /// What to write; by the name after -o if not given
    #[arg(long = "as", value_enum, value_name = "FORM")]
    pub(super) form: Option<Form>,
    #[command(flatten)]
    pub(super) output: Output,
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
