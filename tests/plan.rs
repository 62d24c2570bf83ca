//! `plan`: which rolls share a tank, the number and order of loads, what they need, and every output form.

mod amounts;
mod bottles;
mod brute;
mod left_out;
mod limits;
mod list;
mod mixing;
mod packing;
mod sheets;

use jsonschema::draft202012;
use serde_json::Value;

use crate::program::Run;

/// Two films with the same development and one with another; a litre of the fixer treats ten rolls.
const BENCH: &str = r#"wetside 1

film marsh-100 {
    speed     ISO 100
    clears    60 s in fixer 1+4 at 20 C
}

film reed-100 {
    speed     ISO 100
    clears    60 s in fixer 1+4 at 20 C
}

film weir-400 {
    speed     ISO 400
    clears    60 s in fixer 1+4 at 20 C
}

solution soup {
    role      developer
    contains  metol, sodium-sulfite
    needs     60 ml per roll
}

solution fixer {
    role      fixer
    contains  ammonium-thiosulfate
    treats    10 rolls per 1 l at 1+4
}

tank five {
    reels     120 x 5, 500 ml each
    reels     135 x 8, 300 ml each
    holds     2.6 l
    fill      20 s
    drain     20 s
}

recipe tail {
    between   18 C and 24 C

    fix {
        in        fixer 1+4, reused
        time      3 x clearing
    }
    wash {
        fills     5, 10 inversions
    }
    dry {
        time      3 h
    }
}

recipe marsh from tail {
    film      marsh-100

    develop before fix {
        in        soup 1+3, one-shot
        time      10:00
        between   18 C and 24 C
        agitate   first 30 s, then 10 s every 1 min
    }
}

recipe reed from tail {
    film      reed-100

    develop before fix {
        in        soup 1+3, one-shot
        time      10:10
        between   18 C and 24 C
        agitate   first 30 s, then 10 s every 1 min
    }
}

recipe weir from tail {
    film      weir-400

    develop before fix {
        in        soup 1+3, one-shot
        time      13:00
        between   18 C and 24 C
        agitate   first 30 s, then 10 s every 1 min
    }
}
"#;

/// A folder with the bench and a backlog of these rows.
pub(crate) fn with(rows: &str) -> Run {
    let rows: String = rows.lines().map(|row| format!("    {}\n", row.trim())).collect();
    let text = format!("wetside 1\n\nuse \"bench.wet\"\n\nbacklog autumn {{\n{rows}}}\n");
    Run::new().file("bench.wet", BENCH).file("backlog.wet", text)
}

/// Rows for this many rolls of a format and a film.
fn rolls(count: usize, first: char, format: &str, film: &str) -> String {
    (1..=count).map(|at| format!("roll \"{first}{at}\" {format} of {film}\n")).collect()
}

pub(crate) fn json(run: &Run) -> Value {
    let text = run.succeeds();
    let plan: Value = serde_json::from_str(&text).unwrap();
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/grammar/plan.schema.json");
    let schema: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let validator = draft202012::new(&schema).unwrap();
    let wrong: Vec<String> = validator.iter_errors(&plan).map(|error| error.to_string()).collect();
    assert!(wrong.is_empty(), "{wrong:?}\n{text}");
    plan
}

fn planned(run: Run) -> Value {
    json(&run.args(["plan", "autumn", "--as", "json"]))
}

/// The labels of each load.
pub(crate) fn loads(plan: &Value) -> Vec<Vec<&str>> {
    plan["loads"]
        .as_array()
        .unwrap()
        .iter()
        .map(|load| {
            load["rolls"].as_array().unwrap().iter().map(|roll| roll["label"].as_str().unwrap()).collect()
        })
        .collect()
}

/// 85 rolls of 120, five a load: 17 loads, 16 more after the first. Common practice, no source.
#[test]
fn rolls_of_one_film_fill_their_loads() {
    let slots: String = (1..=5).map(|slot| format!("    slot      {slot} \"E{slot}\" 120\n")).collect();
    let first = format!(
        "wetside 1\n\nuse \"backlog.wet\"\n\nsession one {{\n    date      2026-11-03\n    recipe    marsh, fingerprint \"46ac83d1\"\n    backlog   autumn\n{slots}}}\n"
    );
    let after = planned(with(&rolls(85, 'E', "120", "marsh-100")).file("journal.wet", first));
    assert_eq!((loads(&after).len(), &after["bound"], &after["is_fewest"]), (16, &16.into(), &true.into()));
    let plan = planned(with(&rolls(85, 'E', "120", "marsh-100")));
    assert_eq!(loads(&plan).len(), 17);
    assert_eq!((&plan["bound"], &plan["is_fewest"]), (&17.into(), &true.into()));
    assert_eq!(loads(&plan)[0], ["E1", "E2", "E3", "E4", "E5"]);
    assert_eq!(loads(&plan)[16], ["E81", "E82", "E83", "E84", "E85"]);
}

/// Five reels of 120 fill the tank, and eight of 135; two of 120 and four of 135 are 2/5 + 4/8 of it. So eight of
/// 135 and four of 120, whose shares come to 9/5, need two loads and go into two.
#[test]
fn formats_share_a_tank_by_their_shares() {
    let mixed = format!("{}{}", rolls(4, 'E', "120", "marsh-100"), rolls(8, 'K', "135", "marsh-100"));
    let plan = planned(with(&mixed));
    assert_eq!(loads(&plan).len(), 2);
    for load in loads(&plan) {
        let of = |first| load.iter().filter(|label| label.starts_with(first)).count();
        assert!(of('E') * 8 + of('K') * 5 <= 40, "{load:?}");
    }
}

/// At 1+3 eight rolls of 135 with 125 ml each need 4 l, but the tank holds 2.6 l: enough for five.
#[test]
fn baths_too_small_for_a_full_tank_set_the_bound() {
    let thirsty = BENCH.replace("needs     60 ml", "needs     125 ml");
    let plan = planned(with(&rolls(10, 'K', "135", "marsh-100")).file("bench.wet", thirsty));
    assert_eq!(loads(&plan).iter().map(Vec::len).collect::<Vec<_>>(), [5, 5]);
}

#[test]
fn rolls_share_a_tank_only_if_their_work_is_the_same() {
    let rows = format!("{}{}", rolls(2, 'M', "120", "marsh-100"), rolls(2, 'W', "120", "weir-400"));
    assert_eq!(loads(&planned(with(&rows))), [["M1", "M2"], ["W1", "W2"]]);
}

/// Two recipes with one difference in the second.
#[test]
fn rolls_share_a_tank_by_their_work_and_not_by_its_names() {
    let made = |name: &str, grams: u32| {
        format!(
            "\nsolution {name} {{\n    role developer\n    needs 60 ml per roll\n    formula for 1 l {{\n        \
             water 750 ml\n        metol {grams} g\n        water to 1 l\n    }}\n}}\n"
        )
    };
    let broth = "\nsolution broth {\n    role developer\n    contains metol, sodium-sulfite\n    needs 60 ml per roll\n}\n";
    let even = BENCH.replace("10:10", "10:00");
    let (before, reed) = even.split_once("recipe reed").unwrap();
    let of_reed = |from: &str, to: &str| format!("{before}recipe reed{}", reed.replacen(from, to, 1));
    let brewed = of_reed("in        soup", "in        brew");
    let loads_of = |bench: &str| {
        let rows = format!("{}{}", rolls(1, 'M', "120", "marsh-100"), rolls(1, 'R', "120", "reed-100"));
        loads(&planned(with(&rows).file("bench.wet", bench))).len()
    };
    let (same, other) = (made("soup", 2) + &made("brew", 2), made("soup", 2) + &made("brew", 3));
    let soup = even.split_once("solution soup {").unwrap().1.split_once("}\n").unwrap().0;
    let bought = format!("solution soup {{{soup}}}\n");
    for (bench, number) in [
        (even.clone(), 1),
        (brewed.replace(&bought, &same), 1),
        (brewed.replace(&bought, &other), 2),
        (of_reed("in        soup", "in        broth") + broth, 2),
        (of_reed("    develop before", "    develop main before"), 1),
        (of_reed("        agitate", "        clock     from full\n        agitate"), 2),
        (of_reed("        agitate", "        fill      20 s\n        agitate"), 1),
        (of_reed("        agitate", "        fill      25 s\n        agitate"), 2),
    ] {
        assert_eq!(loads_of(&bench), number, "{bench}");
    }
}

/// Ten seconds apart: 10:00 and 10:10.
#[test]
fn a_tolerance_joins_near_times_and_uses_the_longer() {
    let rows = format!("{}{}", rolls(2, 'M', "120", "marsh-100"), rolls(2, 'R', "120", "reed-100"));
    let apart = json(&with(&rows).args(["plan", "autumn", "--as", "json", "--within", "9s"]));
    assert_eq!(loads(&apart).len(), 2);
    let run = with(&rows).args(["plan", "autumn", "--as", "json", "--within", "10s"]);
    let plan = json(&run);
    assert_eq!(loads(&plan), [["M1", "M2", "R1", "R2"]]);
    assert_eq!(plan["loads"][0]["recipe"], "reed");
    assert_eq!(plan["loads"][0]["develop_ms"], 610_000);
}

/// A load of five takes 2.5 l of fixer, which treats 25 rolls: five loads. With 55 rolls the sixth load and the
/// eleventh need a new one. 2.5 l at 1+4 is 500 ml and four times as much water.
#[test]
fn a_kept_bath_is_mixed_again_before_the_load_that_exceeds_it() {
    let plan = planned(with(&rolls(55, 'E', "120", "marsh-100")));
    let anew: Vec<usize> = (1..)
        .zip(plan["loads"].as_array().unwrap())
        .filter(|(_, load)| !load["mix"].as_array().unwrap().is_empty())
        .map(|(number, _)| number)
        .collect();
    assert_eq!(anew, [1, 6, 11]);
    let mix = &plan["loads"][0]["mix"][0];
    assert_eq!((&mix["volume_ml"], &mix["parts"][0]["ml"]), (&2500.into(), &500.into()));
    // Three times 500 ml of the fixer. Eleven loads of 2.5 l at 1+3 take a quarter each: 6875 ml of the developer.
    let take = plan["take"].as_array().unwrap();
    let of = |what: &str| take.iter().find(|one| one["what"] == what).unwrap()["ml"].clone();
    assert_eq!((of("fixer"), of("soup")), (1500.into(), 6875.into()));
}

/// 2.5 l of the bottle treat 25 rolls. It has treated fifteen, so ten are left: two loads.
#[test]
fn a_bottle_counts_what_it_has_treated() {
    let slots: String = (1..=15).map(|slot| format!("    slot      {slot} 120\n")).collect();
    let darkroom = format!(
        "wetside 1\n\nuse \"bench.wet\"\n\nbath fix-a {{\n    in        fixer 1+4\n    volume    2.5 l\n    mixed     2026-11-02\n}}\n\nsession one {{\n    date      2026-11-03\n    recipe    marsh, fingerprint \"46ac83d1\"\n{slots}    bath      fix-a\n}}\n"
    );
    let run = with(&rolls(15, 'E', "120", "marsh-100")).file("darkroom.wet", darkroom);
    let plan = json(&run.args(["plan", "autumn", "--as", "json", "--on", "2026-11-16"]));
    let mixed: Vec<bool> = plan["loads"]
        .as_array()
        .unwrap()
        .iter()
        .map(|load| !load["mix"].as_array().unwrap().is_empty())
        .collect();
    assert_eq!(mixed, [false, false, true]);
}

#[test]
fn rolls_that_the_journal_has_developed_are_done() {
    let journal = "wetside 1\n\nuse \"backlog.wet\"\n\nsession one {\n    date      2026-11-03\n    recipe    marsh, fingerprint \"46ac83d1\"\n    backlog   autumn\n    slot      1 \"E2\" 120\n}\n\nsession two {\n    date      2026-11-04\n    recipe    marsh, fingerprint \"46ac83d1\"\n    backlog   autumn\n    slot      1 \"E1\" 120\n}\n\nretract two because \"it was another roll\"\n";
    let run = with(&rolls(3, 'E', "120", "marsh-100")).file("journal.wet", journal);
    let plan = planned(run);
    assert_eq!(loads(&plan), [["E1", "E3"]]);
    assert_eq!(plan["done"], serde_json::json!([{ "label": "E2", "date": "2026-11-03" }]));
}

#[test]
fn a_plan_as_it_is_read() {
    let rows = format!("{}{}", rolls(2, 'M', "120", "marsh-100"), rolls(1, 'W', "135", "weir-400"));
    insta::assert_snapshot!(with(&rows).args(["plan", "autumn", "--at", "20C"]).succeeds());
}

#[test]
fn a_plan_over_days_as_it_is_read() {
    insta::assert_snapshot!(bottles::over_days().succeeds());
}

#[test]
fn a_plan_with_rolls_left_out_as_it_is_read() {
    insta::assert_snapshot!(left_out::run().args(["plan", "autumn", "--at", "19C"]).fails(1).0);
}

#[test]
fn the_reasons_of_left_out_rolls_are_reported_beside_the_plan() {
    insta::assert_snapshot!(left_out::run().args(["plan", "autumn", "--at", "19C"]).fails(1).1);
}

#[test]
fn all_reasons_against_a_plan_are_reported_at_once() {
    let rows = "roll \"A\" 4x5in of marsh-100\nroll \"B\" 120 of reed-100 index 400\nroll \"C\" 120 of reed-100 index 400\nroll \"D\" 120 of weir-400\n";
    let twice = BENCH.replace(
        "recipe weir from",
        "recipe other-weir from weir {\n    index     400\n}\n\nrecipe weir from",
    );
    let run = with(rows).file("bench.wet", twice).args(["plan", "autumn"]);
    insta::assert_snapshot!(run.fails(1).1);
}

#[test]
fn a_mixing_day_as_it_is_read() {
    insta::assert_snapshot!(mixing::as_text());
}

#[test]
fn each_flaw_of_a_list_is_reported_once() {
    insta::assert_snapshot!(sheets::flawed());
}

/// The list has an error of each kind.
#[test]
fn every_error_of_a_list_is_reported_at_its_line() {
    insta::assert_snapshot!(list::faulty().fails(1).1);
}

/// No load is possible below 18 °C. The report says so once, for all steps and rolls.
#[test]
fn a_wrong_temperature_is_reported_once() {
    let told = with(&rolls(9, 'E', "120", "marsh-100")).args(["plan", "autumn", "--at", "15C"]).fails(1).1;
    let all = "error[outside-band]: the baths are at 15 °C, too cold for develop, fix and wash";
    assert_eq!((told.matches(all).count(), told.matches("outside-band").count()), (1, 1), "{told}");
}

#[test]
fn an_unknown_name_in_a_call_gets_the_known_ones() {
    let run = || with(&rolls(1, 'E', "120", "marsh-100"));
    assert!(run().args(["plan", "autum"]).fails(2).1.contains("did you mean autumn?"));
    assert!(run().args(["plan", "autumn", "--tank", "fiv"]).fails(2).1.contains("did you mean five?"));
    assert!(run().args(["plan"]).fails(2).1.contains("<BACKLOG>"));
    let run = run()
        .file("more.wet", "wetside 1\nuse \"bench.wet\"\nbacklog autumn {\nroll \"1\" 120 of marsh-100\n}\n");
    let run = run.args(["plan", "autumn"]);
    let told = run.fails(2).1;
    assert!(told.contains("the backlog 'autumn' is in 2 files: backlog.wet, more.wet"), "{told}");
    assert!(told.contains("name one: wetside plan backlog.wet autumn"), "{told}");
    assert!(run.again().args(["plan", "more.wet", "autumn"]).succeeds().contains("1 load of 1 roll"));
}

#[test]
fn no_label_becomes_a_formula_or_a_tag() {
    let rows = "roll \"=1+1\" 120 of marsh-100\nroll \"<b onclick=x>\" 120 of marsh-100\n\
                roll \"E;=1+1\" 120 of marsh-100\n";
    let run = with(rows).args(["plan", "autumn", "--as", "csv"]);
    let table = run.succeeds();
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let labels: Vec<String> = reader.records().map(|row| row.unwrap()[2].to_owned()).collect();
    assert_eq!(labels, ["'=1+1", "<b onclick=x>", "E;'=1+1"]);
    assert!(table.contains("\"E;'=1+1\""), "{table}");
    let run = run.again().args(["plan", "autumn", "-o", "plan.html"]);
    run.succeeds();
    let page = std::fs::read_to_string(run.folder().join("plan.html")).unwrap();
    assert!(page.contains("<b>&lt;b onclick=x&gt;</b>") && !page.contains("<b onclick"), "{page}");
    assert!(
        page.contains("default-src &#39;none&#39;") && !page.contains("style=") && !page.contains(" src="),
        "{page}"
    );
    assert_eq!(page.matches("<input type=\"checkbox\">").count(), 3);
}

#[test]
fn a_plan_replaces_no_recipe() {
    let run = with(&rolls(1, 'E', "120", "marsh-100")).args(["plan", "autumn", "-o", "backlog.wet"]);
    assert!(run.fails(2).1.contains("one of the files that this call reads"));
}

#[test]
fn the_same_backlog_gives_the_same_bytes() {
    let rows = format!("{}{}", rolls(7, 'M', "120", "marsh-100"), rolls(7, 'W', "135", "weir-400"));
    for form in ["text", "json", "csv", "html"] {
        let run = || with(&rows).args(["plan", "autumn", "--as", form]).succeeds();
        assert_eq!(run(), run());
    }
}

#[test]
fn a_plan_leaves_no_roll_out_for_an_unreadable_file() {
    let bench = BENCH.replace("wetside 1\n", "wetside 1\nuse \"gone.wet\"\n");
    let film = "film marsh-100 {\n    clears    60 s in gone-fix 1+9 at 20 C\n";
    let run =
        with(&rolls(2, 'E', "120", "marsh-100")).file("bench.wet", bench.replace("film marsh-100 {\n", film));
    let (_, told) = run.args(["plan", "autumn"]).fails(1);
    assert!(told.contains("use-unreadable") && !told.contains("there is no backlog"), "{told}");
}
