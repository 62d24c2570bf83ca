//! Trees to [`Shelf`]: names resolved, units and ranges held, rules kept. All that is wrong comes
//! back in one list; what is sound is on the shelf. After this no name is only a string.

mod gather;
mod again;
mod read;
mod scope;
mod derive;
mod merge;
mod inherit;
mod build;
mod contradiction;
mod rules;
mod level;
mod local;
mod look;
mod members;
mod names;
mod survey;
mod checked;

use std::collections::BTreeMap;
use std::sync::Arc;

use build::{Built, darkroom, declared, recipe};
use derive::Deriver;
use gather::{Parsed, Units, gather};
use level::Allowances;
use local::Reached;
use scope::{Key, Scopes};

use crate::model::{Recipe, Shelf, Solution};
use crate::source::{Diagnostic, FileId, Files, Level, Sources};
use crate::syntax::{self, FINDINGS_MAX, too_many_findings};
use crate::vocabulary::Declared;

pub use again::{Checker, Work};
pub use checked::{Checked, CheckedRecipe, check_file};
pub use level::{Levels, QUIET_IF_USED};
pub use members::{Member, MemberKind, Members, Said};
pub use names::{Declaration, Mention, Names, Use};
pub(crate) use read::{Want, following, read_file, units_of, value};
pub use rules::{RULES, Rule, rule};
pub use survey::{Survey, declared_names, is_free_name};

/// Checks files and all that they use, each rule at the weight that `levels` gives it. What comes
/// back is complete: every finding of every file, in the order of files and places, none twice; and
/// the shelf of what is sound.
pub fn check(
    sources: &mut Sources,
    roots: &[FileId],
    files: &dyn Files,
    levels: &Levels,
) -> (Shelf, Vec<Diagnostic>) {
    let mut findings = Vec::new();
    let (units, whole) = gather(sources, roots, files, &mut Parsed::of, &mut findings);
    let mut shelf = Shelf::default();
    if whole {
        shelf = resolved(&units, sources, levels, &mut findings);
    }
    (shelf, in_order(findings))
}

/// The shelf of what is sound in these files, which hold all that they use. Adds what it finds to what reading
/// them found, which does not count against the most findings that are told.
fn resolved(units: &Units, sources: &Sources, levels: &Levels, findings: &mut Vec<Diagnostic>) -> Shelf {
    let mut faults = Vec::new();
    let scopes = Scopes::of(units, &mut faults);
    let built = Built::of(units, &scopes, &mut faults);
    let allowances = Allowances::of(units, levels, &mut faults);
    let mut shelf = Shelf { tanks: tanks(units, &scopes, &built), ..Shelf::default() };
    let of_file = |(key, solution): (&Key, &Arc<Solution>)| (key.file, Arc::clone(solution));
    shelf.solutions = built.solutions.iter().map(of_file).collect();
    let mut deriver = Deriver { units, scopes: &scopes, sources, done: BTreeMap::new(), inherited: 0 };
    let mut sound = Vec::new();
    for (key, _) in declared(units, Declared::Recipe) {
        if faults.len() >= FINDINGS_MAX {
            break;
        }
        let merged = deriver.recipe(key, &mut faults);
        let recipe = merged.and_then(|merged| recipe(&merged, &built, &mut faults));
        shelf.recipes.extend(recipe.map(Arc::new));
    }
    shelf.darkroom = darkroom(units, &built, &mut faults);
    contradiction::contradictions(&shelf.darkroom, &mut faults);
    if let Some(last) = faults.last().filter(|_| faults.len() >= FINDINGS_MAX) {
        faults.push(too_many_findings(last.span));
    }
    // Of what has errors not all was looked at, so that what an allowance silences there is not known.
    let all_looked_at = findings.iter().chain(&faults).all(|fault| fault.level != Level::Error);
    for recipe in &shelf.recipes {
        let parent = look::parent(&shelf, recipe);
        sound.push(look::at_recipe(recipe, parent, &allowances, &mut faults));
    }
    look::at_the_rest(units, (&built, &shelf.darkroom), sources, &allowances, &mut faults);
    if all_looked_at {
        allowances.without_effect(&mut faults);
    }
    findings.append(&mut faults);
    let reached = Reached::of(units, findings.iter());
    let whole = |recipe: &Recipe| reached.is_empty() || !reached.holds_recipe(recipe, &shelf, units);
    let sound =
        shelf.recipes.iter().zip(sound).filter(|(_, sound)| *sound).map(|(recipe, _)| Arc::clone(recipe));
    let (recipes, sound_alone) = sound.partition(|recipe| whole(recipe));
    (shelf.recipes, shelf.unsound.sound_alone) = (recipes, sound_alone);
    reached.clear(&mut shelf, units);
    shelf
}

/// The names of all faults and rules, each with its meaning, in the order of the stages.
#[must_use]
pub fn faults() -> Vec<(&'static str, &'static str)> {
    let tables: [&[(&str, &str)]; 6] =
        [syntax::FAULTS, read::FAULTS, gather::FAULTS, scope::FAULTS, derive::FAULTS, merge::FAULTS];
    let built = build::FAULTS.iter().copied().chain([inherit::FAULTS, contradiction::FAULTS, level::FAULTS]);
    let rules = RULES.iter().map(|rule| (rule.name, rule.meaning));
    tables.into_iter().chain(built).flatten().copied().chain(rules).collect()
}

fn tanks(
    units: &Units,
    scopes: &Scopes,
    built: &Built<'_>,
) -> Vec<(FileId, String, Arc<crate::model::Tank>)> {
    let of_file = |file: FileId| {
        let names = scopes.all(file, Declared::Tank);
        names.filter_map(move |(name, key)| Some((file, name.to_owned(), Arc::clone(built.tanks.get(&key)?))))
    };
    units.keys().flat_map(|file| of_file(*file)).collect()
}

/// The report's order, each finding once: a step that several recipes inherit is told where it stands.
fn in_order(mut faults: Vec<Diagnostic>) -> Vec<Diagnostic> {
    faults.sort_by(|a, b| a.sort_key().cmp(&b.sort_key()));
    faults.dedup_by(|a, b| (a.span, a.name, &a.message) == (b.span, b.name, &b.message));
    faults
}
