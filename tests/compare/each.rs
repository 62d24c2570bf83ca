//! Each statement that can differ, changed alone, has its own line.

use std::collections::BTreeSet;

use super::shape::at;
use super::{TEXT, changed, report_of, run_compare};

/// The old text, the new text and the expected line.
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
        "time      3 x clearing, at least 2:00",
        "time      until \"it is clear\", at least 2:00, at most 6:00, look every 30 s",
        "fix time rule 3 x clearing, at least 2:00 → until \"it is clear\", at least 2:00, at most 6:00, look every 0:30",
    ),
    (
        "time      3 x clearing, at least 2:00",
        "time      2.5 x \"it is clear\", at most 6:00",
        "fix time rule 3 x clearing, at least 2:00 → 2.5 x the time to \"it is clear\", at most 6:00",
    ),
    (
        "5, 10 inversions",
        "5, 11 inversions",
        "wash time as written 5 inversions, 10 inversions → 5 inversions, 11 inversions",
    ),
    ("1:00 each side", "1:30 each side", "expose time as written 1:00 each side → 1:30 each side"),
    ("18 C and 24 C", "18 C and 23 C", "develop temperatures 18 °C to 24 °C → 18 °C to 23 °C"),
    // 600 s × 2^(-0.4) = 454.7 s.
    ("18 C and 24 C", "18 C and 23 C", "develop time at 24 °C 7:35 → no time at this temperature"),
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
    ("        light     room\n", "", "wash light safe yes → —"),
    (
        "    index     200",
        "    light     safelight \"red\"\n    index     200",
        "recipe lighting — → \"red\"",
    ),
    ("        light     room", "        light     none", "wash lighting — → none"),
    (
        "    grain     tabular",
        "    coated    both sides\n    grain     tabular",
        "film coated both sides — → yes",
    ),
    (
        "        handling  10 s",
        "        clock     from full\n        handling  10 s",
        "develop clock from pour → from full",
    ),
];

/// Changes without effect on the work.
const SAID: &[(&str, &str, &str)] = &[
    ("no drop on the lamp", "keep off the lamp", "expose caution \"no drop on the lamp\" → —"),
    ("index     200", "index     250", "recipe index 200 → 250"),
    ("index     200\n", "\n", "recipe index 200 → —"),
    (
        "index     200\n",
        "index     200\n    tested    2026-11-12 \"by eye\"\n",
        "recipe tested — → \"2026-11-12: by eye\"",
    ),
    (
        "index     200\n",
        "index     200\n    deprecated because \"too short\"\n",
        "recipe deprecated — → \"too short\"",
    ),
    ("tabular", "conventional", "film grain tabular → conventional"),
    ("ISO 200", "ISO 250", "film speed 200 → 250"),
    ("fixer 1+9 at 20 C", "fixer 1+9 at 22 C", "film clears in fixer 1+9 1:30 at 20 °C → 1:30 at 22 °C"),
    // A wash is in water, stated or not.
    ("        fills     5,", "        in        water\n        fills     5,", "wash solution — → water"),
    ("role      developer", "role      monobath", "develop role developer → monobath"),
    // A litre has the same contents.
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
    // A one-shot bath is never topped up or used again.
    ("extend    10 %", "extend    15 %", "develop extend 10 % per 4 rolls → 15 % per 4 rolls"),
    ("replenish 25 ml", "replenish 30 ml", "develop replenish 25 ml → 30 ml"),
    ("6 months", "5 months", "develop keeps 6 months → 5 months"),
    // Nothing in this scheme is counted in inversions.
    ("inversion 3 s", "inversion 4 s", "fix inversion 0:03 → 0:04"),
    ("    stop {", "    stop early {", "stop early name — → early"),
];

/// The bath of another step, in edition 2: the kind of step, the old bath, the new one and the expected line.
const BATHS: &[(&str, &str, &str, &str)] = &[
    ("fix", "fixer 1+4 bath one, reused", "fixer 1+4 bath two, reused", "fix last bath 1 → 2"),
    ("fix", "fixer 1+4 bath two, reused", "fixer 1+4 bath two, becomes one", "fix last becomes — → 1"),
    ("tone", "dev part a 1+9, one-shot", "dev part b 1+9, one-shot", "tone last part 1 → 2"),
    ("tone", "dev 1+1+8, one-shot", "used develop", "tone last used — → 1"),
];

/// The text with another step in this bath.
fn bathed_again(kind: &str, bath: &str) -> String {
    let text = changed("fixer 1+4, reused", "fixer 1+4 bath one, reused").replace("wetside 1", "wetside 2");
    let text = text.replace("light     safe", "light     room");
    let again = format!("    {kind} last {{\n        in        {bath}\n        time      4:00\n    }}\n");
    text.replace("    wash {", &format!("{again}    wash {{"))
}

#[test]
fn each_change_of_a_bath_has_its_line() {
    for (kind, from, to, line) in BATHS {
        let report = report_of(&run_compare(&bathed_again(kind, from), &bathed_again(kind, to)));
        assert!(report.contains(line), "{line} is not in\n{report}");
    }
}

/// A second film, for a recipe that changes to it.
const WEIR: &str = "\nfilm weir {\n    clears 50 s in fixer 1+4 at 20 C\n}\n";

/// The text with the stop later, which changes the order of the work.
fn later() -> String {
    let stop =
        "    stop {\n        in        water\n        time      1:00\n        agitate   continuous\n    }\n";
    TEXT.replace(stop, "").replace("    expose {", &format!("{stop}    expose {{"))
}

/// The text with a paper of the same name in place of the film.
fn on_paper() -> String {
    TEXT.replace("film sluice", "paper sluice").replace("film      sluice", "paper     sluice")
}

/// The text with another name for a bottle of the developer, which does not change the work.
fn renamed() -> String {
    TEXT.replace("parts     a, b", "parts     c, b").replace("formula a", "formula c")
}

#[test]
fn each_change_of_the_work_has_its_line() {
    let old = format!("{TEXT}{WEIR}");
    for (from, to, line) in EACH {
        let report =
            report_of(&run_compare(&old, &format!("{}{WEIR}", changed(from, to))).args(["--at", "20C,24C"]));
        assert!(has(&report, line), "{line} is not in\n{report}");
    }
    let report = report_of(&run_compare(TEXT, &later()));
    assert!(has(&report, "stop order after develop → after wash"), "{report}");
    let report = report_of(&run_compare(TEXT, &on_paper()));
    assert!(has(&report, "film material — → paper"), "{report}");
}

/// A kept bath is topped up, and its time grows with the rolls treated.
#[test]
fn extending_and_replenishing_a_kept_bath_is_work() {
    let kept = |text: &str| text.replace("one-shot", "replenished");
    for (from, to, line) in [
        ("extend    10 %", "extend    15 %", "develop extend 10 % per 4 rolls → 15 % per 4 rolls"),
        ("replenish 25 ml", "replenish 30 ml", "develop replenish 25 ml → 30 ml"),
    ] {
        let report = report_of(&run_compare(&kept(TEXT), &kept(&changed(from, to))));
        assert!(has(&report, line) && report.ends_with("\n1 difference"), "{line} is not in\n{report}");
    }
}

/// The developer without its coefficient.
fn without_rate(text: &str) -> String {
    text.replace("    rate      2 per 10 C\n", "")
}

#[test]
fn the_temperature_of_a_time_is_work_only_if_a_time_is_calculated_from_it() {
    let new = changed("10:00 at 20 C", "10:00 at 21 C");
    let report = super::squeezed(&run_compare(&without_rate(TEXT), &without_rate(&new)).succeeds());
    assert!(report.ends_with("develop holds at 20 °C → 21 °C\n\nthe same work"), "{report}");
    let report = report_of(&run_compare(TEXT, &new));
    let line = "develop time as written 10:00 at 20 °C → 10:00 at 21 °C";
    assert!(has(&report, line) && report.ends_with("\n5 differences"), "{report}");
}

#[test]
fn the_order_and_names_of_formulas_do_not_change_the_work() {
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
        let report = super::squeezed(&run_compare(TEXT, &new).succeeds());
        assert!(report.ends_with("\nthe same work"), "{report}");
        assert!(line.is_none_or(|line| has(&report, line)), "{report}");
    }
}

/// Two bought solutions with the same label are still two solutions.
#[test]
fn two_bought_solutions_differ_by_their_names() {
    let other = TEXT.replace("solution fixer", "solution rapid").replace("fixer 1+", "rapid 1+");
    assert!(has(&report_of(&run_compare(TEXT, &other)), "fix solution fixer → rapid"));
}

/// Whether the report has the line, which may be wrapped.
fn has(report: &str, line: &str) -> bool {
    report.replace('\n', " ").contains(line)
}

#[test]
fn changes_without_effect_are_listed_as_the_same_work() {
    for (from, to, line) in SAID {
        let report = super::squeezed(&run_compare(TEXT, &changed(from, to)).succeeds());
        let (work, words) = report.split_once("without effect on the work:").unwrap();
        assert!(has(words, line), "{line} is not in\n{report}");
        assert!(work.lines().count() == 1 && report.ends_with("\nthe same work"), "{report}");
    }
}

/// The text with restrainer in the developer, of this many grams in a litre.
fn with_bromide(grams: u32) -> String {
    let formula = format!(
        "\nsolution bromide {{\n    role      developer\n    formula for 1 l {{\n        water            900 ml\n        potassium-bromide {grams} g\n        water            to 1 l\n    }}\n}}\n"
    );
    let bath = "        in        dev 1+1+8, one-shot\n";
    changed(bath, &format!("{bath}        with      20 ml/l bromide\n")) + &formula
}

#[test]
fn the_amount_and_the_contents_of_an_addition_are_work() {
    let report = report_of(&run_compare(TEXT, &with_bromide(10)));
    assert!(has(&report, "develop with — → 20 ml"), "{report}");
    let report = report_of(&run_compare(&with_bromide(10), &with_bromide(12)));
    let line = "develop with: potassium-bromide 10 g → 12 g";
    assert!(has(&report, line) && report.ends_with("\n1 difference"), "{report}");
}

/// The text with a developer that is topped up from a solution whose formula has these lines.
fn with_strong(lines: [&str; 2]) -> String {
    let solution = format!(
        "\nsolution strong {{\n    role      developer\n    formula for 1 l {{\n        water            750 ml\n        {}\n        {}\n        water            to 1 l\n    }}\n}}\n",
        lines[0], lines[1]
    );
    changed("one-shot", "replenished").replace("25 ml per roll", "25 ml per roll with strong") + &solution
}

/// With amounts alone, 3 g of phenidone would be 3 g of metol.
#[test]
fn the_contents_of_a_replenisher_and_their_order_are_work() {
    let old = with_strong(["metol 3 g", "hydroquinone 5 g"]);
    for (new, lines) in [
        (["metol 4 g", "hydroquinone 5 g"], &["develop replenisher: metol 3 g → 4 g"][..]),
        (
            ["phenidone 3 g", "hydroquinone 5 g"],
            &["develop replenisher: phenidone — → 3 g", "develop replenisher: metol 3 g → —"],
        ),
        (["hydroquinone 5 g", "metol 3 g"], &["develop replenisher: hydroquinone after metol → after water"]),
    ] {
        let report = report_of(&run_compare(&old, &with_strong(new)));
        assert!(lines.iter().all(|line| has(&report, line)), "{lines:?} are not in\n{report}");
        let count = if lines.len() == 1 { "\n1 difference" } else { "\n2 differences" };
        assert!(report.ends_with(count), "{report}");
    }
}

/// A kind of difference that no change causes would be untested.
#[test]
fn every_kind_of_difference_in_the_schema_occurs() {
    let mut words: BTreeSet<String> = BTreeSet::new();
    let texts = EACH.iter().chain(SAID).map(|(from, to, _)| format!("{}{WEIR}", changed(from, to)));
    let texts = texts.chain([later(), renamed(), on_paper()].map(|text| format!("{text}{WEIR}")));
    let mut pairs: Vec<(String, String)> = texts.map(|new| (format!("{TEXT}{WEIR}"), new)).collect();
    pairs.push((without_rate(TEXT), without_rate(&changed("10:00 at 20 C", "10:00 at 21 C"))));
    let second = TEXT.replace("wetside 1", "wetside 2").replace("light     safe", "light     room");
    let line = "    index     200\n    repeat    from stop to fix, 2 times\n";
    let rounds = second.replace("    index     200\n", line);
    let topped_up = second.replace("25 ml per roll", "25 ml per roll with fixer");
    pairs.extend([(second.clone(), rounds), (second.clone(), topped_up)]);
    pairs.extend([(second.clone(), with_bromide(10)), (with_bromide(10), with_bromide(12))]);
    let lines = ["        water            900 ml\n", "        potassium-bromide 10 g\n"];
    let turned = with_bromide(10).replace(&lines.concat(), &format!("{}{}", lines[1], lines[0]));
    pairs.push((with_bromide(10), turned));
    let topped = [
        ["metol 3 g", "hydroquinone 5 g"],
        ["hydroquinone 5 g", "metol 3 g"],
        ["metol 4 g", "hydroquinone 5 g"],
    ]
    .map(with_strong);
    pairs.extend(topped[1..].iter().map(|new| (topped[0].clone(), new.clone())));
    let of_any =
        |text: &str| text.replace("    film      sluice\n    index     200\n", "    film      any\n");
    pairs.push((of_any(TEXT).replace("    film      any\n", ""), of_any(TEXT)));
    pairs.extend(BATHS.iter().map(|(kind, from, to, _)| (bathed_again(kind, from), bathed_again(kind, to))));
    for (old, new) in pairs {
        let json = super::shape::compared(&old, &new);
        for list in ["differences", "said"] {
            let found = at(&json, "/recipes")
                .as_array()
                .unwrap()
                .iter()
                .flat_map(|one| at(one, &format!("/{list}")).as_array().unwrap());
            words.extend(found.map(|one| at(one, "/what").as_str().unwrap().to_owned()));
        }
    }
    assert_eq!(words, super::shape::schema_words(), "the kinds that occur, and those of the schema");
    assert!(words.len() > 40, "{words:?}");
}
