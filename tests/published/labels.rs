//! The hazard statements of each ingredient and their precautions, compared with published ones. A code without a
//! source is listed under `memory`, and the program must mark it.

use std::collections::BTreeSet;

use wetside::chemistry::{Held, ingredient, ingredients};

/// The statements of one ingredient.
struct Label {
    /// Its name.
    name: &'static str,
    /// The codes that the source prints, as codes or as texts.
    printed: &'static str,
    /// The published codes that our label omits, because a graver one includes them or a later entry replaces them.
    left: &'static str,
    /// The codes on our label that are from memory.
    memory: &'static str,
    /// Where it is printed.
    source: &'static str,
}

const fn read(name: &'static str, printed: &'static str, source: &'static str) -> Label {
    Label { name, printed, left: "", memory: "", source }
}

const ANNEX: &str = "Regulation (EC) 1272/2008, Annex VI, to its 23rd adaptation, of 2025";

const fn remembered(name: &'static str, memory: &'static str) -> Label {
    Label { name, printed: "", left: "", memory, source: "from memory" }
}

/// R phrases become H statements by Annex VII of the CLP Regulation: 22 is H302, 21 H312, 20 H332, 36 H319, 38 H315,
/// 40 H351, 43 H317, 48/22 H373, 50 H400, 50/53 H410, 51/53 H411, 63 H361d, 68 H341.
const LABELS: &[Label] = &[
    Label {
        // H314 says H318.
        left: "H318",
        ..read("acetic-acid", "H226 H314 H318", "suppliers' classification, no public source")
    },
    remembered("amidol", "H302 H315 H317 H319"),
    read("ammonia", "H314 H335 H400", ANNEX),
    read("ammonium-chloride", "H302 H319", ANNEX),
    remembered("ammonium-ferric-edta", ""),
    read("ammonium-persulfate", "H272 H302 H315 H317 H319 H334 H335", ANNEX),
    remembered("ammonium-thiosulfate", ""),
    remembered("ascorbic-acid", ""),
    read("benzotriazole", "H411", ANNEX),
    read(
        "borax",
        "H319 H360FD",
        "Regulation (EC) 790/2009 for H360FD; suppliers' classification, no public source",
    ),
    read("boric-acid", "H360FD", ANNEX),
    read("catechol", "H301 H311 H315 H319 H341 H350", ANNEX),
    remembered("chrome-alum", ""),
    remembered("citrazinic-acid", "H315 H319 H335"),
    read("citric-acid", "H319 H335", ANNEX),
    read("colour-developing-agent", "H301 H317 H373 H410", ANNEX),
    read("copper-sulfate", "H302 H318 H410", ANNEX),
    remembered("edta-disodium", "H332 H373"),
    read("edta-tetrasodium", "H302 H318", ANNEX),
    remembered("ferric-sodium-edta", ""),
    read("ferrous-sulfate", "H302 H315 H319", ANNEX),
    read("formaldehyde", "H302 H314 H317 H330 H335 H341 H350 EUH071", ANNEX),
    remembered("glycin", "H315 H319"),
    remembered("gold-chloride", "H314 H317"),
    read("hexamine", "H228 H317", ANNEX),
    Label { memory: "H290", ..read("hydrochloric-acid", "H314 H335", ANNEX) },
    read("hydrogen-peroxide", "H271 H302 H314 H332 H335", ANNEX),
    read("hydroquinone", "H302 H317 H318 H341 H351 H400", "suppliers' classification, no public source"),
    read("hydroxylamine-sulfate", "H290 H302 H312 H315 H317 H319 H351 H373 H400", ANNEX),
    remembered("instant-coffee", ""),
    read("isopropyl-alcohol", "H225 H319 H336", "suppliers' classification, no public source"),
    read("mercuric-chloride", "H300 H314 H341 H361f H372 H410", ANNEX),
    read("metol", "H302 H317 H373 H410", ANNEX),
    read("p-aminophenol-hydrochloride", "H302 H332 H341 H410", ANNEX),
    read("p-phenylenediamine", "H301 H311 H317 H319 H331 H410", ANNEX),
    remembered("paraformaldehyde", "H228 H302 H315 H317 H318 H332 H335 H341 H350"),
    read("phenidone", "H302 H411", ANNEX),
    remembered("potassium-alum", ""),
    remembered("potassium-bromide", "H319"),
    remembered("potassium-carbonate", "H315 H319 H335"),
    Label {
        // H314 says H318, H330 more than H335, and H410 says H400.
        left: "H318 H335 H400",
        ..read(
            "potassium-dichromate",
            "H272 H301 H312 H314 H317 H318 H330 H334 H335 H340 H350 H360FD H372 H400 H410",
            "suppliers' classification, no public source",
        )
    },
    Label {
        memory: "EUH032",
        ..read(
            "potassium-ferricyanide",
            "",
            "International Chemical Safety Card ICSC 1132: no entry; with acid, cyanide",
        )
    },
    read("potassium-hydroxide", "H290 H302 H314", "suppliers' classification, no public source"),
    remembered("potassium-iodide", "H372"),
    read("potassium-metabisulfite", "H318 EUH031", "suppliers' classification, no public source"),
    read("potassium-oxalate", "H302 H312", ANNEX),
    read("potassium-permanganate", "H272 H302 H361d H410", ANNEX),
    Label {
        left: "H402",
        memory: "H412",
        ..read(
            "potassium-thiocyanate",
            "H302 H312 H332 H402 EUH032",
            "suppliers' classification, no public source",
        )
    },
    read("pyrogallol", "H302 H312 H332 H341 H412", ANNEX),
    remembered("sodium-acetate", ""),
    remembered("sodium-ascorbate", ""),
    remembered("sodium-bicarbonate", ""),
    read("sodium-bisulfate", "H318", ANNEX),
    read("sodium-bisulfite", "H302 EUH031", ANNEX),
    remembered("sodium-bromide", ""),
    read("sodium-carbonate", "H319", ANNEX),
    remembered("sodium-chloride", ""),
    remembered("sodium-citrate", ""),
    read("sodium-hydroxide", "H290 H314", "suppliers' classification, no public source"),
    read("sodium-hypochlorite", "H314 H318 H410 EUH031", ANNEX),
    read("sodium-metabisulfite", "H302 H318 EUH031", ANNEX),
    remembered("sodium-metaborate", "H360FD"),
    read("sodium-selenite", "H300 H317 H331 H411 EUH031", ANNEX),
    remembered("sodium-sulfate", ""),
    Label { memory: "EUH031", ..read("sodium-sulfide", "H302 H311 H314 H400", ANNEX) },
    remembered("sodium-sulfite", ""),
    Label { memory: "EUH032", ..read("sodium-thiocyanate", "H302 H312 H332 H412", ANNEX) },
    read("sodium-thiosulfate", "", "suppliers' classification, no public source: not classified"),
    remembered("stannous-chloride", "H302 H314 H317"),
    read("sulfuric-acid", "H290 H314", "suppliers' classification, no public source"),
    read("thiourea", "H302 H351 H361d H411", ANNEX),
    remembered("trisodium-phosphate", "H315 H319 H335"),
    remembered("wetting-surfactant", "H318"),
];

fn codes(text: &'static str) -> BTreeSet<&'static str> {
    text.split_whitespace().collect()
}

#[test]
fn every_hazard_statement_is_published_or_marked_as_from_memory() {
    let names: Vec<&str> = LABELS.iter().map(|label| label.name).collect();
    let known: Vec<&str> = ingredients().iter().map(|each| each.name).collect();
    assert_eq!(names, known, "a row for each ingredient, in their order");
    for Label { name, printed, left, memory, source } in LABELS {
        assert!(source.trim().len() >= 8, "{name}: no source");
        let (printed, left, memory) = (codes(printed), codes(left), codes(memory));
        assert!(left.is_subset(&printed), "{name}: only what is printed can be left out");
        assert!(memory.is_disjoint(&printed), "{name}: what is printed needs no memory");
        let expected: BTreeSet<&str> = printed.difference(&left).chain(&memory).copied().collect();
        let ours: BTreeSet<&str> =
            ingredient(name).unwrap().hazards.iter().map(|hazard| hazard.code).collect();
        assert_eq!(ours, expected, "{name}: {source}");
        let says = ingredient(name).unwrap().source.contains("from memory");
        let should = !memory.is_empty() || *source == "from memory";
        assert_eq!(says, should, "{name}: {}", ingredient(name).unwrap().source);
    }
}

/// An ingredient, the precautions that a data sheet prints for the same statements, those of them that we leave out,
/// and the sheet. What is stored and thrown away (P4.., P5..), is for a works (P233, P240 to P243), for a fire brigade
/// (P370+P378) or sends one back to the label (P321) is left out.
const PRECAUTIONS: [(&str, &str, &str, &str); 4] = [
    (
        "acetic-acid",
        "P210 P233 P240 P241 P242 P243 P260 P264 P280 P301+P330+P331 P303+P361+P353 P304+P340 P305+P351+P338 \
         P310 P363 P370+P378 P403+P235 P405 P501",
        "P233 P240 P241 P242 P243 P370+P378 P403+P235 P405 P501",
        "suppliers' classification, no public source",
    ),
    // The sheet has the codes of the ninth revision: P203 for P201 and P202, P301+P317 for P301+P312, P318 for
    // P308+P313.
    (
        "potassium-permanganate",
        "P201 P202 P210 P220 P264 P270 P273 P280 P301+P312 P308+P313 P330 P370+P378 P391 P405 P501",
        "P370+P378 P405 P501",
        "suppliers' classification, no public source",
    ),
    // Of the ammonium salt, which has the same statements.
    (
        "potassium-thiocyanate",
        "P261 P264 P270 P271 P273 P280 P301+P312 P302+P352 P304+P340 P312 P321 P330 P362+P364 P501",
        "P321 P501",
        "suppliers' classification, no public source",
    ),
    (
        "sulfuric-acid",
        "P234 P260 P264 P280 P301+P330+P331 P303+P361+P353 P304+P340 P305+P351+P338 P310 P321 P363 P390 P405 \
         P501",
        "P321 P405 P501",
        "suppliers' classification, no public source",
    ),
];

#[test]
fn statements_give_the_precautions_of_published_data_sheets() {
    for (name, printed, left, source) in PRECAUTIONS {
        let expected: BTreeSet<&str> = codes(printed).difference(&codes(left)).copied().collect();
        let held = Held { ingredient: ingredient(name).unwrap(), strength: None };
        let ours: BTreeSet<&str> = held.statements().iter().map(|(code, _)| *code).collect();
        assert_eq!(ours, expected, "{name}: {source}");
    }
}
