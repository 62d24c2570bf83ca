//! `record`: appends a session to the journal if the two do not contradict each other, or retracts a session.

mod ledger;

use std::collections::BTreeSet;
use std::path::PathBuf;

use super::choose::schedule;
use super::find::Sought;
use super::given::Evening;
use super::{Ended, Failure, Reader, darkroom, each_once, fail, given, revision, root};
use crate::check::declared_names;
use crate::compile::{Scale, Schedule, Tonight};
use crate::editor::Desk;
use crate::journal::developed;
use crate::model::{Backlog, Date, Shelf, Temperature};
use crate::source::{FileId, first_few};
use crate::vocabulary::Declared;
use ledger::Ledger;

/// Add tonight's session to the journal, or retract one
///
/// The options of card describe the session. The command only appends to the journal, and refuses a session that
/// contradicts it.
#[derive(clap::Args)]
#[command(
    override_usage = "wetside record [OPTIONS] --at <TEMPERATURE> --rolls <ROLLS> <RECIPE> [NAME]\n       wetside record --undo [SESSION] --because <TEXT> [--journal <FILE>]",
    after_help = "Examples:\n  wetside record estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five\n  wetside record estuary-400-mq --at 21.5C --rolls 2x120 --tank tall-five --label E-01,E-02 --backlog autumn --bath fix-a,stop-a --date 2026-11-12 --note \"fixer smelled stale\"\n  wetside record --undo --because \"the tank was another\"\n  wetside record --undo evening-2026-11-12 --because \"it was postponed\""
)]
pub(super) struct Arguments {
    // `None` with --undo, which needs no recipe and no conditions.
    #[command(flatten)]
    evening: Option<Evening>,
    /// Labels of the rolls, from the bottom of the tank up
    #[arg(long, value_delimiter = ',', value_parser = given::line, value_name = "LABELS")]
    label: Vec<String>,
    /// The backlog of the labels; if not given, the only backlog with any of these labels
    #[arg(long, value_name = "NAME")]
    backlog: Option<String>,
    /// The day of the session, as in 2026-11-12; today if not given
    #[arg(long, value_parser = given::value::<Date, _>, allow_hyphen_values = true, value_name = "DATE")]
    date: Option<Date>,
    /// A note; may be given several times
    #[arg(long, value_parser = given::line, value_name = "TEXT")]
    note: Vec<String>,
    /// The journal; if not given, journal.wet in this folder, else the only file with sessions, else a new file
    #[arg(long, value_name = "FILE")]
    journal: Option<PathBuf>,
    /// Retract this session, or the last session if no name is given
    #[arg(long, num_args = 0..=1, value_name = "SESSION", conflicts_with_all = [
        "recipe", "name", "at", "rolls", "tank", "index", "ending", "volume", "no_config",
        "anyway", "clears", "label", "backlog", "bath", "date", "note",
    ])]
    undo: Option<Option<String>>,
    /// The reason for --undo
    #[arg(long, value_parser = given::line, value_name = "TEXT")]
    because: Option<String>,
}

pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    match &arguments.evening {
        Some(_) if arguments.because.is_some() => {
            fail("--because is only for --undo", "add --undo, or write --note for a note")
        }
        Some(evening) => record(arguments, evening),
        None => undo(arguments),
    }
}

fn record(arguments: &Arguments, evening: &Evening) -> Result<Ended, Failure> {
    let mut reader = Reader::default();
    let schedule = schedule("record", evening, arguments.date, &arguments.label, &mut reader)?;
    let revision = revision_of(&reader);
    let mut ledger = Ledger::open(arguments.journal.as_deref())?;
    let date = day(arguments.date, &ledger)?;
    let baths = baths(&schedule, &mut ledger)?;
    let backlog = backlog(arguments, &mut ledger)?;
    let name = free_name(&ledger, date);
    let mut lines = vec![
        format!("session {name} {{"),
        format!("date {date}"),
        format!("recipe {}, fingerprint \"{}\"", schedule.recipe.name, schedule.fingerprint),
    ];
    lines.extend(revision.iter().map(|commit| format!("revision \"{commit}\"")));
    lines.extend(conditions(&schedule.conditions));
    lines.extend(backlog.map(|name| format!("backlog {name}")));
    lines.extend(schedule.load.iter().map(|slot| {
        let label = slot.label.as_ref().map(|label| format!("\"{label}\" ")).unwrap_or_default();
        format!("slot {} {label}{}", slot.slot, slot.format.word())
    }));
    lines.extend(baths.iter().map(|name| format!("bath {name}")));
    lines.extend(arguments.note.iter().map(|note| format!("note \"{note}\"")));
    let no_revision = revision.err().map(|why| format!("\nno revision: {why}\n")).unwrap_or_default();
    ledger.append(&(lines.join("\n") + "\n}\n"), |shelf, file| {
        Ok(no_revision + &left(shelf, file, &name, &schedule)?)
    })
}

/// The lines of a session for its tank, temperatures and volume.
fn conditions(conditions: &Tonight) -> Vec<String> {
    let degrees = |temperature: Temperature| match conditions.scale {
        Scale::Celsius => temperature.to_string(),
        Scale::Fahrenheit => format!("{} F", temperature.in_fahrenheit(3)),
    };
    let mut lines = Vec::from_iter(conditions.tank.iter().map(|tank| format!("tank {}", tank.name)));
    lines.push(format!("at {}", degrees(conditions.temperature)));
    lines.extend(conditions.ending.map(|ending| format!("ending {}", degrees(ending))));
    lines.extend(conditions.step_temperatures.iter().map(|step| {
        let name = step.name.as_ref().map(|name| format!(" {name}")).unwrap_or_default();
        format!("step {}{name} at {}", step.kind.word(), degrees(step.temperature))
    }));
    lines.extend(conditions.volume.map(|volume| format!("volume {volume}")));
    lines
}

/// Appends a line that retracts the named session, or the last session that is not retracted. Nothing is erased.
fn undo(arguments: &Arguments) -> Result<Ended, Failure> {
    let Some(because) = &arguments.because else {
        return fail("--undo needs a reason", "write --because \"the tank was another\"");
    };
    let ledger = Ledger::open(arguments.journal.as_deref())?;
    let sessions = ledger.shelf.darkroom.sessions.iter();
    let own: Vec<_> = sessions.filter(|session| Some(session.span.file) == ledger.file).collect();
    let session = match arguments.undo.as_ref().and_then(Option::as_ref) {
        None => own.iter().rfind(|session| session.retracted.is_none()).ok_or_else(|| {
            Failure::new(
                format!("there is no session to retract in {}", ledger.name()),
                "nothing was recorded; name another journal with --journal",
            )
        })?,
        Some(name) => {
            let place = format!("among the sound sessions of {}", ledger.name());
            let help = Some("name another journal with --journal".to_owned());
            let sought = Sought { otherwise: help, ..Sought::within(Declared::Session, name, place) };
            let own = own.iter().map(|session| (session.name.as_str(), session.span.file, session));
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
    let line = format!("retract {name} because \"{because}\"\n");
    ledger.append(&line, |_, _| Ok(String::new()))
}

/// The day of `--date`, or today if no session is later.
fn day(given: Option<Date>, ledger: &Ledger) -> Result<Date, Failure> {
    let today = given::day("--date", given)?;
    let sessions = ledger.shelf.darkroom.standing();
    let later = sessions.filter(|session| given.is_none() && today < session.date.value);
    later.max_by_key(|session| session.date.value).map_or(Ok(today), |session| {
        let (name, date) = (&session.name, session.date.value);
        fail(
            format!("by the clock it is {today}, but the session '{name}' was on {date}"),
            format!("nothing was recorded; set the clock, or give the day: --date {today}"),
        )
    })
}

/// The first of the names `evening-2026-11-12`, `evening-2026-11-12-2` … that no session has, not even one with errors.
fn free_name(ledger: &Ledger, date: Date) -> String {
    let sound = ledger.shelf.darkroom.sessions.iter().map(|session| session.name.clone());
    let all = ledger.file.map(|file| declared_names(&ledger.reader.sources, file)).unwrap_or_default();
    let all = all.into_iter().filter(|(kind, _)| *kind == Declared::Session).map(|(_, name)| name);
    let known: BTreeSet<String> = sound.chain(all).collect();
    let mut name = format!("evening-{date}");
    let mut number = 1;
    while known.contains(&name) {
        number += 1;
        name = format!("evening-{date}-{number}");
    }
    name
}

/// The journal's names for the bottles that the schedule pours from.
fn baths(schedule: &Schedule, ledger: &mut Ledger) -> Result<Vec<String>, Failure> {
    let bottles = schedule.steps.iter().filter_map(|step| step.bath.as_ref()?.bottle.as_ref());
    let used = each_once(bottles.map(|bottle| &bottle.name));
    used.into_iter().map(|wanted| ledger.name_of(Declared::Bath, wanted)).collect()
}

/// The journal's name for the backlog of `--backlog`, else for the only backlog with any of the labels. `None` if no
/// backlog has any of them.
fn backlog(arguments: &Arguments, ledger: &mut Ledger) -> Result<Option<String>, Failure> {
    let darkroom = &ledger.shelf.darkroom;
    let has_any = |backlog: &Backlog| arguments.label.iter().any(|label| backlog.roll(label).is_some());
    let with_any = darkroom.backlogs_once().filter(|backlog| has_any(backlog));
    let with_any: Vec<&str> = with_any.map(|backlog| backlog.name.as_str()).collect();
    let wanted = match (arguments.backlog.as_deref(), with_any.as_slice()) {
        (Some(_), _) if arguments.label.is_empty() => {
            return fail(
                "which rolls of the backlog were developed?",
                "give their labels from the bottom of the tank up: --label E-01,E-02",
            );
        }
        // The check of the session reports labels that the backlog lacks.
        (Some(name), _) | (None, &[name]) => name,
        (None, []) => return Ok(None),
        (None, [first, ..]) => {
            let names = first_few(with_any.iter().copied(), ", ");
            return fail(
                format!("{} backlogs have some of these labels: {names}", with_any.len()),
                format!("name the backlog of these rolls: --backlog {first}"),
            );
        }
    };
    let wanted = wanted.to_owned();
    ledger.name_of(Declared::Backlog, &wanted).map(Some)
}

/// The git commit that has every file of the recipe as the file is now, or why there is none.
fn revision_of(reader: &Reader) -> Result<String, String> {
    let mut commit = None;
    for (file, source) in reader.sources.iter() {
        let declared = declared_names(&reader.sources, file);
        let is_darkroom = declared.iter().any(|(kind, _)| darkroom::OWN.contains(kind));
        let Some(path) = reader.disk.path(&source.name).filter(|_| !is_darkroom) else { continue };
        let held = path.parent().zip(path.file_name().and_then(|name| name.to_str()));
        let held = held.and_then(|(folder, name)| revision::holding(folder, name, &source.text));
        if held.is_none() || commit.is_some() && commit != held {
            let name = root::printable(&source.name);
            return Err(format!("git has no commit with {name} as it is now"));
        }
        commit = held;
    }
    commit.ok_or_else(|| "the recipe is not in a file".to_owned())
}

/// Lines about the rolls of the backlog that are still undeveloped after the session `name` of the journal.
fn left(shelf: &Shelf, journal: FileId, name: &str, schedule: &Schedule) -> Result<String, Failure> {
    let mut sessions = shelf.darkroom.sessions.iter();
    let session = sessions.find(|session| session.name == name && session.span.file == journal);
    let session = session.filter(|session| session.slots.len() == schedule.load.len()).ok_or_else(|| {
        Failure::new(
            "the text of the session would be read as another session",
            "nothing was recorded; run wetside check",
        )
    })?;
    let labels = schedule.load.iter().filter_map(|slot| slot.label.as_deref());
    let Some(backlog) = &session.backlog else {
        let without = "\nno backlog of this darkroom has these labels\n";
        return Ok(labels.take(1).map(|_| without).collect());
    };
    let mut text = String::new();
    let film = &schedule.film.name;
    for roll in labels.filter_map(|label| backlog.roll(label)).filter(|roll| roll.film.name != *film) {
        let (label, other) = (root::printable(&roll.label), &roll.film.name);
        text += &format!(
            "\n'{label}' is {other} in its backlog, and the recipe is for {film};\n\
             to retract this session: wetside record --undo --because \"another film\"\n"
        );
    }
    let gone = developed(&shelf.darkroom, backlog);
    let rolls = backlog.rolls.iter().map(|roll| &*roll.label);
    let left: Vec<&str> = rolls.filter(|label| !gone.contains_key(label)).collect();
    let of = format!("{} of {} rolls", left.len(), backlog.rolls.len());
    let names = if left.is_empty() { "none".to_owned() } else { first_few(left, ", ") };
    Ok(format!("{text}\nleft in '{}': {names} ({of})\n", root::printable(&backlog.name)))
}
