//! How much of each ingredient one bottle of a solution holds, as mixed.

use std::sync::Arc;

use super::quantity::{Mass, Share, Volume};
use super::solution::{Formula, Item, Measure, Solution, Substance};
use crate::chemistry::{Ingredient, OwnIngredient, State};
use crate::source::Span;

/// An ingredient in one bottle of a solution, as a line of the bottle's formula or of `contains` states it.
#[derive(Debug, Clone, Copy)]
pub struct Content {
    /// The ingredient, from the table of ingredients.
    pub ingredient: &'static Ingredient,
    /// The ingredient's amount.
    pub amount: Concentration,
    /// The ingredient's state, such as `anhydrous`.
    pub state: Option<&'static State>,
    /// The strength of the ingredient itself before it is mixed, such as acetic acid of 28 %.
    pub strength: Option<Share>,
    /// The span that states the ingredient.
    pub span: Span,
}

/// An ingredient that a file declares, and its amount in one bottle of a solution.
#[derive(Debug, Clone)]
pub struct OwnContent {
    /// The ingredient, as the file declares it.
    pub ingredient: Arc<OwnIngredient>,
    /// The name of the bottle; `None` for the only bottle.
    pub part: Option<String>,
    /// The ingredient's amount.
    pub amount: Concentration,
    /// The strength of the ingredient itself before it is mixed.
    pub strength: Option<Share>,
}

/// The amount of an ingredient in a solution.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Concentration {
    /// The amount in each litre of the solution.
    Mass(Mass),
    /// The amount in each litre of the solution.
    Volume(Volume),
    /// A share of the solution's weight.
    Share(Share),
    /// The amount is not stated.
    Unknown,
}

impl Concentration {
    /// The amount of an ingredient, from a line of a formula that makes the volume `makes`.
    pub fn of(measure: Measure, makes: Volume) -> Concentration {
        match measure {
            Measure::Mass(mass) => Concentration::Mass(mass.scaled(Volume::LITRE, makes.fl)),
            Measure::Volume(volume) => Concentration::Volume(volume.scaled(Volume::LITRE, makes.fl)),
            Measure::MassPerLitre(mass) => Concentration::Mass(mass),
            Measure::VolumePerLitre(volume) => Concentration::Volume(volume),
            Measure::UpTo(_) => Concentration::Unknown,
        }
    }

    /// The amount of an ingredient in a bought solution, as stated in `contains acetic-acid 60 %`.
    pub fn said(share: Option<Share>, per_litre: Option<Measure>) -> Concentration {
        match (share, per_litre) {
            (Some(share), _) => Concentration::Share(share),
            (_, Some(measure)) => Concentration::of(measure, Volume::from_ml(1000)),
            _ => Concentration::Unknown,
        }
    }
}

impl Solution {
    /// The known ingredients of the bottle with this name, or of the only bottle if `part` is `None`. The statement
    /// `contains` does not name a bottle. So each bottle of several counts as holding all that `contains` names, unless
    /// the bottle has a formula.
    pub fn contents(&self, part: Option<&str>) -> Vec<Content> {
        let formulas = || self.formulas.iter().filter(|formula| formula.part.as_deref() == part);
        let mixed =
            formulas().flat_map(|formula| formula.items.iter().filter_map(|item| content(formula, item)));
        let is_bought = part.is_none() || formulas().next().is_none();
        let stated = self.contains.iter().filter(|_| is_bought).map(|one| Content {
            ingredient: one.ingredient,
            amount: Concentration::said(one.share, one.per_litre),
            state: one.ingredient.state(None),
            strength: None,
            span: one.span,
        });
        mixed.chain(stated).collect()
    }

    /// The names of the solution's bottles; one `None` if there is only one bottle.
    pub fn bottle_names(&self) -> Vec<Option<&str>> {
        if self.parts.is_empty() { vec![None] } else { self.parts.iter().map(|part| Some(&**part)).collect() }
    }
}

fn content(formula: &Formula, item: &Item) -> Option<Content> {
    let Substance::Known(ingredient) = item.what else { return None };
    let by_word = |word: &str| Some(Share { basis_points: ingredient.strength_of(word)? });
    Some(Content {
        ingredient,
        amount: Concentration::of(item.measure, formula.makes.value),
        state: ingredient.state(item.state.as_deref()),
        strength: item.strength.or_else(|| by_word(item.state.as_deref()?)),
        span: item.span,
    })
}

impl Content {
    /// The grams of the ingredient in a litre, converted to the state with this word, such as `anhydrous` (R10); `None`
    /// if the mass or the state is not known.
    #[expect(clippy::cast_precision_loss, reason = "a mass has fewer figures than a real number")]
    pub fn grams(&self, state: &str) -> Option<f64> {
        let Concentration::Mass(mass) = self.amount else { return None };
        let grams = mass.pg as f64 / 1e12;
        let wanted = self.ingredient.states.iter().find(|one| one.word == state)?;
        Some(grams * wanted.in_place_of(self.state?)?)
    }

    /// The millilitres of the pure ingredient in a litre; `None` if no volume or no strength is stated.
    #[expect(clippy::cast_precision_loss, reason = "a volume has fewer figures than a real number")]
    pub fn pure_millilitres(&self) -> Option<f64> {
        let Concentration::Volume(volume) = self.amount else { return None };
        Some(volume.fl as f64 / Volume::ML as f64 * f64::from(self.strength?.basis_points) / 10_000.0)
    }
}
