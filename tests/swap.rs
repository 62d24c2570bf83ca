//! `swap`: a derived recipe takes another solution, with its dilution, in every step of its parent that is in the first.

use wetside::check::Checked;
use wetside::model::Fingerprint;
use wetside::{MemoryFiles, check};

use crate::collections::CLUB;

const FIX: &str = "solution my-fix {\n    role fixer\n    contains sodium-thiosulfate\n    treats 6 rolls per 1 l at 1+5\n}\n";

/// One's own file beside the club's, with a fixer of one's own.
fn with(recipes: &str) -> Checked {
    let own = format!("wetside 2\nuse club\n{FIX}{recipes}");
    let files: MemoryFiles =
        CLUB.iter().map(|(name, text)| (*name, (*text).to_owned())).chain([("own.wet", own)]).collect();
    check(&files, "own.wet").unwrap()
}

#[track_caller]
fn sound(recipes: &str) -> Checked {
    let checked = with(recipes);
    assert!(!checked.has_errors(), "{}", checked.report(&checked.findings));
    checked
}

/// The name and the message of the first error.
fn error(recipes: &str) -> (&'static str, String) {
    let checked = with(recipes);
    let error = checked.findings.iter().find(|one| one.level == wetside::source::Level::Error);
    let error = error.unwrap_or_else(|| panic!("no error: {recipes}"));
    (error.name, error.message.clone())
}

/// The baths of a recipe, as a card has them.
fn baths(checked: &Checked, name: &str) -> Vec<String> {
    let recipe = checked.recipe(name).unwrap();
    let baths = recipe.steps.iter().filter_map(|step| step.bath.as_ref());
    baths.filter_map(|bath| Some(format!("{} {}", bath.solution.as_ref()?.name, bath.dilution))).collect()
}

const SWAP: &str =
    "recipe mine from club/usual {\n    swap club/rapid-fix 1+4 for my-fix 1+5\n    note \"a\"\n}\n";

#[test]
fn every_step_in_the_first_solution_is_in_the_second() {
    let checked = sound(SWAP);
    assert_eq!(baths(&checked, "mine"), ["soup 1+3", "my-fix 1+5"]);
    // It is the work of the same recipe with the bath written into the step.
    let written = sound(
        "recipe mine from club/usual {\n    fix {\n        in my-fix 1+5, one-shot\n    }\n    note \"a\"\n}\n",
    );
    let mark = |checked: &Checked| Fingerprint::of(&checked.recipe("mine").unwrap());
    assert_eq!(mark(&checked), mark(&written));
}

#[test]
fn a_later_recipe_inherits_the_swap_and_may_swap_again_or_write_the_bath() {
    let checked = sound(&format!(
        "{SWAP}recipe next from mine {{\n    index 200\n}}\nrecipe again from mine {{\n    swap my-fix 1+5 for my-fix 1+9\n}}\nrecipe back from mine {{\n    fix {{\n        in club/rapid-fix 1+4, one-shot\n    }}\n}}\n"
    ));
    assert_eq!(baths(&checked, "next"), ["soup 1+3", "my-fix 1+5"]);
    assert_eq!(baths(&checked, "again"), ["soup 1+3", "my-fix 1+9"]);
    assert_eq!(baths(&checked, "back"), ["soup 1+3", "rapid-fix 1+4"]);
}

#[test]
fn a_swap_that_changes_no_step_is_an_error() {
    let (name, message) = error(&SWAP.replace("rapid-fix 1+4", "rapid-fix 1+9"));
    assert_eq!((name, &*message), ("nothing-to-swap", "no step of the parent is in club/rapid-fix 1+9"));
    let (name, message) = error(&SWAP.replace("for my-fix", "for my-fox"));
    assert_eq!((name, &*message), ("unknown-name", "there is no solution 'my-fox' here"));
    let alone =
        "recipe mine {\n    swap club/rapid-fix 1+4 for my-fix 1+5\n    dry {\n        time 2 h\n    }\n}\n";
    let (name, message) = error(alone);
    assert_eq!(name, "nothing-to-swap");
    assert!(message.contains("this recipe has none"), "{message}");
}

/// Two lines of one recipe exchange two solutions: each line is about the baths of the parent.
#[test]
fn two_swaps_exchange_two_solutions() {
    let base = "solution brew {\n    role developer\n    contains metol\n    needs 100 ml per roll\n}\nrecipe both {\n    fix {\n        in my-fix 1+5, one-shot\n        time 4:00\n        agitate continuous\n    }\n    fix second {\n        in my-fix 1+9, one-shot\n        time 3:00\n        agitate continuous\n    }\n}\n";
    let own = "recipe turned from both {\n    swap my-fix 1+5 for my-fix 1+9\n    swap my-fix 1+9 for my-fix 1+5\n}\n";
    let checked = sound(&format!("{base}{own}"));
    assert_eq!(baths(&checked, "turned"), ["my-fix 1+9", "my-fix 1+5"]);
}

/// The findings that one's own file has beyond those that it has with a right swap, and beyond the advice that a
/// solution is not used.
fn found(recipes: &str) -> Vec<&'static str> {
    let names = |recipes: &str| with(recipes).findings.iter().map(|finding| finding.name).collect::<Vec<_>>();
    let usual = names(SWAP);
    names(recipes).into_iter().filter(|name| *name != "never-used" && !usual.contains(name)).collect()
}

#[test]
fn one_cause_is_one_finding() {
    let own = |line: &str| format!("recipe mine from club/usual {{\n    swap {line}\n}}\n");
    assert_eq!(found(&own("club/rapid-fix 1+9 for my-fix 1+5")), ["nothing-to-swap"]);
    assert_eq!(found(&own("club/rapid-fix 1+4 for my-fox 1+5")), ["unknown-name"]);
    assert_eq!(found(&own("club/rapid-fox 1+4 for my-fix 1+5")), ["unknown-name"]);
    let twice = own("club/rapid-fix 1+4 for my-fix 1+5\n    swap club/rapid-fix 1+4 for my-fix 1+7");
    assert_eq!(found(&twice), ["nothing-to-swap"]);
}

/// What is wrong with the second solution is wrong with the line that takes it, not with the parent's step.
#[test]
fn findings_about_the_new_bath_are_at_the_swap() {
    let own = format!("{BASE}recipe mine from club/usual {{\n    swap club/rapid-fix 1+4 for brew 1+5\n}}\n");
    let checked = with(&own);
    let finding = checked.findings.iter().find(|one| one.name == "bath-of-another-role").unwrap();
    assert_eq!(checked.sources.name(finding.span.file), "own.wet");
    let text = checked.sources.text(finding.span.file);
    assert_eq!(&text[finding.span.range()], "swap club/rapid-fix 1+4 for brew 1+5");
}

/// The used bath of a step is swapped with the step, one bottle of a kit and an addition are not.
#[test]
fn a_part_of_a_kit_is_not_swapped() {
    let kit = "solution kit {\n    role bleach-fix\n    parts a, b\n    treats 10 rolls per 1 l\n}\nrecipe split {\n    fix {\n        in kit part a 1+9, one-shot\n        time 4:00\n        agitate continuous\n    }\n}\n";
    let own = "recipe mine from split {\n    swap kit 1+1+9 for my-fix 1+5\n}\n";
    let checked = with(&format!("{kit}{own}"));
    let error = checked.findings.iter().find(|one| one.name == "nothing-to-swap").unwrap();
    assert_eq!(
        (&*error.message, error.help.join("; ").as_str()),
        (
            "no step of the parent is in kit 1+1+9",
            "fix is in part a of it, which no swap changes: write the step with its new 'in'"
        )
    );
}

const BASE: &str = "solution brew {\n    role developer\n    contains metol\n    needs 100 ml per roll\n}\nsolution stew {\n    role developer\n    contains metol\n    needs 100 ml per roll\n}\nrecipe base from club/usual {\n    develop {\n        in brew 1+1, one-shot\n        time 9:30\n    }\n}\n";

/// A development time holds for one developer at one dilution.
#[test]
fn a_development_time_is_not_inherited_with_another_developer() {
    let own = |line: &str| format!("{BASE}recipe mine from base {{\n    swap brew 1+1 for {line}\n}}\n");
    for line in ["stew 1+1", "brew 1+3", "stew 1+1\n    note \"a\""] {
        let (name, message) = error(&own(line));
        assert_eq!(name, "inherited-time", "{line}: {message}");
    }
    let checked = sound(&own("stew 1+1\n    develop {\n        time 11:00\n    }"));
    assert_eq!(baths(&checked, "mine"), ["stew 1+1", "rapid-fix 1+4"]);
}

#[test]
fn a_file_of_the_first_edition_has_no_swap() {
    let files = MemoryFiles::from([(
        "own.wet",
        "wetside 1\nrecipe a {\n    dry {\n        time 2 h\n    }\n}\nrecipe b from a {\n    swap x 1+4 for y 1+5\n}\n",
    )]);
    let checked = check(&files, "own.wet").unwrap();
    assert!(checked.findings.iter().any(|finding| finding.name == "newer-edition"), "{:?}", checked.findings);
}
