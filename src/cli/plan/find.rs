//! Finds what a plan needs: the rolls, the tank, every recipe below this folder, and the darkroom.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::Arc;

use super::super::choose::files_below;
use super::super::disk::Reader;
use super::super::failure::Failure;
use super::super::find::{self, Sought, not_one};
use super::super::levels::levels;
use super::super::{darkroom, root};
use super::call::Arguments;
use super::labels;
use crate::model::{Backlog, Shelf, Tank};
use crate::source::{Diagnostic, FileId, Level, Sources, first_few};
use crate::vocabulary::Declared;

/// All of it.
pub(super) struct Found {
    pub(super) shelf: Shelf,
    pub(super) waiting: Waiting,
    pub(super) tank: Arc<Tank>,
    /// The warnings of the check.
    pub(super) doubts: Vec<Diagnostic>,
    /// The files of other roots below this one.
    pub(super) others: BTreeSet<FileId>,
}

/// The source of the rolls.
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

/// Reads and checks all of it.
pub(super) fn all(arguments: &Arguments, reader: &mut Reader) -> Result<Found, Failure> {
    let named = arguments.backlog.as_deref().filter(|path| find::is_file(path));
    let root = root::of_here();
    let mut roots = darkroom::files(&darkroom::index(root), reader)?;
    if let Some(path) = named {
        darkroom::own(path, "plan")?;
        roots.push(reader.read(path)?);
    }
    let essential = roots.clone();
    roots.extend(files_below(reader));
    let levels = levels(&[], arguments.no_config)?;
    let (shelf, findings) = reader.check_darkroom(root, &roots, &levels);
    let errors_in = |file: FileId| {
        let told = findings.iter().filter(move |finding| finding.level == Level::Error);
        told.filter(move |finding| finding.span.file == file).cloned()
    };
    // A recipe elsewhere that is at fault is no recipe; one for these rolls is then found missing.
    let faults: Vec<Diagnostic> = essential.iter().copied().flat_map(errors_in).collect();
    if !faults.is_empty() {
        return Err(reader.refused(faults));
    }
    let waiting = match &arguments.from {
        Some(path) => Waiting::Listed(labels::read(path, &shelf, reader)?),
        None => match backlog(arguments, &shelf, &reader.sources, named.and(essential.last().copied())) {
            Ok(backlog) => Waiting::Declared(backlog),
            Err(failure) => return Err(why_missing(reader, findings, failure)),
        },
    };
    let tank = match tank(arguments, &shelf, &reader.sources, waiting.backlog().span.file) {
        Ok(tank) => tank,
        Err(failure) => return Err(why_missing(reader, findings, failure)),
    };
    let faults: Vec<Diagnostic> = errors_in(tank.span.file).collect();
    if !faults.is_empty() {
        return Err(reader.refused(faults));
    }
    let doubts = findings.iter().filter(|finding| finding.level == Level::Warning).cloned().collect();
    let others = reader.disk.of_other_roots(root, &reader.sources);
    Ok(Found { shelf, waiting, tank, doubts, others })
}

/// Why a backlog or a tank is missing: the errors, if there are any.
fn why_missing(reader: &mut Reader, mut findings: Vec<Diagnostic>, failure: Failure) -> Failure {
    findings.retain(|finding| finding.level == Level::Error);
    if findings.is_empty() { failure } else { reader.refused(findings) }
}

fn backlog(
    arguments: &Arguments,
    shelf: &Shelf,
    sources: &Sources,
    file: Option<FileId>,
) -> Result<Arc<Backlog>, Failure> {
    let given = arguments.backlog.clone().unwrap_or_else(|| PathBuf::from("-"));
    let given = given.to_string_lossy();
    let name = if file.is_some() { arguments.name.as_deref() } else { Some(&*given) };
    let all = || {
        let all = shelf.darkroom.backlogs_once();
        all.filter(move |backlog| file.is_none_or(|file| backlog.span.file == file))
    };
    let fitting: Vec<_> = all().filter(|backlog| name.is_none_or(|name| backlog.name == name)).collect();
    match (fitting.as_slice(), name) {
        ([one], _) => Ok(Arc::clone(one)),
        (several, None) => {
            let names: Vec<&str> = several.iter().map(|backlog| backlog.name.as_str()).collect();
            Err(not_one(Declared::Backlog, &given, &names))
        }
        (several, Some(name)) => {
            let sought = Sought::below(Declared::Backlog, name);
            let sought = sought.called(format!("wetside plan FILE.wet {name}"));
            let sought =
                if file.is_some() { Sought { place: format!("in {given}"), ..sought } } else { sought };
            let files = several.iter().map(|backlog| sources.name(backlog.span.file).to_owned());
            let known = || all().map(|backlog| backlog.name.as_str());
            Err(if several.is_empty() { sought.absent(known()) } else { sought.in_files(files) })
        }
    }
}

/// The named tank, else the only one that the backlog's file can name, else the only one.
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
    let files = || fitting.iter().map(|tank| sources.name(tank.span.file).to_owned());
    Err(match (&arguments.tank, fitting.is_empty(), known.as_slice()) {
        (Some(name), true, _) => Sought::below(Declared::Tank, name).absent(known),
        (Some(name), false, _) => Sought::below(Declared::Tank, name).in_files(files()),
        (None, true, _) => {
            Failure::new("no tank is declared below this folder", "declare one: tank NAME { … }")
        }
        // Several of one name: to say that name would not do either.
        (None, false, [name]) => Sought::below(Declared::Tank, name).in_files(files()),
        (None, false, _) => Failure::new(
            format!("there are several tanks: {}", first_few(known.iter().copied(), ", ")),
            "say which with --tank",
        ),
    })
}
