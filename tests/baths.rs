//! The bottles of a darkroom on a day, compared with counts and sums worked by hand.

use serde_json::Value;
use wetside::model::Dilution;

use crate::kitchen::Kitchen;
use crate::program::Run;

/// A fixer that keeps three months, and a film that clears in it in a minute.
const DARKROOM: &str = "\
wetside 1
film estuary-400 {
    clears 60 s in rapid-fix 1+4 at 20 C
}
solution rapid-fix {
    role fixer
    contains ammonium-thiosulfate
    treats 10 rolls per 1 l at 1+4
    keeps 3 months
}
bath fix-a {
    in rapid-fix 1+4
    volume 1 l
    mixed 2026-11-30
}
bath fix-old {
    in rapid-fix 1+4
    volume 1 l
    mixed 2026-10-01
    discarded 2026-11-30
}
test fix-a-1 {
    date 2026-12-10
    bath fix-a
    film estuary-400
    clears 1:15 at 20 C
}
test fix-a-2 {
    date 2027-01-10
    bath fix-a
    film estuary-400
    clears 2:00 at 20 C
}
session one {
    date 2026-12-05
    recipe night, fingerprint \"46ac83d1\"
    slot 1 120
    slot 2 135-24
    bath fix-a
}
session two {
    date 2026-12-20
    recipe night, fingerprint \"46ac83d1\"
    slot 1 220
    slot 2 220
    slot 3 220
    slot 4 120
    slot 5 4x5in
    slot 6 4x5in
    bath fix-a
}
session never {
    date 2026-12-21
    recipe night, fingerprint \"46ac83d1\"
    slot 1 220
    bath fix-a
}
retract never because \"the film was another\"
";

fn on(day: &str, all: bool) -> Value {
    let run = Run::new().file("darkroom.wet", DARKROOM).args(["baths", "--as", "json", "--on", day]);
    let run = if all { run.arg("--all") } else { run };
    valid(&run.succeeds())
}

fn valid(told: &str) -> Value {
    let told: Value = serde_json::from_str(told).unwrap();
    let schema: Value = serde_json::from_str(include_str!("../grammar/baths.schema.json")).unwrap();
    jsonschema::validate(&schema, &told).unwrap();
    told
}

#[test]
fn a_bath_counts_the_sessions_up_to_that_day() {
    // One 120 and one 135-24 are 12 + 8 = 20 twelfths of a roll; three 220, one 120 and two sheets of 4x5 are
    // 72 + 12 + 6 = 90 more. The session that was taken back counts for nothing. A litre goes for 10 rolls,
    // which are 120 twelfths: 100 are left, then 10; 110 is over nine tenths.
    let of = |day, key: &str| on(day, false)["bottles"][0][key].clone();
    assert_eq!(of("2026-12-04", "treated_twelfths"), 0);
    assert_eq!(of("2026-12-05", "treated_twelfths"), 20);
    assert_eq!(of("2026-12-05", "left_twelfths"), 100);
    assert_eq!(of("2026-12-05", "verdict"), "good");
    assert_eq!(of("2026-12-25", "treated_twelfths"), 110);
    assert_eq!(of("2026-12-25", "left_twelfths"), 10);
    assert_eq!(of("2026-12-25", "verdict"), "nearly-spent");
}

#[test]
fn a_bath_that_clears_in_twice_the_fresh_time_is_spent() {
    // Fresh 60 s; doubled is 120 s: US Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10.
    let of = |day| on(day, false)["bottles"][0].clone();
    assert_eq!(of("2026-12-10")["tested"]["clears_ms"], 75_000);
    assert_eq!(of("2026-12-10")["tested"]["fresh_ms"], 60_000);
    assert_eq!(of("2026-12-10")["verdict"], "good");
    assert_eq!(of("2027-01-10")["tested"]["clears_ms"], 120_000);
    assert_eq!(of("2027-01-10")["verdict"], "clears-too-slowly");
}

/// On 2027-03-01 it has treated 11 of 10 rolls, clears in 120 s where fresh is 60 s, and kept until 2027-02-28.
#[test]
fn every_reason_to_doubt_a_bath_is_shown() {
    let full = "session more {\n    date 2026-12-28\n    recipe night, fingerprint \"46ac83d1\"\n    slot 1 220\n    bath fix-a\n}\n";
    let run = Run::new().file("darkroom.wet", format!("{DARKROOM}{full}"));
    let told = run.again().args(["baths", "--on", "2027-03-01"]).succeeds();
    assert!(told.contains("clears in twice the fresh time; spent; past keeping"), "{told}");
    let told = valid(&run.args(["baths", "--on", "2027-03-01", "--as", "json"]).succeeds());
    assert_eq!(told["bottles"][0]["verdict"], "clears-too-slowly");
    let doubts = serde_json::json!(["clears-too-slowly", "spent", "past-keeping"]);
    assert_eq!(told["bottles"][0]["doubts"], doubts);
    assert_eq!(on("2026-12-05", false)["bottles"][0]["doubts"], serde_json::json!([]));
}

/// Two minutes at 14 °C are twice the fresh minute, but that was measured at 20 °C.
#[test]
fn a_test_that_proves_nothing_is_a_reason_to_doubt() {
    let cold = DARKROOM.replace("clears 1:15 at 20 C", "clears 2:00 at 14 C");
    assert_ne!(cold, DARKROOM);
    let run = Run::new().file("darkroom.wet", cold).args(["baths", "--on", "2026-12-15"]);
    let told = run.succeeds();
    assert!(told.contains("its test is at another temperature") && !told.contains("good"), "{told}");
}

#[test]
fn a_use_that_a_session_doubts_is_listed_from_its_day_on() {
    let doubted = DARKROOM.replace("wetside 1", "wetside 2").replacen(
        "    bath fix-a\n}\nsession two",
        "    bath fix-a doubt \"it was fix-old\"\n}\nsession two",
        1,
    );
    let run = Run::new().file("darkroom.wet", doubted);
    let told = |day: &str| run.again().args(["baths", "--on", day]).succeeds();
    assert!(told("2026-12-05").ends_with("\nfix-a in doubt on 2026-12-05: it was fix-old\n"));
    assert!(!told("2026-12-04").contains("in doubt"));
    let told = run.again().args(["baths", "--as", "json", "--on", "2026-12-05"]).succeeds();
    let told = valid(&told);
    let expected = serde_json::json!([{ "session": "one", "date": "2026-12-05", "doubt": "it was fix-old" }]);
    assert_eq!(told["bottles"][0]["doubted"], expected);
}

#[test]
fn a_solution_keeps_for_calendar_months() {
    // Three months from 2026-11-30 end on the last day of February 2027, which has 28.
    let told = on("2026-12-01", false);
    assert_eq!(told["bottles"][0]["keeps_until"], "2027-02-28");
    assert_eq!(told["bottles"][0]["age_days"], 1);
}

#[test]
fn a_discarded_bath_is_listed_only_with_all() {
    let names = |told: &Value| {
        let all = told["bottles"].as_array().unwrap().iter();
        all.map(|one| one["name"].as_str().unwrap().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(names(&on("2026-12-01", false)), ["fix-a"]);
    let mut all = names(&on("2026-12-01", true));
    all.sort();
    assert_eq!(all, ["fix-a", "fix-old"]);
    // It was made two months before the other, and not yet that day.
    assert_eq!(names(&on("2026-10-02", false)), ["fix-old"]);
}

#[test]
fn the_table_agrees_with_the_json() {
    let run = Run::new().file("darkroom.wet", DARKROOM).args(["baths", "--on", "2026-12-15"]);
    let told = run.succeeds();
    // Of the 20 twelfths of 120: 1.67 of 10 rolls, and 100 twelfths are 8.33 rolls.
    assert!(told.contains("fix-a  rapid-fix 1+4  2026-11-30  1.67 of 10  8.33  15 days"), "{told}");
    assert!(told.contains("2027-02-28   1:15, fresh 1:00  good"), "{told}");
}

/// Two bottles, each with its own sessions and tests: 2 of 10 rolls and 1 of 10. Their newest tests are not on the last
/// lines.
#[test]
fn each_of_several_bottles_has_its_own_sessions_and_tests() {
    let (bottles, _) = DARKROOM.split_once("test fix-a-1").unwrap();
    let session = |name, slots, bath| {
        format!(
            "session {name} {{\ndate 2026-12-05\nrecipe night, fingerprint \"46ac83d1\"\n{slots}bath {bath}\n}}\n"
        )
    };
    let test = |name, day, bath, time| {
        format!("test {name} {{\ndate {day}\nbath {bath}\nfilm estuary-400\nclears {time} at 20 C\n}}\n")
    };
    let own = [
        bottles.replace("fix-old", "fix-b").replace("    discarded 2026-11-30\n", ""),
        session("one", "slot 1 120\nslot 2 120\n", "fix-a"),
        session("two", "slot 1 120\n", "fix-b"),
        test("late", "2026-12-08", "fix-a", "1:20"),
        test("early", "2026-12-07", "fix-a", "1:10"),
        test("other", "2026-12-09", "fix-b", "1:30"),
        test("to-come", "2026-12-11", "fix-b", "1:40"),
    ];
    let run = Run::new().file("darkroom.wet", own.concat());
    let told: Value =
        serde_json::from_str(&run.args(["baths", "--as", "json", "--on", "2026-12-10"]).succeeds()).unwrap();
    let of = |one: &Value| {
        (one["name"].to_string(), one["treated_twelfths"].clone(), one["tested"]["test"].to_string())
    };
    let all: Vec<_> = told["bottles"].as_array().unwrap().iter().map(of).collect();
    let expected = |name: &str, treated: i64, test: &str| {
        (format!("\"{name}\""), Value::from(treated), format!("\"{test}\""))
    };
    assert_eq!(all, [expected("fix-a", 24, "late"), expected("fix-b", 12, "other")]);
}

#[test]
fn a_folder_without_baths_gets_an_example() {
    let (_, told) = Run::new().args(["baths"]).fails(2);
    assert!(told.contains("bath fix-a {"), "{told}");
}

/// As in a step: a bath of several bottles without a dilution has one part of each and no water.
#[test]
fn a_bath_of_several_bottles_without_a_dilution_is_undiluted() {
    let kitchen = Kitchen::sound(
        "wetside 1
solution two-bath {
    role developer
    parts a, b
    needs 250 ml per roll
}
bath kept {
    in two-bath
    volume 1 l
    mixed 2026-11-30
}
recipe trial {
    develop {
        in two-bath, reused
        time 6:30
        between 18 C and 24 C
    }
}
",
    );
    let undiluted = Dilution { parts: vec![1, 1], water: 0 };
    let (_, _, bath) = kitchen.shelf.darkroom.baths.first().unwrap();
    assert_eq!(bath.dilution, undiluted);
    let step = kitchen.shelf.recipes.first().unwrap().steps.first().unwrap();
    assert_eq!(step.bath.as_ref().unwrap().dilution, undiluted);
}

/// The fixer was mixed on the 30th of November and keeps three months, until 2027-02-28. Thirty days before, it is
/// listed, and it is listed as long as it stands there afterwards.
#[test]
fn soon_has_the_bottles_that_expire_or_are_nearly_spent() {
    let soon = |day: &str, option: &str| {
        let run =
            Run::new().file("darkroom.wet", DARKROOM).args(["baths", "--as", "json", "--on", day, option]);
        let told = valid(&run.succeeds());
        let names = told["bottles"]
            .as_array()
            .unwrap()
            .iter()
            .map(|bottle| bottle["name"].as_str().unwrap().to_owned());
        (names.collect::<Vec<_>>(), told["soon_days"].clone())
    };
    // Before it is used, on the fourth of December, it has 86 days left.
    assert_eq!(soon("2026-12-04", "--soon"), (vec![], 30.into()));
    assert_eq!(soon("2026-12-04", "--soon=85").0, [""; 0]);
    assert_eq!(soon("2026-12-04", "--soon=86").0, ["fix-a"]);
    // It is nearly spent on the 25th.
    assert_eq!(soon("2026-12-25", "--soon=1").0, ["fix-a"]);
    assert_eq!(soon("2027-03-01", "--soon=0").0, ["fix-a"]);
    let run = Run::new().file("darkroom.wet", DARKROOM).args(["baths", "--on", "2026-12-04", "--soon=86"]);
    let text = run.succeeds();
    assert!(text.contains("keeps 86 more days"), "{text}");
    let none = run.again().args(["baths", "--on", "2026-12-04", "--soon"]).succeeds();
    assert_eq!(none, "no bath expires by 2027-01-03 or is nearly spent\n");
}
