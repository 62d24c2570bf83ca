//! R12. What goes into the tank, and in which order from the bottom up.

use super::evening::Evening;
use super::schedule::Slot;
use crate::model::Tank;
use crate::source::Diagnostic;

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("format-does-not-fit", "a format that the tank has no reels for"),
    ("load-does-not-fit", "more rolls than the tank has reels for"),
];

/// The slots, from the bottom up, in the order the rolls were named.
pub(super) fn load(evening: &Evening<'_>, faults: &mut Vec<Diagnostic>) -> Vec<Slot> {
    if let Some(tank) = evening.tank {
        fits(evening, tank, faults);
    }
    let rolls = &evening.conditions.rolls;
    let formats = rolls.iter().flat_map(|rolls| std::iter::repeat_n(rolls.format, rolls.count as usize));
    let mut labels = evening.conditions.labels.iter().cloned();
    let slots: Vec<Slot> =
        (1..).zip(formats).map(|(slot, format)| Slot { slot, label: labels.next(), format }).collect();
    slots
}

/// Mixed formats fit while the shares of the reels add up to at most 1.
fn fits(evening: &Evening<'_>, tank: &Tank, faults: &mut Vec<Diagnostic>) {
    let mut shares: Vec<(u64, u64)> = Vec::new();
    for rolls in &evening.conditions.rolls {
        match tank.reels_for(rolls.format) {
            Some(reels) => shares.push((u64::from(rolls.count), u64::from(reels.most))),
            None => {
                let takes: Vec<&str> = tank.reels.iter().map(|reels| reels.format.word()).collect();
                let message = format!("'{}' takes no {}", tank.name, rolls.format.word());
                faults.push(
                    Diagnostic::error("format-does-not-fit", tank.span, message)
                        .help(format!("it takes {}; name another tank with --tank", takes.join(", "))),
                );
            }
        }
    }
    let over = |shares: &[(u64, u64)]| {
        let whole: u64 = shares.iter().map(|(_, most)| *most).fold(1, lcm);
        shares.iter().map(|(count, most)| count * (whole / most)).sum::<u64>() > whole
    };
    if over(&shares) {
        let asked: Vec<String> = evening
            .conditions
            .rolls
            .iter()
            .map(|rolls| format!("{} of {}", rolls.count, rolls.format.word()))
            .collect();
        let takes: Vec<String> =
            tank.reels.iter().map(|reels| format!("{} of {}", reels.most, reels.format.word())).collect();
        let message = format!("{} do not fit into '{}'", asked.join(" and "), tank.name);
        faults.push(
            Diagnostic::error("load-does-not-fit", tank.span, message).help(match takes.as_slice() {
                [one] => format!("it takes {one}; load fewer, or name another tank with --tank"),
                several => format!(
                    "it takes {}, or a mixture whose shares of that come to no more than one; load fewer, or name another tank with --tank",
                    several.join(", or ")
                ),
            }),
        );
    }
}

fn lcm(a: u64, b: u64) -> u64 {
    let (mut x, mut y) = (a, b);
    while y != 0 {
        (x, y) = (y, x % y);
    }
    (a / x.max(1)).saturating_mul(b).max(1)
}
