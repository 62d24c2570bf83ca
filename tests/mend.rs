//! `check --mend`: certain fixes are applied, others are suggested, and no valid recipe changes its meaning.

use std::fs;

use crate::kitchen::Kitchen;
use crate::program::Run;

fn read(run: &Run, path: &str) -> String {
    fs::read_to_string(run.folder().join(path)).unwrap()
}

const FILM: &str = "wetside 1\n\nfilm ebb {\n    speed     ISO 100\n}\n";

#[test]
fn a_certain_fix_is_applied_and_reported() {
    let rough = FILM.replace("speed", "speeed");
    let run = Run::new().file("a.wet", rough).args(["check", "--mend", "a.wet"]);
    let output = run.succeeds();
    assert_eq!(
        output,
        "mended a.wet:4:5: 'speeed' is not a statement of a film: write speed\nnothing to fix in 1 file\n"
    );
    assert_eq!(read(&run, "a.wet"), FILM);
}

/// Fixing the word reveals the wrong unit, and both are fixed.
#[test]
fn an_error_that_a_fix_reveals_is_fixed_too() {
    let rough = "wetside 1\n\ntank t {\n    reels     120 x 1, 500 ml each\n    drian     10 sec\n}\n";
    let run = Run::new().file("a.wet", rough).args(["check", "--mend", "a.wet"]);
    let output = run.succeeds();
    assert_eq!(output.lines().filter(|line| line.starts_with("mended a.wet:5:")).count(), 2, "{output}");
    assert_eq!(read(&run, "a.wet"), rough.replace("drian", "drain").replace("sec", "s"));
}

#[test]
fn a_fix_with_a_choice_is_suggested_and_not_applied() {
    let rough = "wetside 1\n\nsolution q {\n    role      stop\n    needs     3 oz per roll\n}\n";
    let run = Run::new().file("a.wet", rough).args(["check", "--mend", "a.wet"]);
    let (output, _) = run.fails(1);
    assert!(output.contains("error[ambiguous-unit]") && output.contains("write us-fl-oz"), "{output}");
    assert!(!output.contains("mended"), "{output}");
    assert_eq!(read(&run, "a.wet"), rough);
}

/// Fails if anything in the text is changed, or a suggestion is missing.
#[track_caller]
fn assert_only_suggested(text: &str, offers: &[&str]) {
    let run = Run::new().file("a.wet", text).args(["check", "--mend", "a.wet"]);
    let (output, _) = run.fails(1);
    assert!(!output.contains("mended"), "{output}");
    for offer in offers {
        assert!(output.contains(offer), "{offer}: {output}");
    }
    assert_eq!(read(&run, "a.wet"), text);
}

/// `m` may be months or minutes.
#[test]
fn a_keeping_time_in_m_is_never_fixed() {
    let text = "wetside 1\n\nsolution q {\n    role      stop\n    keeps     6 m\n}\n";
    assert_only_suggested(text, &["write 6 months", "write 6 min (minutes; edition 2)"]);
}

/// The two readings, one litre and one millilitre, differ by a factor of 1000.
#[test]
fn a_comma_in_a_number_is_never_fixed() {
    let formula = |mark: &str, mass: &str| {
        format!(
            "wetside 1\n\nsolution q {{\n    role      stop\n    formula for {mark} ml {{\n        acetic-acid {mass} g\n    }}\n}}\n"
        )
    };
    assert_only_suggested(
        &formula("1,000", "5"),
        &["write 1.000 if decimals follow", "write 1000 if the comma"],
    );
    assert_only_suggested(
        &formula("500", "1,125"),
        &["write 1.125 if decimals follow", "write 1125 if the comma"],
    );
    assert_only_suggested(&formula("1,000,000", "5"), &["write 1000000 if the comma groups"]);
    let tank = |fill: &str| {
        format!("wetside 1\n\ntank t {{\n    reels     120 x 1, 500 ml each\n    drain     {fill}\n}}\n")
    };
    assert_only_suggested(
        &tank("8,30 min"),
        &["write 8.30 if decimals follow", "write 8:30 if seconds follow the comma"],
    );
    assert_only_suggested(&tank("2,5 min"), &["write 2.5 if decimals follow"]);
}

/// Each suggested reading parses, and no two are equal.
#[test]
fn each_suggested_reading_of_a_comma_is_valid() {
    let tank = |time: &str| {
        format!("wetside 1\n\ntank t {{\n    reels     120 x 1, 500 ml each\n    drain     {time}\n}}\n")
    };
    let readings = |time: &str| -> Vec<String> {
        let text = tank(time);
        let kitchen = Kitchen::of(&text);
        let fixes = &kitchen.findings.first().unwrap().fixes;
        let chosen = fixes.iter().map(|fix| {
            let edit = fix.edits.first().unwrap();
            let mut text = text.clone();
            text.replace_range(edit.span.range(), &edit.text);
            text
        });
        chosen.collect()
    };
    for (time, chosen) in [
        ("8,30 min", &["8.30 min", "8:30"][..]),
        ("8,30 s", &["8.30 s"]),
        ("1,000 s", &["1.000 s", "1000 s"]),
    ] {
        assert_eq!(readings(time), chosen.iter().map(|time| tank(time)).collect::<Vec<_>>());
        readings(time).iter().for_each(|text| drop(Kitchen::sound(text)));
    }
}

/// 'fils' is one letter from 'fill' and from 'fills'; a wash has both, a developer only the first. 'mix' has only three
/// letters, so one other letter makes many words of it.
#[test]
fn a_word_close_to_several_words_is_not_fixed() {
    let step = |kind: &str, line: &str| {
        format!(
            "wetside 1\n\nrecipe r {{\n    {kind} {{\n        in        water\n        {line}\n    }}\n}}\n"
        )
    };
    assert_only_suggested(&step("wash", "fils      5 s"), &["help: write fill\n", "write fills\n"]);
    assert_only_suggested(&step("develop", "fils      5 s"), &["help: write fill\n"]);
    assert_only_suggested(&step("mix", "time      5:00"), &["help: write fix\n"]);
}

#[test]
fn an_ambiguous_slip_is_not_fixed() {
    let step = |line: &str| {
        format!("wetside 1\n\nrecipe r {{\n    fix {{\n        {line}\n        time      5:00\n    }}\n}}\n")
    };
    // 11+4, 1+4 or 1+1+4.
    assert_only_suggested(&step("in        water 1 1 + 4"), &[]);
    // 1/4 or a comment.
    assert_only_suggested(&step("in        water 1//4"), &[]);
    // A part may be missing after the comma.
    assert_only_suggested(&step("in        water stock,"), &[]);
    // 24 may be a slip for 14, and 2 for 22.
    assert_only_suggested(&step("between   24 C and 18 C"), &["write between 18 C and 24 C"]);
    assert_only_suggested(&step("between   20 C and 2 C"), &["write between 2 C and 20 C"]);
    // A gram or a gallon.
    assert_only_suggested(&step("in        water\n        pour      1 G"), &[]);
    // Thousands are grouped with this space.
    assert_only_suggested(&step("pour      1\u{202f}000 ml"), &["remove it if it groups thousands"]);
    // The space and the letter are separate suggestions.
    assert_only_suggested(&step("in\u{a0}w\u{430}ter"), &["write an ordinary space"]);
}

#[test]
fn dry_reports_the_fixes_and_changes_nothing() {
    let rough = FILM.replace("speed", "speeed");
    let run = Run::new().file("a.wet", &rough).args(["check", "--mend", "--dry", "a.wet"]);
    let (output, _) = run.fails(1);
    assert_eq!(
        output,
        "would mend a.wet:4:5: 'speeed' is not a statement of a film: write speed\nnothing to fix in 1 file\n"
    );
    assert_eq!(read(&run, "a.wet"), rough);
    Run::new().file("a.wet", FILM).args(["check", "--mend", "--dry", "a.wet"]).succeeds();
}

/// 10,100 words are misspelled; all are fixed, and 10,000 fixes are listed.
#[test]
fn many_fixes_are_all_applied_and_the_rest_is_counted() {
    let films: String = (0..10_100).map(|at| format!("film f{at} {{\n    speeed    ISO 100\n}}\n")).collect();
    let run = Run::new().file("a.wet", format!("wetside 1\n{films}")).args(["check", "--mend", "a.wet"]);
    let output = run.succeeds();
    assert_eq!(output.matches("mended a.wet:").count(), 10_000);
    assert!(output.contains("\nand mended 100 more\n"), "{}", &output[output.len() - 300..]);
    assert!(!read(&run, "a.wet").contains("speeed"));
}

#[test]
fn dry_without_mend_is_an_error_of_the_call() {
    Run::new().file("a.wet", FILM).args(["check", "--dry", "a.wet"]).fails(2);
}

#[test]
fn a_file_with_an_unclosed_block_is_not_fixed() {
    let open = "wetside 1\n\nfilm ebb {\n    speeed ISO 100\n";
    let run = Run::new().file("a.wet", open).args(["check", "--mend", "a.wet"]);
    let (output, error) = run.fails(1);
    assert!(output.contains("error[unclosed-block]") && !output.contains("mended"), "{output}");
    assert!(error.contains("a.wet was not changed"), "{error}");
    assert_eq!(read(&run, "a.wet"), open);
}

/// The call does not name it.
#[test]
fn a_used_file_is_not_fixed() {
    let used = FILM.replace("speed", "speeed");
    let run = Run::new().file("a.wet", "wetside 1\n\nuse \"b.wet\"\n").file("b.wet", &used);
    let run = run.args(["check", "--mend", "a.wet"]);
    let (output, _) = run.fails(1);
    assert!(output.contains("error[unknown-word]"), "{output}");
    assert_eq!(read(&run, "b.wet"), used);
}

#[test]
fn inserted_lines_have_the_line_endings_of_the_file() {
    let film = "film ebb {\r\n    speed     ISO 100\r\n}\r\n";
    let run = Run::new().file("a.wet", film).args(["check", "--mend", "a.wet"]);
    run.succeeds();
    assert_eq!(read(&run, "a.wet"), format!("wetside 1\r\n\r\n{film}"));
}

#[test]
fn mend_does_not_change_the_shelf() {
    let run = Run::new().folder_of_repo("recipes").args(["check", "--mend", "recipes"]);
    let output = run.succeeds();
    assert!(!output.contains("mended"), "{output}");
    let entries = fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/recipes")).unwrap();
    for path in entries.map(|entry| entry.unwrap().path()).filter(|path| path.is_file()) {
        let copy = format!("recipes/{}", path.file_name().unwrap().to_str().unwrap());
        assert_eq!(read(&run, &copy), fs::read_to_string(&path).unwrap(), "{copy}");
    }
}

#[test]
fn standard_input_is_not_fixed() {
    let (_, error) = Run::new().args(["check", "--mend", "-"]).stdin(FILM).fails(2);
    assert!(error.contains("--mend cannot change standard input"), "{error}");
}

/// As a film, the first block would become the film of the recipe. The other certain fixes are applied.
#[test]
fn a_fix_that_would_change_a_valid_recipe_is_not_applied() {
    let rough = "\
wetside 1

flim ebb {
    speed     ISO 400
}

film ebb {
    speed     ISO 50
}

film flood {
    speeed    ISO 400
}

recipe hang {
    film      ebb

    dry {
        time      3 h
    }
}
";
    let run = Run::new().file("a.wet", rough).args(["check", "--mend", "a.wet"]);
    let (output, _) = run.fails(1);
    let mended = "mended a.wet:12:5: 'speeed' is not a statement of a film: write speed\n";
    assert!(output.starts_with(mended) && output.matches("mended").count() == 1, "{output}");
    assert!(output.contains("error[unknown-word]: 'flim' is not a statement of a file"), "{output}");
    assert_eq!(read(&run, "a.wet"), rough.replace("speeed", "speed"));
}

/// The refused fix comes after forty others.
#[test]
fn a_refused_fix_does_not_block_the_others() {
    let films: String = (0..40).map(|at| format!("film f{at} {{\n    speeed    ISO 100\n}}\n")).collect();
    let recipe = "recipe hang {\n    film      ebb\n\n    dry {\n        time      3 h\n    }\n}\n";
    let ebb = |word: &str, speed| format!("{word} ebb {{\n    speed     ISO {speed}\n}}\n");
    let rough = format!("wetside 1\n{films}{}{}{recipe}", ebb("flim", 400), ebb("film", 50));
    let run = Run::new().file("a.wet", &rough).args(["check", "--mend", "a.wet"]);
    let (output, _) = run.fails(1);
    assert_eq!(output.matches("mended a.wet:").count(), 40, "{output}");
    assert_eq!(read(&run, "a.wet"), rough.replace("speeed", "speed"));
}

/// The other files are fixed, and only written fixes are reported.
#[cfg(unix)]
#[test]
fn a_read_only_file_does_not_block_fixes_in_the_others() {
    use std::os::unix::fs::PermissionsExt as _;
    let rough = |name: &str| FILM.replace("speed", "speeed").replace("ebb", name);
    let run = Run::new().file("a.wet", rough("a")).file("b.wet", rough("b")).file("c.wet", rough("c"));
    fs::set_permissions(run.folder().join("b.wet"), fs::Permissions::from_mode(0o444)).unwrap();
    let run = run.args(["check", "--mend", "a.wet", "b.wet", "c.wet"]);
    let (output, error) = run.fails(2);
    let mended: Vec<&str> = output.lines().filter(|line| line.starts_with("mended ")).collect();
    assert!(
        mended.len() == 2 && mended[0].contains("a.wet:4:5") && mended[1].contains("c.wet:4:5"),
        "{output}"
    );
    assert!(error.contains("b.wet could not be written: it is read-only"), "{error}");
    assert!(error.contains("chmod u+w") && error.contains("some files could not be written"), "{error}");
    for (name, text) in [("a", FILM.replace("ebb", "a")), ("b", rough("b")), ("c", FILM.replace("ebb", "c"))]
    {
        assert_eq!(read(&run, &format!("{name}.wet")), text);
    }
}

/// The other forms are refused.
#[test]
fn mend_reports_as_text_only() {
    for form in ["lines", "json", "sarif", "text"] {
        let run = Run::new().file("a.wet", FILM).args(["check", "--mend", "--as", form, "a.wet"]);
        let (output, error) = run.fails(2);
        assert!(output.is_empty() && error.contains("cannot be used with"), "{form}: {output}{error}");
    }
}

#[test]
fn fail_on_gives_status_one_with_mend_too() {
    let suspicious = "wetside 1\n\nsolution q {\n    role      stop\n}\n";
    let run = || Run::new().file("a.wet", suspicious).args(["check", "--mend", "a.wet"]);
    let output = run().succeeds();
    assert!(output.contains("warning[contents-unknown]"), "{output}");
    assert_eq!(run().args(["--fail-on", "warning"]).fails(1).0, output);
    assert_eq!(run().args(["--fail-on", "advice"]).fails(1).0, output);
}
