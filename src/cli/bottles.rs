//! The bottles that an evening pours from: those that the call names, else for each kept bath of the recipe the
//! only one that fits.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::darkroom;
use super::disk::Disk;
use super::evening::Evening;
use super::failure::Failure;
use super::find::Index;
use super::sought::Sought;
use super::{given, root};
use crate::compile::Bottles;
use crate::editor::Desk;
use crate::journal::{Standing, Verdict};
use crate::model::{Bath, Date, KeptBath, Recipe, Shelf, Use};
use crate::source::{FileId, Sources};
use crate::vocabulary::Declared;

/// Whether bottles have a part in it: the recipe keeps a bath, or the call names one.
pub(super) fn wanted(evening: &Evening, recipe: &Recipe) -> bool {
    !evening.bath.is_empty() || kept(recipe).next().is_some()
}

/// The root of the darkroom that a recipe is worked in: that of this folder if the recipe stands below it, else that
/// of the recipe, whose name is given.
pub(super) fn root(recipe: &str, disk: &Disk) -> PathBuf {
    let path = disk.path(recipe).filter(|path| path.is_absolute() && !path.starts_with(root::of_here()));
    let root = path.and_then(|path| path.parent().map(root::above));
    root.unwrap_or_else(|| root::of_here().to_owned())
}

/// The files of the darkroom of a root. One that cannot be read has no bottle for tonight, and a card needs none.
/// `index` is of this folder.
pub(super) fn files(root: &Path, index: &Index, sources: &mut Sources, disk: &mut Disk) -> Vec<FileId> {
    let files = match root == root::here() {
        true => darkroom::files(index, sources, disk),
        false => darkroom::files(&darkroom::index(root), sources, disk),
    };
    files.unwrap_or_default()
}

fn kept(recipe: &Recipe) -> impl Iterator<Item = &Bath> {
    let baths = recipe.steps.iter().filter_map(|step| step.bath.as_ref());
    baths.filter(|bath| bath.fate.is_some_and(Use::is_kept))
}

fn fits(bottle: &KeptBath, bath: &Bath) -> bool {
    bath.solution.as_ref().is_some_and(|solution| Arc::ptr_eq(solution, &bottle.solution))
        && bath.dilution == bottle.dilution
}

/// The bottles of tonight; `None` where there are none.
///
/// # Errors
/// A name that no bottle bears, one that nothing in the recipe pours from, or several that fit and none named.
pub(super) fn chosen(
    evening: &Evening,
    day: Option<Date>,
    shelf: &Shelf,
    recipe: &Recipe,
) -> Result<Option<Bottles>, Failure> {
    let darkroom = &shelf.darkroom;
    let mut from: Vec<&Arc<KeptBath>> = Vec::new();
    for name in &evening.bath {
        from.push(named(shelf, recipe, name)?);
    }
    if from.is_empty() && !kept(recipe).any(|bath| darkroom.bottles().any(|bottle| fits(bottle, bath))) {
        return Ok(None);
    }
    let on = day.map_or_else(|| given::today("--date"), Ok)?;
    for bath in kept(recipe) {
        if from.iter().any(|bottle| fits(bottle, bath)) {
            continue;
        }
        let there = |bottle: &&Arc<KeptBath>| {
            let standing = Standing::of(darkroom, bottle, on);
            fits(bottle, bath) && standing.is_made() && !standing.is_discarded()
        };
        let fitting: Vec<&Arc<KeptBath>> = darkroom.bottles().filter(there).collect();
        let is_good = |bottle: &&&Arc<KeptBath>| {
            matches!(Standing::of(darkroom, bottle, on).verdict(), Verdict::Good | Verdict::NearlySpent)
        };
        let good: Vec<&Arc<KeptBath>> = fitting.iter().filter(is_good).copied().collect();
        match (good.as_slice(), fitting.as_slice()) {
            ([one], _) | ([], [one]) => from.push(one),
            ([], []) => {}
            ([], several) | (several, _) => {
                let names: Vec<&str> = several.iter().map(|bottle| bottle.name.as_str()).collect();
                let solution = bath.solution.as_ref().map_or("", |solution| solution.name.as_str());
                return Err(Failure::new(
                    format!("several bottles of {solution} {} fit: {}", bath.dilution, names.join(", ")),
                    format!("say which to pour from: --bath {}", names.first().unwrap_or(&"NAME")),
                ));
            }
        }
    }
    if from.is_empty() {
        return Ok(None);
    }
    let from = from.into_iter().map(|bottle| bottle.span).collect();
    Ok(Some(Bottles { on, from, accept_exhausted: evening.spent_too }))
}

fn named<'a>(shelf: &'a Shelf, recipe: &Recipe, name: &str) -> Result<&'a Arc<KeptBath>, Failure> {
    let bears = |(_, said, bottle): &&(FileId, String, Arc<KeptBath>)| said == name || bottle.name == name;
    let all = || shelf.darkroom.baths.iter().filter(bears).map(|(_, _, bottle)| bottle);
    if let Some(bottle) = all().find(|bottle| kept(recipe).any(|bath| fits(bottle, bath))) {
        return Ok(bottle);
    }
    if let Some(bottle) = all().next() {
        let kept: Vec<String> = kept(recipe)
            .filter_map(|bath| Some(format!("{} {}", bath.solution.as_ref()?.name, bath.dilution)))
            .collect();
        let kept = if kept.is_empty() { "none".to_owned() } else { kept.join(", ") };
        return Err(Failure::new(
            format!(
                "'{name}' holds {} {}, and '{}' pours none of that",
                bottle.solution.name, bottle.dilution, recipe.name
            ),
            format!("its kept baths are: {kept}"),
        ));
    }
    let sought = Sought::below(Declared::Bath, name).place("in this darkroom");
    Err(sought.absent(shelf.darkroom.bottles().map(|bottle| bottle.name.as_str())))
}
