//! What the pages of the rules cannot show: the text of fixes, and findings that depend on other files of a run.

use wetside::source::Diagnostic;

use crate::kitchen::Kitchen;

/// The findings of one name.
fn findings_of<'a>(kitchen: &'a Kitchen, name: &str) -> Vec<&'a Diagnostic> {
    kitchen.findings.iter().filter(|finding| finding.name == name).collect()
}

/// The text after the first fix of the first finding of that name.
#[track_caller]
fn fixed(text: &str, name: &str) -> String {
    let kitchen = Kitchen::of(text);
    let found = findings_of(&kitchen, name);
    let fix = found.first().and_then(|finding| finding.fixes.first()).expect("a fix is offered");
    let mut edits = fix.edits.clone();
    edits.sort_by_key(|edit| std::cmp::Reverse(edit.span));
    let put = |text: String, edit: &wetside::source::Edit| {
        let (before, after) = (&text[..edit.span.range().start], &text[edit.span.range().end..]);
        format!("{before}{}{after}", edit.text)
    };
    edits.iter().fold(text.to_owned(), put)
}

const USER: &str =
    "wetside 1\nuse \"shared.wet\"\nrecipe night {\nstop {\nin plain-stop 1+19\ntime 1:00\n}\n}\n";
const STOP: &str = "solution plain-stop {\nrole stop\ncontains citric-acid\n}\n";

#[test]
fn a_name_that_another_file_uses_is_not_unused() {
    let shared = format!("wetside 1\n{STOP}recipe own {{\nfix {{\nin water\ntime 5:00\n}}\n}}\n");
    assert_eq!(findings_of(&Kitchen::of(&shared), "never-used").len(), 1);
    assert_eq!(findings_of(&Kitchen::of_files(USER, &[("shared.wet", &shared)]), "never-used").len(), 0);
}

#[test]
fn a_misspelt_name_is_the_only_finding() {
    let text = format!("wetside 1\n{STOP}recipe night {{\nstop {{\nin plain-stpo 1+19\ntime 1:00\n}}\n}}\n");
    let kitchen = Kitchen::of(&text);
    let names: Vec<&str> = kitchen.findings.iter().map(|finding| finding.name).collect();
    assert_eq!(names, ["unknown-name"]);
}

#[test]
fn a_shared_solution_needs_a_source() {
    let shared = format!("wetside 1\n{STOP}");
    assert_eq!(findings_of(&Kitchen::of(&shared), "shared-without-source").len(), 0);
    assert_eq!(
        findings_of(&Kitchen::of_files(USER, &[("shared.wet", &shared)]), "shared-without-source").len(),
        1
    );
}

#[test]
fn one_fix_changes_every_odd_spelling_of_a_unit() {
    let text = "wetside 1\nrecipe r {\nbetween 18 °C and 24 °C\nfix {\nin water\ntime 5:00\nat 20 C\n}\n}\n";
    assert_eq!(fixed(text, "two-spellings"), text.replace("°C", "C"));
    assert_eq!(findings_of(&Kitchen::of(&text.replace("20 C", "20 °C")), "two-spellings").len(), 0);
}

#[test]
fn singular_and_plural_are_one_spelling() {
    let text = |one: &str, other: &str| {
        let solution =
            |name: &str, keeps| STOP.replace("plain", name).replace("}\n", &format!("keeps {keeps}\n}}\n"));
        format!("wetside 1\n{}{}", solution("a", one), solution("b", other))
    };
    let found = |one, other| findings_of(&Kitchen::of(&text(one, other)), "two-spellings").len();
    assert_eq!(found("1 month", "6 months"), 0);
    assert_eq!(found("3 month", "6 months"), 1);
}

#[test]
fn too_precise_values_are_rounded_to_measurable_ones() {
    let fix = |time: &str, at: &str| {
        format!("wetside 1\nrecipe r {{\nfix {{\nin water\ntime {time}\nat {at}\n}}\n}}\n")
    };
    for (written, offered) in [("90.5 s", "1:31"), ("10:00:29", "10:00:00"), ("10:00:30", "10:01:00")] {
        assert_eq!(fixed(&fix(written, "20 C"), "too-precise"), fix(offered, "20 C"));
    }
    for (written, offered) in [("18.333 C", "18.3 C"), ("68.25 F", "68.3 F"), ("20.01 C", "20 C")] {
        assert_eq!(fixed(&fix("5:00", written), "too-precise"), fix("5:00", offered));
    }
    for measured in ["20 C", "37.8 C", "20.05 C", "68 F", "68.5 F", "100.4 F"] {
        assert_eq!(findings_of(&Kitchen::of(&fix("5:00", measured)), "too-precise").len(), 0, "{measured}");
    }
}

#[test]
fn a_mass_of_five_digits_is_rounded_to_four() {
    let formula = |mass: &str| {
        format!(
            "wetside 1\nsolution s {{\nrole developer\nformula for 1 l {{\nwater 750 ml\nmetol {mass}\nwater to 1 l\n}}\n}}\n"
        )
    };
    for (written, offered) in [("2.3456 g", "2.346 g"), ("0.012345 g", "0.01235 g"), ("100.02 g", "100 g")] {
        assert_eq!(fixed(&formula(written), "too-precise"), formula(offered));
    }
    for measured in ["2.346 g", "67.5 g", "0.2 g", "1000 g", "2 mg", "1 1/2 av-oz", "3.125 g/l"] {
        assert_eq!(findings_of(&Kitchen::of(&formula(measured)), "too-precise").len(), 0, "{measured}");
    }
}

#[test]
fn the_suggested_mark_is_the_volume_of_the_formula() {
    let formula = |makes: &str, end: &str| {
        format!(
            "wetside 1\nsolution s {{\nrole developer\nformula for {makes} {{\nwater 400 ml\nmetol 2 g{end}\n}}\n}}\n"
        )
    };
    let name = "formula-without-mark";
    let end = "\n        water            to 1500 ml";
    assert_eq!(fixed(&formula("1.5 l", ""), name), formula("1.5 l", end));
    assert_eq!(findings_of(&Kitchen::sound(&formula("1.5 l", end)), name).len(), 0);
    // A quart is no whole number of millilitres, so there is no exact mark to suggest.
    let kitchen = Kitchen::of(&formula("1 us-qt", ""));
    let found = findings_of(&kitchen, name);
    assert!(found.len() == 1 && found.iter().all(|finding| finding.fixes.is_empty()));
}

#[test]
fn a_film_and_its_recipe_may_share_a_name_and_others_may_not() {
    let recipe = |name: &str| format!("recipe {name} {{\nfix {{\nin water\ntime 5:00\n}}\n}}\n");
    let found = |text: &str| findings_of(&Kitchen::of(&format!("wetside 1\n{text}")), "shadowed-name").len();
    assert_eq!(found(&format!("film ebb-50 {{\n}}\n{}", recipe("ebb-50"))), 0);
    assert_eq!(found(&format!("{STOP}{}", recipe("plain-stop"))), 1);
    assert_eq!(found("solution two {\nrole bleach\ncontains metol\nparts fix, b\n}\n"), 1);
    assert_eq!(found("recipe r {\nwash last after-fix {\n}\n}\n"), 0);
}

#[test]
fn acid_with_hypo_or_alum_must_be_dissolved_in_order() {
    let found = |lines: &str| {
        let text = format!("wetside 1\nsolution s {{\nrole fixer\nformula for 1 l {{\n{lines}\n}}\n}}\n");
        findings_of(&Kitchen::of(&text), "out-of-dissolving-order").len()
    };
    let (sulfite, acid) = ("sodium-sulfite 15 g anhydrous\n", "acetic-acid 48 ml 28 %\n");
    let (alum, hypo) = ("potassium-alum 15 g dodecahydrate\n", "sodium-thiosulfate 240 g pentahydrate\n");
    assert_eq!(found(&[hypo, sulfite, acid, alum].concat()), 0);
    assert_eq!(found(&[sulfite, acid, alum, hypo].concat()), 0);
    assert_eq!(found(&[hypo, sulfite, alum, acid].concat()), 1);
    assert_eq!(found(&[hypo, acid, sulfite, alum].concat()), 1);
    assert_eq!(found(&[hypo, acid, alum].concat()), 0);
    assert_eq!(found(&[acid, sulfite].concat()), 0);
}

const FILM: &str = "film plain {\nspeed ISO 100\n}\n";

/// A recipe for that film, in that solution.
fn stopped(film: &str, solution: &str) -> String {
    format!("recipe night {{\nfilm {film}\nstop {{\nin {solution} 1+19\ntime 1:00\n}}\n}}\n")
}

/// A film and a solution may share a name; a use of one is no use of the other.
#[test]
fn a_use_counts_only_for_its_own_kind() {
    let twins = format!("{FILM}{STOP}{}", STOP.replace("plain-stop", "plain"));
    let kitchen = Kitchen::of(&format!("wetside 1\n{twins}{}", stopped("plain", "plain-stop")));
    let found = findings_of(&kitchen, "never-used");
    assert_eq!(found.len(), 1);
    assert!(found[0].message.contains("the solution 'plain'"), "{}", found[0].message);
}

#[test]
fn a_film_in_a_backlog_is_used() {
    let other = FILM.replace("plain", "other");
    let text = format!("wetside 1\n{FILM}{other}{STOP}{}", stopped("plain", "plain-stop"));
    assert_eq!(findings_of(&Kitchen::of(&text), "never-used").len(), 1);
    let waiting = format!("{text}backlog autumn {{\nroll \"A-1\" 120 of other\n}}\n");
    assert_eq!(findings_of(&Kitchen::of(&waiting), "never-used").len(), 0);
}

/// A recipe without an index is for the film's speed.
#[test]
fn a_push_is_compared_with_a_parent_without_an_index_too() {
    let develop = "develop {\nin water\ntime 10:00\nbetween 18 C and 24 C\n}\n";
    let pushed = |index: &str, of_parent: &str| {
        let parent = format!("recipe normal {{\nfilm plain\n{of_parent}{develop}}}\n");
        let text = format!("wetside 1\n{FILM}{parent}recipe pushed from normal {{\nindex {index}\n}}\n");
        let kitchen = Kitchen::of(&text);
        findings_of(&kitchen, "push-without-time").iter().map(|one| one.message.clone()).collect::<Vec<_>>()
    };
    assert_eq!(pushed("400", ""), ["index 400 on film of ISO 100 has the development of index 100"]);
    assert_eq!(
        pushed("400", "index 200\n"),
        ["index 400 on film of ISO 100 has the development of index 200"]
    );
    assert_eq!(pushed("400", "index 400\n"), [""; 0]);
    assert_eq!(pushed("200", ""), ["index 200 on film of ISO 100 has the development of index 100"]);
    assert_eq!(pushed("180", ""), [""; 0]);
    // From 50 to 100 is a stop, and no push.
    assert_eq!(pushed("100", "index 50\n"), [""; 0]);
}

/// Two recipes of one file that share a stop bath, each a stop of one minute.
fn pair(a: &str, b: &str) -> String {
    let recipe = |name: &str, step: &str| format!("recipe {name} {{\n  stop {{\n    {step}\n  }}\n}}\n");
    format!("wetside 1\n{STOP}{}{}", recipe("a", a), recipe("b", b))
}

/// The recipes that are sound, and whether there are errors.
fn sound(text: &str) -> (Vec<String>, bool) {
    let kitchen = Kitchen::of(text);
    let errors = kitchen.findings.iter().any(|finding| finding.level == wetside::source::Level::Error);
    (kitchen.shelf.recipes.iter().map(|recipe| recipe.name.clone()).collect(), errors)
}

const GOOD: &str = "in plain-stop 1+19\ntime 1:00";

#[test]
fn an_error_in_a_recipe_drops_no_other_recipe() {
    assert_eq!(sound(&pair(GOOD, GOOD)), (vec!["a".to_owned(), "b".to_owned()], false));
    for bad in [
        "in plain-stop 1+19\ntime 60",
        "in nothing 1+19\ntime 1:00",
        "in plain-stop 1+19",
        "tiem 1:00",
        "fix {",
    ] {
        assert_eq!(sound(&pair(bad, GOOD)), (vec!["b".to_owned()], true), "{bad}");
        assert_eq!(sound(&pair(GOOD, bad)), (vec!["a".to_owned()], true), "{bad}");
    }
}

#[test]
fn an_error_drops_the_recipes_that_may_depend_on_it() {
    let whole = pair(GOOD, GOOD);
    let none: (Vec<String>, bool) = (Vec::new(), true);
    // Both use the solution with the error.
    assert_eq!(sound(&whole.replace("role stop", "rule stop")), none);
    // An extra brace ends the recipe early, and the later steps are lost.
    assert_eq!(sound(&whole.replace("recipe b {\n", "recipe b {\n}\n")), none);
    // The name is ambiguous.
    assert_eq!(sound(&whole.replace(STOP, &format!("{STOP}{STOP}"))), none);
    // An unknown line at the top level may have been any header.
    assert_eq!(sound(&whole.replace("recipe b {\n", "recipe b {\nfix { in water }\n")).0, ["a"]);
    assert_eq!(sound(&whole.replace("recipe b {", "receipt b {")), none);
}

#[test]
fn liquids_past_the_mark_are_an_error() {
    let made = |items: &str| {
        let text =
            format!("wetside 1\nsolution trial {{\nrole stop\nformula for 1000 ml {{\n{items}\n}}\n}}\n");
        let kitchen = Kitchen::of(&text);
        let found = findings_of(&kitchen, "over-the-mark");
        found.iter().map(|finding| (finding.message.clone(), finding.help.concat())).collect::<Vec<_>>()
    };
    let acid = |ml: u32| format!("acetic-acid {ml} ml glacial");
    // Three quarters of the volume that the other liquids leave: of 1000 ml 750, of 1000 − 260 = 740 ml 555.
    let found_names = |sum: &str, water: &str| {
        let help = format!(
            "use less water at the start, such as: water {water} ml; and end with the line: water to 1000 ml"
        );
        vec![(format!("the liquids come to {sum}, and the formula is for 1000 ml"), help)]
    };
    assert_eq!(made("water 1500 ml at 50 C\nwater to 1000 ml"), found_names("1500 ml", "750"));
    // 750 + 260 = 1010; 750 + 250 = 1000, which is the mark itself.
    assert_eq!(
        made(&format!("water 750 ml at 20 C\n{}\nwater to 1000 ml", acid(260))),
        found_names("1010 ml", "555")
    );
    assert_eq!(made(&format!("water 750 ml at 20 C\n{}\nwater to 1000 ml", acid(250))), []);
    // A formula without a mark belongs to another rule.
    assert_eq!(made("water 1500 ml at 50 C"), []);
    // 900 + 200 per litre of one litre = 1100.
    assert_eq!(made("water 900 ml at 20 C\nacetic-acid 200 ml/l glacial\nwater to 1000 ml").len(), 1);
}

/// A slip in a recipe or in a used file does not cause further findings.
#[test]
fn one_wrong_line_is_one_finding() {
    let base = "recipe base {\n  develop {\n    in water\n    time 10:00\n    between 18 C and 24 C\n    agitate none\n  }\n}\n";
    let own = "recipe own from base {\n  develop {\n    time 11:00\n  }\n  without wash\n}\n";
    let found_names = |text: &str| -> Vec<&'static str> {
        Kitchen::of(text).findings.iter().map(|finding| finding.name).collect()
    };
    let whole = format!("wetside 1\n{base}{own}");
    assert_eq!(found_names(&whole), ["unknown-step"]);
    // The step and the one left out may be on the unknown line.
    assert_eq!(found_names(&whole.replacen("develop {", "develo {", 1)), ["unknown-word"]);
    assert_eq!(found_names(&format!("wetside 1\n{}", base.replace("between", "betwee"))), ["unknown-word"]);
    // A step that could not be placed in its parent is not missing in the derived recipe.
    let lost =
        own.replacen("develop {", "tone after wash {\n    in water", 1).replace("  without wash\n", "");
    let third = "recipe third from own {\n  tone {\n    time 12:00\n  }\n}\n";
    assert_eq!(found_names(&format!("wetside 1\n{base}{lost}{third}")), ["unknown-step"]);
    // A missing bath is one finding, although the clearing time needs it too.
    let fix = "recipe fixed {\n  fix {\n    time 2 x clearing, at least 2:00\n  }\n}\n";
    assert_eq!(found_names(&format!("wetside 1\n{fix}")), ["missing-bath"]);
    // A missing first line is not reported as a missing brace.
    let headless = format!("wetside 1\n{}", base.replace("  develop {\n", "  note \"a\"\n"));
    let kitchen = Kitchen::of(&headless);
    assert_eq!(
        findings_of(&kitchen, "unopened-block").first().unwrap().help,
        ["name above them what they belong to, such as: develop {"]
    );
    assert_eq!(findings_of(&kitchen, "needless-block").len(), 0);
    // A used file may declare the name on its unknown line.
    let user = "wetside 1\nuse \"shared.wet\"\nrecipe night {\nstop {\nin plain-stop 1+19\ntime 1:00\n}\n}\n";
    let shared = format!("wetside 1\n{}", STOP.replace("solution", "soluton"));
    let kitchen = Kitchen::of_files(user, &[("shared.wet", &shared)]);
    let names: Vec<&str> = kitchen.findings.iter().map(|finding| finding.name).collect();
    assert_eq!(names, ["unknown-word"]);
}

/// A developer that is only added to a bath, or that replenishes one, treats no film of its own.
#[test]
fn a_solution_that_is_only_added_needs_no_capacity() {
    let text = "wetside 2
solution lith {
    role      developer
    contains  hydroquinone, sodium-sulfite, potassium-carbonate
    needs     100 ml per roll
    replenish 20 ml per roll with topping
}
solution old-brown {
    role      developer
    contains  hydroquinone, potassium-bromide
}
solution topping {
    role      developer
    contains  hydroquinone, sodium-sulfite, potassium-carbonate
}
recipe night {
    develop {
        in        lith stock, one-shot
        with      300 ml/l old-brown
        time      3:00
        between   18 C and 24 C
        agitate   continuous
    }
}
";
    let names = |text: &str| -> Vec<String> {
        let kitchen = Kitchen::of(text);
        let found = findings_of(&kitchen, "developer-without-capacity");
        found.iter().map(|finding| finding.message.clone()).collect()
    };
    assert_eq!(names(text), Vec::<String>::new());
    let as_a_bath = text.replace(
        "in        lith stock, one-shot\n        with      300 ml/l old-brown",
        "in        old-brown stock, one-shot",
    );
    assert_eq!(names(&as_a_bath), ["'old-brown' has no capacity"]);
}

/// Three rounds of 2:00 are 6:00, and two are 4:00: the rounds of a repeated development count together.
#[test]
fn the_rounds_of_a_repeated_development_count_together() {
    let found = |rounds: u32| {
        let step = "develop {\nin soup 1+3, one-shot\ntime 2:00\nbetween 18 C and 22 C\nagitate first 30 s, then 10 s every 1 min\n}\n";
        let still = "wash still {\ntime 1:00\nagitate none\n}\n";
        let text = format!(
            "wetside 2\nsolution soup {{\nrole developer\nneeds 100 ml per roll\n}}\nrecipe rounds {{\nrepeat from develop to wash still, {rounds} times\n{step}{still}}}\n"
        );
        let files = wetside::MemoryFiles::from([("rounds.wet", text)]);
        let checked = wetside::check(&files, "rounds.wet").unwrap();
        assert!(!checked.has_errors(), "{}", checked.report(&checked.findings));
        checked.findings.iter().any(|finding| finding.name == "short-development")
    };
    assert!(found(2));
    assert!(!found(3));
}
