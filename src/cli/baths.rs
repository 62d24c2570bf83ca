//! `baths`: how each bottle of one's own darkroom stands on a day.

use super::disk::Disk;
use super::failure::Failure;
use super::levels::levels;
use super::refused::refused;
use super::terminal::Terminal;
use super::{Ended, darkroom, given, output, root};
use crate::emit;
use crate::journal::Standing;
use crate::model::Date;
use crate::source::{Level, Sources};

/// Show the state of each bottle: rolls treated, what is left, age, clearing time
///
/// The rolls treated are counted from the sessions that name the bottle; no file stores them.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  wetside baths\n  wetside baths --on 2026-11-25\n  wetside baths --all --as json"
)]
pub(super) struct Arguments {
    /// The day, as in 2026-11-25; today if not given
    #[arg(long, value_parser = given::value::<Date, _>, allow_hyphen_values = true, value_name = "DATE")]
    on: Option<Date>,
    /// Tell of those that were poured away, too
    #[arg(long)]
    all: bool,
    /// What to write
    #[arg(long = "as", value_enum, default_value_t = Form::Text, value_name = "FORM")]
    form: Form,
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
}

/// What is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Form {
    /// For people: a table
    Text,
    /// For programs: one object, as grammar/baths.schema.json says
    Json,
}

/// What can be copied by whoever has declared no bath yet.
const EXAMPLE: &str =
    "bath fix-a {\n    in        rapid-fix 1+4\n    volume    2.5 l\n    mixed     2026-11-02\n}\n";

/// Reads the darkroom, counts, tells.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let (mut sources, mut disk) = (Sources::default(), Disk::default());
    let root = root::of_here();
    let files = darkroom::files(&darkroom::index(root), &mut sources, &mut disk)?;
    let levels = levels(&[], &[], arguments.no_config)?;
    let (shelf, mut findings) = darkroom::checked(root, &files, (&mut sources, &disk), &levels);
    findings.retain(|finding| finding.level == Level::Error);
    if !findings.is_empty() {
        return Ok(refused(&sources, &findings, terminal));
    }
    let room = &shelf.darkroom;
    if room.bottles().next().is_none() {
        return Err(Failure::new(
            "no bath is declared in this folder or below it",
            "write it into a .wet file that uses the one of its solution:",
        )
        .showing(EXAMPLE));
    }
    let on = arguments.on.map_or_else(|| given::today("--on"), Ok)?;
    let told = Standing::all(room, on).into_iter().filter(Standing::is_made);
    let told: Vec<Standing<'_>> = told.filter(|standing| arguments.all || !standing.is_discarded()).collect();
    output::print(&match arguments.form {
        Form::Text => emit::baths(&told, on),
        Form::Json => emit::baths_json(&told, on),
    })?;
    Ok(Ended::Done)
}
