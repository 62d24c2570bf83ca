//! The journal of a darkroom: a folder with one file for each session, and perhaps the single file of an older
//! journal, which is only read. New files are written while the darkroom is locked.

use std::hash::{BuildHasher as _, Hasher as _, RandomState};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::super::entry::{Entry, Name};
use super::super::find::{self, Index, Sought};
use super::super::write::Lock;
use super::super::{Ended, Failure, Reader, darkroom, fail, output, root, write};
use crate::check::{ABOUT_SESSIONS, Levels};
use crate::editor::Desk as _;
use crate::model::{Date, Session, Shelf};
use crate::source::{Diagnostic, FileId, Level, Set};
use crate::vocabulary::Declared;

/// The characters of the random part of a session's name: digits and letters that look unlike each other.
const LETTERS: &[u8; 32] = b"0123456789abcdefghjkmnpqrstvwxyz";
/// The number of random file names tried before `free_name` gives up. Each day has a million possible names.
const TRIES: usize = 100;
/// A journal and the darkroom that it belongs to, locked against other writers.
pub(super) struct Ledger {
    /// The canonical path of the journal's folder, which may not exist yet.
    folder: PathBuf,
    /// The path by which messages name the journal's folder.
    shown: PathBuf,
    root: PathBuf,
    pub(super) reader: Reader,
    files: Vec<FileId>,
    pub(super) shelf: Shelf,
    /// The lock of the root, released when the ledger is dropped.
    lock: Lock,
}

impl Ledger {
    /// Locks the darkroom and reads it. `given` is the path of `--journal`: a folder, or the file of an older journal.
    pub(super) fn open(given: Option<&Path>) -> Result<Ledger, Failure> {
        if let Some(path) = given {
            darkroom::own(path, "record")?;
        }
        let path = given.map_or_else(the_only, |path| Ok(path.to_owned()))?;
        let folder = folder(&path)?;
        let real = root::real(&folder);
        let root = root::above(root::folder_of(&real));
        let lock = Lock::of_root(&root)?;
        let mut reader = Reader::default();
        let mut files: Vec<FileId> = Vec::new();
        if let Some(older) = readable(older(&folder), &root)? {
            files.push(reader.read(&older)?);
        }
        let others = darkroom::files(&darkroom::index(&root), None, &mut reader)?;
        files.extend(others.into_iter().filter(|file| !files.contains(file)).collect::<Vec<_>>());
        let (shelf, findings) = reader.check_darkroom(&root, &files, &Levels::default());
        let mut ledger =
            Ledger { shown: root::shown(&real, &folder), folder: real, root, reader, files, shelf, lock };
        ledger.refuse(findings)?;
        Ok(ledger)
    }

    pub(super) fn name(&self) -> String {
        root::printable(&self.shown.display().to_string())
    }

    /// Fails if the findings have errors in the darkroom, except contradictions between sessions.
    fn refuse(&mut self, mut findings: Vec<Diagnostic>) -> Result<(), Failure> {
        findings.retain(|it| it.level == Level::Error && !ABOUT_SESSIONS.contains(&it.name));
        if findings.is_empty() {
            return Ok(());
        }
        let note = format!("nothing was recorded in {}\n", self.name());
        Err(Failure::Files { sources: std::mem::take(&mut self.reader.sources), findings, note })
    }

    /// The sessions of this journal, in the order of files and lines.
    pub(super) fn sessions(&self) -> impl Iterator<Item = &Arc<Session>> {
        let older = root::real(&older(&self.folder));
        let is_own = move |session: &&Arc<Session>| {
            let path = self.reader.disk.path(self.reader.name(session.span.file));
            path.is_some_and(|path| path == older || path.parent() == Some(&*self.folder))
        };
        self.shelf.darkroom.sessions.iter().filter(is_own)
    }

    /// The file and the name of the bath or backlog that the user calls `wanted`. `wanted` may have the prefix of a
    /// `use` line, as in `club/fix-a`.
    pub(super) fn name_of(&self, kind: Declared, wanted: &str) -> Result<Name, Failure> {
        let Shelf { darkroom, .. } = &self.shelf;
        let baths = darkroom.baths.iter().map(|(by, said, bath)| (*by, said, &bath.name, bath.span.file));
        let backlogs = darkroom.backlogs.iter();
        let backlogs = backlogs.map(|(by, said, one)| (*by, said, &one.name, one.span.file));
        let known: Vec<_> = if kind == Declared::Bath { baths.collect() } else { backlogs.collect() };
        let imported = known.iter().filter(|(_, said, ..)| wanted.contains('/') && *said == wanted);
        let imported: Set<_> = imported.map(|(.., own, file)| (*file, own.as_str())).collect();
        if let [(file, own)] = *Vec::from_iter(imported) {
            return Ok(Name { file, name: own.to_owned() });
        }
        let own = known.iter().filter(|(by, said, own, declared)| by == declared && said == own);
        let sought = Sought {
            otherwise: Some("declare it there, or name a journal in its folder: --journal FILE".to_owned()),
            ..Sought::within(kind, wanted, format!("in the darkroom of {}", self.name()))
        };
        let all = own.map(|(.., own, declared)| (own.as_str(), *declared, *declared));
        let file = sought.among(all, &self.reader.sources)?;
        Ok(Name { file, name: wanted.to_owned() })
    }

    /// Writes `entry` into a new file named after `day`, and prints the entry and a note. `note` returns the note. Its
    /// arguments are the shelf that includes the new file, the new file, and the name of the new session.
    pub(super) fn add(
        mut self,
        day: Date,
        entry: &Entry,
        note: impl FnOnce(&Shelf, FileId, &str) -> Result<String, Failure>,
    ) -> Result<Ended, Failure> {
        let name = self.free_name(day)?;
        let path = self.folder.join(format!("{name}.wet"));
        let shown = self.shown.join(format!("{name}.wet"));
        let mut made = None;
        for prefixed in [false, true] {
            let path_to = |file: FileId| {
                let used = self.reader.disk.path(self.reader.name(file))?;
                root::relative(&used, &self.folder)
            };
            let Some((text, head)) = entry.text(&name, prefixed, path_to) else { break };
            let file = self.reader.read_as(&shown, &path, &text);
            let roots: Vec<FileId> = self.files.iter().copied().chain([file]).collect();
            let (shelf, findings) = self.reader.check_darkroom(&self.root, &roots, &Levels::default());
            let is_clash = |it: &Diagnostic| it.name == "repeated-name" && it.span.file == file;
            if !prefixed && findings.iter().any(is_clash) {
                continue;
            }
            self.refuse(findings)?;
            made = Some((text, head, note(&shelf, file, &name)?));
            break;
        }
        let Some((text, head, note)) = made else {
            return fail(
                format!("{} cannot use the files of its darkroom", self.name()),
                "nothing was recorded; name a folder journal beside the darkroom's files: --journal journal",
            );
        };
        self.write(&path, &text)?;
        let shown = root::printable(&shown.display().to_string());
        output::print(format!("recorded in {shown}:\n\n{}{note}", text.get(head..).unwrap_or(&text)))
    }

    /// Writes a new file of the journal. If the journal's folder is missing, it is made first.
    fn write(&self, path: &Path, text: &str) -> Result<(), Failure> {
        let is_new = match std::fs::create_dir(&self.folder) {
            Ok(()) => true,
            Err(error) if error.kind() == ErrorKind::AlreadyExists => false,
            Err(error) => {
                return fail(
                    format!("{} could not be written: {error}", self.name()),
                    "nothing was changed; check that the folder above exists, may be written to, and has space",
                );
            }
        };
        write::create(path, text, &self.lock).inspect_err(|_| {
            if is_new {
                let _ = std::fs::remove_dir(&self.folder);
            }
        })
    }

    /// A name that no file of the journal has: the day, and four random characters.
    fn free_name(&self, day: Date) -> Result<String, Failure> {
        let mut names = (0..TRIES).map(|_| format!("{day}-{}", random_letters()));
        let is_free = |name: &String| self.folder.join(format!("{name}.wet")).symlink_metadata().is_err();
        names.find(is_free).ok_or_else(|| {
            Failure::new(
                format!("{} has no free name for {day}", self.name()),
                "name another folder with --journal",
            )
        })
    }
}

/// Four random characters. Their source is the random seed that the standard library makes for each hash map.
fn random_letters() -> String {
    let mut random = RandomState::new().build_hasher().finish();
    let mut letters = String::new();
    for _ in 0..4 {
        let at = usize::try_from(random % 32).unwrap_or(0);
        letters.push(LETTERS.get(at).copied().map_or('0', char::from));
        random /= 32;
    }
    letters
}

/// The journal to write to, as the path of its folder. The first of these that exists or applies: the journal of the
/// current folder; the only journal below the current folder; a new journal in the current folder, if this folder's
/// files declare bottles or backlogs; the only journal below the root; a new journal in the root.
pub(super) fn the_only() -> Result<PathBuf, Failure> {
    // A journal without sessions counts too, but not a link to a journal, since a search follows no links.
    let is = |path: &str, check: fn(&std::fs::Metadata) -> bool| {
        std::fs::symlink_metadata(path).is_ok_and(|there| check(&there))
    };
    let here = PathBuf::from(root::JOURNAL);
    if is(root::JOURNAL, std::fs::Metadata::is_dir) || is("journal.wet", std::fs::Metadata::is_file) {
        return Ok(here);
    }
    let near = |path: &Path| path.strip_prefix(&*root::HERE).unwrap_or(path).to_owned();
    let index = Index::below(&root::ROOT, &darkroom::OWN);
    let recorded = index.declaring(&[Declared::Session], None).into_iter();
    let found = recorded.filter(|path| find::is_session_file(path) || !find::is_plan(path)).map(|path| {
        let folder = if find::is_session_file(&path) { root::folder_of(&path).to_owned() } else { path };
        folder.with_extension("")
    });
    let (below, elsewhere): (Set<PathBuf>, Set<_>) =
        found.partition(|folder| folder.starts_with(&*root::HERE));
    let mut of_darkroom = index.declaring(&[Declared::Bath, Declared::Backlog], None).into_iter();
    if below.is_empty() && of_darkroom.any(|path| path.parent() == Some(&*root::HERE)) {
        return Ok(here);
    }
    match &*Vec::from_iter(if below.is_empty() { elsewhere } else { below }) {
        [one] => Ok(near(one)),
        [] => Ok(near(&root::ROOT.join(root::JOURNAL))),
        several @ [first, ..] => {
            let names: Vec<String> = several.iter().map(|path| near(path).display().to_string()).collect();
            fail(
                format!("there are {} journals: {}", several.len(), names.join(", ")),
                format!("name one of them: --journal {}", near(first).display()),
            )
        }
    }
}

/// The path of an older journal, which was a single file: `journal.wet` beside the folder `journal`.
fn older(folder: &Path) -> PathBuf {
    let mut path = folder.as_os_str().to_owned();
    path.push(".wet");
    PathBuf::from(path)
}

/// The file `older` of an older journal, if it exists. A link to a file outside the root is refused.
fn readable(older: PathBuf, root: &Path) -> Result<Option<PathBuf>, Failure> {
    let Ok(there) = std::fs::symlink_metadata(&older) else { return Ok(None) };
    if there.is_dir() {
        return Ok(None);
    }
    let message = match std::fs::canonicalize(&older) {
        Ok(real) if real.starts_with(root) => return Ok(Some(older)),
        // A link in a downloaded darkroom must not make the program open a file outside the darkroom.
        Ok(_) => "is a link that leads out of its darkroom",
        Err(_) => "is a link that leads to no file",
    };
    fail(format!("{} {message}", older.display()), "remove the link, or name another journal with --journal")
}

/// The folder of the journal that `--journal` or `the_only` names. `path` is this folder, or the file of an older
/// journal.
fn folder(path: &Path) -> Result<PathBuf, Failure> {
    let real = root::real(path);
    let (what, help) = match std::fs::canonicalize(root::folder_of(path)) {
        // A link in a downloaded darkroom must not make the program read or write a file outside the darkroom.
        Ok(above) if real.exists() && !real.starts_with(root::above(&above)) => {
            ("is a link that leads out of its darkroom", "name the journal itself with --journal")
        }
        _ if path.is_symlink() && !real.exists() => {
            ("is a link that leads to no file", "name the journal itself")
        }
        Err(_) => ("is in a folder that does not exist", "make the folder, or name another journal"),
        Ok(_) if path.is_dir() => return Ok(path.to_owned()),
        Ok(_) if path.extension().is_some_and(|ending| ending == "wet") => {
            return if real.is_file() || !real.exists() {
                Ok(path.with_extension(""))
            } else {
                Reader::default().read(path).map(|_| path.to_owned())
            };
        }
        Ok(_) if path.exists() || path.extension().is_some() => {
            ("is neither a folder nor a .wet file", "write --journal journal")
        }
        Ok(_) => return Ok(path.to_owned()),
    };
    fail(format!("{} {what}", path.display()), help)
}
