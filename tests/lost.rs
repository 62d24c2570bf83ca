//! Nothing that a recipe states is lost: each value of each statement is changed, and the change must be seen in the
//! text of a card, in a sheet for mixing, in the list of bottles or in what the check reports. Values that are seen
//! elsewhere are listed with the place.

use std::collections::BTreeMap;

use wetside::compile::{Personal, Scale};
use wetside::emit::{Look, Units, baths, card, sheet, text};
use wetside::journal::Standing;
use wetside::measure::{Asked, Weighing, measure};
use wetside::model::{Mass, Volume};
use wetside::vocabulary::Block;

use crate::kitchen::Kitchen;
use crate::work::changes::{Change, changes, is_of_a_recipe};
use crate::work::evenings::schedules;
use crate::work::{TEXT, called};

/// Values that none of these forms shows, each with the place where it is seen.
const ELSEWHERE: &[(&str, &str, &str, &str)] = &[
    ("a coat step", "time", "TIME", "on the card of a print; the evenings here are of film"),
    (
        "a film",
        "clears",
        "TEMPERATURE",
        "a fixer more than 2 °C colder is refused, or takes another time for light",
    ),
    ("a film", "grain", "CHOICE", "the rule on short fixing goes by it"),
    ("a film", "paper", "NAME", "on the card of a print"),
    ("a film", "paper", "TEXT", "on the card of a print"),
    ("a film", "plate", "NAME", "on the card of a plate"),
    ("a film", "plate", "TEXT", "on the card of a plate"),
    ("a film", "source", "TEXT", "for readers of the file"),
    ("a film", "speed", "COUNT", "the rules on pushing go by it"),
    ("a recipe", "allow", "TEXT", "for readers of the file"),
    ("a recipe", "source", "TEXT", "for readers of the file"),
    ("a solution", "contains", "AMOUNT/L", "the rules on amounts go by it"),
    ("a solution", "contains", "PERCENT", "the rules on amounts go by it"),
    ("a solution", "ph", "COUNT", "for readers of the file"),
    ("an agitation", "agitation", "TEXT", "a title for readers of the file"),
    ("an agitation", "source", "TEXT", "for readers of the file"),
    ("an ingredient", "cas", "TEXT", "for readers of the file"),
    ("an ingredient", "hazards", "CODE", "in the cautions of a print's card"),
    ("an ingredient", "ingredient", "NAME", "in the cautions of a print's card"),
    ("an ingredient", "ingredient", "TEXT", "in the cautions of a print's card"),
    ("an ingredient", "source", "TEXT", "for readers of the file"),
];

/// What a person sees of a text: the cards of three evenings, the sheets of all solutions, the list of bottles.
fn seen(kitchen: &Kitchen) -> Option<String> {
    let schedules = schedules(kitchen);
    let cards = schedules.iter().map(|schedule| {
        let schedule = schedule.as_ref()?;
        let shown = text(&card(schedule, &kitchen.sources), Look::default());
        // The fingerprint changes with any work, so it would hide what is lost.
        Some(shown.replace(&schedule.fingerprint.to_string(), ""))
    });
    let mut all: Vec<String> = cards.collect::<Option<_>>()?;
    for (_, solution) in &kitchen.shelf.solutions {
        let weighing = Weighing { step: Mass { pg: 1_000_000 }, had: Vec::new(), taps: None };
        let made = measure(solution, Volume::from_ml(1000), &Asked::Weighing(weighing), &Personal::default());
        all.extend(
            made.map(|made| {
                sheet(&made, Units { scale: Scale::Celsius, with_us: false }).text(Look::default())
            })
            .ok(),
        );
    }
    let on = "2026-11-20".parse().unwrap();
    all.push(
        baths(&kitchen.shelf.darkroom, &Standing::all(&kitchen.shelf.darkroom, on), on, None)
            .text(Look::default()),
    );
    all.extend(kitchen.findings.iter().map(|finding| finding.message.clone()));
    Some(all.concat())
}

#[test]
fn every_value_that_a_recipe_states_is_seen_somewhere() {
    let before = seen(&Kitchen::sound(TEXT)).expect("each evening compiles as it is written");
    let mut shown: BTreeMap<(String, &str, &str), bool> = BTreeMap::new();
    for Change { row, block, kind, text, .. } in
        changes(TEXT, |block| block == Block::Tank || is_of_a_recipe(block))
    {
        let is_seen = shown.entry((block.words().into_owned(), called(row), kind)).or_default();
        // A change that is refused is seen.
        *is_seen = *is_seen || seen(&Kitchen::of(&text)).is_none_or(|after| after != before);
    }
    assert!(shown.len() > 60, "{} values were changed", shown.len());
    let lost: Vec<_> = shown
        .iter()
        .filter(|(_, is_seen)| !**is_seen)
        .map(|((block, row, kind), _)| (block.as_str(), *row, *kind))
        .collect();
    let listed: Vec<_> =
        ELSEWHERE.iter().map(|(block, statement, kind, _)| (*block, *statement, *kind)).collect();
    assert_eq!(lost, listed, "values that no form shows, and those that are listed with their place");
}
