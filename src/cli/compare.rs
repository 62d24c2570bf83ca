//! `compare`: what differs in the work of two recipes, and not in their text.

use std::path::PathBuf;
use std::sync::Arc;

use super::ending;
use super::failure::Failure;
use super::output::Output;
use super::side::{Named, Side};
use super::sought::Sought;
use super::terminal::Terminal;
use super::{Ended, given, output};
use crate::compare::{Outcome, compare_all};
use crate::compile::Scale;
use crate::emit;
use crate::model::{Recipe, Temperature};
use crate::report;
use crate::source::{Diagnostic, Sources};
use crate::vocabulary::Declared;

/// Show what differs in the work of two recipes, not in their text
///
/// OLD and NEW are each FILE.wet, FILE.wet:NAME, REV:FILE.wet or REV:FILE.wet:NAME at a revision of git, a
/// recipe's name, or - for standard input. Of files with several recipes those of one name are compared.
///
/// Exit status: 0 the same work, 1 another, 2 they could not be compared.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  wetside compare HEAD:recipes/films.wet recipes/films.wet\n  wetside compare estuary-400-mq estuary-400-mq-800\n  wetside compare old.wet:first new.wet:second --at 20C,68F"
)]
pub(super) struct Arguments {
    /// What there was
    old: PathBuf,
    /// What there is
    new: PathBuf,
    /// Compare the recipe of this name alone
    #[arg(long, value_name = "NAME")]
    recipe: Option<String>,
    /// Tell times at these temperatures; at 18, 20, 22 and 24 C if not given
    #[arg(long, value_parser = given::temperature, value_delimiter = ',', allow_hyphen_values = true, value_name = "TEMPERATURES")]
    at: Vec<(Temperature, Scale)>,
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
    /// What to write; by the name after -o if not given
    #[arg(long = "as", value_enum, value_name = "FORM")]
    form: Option<Form>,
    #[command(flatten)]
    output: Output,
}

/// What a comparison is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Form {
    /// For people
    Text,
    /// For programs: one object, as grammar/comparison.schema.json says
    Json,
}

/// The temperatures that nobody asked for, in whole degrees Celsius.
const USUAL: [i64; 4] = [18, 20, 22, 24];
/// More temperatures than this are a slip.
const AT_MAX: usize = 100;

/// Reads both, compares, writes.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = form(arguments)?;
    let (at, scale) = temperatures(arguments)?;
    let (old_named, new_named) = (Named::of(&arguments.old), Named::of(&arguments.new));
    if old_named.is_standard_input() && new_named.is_standard_input() {
        return Err(Failure::new("standard input can be read but once", "name a file for one of the two"));
    }
    let (old, new) = match (old_named.read(arguments.no_config)?, new_named.read(arguments.no_config)?) {
        (Ok(old), Ok(new)) => (old, new),
        (old, new) => {
            [old.err(), new.err()].into_iter().flatten().for_each(|told| complain(&told, terminal));
            return Ok(Ended::NotCompared);
        }
    };
    let wanted = |named: &Named| named.recipe.clone().or_else(|| arguments.recipe.clone());
    let (was, is) = chosen((&old, wanted(&old_named)), (&new, wanted(&new_named)))?;
    let outcomes = compare_all(&was, &is, &at);
    let text = match form {
        Form::Json => emit::comparison_json(&outcomes, &at, (&old.sources, &new.sources)),
        Form::Text => {
            let paint = terminal.paint(arguments.output.file());
            emit::comparison(&outcomes, scale, emit::Look { paint, ..emit::Look::default() })
        }
    };
    arguments.output.send(text, |path| old.has_read(path) || new.has_read(path))?;
    let is_same = outcomes.iter().all(|outcome: &Outcome<'_>| outcome.count() == 0);
    Ok(if is_same { Ended::Done } else { Ended::Different })
}

fn complain((sources, findings): &(Sources, Vec<Diagnostic>), terminal: Terminal) {
    let look = if terminal.err { report::Look::Colour } else { report::Look::Plain };
    output::complain(&report::draw(sources, findings, look));
}

type Recipes = Vec<Arc<Recipe>>;

/// The recipes to compare. A name that only one side says is looked for on the other, too; where that
/// has but one recipe, that is the one that is meant.
fn chosen(
    (old, old_name): (&Side, Option<String>),
    (new, new_name): (&Side, Option<String>),
) -> Result<(Recipes, Recipes), Failure> {
    let (all_old, all_new) = (old.recipes(), new.recipes());
    if all_old.is_empty() && all_new.is_empty() {
        return Err(Failure::new("neither has a recipe", "name files in which recipes stand"));
    }
    let of = |all: &Recipes, name: &str| -> Recipes {
        all.iter().filter(|recipe| recipe.name == name).cloned().collect()
    };
    let named = |all: &Recipes, name: &str, side: &str| match of(all, name) {
        found if found.is_empty() => Err(missing(all, name, side)),
        found => Ok(found),
    };
    let other = |all: &Recipes, name: &str, side: &str| match (of(all, name), all.as_slice()) {
        (found, _) if !found.is_empty() => Ok(found),
        (_, [one]) => Ok(vec![Arc::clone(one)]),
        (_, _) => Err(missing(all, name, side)),
    };
    match (old_name, new_name) {
        (None, None) => Ok((all_old, all_new)),
        (Some(one), Some(same)) if one == same => {
            // Wherever it is missing, it is gone or added; if on both sides, it is misspelt.
            let both = (of(&all_old, &one), of(&all_new, &one));
            if both.0.is_empty() && both.1.is_empty() {
                Err(missing(&all_new, &one, "either"))
            } else {
                Ok(both)
            }
        }
        (Some(one), Some(another)) => Ok((named(&all_old, &one, "OLD")?, named(&all_new, &another, "NEW")?)),
        (Some(name), None) => Ok((named(&all_old, &name, "OLD")?, other(&all_new, &name, "NEW")?)),
        (None, Some(name)) => Ok((other(&all_old, &name, "OLD")?, named(&all_new, &name, "NEW")?)),
    }
}

fn missing(all: &Recipes, name: &str, side: &str) -> Failure {
    let sought = Sought::within(Declared::Recipe, name, format!("in {side}"));
    sought.absent(all.iter().map(|recipe| recipe.name.as_str()))
}

/// The temperatures, each once, and the scale of the first.
fn temperatures(arguments: &Arguments) -> Result<(Vec<Temperature>, Scale), Failure> {
    if arguments.at.len() > AT_MAX {
        return Err(Failure::new(
            format!("{} temperatures are too many", arguments.at.len()),
            format!("name at most {AT_MAX}"),
        ));
    }
    let Some((_, scale)) = arguments.at.first() else {
        return Ok((USUAL.map(Temperature::celsius_whole).to_vec(), Scale::Celsius));
    };
    let mut at: Vec<Temperature> = Vec::new();
    for (temperature, _) in &arguments.at {
        if !at.contains(temperature) {
            at.push(*temperature);
        }
    }
    Ok((at, *scale))
}

/// What to write: as asked, else by the file's name, else text.
fn form(arguments: &Arguments) -> Result<Form, Failure> {
    ending::form(arguments.form, arguments.output.file(), &[("txt", Form::Text), ("json", Form::Json)])
}
