//! The four sound signals, the same in the sound track and on the page. They differ in rhythm, because old ears and
//! small loudspeakers may not tell pitches apart. All pitches are between 600 and 2000 Hz, where ears and loudspeakers
//! are at their best.

use super::beats::Word;
use crate::model::Time;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Signal {
    /// Three low knocks: a bath goes in or comes out in ten seconds.
    Warn,
    /// A long rising note: a bath goes in or comes out now, or another action begins.
    Now,
    /// Two short notes: agitation begins.
    Agitate,
    /// One short note: the film is left still.
    Rest,
}

/// A note of a signal. Its pitch changes evenly from its start to its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Note {
    /// The pitch at the start and at the end of the note, in hertz.
    pub(super) pitch: (u32, u32),
    /// When the note starts, counted from the start of the signal, in milliseconds.
    pub(super) at: u32,
    /// The length of the note in milliseconds.
    pub(super) length: u32,
}

impl Signal {
    pub(super) const ALL: [Signal; 4] = [Signal::Warn, Signal::Now, Signal::Agitate, Signal::Rest];

    /// The signal that sounds when a person has to do what `word` says.
    pub(super) fn of(word: Word) -> Signal {
        match word {
            Word::Agitate => Signal::Agitate,
            Word::Rest | Word::Wait => Signal::Rest,
            _ => Signal::Now,
        }
    }

    /// The index of the signal in [`Signal::ALL`].
    pub(super) fn place(self) -> usize {
        Signal::ALL.iter().position(|signal| *signal == self).unwrap_or(0)
    }

    /// What the signal means, in words for a person who hears it for the first time.
    pub(super) fn meaning(self) -> &'static str {
        match self {
            Signal::Warn => "three low knocks: a bath in ten seconds",
            Signal::Now => "a rising note: pour or drain now",
            Signal::Agitate => "two short notes: agitate",
            Signal::Rest => "one short note: leave it still",
        }
    }

    pub(super) fn notes(self) -> &'static [Note] {
        const fn note(from: u32, to: u32, at: u32, length: u32) -> Note {
            Note { pitch: (from, to), at, length }
        }
        match self {
            Signal::Warn => {
                const { &[note(600, 600, 0, 150), note(600, 600, 1000, 150), note(600, 600, 2000, 150)] }
            }
            Signal::Now => const { &[note(800, 1600, 0, 1200)] },
            Signal::Agitate => const { &[note(1200, 1200, 0, 150), note(1200, 1200, 300, 150)] },
            Signal::Rest => const { &[note(900, 900, 0, 150)] },
        }
    }

    pub(super) fn length(self) -> Time {
        let end = self.notes().iter().map(|note| note.at + note.length).max();
        Time::from_ms(end.unwrap_or(0).into())
    }
}

/// The length of the countdown before the first bath.
pub(super) const LEAD_IN: Time = Time::from_seconds(5);
/// How long before the first bath the signal `Warn` sounds. Its three knocks count the last three seconds of the
/// countdown.
pub(super) const KNOCKS: Time = Time::from_seconds(3);
/// The silence between two signals that would overlap.
pub(super) const GAP: Time = Time::from_ms(50);
/// The longest delay of a signal that would overlap another one. A signal that would need a longer delay is left out,
/// unless a bath goes in or comes out.
pub(super) const LATEST: Time = Time::from_seconds(3);
