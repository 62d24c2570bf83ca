//! The cautions of a card: the right hazard statements, each once, the gravest first.

use wetside::chemistry::{
    Concern, ENTRIES, Entry, Form, HAZARDS, Held, Mixture, PRECAUTIONS, Percent, Portion, cautions,
    ingredient, ingredients,
};

/// A solution `name` of these ingredients, in thousandths of a percent.
fn concern(name: &str, parts: &[(&str, u32)]) -> Concern {
    let known = |name: &str| ingredient(name).unwrap();
    let portions = parts.iter().map(|(name, share)| {
        let entry = Entry::of(known(name));
        let from_memory = !entry.is_harmonised() && known(name).is_from_memory();
        Portion { from_memory, ..Portion::new(known(name).name, entry, Percent::thousandths(*share)) }
    });
    let mixture = Mixture { portions: portions.collect(), ..Mixture::default() };
    let form = Form { what: name.to_owned(), class: mixture.class(), ..Form::default() };
    let held = parts.iter().map(|(name, _)| Held { ingredient: known(name), strength: None });
    Concern { name: name.to_owned(), forms: vec![form], held: held.collect(), ..Concern::default() }
}

const BODY: &str = "wear gloves, an apron and eye protection; ventilate, and breathe no dust";
const HOUSE: &str = "use nothing that has held food; taste nothing; label all, keep from children";
const RULES: &str = "labels by EU limits (CLP); the US and Canada count some hazards from 0.1 %";
const BELOW: &str = "below the limits for a label; wet skin every week is what makes an allergy";

/// Example: metol 0.31 %, hydroquinone 1.2 % and carbonate 6.75 %, by hand in `published::mixtures`.
#[test]
fn a_developer_is_one_line_with_its_signal_word_and_the_gravest_hazard_first() {
    let parts =
        [("metol", 310), ("sodium-sulfite", 4_500), ("hydroquinone", 1_200), ("sodium-carbonate", 6_750)];
    assert_eq!(
        cautions(&[concern("soup", &parts)]),
        [
            "soup, WARNING: may cause an allergic skin reaction; suspected of causing cancer and genetic defects; \
             causes serious eye irritation; harmful to aquatic life for long; contains metol: may produce an \
             allergic reaction",
            RULES,
            BODY,
            "soup: acid on sulfite or hypo frees toxic gas",
            HOUSE,
            "soup: dried splashes are powder again: wipe the bench wet before you go",
            "soup: toxic to life in water: ask the waste service before any goes down a drain",
        ]
    );
}

#[test]
fn solutions_with_one_label_share_a_line() {
    let held = |name| concern(name, &[("citric-acid", 40_000)]);
    let printed = cautions(&[held("one"), held("other"), held("one")]);
    assert_eq!(
        printed[0],
        "one, other, WARNING: causes serious eye irritation; may cause respiratory irritation"
    );
    assert_eq!(printed[1..], [RULES, BODY, HOUSE]);
}

/// Limits of the acid's entry in the CLP Regulation: 10 and 25 %. Its flash point is not known, so it is no H226.
#[test]
fn the_hazards_of_an_acid_depend_on_its_strength() {
    let at = |share| {
        let printed = cautions(&[concern("stop", &[("acetic-acid", share)])]);
        printed.into_iter().find(|line| line.starts_with("stop")).unwrap()
    };
    let burns = "stop, DANGER: causes severe skin burns and eye damage";
    assert_eq!(at(9_999), format!("stop: {BELOW}"));
    assert_eq!(at(10_000), "stop, WARNING: causes serious eye irritation and skin irritation");
    assert_eq!(at(24_999), at(10_000));
    assert_eq!(at(25_000), burns);
    assert_eq!(at(80_000), format!("{burns}; contains acetic-acid: no flames"));
}

#[test]
fn what_is_not_stated_is_said_and_nothing_is_called_harmless() {
    let said = |form: Form| {
        let form = Form { what: "soup".to_owned(), ..form };
        cautions(&[Concern { name: "soup".to_owned(), forms: vec![form], ..Concern::default() }]).remove(0)
    };
    let silent = || Form { silent: vec!["acetic-acid".into()], ..Form::default() };
    assert_eq!(said(silent()), "soup: strength not stated: read the label");
    assert_eq!(
        said(Form { may_burn: true, ..silent() }),
        "soup: strength not stated: read the label; treat as burning"
    );
    assert_eq!(said(Form { needs_ph: true, ..Form::default() }), "soup: pH not stated: handle as burning");
    assert_eq!(said(Form::default()), format!("soup: {BELOW}"));
    let unknown = Form { has_unknown: true, ..Form::default() };
    assert_eq!(said(unknown), "soup: an ingredient is not known here: read its label");
}

#[test]
fn a_statement_from_memory_says_so() {
    let printed = cautions(&[concern("soup", &[("wetting-surfactant", 5_000)])]);
    assert_eq!(printed[0], "soup, DANGER: causes serious eye damage (from memory)");
}

#[test]
fn precautions_are_printed_with_the_bottle_that_needs_them() {
    let called_for = [
        ("sodium-hydroxide", "hydroxide into cold water, a little at a time: it heats and spits"),
        ("potassium-ferricyanide", "acid, and what is left of it in a vessel, frees a deadly gas from it"),
        ("potassium-thiocyanate", "acid, and what is left of it in a vessel, frees a deadly gas from it"),
        ("potassium-thiocyanate", "splashes harm eyes and skin (from memory): rinse them off at once"),
        ("potassium-permanganate", "splashes harm eyes and skin (from memory): rinse them off at once"),
        ("potassium-permanganate", "feeds fire, also as a dried splash: off paper, cloth and powder"),
        ("potassium-dichromate", "chromium(VI): cancer, and an allergy that stays; long gloves"),
        ("sodium-metabisulfite", "gives off sulfur dioxide: beware of asthma, and ventilate"),
        ("sodium-thiosulfate", "spent fixer holds silver: collect it"),
        ("sodium-sulfite", "acid on sulfite or hypo frees toxic gas"),
    ];
    for (name, text) in called_for {
        // A tenth of a percent: these do not depend on the strength.
        let line = format!("soup: {text}");
        assert!(cautions(&[concern("soup", &[(name, 100)])]).contains(&line), "{name}");
        assert!(!cautions(&[concern("soup", &[("sodium-ascorbate", 100)])]).contains(&line), "{text}");
    }
}

/// The order matters where a strong acid is poured: as it is weighed, from a bottle that burns (acetic acid from 25 %), or
/// from a bottle of unknown strength. A bought fixer has little acid, for much would throw sulfur out of it.
#[test]
fn acid_into_water_is_said_of_an_acid_that_may_be_strong() {
    let line = |name: &str| format!("{name}: acid into water, never the reverse");
    let bought = |names: &[&'static str]| {
        let form = Form {
            what: "bottle".to_owned(),
            silent: names.iter().map(|name| (*name).into()).collect(),
            ..Form::default()
        };
        let held = names.iter().map(|name| Held { ingredient: ingredient(name).unwrap(), strength: None });
        let bottle = Concern { name: "bottle".to_owned(), held: held.collect(), ..Concern::default() };
        cautions(&[Concern { forms: vec![form], ..bottle }]).contains(&line("bottle"))
    };
    assert!(bought(&["acetic-acid"]), "a stop may be 60 %");
    assert!(!bought(&["ammonium-thiosulfate", "sodium-sulfite", "acetic-acid"]));
    assert!(bought(&["sodium-sulfite", "sulfuric-acid"]), "a strong acid boils in little water");

    let known = |parts: &[(&str, u32)]| concern("soup", parts);
    let says = |soup: Concern| cautions(&[soup]).contains(&line("soup"));
    let fixer = [("sodium-thiosulfate", 20_000), ("sodium-sulfite", 1_500), ("acetic-acid", 1_300)];
    assert!(!says(known(&fixer)) && says(Concern { is_weighed: true, ..known(&fixer) }));
    assert!(!says(known(&[("acetic-acid", 3_000)])) && !says(known(&[("acetic-acid", 24_999)])));
    assert!(says(known(&[("acetic-acid", 25_000)])) && says(known(&[("sulfuric-acid", 15_000)])));
    // A strong acid of unknown pH is handled as burning.
    let mut bisulfate = known(&[("sodium-bisulfate", 7_800)]);
    assert!(!says(bisulfate.clone()));
    bisulfate.forms[0].needs_ph = true;
    assert!(says(bisulfate));
}

/// The shares are those of the limits of reproductive toxicity: 0.3 % and 3 %.
#[test]
fn advice_in_pregnancy_depends_on_the_strength_unless_the_ingredient_is_weighed() {
    let line = "soup: when pregnant, or perhaps so, handle only after medical advice".to_owned();
    let says = |concern: Concern| cautions(&[concern]).contains(&line);
    for (name, limit) in [("borax", 300), ("thiourea", 3_000), ("potassium-dichromate", 300)] {
        assert!(says(concern("soup", &[(name, limit)])), "{name}");
        assert!(!says(concern("soup", &[(name, limit - 1)])), "{name}");
        assert!(says(Concern { is_weighed: true, ..concern("soup", &[(name, 1)]) }), "{name}");
    }
}

#[test]
fn every_bath_that_takes_up_silver_has_the_silver_caution() {
    let fixer = Concern { name: "fix".to_owned(), takes_silver: true, ..Concern::default() };
    assert_eq!(cautions(&[fixer]).last().unwrap(), "fix: spent fixer holds silver: collect it");
}

#[test]
fn unknown_ingredients_give_the_general_cautions() {
    assert_eq!(cautions(&[]), [BODY, HOUSE]);
}

#[test]
fn statements_equal_the_published_classifications() {
    // Name, codes, source.
    let published: [(&str, &[&str], &str); 6] = [
        ("metol", &["H302", "H317", "H373", "H410"], "CLP, Annex VI"),
        (
            "sodium-metabisulfite",
            &["H302", "H318", "EUH031"],
            "International Chemical Safety Card ICSC 1461 (2022); EUH031 from memory",
        ),
        ("borax", &["H319", "H360FD"], "no public source"),
        ("sodium-carbonate", &["H319"], "CLP harmonised entry, from memory"),
        ("potassium-ferricyanide", &["EUH032"], "International Chemical Safety Card ICSC 1132"),
        ("sodium-thiosulfate", &[], "no public source"),
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
