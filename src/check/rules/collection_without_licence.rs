//! The rule `collection-without-licence`.

use super::*;

rule! {
    /// # collection-without-licence: a collection that does not say how others may use it
    ///
    /// **Why.** Without terms others may not copy the recipes, change them or pass them on.
    ///
    /// ```fires
    /// wetside 2
    /// agitation steady {
    ///     then      5 s every 1 min
    /// }
    /// collection harbour "Recipes of the harbour club" {
    ///     author    "the darkroom group"
    ///     exports   agitation steady
    /// }
    /// ```
    ///
    /// **Instead.** State the terms, by an identifier of ISO/IEC 5962 if there is one.
    ///
    /// ```quiet
    /// wetside 2
    /// agitation steady {
    ///     then      5 s every 1 min
    /// }
    /// collection harbour "Recipes of the harbour club" {
    ///     author    "the darkroom group"
    ///     licence   "CC0-1.0"
    ///     exports   agitation steady
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Warning, File(check)
}

fn check(file: &CheckedFile<'_>) -> Vec<Diagnostic> {
    let collections = file.unit.readings.iter().filter(|reading| reading.is::<say::CollectionHeader>());
    let silent = collections.filter(|reading| reading.block_sound && reading.one::<say::Licence>().is_none());
    let found = silent.map(|reading| {
        RULE.found(reading.span, "the collection states no licence")
            .help("add a line such as: licence \"CC0-1.0\"")
    });
    found.collect()
}
