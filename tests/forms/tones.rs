//! The cue track, read by another reader and measured: where it is loud, and at which pitch.

use wetside::compile::Schedule;
use wetside::emit::{self, NoTrack};
use wetside::model::{StepKind, Time};

use super::{TEXT, schedule};
use crate::evenings::shelf;
use crate::readers::{AGITATE, LEAD_IN, NOW, RATE, REST, WARN, heard, samples as read_back};

/// The notes of a signal.
type Notes = &'static [(f64, f64, f64)];

fn samples(schedule: &Schedule) -> Vec<i16> {
    read_back(&emit::wav(schedule).unwrap())
}

/// Compares a track with signals, each with its time after the first pour.
#[track_caller]
fn sounds(samples: &[i16], expected: &[(f64, Notes)]) {
    let heard = heard(samples);
    let notes = expected.iter().flat_map(|(at, notes)| {
        notes.iter().map(move |(offset, length, pitch)| (LEAD_IN + at + offset, *length, *pitch))
    });
    let notes: Vec<(f64, f64, f64)> = notes.collect();
    assert_eq!(heard.len(), notes.len(), "{heard:#?}");
    for ((at, long, pitch), (due, length, meant)) in heard.iter().zip(notes) {
        assert!((at - due).abs() <= 0.02, "{at} s and not {due} s: {heard:#?}");
        assert!((long - length).abs() <= 0.02, "{long} s and not {length} s at {at} s");
        // The quiet ends of the shortest note cost a tenth of its crossings at the most.
        assert!((pitch / meant - 1.0).abs() < 0.1, "{pitch} Hz and not {meant} Hz at {at} s");
    }
}

/// The recipe's times: pour 0:00 to 0:10, agitation of 10 s, then of 5 s at 0:30 and 1:00; drain at 1:25. The water goes in
/// at 1:30 and 2:45, and comes out at 2:40 and 3:55. A warning sounds ten seconds before a bath; one is enough for a drain
/// and the pour 5 s after it. Three knocks lead to the first pour.
#[test]
fn each_signal_sounds_at_its_time_and_pitch() {
    sounds(
        &samples(&schedule(TEXT)),
        &[
            (-3.0, WARN),
            (0.0, NOW),
            (10.0, AGITATE),
            (20.0, REST),
            (30.0, AGITATE),
            (35.0, REST),
            (60.0, AGITATE),
            (65.0, REST),
            (75.0, WARN),
            (85.0, NOW),
            (90.0, NOW),
            (100.0, REST),
            (150.0, WARN),
            (160.0, NOW),
            (165.0, NOW),
            (175.0, REST),
            (225.0, WARN),
            (235.0, NOW),
        ],
    );
}

/// All notes are where small speakers and old ears hear best, the rising note from its start to its end.
#[test]
fn all_notes_are_between_600_and_2000_hertz() {
    let samples = samples(&schedule(TEXT));
    for (at, length, pitch) in heard(&samples) {
        assert!((570.0..2000.0).contains(&pitch), "{pitch} Hz at {at} s");
        if length > 1.0 {
            let later =
                samples.iter().zip(0u32..).skip_while(|(_, index)| f64::from(*index) < at * RATE as f64);
            let note: Vec<i16> = later.map(|(sample, _)| *sample).take(RATE * 12 / 10).collect();
            let part = |tenth: usize| heard(&note[tenth * RATE / 20..(tenth + 2) * RATE / 20])[0].2;
            let (low, high) = (part(1), part(21));
            assert!(
                (780.0..960.0).contains(&low) && (1440.0..1620.0).contains(&high),
                "{low} Hz to {high} Hz"
            );
        }
    }
}

#[test]
fn the_track_goes_from_five_seconds_before_the_first_pour_to_the_last_drain() {
    // 240 s; two hours of drying are left out. A handling of 20 s before the pour alters nothing.
    assert_eq!(samples(&schedule(TEXT)).len(), 245 * RATE);
    let handled = TEXT.replace("        time     1:30\n", "        time     1:30\n        handling 20 s\n");
    assert_ne!(handled, TEXT);
    let (early, late) = (schedule(TEXT), schedule(&handled));
    assert_ne!(early.total, late.total);
    assert_eq!(emit::wav(&early), emit::wav(&late));
}

/// Without times to fill and to drain, a drain and a fill are at one time and have one signal. What follows at once, such
/// as the agitation after the pour, sounds 50 ms after the rising note of 1.2 s. The water is changed at 1:30 and 2:30 and
/// comes out at 3:30, where the track ends.
#[test]
fn without_fill_and_drain_times_one_signal_follows_the_other() {
    let text = TEXT.replace("    fill     10 s\n    drain    5 s\n", "");
    let samples = samples(&schedule(&text));
    sounds(
        &samples,
        &[
            (-3.0, WARN),
            (0.0, NOW),
            (1.25, AGITATE),
            (10.0, REST),
            (30.0, AGITATE),
            (35.0, REST),
            (60.0, AGITATE),
            (65.0, REST),
            (80.0, WARN),
            (90.0, NOW),
            (91.25, REST),
            (140.0, WARN),
            (150.0, NOW),
            (151.25, REST),
            (200.0, WARN),
            (210.0, NOW),
        ],
    );
    assert_eq!(samples.len(), (5 + 210) * RATE + RATE * 12 / 10, "the last note is heard to its end");
}

/// Drying of 3:00:00 does not count, so an evening without a tank has a track too. The work takes 8:39 to develop, 1:00 to
/// stop, 4:00 to fix, three changes of water and 0:30 to rinse.
#[test]
fn a_card_without_a_tank_has_a_track() {
    let run =
        shelf().args(["card", "estuary-400-mq", "--at", "21.5C", "--rolls", "5x120", "-o", "evening.wav"]);
    assert_eq!(run.succeeds(), "");
    let bytes = std::fs::metadata(run.folder().join("evening.wav")).unwrap().len();
    let seconds = bytes as f64 / 2.0 / RATE as f64;
    assert!((850.0..1000.0).contains(&seconds), "{seconds} s");
}

#[test]
fn a_track_that_is_too_long_or_silent_is_refused() {
    // Two changes and their fills and drains are 150 s; and 5 s come before the first pour; up to 3:00:00 remain 2:57:25.
    let longest = schedule(&TEXT.replace("time     1:30", "time     2:57:25"));
    assert_eq!(emit::wav(&longest).unwrap().len(), 44 + 2 * 8000 * 3 * 3600);
    let longer = schedule(&TEXT.replace("time     1:30", "time     2:57:26"));
    assert_eq!(emit::wav(&longer), Err(NoTrack::TooLong(Time::from_seconds(3 * 3600 + 1))));
    let mut dry = schedule(TEXT);
    dry.steps.retain(|step| step.kind == StepKind::Dry);
    assert_eq!(emit::wav(&dry), Err(NoTrack::NoPour));
}
