//! The darkroom of a root folder (its files that declare baths, tests, sessions or backlogs), the bottles that a recipe
//! pours from, and the command `baths`. A root inside another root has its own darkroom.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::evening::Evening;
use super::find::{self, Index, Sought};
use super::levels::levels;
use super::output::Output;
use super::personal::{paper, personal};
use super::unread::DarkroomFiles;
use super::{Ended, Failure, Reader, each_once, fail, given, label, root};
use crate::compile::{Bottles, Label};
use crate::editor::Desk;
use crate::emit::{self, Look, Paper};
use crate::journal::{Standing, Verdict};
use crate::model::{Bath, Darkroom, Date, KeptBath, Recipe, Shelf, Use};
use crate::source::{FileId, Level, Sorted as _, Span};
use crate::vocabulary::Declared;

/// The maximum number of files of a darkroom that are not session files.
const FILES_MAX: usize = 1_000;
/// The maximum total size, in bytes, of files that are not session files.
const BYTES_MAX: u64 = 3 << 20;
/// The maximum number of session files. A session a day for 80 years makes fewer.
const SESSIONS_MAX: usize = 30_000;
/// The maximum total size of session files, in bytes.
const SESSION_BYTES_MAX: u64 = 16 << 20;
/// A file with one of these declarations belongs to a darkroom.
pub(super) const OWN: [Declared; 4] = [Declared::Bath, Declared::Test, Declared::Session, Declared::Backlog];

/// An index of the files below a root that have a declaration of `OWN`.
pub(super) fn index(root: &Path) -> Index {
    Index::below(root, &OWN)
}

/// Reads the files of a darkroom in the order of their paths, except the file `but`.
pub(super) fn files(index: &Index, but: Option<&Path>, reader: &mut Reader) -> Result<Vec<FileId>, Failure> {
    let but = but.map(root::real);
    let paths = paths(index)?.into_iter().filter(|path| but.is_none() || Some(root::real(path)) != but);
    paths.map(|path| reader.read(&path)).collect()
}

/// Reads the files of the darkroom in `root` for a card, and lists those that it could not read. `here` is the index of
/// the current folder, which is used if that folder is `root`.
pub(super) fn files_for_card(
    root: &Path,
    here: &Index,
    reader: &mut Reader,
) -> Result<DarkroomFiles, Failure> {
    let other;
    let index = if root == *root::HERE {
        here
    } else {
        other = index(root);
        &other
    };
    let mut files = DarkroomFiles::default();
    for path in paths(index)? {
        match reader.read(&path) {
            Ok(file) => files.read.push(file),
            Err(failure) => files.unreadable.push(failure.message()),
        }
    }
    Ok(files)
}

/// The paths of the files of a darkroom, in order. Fails if the files are too many or too large.
fn paths(index: &Index) -> Result<Vec<PathBuf>, Failure> {
    let paths = index.declaring(&OWN, None);
    let bytes = |paths: &[&PathBuf]| -> u64 {
        paths.iter().map(|path| std::fs::metadata(path).map_or(0, |file| file.len())).sum()
    };
    let (sessions, others): (Vec<_>, Vec<_>) = paths.iter().partition(|path| find::is_session_file(path));
    for (files, most, bytes_max, of) in [
        (others, FILES_MAX, BYTES_MAX, "files"),
        (sessions, SESSIONS_MAX, SESSION_BYTES_MAX, "files of sessions"),
    ] {
        if files.len() > most || bytes(&files) > bytes_max {
            return fail(
                format!("this darkroom has over {most} {of}, or over {} MiB of them", bytes_max >> 20),
                "move the sessions of past years, and their baths, out of this folder",
            );
        }
    }
    Ok(paths)
}

/// Fails if a file is in a root that is nested in the current folder's root, since the nested root has its own
/// darkroom.
pub(super) fn own(path: &Path, command: &str) -> Result<(), Failure> {
    let real = root::real(path);
    let folder = root::folder_of(&real);
    let other = root::below(&root::ROOT, folder);
    if !folder.starts_with(&*root::ROOT) || other == *root::ROOT {
        return Ok(());
    }
    let other = root::shown(other, other);
    let other = other.display();
    fail(
        format!("{} belongs to {other}, which is a root of its own", path.display()),
        format!("to use its bottles, journals and backlogs, run wetside {command} in {other}"),
    )
}

/// The root whose darkroom a recipe uses: the root of the current folder if the recipe's file is below this root, else
/// the root of the file.
pub(super) fn root_for(reader: &Reader, recipe: FileId) -> PathBuf {
    let path = reader.disk.path(reader.name(recipe));
    let path = path.filter(|path| path.is_absolute() && !path.starts_with(&*root::ROOT));
    let root = path.and_then(|path| path.parent().map(root::above));
    root.unwrap_or_else(|| root::ROOT.clone())
}

/// The recipe's baths that go back to their bottles after use.
pub(super) fn kept(recipe: &Recipe) -> impl Iterator<Item = &Bath> {
    let baths = recipe.steps.iter().filter_map(|step| step.bath.as_ref());
    baths.filter(|bath| bath.reuse.is_some_and(Use::is_kept))
}

/// The bottles that the recipe pours from: those that `--bath` names, and for each other reused bath the only bottle
/// that fits. `None` if the recipe pours from no bottle. Fails if more bottles fit a bath than the recipe has such
/// baths.
pub(super) fn bottles(evening: &Evening, shelf: &Shelf, recipe: &Recipe) -> Result<Option<Bottles>, Failure> {
    let darkroom = &shelf.darkroom;
    let (mut from, mut named): (Vec<&Arc<KeptBath>>, Vec<(String, Span)>) = (Vec::new(), Vec::new());
    for asked in &evening.bath {
        let (name, wanted) =
            asked.split_once('=').map_or((None, asked.as_str()), |(own, of)| (Some(own), of));
        let bottle = bottle(shelf, recipe, wanted)?;
        if let Some(name) = name {
            has_bath(recipe, name, bottle)?;
            if let Some((own, _)) = named.iter().find(|(own, span)| own == name || *span == bottle.span) {
                let message = match own == name {
                    true => format!("--bath gives two bottles for bath '{name}'"),
                    false => format!("--bath gives '{}' for two baths, '{own}' and '{name}'", bottle.name),
                };
                return fail(message, "give each bath a bottle of its own: --bath one=fix-a,two=fix-b");
            }
            named.push((name.to_owned(), bottle.span));
        }
        from.push(bottle);
    }
    if from.is_empty() && !kept(recipe).any(|bath| darkroom.bottles().any(|bottle| bottle.holds(bath))) {
        return Ok(None);
    }
    let on = given::day("--date", evening.date)?;
    for bath in kept(recipe) {
        if from.iter().any(|bottle| bottle.holds(bath)) {
            continue;
        }
        let fitting = darkroom.bottles().filter(|bottle| bottle.holds(bath));
        let fitting = fitting.map(|bottle| (bottle, Standing::of(darkroom, bottle, on)));
        let (good, bad): (Vec<_>, Vec<_>) = fitting
            .filter(|(_, standing)| standing.is_made() && !standing.is_discarded())
            .partition(|(_, standing)| matches!(standing.verdict(), Verdict::Good | Verdict::NearlySpent));
        match if good.is_empty() { bad } else { good }.as_slice() {
            some if some.len() <= baths_like(recipe, bath).len() => {
                from.extend(some.iter().map(|(bottle, _)| *bottle));
            }
            several => {
                let names: Vec<&str> = several.iter().map(|(bottle, _)| bottle.name.as_str()).collect();
                let solution = bath.solution.as_ref().map_or("", |solution| solution.name.as_str());
                let baths = baths_like(recipe, bath).into_iter().zip(&names).map(|(own, bottle)| match own {
                    Some(own) => format!("{own}={bottle}"),
                    None => (*bottle).to_owned(),
                });
                let baths = baths.collect::<Vec<_>>().join(",");
                return fail(
                    format!("several bottles of {solution} {} fit: {}", bath.dilution, names.join(", ")),
                    format!("name the one to pour from: --bath {baths}"),
                );
            }
        }
    }
    let from: Vec<_> = from.into_iter().map(|bottle| bottle.span).collect();
    let is_any = !from.is_empty();
    Ok(is_any.then_some(Bottles { on, from, named }))
}

/// The names of the recipe's baths with the same contents as `bath`, each once. `None` stands for a bath without a
/// name.
fn baths_like<'a>(recipe: &'a Recipe, bath: &Bath) -> Vec<Option<&'a str>> {
    each_once(kept(recipe).filter(|other| other.has_contents_of(bath)).map(|other| other.name.as_deref()))
}

/// Checks `--bath NAME=BOTTLE`. Fails if no bath of the recipe has this name and the contents of the bottle.
fn has_bath(recipe: &Recipe, name: &str, bottle: &KeptBath) -> Result<(), Failure> {
    if kept(recipe).any(|bath| bottle.holds(bath) && bath.name.as_deref() == Some(name)) {
        return Ok(());
    }
    let names = each_once(kept(recipe).filter_map(|bath| bath.name.as_deref()));
    let names = if names.is_empty() { "none".to_owned() } else { names.join(", ") };
    fail(
        format!("'{}' has no bath '{name}' that '{}' could be", recipe.name, bottle.name),
        format!("the baths with a name are: {names}"),
    )
}

/// The bottle called `name`. Fails if there is no such bottle, or if no bath of the recipe has its contents.
fn bottle<'a>(shelf: &'a Shelf, recipe: &Recipe, name: &str) -> Result<&'a Arc<KeptBath>, Failure> {
    let all = || {
        let baths = shelf.darkroom.baths.iter();
        baths.filter(|(_, said, bottle)| said == name || bottle.name == name).map(|(_, _, bottle)| bottle)
    };
    if let Some(bottle) = all().find(|bottle| kept(recipe).any(|bath| bottle.holds(bath))) {
        return Ok(bottle);
    }
    let Some(bottle) = all().next() else {
        let sought = Sought { place: "in this darkroom".to_owned(), ..Sought::below(Declared::Bath, name) };
        return Err(sought.absent(shelf.darkroom.bottles().map(|bottle| bottle.name.as_str())));
    };
    let kept: Vec<String> = kept(recipe)
        .filter_map(|bath| Some(format!("{} {}", bath.solution.as_ref()?.name, bath.dilution)))
        .collect();
    let kept = if kept.is_empty() { "none".to_owned() } else { kept.join(", ") };
    let (solution, dilution) = (&bottle.solution.name, &bottle.dilution);
    fail(
        format!("'{name}' holds {solution} {dilution}, which '{}' does not pour", recipe.name),
        format!("its kept baths are: {kept}"),
    )
}

/// Show the state of each bottle: rolls treated, what is left, age, clearing time
///
/// The rolls treated are counted from the sessions that name the bottle.
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside baths\n  wetside baths --on 2026-11-25\n  wetside baths --soon\n  wetside baths --soon=14\n  wetside baths --all --as json\n  wetside baths --as label -o labels.pdf\n  wetside baths fix-a --as label"
)]
pub(super) struct Arguments {
    /// The bottles to show; all if none is named
    bottles: Vec<String>,
    /// The day to show, as in 2026-11-25; today if not given
    #[arg(long, value_parser = given::value::<Date, _>, allow_hyphen_values = true, value_name = "DATE")]
    on: Option<Date>,
    /// Only those that expire within this many days or are nearly spent, the soonest first; 30 days if not given
    #[arg(long, num_args = 0..=1, require_equals = true, default_missing_value = "30", value_parser = clap::value_parser!(u16).range(..=366), value_name = "DAYS")]
    soon: Option<u16>,
    /// Include the bottles that were poured away
    #[arg(long)]
    all: bool,
    #[command(flatten)]
    output: Output<Form>,
    /// The paper of a PDF; your usual one if not given, else a4
    #[arg(long)]
    paper: Option<Paper>,
    /// Ignore wetside.toml and your personal settings
    #[arg(long)]
    no_config: bool,
}

#[derive(Clone, Copy, clap::ValueEnum)]
enum Form {
    /// For people: a table
    Text,
    /// For a browser: one page
    Html,
    /// For a printer, on --paper
    Pdf,
    /// For programs: one object, as grammar/baths.schema.json says
    Json,
    /// As a picture: how much film each bottle has treated after each session
    Svg,
    /// The label of each bottle: as text, or with -o NAME.pdf for a printer, several on a sheet of --paper
    Label,
}

const EXAMPLE: &str =
    "bath fix-a {\n    in        rapid-fix 1+4\n    volume    2.5 l\n    mixed     2026-11-02\n}\n";

pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    if !matches!(form, Form::Label) {
        arguments.output.check_paper(matches!(form, Form::Pdf), arguments.paper)?;
    }
    let mut reader = Reader::default();
    let root = &*root::ROOT;
    let files = files(&index(root), None, &mut reader)?;
    let levels = levels(&[], arguments.no_config)?;
    let (shelf, mut findings) = reader.check_darkroom(root, &files, &levels);
    findings.retain(|finding| finding.level == Level::Error);
    reader.refuse_any(findings)?;
    let darkroom = &shelf.darkroom;
    if darkroom.bottles().next().is_none() {
        return Err(Failure::Call {
            message: "no bath is declared below this folder".to_owned(),
            help: "declare a bath in a .wet file that uses the file of its solution:".to_owned(),
            example: EXAMPLE,
        });
    }
    let on = given::day("--on", arguments.on)?;
    let shown = Standing::all(darkroom, on).into_iter().filter(Standing::is_made);
    let shown: Vec<_> = shown.filter(|standing| arguments.all || !standing.is_discarded()).collect();
    let shown =
        if arguments.bottles.is_empty() { shown } else { named(&arguments.bottles, darkroom, &shown)? };
    let soon = arguments.soon.map(i64::from);
    let mut shown = shown;
    if let Some(days) = soon {
        shown.retain(|standing| standing.needs_a_look(days));
        shown.order_by_key(|standing| standing.keeps_until.unwrap_or(Date::MAX));
    }
    let document = emit::baths(darkroom, &shown, on, soon);
    let text = match form {
        Form::Text => document.text(Look::default()),
        Form::Html => document.html(),
        Form::Pdf => {
            let paper = paper(arguments.paper, arguments.no_config)?;
            return arguments.output.send(document.pdf(paper), &[&reader]);
        }
        Form::Json => emit::baths_json(darkroom, &shown, on, soon),
        Form::Svg => emit::uses_picture(emit::bath_uses(darkroom, &shown), on).ok_or_else(|| {
            Failure::new(format!("none of these baths was used by {on}"), "write another form: -o baths.txt")
        })?,
        Form::Label if shown.is_empty() => {
            return fail(
                format!("no bath is in use on {on}, so there is no label"),
                "add --all, or another day with --on",
            );
        }
        Form::Label => {
            let personal = personal(arguments.no_config)?;
            let labels: Vec<Label> = shown.iter().map(|one| Label::of_bath(one, &personal.card)).collect();
            let paper = arguments.paper.or(personal.paper.filter(|_| arguments.output.is_pdf()));
            return label::send(&labels, paper, Look::default(), (&arguments.output, &[&reader]));
        }
    };
    arguments.output.send(text, &[&reader])
}

/// The state of each bottle with one of these names. Fails for a name that is not among the `shown` bottles.
fn named<'a>(
    names: &[String],
    darkroom: &Darkroom,
    shown: &[Standing<'a>],
) -> Result<Vec<Standing<'a>>, Failure> {
    let find = |name: &String| {
        if let Some(standing) = shown.iter().find(|standing| standing.bath.name == *name) {
            return Ok(standing.clone());
        }
        if darkroom.bottles().any(|bottle| bottle.name == *name) {
            return fail(
                format!("'{name}' was poured away, or is not mixed yet on that day"),
                "add --all, or another day with --on",
            );
        }
        let sought = Sought { place: "in this darkroom".to_owned(), ..Sought::below(Declared::Bath, name) };
        Err(sought.absent(darkroom.bottles().map(|bottle| bottle.name.as_str())))
    };
    names.iter().map(find).collect()
}
