//! Two fixing baths of one solution: the bottles, the counts, the session, and when bath two moves up.
//!
//! A sheet of 24 x 30 cm is 720 / 6.4516 / 80 = 1.395 rolls. A litre at 1+9 treats 40 rolls, which are 28 sheets: 28 are
//! 39.06 rolls, and 29 are 40.46.

use serde_json::Value;

use crate::program::Run;

const PRINTS: &str = "wetside 2

paper headland-fb \"Headland\" {
    source    \"invented\"
}

solution print-fix \"Fixer for prints\" {
    role      fixer
    contains  ammonium-thiosulfate, sodium-sulfite
    treats    40 rolls per 1 l at 1+9
    keeps     1 years
    keeps     1 weeks at 1+9
    source    \"common practice, no source\"
}

tank print-trays \"Trays\" {
    reels     24x30cm x 1, 1 l each
    holds     1 l
    transfer  10 s
}

recipe headland-print \"Headland, fixed twice\" {
    paper     headland-fb
    index     6
    light     safelight \"amber, 1.2 m away\"
    between   18 C and 24 C

    develop {
        in        water
        time      3:00
        between   18 C and 24 C
        agitate   continuous, by rocking
    }
    fix first {
        in        print-fix 1+9 bath one, reused
        time      3:00
        agitate   continuous, by rocking
    }
    fix second {
        in        print-fix 1+9 bath two, becomes one
        time      3:00
        agitate   continuous, by rocking
        light     room
    }
    wash {
        flow      4 l/min
        time      60 min
    }
    dry {
        time      12 h
    }
}
";

/// A darkroom with these bottles of the fixer, mixed two days apart, and a session of some sheets in the first two.
fn darkroom(bottles: &[&str], sheets: u32, more: &str) -> Run {
    let bottle = |(name, day): (&&str, u32)| {
        format!(
            "bath {name} {{\n    in        print-fix 1+9\n    volume    1 l\n    mixed     2026-11-{day}\n}}\n"
        )
    };
    let bottles: String = bottles.iter().zip(20..).map(bottle).collect();
    let slots: String = (1..=sheets).map(|slot| format!("    slot      {slot} 24x30cm\n")).collect();
    let session = format!(
        "session one {{\n    date      2026-11-22\n    recipe    headland-print, fingerprint \"46ac83d1\"\n{slots}    bath      fix-a\n    bath      fix-b, second\n}}\n"
    );
    let session = if sheets > 0 { session } else { String::new() };
    let text = format!("wetside 2\n\nuse \"prints.wet\"\n\n{bottles}{session}{more}");
    Run::new().file("prints.wet", PRINTS).file("darkroom.wet", text)
}

fn card(run: &Run, more: &[&str]) -> Run {
    let call = ["card", "headland-print", "--at", "20C", "--rolls", "1x24x30cm", "--tank", "print-trays"];
    let run = run.again().args(call).args(["--date", "2026-11-25"]);
    more.iter().fold(run, |run, one| run.arg(*one))
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// 27 sheets are 37.67 rolls; after tonight's one 0.94 of 40 is left, and a sheet more would need 1.395.
#[test]
fn afterwards_the_second_bottle_moves_up_when_the_first_takes_no_more() {
    let run = darkroom(&["fix-a", "fix-b"], 27, "");
    let text = flat(&card(&run, &["--bath", "one=fix-a,two=fix-b"]).succeeds());
    for line in [
        "take 1000 ml from fix-a at 20 °C: 37.67 rolls treated by 2026-11-25, 0.94 rolls left after tonight",
        "take 1000 ml from fix-b at 20 °C: 0 rolls treated by 2026-11-25",
        "Fixer for prints 1+9: discard bath one, fix-a (0.94 rolls left); use bath two as bath one, and make a new bath two",
    ] {
        assert!(text.contains(line), "{line}\n{text}");
    }
    // With 26 sheets before, 2.33 rolls are left after tonight: enough for one more sheet.
    let run = darkroom(&["fix-a", "fix-b"], 26, "");
    let text = flat(&card(&run, &[]).succeeds());
    assert!(text.contains("once bath one is exhausted, discard it; use bath two as bath one"), "{text}");
}

#[test]
fn without_bath_the_bottle_that_treated_more_is_bath_one() {
    let run = darkroom(&["fix-a", "fix-b"], 10, "");
    let bottle = |text: &str, step: &str| -> String {
        let schedule: Value = serde_json::from_str(text).unwrap();
        let steps = schedule["steps"].as_array().unwrap();
        let step = steps.iter().find(|own| own["name"] == step).unwrap();
        step["bottle"]["name"].as_str().unwrap().to_owned()
    };
    let json = card(&run, &["--as", "json"]).succeeds();
    assert_eq!([bottle(&json, "first"), bottle(&json, "second")], ["fix-a", "fix-b"]);
    let json = card(&run, &["--as", "json", "--bath", "one=fix-b,two=fix-a"]).succeeds();
    assert_eq!([bottle(&json, "first"), bottle(&json, "second")], ["fix-b", "fix-a"]);
    // Bath two has moved up, and a new bath two was made: neither has treated film as bath one, so the older is bath one.
    let moved = darkroom(&["fix-a", "fix-b", "fix-c"], 28, "");
    let text = "bath fix-a {\n    in        print-fix 1+9\n    volume    1 l\n    mixed     2026-11-20\n}";
    let file = std::fs::read_to_string(moved.folder().join("darkroom.wet")).unwrap();
    let discarded = text.replace("2026-11-20\n", "2026-11-20\n    discarded 2026-11-23\n");
    let moved = moved.file("darkroom.wet", file.replace(text, &discarded));
    let json = card(&moved, &["--as", "json"]).succeeds();
    assert_eq!([bottle(&json, "first"), bottle(&json, "second")], ["fix-b", "fix-c"]);
}

#[test]
fn the_29th_sheet_is_refused_in_bath_one_and_bath_two_does_not_count() {
    let run = darkroom(&["fix-a", "fix-b"], 28, "");
    let (_, report) = card(&run, &["--bath", "one=fix-a,two=fix-b"]).fails(1);
    let report = flat(&report);
    // 29 sheets are 40.46 rolls.
    assert!(report.contains("error[bath-over-capacity]"), "{report}");
    assert!(
        report.contains("treats 40 rolls, but tonight's load is 1.4 rolls, after 39.06 rolls before"),
        "{report}"
    );
    let baths: Value =
        serde_json::from_str(&run.args(["baths", "--on", "2026-11-25", "--as", "json"]).succeeds()).unwrap();
    let all = baths["bottles"].as_array().unwrap();
    let treated = |name: &str| {
        let one = all.iter().find(|one| one["name"] == name).unwrap();
        one["treated_twelfths"].as_f64().unwrap()
    };
    // 12 x 39.06, and none.
    assert!((treated("fix-a") - 468.72).abs() < 0.01, "{}", treated("fix-a"));
    assert!(treated("fix-b").abs() < 1e-9);
}

#[test]
fn the_session_says_which_bath_came_second() {
    let run = darkroom(&["fix-a", "fix-b"], 3, "");
    let call = ["record", "headland-print", "--at", "20C", "--rolls", "1x24x30cm", "--tank", "print-trays"];
    let run = run.again().args(call).args(["--date", "2026-11-25", "--bath", "one=fix-a,two=fix-b"]);
    run.succeeds();
    let sessions: Vec<String> =
        walk(run.folder()).into_iter().filter(|text| text.contains("2026-11-25")).collect();
    let [session] = sessions.as_slice() else { panic!("{sessions:?}") };
    assert!(session.contains("bath      fix-a\n"), "{session}");
    assert!(session.contains("bath      fix-b, second\n"), "{session}");
    // 4 sheets are 5.58 rolls.
    let baths = run.again().args(["baths", "--on", "2026-11-25"]).succeeds();
    assert!(flat(&baths).contains("5.58 of 40"), "{baths}");
}

fn walk(folder: &std::path::Path) -> Vec<String> {
    let mut all = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            all.extend(walk(&path));
        } else {
            all.extend(std::fs::read_to_string(&path));
        }
    }
    all
}

/// Two sheets make two loads in trays for one: bath one counts both, 2.79 rolls, and both baths are mixed once.
#[test]
fn a_plan_mixes_two_baths_and_counts_the_first() {
    let backlog = "
backlog prints {
    roll      \"P-1\" 24x30cm of headland-fb index 6 shot 2026-11-20
    roll      \"P-2\" 24x30cm of headland-fb index 6 shot 2026-11-21
}
";
    let run = darkroom(&[], 0, backlog);
    let call = ["plan", "prints", "--at", "20C", "--on", "2026-11-25", "--tank", "print-trays"];
    let plan: Value =
        serde_json::from_str(&run.again().args(call).args(["--as", "json"]).succeeds()).unwrap();
    let mixed: Vec<&Value> = plan["loads"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|load| load["mix"].as_array().into_iter().flatten())
        .collect();
    let fixers: Vec<&str> = mixed.iter().map(|one| one["bath"].as_str().unwrap()).collect();
    assert_eq!(fixers, ["one", "two"], "{plan}");
    let baths: Vec<&Value> = plan["loads"][1]["baths"].as_array().unwrap().iter().collect();
    let named: Vec<[&str; 2]> =
        baths.iter().map(|bath| [bath["name"].as_str().unwrap(), bath["bath"].as_str().unwrap()]).collect();
    assert_eq!(named, [["first", "one"], ["second", "two"]]);
    // Each bath is 100 ml and 900 ml of water. Each load washes for an hour at 4 l/min, in a litre, and develops in one:
    // 2 x 900 + 2 x 242000 ml.
    assert_eq!(plan["water_ml"], 485_800);
    let text = flat(&run.args(call).succeeds());
    assert!(
        text.contains("mix 1000 ml of Fixer for prints 1+9, bath one: 100 ml print-fix, the rest water"),
        "{text}"
    );
    assert!(
        text.contains("mix 1000 ml of Fixer for prints 1+9, bath two: 100 ml print-fix, the rest water"),
        "{text}"
    );
}

#[test]
fn each_bath_has_one_bottle_of_its_own() {
    let run = darkroom(&["fix-a", "fix-b"], 0, "");
    for (given, told) in [
        ("one=fix-a,one=fix-b", "--bath gives two bottles for bath 'one'"),
        ("one=fix-a,two=fix-a", "--bath gives 'fix-a' for two baths, 'one' and 'two'"),
        ("three=fix-a", "'headland-print' has no bath 'three' that 'fix-a' could be"),
    ] {
        let report = flat(&card(&run, &["--bath", given]).fails(2).1);
        assert!(report.contains(told), "{given}: {report}");
    }
}
