//! A solution.

use super::{Builder, named};
use crate::chemistry::Ingredient;
use crate::model::{Dilution, Extend, Formula, Quickening, Solution, Stated, Substance, Treats};
use crate::source::{Diagnostic, Span};
use crate::vocabulary::{Lines as _, Matched, Reading, say};

impl Builder<'_> {
    pub(super) fn solution(&mut self, reading: &Reading) -> Option<Solution> {
        let before = self.faults.len();
        let (name, title) = named(reading)?;
        let bottles: Vec<(&str, Span)> = reading.each().flat_map(|row| row.all(say::Parts::part)).collect();
        self.distinct(bottles.iter().copied(), |name, span| {
            Diagnostic::error("repeated-part", span, format!("the bottle '{name}' is named twice"))
                .help("give each bottle its own name, such as: parts a, b")
        });
        let parts: Vec<String> = bottles.iter().map(|(name, _)| (*name).to_owned()).collect();
        let formulas = self.formulas(reading, &parts);
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
            cautions: reading.texts(say::Caution::text),
            notes: reading.texts(say::Note::text),
        };
        self.distinct(solution.treats.iter().map(|treats| (&treats.at, treats.span)), |_, span| {
            let message = "there is already a capacity at this dilution";
            Diagnostic::error("repeated-capacity", span, message)
                .help("keep the right one, or add the dilution that it is for: at 1+4")
        });
        for treats in &solution.treats {
            if let Some(dilution) = &treats.at {
                self.parts_fit(&solution, dilution, treats.span);
            }
        }
        (reading.is_sound() && self.no_error_since(before)).then_some(solution)
    }

    /// Reports a dilution whose parts are not the bottles of its solution; `None` for one.
    pub(super) fn parts_fit(&mut self, solution: &Solution, dilution: &Dilution, span: Span) -> Option<()> {
        let (has, given) = (solution.bottles(), dilution.parts.len());
        if has == given {
            return Some(());
        }
        let (name, s) = (&solution.name, if has == 1 { "" } else { "s" });
        let message = format!("'{name}' has {has} bottle{s}, and this dilution has {given} besides water");
        let fault = Diagnostic::error("dilution-parts", span, message).other(solution.span, "the solution");
        self.report(if has == 1 {
            fault.help("write one part and the water, such as 1+9; or stock")
        } else {
            let each = vec!["1"; has].join("+");
            fault.help(format!("write {has} parts and the water last, such as {each}+8; or {each} no-water"))
        });
        None
    }

    fn formulas(&mut self, reading: &Reading, parts: &[String]) -> Vec<Formula> {
        let formulas: Vec<Formula> = reading.each().filter_map(|row| self.formula(row)).collect();
        let spans = || formulas.iter().map(|formula| (&formula.part, formula.makes.span));
        for (_, span) in
            spans().filter(|(part, _)| !part.as_ref().map_or(parts.is_empty(), |it| parts.contains(it)))
        {
            let fault =
                Diagnostic::error("formula-part", span, "this formula is for no bottle of the solution");
            self.report(if parts.is_empty() {
                fault.help("write formula for …, or name the bottles with: parts a, b")
            } else {
                fault.help(format!("name the bottle: formula {} for …", parts.join(" or ")))
            });
        }
        self.distinct(spans(), |_, span| {
            Diagnostic::error("repeated-formula", span, "there is already a formula for this")
                .help("keep one of them")
        });
        formulas
    }
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
