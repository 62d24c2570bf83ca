//! Two recipes in one picture: charts on one axis, and sessions on one clock.

use roxmltree::Document;

use super::{mark, near, number, of_class, text};
use crate::evenings::shelf;
use crate::printed::words;
use crate::program::Run;

const CALL: [&str; 3] = ["compare", "estuary-400-mq", "wheelhouse-400-mq"];

fn picture() -> String {
    shelf().args(CALL).args(["--as", "svg"]).fails(1).0
}

/// The centres of the squares of the second chart, without that of the legend.
fn squares(picture: &Document<'_>) -> Vec<[f64; 2]> {
    let areas = of_class(picture, "rect", "tonight").into_iter();
    let centres = areas.map(|area| {
        ["x", "y"]
            .map(|name| number(area, name) + number(area, if name == "x" { "width" } else { "height" }) / 2.0)
    });
    centres.filter(|[x, _]| *x > 50.0).collect()
}

/// The charts as the recipes have them: 12:00, 10:00, 8:15 and 7:00, and 11:15, 9:30, 8:00 and 6:45, at 18, 20, 22, 24 °C.
#[test]
fn both_charts_have_their_points_on_one_axis() {
    let svg = picture();
    let picture = Document::parse(&svg).unwrap();
    let (low, high) = (mark(&picture, "6:00", "y") - 3.5, mark(&picture, "12:00", "y") - 3.5);
    let (cold, warm) = (mark(&picture, "18 °C", "x"), mark(&picture, "24 °C", "x"));
    let place = |degrees: f64, seconds: f64| {
        [cold + (warm - cold) * (degrees - 18.0) / 6.0, low + (high - low) * (seconds - 360.0) / 360.0]
    };
    let dots = of_class(&picture, "circle", "motion").into_iter();
    let dots: Vec<[f64; 2]> =
        dots.map(|dot| [number(dot, "cx"), number(dot, "cy")]).filter(|[x, _]| *x > 50.0).collect();
    let charts = [(dots, [720.0, 600.0, 495.0, 420.0]), (squares(&picture), [675.0, 570.0, 480.0, 405.0])];
    for (points, seconds) in charts {
        assert_eq!(points.len(), 4);
        for ((point, seconds), degrees) in points.iter().zip(seconds).zip([18.0, 20.0, 22.0, 24.0]) {
            let meant = place(degrees, seconds);
            near(point[0], meant[0]);
            near(point[1], meant[1]);
        }
    }
    let said = text(&picture, "desc");
    assert!(said.contains("develop of wheelhouse-400-mq: 11:15 at 18 °C, 9:30 at 20 °C"), "{said}");
}

/// Without a tank the first takes 12:00 + 1:00 + 4:00 + 1:27.5 + 0:30 = 18:57.5, which is 292 wide and is written 18:58. The stop, which is
/// agitated all the time, is at 12:00 and at 11:15. As long as it is only the first agitation of the second developer.
#[test]
fn both_sessions_begin_together_on_one_clock() {
    let svg = picture();
    let picture = Document::parse(&svg).unwrap();
    let wide = 292.0 * 60.0 / 1137.5;
    let stops: Vec<_> = of_class(&picture, "rect", "motion")
        .into_iter()
        .filter(|area| (number(*area, "width") - wide).abs() < 0.01)
        .collect();
    let stops: Vec<_> = stops.into_iter().filter(|area| number(*area, "x") > 100.0).collect();
    let [first, second] = stops[..] else { panic!("{} stops", stops.len()) };
    near(number(first, "x"), 20.0 + 292.0 * 720.0 / 1137.5);
    near(number(second, "x"), 20.0 + 292.0 * 675.0 / 1137.5);
    assert!(number(first, "y") + number(first, "height") < number(second, "y"), "one is above the other");
    let said = text(&picture, "desc");
    for words in ["estuary-400-mq takes 18:58.", "develop 12:00 → 11:15.", "fix 4:00 → 2:00.", "stop 1:00."]
    {
        assert!(said.contains(words), "{words}\n{said}");
    }
}

#[test]
fn the_page_and_the_paper_have_the_pictures_and_text_has_none() {
    let page = shelf().args(CALL).args(["--as", "html"]).fails(1).0;
    assert_eq!(page.matches("<svg ").count(), 2);
    let ids: Vec<&str> = page.split("id=\"").skip(1).map(|part| part.split('"').next().unwrap()).collect();
    let mut once = ids.clone();
    once.sort_unstable();
    once.dedup();
    assert_eq!(once.len(), ids.len(), "{ids:?}");
    assert!(!shelf().args(CALL).fails(1).0.contains("on one clock"));
    let run = shelf().args(CALL).args(["-o", "changes.pdf"]);
    run.fails(1);
    let Some(words) = words(&run.folder().join("changes.pdf")) else { return };
    assert!(words.contains("the sessions on one clock, at 18 °C, without a tank"), "{words}");
}

/// A file of many recipes has many comparisons, and one picture has two recipes.
#[test]
fn a_picture_is_for_two_recipes() {
    let two = "wetside 1\nfilm f {\n    speed ISO 100\n}\n".to_owned()
        + &["a", "b"].map(|name| format!("recipe {name} {{\n    film f\n    presoak {{\n        time 2:00\n        agitate none\n    }}\n}}\n")).concat();
    let run = Run::new().file("two.wet", two);
    let (_, told) = run.again().args(["compare", "two.wet", "two.wet", "--as", "svg"]).fails(2);
    assert!(told.contains("a picture is for two recipes") && told.contains("--recipe NAME"), "{told}");
    let one = run.args(["compare", "two.wet:a", "two.wet:b", "--as", "svg"]).succeeds();
    assert!(Document::parse(&one).is_ok() && one.contains("presoak 2:00"), "{one}");
}
