//! The bounds of the rules about steps: the last value that is accepted and the first that is questioned, and published
//! work that must have no finding. Each bound has its source on the page of its rule.

use wetside::source::Level;

use crate::kitchen::Kitchen;

/// The shelf of the recipes below.
const SHELF: &str = "wetside 2
film plain {
speed ISO 400
clears 45 s in acid-rapid 1+4 at 20 C
}
film unmeasured {
speed ISO 400
}
solution dev {
role developer
contains metol
needs 250 ml per roll
treats 8 rolls per 1 l at stock
}
solution rated {
role developer
contains metol
needs 250 ml per roll
rate 2.4 per 10 C
}
solution colour {
role developer
contains colour-developing-agent
needs 250 ml per roll
}
solution acid-stop {
role stop
contains acetic-acid
treats 12 rolls per 1 l
}
solution sulfate-stop {
role stop
contains acetic-acid, sodium-sulfate
treats 12 rolls per 1 l
}
solution acid-rapid {
role fixer
contains ammonium-thiosulfate, acetic-acid, sodium-sulfite
treats 10 rolls per 1 l
}
solution hypo {
role fixer
contains sodium-thiosulfate, sodium-sulfite
treats 10 rolls per 1 l
}
solution iron {
role bleach
contains ammonium-ferric-edta
}
solution blix {
role bleach-fix
contains ammonium-ferric-edta
treats 8 rolls per 1 l
}
solution aid {
role clearing
contains sodium-sulfite
}
solution alcohol {
role wetting
contains isopropyl-alcohol
}
solution drops {
role wetting
contains wetting-surfactant
}
";

/// The names and severities of the findings of a recipe with these lines, other than of unused names.
fn found(lines: &str) -> Vec<(&'static str, Level)> {
    let kitchen = Kitchen::of(&format!("{SHELF}recipe trial {{\n{lines}\n}}\n"));
    let found = kitchen.findings.iter().filter(|finding| finding.name != "never-used");
    found.map(|finding| (finding.name, finding.level)).collect()
}

/// The steps at their bounds; its first lines say what the columns are.
const STEPS: &str = include_str!("bounds/steps.txt");

/// Findings that some of the steps above have at every value, because the recipe has only that step.
const BESIDE: [&str; 4] =
    ["film-without-clearing", "reusable-bath-poured-away", "short-development", "fix-without-wash"];

#[test]
fn each_bound_accepts_its_value_and_questions_the_next() {
    let rows: Vec<Vec<&str>> =
        STEPS.lines().filter(|row| !row.starts_with('#')).map(|row| row.split(" | ").collect()).collect();
    assert!(rows.len() > 30, "only {} rows", rows.len());
    for row in rows {
        let [lines, accepted, questioned, name, level] = row[..] else { panic!("{row:?}") };
        let lines = lines.replace("; ", "\n").replace("{ ", "{\n").replace(" }", "\n}");
        let level = [Level::Error, Level::Warning, Level::Advice]
            .into_iter()
            .find(|one| one.word() == level)
            .unwrap();
        let others = |value: &str| -> Vec<(&str, Level)> {
            let all = found(&lines.replace('_', value)).into_iter();
            all.filter(|(other, _)| *other == name || !BESIDE.contains(other)).collect()
        };
        let milder: Vec<_> = others(accepted).into_iter().filter(|(_, found)| *found <= level).collect();
        assert_eq!(milder, [], "{accepted} in\n{lines}");
        assert_eq!(others(questioned), [(name, level)], "{questioned} in\n{lines}");
    }
}

/// The names of the findings about the declarations in a text.
fn names(text: &str) -> Vec<&'static str> {
    Kitchen::of(text)
        .findings
        .iter()
        .map(|finding| finding.name)
        .filter(|name| *name != "never-used")
        .collect()
}

#[test]
fn a_film_and_a_rate_have_their_bounds_too() {
    let speed = |iso: &str| names(&format!("wetside 1\nfilm f {{\nspeed ISO {iso}\n}}\n"));
    assert_eq!((speed("12800"), speed("12801")), (vec![], vec!["implausible-film-speed"]));
    let clears = |time: &str| names(&SHELF.replace("clears 45 s", &format!("clears {time}")));
    assert_eq!((clears("10:00"), clears("10:01")), (vec![], vec!["implausible-clearing"]));
    let rate = |rate: &str| names(&SHELF.replace("rate 2.4 per 10 C", &format!("rate {rate}")));
    assert_eq!((rate("1.1 per 10 C"), rate("1.09 per 10 C")), (vec![], vec!["implausible-rate"]));
    // 2.236 squared is 4.9997, 2.237 squared is 5.004.
    assert_eq!((rate("2.236 per 5 C"), rate("2.237 per 5 C")), (vec![], vec!["implausible-rate"]));
}

/// The findings of a recipe for this index, derived from one of 10:00 for index 400.
fn pushed(index: u32, time: &str) -> Vec<(&'static str, Level)> {
    let develop = |time: &str| {
        format!("develop {{\nin dev 1+1, one-shot\n{time}\nagitate first 30 s, then 5 s every 1 min\n}}\n")
    };
    let base = develop("chart {\n18 C 12:00\n20 C 10:00\n22 C 8:20\n}");
    let tail = "fix {\nin acid-rapid 1+4, reused\ntime 3 x clearing\nagitate continuous\n}\nwash {\nsoak 1:00 x 5\n}\n";
    let own = if time.is_empty() { String::new() } else { format!("develop {{\n{time}\n}}\n") };
    let text = format!(
        "{SHELF}recipe base {{\nfilm plain\nindex 400\n{base}stop {{\nin water\ntime 30 s\nagitate none\n}}\n{tail}}}\n\
         recipe other from base {{\nindex {index}\n{own}}}\n"
    );
    let kitchen = Kitchen::of(&text);
    let found = kitchen.findings.iter().filter(|finding| finding.name != "never-used");
    found.map(|finding| (finding.name, finding.level)).collect()
}

/// 10:00 times 2.2 is 22:00, and times 2.2 squared 48:24.
#[test]
fn a_push_is_longer_and_a_pull_is_shorter_than_its_base() {
    let wrong = [("implausible-push", Level::Warning)];
    let chart = |time: &str| format!("chart {{\n18 C 40:00\n20 C {time}\n}}");
    for (index, time, expected) in [
        (800, "time 13:30 at 20 C\nwithin 0.5 C".to_owned(), [].as_slice()),
        (800, "time 9:59 at 20 C\nwithin 0.5 C".to_owned(), wrong.as_slice()),
        (800, "time 22:00 at 20 C\nwithin 0.5 C".to_owned(), [].as_slice()),
        (800, "time 22:01 at 20 C\nwithin 0.5 C".to_owned(), wrong.as_slice()),
        (1600, chart("22:01"), [].as_slice()),
        (1600, chart("9:59"), wrong.as_slice()),
        (200, "time 8:00 at 20 C\nwithin 0.5 C".to_owned(), [].as_slice()),
        (200, "time 10:01 at 20 C\nwithin 0.5 C".to_owned(), wrong.as_slice()),
        // At 21 C the base takes between 10:00 and 8:20: only what is outside both is questioned.
        (800, "time 8:21 at 21 C\nwithin 0.5 C".to_owned(), [].as_slice()),
        (800, "time 8:19 at 21 C\nwithin 0.5 C".to_owned(), wrong.as_slice()),
        // At 24 C the base has no time.
        (800, "time 5:00 at 24 C\nwithin 0.5 C".to_owned(), [].as_slice()),
        (800, String::new(), [("push-without-time", Level::Advice)].as_slice()),
        (1600, String::new(), [("push-without-time", Level::Warning)].as_slice()),
    ] {
        let found: Vec<_> =
            pushed(index, &time).into_iter().filter(|(name, _)| name.contains("push")).collect();
        assert_eq!(found, expected, "{index} in {time}");
    }
}

/// By its pour a step drains before its time is up, so at no temperature of the chart is any time left.
#[test]
fn a_chart_at_which_no_temperature_compiles_is_an_error() {
    let chart = |own: &str, longest: &str| {
        found(&format!(
            "develop {{\nin dev 1+1, one-shot\nchart {{\n18 C {longest}\n22 C 9:00\n}}\n{own}\n\
             agitate first 30 s, then 5 s every 1 min\n}}"
        ))
    };
    assert_eq!(chart("drain 45 min", "13:00"), [("drain-longer-than-step", Level::Error)]);
    assert_eq!(chart("drain 10 min", "13:00"), []);
    assert_eq!(chart("drain 13 min", "13:00"), [("drain-longer-than-step", Level::Error)]);
    assert_eq!(chart("between 22.1 C and 24 C", "13:00"), [("chart-outside-band", Level::Error)]);
    assert_eq!(chart("between 22 C and 24 C", "13:00"), []);
}

/// Published work that no bound may question, each with its source.
#[test]
fn published_steps_are_accepted() {
    for lines in [
        // Minnesota Rules 4732.0555: radiographs in hand tanks, moved once a minute.
        "develop {\nin dev stock, one-shot\nchart {\n60 F 9:30\n64 F 6:30\n68 F 5:00\n}\nagitate first 15 s, then 5 s every 1 min\n}",
        // US Army, Laboratory Procedures, subcourse SS0509, 1988, pages 13 to 24: a stop of 15 s, and of 30 s in water;
        // half an hour of running water.
        "stop {\nin acid-stop stock, one-shot\ntime 15 s\nagitate continuous\n}",
        "stop {\nin water\ntime 30 s\nagitate continuous\n}",
        "wash {\nflow 2 l/min\ntime 30 min\n}",
        // With sulfate to 85 °F: the same, page 13.
        "develop {\nin dev stock, one-shot\ntime 5:00 at 85 F\nwithin 0.5 F\nagitate first 30 s, then 5 s every 1 min\n}\n\
         stop {\nin sulfate-stop stock, one-shot\ntime 3:00\nagitate first 45 s, then 5 s every 30 s\n}",
        // Plates in a tank for 20 min: common practice, no source.
        "develop {\nin dev stock, one-shot\ntime 20:00\nbetween 17 C and 19 C\nagitate first 30 s, then 5 s every 1 min\n}",
        // Stand development to two hours: from memory.
        "develop {\nin dev stock, one-shot\ntime 2 h\nbetween 18 C and 22 C\nagitate first 30 s, stand\n}",
        // Schriever (ed.), Complete Self-Instructing Library of Practical Photography, 1909, § 206: 10 to 12 changes of
        // 2 to 3 min. Fixing for 20 min: the same.
        "wash {\nsoak 2:00 x 10\n}",
        "fix {\nin hypo 1+1, one-shot\ntime 20:00\nagitate none\n}",
        // Dried from alcohol within minutes: US Army, Laboratory Procedures, subcourse SS0509, 1988.
        "rinse {\nin alcohol 1+60, one-shot\ntime 5:00\n}\ndry {\ntime 5:00\n}",
        // In two baths, and in a tank always moved: the time hardly depends on the temperature.
        "develop a {\nin dev stock, one-shot\ntime 5:00\nbetween 15 C and 25 C\nagitate first 30 s, then 5 s every 1 min\n}\n\
         develop b {\nin rated stock, one-shot\ntime 5:00\nbetween 15 C and 25 C\nagitate first 30 s, then 5 s every 1 min\n}",
    ] {
        let found: Vec<_> = found(lines).into_iter().filter(|(name, _)| !BESIDE.contains(name)).collect();
        assert_eq!(found, [], "in\n{lines}");
    }
}
