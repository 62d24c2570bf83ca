//! What a step happens in: the solution, its strength and what becomes of it; and, where it is the same
//! solution by name, all that is written of it.

use std::sync::Arc;

use super::difference::{Aspect, BARE, Found, Place, Value};
use super::formula;
use super::time::quickening;
use crate::model::{Bath, Solution, Stated, Treats, Volume};

/// The pairs of solutions that were told of, so that one that works in two steps is told once.
#[derive(Debug, Default)]
pub(super) struct Told(Vec<(Arc<Solution>, Arc<Solution>)>);

/// What differs between two baths.
pub(super) fn compare(
    place: &Place,
    (old, new): (Option<&Bath>, Option<&Bath>),
    told: &mut Told,
    found: &mut Found,
) {
    let name = |bath: Option<&Bath>| {
        Value::of(bath, |bath| {
            let Bath { solution, dilution: _, fate: _, span: _ } = bath;
            solution.as_ref().map_or(Value::Water, |solution| Value::Name(solution.name.clone()))
        })
    };
    found.unless_equal(place, Aspect::Solution, name(old), name(new));
    let dilution = |bath: Option<&Bath>| Value::of(bath, |bath| Value::Dilution(bath.dilution.clone()));
    // Water that is said is as strong as water that is not.
    let is_water = |bath: Option<&Bath>| bath.is_none_or(|bath| bath.solution.is_none());
    if old.is_some() == new.is_some() || !is_water(old) || !is_water(new) {
        found.unless_equal(place, Aspect::Dilution, dilution(old), dilution(new));
    }
    let fate = |bath: Option<&Bath>| Value::of(bath.and_then(|bath| bath.fate), Value::Fate);
    found.unless_equal(place, Aspect::Fate, fate(old), fate(new));
    let solution = |bath: Option<&Bath>| bath.and_then(|bath| bath.solution.clone());
    if let (Some(old), Some(new)) = (solution(old), solution(new)) {
        let known = |(one, other): &(Arc<Solution>, Arc<Solution>)| {
            Arc::ptr_eq(one, &old) && Arc::ptr_eq(other, &new)
        };
        if old.name == new.name && !told.0.iter().any(known) {
            solutions(place, &old, &new, found);
            told.0.push((old, new));
        }
    }
}

/// What differs in a solution.
fn solutions(place: &Place, old: &Solution, new: &Solution, found: &mut Found) {
    let Solution {
        name: _,
        title: _,
        span: _,
        extent: _,
        role,
        parts,
        formulas,
        contains: _,
        needs,
        treats,
        extend,
        replenish,
        rate,
        keeps,
        sources: _,
        cautions: _,
        notes: _,
    } = old;
    let mut tell = |aspect, old, new| found.unless_equal(place, aspect, old, new);
    let volume = |stated: Option<Stated<Volume>>| Value::of(stated, |volume| Value::Volume(volume.value));
    tell(Aspect::Role, Value::of(*role, Value::Role), Value::of(new.role, Value::Role));
    tell(Aspect::Bottles, Value::Names(parts.clone()), Value::Names(new.parts.clone()));
    let names = |solution: &Solution| {
        Value::Names(solution.contains_in_order().into_iter().map(str::to_owned).collect())
    };
    tell(Aspect::Contains, names(old), names(new));
    tell(Aspect::Needs, volume(*needs), volume(new.needs));
    tell(Aspect::Treats, Value::Treats(bare(treats)), Value::Treats(bare(&new.treats)));
    let extended = |stated: Option<Stated<_>>| Value::of(stated, |extend| Value::Extend(extend.value));
    tell(Aspect::Extend, extended(*extend), extended(new.extend));
    tell(Aspect::Replenish, volume(*replenish), volume(new.replenish));
    let quick = |stated: Option<Stated<_>>| {
        Value::of(stated, |rate| {
            let (factor, interval) = quickening(rate.value);
            Value::Rate(factor, interval)
        })
    };
    tell(Aspect::Rate, quick(*rate), quick(new.rate));
    let kept = |stated: Option<Stated<_>>| Value::of(stated, |keeps| Value::Keeping(keeps.value));
    tell(Aspect::Keeps, kept(*keeps), kept(new.keeps));
    formula::compare(place, formulas, &new.formulas, found);
}

/// Rows without their places.
fn bare(treats: &[Treats]) -> Vec<Treats> {
    treats
        .iter()
        .map(|row| {
            let Treats { rolls, per, at, span: _ } = row;
            Treats { rolls: *rolls, per: *per, at: at.clone(), span: BARE }
        })
        .collect()
}
