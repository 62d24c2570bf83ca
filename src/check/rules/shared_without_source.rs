//! The rule `shared-without-source`.

use super::*;

rule! {
    /// # shared-without-source: a solution that other files use, without a source
    ///
    /// The file of the solution has no recipes.
    ///
    /// **Why.** Everyone's film depends on it, and there is no handbook, label or date to check its numbers
    /// against.
    ///
    /// ```fires
    /// wetside 1
    /// use "bottles.wet"
    /// ```
    ///
    /// Here `bottles.wet` is
    ///
    /// ```beside bottles.wet
    /// wetside 1
    /// solution citric-stop {
    ///     role      stop
    ///     contains  citric-acid
    /// }
    /// ```
    ///
    /// **Instead.** State the source, even if it is unknown.
    ///
    /// ```quiet
    /// wetside 1
    /// use "named.wet"
    /// recipe right {
    ///     stop {
    ///         in        citric-stop 1+19
    ///         time      1:00
    ///     }
    /// }
    /// ```
    ///
    /// with, in `named.wet`,
    ///
    /// ```beside named.wet
    /// wetside 1
    /// solution citric-stop {
    ///     role      stop
    ///     contains  citric-acid
    ///     source    "common practice, no source"
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Advice, File(check)
}

fn check(file: &CheckedFile<'_>) -> Vec<Diagnostic> {
    let readings = &file.unit.readings;
    if !file.is_used || readings.iter().any(|it| it.declares() == Some(Declared::Recipe)) {
        return Vec::new();
    }
    let solutions = readings.iter().filter(|it| it.declares() == Some(Declared::Solution) && it.block_sound);
    let found = solutions.filter(|it| it.one::<say::Source>().is_none()).filter_map(|reading| {
        let (name, _) = reading.name()?;
        let message = format!("'{name}' is used by other files and has no source");
        let help = "add a line such as: source \"the label of the bottle\"";
        Some(RULE.found(reading.span, message).help(help))
    });
    found.collect()
}
