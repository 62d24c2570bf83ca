//! The darkroom of the current folder's root: finds the next planned load, and the backlogs of rolls.

use std::sync::Arc;

use super::levels::levels;
use super::{Failure, Reader, choose, darkroom, each_once, fail, root};
use crate::check::ABOUT_SESSIONS;
use crate::model::{Backlog, Session, Shelf};
use crate::source::{Diagnostic, FileId, Level, first_few};
use crate::vocabulary::suggest;

/// The darkroom of the current folder's root: its baths, backlogs and sessions.
pub(super) struct Room {
    pub(super) reader: Reader,
    pub(super) shelf: Shelf,
}

impl Room {
    /// Reads the darkroom, and the recipes below the current folder if `with_recipes`.
    ///
    /// # Errors If a file of the darkroom has errors, since a planned load or a roll of a backlog could be missing.
    pub(super) fn open(no_config: bool, with_recipes: bool) -> Result<Room, Failure> {
        let mut reader = Reader::default();
        let mut files = darkroom::files(&darkroom::index(&root::ROOT), None, &mut reader)?;
        let own = files.clone();
        if with_recipes {
            files.extend(choose::files_below(None, &mut reader));
        }
        let (shelf, mut findings) = reader.check_darkroom(&root::ROOT, &files, &levels(&[], no_config)?);
        let planned: Vec<FileId> = shelf.darkroom.planned.iter().map(|session| session.span.file).collect();
        let counts = |error: &Diagnostic| {
            own.contains(&error.span.file)
                && (!ABOUT_SESSIONS.contains(&error.name) || planned.contains(&error.span.file))
        };
        findings.retain(|finding| finding.level == Level::Error && counts(finding));
        reader.refuse_any(findings)?;
        Ok(Room { reader, shelf })
    }

    pub(super) fn next(&self) -> Result<Arc<Session>, Failure> {
        let darkroom = &self.shelf.darkroom;
        if let Some(next) = darkroom.to_do().first() {
            return Ok(Arc::clone(next));
        }
        match darkroom.planned.len() {
            0 => fail(
                "no load is planned here",
                "write a plan to a file: wetside plan BACKLOG --tank TANK -o loads.wet; or name a recipe",
            ),
            count => fail(
                format!("all {count} planned loads are done"),
                "plan what is left: wetside plan BACKLOG --tank TANK -o loads.wet; or name a recipe",
            ),
        }
    }

    pub(super) fn has_roll(&self, label: &str) -> bool {
        self.shelf.darkroom.backlogs_once().any(|backlog| backlog.roll(label).is_some())
    }

    /// The backlog that has a roll with the first known label. A label is known if any backlog has it. Fails if no
    /// label is known, or if several backlogs have the first known label.
    pub(super) fn backlog(&self, labels: &[&str]) -> Result<Arc<Backlog>, Failure> {
        let all = || self.shelf.darkroom.backlogs_once();
        let known = labels.iter().copied().find(|label| self.has_roll(label));
        let having: Vec<&Arc<Backlog>> =
            all().filter(|backlog| known.is_some_and(|label| backlog.roll(label).is_some())).collect();
        match having.as_slice() {
            [one] => Ok(Arc::clone(one)),
            [] => {
                let given = labels.first().copied().unwrap_or_default();
                let near = suggest(given, all().flat_map(|backlog| &backlog.rolls).map(|roll| &*roll.label));
                let help = near.map_or_else(
                    || "name a recipe, and the rolls with --rolls 5x120".to_owned(),
                    |near| format!("did you mean {near}?"),
                );
                fail(format!("no backlog has a roll '{given}'"), help)
            }
            several => {
                let names = first_few(several.iter().map(|backlog| backlog.name.as_str()), ", ");
                fail(
                    format!(
                        "{} backlogs have a roll '{}': {names}",
                        several.len(),
                        known.unwrap_or_default()
                    ),
                    "name the recipe, and the rolls with --rolls 5x120 --label A-12",
                )
            }
        }
    }

    /// The only tank that the backlog's file declares or uses, else the only tank that was read; `None` if there are
    /// several or none.
    pub(super) fn only_tank(&self, backlog: &Backlog) -> Option<String> {
        let own = self.shelf.tanks_of(backlog.span.file).map(|(_, tank)| tank.name.clone());
        let all = self.shelf.tanks.iter().map(|(_, _, tank)| tank.name.clone());
        let only = |names: Vec<String>| match each_once(names.into_iter()).as_slice() {
            [one] => Some(one.clone()),
            _ => None,
        };
        only(own.collect()).or_else(|| only(all.collect()))
    }
}
