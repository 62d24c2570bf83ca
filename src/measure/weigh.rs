//! R10. A formula in proportion: how much of each thing, as it is had, goes on the scale or into the cylinder.

use super::advice;
use super::asked::{HadAs, Weighing};
use super::cylinder;
use super::had::{self, Shelf};
use super::liquid;
use super::room::{self, Room};
use super::sheet::{Amount, Bottle, Form, Line, Told, Water, Weighed};
use super::state;
use super::warmth;
use crate::chemistry::{Held, Strength};
use crate::compile::measurable;
use crate::model::{Formula, Item, Limit, Measure, Solution, Substance, Volume};
use crate::source::Diagnostic;

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("formula-not-known", "a solution to be weighed that says no formula"),
    ("amount-past-measure", "more of something than anybody weighs or measures"),
];

/// All bottles of a solution, weighed.
pub(super) fn bottles(
    solution: &Solution,
    make: Volume,
    asked: &Weighing,
    (faults, doubts): Told<'_>,
) -> Option<Vec<Bottle>> {
    if solution.formulas.is_empty() {
        let message = format!("{} says no formula to weigh", solution.name);
        let fault = Diagnostic::error("formula-not-known", solution.span, message)
            .help(format!("let it down: wetside measure {} 1+4 --make 1l", solution.name))
            .help("or write its formula: formula for 1 l { … }");
        faults.push(fault);
        return None;
    }
    let shelf = Shelf::of(solution, asked, faults);
    if asked.taps.is_some() {
        warmth::is_said(solution, faults);
    }
    let bottle = |formula| Batch { formula, make, asked, shelf: &shelf }.bottle((faults, doubts));
    Some(solution.formulas.iter().map(bottle).collect())
}

/// One formula, and how much is made by it.
struct Batch<'a> {
    formula: &'a Formula,
    make: Volume,
    asked: &'a Weighing,
    shelf: &'a Shelf<'a>,
}

impl Batch<'_> {
    fn bottle(&self, (faults, doubts): Told<'_>) -> Bottle {
        let mut room =
            Room { make: self.make, span: self.formula.makes.span, wanted: Volume::ZERO, had: Volume::ZERO };
        let mut lines = Vec::new();
        for item in &self.formula.items {
            let wanted = self.wanted(item);
            match (&item.what, wanted) {
                (Substance::Water, _) if matches!(item.measure, Measure::UpTo(_)) => {
                    lines.push(Line::Mark(self.make, item.at));
                }
                (Substance::Water, Amount::Volume(volume)) => {
                    let volume = volume.rounded(measurable(volume));
                    lines.push(Line::Water(Water { volume, at: item.at, taps: None }));
                }
                (_, wanted) => match self.weighed(item, wanted, doubts) {
                    Ok(weighed) => {
                        // What is only rounded takes no more room than it did.
                        let wanted = if weighed.instead_of.is_some() { wanted } else { weighed.amount };
                        room.takes(wanted, weighed.amount);
                        lines.push(Line::Weighed(weighed));
                    }
                    Err(fault) => faults.push(*fault),
                },
            }
        }
        room::fit(&mut lines, &room, (faults, doubts));
        if let Some(taps) = self.asked.taps {
            for line in &mut lines {
                if let Line::Water(water) = line {
                    warmth::draw(water, taps, room.span, faults);
                }
            }
        }
        Bottle { part: self.formula.part.clone(), written_for: self.formula.makes.value, lines }
    }

    /// What the formula says of an ingredient, for as much as is made.
    fn wanted(&self, item: &Item) -> Amount {
        let (make, written_for) = (self.make.fl, self.formula.makes.value.fl);
        let litre = 1000 * Volume::ML;
        match item.measure {
            Measure::Mass(mass) => Amount::Mass(mass.scaled(make, written_for)),
            Measure::MassPerLitre(mass) => Amount::Mass(mass.scaled(make, litre)),
            Measure::Volume(volume) | Measure::UpTo(volume) => {
                Amount::Volume(volume.scaled(make, written_for))
            }
            Measure::VolumePerLitre(volume) => Amount::Volume(volume.scaled(make, litre)),
        }
    }

    fn weighed(
        &self,
        item: &Item,
        wanted: Amount,
        doubts: &mut Vec<String>,
    ) -> Result<Weighed, Box<Diagnostic>> {
        let written = written(item);
        let name = had::name(item).expect("water is measured, not weighed");
        let (exact, form) = match self.shelf.get(name) {
            None => (wanted, written.clone()),
            Some(HadAs::State(word)) => state::had(item, wanted, word)?,
            Some(HadAs::Percent(share)) => liquid::had(item, wanted, *share)?,
        };
        within_measure(item, name, exact)?;
        let amount = self.rounded(exact);
        let weighed = Weighed {
            what: name.to_owned(),
            held: held(item, &form),
            instead_of: (form != written).then_some((wanted, written)),
            form,
            amount,
            off: off(exact, amount),
        };
        doubts.extend(advice::doubt(&weighed, exact, self.asked.step, self.make));
        Ok(weighed)
    }

    /// To what the scale or the cylinder tells apart, half up; what is less than that stays as it is.
    fn rounded(&self, exact: Amount) -> Amount {
        match exact {
            Amount::Mass(mass) if mass < self.asked.step => exact,
            Amount::Mass(mass) => Amount::Mass(mass.rounded(self.asked.step)),
            Amount::Volume(volume) if volume < cylinder::tells(volume) => exact,
            Amount::Volume(volume) => Amount::Volume(volume.rounded(cylinder::tells(volume))),
        }
    }
}

/// As what the formula names it.
fn written(item: &Item) -> Form {
    match (item.strength, &item.state) {
        (Some(strength), _) => Form::Strength(strength),
        (None, Some(state)) => Form::State(state.clone()),
        (None, None) => Form::Plain,
    }
}

/// What is known of an ingredient, at the strength that it is had in.
fn held(item: &Item, form: &Form) -> Option<Held> {
    let Substance::Known(ingredient) = item.what else { return None };
    let strength = match form {
        Form::Strength(strength) => Strength::Of(strength.basis_points),
        Form::Plain | Form::State(_) | Form::Dissolved(..) => Strength::Unsaid,
    };
    Some(Held { ingredient, strength })
}

/// How much more one amount is than the other, in hundredths of a percent, half up.
fn off(exact: Amount, amount: Amount) -> i64 {
    let (exact, amount) = match (exact, amount) {
        (Amount::Mass(exact), Amount::Mass(amount)) => (exact.pg, amount.pg),
        (Amount::Volume(exact), Amount::Volume(amount)) => (exact.fl, amount.fl),
        (Amount::Mass(_), Amount::Volume(_)) | (Amount::Volume(_), Amount::Mass(_)) => {
            unreachable!("rounding keeps a mass a mass and a volume a volume")
        }
    };
    let (more, whole) = (i128::from(amount) - i128::from(exact), i128::from(exact.max(1)));
    i64::try_from((20_000 * more + whole).div_euclid(2 * whole)).unwrap_or(i64::MAX)
}

fn within_measure(item: &Item, name: &str, amount: Amount) -> Result<(), Box<Diagnostic>> {
    let (base, most, does) = match amount {
        Amount::Mass(mass) => (mass.pg, Limit::Mass.range(), "weighs"),
        Amount::Volume(volume) => (volume.fl, Limit::Volume.range(), "measures"),
    };
    if base <= most.most {
        return Ok(());
    }
    let message = format!("this takes more {name} than anybody {does}: {} is from {}", most.what, most.words);
    let help = "look whether --make, the formula or a percentage of --have is a slip of the pen";
    Err(Box::new(Diagnostic::error("amount-past-measure", item.span, message).help(help)))
}
