//! Each thing that can differ, changed alone, is told in its own line.

use std::collections::BTreeSet;

use super::shape::at;
use super::{TEXT, changed, of, told};

/// What is changed, to what, and a line that tells it.
const EACH: &[(&str, &str, &str)] = &[
    ("film      sluice", "film      weir", "recipe film sluice → weir"),
    ("50 s in", "55 s in", "film clears in fixer 1+4 0:50 at 20 °C → 0:55 at 20 °C"),
    // 3 × 55 s = 165 s, where 3 × 50 s = 150 s.
    ("50 s in", "55 s in", "fix time 2:30 → 2:45"),
    (
        "    stop {\n        in        water\n        time      1:00\n        agitate   continuous\n    }\n",
        "",
        "stop step yes → —",
    ),
    ("    wash {", "    rest {\n        time 1:00\n    }\n    wash {", "rest step — → after fix"),
    ("        in        water\n", "        in        fixer 1+9\n", "stop solution water → fixer"),
    ("dev 1+1+8", "dev 1+1+10", "develop dilution 1+1+8 → 1+1+10"),
    ("one-shot", "reused", "develop use one-shot → reused"),
    ("metol            2 g", "metol            2.5 g", "develop formula a: metol 2 g → 2.5 g"),
    (
        "100 g anhydrous",
        "100 g heptahydrate",
        "develop formula a: sodium-sulfite 100 g anhydrous → 100 g heptahydrate",
    ),
    (
        "    formula b for 1 l {\n        water            500 ml\n        borax            2 g decahydrate\n        water            to 1 l\n    }\n",
        "",
        "develop formula b yes → —",
    ),
    (
        "formula b for 1 l {\n        water            500 ml\n        borax            2 g decahydrate\n        water            to 1 l",
        "formula b for 2 l {\n        water            500 ml\n        borax            2 g decahydrate\n        water            to 2 l",
        "develop formula b: borax 2 g decahydrate → 2 g decahydrate in 2000 ml",
    ),
    ("100 W at 1 m", "60 W at 1 m", "expose light \"a lamp of 100 W at 1 m\" → \"a lamp of 60 W at 1 m\""),
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
    ("needs     250 ml", "needs     200 ml", "develop needs 250 ml → 200 ml"),
    ("rate      2 per", "rate      2.5 per", "develop rate 2 per 10 °C → 2.5 per 10 °C"),
    // 600 s × 2.5^(-0.4) = 415.9 s, where 600 s × 2^(-0.4) = 454.7 s.
    ("rate      2 per", "rate      2.5 per", "develop time at 24 °C 7:35 → 6:56"),
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
    ("index     200", "index     250", "recipe index 200 → 250"),
    ("index     200\n", "\n", "recipe index 200 → —"),
    ("tabular", "conventional", "film grain tabular → conventional"),
    ("ISO 200", "ISO 250", "film speed 200 → 250"),
    ("fixer 1+9 at 20 C", "fixer 1+9 at 22 C", "film clears in fixer 1+9 1:30 at 20 °C → 1:30 at 22 °C"),
    // A wash is in water, stated or not.
    ("        fills     5,", "        in        water\n        fills     5,", "wash solution — → water"),
    ("role      developer", "role      monobath", "develop role developer → monobath"),
    // A litre has the same in it.
    (
        "formula b for 1 l {\n        water            500 ml\n        borax            2 g decahydrate\n        water            to 1 l",
        "formula b for 2 l {\n        water            1 l\n        borax            4 g decahydrate\n        water            to 2 l",
        "develop formula b makes 1000 ml → 2000 ml",
    ),
    (
        "ammonium-thiosulfate, sodium-sulfite",
        "ammonium-thiosulfate",
        "fix contains ammonium-thiosulfate, sodium-sulfite → ammonium-thiosulfate",
    ),
    (
        "treats    8 rolls per 1 l",
        "treats    9 rolls per 1 l",
        "develop treats 8 rolls per 1000 ml → 9 rolls per 1000 ml",
    ),
    // Nothing is added to a bath that is poured away, and it has treated nothing before.
    ("extend    10 %", "extend    15 %", "develop extend 10 % per 4 rolls → 15 % per 4 rolls"),
    ("replenish 25 ml", "replenish 30 ml", "develop replenish 25 ml → 30 ml"),
    ("6 months", "5 months", "develop keeps 6 months → 5 months"),
    // Nothing in this scheme is counted in inversions.
    ("inversion 3 s", "inversion 4 s", "fix inversion 0:03 → 0:04"),
    ("    stop {", "    stop early {", "stop early name — → early"),
];

/// A second film, for a recipe that changes to it.
const WEIR: &str = "\nfilm weir {\n    clears 50 s in fixer 1+4 at 20 C\n}\n";

/// The stop later, which is another order of the work.
fn later() -> String {
    let stop =
        "    stop {\n        in        water\n        time      1:00\n        agitate   continuous\n    }\n";
    TEXT.replace(stop, "").replace("    expose {", &format!("{stop}    expose {{"))
}

/// The bottles of the developer by another name: none of them is poured otherwise.
fn renamed() -> String {
    TEXT.replace("parts     a, b", "parts     c, b").replace("formula a", "formula c")
}

#[test]
fn each_change_of_the_work_is_told_in_its_line() {
    let old = format!("{TEXT}{WEIR}");
    for (from, to, line) in EACH {
        let said = told(&of(&old, &format!("{}{WEIR}", changed(from, to))).args(["--at", "20C,24C"]));
        assert!(has(&said, line), "{line} is not in\n{said}");
    }
    let said = told(&of(TEXT, &later()));
    assert!(has(&said, "stop order after develop → after wash"), "{said}");
}

/// A kept bath is topped up, and its time grows with what it has treated.
#[test]
fn what_a_kept_bath_goes_by_is_work() {
    let kept = |text: &str| text.replace("one-shot", "replenished");
    for (from, to, line) in [
        ("extend    10 %", "extend    15 %", "develop extend 10 % per 4 rolls → 15 % per 4 rolls"),
        ("replenish 25 ml", "replenish 30 ml", "develop replenish 25 ml → 30 ml"),
    ] {
        let said = told(&of(&kept(TEXT), &kept(&changed(from, to))));
        assert!(has(&said, line) && said.ends_with("\n1 difference"), "{line} is not in\n{said}");
    }
}

/// The developer without its coefficient.
fn without_rate(text: &str) -> String {
    text.replace("    rate      2 per 10 C\n", "")
}

#[test]
fn the_temperature_of_a_time_is_no_work_where_nothing_is_calculated_from_it() {
    let new = changed("10:00 at 20 C", "10:00 at 21 C");
    let said = super::squeezed(&of(&without_rate(TEXT), &without_rate(&new)).succeeds());
    assert!(said.ends_with("develop holds at 20 °C → 21 °C\n\nthe same work"), "{said}");
    let said = told(&of(TEXT, &new));
    let line = "develop time as written 10:00 at 20 °C → 10:00 at 21 °C";
    assert!(has(&said, line) && said.ends_with("\n5 differences"), "{said}");
}

#[test]
fn the_order_of_formulas_and_the_name_of_a_formula_are_no_work() {
    let (a, rest) = TEXT.split_once("    formula b").unwrap();
    let (b, rest) = rest.split_once("    needs ").unwrap();
    let (head, a) = a.split_once("    formula a").unwrap();
    let turned = format!("{head}    formula b{b}    formula a{a}    needs {rest}");
    let (dev, mq) = ("solution dev ", "solution mq ");
    let other = TEXT.replace(dev, mq).replace("in        dev 1", "in        mq 1");
    for (new, line) in [
        (turned, None),
        (renamed(), Some("develop bottles a, b → c, b")),
        (other, Some("develop solution dev → mq")),
        (TEXT.replace("fixer 1+4", "fixer 2+8"), None),
    ] {
        let said = super::squeezed(&of(TEXT, &new).succeeds());
        assert!(said.ends_with("\nthe same work"), "{said}");
        assert!(line.is_none_or(|line| has(&said, line)), "{said}");
    }
}

/// Two bought developers of which the labels say the same are two developers.
#[test]
fn a_bought_solution_is_what_it_is_called() {
    let other = TEXT.replace("solution fixer", "solution rapid").replace("fixer 1+", "rapid 1+");
    assert!(has(&told(&of(TEXT, &other)), "fix solution fixer → rapid"));
}

/// Whether a line is told; one that was wrapped goes on in the next lines.
fn has(said: &str, line: &str) -> bool {
    said.replace('\n', " ").contains(line)
}

#[test]
fn what_is_said_and_not_done_is_told_and_is_the_same_work() {
    for (from, to, line) in SAID {
        let said = super::squeezed(&of(TEXT, &changed(from, to)).succeeds());
        let (work, words) = said.split_once("without effect on the work:").unwrap();
        assert!(has(words, line), "{line} is not in\n{said}");
        assert!(work.lines().count() == 1 && said.ends_with("\nthe same work"), "{said}");
    }
}

/// A word that no change brings out would be one that no test has read.
#[test]
fn every_word_for_a_difference_is_told_of_some_change() {
    let mut words: BTreeSet<String> = BTreeSet::new();
    let texts = EACH.iter().chain(SAID).map(|(from, to, _)| format!("{}{WEIR}", changed(from, to)));
    let texts = texts.chain([later(), renamed()].map(|text| format!("{text}{WEIR}")));
    let mut pairs: Vec<(String, String)> = texts.map(|new| (format!("{TEXT}{WEIR}"), new)).collect();
    pairs.push((without_rate(TEXT), without_rate(&changed("10:00 at 20 C", "10:00 at 21 C"))));
    for (old, new) in pairs {
        let json = super::shape::compared(&old, &new);
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
