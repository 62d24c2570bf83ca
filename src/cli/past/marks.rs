//! A cache for searches of past commits for a fingerprint. A mark is the beginning of a recipe's fingerprint, and the
//! path of the recipe's file. Marks are kept in git's folder, beside its objects, and may be deleted at any time. A
//! file of marks that is missing, cut or changed is ignored: that costs time and changes no answer.

use std::fs;
use std::io::{Read as _, Write as _};
use std::path::PathBuf;

use sha2::{Digest, Sha256};

use super::Past;
use crate::cli::revision::git;
use crate::cli::root;

/// The name of the cache's folder in `.git`.
const FOLDER: &str = "wetside";
/// The maximum size of a cache file, in bytes.
const MOST: u64 = 64 << 20;
/// The length of a SHA-256 sum in hexadecimal digits.
const SUM: usize = 64;

/// The hashes of a commit and of the commit after it; the second hash is empty for the newest commit.
type Step<'a> = (&'a str, &'a str);

/// A cached recipe of a past commit.
pub(super) struct Mark {
    /// The first characters of the recipe's fingerprint.
    pub(super) beginning: String,
    pub(super) file: String,
}

/// The folder with the cache files of this version of the program.
pub(super) struct Marks {
    folder: PathBuf,
    prefix: String,
}

impl Marks {
    /// The cache for the root of the current folder. `None` if there is no `.git` folder, or if the cache's folder is a
    /// link.
    pub(super) fn of(past: &Past) -> Option<Marks> {
        let git = git(&root::ROOT, &["rev-parse", "--git-common-dir"]).ok()??;
        let git = root::ROOT.join(String::from_utf8(git).ok()?.trim_end_matches('\n'));
        let above = git.join(FOLDER);
        let folder = above.join(format!("marks-{}", env!("CARGO_PKG_VERSION")));
        let is_own = |folder: &PathBuf| fs::symlink_metadata(folder).map_or(true, |found| found.is_dir());
        (is_own(&above) && is_own(&folder)).then(|| Marks { folder, prefix: past.prefix.clone() })
    }

    /// The first line of the cache file of a step: the two hashes of the step, and the path of the root in the
    /// repository.
    fn head(&self, (commit, later): Step<'_>) -> String {
        format!("{commit} {later} {}\n", self.prefix)
    }

    fn file(&self, step: Step<'_>) -> PathBuf {
        self.folder.join(sum(&self.head(step)))
    }

    /// The cached recipes of a commit and the commit after it (`step`); `None` if the cache does not have them.
    pub(super) fn read(&self, step: Step<'_>) -> Option<Vec<Mark>> {
        let path = self.file(step);
        // Only a plain file is opened, because reading a named pipe could block forever.
        fs::symlink_metadata(&path).ok().filter(fs::Metadata::is_file)?;
        let mut text = String::new();
        fs::File::open(path).ok()?.take(MOST).read_to_string(&mut text).ok()?;
        let (body, last) = text.split_at_checked(text.len().checked_sub(SUM)?)?;
        let lines = body.strip_prefix(&self.head(step)).filter(|_| sum(body) == last)?;
        let mark = |line: &str| {
            let (beginning, file) = line.split_once(' ')?;
            Some(Mark { beginning: beginning.to_owned(), file: file.to_owned() })
        };
        lines.lines().map(mark).collect()
    }

    /// Caches the recipes of a commit and the commit after it (`step`). A failure is ignored, since it only makes the
    /// next search slower.
    pub(super) fn write(&self, step: Step<'_>, marks: impl Iterator<Item = Mark>) {
        let mut text = self.head(step);
        for mark in marks {
            if mark.file.contains(['\n', '\r']) {
                return;
            }
            text += &format!("{} {}\n", mark.beginning, mark.file);
        }
        text += &sum(&text);
        let _ = self.written(step, &text);
    }

    fn written(&self, step: Step<'_>, text: &str) -> Option<()> {
        if !self.folder.is_dir() {
            // Deletes the caches of other versions of the program.
            let _ = fs::remove_dir_all(self.folder.parent()?);
            fs::create_dir_all(&self.folder).ok()?;
        }
        let mut part = tempfile::NamedTempFile::new_in(&self.folder).ok()?;
        part.write_all(text.as_bytes()).ok()?;
        part.persist(self.file(step)).ok()?;
        Some(())
    }
}

fn sum(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect()
}
