//! `baths`: the state of each bottle of the darkroom on a day.

use super::disk::Reader;
use super::failure::Failure;
use super::levels::levels;
use super::output;
use super::{Ended, darkroom, given, root};
use crate::emit;
use crate::journal::Standing;
use crate::model::Date;
use crate::source::Level;

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
    /// Include the bottles that were poured away
    #[arg(long)]
    all: bool,
    /// What to write
    #[arg(long = "as", default_value = "text")]
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

/// A bath to copy.
const EXAMPLE: &str =
    "bath fix-a {\n    in        rapid-fix 1+4\n    volume    2.5 l\n    mixed     2026-11-02\n}\n";

/// Reads the darkroom and prints the state of its bottles.
pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    let mut reader = Reader::default();
    let root = root::of_here();
    let files = darkroom::files(&darkroom::index(root), &mut reader)?;
    let levels = levels(&[], arguments.no_config)?;
    let (shelf, mut findings) = reader.check_darkroom(root, &files, &levels);
    findings.retain(|finding| finding.level == Level::Error);
    if !findings.is_empty() {
        return Err(reader.refused(findings));
    }
    let darkroom = &shelf.darkroom;
    if darkroom.bottles().next().is_none() {
        return Err(Failure::Call {
            message: "no bath is declared below this folder".to_owned(),
            help: "write it into a .wet file that uses the one of its solution:".to_owned(),
            example: EXAMPLE,
        });
    }
    let on = arguments.on.map_or_else(|| given::today("--on"), Ok)?;
    let shown = Standing::all(darkroom, on).into_iter().filter(Standing::is_made);
    let shown: Vec<_> = shown.filter(|standing| arguments.all || !standing.is_discarded()).collect();
    output::print(match arguments.form {
        Form::Text => emit::baths(&shown, on),
        Form::Json => emit::baths_json(&shown, on),
    })?;
    Ok(Ended::Done)
}
