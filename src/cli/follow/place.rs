//! The place of a followed session on the disk, in `.tonight/follow.json` beside the journal: what a person has said, so
//! that the same call goes on after a quit, a kill or a power cut.

use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use super::super::{Failure, record, root, write};
use crate::emit::{Live, Press};
use crate::model::Time;

/// The name of the folder.
const FOLDER: &str = ".tonight";
const FILE: &str = "follow.json";
/// The most bytes of the file that are read.
const BYTES_MAX: u64 = 1 << 20;
/// A session goes on for this long after it was last followed.
const AGE_MAX: Time = Time::from_seconds(24 * 3600);

/// Where the place of a session is kept.
pub(super) struct Place {
    folder: PathBuf,
    key: String,
}

impl Place {
    /// The place of a session: beside the journal, or in the current folder if there are several journals.
    pub(super) fn of(live: &Live) -> Place {
        let journal = record::journal().ok();
        let above = journal.map_or_else(|| root::HERE.clone(), |path| root::real(root::folder_of(&path)));
        Place { folder: above.join(FOLDER), key: live.key() }
    }

    /// What was said, if the last session that was followed is this one and not long ago.
    pub(super) fn kept(&self, now: Time) -> Option<Vec<Press>> {
        let path = self.folder.join(FILE);
        // A link could lead out of this folder.
        let own = |path: &Path| std::fs::symlink_metadata(path).ok().filter(|there| !there.is_symlink());
        own(&self.folder)?;
        own(&path).filter(|file| file.is_file() && file.len() <= BYTES_MAX)?;
        let kept: Value = serde_json::from_str(&std::fs::read_to_string(path).ok()?).ok()?;
        if kept.get("key")?.as_str()? != self.key {
            return None;
        }
        let said = kept.get("said")?.as_array()?;
        let said: Vec<Press> = said.iter().map(Press::from_json).collect::<Option<_>>()?;
        let last = said.last()?.clock;
        (last <= now && now - last < AGE_MAX).then_some(said)
    }

    /// Keeps what was said, whole or not at all.
    pub(super) fn keep(&self, said: &[Press]) -> Result<(), Failure> {
        let made = match std::fs::symlink_metadata(&self.folder) {
            Ok(there) if there.is_dir() => Ok(()),
            Ok(_) => Err(std::io::Error::other("it is not a folder")),
            Err(_) => std::fs::create_dir(&self.folder),
        };
        let shown = self.folder.display();
        made.map_err(|error| Failure::new(format!("{shown} cannot be used: {error}"), ""))?;
        let ignore = self.folder.join(".gitignore");
        if !ignore.exists() {
            write::output(&ignore, b"*\n")?;
        }
        let said: Vec<Value> = said.iter().map(|press| press.to_json()).collect();
        let text = json!({ "version": 1, "key": self.key, "said": said }).to_string() + "\n";
        write::output(&self.folder.join(FILE), text.as_bytes())
    }

    /// Forgets the session, because it is over.
    pub(super) fn forget(&self) {
        let _ = std::fs::remove_file(self.folder.join(FILE));
    }
}
