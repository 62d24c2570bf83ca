//! `record`: adds a file with a session to the journal, even if the journal contradicts the session. `--undo` retracts
//! a session, and `--correct` corrects one.

mod correct;
mod doubt;
mod head;
mod ledger;
mod true_times;
mod undo;

use std::path::PathBuf;
use std::sync::Arc;

use super::choose::{Chosen, chosen, no_step};
use super::entry::{Entry, Line, Name};
use super::given::Asked;
use super::{Ended, Failure, Reader, each_once, fail, given, root, tonight};
use crate::compile::{Scale, Schedule, Tonight};
use crate::journal::developed;
use crate::model::{Backlog, Date, Film, Format, KeptBath, Recipe, Session, Shelf, Temperature};
use crate::source::{Diagnostic, FileId, first_few};
use crate::vocabulary::Declared;
use doubt::{Doubt, Work};
use head::head;
use ledger::Ledger;

/// Add tonight's session to the journal, or retract or correct one.
///
/// Without a recipe, this records the card made last, on the day on which it began; options state what was otherwise.
/// With a recipe, it takes the options of `wetside card`. Each session becomes a file of its own. What contradicts the
/// journal is recorded with a doubt.
#[derive(clap::Args)]
#[command(
    override_usage = "wetside record [OPTIONS]\n       wetside record --at <TEMPERATURE> --rolls <ROLLS> [OPTIONS] <RECIPE> [NAME]\n       wetside record --undo [SESSION] --because <TEXT> [--journal <PATH>]\n       wetside record --correct <OLD=NEW> [--journal <PATH>]\n       wetside record --correct <LABEL> --film <FILM> [--journal <PATH>]",
    after_help = "Examples:\n  wetside record\n  wetside record --note \"fixer smelled stale\"\n  wetside record estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five\n  wetside record estuary-400-mq --at 21.5C --rolls 2x120 --tank tall-five --label E-01,E-02 --backlog autumn --bath fix-a,stop-a --date 2026-11-12 --note \"fixer smelled stale\"\n  wetside record --undo --because \"it was a different tank\"\n  wetside record --undo 2026-11-12-7m2q --because \"it was postponed\"\n  wetside record --correct E-01=E-03"
)]
pub(super) struct Arguments {
    #[command(flatten)]
    asked: Asked,
    /// The backlog of the labels; if not given, the only backlog with any of them
    #[arg(long, value_name = "NAME")]
    backlog: Option<String>,
    /// The true times of steps, as follow shows them at its end: develop=8:59,stop=1:10
    #[arg(long, value_delimiter = ',', value_parser = true_times::took, value_name = "STEPS")]
    took: Vec<true_times::Took>,
    /// Temperatures that were read during steps, by the clock of the step: develop=3:10=22.1C
    #[arg(long, value_delimiter = ',', value_parser = true_times::read, value_name = "STEPS")]
    read: Vec<true_times::Read>,
    /// A note; may be given several times
    #[arg(long, value_parser = given::line, value_name = "TEXT")]
    note: Vec<String>,
    /// The folder of the journal, or the file of an older one; if not given, the only journal, or a new one
    #[arg(long, value_name = "PATH")]
    journal: Option<PathBuf>,
    /// Retract this session, or the last session if no name is given
    #[arg(long, num_args = 0..=1, value_name = "SESSION", conflicts_with_all = OF_A_SESSION)]
    undo: Option<Option<String>>,
    /// Correct the session that names the wrong roll or bottle: E-01=E-03 writes E-03 for E-01
    #[arg(long, value_parser = given::line, value_name = "OLD=NEW", conflicts_with = "undo", conflicts_with_all = OF_A_SESSION)]
    correct: Option<String>,
    /// With --correct and a label: the film that the roll is, if the backlog is wrong
    #[arg(long, requires = "correct", value_name = "FILM")]
    film: Option<String>,
    /// The reason for --undo or --correct
    #[arg(long, value_parser = given::line, value_name = "TEXT")]
    because: Option<String>,
}

const OF_A_SESSION: [&str; 19] = [
    "recipe",
    "name",
    "at",
    "rolls",
    "tank",
    "index",
    "ending",
    "volume",
    "no_config",
    "anyway",
    "clears",
    "dunk",
    "label",
    "backlog",
    "took",
    "read",
    "bath",
    "date",
    "note",
];

/// The folder of the journal that `record` writes to without `--journal`.
pub(super) fn journal() -> Result<PathBuf, Failure> {
    ledger::the_only()
}

pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    match (&arguments.undo, &arguments.correct) {
        (Some(session), _) => undo::run(arguments, session.as_deref()),
        (None, Some(asked)) => correct::run(arguments, asked),
        (None, None) if arguments.because.is_some() => {
            fail("--because is only for --undo and --correct", "add --undo, or write --note for a note")
        }
        (None, None) => record(arguments),
    }
}

fn record(arguments: &Arguments) -> Result<Ended, Failure> {
    let mut reader = Reader::default();
    let (evening, last) = &tonight::evening("record", &arguments.asked)?;
    let chosen = chosen("record", evening, &mut reader)?;
    let compiled = chosen.compiled();
    let recipe = Arc::clone(&chosen.recipe);
    let Some(film) = recipe.film.as_ref() else {
        return Err(reader.refused(compiled.err().unwrap_or_default()));
    };
    let ledger = Ledger::open(arguments.journal.as_deref())?;
    let date = day(evening.date, &ledger)?;
    let load = load(&chosen.conditions);
    let baths = baths(&chosen, compiled.as_ref().ok(), &ledger)?;
    has_steps(arguments, &recipe)?;
    let true_times = true_times::lines(&arguments.took, &arguments.read, compiled.as_ref().ok());
    let backlog = backlog((arguments, &evening.label), &ledger)?;
    not_recorded_yet(&ledger.shelf, date, &recipe.name, &load)?;
    let mut doubts = Vec::new();
    // With `--index`, the session may have another recipe than the card made last. So this card's fingerprint is not
    // recorded, and the card is not marked as recorded.
    let last = last.as_ref().filter(|_| arguments.asked.index.is_none());
    let (mut lines, no_revision) = head(evening, last, (date, &recipe), &reader, &mut doubts);
    lines.extend(conditions(&chosen.conditions).into_iter().map(Line::Plain));
    let declared = backlog.as_ref().and_then(|name| backlog_named(&ledger.shelf, name));
    lines.extend(backlog.map(Line::Backlog));
    let index = recipe.index.or(film.speed).map(|index| *index);
    let darkroom = &ledger.shelf.darkroom;
    let of_film: &Film = film;
    let film = Some(of_film);
    let labels = || load.iter().filter_map(|(_, label, _)| label.as_deref()).collect();
    let work = declared.map(|backlog| Work { darkroom, backlog, on: date, film, index, labels: labels() });
    lines.extend(slots(&load, of_film.both_sides, work.as_ref(), &mut doubts));
    let one_side = load.iter().map(|(_, _, format)| format.area()).fold(0, i64::saturating_add);
    let area = one_side.saturating_mul(of_film.sides());
    for (bath, bottle) in baths {
        let is_second = compiled.as_ref().is_ok_and(|schedule| is_second(schedule, &bottle.name));
        let film = if is_second { 0 } else { area };
        let doubt = doubt::of_bottle(darkroom, bottle, date, film);
        lines.push(Line::Bath { bath, is_second, doubt: doubt.as_ref().map(|doubt| doubt.words.clone()) });
        doubts.extend(doubt);
    }
    lines.extend(measured(&chosen.conditions, compiled.as_ref().ok()).into_iter().map(Line::Plain));
    lines.extend(true_times.into_iter().map(Line::Plain));
    for error in compiled.err().into_iter().flatten().filter(is_of_the_work) {
        let words = error.message.replace('"', "\"\"");
        lines.push(Line::Plain(format!("note \"in doubt: {words}\"")));
        doubts.push(Doubt::of_work(words));
    }
    lines.extend(arguments.note.iter().map(|note| Line::Plain(format!("note \"{note}\""))));
    // Doubts about the rolls and bottles that `--anyway` names are not printed, since the user knows them.
    doubts.retain(|doubt| !chosen.conditions.takes_anyway(&doubt.about));
    let told = no_revision + &doubt::told(&doubts, &arguments.of_journal());
    let mut recorded = String::new();
    let ended = ledger.add(date, &Entry { retraction: None, lines }, |shelf, file, name| {
        name.clone_into(&mut recorded);
        Ok(told + &left(shelf, file, name, &load)?)
    })?;
    if last.is_some() {
        tonight::mark_recorded(&recorded);
    }
    Ok(ended)
}

impl Arguments {
    /// The `--journal` option of this call, for a command to suggest; empty if this call has none.
    fn of_journal(&self) -> String {
        self.journal.as_ref().map(|path| format!(" --journal {}", path.display())).unwrap_or_default()
    }
}

/// Fails if `--took` or `--read` names a step that the recipe does not have.
fn has_steps(arguments: &Arguments, recipe: &Recipe) -> Result<(), Failure> {
    let took = arguments.took.iter().map(|(step, _)| step);
    let read = arguments.read.iter().map(|(step, ..)| step);
    let missing = took.chain(read).find(|(kind, name)| {
        !recipe.steps.iter().any(|step| step.kind == *kind && (name.is_none() || step.name == *name))
    });
    missing.map_or(Ok(()), |(kind, name)| Err(no_step(recipe, *kind, name.as_deref())))
}

/// A slot of the tank: its number, and the label (if any) and the format of the roll in the slot.
type Loaded = (u32, Option<String>, Format);

/// The slots of the tank with their rolls, from the bottom up.
fn load(conditions: &Tonight) -> Vec<Loaded> {
    let rolls = conditions.rolls.iter();
    let formats = rolls.flat_map(|rolls| std::iter::repeat_n(rolls.format, rolls.count as usize));
    let mut labels = conditions.labels.iter().cloned();
    let mut label = || labels.next().filter(|label| !label.is_empty());
    (1..).zip(formats).map(|(slot, format)| (slot, label(), format)).collect()
}

/// The session's line for each slot. The line states a doubt if the backlog or the journal contradicts the roll. The
/// doubts are also added to `doubts`.
fn slots(load: &[Loaded], both_sides: bool, work: Option<&Work<'_>>, doubts: &mut Vec<Doubt>) -> Vec<Line> {
    let mut before: Vec<&str> = Vec::new();
    let mut lines = Vec::new();
    for (slot, label, format) in load {
        let found = label.as_deref().zip(work);
        let found = found.and_then(|(label, work)| work.doubt(*slot, label, *format, &before));
        before.extend(label.as_deref());
        let doubt = found.as_ref().map(|doubt| doubt.words.clone());
        lines.push(Line::Slot { slot: *slot, label: label.clone(), format: *format, both_sides, doubt });
        doubts.extend(found);
    }
    lines
}

/// Fails if the journal already has a session on this day with the same recipe and the same labels in the same slots.
fn not_recorded_yet(shelf: &Shelf, date: Date, recipe: &str, load: &[Loaded]) -> Result<(), Failure> {
    let is_same = |session: &&Arc<Session>| {
        let slots = session.slots.iter().map(|slot| (slot.slot, slot.label.as_deref(), slot.format));
        let own = load.iter().map(|(slot, label, format)| (*slot, label.as_deref(), *format));
        *session.date == date && session.recipe == recipe && slots.eq(own)
    };
    let is_labelled = load.iter().any(|(_, label, _)| label.is_some());
    match shelf.darkroom.standing().filter(|_| is_labelled).find(is_same) {
        None => Ok(()),
        Some(session) => fail(
            format!("this session is recorded already: {}", session.name),
            format!(
                "nothing was recorded; to state it again: wetside record --undo {} --because …",
                session.name
            ),
        ),
    }
}

/// Whether an error is about the session as a whole, and becomes a note. An error about a bottle becomes a doubt on the
/// bottle's line instead.
fn is_of_the_work(error: &Diagnostic) -> bool {
    !error.name.starts_with("bottle-") && error.name != "bath-over-capacity"
}

fn backlog_named<'a>(shelf: &'a Shelf, name: &Name) -> Option<&'a Arc<Backlog>> {
    shelf.darkroom.backlogs_once().find(|one| one.span.file == name.file && one.name == name.name)
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

/// The lines of a session for `--anyway`, `--clears` and `--dunk`.
fn measured(conditions: &Tonight, schedule: Option<&Schedule>) -> Vec<String> {
    let leader = schedule.and_then(|schedule| schedule.leader.as_ref());
    let cleared = leader.map(|leader| {
        let name = leader.name.as_ref().map(|name| format!(" {name}")).unwrap_or_default();
        format!("cleared {}{name} {}", leader.kind.word(), leader.time)
    });
    let anyway = conditions.anyway.iter().map(|name| format!("anyway \"{name}\""));
    let dunk = conditions.dunk.then(|| "dunk ok".to_owned());
    dunk.into_iter().chain(cleared).chain(anyway).collect()
}

/// The day of `--date`, else today by the clock. Without `--date`, fails if a session of the journal is later than
/// today.
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

/// The bottles that the session poured from, each with its file and name in the darkroom of the journal.
fn baths<'a>(
    chosen: &Chosen,
    schedule: Option<&Schedule>,
    ledger: &'a Ledger,
) -> Result<Vec<(Name, &'a Arc<KeptBath>)>, Failure> {
    let poured = match schedule {
        Some(schedule) => {
            let bottles = schedule.steps.iter().filter_map(|step| step.bath.as_ref()?.bottle.as_ref());
            bottles.map(|bottle| bottle.name.as_str()).collect()
        }
        None => {
            let from = chosen.conditions.bottles.iter().flat_map(|bottles| &bottles.from);
            let all = || chosen.shelf.darkroom.bottles();
            let bottles = from.filter_map(|span| all().find(|bottle| bottle.span == *span));
            bottles.map(|bottle| bottle.name.as_str()).collect::<Vec<_>>()
        }
    };
    let names = each_once(poured.into_iter()).into_iter();
    let found = names.map(|wanted| {
        let name = ledger.name_of(Declared::Bath, wanted)?;
        let mut bottles = ledger.shelf.darkroom.bottles();
        Ok(bottles.find(|one| one.span.file == name.file && one.name == name.name).map(|one| (name, one)))
    });
    Ok(found.collect::<Result<Vec<_>, Failure>>()?.into_iter().flatten().collect())
}

/// Whether the bottle is for the second of two baths of one solution (`bath two, becomes one` in the recipe). Film is
/// counted on the first bath only. Once the first bath is exhausted, the second takes its place.
pub(super) fn is_second(schedule: &Schedule, bottle: &str) -> bool {
    let mut baths = schedule.steps.iter().filter_map(|step| step.bath.as_ref());
    baths.any(|bath| bath.becomes.is_some() && bath.bottle.as_ref().is_some_and(|own| own.name == bottle))
}

/// The backlog that `--backlog` names, else the only backlog with any of the labels. `None` if no backlog has any of
/// the labels.
fn backlog((arguments, labels): (&Arguments, &[String]), ledger: &Ledger) -> Result<Option<Name>, Failure> {
    let darkroom = &ledger.shelf.darkroom;
    let has_any = |backlog: &Backlog| labels.iter().any(|label| backlog.roll(label.trim()).is_some());
    let with_any = darkroom.backlogs_once().filter(|backlog| has_any(backlog));
    let with_any: Vec<&str> = with_any.map(|backlog| backlog.name.as_str()).collect();
    let wanted = match (arguments.backlog.as_deref(), with_any.as_slice()) {
        (Some(_), _) if labels.is_empty() => {
            return fail(
                "which rolls of the backlog were developed?",
                "give their labels from the bottom of the tank up: --label E-01,E-02",
            );
        }
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
    ledger.name_of(Declared::Backlog, wanted).map(Some)
}

/// The line for the user about the rolls of the backlog that wait after the new session, which is called `name` and is
/// in `file`.
fn left(shelf: &Shelf, file: FileId, name: &str, load: &[Loaded]) -> Result<String, Failure> {
    let mut sessions = shelf.darkroom.sessions.iter();
    let session = sessions.find(|session| session.name == name && session.span.file == file);
    let session = session.filter(|session| session.slots.len() == load.len()).ok_or_else(|| {
        Failure::new(
            "the text of the session would be read as another session",
            "nothing was recorded; run wetside check",
        )
    })?;
    let Some(backlog) = &session.backlog else {
        let is_labelled = load.iter().any(|(_, label, _)| label.is_some());
        let without = "\nno backlog of this darkroom has these labels\n";
        return Ok(if is_labelled { without.to_owned() } else { String::new() });
    };
    let gone = developed(&shelf.darkroom, backlog);
    let rolls = backlog.rolls.iter().map(|roll| &*roll.label);
    let left: Vec<&str> = rolls.filter(|label| !gone.contains_key(label)).collect();
    let of = format!("{} of {} rolls", left.len(), backlog.rolls.len());
    let names = if left.is_empty() { "none".to_owned() } else { first_few(left, ", ") };
    Ok(format!("\nleft in '{}': {names} ({of})\n", root::printable(&backlog.name)))
}
