//! R11, R13. The bottle that a step pours from, and whether its bath can still treat tonight's film.

use super::evening::Evening;
use super::schedule::Warning;
use super::words;
use crate::journal::{Capacity, Standing, Verdict};
use crate::model::{Bath, Step, Volume, decimal};
use crate::source::Diagnostic;

impl<'a> Evening<'a> {
    /// The bottle that a step pours from; `None` if the step keeps no bath, or no bottle holds it. If several bottles
    /// do, each next step with that bath takes the next bottle of `--bath`.
    pub(super) fn bottle(&self, step: &Step) -> Option<Standing<'a>> {
        let bottles = self.tonight.bottles.as_ref()?;
        let bath = step.kept_bath()?;
        let darkroom = &self.shelf.darkroom;
        let named = bottles.from.iter().filter_map(|span| darkroom.bottles().find(|one| one.span == *span));
        let fitting: Vec<_> = named.filter(|one| one.holds(bath)).collect();
        let last = fitting.last()?;
        let before = self.recipe.steps.iter().take_while(|other| !std::ptr::eq(*other, step));
        let place = before.filter_map(Step::kept_bath).filter(|bath| last.holds(bath)).count();
        let bottle = fitting.get(place).unwrap_or(last);
        Some(Standing::of(darkroom, bottle, bottles.on))
    }

    /// Checks that a step's bottle can be used, and its bath can treat tonight's film. `poured` is the volume of the
    /// step.
    pub(super) fn check_bottle(
        &self,
        step: &Step,
        poured: Option<Volume>,
        errors: &mut Vec<Diagnostic>,
        warnings: &mut Vec<Warning>,
    ) {
        let Some(bath) = &step.bath else { return };
        let bottle = self.bottle(step);
        // An exhausted bottle gives another error below.
        if let Some(poured) = poured.filter(|_| !bottle.as_ref().is_some_and(Standing::is_spent)) {
            let own = bottle.as_ref().map(|bottle| (*bottle.bath.volume, bottle.treated));
            self.check_capacity(bath, own.unwrap_or((poured, 0)), errors, warnings);
        }
        let Some(standing) = bottle else { return };
        let name = &standing.bath.name;
        let error = |rule, message: String, help: &str| {
            Diagnostic::error(rule, bath.span, message).other(standing.bath.span, "the bottle").help(help)
        };
        if !standing.is_made() || standing.is_discarded() {
            let is = if standing.is_made() { "was already poured away" } else { "was not mixed yet" };
            let message = format!("on {} the bath '{name}' {is}", standing.on);
            let help = "name another bottle with --bath, or give the day with --date";
            errors.push(error("bottle-not-there", message, help));
            return;
        }
        let held = *standing.bath.volume;
        if let Some(poured) = poured.filter(|poured| held < *poured) {
            let (held, poured) = (words::volume(held), words::volume(poured));
            let message = format!("'{name}' holds {held}, but tonight's load needs {poured}");
            let help = "load fewer rolls, or make up a larger bottle";
            errors.push(error("bottle-too-small", message, help));
        }
        let (rule, text) = match (standing.verdict(), standing.keeps_until) {
            (Verdict::ClearsTooSlowly, _) => (
                "bottle-exhausted",
                format!("'{name}' clears in twice the fresh time or more: it is exhausted"),
            ),
            (Verdict::Spent, _) => {
                let treated = decimal(standing.treated, 12, 2);
                ("bottle-exhausted", format!("'{name}' has treated {treated} rolls, its full capacity"))
            }
            (Verdict::PastKeeping, Some(until)) => {
                let text = format!("'{name}' keeps until {until}, but the day is {}", standing.on);
                ("bottle-past-keeping", text)
            }
            _ => return,
        };
        if self.accepts_exhausted() {
            warnings.push(Warning { rule, text });
        } else {
            let help =
                "mix a new bath and declare its bottle; or test this bath, and use it with --spent-too";
            errors.push(error(rule, text, help));
        }
    }

    /// R13. Checks tonight's film against the capacity of a bath of this volume, which has treated `before`. More film
    /// than the capacity is an error; nine tenths of it or more, a warning.
    fn check_capacity(
        &self,
        bath: &Bath,
        (volume, before): (Volume, i64),
        errors: &mut Vec<Diagnostic>,
        warnings: &mut Vec<Warning>,
    ) {
        let Some(solution) = &bath.solution else { return };
        let Some(capacity) = Capacity::of(solution, &bath.dilution, volume) else { return };
        let film = before + self.twelfths();
        let (rolls, comma) = match (words::rolls(self.twelfths()), before) {
            (rolls, 0) => (rolls, ""),
            (rolls, before) => (format!("{rolls}, after {} before", words::rolls(before)), ","),
        };
        let treats = format!(
            "{} of {} {} treats {} rolls",
            words::volume(volume),
            solution.name,
            bath.dilution,
            decimal(capacity.in_parts_of_a_roll(100), 100, 1)
        );
        if !capacity.holds(film) && !self.accepts_exhausted() {
            let enough = words::volume(capacity.enough_for(film).rounded_up(Volume::from_ml(10)));
            let message = format!("{treats}, but tonight's film is {rolls}");
            errors.push(
                Diagnostic::error("bath-over-capacity", bath.span, message)
                    .other(capacity.span, "its capacity")
                    .help(format!("take at least {enough} of it, or load fewer rolls")),
            );
        } else if capacity.is_nearly_used_up_by(film) {
            let text = format!("{treats}: after tonight's {rolls}{comma} it is nearly exhausted");
            warnings.push(Warning { rule: "R13", text });
        }
    }

    /// Whether an exhausted bottle gives only a warning.
    fn accepts_exhausted(&self) -> bool {
        self.tonight.bottles.as_ref().is_some_and(|bottles| bottles.accept_exhausted)
    }
}
