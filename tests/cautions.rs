//! What a card says of the chemicals on it: the right statements, each once, the most severe first.

use wetside::chemistry::{GENERAL, HAZARDS, PRECAUTIONS, cautions, hazard, ingredient, ingredients};

fn printed_for(names: &[&str]) -> Vec<String> {
    cautions(names.iter().map(|name| ingredient(name).unwrap()))
}

#[test]
fn cautions_name_who_they_concern_once_and_the_most_severe_first() {
    let printed = printed_for(&["sodium-carbonate", "metol", "hydroquinone", "sodium-sulfite", "metol"]);
    assert_eq!(
        printed,
        [
            "contact with acids liberates toxic gas (EUH031): sodium-sulfite",
            "causes serious eye damage (H318): hydroquinone",
            "may cause an allergic skin reaction (H317): hydroquinone, metol",
            "suspected of causing cancer (H351): hydroquinone",
            "suspected of causing genetic defects (H341): hydroquinone",
            "may cause damage to organs through prolonged or repeated exposure (H373): metol",
            "harmful if swallowed (H302): hydroquinone, metol",
            "causes serious eye irritation (H319): sodium-carbonate",
            "very toxic to aquatic life (H400): hydroquinone",
            "very toxic to aquatic life with long lasting effects (H410): metol",
            "wear gloves, an apron and eye protection",
            "breathe no dust and no vapour: weigh and mix where air is drawn away",
            "acid frees sulfur dioxide from sulfites and thiosulfates: ventilate",
            "ask the local sewer authority before any of it goes down a drain",
            "use nothing that holds or has held food or drink; taste nothing",
            "label every bottle, with its date, and keep it from children",
        ]
    );
}

#[test]
fn the_order_of_a_formula_does_not_change_its_cautions() {
    assert_eq!(printed_for(&["borax", "acetic-acid"]), printed_for(&["acetic-acid", "borax"]));
}

#[test]
fn precautions_come_with_what_calls_for_them() {
    let called_for = [
        ("acetic-acid", "acid goes into water, slowly and stirring; never water into acid"),
        ("sodium-hydroxide", "hydroxide goes into cold water, a little at a time: it heats and spits"),
        ("potassium-ferricyanide", "keep acid, and vessels that held it, away from what frees gas with it"),
        ("sodium-selenite", "keep acid, and vessels that held it, away from what frees gas with it"),
        ("boric-acid", "when pregnant, or perhaps so, handle only after medical advice"),
        ("thiourea", "when pregnant, or perhaps so, handle only after medical advice"),
        ("isopropyl-alcohol", "keep away from flames, sparks and heaters"),
        ("potassium-permanganate", "keep oxidisers off paper, cloth, wood and all else that burns"),
        ("sodium-thiosulfate", "spent fixer holds silver: collect it, and pour none away unasked"),
    ];
    for (name, text) in called_for {
        assert!(printed_for(&[name]).iter().any(|line| line == text), "{name}");
        assert!(!printed_for(&["sodium-ascorbate"]).iter().any(|line| line == text), "{text}");
    }
}

#[test]
fn with_nothing_known_the_general_cautions_are_said() {
    assert_eq!(cautions([]), GENERAL);
}

#[test]
fn statements_are_those_of_the_published_classifications() {
    // Name, codes, source.
    let published: [(&str, &[&str], &str); 6] = [
        ("metol", &["H302", "H317", "H373", "H410"], "CLP harmonised entry, in an encyclopaedia"),
        ("sodium-metabisulfite", &["H302", "H318", "EUH031"], "ICSC 1461 (2022); EUH031 from memory"),
        ("borax", &["H319", "H360FD"], "supplier data sheets"),
        ("sodium-carbonate", &["H319"], "CLP harmonised entry, from memory"),
        ("potassium-ferricyanide", &["EUH032"], "ICSC 1132"),
        ("sodium-thiosulfate", &[], "supplier data sheet"),
    ];
    for (name, expected, source) in published {
        let codes: Vec<&str> = ingredient(name).unwrap().hazards.iter().map(|each| each.code).collect();
        assert_eq!(codes, expected, "{name}: {source}");
    }
}

#[test]
fn every_statement_used_is_in_the_table() {
    for each in ingredients() {
        for used in each.hazards {
            assert_eq!(hazard(used.code), Some(*used), "{}", each.name);
        }
    }
    // The words of the UN's GHS, and of the EU's CLP Regulation.
    assert_eq!(hazard("H317").unwrap().text, "may cause an allergic skin reaction");
    assert_eq!(hazard("EUH032").unwrap().text, "contact with acids liberates very toxic gas");
    assert_eq!(hazard("H999"), None);
}

#[test]
fn every_statement_and_precaution_concerns_some_ingredient() {
    for statement in HAZARDS {
        assert!(ingredients().iter().any(|each| each.hazards.contains(statement)), "{}", statement.code);
    }
    for precaution in PRECAUTIONS {
        assert!(!precaution.hazards.is_empty() || !precaution.ingredients.is_empty(), "{}", precaution.text);
        assert!(precaution.source.len() > 8, "{} has no source", precaution.text);
        for name in precaution.ingredients {
            assert!(ingredient(name).is_some(), "{name}");
        }
    }
}

#[test]
fn every_precaution_fits_one_line_of_a_card() {
    for text in PRECAUTIONS.iter().map(|precaution| precaution.text).chain(GENERAL.iter().copied()) {
        assert!(text.len() <= 76 && text.is_ascii(), "{text}");
    }
}
