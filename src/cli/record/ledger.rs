//! The journal: finds, reads and replaces it, whole or not at all, while the darkroom is locked.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use super::super::find::{Index, Sought};
use super::super::write::Lock;
use super::super::{Ended, Failure, Reader, darkroom, fail, output, root, write};
use crate::check::Levels;
use crate::editor::Desk;
use crate::model::Shelf;
use crate::source::{Diagnostic, FileId, Level, Sources, first_few};
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
    /// Its file, if it exists.
    pub(super) file: Option<FileId>,
    pub(super) reader: Reader,
    /// The paths of the files that a new journal has to use.
    uses: BTreeSet<String>,
    /// The declarations of the darkroom.
    pub(super) shelf: Shelf,
    /// Released when this is dropped.
    lock: Lock,
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
        let path = given.map_or_else(the_only, |path| Ok(path.to_owned()))?;
        let real = real(&path)?;
        let root = root::above(root::folder_of(&real));
        let lock = Lock::of_root(&root)?;
        let mut reader = Reader::default();
        let file = real.exists().then(|| reader.read(&path)).transpose()?;
        let (shelf, _) = checked(&root, file, &mut reader)?;
        Ok(Ledger { path, real, root, file, reader, uses: BTreeSet::new(), shelf, lock })
    }

    /// Its name for messages.
    pub(super) fn name(&self) -> String {
        root::shown(&self.real, &self.path).display().to_string()
    }

    /// The name of a bath or backlog in the journal; `wanted` is that name, or the one in its declaration. A journal only
    /// grows at its end, so it can name what its `use` lines bring in; a new journal gets the `use` line.
    ///
    /// # Errors
    /// There is none, there are several, or the journal does not use its file.
    pub(super) fn name_of(&mut self, kind: Declared, wanted: &str) -> Result<String, Failure> {
        let Shelf { darkroom, .. } = &self.shelf;
        let baths = darkroom.baths.iter().map(|(by, said, bath)| (*by, said, &bath.name, bath.span.file));
        let backlogs = darkroom.backlogs.iter();
        let backlogs = backlogs.map(|(by, said, one)| (*by, said, &one.name, one.span.file));
        let known: Vec<_> = if kind == Declared::Bath { baths.collect() } else { backlogs.collect() };
        let here = known
            .iter()
            .filter(|(by, said, own, _)| Some(*by) == self.file && (*said == wanted || *own == wanted));
        let here: Vec<&str> = here.map(|(_, said, ..)| said.as_str()).collect();
        match here.as_slice() {
            _ if here.contains(&wanted) => return Ok(wanted.to_owned()),
            [] => {}
            [one] => return Ok((*one).to_owned()),
            several => {
                return fail(
                    format!("'{wanted}' can be several here: {}", first_few(several.iter().copied(), ", ")),
                    "write the name with its prefix",
                );
            }
        }
        let own = known.iter().filter(|(by, said, own, declared)| by == declared && said == own);
        let sought = Sought {
            otherwise: Some("declare it there, or name a journal in its folder: --journal FILE".to_owned()),
            ..Sought::within(kind, wanted, format!("in the darkroom of {}", self.name()))
        };
        let all = own.map(|(.., own, declared)| (own.as_str(), *declared, *declared));
        let file = sought.among(all, &self.reader.sources)?;
        let path = self.reader.disk.path(self.reader.name(file));
        let path =
            path.and_then(|path| root::relative(&path, root::folder_of(&self.real))).unwrap_or_default();
        if self.file.is_none() {
            self.uses.insert(path);
            return Ok(wanted.to_owned());
        }
        fail(
            format!("{} does not bring in the {} '{wanted}'", self.name(), kind.word()),
            format!("add this line below its first: use \"{path}\""),
        )
    }

    /// Appends a block if the darkroom has no errors then, and prints it. The note after it is computed from the new
    /// text, which proves that text.
    ///
    /// # Errors
    /// The darkroom has errors, the note cannot be computed, or the journal cannot be written.
    pub(super) fn append(
        &self,
        block: &str,
        note: impl FnOnce(&Shelf, FileId) -> Result<String, Failure>,
    ) -> Result<Ended, Failure> {
        let block = tidied(block);
        let text = self.with(&block);
        let mut reader = Reader::default();
        let file = reader.read_as(&self.path, &self.real, &text);
        let (shelf, mut findings) = checked(&self.root, Some(file), &mut reader)?;
        findings.retain(|finding| finding.level == Level::Error);
        if !findings.is_empty() {
            let note = format!("nothing was recorded in {}\n", root::printable(&self.name()));
            return Err(Failure::Files { sources: reader.sources, findings, note });
        }
        let note = note(&shelf, file)?;
        match self.file {
            None => write::create(&self.path, &text, &self.lock)?,
            Some(file) => {
                let mark = if self.reader.disk.had_mark(self.reader.name(file)) { "\u{feff}" } else { "" };
                let before = self.reader.sources.text(file);
                write::replace(&self.path, before, &format!("{mark}{text}"), &self.lock)?;
            }
        }
        output::print(format!("recorded in {}:\n\n{block}{note}", self.name()))
    }

    /// The old text, unchanged, with a block added. A new journal starts with its `use` lines.
    fn with(&self, block: &str) -> String {
        let Some(file) = self.file else {
            let uses: String = self.uses.iter().map(|path| format!("use \"{path}\"\n")).collect();
            let gap = if uses.is_empty() { "" } else { "\n" };
            return format!("{HEAD}\n{uses}{gap}{block}");
        };
        let text = self.reader.sources.text(file);
        let ending = ending(text);
        let missing = if text.is_empty() || text.ends_with('\n') { "" } else { ending };
        let gap = if text.ends_with(&ending.repeat(2)) { "" } else { ending };
        format!("{text}{missing}{gap}{}", block.replace('\n', ending))
    }
}

/// The shelf and the findings of a journal with its darkroom.
fn checked(
    root: &Path,
    journal: Option<FileId>,
    reader: &mut Reader,
) -> Result<(Shelf, Vec<Diagnostic>), Failure> {
    let mut roots = Vec::from_iter(journal);
    roots.extend(darkroom::files(&darkroom::index(root), reader)?);
    Ok(reader.check_darkroom(root, &roots, &Levels::default()))
}

/// A block in the standard layout; unchanged if it has errors, which the check reports.
fn tidied(block: &str) -> String {
    let mut sources = Sources::default();
    let file = sources.add("block", format!("{HEAD}\n{block}"));
    let tidied = tidy(&sources, file).ok();
    let tidied = tidied.and_then(|tidied| Some(tidied.text.strip_prefix(HEAD)?.trim_start().to_owned()));
    tidied.unwrap_or_else(|| block.to_owned())
}

/// A `journal.wet` in this folder; else the one file below the folder's root that holds sessions, or a new one in that
/// root.
fn the_only() -> Result<PathBuf, Failure> {
    // One in this folder is the journal even if it is empty and others exist. A link is not, as in a search.
    if std::fs::symlink_metadata(NEW).is_ok_and(|there| there.is_file()) {
        return Ok(PathBuf::from(NEW));
    }
    let near = |path: &Path| path.strip_prefix(root::here()).unwrap_or(path).to_owned();
    let index = Index::below(root::of_here(), &[Declared::Session]);
    let found = index.declaring(|kind, _| kind == Declared::Session);
    let found: Vec<PathBuf> = found.iter().map(|path| near(path)).collect();
    match found.as_slice() {
        [one] => Ok(one.clone()),
        [] => Ok(near(&root::of_here().join(NEW))),
        [first, ..] => {
            let names: Vec<String> = found.iter().map(|path| path.display().to_string()).collect();
            fail(
                format!("{} files hold sessions: {}", found.len(), names.join(", ")),
                format!("name the journal: --journal {}", first.display()),
            )
        }
    }
}

/// The real path of a journal; a link is followed, and a new one is in its folder.
fn real(path: &Path) -> Result<PathBuf, Failure> {
    let cannot = |what: &str, help: &str| fail(format!("{} {what}", path.display()), help);
    let folder = std::fs::canonicalize(root::folder_of(path)).ok();
    match (std::fs::canonicalize(path), folder) {
        // The author of a darkroom must not choose a file elsewhere that is read or written to.
        (Ok(real), Some(folder)) if !real.starts_with(root::above(&folder)) => {
            cannot("is a link that leads out of its darkroom", "name the journal itself with --journal")
        }
        (Ok(real), _) => Ok(real),
        (Err(_), _) if path.is_symlink() => {
            cannot("is a link that leads to no file", "name the journal itself")
        }
        (Err(_), _) if path.extension().is_none_or(|ending| ending != "wet") => {
            cannot("does not end in .wet, so no command would find it", "write --journal journal.wet")
        }
        (Err(_), Some(folder)) => Ok(folder.join(path.file_name().unwrap_or_default())),
        (Err(_), None) => {
            cannot("is in a folder that does not exist", "make the folder, or name another journal")
        }
    }
}
