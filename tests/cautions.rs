//! The cautions of a card: the right hazard statements, each once, the gravest first.

use wetside::chemistry::{
    Concern, ENTRIES, HAZARDS, Held, PRECAUTIONS, Precaution, SAID_BY, cautions, ingredient, ingredients,
};

fn concern(name: &str, held: &[(&str, Option<u32>)]) -> Concern {
    let held = held
        .iter()
        .map(|(name, strength)| Held { ingredient: ingredient(name).unwrap(), strength: *strength });
    Concern { name: name.to_owned(), held: held.collect(), takes_silver: false, is_unknown: false }
}

/// The cautions for a solution `soup` of these ingredients.
fn printed_for(names: &[&str]) -> Vec<String> {
    let held: Vec<(&str, Option<u32>)> = names.iter().map(|name| (*name, None)).collect();
    cautions(&[concern("soup", &held)])
}

const BODY: &str = "wear gloves, an apron and eye protection; ventilate, and breathe no dust";
const HOUSE: &str = "use nothing that has held food; taste nothing; label all, keep from children";

/// Whether each statement of the labels is printed, or a graver one that includes it, or a precaution.
#[test]
fn a_developer_is_one_line_with_its_signal_word_and_the_gravest_hazard_first() {
    let printed = printed_for(&["sodium-carbonate", "metol", "hydroquinone", "sodium-sulfite", "metol"]);
    assert_eq!(
        printed,
        [
            "soup, DANGER: causes serious eye damage; may cause an allergic skin reaction; suspected of causing \
             cancer and genetic defects; may damage organs on repeated exposure; harmful if swallowed",
            BODY,
            "acid on sulfite or hypo frees toxic gas",
            HOUSE,
            "toxic to aquatic life: no drain unasked",
        ]
    );
}

#[test]
fn solutions_with_one_label_share_a_line() {
    let held = |name| concern(name, &[("citric-acid", None)]);
    let printed = cautions(&[held("one"), held("other"), held("one")]);
    assert_eq!(
        printed[0],
        "one, other, WARNING: causes serious eye irritation; may cause respiratory irritation"
    );
    assert_eq!(printed[1..], [BODY, HOUSE]);
}

/// Limits of the acid's entry in the CLP Regulation: 10, 25 and 90 %.
#[test]
fn the_hazards_of_an_acid_depend_on_its_strength() {
    let at = |strength| {
        let printed = cautions(&[concern("stop", &[("acetic-acid", strength)])]);
        printed.into_iter().find(|line| line.starts_with("stop"))
    };
    let burns = "causes severe skin burns and eye damage";
    assert_eq!(at(Some(999)), None);
    assert_eq!(
        at(Some(1000)).unwrap(),
        "stop, WARNING: causes serious eye irritation and skin irritation (acetic-acid of 10 %)"
    );
    assert_eq!(at(Some(2499)).unwrap().split(':').next(), Some("stop, WARNING"));
    assert_eq!(at(Some(2500)).unwrap(), format!("stop, DANGER: {burns} (acetic-acid of 25 %)"));
    assert_eq!(at(Some(8999)).unwrap(), format!("stop, DANGER: {burns} (acetic-acid of 89.99 %)"));
    let strongest = format!("stop, DANGER: {burns}; flammable, no flames (acetic-acid");
    assert_eq!(at(Some(9000)).unwrap(), format!("{strongest} of 90 %)"));
    assert_eq!(at(None).unwrap(), format!("{strongest} as at its strongest)"));
}

#[test]
fn the_order_of_a_formula_does_not_change_its_cautions() {
    assert_eq!(printed_for(&["borax", "acetic-acid"]), printed_for(&["acetic-acid", "borax"]));
}

#[test]
fn precautions_are_printed_with_the_hazards_that_need_them() {
    let called_for = [
        ("acetic-acid", "acid into water, never the reverse"),
        ("sodium-hydroxide", "hydroxide into cold water, a little at a time: it heats and spits"),
        ("potassium-ferricyanide", "keep acid, and vessels that held it, away from what frees gas with it"),
        ("sodium-selenite", "keep acid, and vessels that held it, away from what frees gas with it"),
        ("boric-acid", "when pregnant, or perhaps so, handle only after medical advice"),
        ("thiourea", "when pregnant, or perhaps so, handle only after medical advice"),
        ("isopropyl-alcohol", "highly flammable, no flames"),
        ("potassium-permanganate", "oxidiser, keep it off all that burns"),
        ("sodium-thiosulfate", "spent fixer holds silver: collect it"),
        ("sodium-thiosulfate", "acid on sulfite or hypo frees toxic gas"),
        ("sodium-sulfite", "acid on sulfite or hypo frees toxic gas"),
        ("phenidone", "toxic to aquatic life: no drain unasked"),
    ];
    for (name, text) in called_for {
        assert!(printed_for(&[name]).iter().any(|line| line.contains(text)), "{name}");
        assert!(!printed_for(&["sodium-ascorbate"]).iter().any(|line| line.contains(text)), "{text}");
    }
}

/// Each statement is printed, or a graver one that includes it, or a precaution.
#[test]
fn no_statement_of_any_ingredient_is_lost() {
    for each in ingredients() {
        let printed = printed_for(&[each.name]).join("\n");
        for hazard in each.hazards {
            let graver = SAID_BY.iter().any(|(graver, lesser)| {
                each.hazards.contains(graver) && lesser.contains(hazard) && !graver.brief.0.is_empty()
            });
            let (lead, rest) = hazard.brief;
            let told = !lead.is_empty() && printed.contains(lead) && printed.contains(rest);
            let by_rule = |precaution: &Precaution| {
                precaution.hazards.contains(hazard) && printed.contains(precaution.text)
            };
            assert!(
                graver || told || PRECAUTIONS.iter().any(by_rule),
                "{}: {}: {printed}",
                each.name,
                hazard.code
            );
        }
    }
}

#[test]
fn every_bath_that_takes_up_silver_has_the_silver_caution() {
    let fixer = Concern { name: "fix".to_owned(), held: Vec::new(), takes_silver: true, is_unknown: false };
    assert_eq!(cautions(&[fixer]).last().unwrap(), "spent fixer holds silver: collect it");
}

#[test]
fn unknown_ingredients_give_the_general_cautions() {
    assert_eq!(cautions(&[]), [BODY, HOUSE]);
}

#[test]
fn statements_equal_the_published_classifications() {
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
            assert!(HAZARDS.contains(used), "{}", each.name);
        }
    }
    let text = |code| HAZARDS.iter().find(|known| known.code == code).unwrap().text;
    // The words of the UN's GHS, and of the EU's CLP Regulation.
    assert_eq!(text("H317"), "may cause an allergic skin reaction");
    assert_eq!(text("EUH032"), "contact with acids liberates very toxic gas");
}

#[test]
fn every_statement_and_precaution_belongs_to_an_ingredient() {
    // Those that only a mixture has.
    let of_mixtures = ["H310", "H371", "H413", "EUH208"];
    for statement in HAZARDS {
        let has = ingredients().iter().any(|each| each.hazards.contains(statement))
            || ENTRIES.iter().any(|entry| entry.hazards.contains(statement));
        assert!(has || of_mixtures.contains(&statement.code), "{}", statement.code);
    }
    for precaution in PRECAUTIONS {
        assert!(precaution.source.len() > 8, "{} has no source", precaution.text);
        for name in precaution.ingredients {
            assert!(ingredient(name).is_some(), "{name}");
        }
    }
}

#[test]
fn every_precaution_fits_on_a_line() {
    for text in PRECAUTIONS.iter().map(|precaution| precaution.text) {
        assert!(text.len() <= 76 && text.is_ascii(), "{text}");
    }
}
