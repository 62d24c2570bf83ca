//! A solution from its block.

use super::super::read::{Item, Reading, Value};
use super::formula::formula;
use super::{named, row, sound, texts};
use crate::chemistry::Ingredient;
use crate::model::{Dilution, Extend, Formula, Quickening, Role, Solution, Stated, Treats};
use crate::source::{Diagnostic, Span};

/// The faults that solutions tell.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("dilution-parts", "a dilution with more or fewer parts than the solution has bottles"),
    ("repeated-capacity", "two capacities of a solution at one strength"),
    ("repeated-part", "two bottles of one name"),
    ("formula-part", "a formula for a bottle that the solution does not have, or for none"),
    ("repeated-formula", "two formulas for one bottle"),
];

/// The solution, or what is wrong with it.
pub(super) fn solution(reading: &Reading, faults: &mut Vec<Diagnostic>) -> Option<Solution> {
    let before = faults.len();
    let (name, title) = named(reading)?;
    let parts = parts(reading, faults);
    let formulas = formulas(reading, &parts, faults);
    let volume = |word| row(reading, word).and_then(|row| Some(Stated::new(row.volume()?, row.span)));
    let solution = Solution {
        name,
        title,
        span: reading.span,
        extent: reading.extent,
        role: row(reading, "role").and_then(role),
        parts,
        formulas,
        contains: row(reading, "contains").map(contains).unwrap_or_default(),
        needs: volume("needs"),
        treats: reading.rows.iter().filter_map(treats).collect(),
        extend: row(reading, "extend").and_then(|row| {
            Some(Stated::new(Extend { by: row.share()?, per_rolls: row.count()? }, row.span))
        }),
        replenish: volume("replenish"),
        rate: row(reading, "rate").and_then(|row| {
            let rate = Quickening { factor: row.number()?, interval: row.difference()? };
            Some(Stated::new(rate, row.span))
        }),
        keeps: row(reading, "keeps").and_then(|row| Some(Stated::new(row.keeping()?, row.span))),
        sources: texts(&reading.rows, "source"),
        cautions: texts(&reading.rows, "caution"),
        notes: texts(&reading.rows, "note"),
    };
    for (at, treats) in solution.treats.iter().enumerate() {
        if let Some(earlier) = solution.treats.iter().take(at).find(|other| other.at == treats.at) {
            faults.push(
                Diagnostic::error(
                    "repeated-capacity",
                    treats.span,
                    "how far it goes at this strength is said already",
                )
                .other(earlier.span, "the first")
                .help("keep the one that holds, or say for which strength: at 1+4"),
            );
        }
        if let Some(dilution) = &treats.at {
            parts_fit(&solution, dilution, treats.span, faults);
        }
    }
    (sound(reading) && faults.iter().skip(before).all(|fault| fault.level != crate::source::Level::Error))
        .then_some(solution)
}

/// Holds a dilution to the bottles of its solution; `None` if it does not fit, which is told.
pub(super) fn parts_fit(
    solution: &Solution,
    dilution: &Dilution,
    span: Span,
    faults: &mut Vec<Diagnostic>,
) -> Option<()> {
    let (has, given) = (solution.bottles(), dilution.parts.len());
    if has == given {
        return Some(());
    }
    let message = format!(
        "'{}' comes in {has} bottle{}, this dilution has {given} besides water",
        solution.name,
        if has == 1 { "" } else { "s" }
    );
    let fault = Diagnostic::error("dilution-parts", span, message).other(solution.span, "the solution");
    faults.push(if has == 1 {
        fault.help("write one part and the water, such as 1+9; or stock")
    } else {
        let each = vec!["1"; has].join("+");
        fault.help(format!("write {has} parts and the water last, such as {each}+8; or {each} no-water"))
    });
    None
}

fn role(row: &Reading) -> Option<Role> {
    Role::ALL.into_iter().find(|role| row.has(role.word()))
}

fn parts(reading: &Reading, faults: &mut Vec<Diagnostic>) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    for (name, span) in row(reading, "parts").into_iter().flat_map(Reading::names) {
        if parts.iter().any(|part| part == name) {
            faults.push(
                Diagnostic::error("repeated-part", span, format!("the bottle '{name}' is named twice"))
                    .help("give each bottle its own name, such as: parts a, b"),
            );
        }
        parts.push(name.to_owned());
    }
    parts
}

fn formulas(reading: &Reading, parts: &[String], faults: &mut Vec<Diagnostic>) -> Vec<Formula> {
    let mut formulas: Vec<(Formula, Span)> = Vec::new();
    for row in reading.rows.iter().filter(|row| row.row.word == "formula") {
        let Some(formula) = formula(row, faults) else { continue };
        let known = match &formula.part {
            Some(part) => parts.contains(part),
            None => parts.is_empty(),
        };
        if !known {
            let fault =
                Diagnostic::error("formula-part", row.span, "this formula is for no bottle of the solution");
            faults.push(if parts.is_empty() {
                fault.help("write formula for …, or name the bottles with: parts a, b")
            } else {
                fault.help(format!("say which bottle it is for: formula {} for …", parts.join(" or ")))
            });
        }
        if let Some((_, earlier)) = formulas.iter().find(|(other, _)| other.part == formula.part) {
            faults.push(
                Diagnostic::error("repeated-formula", row.span, "this has a formula already")
                    .other(*earlier, "the first")
                    .help("keep one of them"),
            );
        }
        formulas.push((formula, row.span));
    }
    formulas.into_iter().map(|(formula, _)| formula).collect()
}

#[expect(clippy::wildcard_enum_match_arm, reason = "only ingredients are looked for")]
fn contains(row: &Reading) -> Vec<&'static Ingredient> {
    let ingredient = |item: &Item| match item.value {
        Value::Ingredient(ingredient) => Some(ingredient),
        _ => None,
    };
    row.items.iter().filter_map(ingredient).collect()
}

fn treats(row: &Reading) -> Option<Treats> {
    if row.row.word != "treats" {
        return None;
    }
    Some(Treats { rolls: row.count()?, per: row.volume()?, at: row.dilution(), span: row.span })
}
