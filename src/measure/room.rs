//! Whether all that is had as a liquid fits into the bottle, and what is left of the water.

use super::sheet::{Amount, Line, Told, Water};
use crate::compile::measurable;
use crate::model::Volume;
use crate::source::{Diagnostic, Span};

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] =
    &[("no-room-for-it", "more liquid than there is room for in what is made")];

/// The liquids of one bottle, but for its water.
pub(super) struct Room {
    /// What is made.
    pub(super) make: Volume,
    /// Where the formula says how much it is for.
    pub(super) span: Span,
    /// The liquids as the formula has them.
    pub(super) wanted: Volume,
    /// The liquids as they are had.
    pub(super) had: Volume,
}

impl Room {
    /// Something that was wanted as the one and is had as the other.
    pub(super) fn takes(&mut self, wanted: Amount, had: Amount) {
        self.wanted = self.wanted + volume(wanted);
        self.had = self.had + volume(had);
    }
}

fn volume(amount: Amount) -> Volume {
    match amount {
        Amount::Volume(volume) => volume,
        Amount::Mass(_) => Volume::ZERO,
    }
}

/// Water gives way to what is had as a liquid; where there is no mark to fill up to, it also fills up what
/// is had stronger than the formula says.
pub(super) fn fit(lines: &mut Vec<Line>, room: &Room, (faults, doubts): Told<'_>) {
    let has_mark = lines.iter().any(|line| matches!(line, Line::Mark(..)));
    let poured = waters(lines).fold(Volume::ZERO, |sum, water| sum + water.volume);
    let more = room.had - room.wanted;
    let less = if has_mark {
        // Amounts that are rounded up may come to a little more than the mark; that is no fault of what is had.
        (poured + room.had - room.make).min(more)
    } else {
        more
    };
    if less.fl < 0 && !has_mark {
        let volume = Volume { fl: less.fl.saturating_neg() };
        let volume = volume.rounded(measurable(volume));
        if let Some(water) = waters(lines).next() {
            water.volume = water.volume + volume;
        } else {
            lines.insert(0, Line::Water(Water { volume, at: None, taps: None }));
        }
    }
    if less.fl <= 0 {
        return;
    }
    match waters(lines).find(|water| less < water.volume) {
        Some(water) => {
            let was = water.volume;
            let rest = was - less;
            water.volume = rest - Volume { fl: rest.fl.rem_euclid(measurable(rest).fl) };
            doubts.push(format!(
                "only {} ml of water instead of {} ml: what is had as a liquid brings the rest",
                water.volume.in_ml(1),
                was.in_ml(1)
            ));
        }
        None => {
            let message = if room.had > room.make {
                format!(
                    "as it is had, the liquid alone is {} ml, and no more than {} ml is made",
                    room.had.in_ml(1),
                    room.make.in_ml(1)
                )
            } else {
                format!(
                    "as it is had, the liquid is {} ml more than the formula says, and no water of it is as much",
                    more.in_ml(1)
                )
            };
            let help = "have it stronger, or take it as the formula says and leave it out of --have";
            faults.push(Diagnostic::error("no-room-for-it", room.span, message).help(help));
        }
    }
}

fn waters(lines: &mut [Line]) -> impl Iterator<Item = &mut Water> {
    lines.iter_mut().filter_map(|line| match line {
        Line::Water(water) => Some(water),
        Line::Weighed(_) | Line::Mark(..) => None,
    })
}
