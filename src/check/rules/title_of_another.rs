//! Two things of one kind that a card would call the same.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use super::Written;
use crate::source::{Diagnostic, Span};
use crate::vocabulary::Reading;

rule! {
    /// # title-of-another
    ///
    /// **What.** Two recipes, films, solutions, agitations or tanks of a file have the same title.
    ///
    /// **Why.** A card and a bottle's label bear the title. Two recipes of one title give cards that only their numbers tell apart, and the wrong one is on the bench.
    ///
    /// ```fires
    /// wetside 1
    /// recipe day "Saltmarsh 100, everyday" {
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///     }
    /// }
    /// recipe night "Saltmarsh 100, everyday" {
    ///     fix {
    ///         in        water
    ///         time      6:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Say in the title what makes the difference.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe day "Saltmarsh 100, everyday" {
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///     }
    /// }
    /// recipe night "Saltmarsh 100, pushed" {
    ///     fix {
    ///         in        water
    ///         time      6:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "title-of-another", Warning, "a title that another of the same kind has", File(look)
}

fn look(written: &Written<'_>, faults: &mut Vec<Diagnostic>) {
    let titled = |reading: &Reading| reading.title().map(|title| title.trim().to_lowercase());
    // Of each kind and title the first.
    let mut seen: BTreeMap<(&str, String), Span> = BTreeMap::new();
    for reading in written.unit.readings.iter() {
        let Some(title) = titled(reading) else { continue };
        match seen.entry((reading.row.word, title)) {
            Entry::Vacant(place) => _ = place.insert(reading.span),
            Entry::Occupied(earlier) => faults.push(
                RULE.found(reading.span, format!("another {} has this title", reading.row.word))
                    .other(*earlier.get(), "the first")
                    .help("say in one of the titles what makes the difference"),
            ),
        }
    }
}
