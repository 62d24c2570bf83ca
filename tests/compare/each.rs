//! Each thing that can differ, changed alone, is told in its own line.

use std::collections::BTreeSet;

use super::shape::at;
use super::{TEXT, changed, of, told};

/// What is changed, to what, and a line that tells it.
const EACH: &[(&str, &str, &str)] = &[
    ("film      sluice", "film      weir", "recipe film sluice → weir"),
    ("index     200", "index     250", "recipe index 200 → 250"),
    ("index     200\n", "\n", "recipe index 200 → —"),
    ("tabular", "conventional", "film grain tabular → conventional"),
    ("ISO 200", "ISO 250", "film speed 200 → 250"),
    ("50 s in", "55 s in", "film clears in fixer 1+4 0:50 at 20 °C → 0:55 at 20 °C"),
    // 3 × 55 s = 165 s, where 3 × 50 s = 150 s.
    ("50 s in", "55 s in", "fix time 2:30 → 2:45"),
    ("fixer 1+9 at 20 C", "fixer 1+9 at 22 C", "film clears in fixer 1+9 1:30 at 20 °C → 1:30 at 22 °C"),
    (
        "    stop {\n        in        water\n        time      1:00\n        agitate   continuous\n    }\n",
        "",
        "stop step yes → —",
    ),
    ("    wash {", "    rest {\n        time 1:00\n    }\n    wash {", "rest step — → after fix"),
    ("        in        water\n", "        in        fixer 1+9\n", "stop solution water → fixer"),
    ("        fills     5,", "        in        water\n        fills     5,", "wash solution — → water"),
    ("dev 1+1+8", "dev 1+1+10", "develop dilution 1+1+8 → 1+1+10"),
    ("one-shot", "reused", "develop use one-shot → reused"),
    ("role      developer", "role      monobath", "develop role developer → monobath"),
    (
        "formula b for 1 l {\n        water            500 ml\n        borax            2 g decahydrate\n        water            to 1 l",
        "formula b for 2 l {\n        water            500 ml\n        borax            2 g decahydrate\n        water            to 2 l",
        "develop formula b makes 1000 ml → 2000 ml",
    ),
    ("metol            2 g", "metol            2.5 g", "develop formula a: metol 2 g → 2.5 g"),
    (
        "100 g anhydrous",
        "100 g heptahydrate",
        "develop formula a: sodium-sulfite 100 g anhydrous → 100 g heptahydrate",
    ),
    (
        "750 ml at 50 C",
        "750 ml at 50.001 C",
        "develop formula a: water 750 ml at 50 °C → 750 ml at 50.001 °C",
    ),
    ("        metol            2 g\n", "", "develop formula a: metol 2 g → —"),
    (
        "        metol            2 g\n        sodium-sulfite   100 g anhydrous\n",
        "        sodium-sulfite   100 g anhydrous\n        metol            2 g\n",
        "develop formula a: sodium-sulfite after metol → after water",
    ),
    (
        "ammonium-thiosulfate, sodium-sulfite",
        "ammonium-thiosulfate",
        "fix contains ammonium-thiosulfate, sodium-sulfite → ammonium-thiosulfate",
    ),
    ("needs     250 ml", "needs     200 ml", "develop needs 250 ml → 200 ml"),
    (
        "treats    8 rolls per 1 l",
        "treats    9 rolls per 1 l",
        "develop treats 8 rolls per 1000 ml → 9 rolls per 1000 ml",
    ),
    ("extend    10 %", "extend    15 %", "develop extend 10 % per 4 rolls → 15 % per 4 rolls"),
    ("replenish 25 ml", "replenish 30 ml", "develop replenish 25 ml → 30 ml"),
    ("rate      2 per", "rate      2.5 per", "develop rate 2 per 10 °C → 2.5 per 10 °C"),
    // 600 s × 2.5^(-0.4) = 415.9 s, where 600 s × 2^(-0.4) = 454.7 s.
    ("rate      2 per", "rate      2.5 per", "develop time at 24 °C 7:35 → 6:56"),
    ("6 months", "5 months", "develop keeps 6 months → 5 months"),
    ("10:00 at 20 C", "9:30 at 20 C", "develop time at 20 °C 10:00 → 9:30"),
    ("10:00 at 20 C", "10:00", "develop time rule 10:00 at 20 °C → 10:00"),
    ("        time      1:00\n", "        time      1:15\n", "stop time 1:00 → 1:15"),
    (
        "at least 2:00",
        "at least 2:01",
        "fix time as written 3 x clearing, at least 2:00 → 3 x clearing, at least 2:01",
    ),
    (
        "5, 10 inversions",
        "5, 11 inversions",
        "wash time as written 5 inversions, 10 inversions → 5 inversions, 11 inversions",
    ),
    ("1:00 each side", "1:30 each side", "expose time as written 1:00 each side → 1:30 each side"),
    ("18 C and 24 C", "18 C and 23 C", "develop temperatures 18 °C to 24 °C → 18 °C to 23 °C"),
    // 600 s × 2^(-0.4) = 454.7 s.
    ("18 C and 24 C", "18 C and 23 C", "develop time at 24 °C 7:35 → not at this temperature"),
    (
        "        agitate   continuous",
        "        at        20 C\n        agitate   continuous",
        "stop own temperature — → 20 °C",
    ),
    ("agitate   continuous", "agitate   none", "stop agitation continuous → none"),
    (
        "first 4 inv",
        "first 5 inv",
        "develop agitation first 4 inversions, then 0:10 every 1:00 → first 5 inversions, then 0:10 every 1:00",
    ),
    ("by        rotation", "by        inversion", "fix motion rotation → inversion"),
    ("inversion 3 s", "inversion 4 s", "fix inversion 0:03 → 0:04"),
    ("knock     once", "knock     after each", "fix knock once → after each"),
    ("handling  10 s", "handling  15 s", "develop handling 0:10 → 0:15"),
    ("        fill      10 s\n", "", "develop fill 0:10 → —"),
    ("        drain     10 s\n", "        drain     12 s\n", "develop drain 0:10 → 0:12"),
    ("        light     safe\n", "", "wash light safe yes → —"),
    (
        "        handling  10 s",
        "        clock     from full\n        handling  10 s",
        "develop clock from pour → from full",
    ),
];

/// What is changed of what is only said.
const SAID: &[(&str, &str, &str)] = &[
    ("no drop on the lamp", "keep off the lamp", "expose caution \"no drop on the lamp\" → —"),
    ("100 W at 1 m", "60 W at 1 m", "expose light \"a lamp of 100 W at 1 m\" → \"a lamp of 60 W at 1 m\""),
];

/// A second film, for a recipe that changes to it.
const WEIR: &str = "\nfilm weir {\n    clears 50 s in fixer 1+4 at 20 C\n}\n";

/// The bottles of the developer in another order, and a step before another.
fn longer() -> Vec<(String, &'static str)> {
    let (a, rest) = TEXT.split_once("    formula b").unwrap();
    let (b, rest) = rest.split_once("    needs ").unwrap();
    let (head, a) = a.split_once("    formula a").unwrap();
    let turned = format!("{head}    formula b{b}    formula a{a}    needs {rest}");
    let renamed = TEXT.replace("parts     a, b", "parts     c, b").replace("formula a", "formula c");
    let stop =
        "    stop {\n        in        water\n        time      1:00\n        agitate   continuous\n    }\n";
    let later = TEXT.replace(stop, "").replace("    expose {", &format!("{stop}    expose {{"));
    vec![
        (turned, "develop formula b, its place after a → first"),
        (renamed.clone(), "develop bottles a, b → c, b"),
        (renamed, "develop formula a yes → —"),
        (later, "stop order after develop → after wash"),
    ]
}

#[test]
fn each_change_of_the_work_is_told_in_its_line() {
    let old = format!("{TEXT}{WEIR}");
    for (from, to, line) in EACH {
        let said = told(&of(&old, &format!("{}{WEIR}", changed(from, to))).args(["--at", "20C,24C"]));
        assert!(has(&said, line), "{line} is not in\n{said}");
    }
    for (new, line) in longer() {
        let said = told(&of(TEXT, &new));
        assert!(has(&said, line), "{line} is not in\n{said}");
    }
}

/// Whether a line is told; one that was wrapped goes on in the next lines.
fn has(said: &str, line: &str) -> bool {
    said.replace('\n', " ").contains(line)
}

#[test]
fn what_is_said_and_not_done_is_told_and_is_the_same_work() {
    for (from, to, line) in SAID {
        let said = super::squeezed(&of(TEXT, &changed(from, to)).succeeds());
        let (work, words) = said.split_once("said, not done:").unwrap();
        assert!(has(words, line), "{line} is not in\n{said}");
        assert!(work.lines().count() == 1 && said.ends_with("\nthe same work"), "{said}");
    }
}

/// A word that no change brings out would be one that no test has read.
#[test]
fn every_word_for_a_difference_is_told_of_some_change() {
    let mut words: BTreeSet<String> = BTreeSet::new();
    let texts = EACH.iter().chain(SAID).map(|(from, to, _)| format!("{}{WEIR}", changed(from, to)));
    for new in texts.chain(longer().into_iter().map(|(text, _)| format!("{text}{WEIR}"))) {
        let json = super::shape::compared(&format!("{TEXT}{WEIR}"), &new);
        for list in ["differences", "said"] {
            let told = at(&json, "/recipes")
                .as_array()
                .unwrap()
                .iter()
                .flat_map(|one| at(one, &format!("/{list}")).as_array().unwrap());
            words.extend(told.map(|one| at(one, "/what").as_str().unwrap().to_owned()));
        }
    }
    assert_eq!(words, super::shape::promised(), "what is told, and what the schema has");
    assert!(words.len() > 40, "{words:?}");
}
