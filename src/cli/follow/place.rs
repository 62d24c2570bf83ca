//! Stores the keys that a person has pressed while following a session, in `.tonight/follow.json` beside the journal.
//! After a quit, a kill or a power cut, the same call reads them and goes on.

use serde_json::{Value, json};

use super::super::{Failure, tonight};
use crate::emit::{Live, Press};
use crate::model::Time;

const FILE: &str = "follow.json";
/// A session can be resumed until this long after the last key press.
const AGE_MAX: Time = Time::from_seconds(24 * 3600);

/// The stored state of a followed session. `key` identifies the session.
pub(super) struct Place {
    key: String,
}

impl Place {
    pub(super) fn of(live: &Live) -> Place {
        Place { key: live.key() }
    }

    /// The stored key presses, if they are of this session and the last one is younger than `AGE_MAX`.
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

    /// Stores the key presses. The file is replaced as a whole, so a killed write leaves the old one.
    pub(super) fn keep(&self, said: &[Press]) -> Result<(), Failure> {
        let said: Vec<Value> = said.iter().map(|press| press.to_json()).collect();
        tonight::keep(FILE, &(json!({ "version": 1, "key": self.key, "said": said }).to_string() + "\n"))
    }

    /// Deletes the stored state, because the session is over.
    pub(super) fn forget(&self) {
        tonight::forget(FILE);
    }
}
