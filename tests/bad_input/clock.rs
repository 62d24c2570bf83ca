//! A clock and a date at the end of the calendar: an error, or the last day.

use std::process::Command;

use super::EVENING;
use crate::program::Run;

/// A program for which the clock shows this many seconds since 1970.
const CLOCK: &str = "#include <time.h>
#include <stdlib.h>
#include <unistd.h>
#include <sys/syscall.h>
int clock_gettime(clockid_t id, struct timespec *now) {
    long done = syscall(SYS_clock_gettime, id, now);
    if (id == CLOCK_REALTIME) now->tv_sec = atoll(getenv(\"SECONDS_SHOWN\"));
    return (int) done;
}
";

/// Its library, beside the run's files.
fn clock(run: Run, seconds: &str) -> Run {
    let run = run.file("clock.c", CLOCK);
    let library = run.folder().join("clock.so");
    let source = run.folder().join("clock.c");
    let made = Command::new("cc").args(["-shared", "-fPIC", "-o"]).arg(&library).arg(source).status();
    assert!(made.unwrap().success());
    let library = library.to_str().unwrap().to_owned();
    run.env("LD_PRELOAD", &library).env("SECONDS_SHOWN", seconds)
}

/// One second past 9999-12-31T23:59:59Z; and the year 33658, where some clocks end.
const PAST: [&str; 2] = ["253402300800", "1000000000000"];

#[test]
fn a_clock_outside_the_calendar_is_an_error() {
    let calls: [&[&str]; 3] = [
        &["baths"],
        &["plan", "estuary-autumn", "--tank", "tall-five"],
        &["record", "estuary-400-mq", "--at", "21.5C", "--rolls", "5x120", "--tank", "tall-five"],
    ];
    for seconds in PAST {
        for call in calls {
            let run = clock(Run::new().folders_of_repo("recipes").below("recipes"), seconds);
            let run = call.iter().fold(run, |run, arg| run.arg(*arg));
            let (_, told) = run.fails(2);
            assert!(told.contains("the clock of this machine shows no year"), "{call:?}: {told}");
        }
    }
    // 2026-11-25T12:00:00Z.
    let run = clock(Run::new().folders_of_repo("recipes").below("recipes"), "1795608000")
        .args(["baths", "--as", "json"]);
    assert!(run.succeeds().contains("2026-11-25"));
}

#[test]
fn a_session_that_ends_after_the_calendar_is_an_error() {
    let card = |start: &str| {
        let run = Run::new().folders_of_repo("recipes").below("recipes").args(["card", "estuary-400-mq"]);
        let run = EVENING.iter().fold(run, |run, arg| run.arg(*arg));
        run.args(["--date", "9999-12-31", "--start", start, "--as", "ics"])
    };
    // The film is dry within five hours.
    assert!(card("12:00").succeeds().contains("DTEND:99991231T"));
    let (_, told) = card("23:59").fails(2);
    assert!(told.contains("ends with the year 9999"), "{told}");
}
