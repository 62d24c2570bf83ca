//! A tank.

use super::{Builder, named};
use crate::model::{Reels, Tank};
use crate::source::Diagnostic;
use crate::vocabulary::{Lines as _, Matched, Reading, say};

impl Builder<'_> {
    pub(super) fn tank(&mut self, reading: &Reading) -> Option<Tank> {
        let (name, title) = named(reading)?;
        let reels: Vec<Reels> = reading.each().filter_map(reels).collect();
        self.distinct(reels.iter().map(|own| (own.format.word(), own.span)), |format, span| {
            Diagnostic::error(
                "repeated-format",
                span,
                format!("there is already a row of reels for {format}"),
            )
            .help("keep one row for each format")
        });
        let holds = reading.stated(say::Holds::volume);
        let rotary = reading.stated(say::Rotary::volume);
        if let Some(holds) = holds {
            let too_much = |span, message: String| {
                let fault = Diagnostic::error("reels-over-holds", span, message);
                fault.other(holds.span, "what the tank holds")
            };
            for own in &reels {
                let need = own.each.scaled(i64::from(own.most), 1);
                if need > holds.value {
                    let (most, format) = (own.most, own.format.word());
                    let message =
                        format!("{most} of {format} need {need}, and the tank holds {}", holds.value);
                    self.report(
                        too_much(own.span, message)
                            .help("check the volume per reel, the number of reels, and what the tank holds"),
                    );
                }
            }
            if let Some(rotary) = rotary.filter(|rotary| rotary.value > holds.value) {
                let message = format!("rotary needs {}, and the tank holds {}", rotary.value, holds.value);
                self.report(too_much(rotary.span, message).help("check both volumes"));
            }
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
}

fn reels(row: Matched<'_, say::Reels>) -> Option<Reels> {
    Some(Reels {
        format: row.get(say::Reels::format)?,
        most: row.get(say::Reels::most)?,
        each: row.get(say::Reels::each)?,
        span: row.span,
    })
}
