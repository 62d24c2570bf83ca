//! The screen of a followed session, in any size.

use super::{TEXT, live, read, schedule, seconds, start};
use unicode_width::UnicodeWidthStr;
use wetside::emit::{Live, Said, Size, card};
use wetside::model::Time;
use wetside::source::Sources;

pub(super) const USUAL: Size = Size { columns: 80, rows: 24 };
pub(super) const SMALL: Size = Size { columns: 40, rows: 12 };

pub(super) fn shown(live: &Live, clock: Time, size: Size) -> String {
    live.frame(clock, size).into_iter().map(|row| format!("{}\n", row.text.trim_end())).collect()
}

pub(super) fn started() -> Live {
    let mut live = live(TEXT, Time::ZERO);
    start(&mut live, 0);
    live
}

#[test]
fn the_remaining_time_is_zero_only_at_the_end() {
    let live = started();
    let flat = Size { columns: 40, rows: 8 };
    // The pour takes ten seconds, and the agitation after it as well.
    for (ms, left) in [(0, "0:10"), (1, "0:10"), (1000, "0:09"), (9999, "0:01"), (10_000, "0:10")] {
        let frame = live.frame(Time::from_ms(ms), flat);
        assert_eq!(frame[1].text, left, "after {ms} ms");
    }
    let over = shown(&live, seconds(10_000), flat);
    assert!(over.starts_with("DRY") && over.contains("\n0:00\n") && over.contains("\nDONE\n"), "{over}");
}

#[test]
fn the_next_step_is_named_before_it_begins() {
    let shown = shown(&started(), seconds(86), USUAL);
    assert!(shown.contains("\nin 0:04 WASH: fill with 1000 ml of water\n"), "{shown}");
}

#[test]
fn the_screen_shows_whether_the_clock_runs() {
    let mut live = live(TEXT, seconds(90));
    assert!(shown(&live, seconds(0), SMALL).starts_with("WASH  water"));
    assert!(shown(&live, seconds(0), SMALL).contains("hold Enter to start\n"));
    live.say(Said::Start, seconds(0));
    assert!(shown(&live, seconds(1), SMALL).contains("running\n"));
}

/// The pour of the wash is due at 1:30. Nobody says that it went in; then a person says that it goes in at 1:50.
#[test]
fn the_screen_shows_how_long_ago_a_pour_was_due() {
    let mut live = started();
    let page = shown(&live, seconds(97), USUAL);
    assert!(page.contains("due 0:07 ago\n") && page.contains("\nhold Enter: WASH went in now"), "{page}");
    let flat = Size { columns: 40, rows: 8 };
    assert_eq!(live.frame(seconds(97), flat)[1].text, "+0:07");
    assert!(shown(&live, seconds(110), USUAL).contains("due 0:20 ago\n"));
    assert!(live.confirm(seconds(110)));
    let page = shown(&live, seconds(111), USUAL);
    assert!(page.contains("running\n") && !page.contains("ago"), "{page}");
    assert!(
        page.contains("\ndevelop 1:50 of 1:30, 22.2 % longer: print softer, write it on the sleeve\n"),
        "{page}"
    );
    assert_eq!(live.frame(seconds(111), flat)[1].text, "0:09");
}

#[test]
fn no_frame_is_larger_than_its_screen() {
    let wide = TEXT.replace("Soup of the day", "\u{6e7e}\u{53e3}\u{306e}\u{6f6e} soup, of the seventh day");
    let mut live = live(&wide, Time::ZERO);
    start(&mut live, 0);
    for columns in 1..100 {
        for rows in 1..30 {
            for clock in [0, 12, 88, 300, 99_999] {
                let frame = live.frame(seconds(clock), Size { columns, rows });
                assert!(!frame.is_empty() && frame.len() <= rows, "{columns} x {rows}");
                for row in frame {
                    assert!(row.text.width() <= columns, "{columns} x {rows}: {:?}", row.text);
                }
            }
        }
    }
}

/// A recipe cannot have such a title, but the screen does not rely on that.
#[test]
fn a_title_cannot_send_control_sequences() {
    let mut schedule = schedule(TEXT);
    schedule.steps[0].bath.as_mut().unwrap().title = "So\u{1b}[2J\u{202e}up".to_owned();
    let live = read(Live::new(&schedule, &card(&schedule, &Sources::default()), Time::ZERO));
    let frame = shown(&live, Time::ZERO, USUAL);
    assert!(frame.contains("DEVELOP  So\u{fffd}[2J\u{fffd}up stock at 20 \u{b0}C"), "{frame}");
    assert!(frame.contains("START   pour 1000 ml of So\u{fffd}[2J\u{fffd}up stock\n"), "{frame}");
    assert!(!frame.contains(['\u{1b}', '\u{202e}']), "{frame}");
    let lines: String = live.lines(Time::ZERO).into_iter().map(|(_, line)| line).collect();
    assert!(lines.contains("[2J") && !lines.contains(['\u{1b}', '\u{202e}']), "{lines}");
}

#[test]
fn unchanged_parts_of_the_screen_do_not_move() {
    let live = started();
    for size in [USUAL, SMALL, Size { columns: 200, rows: 50 }, Size { columns: 70, rows: 60 }] {
        let bars = (0..8000).step_by(13).map(|clock| {
            let frame = live.frame(seconds(clock), size);
            frame.iter().position(|row| row.text.starts_with("step ")).unwrap()
        });
        let places: std::collections::BTreeSet<usize> = bars.collect();
        assert_eq!(places.len(), 1, "{size:?}: {places:?}");
    }
}

/// The screen is so narrow that the unit would be on the next line: `pour 1000` has 9 letters, and the label 8 columns.
#[test]
fn no_line_of_the_screen_ends_between_a_number_and_its_unit() {
    let live = started();
    for columns in 16..60 {
        for rows in [8, 12, 24] {
            let shown = shown(&live, Time::ZERO, Size { columns, rows });
            assert!(!shown.contains("1000\n"), "{columns} x {rows}\n{shown}");
            assert!(shown.contains("1000 ml"), "{columns} x {rows}\n{shown}");
        }
    }
}

#[test]
fn the_notes_of_a_step_are_shown_with_it() {
    let noted = TEXT.replace("    wash {\n", "    wash {\n        note     \"look now\"\n");
    let mut live = live(&noted, seconds(90));
    assert!(shown(&live, Time::ZERO, USUAL).contains("hold Enter to start\nnote: look now\n"));
    assert!(
        live.lines(seconds(90)).iter().any(|(at, line)| *at == seconds(90) && line == "     note:  look now")
    );
    live.next(Time::ZERO);
    assert!(shown(&live, Time::ZERO, USUAL).contains("note: look now\n"));
    let before = started();
    assert!(!shown(&before, Time::ZERO, USUAL).contains("note:"));
}

/// Worked by hand: `0:18` is 13 blocks wide, and `12:34` would be 17, of two columns each. 50 rows less the 20
/// that all takes with digits of 5 leave 35 for them, so 7 a block by height; 200 columns fit 34 five
/// times, so 5 rows and 10 columns a block. On 80 by 30 it is 3 by height and 2 by width; more than two hours as `2:59:25`
/// are 23 blocks, which fit 3 times into 80 columns. On 80 by 24 there are ten rows for them once the one
/// below the title is given up, and on 80 by 23 nine.
#[test]
fn the_digits_are_as_large_as_the_screen_allows() {
    let long = TEXT.replace("1:30", "3 h").replace("first 10 s, then 5 s every 30 s", "first 10 s");
    let figures = |text: &str, clock: i64, columns: usize, rows: usize| {
        let mut live = live(text, Time::ZERO);
        start(&mut live, 0);
        let frame = live.frame(seconds(clock), Size { columns, rows });
        let drawn = |text: &str| !text.is_empty() && text.chars().all(|letter| " \u{2588}".contains(letter));
        let drawn: Vec<String> = frame.into_iter().map(|row| row.text).filter(|text| drawn(text)).collect();
        (drawn.len(), drawn.iter().map(|text| text.width()).max().unwrap())
    };
    // The film is still from 65 to 85 seconds; at 67 there are 18 left.
    assert_eq!(figures(TEXT, 67, 80, 23), (5, 13 * 2));
    assert_eq!(figures(TEXT, 67, 80, 24), (10, 13 * 4));
    assert_eq!(figures(TEXT, 67, 80, 30), (10, 13 * 4));
    assert_eq!(figures(TEXT, 67, 200, 50), (25, 13 * 10));
    assert_eq!(figures(&long, 30, 80, 30), (10, 23 * 3));
}
