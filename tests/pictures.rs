//! Pictures of a card, read back as XML: positions against the schedule's JSON and against values calculated by hand,
//! descriptions, and hostile titles.

mod compared;
mod inks;
mod used;

use roxmltree::{Document, Node};
use serde_json::Value;

use crate::evenings::{SHELF, laid_out, output, shelf};
use crate::program::Run;

const ESTUARY: [&str; 8] =
    ["card", "estuary-400-mq", "--at", "21.5C", "--rolls", "5x120", "--tank", "tall-five"];

fn of_class<'a>(picture: &'a Document<'a>, tag: &str, class: &str) -> Vec<Node<'a, 'a>> {
    let all = picture.descendants().filter(|node| node.has_tag_name(("http://www.w3.org/2000/svg", tag)));
    all.filter(|node| node.attribute("class") == Some(class)).collect()
}

#[track_caller]
fn number(node: Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).unwrap().parse().unwrap()
}

fn text<'a>(picture: &'a Document<'a>, tag: &str) -> &'a str {
    picture.descendants().find(|node| node.tag_name().name() == tag).unwrap().text().unwrap()
}

/// The positions of the text of an axis.
#[track_caller]
fn mark(picture: &Document<'_>, words: &str, coordinate: &str) -> f64 {
    let found = of_class(picture, "text", "text").into_iter().find(|node| node.text() == Some(words));
    number(found.unwrap_or_else(|| panic!("no mark {words}")), coordinate)
}

#[track_caller]
fn near(left: f64, right: f64) {
    assert!((left - right).abs() < 0.01, "{left} is not {right}");
}

/// The centres of the dots for tonight, without that of the legend.
fn tonight(picture: &Document<'_>) -> Vec<[f64; 2]> {
    let dots = of_class(picture, "circle", "tonight").into_iter();
    let places = dots.map(|dot| [number(dot, "cx"), number(dot, "cy")]);
    places.filter(|[x, _]| *x > 50.0).collect()
}

/// The position of a time of this chart: its axis has 8:00 and 10:00, and text is 3.5 below its line.
fn height(picture: &Document<'_>, seconds: f64) -> f64 {
    let (eight, ten) = (mark(picture, "8:00", "y") - 3.5, mark(picture, "10:00", "y") - 3.5);
    eight + (ten - eight) * (seconds - 480.0) / 120.0
}

/// Tags and attributes with their values, in order.
fn skeleton(picture: &Document<'_>) -> Vec<String> {
    let elements = picture.descendants().filter(Node::is_element);
    let description = elements.map(|node| {
        let attributes = node.attributes().map(|each| format!("{}={}", each.name(), each.value()));
        format!("{} {:?}", node.tag_name().name(), attributes.collect::<Vec<_>>())
    });
    description.collect()
}

/// A recipe with this title and two steps with charts.
fn two_charts(title: &str) -> Run {
    let step = |name: &str| {
        format!(
            "    develop{name} {{\n        in soup stock, one-shot\n        chart {{\n            18 C 9:30\n            \
             22 C 6:45\n        }}\n        agitate first 10 s, then 5 s every 30 s\n    }}\n"
        )
    };
    let text = format!(
        "wetside 1\nfilm trial-film {{\n    speed ISO 100\n}}\nsolution soup {{\n    role developer\n    \
         contains metol\n    needs 100 ml per roll\n}}\nrecipe trial \"{title}\" {{\n    film trial-film\n{}{}}}\n",
        step(""),
        step(" second"),
    );
    Run::new().file("trial.wet", text).args(["card", "trial.wet", "--at", "20C", "--rolls", "1x120"])
}

#[test]
fn tonight_is_on_the_chart_at_the_place_worked_by_hand() {
    let svg = shelf().args(ESTUARY).args(["--as", "curve"]).succeeds();
    let picture = Document::parse(&svg).unwrap();
    let (x20, x22) = (mark(&picture, "20 °C", "x"), mark(&picture, "22 °C", "x"));
    // R1: 10:00 at 20 °C and 8:15 at 22 °C; 600 s · (495 / 600)^0.75 = 519.4 s, so 519 s = 8:39.
    let [[x, y]] = tonight(&picture)[..] else { panic!("one dot is for tonight") };
    near(x, x20 + 0.75 * (x22 - x20));
    near(y, height(&picture, 519.0));
    // Half way between the two points the time is their geometric mean: √(600 s · 495 s) = 544.977 s.
    let line = of_class(&picture, "polyline", "motion")[0].attribute("points").unwrap();
    let half = f64::midpoint(x20, x22);
    let places = line.split(' ').map(|place| place.split_once(',').unwrap());
    let mut places = places.map(|(x, y)| (x.parse::<f64>().unwrap(), y.parse::<f64>().unwrap()));
    let (_, y) = places.find(|(x, _)| (x - half).abs() < 0.01).unwrap();
    near(y, height(&picture, 544.977));
}

#[test]
fn a_drifting_bath_has_a_mark_at_both_ends() {
    let run = shelf().args(["card", "estuary-400-mq", "--at", "22C", "--ending", "20C", "--rolls", "5x120"]);
    let svg = run.args(["--tank", "tall-five", "--as", "curve"]).succeeds();
    let picture = Document::parse(&svg).unwrap();
    let [[from, _], [to, _]] = tonight(&picture)[..] else { panic!("two dots are for tonight") };
    near(from, mark(&picture, "22 °C", "x"));
    near(to, mark(&picture, "20 °C", "x"));
    assert!(text(&picture, "desc").contains(" from 22 °C to 20 °C."), "{svg}");
}

#[test]
fn each_step_with_a_chart_is_drawn_separately() {
    let svg = two_charts("Two").args(["--as", "curve"]).succeeds();
    let picture = Document::parse(&svg).unwrap();
    let dots = tonight(&picture);
    assert_eq!(dots.len(), 2);
    near(dots[0][0], dots[1][0]);
    assert!(dots[1][1] - dots[0][1] > 150.0, "{dots:?}");
    let description = text(&picture, "desc");
    assert!(description.contains("The chart of develop: 9:30 at 18 °C, 6:45 at 22 °C"), "{description}");
    assert!(
        description.contains("The chart of develop second: 9:30 at 18 °C, 6:45 at 22 °C"),
        "{description}"
    );
}

#[test]
fn the_json_has_the_chart_that_is_drawn() {
    let run = shelf().args(ESTUARY).args(["--as", "json"]);
    let schedule: Value = serde_json::from_str(&run.succeeds()).unwrap();
    let written = [(18, 720_000), (20, 600_000), (22, 495_000), (24, 420_000)];
    let written = written.map(|(at, time)| serde_json::json!({ "temperature_c": at, "time_ms": time }));
    assert_eq!(schedule["steps"][0]["chart"], Value::from(written.to_vec()));
    let others = schedule["steps"].as_array().unwrap().iter().skip(1);
    assert!(others.clone().count() == 5 && others.clone().all(|step| step.get("chart").is_none()));
}

#[test]
fn every_agitation_on_the_shelf_is_to_scale() {
    let mut run = shelf();
    for evenings in &SHELF {
        let (at, rolls) = evenings.all().next().unwrap();
        let call = ["card", evenings.recipe, "--at", at, "--rolls", rolls, "--tank", evenings.tank];
        run = run.again().args(call).args(["--as", "json"]);
        let schedule = laid_out(&serde_json::from_str(&output(&run)).unwrap());
        run = run.again().args(call).args(["--as", "strip"]);
        let svg = run.succeeds();
        let picture = Document::parse(&svg).unwrap();
        // The strip goes from 8 to 312; the legend's own sample is the last.
        let total = schedule["total_ms"].as_f64().unwrap();
        let steps = schedule["steps"].as_array().unwrap().iter();
        let events = steps.flat_map(|step| step["events"].as_array().unwrap());
        let moved: Vec<&Value> = events.filter(|event| event["do"] == "agitate").collect();
        let mut areas = of_class(&picture, "rect", "motion");
        areas.pop();
        assert_eq!(areas.len(), moved.len(), "{}", evenings.recipe);
        for (area, event) in areas.into_iter().zip(moved) {
            near(number(area, "x"), 8.0 + 304.0 * event["at_ms"].as_f64().unwrap() / total);
            near(number(area, "width"), 304.0 * event["for_ms"].as_f64().unwrap() / total);
        }
    }
}

#[test]
fn text_does_not_overlap_or_leave_the_picture() {
    let mut run = shelf();
    for evenings in &SHELF {
        for (at, rolls) in evenings.two() {
            let call = ["card", evenings.recipe, "--at", at, "--rolls", rolls, "--tank", evenings.tank];
            run = run.again().args(call).args(["--as", "strip"]);
            let svg = run.succeeds();
            let picture = Document::parse(&svg).unwrap();
            let boxes: Vec<[f64; 4]> = of_class(&picture, "text", "text").into_iter().map(extent).collect();
            for (at, one) in boxes.iter().enumerate() {
                assert!(one[0] >= 0.0 && one[2] <= 320.0, "{run}: {one:?}");
                for other in &boxes[at + 1..] {
                    let apart =
                        one[2] <= other[0] || other[2] <= one[0] || one[3] <= other[1] || other[3] <= one[1];
                    assert!(apart, "{run}: {one:?} and {other:?}");
                }
            }
        }
    }
}

/// The edges of text with letters half as wide as high: left, upper, right and lower.
fn extent(node: Node<'_, '_>) -> [f64; 4] {
    let (x, foot, size) = (number(node, "x"), number(node, "y"), number(node, "font-size"));
    let letters = u16::try_from(node.text().unwrap().chars().count()).unwrap();
    let wide = f64::from(letters) * size * 0.5;
    let left = match node.attribute("text-anchor") {
        Some("start") => x,
        Some("middle") => x - wide / 2.0,
        other => {
            assert_eq!(other, Some("end"));
            x - wide
        }
    };
    [left, foot - size * 0.8, left + wide, foot + size * 0.2]
}

#[test]
fn the_description_of_the_strip_matches_the_card() {
    let svg = shelf().args(ESTUARY).args(["--as", "strip"]).succeeds();
    let picture = Document::parse(&svg).unwrap();
    let description = text(&picture, "desc");
    // 18:36.5 is 18:37 in whole seconds. The card has the pour full at 0:25, eight movements of 10 s up to 8:00 after the first, and 8:19 to drain.
    let develop = "18:37 in all. develop in mq-borax 1+1 at 21.5 °C from 0:00 to 8:39; pour at 0:00 for 0:25; \
                   drain at 8:19 for 0:20; agitated 9 times between 0:25 and 8:10. ";
    assert!(description.starts_with(develop), "{description}");
    assert!(description.ends_with(" dry from 18:37 to 3:18:37, not to scale."), "{description}");
}

#[test]
fn a_hostile_title_changes_no_element() {
    let hostile = "</title></svg><script>alert(1)</script><image href='x'/>&amp; ]]> <!-- \u{ffff} -->";
    for form in ["curve", "strip"] {
        let (plain, other) = (two_charts("Two"), two_charts(hostile));
        let (plain, other) = (plain.args(["--as", form]).succeeds(), other.args(["--as", form]).succeeds());
        let (plain, other) = (Document::parse(&plain).unwrap(), Document::parse(&other).unwrap());
        assert_eq!(skeleton(&plain), skeleton(&other));
        assert!(text(&other, "title").starts_with("</title></svg><script>alert(1)</script>"));
    }
}

#[test]
fn a_picture_is_self_contained_and_has_a_title() {
    for form in ["curve", "strip"] {
        let svg = shelf().args(ESTUARY).args(["--as", form]).succeeds();
        let picture = Document::parse(&svg).unwrap();
        let root = picture.root_element();
        assert_eq!(root.attribute("role"), Some("img"));
        let named = root.attribute("aria-labelledby").unwrap().split(' ');
        let found = named.map(|id| {
            picture.descendants().find(|node| node.attribute("id") == Some(id)).unwrap().tag_name().name()
        });
        assert_eq!(found.collect::<Vec<_>>(), ["title", "desc"]);
        let tags = ["svg", "title", "desc", "style", "rect", "polyline", "circle", "text"];
        for node in picture.descendants().filter(Node::is_element) {
            assert!(tags.contains(&node.tag_name().name()), "{node:?}");
            assert!(node.attributes().all(|each| each.name() != "href"), "{node:?}");
        }
        let style = text(&picture, "style");
        assert!(
            style.contains("prefers-color-scheme") && !style.contains("url") && !style.contains("@import")
        );
    }
}

#[test]
fn an_output_name_ending_in_svg_gets_the_chart() {
    let run = shelf().args(ESTUARY).args(["-o", "tonight.svg"]);
    assert_eq!(run.succeeds(), "");
    let written = std::fs::read_to_string(run.folder().join("tonight.svg")).unwrap();
    assert_eq!(written, run.again().args(ESTUARY).args(["--as", "curve"]).succeeds());
}

#[test]
fn the_error_for_a_recipe_without_a_chart_suggests_the_strip() {
    let call = ["card", "saltmarsh-100-two-bath", "--at", "19C", "--rolls", "5x120", "--tank", "tall-five"];
    let run = shelf().args(call).args(["-o", "tonight.svg"]);
    let (_, description) = run.fails(2);
    assert!(
        description.contains("no step of saltmarsh-100-two-bath takes its time from a chart"),
        "{description}"
    );
    assert!(description.contains("write --as strip"), "{description}");
    assert!(!run.folder().join("tonight.svg").exists());
    assert!(run.again().args(call).args(["--as", "strip"]).succeeds().starts_with("<svg "));
}

#[test]
fn the_legend_of_a_strip_says_how_the_material_moves() {
    let strip = |call: &[&str]| {
        let run = call.iter().fold(shelf(), |run, word| run.arg(*word));
        run.args(["--as", "strip"]).succeeds()
    };
    let trays = ["card", "gull-lith", "--at", "25C", "--rolls", "1x24x30cm", "--tank", "print-trays"];
    assert!(strip(&trays).contains(">lower, lift<"));
    assert!(strip(&ESTUARY).contains(">pour, drain<"));
}
