//! Formulas and sequences as published, and the same with one slip each: the first are quiet, and of each slip there is
//! a finding at its line or in its block.

use std::fs;
use std::path::Path;

use serde_json::Value;
use wetside::source::Diagnostic;

use crate::kitchen::Kitchen;

const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/plausible");

/// Each file with a slip, and the rule that reports it.
const TOLD_BY: &[(&str, &str)] = &[
    ("shown-citric-x10.wet", "implausible-amount"),
    ("shown-dichromate-mg.wet", "implausible-amount"),
    ("shown-dry-three-minutes.wet", "implausible-time"),
    ("shown-first-thirty-minutes.wet", "interval-without-rest"),
    ("shown-fixer-no-sulfite.wet", "acid-without-sulfite"),
    ("shown-glacial-x10.wet", "implausible-amount"),
    ("shown-hydroquinone-x10.wet", "implausible-amount"),
    ("shown-keeps-years.wet", "implausible-keeping"),
    ("shown-monobath-no-hypo.wet", "fixer-without-thiosulfate"),
    ("shown-no-alkali.wet", "developer-without-alkali"),
    ("shown-no-sulfite.wet", "developer-without-preservative"),
    ("shown-phenidone-x10.wet", "implausible-amount"),
    ("shown-push-shorter.wet", "implausible-push"),
    ("shown-stop-one-second.wet", "implausible-time"),
    ("shown-sulfate-for-hypo.wet", "fixer-without-thiosulfate"),
    ("shown-sulfate-for-sulfite.wet", "developer-without-preservative"),
    ("shown-tank-25-l.wet", "implausible-tank"),
    ("shown-treats-x10.wet", "implausible-capacity"),
    ("shown-wash-five-inversions.wet", "short-wash"),
    ("shown-wetting-1-20.wet", "strong-wetting-agent"),
];

fn names(text: &str) -> Vec<&'static str> {
    Kitchen::of(text).findings.iter().map(|finding| finding.name).collect()
}

/// A solution of one bottle, with these lines in its formula and after it.
fn solution(role: &str, formula: &str, lines: &str) -> String {
    let head =
        format!("wetside 1\nsolution trial {{\nrole {role}\nformula for 1 l {{\nwater 700 ml at 20 C\n");
    format!("{head}{formula}\nwater to 1 l\n}}\n{lines}\nkeeps 2 weeks\ncaution \"gloves\"\n}}\n")
}

/// A recipe of a stop with this bath, in the trial solution.
fn stop(dilution: &str) -> String {
    format!(
        "recipe r {{\nfilm f\nindex 100\nbetween 18 C and 24 C\nstop {{\nin trial {dilution}, one-shot\ntime 30 s\nagitate \
         continuous\n}}\n}}\nfilm f {{\nspeed ISO 100\nsource \"invented\"\n}}\n"
    )
}

fn read(path: &Path) -> Kitchen {
    Kitchen::of(&fs::read_to_string(path).unwrap())
}

/// The first line that a finding marks, counted from 1.
fn line(kitchen: &Kitchen, finding: &Diagnostic) -> u64 {
    let before = kitchen.sources.text(kitchen.file).get(..finding.span.start as usize).unwrap();
    1 + before.matches('\n').count() as u64
}

#[test]
fn nothing_is_reported_of_a_published_formula_or_sequence() {
    let mut count = 0;
    for entry in fs::read_dir(Path::new(FOLDER).join("sound")).unwrap() {
        let path = entry.unwrap().path();
        let kitchen = read(&path);
        assert!(kitchen.findings.is_empty(), "{}\n{}", path.display(), kitchen.report(&kitchen.findings));
        count += 1;
    }
    assert_eq!(count, 22);
}

#[test]
fn each_slip_is_told_once_by_its_rule_in_its_block() {
    let folder = Path::new(FOLDER).join("broken");
    let index: Value = serde_json::from_str(&fs::read_to_string(folder.join("index.json")).unwrap()).unwrap();
    let index = index.as_array().unwrap();
    for (file, rule) in TOLD_BY {
        let slip = index.iter().find(|slip| slip["file"] == *file).unwrap();
        let [from, to] = [0, 1].map(|at| slip["block"][at].as_u64().unwrap());
        let kitchen = read(&folder.join(file));
        let report = kitchen.report(&kitchen.findings);
        let names: Vec<&str> = kitchen.findings.iter().map(|finding| finding.name).collect();
        assert_eq!(names, [*rule], "{file}\n{report}");
        assert!((from..=to).contains(&line(&kitchen, &kitchen.findings[0])), "{file}\n{report}");
    }
}

/// 300 g/l at 1+19 are 15 g/l, at 1+1 150 g/l; stop baths have up to 60.
#[test]
fn the_strength_at_work_is_that_of_the_recipes_or_else_of_the_capacity() {
    let citric = "citric-acid 300 g monohydrate";
    let odd = |text: &str| names(text).contains(&"implausible-amount");
    assert!(odd(&solution("stop", citric, "")));
    assert!(!odd(&solution("stop", citric, "treats 12 rolls per 1 l at 1+19")));
    let used = |dilution| solution("stop", citric, "treats 12 rolls per 1 l at 1+19") + &stop(dilution);
    assert!(!odd(&used("1+19")) && odd(&used("1+1")) && odd(&used("stock")));
    // The strongest use counts: too little at 1+99 is enough at 1+19.
    assert!(odd(&used("1+99")));
    assert!(!odd(
        &(used("1+99") + stop("1+19").replace("recipe r", "recipe s").split("film f {").next().unwrap())
    ));
}

/// 20 g/l of hydroquinone beside borax, where 12 is the most: undiluted too much, at 100 ml a roll perhaps diluted,
/// at 50 ml of it in 250 ml 4 g/l. 30 g/l are over the doubled limit of 24.
#[test]
fn the_strength_of_a_developer_at_work_is_told_by_its_need() {
    let odd = |grams: &str, needs: &str| {
        let formula = format!(
            "metol 2 g\nsodium-sulfite 100 g anhydrous\nhydroquinone {grams} g\nborax 2 g decahydrate"
        );
        names(&solution("developer", &formula, &format!("needs {needs} ml per roll")))
    };
    assert_eq!(odd("20", "200"), ["implausible-amount"]);
    assert_eq!(odd("20", "199"), [""; 0]);
    assert_eq!(odd("30", "199"), ["implausible-amount"]);
    assert_eq!(odd("30", "60"), ["implausible-amount"]);
    assert_eq!(odd("30", "59"), [""; 0]);
}

/// Without a stated dilution two bottles are taken in equal parts: 30 g/l in one of them are 15 g/l.
#[test]
fn the_amounts_of_several_lines_and_bottles_are_added() {
    let parts = |formula: &str| {
        format!(
            "wetside 1\nsolution trial {{\nrole stop\nparts a, b\nformula a for 1 l {{\nwater 700 ml at 20 C\n{formula}\n\
             water to 1 l\n}}\nformula b for 1 l {{\nwater 700 ml at 20 C\nsodium-sulfate 45 g anhydrous\nwater to 1 l\n\
             }}\nkeeps 2 weeks\n}}\n"
        )
    };
    assert_eq!(names(&parts("citric-acid 100 g monohydrate")), [""; 0]);
    assert_eq!(names(&parts("citric-acid 130 g monohydrate")), ["implausible-amount"]);
    let twice = |grams: u32| {
        solution("stop", &format!("citric-acid {grams} g monohydrate\ncitric-acid 30 g monohydrate"), "")
    };
    assert_eq!(names(&twice(30)), [""; 0]);
    assert_eq!(names(&twice(31)), ["implausible-amount"]);
}

/// 100 ml of a solution of 10 % are 10 g, 150 ml are 15 g; developers without hydroxide have up to 12.
#[test]
fn a_salt_may_be_measured_as_its_solution() {
    let found = |ml: u32| {
        let formula = format!(
            "metol 10 g\nsodium-sulfite 100 g anhydrous\nhydroquinone 5 g\nborax 2 g decahydrate\n\
             potassium-bromide {ml} ml 10 %"
        );
        names(&solution("developer", &formula, "needs 250 ml per roll"))
    };
    assert_eq!(found(100), [""; 0]);
    assert_eq!(found(150), ["implausible-amount"]);
}

#[test]
fn water_to_dissolve_in_may_be_hot() {
    let at = |degrees: u32| {
        let hot =
            solution("developer", "sodium-sulfite 30 g anhydrous\nphenidone 1.5 g", "needs 250 ml per roll");
        names(&hot.replace("20 C", &format!("{degrees} C")))
    };
    assert_eq!(at(70), [""; 0]);
    assert_eq!(at(100), [""; 0]);
    assert_eq!(at(101), ["out-of-range"]);
}

#[test]
fn a_warning_about_an_amount_is_allowed_with_a_reason() {
    let allow = "allow implausible-amount because \"for a wall\"";
    assert_eq!(names(&solution("stop", "citric-acid 70 g monohydrate", allow)), [""; 0]);
    assert_eq!(names(&solution("stop", "citric-acid 70 g monohydrate", "")), ["implausible-amount"]);
}

#[test]
fn nothing_is_missing_where_an_ingredient_is_unknown() {
    let found = |formula: &str| names(&solution("developer", formula, "needs 250 ml per roll"));
    assert_eq!(found("metol 2 g\nsodium-sulfite 40 g anhydrous"), ["developer-without-alkali"]);
    let unknown = "metol 2 g\nsodium-sulfite 40 g anhydrous\ntriethylamine 5 g";
    assert_eq!(found(unknown), ["unknown-ingredient"]);
}

#[test]
fn the_first_of_two_baths_needs_no_alkali() {
    let first = solution("developer", "metol 5 g\nsodium-sulfite 50 g anhydrous", "needs 250 ml per roll");
    assert_eq!(names(&first), ["developer-without-alkali"]);
    let second = "solution bath-b {\nrole developer\nformula for 1 l {\nwater 700 ml at 20 C\nborax 10 g decahydrate\n\
                  water to 1 l\n}\nkeeps 2 weeks\n}\n";
    let develop = |name: &str, bath: &str| {
        format!(
            "develop {name} {{\nin {bath} stock, one-shot\ntime 5:00\nbetween 20 C and 20.5 C\nagitate none\n}}\n"
        )
    };
    let recipe = |steps: String| format!("recipe r {{\n{steps}}}\n");
    let both = recipe(develop("bath-a", "trial") + &develop("bath-b", "bath-b"));
    let found = names(&format!("{first}{second}{both}"));
    assert!(!found.contains(&"developer-without-alkali"), "{found:?}");
    let apart = recipe(develop("bath-a", "trial"));
    assert!(names(&format!("{first}{second}{apart}")).contains(&"developer-without-alkali"));
}

/// The help has the word that a hand took for another.
#[test]
fn a_salt_taken_for_another_is_named() {
    let rows = [
        (
            "developer",
            "metol 2 g\nhydroquinone 5 g\nsodium-sulfate 90 g anhydrous\nborax 3 g decahydrate",
            "sodium-sulfite",
        ),
        (
            "developer",
            "metol 7 g\nsodium-sulfite 90 g anhydrous\nsodium-bisulfate 15 g monohydrate",
            "sodium-bisulfite",
        ),
        ("developer", "metol 2 g\nsodium-sulfite 90 g anhydrous\nsodium-hydroxide 70 g", "sodium-carbonate"),
        (
            "developer",
            "metol 2 g\nsodium-sulfite 90 g anhydrous\nborax 3 g decahydrate\npotassium-iodide 1 g",
            "potassium-bromide",
        ),
        ("fixer", "sodium-sulfate 250 g decahydrate\nsodium-sulfite 20 g anhydrous", "sodium-thiosulfate"),
        (
            "fixer",
            "sodium-thiosulfate 250 g pentahydrate\nsodium-sulfite 20 g anhydrous\nacetic-acid 48 ml glacial",
            "28 %",
        ),
        ("toner", "sodium-sulfite 10 g anhydrous", "sodium-sulfide"),
    ];
    for (role, formula, meant) in rows {
        let kitchen = Kitchen::of(&solution(
            role,
            formula,
            if role == "fixer" { "treats 9 rolls per 1 l" } else { "needs 250 ml per roll" },
        ));
        let [finding] = kitchen.findings.as_slice() else { panic!("{}", kitchen.report(&kitchen.findings)) };
        assert!(finding.help.concat().contains(meant), "{meant}\n{}", kitchen.report(&kitchen.findings));
    }
}

/// 55 g of borax dissolve in warm water, 66 g in none; 126 g of alum neither.
#[test]
fn what_does_not_dissolve_is_one_finding() {
    let found = |role: &str, formula: &str| names(&solution(role, formula, ""));
    assert_eq!(found("developer", "borax 66 g decahydrate"), ["does-not-dissolve"]);
    assert_eq!(found("toner", "sodium-thiosulfate 480 g pentahydrate\npotassium-alum 125 g"), [""; 0]);
    assert_eq!(
        found("toner", "sodium-thiosulfate 480 g pentahydrate\npotassium-alum 126 g"),
        ["does-not-dissolve"]
    );
}

/// Three molecules of sulfite, 3 x 126.04 g, meet one of alum, 474.37 g, or one of chrome alum, 499.40 g: 12.0 g for 15 g
/// of alum, 15.1 g for 20 g of chrome alum. 24 g of the crystals (252.15 g) have as much sulfite as 12.0 g without water.
#[test]
fn a_hardening_fixer_without_its_acid_is_told() {
    let found = |formula: &str| {
        let hypo = "sodium-thiosulfate 240 g pentahydrate";
        names(&solution("fixer", &format!("{hypo}\n{formula}"), "treats 9 rolls per 1 l"))
    };
    let potassium = "potassium-alum 15 g dodecahydrate";
    for (sulfite, alum, is_told) in [
        ("sodium-sulfite 15 g anhydrous", potassium, true),
        ("sodium-sulfite 12 g anhydrous\nboric-acid 7.5 g", potassium, true),
        ("sodium-sulfite 11.9 g anhydrous", potassium, false),
        ("sodium-sulfite 24 g heptahydrate", potassium, true),
        ("sodium-sulfite 23.8 g heptahydrate", potassium, false),
        ("sodium-sulfite 15.2 g anhydrous", "chrome-alum 20 g", true),
        ("sodium-sulfite 15.1 g anhydrous", "chrome-alum 20 g", false),
        ("sodium-sulfite 15 g anhydrous\nacetic-acid 13 ml glacial", potassium, false),
        ("sodium-sulfite 15 g anhydrous\npotassium-metabisulfite 28 g", "chrome-alum 20 g", false),
    ] {
        let told = if is_told { vec!["alum-without-acid"] } else { Vec::new() };
        assert_eq!(found(&format!("{sulfite}\n{alum}")), told, "{sulfite}, {alum}");
    }
    // An alum of ten times the amount is one slip.
    assert_eq!(
        found("sodium-sulfite 150 g anhydrous\npotassium-alum 15 g dodecahydrate"),
        ["implausible-amount"]
    );
}
