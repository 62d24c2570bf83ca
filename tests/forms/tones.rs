//! The cue track, read by another reader and measured: where it is loud, and at which pitch.

use wetside::compile::Schedule;
use wetside::emit::{self, NoTrack};
use wetside::model::{StepKind, Time};

use super::{TEXT, schedule};
use crate::readers::{DRAIN, MOVE, NOTICE, POUR, RATE, STILL, heard, samples as read_back};

fn samples(schedule: &Schedule) -> Vec<i16> {
    read_back(&emit::wav(schedule).unwrap())
}

#[track_caller]
fn sounds(schedule: &Schedule, expected: &[(f64, f64)]) {
    let heard = heard(&samples(schedule));
    assert_eq!(heard.len(), expected.len(), "{heard:#?}");
    for ((at, _, pitch), (due, meant)) in heard.iter().zip(expected) {
        assert!((at - due).abs() <= 0.02, "{at} s and not {due} s: {heard:#?}");
        // The quiet ends of the shortest tone cost a tenth of its crossings at the most.
        assert!((pitch / meant - 1.0).abs() < 0.1, "{pitch} Hz and not {meant} Hz at {at} s");
    }
}

/// By the times worked at the recipe; a notice sounds ten seconds before each pour and drain but the first.
#[test]
fn each_cue_sounds_at_its_time_and_pitch() {
    sounds(
        &schedule(TEXT),
        &[
            (0.0, POUR),
            (10.0, MOVE),
            (20.0, STILL),
            (30.0, MOVE),
            (35.0, STILL),
            (60.0, MOVE),
            (65.0, STILL),
            (75.0, NOTICE),
            (80.0, NOTICE),
            (85.0, DRAIN),
            (90.0, POUR),
            (150.0, NOTICE),
            (155.0, NOTICE),
            (160.0, DRAIN),
            (165.0, POUR),
            (225.0, NOTICE),
            (235.0, DRAIN),
        ],
    );
}

#[test]
fn the_track_goes_from_the_first_pour_to_the_last_drain() {
    // 240 s; two hours of drying are left out. A handling of 20 s before the pour alters nothing.
    assert_eq!(samples(&schedule(TEXT)).len(), 240 * RATE);
    let handled = TEXT.replace("        time     1:30\n", "        time     1:30\n        handling 20 s\n");
    assert_ne!(handled, TEXT);
    let (early, late) = (schedule(TEXT), schedule(&handled));
    assert_ne!(early.total, late.total);
    assert_eq!(emit::wav(&early), emit::wav(&late));
}

/// Without times to fill and drain, the drain, the fill and the agitation are at one time.
#[test]
fn cues_at_one_time_sound_one_after_the_other() {
    let text = TEXT.replace("    fill     10 s\n    drain    5 s\n", "");
    let heard = heard(&samples(&schedule(&text)));
    let near = |at: f64| heard.iter().filter(|tone| (tone.0 - at).abs() < 2.0).collect::<Vec<_>>();
    // At 90 s the developer is drained and the water filled in; 600 ms of a tone and a gap of 50 ms.
    let found = near(90.0);
    assert_eq!(found.len(), 2, "{heard:#?}");
    assert!((found[0].0 - 90.0).abs() <= 0.02 && (found[1].0 - 90.65).abs() <= 0.02, "{found:?}");
    assert!((found[0].2 / DRAIN - 1.0).abs() < 0.1 && (found[1].2 / POUR - 1.0).abs() < 0.1, "{found:?}");
    // One notice is enough for both.
    assert_eq!(near(80.0).len(), 1, "{heard:#?}");
    // At the start the first agitation follows the pour.
    assert!((near(0.0)[1].2 / MOVE - 1.0).abs() < 0.1, "{heard:#?}");
}

#[test]
fn a_track_that_is_too_long_or_silent_is_refused() {
    // Two changes and their fills and drains are 150 s; up to 3:00:00 remain 2:57:30.
    let longest = schedule(&TEXT.replace("time     1:30", "time     2:57:30"));
    assert_eq!(emit::wav(&longest).unwrap().len(), 44 + 2 * 8000 * 3 * 3600);
    let longer = schedule(&TEXT.replace("time     1:30", "time     2:57:31"));
    assert_eq!(emit::wav(&longer), Err(NoTrack::TooLong(Time::from_seconds(3 * 3600 + 1))));
    let mut dry = schedule(TEXT);
    dry.steps.retain(|step| step.kind == StepKind::Dry);
    assert_eq!(emit::wav(&dry), Err(NoTrack::NoPour));
}
