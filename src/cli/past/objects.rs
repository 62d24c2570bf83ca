//! Reads the contents of git objects through one process of git.

use std::collections::BTreeMap;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Stdio};
use std::sync::Arc;

use crate::cli::revision::command;
use crate::disk::decoded;
use crate::source::BYTES_MAX;

/// A running `git cat-file --batch`, which prints the contents of git objects.
pub(super) struct Objects {
    process: Child,
    asks: ChildStdin,
    answers: BufReader<ChildStdout>,
    /// A cache of the texts of objects. The keys are hashes; the value is `None` if the object cannot be the text of a
    /// recipe file.
    texts: BTreeMap<String, Option<Arc<str>>>,
}

impl Objects {
    pub(super) fn open(folder: &Path) -> Option<Objects> {
        let mut call = command(folder, &["cat-file", "--batch"]);
        call.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
        let mut process = call.spawn().ok()?;
        let (asks, answers) = (process.stdin.take()?, BufReader::new(process.stdout.take()?));
        Some(Objects { process, asks, answers, texts: BTreeMap::new() })
    }

    /// The text of an object; `None` if the object cannot be read, is not text, or is too large for a recipe file.
    pub(super) fn text(&mut self, hash: &str) -> Option<Arc<str>> {
        if let Some(known) = self.texts.get(hash) {
            return known.clone();
        }
        let text = self.read(hash).map(Arc::from);
        self.texts.insert(hash.to_owned(), text.clone());
        text
    }

    fn read(&mut self, hash: &str) -> Option<String> {
        self.asks.write_all(format!("{hash}\n").as_bytes()).and_then(|()| self.asks.flush()).ok()?;
        let mut head = String::new();
        self.answers.read_line(&mut head).ok()?;
        let size: u64 = head.trim_end().rsplit(' ').next()?.parse().ok()?;
        let (mut bytes, mut object) = (Vec::new(), (&mut self.answers).take(size.checked_add(1)?));
        object.by_ref().take(BYTES_MAX + 1).read_to_end(&mut bytes).ok()?;
        std::io::copy(&mut object, &mut std::io::sink()).ok()?;
        // The last byte read is the line feed that git prints after the object.
        bytes.pop().filter(|_| size <= BYTES_MAX)?;
        decoded(bytes).ok()
    }
}

impl Drop for Objects {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}
