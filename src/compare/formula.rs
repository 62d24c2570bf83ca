//! How a solution is made, bottle by bottle and line by line.

use super::difference::{Aspect, Found, Place, Value};
use super::pairing::{Paired, pair};
use crate::model::{Formula, Item, Substance};

/// What differs in the formulas of a solution.
pub(super) fn compare(place: &Place, old: &[Formula], new: &[Formula], found: &mut Found) {
    let bottle = |formula: Option<&Formula>| Value::After(formula.and_then(|formula| formula.part.clone()));
    for paired in pair(old, new, |formula| formula.part.clone()) {
        match paired {
            Paired::Both { old, new, moved } => {
                if let Some((before, now)) = moved {
                    let aspect = Aspect::FormulaOrder(new.part.clone());
                    found.tell(place, aspect, bottle(before), bottle(now));
                }
                formulas(place, old, new, found);
            }
            Paired::Gone(formula) => {
                let aspect = Aspect::Formula(formula.part.clone());
                found.unless_equal(place, aspect, Value::Present, Value::Absent);
            }
            Paired::Added(formula, _) => {
                let aspect = Aspect::Formula(formula.part.clone());
                found.unless_equal(place, aspect, Value::Absent, Value::Present);
            }
        }
    }
}

fn formulas(place: &Place, old: &Formula, new: &Formula, found: &mut Found) {
    let Formula { part, makes, items } = old;
    let made = (Value::Volume(makes.value), Value::Volume(new.makes.value));
    found.unless_equal(place, Aspect::Makes(part.clone()), made.0, made.1);
    let behind = |item: Option<&Item>| Value::After(item.map(|item| name(item).to_owned()));
    for paired in pair(items, &new.items, name) {
        let aspect = |item: &Item| Aspect::Item(part.clone(), name(item).to_owned());
        match paired {
            Paired::Both { old, new, moved } => {
                if let Some((before, now)) = moved {
                    let aspect = Aspect::ItemOrder(part.clone(), name(new).to_owned());
                    found.tell(place, aspect, behind(before), behind(now));
                }
                found.unless_equal(place, aspect(new), value(old), value(new));
            }
            Paired::Gone(item) => found.unless_equal(place, aspect(item), value(item), Value::Absent),
            Paired::Added(item, _) => found.unless_equal(place, aspect(item), Value::Absent, value(item)),
        }
    }
}

fn name(item: &Item) -> &str {
    match &item.what {
        Substance::Water => "water",
        Substance::Known(ingredient) => ingredient.name,
        Substance::Other(name) => name,
    }
}

fn value(item: &Item) -> Value {
    let Item { what: _, measure, state, strength, at, span: _ } = item;
    Value::Item(*measure, state.clone(), *strength, *at)
}
