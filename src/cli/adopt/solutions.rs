//! Shows what an update changes in solutions: their hazards as on a label, and, if no recipe of the collection uses the
//! solution, its cautions, needs and capacities.

use std::sync::Arc;

use crate::check::Checked;
use crate::cli::root::printable;
use crate::compile::{Label, Personal};
use crate::model::{Date, Dilution, Solution, Step, Volume};
use crate::source::{Map, Set};

/// Changes of lines that begin with these words are shown only for a solution that no recipe uses. If a recipe uses the
/// solution, the comparison of recipes shows these changes.
const STATED: [&str; 3] = ["caution ", "needs ", "treats "];

/// The report of changes in solutions that both versions of the collection declare.
pub(super) fn shown(old: &Checked, new: &Checked) -> String {
    let (was, is) = (declared(old), declared(new));
    let in_recipes: Set<&str> = in_recipes(old).chain(in_recipes(new)).collect();
    let mut text = String::new();
    for (name, after) in &is {
        let Some(before) = was.get(name) else { continue };
        let mut changes = hazards(before, after);
        if !in_recipes.contains(name) {
            changes.extend(lines(&stated(old, before), &stated(new, after)));
        }
        if !changes.is_empty() {
            text += &format!("solution {}\n", printable(name));
            changes.iter().for_each(|change| text += &format!("  {}\n", printable(change)));
        }
    }
    text
}

/// The solutions of a collection. The keys are their names. Of several solutions with the same name, the last one is
/// taken.
fn declared(checked: &Checked) -> Map<&str, &Arc<Solution>> {
    checked.shelf.solutions.iter().map(|(_, solution)| (solution.name.as_str(), solution)).collect()
}

fn in_recipes(checked: &Checked) -> impl Iterator<Item = &str> {
    let steps = checked.shelf.recipes.iter().flat_map(|recipe| &recipe.steps);
    steps.flat_map(Step::solutions).map(|solution| solution.name.as_str())
}

/// The changes on the labels of a solution's bottles, a line each. A solution in several parts has a bottle for each
/// part.
fn hazards(before: &Solution, after: &Solution) -> Vec<String> {
    let mut changes = Vec::new();
    let parts = || after.parts.iter().map(|part| Some(part.as_str()));
    let only = after.parts.is_empty().then_some(None);
    for part in parts().chain(only) {
        let ((was, before), (is, after)) = (label(before, part), label(after, part));
        let of = part.map(|part| format!("bottle {part}: ")).unwrap_or_default();
        if was != is {
            let or_none = |signal: String| if signal.is_empty() { "no pictogram".to_owned() } else { signal };
            changes.push(format!("{of}label {} → {}", or_none(was), or_none(is)));
        }
        changes.extend(lines(&before, &after).into_iter().map(|line| of.clone() + &line));
    }
    changes
}

/// The hazards on a bottle's label: the signal word with the pictograms, and the hazard statements.
fn label(solution: &Solution, part: Option<&str>) -> (String, Set<String>) {
    // The hazards depend neither on the volume nor on the day of mixing, so both are arbitrary.
    let filled = (Volume::from_ml(1000), Date::new(2000, 1, 1).unwrap_or(Date::MAX));
    let label = Label::of_mixed(solution, part, &Dilution::stock(), filled, &Personal::default());
    (label.signal, label.statements.into_iter().collect())
}

/// The lines of a solution that begin with a word of `STATED`, with single spaces between the words.
fn stated(checked: &Checked, solution: &Solution) -> Set<String> {
    let text = checked.sources.text(solution.span.file).get(solution.extent.range()).unwrap_or("");
    let plain = text.lines().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
    plain.filter(|line| STATED.iter().any(|word| line.starts_with(word))).collect()
}

/// The lines that only `before` has, as `no longer: …`, and those that only `after` has, as `new: …`.
fn lines(before: &Set<String>, after: &Set<String>) -> Vec<String> {
    let gone = before.difference(after).map(|line| format!("no longer: {line}"));
    gone.chain(after.difference(before).map(|line| format!("new: {line}"))).collect()
}
