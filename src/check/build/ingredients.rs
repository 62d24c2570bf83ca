//! Builds the ingredients that files declare, and finds them among the contents of solutions.

use std::sync::Arc;

use super::super::read::unknown_ingredient;
use super::{Builder, named};
use crate::chemistry::{OwnIngredient, ingredient};
use crate::model::{Concentration, Measure, OwnContent, Substance};
use crate::source::Span;
use crate::vocabulary::{Declared, Lines as _, Matched, Reading, say};

impl Builder<'_> {
    pub(super) fn own_ingredient(&mut self, reading: &Reading) -> Option<OwnIngredient> {
        let (name, title) = named(reading)?;
        if ingredient(&name).is_some() {
            let message = format!("the program knows '{name}' and its hazards already");
            let help =
                "remove this declaration; if its data sheet says more, write a caution in the solution";
            self.error("known-ingredient", reading.span, message, help);
            return None;
        }
        let hazards = reading.one::<say::Hazards>()?;
        Some(OwnIngredient {
            name,
            title,
            cas: reading.one::<say::Cas>().and_then(|row| row.number().map(str::to_owned)),
            hazards: (!hazards.has(say::Hazards::unknown))
                .then(|| hazards.all(say::Hazards::statement).map(|(hazard, _)| hazard).collect()),
            cautions: reading.cautions(),
        })
    }

    /// The ingredients of a solution that are declared in files. An ingredient that is neither declared nor in the
    /// program's table of ingredients is reported as a warning.
    pub(super) fn declared_ingredients(&mut self, reading: &Reading) -> Vec<OwnContent> {
        let mut all: Vec<OwnContent> = Vec::new();
        for formula in reading.each::<say::Formula>() {
            let part = formula.part().map(str::to_owned);
            // The name in a line with an error may be only a part of what is meant.
            for row in formula.each::<say::FormulaLine>().filter(|row| row.sound) {
                let Some(ingredient) =
                    self.declared(row.ingredient(), row.place(say::FormulaLine::ingredient))
                else {
                    continue;
                };
                let amount = formula.makes().zip(amount_of(row));
                let amount =
                    amount.map_or(Concentration::Unknown, |(makes, one)| Concentration::of(one, makes));
                all.push(OwnContent { ingredient, part: part.clone(), amount, strength: row.strength() });
            }
        }
        let items = reading.each::<say::Contains>().flat_map(|row| row.all(say::Contains::item));
        for row in items.filter_map(|(item, _)| item.view::<say::Contained>()) {
            let place = row.place(say::Contained::ingredient);
            let Some(ingredient) = self.declared(row.ingredient(), place) else { continue };
            let amount = Concentration::said(row.share(), row.per_litre());
            all.push(OwnContent { ingredient, part: None, amount, strength: None });
        }
        all
    }

    /// The declaration of the ingredient `what`; `None` for an ingredient of the program's table. A missing declaration
    /// is reported as a warning.
    fn declared(&mut self, what: Option<Substance>, span: Span) -> Option<Arc<OwnIngredient>> {
        let Some(Substance::Other(name)) = what else { return None };
        let Some(key) = self.scopes.known(Declared::Ingredient, &name, span.file) else {
            self.report(unknown_ingredient(&name, span));
            return None;
        };
        self.ingredients.get(&key).cloned()
    }
}

pub(super) fn amount_of(row: Matched<'_, say::FormulaLine>) -> Option<Measure> {
    let measure = row.mass().map(Measure::Mass);
    measure.or(row.volume().map(Measure::Volume)).or(row.per_litre()).or(row.mark().map(Measure::UpTo))
}
