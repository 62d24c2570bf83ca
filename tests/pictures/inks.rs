//! The inks of all pictures against their grounds.

use super::ESTUARY;
use crate::evenings::shelf;

/// The relative luminance of a colour `#173f5a`, by the Web Content Accessibility Guidelines 2.2.
fn luminance(colour: &str) -> f64 {
    let part = |at: usize| {
        let of = f64::from(u8::from_str_radix(&colour[at..at + 2], 16).unwrap()) / 255.0;
        if of <= 0.04045 { of / 12.92 } else { ((of + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
}

fn contrast(one: &str, other: &str) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// 3 to 1 for each mark on both grounds, by criterion 1.4.11; and agitation is told from the bath that it is drawn on.
#[test]
fn every_mark_is_seen_on_light_and_dark() {
    let svg = shelf().args(ESTUARY).args(["--as", "strip"]).succeeds();
    let style = svg.split_once("<style>").unwrap().1.split_once("</style>").unwrap().0;
    let rules = |ground: &str| {
        let rest = style.rsplit_once("@media").unwrap();
        let own = if luminance(ground) > 0.5 { rest.0 } else { rest.1 };
        let rules = own.split(".picture .").skip(1).map(|rule| {
            let (name, colour) = rule.split_once("{color:").unwrap();
            (name.to_owned(), colour[..7].to_owned())
        });
        rules.collect::<Vec<_>>()
    };
    // The grounds of a file of its own, and those of the page.
    for ground in ["#ffffff", "#161616"] {
        assert!(style.contains(&format!(".picture{{background:{ground}}}")), "{style}");
    }
    let page = shelf().args(ESTUARY).args(["--as", "html"]).succeeds();
    let papers: Vec<&str> = page
        .split("--paper: #")
        .skip(1)
        .map(|rest| &rest[..6])
        .filter(|colour| colour.bytes().all(|byte| byte.is_ascii_hexdigit()))
        .collect();
    let papers: Vec<String> = papers.iter().map(|colour| format!("#{colour}")).collect();
    assert!(papers.len() >= 2, "{papers:?}");
    for ground in ["#ffffff", "#161616"].into_iter().chain(papers.iter().take(2).map(String::as_str)) {
        let rules = rules(ground);
        assert_eq!(rules.len(), 7, "{rules:?}");
        for (name, colour) in &rules {
            let ratio = contrast(colour, ground);
            assert!(ratio >= 3.0, "{name} {colour} on {ground}: {ratio}");
        }
        let of = |name: &str| &rules.iter().find(|(own, _)| own == name).unwrap().1;
        assert!(contrast(of("motion"), of("bath")) >= 3.0);
    }
}
