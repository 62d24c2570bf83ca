//! The place of a followed session on the disk, in `.tonight/follow.json` beside the journal: what a person has said, so
//! that the same call goes on after a quit, a kill or a power cut.

use serde_json::{Value, json};

use super::super::{Failure, tonight};
use crate::emit::{Live, Press};
use crate::model::Time;

/// The name of the file in `.tonight`.
const FILE: &str = "follow.json";
/// A session goes on for this long after it was last followed.
const AGE_MAX: Time = Time::from_seconds(24 * 3600);

/// The place of a session; another session has another key.
pub(super) struct Place {
    key: String,
}

impl Place {
    pub(super) fn of(live: &Live) -> Place {
        Place { key: live.key() }
    }

    /// What was said, if this session was the last one followed and `AGE_MAX` has not passed.
    pub(super) fn kept(&self, now: Time) -> Option<Vec<Press>> {
        let kept: Value = serde_json::from_str(&tonight::kept(FILE).ok()??).ok()?;
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
        let said: Vec<Value> = said.iter().map(|press| press.to_json()).collect();
        tonight::keep(FILE, &(json!({ "version": 1, "key": self.key, "said": said }).to_string() + "\n"))
    }

    /// Forgets the session, because it is over.
    pub(super) fn forget(&self) {
        tonight::forget(FILE);
    }
}
