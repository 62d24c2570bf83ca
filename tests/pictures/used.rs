//! The use of baths over time.

use roxmltree::Document;

use super::{mark, near, number, of_class, text};
use crate::program::Run;

fn autumn() -> Run {
    let run = Run::new().folder_of_repo("recipes/estuary-autumn/journal");
    run.folder_of_repo("recipes/estuary-autumn").file(".git/HEAD", "").below("recipes/estuary-autumn")
}

const CALL: [&str; 4] = ["baths", "autumn-fix-a", "--on", "2026-11-16"];

/// The journal: five rolls on 4 November, five on the 6th and four on the 10th, in a bath of 2026-11-02 for 25. So 14 days
/// are 268 wide and 25 rolls 56 high.
#[test]
fn a_bath_rises_with_each_session_to_its_capacity() {
    let svg = autumn().args(CALL).args(["--as", "svg"]).succeeds();
    let picture = Document::parse(&svg).unwrap();
    let (empty, full) = (mark(&picture, "0", "y") - 3.5, mark(&picture, "25", "y") - 3.5);
    near(empty - full, 56.0);
    let dots: Vec<_> = of_class(&picture, "circle", "motion");
    assert_eq!(dots.len(), 3);
    for (dot, (days, rolls)) in dots.into_iter().zip([(2.0, 5.0), (4.0, 10.0), (8.0, 14.0)]) {
        near(number(dot, "cx"), 40.0 + 268.0 * days / 14.0);
        near(number(dot, "cy"), empty - 56.0 * rolls / 25.0);
    }
    // The capacity is a line of its own, over the whole width.
    let line = of_class(&picture, "polyline", "tonight")[0].attribute("points").unwrap().to_owned();
    assert_eq!(line, format!("40,{full} 308,{full}"));
    let said = text(&picture, "desc");
    assert_eq!(
        said,
        "autumn-fix-a: 14 of 25 rolls on 2026-11-16. 5 by 2026-11-04, 10 by 2026-11-06, 14 by 2026-11-10."
    );
}

#[test]
fn each_used_bath_has_a_picture_on_the_page() {
    let page = autumn().args(["baths", "--on", "2026-11-16", "--as", "html"]).succeeds();
    assert_eq!(page.matches("<svg ").count(), 3);
    let early = autumn().args(["baths", "--on", "2026-11-03", "--as", "html"]).succeeds();
    assert_eq!(early.matches("<svg ").count(), 0, "no session by then");
    let (_, told) = autumn().args(["baths", "--on", "2026-11-03", "--as", "svg"]).fails(2);
    assert!(told.contains("none of these baths was used by 2026-11-03"), "{told}");
    // The picture of a single day, the day of mixing, has no width of zero days.
    let same_day = autumn().args(["baths", "autumn-fix-b", "--on", "2026-11-12", "--as", "html"]).succeeds();
    assert!(!same_day.contains("NaN") && !same_day.contains("inf"), "{same_day}");
}
