//! Finds the journal of a darkroom, and reads and extends the journal while the darkroom is locked.

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
const HEAD: &str = "wetside 1\n";

/// A journal and its darkroom, locked against other writers.
pub(super) struct Ledger {
    /// The path of the journal as given or found, for messages.
    path: PathBuf,
    /// The real path of the journal.
    real: PathBuf,
    /// The root of the darkroom.
    root: PathBuf,
    /// The file of the journal; `None` if the journal is new.
    pub(super) file: Option<FileId>,
    pub(super) reader: Reader,
    /// The paths for the `use` lines of a new journal.
    uses: BTreeSet<String>,
    /// The declarations of the darkroom.
    pub(super) shelf: Shelf,
    /// The lock of the root, released with the ledger.
    lock: Lock,
}

impl Ledger {
    /// Locks the darkroom and reads it. `given` is the path of `--journal`.
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

    /// The path of the journal for messages.
    pub(super) fn name(&self) -> String {
        root::shown(&self.real, &self.path).display().to_string()
    }

    /// The journal's name, with its prefix, for a bath or a backlog. `wanted` is this name, or the name in the
    /// declaration. A new journal gets a `use` line for the declaring file.
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
                    format!("'{wanted}' may mean any of {}", first_few(several.iter().copied(), ", ")),
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
            format!("{} does not use the file of the {} '{wanted}'", self.name(), kind.word()),
            format!("add this line below its first line: use \"{path}\""),
        )
    }

    /// Appends a block to the journal, and prints the block and a note. `note` makes the note from the darkroom's
    /// declarations, with the block's.
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

    /// The text of the journal with a block at its end. A new journal begins with its `use` lines.
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

/// Checks the files of a darkroom, and its journal if it exists.
fn checked(
    root: &Path,
    journal: Option<FileId>,
    reader: &mut Reader,
) -> Result<(Shelf, Vec<Diagnostic>), Failure> {
    let mut roots = Vec::from_iter(journal);
    roots.extend(darkroom::files(&darkroom::index(root), reader)?);
    Ok(reader.check_darkroom(root, &roots, &Levels::default()))
}

/// A block in the standard layout. A block with errors is unchanged, and the later check reports the errors.
fn tidied(block: &str) -> String {
    let mut sources = Sources::default();
    let file = sources.add("block", format!("{HEAD}\n{block}"));
    let tidied = tidy(&sources, file).ok();
    let tidied = tidied.and_then(|tidied| Some(tidied.text.strip_prefix(HEAD)?.trim_start().to_owned()));
    tidied.unwrap_or_else(|| block.to_owned())
}

/// The path of the journal: `journal.wet` in the current folder, else the only file with sessions below the folder's
/// root, else a new file in that root.
fn the_only() -> Result<PathBuf, Failure> {
    // Even an empty `journal.wet` is the journal. A link is not, since a search follows no links.
    if std::fs::symlink_metadata(NEW).is_ok_and(|there| there.is_file()) {
        return Ok(PathBuf::from(NEW));
    }
    let near = |path: &Path| path.strip_prefix(&*root::HERE).unwrap_or(path).to_owned();
    let index = Index::below(&root::ROOT, &[Declared::Session]);
    let found = index.declaring(&[Declared::Session], None);
    let found: Vec<PathBuf> = found.iter().map(|path| near(path)).collect();
    match found.as_slice() {
        [one] => Ok(one.clone()),
        [] => Ok(near(&root::ROOT.join(NEW))),
        [first, ..] => {
            let names: Vec<String> = found.iter().map(|path| path.display().to_string()).collect();
            fail(
                format!("{} files have sessions: {}", found.len(), names.join(", ")),
                format!("name the journal: --journal {}", first.display()),
            )
        }
    }
}

/// The real path of a journal, which may not exist yet.
fn real(path: &Path) -> Result<PathBuf, Failure> {
    let real = root::real(path);
    let (what, help) = match std::fs::canonicalize(root::folder_of(path)) {
        // A link in a downloaded darkroom must not make the program open a file outside the darkroom.
        Ok(folder) if real.exists() && !real.starts_with(root::above(&folder)) => {
            ("is a link that leads out of its darkroom", "name the journal itself with --journal")
        }
        _ if real.exists() => return Ok(real),
        _ if path.is_symlink() => ("is a link that leads to no file", "name the journal itself"),
        _ if path.extension().is_none_or(|ending| ending != "wet") => {
            ("does not end in .wet, so no command would find it", "write --journal journal.wet")
        }
        Ok(_) => return Ok(real),
        Err(_) => ("is in a folder that does not exist", "make the folder, or name another journal"),
    };
    fail(format!("{} {what}", path.display()), help)
}
