//! The recipe files of past commits. Git runs nothing of the repository, and only files of its commits are read.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout};
use std::sync::Arc;

use super::batches::spread;
use super::revision::{command, git};
use super::{Failure, find, root};
use crate::check::{Levels, check_all};
use crate::disk::decoded;
use crate::emit::{About, Listed};
use crate::model::{Fingerprint, FingerprintSought};
use crate::source::{BYTES_MAX, COLLECTION, COLLECTIONS, FileId, Files, NotRead, Sources};

/// Separates the parts of a commit in the output of git.
const MARK: char = '\u{1}';
/// The most files checked together.
const BATCH: usize = 128;

/// A commit of the line that leads to the current one: each commit is compared with its first parent.
pub(super) struct Commit {
    pub(super) hash: String,
    /// The first parent; `None` for the first commit.
    pub(super) parent: Option<String>,
    /// The day of the commit, as in 2026-11-25.
    pub(super) date: String,
    pub(super) subject: String,
    /// The recipe files that the commit adds, changes or removes, by their paths below the root.
    pub(super) touched: Vec<String>,
}

/// The past of a root folder that is in a repository of git.
pub(super) struct Past {
    /// The path of the root below the top of the repository; empty, or with `/` at its end.
    prefix: String,
    objects: RefCell<Objects>,
    /// The texts of objects, by their hashes.
    texts: RefCell<BTreeMap<String, Option<Arc<str>>>>,
}

impl Past {
    /// The past of the current root; `None` if the root is in no repository, or if git cannot be run.
    pub(super) fn of_root() -> Option<Past> {
        let prefix = git(&root::ROOT, &["rev-parse", "--show-prefix"]).ok()??;
        let prefix = String::from_utf8(prefix).ok()?.trim_end_matches('\n').to_owned();
        let objects = RefCell::new(Objects::open(&root::ROOT)?);
        Some(Past { prefix, objects, texts: RefCell::default() })
    }

    /// The commits that change recipe files of the root, the newest first.
    pub(super) fn commits(&self) -> Result<Vec<Commit>, Failure> {
        let format = "--format=%x01%H%x01%P%x01%cs%x01%s";
        let changes = ["--first-parent", "--diff-merges=first-parent", "--name-only", "--no-renames"];
        let plain = ["--no-ext-diff", "--no-textconv", "--no-show-signature", "--no-color", "--no-decorate"];
        let arguments = [&["log", "-z", format][..], &changes, &plain].concat();
        let Some(bytes) = git(&root::ROOT, &arguments)? else { return Ok(Vec::new()) };
        let text = String::from_utf8_lossy(&bytes);
        let mut all: Vec<Commit> = Vec::new();
        for piece in text.split('\0').map(|piece| piece.trim_start_matches('\n')) {
            match (piece.strip_prefix(MARK), all.last_mut()) {
                (Some(head), _) => all.extend(commit(head)),
                (None, Some(last)) => last.touched.extend(self.own(piece).map(str::to_owned)),
                (None, None) => {}
            }
        }
        all.retain(|commit| !commit.touched.is_empty());
        Ok(all)
    }

    /// The path below the root of a recipe file in the repository.
    fn own<'a>(&self, path: &'a str) -> Option<&'a str> {
        path.strip_prefix(&self.prefix).filter(|path| path.ends_with(".wet"))
    }

    /// The recipe files of the root at a commit.
    pub(super) fn at(&self, commit: &str) -> Result<Tree, Failure> {
        let listed = git(&root::ROOT, &["ls-tree", "-r", "-z", "--full-tree", commit])?.unwrap_or_default();
        let mut tree = Tree::default();
        for row in String::from_utf8_lossy(&listed).split('\0') {
            let Some((about, path)) = row.split_once('\t') else { continue };
            let mut about = about.split(' ');
            let (mode, _, hash) = (about.next(), about.next(), about.next());
            let is_plain = matches!(mode, Some("100644" | "100664" | "100755"));
            if let (true, Some(hash), Some(path)) = (is_plain, hash, self.own(path)) {
                let text = self.text(hash);
                tree.files.extend(text.map(|text| (path.to_owned(), text)));
            }
        }
        Ok(tree)
    }

    /// The text of a file, by the hash of the object; `None` if it cannot be a recipe file.
    fn text(&self, hash: &str) -> Option<Arc<str>> {
        let mut texts = self.texts.borrow_mut();
        let read = || self.objects.borrow_mut().text(hash).map(Arc::from);
        texts.entry(hash.to_owned()).or_insert_with(read).clone()
    }
}

/// Reads the hash, the parents, the day and the subject of a commit.
fn commit(head: &str) -> Option<Commit> {
    let mut parts = head.splitn(4, MARK);
    let (hash, parents) = (parts.next()?, parts.next()?);
    let (date, subject) = (parts.next()?.to_owned(), parts.next()?.to_owned());
    let parent = parents.split(' ').next().filter(|parent| !parent.is_empty()).map(str::to_owned);
    Some(Commit { hash: hash.to_owned(), parent, date, subject, touched: Vec::new() })
}

/// The recipe files of a commit, by their paths below the root.
#[derive(Default)]
pub(super) struct Tree {
    pub(super) files: BTreeMap<String, Arc<str>>,
}

impl Files for Tree {
    fn read(&self, name: &str) -> Result<String, NotRead> {
        let missing = || NotRead::Unreadable("there was no such file".to_owned());
        self.files.get(name).map(|text| text.to_string()).ok_or_else(missing)
    }
}

/// The recipes with a fingerprint in the newest commit that has any.
pub(super) fn trace(past: &Past, sought: &FingerprintSought) -> Result<Vec<Listed>, Failure> {
    let mut newer: Option<Vec<String>> = None;
    for commit in past.commits()? {
        let tree = past.at(&commit.hash)?;
        // What the newer commit did not touch has been looked at.
        let files = match &newer {
            Some(touched) => tree.affected(touched),
            None => tree.files.keys().cloned().collect(),
        };
        let files: Vec<String> =
            files.into_iter().filter(|file| !find::is_session_file(Path::new(file))).collect();
        let mut found = Vec::new();
        let batches: Vec<&[String]> = files.chunks(BATCH).collect();
        let work = |batch: &[String]| tree.having(batch, sought, &commit);
        spread(batches.into_iter(), work, |listed| found.extend(listed));
        if !found.is_empty() {
            return Ok(found);
        }
        newer = Some(commit.touched);
    }
    Ok(Vec::new())
}

impl Tree {
    /// The recipes of these files with a fingerprint.
    fn having(&self, files: &[String], sought: &FingerprintSought, commit: &Commit) -> Vec<Listed> {
        let mut sources = Sources::default();
        let texts = files.iter().filter_map(|name| Some((name.as_str(), self.files.get(name)?)));
        let roots: Vec<FileId> = texts.map(|(name, text)| sources.add(name, &**text)).collect();
        let (shelf, _) = check_all(&mut sources, &roots, self, &Levels::default());
        let own = shelf.recipes.iter().filter(|recipe| roots.contains(&recipe.file));
        let marked = own.map(|recipe| (recipe, Fingerprint::of(recipe)));
        let found = marked.filter(|(_, fingerprint)| sought.finds(*fingerprint));
        let listed = found.map(|(recipe, fingerprint)| Listed {
            name: recipe.name.clone(),
            title: Some(commit.subject.clone()),
            file: sources.name(recipe.file).to_owned(),
            about: About::Past { commit: commit.hash.clone(), date: commit.date.clone(), fingerprint },
        });
        listed.collect()
    }

    /// The files that use one of these, directly or not, and these themselves.
    fn affected(&self, touched: &[String]) -> BTreeSet<String> {
        let mut users: BTreeMap<String, Vec<&String>> = BTreeMap::new();
        for (name, text) in &self.files {
            for used in self.uses(name, text) {
                users.entry(used).or_default().push(name);
            }
        }
        let mut all = BTreeSet::new();
        let mut open: Vec<&String> = touched.iter().collect();
        while let Some(next) = open.pop() {
            if all.insert(next.clone()) {
                open.extend(users.get(next).into_iter().flatten());
            }
        }
        all
    }

    /// The files that the `use` lines of a file name.
    fn uses(&self, name: &str, text: &str) -> Vec<String> {
        let lines = text.lines().filter_map(|line| line.trim_start_matches([' ', '\t']).strip_prefix("use"));
        let named = lines.filter_map(|line| {
            let what = line.trim_start_matches([' ', '\t']);
            match what.strip_prefix('"') {
                Some(path) => self.resolve(name, path.split('"').next()?).ok(),
                None => {
                    let collection = what.split_whitespace().next()?;
                    let up = "../".repeat(self.depth(name));
                    self.resolve(name, &format!("{up}{COLLECTIONS}/{collection}/{COLLECTION}")).ok()
                }
            }
        });
        named.collect()
    }
}

/// A process of git that gives the contents of objects.
struct Objects {
    process: Child,
    asks: ChildStdin,
    answers: BufReader<ChildStdout>,
}

impl Objects {
    fn open(folder: &Path) -> Option<Objects> {
        let mut call = command(folder, &["cat-file", "--batch"]);
        call.stdin(std::process::Stdio::piped()).stdout(std::process::Stdio::piped());
        let mut process = call.stderr(std::process::Stdio::null()).spawn().ok()?;
        let (asks, answers) = (process.stdin.take()?, BufReader::new(process.stdout.take()?));
        Some(Objects { process, asks, answers })
    }

    /// The text of an object; `None` if it is no text of the size of a recipe file.
    fn text(&mut self, hash: &str) -> Option<String> {
        self.asks.write_all(format!("{hash}\n").as_bytes()).and_then(|()| self.asks.flush()).ok()?;
        let mut head = String::new();
        self.answers.read_line(&mut head).ok()?;
        let size: u64 = head.trim_end().rsplit(' ').next()?.parse().ok()?;
        let (mut bytes, mut object) = (Vec::new(), (&mut self.answers).take(size.checked_add(1)?));
        object.by_ref().take(BYTES_MAX + 1).read_to_end(&mut bytes).ok()?;
        std::io::copy(&mut object, &mut std::io::sink()).ok()?;
        // A line ending follows the object.
        bytes.pop().filter(|_| size <= BYTES_MAX)?;
        decoded(bytes).ok()
    }
}

impl Drop for Objects {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}
