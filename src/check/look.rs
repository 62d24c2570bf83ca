//! Runs each rule on what it checks: recipes, solutions, films, tanks, the darkroom, files.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::build::Builder;
use super::level::Allowances;
use super::rules::{Check, CheckedFile, RULES};
use crate::journal::usages;
use crate::model::{Darkroom, Recipe};
use crate::source::{Diagnostic, FileId, Level, Sources, Span};
use crate::vocabulary::Reading;

/// Runs the rules for recipes on a recipe; whether no error was found.
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

/// Runs all other rules.
pub(super) fn check_rest(
    built: &Builder<'_>,
    darkroom: &Darkroom,
    sources: &Sources,
    allowances: &Allowances<'_>,
    faults: &mut Vec<Diagnostic>,
) {
    let files = checked_files(built, sources);
    let usages = usages(darkroom);
    for rule in RULES {
        let mut each = |span: Span, found: Vec<Diagnostic>| {
            faults.extend(found.into_iter().filter_map(|finding| allowances.weigh(span, finding)));
        };
        built.solutions.values().for_each(|it| each(it.span, rule.in_solution(it)));
        match &rule.check {
            Check::Film(check) => built.films.values().for_each(|it| each(it.span, check(it))),
            Check::Tank(check) => built.tanks.values().for_each(|it| each(it.span, check(it))),
            Check::Bath(check) => darkroom.bottles().for_each(|it| each(it.span, check(it))),
            Check::Usage(check) => {
                let mut reported = BTreeSet::new();
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

fn checked_files<'a>(built: &Builder<'a>, sources: &'a Sources) -> Vec<CheckedFile<'a>> {
    let units = built.units;
    let used: BTreeSet<FileId> = units.values().flat_map(|unit| &unit.uses).map(|used| used.file).collect();
    // A file that was not read may use any other.
    let all_read = units.values().all(|unit| !unit.incomplete);
    let files = units.values().map(|unit| {
        let mut statements = Vec::with_capacity(unit.tokens.len() / 2);
        unit.readings.iter().for_each(|reading| add(reading, &mut statements));
        let is_used = used.contains(&unit.file);
        CheckedFile { unit, statements, text: sources.text(unit.file), is_used, all_read }
    });
    files.collect()
}

fn add<'a>(reading: &'a Reading, all: &mut Vec<&'a Reading>) {
    all.push(reading);
    reading.rows.iter().for_each(|row| add(row, all));
}
