//! Exchanges the baths of inherited steps, as the `swap` lines of derived recipes state.

use std::sync::Arc;

use super::Builder;
use super::partial::Unknown;
use crate::check::merge::Merged;
use crate::model::{Bath, Dilution, Solution, Step};
use crate::source::{Set, clip, first_few};
use crate::vocabulary::{Lines as _, Matched, Reading, say};

type Contents = (Arc<Solution>, Dilution);

impl Builder<'_> {
    /// The bath of a step after the `swap` lines of these recipes; `None` after an error. Each recipe comes after its
    /// parent.
    pub(super) fn swapped(&mut self, mut bath: Bath, recipes: &[&Reading]) -> Option<Bath> {
        if !can_be_swapped(&bath) {
            return Some(bath);
        }
        for recipe in recipes {
            // At most one `swap` line of each recipe changes the bath. If a recipe exchanges two solutions by the lines
            // A→B and B→A, a second change would turn A back into A.
            for row in recipe.each::<say::Swap>().filter(|row| row.sound) {
                let (solution, dilution) = self.first(row)?;
                let is_it = bath.solution.as_ref().is_some_and(|own| Arc::ptr_eq(own, &solution));
                if is_it && bath.dilution == dilution {
                    let (solution, dilution) = self.second(row)?;
                    (bath.solution, bath.dilution, bath.span) = (Some(solution), dilution, row.span);
                    self.swapped.insert(row.span);
                    break;
                }
            }
        }
        Some(bath)
    }

    /// The solution and dilution that a `swap` line replaces; `None` after an error.
    fn first(&mut self, row: Matched<'_, say::Swap>) -> Option<Contents> {
        let place = row.place(say::Swap::first_dilution);
        self.diluted(row.said(say::Swap::first)?, None, row.first_dilution(), place)
    }

    /// The solution and dilution that a `swap` line puts in; `None` after an error.
    fn second(&mut self, row: Matched<'_, say::Swap>) -> Option<Contents> {
        let place = row.place(say::Swap::second_dilution);
        self.diluted(row.said(say::Swap::second)?, None, row.second_dilution(), place)
    }

    /// Reports each `swap` line of a recipe that changes none of the recipe's steps. Returns whether any line was
    /// reported.
    pub(super) fn idle_swaps(&mut self, merged: &Merged<'_>, steps: &[(Step, Option<Unknown>)]) -> bool {
        let before = self.faults.len();
        // If the bath of a step could not be read, nothing is reported: the `swap` line may be about that bath.
        if !merged.sound || steps.iter().any(|(_, unknown)| unknown.is_some_and(|unknown| unknown.bath)) {
            return false;
        }
        for row in merged.each::<say::Swap>() {
            if !row.sound || self.swapped.contains(&row.span) {
                continue;
            }
            let (message, help) = match (merged.parent.is_some(), self.first(row)) {
                // An error in the line's old solution or dilution is already reported.
                (true, None) => continue,
                (true, Some(contents)) => idle(row, &contents, steps),
                (false, _) => (
                    "'swap' changes the steps of a parent, and this recipe has none".to_owned(),
                    "write the solution into the step itself: in NAME 1+4".to_owned(),
                ),
            };
            self.error("nothing-to-swap", row.span, message, help);
        }
        !self.no_error_since(before)
    }
}

/// Whether a `swap` line can change a bath. It cannot change a used bath, which changes with the earlier step that it
/// comes from. It cannot name a single bottle of a solution either.
fn can_be_swapped(bath: &Bath) -> bool {
    bath.used.is_none() && bath.part.is_none()
}

fn idle(
    row: Matched<'_, say::Swap>,
    (solution, _): &Contents,
    steps: &[(Step, Option<Unknown>)],
) -> (String, String) {
    let name = clip(row.said(say::Swap::first).map_or("", |(name, _)| name));
    let stated = row.first_dilution().map(|dilution| format!(" {dilution}")).unwrap_or_default();
    let baths = || steps.iter().filter_map(|(step, _)| Some((step, step.bath.as_ref()?)));
    let is_of = |bath: &Bath| bath.solution.as_ref().is_some_and(|own| Arc::ptr_eq(own, solution));
    let message = format!("no step of the parent is in {name}{stated}");
    let of_part =
        |(step, bath): &(&Step, &Bath)| Some((step.title(), bath.part.clone()?)).filter(|_| is_of(bath));
    if let Some((step, part)) = baths().find_map(|both| of_part(&both)) {
        let help = format!(
            "{step} is in part {part} of it, which no swap changes: write the step with its new 'in'"
        );
        return (message, help);
    }
    let contents = |bath: &Bath| Some(format!("{} {}", bath.solution.as_ref()?.name, bath.dilution));
    let known: Set<String> =
        baths().filter(|(_, bath)| can_be_swapped(bath)).filter_map(|(_, bath)| contents(bath)).collect();
    let help = match known.is_empty() {
        true => "none of its steps is in a solution that a swap can change: remove this line".to_owned(),
        false => {
            format!("name one of the parent's baths: {}", first_few(known.iter().map(String::as_str), ", "))
        }
    };
    (message, help)
}
