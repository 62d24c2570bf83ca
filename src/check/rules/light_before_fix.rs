//! The rule `light-before-fix`.

use super::*;

rule! {
    /// # light-before-fix: light before the film is fixed
    ///
    /// `light room` (edition 1: `light safe`) is in a step before the film is fixed, bleach-fixed or, for a reversal,
    /// bleached, fogged or exposed again. The rule skips film and prints that were processed before: the recipe begins
    /// in room light; or its first bath is a bleach, toner or fixer, and no step develops or the line is in an earlier
    /// step or, but for a fixer, in that bath. Film and plates that begin in room light and develop first are reported.
    ///
    /// **Why.** Until then the film has undeveloped silver salts, and light blackens them.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///         light     safe
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Keep the lid on until the fixer is in.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///     }
    ///     wash {
    ///         time      10:00
    ///         light     safe
    ///     }
    /// }
    /// ```
    ///
    /// ```quiet
    /// wetside 1
    /// recipe toned-print {
    ///     bleach {
    ///         in        water
    ///         time      2:00
    ///         light     safe
    ///     }
    ///     tone {
    ///         in        water
    ///         time      2:00
    ///     }
    /// }
    /// ```
    ///
    /// ```quiet
    /// wetside 2
    /// paper pearl {
    /// }
    /// recipe toned-print {
    ///     paper     pearl
    ///     light     room
    ///     presoak {
    ///         time      2:00
    ///         between   18 C and 24 C
    ///     }
    ///     fix {
    ///         in        water
    ///         time      2:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Army, Laboratory Procedures, subcourse SS0509, 1988, page 24: room light after two minutes in the
    /// fixer.
    Error never lifted, Recipe(check)
}

fn check(recipe: &Recipe) -> Vec<Diagnostic> {
    if let Some(lighting) = lit_development(recipe) {
        let message = "the recipe begins in room light and then develops, and light would blacken the material";
        return vec![RULE.found(lighting, message).help("write the light in which it is loaded: light none")];
    }
    if is_processed(recipe) {
        return Vec::new();
    }
    let mut is_developed = false;
    let before = recipe.steps.iter().take_while(|step| {
        let is_exposed_again = is_developed && step.kind == StepKind::Expose;
        is_developed |= step.kind == StepKind::Develop;
        !is_exposed_again
            && !matches!(step.role(), Some(Role::Monobath | Role::Fogging))
            && !matches!(step.kind, StepKind::Fix | StepKind::BleachFix | StepKind::Bleach)
    });
    let what = recipe.film.as_ref().map_or(Material::Film, |film| film.material).word();
    let found = before.filter_map(Step::room_light).map(|span| {
        let fixes = |step: &Step| matches!(step.kind, StepKind::Fix | StepKind::BleachFix);
        let help = match recipe.steps.iter().any(fixes) {
            true => "put this line into the fixing step or a later one",
            false => "this recipe has no fixing step: add one before this step, or remove this line",
        };
        let message = format!("room light is allowed from here, but the {what} is not fixed yet and would turn black");
        RULE.found(span, message)
            .help(help)
    });
    found.collect()
}

/// The line by which a recipe for film or plates states that it begins in room light, if its first chemical bath
/// develops in that light; otherwise `None`. Paper is not reported: photograms drawn with chemicals are made in room
/// light.
fn lit_development(recipe: &Recipe) -> Option<Span> {
    let lighting = recipe.lighting.as_ref().filter(|lighting| lighting.value == Lighting::Room)?;
    let before = recipe.steps.iter().position(|step| step.lighting.is_some() || is_chemical(step))?;
    let first = recipe.steps.get(before)?;
    let lit = first.lighting.as_ref().is_none_or(|lighting| lighting.value == Lighting::Room);
    let is_paper = recipe.film.as_ref().is_some_and(|film| film.material == Material::Paper);
    (lit && !is_paper && develops(first)).then_some(lighting.span)
}

fn is_chemical(step: &Step) -> bool {
    step.is_in_liquid() && !matches!(step.kind, StepKind::Presoak | StepKind::Wash | StepKind::Rinse)
}

fn develops(step: &Step) -> bool {
    step.kind == StepKind::Develop && !matches!(step.role(), Some(Role::Toner | Role::Fogging))
}

/// Whether a recipe is for film or prints that were processed before, or for a material that room light does not harm
/// yet. The page of this rule states the conditions.
pub(super) fn is_processed(recipe: &Recipe) -> bool {
    if recipe.lighting.as_ref().is_some_and(|lighting| lighting.value == Lighting::Room) {
        return true;
    }
    let Some(at) = recipe.steps.iter().position(is_chemical) else { return false };
    let (before, from) = recipe.steps.split_at(at);
    let Some(first) = from.first() else { return false };
    let is_lit = |step: &Step| step.room_light().is_some();
    match first.kind {
        StepKind::Develop | StepKind::Stop => false,
        _ if !from.iter().any(develops) || before.iter().any(is_lit) => true,
        StepKind::Fix | StepKind::BleachFix => false,
        _ => is_lit(first),
    }
}
