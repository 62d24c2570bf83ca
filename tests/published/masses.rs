//! The molar mass of each state of each ingredient, compared with the published mass of its CAS number.
//!
//! A public database uses older weights of sulfur and selenium, so the tolerance is 0.02 g/mol.

use wetside::chemistry::{ingredient, ingredients, molar_mass};

const PUBCHEM: &str = "PubChem by that number, as a library of chemical data of 2026 ships it";
/// The database has the number for two formula units with three of water, 330.4568.
const HALVED: &str = "half of PubChem's mass for the double formula";
/// The database mistakes the number for an orthoborate.
const SHEET_AND_HAND: &str = "number in suppliers' classification, no public source; weights of 2021 by hand";
/// The database mistakes the number for the salt of one to one.
const ICSC_0898: &str = "International Chemical Safety Card ICSC 0898 (2003)";
const ENCYCLOPAEDIA: &str =
    "number in International Chemical Safety Card ICSC 1528; mass in an encyclopaedia";
const WATERED: &str = "number from memory; the anhydrous mass and 18.015 for each water, by hand";
const BY_HAND: &str = "number from memory; weights of 2021 by hand";
const MEMORY: &str = "number and mass from memory";

/// Name, word of the state, number, g/mol, within, source.
const PRINTED: &[(&str, &str, &str, f64, f64, &str)] = &[
    ("acetic-acid", "glacial", "64-19-7", 60.051_96, 0.02, PUBCHEM),
    ("amidol", "", "137-09-7", 197.062_4, 0.02, PUBCHEM),
    ("ammonia", "concentrated", "1336-21-6", 17.031, 0.02, BY_HAND),
    ("ammonium-chloride", "", "12125-02-9", 53.491_46, 0.02, PUBCHEM),
    ("ammonium-ferric-edta", "", "21265-50-9", 362.09, 0.02, MEMORY),
    ("ammonium-persulfate", "", "7727-54-0", 228.19, 0.02, BY_HAND),
    ("ammonium-thiosulfate", "crystals", "7783-18-8", 148.205_12, 0.02, PUBCHEM),
    ("ascorbic-acid", "", "50-81-7", 176.124_12, 0.02, PUBCHEM),
    ("benzotriazole", "", "95-14-7", 119.124, 0.02, PUBCHEM),
    ("borax", "anhydrous", "1330-43-4", 201.219_34, 0.02, PUBCHEM),
    ("borax", "pentahydrate", "12179-04-3", 291.288, 0.02, SHEET_AND_HAND),
    ("borax", "decahydrate", "1303-96-4", 381.372_14, 0.02, PUBCHEM),
    ("boric-acid", "", "10043-35-3", 61.833_02, 0.02, PUBCHEM),
    ("catechol", "", "120-80-9", 110.110_64, 0.02, PUBCHEM),
    ("chrome-alum", "dodecahydrate", "7788-99-0", 499.402_96, 0.02, PUBCHEM),
    ("citrazinic-acid", "", "99-11-6", 155.109, 0.02, BY_HAND),
    ("citric-acid", "anhydrous", "77-92-9", 192.123_52, 0.02, PUBCHEM),
    ("citric-acid", "monohydrate", "5949-29-1", 210.138_8, 0.02, PUBCHEM),
    ("colour-developing-agent", "", "25646-77-9", 292.351_9, 0.02, PUBCHEM),
    ("copper-sulfate", "pentahydrate", "7758-99-8", 249.677, 0.02, BY_HAND),
    ("edta-disodium", "dihydrate", "6381-92-6", 372.24, 0.02, MEMORY),
    ("edta-tetrasodium", "anhydrous", "64-02-8", 380.169_957, 0.02, PUBCHEM),
    ("edta-tetrasodium", "dihydrate", "10378-23-1", 416.2, 0.02, WATERED),
    ("edta-tetrasodium", "tetrahydrate", "13235-36-4", 452.23, 0.02, WATERED),
    ("ferric-sodium-edta", "anhydrous", "15708-41-5", 367.045_649, 0.02, PUBCHEM),
    ("ferric-sodium-edta", "trihydrate", "18154-32-0", 421.09, 0.02, WATERED),
    ("ferrous-sulfate", "heptahydrate", "7782-63-0", 278.006, 0.02, BY_HAND),
    ("formaldehyde", "formalin", "50-00-0", 30.026, 0.02, BY_HAND),
    ("glycin", "", "122-87-2", 167.161_96, 0.02, PUBCHEM),
    ("gold-chloride", "trihydrate", "16961-25-4", 393.82, 0.02, BY_HAND),
    ("hexamine", "", "100-97-0", 140.186_28, 0.02, PUBCHEM),
    ("hydrochloric-acid", "concentrated", "7647-01-0", 36.458, 0.02, BY_HAND),
    ("hydrogen-peroxide", "", "7722-84-1", 34.014, 0.02, BY_HAND),
    ("hydroquinone", "", "123-31-9", 110.110_64, 0.02, PUBCHEM),
    ("hydroxylamine-sulfate", "", "10039-54-0", 164.1, 0.05, ICSC_0898),
    ("isopropyl-alcohol", "anhydrous", "67-63-0", 60.095_02, 0.02, PUBCHEM),
    ("mercuric-chloride", "", "7487-94-7", 271.492, 0.02, BY_HAND),
    ("metol", "", "55-55-0", 344.39, 0.02, ENCYCLOPAEDIA),
    ("p-aminophenol-hydrochloride", "", "51-78-5", 145.586_82, 0.02, PUBCHEM),
    ("p-phenylenediamine", "", "106-50-3", 108.144, 0.02, BY_HAND),
    ("paraformaldehyde", "", "30525-89-4", 30.026, 0.02, BY_HAND),
    ("phenidone", "", "92-43-3", 162.188_5, 0.02, PUBCHEM),
    ("potassium-alum", "dodecahydrate", "7784-24-9", 474.37, 0.02, MEMORY),
    ("potassium-bromide", "", "7758-02-3", 119.002_3, 0.02, PUBCHEM),
    ("potassium-carbonate", "anhydrous", "584-08-7", 138.205_5, 0.02, PUBCHEM),
    ("potassium-carbonate", "sesquihydrate", "6381-79-9", 165.228_4, 0.02, HALVED),
    ("potassium-dichromate", "", "7778-50-9", 294.184_6, 0.02, PUBCHEM),
    ("potassium-ferricyanide", "", "13746-66-2", 329.244_3, 0.02, PUBCHEM),
    ("potassium-hydroxide", "", "1310-58-3", 56.105_64, 0.02, PUBCHEM),
    ("potassium-iodide", "", "7681-11-0", 166.002_77, 0.02, PUBCHEM),
    ("potassium-metabisulfite", "", "16731-55-8", 222.323_6, 0.02, PUBCHEM),
    ("potassium-oxalate", "monohydrate", "6487-48-5", 184.23, 0.02, BY_HAND),
    ("potassium-permanganate", "", "7722-64-7", 158.033_945, 0.02, PUBCHEM),
    ("potassium-thiocyanate", "", "333-20-0", 97.180_7, 0.02, PUBCHEM),
    ("pyrogallol", "", "87-66-1", 126.110_04, 0.02, PUBCHEM),
    ("sodium-acetate", "anhydrous", "127-09-3", 82.033_789, 0.02, PUBCHEM),
    ("sodium-acetate", "trihydrate", "6131-90-4", 136.079_629, 0.02, PUBCHEM),
    ("sodium-ascorbate", "", "134-03-2", 198.105_949, 0.02, PUBCHEM),
    ("sodium-bicarbonate", "", "144-55-8", 84.006_609, 0.02, PUBCHEM),
    ("sodium-bisulfate", "anhydrous", "7681-38-1", 120.060_309, 0.02, PUBCHEM),
    ("sodium-bisulfate", "monohydrate", "10034-88-5", 138.075_589, 0.02, PUBCHEM),
    ("sodium-bisulfite", "", "7631-90-5", 104.060_909, 0.02, PUBCHEM),
    ("sodium-bromide", "", "7647-15-6", 102.893_769, 0.02, PUBCHEM),
    ("sodium-carbonate", "anhydrous", "497-19-8", 105.988_439, 0.02, PUBCHEM),
    ("sodium-carbonate", "monohydrate", "5968-11-6", 124.003_719, 0.02, PUBCHEM),
    ("sodium-carbonate", "decahydrate", "6132-02-1", 286.141_239, 0.02, PUBCHEM),
    ("sodium-chloride", "", "7647-14-5", 58.44, 0.02, BY_HAND),
    ("sodium-citrate", "anhydrous", "68-04-2", 258.069_008, 0.02, PUBCHEM),
    ("sodium-citrate", "dihydrate", "6132-04-3", 294.099_568, 0.02, PUBCHEM),
    ("sodium-hydroxide", "", "1310-73-2", 39.997_109, 0.02, PUBCHEM),
    ("sodium-hypochlorite", "", "7681-52-9", 74.44, 0.02, BY_HAND),
    ("sodium-metabisulfite", "", "7681-57-4", 190.106_539, 0.02, PUBCHEM),
    ("sodium-metaborate", "dihydrate", "16800-11-6", 101.83, 0.02, WATERED),
    ("sodium-metaborate", "tetrahydrate", "10555-76-7", 137.860_689, 0.02, PUBCHEM),
    ("sodium-selenite", "anhydrous", "10102-18-8", 172.937_739, 0.02, PUBCHEM),
    ("sodium-selenite", "pentahydrate", "26970-82-1", 263.014_139, 0.02, PUBCHEM),
    ("sodium-sulfate", "anhydrous", "7757-82-6", 142.042_139, 0.02, PUBCHEM),
    ("sodium-sulfate", "decahydrate", "7727-73-3", 322.194_939, 0.02, PUBCHEM),
    ("sodium-sulfide", "anhydrous", "1313-82-2", 78.04, 0.02, BY_HAND),
    ("sodium-sulfide", "nonahydrate", "1313-84-4", 240.175, 0.02, BY_HAND),
    ("sodium-sulfite", "anhydrous", "7757-83-7", 126.042_739, 0.02, PUBCHEM),
    ("sodium-sulfite", "heptahydrate", "10102-15-5", 252.149_699, 0.02, PUBCHEM),
    ("sodium-thiocyanate", "", "540-72-7", 81.068, 0.02, BY_HAND),
    ("sodium-thiosulfate", "anhydrous", "7772-98-7", 158.107_74, 0.02, PUBCHEM),
    ("sodium-thiosulfate", "pentahydrate", "10102-17-7", 248.184_139, 0.02, PUBCHEM),
    ("stannous-chloride", "dihydrate", "10025-69-1", 225.64, 0.02, BY_HAND),
    ("sulfuric-acid", "concentrated", "7664-93-9", 98.078_48, 0.02, PUBCHEM),
    ("thiourea", "", "62-56-6", 76.120_86, 0.02, PUBCHEM),
    ("trisodium-phosphate", "anhydrous", "7601-54-9", 163.939, 0.02, BY_HAND),
    ("trisodium-phosphate", "dodecahydrate", "10101-89-0", 380.119, 0.02, BY_HAND),
];

#[test]
fn every_state_has_the_published_mass_of_its_cas_number() {
    let states =
        ingredients().iter().flat_map(|each| each.states.iter().map(|state| (each.name, state.word)));
    let rows: Vec<(&str, &str)> = PRINTED.iter().map(|(name, word, ..)| (*name, *word)).collect();
    assert_eq!(rows, states.collect::<Vec<_>>(), "a row for each state, in their order");
    for (name, word, cas, mass, within, source) in PRINTED {
        let states = ingredient(name).unwrap().states;
        let state = states.iter().find(|state| state.word == *word).unwrap();
        assert_eq!(state.cas, *cas, "{name}, {word}: {source}");
        let ours = molar_mass(state.formula).unwrap();
        assert!((ours - mass).abs() <= *within, "{name}, {word}: {ours}, not {mass} ({source})");
    }
}
