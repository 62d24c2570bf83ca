//! Pictures on paper: which sheets have them, their vectors against the schedule's JSON, and their alternative text.

use serde_json::Value;

use super::{PAPERS, printed, titled_with, words};
use crate::evenings::{SHELF, laid_out, shelf};

const EVENING: [&str; 3] = ["estuary-400-mq", "21.5C", "5x120"];

/// The alternative text of a sheet's pictures: hexadecimal UTF-16 with a byte order mark, or plain letters.
fn descriptions(bytes: &[u8]) -> Vec<String> {
    let text: String = bytes.iter().copied().map(char::from).collect();
    let after = text.split("/Alt ").skip(1).map(|rest| rest.split_once("\n>> BDC").unwrap().0.to_owned());
    after.map(|written| decoded(&written)).collect()
}

fn decoded(written: &str) -> String {
    let Some(digits) = written.strip_prefix("<FEFF") else { return written.to_owned() };
    let digits = digits.trim_end_matches('>').as_bytes();
    let units = digits.chunks(4).map(|four| u16::from_str_radix(str::from_utf8(four).unwrap(), 16).unwrap());
    String::from_utf16(&units.collect::<Vec<_>>()).unwrap()
}

/// Left edge and width on paper of each area in the colour of agitation, #173f5a: 0x17 is 23, 23 / 255 is 0.09019…
/// Each picture has its own scale and origin.
fn moved(bytes: &[u8]) -> Vec<[f64; 2]> {
    let text: String = bytes.iter().copied().map(char::from).collect();
    let numbers = |line: &str| line.split(' ').map(|number| number.parse().unwrap()).collect::<Vec<f64>>();
    let (mut scale, mut corner, mut inked, mut areas) = (1.0, 0.0, false, Vec::new());
    for line in text.lines() {
        if let Some(matrix) = line.strip_suffix(" cm") {
            let matrix = numbers(matrix);
            (scale, corner) = (matrix[0], matrix[4]);
        } else if let Some(colour) = line.strip_suffix(" rg") {
            inked = colour.starts_with("0.0901");
        } else if let Some(area) = line.strip_suffix(" re").filter(|_| inked) {
            let area = numbers(area);
            areas.push([corner + scale * area[0], scale * area[2]]);
        }
    }
    areas
}

/// A picture whose words are as large as the text around it is 320 points wide, and A6 has 258.
#[test]
fn all_but_the_smallest_paper_have_pictures() {
    let mut run = shelf();
    for paper in PAPERS {
        let bytes;
        (run, bytes) = printed(run, EVENING, "tall-five", paper);
        let descriptions = descriptions(&bytes);
        assert_eq!(descriptions.len(), if paper == "a6" { 0 } else { 2 }, "{paper}: {descriptions:?}");
    }
}

/// The text of the pictures in SVG, which other tests compare with the card.
#[test]
fn pictures_on_paper_have_the_text_of_the_svg() {
    let (run, bytes) = printed(shelf(), EVENING, "tall-five", "a4");
    let mut run = run.again();
    for (description, form) in descriptions(&bytes).into_iter().zip(["strip", "curve"]) {
        run =
            run.args(["card", EVENING[0], "--at", EVENING[1], "--rolls", EVENING[2], "--tank", "tall-five"]);
        run = run.args(["--as", form]);
        let svg = run.succeeds();
        let picture = roxmltree::Document::parse(&svg).unwrap();
        let text =
            |tag| picture.descendants().find(|node| node.has_tag_name(("http://www.w3.org/2000/svg", tag)));
        let text = |tag| text(tag).unwrap().text().unwrap();
        assert_eq!(description, format!("{}. {}", text("title"), text("desc")));
        run = run.again();
    }
}

#[test]
fn every_agitation_on_paper_is_to_scale() {
    let mut run = shelf();
    for evenings in &SHELF {
        let (at, rolls) = evenings.all().next().unwrap();
        let bytes;
        (run, bytes) = printed(run, [evenings.recipe, at, rolls], evenings.tank, "a4");
        let call = ["card", evenings.recipe, "--at", at, "--rolls", rolls, "--tank", evenings.tank];
        run = run.again().args(call).args(["--as", "json"]);
        let schedule = laid_out(&serde_json::from_str(&run.succeeds()).unwrap());
        if descriptions(&bytes).is_empty() {
            continue;
        }
        let steps = schedule["steps"].as_array().unwrap().iter();
        let events = steps.flat_map(|step| step["events"].as_array().unwrap());
        let events: Vec<&Value> = events.filter(|event| event["do"] == "agitate").collect();
        if events.is_empty() {
            continue;
        }
        let mut areas = moved(&bytes);
        areas.pop().expect("the legend has one");
        assert_eq!(areas.len(), events.len(), "{}", evenings.recipe);
        // 304 of the strip's 320 units are the whole evening. Its words are 10 units high, and on paper 10 points, or 8
        // beside a chart.
        let all = 304.0 * if descriptions(&bytes).len() > 1 { 0.8 } else { 1.0 };
        let total = schedule["total_ms"].as_f64().unwrap();
        let first = areas[0][0] - all * events[0]["at_ms"].as_f64().unwrap() / total;
        for ([left, width], event) in areas.into_iter().zip(events) {
            let (at, length) = (event["at_ms"].as_f64().unwrap(), event["for_ms"].as_f64().unwrap());
            assert!((left - first - all * at / total).abs() < 0.01, "{}: {event}", evenings.recipe);
            assert!((width - all * length / total).abs() < 0.01, "{}: {event}", evenings.recipe);
        }
    }
}

#[test]
fn the_text_of_a_picture_can_be_searched() {
    let (run, _) = printed(shelf(), EVENING, "tall-five", "a4");
    let Some(paper) = words(&run.folder().join("card.pdf")) else { return };
    for sentence in [
        "the session to scale, 18:37 in all",
        "8:39 · stop 1:00 · at 21.5 °C · citric-stop 1+19",
        "tonight 8:39 at 21.5 °C",
    ] {
        assert!(paper.contains(sentence), "{sentence}: {paper}");
    }
}

/// A description is written as hexadecimal digits or with its brackets escaped, so that it ends where it should.
#[test]
fn a_hostile_title_ends_no_description() {
    let run = titled_with(") >> BDC EMC (", "a4");
    let bytes = std::fs::read(run.folder().join("card.pdf")).unwrap();
    let text: String = bytes.iter().copied().map(char::from).collect();
    let marks = [" BDC\n", "\nEMC\n"].map(|mark| text.matches(mark).count());
    assert_eq!(marks, [1, 1], "a strip, and no chart");
}
