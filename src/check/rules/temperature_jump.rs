//! From a warm bath into a cold one.

use crate::model::{Difference, Recipe, Step, Temperature};
use crate::source::Diagnostic;

rule! {
    /// # temperature-jump
    ///
    /// **What.** Two baths follow each other, and by what the recipe says of each they are more than 4 °C apart: by
    /// their own `at`, or by bands that do not meet.
    ///
    /// **Why.** Gelatin swells in the warm and shrinks in the cold. Shrunk at once it wrinkles, and the net of
    /// wrinkles (reticulation) stays.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         time      10:00 at 24 C
    ///         within    0.5 C
    ///     }
    ///     wash {
    ///         at        15 C
    ///         soak      1:00 x 6
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Bring all baths and the wash near the developer's temperature; go down in steps of a few
    /// degrees.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     develop {
    ///         in        water
    ///         time      10:00 at 24 C
    ///         within    0.5 C
    ///     }
    ///     wash {
    ///         at        21 C
    ///         soak      1:00 x 6
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Army subcourse SS0509, page 14: all baths as near each other as possible, else reticulation.
    /// The 4 °C are common practice, no source.
    "temperature-jump", Warning, "two baths in a row whose temperatures lie far apart", Recipe(look)
}

/// Baths may be so far apart: 4 °C.
const APART_MAX: Difference = Difference { base: 4 * 9000 };

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    let wet: Vec<&Step> = recipe.steps.iter().filter(|step| step.is_in_liquid()).collect();
    for (before, after) in wet.iter().zip(wet.iter().skip(1)) {
        let (Some(one), Some(two)) = (before.temperatures(), after.temperatures()) else { continue };
        let (from, to) = nearest(one, two);
        let apart = if from < to { to.above(from) } else { from.above(to) };
        if apart <= APART_MAX {
            continue;
        }
        let message =
            format!("the film goes from {from} to {to} at once; its gelatin may wrinkle for good");
        faults.push(
            RULE.found(place(after), message)
                .other(place(before), "it comes from here")
                .help(format!("bring this bath within 4 C of {from}, or put a bath between that lies between")),
        );
    }
}

/// The two temperatures of two ranges that come nearest to each other.
fn nearest(one: (Temperature, Temperature), two: (Temperature, Temperature)) -> (Temperature, Temperature) {
    if one.1 < two.0 {
        (one.1, two.0)
    } else if two.1 < one.0 {
        (one.0, two.1)
    } else {
        (one.0.max(two.0), one.0.max(two.0))
    }
}

/// Where a step says its temperature.
fn place(step: &Step) -> crate::source::Span {
    step.at.map(|at| at.span).or(step.band.map(|band| band.span)).unwrap_or(step.duration.span)
}
