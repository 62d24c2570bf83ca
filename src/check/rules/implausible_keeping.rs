//! The rule `implausible-keeping`.

use super::*;

rule! {
    /// # implausible-keeping: a keeping time that no solution has
    ///
    /// More than 3 years for a developer mixed by its formula, 3 months if it has amidol, 2 years for a fixer or
    /// monobath, 5 years for a stop bath, 10 years for anything else.
    ///
    /// **Why.** A bottle is trusted for as long as the recipe says.
    ///
    /// ```fires
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
    ///     keeps     60 years
    /// }
    /// ```
    ///
    /// **Instead.** Correct the figure or its unit.
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
    ///     keeps     6 months
    /// }
    /// ```
    ///
    /// **Source.** State rules for X-ray rooms have all chemicals replaced after two or three months: Washington
    /// Administrative Code 246-225-150; New Mexico Administrative Code 20.3.6.612, appendix C. A stock developer keeps
    /// six months in a full bottle: from memory, not looked up. The limits are far above these times: common practice,
    /// no source.
    Warning, Solution(check)
}

fn check(solution: &Solution) -> Option<Diagnostic> {
    solution.keeps.iter().find_map(|keeps| check_one(solution, keeps))
}

fn check_one(solution: &Solution, stated: &Keeps) -> Option<Diagnostic> {
    let KeepsFor::Calendar(keeps) = stated.time else { return None };
    let (role, mixed) = (solution.role?, !solution.formulas.is_empty());
    let has_amidol = solution.ingredients().iter().any(|one| one.name == "amidol");
    let most = match role {
        Role::Developer if has_amidol => 3,
        Role::Developer if mixed => 36,
        Role::Fixer | Role::Monobath => 24,
        Role::Stop => 60,
        _ => 120,
    };
    // The length of each unit is `unit * days`, in twelfths of a day. A year has 365 days, and a month is a twelfth of
    // a year.
    let (unit, days) = match keeps.unit {
        KeepingUnit::Days => (12, 1),
        KeepingUnit::Weeks => (12, 7),
        KeepingUnit::Months => (1, 365),
        KeepingUnit::Years => (12, 365),
    };
    if u64::from(keeps.count) * unit * days <= most * 365 {
        return None;
    }
    let longest = if most < 12 { format!("{most} months") } else { format!("{} years", most / 12) };
    let message = format!("'{}' keeps {} here, and such a solution keeps {longest} at most", solution.name, keeps);
    Some(RULE.found(stated.span, message).help("check the figure and its unit, such as: keeps 6 months"))
}
