//! Published dilutions with their answers, compared with the parts on a card (R8).

use wetside::compile::PlannedBath;
use wetside::model::{Format, StepKind, Volume};

use super::{CUSTOM, Published, assert_published};
use crate::kitchen::{Kitchen, celsius, compiled, evening, step, step_text};

const HENLEY: &str = "Henley's Twentieth Century Formulas, Recipes and Processes";
const PHARMACY: &str = "US Army, Pharmaceutical Calculations, subcourse MD0802, exercises; the title from memory, the answer by hand";

/// A bath of this volume and dilution; the solution has a bottle for each part of the dilution.
fn bath(dilution: &str, volume: &str) -> PlannedBath {
    let bottles = dilution.split('+').count() - 1;
    let names: Vec<String> = (1..=bottles).map(|bottle| format!("part-{bottle}")).collect();
    let parts = if bottles == 1 { String::new() } else { format!("    parts {}\n", names.join(", ")) };
    let text = format!(
        "wetside 1\n\nfilm estuary-400 {{\n    speed ISO 400\n}}\n\nsolution trial {{\n    role developer\n{parts}}}\n\n\
         recipe trial {{\n    film estuary-400\n    develop {{\n        in trial {dilution}\n        \
         time 5:00\n        between 18 C and 24 C\n    }}\n}}\n"
    );
    let mut conditions = evening(celsius("20"), &[(1, Format::F120)]);
    conditions.volume = Some(asked(volume));
    step(&compiled(&text, &conditions), StepKind::Develop).bath.clone().unwrap()
}

/// A volume, parsed from a tank's `holds`.
fn asked(volume: &str) -> Volume {
    let text =
        format!("wetside 1\n\ntank trial {{\n    reels 120 x 1, 0.001 ml each\n    holds {volume}\n}}\n");
    Kitchen::sound(&text).tank().unwrap().holds.unwrap().value
}

/// The first part in millilitres of `DILUTION of VOLUME`.
#[expect(clippy::cast_precision_loss, reason = "femtolitres to a relative 1e-16")]
fn first_part(given: &str) -> f64 {
    let (dilution, volume) = given.split_once(" of ").unwrap();
    bath(dilution, volume).parts.first().unwrap().volume.fl as f64 / 1e12
}

#[test]
fn first_parts_equal_those_of_published_examples() {
    let row = |what, given, expected, within, source| Published { what, given, expected, within, source };
    let rows = [
        row("one part to six of water is one in seven", "1+6 of 700 ml", 100.0, 0.0, HENLEY),
        row("stock of 1+1+1+7 is ten parts", "1+1+1+7 of 1 l", 100.0, 0.0, HENLEY),
        row("0.025 % from a stock of 1 in 200", "1+19 of 60 ml", 3.0, 0.0, PHARMACY),
        row("0.02 % from a stock of 1 in 50", "1+99 of 250 ml", 2.5, 0.0, PHARMACY),
        // 70 % from 10 gallons of 95 %, in litres: the total goes up to 10 ml, so the part does too.
        row("70 % from 95 %", "14+5 of 51.3715 l", 37_854.1, 10.0, PHARMACY),
        row("2 % from 1,250 g of 5 %", "2+3 of 3125 ml", 1250.0, 5.0, PHARMACY),
        row("28 % to 1 % by the cross", "1+27 of 280 ml", 10.0, 0.0, "worked by hand"),
        row(
            "28 % from glacial by 3 and 8",
            "3+8 of 1100 ml",
            300.0,
            0.0,
            "3 + 8 of glacial acid: common practice, no source",
        ),
        row("MQ, 1 ounce to 10", "1+10 of 550 ml", 50.0, 0.0, "common practice, no source"),
        row("equal parts", "1+1 of 2500 ml", 1250.0, 0.0, CUSTOM),
        row("a capful", "1+200 of 2500 ml", 12.0, 0.5, CUSTOM),
    ];
    assert_published(&rows, first_part);
}

#[test]
fn all_parts_are_listed_and_the_water_is_the_rest() {
    // Henley's Twentieth Century Formulas: 1 + 1 + 1 + 7 are ten parts.
    let bath = bath("1+1+1+7", "1 l");
    let parts: Vec<_> = bath.parts.iter().map(|part| (part.what.as_str(), part.volume)).collect();
    let each = Volume::from_ml(100);
    assert_eq!(parts, [("trial part-1", each), ("trial part-2", each), ("trial part-3", each)]);
    assert_eq!(bath.water, Volume::from_ml(700));
}

#[test]
fn a_dilution_with_a_colon_is_ambiguous() {
    // Photographers read '1:4' as one part and four of water, chemists as one in four.
    let kitchen = Kitchen::of(&step_text("stop", &["in trial 1:4", "time 1:00"]));
    let doubts: Vec<_> = kitchen.findings.iter().filter(|fault| fault.name == "ambiguous-dilution").collect();
    let [doubt] = doubts.as_slice() else { panic!("{:?}", kitchen.findings) };
    let offers: Vec<_> = doubt.fixes.iter().map(|fix| (fix.certain, fix.edits.as_slice())).collect();
    let texts: Vec<_> = offers.iter().flat_map(|(_, edits)| edits.iter().map(|edit| &*edit.text)).collect();
    assert_eq!(texts, ["1+4", "1+3"]);
    assert!(offers.iter().all(|(certain, _)| !certain), "neither is applied by --mend");
}
