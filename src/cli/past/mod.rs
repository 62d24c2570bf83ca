//! The recipe files of past commits. Git runs no hook or other program of the repository. Only files in its commits are
//! read.

mod marks;
mod objects;
mod trace;

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

use self::objects::Objects;
pub(super) use self::trace::trace;
use super::revision::git;
use super::{Failure, root};
use crate::source::{Files, NotRead};

/// Begins each field of a commit (hash, day, subject) in the output of `git log`.
const MARK: char = '\u{1}';

/// A commit in the first-parent history of the current commit. Its changes are those since its first parent.
pub(super) struct Commit {
    pub(super) hash: String,
    /// The day of the commit, as in 2026-11-25.
    pub(super) date: String,
    pub(super) subject: String,
    /// The recipe files that the commit adds, changes or removes. Their paths are relative to the root.
    pub(super) changes: Vec<Change>,
}

pub(super) struct Change {
    pub(super) path: String,
    /// The git hash of the file's text before the commit; `None` if the file did not exist, or was no plain file.
    before: Option<String>,
}

/// The git history of a root folder.
pub(super) struct Past {
    /// The path of the root below the top of the repository; empty, or with `/` at its end.
    prefix: String,
    objects: Mutex<Objects>,
}

impl Past {
    /// The history of the current folder's root; `None` if the root is in no repository, or if git cannot be run.
    pub(super) fn of_root() -> Option<Past> {
        let prefix = git(&root::ROOT, &["rev-parse", "--show-prefix"]).ok()??;
        let prefix = String::from_utf8(prefix).ok()?.trim_end_matches('\n').to_owned();
        let objects = Mutex::new(Objects::open(&root::ROOT)?);
        Some(Past { prefix, objects })
    }

    /// The commits that change recipe files of the root, the newest first.
    pub(super) fn commits(&self) -> Result<Vec<Commit>, Failure> {
        let format = "--format=%x01%H%x01%cs%x01%s";
        let changes =
            ["--first-parent", "--diff-merges=first-parent", "--raw", "--no-abbrev", "--no-renames"];
        let plain = ["--no-relative", "--no-ext-diff", "--no-textconv", "--no-show-signature", "--no-color"];
        // Without this setting git lists no changes for the repository's first commit.
        let log = ["-c", "log.showRoot=true", "log", "-z", "--no-decorate", format];
        let Some(bytes) = git(&root::ROOT, &[&log[..], &changes, &plain].concat())? else {
            return Ok(Vec::new());
        };
        let text = String::from_utf8_lossy(&bytes);
        let (mut all, mut about): (Vec<Commit>, &str) = (Vec::new(), "");
        for piece in text.split('\0').map(|piece| piece.trim_start_matches('\n')) {
            // Each change is two pieces: the modes and hashes after a colon, then the path.
            match (piece.strip_prefix(MARK), all.last_mut()) {
                (Some(head), _) => all.extend(commit(head)),
                (None, _) if piece.starts_with(':') => about = piece,
                (None, Some(last)) => last.changes.extend(self.change(std::mem::take(&mut about), piece)),
                (None, None) => {}
            }
        }
        all.retain(|commit| !commit.changes.is_empty());
        Ok(all)
    }

    /// The change of the file `path`; `None` if it is not a recipe file of the root. `about` is text from git: the
    /// modes of the file before and after the commit, then the hashes.
    fn change(&self, about: &str, path: &str) -> Option<Change> {
        let mut words = about.trim_start_matches(':').split(' ');
        let (mode, _, hash) = (words.next()?, words.next()?, words.next()?);
        let before = is_plain(mode).then(|| hash.to_owned());
        Some(Change { path: self.own(path)?.to_owned(), before })
    }

    /// The path of a file relative to the root; `None` if the file is not a recipe file below the root. `path` is
    /// relative to the top of the repository.
    fn own<'a>(&self, path: &'a str) -> Option<&'a str> {
        path.strip_prefix(&self.prefix).filter(|path| path.ends_with(".wet"))
    }

    pub(super) fn at(&self, commit: &str) -> Result<Tree<'_>, Failure> {
        let listed = git(&root::ROOT, &["ls-tree", "-r", "-z", "--full-tree", commit])?.unwrap_or_default();
        let mut files = BTreeMap::new();
        for row in String::from_utf8_lossy(&listed).split('\0') {
            let Some((about, path)) = row.split_once('\t') else { continue };
            let mut about = about.split(' ');
            let (mode, _, hash) = (about.next(), about.next(), about.next());
            if let (true, Some(hash), Some(path)) = (mode.is_some_and(is_plain), hash, self.own(path)) {
                files.insert(path.to_owned(), hash.to_owned());
            }
        }
        Ok(Tree { past: self, files })
    }

    fn text(&self, hash: &str) -> Option<Arc<str>> {
        self.objects.lock().ok()?.text(hash)
    }
}

/// Whether a file mode of git means a plain file, and not a link or a submodule.
fn is_plain(mode: &str) -> bool {
    matches!(mode, "100644" | "100664" | "100755")
}

fn commit(head: &str) -> Option<Commit> {
    let mut parts = head.splitn(3, MARK).map(str::to_owned);
    let (hash, date, subject) = (parts.next()?, parts.next()?, parts.next()?);
    Some(Commit { hash, date, subject, changes: Vec::new() })
}

/// The recipe files of a commit. The keys are paths relative to the root, the values are git hashes of the texts.
pub(super) struct Tree<'p> {
    past: &'p Past,
    files: BTreeMap<String, String>,
}

impl Tree<'_> {
    /// Changes the tree from the state after a commit to the state before this commit.
    pub(super) fn undo(&mut self, commit: &Commit) {
        for change in &commit.changes {
            match &change.before {
                Some(hash) => self.files.insert(change.path.clone(), hash.clone()),
                None => self.files.remove(&change.path),
            };
        }
    }

    pub(super) fn text(&self, path: &str) -> Option<Arc<str>> {
        self.past.text(self.files.get(path)?)
    }
}

impl Files for Tree<'_> {
    fn read(&self, name: &str) -> Result<String, NotRead> {
        let missing = || NotRead::Unreadable("there was no such file".to_owned());
        self.text(name).map(|text| text.to_string()).ok_or_else(missing)
    }
}
