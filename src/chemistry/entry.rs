//! Harmonised classifications of substances, from which mixtures are classified, and the limits that a single substance
//! has of its own.

use super::hazard::*;
use super::ingredient::Ingredient;

/// The source of all entries. Its notes B, D, F and G on the forms that are sold are not in the table. Entries that
/// deviate from the source, or are not in it, have a comment.
pub const ENTRIES_SOURCE: &str = "Regulation (EC) 1272/2008, Annex VI, to its 23rd adaptation (Regulation (EU) \
     2025/1222), by the table that the European Chemicals Agency publishes";

/// A way into the body, with its own limits of acute toxicity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Route {
    /// Swallowed; the unit of its limits is mg/kg.
    Oral,
    /// Through the skin; the unit of its limits is mg/kg.
    Dermal,
    /// Breathed in as a gas; the unit of its limits is ppm.
    Gas,
    /// Breathed in as a vapour; the unit of its limits is mg/l.
    Vapour,
    /// Breathed in as dust or mist; the unit of its limits is mg/l. A dissolved salt counts as mist.
    Mist,
}

/// A hazard statement, and the least share of the substance with which a mixture has the statement, in thousandths of a
/// percent.
pub type Limit = (&'static Hazard, u32);

/// The classification of a pure substance, from which mixtures with it are classified.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Entry {
    /// The substance's name.
    pub name: &'static str,
    /// The CAS numbers, with a space between; empty if there is none.
    pub cas: &'static str,
    /// The hazard statements of the pure substance.
    pub hazards: &'static [&'static Hazard],
    /// The substance's own limits. For the hazard statements that they name, they replace the limits that hold for all
    /// substances.
    pub limits: &'static [Limit],
    /// Which of H317 and H334 are of sub-category 1A, and which of H300, H310 and H330 are of category 2.
    pub marked: &'static [&'static Hazard],
    /// The substance's acute toxicity estimates, in thousandths of the route's unit. A route without an estimate here
    /// has that of the substance's category.
    pub ates: &'static [(Route, u32)],
    /// How the substance is breathed in.
    pub breathed: Route,
    /// The M factors for acute and for chronic harm to waters. The substance's share is multiplied by them in the sums
    /// for this harm.
    pub m: (u32, u32),
    /// Whether the substance counts in the sum of the borates.
    pub is_borate: bool,
}

impl Ingredient {
    /// Whether a hazard statement of the ingredient was written without looking up a source.
    pub fn is_from_memory(&self) -> bool {
        self.source.contains("from memory")
    }
}

/// An entry with these hazard statements. It has no concentration limits, toxicity estimates and M factors of its
/// own, so the general ones apply.
pub const fn says(name: &'static str, cas: &'static str, hazards: &'static [&'static Hazard]) -> Entry {
    Entry {
        name,
        cas,
        hazards,
        limits: &[],
        marked: &[],
        ates: &[],
        breathed: Route::Mist,
        m: (1, 1),
        is_borate: false,
    }
}

impl Entry {
    /// The same entry with limits of its own.
    pub const fn limits(self, limits: &'static [Limit]) -> Entry {
        Entry { limits, ..self }
    }

    /// The same entry, in which these statements are of sub-category 1A or of category 2.
    pub const fn marked(self, marked: &'static [&'static Hazard]) -> Entry {
        Entry { marked, ..self }
    }

    /// The same entry with acute toxicity estimates of its own.
    pub const fn ates(self, ates: &'static [(Route, u32)]) -> Entry {
        Entry { ates, ..self }
    }

    /// The same entry, breathed in as a gas or a vapour.
    pub const fn breathed(self, breathed: Route) -> Entry {
        Entry { breathed, ..self }
    }

    /// The same entry with M factors.
    pub const fn m(self, acute: u32, chronic: u32) -> Entry {
        Entry { m: (acute, chronic), ..self }
    }

    /// The same entry as a borate; shares of borates are added (CLP, Note 11).
    pub const fn borate(self) -> Entry {
        Entry { is_borate: true, ..self }
    }

    /// Whether the substance has this statement.
    pub fn has(&self, hazard: &Hazard) -> bool {
        self.hazards.iter().any(|own| own.code == hazard.code)
    }

    /// Whether the classification is harmonised, that is, binding on all suppliers; such an entry has a CAS number.
    pub fn is_harmonised(&self) -> bool {
        !self.cas.is_empty()
    }

    /// The entry of an ingredient: the harmonised entry, or else one with the suppliers' statements.
    pub fn of(ingredient: &Ingredient) -> Entry {
        let harmonised = || {
            let of = |entry: &&Entry| {
                let known = |cas: &str| ingredient.states.iter().any(|state| state.cas == cas);
                entry.cas.split(' ').any(known)
            };
            ENTRIES.iter().find(of).copied()
        };
        let own = || Entry {
            is_borate: ingredient.name == "sodium-metaborate",
            ..says(ingredient.name, "", ingredient.hazards)
        };
        harmonised().unwrap_or_else(own)
    }
}

const ACID: &[Limit] = &[(H314, 25_000), (H315, 10_000), (H319, 10_000)];
const LYE: &[Limit] = &[(H314, 2_000), (H315, 500), (H319, 500)];
const CHROMATE: &[&Hazard] = &[H272, H301, H312, H314, H317, H330, H334, H340, H350, H360FD, H372, H410];
const PERSULFATE: &[&Hazard] = &[H272, H302, H315, H317, H319, H334, H335];
const FATAL: &[&Hazard] = &[H300, H330];

/// All entries, grouped: acids, alkalis and borates, developing agents, oxidisers, salts and others, liquids.
pub static ENTRIES: &[Entry] = &[
    // The limit of H226 (flammable) is from a chemical database of the United States, not from the Regulation's entry.
    says("acetic acid", "64-19-7", &[H226, H314]).limits(&[
        (H226, 80_000),
        (H314, 25_000),
        (H315, 10_000),
        (H319, 10_000),
    ]),
    says("sulfuric acid", "7664-93-9", &[H314]).limits(&[(H314, 15_000), (H315, 5_000), (H319, 5_000)]),
    says("hydrochloric acid", "7647-01-0", &[H314, H335]).limits(&[
        (H314, 25_000),
        (H315, 10_000),
        (H319, 10_000),
        (H335, 10_000),
    ]),
    says("nitric acid", "7697-37-2", &[H272, H314, H331, EUH071])
        .limits(&[(H272, 65_000), (H314, 5_000)])
        .breathed(Route::Vapour)
        .ates(&[(Route::Vapour, 2_650)]),
    says("phosphoric acid", "7664-38-2", &[H314]).limits(ACID),
    says("citric acid", "77-92-9 5949-29-1", &[H319, H335]),
    says("oxalic acid and oxalates", "144-62-7 583-52-8 6487-48-5", &[H302, H312]),
    says("sodium bisulfate", "7681-38-1 10034-88-5", &[H318]),
    says("sodium hydroxide", "1310-73-2", &[H314]).limits(LYE),
    says("potassium hydroxide", "1310-58-3", &[H302, H314]).limits(LYE),
    says("ammonia", "1336-21-6", &[H314, H400]).limits(&[(H335, 5_000)]),
    says("sodium carbonate", "497-19-8 5968-11-6 6132-02-1", &[H319]),
    says("borax", "1303-96-4 12179-04-3 1330-43-4 13840-56-7", &[H360FD]).borate(),
    says("boric acid", "10043-35-3", &[H360FD]).borate(),
    says("hydroquinone", "123-31-9", &[H302, H317, H318, H341, H351, H400]).m(10, 1),
    says("metol", "55-55-0", &[H302, H317, H373, H410]),
    // The hydrochloride, 51-78-5, has no entry and counts as the base.
    says("p-aminophenol", "123-30-8 51-78-5", &[H302, H332, H341, H410]),
    says("pyrogallol", "87-66-1", &[H302, H312, H332, H341, H412]),
    says("catechol", "120-80-9", &[H301, H311, H315, H319, H341, H350])
        .ates(&[(Route::Oral, 300_000), (Route::Dermal, 600_000)]),
    says("resorcinol", "108-46-3", &[H302, H315, H317, H319, H370, H400]).ates(&[(Route::Oral, 500_000)]),
    says("phenidone", "92-43-3", &[H302, H411]),
    says("p-phenylenediamine", "106-50-3", &[H301, H311, H317, H319, H331, H410]),
    says("diethyl-p-phenylenediamine", "93-05-0", &[H301, H314]),
    says("colour developing agent 2", "2051-79-8", &[H301, H317, H319, H410]),
    says("colour developing agent 3", "25646-71-3", &[H302, H317, H410]),
    says("colour developing agent 4", "25646-77-9", &[H301, H317, H373, H410]),
    says("hydroxylamine sulfate", "10039-54-0", &[H290, H302, H312, H315, H317, H319, H351, H373, H400]),
    // Limits of chromium(VI) count chromate ions (CLP, Note 3): 5 % of ions are 6.34 % of the potassium salt or 5.43 %
    // of the ammonium salt, and 0.2 % of ions are 0.217 % of the latter.
    says("potassium dichromate", "7778-50-9", CHROMATE).limits(&[(H335, 6_340)]).marked(FATAL),
    says("ammonium dichromate", "7789-09-5", CHROMATE)
        .limits(&[(H335, 5_432), (H334, 217), (H317, 217)])
        .marked(FATAL),
    says("potassium permanganate", "7722-64-7", &[H272, H302, H361d, H410]),
    says("ammonium persulfate", "7727-54-0", PERSULFATE),
    says("potassium persulfate", "7727-21-1", PERSULFATE),
    says("hydrogen peroxide", "7722-84-1", &[H271, H302, H314, H332])
        .limits(&[
            (H271, 70_000),
            (H272, 50_000),
            (H314, 50_000),
            (H315, 35_000),
            (H318, 8_000),
            (H319, 5_000),
            (H335, 35_000),
        ])
        .breathed(Route::Vapour),
    // The limit for EUH031 is in percent of active chlorine.
    says("sodium hypochlorite", "7681-52-9", &[H314, H318, H410, EUH031]).limits(&[(EUH031, 5_000)]).m(10, 1),
    says("iodine", "7553-56-2", &[H312, H332, H400]),
    // The first adaptation of the Regulation removed EUH032 from these entries. EUH032 stays in this table, because
    // the entry of other thiocyanates has it.
    says("potassium thiocyanate", "333-20-0", &[H302, H312, H332, H412, EUH032]),
    says("sodium thiocyanate", "540-72-7", &[H302, H312, H332, H412, EUH032]),
    says("sodium bisulfite", "7631-90-5", &[H302, EUH031]),
    says("sodium metabisulfite", "7681-57-4", &[H302, H318, EUH031]),
    says("sodium dithionite", "7775-14-6", &[H251, H302, EUH031]),
    // The first adaptation of the Regulation removed EUH031 from this entry. EUH031 stays in this table, because acid
    // frees hydrogen sulfide.
    says("sodium sulfide", "1313-82-2 1313-84-4", &[H302, H311, H314, H400, EUH031]),
    says("potassium polysulfide", "37199-66-9", &[H314, H400, EUH031]),
    says("thiourea", "62-56-6", &[H302, H351, H361d, H411]),
    says("sodium selenite", "10102-18-8 26970-82-1", &[H300, H317, H331, H411, EUH031]).marked(FATAL),
    // The entry for all other compounds of selenium has no CAS number.
    says("selenium compound", "", &[H301, H331, H373, H410]),
    // This entry is in force since 2026-05-01.
    says("benzotriazole", "95-14-7", &[H411]),
    // This entry is in force since 2026-05-01; before, H317 held from 0.2 %.
    says("formaldehyde", "50-00-0", &[H302, H314, H317, H330, H341, H350, EUH071])
        .limits(&[(H314, 25_000), (H315, 5_000), (H319, 5_000), (H335, 5_000)])
        .marked(&[H317, H330])
        .breathed(Route::Gas)
        .ates(&[(Route::Gas, 100_000), (Route::Oral, 500_000)]),
    says("hexamine", "100-97-0", &[H228, H317]),
    says("glutaraldehyde", "111-30-8", &[H301, H314, H317, H330, H334, H335, H400, H411, EUH071])
        .limits(&[(H335, 500)])
        .marked(&[H317, H330])
        .breathed(Route::Vapour),
    says("copper sulfate", "7758-99-8", &[H302, H318, H410]).m(10, 1).ates(&[(Route::Oral, 481_000)]),
    says("mercuric chloride", "7487-94-7", &[H300, H314, H341, H361f, H372, H410]).marked(FATAL),
    // The Regulation's entry has no M factor; suppliers use 1000 (no source looked up).
    says("silver nitrate", "7761-88-8", &[H272, H314, H410]).m(1000, 1000),
    says("iron(II) sulfate", "7720-78-7 7782-63-0", &[H302, H315, H319]),
    says("EDTA", "60-00-4", &[H319]),
    says("tetrasodium EDTA", "64-02-8 10378-23-1 13235-36-4", &[H302, H318]),
    says("ammonium chloride", "12125-02-9", &[H302, H319]),
    says("ethylene glycol", "107-21-1", &[H302]),
    says("diethylene glycol", "111-46-6", &[H302]),
    says("isopropanol", "67-63-0", &[H225, H319, H336]).breathed(Route::Vapour),
    says("methanol", "67-56-1", &[H225, H301, H311, H331, H370])
        .limits(&[(H370, 10_000), (H371, 3_000)])
        .breathed(Route::Vapour),
    says("ethanol", "64-17-5", &[H225]).breathed(Route::Vapour),
    says("acetone", "67-64-1", &[H225, H319, H336, EUH066]).breathed(Route::Vapour),
    says("benzyl alcohol", "100-51-6", &[H302, H317, H319]).ates(&[(Route::Oral, 1_200_000)]),
];
