//! `record --correct`: in one new file, retracts the session that names a wrong roll or bottle, and states the session
//! again with the right one.

use std::sync::Arc;

use super::super::entry::{Entry, Line, Name, Retraction};
use super::super::find::{Index, Sought};
use super::super::{Ended, Failure, Reader, fail, root};
use super::Arguments;
use super::doubt::{Doubt, Work, of_bottle, told};
use super::ledger::Ledger;
use super::undo::named;
use crate::check::Levels;
use crate::model::{Backlog, Darkroom, KeptBath, Recipe, Session, Slot};
use crate::source::first_few;
use crate::syntax::{Statement, parse};
use crate::vocabulary::{Declared, suggest};

/// What `--correct` changes in a session.
enum Change<'a> {
    /// The label of a roll or the name of a bottle: first the wrong one, then the right one.
    Name(&'a str, &'a str),
    /// The label of a roll, and the name of the roll's right film.
    Film(&'a str, &'a str),
}

impl<'a> Change<'a> {
    fn of(asked: &'a str, film: Option<&'a str>) -> Result<Change<'a>, Failure> {
        let help = "write --correct E-01=E-03, or --correct E-01 --film estuary-400";
        match (asked.split_once('='), film) {
            (Some((old, new)), None) if !old.trim().is_empty() && !new.trim().is_empty() => {
                Ok(Change::Name(old.trim(), new.trim()))
            }
            (None, Some(film)) => Ok(Change::Film(asked.trim(), film)),
            (Some(_), Some(_)) => fail("--film needs a label alone", help),
            _ => fail(format!("'{asked}' does not say what is right"), help),
        }
    }

    fn old(&self) -> &'a str {
        match self {
            Change::Name(old, _) | Change::Film(old, _) => old,
        }
    }

    fn reason(&self) -> String {
        match self {
            Change::Name(old, new) => format!("{old} was {new}"),
            Change::Film(label, film) => format!("{label} is {film}"),
        }
    }
}

pub(super) fn run(arguments: &Arguments, asked: &str) -> Result<Ended, Failure> {
    let change = Change::of(asked, arguments.film.as_deref())?;
    if let Change::Film(_, film) = change {
        Index::of_name(Declared::Film, film).find(&Sought::below(Declared::Film, film))?;
    }
    let ledger = Ledger::open(arguments.journal.as_deref())?;
    let session = Arc::clone(session_of(&ledger, change.old())?);
    let mut doubts = Vec::new();
    let lines = lines(&ledger, &session, &change, &mut doubts)?;
    let reason = arguments.because.clone().unwrap_or_else(|| change.reason());
    let retraction = Some(Retraction { session: named(&session), reason });
    let mut note = told(&doubts, &arguments.of_journal());
    if let Change::Film(label, film) = change {
        note += &line_of_list(&ledger, &session, label, film);
    }
    ledger.add(*session.date, &Entry { retraction, lines }, |_, _, _| Ok(note))
}

/// The session that has a roll labelled `old`, or else used a bottle named `old`. Of several such sessions, the only
/// one with a doubt about this roll or bottle, else the only one of the latest day.
fn session_of<'a>(ledger: &'a Ledger, old: &str) -> Result<&'a Arc<Session>, Failure> {
    let standing = || ledger.sessions().filter(|session| session.retracted.is_none());
    let is_old = |slot: &&Slot| slot.label.as_deref() == Some(old);
    let of_roll = standing().filter(|session| session.slots.iter().any(|slot| is_old(&slot)));
    let mut found: Vec<&Arc<Session>> = of_roll.collect();
    if found.is_empty() {
        found.extend(standing().filter(|session| session.baths.iter().any(|used| used.bath.name == old)));
    }
    let is_doubted = |session: &&Arc<Session>| {
        session.slots.iter().filter(is_old).any(|slot| slot.doubt.is_some())
            || session.baths.iter().any(|used| used.bath.name == old && used.doubt.is_some())
    };
    let latest = found.iter().map(|session| *session.date).max();
    let of_latest = |session: &&Arc<Session>| Some(*session.date) == latest;
    let doubted = found.iter().copied().filter(is_doubted).collect::<Vec<_>>();
    let newest = found.iter().copied().filter(of_latest).collect::<Vec<_>>();
    match (found.as_slice(), doubted.as_slice(), newest.as_slice()) {
        ([one], ..) | (_, [one], _) | (_, _, [one]) => Ok(one),
        ([], ..) => {
            let labels =
                standing().flat_map(|session| &session.slots).filter_map(|slot| slot.label.as_deref());
            let help = match suggest(old, labels) {
                Some(near) => format!("did you mean {near}?"),
                None => {
                    "write the label as in the session, or name another journal with --journal".to_owned()
                }
            };
            fail(format!("no session of {} has a roll or a bath '{old}'", ledger.name()), help)
        }
        (several, ..) => {
            let names = first_few(several.iter().map(|session| session.name.as_str()), ", ");
            fail(
                format!("{} sessions have '{old}': {names}", several.len()),
                "nothing was recorded; retract the wrong one with --undo, and record it again",
            )
        }
    }
}

/// The lines of the session as its file has them, with `change` applied. New doubts are added to `doubts`.
fn lines(
    ledger: &Ledger,
    session: &Session,
    change: &Change<'_>,
    doubts: &mut Vec<Doubt>,
) -> Result<Vec<Line>, Failure> {
    let mut darkroom: Darkroom = ledger.shelf.darkroom.clone();
    darkroom.sessions.retain(|other| other.span != session.span);
    let mut lines = Vec::new();
    for statement in statements(ledger, session) {
        let slot = session.slots.iter().find(|slot| slot.span == statement.span);
        let used = session.baths.iter().find(|used| used.span == statement.span);
        let text = ledger.reader.sources.slice(statement.span);
        if let Some(slot) = slot {
            lines.push(slot_line(slot, session, &darkroom, change, doubts));
        } else if let Some(used) = used {
            let mut bath = Name { file: used.bath.span.file, name: used.bath.name.clone() };
            let mut doubt = used.doubt.clone();
            if let Change::Name(old, new) = change
                && *old == bath.name
            {
                bath = ledger.name_of(Declared::Bath, new)?;
                let is_it = |one: &&Arc<KeptBath>| one.span.file == bath.file && one.name == bath.name;
                let found = darkroom.bottles().find(is_it);
                let film = if used.is_second { 0 } else { session.area() };
                let found = found.and_then(|one| of_bottle(&darkroom, one, *session.date, film));
                doubt = found.as_ref().map(|found| found.words.clone());
                doubts.extend(found);
            }
            lines.push(Line::Bath { bath, is_second: used.is_second, doubt });
        } else if let Some(backlog) = session.backlog.as_ref().filter(|_| text.starts_with("backlog")) {
            lines.push(Line::Backlog(Name { file: backlog.span.file, name: backlog.name.clone() }));
        } else {
            lines.push(Line::Plain(text.to_owned()));
        }
    }
    if let Change::Film(label, film) = change {
        lines.push(Line::Plain(format!("note \"{label} is {film}, whatever the backlog says\"")));
    }
    Ok(lines)
}

fn statements(ledger: &Ledger, session: &Session) -> Vec<Statement> {
    let (tree, _) = parse(&ledger.reader.sources, session.span.file);
    let block = tree.statements.into_iter().find(|statement| statement.span == session.span);
    block.and_then(|statement| statement.block).unwrap_or_default()
}

fn slot_line(
    slot: &Slot,
    session: &Session,
    darkroom: &Darkroom,
    change: &Change<'_>,
    doubts: &mut Vec<Doubt>,
) -> Line {
    let (mut label, mut doubt) = (slot.label.clone(), slot.doubt.clone());
    if label.as_deref() == Some(change.old()) {
        let recipe = recipe_named(&session.recipe);
        let film = recipe.as_ref().and_then(|recipe| recipe.film.as_ref());
        let new = if let Change::Name(_, new) = change { new } else { change.old() };
        let others = session.slots.iter().filter(|other| other.slot < slot.slot);
        let before: Vec<&str> = others.filter_map(|other| other.label.as_deref()).collect();
        let found = session.backlog.as_ref().and_then(|backlog| {
            let is_named = matches!(change, Change::Name(..));
            let index = recipe.as_ref().and_then(|recipe| recipe.index.or(film?.speed)).map(|index| *index);
            let film = film.filter(|_| is_named).map(|film| &***film);
            let index = index.filter(|_| is_named);
            let labels = session.slots.iter().filter_map(|slot| slot.label.as_deref()).collect();
            let work = Work { darkroom, backlog, on: *session.date, film, index, labels };
            work.doubt(slot.slot, new, slot.format, &before)
        });
        label = Some(new.to_owned());
        doubt = found.as_ref().map(|found| found.words.clone());
        doubts.extend(found);
    }
    Line::Slot { slot: slot.slot, label, format: slot.format, both_sides: slot.both_sides, doubt }
}

/// The recipe called `name` below the current folder; `None` unless exactly one file declares it, without errors.
fn recipe_named(name: &str) -> Option<Arc<Recipe>> {
    let index = Index::of_name(Declared::Recipe, name);
    let [path] = &*index.declaring(&[Declared::Recipe], Some(name)) else { return None };
    let mut reader = Reader::default();
    let file = reader.read(path).ok()?;
    let (shelf, _) = reader.check(&[file], &Levels::default());
    shelf.recipe(file, name).cloned()
}

/// The advice to correct the line of a roll in its backlog, with the corrected line. Empty if the line names the right
/// film.
fn line_of_list(ledger: &Ledger, session: &Session, label: &str, film: &str) -> String {
    let roll = session.backlog.as_deref().and_then(|backlog: &Backlog| backlog.roll(label));
    let Some(roll) = roll.filter(|roll| roll.film.name != film) else { return String::new() };
    let sources = &ledger.reader.sources;
    let place = format!("{}:{}", sources.name(roll.span.file), sources.place(roll.span).line);
    let right =
        sources.slice(roll.span).replacen(&format!("of {}", roll.film.name), &format!("of {film}"), 1);
    format!("\ncorrect the backlog too, {}: {}\n", root::printable(&place), root::printable(&right))
}
