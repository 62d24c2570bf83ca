//! Reads recipe files. The command line may name any file; a `use` line may name only files below the root of its file.

use std::cell::RefCell;
use std::ffi::OsString;
use std::io::Read;
use std::path::{Path, PathBuf};

use super::find::few_recipes_below;
use super::{Failure, levels, root};
use crate::check::{Levels, check_all};
use crate::disk::{bytes_of, decoded, real_below, reason, text_of};
use crate::editor::Desk;
use crate::model::Shelf;
use crate::report::STDIN;
use crate::source::{
    BYTES_MAX, COLLECTION, COLLECTIONS, Diagnostic, FileId, Files, Level, Map, NotRead, Set, Sources, below,
};

/// The texts that a run of the program has read, and the files that they come from.
#[derive(Default)]
pub(super) struct Reader {
    pub(super) sources: Sources,
    pub(super) disk: Disk,
}

impl Reader {
    /// Reads a file that the command line names, or standard input for `-`.
    pub(super) fn read(&mut self, path: &Path) -> Result<FileId, Failure> {
        self.read_with(path, decoded)
    }

    /// Reads a list saved by a spreadsheet program, or standard input for `-`.
    pub(super) fn read_list(&mut self, path: &Path) -> Result<FileId, Failure> {
        self.read_with(path, decoded_list)
    }

    fn read_with(
        &mut self,
        path: &Path,
        decoded: fn(Vec<u8>) -> Result<String, NotRead>,
    ) -> Result<FileId, Failure> {
        let Reader { sources, disk } = self;
        if path.as_os_str() == "-" {
            let mut bytes = Vec::new();
            let read = std::io::stdin().lock().take(BYTES_MAX + 1).read_to_end(&mut bytes);
            let read = read.map_err(|error| NotRead::Unreadable(reason(&error)));
            let text = read.and_then(|_| decoded(bytes)).map_err(|why| {
                Failure::new(format!("{STDIN} cannot be read: {why}"), "pipe in UTF-8 text, under 1 MiB")
            })?;
            let name = disk.kept(Path::new(STDIN), PathBuf::from("-"), false);
            return Ok(sources.add(name, text));
        }
        let shown = if path.is_absolute() { root::shown(path, path) } else { path.to_owned() };
        let unreadable = |why: NotRead| {
            let help = match &why {
                NotRead::NotText(_) => "save it in your editor as plain text, with UTF-8 as its encoding",
                NotRead::TooLarge => "split it into smaller files, each under 1 MiB",
                _ => "name a .wet file, or a recipe declared below this folder",
            };
            Failure::new(format!("{} cannot be read: {why}", shown.display()), help)
        };
        let real = std::fs::canonicalize(path);
        let real = real.map_err(|error| unreadable(NotRead::Unreadable(reason(&error))))?;
        let known = disk.names.get_mut().get(real.as_os_str());
        if let Some(id) = known.and_then(|name| sources.id(name)) {
            return Ok(id);
        }
        let bytes = bytes_of(&real).map_err(unreadable)?;
        let marked = bytes.starts_with("\u{feff}".as_bytes());
        let text = decoded(bytes).map_err(unreadable)?;
        let name = disk.kept(&root::shown(&real, path), real, marked);
        Ok(sources.add(name, text))
    }

    /// Adds `text` as if it had been read from `path`, whose canonical path is `real`. No file needs to exist there.
    pub(super) fn read_as(&mut self, path: &Path, real: &Path, text: &str) -> FileId {
        let name = self.disk.kept(&root::shown(real, path), real.to_owned(), false);
        self.sources.add(name, text)
    }

    pub(super) fn name(&self, file: FileId) -> &str {
        self.sources.name(file)
    }

    pub(super) fn check(&mut self, roots: &[FileId], levels: &Levels) -> (Shelf, Vec<Diagnostic>) {
        check_all(&mut self.sources, roots, &self.disk, levels)
    }

    /// Checks files. The darkroom of the returned shelf has only the declarations of `root`, not those of roots nested
    /// in `root`.
    pub(super) fn check_darkroom(
        &mut self,
        root: &Path,
        roots: &[FileId],
        levels: &Levels,
    ) -> (Shelf, Vec<Diagnostic>) {
        let (mut shelf, findings) = self.check(roots, levels);
        shelf.darkroom.leave_out(&self.disk.of_other_roots(root, &self.sources));
        (shelf, findings)
    }

    pub(super) fn refused(&mut self, findings: Vec<Diagnostic>) -> Failure {
        let sources = std::mem::take(&mut self.sources);
        Failure::Files { sources, findings, note: String::new() }
    }

    pub(super) fn refuse_any(&mut self, findings: Vec<Diagnostic>) -> Result<(), Failure> {
        if findings.is_empty() { Ok(()) } else { Err(self.refused(findings)) }
    }
}

/// Decodes the bytes of a list from a spreadsheet program. They may be UTF-8, or UTF-16 with a byte-order mark.
fn decoded_list(bytes: Vec<u8>) -> Result<String, NotRead> {
    let unit: fn([u8; 2]) -> u16 = match bytes.as_slice() {
        // Spreadsheet programs save workbooks as ZIP files, which begin with these bytes.
        [b'P', b'K', 3, 4, ..] => {
            return Err(NotRead::NotText("it is a workbook; save its sheet as CSV in UTF-8".to_owned()));
        }
        [0xff, 0xfe, ..] => u16::from_le_bytes,
        [0xfe, 0xff, ..] => u16::from_be_bytes,
        _ => return decoded(bytes),
    };
    if bytes.len() as u64 > BYTES_MAX {
        return Err(NotRead::TooLarge);
    }
    let (pairs, rest) = bytes.as_chunks::<2>();
    let text = char::decode_utf16(pairs.iter().skip(1).copied().map(unit)).collect::<Result<String, _>>();
    let text = text.ok().filter(|_| rest.is_empty());
    text.ok_or_else(|| NotRead::NotText("it is not valid UTF-16".to_owned()))
}

pub(super) fn has_errors(findings: &[Diagnostic]) -> bool {
    findings.iter().any(|finding| finding.level == Level::Error)
}

#[derive(Default)]
pub(super) struct Disk {
    /// The known files: read, named by a `use` line, or open in an editor. The keys are their names in messages.
    files: RefCell<Map<String, Kept>>,
    /// The name of each file in messages. The keys are canonical paths, as strings because strings compare faster than
    /// `PathBuf`s.
    names: RefCell<Map<OsString, String>>,
    /// A cache for `use` lines. The keys are the full paths that `use` lines name. The values are the root of the file
    /// with the `use` line, and the name of the used file in messages.
    used: RefCell<Map<OsString, (PathBuf, String)>>,
    /// A cache of the root of each folder. The keys are folders.
    roots: Map<PathBuf, PathBuf>,
    /// Whether the language server ignores config files.
    pub(super) no_config: bool,
    /// A cache of the severities of rules in each root, or of the error in its config file. The keys are roots.
    levels: Map<PathBuf, Result<Levels, String>>,
}

#[derive(Clone)]
struct Kept {
    real: PathBuf,
    /// The file's root. `use` lines of the file can name only files below this root.
    root: PathBuf,
    /// Whether the file begins with a byte-order mark.
    marked: bool,
}

impl Kept {
    /// The folder of the file; for standard input, the current folder.
    fn folder(&self) -> &Path {
        if self.real.is_absolute() { root::folder_of(&self.real) } else { &root::HERE }
    }
}

impl Disk {
    /// The files that belong to other roots nested in `root`.
    pub(super) fn of_other_roots(&self, root: &Path, sources: &Sources) -> Set<FileId> {
        let files = self.files.borrow();
        let mut known: Map<&Path, bool> = Map::new();
        let mut is_other = |folder| *known.value_or(folder, || root::below(root, folder) != root);
        let kept = sources.iter().filter_map(|(id, file)| Some((id, files.get(&file.name)?)));
        kept.filter(|(_, kept)| is_other(kept.folder())).map(|(id, _)| id).collect()
    }

    pub(super) fn had_mark(&self, name: &str) -> bool {
        self.files.borrow().get(name).is_some_and(|kept| kept.marked)
    }

    /// Whether this run has read the file at `path`, perhaps by another path.
    pub(super) fn has_read(&self, path: &Path) -> bool {
        let names = self.names.borrow();
        std::fs::canonicalize(path).is_ok_and(|real| {
            names.contains_key(real.as_os_str()) || names.keys().any(|read| is_one(&real, Path::new(read)))
        })
    }

    fn root_above(&mut self, folder: &Path) -> PathBuf {
        let known = self.roots.get(folder).cloned();
        known.unwrap_or_else(|| self.roots.value_or(folder.to_owned(), || root::above(folder)).clone())
    }

    /// Adds a file with the root of its folder to `files`, and returns its name in messages.
    fn kept(&mut self, shown: &Path, real: PathBuf, marked: bool) -> String {
        let mut kept = Kept { real, root: PathBuf::new(), marked };
        kept.root = self.root_above(kept.folder());
        self.named(shown, kept)
    }

    /// Adds a file to `files` and returns its name in messages: `shown`, or the canonical path if another file is named
    /// `shown`.
    fn named(&self, shown: &Path, kept: Kept) -> String {
        let (mut files, mut names) = (self.files.borrow_mut(), self.names.borrow_mut());
        let name = names.value_or(kept.real.clone().into_os_string(), || {
            let shown = shown.display().to_string();
            if files.contains_key(&shown) { kept.real.display().to_string() } else { shown }
        });
        files.insert(name.clone(), kept);
        name.clone()
    }
}

impl Files for Disk {
    fn read(&self, name: &str) -> Result<String, NotRead> {
        let real = self.files.borrow().get(name).map(|kept| kept.real.clone()).ok_or(NotRead::Outside)?;
        let (text, marked) = text_of(&real)?;
        if let Some(kept) = self.files.borrow_mut().get_mut(name) {
            kept.marked = marked;
        }
        Ok(text)
    }

    fn resolve(&self, from: &str, path: &str) -> Result<String, NotRead> {
        let files = self.files.borrow();
        let user = files.get(from).ok_or(NotRead::Outside)?;
        let wanted = below(user.folder(), &user.root, path).ok_or(NotRead::Outside)?;
        if let Some((root, name)) = self.used.borrow().get(wanted.as_os_str())
            && root.as_os_str() == user.root.as_os_str()
        {
            return Ok(name.clone());
        }
        let real = match real_below(&user.root, &wanted) {
            Ok(real) => real,
            // A document that is open in an editor may have no file on the disk yet. Its path is then a key of `names`.
            Err(why @ NotRead::Unreadable(_)) => {
                return self.names.borrow().get(wanted.as_os_str()).cloned().ok_or(why);
            }
            Err(why) => return Err(why),
        };
        let user_root = user.root.clone();
        drop(files);
        let known = self.names.borrow().get(real.as_os_str()).cloned();
        let name = known.unwrap_or_else(|| {
            let shown = root::shown_beside(&real, Path::new(from), path);
            let root = root::below(&user_root, root::folder_of(&real)).to_owned();
            self.named(&shown, Kept { real, root, marked: false })
        });
        self.used.borrow_mut().insert(wanted.into_os_string(), (user_root, name.clone()));
        Ok(name)
    }

    fn depth(&self, name: &str) -> usize {
        let files = self.files.borrow();
        let inside = files.get(name).and_then(|kept| kept.folder().strip_prefix(&kept.root).ok());
        inside.map_or(0, |folders| folders.components().count())
    }
}

impl Desk for Disk {
    fn lay(&mut self, path: &Path) -> String {
        self.levels.clear();
        self.used.borrow_mut().clear();
        let real = root::real(path);
        let root = self.root_above(root::folder_of(&real));
        let shown = real.strip_prefix(&root).unwrap_or(&real).to_owned();
        self.kept(&shown, real, false)
    }

    fn beside(&self, name: &str) -> Option<Vec<PathBuf>> {
        let root = self.files.borrow().get(name).map(|kept| kept.root.clone());
        root.map_or(Some(Vec::new()), |root| few_recipes_below(&root))
    }

    fn collections(&self, name: &str) -> Vec<String> {
        let root = self.files.borrow().get(name).map(|kept| kept.root.clone());
        let folders = root.and_then(|root| std::fs::read_dir(root.join(COLLECTIONS)).ok());
        let folders = folders.into_iter().flatten().filter_map(Result::ok);
        let named = folders.filter(|folder| folder.path().join(COLLECTION).is_file());
        let mut names: Vec<String> =
            named.filter_map(|folder| folder.file_name().into_string().ok()).collect();
        names.sort_unstable();
        names
    }

    fn take(&mut self, path: &Path) -> Option<String> {
        // `path` comes from the method `beside`, which lists no links. So a link at `path` was made later. It is not
        // read, since it may lead out of the root.
        let real = std::fs::canonicalize(path).ok()?;
        (real == path).then(|| self.lay(path))
    }

    fn are_of_one_root(&self, one: &str, other: &str) -> bool {
        let files = self.files.borrow();
        let root = |name| files.get(name).map(|kept| root::nearest(kept.folder()));
        root(one) == root(other)
    }

    fn path(&self, name: &str) -> Option<PathBuf> {
        self.files.borrow().get(name).map(|kept| kept.real.clone())
    }

    fn levels(&mut self, name: &str) -> Result<Levels, String> {
        let Some(kept) = self.files.get_mut().get(name).filter(|_| !self.no_config) else {
            return Ok(Levels::default());
        };
        self.levels.value_or(kept.root.clone(), || levels::at(&kept.root)).clone()
    }
}

/// Whether two paths are hard links to the same file.
#[cfg(unix)]
fn is_one(one: &Path, other: &Path) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    let id = |path: &Path| std::fs::metadata(path).ok().map(|file| (file.dev(), file.ino()));
    id(one).is_some_and(|one| id(other) == Some(one))
}

#[cfg(not(unix))]
fn is_one(_: &Path, _: &Path) -> bool {
    false
}
