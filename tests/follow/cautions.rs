//! The cautions of a followed session: before the clock starts, on request, and in a pipe.

use unicode_width::UnicodeWidthStr;

use super::screen::{SMALL, USUAL, shown};
use super::{CALL, TEXT, live, seconds, unread};
use crate::evenings::shelf;
use wetside::compile::Warning;
use wetside::emit::{Live, Size};
use wetside::model::Time;

/// The soup has no ingredients; the next two are for all chemicals, and the last is on every card.
const UNKNOWN: &str = "what soup contains is not known: read the label and data sheet";
const GLOVES: &str = "wear gloves, an apron and eye protection; ventilate, and breathe no dust";
const FOOD: &str = "use nothing that has held food; taste nothing; label all, keep from children";
const LAST: &str = "a product's own safety data sheet, local codes, licensed practice come first";

/// The safety block of the soup, which comes first.
const BLOCK: [&str; 5] = [
    "label, data sheet, local code and lab rules go before this card",
    "WEAR goggles, gloves, apron; fan or window. No food, child or pet.",
    "EYES rinse at once, gently, lids held open, 15 min; lenses out if easy, go on rinsing. \
     Call your poison centre or emergency number.",
    "SKIN rinse splashes off now. Swallowed: rinse mouth, do not vomit, call.",
    "WASTE a can each: developer. Ask before any drain.",
];

/// The rows of a page after the safety block.
fn after_block(page: &str) -> &str {
    page.split_once("Ask before any drain.\n").unwrap().1
}

#[test]
fn the_cautions_are_read_before_the_clock_starts() {
    let mut live = unread(TEXT, Time::ZERO);
    let first = shown(&live, Time::ZERO, USUAL);
    let all = format!("- {UNKNOWN}\n- {GLOVES}\n- {FOOD}\n- {LAST}\n");
    assert!(
        first.starts_with(&format!("SAFETY, CAUTIONS 1 of 1\n- {}\n- WEAR goggles", BLOCK[0])),
        "{first}"
    );
    assert!(
        after_block(&first).starts_with(&all) && first.ends_with("any key continues   q quit\n"),
        "{first}"
    );
    live.read_on(USUAL);
    assert!(!live.is_reading());
    assert!(
        shown(&live, seconds(9), USUAL).contains("hold Enter to start"),
        "the key must not start the clock"
    );
}

#[test]
fn a_key_shows_the_cautions_while_the_clock_runs() {
    let mut live = live(TEXT, Time::ZERO);
    super::start(&mut live, 0);
    live.read_cautions();
    let page = shown(&live, seconds(13), USUAL);
    // Agitated until 0:20, see TEXT.
    let head = page.lines().next().unwrap();
    assert!(head.starts_with("SAFETY, CAUTIONS 1 of 1 ") && head.ends_with(" DEVELOP 0:07"), "{page}");
    assert!(live.rings(seconds(30)), "the bell still rings");
    live.read_on(USUAL);
    assert_eq!(live.at(seconds(31)), seconds(31));
    assert!(shown(&live, seconds(31), USUAL).contains("running"));
}

/// Cautions of a recipe come first, those of a step after its name.
#[test]
fn every_caution_is_complete_on_the_smallest_screens() {
    let text = TEXT
        .replace("index    100\n", "index    100\n    caution  \"The sill is slippery at low water.\"\n")
        .replace("soak     1:00 x 2\n", "soak     1:00 x 2\n        caution  \"Mind 1000 ml of spill.\"\n");
    let own =
        ["The sill is slippery at low water.", UNKNOWN, GLOVES, FOOD, "WASH: Mind 1000 ml of spill.", LAST];
    for size in [USUAL, SMALL, Size { columns: 16, rows: 7 }, Size { columns: 20, rows: 2 }] {
        let mut live = unread(&text, Time::ZERO);
        let mut output = String::new();
        while live.is_reading() {
            output.push_str(&body(&live, size));
            live.read_on(size);
        }
        let all = BLOCK.into_iter().chain(own);
        assert_eq!(output, all.map(|text| format!("- {text} ")).collect::<String>(), "{size:?}");
    }
}

/// The cautions on this page in one line; screens of six rows and more have a title and a line with the keys.
fn body(live: &Live, size: Size) -> String {
    let rows: Vec<String> = live.frame(Time::ZERO, size).into_iter().map(|row| row.text).collect();
    assert!(rows.len() <= size.rows && rows.iter().all(|row| row.width() <= size.columns), "{rows:?}");
    let framed = size.rows >= 6;
    let body = if framed { &rows[1..rows.len() - 1] } else { &rows[..] };
    let words = body.iter().flat_map(|row| row.split_whitespace());
    words.map(|word| format!("{word} ")).collect()
}

#[test]
fn a_caution_cannot_send_control_sequences() {
    let mut schedule = super::schedule(TEXT);
    schedule.cautions[0] = "Mind\u{1b}[2J\u{202e}it".to_owned();
    let card = wetside::emit::card(&schedule, &wetside::source::Sources::default());
    let live = Live::new(&schedule, &card, Time::ZERO);
    let page = shown(&live, Time::ZERO, USUAL);
    assert!(page.contains("\n- Mind\u{fffd}[2J\u{fffd}it\n"), "{page}");
    let lines = live.cautions();
    let line = lines.iter().find(|line| line.contains("Mind")).unwrap();
    assert_eq!(line, "  - Mind\u{fffd}[2J\u{fffd}it");
}

/// The text card has them too, wrapped; here each has its own line.
#[test]
fn in_a_pipe_the_cautions_come_before_the_work() {
    let output = shelf().args(CALL).args(["--speed", "10000"]).succeeds();
    let (safety, rest) = output.split_once("\n\n").unwrap();
    let (cautions, work) = rest.split_once("\n\n").unwrap();
    assert!(safety.starts_with("SAFETY\n  - label, data sheet"), "{output}");
    assert!(work.starts_with("DEVELOP 8:39  MQ borax"), "{output}");
    let mut call = CALL;
    call[0] = "card";
    let card = shelf().args(call).args(["--width", "200"]).succeeds();
    let (_, card) = card.split_once("\nCAUTIONS\n").unwrap();
    let (card, _) = card.split_once("\n\n").unwrap_or((card, ""));
    let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<String>>();
    assert_eq!(words(cautions.strip_prefix("CAUTIONS\n").unwrap()), words(card));
    assert!(cautions.lines().count() > 3, "{cautions}");
}

/// The session with a warning added, since the example has none.
fn with_a_warning() -> Live {
    let mut schedule = super::schedule(TEXT);
    schedule.warnings.push(Warning { rule: "R13", text: "the soup is nearly used up".to_owned() });
    let card = wetside::emit::card(&schedule, &wetside::source::Sources::default());
    Live::new(&schedule, &card, Time::ZERO)
}

#[test]
fn warnings_are_shown_before_cautions() {
    let mut live = with_a_warning();
    let all = format!("! the soup is nearly used up\n- {UNKNOWN}\n");
    let first = shown(&live, Time::ZERO, USUAL);
    assert!(first.starts_with("SAFETY, WARNINGS, CAUTIONS 1 of 1\n"), "{first}");
    assert!(after_block(&first).starts_with(&all), "{first}");
    live.read_on(USUAL);
    assert!(!live.is_reading());
    live.read_cautions();
    assert_eq!(shown(&live, seconds(3), USUAL), first);
    // On a small screen the warning is on the page after the safety block.
    let small = Size { columns: 40, rows: 6 };
    let mut live = with_a_warning();
    let titles = |live: &Live| shown(live, Time::ZERO, small).lines().next().unwrap().to_owned();
    let mut seen = Vec::new();
    while live.is_reading() {
        seen.push(titles(&live));
        live.read_on(small);
    }
    assert!(seen[0].starts_with("SAFETY 1 of "), "{seen:?}");
    let warning = seen.iter().position(|title| title.contains("WARNINGS")).unwrap();
    let caution = seen.iter().position(|title| title.starts_with("CAUTIONS")).unwrap();
    assert!(warning < caution, "{seen:?}");
}

/// The only warning of the shelf's sessions: as much film as the fixer can treat.
#[test]
fn in_a_pipe_the_warnings_come_first() {
    let evening = ["wheelhouse-400-rotary", "--at", "19C", "--rolls", "3x135", "--tank", "drum"];
    let output = shelf().arg("follow").args(evening).args(["--speed", "10000"]).succeeds();
    let (_, rest) = output.split_once("\n\n").unwrap();
    let (warnings, rest) = rest.split_once("\n\n").unwrap();
    let line = "300 ml of rapid-fix 1+4 treats 3 rolls: after tonight's 3 rolls it is nearly exhausted";
    assert_eq!(warnings, format!("WARNINGS\n  ! {line}"));
    assert!(rest.starts_with("CAUTIONS\n  - "), "{rest}");
}
