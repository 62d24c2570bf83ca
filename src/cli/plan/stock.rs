//! The labels of the bottles that a plan mixes, and a check of the names in `--package` and `--on-hand`.

use super::Arguments;
use crate::cli::{Failure, fail};
use crate::compile::{Label, Personal};
use crate::emit;
use crate::measure::{Amount, MixingDay, Work};
use crate::model::{Date, Dilution, Volume};
use crate::plan::Plan;

/// The name and the volume of an entry of `--on-hand`; `None` if the entry states a mass.
pub(super) fn volume_of((name, amount): &(String, Amount)) -> Option<(String, Volume)> {
    match amount {
        Amount::Volume(volume) => Some((name.clone(), *volume)),
        Amount::Mass(_) => None,
    }
}

/// The labels of the bottles to mix. The label of a stock solution is dated `on`. The label of a bath is dated on the
/// day of the first load that uses the bath.
pub(super) fn labels(plan: &Plan, day: &MixingDay, (on, personal): (Date, &Personal)) -> Vec<Label> {
    let stocks = day.sheets.iter().map(|sheet| {
        let part = match &sheet.work {
            Work::Weigh(bottles, _) => bottles.first().and_then(|bottle| bottle.part.as_deref()),
            Work::Dilute(_) => None,
        };
        Label::of_mixed(&sheet.solution, part, &Dilution::stock(), (sheet.make, on), personal)
    });
    let baths = emit::first_mixes(plan).map(|(load, _, mix)| {
        Label::of_mixed(&mix.solution, mix.part.as_deref(), &mix.dilution, (mix.volume, load.on), personal)
    });
    stocks.chain(baths).collect()
}

/// Fails if `--package` or `--on-hand` names something that the plan does not need.
pub(super) fn names_known(
    arguments: &Arguments,
    plan: &Plan,
    day: Option<&MixingDay>,
) -> Result<(), Failure> {
    let liquids = || plan.taken.iter().filter(|taken| !taken.tops_up).map(|taken| taken.what.as_str());
    let ingredients = || day.iter().flat_map(|day| &day.ingredients).map(|one| one.what.as_str());
    let refuse = |name: &str, needed: Vec<&str>, example: &str| {
        let known = if needed.is_empty() { "nothing".to_owned() } else { needed.join(", ") };
        fail(
            format!("this plan does not need '{name}'"),
            format!("it needs {known}; write {example} for one of them"),
        )
    };
    let mut packages = arguments.package.iter().map(|(name, _)| name.as_str());
    if let Some(name) = packages.find(|name| liquids().all(|known| known != *name)) {
        return refuse(name, liquids().collect(), "--package NAME=1l");
    }
    let mut had = arguments.on_hand.iter();
    let is_needed = |(name, amount): &(String, Amount)| match amount {
        Amount::Volume(_) => liquids().chain(ingredients()).any(|known| known == name),
        Amount::Mass(_) => ingredients().any(|known| known == name),
    };
    match had.find(|one| !is_needed(one)) {
        Some((name, Amount::Volume(_))) => {
            refuse(name, liquids().chain(ingredients()).collect(), "--on-hand NAME=1l")
        }
        Some((name, Amount::Mass(_))) => refuse(name, ingredients().collect(), "--on-hand NAME=50g"),
        None => Ok(()),
    }
}
