//! R11, R13. The bottle that a step pours from, and whether its bath can still treat tonight's film.

use std::sync::Arc;

use super::evening::{Bottles, Evening, Tonight};
use super::schedule::Notices;
use super::words;
use crate::journal::{Capacity, Cleared, ClearedOn, Growth, Standing, Verdict};
use crate::model::{Bath, Format, KeptBath, Recipe, Shelf, Step, Volume, decimal};
use crate::source::{Diagnostic, Sorted as _, Span, first_few};

/// A reason not to use a roll or a bottle tonight. `--anyway` with the name of the roll or bottle overrides the
/// objection.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Objection {
    /// The label of the roll, or the name of the bottle.
    pub name: String,
    /// The name of the error, such as `bottle-exhausted`.
    pub rule: &'static str,
    /// The objection as a sentence without full stop.
    pub text: String,
    /// The objection in a few words: `3 of 30 left`.
    pub brief: String,
}

/// The objections to the bottles that a recipe pours from tonight, including objections that `--anyway` overrides.
pub fn objections(shelf: &Shelf, recipe: &Arc<Recipe>, tonight: &Tonight) -> Vec<Objection> {
    let Ok(evening) = Evening::of(shelf, recipe, tonight) else { return Vec::new() };
    let mut all: Vec<Objection> = Vec::new();
    for step in &recipe.steps {
        let Some(standing) = evening.bottle(step).filter(Standing::is_in_use) else { continue };
        let own = evening.objections_to(step, &standing);
        all.extend(own.into_iter().filter(|own| !all.contains(own)).collect::<Vec<_>>());
    }
    all
}

impl<'a> Evening<'a> {
    /// The bottle that a step pours from; `None` if the step's bath does not go back into a bottle, or if no bottle
    /// holds this bath. If several bottles hold it, the first step with this bath takes the first of them in `--bath`,
    /// the next step the second, and so on.
    pub(super) fn bottle(&self, step: &Step) -> Option<Standing<'a>> {
        let bottles = self.tonight.bottles.as_ref()?;
        let bath = step.kept_bath()?;
        let darkroom = &self.shelf.darkroom;
        let declared = |span: &Span| darkroom.bottles().find(|one| one.span == *span);
        let standing = |bottle| Standing::of(darkroom, bottle, bottles.on);
        if let Some(name) = &bath.name {
            let given = bottles.named.iter().find(|(own, _)| own == name);
            return match given {
                Some((_, span)) => declared(span).map(standing),
                None => self.bottle_by_use(bath, bottles),
            };
        }
        let fitting: Vec<_> =
            bottles.from.iter().filter_map(declared).filter(|one| one.holds(bath)).collect();
        let last = fitting.last()?;
        let before = self.recipe.steps.iter().take_while(|other| !std::ptr::eq(*other, step));
        let place = before.filter_map(Step::kept_bath).filter(|bath| last.holds(bath)).count();
        let bottle = fitting.get(place).unwrap_or(last);
        Some(standing(bottle))
    }

    /// The bottle for a named bath, such as the first of two fixers, if `--bath` gives the bath no bottle. The bottle
    /// that has treated most film is for the bath that film meets first. The bottle with the second most film is for
    /// the second bath, and so on.
    fn bottle_by_use(&self, bath: &Bath, bottles: &Bottles) -> Option<Standing<'a>> {
        let darkroom = &self.shelf.darkroom;
        let is_given = |span: &Span| bottles.named.iter().any(|(_, given)| given == span);
        let free = bottles.from.iter().filter(|span| !is_given(span));
        let mut fitting: Vec<Standing<'a>> = free
            .filter_map(|span| darkroom.bottles().find(|one| one.span == *span && one.holds(bath)))
            .map(|one| Standing::of(darkroom, one, bottles.on))
            .collect();
        fitting.order_by_key(|standing| std::cmp::Reverse(standing.treated));
        let baths = self.recipe.steps.iter().filter_map(Step::kept_bath);
        let baths: Vec<&Bath> = baths.filter(|other| other.has_contents_of(bath)).collect();
        let mut names: Vec<&str> = Vec::new();
        for name in baths.iter().filter_map(|bath| bath.name.as_deref()) {
            if !names.contains(&name) && !bottles.named.iter().any(|(given, _)| given == name) {
                names.push(name);
            }
        }
        names.order_by_key(|name| moves_up(&baths, name));
        let place = names.iter().position(|name| Some(*name) == bath.name.as_deref())?;
        (place < fitting.len()).then(|| fitting.swap_remove(place))
    }

    /// Checks that the bottle of a step can be used, and that the bath in it can treat tonight's film. `poured` is the
    /// volume that the step needs.
    pub(super) fn check_bottle(
        &self,
        step: &Step,
        poured: Option<Volume>,
        errors: &mut Vec<Diagnostic>,
        notices: &mut Notices,
    ) {
        let Some(bath) = step.bath.as_ref().filter(|bath| bath.used.is_none()) else { return };
        let Some(standing) = self.bottle(step) else {
            if let Some(poured) = poured.filter(|_| bath.becomes.is_none()) {
                self.check_capacity(bath, (poured, None), errors, notices);
            }
            return self.advise_uncounted(step, notices);
        };
        let name = &standing.bath.name;
        let error = |rule, message: String, help: String| {
            Diagnostic::error(rule, bath.span, message).other(standing.bath.span, "the bottle").help(help)
        };
        if !standing.is_in_use() {
            errors.push(self.not_there(bath, &standing));
            return;
        }
        let held = *standing.bath.volume;
        if let Some(poured) = poured.filter(|poured| held < *poured) {
            let (needed, help) = self.less_than(held);
            let (held, poured) = (words::volume(held), words::volume(poured));
            let message = format!("'{name}' holds {held}, but {needed} {poured}");
            errors.push(error("bottle-too-small", message, help));
        }
        // An exhausted bottle is reported below, by the error `bottle-exhausted`.
        if poured.is_some() && !standing.is_spent() && bath.becomes.is_none() {
            self.check_capacity(bath, (held, Some(&standing)), errors, notices);
        }
        let tested = standing.cleared.filter(|_| self.leader_in(step).is_none());
        if let Some((test, fresh)) =
            tested.filter(|it| it.compared().is_none()).and_then(|it| Some((it.test, it.fresh?)))
        {
            let (tested, of) = (self.degrees(test.at), self.degrees(fresh.at));
            notices.warn(
                "R11",
                format!("'{name}' was tested at {tested}, and the fresh time is for {of}: whether it is exhausted is not known"),
            );
        }
        self.advise_of_growth(step, &standing, notices);
        for Objection { rule, text, .. } in self.grounds_against(step, &standing) {
            if self.tonight.takes_anyway(name) {
                notices.lifted(rule, name, &text);
            } else {
                let help = format!(
                    "mix a new bath and declare it; or use the old bath all the same: --anyway {name}"
                );
                errors.push(error(rule, text, help));
            }
        }
    }

    /// The error for a bottle that was not mixed yet, or is poured away.
    fn not_there(&self, bath: &Bath, standing: &Standing<'_>) -> Diagnostic {
        let (name, on, darkroom) = (&standing.bath.name, standing.on, &self.shelf.darkroom);
        let is_there =
            |other: &&Arc<KeptBath>| other.holds(bath) && Standing::of(darkroom, other, on).is_in_use();
        let others: Vec<&str> = darkroom.bottles().filter(is_there).map(|other| &*other.name).collect();
        let (is, line, day) = match standing.bath.discarded {
            Some(discarded) if standing.is_made() => ("already poured away", "discarded", discarded.span),
            _ => ("not mixed yet", "mixed", standing.bath.mixed.span),
        };
        let message = format!("on {on} the bath '{name}' was {is}");
        let error = Diagnostic::error("bottle-not-there", bath.span, message)
            .other(day, format!("the line '{line}' of '{name}'"));
        let error = match others.as_slice() {
            [] if standing.is_made() => error.help("mix a new bath and declare it"),
            [] => error,
            others => error.help(format!(
                "take a bottle that is there with --bath: {}",
                first_few(others.iter().copied(), ", ")
            )),
        };
        error.help(format!("if the day is wrong, correct the line '{line}', or give tonight's with --date"))
    }

    /// The words for what decides the volume to pour, such as `tonight's load needs`, and the help if a bottle holds only
    /// `held`, less than that volume.
    fn less_than(&self, held: Volume) -> (&'static str, String) {
        if self.tonight.volume.is_some() {
            let step = Volume::from_ml(if held > Volume::from_ml(1000) { 10 } else { 5 });
            let most = Volume { fl: held.fl - held.fl.rem_euclid(step.fl) }.in_ml(1);
            return (
                "--volume asks for",
                format!("write --volume {most}ml or less, or make up a larger bottle"),
            );
        }
        let rolls: u32 = self.tonight.rolls.iter().map(|rolls| rolls.count).fold(0, u32::saturating_add);
        let ways = [
            (rolls > 1).then_some("load fewer rolls"),
            self.tank().is_some().then_some("name a smaller tank with --tank"),
            Some("make up a larger bottle"),
        ];
        ("tonight's load needs", ways.into_iter().flatten().collect::<Vec<_>>().join("; or "))
    }

    /// Advises on the card that the clearing time in a bottle grows from session to session (rule R11).
    fn advise_of_growth(&self, step: &Step, standing: &Standing<'_>, notices: &mut Notices) {
        let Some(at) = self.course(step).map(|course| course.from) else { return };
        let tonight = self.leader_in(step).map(|time| ClearedOn { date: standing.on, time, at });
        let recipe = &self.recipe.name;
        let growth = Growth::of(&self.shelf.darkroom, standing.bath, standing.on, tonight.zip(Some(recipe)));
        let Some(growth) = growth else { return };
        let (name, verdict) = (&standing.bath.name, growth.verdict());
        notices.advise("R11", format!("'{name}': a leader cleared in {growth}: {verdict}"));
    }

    /// All objections to a bottle tonight, because of the state of its bath or the amount of tonight's film.
    fn objections_to(&self, step: &Step, standing: &Standing<'_>) -> Vec<Objection> {
        let mut all = self.grounds_against(step, standing);
        let film = standing.treated + self.counted_in(step);
        if let Some(capacity) = standing.capacity.filter(|capacity| !capacity.holds(film))
            && !standing.is_spent()
        {
            let (name, left) = (standing.bath.name.clone(), left(standing, capacity));
            let text = format!("it has {left}, and tonight's load is {}", words::rolls(self.area()));
            all.push(Objection { name, rule: "bath-over-capacity", text, brief: left });
        }
        all
    }

    /// The area of tonight's film that counts as use of the step's bath; [`Format::ROLL`] is one roll. It is 0 for the
    /// second of two baths of the same solution.
    pub(super) fn counted_in(&self, step: &Step) -> i64 {
        let is_second = step.bath.as_ref().is_some_and(|bath| bath.becomes.is_some());
        if is_second { 0 } else { self.area() }
    }

    fn grounds_against(&self, step: &Step, standing: &Standing<'_>) -> Vec<Objection> {
        let name = &standing.bath.name;
        let objection = |rule, text, brief| Objection { name: name.clone(), rule, text, brief };
        let mut grounds = standing.grounds();
        // The clearing time of tonight's leader (`--clears`) replaces the clearing test of the bottle.
        if let Some(doubled) = self.leader_has_doubled(step) {
            grounds.retain(|ground| *ground != Verdict::ClearsTooSlowly);
            grounds.extend(doubled.then_some(Verdict::ClearsTooSlowly));
        }
        let found = grounds.into_iter().filter_map(|ground| match (ground, standing.keeps_until) {
            (Verdict::ClearsTooSlowly, _) => Some(objection(
                "bottle-exhausted",
                format!("'{name}' clears in twice the fresh time or more: it is exhausted"),
                "clears in twice the fresh time".to_owned(),
            )),
            (Verdict::Spent, _) => Some(objection(
                "bottle-exhausted",
                format!(
                    "'{name}' has treated {} rolls, its full capacity",
                    decimal(standing.treated, Format::ROLL, 2)
                ),
                standing.capacity.map(|capacity| left(standing, capacity))?,
            )),
            (Verdict::PastKeeping, Some(until)) => Some(objection(
                "bottle-past-keeping",
                format!("'{name}' keeps until {until}, but the day is {}", standing.on),
                format!("kept until {until}"),
            )),
            _ => None,
        });
        found.collect()
    }

    /// Whether tonight's leader (`--clears`) took at least twice as long to clear as in fresh fixer. `None` without a
    /// leader; `false` if the two times cannot be compared.
    fn leader_has_doubled(&self, step: &Step) -> Option<bool> {
        let time = self.leader_in(step)?;
        let fresh = self.film.clearing_in(step.bath.as_ref()?);
        let at = self.course(step)?.from;
        Some(fresh.and_then(|fresh| Cleared::doubled((time, at), fresh)).unwrap_or(false))
    }

    /// Checks that a bath of this volume, from a bottle or mixed tonight, can treat tonight's film (rule R13). Film
    /// beyond the capacity is an error; film that uses nine tenths of the capacity or more is a warning.
    pub(super) fn check_capacity(
        &self,
        bath: &Bath,
        (volume, bottle): (Volume, Option<&Standing<'_>>),
        errors: &mut Vec<Diagnostic>,
        notices: &mut Notices,
    ) {
        let Some(solution) = &bath.solution else { return };
        let volume = bath.own_in(volume);
        let Some(capacity) = Capacity::of(solution, &bath.dilution, volume) else { return };
        let before = bottle.map_or(0, |standing| standing.treated);
        let film = before + self.area();
        let (rolls, comma) = match (words::rolls(self.area()), before) {
            (rolls, 0) => (rolls, ""),
            (rolls, before) => (format!("{rolls}, after {} before", words::rolls(before)), ","),
        };
        let treats = format!(
            "{} of {} {} treats {}",
            words::volume(volume),
            solution.name,
            bath.dilution,
            words::hundredths(capacity.in_parts_of_a_roll(100))
        );
        let name = bottle.map(|standing| standing.bath.name.as_str());
        let anyway = name.filter(|name| self.tonight.takes_anyway(name));
        if !capacity.holds(film) {
            let message = format!("{treats}, but tonight's load is {rolls}");
            if let Some(name) = anyway {
                return notices.lifted("bath-over-capacity", name, &message);
            }
            let enough =
                words::volume(bath.whole_for(capacity.enough_for(film)).rounded_up(Volume::from_ml(10)));
            let lift = name.map(|name| format!("; or take it with --anyway {name}")).unwrap_or_default();
            errors.push(
                Diagnostic::error("bath-over-capacity", bath.span, message)
                    .other(capacity.span, "the capacity of the solution")
                    .help(format!("take at least {enough} of the bath, or load fewer rolls{lift}")),
            );
        } else if capacity.is_nearly_used_up_by(film) {
            notices.warn("R13", format!("{treats}: after tonight's {rolls}{comma} it is nearly exhausted"));
        }
    }

    /// Advises on the card that the time of a step is not extended for film that its bath has treated, because no
    /// bottle is declared for the bath (rule R13).
    fn advise_uncounted(&self, step: &Step, notices: &mut Notices) {
        let Some(solution) = step.kept_bath().and_then(|bath| bath.solution.as_ref()) else { return };
        let Some(extend) = solution.extend else { return };
        let percent = decimal(i64::from(extend.by.basis_points), 100, 2);
        let (name, rolls) = (&solution.name, extend.per_rolls);
        notices.advise(
            "R13",
            format!(
                "no bottle of {name} is declared, so its {percent} % for each {rolls} rolls treated before is not \
                 counted in the time of {}",
                step.title()
            ),
        );
    }
}

/// How many rolls of its capacity a bottle has left: `3 of 30 left`.
fn left(standing: &Standing<'_>, capacity: Capacity) -> String {
    let rolls = |film: i64| decimal(film, Format::ROLL, 1);
    format!("{} of {} left", rolls(standing.left_after(0).unwrap_or(0)), rolls(capacity.area()))
}

/// The place of the bath `name` in the order in which film meets the baths, from 1.
fn moves_up(baths: &[&Bath], name: &str) -> usize {
    let next = |name: &&str| {
        baths.iter().find(|bath| bath.name.as_deref() == Some(*name)).and_then(|bath| bath.becomes.as_deref())
    };
    // The limit ends the count if the baths replace each other in a circle.
    std::iter::successors(Some(name), next).take(baths.len() + 1).count()
}
