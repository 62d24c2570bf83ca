//! A tank from its block.

use super::super::read::Reading;
use super::{named, row, sound, texts};
use crate::model::{Reels, Stated, Tank, Time};
use crate::source::Diagnostic;

/// The faults that tanks tell.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("repeated-format", "two rows of reels for one format"),
    ("reels-over-holds", "reels that need more than the tank holds"),
];

/// The tank, or what is wrong with it.
pub(super) fn tank(reading: &Reading, faults: &mut Vec<Diagnostic>) -> Option<Tank> {
    let (name, title) = named(reading)?;
    let volume = |word| row(reading, word).and_then(|row| Some(Stated::new(row.volume()?, row.span)));
    let time = |word| row(reading, word).and_then(|row| Some(Stated::new(row.time()?, row.span)));
    let reels: Vec<Reels> =
        reading.rows.iter().filter(|row| row.row.word == "reels").filter_map(reels).collect();
    let holds = volume("holds");
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
    let rotary = volume("rotary");
    if let Some((rotary, holds)) = rotary.zip(holds).filter(|(rotary, holds)| rotary.value > holds.value) {
        let message = format!("turning takes {}, and the tank holds {}", rotary.value, holds.value);
        faults.push(
            Diagnostic::error("reels-over-holds", rotary.span, message)
                .other(holds.span, "what it holds")
                .help("check both volumes"),
        );
    }
    let fill: Option<Stated<Time>> = time("fill");
    sound(reading).then(|| Tank {
        name,
        title,
        span: reading.span,
        reels,
        rotary,
        holds,
        fill_whole: row(reading, "fill").is_some_and(|row| row.has("whole")),
        fill,
        drain: time("drain"),
        notes: texts(&reading.rows, "note"),
        cautions: texts(&reading.rows, "caution"),
    })
}

fn reels(row: &Reading) -> Option<Reels> {
    Some(Reels { format: row.format()?, most: row.count()?, each: row.volume()?, span: row.span })
}
