//! A solution from its block.

use super::formula::formula;
use super::named;
use crate::chemistry::Ingredient;
use crate::model::{Dilution, Extend, Formula, Quickening, Solution, Stated, Substance, Treats};
use crate::source::{Diagnostic, Span};
use crate::vocabulary::{Lines as _, Matched, Reading, say};

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
    let solution = Solution {
        name,
        title,
        span: reading.span,
        extent: reading.extent,
        role: reading.stated(say::Role::role).map(|role| role.value),
        parts,
        formulas,
        contains: contains(reading),
        needs: reading.stated(say::Needs::volume),
        treats: reading.each().filter_map(treats).collect(),
        extend: reading.one().and_then(extend),
        replenish: reading.stated(say::Replenish::volume),
        rate: reading.one().and_then(rate),
        keeps: reading.stated(say::Keeps::time),
        sources: reading.texts(say::Source::text),
        cautions: reading.texts(say::Caution::text),
        notes: reading.texts(say::Note::text),
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
    (reading.is_sound() && faults.iter().skip(before).all(|fault| fault.level != crate::source::Level::Error))
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

fn parts(reading: &Reading, faults: &mut Vec<Diagnostic>) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    for (name, span) in reading.each().flat_map(|row| row.all(say::Parts::part)) {
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
    for row in reading.each::<say::Formula>() {
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

fn contains(reading: &Reading) -> Vec<&'static Ingredient> {
    let all = reading.each().flat_map(|row| row.all(say::Contains::ingredient));
    all.filter_map(|(what, _)| if let Substance::Known(known) = what { Some(known) } else { None }).collect()
}

fn treats(row: Matched<'_, say::Treats>) -> Option<Treats> {
    let (rolls, per) = row.get(say::Treats::rolls).zip(row.get(say::Treats::per))?;
    Some(Treats { rolls, per, at: row.get(say::Treats::at).cloned(), span: row.span })
}

fn extend(row: Matched<'_, say::Extend>) -> Option<Stated<Extend>> {
    let (by, per_rolls) = row.get(say::Extend::by).zip(row.get(say::Extend::rolls))?;
    Some(Stated::new(Extend { by, per_rolls }, row.span))
}

fn rate(row: Matched<'_, say::Rate>) -> Option<Stated<Quickening>> {
    let (factor, interval) = row.get(say::Rate::factor).zip(row.get(say::Rate::interval))?;
    Some(Stated::new(Quickening { factor, interval }, row.span))
}
