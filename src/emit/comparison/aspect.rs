//! What each aspect of the work is called in a comparison: to people, and as a word that programs hold to.

use super::super::plain::plain;
use super::hand::Hand;
use crate::compare::{Aspect, Place};
use crate::compile::Scale;

/// A place as people call it.
pub(super) fn place(place: &Place) -> String {
    match place {
        Place::Recipe => "recipe".to_owned(),
        Place::Film => "film".to_owned(),
        Place::Step(kind, Some(name)) => format!("{} {}", kind.word(), plain(name)),
        Place::Step(kind, None) => kind.word().to_owned(),
    }
}

/// An aspect as people call it.
pub(super) fn called(aspect: &Aspect, scale: Scale) -> String {
    let formula = |part: &Option<String>| match part {
        Some(part) => format!("formula {}", plain(part)),
        None => "formula".to_owned(),
    };
    match aspect {
        Aspect::Clears(solution, dilution) => format!("clears in {} {dilution}", plain(solution)),
        Aspect::Formula(part) => formula(part),
        Aspect::FormulaOrder(part) => format!("{}, its place", formula(part)),
        Aspect::Makes(part) => format!("{} makes", formula(part)),
        Aspect::Item(part, what) => format!("{}: {}", formula(part), plain(what)),
        Aspect::ItemOrder(part, what) => format!("{}: {}", formula(part), plain(what)),
        Aspect::TimeAt(at) => format!("time at {}", Hand { scale, places: 2 }.degrees(*at)),
        Aspect::Film
        | Aspect::Index
        | Aspect::Grain
        | Aspect::Speed
        | Aspect::Presence
        | Aspect::Order
        | Aspect::Solution
        | Aspect::Dilution
        | Aspect::Fate
        | Aspect::Role
        | Aspect::Bottles
        | Aspect::Contains
        | Aspect::Needs
        | Aspect::Treats
        | Aspect::Extend
        | Aspect::Replenish
        | Aspect::Rate
        | Aspect::Keeps
        | Aspect::Time
        | Aspect::TimeRule
        | Aspect::TimeWritten
        | Aspect::Band
        | Aspect::OwnTemperature
        | Aspect::Agitation
        | Aspect::Motion
        | Aspect::Inversion
        | Aspect::Knock
        | Aspect::Handling
        | Aspect::LightSafe
        | Aspect::Fill
        | Aspect::Drain
        | Aspect::Clock
        | Aspect::Caution
        | Aspect::Light => word(aspect).replace('-', " "),
    }
}

/// An aspect as one word; the words are a promise.
pub(super) fn word(aspect: &Aspect) -> &'static str {
    match aspect {
        Aspect::Film => "film",
        Aspect::Index => "index",
        Aspect::Grain => "grain",
        Aspect::Speed => "speed",
        Aspect::Clears(..) => "clears",
        Aspect::Presence => "step",
        Aspect::Order => "order",
        Aspect::Solution => "solution",
        Aspect::Dilution => "dilution",
        Aspect::Fate => "use",
        Aspect::Role => "role",
        Aspect::Bottles => "bottles",
        Aspect::Formula(_) => "formula",
        Aspect::FormulaOrder(_) => "formula-order",
        Aspect::Makes(_) => "formula-makes",
        Aspect::Item(..) => "ingredient",
        Aspect::ItemOrder(..) => "ingredient-order",
        Aspect::Contains => "contains",
        Aspect::Needs => "needs",
        Aspect::Treats => "treats",
        Aspect::Extend => "extend",
        Aspect::Replenish => "replenish",
        Aspect::Rate => "rate",
        Aspect::Keeps => "keeps",
        Aspect::Time => "time",
        Aspect::TimeAt(_) => "time-at",
        Aspect::TimeRule => "time-rule",
        Aspect::TimeWritten => "time-as-written",
        Aspect::Band => "temperatures",
        Aspect::OwnTemperature => "own-temperature",
        Aspect::Agitation => "agitation",
        Aspect::Motion => "motion",
        Aspect::Inversion => "inversion",
        Aspect::Knock => "knock",
        Aspect::Handling => "handling",
        Aspect::LightSafe => "light-safe",
        Aspect::Fill => "fill",
        Aspect::Drain => "drain",
        Aspect::Clock => "clock",
        Aspect::Caution => "caution",
        Aspect::Light => "light",
    }
}
