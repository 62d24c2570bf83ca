//! `measure`: a solution, how much of it is wanted, and the sheet that stands beside the scale.

use std::path::PathBuf;
use std::sync::Arc;

use super::disk::Disk;
use super::ending;
use super::failure::Failure;
use super::levels::levels;
use super::terminal::Terminal;
use super::wanted::{Named, named, weighs_or_dilutes};
use super::{Ended, card, given, output, shares};
use crate::check::check;
use crate::compile::Scale;
use crate::emit::{self, Beside};
use crate::measure::{Had, Taps, measure};
use crate::model::{Mass, Solution, Temperature, Volume};
use crate::source::{Diagnostic, Level, Sources};

/// Write the sheet for weighing a solution, or for letting it down
///
/// SOLUTION is a name that is looked for, or a file, or a file and a name. With a DILUTION such as 1+4 it
/// is let down from its bottle, without one its formula is weighed.
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "wetside measure [OPTIONS] --make <VOLUME> <SOLUTION> [NAME] [DILUTION]",
    after_help = "Examples:\n  wetside measure mq-borax --make 2.5l\n  wetside measure mq-carbonate --make 2.5l --have carbonate=monohydrate --have bromide=10%\n  wetside measure acetic-stop --make 1l --have acetic-acid=99.5% --scale 0.01g\n  wetside measure mq-borax --make 32us-fl-oz --units us --taps 12C,55C\n  wetside measure rapid-fix 1+4 --make 2.5l --at 20C --stock-at 23C\n  wetside measure recipes/solutions.wet wetting-agent 1+200 --make 2.5l"
)]
pub(super) struct Arguments {
    /// A solution's name, a file, or - for standard input
    pub(super) solution: PathBuf,
    /// The solution's name, where SOLUTION is a file with several; and how far it is let down, as in 1+4
    #[arg(value_name = "NAME, DILUTION", num_args = 0..=3)]
    pub(super) rest: Vec<String>,
    /// How much to make, as in 2.5l
    #[arg(long, value_parser = given::volume, allow_hyphen_values = true, value_name = "VOLUME")]
    make: Volume,
    /// What is had otherwise than the formula says: a state, or a strength in per cent
    #[arg(long, value_parser = shares::had, value_delimiter = ',', value_name = "NAME=STATE")]
    pub(super) have: Vec<Had>,
    /// The least that the scale tells apart; 0.1g if not given
    #[arg(long, value_parser = shares::mass, allow_hyphen_values = true, value_name = "MASS")]
    pub(super) scale: Option<Mass>,
    /// How warm what is let down has to be
    #[arg(long, value_parser = given::temperature, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    pub(super) at: Option<(Temperature, Scale)>,
    /// How warm the bottle is that it is let down from
    #[arg(long, value_parser = given::ending, allow_hyphen_values = true, requires = "at", value_name = "TEMPERATURE")]
    pub(super) stock_at: Option<Temperature>,
    /// How warm the water of the two taps is, as in 12C,55C
    #[arg(long, value_parser = shares::taps, allow_hyphen_values = true, value_name = "TEMPERATURES")]
    pub(super) taps: Option<Taps>,
    /// In which units to write it
    #[arg(long, value_enum, default_value_t = Units::Metric, value_name = "UNITS")]
    units: Units,
    /// Pay no heed to wetside.toml
    #[arg(long)]
    isolated: bool,
    /// What to write; by the name after -o if not given
    #[arg(long = "as", value_enum, value_name = "FORM")]
    form: Option<Form>,
    /// Write to this file, whole or not at all
    #[arg(short, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Columns of the text, 40 to 200
    #[arg(long, default_value_t = 80, value_parser = clap::value_parser!(u16).range(40..=200), value_name = "COLUMNS")]
    width: u16,
}

/// In which units a sheet is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Units {
    /// Grams and millilitres
    Metric,
    /// Avoirdupois ounces, grains and US fluid ounces beside them
    Us,
}

/// What a sheet is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Form {
    /// For people
    Text,
    /// For programs: one object, as grammar/sheet.schema.json says
    Json,
}

/// Finds, checks, measures, writes.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = form(arguments)?;
    let named = named(arguments)?;
    let asked = weighs_or_dilutes(arguments, named.dilution.as_ref())?;
    let (mut sources, mut disk) = (Sources::default(), Disk::default());
    let (solution, doubts) = match chosen(&named, arguments.isolated, &mut sources, &mut disk)? {
        Ok(chosen) => chosen,
        Err(findings) => return Ok(card::refused(&sources, &findings, terminal)),
    };
    if let Some(path) = arguments.output.as_ref().filter(|path| disk.has_read(path)) {
        return Err(Failure::new(
            format!("{} is one of the recipes that this sheet is made from", path.display()),
            "name another file: a sheet never takes a recipe's place",
        ));
    }
    let mut sheet = match measure(&solution, arguments.make, &asked) {
        Ok(sheet) => sheet,
        Err(findings) => return Ok(card::refused(&sources, &findings, terminal)),
    };
    sheet.doubts.extend(doubts);
    let text = match form {
        Form::Json => emit::sheet_json(&sheet),
        Form::Text => {
            let paint = if terminal.out && arguments.output.is_none() {
                emit::Paint::Colour
            } else {
                emit::Paint::Plain
            };
            let look = emit::Look { width: usize::from(arguments.width), paint, reasons: false };
            emit::sheet(&sheet, units(arguments), look)
        }
    };
    match &arguments.output {
        Some(path) if path.as_os_str() != "-" => output::write(path, &text)?,
        Some(_) | None => output::print(&text)?,
    }
    Ok(Ended::Done)
}

/// A solution that is sound, and the doubts about it.
type Chosen = (Arc<Solution>, Vec<String>);

/// Reads and checks the solution's file. The inner error is the recipe's, the outer the call's.
fn chosen(
    named: &Named,
    isolated: bool,
    sources: &mut Sources,
    disk: &mut Disk,
) -> Result<Result<Chosen, Vec<Diagnostic>>, Failure> {
    let file = disk.read(sources, &named.file)?;
    let levels = levels(std::slice::from_ref(&named.file), &[], isolated)?;
    let (shelf, findings) = check(sources, &[file], disk, &levels);
    if findings.iter().any(|finding| finding.level == Level::Error) {
        return Ok(Err(findings));
    }
    let solution = named.among(&shelf.solutions_of(file).collect::<Vec<_>>())?;
    let own = solution.extent;
    // A character that does not show casts a doubt on all of its file.
    let concerns = |finding: &&Diagnostic| finding.name == "hidden-character" || own.holds(finding.span);
    let doubts = findings.iter().filter(|finding| finding.level == Level::Warning).filter(concerns);
    let doubts = doubts.map(|finding| format!("{} ({})", finding.message, finding.name)).collect();
    Ok(Ok((solution, doubts)))
}

fn units(arguments: &Arguments) -> emit::Units {
    let (beside, usual) = match arguments.units {
        Units::Metric => (Beside::Nothing, Scale::Celsius),
        Units::Us => (Beside::UnitedStates, Scale::Fahrenheit),
    };
    emit::Units { scale: arguments.at.map_or(usual, |(_, scale)| scale), beside }
}

/// What to write: as asked, else by the file's name, else text.
fn form(arguments: &Arguments) -> Result<Form, Failure> {
    ending::form(arguments.form, arguments.output.as_deref(), &[("txt", Form::Text), ("json", Form::Json)])
}
