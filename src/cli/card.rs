//! `card`: a recipe, tonight's conditions, and the card they come to.

use std::path::PathBuf;

use super::choose::{Choice, choose};
use super::disk::Disk;
use super::failure::Failure;
use super::given::{self, At, RollsAsked};
use super::terminal::Terminal;
use super::{Ended, output};
use crate::compile::compile;
use crate::emit;
use crate::model::{Temperature, Volume};
use crate::report;
use crate::source::{Diagnostic, Sources};

/// Compile a recipe into tonight's card
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  wetside card estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five\n  wetside card recipes/estuary-400-mq.wet estuary-400-mq-800 --at 70F --rolls 3x120+2x135 --tank tall-five\n  wetside card estuary-400-mq --at 21.5C --ending 20C --rolls 5x120 --tank tall-five --start 19:30 -o tonight.json"
)]
pub(super) struct Arguments {
    /// A recipe's name, a file, or - for standard input
    pub(super) recipe: PathBuf,
    /// The recipe's name, where RECIPE is a file with several
    pub(super) name: Option<String>,
    /// Tonight's temperature, and those of single steps, as in 37.8C,wash=30C
    #[arg(long, value_parser = given::at, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    pub(super) at: At,
    /// What is in the tank, from the bottom up, as in 5x120 or 3x120+2x135
    #[arg(long, value_parser = given::rolls, value_name = "ROLLS")]
    pub(super) rolls: RollsAsked,
    /// The tank, by its name
    #[arg(long, value_name = "TANK")]
    pub(super) tank: Option<String>,
    /// Take the recipe of this family that is for this exposure index
    #[arg(long, value_name = "NUMBER")]
    pub(super) index: Option<u32>,
    /// What the developer is expected to end at
    #[arg(long, value_parser = given::ending, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    pub(super) ending: Option<Temperature>,
    /// The clock on the wall at the start, as in 19:30
    #[arg(long, value_parser = given::start, value_name = "CLOCK")]
    pub(super) start: Option<u32>,
    /// How much to fill, where no tank says it
    #[arg(long, value_parser = given::volume, value_name = "VOLUME")]
    pub(super) volume: Option<Volume>,
    /// Labels of the rolls, from the bottom of the tank up
    #[arg(long, value_delimiter = ',', value_name = "LABELS")]
    pub(super) label: Vec<String>,
    /// What to write; by the name after -o if not given
    #[arg(long = "as", value_enum, value_name = "FORM")]
    form: Option<Form>,
    /// Write to this file, whole or not at all
    #[arg(short, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Columns of the text card, 40 to 200
    #[arg(long, default_value_t = 80, value_parser = clap::value_parser!(u16).range(40..=200), value_name = "COLUMNS")]
    width: u16,
    /// Show how each number came about
    #[arg(long)]
    why: bool,
}

/// What a card is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Form {
    /// For people
    Text,
    /// For programs: one object, as grammar/schedule.schema.json says
    Json,
}

/// Finds, checks, compiles, writes.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = form(arguments)?;
    let (mut sources, mut disk) = (Sources::default(), Disk::default());
    let choice = match choose(arguments, &mut sources, &mut disk)? {
        Ok(choice) => choice,
        Err(findings) => return Ok(refused(&sources, &findings, terminal)),
    };
    let Choice { shelf, recipe, tank, conditions, doubts } = choice;
    let schedule = match compile(&shelf, &recipe, tank.as_ref(), &conditions, doubts) {
        Ok(schedule) => schedule,
        Err(findings) => return Ok(refused(&sources, &findings, terminal)),
    };
    let text = match form {
        Form::Json => emit::json(&schedule, &sources),
        Form::Text => {
            let colour = terminal.out && arguments.output.is_none();
            let paint = if colour { emit::Paint::Colour } else { emit::Paint::Plain };
            let look = emit::Look { width: usize::from(arguments.width), paint, reasons: arguments.why };
            emit::text(&emit::card(&schedule, &sources), look)
        }
    };
    match &arguments.output {
        Some(path) => output::write(path, &text)?,
        None => output::print(&text)?,
    }
    Ok(Ended::Done)
}

fn refused(sources: &Sources, findings: &[Diagnostic], terminal: Terminal) -> Ended {
    let look = if terminal.err { report::Look::Colour } else { report::Look::Plain };
    output::complain(&report::draw(sources, findings, look));
    Ended::RecipeAtFault
}

/// What to write: as asked, else by the file's name, else text.
fn form(arguments: &Arguments) -> Result<Form, Failure> {
    let ending = arguments.output.as_ref().map(|path| path.extension().and_then(|ending| ending.to_str()));
    match (arguments.form, ending) {
        (Some(form), _) => Ok(form),
        (None, None | Some(Some("txt"))) => Ok(Form::Text),
        (None, Some(Some("json"))) => Ok(Form::Json),
        (None, Some(other)) => Err(Failure::new(
            format!("'.{}' does not tell what to write", other.unwrap_or("")),
            "name a file that ends in .txt or .json, or say --as text or --as json",
        )),
    }
}
