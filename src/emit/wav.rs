//! The evening as sound: tones that say when to pour, agitate and drain, from the first pour to the last drain.

use super::moments::{Moment, moments};
use crate::compile::{Action, Schedule};
use crate::model::Time;

/// Samples a second: four times the highest tone.
const RATE: u32 = 8000;
const PER_MS: u32 = RATE / 1000;
/// Bytes of a sample.
const BYTES: u32 = 2;
/// The longest track, 173 MB.
pub const TRACK_MAX: Time = Time::from_seconds(3 * 3600);
/// The time from a notice to its pour or drain.
const NOTICE: Time = Time::from_seconds(10);
/// The silence between tones that would overlap.
const GAP: u32 = 50 * PER_MS;
/// A tone that would be later than this is left out, except for a pour or drain.
const LATEST: u32 = 2000 * PER_MS;
/// The rise and fall of a tone, so that it does not click.
const FADE: u32 = 10 * PER_MS;
/// The amplitude of a tone, of 32767.
const LOUD: f64 = 20_000.0;

/// Why there is no track.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoTrack {
    /// There is no pour and drain.
    NoPour,
    /// Its length, which is above [`TRACK_MAX`].
    TooLong(Time),
}

/// The meaning of a tone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Cue {
    Pour,
    Drain,
    Move,
    Still,
    Notice,
}

impl Cue {
    const ALL: [Cue; 5] = [Cue::Pour, Cue::Drain, Cue::Move, Cue::Still, Cue::Notice];

    /// Its pitch in hertz, about a fifth from the next, and its length in milliseconds.
    fn tone(self) -> (u32, u32) {
        match self {
            Cue::Pour => (900, 600),
            Cue::Drain => (400, 600),
            Cue::Move => (1350, 200),
            Cue::Still => (600, 200),
            Cue::Notice => (2000, 200),
        }
    }

    /// Its length in samples.
    fn length(self) -> u32 {
        self.tone().1 * PER_MS
    }

    fn is_of_a_bath(self) -> bool {
        matches!(self, Cue::Pour | Cue::Drain)
    }
}

/// The track as a WAV file: PCM of 16 bits, one channel, 8000 Hz.
///
/// # Errors
///
/// There is no pour and drain, or the track would be too long.
pub fn wav(schedule: &Schedule) -> Result<Vec<u8>, NoTrack> {
    let all = moments(schedule);
    let has = |moment: &Moment, cue: Cue| moment.actions.iter().any(|action| cue_of(*action) == Some(cue));
    let first = all.iter().position(|moment| has(moment, Cue::Pour)).ok_or(NoTrack::NoPour)?;
    let last = all.iter().rposition(|moment| has(moment, Cue::Drain)).ok_or(NoTrack::NoPour)?;
    let wet = all.get(first..=last).ok_or(NoTrack::NoPour)?;
    let (Some(begin), Some(end)) = (wet.first(), wet.last()) else { return Err(NoTrack::NoPour) };
    let (begin, length) = (begin.at, end.until - begin.at);
    if length > TRACK_MAX {
        return Err(NoTrack::TooLong(length));
    }
    let placed = placed(&cues(wet), begin);
    let sounding = placed.last().map_or(0, |(at, cue)| at + cue.length());
    let samples = sample(length).max(sounding);
    let tones = Cue::ALL.map(|cue| (cue, sound(cue)));
    let mut file = header(samples * BYTES);
    let silent = file.len();
    for (at, cue) in placed {
        file.resize(silent + (at * BYTES) as usize, 0);
        for (_, sound) in tones.iter().filter(|(own, _)| *own == cue) {
            file.extend_from_slice(sound);
        }
    }
    file.resize(silent + (samples * BYTES) as usize, 0);
    Ok(file)
}

fn cue_of(action: Action) -> Option<Cue> {
    match action {
        Action::Pour | Action::Fill => Some(Cue::Pour),
        Action::Drain | Action::Dump => Some(Cue::Drain),
        Action::Agitate => Some(Cue::Move),
        _ => None,
    }
}

/// All cues in order of time; a notice is the last of those at one time.
fn cues(wet: &[Moment]) -> Vec<(Time, Cue)> {
    let mut cues = Vec::new();
    let begin = wet.first().map_or(Time::ZERO, |moment| moment.at);
    for (at, moment) in wet.iter().enumerate() {
        let own: Vec<Cue> = moment.actions.iter().filter_map(|action| cue_of(*action)).collect();
        if own.iter().any(|cue| cue.is_of_a_bath()) && moment.at - NOTICE >= begin {
            cues.push((moment.at - NOTICE, Cue::Notice));
        }
        cues.extend(own.iter().map(|cue| (moment.at, *cue)));
        let next = wet.get(at + 1).and_then(|next| next.actions.iter().find_map(|action| cue_of(*action)));
        // There is no rest if a drain or more agitation follows at once.
        if moment.actions.last() == Some(&Action::Agitate) && next.is_none() {
            cues.push((moment.until, Cue::Still));
        }
    }
    cues.sort_by_key(|(at, cue)| (*at, *cue == Cue::Notice));
    cues
}

/// The first sample of each cue: at its time, or after the tone before.
fn placed(cues: &[(Time, Cue)], begin: Time) -> Vec<(u32, Cue)> {
    let mut placed = Vec::new();
    let mut free = 0;
    for (at, cue) in cues {
        let due = sample(*at - begin);
        let at = due.max(free);
        if at - due <= LATEST || cue.is_of_a_bath() {
            placed.push((at, *cue));
            free = at + cue.length() + GAP;
        }
    }
    placed
}

/// The sample at a time from the first pour.
fn sample(time: Time) -> u32 {
    u32::try_from(time.ms).expect("a track is no longer than TRACK_MAX").saturating_mul(PER_MS)
}

/// The samples of a tone. The sine is the same code on every machine (R15).
fn sound(cue: Cue) -> Vec<u8> {
    let (pitch, whole) = (cue.tone().0, cue.length());
    let turn = std::f64::consts::TAU * f64::from(pitch) / f64::from(RATE);
    let levels = (0..whole).map(|number| {
        let edge = number.min(whole - number).min(FADE);
        let swell = f64::from(edge) / f64::from(FADE);
        level(LOUD * swell * libm::sin(turn * f64::from(number)))
    });
    levels.flat_map(i16::to_le_bytes).collect()
}

#[expect(clippy::cast_possible_truncation, reason = "no tone is louder than 20000 of 32767")]
fn level(height: f64) -> i16 {
    libm::round(height) as i16
}

/// The 44 bytes before the samples.
fn header(bytes: u32) -> Vec<u8> {
    // PCM, one channel; then two bytes and 16 bits for each sample.
    let fields: [&[u8]; 10] = [
        b"RIFF",
        &bytes.saturating_add(36).to_le_bytes(),
        b"WAVEfmt \x10\0\0\0",
        b"\x01\0\x01\0",
        &RATE.to_le_bytes(),
        &(RATE * BYTES).to_le_bytes(),
        b"\x02\0",
        b"\x10\0",
        b"data",
        &bytes.to_le_bytes(),
    ];
    let mut head = Vec::with_capacity(44 + bytes as usize);
    fields.iter().for_each(|field| head.extend_from_slice(field));
    head
}
