//! `compare`: shows how the work of two recipes differs. Each recipe is in a file or at a revision of git.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::disk::has_errors;
use super::find::{Index, Sought};
use super::levels::levels;
use super::output::Output;
use super::personal::paper;
use super::revision::Revision;
use super::{Ended, Failure, Reader, Terminal, each_once, fail, given};
use crate::check::check_all;
use crate::compare::{Outcome, compare_all, sessions};
use crate::compile::Scale;
use crate::emit::{self, Figure, Paper};
use crate::model::{Recipe, Temperature};
use crate::vocabulary::Declared;

/// Show what differs in the work of two recipes, not in their text
///
/// OLD and NEW are each FILE.wet, FILE.wet:NAME, REV:FILE.wet or REV:FILE.wet:NAME at a revision of git, a recipe's
/// name, or - for standard input. In files with several recipes, recipes of the same name are compared.
///
/// Exit status: 0 the same work, 1 different work, 2 they could not be compared.
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside compare HEAD:recipes/films.wet recipes/films.wet\n  wetside compare estuary-400-mq estuary-400-mq-800\n  wetside compare old.wet:first new.wet:second --at 20C,68F"
)]
pub(super) struct Arguments {
    /// The old recipe or file
    old: PathBuf,
    /// The new recipe or file
    new: PathBuf,
    /// Compare only the recipe of this name
    #[arg(long, value_name = "NAME")]
    recipe: Option<String>,
    /// Compare times at these temperatures; at 18, 20, 22 and 24 C if not given
    #[arg(long, value_parser = given::temperature, value_delimiter = ',', allow_hyphen_values = true, value_name = "TEMPERATURES")]
    at: Vec<(Temperature, Scale)>,
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
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
    /// For a browser: one page
    Html,
    /// For a printer, on --paper
    Pdf,
    /// For programs: one object; its schema is in grammar/
    Json,
    /// As a picture: the charts on one axis, and the sessions on one clock
    Svg,
}

/// The temperatures in degrees Celsius at which times are compared without `--at`.
const USUAL: [i64; 4] = [18, 20, 22, 24];

pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    arguments.output.check_paper(matches!(form, Form::Pdf), arguments.paper)?;
    let (at, scale) = temperatures(&arguments.at);
    if [&arguments.old, &arguments.new].iter().all(|given| given.as_os_str() == "-") {
        return fail("standard input can be read only once", "name a file for OLD or NEW");
    }
    let read = |given| read(given, arguments.recipe.as_deref(), arguments.no_config);
    let (old, new) = match (read(&arguments.old), read(&arguments.new)) {
        (Ok(old), Ok(new)) => (old, new),
        (old, new) => {
            [old.err(), new.err()].iter().flatten().for_each(|failure| terminal.complain(failure));
            return Ok(Ended::Impossible);
        }
    };
    let (was, is) = chosen(&old, &new)?;
    let outcomes = compare_all(&was, &is, &at);
    let pictures = || outcomes.iter().map(|outcome| pictures(outcome, &at, scale)).collect::<Vec<_>>();
    let drawn = if matches!(form, Form::Html | Form::Pdf) { pictures() } else { Vec::new() };
    let document = emit::comparison(&outcomes, drawn, scale);
    let bytes = match form {
        Form::Svg => picture(&outcomes, pictures())?.into_bytes(),
        Form::Json => {
            let sources = (&old.reader.sources, &new.reader.sources);
            emit::comparison_json(&outcomes, &at, sources).into_bytes()
        }
        Form::Text => {
            let colour = arguments.output.colour(terminal);
            document.text(emit::Look { colour, ..emit::Look::default() }).into_bytes()
        }
        Form::Html => document.html().into_bytes(),
        Form::Pdf => document.pdf(paper(arguments.paper, arguments.no_config)?),
    };
    arguments.output.send(bytes, &[&old.reader, &new.reader])?;
    Ok(Ended::with(outcomes.iter().any(|outcome| outcome.count() > 0)))
}

/// The pictures that compare the old and the new recipe; empty if only OLD or only NEW has the recipe.
fn pictures(outcome: &Outcome<'_>, at: &[Temperature], scale: Scale) -> Vec<Figure> {
    let Some((old, new)) = outcome.old.zip(outcome.new) else { return Vec::new() };
    let mut sessions = sessions(old, new, at);
    sessions.iter_mut().flatten().for_each(|session| session.conditions.scale = scale);
    emit::pair([old, new], sessions.as_ref().map(|[old, new]| [old, new]), scale)
}

/// The picture of the only pair of recipes. Fails if there are several pairs.
fn picture(outcomes: &[Outcome<'_>], mut pictures: Vec<Vec<Figure>>) -> Result<String, Failure> {
    let only = pictures.pop().filter(|_| outcomes.len() == 1);
    let Some(figures) = only else {
        return fail(
            "a picture is for two recipes",
            "name the recipe: --recipe NAME, or write -o changes.html",
        );
    };
    emit::pair_picture(figures).ok_or_else(|| {
        Failure::new(
            "these recipes have no chart, and no session at a common temperature",
            "write another form: -o changes.html; or another temperature: --at 38C",
        )
    })
}

/// The file of the argument OLD or NEW, read and checked.
struct Side {
    reader: Reader,
    /// The recipe's name in the argument, else the value of `--recipe`, if any.
    name: Option<String>,
    recipes: Vec<Arc<Recipe>>,
}

/// The revision, the path and the recipe's name in an argument `FILE.wet`, `FILE.wet:NAME`, `REV:FILE.wet`,
/// `REV:FILE.wet:NAME`, `NAME` or `-`. An argument that is as a whole the path of an existing file is not split.
fn parse(given: &Path) -> Result<(Option<&str>, PathBuf, Option<&str>), Failure> {
    let text = given.to_str().filter(|text| *text != "-" && !given.exists());
    let Some(text) = text else { return Ok((None, given.to_owned(), None)) };
    let (path, name) = match text.rsplit_once(':') {
        Some((path, name)) if path.ends_with(".wet") && !name.ends_with(".wet") => (path, Some(name)),
        Some(_) | None => (text, None),
    };
    Ok(match path.split_once(':').filter(|_| !Path::new(path).exists()) {
        Some((revision, path)) => (Some(revision), PathBuf::from(path), name),
        None if name.is_none() && !path.ends_with(".wet") && !path.contains('/') => {
            let sought = Sought::below(Declared::Recipe, path).called(format!("FILE.wet:{path}"));
            (None, Index::of_name(Declared::Recipe, path).find(&sought)?, Some(path))
        }
        None => (None, PathBuf::from(path), name),
    })
}

/// Reads and checks OLD or NEW. The severities of rules are from the config file in the root of OLD or NEW; for a file
/// at a git revision, from the config file in the root of the current folder.
fn read(given: &Path, recipe: Option<&str>, no_config: bool) -> Result<Side, Failure> {
    let mut reader = Reader::default();
    let (revision, path, name) = parse(given)?;
    let (file, (shelf, findings)) = match revision {
        None => {
            let file = reader.read(&path)?;
            (file, reader.check(&[file], &levels(&[path], no_config)?))
        }
        Some(revision) => {
            let revision = Revision::of(revision)?;
            let file = revision.read_named(&mut reader.sources, &path.to_string_lossy())?;
            (file, check_all(&mut reader.sources, &[file], &revision, &levels(&[], no_config)?))
        }
    };
    if has_errors(&findings) {
        return Err(reader.refused(findings));
    }
    let recipes = shelf.recipes.into_iter().filter(|recipe| recipe.file == file).collect();
    Ok(Side { reader, name: name.or(recipe).map(str::to_owned), recipes })
}

type Recipes = Vec<Arc<Recipe>>;

/// The recipes of OLD and NEW to compare. If only one argument names a recipe, the other file's recipe of that name is
/// taken, else the other file's only recipe.
fn chosen(old: &Side, new: &Side) -> Result<(Recipes, Recipes), Failure> {
    if old.recipes.is_empty() && new.recipes.is_empty() {
        return fail("neither OLD nor NEW has a recipe", "name files with recipes");
    }
    // If both arguments name the same recipe and only one file has it, that is no error: the recipe was added or
    // removed.
    let is_same = old.name.is_some() && old.name == new.name;
    let named = |side: &Side, other: &Side, place: &str| {
        let Some(name) = side.name.as_ref().or(other.name.as_ref()) else { return Ok(side.recipes.clone()) };
        let has_name = |recipe: &&Arc<Recipe>| recipe.name == *name;
        let found: Recipes = side.recipes.iter().filter(has_name).cloned().collect();
        match side.recipes.as_slice() {
            [one] if found.is_empty() && side.name.is_none() => Ok(vec![Arc::clone(one)]),
            all if found.is_empty() && !(is_same && other.recipes.iter().any(|one| has_name(&one))) => {
                let sought = Sought::within(Declared::Recipe, name, format!("in {place}"));
                Err(sought.absent(all.iter().map(|recipe| recipe.name.as_str())))
            }
            _ => Ok(found),
        }
    };
    Ok((named(old, new, "OLD")?, named(new, old, "NEW")?))
}

/// The temperatures at which times are compared, without repetitions, and the scale of the first given temperature.
fn temperatures(given: &[(Temperature, Scale)]) -> (Vec<Temperature>, Scale) {
    match given.first() {
        Some((_, scale)) => (each_once(given.iter().map(|(at, _)| *at)), *scale),
        None => (USUAL.map(Temperature::celsius_whole).to_vec(), Scale::Celsius),
    }
}
