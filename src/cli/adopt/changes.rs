//! Shows what an update changes: differences between recipes and solutions, exports, rules that the author allows a
//! recipe to break, and which of the user's own recipes and sessions are affected.

use super::{Files, Found, collection_of, solutions};
use crate::check::{Checked, Levels, check_all, check_file};
use crate::cli::find::{OtherRoots, recipes_below};
use crate::cli::root::{self, printable};
use crate::compare::compare_all;
use crate::compile::Scale;
use crate::disk::text_of;
use crate::emit;
use crate::model::{Fingerprint, Recipe, Temperature};
use crate::source::{COLLECTION, COLLECTIONS, Map, MemoryFiles, Set, Sources, first_few, with_slashes};

/// The temperatures in degrees Celsius at which the recipes are compared.
const USUAL: [i64; 4] = [18, 20, 22, 24];

/// The report of what an update changes. `before` are the old files, `found` is the new version.
pub(super) fn shown(name: &str, before: &Files, found: &Found) -> String {
    let files: MemoryFiles = before.clone().into_iter().collect();
    let old = check_file(&files, COLLECTION).ok();
    let mut text = exports(old.as_ref(), &found.checked);
    let recipes = |checked: &Checked| checked.shelf.recipes.clone();
    let (was, is) = (old.as_ref().map(recipes).unwrap_or_default(), recipes(&found.checked));
    let at = USUAL.map(Temperature::celsius_whole);
    let outcomes = compare_all(&was, &is, &at);
    text += &emit::comparison(&outcomes, Vec::new(), Scale::Celsius).text(emit::Look::default());
    text += &old.as_ref().map(|old| solutions::shown(old, &found.checked)).unwrap_or_default();
    text += &allowed(before, &found.files);
    text + &affected(name, before, &found.files)
}

fn exports(old: Option<&Checked>, new: &Checked) -> String {
    let names = |checked: Option<&Checked>| -> Set<String> {
        let exports = checked.and_then(collection_of).map(|collection| collection.exports.iter());
        exports.into_iter().flatten().map(|export| format!("{} {}", export.kind, export.name)).collect()
    };
    let (was, is) = (names(old), names(Some(new)));
    let gone = was.difference(&is).map(|name| format!("no longer exported: {name}\n"));
    gone.chain(is.difference(&was).map(|name| format!("newly exported: {name}\n"))).collect()
}

/// A line for each `allow` line that an update adds or removes. An `allow` line silences a rule, so the user should see
/// the change.
fn allowed(before: &Files, after: &Files) -> String {
    let lines = |files: &Files| -> Set<String> {
        let lines = files.iter().flat_map(|(path, text)| text.lines().map(move |line| (path, line.trim())));
        lines
            .filter(|(_, line)| line.starts_with("allow "))
            .map(|(path, line)| format!("{path}: {line}"))
            .collect()
    };
    let (was, is) = (lines(before), lines(after));
    let new = is.difference(&was).map(|line| format!("the author now allows: {}\n", printable(line)));
    let gone = was.difference(&is).map(|line| format!("the author no longer allows: {}\n", printable(line)));
    new.chain(gone).collect()
}

/// A line for each of the user's own recipes whose fingerprint the update changes, and below it the sessions that
/// record the old fingerprint.
fn affected(name: &str, before: &Files, after: &Files) -> String {
    let own = own_files();
    let (was, is) = (marks(&own, name, before), marks(&own, name, after));
    let mut text = String::new();
    for ((file, recipe), old) in &was.recipes {
        let now = is.recipes.get(&(file.clone(), recipe.clone()));
        let how = match now {
            Some(now) if now == old => continue,
            Some(now) => format!("changes from {old} to {now}"),
            None => "has errors with the new files".to_owned(),
        };
        text += &format!("your recipe {} in {} {how}\n", printable(recipe), printable(file));
        let done: Vec<&str> = was
            .sessions
            .iter()
            .filter(|(_, mark)| *mark == old.full())
            .map(|(session, _)| session.as_str())
            .collect();
        if !done.is_empty() {
            text += &format!("  sessions recorded with the old recipe: {}\n", first_few(done, ", "));
        }
    }
    text
}

/// The fingerprints of the user's own recipes and sessions. The keys of `recipes` are a file and a recipe's name.
#[derive(Default)]
struct Marks {
    recipes: Map<(String, String), Fingerprint>,
    /// Pairs of a session's name and the fingerprint that the session records.
    sessions: Vec<(String, String)>,
}

fn marks(own: &Files, name: &str, collection: &Files) -> Marks {
    let inside = |path: &String| format!("{COLLECTIONS}/{name}/{path}");
    let mut all = own.clone();
    all.retain(|path, _| !path.starts_with(&inside(&String::new())));
    all.extend(collection.iter().map(|(path, text)| (inside(path), text.clone())));
    let roots: Vec<String> = all.keys().filter(|path| !is_of_a_collection(path)).cloned().collect();
    let mut sources = Sources::default();
    let texts = roots.iter().filter_map(|path| Some((path, all.get(path)?)));
    let roots: Vec<_> = texts.map(|(path, text)| sources.add(path.as_str(), text.as_str())).collect();
    let files: MemoryFiles = all.into_iter().collect();
    let (shelf, _) = check_all(&mut sources, &roots, &files, &Levels::default());
    let own = |recipe: &&std::sync::Arc<Recipe>| roots.contains(&recipe.file);
    let mark = |recipe: &std::sync::Arc<Recipe>| {
        ((sources.name(recipe.file).to_owned(), recipe.name.clone()), Fingerprint::of(recipe))
    };
    let sessions =
        shelf.darkroom.sessions.iter().map(|session| (session.name.clone(), session.fingerprint.clone()));
    Marks { recipes: shelf.recipes.iter().filter(own).map(mark).collect(), sessions: sessions.collect() }
}

fn is_of_a_collection(path: &str) -> bool {
    path.starts_with(&format!("{COLLECTIONS}/"))
}

/// The texts of the recipe files of the root and of its collections. The keys are paths relative to the root.
fn own_files() -> Files {
    let others = OtherRoots::default();
    let own = recipes_below(&root::ROOT, &others);
    let collections = root::ROOT.join(COLLECTIONS);
    let folders = std::fs::read_dir(collections).into_iter().flatten().filter_map(Result::ok);
    let inside = folders.flat_map(|folder| recipes_below(&folder.path(), &OtherRoots::default()));
    let all = own.chain(inside).filter_map(|path| {
        let (text, _) = text_of(&path).ok()?;
        Some((with_slashes(path.strip_prefix(&*root::ROOT).ok()?), text))
    });
    all.collect()
}

/// The paths of the user's own files that have a `use` line for the collection `name`.
pub(super) fn users(name: &str) -> Vec<String> {
    let uses = |text: &str| {
        text.lines().any(|line| {
            let mut words = line.split_whitespace();
            words.next() == Some("use") && words.next() == Some(name)
        })
    };
    let own = own_files().into_iter().filter(|(path, text)| !is_of_a_collection(path) && uses(text));
    own.map(|(path, _)| path).collect()
}
