//! The rule `diluted-too-far`.

use super::*;

rule! {
    /// # diluted-too-far: a dilution with too little solution in a litre for one roll
    ///
    /// By the solution's `needs` and the dilution, one roll needs more than a litre of working solution. Up to two
    /// litres that is advice: a tank of one litre then gives the film at least half of what it needs.
    ///
    /// A fixer over 1+12 and a stop over 1+80 are a warning.
    ///
    /// **Why.** Only the solution in a dilution develops. A tank for one roll holds half a litre to a litre, so the
    /// film gets too little developer and comes out thin.
    ///
    /// ```fires
    /// wetside 1
    /// solution dev {
    ///     role      developer
    ///     needs     10 ml per roll
    /// }
    /// recipe wrong {
    ///     develop {
    ///         in        dev 1+300, one-shot
    ///         time      60 min
    ///         between   18 C and 22 C
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Dilute less, with times for that dilution; or correct `needs`.
    ///
    /// ```quiet
    /// wetside 1
    /// solution dev {
    ///     role      developer
    ///     needs     5 ml per roll
    /// }
    /// recipe right {
    ///     develop {
    ///         in        dev 1+100, one-shot
    ///         time      60 min
    ///         between   18 C and 22 C
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source: rapid fixers are diluted 1+3 to 1+9, stop baths 1+9 to 1+39.
    Warning or Advice, Step(check)
}

/// The largest volume of a tank for one roll.
const MOST: Volume = Volume::from_ml(1000);

/// A message states a volume of this size or more only as `over 1000 l`.
const NAMED_MAX: Volume = Volume::from_ml(1_000_000);
/// The most parts of water to one part of solution, for a fixer and for a stop bath.
const WEAKEST: [(Role, u32); 2] = [(Role::Fixer, 12), (Role::Stop, 80)];

fn check(step: &Step) -> Option<Diagnostic> {
    let (bath, solution) = step.bath.as_ref().zip(step.solution())?;
    let dilution = &bath.dilution;
    let parts = dilution.whole() - dilution.water;
    let weakest = WEAKEST.iter().find(|(role, most)| {
        solution.role == Some(*role) && parts.saturating_mul(*most) < dilution.water
    });
    if let Some((role, most)) = weakest {
        let message = format!("{} at {dilution}: no {} is diluted more than 1+{most}", solution.name, role.word());
        return Some(RULE.found(bath.span, message).help("check the dilution on its label"));
    }
    let needs = solution.needs?;
    let first = i64::from(dilution.first());
    let wants = needs.value.scaled(i64::from(dilution.whole()), first);
    if wants <= MOST {
        return None;
    }
    let amount = if wants < NAMED_MAX { format!("{} ml", wants.in_ml(0)) } else { "over 1000 l".to_owned() };
    let (needed, name) = (needs.value, &solution.name);
    let message = format!("at {dilution} one roll needs {amount} of bath to get its {needed} of '{name}'");
    let others = i64::from(dilution.whole() - dilution.water);
    let water = MOST.fl.saturating_mul(first) / needs.value.fl.max(1) - others;
    let found = RULE.weighed(wants <= MOST.scaled(2, 1), bath.span, message).other(needs.span, "what a roll needs");
    Some(if 0 < water {
        let parts = dilution.parts.iter().map(|part| format!("{part}+")).collect::<String>();
        found.help(format!("write {parts}{water} at most, with times for that dilution"))
    } else if needs.value <= MOST {
        found.help("check 'needs', or use it undiluted: write stock")
    } else {
        found.help("check 'needs': even undiluted, a roll needs more than a litre")
    })
}
