//! `record --undo`: retracts a session in a new file.

use std::sync::Arc;

use super::super::entry::{Entry, Name, Retraction};
use super::super::find::Sought;
use super::super::{Ended, Failure, fail, given};
use super::Arguments;
use super::ledger::Ledger;
use crate::model::Session;
use crate::source::first_few;
use crate::vocabulary::Declared;

/// Retracts the named session, or else the last session that is not retracted. Adds a file with a `retract` line to the
/// journal and erases nothing.
pub(super) fn run(arguments: &Arguments, named: Option<&str>) -> Result<Ended, Failure> {
    let Some(because) = &arguments.because else {
        return fail("--undo needs a reason", "write --because \"it was a different tank\"");
    };
    let ledger = Ledger::open(arguments.journal.as_deref())?;
    let session = match named {
        None => last(&ledger)?,
        Some(name) => {
            let place = format!("among the sound sessions of {}", ledger.name());
            let help = Some("name another journal with --journal".to_owned());
            let sought = Sought { otherwise: help, ..Sought::within(Declared::Session, name, place) };
            let own = ledger
                .sessions()
                .chain(&ledger.shelf.darkroom.planned)
                .map(|session| (session.name.as_str(), session.span.file, session));
            sought.among(own, &ledger.reader.sources)?
        }
    };
    let name = &session.name;
    if let Some(why) = &session.retracted {
        return fail(
            format!("'{name}' is already retracted: {}", why.value),
            "nothing was recorded; name another session",
        );
    }
    let retraction = Some(Retraction { session: self::named(session), reason: because.clone() });
    let entry = Entry { retraction, lines: Vec::new() };
    ledger.add(given::day("--date", None)?, &entry, |_, _, _| Ok(String::new()))
}

pub(super) fn named(session: &Session) -> Name {
    Name { file: session.span.file, name: session.name.clone() }
}

/// Of the sessions that are not retracted, the one of the latest day. If one file has several sessions of that day, the
/// last of them. Fails if several files have sessions of that day.
fn last(ledger: &Ledger) -> Result<&Arc<Session>, Failure> {
    let standing = || ledger.sessions().filter(|session| session.retracted.is_none());
    let latest = standing().map(|session| *session.date).max();
    let of_day: Vec<_> = standing().filter(|session| Some(*session.date) == latest).collect();
    match of_day.as_slice() {
        [] => fail(
            format!("there is no session to retract in {}", ledger.name()),
            "nothing was recorded; name another journal with --journal",
        ),
        [.., last] if of_day.iter().all(|session| session.span.file == last.span.file) => Ok(last),
        [first, ..] => {
            let names = first_few(of_day.iter().map(|session| session.name.as_str()), ", ");
            fail(
                format!("{} sessions were on {}: {names}", of_day.len(), *first.date),
                format!("nothing was recorded; name one: --undo {}", first.name),
            )
        }
    }
}
