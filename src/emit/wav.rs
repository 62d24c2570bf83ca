//! The evening for the ear: a sound file that is set going with the first pour and tells by tones when to
//! pour, to move the film and to drain, up to the last drain. It is made of silence and of five tones.

use crate::compile::{Action, Schedule};
use crate::model::Time;

use super::moments::{Moment, moments};

/// Samples a second: four times the highest tone, and few enough bytes.
const RATE: u32 = 8000;
const PER_MS: u32 = RATE / 1000;
/// Bytes of a sample: 16 bits, one channel.
const BYTES: u32 = 2;
/// The longest track, 173 MB; a run must not take more than 200.
pub const TRACK_MAX: Time = Time::from_seconds(3 * 3600);
/// How long before a pour or a drain it is announced.
const NOTICE: Time = Time::from_seconds(10);
/// Between tones that would else run into each other.
const GAP: u32 = 50 * PER_MS;
/// A tone that would come later than this behind its time is left out, unless it is a pour's or a drain's.
const PATIENCE: u32 = 2000 * PER_MS;
/// How long a tone swells and fades, so that it does not click.
const FADE: u32 = 10 * PER_MS;
/// How loud a tone is, of 32767.
const LOUD: f64 = 20_000.0;

/// Why there is no track.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoTrack {
    /// Nothing is poured.
    NoPour,
    /// It would last this long, which is more than [`TRACK_MAX`].
    TooLong(Time),
}

/// What a tone tells.
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

    /// Its pitch in hertz and its length in milliseconds. Neighbours are about a fifth apart.
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
/// If nothing is poured, and if it would be too long.
pub fn wav(schedule: &Schedule) -> Result<Vec<u8>, NoTrack> {
    let all = moments(schedule);
    let has = |moment: &Moment, cue: Cue| moment.actions.iter().any(|action| told(*action) == Some(cue));
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

/// What is told of an action, if anything.
fn told(action: Action) -> Option<Cue> {
    match action {
        Action::Pour | Action::Fill => Some(Cue::Pour),
        Action::Drain | Action::Dump => Some(Cue::Drain),
        Action::Agitate => Some(Cue::Move),
        Action::Handle | Action::Knock | Action::Rest | Action::Expose | Action::Warm | Action::Dry => None,
    }
}

/// All cues in order of time; of those at one time a notice is the last.
fn cues(wet: &[Moment]) -> Vec<(Time, Cue)> {
    let mut cues = Vec::new();
    let begin = wet.first().map_or(Time::ZERO, |moment| moment.at);
    for (at, moment) in wet.iter().enumerate() {
        let own: Vec<Cue> = moment.actions.iter().filter_map(|action| told(*action)).collect();
        if own.iter().any(|cue| cue.is_of_a_bath()) && moment.at - NOTICE >= begin {
            cues.push((moment.at - NOTICE, Cue::Notice));
        }
        cues.extend(own.iter().map(|cue| (moment.at, *cue)));
        let next = wet.get(at + 1).and_then(|next| next.actions.iter().find_map(|action| told(*action)));
        // Where a drain follows at once, or more of the same, nothing is to be left alone.
        if moment.actions.last() == Some(&Action::Agitate) && next.is_none() {
            cues.push((moment.until, Cue::Still));
        }
    }
    cues.sort_by_key(|(at, cue)| (*at, *cue == Cue::Notice));
    cues
}

/// Where each cue begins, in samples: at its time, or right after the one that still sounds.
fn placed(cues: &[(Time, Cue)], begin: Time) -> Vec<(u32, Cue)> {
    let mut placed = Vec::new();
    let mut free = 0;
    for (at, cue) in cues {
        let due = sample(*at - begin);
        let at = due.max(free);
        if at - due <= PATIENCE || cue.is_of_a_bath() {
            placed.push((at, *cue));
            free = at + cue.length() + GAP;
        }
    }
    placed
}

/// The sample at a time from the first pour, which is at most [`TRACK_MAX`].
fn sample(time: Time) -> u32 {
    u32::try_from(time.ms).expect("a track is no longer than TRACK_MAX").saturating_mul(PER_MS)
}

/// A tone's samples, as they stand in the file. The sine is the same code on every machine (R15).
fn sound(cue: Cue) -> Vec<u8> {
    let ((pitch, _), whole) = (cue.tone(), cue.length());
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

/// The 44 bytes before the samples; a track of three hours is far below what their sizes can say.
fn header(bytes: u32) -> Vec<u8> {
    let mut head = Vec::with_capacity(44 + bytes as usize);
    head.extend_from_slice(b"RIFF");
    head.extend_from_slice(&bytes.saturating_add(36).to_le_bytes());
    head.extend_from_slice(b"WAVEfmt ");
    head.extend_from_slice(&16u32.to_le_bytes());
    // PCM, one channel.
    head.extend_from_slice(&1u16.to_le_bytes());
    head.extend_from_slice(&1u16.to_le_bytes());
    head.extend_from_slice(&RATE.to_le_bytes());
    head.extend_from_slice(&(RATE * BYTES).to_le_bytes());
    head.extend_from_slice(&2u16.to_le_bytes());
    head.extend_from_slice(&16u16.to_le_bytes());
    head.extend_from_slice(b"data");
    head.extend_from_slice(&bytes.to_le_bytes());
    head
}
