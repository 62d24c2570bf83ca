//! A formula: what it makes, and its ingredients with the state each is in.

use crate::chemistry::Ingredient;
use crate::model::{Formula, Item, Measure, Stated, Substance, Volume};
use crate::source::{Diagnostic, Span};
use crate::vocabulary::{Lines as _, Matched, say};

/// The faults that formulas tell.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("state-not-said", "a salt whose water of crystallisation is not said"),
    ("unknown-state", "a state that the ingredient does not have"),
    ("strength-not-said", "a liquid sold in several strengths, without its strength"),
    ("water-by-weight", "water that is not given as a volume"),
    ("mark-differs", "water up to another volume than the formula is for"),
    ("over-the-mark", "more liquid in a formula than the mark that water goes up to"),
    ("mark-without-water", "a temperature or a mark given to something else than water"),
];

/// The formula of a `formula … {` block.
pub(super) fn formula(reading: Matched<'_, say::Formula>, faults: &mut Vec<Diagnostic>) -> Option<Formula> {
    let makes = Stated::new(reading.get(say::Formula::makes)?, reading.span);
    let mut items = Vec::new();
    for row in reading.each::<say::FormulaLine>().filter(|row| row.sound) {
        let Some(item) = item(row, faults) else { continue };
        if let Measure::UpTo(volume) = item.measure
            && volume != makes.value
        {
            let message = format!("the water goes up to {volume}, and the formula is for {}", makes.value);
            faults.push(
                Diagnostic::error("mark-differs", row.span, message)
                    .other(reading.span, "what it makes")
                    .help("make the two the same"),
            );
        }
        items.push(item);
    }
    let formula = Formula { part: reading.get(say::Formula::part).map(str::to_owned), makes, items };
    faults.extend(over_the_mark(&formula));
    Some(formula)
}

/// The fault of liquids that come to more than the mark that water goes up to. What salts take up is not counted.
fn over_the_mark(formula: &Formula) -> Option<Diagnostic> {
    let makes = formula.makes.value;
    formula.items.iter().find(|item| matches!(item.measure, Measure::UpTo(_)))?;
    let liquid = |item: &Item| match item.measure {
        Measure::Volume(volume) => volume,
        Measure::VolumePerLitre(volume) => volume.scaled(makes.fl, 1000 * Volume::ML),
        Measure::UpTo(_) | Measure::Mass(_) | Measure::MassPerLitre(_) => Volume::ZERO,
    };
    let sum = |items: &[&Item]| items.iter().fold(Volume::ZERO, |sum, item| sum + liquid(item));
    let all: Vec<&Item> = formula.items.iter().collect();
    let passes = (1..=all.len()).find(|count| makes < sum(all.get(..*count).unwrap_or(&[])))?;
    let (waters, others): (Vec<&Item>, Vec<&Item>) =
        all.iter().partition(|item| item.what == Substance::Water);
    let message = format!("the liquids come to {}, and the mark is at {makes}", sum(&all));
    let span = all.get(passes - 1).map_or(formula.makes.span, |item| item.span);
    let fault = Diagnostic::error("over-the-mark", span, message).other(formula.makes.span, "what it makes");
    let others = sum(&others);
    Some(if others < makes && !waters.is_empty() {
        let most = (makes - others).scaled(3, 4);
        fault.help(format!(
            "begin with less water, such as: water {} ml; the mark adds the rest",
            most.in_ml(0)
        ))
    } else {
        fault.help(
            "look which amount is a slip, or make more: the same volume behind 'formula for' and 'water to'",
        )
    })
}

type Line<'a> = Matched<'a, say::FormulaLine>;

fn item(row: Line<'_>, faults: &mut Vec<Diagnostic>) -> Option<Item> {
    let what = match row.get(say::FormulaLine::water) {
        Some(_) => Substance::Water,
        None => row.get(say::FormulaLine::ingredient)?,
    };
    let measure = measure(row)?;
    let state = row.said(say::FormulaLine::state);
    let strength = row.get(say::FormulaLine::strength);
    let at = row.get(say::FormulaLine::at);
    let is_water = what == Substance::Water;
    let weighed = matches!(measure, Measure::Mass(_) | Measure::MassPerLitre(_));
    if is_water && (weighed || state.is_some() || strength.is_some()) {
        faults.push(
            Diagnostic::error("water-by-weight", row.span, "water is given as a volume")
                .help("write water 750 ml, water 750 ml at 50 C, or water to 1 l"),
        );
    }
    if !is_water && (at.is_some() || matches!(measure, Measure::UpTo(_))) {
        faults.push(
            Diagnostic::error(
                "mark-without-water",
                row.span,
                "only water has a temperature or a mark to come up to",
            )
            .help("give the amount of the ingredient, such as 100 g or 50 ml"),
        );
    }
    if let Substance::Known(ingredient) = what {
        if let Some((state, span)) = state {
            known_state(ingredient, state, span, faults);
        } else if strength.is_none() {
            state_wanted(ingredient, row, faults);
        }
    }
    Some(Item {
        what,
        measure,
        state: state.map(|(state, _)| state.to_owned()),
        strength,
        at,
        span: row.span,
    })
}

fn measure(row: Line<'_>) -> Option<Measure> {
    let amount = row.get(say::FormulaLine::mass).map(Measure::Mass);
    amount
        .or(row.get(say::FormulaLine::volume).map(Measure::Volume))
        .or(row.get(say::FormulaLine::per_litre))
        .or(row.get(say::FormulaLine::mark).map(Measure::UpTo))
}

fn state_words(ingredient: &Ingredient) -> Vec<&'static str> {
    ingredient.states.iter().map(|state| state.word).filter(|word| !word.is_empty()).collect()
}

fn known_state(ingredient: &Ingredient, state: &str, span: Span, faults: &mut Vec<Diagnostic>) {
    let words = state_words(ingredient);
    if words.contains(&state) {
        return;
    }
    let mut fault =
        Diagnostic::error("unknown-state", span, format!("{} is not sold as '{state}'", ingredient.name));
    for word in &words {
        fault = fault.offer(*word, format!("write {word}"));
    }
    if words.is_empty() {
        fault = fault.help("leave the state out: it has but one");
    }
    faults.push(fault);
}

/// A salt that is sold in several states has to say its own; a liquid its strength.
fn state_wanted(ingredient: &Ingredient, row: Line<'_>, faults: &mut Vec<Diagnostic>) {
    let end = row.span.after();
    let words = state_words(ingredient);
    if ingredient.strength {
        let message =
            format!("{} is sold in several strengths, and this does not say which", ingredient.name);
        let mut fault =
            Diagnostic::error("strength-not-said", row.span, message).help("give its strength, such as 28 %");
        for word in &words {
            fault = fault.change(end, format!(" {word}"), format!("or write {word}"), false);
        }
        faults.push(fault);
    } else if words.len() > 1 {
        let message = format!(
            "{} is sold with and without water of crystallisation, and this does not say which",
            ingredient.name
        );
        let mut fault = Diagnostic::error("state-not-said", row.span, message);
        for word in &words {
            fault = fault.change(end, format!(" {word}"), format!("write {word} behind the amount"), false);
        }
        faults.push(fault);
    }
}
