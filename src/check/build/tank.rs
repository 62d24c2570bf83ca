//! A tank from its block.

use super::named;
use crate::model::{Reels, Tank};
use crate::source::Diagnostic;
use crate::vocabulary::{Lines as _, Matched, Reading, say};

/// The faults that tanks tell.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("repeated-format", "two rows of reels for one format"),
    ("reels-over-holds", "reels that need more than the tank holds"),
];

/// The tank, or what is wrong with it.
pub(super) fn tank(reading: &Reading, faults: &mut Vec<Diagnostic>) -> Option<Tank> {
    let (name, title) = named(reading)?;
    let reels: Vec<Reels> = reading.each().filter_map(reels).collect();
    let holds = reading.stated(say::Holds::volume);
    for (at, own) in reels.iter().enumerate() {
        if let Some(earlier) = reels.iter().take(at).find(|other| other.format == own.format) {
            faults.push(
                Diagnostic::error(
                    "repeated-format",
                    own.span,
                    format!("{} has its reels already", own.format.word()),
                )
                .other(earlier.span, "the first")
                .help("keep one row for each format"),
            );
        }
        if let Some(holds) = holds.filter(|holds| own.each.scaled(i64::from(own.most), 1) > holds.value) {
            let message = format!(
                "{} of {} need {}, and the tank holds {}",
                own.most,
                own.format.word(),
                own.each.scaled(i64::from(own.most), 1),
                holds.value
            );
            faults.push(
                Diagnostic::error("reels-over-holds", own.span, message)
                    .other(holds.span, "what it holds")
                    .help("check the volume for each reel, their number, and what the tank holds"),
            );
        }
    }
    let rotary = reading.stated(say::Rotary::volume);
    if let Some((rotary, holds)) = rotary.zip(holds).filter(|(rotary, holds)| rotary.value > holds.value) {
        let message = format!("turning takes {}, and the tank holds {}", rotary.value, holds.value);
        faults.push(
            Diagnostic::error("reels-over-holds", rotary.span, message)
                .other(holds.span, "what it holds")
                .help("check both volumes"),
        );
    }
    let fill = reading.one::<say::TankFill>();
    reading.is_sound().then(|| Tank {
        name,
        title,
        span: reading.span,
        reels,
        rotary,
        holds,
        fill_whole: fill.is_some_and(|row| row.has(say::TankFill::whole)),
        fill: reading.stated(say::TankFill::time),
        drain: reading.stated(say::TankDrain::time),
        notes: reading.texts(say::Note::text),
        cautions: reading.texts(say::Caution::text),
    })
}

fn reels(row: Matched<'_, say::Reels>) -> Option<Reels> {
    Some(Reels {
        format: row.get(say::Reels::format)?,
        most: row.get(say::Reels::most)?,
        each: row.get(say::Reels::each)?,
        span: row.span,
    })
}
