//! The rule `implausible-capacity`.

use super::*;

rule! {
    /// # implausible-capacity: a capacity that no solution has
    ///
    /// A litre treats more rolls than any published bath of its kind: 60 for a fixer or stop, 40 for an undiluted
    /// developer, 25 for a bleach-fix, 20 for a monobath, 80 for a clearing bath. Or it treats fewer than one roll in
    /// two litres, or its `treats` states less than 50 ml. Or a roll is replenished with less than 3 or more than 150
    /// ml, or extends the time by more than 15 %.
    ///
    /// **Why.** An exhausted fixer leaves a film that stains within months. One digit too many in its capacity uses
    /// it ten times too long.
    ///
    /// ```fires
    /// wetside 1
    /// solution fast-fix {
    ///     role      fixer
    ///     contains  ammonium-thiosulfate, sodium-sulfite
    ///     treats    100 rolls per 1 l at 1+4
    /// }
    /// ```
    ///
    /// **Instead.** Correct the figure.
    ///
    /// ```quiet
    /// wetside 1
    /// solution fast-fix {
    ///     role      fixer
    ///     contains  ammonium-thiosulfate, sodium-sulfite
    ///     treats    10 rolls per 1 l at 1+4
    /// }
    /// ```
    ///
    /// **Source.** US Army, Laboratory Procedures, subcourse SS0509, 1988, has 20 to 25 sheets of 8 by 10 inches for a
    /// litre of fixer, and 12 for an acid stop with sulfate; a roll is as much film as a sheet. The other limits are
    /// rounded up from common practice, no source.
    Warning, Solution(check)
}

/// The least and the greatest plausible volume of replenisher for one roll.
const REPLENISH: (Volume, Volume) = (Volume::from_ml(3), Volume::from_ml(150));
/// The greatest plausible growth of the development time for each roll treated, in hundredths of a percent.
const EXTEND: u32 = 1500;

fn check(solution: &Solution) -> Vec<Diagnostic> {
    let treats = solution.treats.iter().filter_map(|treats| capacity(solution, treats));
    let replenish = solution.replenish.and_then(|volume| {
        let sound = REPLENISH.0 <= *volume && *volume <= REPLENISH.1;
        let found = RULE.found(volume.span, format!("a roll is replenished with {}, and usually with 20 to 60 ml", *volume));
        (!sound).then(|| found.help("check the figure and its unit"))
    });
    let extend = solution.extend.and_then(|extend| {
        let sound = extend.by.basis_points <= EXTEND.saturating_mul(extend.per_rolls);
        let message = "the time grows by more than 15 % for each roll, and usually by 3 to 10 %";
        (!sound).then(|| RULE.found(extend.span, message).help("check the share and the rolls"))
    });
    treats.chain(replenish).chain(extend).collect()
}

/// Whether this rule reports the capacity `treats` of a solution.
pub(super) fn is_odd(solution: &Solution, treats: &model::Treats) -> bool {
    capacity(solution, treats).is_some()
}

fn capacity(solution: &Solution, treats: &model::Treats) -> Option<Diagnostic> {
    let litre = treats.per.scaled(1, i64::from(treats.rolls));
    let is_undiluted = treats.at.as_ref().is_some_and(|at| at.water == 0);
    let most = match solution.role? {
        Role::Fixer | Role::Stop => 60,
        Role::Developer if is_undiluted => 40,
        Role::BleachFix => 25,
        Role::Monobath => 20,
        Role::Clearing => 80,
        _ => i64::MAX,
    };
    let message = if litre < (Volume { fl: Volume::LITRE }).scaled(1, most) {
        format!("a litre treats more than {most} rolls here, and no published {} does", role_word(solution))
    } else if Volume::from_ml(2000) < litre {
        "a litre treats less than half a roll here".to_owned()
    } else if treats.per < Volume::from_ml(50) {
        format!("a capacity of {} is for less than a reel holds", treats.per)
    } else {
        return None;
    };
    Some(RULE.found(treats.span, message).help("check the rolls and the volume, such as: treats 10 rolls per 1 l at 1+4"))
}

fn role_word(solution: &Solution) -> &'static str {
    solution.role.map_or("solution", Role::word)
}
