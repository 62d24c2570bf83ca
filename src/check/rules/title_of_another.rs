//! The rule `title-of-another`.

use std::collections::BTreeMap;

use super::*;

rule! {
    /// # title-of-another: two things of one kind with one title
    ///
    /// The rule compares the recipes, films, solutions, agitations and tanks of a file.
    ///
    /// **Why.** Cards and bottle labels show the title. With one title on two bottles, the wrong bottle gets used.
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
    /// **Instead.** Put the difference into the title.
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
    Warning, File(check)
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
