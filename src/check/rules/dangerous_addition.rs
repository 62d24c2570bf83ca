//! The rule `dangerous-addition`.

use super::*;
use crate::chemistry::{PAIRS, Pair};
use crate::model::Content;

rule! {
    /// # dangerous-addition: an addition that frees gas, boils or spits in its bath
    ///
    /// The rule reports the pairs of `dangerous-mixture` if the bath has one and what `with` adds has the other, each
    /// at 1 g/l or more before they are diluted.
    ///
    /// **Why.** Both are poured into one vessel, and you bend over it.
    ///
    /// ```fires
    /// wetside 2
    /// solution ferricyanide {
    ///     role      bleach
    ///     contains  potassium-ferricyanide 10 %
    /// }
    /// solution acid {
    ///     role      bleach
    ///     contains  sulfuric-acid 10 %
    /// }
    /// recipe wrong {
    ///     bleach {
    ///         in        ferricyanide 1+4, one-shot
    ///         with      20 ml/l acid
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Use the two one after the other, with a wash between them.
    ///
    /// ```quiet
    /// wetside 2
    /// solution ferricyanide {
    ///     role      bleach
    ///     contains  potassium-ferricyanide 10 %
    /// }
    /// solution bromide {
    ///     role      bleach
    ///     contains  potassium-bromide 10 %
    /// }
    /// recipe right {
    ///     bleach {
    ///         in        ferricyanide 1+4, one-shot
    ///         with      20 ml/l bromide
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** As for `dangerous-mixture`: 40 CFR 264, appendix V; EUH031 and EUH032 in Annex VI of Regulation (EC)
    /// 1272/2008; US EPA, A Method for Determining the Compatibility of Hazardous Wastes, EPA-600/2-80-076, 1980 (from
    /// memory, not looked up). The amounts: common practice, no source.
    Error never lifted, Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let (bath, solution) = step.bath.as_ref().zip(step.solution())?;
    let added = bath.added.as_ref().filter(|_| bath.used.is_none())?;
    dangerous((solution, bath.span), (&added.solution, added.span))
}

/// The finding if a bath's solution must not be mixed with the solution added to it; otherwise `None`. Each solution
/// comes with the span of the line that names it.
pub(crate) fn dangerous((solution, bath): (&Solution, Span), (added, here): (&Solution, Span)) -> Option<Diagnostic> {
    let of = |solution: &Solution| -> Vec<Content> {
        solution.bottle_names().into_iter().flat_map(|bottle| solution.contents(bottle)).collect()
    };
    let (own, other) = (of(solution), of(added));
    let find = |contents: &[Content], names: &[&str], least: u32| {
        let content = contents.iter().find(|one| one.ingredient.is_one_of(names) && one.is_at_least(least))?;
        Some(content.ingredient.name)
    };
    let meeting = |pair: &Pair| {
        let least = pair.in_one_vessel?;
        let of_bath = |one: &[&str], two: &[&str]| find(&own, one, least).zip(find(&other, two, least));
        let (one, two) = of_bath(pair.one, pair.other).or_else(|| of_bath(pair.other, pair.one))?;
        Some((one, two, pair.comes))
    };
    let (one, two, comes) = PAIRS.iter().find_map(meeting)?;
    let message = format!("{two} of '{}' goes into {one} of '{}', and {comes}", added.name, solution.name);
    Some(
        RULE.found(here, message)
            .other(bath, "the bath")
            .help("remove the addition; use the two one after the other, with a wash between them"),
    )
}
