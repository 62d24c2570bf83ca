//! What a difference is in and what it is about, as people call it.

use super::super::plain::plain;
use super::hand::Hand;
use crate::compare::{Difference, Place};
use crate::compile::Scale;
use crate::model::Key;

/// A place as people call it.
pub(super) fn place(place: Place<'_>) -> String {
    match place {
        Place::Recipe => "recipe".to_owned(),
        Place::Film => "film".to_owned(),
        Place::Step(kind, Some(name)) => format!("{} {}", kind.word(), plain(name)),
        Place::Step(kind, None) => kind.word().to_owned(),
    }
}

/// What a difference is about, as people call it.
pub(super) fn called(difference: &Difference<'_>, scale: Scale) -> String {
    let formula = match difference.bottle {
        Some(bottle) => format!("formula {}", plain(bottle)),
        None => "formula".to_owned(),
    };
    match difference.key {
        Key::ClearsIn(solution, dilution) => format!("clears in {} {dilution}", plain(solution)),
        Key::Formula(_) => formula,
        Key::Makes(_) => format!("{formula} makes"),
        Key::Item(_, what) | Key::ItemOrder(_, what) => format!("{formula}: {}", plain(what)),
        Key::TimeAt(at) => format!("time at {}", Hand { scale, places: 2 }.degrees(at)),
        key => key.word().replace('-', " "),
    }
}
