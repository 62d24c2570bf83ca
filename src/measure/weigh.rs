//! Rule R10: scales a formula to a volume, with each ingredient in the form that the user has.

use super::had::{Forms, forms};
use super::liquids::{Liquids, in_words, stronger};
use super::sheet::{Amount, Bottle, Form, HadAs, Line, Water, Weighed, Weighing};
use super::{Findings, advice, convert, liquids, refused};
use crate::chemistry::Held;
use crate::compile::{measurable, spoken_volume};
use crate::model::{Formula, Item, Limit, Measure, Solution, Substance, Volume};
use crate::source::Diagnostic;

pub(super) fn bottles(
    solution: &Solution,
    make: Volume,
    asked: &Weighing,
    findings: &mut Findings,
) -> Option<Vec<Bottle>> {
    if solution.formulas.is_empty() {
        let message = format!("{} has no formula to weigh", solution.name);
        let fault = Diagnostic::error("formula-not-known", solution.span, message)
            .help(format!("dilute it: wetside measure {} 1+4 --make 1l", solution.name))
            .help("or write its formula: formula for 1 l { … }");
        findings.errors.push(fault);
        return None;
    }
    let forms = forms(solution, asked, &mut findings.errors);
    if asked.taps.is_some() {
        liquids::check_stated(solution, &mut findings.errors);
    }
    let bottle = |formula| Batch { solution, formula, make, asked, forms: &forms }.bottle(findings);
    Some(solution.formulas.iter().map(bottle).collect())
}

struct Batch<'a> {
    solution: &'a Solution,
    formula: &'a Formula,
    make: Volume,
    asked: &'a Weighing,
    forms: &'a Forms<'a>,
}

impl Batch<'_> {
    fn bottle(&self, findings: &mut Findings) -> Bottle {
        let (make, span) = (self.make, self.formula.makes.span);
        let mut liquids = Liquids { make, wanted: Volume::ZERO, had: Volume::ZERO, converted: Vec::new() };
        let mut lines = Vec::new();
        for item in &self.formula.items {
            let wanted = self.wanted(item);
            match (&item.what, wanted) {
                (Substance::Water, _) if matches!(item.measure, Measure::UpTo(_)) => {
                    lines.push(Line::Mark(make, item.at));
                }
                (other, _) if matches!(item.measure, Measure::UpTo(_)) => {
                    lines.push(Line::Solvent(other.name().to_owned(), make));
                }
                (Substance::Water, Amount::Volume(volume)) => {
                    let volume = volume.rounded(measurable(volume));
                    lines.push(Line::Water(Water { volume, at: item.at, taps: None }));
                }
                (_, wanted) => match self.weighed(item, wanted, &mut findings.warnings) {
                    Ok(weighed) => {
                        liquids.add(item, &weighed);
                        lines.push(Line::Weighed(weighed));
                    }
                    Err(fault) => findings.errors.push(*fault),
                },
            }
        }
        liquids.fit(&mut lines, findings);
        if let Some(taps) = self.asked.taps {
            for line in &mut lines {
                if let Line::Water(water) = line {
                    liquids::split(water, taps, span, &mut findings.errors);
                }
            }
        }
        Bottle { part: self.formula.part.clone(), written_for: *self.formula.makes, lines }
    }

    /// The amount of an ingredient by the formula, for the volume to make.
    fn wanted(&self, item: &Item) -> Amount {
        self.wanted_for(item, self.make)
    }

    fn wanted_for(&self, item: &Item, make: Volume) -> Amount {
        let (make, written_for) = (make.fl, self.formula.makes.fl);
        match item.measure {
            Measure::Mass(mass) => Amount::Mass(mass.scaled(make, written_for)),
            Measure::MassPerLitre(mass) => Amount::Mass(mass.scaled(make, Volume::LITRE)),
            Measure::Volume(volume) | Measure::UpTo(volume) => {
                Amount::Volume(volume.scaled(make, written_for))
            }
            Measure::VolumePerLitre(volume) => Amount::Volume(volume.scaled(make, Volume::LITRE)),
        }
    }

    fn weighed(
        &self,
        item: &Item,
        wanted: Amount,
        warnings: &mut Vec<String>,
    ) -> Result<Weighed, Box<Diagnostic>> {
        let written = written(item);
        let name = item.what.name();
        let (exact, form) = match self.forms.get(name) {
            None => (wanted, written.clone()),
            Some(HadAs::State(word)) => convert::to_state(item, wanted, word)?,
            Some(HadAs::Percent(share)) => convert::to_percent(item, wanted, *share)?,
        };
        self.within_limit(item, exact)?;
        let amount = self.rounded(exact);
        let weighed = Weighed {
            what: name.to_owned(),
            held: held(item, &form),
            own: self
                .solution
                .declared
                .iter()
                .find(|own| own.ingredient.name == name)
                .map(|own| own.ingredient.clone()),
            instead_of: (form != written).then_some((wanted, written)),
            form,
            amount,
            off: off(exact, amount),
        };
        warnings.extend(advice::warning(&weighed, exact, self.asked.step, self.make));
        Ok(weighed)
    }

    /// The amount rounded to the resolution of the scale or cylinder, or unrounded if less than the resolution.
    fn rounded(&self, exact: Amount) -> Amount {
        match exact {
            Amount::Mass(mass) if mass < self.asked.step => exact,
            Amount::Mass(mass) => Amount::Mass(mass.rounded(self.asked.step)),
            Amount::Volume(volume) if volume < resolution(volume) => exact,
            Amount::Volume(volume) => Amount::Volume(volume.rounded(resolution(volume))),
        }
    }

    fn within_limit(&self, item: &Item, amount: Amount) -> Result<(), Box<Diagnostic>> {
        let limit = if let Amount::Mass(_) = amount { Limit::MASS } else { Limit::VOLUME };
        if amount.base() <= limit.most {
            return Ok(());
        }
        let (name, makes) = (item.what.name(), *self.formula.makes);
        if let Some(HadAs::Percent(share)) = self.forms.get(name) {
            // No volume to make is past measure, so the solution is too weak for any volume.
            let written = self.wanted_for(item, makes);
            let (had, _) = convert::to_percent(item, written, *share)?;
            let (written, had) = (in_words(written), in_words(had));
            let makes = spoken_volume(makes);
            let message =
                format!("{written} of {name} is {had} at {share}, and the formula makes only {makes}");
            return refused("amount-past-measure", item.span, message, stronger(name));
        }
        let message = format!("too much {name} to measure: {} may be from {}", limit.what, limit.words);
        let help = "measure for a smaller --make, or correct the formula";
        refused("amount-past-measure", item.span, message, help)
    }
}

/// The resolution of the cylinder that measures this volume: 0.1 ml under 25 ml, 0.5 ml under 100 ml. From 100 ml on,
/// the volume is rounded as that of a bath: see [`measurable`] (R8).
///
/// Pipettes of 25 ml have marks every 0.1 ml. Cylinders of 100 ml have marks every 1 ml, and can be read to half a mark
/// (ISO 835 and ISO 4788; not looked up).
fn resolution(volume: Volume) -> Volume {
    if volume < Volume::from_ml(25) {
        Volume { fl: Volume::ML / 10 }
    } else if volume < Volume::from_ml(100) {
        Volume { fl: Volume::ML / 2 }
    } else {
        measurable(volume)
    }
}

fn written(item: &Item) -> Form {
    match (item.strength, &item.state) {
        (Some(strength), _) => Form::Strength(strength),
        (None, Some(state)) => Form::State(state.clone()),
        (None, None) => Form::Plain,
    }
}

/// The ingredient and its strength in this form, for cautions; `None` if it is not in the table of ingredients.
fn held(item: &Item, form: &Form) -> Option<Held> {
    let Substance::Known(ingredient) = item.what else { return None };
    let strength = if let Form::Strength(strength) = form { Some(strength.basis_points) } else { None };
    Some(Held { ingredient, strength })
}

/// The rounding error in hundredths of a percent.
fn off(exact: Amount, amount: Amount) -> i64 {
    let (exact, amount) = (i128::from(exact.base()), i128::from(amount.base()));
    let (more, whole) = (amount - exact, exact.max(1));
    i64::try_from((20_000 * more + whole).div_euclid(2 * whole)).unwrap_or(i64::MAX)
}
