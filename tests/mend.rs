//! `check --mend`: what is certain is mended, what is not is offered, and no sound recipe becomes another.

use std::fs;

use crate::kitchen::Kitchen;
use crate::program::Run;

fn read(run: &Run, path: &str) -> String {
    fs::read_to_string(run.folder().join(path)).unwrap()
}

const FILM: &str = "wetside 1\n\nfilm ebb {\n    speed     ISO 100\n}\n";

#[test]
fn a_certain_mend_is_made_and_told() {
    let rough = FILM.replace("speed", "speeed");
    let run = Run::new().file("a.wet", rough).args(["check", "--mend", "a.wet"]);
    let told = run.succeeds();
    assert_eq!(told, "mended a.wet:4:5: a film has no 'speeed': write speed\nnothing to fix in 1 file\n");
    assert_eq!(read(&run, "a.wet"), FILM);
}

/// Mending the word brings the unit to light, and both are mended.
#[test]
fn what_a_mend_brings_to_light_is_mended_too() {
    let rough = "wetside 1\n\ntank t {\n    reels     120 x 1, 500 ml each\n    drian     10 sec\n}\n";
    let run = Run::new().file("a.wet", rough).args(["check", "--mend", "a.wet"]);
    let told = run.succeeds();
    assert_eq!(told.lines().filter(|line| line.starts_with("mended a.wet:5:")).count(), 2, "{told}");
    assert_eq!(read(&run, "a.wet"), rough.replace("drian", "drain").replace("sec", "s"));
}

#[test]
fn a_mend_that_is_a_choice_is_offered_and_not_made() {
    let rough = "wetside 1\n\nsolution q {\n    role      stop\n    needs     3 oz per roll\n}\n";
    let run = Run::new().file("a.wet", rough).args(["check", "--mend", "a.wet"]);
    let (told, _) = run.fails(1);
    assert!(told.contains("error[ambiguous-unit]") && told.contains("write us-fl-oz"), "{told}");
    assert!(!told.contains("mended"), "{told}");
    assert_eq!(read(&run, "a.wet"), rough);
}

/// A text in which nothing may be mended by itself, and what is offered for it.
#[track_caller]
fn is_only_offered(text: &str, offers: &[&str]) {
    let run = Run::new().file("a.wet", text).args(["check", "--mend", "a.wet"]);
    let (told, _) = run.fails(1);
    assert!(!told.contains("mended"), "{told}");
    for offer in offers {
        assert!(told.contains(offer), "{offer}: {told}");
    }
    assert_eq!(read(&run, "a.wet"), text);
}

/// One litre or one millilitre: a thousandfold lies between the two.
#[test]
fn a_comma_in_a_number_is_never_mended() {
    let formula = |mark: &str, mass: &str| {
        format!(
            "wetside 1\n\nsolution q {{\n    role      stop\n    formula for {mark} ml {{\n        acetic-acid {mass} g\n    }}\n}}\n"
        )
    };
    is_only_offered(&formula("1,000", "5"), &["write 1.000 if decimals follow", "write 1000 if the comma"]);
    is_only_offered(&formula("500", "1,125"), &["write 1.125 if decimals follow", "write 1125 if the comma"]);
    is_only_offered(&formula("1,000,000", "5"), &["write 1000000 if the comma groups"]);
    let tank = |fill: &str| {
        format!("wetside 1\n\ntank t {{\n    reels     120 x 1, 500 ml each\n    drain     {fill}\n}}\n")
    };
    is_only_offered(
        &tank("8,30 min"),
        &["write 8.30 if decimals follow", "write 8:30 if seconds follow the comma"],
    );
    is_only_offered(&tank("2,5 min"), &["write 2.5 if decimals follow"]);
}

/// Each reading that is offered can be read, and none is another's.
#[test]
fn each_reading_of_a_comma_is_sound_once_it_is_chosen() {
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

/// 'fils' is one letter from 'fill' and one from 'fills'; a wash has both, and a developer the first alone. 'mix' has
/// but three letters, so that one other letter makes any such word of it.
#[test]
fn a_word_near_to_several_is_not_mended() {
    let step = |kind: &str, line: &str| {
        format!(
            "wetside 1\n\nrecipe r {{\n    {kind} {{\n        in        water\n        {line}\n    }}\n}}\n"
        )
    };
    is_only_offered(&step("wash", "fils      5 s"), &["help: write fill\n", "write fills\n"]);
    is_only_offered(&step("develop", "fils      5 s"), &["help: write fill\n"]);
    is_only_offered(&step("mix", "time      5:00"), &["help: write fix\n"]);
}

#[test]
fn what_could_be_another_slip_is_not_mended() {
    let step = |line: &str| {
        format!("wetside 1\n\nrecipe r {{\n    fix {{\n        {line}\n        time      5:00\n    }}\n}}\n")
    };
    // 11+4, 1+4 or 1+1+4.
    is_only_offered(&step("in        water 1 1 + 4"), &[]);
    // 1/4, or a remark.
    is_only_offered(&step("in        water 1//4"), &[]);
    // Something may be missing behind the comma.
    is_only_offered(&step("in        water stock,"), &[]);
    // 24 may be a slip for 14, and 2 for 22.
    is_only_offered(&step("between   24 C and 18 C"), &["write between 18 C and 24 C"]);
    is_only_offered(&step("between   20 C and 2 C"), &["write between 2 C and 20 C"]);
    // A gram or a gallon.
    is_only_offered(&step("in        water\n        pour      1 G"), &[]);
    // Thousands are grouped with this space.
    is_only_offered(&step("pour      1\u{202f}000 ml"), &["remove it if it groups thousands"]);
    // The letter is offered alone, and so it is beside a space.
    is_only_offered(&step("in\u{a0}w\u{430}ter"), &["write an ordinary space"]);
}

#[test]
fn a_dry_mend_tells_the_same_and_touches_nothing() {
    let rough = FILM.replace("speed", "speeed");
    let run = Run::new().file("a.wet", &rough).args(["check", "--mend", "--dry", "a.wet"]);
    let (told, _) = run.fails(1);
    assert_eq!(told, "would mend a.wet:4:5: a film has no 'speeed': write speed\nnothing to fix in 1 file\n");
    assert_eq!(read(&run, "a.wet"), rough);
    Run::new().file("a.wet", FILM).args(["check", "--mend", "--dry", "a.wet"]).succeeds();
}

/// 10,100 words are misspelled; all are mended and 10,000 of the mends told.
#[test]
fn of_very_many_mends_all_are_made_and_the_rest_is_counted() {
    let films: String = (0..10_100).map(|at| format!("film f{at} {{\n    speeed    ISO 100\n}}\n")).collect();
    let run = Run::new().file("a.wet", format!("wetside 1\n{films}")).args(["check", "--mend", "a.wet"]);
    let told = run.succeeds();
    assert_eq!(told.matches("mended a.wet:").count(), 10_000);
    assert!(told.contains("\nand mended 100 more\n"), "{}", &told[told.len() - 300..]);
    assert!(!read(&run, "a.wet").contains("speeed"));
}

#[test]
fn dry_without_mend_is_a_call_at_fault() {
    Run::new().file("a.wet", FILM).args(["check", "--dry", "a.wet"]).fails(2);
}

#[test]
fn a_file_whose_blocks_are_in_doubt_is_not_mended() {
    let open = "wetside 1\n\nfilm ebb {\n    speeed ISO 100\n";
    let run = Run::new().file("a.wet", open).args(["check", "--mend", "a.wet"]);
    let (told, error) = run.fails(1);
    assert!(told.contains("error[unclosed-block]") && !told.contains("mended"), "{told}");
    assert!(error.contains("a.wet was not changed"), "{error}");
    assert_eq!(read(&run, "a.wet"), open);
}

/// It is another's file; who called has not named it.
#[test]
fn a_file_that_is_only_used_is_not_mended() {
    let used = FILM.replace("speed", "speeed");
    let run = Run::new().file("a.wet", "wetside 1\n\nuse \"b.wet\"\n").file("b.wet", &used);
    let run = run.args(["check", "--mend", "a.wet"]);
    let (told, _) = run.fails(1);
    assert!(told.contains("error[unknown-word]"), "{told}");
    assert_eq!(read(&run, "b.wet"), used);
}

#[test]
fn what_is_put_in_ends_its_lines_as_the_file_does() {
    let film = "film ebb {\r\n    speed     ISO 100\r\n}\r\n";
    let run = Run::new().file("a.wet", film).args(["check", "--mend", "a.wet"]);
    run.succeeds();
    assert_eq!(read(&run, "a.wet"), format!("wetside 1\r\n\r\n{film}"));
}

#[test]
fn the_shelf_has_nothing_to_mend_and_keeps_its_bytes() {
    let run = Run::new().folder_of_repo("recipes").args(["check", "--mend", "recipes"]);
    let told = run.succeeds();
    assert!(!told.contains("mended"), "{told}");
    let entries = fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/recipes")).unwrap();
    for path in entries.map(|entry| entry.unwrap().path()).filter(|path| path.is_file()) {
        let copy = format!("recipes/{}", path.file_name().unwrap().to_str().unwrap());
        assert_eq!(read(&run, &copy), fs::read_to_string(&path).unwrap(), "{copy}");
    }
}

#[test]
fn standard_input_is_not_mended() {
    let (_, error) = Run::new().args(["check", "--mend", "-"]).stdin(FILM).fails(2);
    assert!(error.contains("--mend cannot change standard input"), "{error}");
}

/// Read as a film, the first block would come before the one that the recipe names, and be its film.
/// What else is certain is mended all the same.
#[test]
fn a_mend_that_would_make_a_sound_recipe_another_is_not_made() {
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
    let (told, _) = run.fails(1);
    let mended = "mended a.wet:12:5: a film has no 'speeed': write speed\n";
    assert!(told.starts_with(mended) && told.matches("mended").count() == 1, "{told}");
    assert!(told.contains("error[unknown-word]: a file has no 'flim'"), "{told}");
    assert_eq!(read(&run, "a.wet"), rough.replace("speeed", "speed"));
}

/// The one that is refused stands behind forty others.
#[test]
fn one_mend_that_is_refused_keeps_no_other_from_being_made() {
    let films: String = (0..40).map(|at| format!("film f{at} {{\n    speeed    ISO 100\n}}\n")).collect();
    let recipe = "recipe hang {\n    film      ebb\n\n    dry {\n        time      3 h\n    }\n}\n";
    let ebb = |word: &str, speed| format!("{word} ebb {{\n    speed     ISO {speed}\n}}\n");
    let rough = format!("wetside 1\n{films}{}{}{recipe}", ebb("flim", 400), ebb("film", 50));
    let run = Run::new().file("a.wet", &rough).args(["check", "--mend", "a.wet"]);
    let (told, _) = run.fails(1);
    assert_eq!(told.matches("mended a.wet:").count(), 40, "{told}");
    assert_eq!(read(&run, "a.wet"), rough.replace("speeed", "speed"));
}

/// The others are mended all the same, and only what is written is told as mended.
#[cfg(unix)]
#[test]
fn a_file_that_may_not_be_written_to_does_not_keep_the_others_from_being_mended() {
    use std::os::unix::fs::PermissionsExt as _;
    let rough = |name: &str| FILM.replace("speed", "speeed").replace("ebb", name);
    let run = Run::new().file("a.wet", rough("a")).file("b.wet", rough("b")).file("c.wet", rough("c"));
    fs::set_permissions(run.folder().join("b.wet"), fs::Permissions::from_mode(0o444)).unwrap();
    let run = run.args(["check", "--mend", "a.wet", "b.wet", "c.wet"]);
    let (told, error) = run.fails(2);
    let mended: Vec<&str> = told.lines().filter(|line| line.starts_with("mended ")).collect();
    assert!(
        mended.len() == 2 && mended[0].contains("a.wet:4:5") && mended[1].contains("c.wet:4:5"),
        "{told}"
    );
    assert!(error.contains("b.wet could not be written: it is read-only"), "{error}");
    assert!(error.contains("chmod u+w") && error.contains("some files could not be written"), "{error}");
    for (name, text) in [("a", FILM.replace("ebb", "a")), ("b", rough("b")), ("c", FILM.replace("ebb", "c"))]
    {
        assert_eq!(read(&run, &format!("{name}.wet")), text);
    }
}

/// A program that asks for its form is not given another.
#[test]
fn a_mend_is_told_as_text_alone() {
    for form in ["lines", "json", "sarif", "text"] {
        let run = Run::new().file("a.wet", FILM).args(["check", "--mend", "--as", form, "a.wet"]);
        let (told, error) = run.fails(2);
        assert!(told.is_empty() && error.contains("cannot be used with"), "{form}: {told}{error}");
    }
}

#[test]
fn what_is_denied_ends_a_mend_with_one_too() {
    let doubtful = "wetside 1\n\nsolution q {\n    role      stop\n}\n";
    let run = || Run::new().file("a.wet", doubtful).args(["check", "--mend", "a.wet"]);
    let told = run().succeeds();
    assert!(told.contains("warning[contents-unknown]"), "{told}");
    assert_eq!(run().args(["--fail-on", "warning"]).fails(1).0, told);
    assert_eq!(run().args(["--fail-on", "advice"]).fails(1).0, told);
}
