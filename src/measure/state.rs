//! R10. A salt that is had in another state than the formula names: as many units of the salt, by molar mass.

use super::liquid;
use super::sheet::{Amount, Form};
use crate::chemistry::{Ingredient, State};
use crate::model::{Item, Mass, Share, Substance};
use crate::source::Diagnostic;

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("state-not-sold", "a state that an ingredient is not sold in"),
    ("state-by-volume", "another state of what the formula gives by volume"),
];

/// What the formula wants, as an amount of the state that is had.
pub(super) fn had(item: &Item, wanted: Amount, word: &str) -> Result<(Amount, Form), Box<Diagnostic>> {
    let Substance::Known(ingredient) = item.what else {
        let message = format!("'{word}': nothing is known here of the states of this");
        let help = "weigh it as the formula says, and leave it out of --have";
        return Err(Box::new(Diagnostic::error("state-not-sold", item.span, message).help(help)));
    };
    let form = Form::State(word.to_owned());
    if item.strength.is_none() && item.state.as_deref() == Some(word) {
        return Ok((wanted, form));
    }
    if let Some(strength) = ingredient.strength_of(word) {
        let (amount, _) = liquid::had(item, wanted, Share { basis_points: strength })?;
        return Ok((amount, form));
    }
    let state = ingredient.state(Some(word)).filter(|_| !word.is_empty());
    let state = state.ok_or_else(|| Box::new(not_sold(item, ingredient, word)))?;
    if item.strength.is_some() {
        return Err(Box::new(liquid::by_weight(item, ingredient)));
    }
    let Amount::Mass(mass) = wanted else {
        let message = format!("{} is given here by volume, and {word} is weighed", ingredient.name);
        let help = "leave it out of --have, or give its weight in the formula";
        return Err(Box::new(Diagnostic::error("state-by-volume", item.span, message).help(help)));
    };
    let in_place =
        |written| in_place_of(mass, written, state).expect("every formula of the table can be read");
    let mass = ingredient.state(item.state.as_deref()).map_or(mass, in_place);
    Ok((Amount::Mass(mass), form))
}

/// So much of the state that is had as holds what that mass of the written one does, half up.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "sixteen figures are more than any scale has; past 64 bits it saturates and is refused"
)]
fn in_place_of(mass: Mass, written: &State, had: &State) -> Option<Mass> {
    let factor = had.in_place_of(written)?;
    Some(Mass { pg: libm::floor(mass.pg as f64 * factor + 0.5) as i64 })
}

fn not_sold(item: &Item, ingredient: &Ingredient, word: &str) -> Diagnostic {
    let message = format!("{} is not sold as '{word}'", ingredient.name);
    let words = ingredient.states.iter().map(|state| state.word).filter(|word| !word.is_empty());
    let words: Vec<&str> = words.collect();
    let help = match words.as_slice() {
        [] => "it has but one state: leave it out of --have".to_owned(),
        words => format!("it is sold as {}", words.join(", ")),
    };
    Diagnostic::error("state-not-sold", item.span, message).help(help)
}
