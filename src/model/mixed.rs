//! The share by mass of each ingredient in a bottle and in a bath. Hazards are calculated from these shares.

use std::borrow::Cow;

use super::content::{Concentration, Content, OwnContent};
use super::quantity::{Mass, Volume};
use super::solution::{Dilution, Item, Measure, Solution, Substance};
use crate::chemistry::{Entry, Hazard, Ingredient, Mixture, Name, Percent, Portion};

/// A liquid: the ingredients whose share is known, and the ingredients whose share is not known.
#[derive(Debug, Clone, Default)]
pub struct Mixed {
    /// The ingredients with known shares, and the pH.
    pub mixture: Mixture,
    /// The ingredients whose amount is not stated.
    pub silent: Vec<Silent>,
    /// Whether the hazards of an ingredient are not known, or no ingredient is stated.
    pub has_unknown: bool,
}

/// An ingredient whose amount is not stated.
#[derive(Debug, Clone)]
pub struct Silent {
    /// The ingredient's name in recipes.
    pub name: Name,
    /// The hazard statements of the ingredient at the greatest strength that is sold.
    pub hazards: Vec<&'static Hazard>,
}

const LITRE_OF_WATER: i128 = 1000 * Mass::G as i128;
/// The strength of a pure ingredient, in hundredths of a percent.
const PURE: u32 = 10_000;

impl Solution {
    /// The undiluted liquid in the bottle with this name, or in the only bottle.
    pub fn mixed(&self, part: Option<&str>) -> Mixed {
        let contents = self.contents(part);
        let litre = contents.iter().fold(LITRE_OF_WATER, |litre, one| litre - one.lightness());
        let mut mixed = Mixed::default();
        for content in &contents {
            match content.share(litre) {
                Some(share) => mixed.mixture.portions.push(portion(content.ingredient, share)),
                None => mixed.silent.push(Silent {
                    name: Cow::Borrowed(content.ingredient.name),
                    hazards: content.ingredient.hazards.to_vec(),
                }),
            }
        }
        for own in self.declared.iter().filter(|own| own.part.as_deref() == part && own.is_known()) {
            match own.share(litre) {
                Some(share) => mixed.mixture.portions.push(Portion::declared(&own.ingredient, share)),
                None => mixed.silent.push(Silent {
                    name: Cow::Owned(own.ingredient.name.clone()),
                    hazards: own.ingredient.all_hazards(),
                }),
            }
        }
        mixed.mixture.ph = self.ph.filter(|_| self.bottles() == 1).and_then(|ph| ph.in_base(1000));
        mixed.mixture.unknown = self.share_of_others(part);
        let has_declared = self.declared.iter().any(OwnContent::is_known);
        let is_empty = contents.is_empty() && self.formulas.is_empty() && !has_declared;
        mixed.has_unknown =
            is_empty || self.has_others(part) || self.declared.iter().any(|own| !own.is_known());
        mixed
    }

    /// The bath at this dilution, mixed from the bottle with the name `only`, or from all bottles. The bath's pH is
    /// known only if the bath is the undiluted liquid of one bottle.
    pub fn mixed_at(&self, only: Option<&str>, dilution: &Dilution) -> Mixed {
        let (whole, mut bath) = (dilution.whole(), Mixed::default());
        let names = if only.is_some() { vec![only] } else { self.bottle_names() };
        for (name, part) in names.into_iter().zip(&dilution.parts) {
            let bottle = self.mixed(name);
            for portion in bottle.mixture.portions {
                let share = portion.share.diluted(*part, whole);
                let of = |known: &&mut Portion| known.name == portion.name;
                let is_stated = self.contains.iter().any(|one| one.ingredient.name == portion.name);
                match bath.mixture.portions.iter_mut().find(of) {
                    // `contains` does not say which bottle has the ingredient, so only the larger share counts.
                    Some(known) if is_stated => known.share = known.share.max(share),
                    Some(known) => known.share = Percent(known.share.0 + share.0),
                    None => bath.mixture.portions.push(Portion { share, ..portion }),
                }
            }
            bath.mixture.unknown.0 += bottle.mixture.unknown.diluted(*part, whole).0;
            bath.mixture.ph = bottle.mixture.ph.filter(|_| *part == whole);
            let new = |one: &Silent| !bath.silent.iter().any(|known| known.name == one.name);
            let silent: Vec<_> = bottle.silent.into_iter().filter(new).collect();
            bath.silent.extend(silent);
            bath.has_unknown |= bottle.has_unknown;
        }
        bath
    }

    /// The amounts in a litre, in picograms, of a bottle's ingredients that are neither in the table of ingredients nor
    /// declared with their hazards.
    fn others(&self, part: Option<&str>) -> impl Iterator<Item = i128> {
        let formulas = self.formulas.iter().filter(move |formula| formula.part.as_deref() == part);
        formulas.flat_map(|formula| {
            let makes = formula.makes.value.fl;
            let is_known = |name: &String| {
                self.declared.iter().any(|own| own.ingredient.name == *name && own.is_known())
            };
            let is_other =
                move |item: &&Item| matches!(&item.what, Substance::Other(name) if !is_known(name));
            let others = formula.items.iter().filter(is_other);
            others.map(move |item| match item.measure {
                Measure::Mass(mass) => mass.scaled(Volume::LITRE, makes).pg.into(),
                Measure::MassPerLitre(mass) => mass.pg.into(),
                Measure::Volume(volume) => grams_of(volume.scaled(Volume::LITRE, makes)),
                Measure::VolumePerLitre(volume) => grams_of(volume),
                Measure::UpTo(_) => 0,
            })
        })
    }

    fn has_others(&self, part: Option<&str>) -> bool {
        self.others(part).next().is_some()
    }

    /// The total share of the ingredients without known hazards, of those that each have at least 1 %.
    fn share_of_others(&self, part: Option<&str>) -> Percent {
        let shares = self.others(part).filter(|pg| Percent(*pg) >= Percent::thousandths(1_000));
        Percent(shares.sum::<i128>().min(Percent::WHOLE.0))
    }
}

/// The mass of this volume of water, in picograms.
fn grams_of(volume: Volume) -> i128 {
    i128::from(volume.fl) * i128::from(Mass::G) / i128::from(Volume::ML)
}

fn portion(ingredient: &'static Ingredient, share: Percent) -> Portion {
    let entry = Entry::of(ingredient);
    Portion {
        from_memory: !entry.is_harmonised() && ingredient.is_from_memory(),
        ..Portion::new(ingredient.name, entry, share.min(Percent::WHOLE))
    }
}

impl OwnContent {
    /// Whether the file that declares the ingredient states its hazards.
    fn is_known(&self) -> bool {
        self.ingredient.hazards.is_some()
    }

    /// The share of the pure ingredient in the mass of the liquid, of which a litre weighs `litre` picograms. A volume
    /// of the ingredient counts as if it weighed as much as water. `None` if the amount is not stated.
    fn share(&self, litre: i128) -> Option<Percent> {
        let strength = i128::from(self.strength.map_or(PURE, |share| share.basis_points));
        let pg = match self.amount {
            Concentration::Share(share) => return Some(Percent::thousandths(10 * share.basis_points)),
            Concentration::Mass(mass) => i128::from(mass.pg),
            Concentration::Volume(volume) => grams_of(volume),
            Concentration::Unknown => return None,
        };
        let pure = pg * strength / i128::from(PURE);
        Some(of_litre(pure, litre).min(Percent::WHOLE))
    }
}

/// The share of `pg` picograms in a litre that weighs `litre` picograms, rounded up.
fn of_litre(pg: i128, litre: i128) -> Percent {
    let whole = litre.max(1);
    Percent((pg * Percent::WHOLE.0 + whole - 1).div_euclid(whole))
}

impl Content {
    /// Whether a litre holds at least this many grams of the pure ingredient; also true if the amount is not known.
    pub fn is_at_least(&self, grams: u32) -> bool {
        self.share(LITRE_OF_WATER).is_none_or(|share| share >= Percent::thousandths(100 * grams))
    }

    /// The share of the ingredient, without water of crystallisation, in the mass of the liquid; `None` if the amount
    /// is not stated. The density of the liquid is not known, so a litre counts as `litre` picograms. A litre of a salt
    /// solution is heavier, so the share of a salt is too high.
    fn share(&self, litre: i128) -> Option<Percent> {
        if let Concentration::Share(share) = self.amount {
            return Some(Percent::thousandths(10 * share.basis_points));
        }
        Some(of_litre(self.pure_picograms()?, litre))
    }

    /// The picograms of the pure ingredient in a litre, without water of crystallisation. For a borate, that water is
    /// included, because the classification of borates counts it. `None` if the amount is a percentage or not stated.
    fn pure_picograms(&self) -> Option<i128> {
        let strength = i128::from(self.strength.map_or(PURE, |share| share.basis_points));
        let pg = match self.amount {
            Concentration::Mass(mass) => i128::from(mass.pg),
            Concentration::Volume(volume) => grams_of(volume) * i128::from(self.density()) / 1000,
            Concentration::Share(_) | Concentration::Unknown => return None,
        };
        let pure = pg * strength / i128::from(PURE);
        let dry = self.ingredient.states.first().filter(|_| !Entry::of(self.ingredient).is_borate);
        let factor = dry.zip(self.state).and_then(|(dry, state)| dry.in_place_of(state));
        Some(factor.map_or(pure, |factor| scaled(pure, factor)))
    }

    /// The density of the liquid ingredient in thousandths of g/ml; 1000, as for water, if the density is not known.
    fn density(&self) -> u32 {
        self.ingredient.density(self.strength.map_or(PURE, |share| share.basis_points)).unwrap_or(1000)
    }

    /// By how many picograms an ingredient such as alcohol or ammonia makes a litre lighter than a litre of water.
    fn lightness(&self) -> i128 {
        let lacks = i128::from(1000_u32.saturating_sub(self.density()));
        match self.amount {
            Concentration::Volume(volume) => grams_of(volume) * lacks / 1000,
            Concentration::Mass(mass) => i128::from(mass.pg) * lacks / i128::from(self.density().max(1)),
            Concentration::Share(_) | Concentration::Unknown => 0,
        }
    }
}

#[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "a mass has fewer figures")]
fn scaled(pg: i128, factor: f64) -> i128 {
    (pg as f64 * factor).round() as i128
}
