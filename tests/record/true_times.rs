//! `record --took` and `--read`: the true times of steps and the temperatures that were read.

use super::{added, darkroom, evening, refused};

/// The times on the card are those of the README: develop 8:39, stop 1:00, fix 4:00.
#[test]
fn true_times_and_temperatures_are_recorded() {
    let run = evening(darkroom()).args(["--rolls", "2x120", "--date", "2026-11-12", "--took"]);
    let (_, session) = added(&run.args(["develop=8:59,fix=4:10", "--read", "develop=3:10=22.1C"]));
    assert!(session.contains("\n    took      develop 8:59 of 8:39, fix 4:10 of 4:00\n"), "{session}");
    assert!(session.contains("\n    read      develop 3:10 22.1 C\n"), "{session}");
}

#[test]
fn a_step_that_the_recipe_lacks_and_a_bad_time_are_refused() {
    for (option, value, words) in [
        ("--took", "bleach=4:00", "'estuary-400-mq' has no step bleach"),
        ("--took", "develop", "'develop' has no time; write develop=8:59"),
        ("--read", "develop=3:10", "write develop=3:10=22.1C"),
        ("--read", "stop-last=3:10=22C", "has no step stop last"),
    ] {
        let run = evening(darkroom()).args(["--rolls", "2x120", "--date", "2026-11-12", option, value]);
        refused(&run, 2, &[words]);
    }
}
