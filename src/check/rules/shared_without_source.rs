//! A solution that others rely on, and nobody says where it comes from.

use super::Written;
use crate::source::Diagnostic;
use crate::vocabulary::{Declared, Lines as _, say};

rule! {
    /// # shared-without-source
    ///
    /// **What.** A file without recipes, which other files use, has a solution without a `source`.
    ///
    /// **Why.** Everybody's film goes through it, and whoever doubts a figure has nothing to hold it against: not the handbook, not the label, not the day when somebody measured it.
    ///
    /// ```fires
    /// wetside 1
    /// use "bottles.wet"
    /// recipe wrong {
    ///     stop {
    ///         in        citric-stop 1+19
    ///         time      1:00
    ///     }
    /// }
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
    /// **Instead.** Say where it is from, if only that nobody knows.
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
    "shared-without-source", Advice, "a solution that other files use, without a source", File(look)
}

fn look(written: &Written<'_>, faults: &mut Vec<Diagnostic>) {
    let readings = &written.unit.readings;
    if !written.is_used || readings.iter().any(|reading| reading.declares() == Some(Declared::Recipe)) {
        return;
    }
    let solutions = readings.iter().filter(|it| it.declares() == Some(Declared::Solution));
    for reading in solutions.filter(|it| it.block_sound) {
        let has_source = reading.one::<say::Source>().is_some();
        let Some((name, _)) = reading.name().filter(|_| !has_source) else { continue };
        let message = format!("other files use '{name}', and it does not say where it is from");
        let help = "add a line such as: source \"the label of the bottle\"";
        faults.push(RULE.found(reading.span, message).help(help));
    }
}
