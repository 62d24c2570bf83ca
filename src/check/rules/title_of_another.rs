//! Two things of one kind with the same title.

use super::*;

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
    "title-of-another", Warning, "a title that another of the same kind has", File(check)
}

fn check(file: &CheckedFile<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    let mut first: BTreeMap<(&str, String), Span> = BTreeMap::new();
    for reading in file.unit.readings.iter() {
        let Some(title) = reading.title() else { continue };
        let key = (reading.row.word, title.trim().to_lowercase());
        if let Some(earlier) = first.get(&key) {
            found.push(
                RULE.found(reading.span, format!("another {} has this title", reading.row.word))
                    .other(*earlier, "the first")
                    .help("add the difference to one of the titles"),
            );
        } else {
            first.insert(key, reading.span);
        }
    }
    found
}
