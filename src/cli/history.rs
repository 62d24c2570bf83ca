//! `history`: shows the commits that changed the work of a recipe.

use std::path::PathBuf;
use std::sync::Arc;

use super::disk::has_errors;
use super::find::{self, Index};
use super::levels::levels;
use super::output::{Output, TextOrJson};
use super::past::{Commit, Past, Tree};
use super::{Ended, Failure, Reader, Terminal, fail, root};
use crate::check::{Levels, check_all, declared_names};
use crate::editor::Desk as _;
use crate::emit::{self, Changed, Look, Once};
use crate::model::{Fingerprint, Recipe};
use crate::source::{Set, Sources, with_slashes};
use crate::vocabulary::Declared;

/// Show the commits of git that changed what a recipe does, the newest first
///
/// A commit that changed only its wording or layout is not shown. One that changed a film or a solution of the recipe
/// is shown. A merge counts as one change.
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside history estuary-400-mq\n  wetside history films.wet my-first\n  wetside history estuary-400-mq --as json"
)]
pub(super) struct Arguments {
    /// A recipe's name, or a file
    recipe: PathBuf,
    /// The recipe's name, if RECIPE is a file with several
    name: Option<String>,
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
    #[command(flatten)]
    output: Output,
}

pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    let mut reader = Reader::default();
    let given = &arguments.recipe;
    let index = Index::of_name(Declared::Recipe, &given.to_string_lossy());
    let name = arguments.name.clone();
    let (path, name) = find::file_and_name(given, name, Declared::Recipe, "history", &index)?;
    let file = reader.read(&path)?;
    let (shelf, findings) = reader.check(&[file], &levels(&[path], arguments.no_config)?);
    if has_errors(&findings) {
        return Err(reader.refused(findings));
    }
    let own = shelf.recipes.iter().filter(|recipe| recipe.file == file);
    let own: Vec<_> = own.map(|recipe| (recipe.name.as_str(), file, recipe)).collect();
    let recipe = find::one_of(Declared::Recipe, name.as_deref(), reader.name(file), &own, &reader.sources)?;
    let inside = reader.disk.path(reader.name(file));
    let inside = inside.as_deref().and_then(|path| path.strip_prefix(&*root::ROOT).ok());
    let (Some(inside), Some(past)) = (inside, Past::of_root()) else {
        return fail(
            "this recipe is in no repository of git that the current folder is in",
            "go to the folder of the recipes; they need a repository to have a history",
        );
    };
    let traced = traced(&past, recipe, with_slashes(inside))?;
    let changes: Vec<Changed<'_>> = traced.iter().map(Traced::changed).collect();
    let text = match form {
        TextOrJson::Json => emit::history_json(&recipe.name, &changes),
        TextOrJson::Text if changes.is_empty() => "no commit has this recipe yet\n".to_owned(),
        TextOrJson::Text => {
            let colour = arguments.output.colour(terminal);
            emit::history(&recipe.name, &changes).text(Look { colour, ..Look::default() })
        }
    };
    arguments.output.send(text, &[&reader])
}

/// The recipe as it was after one commit.
#[derive(Clone)]
struct Then {
    mark: Mark,
    file: String,
    /// The recipe's file and all files that this file uses, directly or through other files.
    files: Set<String>,
}

#[derive(Clone)]
enum Mark {
    Absent,
    Unsound,
    Sound(Arc<Recipe>, Fingerprint),
}

impl Mark {
    fn is_same(&self, other: &Mark) -> bool {
        match (self, other) {
            (Mark::Absent, Mark::Absent) | (Mark::Unsound, Mark::Unsound) => true,
            (Mark::Sound(_, one), Mark::Sound(_, other)) => one == other,
            _ => false,
        }
    }

    fn once(&self) -> Once<'_> {
        match self {
            Mark::Absent => Once::Absent,
            Mark::Unsound => Once::Unsound,
            Mark::Sound(recipe, _) => Once::Sound(recipe),
        }
    }
}

/// A change of the recipe's work from `was` to `is`.
struct Traced {
    /// The commit that made the change; `None` if the change is not committed yet.
    commit: Option<Commit>,
    was: Mark,
    is: Mark,
}

impl Traced {
    fn changed(&self) -> Changed<'_> {
        let commit = self.commit.as_ref();
        let commit = commit.map(|one| (one.hash.as_str(), one.date.as_str(), one.subject.as_str()));
        Changed { commit, was: self.was.once(), is: self.is.once() }
    }
}

fn traced(past: &Past, recipe: &Arc<Recipe>, file: String) -> Result<Vec<Traced>, Failure> {
    let commits = past.commits()?;
    let Some(newest) = commits.first() else { return Ok(Vec::new()) };
    let name = &recipe.name;
    let mut tree = past.at(&newest.hash)?;
    let mut newer = then(&tree, &file, name);
    let mut all = Vec::new();
    let now = Mark::Sound(Arc::clone(recipe), Fingerprint::of(recipe));
    if !now.is_same(&newer.mark) {
        all.push(Traced { commit: None, was: newer.mark.clone(), is: now });
    }
    for commit in commits {
        if matches!(newer.mark, Mark::Absent) {
            break;
        }
        tree.undo(&commit);
        // A commit that changes none of the recipe's files is skipped. If the recipe has errors, its files are not
        // known, so no commit is skipped.
        let touched = || commit.changes.iter().map(|change| &change.path);
        let is_of_it = |touched: &String| newer.files.contains(touched);
        if matches!(newer.mark, Mark::Sound(..)) && !touched().any(is_of_it) {
            continue;
        }
        let mut older = then(&tree, &newer.file, name);
        // The commit may have moved the recipe from another file.
        for moved in touched().filter(|touched| **touched != newer.file) {
            if !matches!(older.mark, Mark::Absent) {
                break;
            }
            older = then(&tree, moved, name);
        }
        if !older.mark.is_same(&newer.mark) {
            all.push(Traced { commit: Some(commit), was: older.mark.clone(), is: newer.mark });
        }
        newer = older;
    }
    Ok(all)
}

/// Checks a file in the tree of a commit, and returns the recipe `name` as it was then.
fn then(tree: &Tree<'_>, file: &str, name: &str) -> Then {
    let absent = || Then { mark: Mark::Absent, file: file.to_owned(), files: Set::new() };
    let Some(text) = tree.text(file) else { return absent() };
    let mut sources = Sources::default();
    let id = sources.add(file, &*text);
    let (shelf, _) = check_all(&mut sources, &[id], tree, &Levels::default());
    let mark = match shelf.recipe(id, name) {
        Some(recipe) => Mark::Sound(Arc::clone(recipe), Fingerprint::of(recipe)),
        None if declared_names(&sources, id).contains(&(Declared::Recipe, name.to_owned())) => Mark::Unsound,
        None => Mark::Absent,
    };
    let files = sources.iter().map(|(_, file)| file.name.clone()).collect();
    Then { mark, file: file.to_owned(), files }
}
