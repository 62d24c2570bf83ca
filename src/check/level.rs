//! Runs the rules, and decides which findings are reported. A finding has the severity of its rule, or the severity
//! that the config file states. An `allow` statement removes it.

use std::cell::Cell;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::build::{Builder, Partial};
use super::error;
use super::gather::Units;
use super::mixture::{self, Mixture};
use super::outdated::outdated;
use super::rules::{Check, CheckedFile, RULES, rule};
use crate::journal::usages;
use crate::model::{Recipe, Shelf};
use crate::source::{Diagnostic, FileId, Level, Map, Set, Sources, Span, clip};
use crate::vocabulary::{Reading, say, suggest};

/// Rules whose findings depend on which other files are checked too. An `allow` of one of them is never reported as
/// without effect, because it may have an effect in another check. The same holds for the rules about mixtures, which
/// depend on the dilutions in recipes.
const BY_THE_RUN: &[&str] = &[
    "bath-used-past-capacity",
    "bath-used-past-its-test",
    "bath-used-past-keeping",
    "never-used",
    "shared-without-source",
];

/// Errors and rules that depend on sessions in other files: another file may retract or contradict a session.
pub const ABOUT_SESSIONS: &[&str] = &[
    "bath-not-there",
    "bath-used-past-capacity",
    "bath-used-past-its-test",
    "bath-used-past-keeping",
    "developed-before-shot",
    "developed-twice",
    "planned-twice",
    "repeated-label",
    "repeated-retraction",
    "roll-of-another-format",
    "unknown-roll",
];

/// Rules that report nothing in a file that another file of the check uses.
pub const QUIET_IF_USED: &[&str] = &["never-used"];

/// The reason, in messages, why a rule cannot be allowed or lowered in severity.
const NEVER_LIFTED: &str = "what it finds hurts people or destroys the film every time";

/// The severities that the user chose for rules, in place of their defaults; `None` turns a rule off. A file may have
/// its own severities.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Levels {
    own: Map<String, Option<Level>>,
    files: Map<FileId, Levels>,
    /// Whether the user states tonight's clearing time, measured on a film leader. The film then needs no clearing time
    /// in its file.
    pub clears_tonight: bool,
}

impl Levels {
    /// Sets the severity of a rule; `None` turns the rule off.
    ///
    /// # Errors
    /// The rule does not exist (the message may suggest a similar name), or its severity is fixed.
    pub fn set(&mut self, name: &str, level: Option<Level>) -> Result<(), String> {
        match (rule(name), nearest_rule(name)) {
            (Some(rule), _) if rule.liftable => {}
            (Some(_), _) => return Err(format!("the severity of {name} is fixed: {NEVER_LIFTED}")),
            (None, Some(near)) => return Err(format!("there is no rule '{name}'; did you mean {near}?")),
            (None, None) => return Err(format!("there is no rule '{name}'; wetside rules lists them")),
        }
        self.own.insert(name.to_owned(), level);
        Ok(())
    }

    /// Sets the severities for findings in a file, and for findings in other files about declarations of this file.
    pub fn set_in(&mut self, file: FileId, levels: Levels) {
        self.files.insert(file, levels);
    }

    fn of(&self, subject: Span, finding: &Diagnostic) -> Option<Level> {
        let files = [finding.span.file, subject.file];
        let levels = files.iter().find_map(|file| self.files.get(file)).unwrap_or(self);
        levels.own.get(finding.name).copied().unwrap_or(Some(finding.level))
    }
}

/// The `allow` statements of all files. The key is the rule's name and the span in which the statements hold: a
/// declaration or a [`whole`] file.
pub(super) struct Allowances<'a> {
    levels: &'a Levels,
    all: BTreeMap<(&'static str, Span), Vec<Allowance>>,
}

struct Allowance {
    span: Span,
    /// The stated reason, if the `allow` is in the collection of another author; otherwise `None`. Such an `allow`
    /// turns an error into a warning, and does not hide it.
    others_reason: Option<String>,
    effect: Cell<bool>,
}

fn whole(file: FileId) -> Span {
    Span { file, start: 0, end: u32::MAX }
}

impl<'a> Allowances<'a> {
    pub(super) fn of(units: &Units, levels: &'a Levels, faults: &mut Vec<Diagnostic>) -> Allowances<'a> {
        let mut all: BTreeMap<_, Vec<Allowance>> = BTreeMap::new();
        let mut add = |row: &Reading, extent: Span| {
            if let Some(name) = allowed(row, faults) {
                let is_of_others = units.get(&row.span.file).is_some_and(|unit| unit.is_of_others);
                let reason = row.view::<say::Allow>().and_then(|row| row.reason());
                let others_reason = reason.filter(|_| is_of_others).map(str::to_owned);
                let allowance = Allowance { span: row.span, others_reason, effect: Cell::new(false) };
                all.entry((name, extent)).or_default().push(allowance);
            }
        };
        for reading in units.values().flat_map(|unit| unit.readings.iter()) {
            add(reading, whole(reading.span.file));
            reading.rows.iter().for_each(|row| add(row, reading.extent));
        }
        Allowances { levels, all }
    }

    /// `finding` with its final severity, about the declaration at `subject`. `None` if its rule is off. `None` also if
    /// an `allow` of the rule holds for the declaration or the file of `subject`, or of the finding. If only the author
    /// of another collection allows an error, it becomes a warning with that author's reason.
    pub(super) fn weigh(&self, subject: Span, mut finding: Diagnostic) -> Option<Diagnostic> {
        let (mut allowed, mut others_reason) = (false, None);
        for place in [subject, finding.span] {
            // Declarations do not overlap, so only the last one that begins before `place` can contain `place`.
            let until = (finding.name, Span { end: u32::MAX, ..place });
            let around = self.all.range(..=until).next_back();
            let around = around.filter(|((name, extent), _)| *name == finding.name && extent.holds(place));
            let in_file = self.all.get(&(finding.name, whole(place.file)));
            for allowance in around.map(|(_, all)| all).into_iter().chain(in_file).flatten() {
                allowance.effect.set(true);
                match &allowance.others_reason {
                    Some(reason) if finding.level == Level::Error => others_reason = Some(reason),
                    _ => allowed = true,
                }
            }
        }
        finding.level = self.levels.of(subject, &finding)?;
        if let Some(reason) = others_reason {
            finding.level = finding.level.max(Level::Warning);
            finding.message += &format!("; the collection's author allows it: {}", clip(reason));
        }
        (!allowed).then_some(finding)
    }

    pub(super) fn without_effect(&self, faults: &mut Vec<Diagnostic>) {
        for ((rule, _), allowances) in self.all.iter().filter(|((rule, _), _)| !is_by_the_run(rule)) {
            for allowance in allowances.iter().filter(|allowance| !allowance.effect.get()) {
                faults.push(
                    Diagnostic::warning(
                        "allow-without-effect",
                        allowance.span,
                        format!("this 'allow' has no effect: the rule {rule} finds nothing here"),
                    )
                    .help("remove the line, because it could hide an error later"),
                );
            }
        }
    }
}

fn is_by_the_run(name: &str) -> bool {
    BY_THE_RUN.contains(&name) || rule(name).is_some_and(|rule| matches!(rule.check, Check::Mixture(_)))
}

fn nearest_rule(name: &str) -> Option<&'static str> {
    suggest(name, RULES.iter().map(|rule| rule.name))
}

fn allowed(row: &Reading, faults: &mut Vec<Diagnostic>) -> Option<&'static str> {
    let row = row.view::<say::Allow>().filter(|row| row.sound)?;
    let (name, span) = row.said(say::Allow::rule)?;
    let Some(rule) = rule(name) else {
        let fault = Diagnostic::error("unknown-rule", span, format!("there is no rule '{}'", clip(name)));
        faults.push(match nearest_rule(name) {
            Some(near) => fault.write(near),
            None => fault.help("remove the line; wetside rules lists the rules"),
        });
        return None;
    };
    if !rule.liftable {
        let message = format!("{name} cannot be allowed: {NEVER_LIFTED}");
        faults.push(Diagnostic::warning("allow-without-effect", row.span, message).help("remove the line"));
        return None;
    }
    if row.reason().is_none_or(|reason| reason.trim().is_empty()) {
        let message = format!("{name} is allowed without a reason");
        faults.push(error("allow-without-reason", row.span, message, "write the reason between the quotes"));
        return None;
    }
    Some(rule.name)
}

/// Runs the rules about recipes on a recipe in which no error is known. Returns whether the rules find no error either.
pub(super) fn check_recipe(
    recipe: &Recipe,
    parent: Option<&Arc<Recipe>>,
    allowances: &Allowances<'_>,
    faults: &mut Vec<Diagnostic>,
) -> bool {
    let before = faults.len();
    for rule in RULES {
        let found = rule.in_recipe(recipe, parent.map(AsRef::as_ref));
        faults.extend(found.into_iter().filter_map(|finding| allowances.weigh(recipe.span, finding)));
    }
    faults.iter().skip(before).all(|fault| fault.level != Level::Error)
}

/// Runs the rules about recipes on a recipe with errors. Rules about single steps check only its steps without errors.
/// Rules about whole recipes check several completions of the recipe, in which its faulty steps are removed or filled
/// in. A finding counts only if every completion has it.
pub(super) fn check_partial(
    partial: &Partial,
    parent: Option<&Arc<Recipe>>,
    allowances: &Allowances<'_>,
    faults: &mut Vec<Diagnostic>,
) {
    let mut found = Vec::new();
    for rule in RULES {
        let Check::Step(check) = &rule.check else { continue };
        for step in partial.sound_steps() {
            let mut of_step = check(step);
            if !of_step.is_empty()
                && let Some(step) = partial.with_band(step)
            {
                let with_band = check(&step);
                of_step.retain(|finding| with_band.contains(finding));
            }
            found.extend(of_step);
        }
    }
    // If a line could not be read, the recipe is not compared with its parent: that line may contain what the recipe
    // changes.
    let parent = parent.filter(|_| partial.knows_lines()).map(AsRef::as_ref);
    let of_whole = |recipe: &Recipe| {
        let rules = RULES.iter().filter(|rule| !matches!(rule.check, Check::Step(_)));
        rules.flat_map(|rule| rule.in_recipe(recipe, parent)).collect::<Vec<_>>()
    };
    let mut completions = partial.completions();
    let mut certain = completions.next().map(|recipe| of_whole(&recipe)).unwrap_or_default();
    while !certain.is_empty() {
        let Some(recipe) = completions.next() else { break };
        let all = of_whole(&recipe);
        certain.retain(|finding| all.contains(finding));
    }
    let found = found.into_iter().chain(certain);
    faults.extend(found.filter_map(|finding| allowances.weigh(partial.span(), finding)));
}

pub(super) fn check_rest(
    built: &Builder<'_>,
    (shelf, partial): (&Shelf, &[Partial]),
    sources: &Sources,
    allowances: &Allowances<'_>,
    faults: &mut Vec<Diagnostic>,
) {
    let files = checked_files(built, sources);
    let usages = usages(&shelf.darkroom);
    let sound = shelf.recipes.iter().map(|recipe| (&**recipe, true));
    let uses = mixture::uses(sound.chain(partial.iter().map(|partial| (partial.known(), false))));
    // A solution is skipped if a step uses it in a dilution that could not be read: the amounts of its ingredients in
    // that bath are unknown.
    let clear = built.solutions.values().filter(|it| !built.unclear.contains(&it.span));
    let mixtures = clear.filter_map(|it| Mixture::of(it, uses.get(&Arc::as_ptr(it))));
    let mixtures: Vec<Mixture<'_>> = mixtures.collect();
    let only_added = only_added(built, shelf);
    for rule in RULES {
        let mut each = |span: Span, found: Vec<Diagnostic>| {
            faults.extend(found.into_iter().filter_map(|finding| allowances.weigh(span, finding)));
        };
        if rule.is_of_solutions() {
            let asked = built.solutions.values().filter(|it| {
                !matches!(rule.check, Check::Missing { but_replenishers: true, .. })
                    || !only_added.contains(it.name.as_str())
            });
            asked.for_each(|it| each(it.span, rule.in_solution(it)));
        }
        match &rule.check {
            Check::Film(check) => built.films.values().for_each(|it| each(it.span, check(it))),
            Check::Mixture(check) => mixtures.iter().for_each(|it| each(it.solution.span, check(it))),
            Check::Tank(check) => built.tanks.values().for_each(|it| each(it.span, check(it))),
            Check::Bath(check) => shelf.darkroom.bottles().for_each(|it| each(it.span, check(it))),
            Check::Trial(check) => {
                built.trials.values().for_each(|it| each(it.span, check(it, &shelf.darkroom)));
            }
            Check::Usage(check) => {
                let mut reported = Set::new();
                for usage in &usages {
                    let found =
                        check(usage).into_iter().filter(|_| reported.insert(usage.standing.bath.span));
                    each(usage.span, found.collect());
                }
            }
            Check::File(check) => {
                for file in &files {
                    each(Span { file: file.unit.file, start: 0, end: 0 }, check(file));
                }
            }
            _ => {}
        }
    }
}

/// The names of the solutions that are only added to baths or replenish them, and are in no step the bath itself. Such
/// a solution needs no capacity.
fn only_added<'a>(built: &'a Builder<'_>, shelf: &'a Shelf) -> Set<&'a str> {
    let steps = || shelf.recipes.iter().flat_map(|recipe| &recipe.steps);
    let added = steps().filter_map(|step| Some(&*step.bath.as_ref()?.added.as_ref()?.solution.name));
    let replenishers = built.solutions.values().filter_map(|it| Some(&*it.replenisher.as_ref()?.name));
    let baths: Set<&str> = steps().filter_map(|step| Some(&*step.solution()?.name)).collect();
    added.chain(replenishers).filter(|name| !baths.contains(name)).collect()
}

fn checked_files<'a>(built: &Builder<'a>, sources: &'a Sources) -> Vec<CheckedFile<'a>> {
    let units = built.units;
    let used: Set<FileId> = units.values().flat_map(|unit| &unit.uses).map(|used| used.file).collect();
    // A `use` line with an error may be meant for any of these files, and that file is then missing from `used`.
    let all_read = units.values().all(|unit| !unit.incomplete);
    let mut outdated = outdated(units, built.scopes);
    let files = units.values().map(|unit| {
        let mut statements = Vec::with_capacity(unit.tokens.len() / 2);
        unit.readings.iter().for_each(|reading| add(reading, &mut statements));
        let is_used = used.contains(&unit.file);
        let outdated = outdated.extract_if(.., |one| one.span.file == unit.file).collect();
        CheckedFile { unit, statements, text: sources.text(unit.file), outdated, is_used, all_read }
    });
    files.collect()
}

fn add<'a>(reading: &'a Reading, all: &mut Vec<&'a Reading>) {
    all.push(reading);
    reading.rows.iter().for_each(|row| add(row, all));
}
