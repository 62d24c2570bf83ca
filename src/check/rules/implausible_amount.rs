//! The rule `implausible-amount`.

use super::*;

rule! {
    /// # implausible-amount: an ingredient in an amount that no published formula has
    ///
    /// The amount is compared as at work: by the dilutions of the recipes that use the solution, or else by its
    /// `treats … at`. A developer with neither counts as undiluted if a roll `needs` 200 ml; under 60 ml it counts as
    /// diluted to 250 ml, and between them the upper limit is doubled.
    ///
    /// **Why.** Ten times too much or too little of an agent or an alkali is a slip of a digit, a unit or a salt's
    /// water, and the film shows it only when it is dry.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         metol            2 g
    ///         sodium-sulfite   100 g anhydrous
    ///         hydroquinone     50 g
    ///         borax            2 g decahydrate
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// **Instead.** Correct the figure. A formula that is meant so says `allow implausible-amount because` and the
    /// reason.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         metol            2 g
    ///         sodium-sulfite   100 g anhydrous
    ///         hydroquinone     5 g
    ///         borax            2 g decahydrate
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// A concentrate may hold much more than the bath at work.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      stop
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         citric-acid      300 g monohydrate
    ///         water            to 1 l
    ///     }
    ///     treats    12 rolls per 1 l at 1+19
    /// }
    /// ```
    ///
    /// The limits at work, in grams or millilitres of pure liquid a litre, and what published formulas have:
    ///
    /// {limits}
    ///
    /// **Source.** 163 published formulas: 44 were looked up, the others are from memory. The limits are rounded
    /// outwards, so that each formula is within them. US Army, Laboratory Procedures, subcourse SS0509, 1988; Anchell,
    /// The Darkroom Cookbook, 3rd ed., 2008; Jones (ed.), Cassell's Cyclopaedia of Photography, 1911; Wall, The
    /// Dictionary of Photography, c. 1902.
    Warning, Mixture(check)
}

const DEVELOPERS: &[Role] = &[Role::Developer, Role::Monobath];
const ACID_BATHS: &[Role] = &[Role::Stop, Role::Fixer];

/// Ingredients that were probably written by mistake if there is too much of them. Each row has the roles of the
/// solution, the ingredient written, and the ingredient (or strength) that was probably meant.
const MEANT: &[(&[Role], &str, &str)] = &[
    (DEVELOPERS, "sodium-hydroxide", "sodium-carbonate"),
    (DEVELOPERS, "potassium-hydroxide", "potassium-carbonate"),
    (DEVELOPERS, "potassium-iodide", "potassium-bromide"),
    (DEVELOPERS, "sodium-thiosulfate", "sodium-sulfite"),
    (&[Role::Fixer], "sodium-sulfite", "sodium-thiosulfate"),
    (ACID_BATHS, "acetic-acid", "28 %"),
];

fn check(mixture: &Mixture<'_>) -> Vec<Diagnostic> {
    let found = mixture.parts.iter().filter_map(|part| {
        let (amount, over) = match part.odd? {
            Odd::Over(amount, _) => (amount, true),
            Odd::Under(amount, _) => (amount, false),
            Odd::Undissolved(..) => return None,
        };
        let (name, kind) = (part.name(), kind(mixture));
        let amount = figures(amount);
        let has = match mixture.range(part)?.printed() {
            Some(printed) => format!("published {kind} have {printed}"),
            None => format!("no published {kind} have it"),
        };
        let state = match usual_state(name) {
            "" => " ".to_owned(),
            state => format!(", {state}, "),
        };
        let message = format!("{name} comes to {amount} {}{state}in the working solution, and {has}", part.unit());
        let finding = RULE.found(part.span, message);
        let meant = MEANT.iter().find(|(roles, written, ..)| over && roles.contains(&mixture.role) && *written == name);
        Some(match meant {
            Some((_, _, "28 %")) => finding.help("check the figure and the strength: glacial acid is more than three times as strong as acid of 28 %"),
            Some((_, _, meant)) => finding.help(format!("is {meant} meant? The two are easily taken for each other")),
            None if part.ingredient.strength => finding.help("check the figure, its unit and the strength"),
            None if !state.trim().is_empty() => finding.help("check the figure, its unit and the salt's water"),
            None => finding.help("check the figure and its unit"),
        })
    });
    found.collect()
}

const fn kind(mixture: &Mixture<'_>) -> &'static str {
    match mixture.role {
        Role::Developer => "developers of this kind",
        Role::Monobath => "monobaths",
        Role::Stop => "stop baths",
        Role::Fixer => "fixers",
        Role::Bleach => "bleaches",
        Role::BleachFix => "bleach-fixes",
        Role::Clearing => "clearing baths",
        Role::Toner => "toners",
        Role::Fogging => "fogging baths",
        Role::Stabilizer => "stabilizers",
        Role::Wetting => "wetting agents",
        Role::Hardener => "hardeners",
        Role::Treatment => "treatments",
    }
}
