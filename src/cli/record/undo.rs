//! `record --undo`: withdraws a session by appending a line. Nothing is erased.

use super::super::failure::Failure;
use super::super::find::Sought;
use super::super::{Ended, output};
use super::call::Undo;
use super::ledger::{Ledger, tidied};
use super::not_recorded;
use crate::source::Level;
use crate::vocabulary::Declared;

/// Finds the session and appends the line.
pub(super) fn run(undo: &Undo) -> Result<Ended, Failure> {
    let ledger = Ledger::open(undo.journal.as_deref())?;
    let name = which(undo, &ledger)?;
    let line = tidied(&format!("retract {name} because \"{}\"\n", undo.because));
    let text = ledger.with(&[], &line);
    let checked = ledger.checked(&text)?;
    if checked.findings.iter().any(|finding| finding.level == Level::Error) {
        return Err(not_recorded(&ledger, checked));
    }
    ledger.write(&text)?;
    output::print(format!("recorded in {}:\n\n{line}", ledger.name()))?;
    Ok(Ended::Done)
}

/// The named session, or the last one that is not withdrawn.
fn which(undo: &Undo, ledger: &Ledger) -> Result<String, Failure> {
    let own = || {
        let all = ledger.shelf.darkroom.sessions.iter();
        all.filter(|session| Some(session.span.file) == ledger.file())
    };
    let Some(wanted) = &undo.session else {
        let standing = own().filter(|session| session.retracted.is_none());
        let last = standing.max_by_key(|session| session.span.start);
        return last.map(|session| session.name.clone()).ok_or_else(|| {
            Failure::new(
                format!("no session stands in {}, so there is none to take back", ledger.name()),
                "nothing was recorded; name another journal with --journal",
            )
        });
    };
    match own().find(|session| session.name == *wanted) {
        Some(session) => match &session.retracted {
            None => Ok(wanted.clone()),
            Some(why) => Err(Failure::new(
                format!("'{wanted}' is taken back already: {}", why.value),
                "nothing was recorded; a session is taken back once",
            )),
        },
        None => {
            let place = format!("among the sound sessions of {}", ledger.name());
            let otherwise = Some("name another journal with --journal".to_owned());
            let sought = Sought { otherwise, ..Sought::within(Declared::Session, wanted, place) };
            Err(sought.absent(own().map(|session| session.name.as_str())))
        }
    }
}
