//! `trial`: prints how to make a trial of a developer, and evaluates the readings of a trial.

use std::path::{Path, PathBuf};

use clap::Subcommand;

use super::disk::has_errors;
use super::find::{self, Index};
use super::levels::levels;
use super::output::Output;
use super::personal::{paper, personal};
use super::{Ended, Failure, Reader, Terminal, fail, given};
use crate::compile::{Scale, time_at};
use crate::emit::{self, Document, Paper};
use crate::evaluate::{Asked, Outcome, evaluate};
use crate::model::{ContrastMeasure, Number, Slope, StepKind, Temperature};
use crate::vocabulary::{Declared, Density};

/// Test a developer yourself: print how to do it, or evaluate your readings
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside trial plan estuary-400-mq --at 20C\n  wetside trial read readings.csv --at 20C"
)]
pub(super) struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    Plan(PlanArguments),
    Read(Box<ReadArguments>),
}

/// Print how to make a trial by eye: three pieces of one roll, for 3/4, 1 and 4/3 of a recipe's time
#[derive(clap::Args)]
#[command(after_help = "Examples:\n  wetside trial plan estuary-400-mq --at 20C")]
struct PlanArguments {
    /// A recipe's name, or a file
    recipe: PathBuf,
    /// The recipe's name, if RECIPE is a file with several
    name: Option<String>,
    /// The temperature of the developer
    #[arg(long, value_parser = given::temperature, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    at: (Temperature, Scale),
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
    #[command(flatten)]
    output: Output<PlanForm>,
    /// The paper of a PDF; your usual one if not given, else a4
    #[arg(long)]
    paper: Option<Paper>,
}

#[derive(Clone, Copy, clap::ValueEnum)]
enum PlanForm {
    /// For people
    Text,
    /// For a browser: one page
    Html,
    /// For a printer, on --paper
    Pdf,
}

/// Evaluate a table of readings: contrast against time, times for contrasts, speed
///
/// The first row begins with `wedge`, `stops` or `log H`, and has the development time of each strip. Below it a row
/// begins with `fog`, with the density of a step of the wedge (or its stops), or with `known` and the density of a
/// known step in the same photograph. A row `temperature` states a temperature for each strip.
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside trial read readings.csv --at 20C\n  wetside trial read greys.csv --at 20C --within 0.03\n  wetside trial read readings.csv --at 20C --contrast 0.58 -o trial.svg"
)]
struct ReadArguments {
    /// The table, as comma-separated values or pasted from a spreadsheet; - for standard input
    readings: PathBuf,
    /// The temperature of the strips that state none, and of the times
    #[arg(long, value_parser = given::temperature, value_delimiter = ',', allow_hyphen_values = true, value_name = "TEMPERATURES")]
    at: Vec<(Temperature, Scale)>,
    /// How far a density may be off; 0.01 if not given, 0.02 if the readings are of a photograph
    #[arg(long, value_parser = given::value::<Density, _>, value_name = "DENSITY")]
    within: Option<Number>,
    /// Which contrast to measure
    #[arg(long, default_value = "gradient")]
    measure: Measure,
    /// The stops over which the average gradient is measured
    #[arg(long, default_value_t = 7, value_parser = clap::value_parser!(u32).range(2..=15), value_name = "STOPS")]
    stops: u32,
    /// The contrasts for which you want times; N-1, N and N+1 if not given
    #[arg(long, value_parser = given::value::<Density, _>, value_delimiter = ',', value_name = "CONTRASTS")]
    contrast: Vec<Number>,
    /// Give times outside the tested range too; they are marked
    #[arg(long)]
    beyond: bool,
    /// With stops: the exposure index at which the meter was set
    #[arg(long, value_parser = given::value::<crate::vocabulary::Index, _>, value_name = "NUMBER")]
    index: Option<u32>,
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
    #[command(flatten)]
    output: Output<Form>,
    /// The paper of a PDF; your usual one if not given, else a4
    #[arg(long)]
    paper: Option<Paper>,
    /// Show the numbers from which the sentences are made
    #[arg(long)]
    why: bool,
}

#[derive(Clone, Copy, clap::ValueEnum)]
enum Form {
    /// For people
    Text,
    /// For a browser: one page
    Html,
    /// For a printer, on --paper
    Pdf,
    /// For programs: one object, as grammar/trial.schema.json says
    Json,
    /// Contrast by development time as a picture (SVG)
    Svg,
}

#[derive(Clone, Copy, clap::ValueEnum)]
enum Measure {
    /// The average gradient over --stops from the speed point
    Gradient,
    /// The slope of the straight part
    Gamma,
    /// The contrast index
    Index,
}

pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    match &arguments.command {
        Command::Plan(own) => plan(own, terminal),
        Command::Read(own) => read(own, terminal),
    }
}

fn plan(arguments: &PlanArguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    arguments.output.check_paper(matches!(form, PlanForm::Pdf), arguments.paper)?;
    let index = Index::of_name(Declared::Recipe, &arguments.recipe.to_string_lossy());
    let given = (&*arguments.recipe, arguments.name.clone());
    let (path, name) = find::file_and_name(given.0, given.1, Declared::Recipe, "trial plan", &index)?;
    let mut reader = Reader::default();
    let file = reader.read(&path)?;
    let (shelf, findings) = reader.check(&[file], &levels(&[path], arguments.no_config)?);
    let here = shelf.recipes.iter().filter(|recipe| recipe.file == file);
    let here: Vec<_> = here.map(|recipe| (recipe.name.as_str(), file, recipe)).collect();
    if has_errors(&findings) && here.is_empty() {
        return Err(reader.refused(findings));
    }
    let recipe = find::one_of(Declared::Recipe, name.as_deref(), reader.name(file), &here, &reader.sources)?;
    let Some(step) = recipe.steps.iter().find(|step| step.kind == StepKind::Develop) else {
        return fail(format!("'{}' has no developing step", recipe.name), "name a recipe that develops");
    };
    let (at, _) = arguments.at;
    let Some(time) = time_at(recipe, step, at) else {
        let celsius = at.in_celsius(2);
        return fail(
            format!("'{}' has no time at {celsius} °C to begin with", recipe.name),
            "give a temperature for which the recipe has a time, such as --at 20C",
        );
    };
    let document = emit::trial_plan(recipe, step, at, time);
    let bytes = match form {
        PlanForm::Text => text(&document, arguments.output.colour(terminal)),
        PlanForm::Html => document.html().into_bytes(),
        PlanForm::Pdf => document.pdf(paper(arguments.paper, arguments.no_config)?),
    };
    arguments.output.send(bytes, &[&reader])
}

fn text(document: &Document, colour: bool) -> Vec<u8> {
    document.text(emit::Look { colour, ..emit::Look::default() }).into_bytes()
}

fn read(arguments: &ReadArguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    arguments.output.check_paper(matches!(form, Form::Pdf), arguments.paper)?;
    let mut reader = Reader::default();
    let file = reader.read_list(&arguments.readings)?;
    let at: Vec<Temperature> = arguments.at.iter().map(|(at, _)| *at).collect();
    let asked = Asked {
        measure: match arguments.measure {
            Measure::Gradient => ContrastMeasure::Gradient(arguments.stops),
            Measure::Gamma => ContrastMeasure::Slope(Slope::Gamma),
            Measure::Index => ContrastMeasure::Slope(Slope::Index),
        },
        within: arguments.within.map(Number::real),
        usual: at.first().copied(),
        contrasts: arguments.contrast.iter().map(|contrast| contrast.real()).collect(),
        at: if at.len() > 1 { at } else { Vec::new() },
        beyond: arguments.beyond,
        index: arguments.index,
    };
    let outcome = evaluate(&reader.sources, file, &asked).map_err(|errors| reader.refused(errors))?;
    let name = name_of(&arguments.readings);
    let scale = match (arguments.at.first(), form) {
        (Some((_, scale)), _) => *scale,
        (None, Form::Json) => Scale::Celsius,
        (None, _) => personal(arguments.no_config)?.scale(),
    };
    let document = || match &outcome {
        Outcome::Evaluated(result) => emit::trial(result, &name, scale, arguments.why),
        Outcome::Ordered(order) => emit::trial_order(order, scale),
    };
    let picture = || match &outcome {
        Outcome::Evaluated(result) => emit::trial_picture(result, &name, scale),
        Outcome::Ordered(_) => None,
    };
    let json = || match &outcome {
        Outcome::Evaluated(result) => emit::trial_json(result),
        Outcome::Ordered(order) => emit::order_json(order),
    };
    let no_picture =
        || Failure::new("no strip has a contrast, so there is no picture", "write --as text, which says why");
    let bytes = match form {
        Form::Text => text(&document(), arguments.output.colour(terminal)),
        Form::Html => document().html().into_bytes(),
        Form::Pdf => document().pdf(paper(arguments.paper, arguments.no_config)?),
        Form::Json => json().into_bytes(),
        Form::Svg => picture().ok_or_else(no_picture)?.into_bytes(),
    };
    let slips = if let Outcome::Evaluated(result) = outcome { result.slips } else { Vec::new() };
    arguments.output.send(bytes, &[&reader])?;
    reader.refuse_any(slips)?;
    Ok(Ended::Done)
}

/// The name of a trial, made from the file's name without its ending: small letters, digits and single hyphens.
fn name_of(path: &Path) -> String {
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().to_lowercase()).unwrap_or_default();
    let kept = |letter: char| if letter.is_ascii_alphanumeric() { letter } else { ' ' };
    let words: String = stem.chars().map(kept).collect();
    let name = words.split_whitespace().collect::<Vec<_>>().join("-");
    if name.starts_with(|first: char| first.is_ascii_lowercase()) { name } else { "own-trial".to_owned() }
}
