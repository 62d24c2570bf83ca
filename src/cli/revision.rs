//! Reads recipes at a revision of git, without a shell. The revision's name is used only to find its commit. All files
//! are then read from that commit.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use super::{Failure, fail};
use crate::disk::decoded;
use crate::source::{BYTES_MAX, FileId, Files, NotRead, Sources, below, root_in, with_slashes};

/// The characters, besides letters and digits, that the name of a revision may have.
const SIGNS: &str = "/._-~^@{}+=,#%:";

/// The files of a revision. The name of a file consists of the revision, a colon, and the path from the root of the
/// repository.
pub(super) struct Revision {
    named: String,
    commit: String,
    /// The path of the current folder, relative to the root of the repository.
    folder: PathBuf,
}

impl Revision {
    pub(super) fn of(named: &str) -> Result<Revision, Failure> {
        let strange = |letter: char| !letter.is_alphanumeric() && !SIGNS.contains(letter);
        if named.is_empty() || named.starts_with('-') || named.contains(strange) {
            return fail(
                format!("'{named}' is not a revision"),
                "write a branch, a tag or a commit before the colon: HEAD~1:recipes/films.wet",
            );
        }
        let here = Path::new(".");
        let folder = git(here, &["rev-parse", "--show-prefix"])?.ok_or_else(|| {
            Failure::new(
                "this folder is in no repository that git can read",
                "compare two files, or go to the folder of the recipes",
            )
        })?;
        let commit = commit(here, named)?.ok_or_else(|| {
            Failure::new(
                format!("git has no revision '{named}' here"),
                "git log --oneline lists the commits, git branch the branches",
            )
        })?;
        let folder = String::from_utf8_lossy(&folder).trim_end_matches(['\n', '/']).to_owned();
        Ok(Revision { named: named.to_owned(), commit, folder: PathBuf::from(folder) })
    }

    /// Reads the file that the revision has at `path`, which is relative to the current folder.
    pub(super) fn read_named(&self, sources: &mut Sources, path: &str) -> Result<FileId, Failure> {
        let read = self.below(&self.folder, Path::new(""), path).and_then(|name| {
            let text = self.read(&name)?;
            Ok(sources.add(name, text))
        });
        let named = &self.named;
        read.map_err(|why| {
            let help = match &why {
                NotRead::Outside | NotRead::OfCollection => {
                    "name a .wet file of this repository by its path from this folder".to_owned()
                }
                NotRead::NotText(_) | NotRead::TooLarge => "a recipe is UTF-8 text, under 1 MiB".to_owned(),
                NotRead::Unreadable(_) | NotRead::TooMany => {
                    format!("git ls-tree -r --name-only {named} lists its files")
                }
            };
            Failure::new(format!("{named}:{path} cannot be read: {}", why), help)
        })
    }

    /// The name of the file at `path`, which is relative to `folder`. `folder` and `root` are relative to the root of
    /// the repository. Fails if the file is not below `root`.
    fn below(&self, folder: &Path, root: &Path, path: &str) -> Result<String, NotRead> {
        let inside = below(folder, root, path).ok_or(NotRead::Outside)?;
        Ok(format!("{}:{}", self.named, with_slashes(&inside)))
    }

    /// The path from the root of the repository, which a file's name has after the revision and the colon.
    fn inside<'a>(&self, name: &'a str) -> Result<&'a str, NotRead> {
        let path = name.strip_prefix(&self.named).and_then(|rest| rest.strip_prefix(':'));
        path.ok_or(NotRead::Outside)
    }
}

impl Files for Revision {
    fn resolve(&self, from: &str, path: &str) -> Result<String, NotRead> {
        let user = Path::new(self.inside(from)?);
        self.below(user.parent().unwrap_or(Path::new("")), &root_in(user), path)
    }

    fn depth(&self, name: &str) -> usize {
        let inside = Path::new(self.inside(name).unwrap_or_default());
        let folders = |path: &Path| path.components().count();
        inside.parent().map_or(0, folders).saturating_sub(folders(&root_in(inside)))
    }

    fn read(&self, name: &str) -> Result<String, NotRead> {
        let path = self.inside(name)?;
        let unreadable = |words: &str| NotRead::Unreadable(words.to_owned());
        let git =
            |arguments: &[&str]| git(Path::new("."), arguments).map_err(|_| unreadable("git cannot be run"));
        let row = git(&["ls-tree", "-z", "-l", "--full-tree", &self.commit, "--", path])?;
        let row = row.map(|bytes| String::from_utf8_lossy(&bytes).into_owned()).unwrap_or_default();
        let mut columns = row.split_whitespace();
        match columns.next().unwrap_or("") {
            "100644" | "100664" | "100755" => {}
            "" => return Err(unreadable("there was no such file")),
            _ => return Err(unreadable("it was not a plain file")),
        }
        if columns.nth(2).and_then(|size| size.parse().ok()).is_none_or(|size: u64| size > BYTES_MAX) {
            return Err(NotRead::TooLarge);
        }
        let object = format!("{}:{path}", self.commit);
        let bytes = git(&["show", "--no-textconv", "--end-of-options", &object])?;
        decoded(bytes.ok_or_else(|| unreadable("git does not have it"))?)
    }
}

/// The current commit (`HEAD`) of a folder's repository, if the file `name` of the folder has this text in that commit.
/// Line endings may differ, since git may convert them.
pub(super) fn holding(folder: &Path, name: &str, text: &str) -> Option<String> {
    let commit = commit(folder, "HEAD").ok()??;
    let object = format!("{commit}:./{name}");
    let size = String::from_utf8(git(folder, &["cat-file", "-s", &object]).ok()??).ok()?;
    size.trim().parse().ok().filter(|size: &u64| *size <= BYTES_MAX)?;
    let then = git(folder, &["show", "--no-textconv", "--end-of-options", &object]).ok()??;
    let same = |text: &str| text.replace("\r\n", "\n");
    (same(&decoded(then).ok()?) == same(text)).then_some(commit)
}

/// The hash of the commit that the revision `named` means in the repository of a folder; `None` if there is no such
/// commit.
fn commit(folder: &Path, named: &str) -> Result<Option<String>, Failure> {
    let named = format!("{named}^{{commit}}");
    let found = git(folder, &["rev-parse", "--verify", "--quiet", "--end-of-options", &named])?;
    Ok(found.map(|bytes| String::from_utf8_lossy(&bytes).trim().to_owned()))
}

/// A call of git that does not prompt, fetch, expand patterns in paths, or run a program of the repository.
pub(super) fn command(folder: &Path, arguments: &[&str]) -> Command {
    let mut call = Command::new("git");
    call.args(["--no-pager", "--literal-pathspecs", "-c", "core.fsmonitor=false", "-c", "core.hooksPath="])
        .args(arguments)
        .current_dir(folder)
        .envs([("GIT_OPTIONAL_LOCKS", "0"), ("GIT_TERMINAL_PROMPT", "0"), ("GIT_NO_LAZY_FETCH", "1")]);
    call
}

/// Runs git and returns its output; `None` if git fails.
pub(super) fn git(folder: &Path, arguments: &[&str]) -> Result<Option<Vec<u8>>, Failure> {
    let run = command(folder, arguments).stdin(Stdio::null()).output();
    let run = run.map_err(|error| {
        Failure::new(format!("git cannot be run: {error}"), "install git, or compare two files")
    })?;
    Ok(run.status.success().then_some(run.stdout))
}
