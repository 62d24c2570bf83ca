//! Finds what a plan needs: the rolls, the tank, every recipe below this folder, and the darkroom.

use std::path::PathBuf;
use std::sync::Arc;

use super::super::disk::Disk;
use super::super::failure::Failure;
use super::super::levels::levels;
use super::super::{darkroom, find, wider};
use super::call::Arguments;
use super::labels;
use crate::check::check;
use crate::model::{Backlog, Shelf, Tank};
use crate::source::{Diagnostic, FileId, Level, Sources, first_few};
use crate::vocabulary::{Declared, suggest};

/// All of it.
pub(super) struct Found {
    pub(super) shelf: Shelf,
    pub(super) waiting: Waiting,
    pub(super) tank: Arc<Tank>,
    /// What checking warned of.
    pub(super) doubts: Vec<Diagnostic>,
}

/// Where the rolls come from.
pub(super) enum Waiting {
    /// A backlog of the darkroom.
    Declared(Arc<Backlog>),
    /// A list from a spreadsheet.
    Listed(Backlog),
}

impl Waiting {
    /// The rolls.
    pub(super) fn backlog(&self) -> &Backlog {
        match self {
            Waiting::Declared(backlog) => backlog,
            Waiting::Listed(backlog) => backlog,
        }
    }
}

/// Reads and checks all of it. The inner error is of what was read, the outer of the call.
pub(super) fn all(
    arguments: &Arguments,
    sources: &mut Sources,
    disk: &mut Disk,
) -> Result<Result<Found, Vec<Diagnostic>>, Failure> {
    let named = arguments.backlog.as_deref().filter(|path| find::is_file(path));
    let mut roots = darkroom::files(sources, disk)?;
    if let Some(path) = named {
        roots.push(disk.read(sources, path)?);
    }
    let essential = roots.clone();
    roots.extend(wider::files_below(sources, disk));
    let levels = levels(&[], &[], arguments.no_config)?;
    let (shelf, findings) = check(sources, &roots, disk, &levels);
    let errors_in = |file: FileId| {
        let told = findings.iter().filter(move |finding| finding.level == Level::Error);
        told.filter(move |finding| finding.span.file == file).cloned()
    };
    // A recipe elsewhere that is at fault is no recipe; one for these rolls is then found missing.
    let faults: Vec<Diagnostic> = essential.iter().copied().flat_map(errors_in).collect();
    if !faults.is_empty() {
        return Ok(Err(faults));
    }
    let waiting = match &arguments.from {
        Some(path) => match labels::read(path, &shelf, sources)? {
            Ok(backlog) => Waiting::Listed(backlog),
            Err(faults) => return Ok(Err(faults)),
        },
        None => match backlog(arguments, &shelf, sources, named.and(essential.last().copied())) {
            Ok(backlog) => Waiting::Declared(backlog),
            Err(failure) => return why_missing(findings, failure),
        },
    };
    let tank = match tank(arguments, &shelf, sources, waiting.backlog().span.file) {
        Ok(tank) => tank,
        Err(failure) => return why_missing(findings, failure),
    };
    let faults: Vec<Diagnostic> = errors_in(tank.span.file).collect();
    if !faults.is_empty() {
        return Ok(Err(faults));
    }
    let doubts = findings.iter().filter(|finding| finding.level == Level::Warning).cloned().collect();
    Ok(Ok(Found { shelf, waiting, tank, doubts }))
}

/// Why a backlog or a tank is not there: because of errors, where there are any.
fn why_missing(
    mut findings: Vec<Diagnostic>,
    failure: Failure,
) -> Result<Result<Found, Vec<Diagnostic>>, Failure> {
    findings.retain(|finding| finding.level == Level::Error);
    if findings.is_empty() { Err(failure) } else { Ok(Err(findings)) }
}

fn backlog(
    arguments: &Arguments,
    shelf: &Shelf,
    sources: &Sources,
    file: Option<FileId>,
) -> Result<Arc<Backlog>, Failure> {
    let all: Vec<&Arc<Backlog>> = shelf.darkroom.backlogs_once().collect();
    let given = arguments.backlog.clone().unwrap_or_else(|| PathBuf::from("-"));
    let given = given.to_string_lossy();
    let wanted = match file {
        Some(_) => arguments.name.as_deref(),
        None => Some(&*given),
    };
    let fits = |backlog: &&&Arc<Backlog>| {
        file.is_none_or(|file| backlog.span.file == file) && wanted.is_none_or(|name| backlog.name == name)
    };
    let fitting: Vec<&Arc<Backlog>> = all.iter().filter(fits).copied().collect();
    match fitting.as_slice() {
        [one] => Ok(Arc::clone(one)),
        [] => {
            let known = || all.iter().map(|backlog| backlog.name.as_str());
            let near = wanted.and_then(|name| suggest(name, known()));
            let message = match (file, wanted) {
                (Some(_), None) => format!("{given} declares no backlog"),
                (_, name) => format!("there is no backlog '{}' below this folder", name.unwrap_or(&given)),
            };
            Err(Failure::new(
                message,
                match (near, all.is_empty()) {
                    (Some(near), _) => format!("did you mean {near}?"),
                    (None, false) => format!("there are these: {}", first_few(known(), ", ")),
                    (None, true) => "declare it: backlog NAME { … } in a .wet file, a line a roll".to_owned(),
                },
            ))
        }
        several => {
            let places: Vec<String> = several
                .iter()
                .map(|backlog| format!("{} {}", sources.name(backlog.span.file), backlog.name))
                .collect();
            Err(Failure::new(
                format!("several backlogs fit: {}", places.join(", ")),
                "name the one you mean by its file and its name",
            ))
        }
    }
}

/// The tank that was named; else the only one that the backlog's file can name, or the only one there is.
fn tank(arguments: &Arguments, shelf: &Shelf, sources: &Sources, file: FileId) -> Result<Arc<Tank>, Failure> {
    let mut all: Vec<&Arc<Tank>> = Vec::new();
    for (_, _, tank) in &shelf.tanks {
        if !all.iter().any(|known| Arc::ptr_eq(known, tank)) {
            all.push(tank);
        }
    }
    let mut own: Vec<&Arc<Tank>> = shelf.tanks_of(file).map(|(_, tank)| tank).collect();
    own.dedup_by(|one, other| Arc::ptr_eq(one, other));
    let fitting: Vec<&Arc<Tank>> = match (&arguments.tank, own.as_slice()) {
        (Some(name), _) => all.iter().copied().filter(|tank| tank.name == *name).collect(),
        (None, [_]) => own,
        (None, _) => all.clone(),
    };
    if let [one] = fitting.as_slice() {
        return Ok(Arc::clone(one));
    }
    let mut known: Vec<&str> = Vec::new();
    for tank in &all {
        if !known.contains(&tank.name.as_str()) {
            known.push(&tank.name);
        }
    }
    let files =
        || -> Vec<String> { fitting.iter().map(|tank| sources.name(tank.span.file).to_string()).collect() };
    Err(match (&arguments.tank, fitting.is_empty(), known.as_slice()) {
        (Some(name), true, _) => {
            let known = known.iter().map(|name| (*name).to_owned()).collect();
            find::absent(Declared::Tank, name, known, &|file, name| format!("wetside plan {file} {name}"))
        }
        (Some(name), false, _) => {
            Failure::new(find::in_files(Declared::Tank, name, &files()), "give one of them another name")
        }
        (None, true, _) => {
            Failure::new("no tank is declared below this folder", "declare one: tank NAME { … }")
        }
        // Several of one name: to say that name would not do either.
        (None, false, [name]) => Failure::new(
            find::in_files(Declared::Tank, name, &files()),
            "give one of them another name, and say which with --tank",
        ),
        (None, false, _) => Failure::new(
            format!("there are several tanks: {}", first_few(known.iter().copied(), ", ")),
            "say which with --tank",
        ),
    })
}
