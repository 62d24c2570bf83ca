//! `measure`: the sheet for weighing the formula of a solution, or for diluting the solution.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::disk::has_errors;
use super::find::Index;
use super::given::{temperature, value};
use super::levels::levels;
use super::output::Output;
use super::personal::{Settings, Units, personal};
use super::{Ended, Failure, Reader, Terminal, fail, find, given, label};
use crate::check;
use crate::compile::{Label, Personal, Scale};
use crate::emit::{self, Paper};
use crate::measure::{
    Adding, Asked, Diluting, Had, HadAs, Sheet, Taps, TemperedWater, USUAL_SCALE, Warmth, Weighing, Work,
    measure,
};
use crate::model::{Date, Dilution, Mass, Measure, Share, Shelf, Solution, Temperature, Volume};
use crate::source::{Diagnostic, FileId, Level};
use crate::vocabulary::{Capture as _, Declared};

/// Print the sheet for weighing a formula or diluting a solution
///
/// SOLUTION is the name of a solution, a file, or a file and a name. With a DILUTION such as 1+4, the sheet is for
/// diluting the solution; without it, for weighing the formula. SOLUTION may also be water, drawn from two taps.
#[derive(clap::Args)]
#[command(
    override_usage = "wetside measure [OPTIONS] --make <VOLUME> <SOLUTION> [NAME] [DILUTION]",
    after_help = "Examples:\n  wetside measure mq-borax --make 2.5l\n  wetside measure mq-carbonate --make 2.5l --have carbonate=monohydrate --have bromide=10%\n  wetside measure acetic-stop --make 1l --have acetic-acid=99.5% --scale 0.01g\n  wetside measure mq-borax --make 32us-fl-oz --units us --taps 12C,55C\n  wetside measure rapid-fix 1+4 --make 2.5l --at 20C --stock-at 23C\n  wetside measure mq-borax --make 1l --as label\n  wetside measure mq-borax --make 1l --as label --copies 4 -o labels.pdf\n  wetside measure recipes/solutions.wet wetting-agent 1+200 --make 2.5l\n  wetside measure water --make 5l --at 20C --taps 12C,55C"
)]
pub(super) struct Arguments {
    /// A solution's name, a file, or - for standard input
    solution: PathBuf,
    /// The solution's name, if SOLUTION is a file with several; and the dilution, as in 1+4
    #[arg(value_name = "NAME, DILUTION", num_args = 0..=3)]
    rest: Vec<String>,
    /// The volume to make, as in 2.5l
    #[arg(long, value_parser = value::<Volume, _>, allow_hyphen_values = true, value_name = "VOLUME")]
    make: Volume,
    /// Ingredients that you have in another form than stated: a state, or a strength in per cent
    #[arg(long, value_parser = had, value_delimiter = ',', value_name = "NAME=STATE")]
    have: Vec<Had>,
    /// A solution to add to the dilution, and how much of each litre it is, as in restrainer=20ml/l
    #[arg(long, value_parser = addition, value_name = "NAME=AMOUNT")]
    with: Option<(String, Volume)>,
    /// The resolution of the scale; 0.1g if not given
    #[arg(long, value_parser = value::<Mass, _>, allow_hyphen_values = true, value_name = "MASS")]
    scale: Option<Mass>,
    /// The temperature of the working solution
    #[arg(long, value_parser = temperature, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    at: Option<(Temperature, Scale)>,
    /// The temperature of the stock solution that is diluted
    #[arg(long, value_parser = value::<Temperature, _>, allow_hyphen_values = true, requires = "at", value_name = "TEMPERATURE")]
    stock_at: Option<Temperature>,
    /// The temperatures of the two taps, as in 12C,55C; your usual ones if not given
    #[arg(long, value_parser = given::taps, allow_hyphen_values = true, value_name = "TEMPERATURES")]
    taps: Option<Taps>,
    /// The units of the sheet; your usual ones if not given, else metric
    #[arg(long, value_enum, value_name = "UNITS")]
    units: Option<Units>,
    /// Ignore wetside.toml and your personal settings
    #[arg(long)]
    no_config: bool,
    /// The day on which the bottle of a label is mixed, as in 2026-11-25; today if not given
    #[arg(long, value_parser = value::<Date, _>, allow_hyphen_values = true)]
    date: Option<Date>,
    /// How many labels of each bottle, 1 to 100
    #[arg(long, value_parser = clap::value_parser!(u8).range(1..=100), value_name = "NUMBER")]
    copies: Option<u8>,
    /// The paper of a PDF; your usual one if not given, else a4
    #[arg(long)]
    paper: Option<Paper>,
    #[command(flatten)]
    output: Output<Form>,
    /// Columns of the text, 40 to 200
    #[arg(long, default_value_t = 80, value_parser = clap::value_parser!(u16).range(40..=200), value_name = "COLUMNS")]
    width: u16,
}

#[derive(Clone, Copy, clap::ValueEnum)]
enum Form {
    /// For people
    Text,
    /// For a browser: one page
    Html,
    /// For a printer, on --paper
    Pdf,
    /// For programs: one object, as grammar/sheet.schema.json says
    Json,
    /// The label of each bottle: as text, or with -o NAME.pdf for a printer, several on a sheet of --paper
    Label,
}

fn had(text: &str) -> Result<Had, String> {
    let wrong =
        || format!("'{text}' is not an ingredient and its form; write carbonate=monohydrate or bromide=10%");
    let (name, form) = text.split_once('=').ok_or_else(wrong)?;
    let (name, form) = (name.trim(), form.trim());
    if name.is_empty() || form.is_empty() {
        return Err(wrong());
    }
    let is_share = form.starts_with(|first: char| first.is_ascii_digit() || matches!(first, '-' | '.'));
    let form =
        if is_share { HadAs::Percent(value::<Share, _>(form)?) } else { HadAs::State(form.to_owned()) };
    Ok(Had { name: name.to_owned(), form })
}

fn addition(text: &str) -> Result<(String, Volume), String> {
    let wrong = || format!("'{text}' is not a solution and its share; write restrainer=20ml/l");
    let (name, amount) = text.split_once('=').ok_or_else(wrong)?;
    let name = name.trim();
    match value::<Measure, _>(amount)? {
        _ if name.is_empty() => Err(wrong()),
        Measure::VolumePerLitre(volume) if volume < LITRE => Ok((name.to_owned(), volume)),
        Measure::VolumePerLitre(_) => {
            Err(format!("an addition is less than a litre in each litre; write {name}=20ml/l"))
        }
        _ => Err(format!("a solution is added by its volume in each litre; write {name}=20ml/l")),
    }
}

const LITRE: Volume = Volume::from_ml(1000);

pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    let Arguments { date, copies, paper, .. } = arguments;
    if matches!(form, Form::Label) {
        if arguments.with.is_some() {
            return fail(
                "--as label is for one solution, and --with adds another",
                "leave one of the two out, or declare the mixture as a solution of its own",
            );
        }
    } else {
        if date.is_some() || copies.is_some() {
            return fail("--date and --copies are for labels", "leave them out, or add --as label");
        }
        arguments.output.check_paper(matches!(form, Form::Pdf), *paper)?;
    }
    if is_water(arguments) {
        return water(arguments, form, terminal);
    }
    let (path, name, dilution) = named(arguments)?;
    let settings = personal(arguments.no_config)?;
    let mut reader = Reader::default();
    let read = Read::of(path, arguments.no_config, &mut reader)?;
    let (solution, mut warnings) = read.chosen(name.as_deref(), &mut reader)?;
    let adding = match &arguments.with {
        Some((name, per_litre)) => {
            let (solution, about) = added(arguments, &read, name, &mut reader)?;
            warnings.extend(about.into_iter().map(|warning| format!("{name}: {warning}")));
            Some(Adding { solution, per_litre: *per_litre })
        }
        None => None,
    };
    let sheet = measured(arguments, &solution, (dilution, adding), &settings)?;
    let mut sheet = sheet.map_err(|findings| reader.refused(findings))?;
    sheet.warnings.extend(warnings);
    let look = || {
        let colour = arguments.output.colour(terminal);
        emit::Look { width: arguments.width.into(), colour, reasons: false }
    };
    let text = match form {
        Form::Label => {
            let labels = labels(arguments, &sheet, &settings.card)?;
            let paper = arguments.paper.or(settings.paper.filter(|_| arguments.output.is_pdf()));
            return label::send(&labels, paper, look(), (&arguments.output, &[&reader]));
        }
        Form::Json => emit::sheet_json(&sheet),
        Form::Text => emit::sheet(&sheet, arguments.units(&settings)).text(look()),
        Form::Html => emit::sheet(&sheet, arguments.units(&settings)).html(),
        Form::Pdf => {
            let document = emit::sheet(&sheet, arguments.units(&settings));
            return arguments
                .output
                .send(document.pdf(paper.or(settings.paper).unwrap_or(Paper::A4)), &[&reader]);
        }
    };
    arguments.output.send(text, &[&reader])
}

/// Whether the command line asks for water from the taps: SOLUTION is `water`, and no solution has this name.
fn is_water(arguments: &Arguments) -> bool {
    let is_named = arguments.solution.as_os_str() == "water" && arguments.rest.is_empty();
    is_named
        && Index::of_name(Declared::Solution, "water")
            .declaring(&[Declared::Solution], Some("water"))
            .is_empty()
}

/// Prints how to mix water of the temperature `--at` from two taps.
fn water(arguments: &Arguments, form: Form, terminal: Terminal) -> Result<Ended, Failure> {
    let Arguments { have, scale, at, stock_at, taps, .. } = arguments;
    let settings = personal(arguments.no_config)?;
    let (Some((at, _)), Some(taps)) = (at, taps.or(settings.taps)) else {
        return fail("water needs its temperature and those of the taps", "add --at 20C --taps 12C,55C");
    };
    if !have.is_empty() || scale.is_some() || stock_at.is_some() || matches!(form, Form::Label) {
        return fail(
            "--have, --scale, --stock-at and labels are for solutions",
            "leave them out: water needs --make, --at and --taps",
        );
    }
    let tempered = TemperedWater::of(arguments.make, *at, taps);
    let tempered = tempered.map_err(|fault| Failure::new(fault.message.clone(), fault.help.join(", or ")))?;
    let colour = arguments.output.colour(terminal);
    let look = emit::Look { width: arguments.width.into(), colour, reasons: false };
    let document = emit::tempered(&tempered, arguments.units(&settings));
    let bytes = match form {
        Form::Json => emit::tempered_json(&tempered).into_bytes(),
        Form::Html => document.html().into_bytes(),
        Form::Pdf => document.pdf(arguments.paper.or(settings.paper).unwrap_or(Paper::A4)),
        Form::Text | Form::Label => document.text(look).into_bytes(),
    };
    arguments.output.send(bytes, &[])
}

impl Arguments {
    /// The units of the sheet. The temperature scale is the scale of `--at`; without `--at`, it is Celsius for metric
    /// units and Fahrenheit for US units.
    fn units(&self, settings: &Settings) -> emit::Units {
        let units = self.units.or(settings.units).unwrap_or(Units::Metric);
        let scale = self.at.map_or(units.scale(), |(_, scale)| scale);
        emit::Units { scale, with_us: units == Units::Us }
    }
}

/// The sheet, or the errors that prevent it. If there are errors with the taps of the user's settings, the sheet is
/// made without taps.
fn measured(
    arguments: &Arguments,
    solution: &Arc<Solution>,
    (dilution, adding): (Option<Dilution>, Option<Adding>),
    settings: &Settings,
) -> Result<Result<Sheet, Vec<Diagnostic>>, Failure> {
    let sheet = |usual: Option<Taps>| {
        let mut asked = asked(arguments, dilution.clone(), usual)?;
        if let Asked::Diluting(asked) = &mut asked {
            asked.added.clone_from(&adding);
        }
        Ok(measure(solution, arguments.make, &asked, &settings.card))
    };
    let usual = settings.taps.filter(|_| arguments.taps.is_none());
    let first: Result<Sheet, Vec<Diagnostic>> = sheet(usual)?;
    if first.is_err() && usual.is_some() { sheet(None) } else { Ok(first) }
}

/// The labels for a sheet: one for each bottle that is weighed, or one for the diluted bath, each `--copies` times.
fn labels(arguments: &Arguments, sheet: &Sheet, personal: &Personal) -> Result<Vec<Label>, Failure> {
    let made = (sheet.make, given::day("--date", arguments.date)?);
    let label = |part: Option<&str>, dilution: &Dilution| {
        Label::of_mixed(&sheet.solution, part, dilution, made, personal)
    };
    let each: Vec<Label> = match &sheet.work {
        Work::Weigh(bottles, _) => {
            bottles.iter().map(|bottle| label(bottle.part.as_deref(), &Dilution::stock())).collect()
        }
        Work::Dilute(mixture) => vec![label(None, &mixture.dilution)],
    };
    let copies = usize::from(arguments.copies.unwrap_or(1));
    Ok(each.into_iter().flat_map(|label| std::iter::repeat_n(label, copies)).collect())
}

/// The file of the solution, and the solution's name and the dilution if the command line gives them.
fn named(arguments: &Arguments) -> Result<(PathBuf, Option<String>, Option<Dilution>), Failure> {
    let given = &arguments.solution;
    let (name, rest) = match arguments.rest.as_slice() {
        [first, rest @ ..] if first.starts_with(char::is_alphabetic) && first != "stock" => {
            (Some(first.clone()), rest)
        }
        rest => (None, rest),
    };
    let mut dilution = None;
    if !rest.is_empty() {
        let read = check::value::<Dilution>(&rest.join(" "));
        let read = read.map_err(|error| Failure::new(error.message, error.help.join(", or ")))?;
        dilution = Dilution::of(&read).cloned();
    }
    let index = Index::of_name(Declared::Solution, &given.to_string_lossy());
    let (file, name) = find::file_and_name(given, name, Declared::Solution, "measure", &index)?;
    Ok((file, name, dilution))
}

/// The request for a sheet: to dilute if a dilution is given, else to weigh the formula. Fails if an option does not
/// fit.
fn asked(arguments: &Arguments, dilution: Option<Dilution>, usual: Option<Taps>) -> Result<Asked, Failure> {
    let Arguments { have, scale, at, stock_at, taps, with, .. } = arguments;
    let usual_here = usual.filter(|_| dilution.is_none() || at.is_some());
    let taps = &taps.or(usual_here);
    let Some(dilution) = dilution else {
        if at.is_some() {
            return fail(
                "--at is for a dilution: a formula states the temperature of its water",
                "leave --at out, or add a dilution such as 1+4",
            );
        }
        if with.is_some() {
            return fail(
                "--with is for a dilution, and a formula is weighed without additions",
                "leave --with out, or add a dilution such as 1+4 or stock",
            );
        }
        let step = scale.unwrap_or(USUAL_SCALE);
        return Ok(Asked::Weighing(Weighing { step, had: have.clone(), taps: *taps }));
    };
    if !have.is_empty() || scale.is_some() {
        return fail(
            "--have and --scale are for weighing, and a dilution has no weights",
            "leave them out, or leave the dilution out to weigh the formula",
        );
    }
    let warmth = match (at, stock_at, taps) {
        (Some(_), None, None) => {
            return fail(
                "--at needs the temperature of the stock or of the taps",
                "add --stock-at 23C or --taps 12C,55C",
            );
        }
        (None, _, Some(_)) => {
            return fail("--taps needs the temperature of the working solution", "add --at 20C");
        }
        (at, stock, taps) => at.map(|(at, _)| Warmth { at, stock: *stock, taps: *taps }),
    };
    Ok(Asked::Diluting(Diluting { dilution, warmth, added: None }))
}

struct Read {
    file: FileId,
    shelf: Shelf,
    findings: Vec<Diagnostic>,
}

impl Read {
    fn of(path: PathBuf, no_config: bool, reader: &mut Reader) -> Result<Read, Failure> {
        let file = reader.read(&path)?;
        let (shelf, findings) = reader.check(&[file], &levels(&[path], no_config)?);
        Ok(Read { file, shelf, findings })
    }

    /// The solution called `name`, or without a name the file's only solution; and the warnings about it.
    fn chosen(
        &self,
        name: Option<&str>,
        reader: &mut Reader,
    ) -> Result<(Arc<Solution>, Vec<String>), Failure> {
        let Read { file, shelf, findings } = self;
        let known: Vec<&Arc<Solution>> = shelf.solutions_of(*file).collect();
        // An error elsewhere in the file does not affect a named solution.
        let is_sound = match name {
            Some(name) => known.iter().any(|solution| solution.name == name),
            None => !known.is_empty() && !shelf.unsound.solutions.contains(file),
        };
        if !is_sound && has_errors(findings) {
            return Err(reader.refused(findings.clone()));
        }
        let all: Vec<_> = known.iter().map(|one| (one.name.as_str(), *file, *one)).collect();
        let solution = find::one_of(Declared::Solution, name, reader.name(*file), &all, &reader.sources)?;
        let solution = Arc::clone(solution);
        // A hidden character anywhere in the file may affect any solution.
        let concerns = |finding: &&Diagnostic| {
            let is_near = finding.name == "hidden-character" || solution.extent.holds(finding.span);
            finding.level == Level::Warning && is_near
        };
        let warnings = findings.iter().filter(concerns);
        let warnings = warnings.map(|warning| format!("{} ({})", warning.message, warning.name)).collect();
        Ok((solution, warnings))
    }
}

/// The solution called `name` that `--with` adds, and the warnings about it. It is in the file of the diluted solution,
/// else in a file below the current folder.
fn added(
    arguments: &Arguments,
    own: &Read,
    name: &str,
    reader: &mut Reader,
) -> Result<(Arc<Solution>, Vec<String>), Failure> {
    if own.shelf.solutions_of(own.file).any(|solution| solution.name == name) {
        return own.chosen(Some(name), reader);
    }
    let index = Index::of_name(Declared::Solution, name);
    let (path, _) = find::file_and_name(Path::new(name), None, Declared::Solution, "measure", &index)?;
    Read::of(path, arguments.no_config, reader)?.chosen(Some(name), reader)
}
