//! `find`: recipes and sessions by their fingerprint.

use super::{list, root, words};
use crate::program::Run;

fn find(run: &Run, text: &str) -> String {
    run.again().args(["find", text]).succeeds()
}

#[test]
fn a_fingerprint_is_found_as_a_person_writes_it() {
    let run = root();
    let all = list(&run, []);
    let ferry = words(&all)[0][1].to_owned();
    let text = find(&run, &ferry);
    assert_eq!(
        words(&text)[0].join(" "),
        format!("recipe ferry {ferry} ferry-100 mine.wet Ferry, with a stop")
    );
    assert_eq!(text.lines().count(), 1);
    let plain = ferry.replace('-', "");
    for written in [ferry.to_lowercase(), plain.clone(), plain.replace('0', "o"), plain.replace('1', "l")] {
        assert_eq!(find(&run, &written), text, "{written}");
    }
    assert_eq!(find(&run, &plain[..5]), text);
    // The whole fingerprint is found too, and one that goes on in another way is not.
    let json = run.again().args(["list", "--film", "ferry-100", "--as", "json"]).succeeds();
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let full = json["things"][0]["fingerprint"].as_str().unwrap();
    assert_eq!(find(&run, full), text);
    let last = if full.ends_with('0') { "G" } else { "0" };
    let other = format!("{}{last}", &full[..52]);
    let (said, _) = run.again().args(["find", &other]).fails(1);
    assert_eq!(said, "nothing has this fingerprint, now or in any commit\n");
}

#[test]
fn recipes_of_collections_and_sessions_are_found() {
    let run = root();
    let all = list(&run, ["--film", "estuary-400"]);
    let usual = words(&all)[0][1].to_owned();
    let session = format!(
        "wetside 2\n\nsession 2026-11-16-7m2q {{\n    date 2026-11-16\n    recipe old-name, fingerprint \"{}\"\n    slot 1 120\n}}\n",
        usual.replace('-', "")
    );
    let run = run.file("journal/2026-11-16-7m2q.wet", session);
    let text = find(&run, &usual);
    let found: Vec<Vec<&str>> = words(&text).into_iter().map(|words| words[..2].to_vec()).collect();
    assert_eq!(found, [["recipe", "jetty"], ["recipe", "club/usual"], ["session", "2026-11-16-7m2q"]]);
    assert!(text.contains("old-name"), "{text}");
}

#[test]
fn an_old_fingerprint_is_found_in_sessions_only() {
    let run = root();
    let text = find(&run, "46AC83D1");
    assert_eq!(words(&text)[0].join(" "), "session evening-1 46ac83d1 ferry 2026-11-03 bottles.wet");
    assert!(text.contains("only sessions have them"), "{text}");
    let (said, _) = run.again().args(["find", "46ac83d2"]).fails(1);
    assert!(said.contains("nothing has this") && said.contains("only sessions have them"), "{said}");
}

#[test]
fn what_is_no_fingerprint_is_refused() {
    for text in ["W12", "X301-W94N", "W301-W94U", "46ac83d", ""] {
        let (_, error) = root().args(["find", text]).fails(2);
        assert!(error.contains("a fingerprint is a W and digits"), "{text}: {error}");
    }
}
