//! Rule R10: converts the amount of an ingredient to another form: another state, another strength, or dissolved.

use super::refused;
use super::sheet::{Amount, Form};
use crate::chemistry::{Ingredient, State};
use crate::model::{Item, Mass, Share, Substance, Volume};
use crate::source::Diagnostic;

pub(super) type Converted = Result<(Amount, Form), Box<Diagnostic>>;

/// Converts an amount of an ingredient to another state, such as anhydrous. The new amount contains as much salt as
/// the old one, by the molar masses.
pub(super) fn to_state(item: &Item, wanted: Amount, word: &str) -> Converted {
    let Substance::Known(ingredient) = item.what else {
        let message = format!("cannot convert {} to '{word}': its states are not known", item.what.name());
        let help = "weigh it as the formula says, and leave it out of --have";
        return refused("state-not-sold", item.span, message, help);
    };
    let form = Form::State(word.to_owned());
    if item.strength.is_none() && item.state.as_deref() == Some(word) {
        return Ok((wanted, form));
    }
    if let Some(strength) = ingredient.strength_of(word) {
        let (amount, _) = to_percent(item, wanted, Share { basis_points: strength })?;
        return Ok((amount, form));
    }
    let Some(state) = ingredient.state(Some(word)).filter(|_| !word.is_empty()) else {
        return not_sold(item, ingredient, word);
    };
    if item.strength.is_some() {
        return sold_by_weight(item, ingredient);
    }
    let Amount::Mass(mass) = wanted else {
        let message = format!(
            "the formula measures {} in ml, and only a weight can be converted to {word}",
            ingredient.name
        );
        let help = format!("leave {} out of --have, or write its weight in the formula", ingredient.name);
        return refused("state-by-volume", item.span, message, help);
    };
    let convert = |written| in_place_of(mass, written, state).expect("every formula of the table is valid");
    let mass = ingredient.state(item.state.as_deref()).map_or(mass, convert);
    Ok((Amount::Mass(mass), form))
}

/// The mass in the state `had` that replaces a mass in the state `written`; half a picogram is rounded up.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "no scale has sixteen digits, and a mass beyond 64 bits is refused later"
)]
fn in_place_of(mass: Mass, written: &State, had: &State) -> Option<Mass> {
    let factor = had.in_place_of(written)?;
    Some(Mass { pg: libm::floor(mass.pg as f64 * factor + 0.5) as i64 })
}

fn not_sold(item: &Item, ingredient: &Ingredient, word: &str) -> Converted {
    let message = format!("--have says '{word}', and {} is not sold so", ingredient.name);
    let words = ingredient.states.iter().map(|state| state.word).filter(|word| !word.is_empty());
    let words: Vec<&str> = words.collect();
    let help = match words.as_slice() {
        [] => "it has only one state: leave it out of --have".to_owned(),
        words => format!("after --have, name the state that you have: {}", words.join(" or ")),
    };
    refused("state-not-sold", item.span, message, help)
}

/// The volume of a solution of `had` percent that contains the wanted amount. `had` is the strength of an acid, or
/// the grams of a salt in 100 ml.
pub(super) fn to_percent(item: &Item, wanted: Amount, had: Share) -> Converted {
    let basis_points = i64::from(had.basis_points);
    if let Substance::Known(ingredient) = item.what
        && ingredient.strength
    {
        // For liquids mixed by volume, a volume V of strength c is replaced by a volume V · c ÷ d of strength d.
        let by_word = || item.state.as_deref().and_then(|word| ingredient.strength_of(word));
        let strength = item.strength.map(|share| share.basis_points).or_else(by_word);
        return match (wanted, strength) {
            (Amount::Volume(volume), Some(strength)) if ingredient.is_by_volume() => {
                let volume = volume.scaled(i64::from(strength), basis_points);
                Ok((Amount::Volume(volume), Form::Strength(had)))
            }
            _ => sold_by_weight(item, ingredient),
        };
    }
    let Amount::Mass(mass) = wanted else {
        let name = item.what.name();
        let message = format!("cannot convert {name} to a solution of {had}: the formula gives it by volume");
        let help = "leave it out of --have, or give it in grams in the formula";
        return refused("dissolved-by-volume", item.span, message, help);
    };
    // 1 % is 1 g in 100 ml, and so 1 pg in 100 fl.
    let volume = Volume { fl: mass.pg }.scaled(10_000, basis_points);
    Ok((Amount::Volume(volume), Form::Dissolved(had, item.state.clone())))
}

fn sold_by_weight(item: &Item, ingredient: &Ingredient) -> Converted {
    let message = format!("cannot convert {} to another strength: its density is not known", ingredient.name);
    let help = "leave it out of --have, or write the formula for the strength you have";
    refused("sold-by-weight", item.span, message, help)
}
