//! The bottles that an evening pours from: those that the call names, else for each kept bath of the recipe the
//! only one that fits.

use std::sync::Arc;

use super::darkroom;
use super::disk::Disk;
use super::evening::Evening;
use super::failure::Failure;
use super::find::Search;
use super::{given, root};
use crate::compile::{Bottles, Heed};
use crate::editor::Desk;
use crate::journal::{Standing, Verdict};
use crate::model::{Bath, Date, KeptBath, Recipe, Shelf, Use};
use crate::source::{FileId, Sources};
use crate::vocabulary::suggest;

/// Whether bottles have a part in it: the recipe keeps a bath, or the call names one.
pub(super) fn wanted(evening: &Evening, recipe: &Recipe) -> bool {
    !evening.bath.is_empty() || kept(recipe).next().is_some()
}

/// The files of the darkroom: that of this folder if the recipe stands below its root, else that of the recipe's.
/// One that cannot be read has no bottle for tonight, and a card needs none.
/// `below` is a search in this folder.
pub(super) fn files(
    recipe: FileId,
    below: &mut Search,
    sources: &mut Sources,
    disk: &mut Disk,
) -> Vec<FileId> {
    let path = disk.path(sources.name(recipe));
    let path = path.filter(|path| path.is_absolute() && !path.starts_with(root::of_here()));
    let root = path.and_then(|path| path.parent().map(root::above));
    let root = root.as_deref().unwrap_or(root::of_here());
    let files = if root == root::here() {
        darkroom::files_found(below, sources, disk)
    } else {
        darkroom::files_below(root, sources, disk)
    };
    files.unwrap_or_default()
}

fn kept(recipe: &Recipe) -> impl Iterator<Item = &Bath> {
    let baths = recipe.steps.iter().filter_map(|step| step.bath.as_ref());
    baths.filter(|bath| matches!(bath.fate, Some(Use::Reused | Use::Replenished)))
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
    let heed = if evening.spent_too { Heed::Warn } else { Heed::Refuse };
    Ok(Some(Bottles { on, from: from.into_iter().map(|bottle| bottle.span).collect(), heed }))
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
    let known: Vec<&str> = shelf.darkroom.bottles().map(|bottle| bottle.name.as_str()).collect();
    let near = suggest(name, known.iter().copied());
    let near = near.map(|near| format!("did you mean {near}? ")).unwrap_or_default();
    Err(Failure::new(
        format!("this darkroom has no bath '{name}'"),
        format!("{near}declare it: bath {name} {{ … }} in a .wet file that uses the one of its solution"),
    ))
}
