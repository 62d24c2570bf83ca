//! Finds the declarations that errors affect: each declaration that has an error, and each that refers to such a
//! declaration. An error outside of all declarations affects its whole file.

use super::build::declared;
use super::gather::{Unit, Units};
use crate::model::{Recipe, Shelf, Unsound};
use crate::source::{Diagnostic, FileId, Level, Set, Span};
use crate::vocabulary::Declared;

/// What the errors of a run affect: the declarations with these extents, and all declarations of these files.
#[derive(Debug, Default)]
pub(super) struct Reached {
    extents: Set<Span>,
    files: Set<FileId>,
}

impl Reached {
    pub(super) fn of<'a>(units: &Units, findings: impl Iterator<Item = &'a Diagnostic>) -> Reached {
        let mut reached = Reached::default();
        for error in findings.filter(|finding| finding.level == Level::Error) {
            let Some(unit) = units.get(&error.span.file) else { continue };
            match declaration(unit, error.span) {
                // If two declarations have the same name, a reference may mean either, so the whole file is affected.
                Some(extent) if error.name != "repeated-name" => _ = reached.extents.insert(extent),
                // A failed `use` affects nothing by itself. A recipe that needs a name from the used file has its own
                // error for that name.
                Some(_) | None if error.name.starts_with("use-") => {}
                Some(_) | None => _ = reached.files.insert(unit.file),
            }
        }
        reached
    }

    pub(super) fn is_empty(&self) -> bool {
        self.files.is_empty() && self.extents.is_empty()
    }

    /// Whether the errors affect the declaration that contains the span `place`.
    pub(super) fn holds(&self, place: Span) -> bool {
        self.files.contains(&place.file) || self.holds_within(place)
    }

    fn holds_within(&self, place: Span) -> bool {
        // Declarations do not overlap, so only the last one before `place` can contain `place`.
        let before = self.extents.last_up_to(&Span { end: u32::MAX, ..place });
        before.is_some_and(|extent| extent.holds(place))
    }

    /// Whether the errors affect a recipe, or a declaration that the recipe refers to.
    pub(super) fn holds_recipe(&self, recipe: &Recipe, shelf: &Shelf, units: &Units) -> bool {
        let has_schemes =
            |unit: &Unit| unit.readings.iter().any(|it| it.declares() == Some(Declared::Agitation));
        let may_lack_schemes = |file: FileId| {
            let mut used = units.get(&file).into_iter().flat_map(|unit| &unit.uses).map(|used| used.file);
            used.any(|file| self.files.contains(&file) && units.get(&file).is_some_and(has_schemes))
        };
        let is_recipe = |extent: Span| shelf.recipes.iter().any(|recipe| recipe.extent == extent);
        let clears = recipe.film.iter().flat_map(|film| &film.value.clears);
        let made_of = shelf.made_of(recipe).into_iter().chain(clears.map(|clears| clears.solution.extent));
        self.holds(recipe.extent)
            || made_of.into_iter().any(|extent| {
                self.files.contains(&extent.file)
                    || (self.holds_within(extent) && !is_recipe(extent))
                    || may_lack_schemes(extent.file)
            })
    }

    /// Removes the solutions, films and tanks that errors affect from a shelf. Lists in `unsound` the files that have
    /// recipes, solutions or tanks with errors.
    pub(super) fn clear(&self, shelf: &mut Shelf, units: &Units) {
        if self.is_empty() {
            return;
        }
        shelf.solutions.retain(|(_, solution)| !self.holds(solution.span));
        shelf.films.retain(|(_, film)| !self.holds(film.span));
        shelf.tanks.retain(|(_, _, tank)| !self.holds(tank.span));
        let missing = |kind: Declared, sound: Set<Span>| {
            let all = declared(units, kind).filter(|(_, reading)| !sound.contains(&reading.span));
            all.map(|(key, _)| key.file).collect()
        };
        shelf.unsound = Unsound {
            recipes: missing(Declared::Recipe, shelf.recipes.iter().map(|one| one.span).collect()),
            solutions: missing(Declared::Solution, shelf.solutions.iter().map(|(_, one)| one.span).collect()),
            sound_alone: std::mem::take(&mut shelf.unsound.sound_alone),
            tanks: missing(Declared::Tank, shelf.tanks.iter().map(|(_, _, one)| one.span).collect()),
        };
    }
}

fn declaration(unit: &Unit, place: Span) -> Option<Span> {
    let behind = unit.readings.partition_point(|reading| reading.extent.start <= place.start);
    let reading = unit.readings.get(behind.checked_sub(1)?)?;
    (reading.declares().is_some() && reading.extent.holds(place)).then_some(reading.extent)
}
