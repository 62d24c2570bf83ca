//! `doubt` in a session: a contradiction that the session states itself is advice, and the same one without it an error.

use wetside::source::Level;

use crate::kitchen::Kitchen;

const SESSIONS: &str = r#"wetside 2

film f {
    speed     ISO 100
}

solution fixer {
    role      fixer
    contains  ammonium-thiosulfate
    treats    10 rolls per 1 l
}

bath fix-a {
    in        fixer 1+4
    volume    1 l
    mixed     2026-11-10
}

backlog autumn {
    roll      "E-01" 120 of f
    roll      "E-02" 120 of f shot 2026-12-01
    roll      "E-03" 135 of f
}

session one {
    date      2026-11-05
    recipe    r, fingerprint "46ac83d1"
    backlog   autumn
    slot      1 "E-01" 120
    slot      2 "E-02" 120 doubt "shot on 2026-12-01"
    slot      3 "E-03" 120 doubt "135 in the backlog"
    slot      4 "E-10" 120 doubt "not in the backlog"
    slot      5 "E-10" 120 doubt "twice"
    bath      fix-a doubt "mixed on 2026-11-10"
    cleared   fix 1:20
    cleared   fix last 1:25
    anyway    "E-02"
}

session two {
    date      2026-11-06
    recipe    r, fingerprint "46ac83d1"
    backlog   autumn
    slot      1 "E-01" 120 doubt "developed on 2026-11-05"
}

session three {
    date      2026-11-07
    recipe    r, fingerprint "46ac83d1"
    backlog   autumn
    slot      1 "E-01" 120
}
"#;

/// The names of the findings with a level, and the words that they underline.
fn found(text: &str, level: Level) -> Vec<(&'static str, String)> {
    let kitchen = Kitchen::of(text);
    let findings = kitchen.findings.iter().filter(|finding| finding.level == level);
    findings.map(|finding| (finding.name, text[finding.span.range()].to_owned())).collect()
}

#[test]
fn a_contradiction_with_a_doubt_is_advice() {
    let advice = [
        ("developed-before-shot", "slot      2 \"E-02\" 120 doubt \"shot on 2026-12-01\""),
        ("roll-of-another-format", "slot      3 \"E-03\" 120 doubt \"135 in the backlog\""),
        ("unknown-roll", "slot      4 \"E-10\" 120 doubt \"not in the backlog\""),
        ("developed-twice", "slot      5 \"E-10\" 120 doubt \"twice\""),
        ("unknown-roll", "slot      5 \"E-10\" 120 doubt \"twice\""),
        ("bath-not-there", "bath      fix-a doubt \"mixed on 2026-11-10\""),
        ("developed-twice", "slot      1 \"E-01\" 120 doubt \"developed on 2026-11-05\""),
    ];
    assert_eq!(found(SESSIONS, Level::Advice), advice.map(|(name, words)| (name, words.to_owned())));
    // The third session develops the roll of the first, and neither says that it is in doubt.
    assert_eq!(found(SESSIONS, Level::Error), [("developed-twice", "slot      1 \"E-01\" 120".to_owned())]);
}

#[test]
fn the_same_contradiction_without_a_doubt_is_an_error() {
    let lines = SESSIONS.lines().filter(|line| !line.contains("slot      5"));
    let certain: Vec<&str> = lines.map(|line| line.split(" doubt ").next().unwrap()).collect();
    let certain = certain.join("\n");
    assert_eq!(found(&certain, Level::Advice), []);
    let errors = found(&certain, Level::Error);
    let mut names: Vec<&str> = errors.iter().map(|(name, _)| *name).collect();
    names.sort_unstable();
    let wanted = [
        "bath-not-there",
        "developed-before-shot",
        "developed-twice",
        "developed-twice",
        "roll-of-another-format",
        "unknown-roll",
    ];
    assert_eq!(names, wanted);
    let twice = SESSIONS.replace(" doubt \"not in the backlog\"", "").replace(" doubt \"twice\"", "");
    assert!(found(&twice, Level::Error).iter().any(|(name, _)| *name == "repeated-label"));
}

/// A session that did not happen contradicts nothing.
#[test]
fn a_retracted_session_has_no_findings() {
    let retracted = "retract one because \"a slip\"\nretract three because \"a slip\"\n";
    let text = format!("{SESSIONS}\n{retracted}");
    assert_eq!((found(&text, Level::Error), found(&text, Level::Advice)), (Vec::new(), Vec::new()));
}

/// A roll that was developed twice is compared with the session that is not in doubt, whichever is the earlier.
#[test]
fn a_doubt_does_not_hide_a_contradiction_of_two_certain_sessions() {
    let doubted = "slot      1 \"E-01\" 120 doubt \"another label\"";
    let text = SESSIONS.replacen("slot      1 \"E-01\" 120", doubted, 1);
    assert_eq!(found(&text, Level::Error), []);
    let more = "session four {\ndate 2026-11-08\nrecipe r, fingerprint \"46ac83d1\"\nbacklog autumn\nslot 1 \"E-01\" 120\n}\n";
    assert_eq!(found(&format!("{text}{more}"), Level::Error).len(), 1);
}

#[test]
fn a_file_of_edition_1_has_no_doubt() {
    let kitchen = Kitchen::of(&SESSIONS.replacen("wetside 2", "wetside 1", 1));
    assert!(kitchen.findings.iter().any(|finding| finding.name == "newer-edition"));
}
