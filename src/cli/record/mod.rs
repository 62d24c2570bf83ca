//! `record`: appends a session to the journal, unless it contradicts what the journal says.

mod block;
mod call;
mod ledger;
mod names;
mod undo;

pub(super) use call::Arguments;

use super::card::labels_fit;
use super::choose::{choose, compiled};
use super::disk::Reader;
use super::failure::Failure;
use super::{Ended, darkroom, given, output, revision, root};
use crate::check::{Checked, declared_names};
use crate::compile::{Schedule, Slot};
use crate::editor::Desk;
use crate::journal::developed;
use crate::model::{Backlog, Date};
use crate::source::{FileId, Level, first_few};
use crate::vocabulary::Declared;
use call::Done;
use ledger::{Ledger, tidied};
use names::{Known, Namer};

/// Records or withdraws a session.
pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    match arguments {
        Arguments::Done(done) => record(done),
        Arguments::Undo(undo) => undo::run(undo),
    }
}

fn record(done: &Done) -> Result<Ended, Failure> {
    let mut reader = Reader::default();
    let mut choice = choose("record", &done.evening, done.date, &mut reader)?;
    labels_fit(&done.evening, &done.label)?;
    choice.conditions.labels.clone_from(&done.label);
    let revision = revision_of(&reader);
    let schedule = compiled(choice, &mut reader)?;
    let ledger = Ledger::open(done.journal.as_deref())?;
    let date = day(done, &ledger)?;
    let mut namer = Namer { ledger: &ledger, uses: Default::default() };
    let baths = baths(&schedule, &mut namer)?;
    let backlog = backlog(done, &mut namer)?;
    let name = free(&ledger, date);
    let evening = block::Evening {
        name: name.clone(),
        date,
        revision: revision.as_deref().ok(),
        backlog: backlog.as_deref(),
        baths: &baths,
        notes: &done.note,
    };
    let block = tidied(&block::session(&schedule, &evening));
    let uses: Vec<String> = namer.uses.into_iter().collect();
    let text = ledger.with(&uses, &block);
    let checked = ledger.checked(&text)?;
    if checked.findings.iter().any(|finding| finding.level == Level::Error) {
        return Err(not_recorded(&ledger, checked));
    }
    let told = afterwards(&checked, &name, &schedule)?;
    ledger.write(&text)?;
    let without = revision.err().map(|why| format!("\nno revision: {why}\n")).unwrap_or_default();
    output::print(format!("recorded in {}:\n\n{block}{without}{told}", ledger.name()))?;
    Ok(Ended::Done)
}

/// Why nothing was written.
fn not_recorded(ledger: &Ledger, Checked { sources, mut findings, .. }: Checked) -> Failure {
    findings.retain(|finding| finding.level == Level::Error);
    let note = format!("nothing was recorded in {}\n", root::printable(&ledger.name()));
    Failure::Files { sources, findings, note }
}

/// The given day, or today if no session is later, since a clock may be wrong.
fn day(done: &Done, ledger: &Ledger) -> Result<Date, Failure> {
    if let Some(date) = done.date {
        return Ok(date);
    }
    let today = given::today("--date")?;
    let last = ledger.shelf.darkroom.standing().max_by_key(|session| session.date.value);
    match last.filter(|session| today < session.date.value) {
        None => Ok(today),
        Some(session) => Err(Failure::new(
            format!(
                "this machine says it is {today}, and the session '{}' was on {}",
                session.name, session.date.value
            ),
            format!("nothing was recorded; put the clock right, or say the day by hand: --date {today}"),
        )),
    }
}

/// The first of `evening-2026-11-12`, `evening-2026-11-12-2` … that no session has, withdrawn ones included.
fn free(ledger: &Ledger, date: Date) -> String {
    let own = format!("evening-{date}");
    let numbered = (2..).map(|number: u32| format!("{own}-{number}"));
    let known = ledger.session_names();
    let is_free = |name: &String| !known.contains(name);
    std::iter::once(own.clone()).chain(numbered).find(is_free).unwrap_or(own)
}

/// The baths, as the journal names them.
fn baths(schedule: &Schedule, namer: &mut Namer<'_>) -> Result<Vec<String>, Failure> {
    let known: Vec<Known<'_>> = namer
        .ledger
        .shelf
        .darkroom
        .baths
        .iter()
        .map(|(by, said, bath)| Known { by: *by, said, own: &bath.name, declared: bath.span.file })
        .collect();
    let mut used: Vec<&str> = Vec::new();
    for bottle in schedule.steps.iter().filter_map(|step| step.bath.as_ref()?.bottle.as_ref()) {
        if !used.contains(&bottle.name.as_str()) {
            used.push(&bottle.name);
        }
    }
    used.into_iter().map(|wanted| namer.name(Declared::Bath, &known, wanted)).collect()
}

/// The named backlog, or the only one with any of the labels, as the journal names it; `None` if none has one.
fn backlog(done: &Done, namer: &mut Namer<'_>) -> Result<Option<String>, Failure> {
    let darkroom = &namer.ledger.shelf.darkroom;
    let has_any = |backlog: &Backlog| done.label.iter().any(|label| backlog.roll(label).is_some());
    let with_any: Vec<&str> = darkroom
        .backlogs_once()
        .filter(|backlog| has_any(backlog))
        .map(|backlog| backlog.name.as_str())
        .collect();
    let wanted = match (&done.backlog, with_any.as_slice()) {
        (Some(_), _) if done.label.is_empty() => {
            return Err(Failure::new(
                "which rolls of the backlog were developed?",
                "say their labels from the bottom of the tank up: --label E-01,E-02",
            ));
        }
        (Some(name), _) => name,
        (None, []) => return Ok(None),
        // That it has all of them is seen when the session is checked.
        (None, [only]) => *only,
        (None, [first, ..]) => {
            return Err(Failure::new(
                format!(
                    "{} backlogs have such labels: {}",
                    with_any.len(),
                    first_few(with_any.iter().copied(), ", ")
                ),
                format!("say which the rolls are of: --backlog {first}"),
            ));
        }
    };
    let known: Vec<Known<'_>> = darkroom
        .backlogs
        .iter()
        .map(|(by, said, one)| Known { by: *by, said, own: &one.name, declared: one.span.file })
        .collect();
    namer.name(Declared::Backlog, &known, wanted).map(Some)
}

/// The commit that has every file of the recipe unchanged, or why there is none.
fn revision_of(Reader { sources, disk }: &Reader) -> Result<String, String> {
    let mut commit = None;
    for (file, source) in sources.iter() {
        let of_darkroom = |(kind, _): &(Declared, String)| darkroom::OWN.contains(kind);
        let path = disk.path(source.name());
        let path = path.filter(|_| !declared_names(sources, file).iter().any(of_darkroom));
        let Some(path) = path else { continue };
        let held = path.parent().zip(path.file_name().and_then(|name| name.to_str()));
        let held = held.and_then(|(folder, name)| revision::holding(folder, name, source.text()));
        match held {
            Some(held) if commit.as_ref().is_none_or(|commit| *commit == held) => commit = Some(held),
            Some(_) | None => {
                let name = root::printable(source.name());
                return Err(format!("git has no commit with {name} as it stands"));
            }
        }
    }
    commit.ok_or_else(|| "the recipe stands in no file".to_owned())
}

/// The rest of the backlog, computed from the text to write, which proves that text.
fn afterwards(checked: &Checked, name: &str, schedule: &Schedule) -> Result<String, Failure> {
    let own = |file: FileId| file == checked.file;
    let mut sessions = checked.shelf.darkroom.sessions.iter();
    let session = sessions.find(|one| one.name == name && own(one.span.file));
    let session = session.filter(|session| session.slots.len() == schedule.load.len()).ok_or_else(|| {
        Failure::new("the journal would not say what was meant", "nothing was recorded; run wetside check")
    })?;
    let Some(backlog) = &session.backlog else {
        let labelled = schedule.load.iter().any(|slot| slot.label.is_some());
        let told = "\nno backlog of this darkroom has these labels, so they are remarks\n";
        return Ok(if labelled { told.to_owned() } else { String::new() });
    };
    let other: String =
        schedule.load.iter().filter_map(|slot| of_another_film(backlog, slot, schedule)).collect();
    let gone = developed(&checked.shelf.darkroom, backlog);
    let left: Vec<&str> =
        backlog.rolls.iter().map(|roll| &*roll.label).filter(|label| !gone.contains_key(label)).collect();
    let of = format!("{} of {} rolls", left.len(), backlog.rolls.len());
    let names = if left.is_empty() { "none".to_owned() } else { first_few(left, ", ") };
    Ok(format!("{other}\nleft in '{}': {names} ({of})\n", root::printable(&backlog.name)))
}

/// A warning for each roll whose film in the backlog differs from the recipe's.
fn of_another_film(backlog: &Backlog, slot: &Slot, schedule: &Schedule) -> Option<String> {
    let roll = backlog.roll(slot.label.as_deref()?).filter(|roll| roll.film.name != schedule.film.name)?;
    let (label, own, recipe) = (root::printable(&roll.label), &roll.film.name, &schedule.film.name);
    Some(format!(
        "\n'{label}' is {own} in its backlog, and the recipe is for {recipe};\n\
         if that is a slip: wetside record --undo --because \"another film\"\n"
    ))
}
