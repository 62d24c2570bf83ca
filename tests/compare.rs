//! `compare` prints one line for each difference in the work of two recipes, and none for a difference in text only.

mod each;
mod mutations;
mod revisions;
mod shape;

use crate::evenings::shelf;
use crate::program::Run;

/// A recipe with every statement in which two recipes can differ.
const TEXT: &str = "\
wetside 2

film sluice \"Sluice\" {
    grain     tabular
    speed     ISO 200
    clears    50 s in fixer 1+4 at 20 C
    clears    1:30 in fixer 1+9 at 20 C
}

solution dev \"Developer\" {
    role      developer
    parts     a, b
    formula a for 1 l {
        water            750 ml at 50 C
        metol            2 g
        sodium-sulfite   100 g anhydrous
        water            to 1 l
    }
    formula b for 1 l {
        water            500 ml
        borax            2 g decahydrate
        water            to 1 l
    }
    needs     250 ml per roll
    treats    8 rolls per 1 l
    extend    10 % per 4 rolls
    replenish 25 ml per roll
    rate      2 per 10 C
    keeps     6 months
}

solution fixer {
    role      fixer
    contains  ammonium-thiosulfate, sodium-sulfite
}

recipe one \"One\" {
    film      sluice
    index     200
    between   16 C and 26 C

    develop {
        in        dev 1+1+8, one-shot
        time      10:00 at 20 C
        between   18 C and 24 C
        handling  10 s
        fill      10 s
        drain     10 s
        agitate   first 4 inversions, then 10 s every 1 min
    }
    stop {
        in        water
        time      1:00
        agitate   continuous
    }
    fix {
        in        fixer 1+4, reused
        time      3 x clearing, at least 2:00
        agitate   steady
    }
    wash {
        fills     5, 10 inversions
        light     room
    }
    expose {
        time      1:00 each side
        light     \"a lamp of 100 W at 1 m\"
        caution   \"no drop on the lamp\"
    }
    dry {
        time      3 h
    }
}

agitation steady {
    first     30 s
    then      10 s every 1 min
    by        rotation
    inversion 3 s
    knock     once
}
";

/// A call on two texts, `old.wet` and `new.wet`.
fn run_compare(old: &str, new: &str) -> Run {
    Run::new().file("old.wet", old).file("new.wet", new).args(["compare", "old.wet", "new.wet"])
}

/// The output of a call that finds a difference, with each run of blanks as one.
#[track_caller]
fn report_of(run: &Run) -> String {
    let (stdout, stderr) = run.fails(1);
    assert_eq!(stderr, "");
    squeezed(&stdout)
}

fn squeezed(text: &str) -> String {
    let lines = text.lines().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
    lines.collect::<Vec<_>>().join("\n")
}

/// The text with one part, which occurs once, replaced.
#[track_caller]
fn changed(from: &str, to: &str) -> String {
    assert_eq!(TEXT.matches(from).count(), 1, "{from}");
    TEXT.replace(from, to)
}

#[test]
fn a_text_is_the_same_work_as_itself() {
    let report = run_compare(TEXT, TEXT).succeeds();
    assert!(report.starts_with("one  ") && report.ends_with("\n\nthe same work\n"), "{report}");
    assert_eq!(report.lines().count(), 3, "{report}");
}

#[test]
fn layout_comments_titles_notes_and_declaration_order_do_not_change_the_work() {
    let commented: String = TEXT.lines().map(|line| format!("  {line}   # seen\r\n\r\n")).collect();
    let titled = changed("\"One\"", "\"Another\"")
        .replace("    index ", "    note \"good\"\n    source \"own\"\n    index ");
    let (before, scheme) = TEXT.split_once("agitation steady").unwrap();
    let moved = before.replace("wetside 2\n", &format!("wetside 2\nagitation steady{scheme}"));
    let written = changed(
        "agitate   steady",
        "agitate   first 30 s, then 10 s every 1 min, by rotation, inversion 3 s, knock once",
    );
    for same in [commented, titled, moved, written] {
        assert!(run_compare(TEXT, &same).succeeds().ends_with("\nthe same work\n"), "{same}");
    }
}

#[test]
fn the_order_of_contents_and_clearing_times_does_not_change_the_work() {
    let text = |clears: [&str; 2], contains: &str| {
        format!(
            "wetside 1\n\nsolution rapid {{\n    role fixer\n    contains {contains}\n    needs 100 ml per roll\n}}\n\n\
             film plain-film {{\n    {}\n    {}\n}}\n\nrecipe one {{\n    film plain-film\n    fix {{\n        \
             in rapid 1+4\n        time 3 x clearing\n    }}\n}}\n",
            clears[0], clears[1]
        )
    };
    let (strong, weak) = ("clears 60 s in rapid 1+4 at 20 C", "clears 90 s in rapid 1+9 at 20 C");
    let old = text([strong, weak], "ammonium-thiosulfate, sodium-sulfite");
    let turned = text([weak, strong], "sodium-sulfite, ammonium-thiosulfate");
    assert!(run_compare(&old, &turned).succeeds().ends_with("\nthe same work\n"));
    // The contents on the label of a bought solution only set its cautions.
    let other = text([weak, strong], "sodium-sulfite, boric-acid");
    let report = run_compare(&old, &other).succeeds();
    assert!(report.contains("contains  ammonium-thiosulfate, sodium-sulfite → boric-acid"), "{report}");
    assert!(report.ends_with("\nthe same work\n"), "{report}");
}

#[test]
fn the_spelling_of_a_unit_does_not_change_the_work() {
    let other =
        changed("10:00 at 20 C", "10 min at 68 F").replace("750 ml", "0.75 l").replace("3 h", "180 min");
    let other =
        other.replace("18 C and 24 C", "64.4 F and 75.2 F").replace("2 g decahydrate", "2000 mg decahydrate");
    let other = other
        .replace("2 per 10 C", "2.0 per 18 F")
        .replace("50 s in", "0:50 in")
        .replace("at 50 C", "at 122 F");
    assert!(run_compare(TEXT, &other).succeeds().ends_with("\nthe same work\n"));
}

#[test]
fn two_recipes_are_compared_by_their_names() {
    let run = shelf().args(["compare", "estuary-400-mq", "estuary-400-mq-800"]);
    let report = report_of(&run);
    // The chart of the pushed one has 13:00 at 20 °C and 9:00 at 24 °C; between them sqrt(780 s × 540 s) = 649.0 s.
    for line in [
        "recipe index 400 → 800",
        "develop time at 18 °C 12:00 → no time at this temperature",
        "develop time at 20 °C 10:00 → 13:00",
        "develop time at 22 °C 8:15 → 10:49",
        "develop time at 24 °C 7:00 → 9:00",
    ] {
        assert!(report.lines().any(|found| found == line), "{line} is not in\n{report}");
    }
    assert!(report.ends_with("\n5 differences"), "{report}");
}

#[test]
fn times_are_shown_at_the_requested_temperatures() {
    let one = changed("10:00 at 20 C", "9:30 at 20 C");
    let report = report_of(&run_compare(TEXT, &one).args(["--at", "20C", "--at", "68F,24C"]));
    // Half as long for 10 °C more: 600 s × 2^(-0.4) = 454.7 s, and 570 s × 2^(-0.4) = 432.0 s.
    let lines = "develop time at 20 °C 10:00 → 9:30\ndevelop time at 24 °C 7:35 → 7:12\n\n2 differences";
    assert!(report.ends_with(lines), "{report}");
    let report = report_of(&run_compare(TEXT, &one).args(["--at", "68F"]));
    assert!(report.ends_with("develop time at 68 °F 10:00 → 9:30\n\n1 difference"), "{report}");
}

#[test]
fn recipes_without_a_counterpart_are_gone_or_added() {
    let two = format!("{TEXT}\nrecipe two from one {{\n    index 400\n}}\n");
    let three = changed("        fill      10 s\n", "        fill      12 s\n")
        + "\nrecipe three from one {\n    index 800\n}\n";
    let report = report_of(&run_compare(&two, &three));
    let lines: Vec<&str> = report.lines().collect();
    let [one, fill, three_added, two_gone, _, last] = lines.as_slice() else { panic!("{report}") };
    assert!(one.starts_with("one ") && *fill == "develop fill 0:10 → 0:12", "{report}");
    assert!(three_added.starts_with("three ") && three_added.ends_with(" added"), "{report}");
    assert!(two_gone.starts_with("two ") && two_gone.ends_with(" gone"), "{report}");
    assert_eq!(*last, "3 differences");
    // With `--recipe` the others do not count, and a missing old recipe is an addition.
    let only = report_of(&run_compare(&two, &three).args(["--recipe", "one"]));
    assert!(only.ends_with("\n1 difference") && !only.contains("two"), "{only}");
    let only = report_of(&run_compare(&two, &three).args(["--recipe", "three"]));
    assert!(only.starts_with("three ") && only.ends_with("\n1 difference"), "{only}");
}

#[test]
fn a_recipe_name_may_follow_its_file() {
    let two = format!("{TEXT}\nrecipe two from one {{\n    stop {{\n        time 2:00\n    }}\n}}\n");
    let run = Run::new().file("a.wet", &two);
    let run = run.args(["compare", "a.wet:one", "a.wet:two"]);
    assert!(report_of(&run).ends_with("stop time 1:00 → 2:00\n\n1 difference"));
    let run = run.again().args(["compare", "a.wet:one", "a.wet"]);
    assert!(run.succeeds().starts_with("one  "));
    let run = run.again().args(["compare", "a.wet:tow", "a.wet"]);
    assert!(run.fails(2).1.contains("did you mean two?"));
    // A file with exactly that name is preferred.
    let run = run.again().file("a.wet:one", &two).args(["compare", "a.wet:one", "a.wet"]);
    assert!(run.succeeds().contains("two"));
}

#[test]
fn standard_input_is_one_side_and_not_both() {
    let run = Run::new().file("a.wet", TEXT).args(["compare", "-", "a.wet"]).stdin(TEXT);
    assert!(run.succeeds().ends_with("\nthe same work\n"));
    let run = run.again().args(["compare", "-", "-"]).stdin(TEXT);
    assert!(run.fails(2).1.contains("read only once"));
}

#[test]
fn a_failed_comparison_gives_status_two() {
    let (stdout, stderr) = run_compare(TEXT, &changed("10:00 at 20 C", "10:00 at 20")).fails(2);
    assert!(stdout.is_empty() && stderr.contains("error[") && stderr.contains("new.wet"), "{stderr}");
    let films = "wetside 1\nfilm sluice {\n    speed ISO 200\n}\n";
    assert!(run_compare(films, films).fails(2).1.contains("neither OLD nor NEW has a recipe"));
    let run = Run::new().args(["compare", "a.wet", "b.wet"]);
    assert!(run.fails(2).1.contains("a.wet cannot be read: there is no such file"));
    let run = shelf().args(["compare", "estuary-400-mp", "estuary-400-mq"]);
    let (_, report) = run.fails(2);
    assert!(
        report.contains("did you mean estuary-400-mq?") && report.contains("FILE.wet:estuary-400-mp"),
        "{report}"
    );
    assert!(run_compare(TEXT, TEXT).args(["--at", "20"]).fails(2).1.contains("write 20 C or 20 F"));
    assert!(run_compare(TEXT, TEXT).args(["-o", "a.doc"]).fails(2).1.contains("no form has the ending .doc"));
    assert!(run_compare(TEXT, TEXT).args(["--recipe", "tow"]).fails(2).1.contains("no recipe 'tow' in OLD"));
}

#[test]
fn no_line_is_wider_than_eighty_columns() {
    let run = shelf().args(["compare", "ebb-50-reversal", "slack-tide-200-colour"]);
    let (report, _) = run.fails(1);
    let widest = report.lines().map(|line| line.chars().count()).max().unwrap();
    assert!((60..=80).contains(&widest), "{widest}\n{report}");
}
