//! The table of ingredients: their states and their hazards. It lacks water, which is built into the language.

use super::element::molar_mass;
use super::hazard::*;

/// An ingredient of a formula.
#[derive(Debug, PartialEq, Eq)]
pub struct Ingredient {
    /// The ingredient's name in a recipe.
    pub name: &'static str,
    /// Whether a recipe must state the strength of this ingredient: a percentage (`28 %`), or the word of a state
    /// (`glacial`).
    pub strength: bool,
    /// The states in which the ingredient is sold, the one with the least water first; empty for a mixture.
    pub states: &'static [State],
    /// The hazard statements at the greatest strength sold.
    pub hazards: &'static [&'static Hazard],
    /// The source of the hazard statements.
    pub source: &'static str,
}

/// A state of an ingredient, by its water of crystallisation.
#[derive(Debug, PartialEq, Eq)]
pub struct State {
    /// The word for the state in a recipe, such as `decahydrate`; empty if there is only one state.
    pub word: &'static str,
    /// The chemical formula. One formula unit contains as much of the salt in every state.
    pub formula: &'static str,
    /// The CAS number of the state.
    pub cas: &'static str,
}

impl Ingredient {
    /// The state with this word. Without a word: the only state, or the state that the name alone means. `None` if
    /// there is no such state, or a recipe must state a word or a strength.
    pub fn state(&self, word: Option<&str>) -> Option<&'static State> {
        match (word, self.states) {
            (Some(word), states) => states.iter().find(|state| state.word == word),
            (None, [only]) if !self.strength => Some(only),
            (None, states) => {
                let (_, crystals) = CRYSTALS.iter().find(|(name, _)| *name == self.name)?;
                states.iter().find(|state| state.word == *crystals)
            }
        }
    }
}

impl State {
    /// The grams of this state that have as much salt as one gram of the other state (R10).
    pub fn in_place_of(&self, other: &State) -> Option<f64> {
        if self.formula == other.formula {
            return Some(1.0);
        }
        Some(molar_mass(self.formula)? / molar_mass(other.formula)?)
    }
}

/// The ingredient with this name; `None` if the table lacks it.
pub fn ingredient(name: &str) -> Option<&'static Ingredient> {
    INGREDIENTS.iter().find(|known| known.name == name)
}

/// All ingredients, in the order of their names.
pub fn ingredients() -> &'static [Ingredient] {
    INGREDIENTS
}

/// Salts whose name without a state means the crystals with all their water, each with the word for these crystals.
/// Common practice, no source.
const CRYSTALS: &[(&str, &str)] =
    &[("sodium-sulfide", "nonahydrate"), ("trisodium-phosphate", "dodecahydrate")];

/// Ingredients that make a bath acid. Boric acid buffers a developer, so it does not count.
const ACIDS: &[&str] = &[
    "acetic-acid",
    "citric-acid",
    "hydrochloric-acid",
    "potassium-metabisulfite",
    "sodium-bisulfate",
    "sodium-bisulfite",
    "sodium-metabisulfite",
    "sulfuric-acid",
];

/// Ingredients that make a bath alkaline enough to develop. Sulfite alone is too weak.
const ALKALIS: &[&str] = &[
    "borax",
    "potassium-carbonate",
    "potassium-hydroxide",
    "sodium-carbonate",
    "sodium-hydroxide",
    "sodium-metaborate",
    "trisodium-phosphate",
];

const HARDENERS: &[&str] = &["chrome-alum", "potassium-alum"];

impl Ingredient {
    /// Whether the ingredient makes a bath acid.
    pub fn is_acid(&self) -> bool {
        ACIDS.contains(&self.name)
    }

    /// Whether the ingredient makes a bath alkaline.
    pub fn is_alkali(&self) -> bool {
        ALKALIS.contains(&self.name)
    }

    /// Whether the ingredient hardens gelatin.
    pub fn is_hardener(&self) -> bool {
        HARDENERS.contains(&self.name)
    }
}

// Sources of several ingredients. `tests/published/labels.rs` says for which codes no source was looked up.
const ANNEX: &str = "Regulation (EC) 1272/2008, Annex VI, to its 23rd adaptation";
const HARMLESS: &str = "not classified, from memory";
const SHEET_BY_CLP: &str = "suppliers' classification, no public source";
const SHEETS: &str = "suppliers' classification, no public source; from memory";
const SHEETS_READ: &str = "suppliers' classification, no public source";

/// Declares the table. A row has the name, `by strength` if a recipe must state the strength, the hazards and the
/// source, then the word, formula and CAS number of each state.
macro_rules! ingredients {
    ($($name:literal $(by $strength:ident)? ($($hazard:ident)*) $source:tt
       $([$($word:ident)? $formula:literal $cas:literal])*;)*) => {
        static INGREDIENTS: &[Ingredient] = &[$(Ingredient {
            name: $name,
            strength: !stringify!($($strength)?).is_empty(),
            states: &[$(State { word: stringify!($($word)?), formula: $formula, cas: $cas }),*],
            hazards: &[$($hazard),*],
            source: $source,
        }),*];
    };
}

ingredients! {
    "acetic-acid" by strength (H226 H314)
        "suppliers' classification, no public source"
        [glacial "C2H4O2" "64-19-7"];
    "amidol" (H302 H315 H317 H319) SHEETS
        ["C6H8N2O·2HCl" "137-09-7"];
    "ammonia" by strength (H314 H335 H400) ANNEX
        [concentrated "NH3" "1336-21-6"];
    "ammonium-chloride" (H302 H319) ANNEX
        ["NH4Cl" "12125-02-9"];
    "ammonium-ferric-edta" () HARMLESS
        ["C10H16FeN3O8" "21265-50-9"];
    "ammonium-persulfate" (H272 H302 H315 H317 H319 H334 H335) ANNEX
        ["(NH4)2S2O8" "7727-54-0"];
    "ammonium-thiosulfate" by strength () HARMLESS
        [crystals "(NH4)2S2O3" "7783-18-8"];
    "ascorbic-acid" () HARMLESS
        ["C6H8O6" "50-81-7"];
    "benzotriazole" (H411) ANNEX
        ["C6H5N3" "95-14-7"];
    "borax" (H319 H360FD)
        "H360FD in Regulation (EC) 790/2009, H319 by suppliers, no public source"
        [anhydrous "Na2B4O7" "1330-43-4"]
        [pentahydrate "Na2B4O7·5H2O" "12179-04-3"]
        [decahydrate "Na2B4O7·10H2O" "1303-96-4"];
    "boric-acid" (H360FD) ANNEX
        ["H3BO3" "10043-35-3"];
    "catechol" (H301 H311 H315 H319 H341 H350) ANNEX
        ["C6H6O2" "120-80-9"];
    "chrome-alum" () HARMLESS
        [dodecahydrate "KCr(SO4)2·12H2O" "7788-99-0"];
    "citrazinic-acid" (H315 H319 H335) SHEETS
        ["C6H5NO4" "99-11-6"];
    "citric-acid" (H319 H335) ANNEX
        [anhydrous "C6H8O7" "77-92-9"]
        [monohydrate "C6H8O7·H2O" "5949-29-1"];
    "colour-developing-agent" (H301 H317 H373 H410) ANNEX
        ["C11H18N2O·H2SO4" "25646-77-9"];
    "copper-sulfate" (H302 H318 H410) ANNEX
        [pentahydrate "CuSO4·5H2O" "7758-99-8"];
    "edta-disodium" (H332 H373) SHEETS
        [dihydrate "C10H14N2Na2O8·2H2O" "6381-92-6"];
    "edta-tetrasodium" (H302 H318) ANNEX
        [anhydrous "C10H12N2Na4O8" "64-02-8"]
        [dihydrate "C10H12N2Na4O8·2H2O" "10378-23-1"]
        [tetrahydrate "C10H12N2Na4O8·4H2O" "13235-36-4"];
    "ferric-sodium-edta" () HARMLESS
        [anhydrous "C10H12FeN2NaO8" "15708-41-5"]
        [trihydrate "C10H12FeN2NaO8·3H2O" "18154-32-0"];
    "ferrous-sulfate" (H302 H315 H319) ANNEX
        [heptahydrate "FeSO4·7H2O" "7782-63-0"];
    "formaldehyde" by strength (H302 H314 H317 H330 H335 H341 H350 EUH071) ANNEX
        [formalin "CH2O" "50-00-0"];
    "glycin" (H315 H319) SHEETS
        ["C8H9NO3" "122-87-2"];
    "gold-chloride" (H314 H317) SHEETS
        [trihydrate "HAuCl4·3H2O" "16961-25-4"];
    "hexamine" (H228 H317) ANNEX
        ["C6H12N4" "100-97-0"];
    "hydrochloric-acid" by strength (H290 H314 H335)
        "Regulation (EC) 1272/2008, Annex VI, to its 23rd adaptation; H290 from memory"
        [concentrated "HCl" "7647-01-0"];
    "hydrogen-peroxide" by strength (H271 H302 H314 H332 H335) ANNEX
        ["H2O2" "7722-84-1"];
    "hydroquinone" (H302 H317 H318 H341 H351 H400) SHEET_BY_CLP
        ["C6H6O2" "123-31-9"];
    "hydroxylamine-sulfate" (H290 H302 H312 H315 H317 H319 H351 H373 H400)
        ANNEX
        ["(NH3OH)2SO4" "10039-54-0"];
    "instant-coffee" () HARMLESS;
    "isopropyl-alcohol" by strength (H225 H319 H336) SHEET_BY_CLP
        [anhydrous "C3H8O" "67-63-0"];
    "mercuric-chloride" (H300 H314 H341 H361f H372 H410) ANNEX
        ["HgCl2" "7487-94-7"];
    "metol" (H302 H317 H373 H410) ANNEX
        ["C14H20N2O6S" "55-55-0"];
    "p-aminophenol-hydrochloride" (H302 H332 H341 H410) ANNEX
        ["C6H7NO·HCl" "51-78-5"];
    "p-phenylenediamine" (H301 H311 H317 H319 H331 H410) ANNEX
        ["C6H8N2" "106-50-3"];
    "paraformaldehyde" (H228 H302 H315 H317 H318 H332 H335 H341 H350) SHEETS
        ["CH2O" "30525-89-4"];
    "phenidone" (H302 H411) ANNEX
        ["C9H10N2O" "92-43-3"];
    "potassium-alum" () HARMLESS
        [dodecahydrate "KAl(SO4)2·12H2O" "7784-24-9"];
    "potassium-bromide" (H319)
        "suppliers' classification, no public source; from memory: some classify it, some do not"
        ["KBr" "7758-02-3"];
    "potassium-carbonate" (H315 H319 H335) SHEETS
        [anhydrous "K2CO3" "584-08-7"]
        [sesquihydrate "K2CO3·1.5H2O" "6381-79-9"];
    "potassium-dichromate" (H272 H301 H312 H314 H317 H330 H334 H340 H350 H360FD H372 H410)
        "suppliers' classification, no public source"
        ["K2Cr2O7" "7778-50-9"];
    "potassium-ferricyanide" (EUH032)
        "International Chemical Safety Card ICSC 1132; the statement EUH032 from memory"
        ["K3Fe(CN)6" "13746-66-2"];
    "potassium-hydroxide" (H290 H302 H314) SHEETS_READ
        ["KOH" "1310-58-3"];
    "potassium-iodide" (H372) SHEETS
        ["KI" "7681-11-0"];
    "potassium-metabisulfite" (H318 EUH031) SHEETS_READ
        ["K2S2O5" "16731-55-8"];
    "potassium-oxalate" (H302 H312) ANNEX
        [monohydrate "K2C2O4·H2O" "6487-48-5"];
    "potassium-permanganate" (H272 H302 H361d H410) ANNEX
        ["KMnO4" "7722-64-7"];
    "potassium-thiocyanate" (H302 H312 H332 H412 EUH032)
        "suppliers' classification, no public source; H412 in place of its H402 from memory"
        ["KSCN" "333-20-0"];
    "pyrogallol" (H302 H312 H332 H341 H412) ANNEX
        ["C6H6O3" "87-66-1"];
    "sodium-acetate" () HARMLESS
        [anhydrous "C2H3NaO2" "127-09-3"]
        [trihydrate "C2H3NaO2·3H2O" "6131-90-4"];
    "sodium-ascorbate" () HARMLESS
        ["C6H7NaO6" "134-03-2"];
    "sodium-bicarbonate" () HARMLESS
        ["NaHCO3" "144-55-8"];
    "sodium-bisulfate" (H318) ANNEX
        [anhydrous "NaHSO4" "7681-38-1"]
        [monohydrate "NaHSO4·H2O" "10034-88-5"];
    "sodium-bisulfite" (H302 EUH031) ANNEX
        ["NaHSO3" "7631-90-5"];
    "sodium-bromide" () HARMLESS
        ["NaBr" "7647-15-6"];
    "sodium-carbonate" (H319) ANNEX
        [anhydrous "Na2CO3" "497-19-8"]
        [monohydrate "Na2CO3·H2O" "5968-11-6"]
        [decahydrate "Na2CO3·10H2O" "6132-02-1"];
    "sodium-chloride" () HARMLESS
        ["NaCl" "7647-14-5"];
    "sodium-citrate" () HARMLESS
        [anhydrous "Na3C6H5O7" "68-04-2"]
        [dihydrate "Na3C6H5O7·2H2O" "6132-04-3"];
    "sodium-hydroxide" (H290 H314) SHEETS_READ
        ["NaOH" "1310-73-2"];
    "sodium-hypochlorite" by strength (H314 H318 H410 EUH031) ANNEX
        ["NaClO" "7681-52-9"];
    "sodium-metabisulfite" (H302 H318 EUH031) ANNEX
        ["Na2S2O5" "7681-57-4"];
    // The two states are also sold as '4 mol' and '8 mol', which count the water of two formula units.
    "sodium-metaborate" (H360FD)
        "no harmonised entry; as the other borates, from memory"
        [dihydrate "NaBO2·2H2O" "16800-11-6"]
        [tetrahydrate "NaBO2·4H2O" "10555-76-7"];
    "sodium-selenite" (H300 H317 H331 H411 EUH031) ANNEX
        [anhydrous "Na2SeO3" "10102-18-8"]
        [pentahydrate "Na2SeO3·5H2O" "26970-82-1"];
    "sodium-sulfate" () HARMLESS
        [anhydrous "Na2SO4" "7757-82-6"]
        [decahydrate "Na2SO4·10H2O" "7727-73-3"];
    "sodium-sulfide" (H302 H311 H314 H400 EUH031)
        "Regulation (EC) 1272/2008, Annex VI, to its 23rd adaptation; EUH031 of its earlier entry, from memory"
        [anhydrous "Na2S" "1313-82-2"]
        [nonahydrate "Na2S·9H2O" "1313-84-4"];
    "sodium-sulfite" ()
        "not classified, from memory; some suppliers give it EUH031"
        [anhydrous "Na2SO3" "7757-83-7"]
        [heptahydrate "Na2SO3·7H2O" "10102-15-5"];
    "sodium-thiocyanate" (H302 H312 H332 H412 EUH032)
        "Regulation (EC) 1272/2008, Annex VI, to its 23rd adaptation; EUH032 of its earlier entry, from memory"
        ["NaSCN" "540-72-7"];
    "sodium-thiosulfate" ()
        "not classified; no public source"
        [anhydrous "Na2S2O3" "7772-98-7"]
        [pentahydrate "Na2S2O3·5H2O" "10102-17-7"];
    "stannous-chloride" (H302 H314 H317) SHEETS
        [dihydrate "SnCl2·2H2O" "10025-69-1"];
    "sulfuric-acid" by strength (H290 H314) SHEETS_READ
        [concentrated "H2SO4" "7664-93-9"];
    "thiourea" (H302 H351 H361d H411) ANNEX
        ["CH4N2S" "62-56-6"];
    "trisodium-phosphate" (H315 H319 H335) SHEETS
        [anhydrous "Na3PO4" "7601-54-9"]
        [dodecahydrate "Na3PO4·12H2O" "10101-89-0"];
    "wetting-surfactant" (H318) SHEETS;
}
