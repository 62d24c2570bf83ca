//! The session as sound: tones for when to pour, agitate and drain, from the first pour to the last drain.

use std::collections::BTreeMap;

use super::moments::{Moment, moments};
use crate::compile::{Action, Schedule};
use crate::model::Time;

/// The samples per second: four times the pitch of the highest tone.
const RATE: u32 = 8000;
const PER_MS: u32 = RATE / 1000;
const BYTES: u32 = 2;
/// The longest track, 173 MB.
pub const TRACK_MAX: Time = Time::from_seconds(3 * 3600);
/// The notice tone sounds this long before a pour or drain.
const AHEAD: Time = Time::from_seconds(10);
/// The silence between tones that would overlap, in samples.
const GAP: u32 = 50 * PER_MS;
/// The longest delay of a tone, in samples. A tone delayed longer is left out, unless it is for a pour or drain.
const LATEST: u32 = 2000 * PER_MS;
/// How many samples a tone takes to rise and to fall, so that it does not click.
const FADE: u32 = 10 * PER_MS;
/// The amplitude of a tone; the maximum is 32767.
const LOUD: f64 = 20_000.0;

/// Why there is no track.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoTrack {
    /// The session has no pour followed by a drain.
    NoPour,
    /// The track's length, which is above [`TRACK_MAX`].
    TooLong(Time),
}

/// The pitch in hertz and the length in samples. The pitches are about a musical fifth apart.
type Tone = (u32, u32);
const POUR: Tone = (900, 600 * PER_MS);
const DRAIN: Tone = (400, 600 * PER_MS);
const MOVE: Tone = (1350, 200 * PER_MS);
const STILL: Tone = (600, 200 * PER_MS);
const NOTICE: Tone = (2000, 200 * PER_MS);

/// The track as a WAV file: PCM of 16 bits, one channel, 8000 Hz.
///
/// # Errors
///
/// The session has no pour followed by a drain, or the track would be too long.
pub fn wav(schedule: &Schedule) -> Result<Vec<u8>, NoTrack> {
    let has = |moment: &Moment, tone: Tone| tones(moment).any(|own| own == tone);
    let mut wet: Vec<Moment> =
        moments(schedule).into_iter().skip_while(|moment| !has(moment, POUR)).collect();
    let last = wet.iter().rposition(|moment| has(moment, DRAIN));
    wet.truncate(last.map_or(0, |last| last + 1));
    let (begin, end) = wet.first().zip(wet.last()).ok_or(NoTrack::NoPour)?;
    let (begin, length) = (begin.at, end.until - begin.at);
    if length > TRACK_MAX {
        return Err(NoTrack::TooLong(length));
    }
    let placed = placed(&cues(&wet, begin), begin);
    let sounding = placed.last().map_or(0, |(at, tone)| at + tone.1);
    let samples = sample(length).max(sounding);
    let head = header(samples * BYTES);
    // Memory that is zero from the start costs nothing until a tone is written into it.
    let mut file = vec![0; head.len() + (samples * BYTES) as usize];
    let mut write = |at: usize, bytes: &[u8]| {
        file.iter_mut().skip(at).zip(bytes).for_each(|(place, byte)| *place = *byte);
    };
    write(0, &head);
    let mut sounds: BTreeMap<Tone, Vec<u8>> = BTreeMap::new();
    for (at, tone) in placed {
        let sound = sounds.entry(tone).or_insert_with(|| sound(tone).collect());
        write(head.len() + (at * BYTES) as usize, sound);
    }
    Ok(file)
}

fn tones(moment: &Moment) -> impl Iterator<Item = Tone> {
    moment.actions.iter().filter_map(|action| match action {
        Action::Pour | Action::Fill | Action::Lower => Some(POUR),
        Action::Drain | Action::Dump | Action::Lift => Some(DRAIN),
        Action::Agitate => Some(MOVE),
        _ => None,
    })
}

fn is_of_a_bath(tone: Tone) -> bool {
    [POUR, DRAIN].contains(&tone)
}

/// All tones by time; of tones at the same time, notice tones come last.
fn cues(wet: &[Moment], begin: Time) -> Vec<(Time, Tone)> {
    let mut cues = Vec::new();
    for (at, moment) in wet.iter().enumerate() {
        let noticed = moment.at - AHEAD;
        let is_noticed = tones(moment).any(is_of_a_bath) && noticed >= begin;
        cues.extend(is_noticed.then_some((noticed, NOTICE)));
        cues.extend(tones(moment).map(|tone| (moment.at, tone)));
        // The film is not still if a drain or more agitation follows at once.
        let follows = wet.get(at + 1).is_some_and(|next| tones(next).next().is_some());
        if moment.actions.last() == Some(&Action::Agitate) && !follows {
            cues.push((moment.until, STILL));
        }
    }
    cues.sort_by_key(|(at, tone)| (*at, *tone == NOTICE));
    cues
}

/// Each tone with the number of its first sample, which is delayed if the previous tone still sounds.
fn placed(cues: &[(Time, Tone)], begin: Time) -> Vec<(u32, Tone)> {
    let mut placed = Vec::new();
    let mut free = 0;
    for (at, tone) in cues {
        let due = sample(*at - begin);
        let at = due.max(free);
        if at - due <= LATEST || is_of_a_bath(*tone) {
            placed.push((at, *tone));
            free = at + tone.1 + GAP;
        }
    }
    placed
}

fn sample(time: Time) -> u32 {
    u32::try_from(time.ms).expect("a track is no longer than TRACK_MAX").saturating_mul(PER_MS)
}

/// The samples of a tone. `libm` gives the same sine everywhere (R15).
fn sound((pitch, length): Tone) -> impl Iterator<Item = u8> {
    let turn = std::f64::consts::TAU * f64::from(pitch) / f64::from(RATE);
    (0..length).flat_map(move |number| {
        let edge = number.min(length - number).min(FADE);
        let swell = f64::from(edge) / f64::from(FADE);
        level(LOUD * swell * libm::sin(turn * f64::from(number))).to_le_bytes()
    })
}

#[expect(clippy::cast_possible_truncation, reason = "no tone is louder than 20000 of 32767")]
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
        // Bytes (two) and bits (16) for each sample.
        b"\x02\0\x10\0data",
        &bytes.to_le_bytes(),
    ]
    .concat()
}
