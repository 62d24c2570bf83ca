//! A cache for searches of past commits. A mark is the beginning of a recipe's fingerprint, and the recipe's file.
//! Marks are kept in git's folder, beside its objects, and may be deleted at any time. A file of marks that is missing,
//! cut or changed is ignored: that costs time and changes no answer.

use std::fs;
use std::io::{Read as _, Write as _};
use std::path::PathBuf;

use sha2::{Digest, Sha256};

use super::Past;
use crate::cli::revision::git;
use crate::cli::root;

/// The folder in git's folder.
const FOLDER: &str = "wetside";
/// The most bytes of a file of marks.
const MOST: u64 = 64 << 20;
/// The length of a sum, in hexadecimal digits.
const SUM: usize = 64;

/// A commit, and the later one that it is compared with: their hashes. The second is empty for the newest commit.
type Step<'a> = (&'a str, &'a str);

/// The mark of a recipe.
pub(super) struct Mark {
    /// The beginning of its fingerprint.
    pub(super) beginning: String,
    /// The file that declares it.
    pub(super) file: String,
}

/// The folder with the marks that this version of the program has kept.
pub(super) struct Marks {
    folder: PathBuf,
    prefix: String,
}

impl Marks {
    /// `None` if git has no folder, or if the folder of the marks is a link.
    pub(super) fn of(past: &Past) -> Option<Marks> {
        let git = git(&root::ROOT, &["rev-parse", "--git-common-dir"]).ok()??;
        let git = root::ROOT.join(String::from_utf8(git).ok()?.trim_end_matches('\n'));
        let above = git.join(FOLDER);
        let folder = above.join(format!("marks-{}", env!("CARGO_PKG_VERSION")));
        let is_own = |folder: &PathBuf| fs::symlink_metadata(folder).map_or(true, |found| found.is_dir());
        (is_own(&above) && is_own(&folder)).then(|| Marks { folder, prefix: past.prefix.clone() })
    }

    /// The first line of the file of a step: which recipes the file is about.
    fn head(&self, (commit, later): Step<'_>) -> String {
        format!("{commit} {later} {}\n", self.prefix)
    }

    fn file(&self, step: Step<'_>) -> PathBuf {
        self.folder.join(sum(&self.head(step)))
    }

    /// The marks of the recipes of a step; `None` if they are not known.
    pub(super) fn read(&self, step: Step<'_>) -> Option<Vec<Mark>> {
        let path = self.file(step);
        // A pipe would never end.
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

    /// Keeps the marks of the recipes of a step. If they cannot be kept, the next search takes longer.
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
            // What other versions of the program have kept is of no more use.
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
