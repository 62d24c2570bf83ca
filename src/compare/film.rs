//! The film, as far as the work goes by it: its name, its crystals, its clearing times.

use super::difference::{Aspect, Found, Place, Value};
use super::pairing::{Paired, pair};
use crate::model::{Clearing, Film, Grain};

/// What differs between two films. Of another film only that is told: its times stand with the steps.
pub(super) fn compare((old, new): (Option<&Film>, Option<&Film>), found: &mut Found) {
    let name = |film: Option<&Film>| Value::of(film.map(|film| film.name.clone()), Value::Name);
    found.unless_equal(&Place::Recipe, Aspect::Film, name(old), name(new));
    let (Some(old), Some(new)) = (old, new) else { return };
    if old.name != new.name {
        return;
    }
    let Film {
        name: _,
        title: _,
        span: _,
        extent: _,
        grain,
        speed,
        clears: _,
        sources: _,
        cautions: _,
        notes: _,
    } = old;
    let grain_of = |grain: Option<Grain>| Value::of(grain, Value::Grain);
    found.unless_equal(&Place::Film, Aspect::Grain, grain_of(*grain), grain_of(new.grain));
    let speed = speed.map(|speed| speed.value);
    let new_speed = new.speed.map(|speed| speed.value);
    let count = |speed| Value::of(speed, Value::Count);
    found.unless_equal(&Place::Film, Aspect::Speed, count(speed), count(new_speed));
    clearing(&old.clears_in_order(), &new.clears_in_order(), found);
}

/// The rows of clearing times, by the bath they are for.
fn clearing(old: &[&Clearing], new: &[&Clearing], found: &mut Found) {
    let bath = |row: &Clearing| {
        let Clearing { time: _, solution, dilution, at: _, span: _ } = row;
        (solution.name.clone(), dilution.clone())
    };
    let value = |row: &Clearing| Value::Clears(row.time, row.at);
    // A dilution has no order of its own; its parts have.
    let key = |row: &&Clearing| (row.solution.name.clone(), row.dilution.parts.clone(), row.dilution.water);
    for paired in pair(old, new, key) {
        match paired {
            // Both are in the same order, so none is moved.
            Paired::Both { old, new, moved: _ } => {
                let (solution, dilution) = bath(new);
                let aspect = Aspect::Clears(solution, dilution);
                found.unless_equal(&Place::Film, aspect, value(old), value(new));
            }
            Paired::Gone(row) => {
                let (solution, dilution) = bath(row);
                let aspect = Aspect::Clears(solution, dilution);
                found.unless_equal(&Place::Film, aspect, value(row), Value::Absent);
            }
            Paired::Added(row, _) => {
                let (solution, dilution) = bath(row);
                let aspect = Aspect::Clears(solution, dilution);
                found.unless_equal(&Place::Film, aspect, Value::Absent, value(row));
            }
        }
    }
}
