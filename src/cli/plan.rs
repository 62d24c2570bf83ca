//! `plan`: divides the rolls of a backlog into tank loads, for one tank and one temperature.

mod file;
mod stock;

use std::iter::once;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::choose::files_below;
use super::find::Sought;
use super::given::{At, Common};
use super::levels::levels;
use super::output::{self, Output};
use super::personal::{Settings, personal};
use super::{Ended, Failure, Reader, Terminal, darkroom, each_once, fail, find, given, label, root};
use crate::compile::{Scale, Tonight, Usual};
use crate::emit::{self, Paper};
use crate::journal;
use crate::measure::{Amount, mixing_day};
use crate::model::{Backlog, DarkroomPart, Date, Shelf, Tank, Temperature, Time, Volume};
use crate::plan::{Asked, Assumed, DateOrder, Days, LeftOut, Listed, Plan, listed, plan};
use crate::report;
use crate::source::{Diagnostic, FileId, Level, Map, Set, Sources, first_few};
use crate::vocabulary::{Declared, Moment};

/// Plan the tank loads of a backlog
///
/// Without --at, the plan is for 20 °C, and says so. --date is the day of the first load.
///
/// Rolls share a tank if their steps are the same at that temperature. The loads are as few as possible, and in the
/// order in which the rolls were shot if that needs no more loads. Rolls that are developed according to the journal
/// are left out.
#[derive(clap::Args)]
#[command(
    override_usage = "wetside plan [OPTIONS] <BACKLOG> [NAME]\n       wetside plan [OPTIONS] --from <FILE>",
    after_help = "Examples:\n  wetside plan autumn --tank tall-five --at 21C\n  wetside plan autumn --tank tall-five --package rapid-fix=1l --within 15s\n  wetside plan autumn --tank tall-five --at 21C --on 2026-11-25 --a-day 2 --every 7\n  wetside plan --from labels.csv --tank tall-five -o plan.html\n  wetside plan autumn --tank tall-five --mixing-day --on-hand metol=50g\n  wetside plan autumn --tank tall-five --as label -o labels.pdf\n  wetside plan autumn --tank tall-five --on 2026-11-25 --a-day 2 --every 7 -o plan.ics"
)]
pub(super) struct Arguments {
    /// A backlog's name, or a file that declares one
    #[arg(required_unless_present = "from", conflicts_with = "from")]
    backlog: Option<PathBuf>,
    /// The backlog's name, if BACKLOG is a file with several
    name: Option<String>,
    /// A list of rolls from a spreadsheet, with the columns label, film, format, date, index
    #[arg(long, value_name = "FILE")]
    from: Option<PathBuf>,
    /// The order of day and month in the dates of the list, if the list does not show it
    #[arg(long, value_enum, requires = "from", value_name = "ORDER")]
    dates: Option<Order>,
    #[command(flatten)]
    common: Common,
    /// The most by which the developing times of rolls in one tank may differ; all get the longest
    #[arg(long, value_parser = given::value::<Moment, _>, allow_hyphen_values = true, value_name = "TIME")]
    within: Option<Time>,
    /// The number of loads in a day; all on the first day if not given
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=100), value_name = "COUNT")]
    a_day: Option<u32>,
    /// The days from a day with loads to the next such day; 1 if not given
    #[arg(long, requires = "a_day", value_parser = clap::value_parser!(u32).range(1..=366), value_name = "DAYS")]
    every: Option<u32>,
    /// The volume of a solution's package, as in rapid-fix=1l; may be given several times
    #[arg(long, value_parser = given::package, value_name = "NAME=VOLUME")]
    package: Vec<(String, Volume)>,
    /// What you have of a liquid or an ingredient, as in rapid-fix=400ml or metol=50g; may be given several times
    #[arg(long, value_parser = given::on_hand, value_name = "NAME=AMOUNT")]
    on_hand: Vec<(String, Amount)>,
    /// Write what to buy, and the sheets of what to mix before the loads, instead of the loads
    #[arg(long)]
    mixing_day: bool,
    #[command(flatten)]
    output: Output<Form>,
    /// The paper of a PDF; your usual one if not given, else a4
    #[arg(long)]
    paper: Option<Paper>,
}

#[derive(Clone, Copy, clap::ValueEnum)]
enum Form {
    /// For people
    Text,
    /// For programs: one object, as grammar/plan.schema.json says
    Json,
    /// For a spreadsheet: a row for each roll
    Csv,
    /// For a browser: one page to print and to tick off
    Html,
    /// For a printer, on --paper
    Pdf,
    /// In the language: the loads as planned sessions; of a list, the rolls as a backlog
    Wet,
    /// For a calendar: a day for each load
    Ics,
    /// The label of each bottle to mix: as text, or with -o NAME.pdf for a printer, several on a sheet of --paper
    Label,
}

/// The order of day and month in dates.
#[derive(Clone, Copy, clap::ValueEnum)]
enum Order {
    /// As in 2.10.2026 for the second of October
    #[value(name = "day.month.year")]
    Day,
    /// As in 10/2/2026 for the second of October
    #[value(name = "month.day.year")]
    Month,
}

/// The temperature of a plan without `--at`: 20 °C, 68 °F.
const USUAL: Temperature = Temperature::celsius_whole(20);

fn check_form(arguments: &Arguments, form: Form) -> Result<(), Failure> {
    if !matches!(form, Form::Label) {
        arguments.output.check_paper(matches!(form, Form::Pdf), arguments.paper)?;
    }
    if arguments.mixing_day && matches!(form, Form::Csv | Form::Wet | Form::Ics) {
        return fail(
            "a mixing day has no such form",
            "write it as text, json, html, pdf or label, or leave out --mixing-day",
        );
    }
    Ok(())
}

pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    check_form(arguments, form)?;
    let mut reader = Reader::default();
    // An old plan that this call replaces is not read. Otherwise its loads would count as planned.
    let replaced = arguments.output.file().filter(|path| matches!(form, Form::Wet) && find::is_plan(path));
    let found = find(arguments, replaced, &mut reader)?;
    let plan = planned(arguments, &found, &mut reader)?;
    let personal = &found.settings.card;
    let day = mixing_day(&plan, &arguments.on_hand, personal);
    stock::names_known(arguments, &plan, day.as_ref().ok())?;
    let look = emit::Look { colour: arguments.output.colour(terminal), ..emit::Look::default() };
    let day = match day {
        Err(errors) if arguments.mixing_day || matches!(form, Form::Label) => {
            return Err(reader.refused(errors));
        }
        day => day.unwrap_or_default(),
    };
    let document = if arguments.mixing_day { emit::mixing_day(&plan, &day) } else { emit::plan(&plan, &day) };
    let to = arguments.output.file();
    arguments.output.not_read(&[&reader])?;
    let bytes = match form {
        Form::Text => document.text(look).into_bytes(),
        Form::Json if arguments.mixing_day => emit::mixing_json(&plan, &day).into_bytes(),
        Form::Json => emit::plan_json(&plan).into_bytes(),
        Form::Ics if arguments.common.date.is_none() && arguments.a_day.is_none() => {
            return fail("a calendar needs the days of the loads", "add --on 2026-11-25 --a-day 1");
        }
        Form::Ics => emit::plan_ics(&plan).into_bytes(),
        Form::Label => {
            let labels = stock::labels(&plan, &day, (given::day("--on", arguments.common.date)?, personal));
            if labels.is_empty() {
                return fail(
                    "this plan mixes no bottle, so there is no label",
                    "see wetside baths --as label",
                );
            }
            return label::send(&labels, arguments.paper, look, (&arguments.output, &[&reader]));
        }
        Form::Csv => emit::plan_csv(&plan).into_bytes(),
        Form::Html => document.html().into_bytes(),
        Form::Pdf => document.pdf(arguments.paper.or(found.settings.paper).unwrap_or(Paper::A4)),
        Form::Wet if arguments.from.is_some() => {
            file::of_rolls(&found.backlog, &found.shelf, &reader, to)?.into_bytes()
        }
        Form::Wet => file::of_loads(&plan, (&found.shelf, &found.backlog), &reader, to)?.into_bytes(),
    };
    arguments.output.send(bytes, &[&reader])?;
    // If rolls were left out of the plan, the findings become a failure, so that the exit status is 1.
    let left = plan.left.iter().flat_map(|left| once(left.warning()).chain(left.faults.iter().cloned()));
    let left: Vec<_> = left.collect();
    let is_complete = left.is_empty();
    let findings = each_once(left.into_iter().chain(found.notes));
    if is_complete && !findings.is_empty() {
        output::complain(&report::draw(&reader.sources, &findings, terminal.err));
        return Ok(Ended::Done);
    }
    reader.refuse_any(findings)?;
    Ok(Ended::Done)
}

struct Found {
    shelf: Shelf,
    backlog: Arc<Backlog>,
    /// The rolls that could not be read from the list of `--from`.
    unread: Vec<LeftOut>,
    /// The rolls that the list of `--from` states as developed, and on which day. The keys are labels.
    done: Map<String, Date>,
    /// Warnings and advice about the list of `--from`.
    notes: Vec<Diagnostic>,
    tank: Arc<Tank>,
    /// Whether the tank is the usual tank of the user's settings.
    is_usual: bool,
    settings: Settings,
    warnings: Vec<Diagnostic>,
    /// The files that belong to other roots nested in the root of the current folder.
    others: Set<FileId>,
}

/// Reads and checks the darkroom, and all recipes below the current folder. Then finds the backlog and the tank.
fn find(arguments: &Arguments, replaced: Option<&Path>, reader: &mut Reader) -> Result<Found, Failure> {
    let settings = personal(arguments.common.no_config)?;
    if let Some(at) = &arguments.common.at {
        given::in_scale(at, settings.scale())?;
    }
    let named = arguments.backlog.as_deref().filter(|path| find::is_file(path));
    let root = &*root::ROOT;
    let mut roots = darkroom::files(&darkroom::index(root), replaced, reader)?;
    if let Some(path) = named {
        darkroom::own(path, "plan")?;
        roots.push(reader.read(path)?);
    }
    let file = named.and(roots.last().copied());
    let essential = roots.clone();
    roots.extend(files_below(replaced, reader));
    let (shelf, findings) = reader.check_darkroom(root, &roots, &levels(&[], arguments.common.no_config)?);
    let of_level = |level| findings.iter().filter(move |finding| finding.level == level).cloned();
    let errors_in = |files: &[FileId]| {
        let errors = of_level(Level::Error).filter(|error| files.contains(&error.span.file));
        errors.collect::<Vec<_>>()
    };
    // Only errors in the files of the darkroom and of the backlog (`essential`) are fatal. In another file, a recipe
    // with errors is skipped, and rolls that need this recipe are left out of the plan.
    reader.refuse_any(errors_in(&essential))?;
    // An error in another file, such as in a film, may leave a bottle, a backlog or a session out of the darkroom. The
    // plan would then be wrong, so such an error is fatal too.
    if !shelf.darkroom.left_out.iter().all(|left| left.part == DarkroomPart::Line) {
        reader.refuse_any(of_level(Level::Error).collect())?;
    }
    let (mut unread, mut done, mut notes) = Default::default();
    let backlog = match &arguments.from {
        Some(path) => {
            let list = from_list(path, arguments, &shelf, reader)?;
            (unread, done, notes) = (list.left, list.done, list.notes);
            Ok(Arc::new(list.backlog))
        }
        None => backlog(arguments, &shelf, &reader.sources, file),
    };
    let wanted = (arguments.common.tank.as_deref(), settings.tank.as_deref());
    let chosen = backlog.and_then(|backlog| Ok((tank(&wanted, &shelf, &reader.sources, &backlog)?, backlog)));
    reader.refuse_any(match &chosen {
        Ok(((tank, _), _)) => errors_in(&[tank.span.file]),
        Err(_) => of_level(Level::Error).collect(),
    })?;
    let ((tank, is_usual), backlog) = chosen?;
    let others = reader.disk.of_other_roots(root, &reader.sources);
    let warnings = of_level(Level::Warning).collect();
    Ok(Found { shelf, backlog, unread, done, notes, tank, is_usual, settings, warnings, others })
}

fn from_list(
    path: &Path,
    arguments: &Arguments,
    shelf: &Shelf,
    reader: &mut Reader,
) -> Result<Listed, Failure> {
    let file = reader.read_list(path)?;
    let name = path.file_stem().unwrap_or_default().to_string_lossy();
    let order = arguments.dates.map(|order| match order {
        Order::Day => DateOrder::DayFirst,
        Order::Month => DateOrder::MonthFirst,
    });
    listed(&reader.sources, file, &name, shelf, order).map_err(|errors| reader.refused(errors))
}

/// The backlog that the command line names; if it names only a file, the only backlog of this file.
fn backlog(
    arguments: &Arguments,
    shelf: &Shelf,
    sources: &Sources,
    file: Option<FileId>,
) -> Result<Arc<Backlog>, Failure> {
    let given = arguments.backlog.as_deref().unwrap_or(Path::new("-")).to_string_lossy();
    let all = shelf.darkroom.backlogs_once();
    let all = all.filter(|backlog| file.is_none_or(|file| backlog.span.file == file));
    let all: Vec<_> = all.map(|one| (one.name.as_str(), one.span.file, one)).collect();
    let one = if file.is_some() {
        find::one_of(Declared::Backlog, arguments.name.as_deref(), &given, &all, sources)
    } else {
        find::no_second_name(&given, arguments.name.as_deref())?;
        let sought = Sought::below(Declared::Backlog, &given);
        sought.called(format!("wetside plan FILE.wet {given}")).among(all, sources)
    };
    one.map(Arc::clone)
}

/// The tank of `--tank`; else the usual tank of the user's settings if it takes all formats of the backlog; else the
/// only tank that the backlog's file declares or uses, else the only known tank. The `bool` says whether the tank is
/// the usual one.
fn tank(
    (given, usual): &(Option<&str>, Option<&str>),
    shelf: &Shelf,
    sources: &Sources,
    backlog: &Backlog,
) -> Result<(Arc<Tank>, bool), Failure> {
    let all: Map<_, _> = shelf.tanks.iter().map(|(_, _, tank)| (tank.span, tank)).collect();
    let own: Map<_, _> = shelf.tanks_of(backlog.span.file).map(|(_, tank)| (tank.span, tank)).collect();
    if given.is_none() {
        let takes = |tank: &Tank| backlog.rolls.iter().all(|roll| tank.reels_for(roll.format).is_some());
        let mut usual = all.values().filter(|tank| Some(&*tank.name) == *usual && takes(tank));
        if let (Some(usual), None) = (usual.next(), usual.next()) {
            return Ok((Arc::clone(usual), true));
        }
        if let [one] = *own.into_values().collect::<Vec<_>>() {
            return Ok((Arc::clone(one), false));
        }
    }
    let known: Set<&str> = all.values().map(|tank| tank.name.as_str()).collect();
    // Several tanks may share the only known name. In that case, the method `among` returns the error.
    let only = known.first().copied().filter(|_| known.len() == 1);
    match given.or(only) {
        Some(name) => {
            let all = all.into_values().map(|tank| (tank.name.as_str(), tank.span.file, tank));
            Ok((Sought::below(Declared::Tank, name).among(all, sources).map(Arc::clone)?, false))
        }
        None if known.is_empty() => {
            fail("no tank is declared below this folder", "declare one: tank NAME { … }")
        }
        None => fail(format!("there are several tanks: {}", first_few(known, ", ")), "say which with --tank"),
    }
}

fn planned(arguments: &Arguments, found: &Found, reader: &mut Reader) -> Result<Plan, Failure> {
    let at = arguments.common.at.as_ref();
    let first = given::day("--on", arguments.common.date)?;
    let developed = match &arguments.from {
        Some(_) => journal::developed_of_list(&found.shelf, &found.backlog),
        None => journal::developed(&found.shelf.darkroom, &found.backlog),
    };
    let developed = developed.into_iter().map(|(label, session)| (label, session.date.value));
    let stated = found.done.iter().map(|(label, day)| (label.as_str(), *day));
    let temperature = at.is_none().then_some(Assumed::Temperature);
    let day = arguments.common.date.is_none().then_some(Assumed::Day);
    let tanks: Set<_> = found.shelf.tanks.iter().map(|(_, _, tank)| tank.span).collect();
    let tank =
        (arguments.common.tank.is_none() && !found.is_usual && tanks.len() > 1).then_some(Assumed::Tank);
    let asked = Asked {
        shelf: &found.shelf,
        others: &found.others,
        backlog: &found.backlog,
        done: stated.chain(developed).collect(),
        unread: found.unread.clone(),
        tank: &found.tank,
        conditions: Tonight {
            scale: at.map_or(Scale::Celsius, |at| at.scale),
            step_temperatures: at.map(|at| at.steps.clone()).unwrap_or_default(),
            ending: arguments.common.ending,
            personal: found.settings.card.clone(),
            usual: Usual {
                tank: found.is_usual,
                scale: at.is_some_and(At::is_bare) && found.settings.units.is_some(),
                paper: None,
            },
            ..Tonight::new(at.map_or(USUAL, |at| at.temperature), Vec::new())
        },
        within: arguments.within.unwrap_or(Time::ZERO),
        days: Days { first, loads: arguments.a_day, apart: arguments.every.unwrap_or(1) },
        assumed: temperature.into_iter().chain(tank).chain(day).collect(),
        warnings: found.warnings.clone(),
        packages: arguments.package.clone(),
        on_hand: arguments.on_hand.iter().filter_map(stock::volume_of).collect(),
    };
    plan(&asked).map_err(|mut errors| {
        errors.extend(found.notes.iter().cloned());
        reader.refused(errors)
    })
}
