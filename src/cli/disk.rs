//! Reads recipe files. What a person names is read wherever it is; what a recipe names is read only
//! below its root, and nothing outside is even opened.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::ffi::OsString;
use std::fs::Metadata;
use std::io::Read;
use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::find::few_recipes_below;
use super::levels;
use super::root;
use crate::check::Levels;
use crate::disk::{decoded, real_below, reason, text_of};
use crate::editor::Desk;
use crate::report::STDIN;
use crate::source::{BYTES_MAX, FileId, Files, NotRead, Sources, below};

/// The files found so far.
#[derive(Debug, Default)]
pub(super) struct Disk {
    /// By their names.
    files: RefCell<BTreeMap<String, Kept>>,
    /// Their names by their real paths as the system writes them, which compare faster than by their parts.
    names: RefCell<BTreeMap<OsString, String>>,
    /// Where the folders of files that were named really are.
    folders: BTreeMap<PathBuf, PathBuf>,
    /// The root of each folder that was asked for.
    roots: BTreeMap<PathBuf, PathBuf>,
    /// Whether no house is asked for the weights of open texts.
    no_config: bool,
    /// The weights of each root that was asked for.
    houses: BTreeMap<PathBuf, Result<Levels, String>>,
}

/// What is known of a file: where it is, and the root it may not leave.
#[derive(Debug, Clone)]
struct Kept {
    real: PathBuf,
    folder: PathBuf,
    root: PathBuf,
    /// Whether a byte-order mark stood before its text.
    marked: bool,
}

impl Disk {
    /// One for open texts, with or without the weights of their houses.
    pub(super) fn weighing(no_config: bool) -> Disk {
        Disk { no_config, ..Disk::default() }
    }

    /// Reads a file that a person named; `-` is standard input.
    pub(super) fn read(&mut self, sources: &mut Sources, path: &Path) -> Result<FileId, Failure> {
        if path.as_os_str() == "-" {
            return self.read_stdin(sources);
        }
        let shown = Disk::called(path).display().to_string();
        let (real, kind) = self.found(path).map_err(|error| {
            Failure::new(
                format!("{shown} cannot be read: {}", reason(&error)),
                "check the path, or name a recipe that stands below this folder",
            )
        })?;
        if let Some(id) = self.id(sources, &real) {
            return Ok(id);
        }
        let (text, marked) = text_of(&real, &kind).map_err(|why| {
            let help = match &why {
                NotRead::NotText(_) => "save it as UTF-8 text, under 1 MiB",
                NotRead::Outside | NotRead::Unreadable(_) | NotRead::TooMany => {
                    "name a .wet file, or a recipe that stands below this folder"
                }
            };
            Failure::new(format!("{shown} cannot be read: {}", why), help)
        })?;
        let folder = real.parent().map(Path::to_owned).unwrap_or_default();
        let root = self.root_above(&folder);
        let shown = root::shown(&real, path);
        Ok(self.keep(sources, &shown, Kept { real, folder, root, marked }, text))
    }

    /// Takes a text for what a person's file holds, whether that is there or not.
    pub(super) fn read_as(
        &mut self,
        sources: &mut Sources,
        (path, real): (&Path, &Path),
        text: &str,
    ) -> FileId {
        let folder = real.parent().map(Path::to_owned).unwrap_or_default();
        let root = self.root_above(&folder);
        let kept = Kept { real: real.to_owned(), folder, root, marked: false };
        self.keep(sources, &root::shown(real, path), kept, text.to_owned())
    }

    /// Which of these files belong to another root below that one.
    pub(super) fn of_other_roots(&self, root: &Path, sources: &Sources) -> BTreeSet<FileId> {
        let files = self.files.borrow();
        let mut known: BTreeMap<&Path, bool> = BTreeMap::new();
        let mut is_other = |folder| *known.entry(folder).or_insert_with(|| root::below(root, folder) != root);
        let folders = sources.iter().filter_map(|(id, file)| Some((id, files.get(file.name())?)));
        folders.filter(|(_, kept)| is_other(kept.folder.as_path())).map(|(id, _)| id).collect()
    }

    /// Whether a byte-order mark stands before the text of the file with this name.
    pub(super) fn had_mark(&self, name: &str) -> bool {
        self.files.borrow().get(name).is_some_and(|kept| kept.marked)
    }

    /// Whether this file was read in this run, under this name or another.
    pub(super) fn has_read(&self, path: &Path) -> bool {
        std::fs::canonicalize(path).is_ok_and(|real| {
            self.names.borrow().contains_key(real.as_os_str())
                || self.names.borrow().keys().any(|read| is_one(&real, Path::new(read)))
        })
    }

    /// Where a file really is, and what it is. One that is no link itself stands in its folder, and where
    /// that is has to be asked but once; only where names have no case does each have to be asked for.
    fn found(&mut self, path: &Path) -> std::io::Result<(PathBuf, Metadata)> {
        let kind = std::fs::symlink_metadata(path)?;
        let apart = path.parent().zip(path.file_name());
        let Some((folder, name)) = apart.filter(|_| cfg!(target_os = "linux") && !kind.is_symlink()) else {
            let real = std::fs::canonicalize(path)?;
            let kind = std::fs::metadata(&real)?;
            return Ok((real, kind));
        };
        if let Some(real) = self.folders.get(folder) {
            return Ok((real.join(name), kind));
        }
        let here = folder.as_os_str().is_empty();
        let real = std::fs::canonicalize(if here { Path::new(".") } else { folder })?;
        self.folders.insert(folder.to_owned(), real.clone());
        Ok((real.join(name), kind))
    }

    /// What a path is called: a whole one by its place below the root of this folder, as in all that is told of it.
    fn called(path: &Path) -> PathBuf {
        if path.is_absolute() { root::shown(path, path) } else { path.to_owned() }
    }

    fn read_stdin(&mut self, sources: &mut Sources) -> Result<FileId, Failure> {
        let mut bytes = Vec::new();
        let read = std::io::stdin().lock().take(BYTES_MAX + 1).read_to_end(&mut bytes);
        let text = read
            .map_err(|error| NotRead::Unreadable(reason(&error)))
            .and_then(|_| decoded(bytes))
            .map_err(|why| {
                Failure::new(format!("{STDIN} cannot be read: {}", why), "pipe in UTF-8 text, under 1 MiB")
            })?;
        let folder = std::fs::canonicalize(".").unwrap_or_default();
        let root = self.root_above(&folder);
        let kept = Kept { real: PathBuf::from("-"), folder, root, marked: false };
        Ok(self.keep(sources, Path::new(STDIN), kept, text))
    }

    /// The root of a folder, asked for once.
    fn root_above(&mut self, folder: &Path) -> PathBuf {
        if let Some(root) = self.roots.get(folder) {
            return root.clone();
        }
        let root = root::above(folder);
        self.roots.insert(folder.to_owned(), root.clone());
        root
    }

    fn keep(&mut self, sources: &mut Sources, shown: &Path, kept: Kept, text: String) -> FileId {
        let name = self.named(shown, kept);
        sources.add(name, text)
    }

    /// The name of a file from now on: what it is shown as, unless another has that name.
    fn named(&self, shown: &Path, kept: Kept) -> String {
        let (mut files, mut names) = (self.files.borrow_mut(), self.names.borrow_mut());
        let name = names.entry(kept.real.clone().into_os_string()).or_insert_with(|| {
            let shown = shown.display().to_string();
            if files.contains_key(&shown) { kept.real.display().to_string() } else { shown }
        });
        files.insert(name.clone(), kept);
        name.clone()
    }

    /// The number of the file that really is there, if it was read.
    fn id(&self, sources: &Sources, real: &Path) -> Option<FileId> {
        self.names.borrow().get(real.as_os_str()).and_then(|name| sources.id(name))
    }
}

impl Files for Disk {
    fn read(&self, name: &str) -> Result<String, NotRead> {
        let real = self.files.borrow().get(name).map(|kept| kept.real.clone()).ok_or(NotRead::Outside)?;
        let kind = std::fs::metadata(&real).map_err(|error| NotRead::Unreadable(reason(&error)))?;
        let (text, marked) = text_of(&real, &kind)?;
        if let Some(kept) = self.files.borrow_mut().get_mut(name) {
            kept.marked = marked;
        }
        Ok(text)
    }

    fn resolve(&self, from: &str, path: &str) -> Result<String, NotRead> {
        let user = self.files.borrow().get(from).cloned().ok_or(NotRead::Outside)?;
        let wanted = below(&user.folder, &user.root, path).ok_or(NotRead::Outside)?;
        let real = match real_below(&user.root, &wanted) {
            Ok(real) => real,
            // An open text may have no file yet.
            Err(why @ NotRead::Unreadable(_)) => {
                return self.names.borrow().get(wanted.as_os_str()).cloned().ok_or(why);
            }
            Err(why) => return Err(why),
        };
        if let Some(name) = self.names.borrow().get(real.as_os_str()) {
            return Ok(name.clone());
        }
        let shown = root::shown_beside(&real, Path::new(from), path);
        let folder = real.parent().map(Path::to_owned).unwrap_or_default();
        let root = root::below(&user.root, &folder).to_owned();
        Ok(self.named(&shown, Kept { real, folder, root, marked: false }))
    }
}

/// An open text stands where its file does, whether that has been written yet or not.
impl Desk for Disk {
    fn lay(&mut self, path: &Path) -> String {
        self.houses.clear();
        let real = self.found(path).map(|(real, _)| real).unwrap_or_else(|_| {
            let folder = path.parent().unwrap_or(Path::new("/"));
            let folder = std::fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
            folder.join(path.file_name().unwrap_or_default())
        });
        let folder = real.parent().map(Path::to_owned).unwrap_or_default();
        let root = self.root_above(&folder);
        let shown = real.strip_prefix(&root).unwrap_or(&real).to_owned();
        self.named(&shown, Kept { real, folder, root, marked: false })
    }

    fn beside(&self, name: &str) -> Option<Vec<PathBuf>> {
        let root = self.files.borrow().get(name).map(|kept| kept.root.clone());
        root.map_or(Some(Vec::new()), |root| few_recipes_below(&root))
    }

    fn take(&mut self, path: &Path) -> Option<String> {
        // The walk followed no link, so one that is here now may lead out of the root.
        let real = std::fs::canonicalize(path).ok()?;
        (real == path).then(|| self.lay(path))
    }

    fn are_of_one_root(&self, one: &str, other: &str) -> bool {
        let files = self.files.borrow();
        let root = |name| files.get(name).map(|kept: &Kept| root::nearest(&kept.folder));
        root(one) == root(other)
    }

    fn path(&self, name: &str) -> Option<PathBuf> {
        self.files.borrow().get(name).map(|kept| kept.real.clone())
    }

    fn levels(&mut self, name: &str) -> Result<Levels, String> {
        let Some(kept) = self.files.get_mut().get(name).filter(|_| !self.no_config) else {
            return Ok(Levels::default());
        };
        let read = || levels::at(&kept.root).map_err(Failure::into_message);
        self.houses.entry(kept.root.clone()).or_insert_with(read).clone()
    }
}

/// Whether two paths are hard links of one file.
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
