//! Control and bidirectional characters in a recipe, a file name or a call never reach standard output or standard
//! error.

use super::{EVENING, SOUND, beside_a_sound_one, card, harmless, told};
use crate::program::Run;

/// A sequence that clears the screen, one that names the window, bare and as one letter; turned lines; no width.
const STEERING: [&str; 9] = [
    "\u{1b}[2J",
    "\u{1b}]0;owned\u{7}",
    "\u{9b}2J",
    "\u{202e}dekcah",
    "\u{2066}hidden\u{2069}",
    "\u{200b}",
    "\u{ad}",
    "\u{8}\u{8}\u{8}",
    "\u{85}",
];

fn titled(title: &str) -> String {
    SOUND.replace("A plain one", title)
}

#[test]
fn a_title_with_control_characters_is_an_error_and_is_escaped() {
    for odd in STEERING {
        let text = titled(&format!("before{odd}after"));
        let run = card(Run::new().file("a.wet", &text), "a.wet");
        told(&run, 1, &["hidden-character"]);
        let run = run.again().args(["check", "a.wet"]);
        let (stdout, stderr) = run.fails(1);
        harmless(&stdout);
        assert!(stdout.contains("before") && stderr.is_empty(), "{stdout}{stderr}");
    }
}

/// In every place where a text of the recipe may come out again.
#[test]
fn no_text_of_a_recipe_sends_control_characters() {
    let places = [
        ("\"Developer\"", "\"Dev@eloper\""),
        ("plain-film {", "plain-film \"Film@\" {"),
        ("    speed ISO 100\n", "    speed ISO 100\n    note \"no@te\"\n    caution \"cau@tion\"\n"),
        ("time 10:00", "time 10:00@"),
        ("plain-film", "plain@film"),
        ("wetside 1", "wet@side 1"),
        ("wetside 1\n", "wetside 1\nuse \"no@where.wet\"\n"),
        ("agitate first", "agit@ate first"),
    ];
    for odd in STEERING {
        for (from, to) in places {
            let text = SOUND.replace(from, &to.replace('@', odd));
            let run = card(Run::new().file("a.wet", &text), "a.wet");
            told(&run, 1, &[]);
            harmless(&run.again().args(["check", "a.wet"]).fails(1).0);
        }
    }
}

/// In a comment it is a warning of `check`, and the card is compiled.
#[test]
fn a_control_character_in_a_comment_does_not_reach_the_card() {
    for odd in STEERING {
        let text = SOUND.replace("    develop {", &format!("    # re{odd}mark\n    develop {{"));
        let run = card(Run::new().file("a.wet", text), "a.wet");
        harmless(&run.succeeds());
        let run = card(run.again(), "a.wet").args(["--as", "json"]);
        harmless(&run.succeeds());
        let said = run.again().arg("check").succeeds();
        harmless(&said);
        assert!(said.contains("warning[hidden-character]"), "{said}");
    }
}

#[test]
fn a_label_with_control_characters_is_refused() {
    for odd in STEERING {
        let label = format!("roll{odd}one");
        let run = card(beside_a_sound_one(), "a.wet").args(["--label", &label, "--why"]);
        let (text, told) = run.fails(2);
        harmless(&told);
        assert!(text.is_empty() && told.contains("remove the hidden character"), "{told}");
    }
    let run = card(beside_a_sound_one(), "a.wet").args(["--label", "one\nTOTAL 0:01\ttwo"]);
    assert!(run.fails(2).1.contains("a text is one line"));
}

#[test]
fn control_characters_of_a_call_are_escaped_in_the_error() {
    for odd in STEERING {
        let word = format!("x{odd}y");
        let typed = |run: Run, args: &[&str]| {
            let run = args.iter().fold(run.again(), |run, arg| run.arg(*arg));
            told(&run, 2, &[]);
            run
        };
        let run = typed(beside_a_sound_one(), &[&word]);
        let run = typed(run, &["card", "a.wet", "--at", &word, "--rolls", "1"]);
        let run = typed(run, &["card", "a.wet", "--at", &format!("20C,{word}=20C"), "--rolls", "1"]);
        let run = typed(run, &["card", "a.wet", "--at", "20C", "--rolls", &word]);
        for args in [&[&*word][..], &["a.wet", &word], &["a.wet", "--tank", &word], &["a.wet", "-o", &word]] {
            let _ = typed(Run::new().file("a.wet", SOUND), &[&["card"], args, &EVENING].concat());
        }
        let _ = typed(run, &["card", "a.wet", "--start", &word, "--at", "20C", "--rolls", "1x120"]);
    }
}

/// A line end in a name would let a file write a line of its own into the report.
#[cfg(unix)]
#[test]
fn a_file_name_with_control_characters_is_escaped() {
    for odd in STEERING.into_iter().chain(["\nerror[sound]: all is well"]) {
        let name = format!("a{odd}b.wet");
        let run = card(Run::new().file(&name, SOUND), &name).arg("--why");
        harmless(&run.succeeds());
        let run = card(run.again(), &name).args(["--as", "json"]);
        harmless(&run.succeeds());
        let run = card(run.again().file(&name, "wetside 3\n"), &name);
        let stderr = told(&run, 1, &[]);
        assert!(!stderr.lines().any(|line| line.starts_with("error[sound]")), "{stderr}");
        let (stdout, _) = run.again().arg("check").fails(1);
        harmless(&stdout);
        assert!(!stdout.lines().any(|line| line.starts_with("error[sound]")), "{stdout}");
        let run = card(Run::new().file("sub/a.wet", SOUND).file(&format!("sub/{name}"), SOUND), "plain");
        told(&run, 2, &["is in 2 files"]);
        told(&card(Run::new(), format!("missing{name}")), 2, &["cannot be read"]);
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_file_with_a_name_that_is_not_unicode_is_read() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt as _;
    let name = OsStr::from_bytes(b"a\xff\xfeb.wet");
    let run = Run::new();
    std::fs::write(run.folder().join(name), SOUND).unwrap();
    let run = card(run, name).arg("--why");
    assert!(run.succeeds().contains("A plain one"));
    let run = card(run.again(), name).args(["--as", "json"]);
    let json: serde_json::Value = serde_json::from_str(&run.succeeds()).unwrap();
    assert_eq!(json["recipe"]["file"], "a\u{fffd}\u{fffd}b.wet");
    let run = card(run.again(), "plain");
    assert!(run.succeeds().contains("A plain one"));
    assert_eq!(run.again().arg("check").succeeds(), "nothing to fix in 1 file\n");
    told(&card(Run::new(), name), 2, &["cannot be read: there is no such file"]);
}

/// Letters that take two columns or none stay; they are what people write.
#[test]
fn a_title_in_other_letters_is_shown_as_it_is_and_fits() {
    for title in [
        "潮目の現像 ".repeat(12),
        "מי גאות ".repeat(15),
        "marée haute ".repeat(20),
        "e\u{301}t\u{e9} ".repeat(30),
    ] {
        let title = title.trim();
        let run = card(Run::new().file("a.wet", titled(title)), "a.wet").args(["--width", "40"]);
        let text = run.succeeds();
        let words: Vec<&str> = text.split_whitespace().collect();
        assert!(words.join(" ").contains(title), "{text}");
        let wide = text.lines().find(|line| 40 < unicode_width::UnicodeWidthStr::width(*line));
        assert_eq!(wide, None);
    }
}

#[test]
fn a_very_long_word_is_broken_at_the_end_of_the_line() {
    let title = "tide".repeat(400);
    let text = card(Run::new().file("a.wet", titled(&title)), "a.wet").args(["--width", "40"]).succeeds();
    let together: String = text.split_whitespace().collect();
    assert!(together.contains(&title) && text.lines().all(|line| line.chars().count() <= 40));
}

#[test]
fn help_works_without_recipes() {
    let run = Run::new().file("a.wet", titled("\u{1b}[2J"));
    for args in [&["--help"][..], &["card", "--help"], &["check", "--help"], &["-h"], &["help", "card"]] {
        let run = args.iter().fold(Run::new(), |run, arg| run.arg(*arg));
        harmless(&run.succeeds());
    }
    harmless(&run.arg("--help").succeeds());
}
