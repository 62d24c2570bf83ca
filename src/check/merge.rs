//! Merges a derived recipe with its parent: the statements of the derived recipe replace those of the parent, and its
//! new steps are inserted among the parent's steps.

use std::fmt::{self, Display, Formatter};

use super::derive::Said;
use super::error;
use crate::model::StepKind;
use crate::source::{Diagnostic, FileId, Span, clip, first_few};
use crate::vocabulary::{Lines, Reading, Row, Statement as _, say, suggest};

type Is = fn(&'static Row) -> bool;

const TIMES: &[Is] = &[say::Chart::has, say::Time::has, say::Fills::has, say::Soak::has];

/// Groups of statements of which a recipe or a step has only one. In a derived recipe, a statement replaces the
/// parent's statement of the same group.
const SLOTS: &[&[Is]] = &[TIMES, &[say::Between::has, say::Within::has], &[say::UsedFilm::has]];

/// Pairs of statements that one step cannot both have.
const CLASHES: &[&[Is]] = &[&[say::Flow::has, say::Fills::has], &[say::Flow::has, say::Soak::has]];

/// A recipe with its own and its inherited statements and steps.
pub(super) struct Merged<'a> {
    pub(super) own: &'a Reading,
    pub(super) parent: Option<(FileId, String)>,
    pub(super) depth: usize,
    pub(super) rows: Vec<&'a Reading>,
    pub(super) steps: Vec<MergedStep<'a>>,
    /// Whether all statements of the recipe and of its ancestors were read without an error.
    pub(super) sound: bool,
    /// Whether every line of the recipe and of its ancestors outside of steps was read without an error.
    pub(super) knows_lines: bool,
    /// Whether every line that may begin or remove a step was understood, so that all steps and their order are known.
    pub(super) knows_steps: bool,
}

/// A step with its own and its inherited statements.
#[derive(Debug, Clone)]
pub(super) struct MergedStep<'a> {
    pub(super) id: StepId<'a>,
    pub(super) span: Span,
    pub(super) rows: Vec<&'a Reading>,
    /// If the step's time is a multiple, as in `1.4 x parent`: the time statements of its parents that it refers to,
    /// the nearest parent first.
    pub(super) times_before: Vec<&'a Reading>,
    /// The recipes whose `swap` lines may change the step's bath: those derived from the recipe that states the bath.
    /// Each parent comes before the recipes derived from it.
    pub(super) swapped_by: Vec<&'a Reading>,
    /// Whether every line of the step was read without an error.
    pub(super) sound: bool,
    /// Whether every line of the step begins with the first word of a statement, even if the rest of the line has an
    /// error.
    pub(super) known: bool,
}

/// The kind and the name of a step. Together they identify the step in its recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct StepId<'a> {
    pub(super) kind: StepKind,
    pub(super) name: Option<&'a str>,
}

impl Display for StepId<'_> {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        out.write_str(self.kind.word())?;
        self.name.map_or(Ok(()), |name| write!(out, " {}", clip(name)))
    }
}

/// A step that a statement names, and the place of that name.
pub(super) type StepSaid<'a> = (StepId<'a>, Said);

fn step_said<'a>((kind, word): (StepKind, Span), name: Option<(&'a str, Span)>) -> StepSaid<'a> {
    let span = name.map_or(word, |(_, name)| word.to(name));
    (StepId { kind, name: name.map(|(name, _)| name) }, Said { span, name: name.map(|(_, span)| span) })
}

/// The step that a statement of a recipe adds, changes or removes; `None` if the statement is not about a step.
pub(super) fn step_of(row: &Reading) -> Option<StepSaid<'_>> {
    if let Some(without) = row.view::<say::Without>().filter(|row| !row.has(say::Without::word)) {
        return Some(step_said(without.said(say::Without::kind)?, without.said(say::Without::name)));
    }
    let (kind, step) = row.step().zip(row.view::<say::Step>())?;
    let length = u32::try_from(kind.word().len()).unwrap_or(0);
    let word = Span { end: row.span.start + length, ..row.span };
    Some(step_said((kind, word), step.said(say::Step::name)))
}

pub(super) fn neighbour_of(row: &Reading) -> Option<StepSaid<'_>> {
    let step = row.view::<say::Step>()?;
    Some(step_said(step.said(say::Step::by)?, step.said(say::Step::by_name)))
}

/// The steps that a statement of a recipe names in other ways: the ends of a `repeat`, and the step in a line `in used
/// develop`.
pub(super) fn named_in(row: &Reading) -> impl Iterator<Item = StepSaid<'_>> {
    let repeat = row.view::<say::Repeat>();
    let first =
        repeat.and_then(|row| Some((row.said(say::Repeat::first)?, row.said(say::Repeat::first_name))));
    let last = repeat.and_then(|row| Some((row.said(say::Repeat::last)?, row.said(say::Repeat::last_name))));
    let used =
        row.each::<say::In>().filter_map(|row| Some((row.said(say::In::by)?, row.said(say::In::by_name))));
    first.into_iter().chain(last).chain(used).map(|(kind, name)| step_said(kind, name))
}

impl<'a> MergedStep<'a> {
    pub(super) fn time_row(&self) -> Option<&'a Reading> {
        TIMES.iter().find_map(|is| self.rows.iter().copied().find(|row| is(row.row)))
    }

    fn put(&mut self, row: &'a Reading, faults: &mut Vec<Diagnostic>) {
        if TIMES.iter().any(|is| is(row.row)) {
            let refers = row.view::<say::Time>().is_some_and(|row| row.has(say::Time::parent));
            match self.time_row() {
                Some(before) if refers => self.times_before.insert(0, before),
                _ => self.times_before.clear(),
            }
        }
        if row.is::<say::In>() {
            self.swapped_by.clear();
        }
        put_or_remove(&mut self.rows, row, faults);
    }
}

impl<'a> Lines<'a> for &Merged<'a> {
    fn lines(self) -> impl Iterator<Item = &'a Reading> {
        self.rows.iter().copied()
    }
}

impl<'a> Lines<'a> for &MergedStep<'a> {
    fn lines(self) -> impl Iterator<Item = &'a Reading> {
        self.rows.iter().copied()
    }
}

pub(super) fn merge<'a>(
    parent: Option<&Merged<'a>>,
    own: &'a Reading,
    faults: &mut Vec<Diagnostic>,
) -> Merged<'a> {
    let understood = own.sound && own.block_sound;
    let is_step = |row: &&Reading| row.step().is_some() || row.is::<say::Without>();
    let mut merged = Merged {
        own,
        parent: parent.and_then(|parent| Some((parent.own.span.file, parent.own.name()?.0.to_owned()))),
        depth: parent.map_or(0, |parent| parent.depth + 1),
        rows: parent.map_or(Vec::new(), |parent| parent.inherited()),
        steps: parent.map_or(Vec::new(), |parent| parent.steps.clone()),
        sound: understood && parent.is_none_or(|parent| parent.sound),
        knows_lines: understood && parent.is_none_or(|parent| parent.knows_lines),
        knows_steps: own.sound
            && own.block_known
            && own.rows.iter().filter(is_step).all(|row| row.sound)
            && parent.is_none_or(|parent| parent.knows_steps),
    };
    if own.rows.iter().any(Reading::is::<say::Swap>) {
        merged.steps.iter_mut().for_each(|step| step.swapped_by.push(own));
    }
    two_ways(&own.rows, faults);
    let mut all_placed = true;
    let mut stated: Vec<(StepId<'_>, Span)> = Vec::new();
    for row in &own.rows {
        let Some((id, _)) = step_of(row) else {
            put_or_remove(&mut merged.rows, row, faults);
            continue;
        };
        if row.is::<say::Without>() {
            match merged.position(id) {
                Some(at) => drop(merged.steps.remove(at)),
                None if merged.knows_steps => faults.push(merged.no_step(id, row.span)),
                None => merged.sound = false,
            }
            continue;
        }
        if let Some((_, earlier)) = stated.iter().find(|(earlier, _)| *earlier == id) {
            faults.push(
                error(
                    "repeated-step",
                    row.span,
                    format!("the step {id} occurs twice"),
                    format!("rename one of the steps, such as: {} second {{", id.kind.word()),
                )
                .other(*earlier, "the first"),
            );
            // It is unknown which of the two steps the author means, so the order of the steps is unknown, too.
            (merged.sound, all_placed) = (false, false);
        } else {
            all_placed &= merged.merge_step(id, row, faults);
        }
        stated.push((id, row.span));
    }
    merged.knows_steps &= all_placed;
    merged
}

impl<'a> Merged<'a> {
    /// The statements that a derived recipe inherits from this recipe. `tested` and `deprecated` hold only for this
    /// recipe. `swap` lines are not inherited, because `swapped_by` of each step lists them.
    fn inherited(&self) -> Vec<&'a Reading> {
        let is_own =
            |row: &Reading| row.is::<say::Tested>() || row.is::<say::Deprecated>() || row.is::<say::Swap>();
        self.rows.iter().copied().filter(|row| !is_own(row)).collect()
    }

    fn position(&self, id: StepId<'_>) -> Option<usize> {
        self.steps.iter().position(|step| step.id == id)
    }

    /// Merges a step into the inherited step of the same kind and name, or inserts it as a new step. Returns whether
    /// the position of the step is known.
    fn merge_step(&mut self, id: StepId<'a>, row: &'a Reading, faults: &mut Vec<Diagnostic>) -> bool {
        let sound = row.sound && row.block_sound && row.rows.iter().all(|row| row.sound && row.block_sound);
        self.sound &= sound;
        two_ways(&row.rows, faults);
        let known = self.position(id);
        let at = match (known, place(row)) {
            (Some(at), None) => Some(at),
            (Some(at), Some(place)) => {
                faults.push(self.needless_place(id, place));
                Some(at)
            }
            // If the header of the step or of the recipe has an error, nothing is reported: it may state the step's
            // position, or the recipe's parent.
            _ if !row.sound || !self.own.sound => None,
            (None, Some((is_after, neighbour, span))) => {
                let found = self.position(neighbour);
                if found.is_none() && self.knows_steps {
                    faults.push(self.no_place((is_after, neighbour, span)));
                }
                found.map(|at| at + usize::from(is_after))
            }
            (None, None) if self.parent.is_none() => Some(self.steps.len()),
            (None, None) => {
                if self.knows_steps {
                    faults.push(self.unplaced(id, row.span));
                }
                None
            }
        };
        let Some(at) = at else {
            self.sound = false;
            return false;
        };
        if known.is_none() {
            let (rows, times_before, swapped_by) = (Vec::new(), Vec::new(), Vec::new());
            let span = row.span;
            let step = MergedStep { id, span, rows, times_before, swapped_by, sound: true, known: true };
            self.steps.insert(at, step);
        }
        if let Some(step) = self.steps.get_mut(at) {
            step.sound &= sound;
            step.known &= row.block_known;
            row.rows.iter().for_each(|row| step.put(row, faults));
        }
        true
    }

    fn step_names(&self) -> Vec<String> {
        self.steps.iter().map(|step| step.id.to_string()).collect()
    }

    fn needless_place(
        &self,
        id: StepId<'_>,
        (is_after, neighbour, span): (bool, StepId<'_>, Span),
    ) -> Diagnostic {
        let (word, kind) = (if is_after { "after" } else { "before" }, id.kind.word());
        let recipe = if self.parent.is_some() { "the inherited recipe" } else { "the recipe" };
        let is_free = |name: &&str| self.position(StepId { kind: id.kind, name: Some(name) }).is_none();
        let name = ["second", "third", "fourth"].into_iter().find(is_free).unwrap_or("last");
        let message = format!("{recipe} already has a step {id}, which keeps its place");
        error("needless-place", span, message, format!("to change that step, write: {id} {{"))
            .help(format!("to add another {kind} step, name it: {kind} {name} {word} {neighbour} {{"))
    }

    fn unplaced(&self, id: StepId<'_>, span: Span) -> Diagnostic {
        let message = format!("the parent has no step {id}; a new step needs a place");
        let names = self.step_names();
        let fault = Diagnostic::error("unplaced-step", span, message);
        let before_drying = self.steps.iter().rfind(|step| step.id.kind != StepKind::Dry);
        let last = before_drying.map(|step| step.id.to_string()).or(names.last().cloned());
        let Some(last) = last else { return fault.help("the parent has no steps to place it by") };
        fault
            .help(format!("say where it goes, such as: {id} after {last} {{"))
            .help(format!("the parent's steps are {}", few(&names)))
    }

    /// The error about a step that is placed by a step that the recipe lacks, or has only further down.
    fn no_place(&self, (is_after, neighbour, span): (bool, StepId<'_>, Span)) -> Diagnostic {
        let is_later =
            |row: &&Reading| step_of(row).is_some_and(|(own, _)| own == neighbour && row.span > span);
        let mut steps = self.own.rows.iter().filter(|row| !row.is::<say::Without>());
        let Some(later) = steps.find(is_later) else { return self.no_step(neighbour, span) };
        let word = if is_after { "after" } else { "before" };
        let message =
            format!("'{word}' needs a step that is stated earlier, and {neighbour} is stated below");
        let fault = Diagnostic::error("unknown-step", span, message).other(later.span, "below");
        match &self.parent {
            None if !is_after => fault.offer("", "leave this out: the steps are in the order of the file"),
            _ => fault.help(format!("move this step, down to its }}, below the step {neighbour}")),
        }
    }

    fn no_step(&self, id: StepId<'_>, span: Span) -> Diagnostic {
        let wanted = id.to_string();
        let steps = self.step_names();
        let help = match suggest(&wanted, steps.iter().map(String::as_str)) {
            Some(near) => format!("it has a step {near}"),
            None if self.parent.is_none() => {
                "leave the place out: the steps are done in the order of the file".to_owned()
            }
            None => format!("its steps are {}", few(&steps)),
        };
        error("unknown-step", span, format!("at this point the recipe has no step '{wanted}'"), help)
    }
}

fn few(steps: &[String]) -> String {
    first_few(steps.iter().map(String::as_str), ", ")
}

/// Where the header of a step places the step, as in `after fix`: true for `after` or false for `before`, the other
/// step, and the span of these words. `None` if the header states no place.
fn place(row: &Reading) -> Option<(bool, StepId<'_>, Span)> {
    let step = row.view::<say::Step>()?;
    let after = step.said(say::Step::after);
    let ((), word) = after.or(step.said(say::Step::before))?;
    let (neighbour, said) = neighbour_of(row)?;
    Some((after.is_some(), neighbour, word.to(said.span)))
}

/// Adds a statement to `rows`. A `without` line is not added: it removes the inherited statements with the word that it
/// states. A caution cannot be removed.
fn put_or_remove<'a>(rows: &mut Vec<&'a Reading>, row: &'a Reading, faults: &mut Vec<Diagnostic>) {
    let of_recipe = row.view::<say::Without>().and_then(|row| row.said(say::Without::word));
    let of_step = row.view::<say::WithoutWord>().and_then(|row| row.said(say::WithoutWord::word));
    let Some((word, span)) = of_recipe.or(of_step) else {
        // A `without` line with an error is already reported.
        if !row.is::<say::Without>() && !row.is::<say::WithoutWord>() {
            put(rows, row);
        }
        return;
    };
    if word == "caution" {
        let help = "remove this line: a recipe has all cautions of its parent";
        return faults.push(error("caution-removed", span, "a caution cannot be removed", help));
    }
    let before = rows.len();
    rows.retain(|there| there.row.word != word);
    if rows.len() == before {
        let message = format!("there is no inherited statement '{word}'");
        faults.push(error("nothing-to-remove", span, message, "remove this line, or correct the word"));
    }
}

/// Adds a statement to `rows`. It replaces the earlier statement with the same word, if that word cannot be repeated,
/// and any earlier statement of the same group in `SLOTS`.
fn put<'a>(rows: &mut Vec<&'a Reading>, row: &'a Reading) {
    let slot = SLOTS.iter().find(|slot| slot.iter().any(|is| is(row.row)));
    let changes = row.is::<say::Fills>() || row.is::<say::Soak>();
    rows.retain(|there| {
        let replaced = slot.is_some_and(|slot| slot.iter().any(|is| is(there.row)));
        !(replaced || there.is_one_with(row) || changes && there.is::<say::Flow>())
    });
    rows.push(row);
}

fn which_to_remove(first: &Reading, second: &Reading) -> String {
    let words = |row: &Reading| match row.row.opens {
        Some(_) => format!("'{}' with all its lines, down to its }}", row.row.word),
        None => format!("the line '{}'", row.row.word),
    };
    match first.row.opens.or(second.row.opens) {
        Some(_) => format!("remove {}, or {}", words(first), words(second)),
        None => "keep one of the two lines and remove the other".to_owned(),
    }
}

fn two_ways(rows: &[Reading], faults: &mut Vec<Diagnostic>) {
    for slot in SLOTS.iter().chain(CLASHES) {
        let mut stated = rows.iter().filter(|row| slot.iter().any(|is| is(row.row)));
        let Some(first) = stated.next() else { continue };
        for second in stated.filter(|second| !std::ptr::eq(second.row, first.row)) {
            faults.push(
                error(
                    "said-in-two-ways",
                    second.span,
                    format!("'{}' and '{}' exclude each other", first.row.word, second.row.word),
                    which_to_remove(first, second),
                )
                .other(first.span, "the first"),
            );
        }
    }
}
