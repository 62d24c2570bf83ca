//! The lock of a collection: where its files come from, and the SHA-256 of each file, so that a change to a file is
//! noticed. The lock of the same revision always has the same bytes.

use sha2::{Digest, Sha256};

use super::Files;
use crate::cli::{Failure, fail};
use crate::source::Map;

const HEAD: &str = "# Written by wetside adopt. Do not edit.";

#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Lock {
    /// The folder or address that the collection was adopted from.
    pub(super) origin: String,
    /// The git commit that was adopted; `None` if the origin is a plain folder.
    pub(super) revision: Option<String>,
    /// The SHA-256 of each file's text, in hexadecimal. The keys are paths in the collection.
    pub(super) files: Map<String, String>,
}

impl Lock {
    pub(super) fn of(origin: &str, revision: Option<&str>, files: &Files) -> Lock {
        let files = files.iter().map(|(path, text)| (path.clone(), hash(text)));
        Lock { origin: origin.to_owned(), revision: revision.map(str::to_owned), files: files.collect() }
    }

    pub(super) fn text(&self) -> String {
        let mut text = format!("{HEAD}\norigin {}\n", self.origin);
        if let Some(revision) = &self.revision {
            text += &format!("revision {revision}\n");
        }
        self.files.iter().for_each(|(path, hash)| text += &format!("{path} {hash}\n"));
        text
    }

    /// Parses the text of a lock file. If git left conflict markers in it, only the origin is read, and both sides of
    /// the conflict must state the same origin.
    pub(super) fn read(text: &str, name: &str) -> Result<Read, Failure> {
        let is_conflicted =
            text.lines().any(|line| line.starts_with("<<<<<<<") || line.starts_with(">>>>>>>"));
        let mut origins: Vec<&str> = text.lines().filter_map(|line| line.strip_prefix("origin ")).collect();
        origins.dedup();
        let [origin] = origins.as_slice() else {
            let what = match origins.as_slice() {
                [] => "names no origin".to_owned(),
                origins => format!("names several origins: {}", origins.join(", ")),
            };
            return fail(
                format!("collections/{name}.lock {what}"),
                format!("keep the right 'origin' line in it, then run: wetside adopt --update {name}"),
            );
        };
        let mut lock = Lock { origin: (*origin).to_owned(), revision: None, files: Map::new() };
        if is_conflicted {
            return Ok(Read { lock, is_conflicted });
        }
        for line in text.lines().filter(|line| !line.starts_with('#') && !line.starts_with("origin ")) {
            match line.rsplit_once(' ') {
                Some(("revision", revision)) => lock.revision = Some(revision.to_owned()),
                Some((path, hash)) if hash.len() == 64 => {
                    _ = lock.files.insert(path.to_owned(), hash.to_owned())
                }
                _ => {
                    return fail(
                        format!("collections/{name}.lock has a line that no lock has: {line}"),
                        format!("restore it with git, or write it again: wetside adopt --update {name}"),
                    );
                }
            }
        }
        Ok(Read { lock, is_conflicted })
    }

    /// How `files` differ from the files that the lock lists. Each pair is the word `changed`, `missing` or `added`,
    /// and the path of the file.
    pub(super) fn differences(&self, files: &Files) -> Vec<(&'static str, String)> {
        let mut found = Vec::new();
        for (path, expected) in &self.files {
            match files.get(path) {
                None => found.push(("missing", path.clone())),
                Some(text) if hash(text) != *expected => found.push(("changed", path.clone())),
                Some(_) => {}
            }
        }
        let added = files.keys().filter(|path| !self.files.contains_key(*path));
        found.extend(added.map(|path| ("added", path.clone())));
        found
    }
}

pub(super) struct Read {
    pub(super) lock: Lock,
    pub(super) is_conflicted: bool,
}

fn hash(text: &str) -> String {
    Sha256::digest(with_line_feeds(text).as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The text with line feeds in place of CR LF, as git stores it. The hashes in a lock file are of such texts.
pub(super) fn with_line_feeds(text: &str) -> String {
    text.replace("\r\n", "\n")
}
