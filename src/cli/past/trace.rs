//! Looks for a fingerprint in the commits of git, the newest first.

use std::path::Path;

use super::marks::{Mark, Marks};
use super::{Commit, Past, Tree};
use crate::check::recipes_as_stated;
use crate::cli::batches::spread;
use crate::cli::{Failure, find};
use crate::emit::{About, Listed};
use crate::model::{Fingerprint, FingerprintSought};
use crate::source::{COLLECTION, COLLECTIONS, FileId, Files, Map, Set, Sources, root_in};

const BATCH: usize = 128;

/// The recipes with the sought fingerprint, in the newest commit that has any; empty if no commit has any.
pub(in crate::cli) fn trace(past: &Past, sought: &FingerprintSought) -> Result<Vec<Listed>, Failure> {
    let commits = past.commits()?;
    let Some(newest) = commits.first() else { return Ok(Vec::new()) };
    let mut walk = Walk { tree: past.at(&newest.hash)?, uses: Map::new() };
    let marks = Marks::of(past);
    // The commit after `commit`; `None` if `commit` is the newest.
    let mut later: Option<&Commit> = None;
    for commit in &commits {
        if let Some(later) = later {
            walk.undo(later);
        }
        let step = (commit.hash.as_str(), later.map_or("", |later| later.hash.as_str()));
        let is_sought = |recipe: &Was| sought.finds(recipe.fingerprint);
        let mut found = match marks.as_ref().and_then(|marks| marks.read(step)) {
            Some(known) => {
                let likely = known.iter().filter(|mark| sought.may_find(&mark.beginning));
                let files: Set<String> = likely.map(|mark| mark.file.clone()).collect();
                if files.is_empty() {
                    later = Some(commit);
                    continue;
                }
                walk.recipes_of(&files.iter().collect::<Vec<_>>())
            }
            None => Vec::new(),
        };
        found.retain(is_sought);
        if found.is_empty() {
            found = walk.recipes(later);
            if let Some(marks) = &marks {
                marks.write(step, found.iter().map(Was::mark));
            }
            found.retain(is_sought);
        }
        if !found.is_empty() {
            return Ok(found.into_iter().map(|recipe| recipe.listed(commit)).collect());
        }
        later = Some(commit);
    }
    Ok(Vec::new())
}

struct Was {
    name: String,
    file: String,
    fingerprint: Fingerprint,
}

impl Was {
    fn mark(&self) -> Mark {
        Mark { beginning: self.fingerprint.beginning(), file: self.file.clone() }
    }

    fn listed(self, commit: &Commit) -> Listed {
        let (hash, date, fingerprint) = (commit.hash.clone(), commit.date.clone(), self.fingerprint);
        let about = About::Past { commit: hash, date, fingerprint };
        Listed { name: self.name, title: Some(commit.subject.clone()), file: self.file, about }
    }
}

/// Whether a file is in a collection inside another collection. Its recipes are not searched, since only the outer
/// collection uses them.
fn is_inner(file: &str) -> bool {
    root_in(Path::new(file)).iter().filter(|part| *part == COLLECTIONS).count() > 1
}

/// The state of a search that goes through the commits from the newest to the oldest.
struct Walk<'p> {
    tree: Tree<'p>,
    /// A cache: for each file of the tree that was read, the files that its `use` lines name.
    uses: Map<String, Vec<String>>,
}

impl Walk<'_> {
    fn undo(&mut self, commit: &Commit) {
        self.tree.undo(commit);
        for change in &commit.changes {
            self.uses.remove(&change.path);
        }
    }

    /// The recipes of the tree that the commit `later` changes; all recipes if `later` is `None`. The other recipes are
    /// the same in `later`, and the search has already looked at them there.
    fn recipes(&mut self, later: Option<&Commit>) -> Vec<Was> {
        let files: Vec<String> = match later {
            Some(later) => self.affected(later).into_iter().collect(),
            None => self.tree.files.keys().cloned().collect(),
        };
        let is_recipes = |file: &&String| {
            self.tree.files.contains_key(*file) && !find::is_session_file(Path::new(file)) && !is_inner(file)
        };
        let files: Vec<&String> = files.iter().filter(is_recipes).collect();
        let mut all = Vec::new();
        spread(files.chunks(BATCH), |batch| self.recipes_of(batch), |recipes| all.extend(recipes));
        all
    }

    fn recipes_of(&self, files: &[&String]) -> Vec<Was> {
        let mut sources = Sources::default();
        let texts = files.iter().filter_map(|name| Some((name.as_str(), self.tree.text(name)?)));
        let roots: Vec<FileId> = texts.map(|(name, text)| sources.add(name, &*text)).collect();
        // No rule is run: the recipe of an old card may break a newer rule.
        let all = recipes_as_stated(&mut sources, &roots, &self.tree);
        let own = all.iter().filter(|recipe| roots.contains(&recipe.file));
        let was = own.map(|recipe| Was {
            name: recipe.name.clone(),
            file: sources.name(recipe.file).to_owned(),
            fingerprint: Fingerprint::of(recipe),
        });
        was.collect()
    }

    /// The files that a commit changes, and the files that use a changed file, directly or through other files.
    fn affected(&mut self, commit: &Commit) -> Set<String> {
        let new: Vec<&String> =
            self.tree.files.keys().filter(|name| !self.uses.contains_key(*name)).collect();
        let new: Vec<_> = new.into_iter().map(|name| (name.clone(), self.used_by(name))).collect();
        self.uses.extend(new);
        let mut users: Map<&String, Vec<&String>> = Map::new();
        for (user, used) in &self.uses {
            used.iter().for_each(|used| users.value_of(used).push(user));
        }
        let mut all = Set::new();
        let mut open: Vec<&String> = commit.changes.iter().map(|change| &change.path).collect();
        while let Some(next) = open.pop() {
            if all.insert(next.clone()) {
                open.extend(users.get(next).into_iter().flatten());
            }
        }
        all
    }

    /// The files that are named in the `use` lines of a file.
    fn used_by(&self, name: &str) -> Vec<String> {
        let text = self.tree.text(name).unwrap_or_default();
        let lines = text.lines().filter_map(|line| line.trim_start_matches([' ', '\t']).strip_prefix("use"));
        let named = lines.filter_map(|line| {
            let what = line.trim_start_matches([' ', '\t']);
            match what.strip_prefix('"') {
                Some(path) => self.tree.resolve(name, path.split('"').next()?).ok(),
                None => {
                    let collection = what.split_whitespace().next()?;
                    let up = "../".repeat(self.tree.depth(name));
                    self.tree.resolve(name, &format!("{up}{COLLECTIONS}/{collection}/{COLLECTION}")).ok()
                }
            }
        });
        named.collect()
    }
}
