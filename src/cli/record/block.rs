//! The block of a session, with baths and backlogs by the names that the journal has for them. A journal only grows at
//! its end, so it can name what its `use` lines bring in; a new journal gets the `use` lines that it needs.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::super::find::Sought;
use super::super::{Failure, fail};
use super::ledger::Ledger;
use crate::compile::{Scale, Schedule};
use crate::model::{Date, Temperature};
use crate::source::{FileId, Span, first_few};
use crate::vocabulary::Declared;

/// The facts of a session that its schedule lacks.
#[derive(Debug)]
pub(super) struct Entry<'a> {
    /// The session's name.
    pub(super) name: &'a str,
    pub(super) date: Date,
    /// The git revision that has the recipe.
    pub(super) revision: Option<&'a str>,
    /// The backlog, as the journal names it.
    pub(super) backlog: Option<String>,
    /// The baths, as the journal names them.
    pub(super) baths: Vec<String>,
    pub(super) notes: &'a [String],
}

/// The whole block.
pub(super) fn session(schedule: &Schedule, entry: &Entry<'_>) -> String {
    let conditions = &schedule.conditions;
    let degrees = |temperature: Temperature| match conditions.scale {
        Scale::Celsius => temperature.to_string(),
        Scale::Fahrenheit => format!("{} F", temperature.in_fahrenheit(3)),
    };
    let mut lines = vec![
        format!("session {} {{", entry.name),
        format!("date {}", entry.date),
        format!("recipe {}, fingerprint \"{}\"", schedule.recipe.name, schedule.fingerprint),
    ];
    lines.extend(entry.revision.map(|commit| format!("revision \"{commit}\"")));
    lines.extend(conditions.tank.iter().map(|tank| format!("tank {}", tank.name)));
    lines.push(format!("at {}", degrees(conditions.temperature)));
    lines.extend(conditions.ending.map(|ending| format!("ending {}", degrees(ending))));
    lines.extend(conditions.step_temperatures.iter().map(|step| {
        let name = step.name.as_ref().map(|name| format!(" {name}")).unwrap_or_default();
        format!("step {}{name} at {}", step.kind.word(), degrees(step.temperature))
    }));
    lines.extend(conditions.volume.map(|volume| format!("volume {volume}")));
    lines.extend(entry.backlog.iter().map(|name| format!("backlog {name}")));
    lines.extend(schedule.load.iter().map(|slot| {
        let label = slot.label.as_ref().map(|label| format!("\"{label}\" ")).unwrap_or_default();
        format!("slot {} {label}{}", slot.slot, slot.format.word())
    }));
    lines.extend(entry.baths.iter().map(|name| format!("bath {name}")));
    lines.extend(entry.notes.iter().map(|note| format!("note \"{note}\"")));
    lines.join("\n") + "\n}\n"
}

/// A bath or backlog, as a file can name it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Known<'a> {
    /// The file that can name it.
    by: FileId,
    /// The name there.
    said: &'a str,
    /// The name in its declaration.
    own: &'a str,
    /// The file of its declaration.
    declared: FileId,
}

/// The baths or backlogs of a darkroom, by their names and headers.
pub(super) fn known<'a, T>(
    all: &'a [(FileId, String, Arc<T>)],
    own: impl Fn(&'a T) -> (&'a String, Span),
) -> Vec<Known<'a>> {
    let known = |(by, said, one): &'a (FileId, String, Arc<T>)| {
        let (own, span) = own(one);
        Known { by: *by, said, own, declared: span.file }
    };
    all.iter().map(known).collect()
}

/// The journal's name for the bath or backlog that is declared with the name `wanted`. Adds to `uses` the file that a
/// new journal has to use.
///
/// # Errors
/// There is none, there are several, or the journal does not use its file.
pub(super) fn name(
    ledger: &Ledger,
    kind: Declared,
    known: &[Known<'_>],
    wanted: &str,
    uses: &mut BTreeSet<String>,
) -> Result<String, Failure> {
    let is_wanted = |one: &&Known<'_>| one.said == wanted || one.own == wanted;
    let here = known.iter().filter(|one| Some(one.by) == ledger.file).filter(is_wanted);
    let here: Vec<&str> = here.map(|one| one.said).collect();
    match here.as_slice() {
        _ if here.contains(&wanted) => return Ok(wanted.to_owned()),
        [] => {}
        [one] => return Ok((*one).to_owned()),
        several => {
            return fail(
                format!("'{wanted}' can be several here: {}", first_few(several.iter().copied(), ", ")),
                "write the name with its prefix",
            );
        }
    }
    let own = known.iter().filter(|one| one.by == one.declared && one.said == one.own);
    let sought = Sought {
        otherwise: Some("declare it there, or name a journal in its folder: --journal FILE".to_owned()),
        ..Sought::within(kind, wanted, format!("in the darkroom of {}", ledger.name()))
    };
    let file = sought.among(own.map(|one| (one.own, one.declared, one.declared)), &ledger.reader.sources)?;
    let path = ledger.path_to(file).unwrap_or_default();
    if ledger.file.is_none() {
        uses.insert(path);
        return Ok(wanted.to_owned());
    }
    fail(
        format!("{} does not bring in the {} '{wanted}'", ledger.name(), kind.word()),
        format!("add this line below its first: use \"{path}\""),
    )
}
