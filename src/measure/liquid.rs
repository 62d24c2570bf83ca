//! What is had as a liquid: an acid of another strength, by the cross, and a salt that is dissolved already.
//!
//! The cross: of what is had at a and wanted at c, c parts go with a − c parts of water, so a volume at c is
//! c ÷ a of that volume at a. It holds for what is mixed by volume.

use super::had::name;
use super::sheet::{Amount, Form};
use crate::chemistry::Ingredient;
use crate::model::{Item, Share, Substance, Volume};
use crate::source::Diagnostic;

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("sold-by-weight", "a strength to be crossed by volume of what is sold by weight"),
    ("dissolved-by-volume", "a percent solution of what the formula gives by volume"),
];

/// What the formula wants, as a volume of the liquid that is had.
pub(super) fn had(item: &Item, wanted: Amount, share: Share) -> Result<(Amount, Form), Box<Diagnostic>> {
    if let Substance::Known(ingredient) = item.what
        && ingredient.strength
    {
        return crossed(item, ingredient, wanted, share);
    }
    let Amount::Mass(mass) = wanted else {
        let name = name(item).unwrap_or("this");
        let message = format!(
            "{name} is given here by volume, and a solution of {share} holds grams: how many that is, nobody says"
        );
        let help = "leave it out of --have, or give it in grams in the formula";
        return Err(Box::new(Diagnostic::error("dissolved-by-volume", item.span, message).help(help)));
    };
    // A gram is as many picograms as a millilitre is femtolitres, and 1 % is 1 g in 100 ml.
    let whole = Volume { fl: mass.pg };
    let volume = whole.scaled(WHOLE, i64::from(share.basis_points));
    Ok((Amount::Volume(volume), Form::Dissolved(share, item.state.clone())))
}

/// A hundred percent, in hundredths of one.
const WHOLE: i64 = 10_000;

fn crossed(
    item: &Item,
    ingredient: &Ingredient,
    wanted: Amount,
    had: Share,
) -> Result<(Amount, Form), Box<Diagnostic>> {
    let by_word = || item.state.as_deref().and_then(|word| ingredient.strength_of(word));
    let strength = item.strength.map(|share| share.basis_points).or_else(by_word);
    match (wanted, strength) {
        (Amount::Volume(volume), Some(strength)) if ingredient.is_by_volume() => {
            let volume = volume.scaled(i64::from(strength), i64::from(had.basis_points));
            Ok((Amount::Volume(volume), Form::Strength(had)))
        }
        (Amount::Volume(_) | Amount::Mass(_), _) => Err(Box::new(by_weight(item, ingredient))),
    }
}

/// A strength that the cross does not hold for.
pub(super) fn by_weight(item: &Item, ingredient: &Ingredient) -> Diagnostic {
    let message = format!(
        "{} is sold by weight: how much of another strength does the same, only the densities tell",
        ingredient.name
    );
    Diagnostic::error("sold-by-weight", item.span, message)
        .help("have it as the formula says, or write the formula for what you have")
}
