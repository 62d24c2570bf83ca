//! A formula: its volume, and its ingredients with the state of each.

use super::Builder;
use crate::chemistry::Ingredient;
use crate::model::{Formula, Item, Measure, Stated, Substance, Volume};
use crate::source::{Diagnostic, Span};
use crate::vocabulary::{Lines as _, Matched, say};

type Line<'a> = Matched<'a, say::FormulaLine>;

impl Builder<'_> {
    /// The formula of a `formula … {` block.
    pub(super) fn formula(&mut self, reading: Matched<'_, say::Formula>) -> Option<Formula> {
        let makes = Stated::new(reading.get(say::Formula::makes)?, reading.span);
        let mut items = Vec::new();
        for row in reading.each::<say::FormulaLine>().filter(|row| row.sound) {
            let Some(item) = self.formula_item(row) else { continue };
            if let Measure::UpTo(volume) = item.measure
                && volume != makes.value
            {
                let message = format!("the mark is at {volume}, and the formula is for {}", makes.value);
                self.report(
                    Diagnostic::error("mark-differs", row.span, message)
                        .other(reading.span, "what the formula makes")
                        .help("write the same volume in both"),
                );
            }
            items.push(item);
        }
        let formula = Formula { part: reading.get(say::Formula::part).map(str::to_owned), makes, items };
        self.faults.extend(over_the_mark(&formula));
        Some(formula)
    }

    fn formula_item(&mut self, row: Line<'_>) -> Option<Item> {
        let what = match row.get(say::FormulaLine::water) {
            Some(_) => Substance::Water,
            None => row.get(say::FormulaLine::ingredient)?,
        };
        let measure = row.get(say::FormulaLine::mass).map(Measure::Mass);
        let measure = measure
            .or(row.get(say::FormulaLine::volume).map(Measure::Volume))
            .or(row.get(say::FormulaLine::per_litre))
            .or(row.get(say::FormulaLine::mark).map(Measure::UpTo))?;
        let state = row.said(say::FormulaLine::state);
        let strength = row.get(say::FormulaLine::strength);
        let at = row.get(say::FormulaLine::at);
        let is_water = what == Substance::Water;
        let weighed = matches!(measure, Measure::Mass(_) | Measure::MassPerLitre(_));
        if is_water && (weighed || state.is_some() || strength.is_some()) {
            self.report(
                Diagnostic::error("water-by-weight", row.span, "water needs a volume")
                    .help("write water 750 ml, water 750 ml at 50 C, or water to 1 l"),
            );
        }
        if !is_water && (at.is_some() || matches!(measure, Measure::UpTo(_))) {
            let message = "only water has a temperature or a mark";
            self.report(
                Diagnostic::error("mark-without-water", row.span, message)
                    .help("write the amount of the ingredient, such as 100 g or 50 ml"),
            );
        }
        if let Substance::Known(ingredient) = what {
            self.faults.extend(match state {
                Some((state, span)) => unknown_state(ingredient, state, span),
                None if strength.is_none() => missing_state(ingredient, row.span),
                None => None,
            });
        }
        let state = state.map(|(state, _)| state.to_owned());
        Some(Item { what, measure, state, strength, at, span: row.span })
    }
}

/// The error of liquids that exceed the mark. The volume of salts is not counted.
fn over_the_mark(formula: &Formula) -> Option<Diagnostic> {
    let makes = formula.makes.value;
    formula.items.iter().find(|item| matches!(item.measure, Measure::UpTo(_)))?;
    let liquid = |item: &Item| match item.measure {
        Measure::Volume(volume) => volume,
        Measure::VolumePerLitre(volume) => volume.scaled(makes.fl, 1000 * Volume::ML),
        _ => Volume::ZERO,
    };
    let (mut all, mut others, mut over, mut has_water) = (Volume::ZERO, Volume::ZERO, None, false);
    for item in &formula.items {
        all = all + liquid(item);
        match item.what {
            Substance::Water => has_water = true,
            _ => others = others + liquid(item),
        }
        over = over.or((makes < all).then_some(item.span));
    }
    let message = format!("the liquids come to {all}, and the mark is at {makes}");
    let fault = Diagnostic::error("over-the-mark", over?, message)
        .other(formula.makes.span, "what the formula makes");
    Some(if others < makes && has_water {
        let most = (makes - others).scaled(3, 4).in_ml(0);
        fault.help(format!("begin with less water, such as: water {most} ml; the mark adds the rest"))
    } else {
        fault
            .help("check the amounts, or make more: write a larger volume after 'formula for' and 'water to'")
    })
}

fn states(ingredient: &Ingredient) -> Vec<&'static str> {
    ingredient.states.iter().map(|state| state.word).filter(|word| !word.is_empty()).collect()
}

fn unknown_state(ingredient: &Ingredient, state: &str, span: Span) -> Option<Diagnostic> {
    let words = states(ingredient);
    if words.contains(&state) {
        return None;
    }
    let message = format!("{} is not sold as '{state}'", ingredient.name);
    let fault = Diagnostic::error("unknown-state", span, message);
    Some(if words.is_empty() {
        fault.help("remove the state: this ingredient has only one")
    } else {
        words.iter().fold(fault, |fault, word| fault.offer(*word, format!("write {word}")))
    })
}

/// The error of a salt with several states and none stated, or of a liquid without its strength.
fn missing_state(ingredient: &Ingredient, span: Span) -> Option<Diagnostic> {
    let words = states(ingredient);
    let name = ingredient.name;
    let (fault, before, after) = if ingredient.strength {
        let message = format!("{name} is sold in several strengths, and none is stated");
        let fault = Diagnostic::error("strength-not-said", span, message);
        (fault.help("write its strength, such as 28 %"), "or write ", "")
    } else if words.len() > 1 {
        let message =
            format!("{name} is sold with and without water of crystallisation, and neither is stated");
        (Diagnostic::error("state-not-said", span, message), "write ", " after the amount")
    } else {
        return None;
    };
    Some(words.iter().fold(fault, |fault, word| {
        fault.change(span.after(), format!(" {word}"), format!("{before}{word}{after}"), false)
    }))
}
