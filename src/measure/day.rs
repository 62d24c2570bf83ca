//! What to mix and to buy for a plan: the sheets of its stock solutions in the order of mixing, and the ingredients of
//! all of them together.

use std::cmp::Reverse;

use super::sheet::{Amount, Asked, Form, Line, Sheet, Weighing, Work};
use super::{USUAL_SCALE, measure};
use crate::chemistry::Concern;
use crate::compile::{Personal, SafetyLine, Scene, safety};
use crate::model::{Mass, Role, Volume};
use crate::plan::{Liquid, Plan};
use crate::source::{Diagnostic, Sorted as _};

/// What to mix and to buy before the loads of a plan.
#[derive(Debug, Default)]
pub struct MixingDay {
    /// The sheets to weigh by, in the order of mixing.
    pub sheets: Vec<Sheet>,
    /// The ingredients of all sheets, each once, in the order of the alphabet.
    pub ingredients: Vec<Needed>,
    /// The safety block of all sheets.
    pub safety: Vec<SafetyLine>,
}

/// An ingredient to weigh for a plan, in one form, such as anhydrous.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Needed {
    /// The name of the ingredient.
    pub what: String,
    /// The form of the ingredient.
    pub form: Form,
    /// The total amount on all sheets.
    pub amount: Amount,
    /// The amount that the user has, if stated.
    pub on_hand: Option<Amount>,
}

impl Needed {
    /// The amount that is missing.
    pub fn short(&self) -> Amount {
        match (self.amount, self.on_hand) {
            (Amount::Mass(needed), Some(Amount::Mass(had))) => {
                Amount::Mass(Mass { pg: needed.pg.saturating_sub(had.pg).max(0) })
            }
            (Amount::Volume(needed), Some(Amount::Volume(had))) => {
                Amount::Volume(Volume { fl: needed.fl.saturating_sub(had.fl).max(0) })
            }
            (needed, _) => needed,
        }
    }
}

/// The sheets of a plan's stock solutions that have a formula, and the ingredients to buy. `on_hand` lists the names
/// and amounts of the ingredients that the user has.
///
/// # Errors
/// Every reason why a sheet cannot be made.
pub fn mixing_day(
    plan: &Plan,
    on_hand: &[(String, Amount)],
    personal: &Personal,
) -> Result<MixingDay, Vec<Diagnostic>> {
    let mut all: Vec<(&Liquid, Volume)> = Vec::new();
    for taken in &plan.taken {
        let Some((liquid, volume)) = taken.liquid.as_ref().zip(taken.to_mix()) else { continue };
        match all.iter_mut().find(|(known, _)| is_same(known, liquid)) {
            Some((_, known)) => *known = *known + volume,
            None => all.push((liquid, volume)),
        }
    }
    all.order_by_key(|(liquid, volume)| (turn(liquid.solution.role), liquid.solution.span, Reverse(*volume)));
    let mut sheets: Vec<Sheet> = Vec::new();
    for (liquid, volume) in all {
        let asked = Asked::Weighing(Weighing { step: USUAL_SCALE, had: Vec::new(), taps: None });
        let mut sheet = measure(&liquid.solution, volume, &asked, personal)?;
        if let Work::Weigh(bottles, _) = &mut sheet.work {
            bottles.retain(|bottle| bottle.part == liquid.part);
        }
        sheets.push(sheet);
    }
    let ingredients = ingredients(&sheets, on_hand);
    let concerns: Vec<Concern> = sheets.iter().flat_map(|sheet| sheet.concerns.iter().cloned()).collect();
    let solutions = sheets.iter().map(|sheet| &*sheet.solution).collect();
    let scene = Scene { solutions, warmest: None, exposes: false, personal, last: None };
    let safety = if sheets.is_empty() { Vec::new() } else { safety(&concerns, &scene) };
    Ok(MixingDay { sheets, ingredients, safety })
}

fn is_same(one: &Liquid, other: &Liquid) -> bool {
    one.solution.span == other.solution.span && one.part == other.part
}

/// The place of a solution in the order of mixing: developers before all others, and fixers and bleaches last, because
/// a trace of them spoils a developer. Common practice, no source.
fn turn(role: Option<Role>) -> u8 {
    match role {
        Some(Role::Developer) => 0,
        Some(Role::Fixer | Role::BleachFix) => 2,
        Some(Role::Bleach) => 3,
        _ => 1,
    }
}

fn ingredients(sheets: &[Sheet], on_hand: &[(String, Amount)]) -> Vec<Needed> {
    let bottles = sheets.iter().filter_map(|sheet| match &sheet.work {
        Work::Weigh(bottles, _) => Some(bottles),
        Work::Dilute(_) => None,
    });
    let mut all: Vec<Needed> = Vec::new();
    for line in bottles.flatten().flat_map(|bottle| &bottle.lines) {
        let Line::Weighed(weighed) = line else { continue };
        let known = all.iter_mut().find(|one| one.what == weighed.what && one.form == weighed.form);
        match (known, weighed.amount) {
            (Some(Needed { amount: Amount::Mass(known), .. }), Amount::Mass(more)) => {
                known.pg = known.pg.saturating_add(more.pg);
            }
            (Some(Needed { amount: Amount::Volume(known), .. }), Amount::Volume(more)) => {
                *known = *known + more;
            }
            (_, amount) => {
                let had = on_hand.iter().find(|(name, had)| *name == weighed.what && is_alike(*had, amount));
                let on_hand = had.map(|(_, amount)| *amount);
                let (what, form) = (weighed.what.clone(), weighed.form.clone());
                all.push(Needed { what, form, amount, on_hand });
            }
        }
    }
    all.order_by(|one, other| one.what.cmp(&other.what));
    all
}

fn is_alike(one: Amount, other: Amount) -> bool {
    std::mem::discriminant(&one) == std::mem::discriminant(&other)
}
