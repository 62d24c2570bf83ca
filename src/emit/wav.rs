//! The session as sound: the signals from the countdown before the first bath to the last drain.

use super::beats::{AHEAD, Beat, beats};
use super::sound::{GAP, KNOCKS, LATEST, LEAD_IN, Note, Signal};
use crate::compile::Schedule;
use crate::model::Time;
use crate::source::Map;
use crate::source::Sorted as _;

/// The samples per second: five times 1600 Hz, the highest pitch in any signal.
const RATE: u32 = 8000;
const PER_MS: u32 = RATE / 1000;
const BYTES: u32 = 2;
/// The length of the longest possible track. Its file has 173 MB.
pub const TRACK_MAX: Time = Time::from_seconds(3 * 3600);
/// How many samples a note takes to rise and to fall, so that it does not click.
const FADE: u32 = 10 * PER_MS;
/// The amplitude of a note; the maximum is 32767.
const LOUD: f64 = 20_000.0;

/// Why a session has no sound track.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoTrack {
    /// The session has no bath that goes in and comes out.
    NoPour,
    /// The track's length, which is above [`TRACK_MAX`].
    TooLong(Time),
}

/// The track as a WAV file: PCM of 16 bits, one channel, 8000 Hz.
///
/// # Errors
///
/// The session has no pour followed by a drain, or the track would be too long.
pub fn wav(schedule: &Schedule) -> Result<Vec<u8>, NoTrack> {
    let all = beats(schedule);
    let mut wet: Vec<&Beat> = all.iter().skip_while(|beat| !beat.word.is_filling()).collect();
    let is_out = |beat: &&Beat| beat.word.moves_a_bath() && !beat.word.is_filling();
    let last = wet.iter().rposition(is_out);
    wet.truncate(last.map_or(0, |last| last + 1));
    let (first, end) = wet.first().zip(wet.last()).ok_or(NoTrack::NoPour)?;
    let begin = first.at - LEAD_IN;
    let length = end.until - begin;
    if length > TRACK_MAX {
        return Err(NoTrack::TooLong(length));
    }
    let placed = placed(&signals(&wet), begin);
    let sounding = placed.last().map_or(0, |(at, signal)| at + samples(signal.length()));
    let count = samples(length).max(sounding);
    let head = header(count * BYTES);
    // Zeros are silence. The system hands out zeroed memory at no cost until something is written into it.
    let mut file = vec![0; head.len() + (count * BYTES) as usize];
    let mut write = |at: usize, bytes: &[u8]| {
        file.iter_mut().skip(at).zip(bytes).for_each(|(place, byte)| *place = *byte);
    };
    write(0, &head);
    let mut sounds: Map<usize, Vec<(u32, Vec<u8>)>> = Map::new();
    for (at, signal) in placed {
        let sound = sounds.value_or(signal.place(), || {
            signal.notes().iter().map(|note| (note.at * PER_MS, sound(note).collect())).collect()
        });
        for (offset, note) in sound {
            write(head.len() + ((at + *offset) * BYTES) as usize, note);
        }
    }
    Ok(file)
}

/// The signals of the countdown before the first bath, the signals of the beats, and the warnings. Each has its time
/// from the start of the session; `true` means that a bath goes in or comes out.
fn signals(wet: &[&Beat]) -> Vec<(Time, Signal, bool)> {
    let count = wet.first().map(|first| (first.at - KNOCKS, Signal::Warn, true));
    let own = wet.iter().flat_map(|beat| {
        let is_bath = beat.word.moves_a_bath();
        let warning = beat.is_warned.then_some((beat.at - AHEAD, Signal::Warn, true));
        warning.into_iter().chain(beat.signal.map(|signal| (beat.at, signal, is_bath)))
    });
    // The warning ten seconds before the first bath is left out, because the countdown replaces it.
    let from = count.map(|(at, ..)| at);
    let mut all: Vec<_> =
        count.into_iter().chain(own).filter(|(at, ..)| from.is_none_or(|from| from <= *at)).collect();
    all.order_by_key(|(at, ..)| *at);
    all
}

/// Each signal, with the number of its first sample in the track. A signal is delayed while the previous one still
/// sounds.
fn placed(signals: &[(Time, Signal, bool)], begin: Time) -> Vec<(u32, Signal)> {
    let mut placed = Vec::new();
    let mut free = Time::ZERO;
    for (at, signal, is_bath) in signals {
        let due = *at - begin;
        let at = due.max(free);
        if at - due <= LATEST || *is_bath {
            placed.push((samples(at), *signal));
            free = at + signal.length() + GAP;
        }
    }
    placed
}

fn samples(time: Time) -> u32 {
    u32::try_from(time.ms).expect("a track is no longer than TRACK_MAX").saturating_mul(PER_MS)
}

/// The samples of a note. The sine of `libm` is the same on every machine.
fn sound(note: &Note) -> impl Iterator<Item = u8> {
    let count = note.length * PER_MS;
    let (from, to) = (f64::from(note.pitch.0), f64::from(note.pitch.1));
    let turn = std::f64::consts::TAU / f64::from(RATE);
    // The pitch changes evenly, so the phase of the sine has a term with the square of the time.
    let growth = (to - from) / 2.0 / f64::from(count.max(1));
    (0..count).flat_map(move |number| {
        let edge = number.min(count - number).min(FADE);
        let (at, swell) = (f64::from(number), f64::from(edge) / f64::from(FADE));
        level(LOUD * swell * libm::sin(turn * (from * at + growth * at * at))).to_le_bytes()
    })
}

#[expect(clippy::cast_possible_truncation, reason = "no note is louder than 20000 of 32767")]
fn level(height: f64) -> i16 {
    libm::round(height) as i16
}

fn header(bytes: u32) -> Vec<u8> {
    [
        &b"RIFF"[..],
        &bytes.saturating_add(36).to_le_bytes(),
        // PCM with one channel.
        b"WAVEfmt \x10\0\0\0\x01\0\x01\0",
        &RATE.to_le_bytes(),
        &(RATE * BYTES).to_le_bytes(),
        // The size of a sample: 2 bytes, 16 bits.
        b"\x02\0\x10\0data",
        &bytes.to_le_bytes(),
    ]
    .concat()
}
