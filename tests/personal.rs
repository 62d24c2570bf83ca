//! The personal settings: where their file is, what it may say, and where a card shows it.
#![cfg(unix)]

use crate::program::Run;

const SETTINGS: &str = "poison = \"01 23 45 67\"\n\n[waste]\nfixer = 1\nbleach = \"3, alone\"\n";

/// A card of a reversal, which fixes and bleaches in baths that are poured away.
fn card(run: Run) -> Run {
    run.args(["card", "ebb-50-reversal", "--at", "20C", "--rolls", "1x135", "--tank", "twin"])
}

/// With settings in the folder that the environment names, which is absolute.
fn with(settings: &str, variable: &str, path: &str) -> Run {
    let run = Run::new().folder_of_repo("recipes").file(path, settings);
    let folder = run.folder().join("own").display().to_string();
    card(run.env(variable, &folder))
}

fn afterwards(run: &Run) -> String {
    let text = run.succeeds();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_card_names_the_users_waste_can() {
    for (variable, path) in
        [("XDG_CONFIG_HOME", "own/wetside/tonight.toml"), ("HOME", "own/.config/wetside/tonight.toml")]
    {
        let run = with(SETTINGS, variable, path);
        let text = afterwards(&run);
        assert!(text.contains("collect in the waste can 3, alone: "), "{variable}: {text}");
        let text = afterwards(&card(run.again()).arg("--no-config"));
        assert!(text.contains("collect in the waste can: ") && !text.contains("alone"), "{text}");
    }
}

#[test]
fn a_relative_folder_and_a_missing_file_are_no_settings() {
    let run = Run::new().folder_of_repo("recipes").file("own/wetside/tonight.toml", "nonsense = 1\n");
    afterwards(&card(run.again().env("XDG_CONFIG_HOME", "own")));
    afterwards(&card(run.again().env("XDG_CONFIG_HOME", "/nowhere")));
}

#[test]
fn a_wrong_setting_is_an_error_with_the_nearest_right_one() {
    for (settings, words) in [
        ("posion = \"1\"\n", "there is no setting 'posion'; did you mean poison?"),
        ("[waste]\nfixxer = 1\n", "there is no setting 'fixxer'; did you mean fixer?"),
        (
            "weight = 1\n",
            "there is no setting 'weight'; there are paper, poison, site, tank, taps, units, waste",
        ),
        ("poison = true\n", "poison is a text or a number"),
        ("waste = 1\n", "waste is a table: [waste]"),
        ("poison = \"a\\\"b\"\n", "a text has no double quotes"),
        ("[waste]\nfixer = \"\"\n", "fixer: the text is empty"),
        ("poison = \n", "wetside/tonight.toml: "),
        ("site = 1\n", "site is a text"),
        ("site = \"\"\n", "site: the text is empty"),
        ("site = \"crew.example\"\n", "site: 'crew.example' does not begin with https://; write it as in"),
        ("site = \"http://crew.example/\"\n", "does not begin with https://"),
        ("site = \"https://\"\n", "has no host"),
        ("site = \"https:///recipes/\"\n", "has no host"),
        ("site = \"https://me@crew.example/\"\n", "has no host"),
        (
            "site = \"https://crew.example/#at=21C\"\n",
            "has a character that the address of a folder cannot have",
        ),
        ("site = \"https://crew.example/a b\"\n", "has a character that"),
        ("site = \"https://crew.example/\\u001b[1m\"\n", "site: remove the hidden character U+001B"),
    ] {
        let run = with(settings, "XDG_CONFIG_HOME", "own/wetside/tonight.toml");
        let (_, stderr) = run.fails(2);
        let flat = stderr.lines().map(|line| line.trim_matches([' ', '|'])).collect::<Vec<_>>().join(" ");
        assert!(flat.contains(words) && flat.contains("--no-config"), "{settings}: {stderr}");
    }
    let long = format!("poison = \"{}\"\n", "1".repeat(41));
    let (_, stderr) = with(&long, "XDG_CONFIG_HOME", "own/wetside/tonight.toml").fails(2);
    assert!(stderr.contains("poison has more than 40"), "{stderr}");
    let long = format!("site = \"https://crew.example/{}\"\n", "a".repeat(80));
    let (_, stderr) = with(&long, "XDG_CONFIG_HOME", "own/wetside/tonight.toml").fails(2);
    assert!(stderr.contains("has more than 100 characters"), "{stderr}");
}

#[test]
fn a_sheet_names_the_users_number_and_can() {
    let run = with(SETTINGS, "XDG_CONFIG_HOME", "own/wetside/tonight.toml");
    let sheet = |run: Run| {
        let folder = run.folder().join("own").display().to_string();
        let run = run.env("XDG_CONFIG_HOME", &folder);
        run.args(["measure", "permanganate-bleach", "--make", "1l"])
    };
    let text = afterwards(&sheet(run.again()));
    assert!(
        text.contains("Call 01 23 45 67") && text.contains("bleach ALONE, cap loose: 3, alone"),
        "{text}"
    );
    assert!(text.contains("poison centre: 01 23 45 67"), "{text}");
    let text = afterwards(&sheet(run.again()).arg("--no-config"));
    assert!(!text.contains("01 23 45 67") && !text.contains("3, alone"), "{text}");
    let run = with("nonsense = 1\n", "XDG_CONFIG_HOME", "own/wetside/tonight.toml");
    sheet(run.again()).fails(2);
}

/// A fact is recorded, whatever the settings say.
#[test]
fn record_does_not_read_the_settings() {
    let run = with("nonsense = 1\n", "XDG_CONFIG_HOME", "own/wetside/tonight.toml").again();
    let run = run.args(["record", "ebb-50-reversal", "--at", "20C", "--rolls", "1x135", "--tank", "twin"]);
    run.args(["--date", "2026-11-12"]).succeeds();
}

#[test]
fn a_plan_names_the_users_number() {
    let run = with(SETTINGS, "XDG_CONFIG_HOME", "own/wetside/tonight.toml").folders_of_repo("recipes");
    let folder = run.folder().join("own").display().to_string();
    let plan = || {
        run.again().env("XDG_CONFIG_HOME", &folder).args(["plan", "estuary-autumn", "--tank", "autumn-five"])
    };
    let text = plan().succeeds();
    assert!(text.contains("Call 01 23 45 67"), "{text}");
    assert!(!plan().arg("--no-config").succeeds().contains("01 23 45 67"));
}

/// Letter is 8.5 by 11 inches, 612 by 792 points; A4 is 210 mm wide, 595.28 points.
#[test]
fn every_pdf_is_on_the_users_paper_and_a_text_has_none() {
    let calls: [&[&str]; 5] = [
        &["card", "ebb-50-reversal", "--at", "20C", "--rolls", "1x135", "--tank", "twin"],
        &["compare", "estuary-400-mq", "wheelhouse-400-mq"],
        &["trial", "plan", "saltmarsh-100-mq-reused", "--at", "20C"],
        &["trial", "read", "recipes/strips.csv", "--at", "20C"],
        &["measure", "mq-borax", "--make", "1l"],
    ];
    let strips = include_str!("../recipes/crew-trials/strips.csv");
    let run = Run::new().folder_of_repo("recipes").file("recipes/strips.csv", strips);
    let run = run.file("own/wetside/tonight.toml", "paper = \"letter\"\n");
    let folder = run.folder().join("own").display().to_string();
    let run = run.env("XDG_CONFIG_HOME", &folder);
    for call in calls {
        let run = call.iter().fold(run.again(), |run, word| run.arg(*word));
        let run = run.args(["-o", "out.pdf"]);
        // A comparison that finds differences ends with 1.
        let (status, _, report) = run.ends();
        assert!(status == i32::from(call[0] == "compare"), "{call:?}: {report}");
        let pdf = String::from_utf8_lossy(&std::fs::read(run.folder().join("out.pdf")).unwrap()).into_owned();
        assert!(pdf.contains("612 792") && !pdf.contains("595.2"), "{call:?}");
        let run = call.iter().fold(run.again(), |run, word| run.arg(*word));
        let (status, _, report) = run.args(["--as", "text", "--paper", "a4"]).ends();
        assert!(status != 0 && report.contains("only a PDF has --paper"), "{call:?}: {report}");
    }
    // A sound track is no text either, and has no paper.
    let track = calls[0].iter().fold(run.again(), |run, word| run.arg(*word));
    let (_, report) = track.args(["--as", "wav", "-o", "out.wav", "--paper", "a4"]).fails(2);
    assert!(report.contains("only a PDF has --paper"), "{report}");
}
