//! The printed page: one sheet for every evening, in type that is legible at arm's length, with pictures if there is
//! space, and with every action.

use std::io::Write;

use serde_json::json;

use super::stage::{Stage, readme_evening};
use crate::evenings::{every_evening, shelf};
use crate::printed::{pages, words};
use crate::program::Run;

/// A sheet has the card on its front and first aid on its back.
const SIDES: usize = 2;
/// A4 and Letter in inches.
const A4: (f64, f64) = (8.27, 11.69);
const LETTER: (f64, f64) = (8.5, 11.0);

/// The smallest printed type in points of 1/72 inch; a CSS pixel is 1/96 inch.
const SMALLEST: &str = "Math.min(...[...document.querySelectorAll('body *')]
    .filter((one) => one.checkVisibility() && !one.closest('svg, script'))
    .filter((one) => [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim() !== ''))
    .map((one) => Math.round(parseFloat(getComputedStyle(one).fontSize) * 72 / 96 * 100) / 100))";

/// The smallest words of a picture; they are drawn 10 high, and a picture is as wide as its column.
const DRAWN: &str = "Math.min(...[...document.querySelectorAll('.picture')].map((picture) =>
    10 * picture.getBoundingClientRect().width / picture.viewBox.baseVal.width * 72 / 96))";

/// Inspects the page in print layout, then restores the screen layout.
#[track_caller]
fn on_paper(page: &mut Stage, expressions: &[&str]) -> Vec<serde_json::Value> {
    page.browser("Emulation.setEmulatedMedia", json!({ "media": "print" }));
    let values = expressions.iter().map(|expression| page.value(expression)).collect();
    page.browser("Emulation.setEmulatedMedia", json!({ "media": "" }));
    values
}

/// Whether letters are as wide here as on most devices: the usual font's figures are 1139 of 2048 of its size
/// wide, by its own table. A machine without such a font sets wider ones, and needs smaller type.
#[track_caller]
fn letters_are_usual(page: &mut Stage) -> bool {
    let wide = "(() => { const pen = document.createElement('canvas').getContext('2d');
        pen.font = '100px Arial, Helvetica, \"Liberation Sans\"'; return pen.measureText('0000000000').width; })()";
    let usual = (page.value(wide).as_f64().unwrap() - 556.0).abs() < 1.0;
    if !usual {
        let said =
            b"LEFT OUT: there is no font of the usual width (fonts-liberation), so no type was measured\n";
        std::io::stderr().write_all(said).unwrap();
    }
    usual
}

/// The most evenings of the shelf whose printed card has no pictures.
const BARE_MAX: usize = 66;

#[test]
fn every_card_prints_on_one_sheet_in_legible_type() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    let usual = letters_are_usual(&mut page);
    let mut bare = Vec::new();
    every_evening(|run, name| {
        let run = run.args(["--as", "html"]);
        page.write(&run.succeeds());
        page.reload();
        for sheet in [A4, LETTER] {
            assert_eq!(pages(&page.printed(sheet)), SIDES, "{name} on {sheet:?}");
        }
        let is_drawn = "document.querySelector('.picture').getBoundingClientRect().height > 0";
        let seen = on_paper(&mut page, &[SMALLEST, is_drawn, DRAWN]);
        if usual {
            assert!(seen[0].as_f64().unwrap() > 7.99, "{name}: {} pt", seen[0]);
        }
        if seen[1] == true {
            assert!(seen[2].as_f64().unwrap() >= 6.0, "{name}: {} pt in a picture", seen[2]);
        } else {
            bare.push(name);
        }
        run
    });
    // Pictures are left out where they would make the type smaller: on the long cards of 112 evenings.
    assert!(!usual || bare.len() <= BARE_MAX, "{} have none: {bare:?}", bare.len());
    page.was_quiet();
}

/// In reading order, without spaces, because a line may break anywhere, and in lower case.
#[test]
fn the_printed_sheet_has_every_action() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    every_evening(|run, name| {
        let run = run.args(["--width", "200"]);
        let card = run.succeeds();
        let run = run.args(["--as", "html"]);
        page.write(&run.succeeds());
        page.reload();
        let sheet = run.folder().join("printed.pdf");
        std::fs::write(&sheet, page.printed(A4)).unwrap();
        let Some(printed) = words(&sheet) else { return run };
        let printed = close(&printed);
        let work = card.split_once("\nWORK\n").unwrap().1;
        // A card may have nothing to do afterwards.
        let work = ["AFTERWARDS", "CAUTIONS"].iter().fold(work, |work, part| {
            work.split_once(&format!("\n{part}\n")).map_or(work, |(before, _)| before)
        });
        let mut told = 0;
        for line in work.lines().filter(|line| !line.trim().is_empty()) {
            let head = line.split_once(" --").map_or(line, |(head, _)| head);
            assert!(printed.contains(&close(head)), "{name}: {head:?} is not in {printed}");
            told += 1;
        }
        assert!(told > 10, "{name}: {work}");
        run
    });
}

fn close(text: &str) -> String {
    text.split_whitespace().collect::<String>().to_lowercase()
}

/// The longest recipe; the type is that of its style.
#[test]
fn without_script_the_card_prints_on_one_sheet_too() {
    let call = ["card", "ebb-50-reversal", "--at", "19C", "--rolls", "2x135", "--tank", "twin"];
    let Some(mut page) = Stage::untouched(shelf().args(call)) else { return };
    if !letters_are_usual(&mut page) {
        return;
    }
    page.browser("Emulation.setScriptExecutionDisabled", json!({ "value": true }));
    page.reload_without_script();
    for sheet in [A4, LETTER] {
        assert_eq!(pages(&page.printed(sheet)), SIDES, "{sheet:?}");
    }
    assert_eq!(on_paper(&mut page, &[SMALLEST]), [json!(8)]);
}

#[test]
fn a_phone_prints_the_same_as_a_computer() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.press("begin");
    let mut types = Vec::new();
    for size in [(320, 568), (1920, 1080)] {
        page.picture(size, "dark", "before-print");
        assert_eq!(pages(&page.printed(LETTER)), SIDES);
        types.push(on_paper(&mut page, &[SMALLEST, "document.body.getBoundingClientRect().height"]));
        let back = page.value("getComputedStyle(document.getElementById('follow')).display");
        assert_eq!(back, "grid", "the screen is as it was");
    }
    assert_eq!(types[0], types[1]);
    page.was_quiet();
}

/// A box at the left of each action, and a line that separates the margin for notes.
#[test]
fn the_print_has_boxes_to_tick_and_a_margin_for_notes() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    page.printed(A4);
    let boxes = "(() => {
        const drawn = (of, all) => [...document.querySelectorAll(all)].filter((one) => {
            const box = getComputedStyle(one, '::before');
            return box.float === 'left' && parseFloat(box.borderTopWidth) > 0 && parseFloat(box.width) > 5;
        }).length === document.querySelectorAll(all).length && document.querySelectorAll(all).length >= of;
        return [drawn(5, 'section > table tbody tr'), drawn(20, '.work tbody th'), drawn(2, '.ticked li')];
    })()";
    // 14 mm within the line, in pixels of 1/96 inch; beyond it come 6 mm of the sheet's edge.
    let margin = "parseFloat(getComputedStyle(document.body).paddingRight) * 25.4 / 96";
    let times = "parseFloat(getComputedStyle(document.querySelector('h3 span')).fontSize)
        / parseFloat(getComputedStyle(document.documentElement).fontSize)";
    let seen = on_paper(&mut page, &[boxes, margin, times]);
    assert_eq!(seen[0], json!([true, true, true]));
    assert!((seen[1].as_f64().unwrap() - 14.0).abs() < 0.1, "{seen:?}");
    assert!(seen[2].as_f64().unwrap() > 1.6, "a step's time is larger than its words: {seen:?}");
}

const LONG: &str = "wetside 1

film trial {
    speed    ISO 100
}

solution soup {
    role     developer
    needs    100 ml per roll
}

recipe long \"Long\" {
    film     trial
    index    100
NOTES
    develop {
        in       soup stock, one-shot
        between  18 C and 24 C
        time     5:00
    }
}
";

#[test]
fn a_very_long_card_prints_on_several_sheets_in_legible_type() {
    let note = "    note     \"a note that is as long as it takes to fill a column, more or less\"\n";
    let run = Run::new().file("a.wet", LONG.replace("NOTES", &note.repeat(400)));
    let Some(mut page) = Stage::untouched(run.args(["card", "a.wet", "--at", "20C", "--rolls", "1x120"]))
    else {
        return;
    };
    assert!(1 < pages(&page.printed(A4)));
    assert_eq!(on_paper(&mut page, &[SMALLEST]), [json!(8)]);
}
