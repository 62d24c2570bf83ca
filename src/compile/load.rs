//! R12. What goes into the tank, and in which order from the bottom up.

use super::evening::Evening;
use super::schedule::Slot;
use crate::model::Tank;
use crate::source::Diagnostic;

/// The errors of this file.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("format-does-not-fit", "a format that the tank has no reels for"),
    ("load-does-not-fit", "more rolls than the tank has reels for"),
];

/// The slots, from the bottom up, in the order the rolls were named.
pub(super) fn load(evening: &Evening<'_>, errors: &mut Vec<Diagnostic>) -> Vec<Slot> {
    if let Some(tank) = evening.tank {
        check(evening, tank, errors);
    }
    let rolls = evening.conditions.rolls.iter();
    let formats = rolls.flat_map(|rolls| std::iter::repeat_n(rolls.format, rolls.count as usize));
    let mut labels = evening.conditions.labels.iter().cloned();
    (1..).zip(formats).map(|(slot, format)| Slot { slot, label: labels.next(), format }).collect()
}

/// Checks that the rolls fit: mixed formats do while the shares of the reels add up to at most 1.
fn check(evening: &Evening<'_>, tank: &Tank, errors: &mut Vec<Diagnostic>) {
    let mut shares: Vec<(u64, u64)> = Vec::new();
    for rolls in &evening.conditions.rolls {
        if let Some(reels) = tank.reels_for(rolls.format) {
            shares.push((u64::from(rolls.count), u64::from(reels.most)));
            continue;
        }
        let takes: Vec<&str> = tank.reels.iter().map(|reels| reels.format.word()).collect();
        let message = format!("'{}' takes no {}", tank.name, rolls.format.word());
        errors.push(
            Diagnostic::error("format-does-not-fit", tank.span, message)
                .help(format!("it takes {}; name another tank with --tank", takes.join(", "))),
        );
    }
    let whole: u64 = shares.iter().map(|(_, most)| *most).fold(1, lcm);
    if shares.iter().map(|(count, most)| count * (whole / most)).sum::<u64>() <= whole {
        return;
    }
    let asked = evening.conditions.rolls.iter();
    let asked: Vec<String> =
        asked.map(|rolls| format!("{} of {}", rolls.count, rolls.format.word())).collect();
    let takes = tank.reels.iter().map(|reels| format!("{} of {}", reels.most, reels.format.word()));
    let takes = takes.collect::<Vec<_>>().join(", or ");
    let mixture = if tank.reels.len() > 1 {
        ", or a mixture whose shares of these limits add up to at most one"
    } else {
        ""
    };
    let message = format!("{} do not fit into '{}'", asked.join(" and "), tank.name);
    errors.push(
        Diagnostic::error("load-does-not-fit", tank.span, message)
            .help(format!("it takes {takes}{mixture}; load fewer, or name another tank with --tank")),
    );
}

fn lcm(a: u64, b: u64) -> u64 {
    let (mut x, mut y) = (a, b);
    while y != 0 {
        (x, y) = (y, x % y);
    }
    (a / x.max(1)).saturating_mul(b).max(1)
}
