//! Sound work that looks like a mistake has no finding, and one cause has one finding.

use crate::kitchen::{Kitchen, celsius, evening};
use wetside::model::Format;
use wetside::source::Level;

const SHELF: &str = "wetside 1
film plain {
speed ISO 100
}
film bromide-paper {
}
solution dev {
role developer
contains metol
needs 250 ml per roll
}
solution fogger {
role fogging
contains thiourea
}
solution fixer {
role fixer
contains sodium-thiosulfate
treats 10 rolls per 1 l
}
solution whitener {
role bleach
contains potassium-ferricyanide
}
solution sepia {
role toner
contains thiourea
}
";

/// The names of the findings of a recipe with these lines, other than of unused names.
fn names(lines: &str) -> Vec<&'static str> {
    let kitchen = Kitchen::of(&format!("{SHELF}recipe trial {{\n{lines}}}\n"));
    kitchen.findings.iter().map(|finding| finding.name).filter(|name| *name != "never-used").collect()
}

fn has(lines: &str, name: &str) -> bool {
    names(lines).contains(&name)
}

const DEVELOP: &str =
    "develop {\nin dev 1+1, one-shot\ntime 6:00\nbetween 18 C and 22 C\nagitate continuous\nLIGHT}\n";
const FIX: &str = "fix {\nin fixer 1+1, one-shot\ntime 5:00\nagitate continuous\nLIGHT}\n";
const BLEACH: &str = "bleach {\nin whitener stock, one-shot\ntime 4:00\nLIGHT}\n";
const TONE: &str = "tone {\nin sepia stock, one-shot\ntime 2:00\nLIGHT}\n";
const WASH: &str = "wash {\nsoak 1:00 x 5\nLIGHT}\n";
const SOAK: &str = "presoak {\ntime 2:00\nLIGHT}\n";

fn dark(step: &str) -> String {
    step.replace("LIGHT", "")
}

fn lit(step: &str) -> String {
    step.replace("LIGHT", "light safe\n")
}

#[test]
fn film_and_prints_that_are_processed_may_be_in_the_light() {
    let redeveloped = dark(DEVELOP).replace("develop {", "develop again {");
    for sound in [
        // Toned prints.
        lit(BLEACH) + &dark(WASH) + &dark(TONE),
        lit(TONE) + &dark(WASH),
        // Film that is fixed again.
        lit(SOAK) + &dark(FIX) + &dark(WASH),
        lit(FIX) + &dark(WASH),
        // Intensified: bleached and developed again.
        lit(BLEACH) + &dark(WASH) + &redeveloped,
        lit(SOAK) + &dark(BLEACH) + &redeveloped,
        lit(SOAK) + &dark(FIX) + &redeveloped,
    ] {
        for name in ["light-before-fix", "fix-before-develop"] {
            assert!(!has(&sound, name), "{name} in\n{sound}");
        }
    }
    // Film that is developed first is in the dark until the fixer, and a tail without a development is its end.
    for wrong in [lit(DEVELOP) + &dark(FIX), lit(SOAK) + &dark(DEVELOP) + &dark(FIX)] {
        assert!(has(&wrong, "light-before-fix"), "{wrong}");
    }
    let stop = "stop {\nin water\ntime 1:00\nagitate none\nlight safe\n}\n".to_owned();
    assert!(has(&(stop + &dark(FIX)), "light-before-fix"));
    for wrong in [dark(FIX) + &dark(DEVELOP), lit(FIX) + &dark(DEVELOP), dark(BLEACH) + &dark(DEVELOP)] {
        assert!(has(&wrong, "fix-before-develop"), "{wrong}");
    }
}

/// After a fogging bath, or light on purpose, the rest of the film is developed anyway.
#[test]
fn light_after_a_second_exposure_is_no_mistake() {
    let fog = "develop fog {\nin fogger stock, one-shot\ntime 2:00\nbetween 18 C and 22 C\nagitate none\n}\n";
    let lamp = "expose {\ntime 1:00 each side\nlight \"a lamp\"\n}\n";
    for between in [fog, lamp] {
        assert!(!has(&format!("{}{between}{}", dark(DEVELOP), lit(WASH)), "light-before-fix"), "{between}");
        assert!(has(&format!("{}{}{between}", dark(DEVELOP), lit(WASH)), "light-before-fix"), "{between}");
    }
    // Paper under the enlarger is exposed before it is developed.
    assert!(has(&format!("{lamp}{}{}", lit(DEVELOP), dark(FIX)), "light-before-fix"));
}

#[test]
fn only_film_needs_a_clearing_time() {
    let fixed = |film: &str, before: &str| {
        let steps = format!("film {film}\n{before}{}{}{}", dark(DEVELOP), dark(FIX), dark(WASH));
        has(&steps, "film-without-clearing")
    };
    assert!(fixed("plain", ""));
    assert!(!fixed("bromide-paper", ""));
    assert!(!fixed("plain", "expose {\ntime 12 s\n}\n"));
}

/// In a hot process the lamp needs no temperature; the last bath is outside the usual 15 to 30 °C, and only warned of.
#[test]
fn an_exposure_between_hot_baths_has_no_temperature() {
    let hot = "develop {\nin dev stock, one-shot\ntime 6:00 at 38 C\nwithin 0.5 C\nagitate continuous\n}\n";
    let lamp = "expose {\nin water\ntime 1:00\nlight \"a lamp\"\n}\n";
    let kitchen = Kitchen::sound(&format!("{SHELF}recipe trial {{\nfilm plain\n{hot}{lamp}}}\n"));
    let schedule = kitchen.compiled(&evening(celsius("38"), &[(1, Format::F120)]));
    assert!(schedule.warnings.iter().all(|warning| warning.rule != "R4"), "{:?}", schedule.warnings);
    let washed = Kitchen::sound(&format!("{SHELF}recipe trial {{\nfilm plain\n{hot}{}}}\n", dark(WASH)));
    let schedule = washed.compiled(&evening(celsius("38"), &[(1, Format::F120)]));
    let warned: Vec<_> = schedule.warnings.iter().filter(|warning| warning.rule == "R4").collect();
    assert_eq!(warned.len(), 1, "{warned:?}");
}

/// The names of the findings about capacity in a solution that two recipes reuse, and that is in a declared bottle.
fn of_capacity(role: &str, own: &str) -> Vec<(&'static str, Level)> {
    let step = if role == "fixer" {
        "fix"
    } else if role == "stop" {
        "stop"
    } else {
        "develop"
    };
    let recipe = |name: &str| {
        format!(
            "recipe {name} {{\n{step} {{\nin brew stock, reused\ntime 6:00\nbetween 18 C and 22 C\n\
             agitate continuous\n}}\n}}\n"
        )
    };
    let text = format!(
        "wetside 1\nsolution brew {{\nrole {role}\ncontains metol\n{own}}}\n{}{}\
         bath brew-a {{\nin brew\nvolume 1 l\nmixed 2026-07-01\n}}\n",
        recipe("one"),
        recipe("two")
    );
    let kitchen = Kitchen::of(&text);
    let about =
        kitchen.findings.iter().filter(|one| one.name.contains("capacity") || one.name == "uncounted-bath");
    about.map(|finding| (finding.name, finding.level)).collect()
}

#[test]
fn one_missing_capacity_is_one_finding() {
    assert_eq!(of_capacity("fixer", ""), [("fixer-without-capacity", Level::Warning)]);
    assert_eq!(of_capacity("developer", ""), [("reused-without-capacity", Level::Warning)]);
    assert_eq!(of_capacity("stop", ""), [("reused-without-capacity", Level::Advice)]);
    assert_eq!(of_capacity("stop", "treats 12 rolls per 1 l\n"), []);
}

/// 240 ml at 4 rolls a litre treat 0.96 rolls, which is less than one.
#[test]
fn a_capacity_just_under_a_roll_is_shown_as_such() {
    let text = SHELF.replace("treats 10 rolls", "treats 4 rolls");
    let kitchen =
        Kitchen::sound(&format!("{text}recipe trial {{\nfilm plain\n{}{}}}\n", dark(DEVELOP), dark(FIX)));
    let mut tonight = evening(celsius("20"), &[(1, Format::F120)]);
    tonight.volume = Some(wetside::model::Volume::from_ml(240));
    let errors = kitchen.tried(&tonight).unwrap_err();
    let over = errors.iter().find(|error| error.name == "bath-over-capacity").unwrap();
    assert!(over.message.contains("treats 0.96 rolls, but tonight's load is 1 roll"), "{}", over.message);
}
