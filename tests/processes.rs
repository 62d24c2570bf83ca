//! A base without a film may leave out its times, and its development times hold for a film only if it says so.

use crate::program::Run;

const SHELF: &str = "wetside 1

film estuary-400 {
    speed     ISO 400
}

solution mq-borax {
    role      developer
    contains  metol, hydroquinone, sodium-sulfite, borax
    needs     250 ml per roll
}
";

const PROCESS: &str = "
recipe process {
    develop {
        in        mq-borax 1+1, one-shot
        between   18 C and 24 C
        agitate   continuous
    }
}
";

/// The exit status of `check` and its findings, one a line, for a file that uses `SHELF` and `bases.wet`.
fn checked(bases: &str, own: &str) -> (i32, String) {
    let bases = format!("{}\nuse \"shelf.wet\"\n{}", &bases[..9], &bases[9..]);
    let own = format!("wetside 2\nuse \"shelf.wet\"\nuse \"bases.wet\"\n{own}");
    let run = Run::new().file("shelf.wet", SHELF).file("bases.wet", bases).file("own.wet", own);
    let (status, out, report) = run.args(["check", "own.wet", "--as", "lines"]).ends();
    let lines = out.lines().chain(report.lines()).filter(|line| line.contains("error["));
    (status, lines.collect::<Vec<_>>().join("\n"))
}

const TIME: &str = "        time      10:00 at 20 C\n";

fn with_time(bases: &str) -> String {
    bases.replace("        between", &format!("{TIME}        between"))
}

fn for_film(statement: &str) -> String {
    format!("recipe own from process {{\n    {statement}\n}}\n")
}

#[test]
fn a_process_leaves_its_time_to_those_who_derive_from_it() {
    let process = format!("wetside 2{PROCESS}");
    let child = for_film("note      \"in the large tank\"");
    let grandchild = "recipe of-film from own {\n    film      estuary-400\n    develop {\n        time      10:00 at 20 C\n    }\n}\n";
    assert_eq!(checked(&process, &(child.clone() + grandchild)), (0, String::new()));
    let without = grandchild.replace("        time      10:00 at 20 C\n", "        note      \"x\"\n");
    let (status, found) = checked(&process, &(child + &without));
    assert_eq!(status, 1, "{found}");
    assert!(
        found
            .starts_with("own.wet:8:5: error[missing-time]: the step develop needs a time for 'estuary-400'")
    );
    assert_eq!(found.lines().count(), 1, "{found}");
}

#[test]
fn a_process_of_edition_1_states_its_times_as_before() {
    let (status, found) = checked(&format!("wetside 1{PROCESS}"), &for_film("film      estuary-400"));
    assert_eq!(status, 1);
    assert!(
        found.starts_with("bases.wet:5:5: error[missing-time]: the step develop needs a time"),
        "{found}"
    );
    assert_eq!(found.lines().count(), 1, "{found}");
}

#[test]
fn a_time_of_a_base_holds_for_a_film_if_the_base_says_so_or_is_of_the_first_edition() {
    let film = for_film("film      estuary-400");
    let base = with_time(PROCESS);
    assert_eq!(checked(&format!("wetside 1{base}"), &film), (0, String::new()));
    let (status, found) = checked(&format!("wetside 2{base}"), &film);
    assert_eq!(status, 1);
    assert!(
        found.contains(
            "error[inherited-time]: the step develop inherits its time from a recipe without a film"
        )
    );
    let any = base.replace("process {", "process {\n    film      any");
    assert_eq!(checked(&format!("wetside 2{any}"), &film), (0, String::new()));
    let plates = base.replace("process {", "process {\n    plate     any");
    let (status, found) = checked(&format!("wetside 2{plates}"), &film);
    assert_eq!(status, 1);
    assert!(found.contains("error[inherited-time]"), "{found}");
}

#[test]
fn a_base_whose_times_hold_for_any_film_states_them() {
    let process = format!("wetside 2{PROCESS}").replace("process {", "process {\n    film      any");
    let (status, found) = checked(&process, "");
    assert_eq!(status, 1);
    assert!(found.contains("error[missing-time]: the step develop needs a time"), "{found}");
}

/// 1.4 x 12:00 = 16:48, 1.4 x 10:00 = 14:00, 1.4 x 7:00 = 9:48.
#[test]
fn a_push_said_against_its_parent_is_the_same_work_as_its_scaled_chart() {
    let chart = |cold: &str, mean: &str, warm: &str| {
        format!(
            "        chart {{\n            18 C {cold}\n            20 C {mean}\n            24 C {warm}\n        }}\n"
        )
    };
    let child = |name: &str, parent: &str, time: &str| {
        format!(
            "recipe {name} from {parent} {{\n    film      estuary-400\n    develop {{\n{time}    }}\n}}\n"
        )
    };
    let own = [
        child("normal", "process", &chart("12:00", "10:00", "7:00")),
        child("push", "normal", "        time      1.4 x parent\n"),
        child("scaled", "process", &chart("16:48", "14:00", "9:48")),
    ];
    let text = format!("{}{PROCESS}{}", SHELF.replace("wetside 1", "wetside 2"), own.concat());
    let run = Run::new().file("own.wet", text);
    let compared = run.again().args(["compare", "own.wet:push", "own.wet:scaled"]).ends();
    assert!((compared.0, compared.1.contains("the same work")) == (0, true), "{compared:?}");
    let other = run.args(["compare", "own.wet:push", "own.wet:normal"]).ends();
    assert_eq!(other.0, 1, "{other:?}");
}

#[test]
fn compare_says_that_a_process_states_no_time() {
    let text = format!(
        "{}{PROCESS}{}",
        SHELF.replace("wetside 1", "wetside 2"),
        with_time(PROCESS).replace("process {", "timed {\n    film      any")
    );
    let run = Run::new().file("own.wet", text).args(["compare", "own.wet:process", "own.wet:timed"]);
    let (status, out, report) = run.ends();
    assert_eq!(status, 1, "{report}");
    assert!(out.contains("not stated → 10:00 at 20 °C"), "{out}");
    let words = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("recipe film — → \"any film\""), "{out}");
}
