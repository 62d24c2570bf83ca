//! `follow`: the state at a clock time that the test sets, the screen, and the program in a pipe and on a terminal.

mod cautions;
mod clock;
mod legs;
mod lid;
#[cfg(target_os = "linux")]
mod restored;
mod screen;
#[cfg(target_os = "linux")]
mod terminal;

use screen::{SMALL, USUAL, shown, started};

use crate::evenings::shelf;
use crate::kitchen::{SMALL_EVENING as TEXT, two_rolls as schedule};
use wetside::emit::{Live, Said, card};
use wetside::model::Time;
use wetside::source::Sources;

fn seconds(seconds: i64) -> Time {
    Time::from_seconds(seconds)
}

fn live(text: &str, from: Time) -> Live {
    read(unread(text, from))
}

/// The session at its start, which shows the cautions.
fn unread(text: &str, from: Time) -> Live {
    let schedule = schedule(text);
    Live::new(&schedule, &card(&schedule, &Sources::default()), from)
}

/// The session after the cautions.
fn read(mut live: Live) -> Live {
    while live.is_reading() {
        live.read_on(USUAL);
    }
    live
}

/// Starts the session so that its time begins at this time of the clock: five seconds are counted in.
fn start(live: &mut Live, clock: i64) {
    assert!(live.say(Said::Start, seconds(clock - 5)));
}

const CALL: [&str; 8] =
    ["follow", "estuary-400-mq", "--at", "21.5C", "--rolls", "5x120", "--tank", "tall-five"];

#[test]
fn output_into_a_pipe_is_lines_in_order_of_time_when_they_are_due() {
    let began = std::time::Instant::now();
    let output = shelf().args(CALL).args(["--speed", "6000"]).succeeds();
    assert!(!output.contains(['\u{1b}', '\u{7}']), "{output}");
    // The times are those of the card in the README: pour, full at 0:25, drained from 8:19, empty at 8:39.
    for line in [
        "\n      0:00  pour 2500 ml of MQ borax, fine grain 1+1\n",
        "\n      0:25  agitate\n",
        "\n      8:19  drain: to the sink or to waste, as your local code says\nSTOP 1:00  Citric stop",
        "\n   17:21.5  pour 2500 ml of Wetting agent",
    ] {
        assert!(output.contains(line), "{line}\n{output}");
    }
    let clocks = output.lines().filter_map(|line| line.strip_prefix("   ")?.split_whitespace().next());
    let clocks = clocks.filter(|clock| clock.starts_with(|first: char| first.is_ascii_digit()));
    let times: Vec<f64> = clocks.map(in_seconds).collect();
    assert!(times.len() > 40 && times.is_sorted(), "{times:?}");
    assert!(output.ends_with("  done\n"), "{output}");
    // At 6000 times the speed, the three hours and 18 minutes to the last line take two seconds: 11916.5 / 6000.
    assert!(began.elapsed().as_millis() >= 1986, "{:?}", began.elapsed());
}

fn in_seconds(clock: &str) -> f64 {
    clock.split(':').fold(0.0, |sum, part| sum * 60.0 + part.parse::<f64>().unwrap())
}

#[test]
fn from_starts_at_the_named_step() {
    let output = shelf().args(CALL).args(["--from", "rinse", "--speed", "10000"]).succeeds();
    let (safety, rest) = output.split_once("\n\n").unwrap();
    let (cautions, work) = rest.split_once("\n\n").unwrap();
    assert!(safety.starts_with("SAFETY\n  - label, data sheet"), "{output}");
    assert!(
        cautions.starts_with("CAUTIONS\n  - ") && work.starts_with("RINSE 0:30  Wetting agent"),
        "{output}"
    );
    let (_, stderr) = shelf().args(CALL).args(["--from", "wash-last"]).fails(2);
    assert!(stderr.contains("no step wash last") && stderr.contains("develop, stop, fix"), "{stderr}");
    let (_, stderr) = shelf().args(CALL).args(["--from", "soup"]).fails(2);
    assert!(stderr.contains("'soup' is not a kind of step"), "{stderr}");
}

#[test]
fn a_session_with_errors_is_not_followed() {
    let call = ["follow", "estuary-400-mq", "--at", "35C", "--rolls", "5x120", "--tank", "tall-five"];
    let (output, stderr) = shelf().args(call).fails(1);
    assert!(output.is_empty() && stderr.contains("error["), "{stderr}");
}

#[test]
fn a_usual_screen_has_everything() {
    insta::assert_snapshot!(shown(&started(), Time::from_ms(67_300), USUAL));
}

#[test]
fn a_small_screen_has_what_matters() {
    insta::assert_snapshot!(shown(&started(), Time::from_ms(67_300), SMALL));
}
