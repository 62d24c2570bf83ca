//! The journal: finds, reads and replaces it, whole or not at all, while the darkroom is locked.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use super::super::disk::Reader;
use super::super::failure::Failure;
use super::super::find::Index;
use super::super::write::{self, Lock};
use super::super::{darkroom, root};
use crate::check::{Checked, Levels, declared_names};
use crate::editor::Desk;
use crate::model::Shelf;
use crate::source::{FileId, Sources};
use crate::tidy::{ending, tidy};
use crate::vocabulary::Declared;

/// The name of a new journal.
const NEW: &str = "journal.wet";
/// The start of a new file.
const HEAD: &str = "wetside 1\n";

/// A journal and its darkroom, locked against other writers.
#[derive(Debug)]
pub(super) struct Ledger {
    /// Its path for messages.
    path: PathBuf,
    /// Its real path.
    real: PathBuf,
    /// The root of its darkroom.
    root: PathBuf,
    /// Its text, if it is there.
    before: Option<Before>,
    /// All files read.
    pub(super) reader: Reader,
    /// Its declarations.
    pub(super) shelf: Shelf,
    /// Released when this is dropped.
    lock: Lock,
}

/// What a journal holds.
#[derive(Debug)]
struct Before {
    file: FileId,
    /// Whether it starts with a byte-order mark.
    marked: bool,
}

impl Ledger {
    /// Locks the darkroom and reads it.
    ///
    /// # Errors
    /// Several files may be the journal, another program writes to it, or it cannot be read.
    pub(super) fn open(given: Option<&Path>) -> Result<Ledger, Failure> {
        if let Some(path) = given {
            darkroom::own(path, "record")?;
        }
        let path = match given {
            Some(path) => path.to_owned(),
            None => the_only()?,
        };
        let real = real(&path)?;
        let root = root::above(real.parent().unwrap_or(Path::new("/")));
        let lock = Lock::of_root(&root)?;
        let mut reader = Reader::default();
        let mut before = None;
        let mut roots = Vec::new();
        if real.exists() {
            let file = reader.read(&path)?;
            before = Some(Before { file, marked: reader.disk.had_mark(reader.name(file)) });
            roots.push(file);
        }
        roots.extend(darkroom::files(&darkroom::index(&root), &mut reader)?);
        let (shelf, _) = reader.check_darkroom(&root, &roots, &Levels::default());
        Ok(Ledger { path, real, root, before, reader, shelf, lock })
    }

    /// Its file number, if it exists.
    pub(super) fn file(&self) -> Option<FileId> {
        self.before.as_ref().map(|before| before.file)
    }

    /// The names of all sessions of the darkroom, including those with errors.
    pub(super) fn session_names(&self) -> BTreeSet<String> {
        let sound = self.shelf.darkroom.sessions.iter().map(|session| session.name.clone());
        let all = self.file().map(|file| declared_names(&self.reader.sources, file)).unwrap_or_default();
        let sessions = all.into_iter().filter(|(kind, _)| *kind == Declared::Session);
        sound.chain(sessions.map(|(_, name)| name)).collect()
    }

    /// What it is called.
    pub(super) fn name(&self) -> String {
        root::shown(&self.real, &self.path).display().to_string()
    }

    /// The path of a file of this darkroom for a journal's `use`.
    pub(super) fn path_to(&self, file: FileId) -> Option<String> {
        root::relative(&self.reader.disk.path(self.reader.name(file))?, self.real.parent()?)
    }

    /// The old text, unchanged, with a block added. A new journal starts with its `use` lines.
    pub(super) fn with(&self, uses: &[String], block: &str) -> String {
        let Some(before) = &self.before else {
            let uses: String = uses.iter().map(|path| format!("use \"{path}\"\n")).collect();
            let gap = if uses.is_empty() { "" } else { "\n" };
            return format!("{HEAD}\n{uses}{gap}{block}");
        };
        let text = self.reader.sources.text(before.file);
        let ending = ending(text);
        let missing = if text.is_empty() || text.ends_with('\n') { "" } else { ending };
        let twice = ending.repeat(2);
        let gap = if text.ends_with(&twice) { "" } else { ending };
        format!("{text}{missing}{gap}{}", block.replace('\n', ending))
    }

    /// Checks this text as the journal, together with the darkroom.
    ///
    /// # Errors
    /// A file of the darkroom cannot be read any more.
    pub(super) fn checked(&self, text: &str) -> Result<Checked, Failure> {
        let mut reader = Reader::default();
        let file = reader.read_as(&self.path, &self.real, text);
        let mut roots = vec![file];
        roots.extend(darkroom::files(&darkroom::index(&self.root), &mut reader)?);
        let (shelf, findings) = reader.check_darkroom(&self.root, &roots, &Levels::default());
        Ok(Checked { sources: reader.sources, shelf, findings, file })
    }

    /// Replaces the journal with this text, whole or not at all.
    ///
    /// # Errors
    /// It cannot be written, or would be too long to be read again.
    pub(super) fn write(&self, text: &str) -> Result<(), Failure> {
        match &self.before {
            None => write::create(&self.path, text, &self.lock),
            Some(before) => {
                let mark = if before.marked { "\u{feff}" } else { "" };
                let text = format!("{mark}{text}");
                let read = self.reader.sources.text(before.file);
                write::replace(&self.path, read, &text, &self.lock).map(|_| ())
            }
        }
    }
}

/// A block in the standard layout.
pub(super) fn tidied(block: &str) -> String {
    let mut sources = Sources::default();
    let file = sources.add("block", format!("{HEAD}\n{block}"));
    let tidied = tidy(&sources, file).ok();
    let tidied = tidied.and_then(|tidied| Some(tidied.text.strip_prefix(HEAD)?.trim_start().to_owned()));
    // What cannot be tidied is at fault, and the check says how.
    tidied.unwrap_or_else(|| block.to_owned())
}

/// A `journal.wet` in this folder; else the one file below the folder's root that holds sessions, or a new one in that
/// root.
fn the_only() -> Result<PathBuf, Failure> {
    // Whoever stands beside it means it, even if nothing is in it yet and others have theirs below the same root. A
    // link is none, as in the search.
    if std::fs::symlink_metadata(NEW).is_ok_and(|there| there.is_file()) {
        return Ok(PathBuf::from(NEW));
    }
    let here = std::fs::canonicalize(".").unwrap_or_default();
    let root = root::above(&here);
    let near = |path: PathBuf| path.strip_prefix(&here).map(Path::to_owned).unwrap_or(path);
    let index = Index::below(&root, &[Declared::Session]);
    let found = index.declaring(|kind, _| kind == Declared::Session);
    let found: Vec<PathBuf> = found.into_iter().map(near).collect();
    match found.as_slice() {
        [one] => Ok(one.clone()),
        [] => Ok(near(root.join(NEW))),
        [first, ..] => {
            let names: Vec<String> = found.iter().map(|path| path.display().to_string()).collect();
            Err(Failure::new(
                format!("{} files hold sessions: {}", found.len(), names.join(", ")),
                format!("say which is the journal: --journal {}", first.display()),
            ))
        }
    }
}

/// The real path of a journal; a link is followed, and a new one is in its folder.
fn real(path: &Path) -> Result<PathBuf, Failure> {
    let cannot = |what: &str, help: &str| Failure::new(format!("{} {what}", path.display()), help);
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let folder = std::fs::canonicalize(folder);
    if let Ok(real) = std::fs::canonicalize(path) {
        // Whoever gives a darkroom away does not choose which file elsewhere is read or written to.
        let leads_out = folder.is_ok_and(|folder| !real.starts_with(root::above(&folder)));
        return if leads_out {
            Err(cannot("is a link that leads out of its darkroom", "name the journal itself with --journal"))
        } else {
            Ok(real)
        };
    }
    if std::fs::symlink_metadata(path).is_ok_and(|there| there.is_symlink()) {
        return Err(cannot("is a link that leads to no file", "name the journal itself"));
    }
    if path.extension().is_none_or(|ending| ending != "wet") {
        return Err(cannot(
            "would not be found again: the name of a journal ends in .wet",
            "write --journal journal.wet",
        ));
    }
    let folder = folder.map_err(|_| {
        cannot("is in a folder that is not there", "make the folder, or name another journal")
    })?;
    Ok(folder.join(path.file_name().unwrap_or_default()))
}
