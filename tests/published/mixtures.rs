//! The classification of mixtures, compared with published examples and with arithmetic by hand from the limits of
//! Annex I and the entries of Annex VI of Regulation (EC) 1272/2008 (CLP). Shares are in thousandths of a percent.

use wetside::chemistry::{
    Class, ENTRIES, Entry, HAZARDS, Hazard, Held, Mixture, Percent, Portion, Route, ingredient, says,
};

/// Worked by hand from the limits of the Regulation.
const BY_HAND: &str = "worked by hand from Regulation (EC) 1272/2008, Annex I, and the entries of Annex VI";

/// A mixture, its statements, the sensitisers named, and the arithmetic or the source.
type Example = (&'static [(&'static str, u32)], &'static str, &'static str, &'static str);

const EXAMPLES: &[Example] = &[
    (&[("acetic acid", 28_000)], "H314", "", "25 <= 28 < 90; no flash point, so not H226"),
    (&[("acetic acid", 10_000)], "H315 H319", "", "at the limit"),
    (&[("acetic acid", 24_900)], "H315 H319", "", "24.9/25 < 1"),
    (&[("acetic acid", 1_300)], "", "", "1.3/10 < 1: a stop of 47 ml of 28 % in a litre"),
    (
        &[("acetic acid", 6_000), ("sulfuric acid", 3_000)],
        "H315 H319",
        "",
        "6/10 + 3/5 = 1.2; 6/25 + 3/15 = 0.44",
    ),
    (&[("citric acid", 40_000)], "H319 H335", "", "40 >= 10, 40 >= 20"),
    (&[("citric acid", 1_500)], "", "", "1.5 < 10"),
    (&[("sodium bisulfate", 3_000)], "H318", "", "3/3 = 1"),
    (&[("sodium hydroxide", 1_000)], "H315 H319", "", "0.5 <= 1 < 2"),
    (&[("sodium hydroxide", 3_000)], "H314", "", "2 <= 3"),
    (&[("sodium hydroxide", 400)], "", "", "0.4 < 0.5"),
    (&[("sodium metabisulfite", 2_500)], "H319 EUH031", "", "1 <= 2.5 < 3; by mouth 500/0.025 = 20,000"),
    (
        &[("metol", 200), ("hydroquinone", 500), ("borax", 200)],
        "EUH208",
        "metol hydroquinone",
        "0.2 < 0.3; waters: 10 x 0.5 = 5 < 25, 100 x 0.2 = 20 < 25",
    ),
    (
        &[("metol", 200), ("hydroquinone", 500), ("borax", 200), ("boric acid", 150)],
        "H360FD EUH208",
        "metol hydroquinone",
        "borates 0.2 + 0.15 = 0.35 >= 0.3",
    ),
    (&[("boric acid", 750), ("acetic acid", 1_300)], "H360FD", "", "0.75 >= 0.3"),
    (
        &[("metol", 310), ("hydroquinone", 1_200), ("sodium carbonate", 6_750)],
        "H317 H319 H341 H351 H412",
        "metol",
        "eyes 1.2/1 + 6.75/10 = 1.9; waters 100 x 0.31 = 31, and 10 x 1.2 = 12 < 25",
    ),
    (
        &[("metol", 103), ("hydroquinone", 400), ("sodium carbonate", 2_250)],
        "EUH208",
        "metol hydroquinone",
        "the same 1+2: hydroquinone under 1 does not count, 2.25/10",
    ),
    (&[("hydroquinone", 3_000)], "H317 H318 H341 H351 H400", "", "3/3; 10 x 3 = 30 >= 25"),
    (&[("catechol", 100)], "H350", "", "category 1B from 0.1"),
    (&[("catechol", 90)], "", "", "0.09 < 0.1"),
    (&[("pyrogallol", 10_000)], "H341", "", "by mouth 500/0.1 = 5000; waters 10 < 25"),
    (
        &[("p-aminophenol", 5_000), ("potassium hydroxide", 8_000)],
        "H314 H341 H411",
        "",
        "8/2 = 4; by mouth 100/(5/500 + 8/500) = 3846; waters 10 x 5 = 50",
    ),
    (
        &[("colour developing agent 4", 500), ("hydroxylamine sulfate", 250)],
        "H412 EUH208",
        "colour hydroxylamine",
        "100 x 0.5 = 50",
    ),
    (
        &[("potassium dichromate", 950), ("sulfuric acid", 2_200)],
        "H340 H350 H360FD H412 EUH208",
        "potassium",
        "mist 0.05/0.0095 = 5.3 > 5; waters 100 x 0.95 = 95",
    ),
    (&[("potassium permanganate", 200)], "", "", "100 x 0.2 = 20 < 25"),
    (&[("potassium permanganate", 5_000)], "H361d H411", "", "5 >= 3; 10 x 5 = 50"),
    (&[("sodium selenite", 2_000)], "H301 H317 EUH031", "", "by mouth 5/0.02 = 250"),
    (&[("sodium selenite", 200)], "EUH208", "sodium", "by mouth 5/0.002 = 2500; 0.2 < 1"),
    (&[("sodium sulfide", 5_000)], "H314 EUH031", "", "5/5; EUH031 of the earlier entry"),
    (&[("sodium sulfide", 1_000)], "H315 H319 EUH031", "", "1/1"),
    (
        &[("formaldehyde", 37_000)],
        "H302 H314 H317 H330 H335 H341 H350 EUH071",
        "",
        "gas 100/0.37 = 270 ppm; by mouth 500/0.37 = 1351",
    ),
    (
        &[("hydrogen peroxide", 35_000)],
        "H302 H315 H318 H335",
        "",
        "by mouth 500/0.35 = 1429; vapour 11/0.35 = 31",
    ),
    (&[("hydrogen peroxide", 9_000)], "H318", "", "8 <= 9"),
    (&[("hydrogen peroxide", 3_000)], "", "", "3 < 5"),
    (&[("sodium hypochlorite", 5_000)], "H314 H400 H411 EUH031", "", "10 x 5 = 50; 10 x 5 = 50"),
    (&[("copper sulfate", 5_000)], "H318 H400 H411", "", "5/3; 50; 50; by mouth 481/0.05 = 9620"),
    (
        &[("mercuric chloride", 2_000)],
        "H301 H315 H319 H341 H373 H412",
        "",
        "by mouth 5/0.02 = 250; 2 is in 1 to 5, 1 to 3 and 1 to 10",
    ),
    (&[("methanol", 5_000)], "H302 H371", "", "by mouth 100/0.05 = 2000, at the limit; 3 <= 5 < 10"),
    (&[("isopropanol", 70_000)], "H319 H336", "", "70 >= 10, 70 >= 20; the flash point is not known"),
    (&[("isopropanol", 10_000), ("surfactant", 5_000)], "H318", "", "5/3; 10 < 20"),
    (&[("silver nitrate", 10_000)], "H314 H410", "", "10/5; M 1000: 10,000"),
    (&[("ammonia", 10_000)], "H314 H335", "", "10/5; 10 >= 5; waters 10 < 25"),
    (&[("potassium thiocyanate", 25_000)], "H302 H412 EUH032", "", "by mouth 500/0.25 = 2000; waters 25"),
    (&[("ethylene glycol", 20_000)], "", "", "by mouth 500/0.2 = 2500"),
];

fn hazard(code: &str) -> &'static Hazard {
    HAZARDS.iter().find(|hazard| hazard.code == code).unwrap()
}

/// Some wetting agents, by their suppliers; not harmonised.
fn entry(name: &str) -> Entry {
    const SURFACTANT: &[&str] = &["H318"];
    if name == "surfactant" {
        return made(SURFACTANT);
    }
    *ENTRIES.iter().find(|entry| entry.name == name).unwrap_or_else(|| panic!("{name}"))
}

/// A substance with these statements and nothing of its own.
fn made(codes: &[&str]) -> Entry {
    let hazards: Vec<&'static Hazard> = codes.iter().map(|code| hazard(code)).collect();
    says("made", "", hazards.leak())
}

fn mixture(parts: &[(Entry, u32)]) -> Mixture {
    let portions =
        parts.iter().map(|(entry, share)| Portion::new(entry.name, *entry, Percent::thousandths(*share)));
    Mixture { portions: portions.collect(), ..Mixture::default() }
}

fn codes(class: &Class) -> Vec<&'static str> {
    let mut codes: Vec<&str> = class.hazards.iter().map(|hazard| hazard.code).collect();
    codes.sort_by_key(|code| (code.starts_with('E'), *code));
    codes
}

#[test]
fn mixtures_have_the_statements_worked_out_by_hand() {
    for (parts, expected, named, why) in EXAMPLES {
        let parts: Vec<(Entry, u32)> = parts.iter().map(|(name, share)| (entry(name), *share)).collect();
        let class = mixture(&parts).class();
        let expected: Vec<&str> = expected.split_whitespace().collect();
        assert_eq!(codes(&class), expected, "{why}: {BY_HAND}");
        let first = class.named.iter().map(|name| name.split(' ').next().unwrap());
        assert_eq!(first.collect::<Vec<_>>(), named.split_whitespace().collect::<Vec<_>>(), "{why}");
    }
}

/// An acute toxicity estimate by mouth, in mg/kg, or by vapour, in hundredths of mg/l.
fn estimate(estimates: &'static [(Route, u32)]) -> Entry {
    made(&[]).ates(estimates)
}

const UN: &str = "ST/SG/AC.10/C.4/2008/23, annex 2";

#[test]
fn acute_toxicity_is_that_of_published_examples() {
    let one = mixture(&[(estimate(&[(Route::Oral, 1_737_000)]), 4_000)]);
    assert_eq!(codes(&one.class()), [""; 0], "100/(4/1737) = 43,425: {UN}, example 3.1 (c)");
    let three = mixture(&[
        (estimate(&[(Route::Oral, 2_737_000)]), 26_000),
        (estimate(&[(Route::Oral, 4_500_000)]), 23_000),
        (estimate(&[(Route::Oral, 400_000)]), 40_000),
    ]);
    assert_eq!(codes(&three.class()), ["H302"], "873: {UN}, example 3.1 (d)");
    let mut vapour = mixture(&[
        (estimate(&[(Route::Vapour, 11_000)]), 26_000),
        (estimate(&[(Route::Vapour, 19_000)]), 23_000),
        (estimate(&[(Route::Vapour, 4_000)]), 40_000),
    ]);
    vapour.unknown = Percent::thousandths(11_000);
    let class = vapour.class();
    assert_eq!(
        codes(&class),
        ["H331"],
        "(100 - 11)/(26/11 + 23/19 + 40/4) = 6.6 mg/l: {UN}, the same example"
    );
    assert_eq!(class.unknown, Some(Percent::thousandths(11_000)));
    // Of 10 % the sum is still of 100, and nothing is said (3.1.3.6.2.3).
    vapour.unknown = Percent::thousandths(10_000);
    assert_eq!(vapour.class().unknown, None);
}

#[test]
fn an_extreme_ph_is_not_added_but_counts_alone() {
    let mut acid = mixture(&[(made(&["H314"]), 4_000), (made(&["H315"]), 5_000)]);
    assert_eq!(codes(&acid.class()), ["H315", "H318"], "added: 4/5 < 1, 4/1 + 5/10, and 4/3 for the eye");
    acid.portions[0].ph = Some(1_800);
    acid.ph = Some(4_000);
    assert_eq!(codes(&acid.class()), ["H314"], "{UN}, the example of 3.2.3.3.4");
    acid.portions[0].share = Percent::thousandths(999);
    assert!(!codes(&acid.class()).contains(&"H314"), "less than 1 %");
    // A bath's own pH: 3.2.3.1.2, at both ends.
    for (ph, burns) in [(2_000, true), (2_001, false), (11_499, false), (11_500, true), (13_000, true)] {
        let bath = Mixture { ph: Some(ph), ..mixture(&[(entry("sodium hydroxide"), 400)]) };
        assert_eq!(codes(&bath.class()) == ["H314"], burns, "{ph}: 3.2.3.1.2");
    }
    for share in [400, 1_000, 3_000] {
        let bath = Mixture { ph: Some(13_000), ..mixture(&[(entry("sodium hydroxide"), share)]) };
        assert_eq!(codes(&bath.class()), ["H314"], "{share}: 3.2.3.1.2, in place of H315 and H319 at 1 %");
    }
    let bleach = [(entry("potassium dichromate"), 950), (entry("sulfuric acid"), 2_200)];
    let bleach = Mixture { ph: Some(2_000), ..mixture(&bleach) };
    let expected = ["H314", "H340", "H350", "H360FD", "H412", "EUH208"];
    assert_eq!(codes(&bleach.class()), expected, "3.2.3.1.2 besides what 0.95 % of dichromate has");
    let bleach = Mixture { ph: Some(1_300), ..mixture(&[(entry("sodium bisulfate"), 3_000)]) };
    assert_eq!(codes(&bleach.class()), ["H314"], "3.2.3.1.2; without the pH it is H318");
}

#[test]
fn harm_to_waters_is_that_of_published_examples() {
    let parts = [(made(&["H410"]).m(1, 10), 10), (made(&["H411"]), 1_000), (made(&["H413"]), 25_000)];
    assert_eq!(codes(&mixture(&parts).class()), ["H413"], "0.1; 2; 20; then 26.01: {UN}, example 4.1 (a)");
    let silver = entry("silver nitrate").m(1, 1);
    assert_eq!(codes(&mixture(&[(silver, 10_000)]).class()), ["H314", "H411"], "10 x 10 = 100: {BY_HAND}");
}

#[test]
fn an_irritant_counts_from_one_percent_on() {
    let source = "European Chemicals Agency, Mixture classification exercises, 2012: Table 3.2.3";
    for share in [800, 1_800, 9_999] {
        assert_eq!(codes(&mixture(&[(made(&["H315"]), share)]).class()), [""; 0], "{source}");
    }
    let two = mixture(&[(made(&["H315"]), 9_000), (made(&["H315"]), 999)]);
    assert_eq!(codes(&two.class()), [""; 0], "0.999 does not count: {source}");
    assert_eq!(codes(&mixture(&[(made(&["H315"]), 10_000)]).class()), ["H315"], "{source}");
}

#[test]
fn sensitisers_of_sub_category_1a_count_from_a_tenth_of_the_share() {
    // Tables 3.4.5 and 3.4.6.
    let at = |share| mixture(&[(entry("formaldehyde"), share)]).class();
    assert!(codes(&at(100)).contains(&"H317"));
    assert_eq!(codes(&at(99)), ["EUH208"]);
    assert_eq!(at(10).named, ["formaldehyde"]);
    assert_eq!(at(9).named, [""; 0]);
}

#[test]
fn what_burns_is_named_and_never_classified() {
    let class = mixture(&[(entry("isopropanol"), 70_000)]).class();
    assert_eq!(class.burning, ["isopropanol"]);
    assert!(!codes(&class).contains(&"H225"), "by its flash point only: SOR/2015-17, part 7.6");
    assert_eq!(mixture(&[(entry("isopropanol"), 4_999)]).class().burning, [""; 0]);
    let wetting = mixture(&[(entry("isopropanol"), 10_000), (entry("surfactant"), 5_000)]).class();
    assert_eq!(
        (codes(&wetting), wetting.burning),
        (vec!["H318"], vec!["isopropanol".into()]),
        "5/3; H336 10 < 20"
    );
    let oxidiser = mixture(&[(entry("potassium permanganate"), 50_000)]).class();
    assert!(!codes(&oxidiser).contains(&"H272"), "dissolved it is no oxidising solid");
    // The entry of hydrogen peroxide has limits of its own for it.
    let peroxide = |share| codes(&mixture(&[(entry("hydrogen peroxide"), share)]).class());
    assert!(peroxide(50_000).contains(&"H272") && !peroxide(49_999).contains(&"H272"));
    assert!(peroxide(70_000).contains(&"H271") && !peroxide(70_000).contains(&"H272"));
}

/// An ingredient that is weighed or poured at a strength is a mixture with water. H290 and H226 are of the substance: they
/// are found by tests, not by a sum; the least strengths are from memory and of a database of the United States.
#[test]
fn an_ingredient_at_a_strength_has_the_statements_of_its_mixture() {
    for (name, strength, expected, why) in [
        ("acetic-acid", 9_900, "H226 H314", "90 <= 99; flammable from 80"),
        ("acetic-acid", 8_000, "H226 H314", "25 <= 80; flammable from 80"),
        ("acetic-acid", 7_999, "H314", "25 <= 79.99 < 80"),
        ("acetic-acid", 2_800, "H314", "25 <= 28"),
        ("acetic-acid", 2_499, "H315 H319", "10 <= 24.99 < 25"),
        ("acetic-acid", 999, "", "9.99 < 10"),
        ("sulfuric-acid", 9_600, "H290 H314", "15 <= 96"),
        ("sulfuric-acid", 1_499, "H290 H315 H319", "5 <= 14.99 < 15"),
        ("sulfuric-acid", 499, "H290", "4.99 < 5, corrosive to metals from 1"),
        ("sulfuric-acid", 99, "", "0.99 < 1"),
        ("hydrochloric-acid", 3_700, "H290 H314 H335", "25 <= 37; 10 <= 37"),
        ("hydrochloric-acid", 1_000, "H290 H315 H319 H335", "at the limit of 10"),
        ("ammonia", 1_000, "H314 H335", "10/5; 5 <= 10; waters 10 < 25"),
        ("ammonia", 2_500, "H314 H335 H400", "waters 25"),
        ("ammonia", 400, "H315 H318", "4 < 5; eyes 4/3"),
        ("sodium-hypochlorite", 500, "H314 H400 H411 EUH031", "10 x 5 = 50; 10 x 5 = 50"),
        ("sodium-hypochlorite", 400, "H315 H318 H400 H411", "4 < 5: no EUH031; waters 40; eyes 4/3"),
        ("hydrogen-peroxide", 3_500, "H302 H315 H318 H335", "by mouth 500/0.35 = 1429"),
        ("hydrogen-peroxide", 2_400, "H318", "by mouth 500/0.24 = 2083"),
        ("formaldehyde", 3_700, "H302 H314 H317 H330 H335 H341 H350 EUH071", "gas 100/0.37 = 270 ppm"),
        (
            "formaldehyde",
            5,
            "",
            "0.05 < 0.1: only named, which is not a statement of the bottle weighed from",
        ),
        ("isopropyl-alcohol", 7_000, "H225 H319 H336", "no limits of its own: as at its strongest"),
    ] {
        let held = Held { ingredient: ingredient(name).unwrap(), strength: Some(strength) };
        let mut codes: Vec<&str> = held.hazards().iter().map(|hazard| hazard.code).collect();
        codes.sort_by_key(|code| (code.starts_with('E'), *code));
        assert_eq!(codes.join(" "), expected, "{name} {strength}: {why}");
    }
}

#[test]
fn a_statement_from_memory_is_one_that_no_other_ingredient_causes() {
    let mut two = mixture(&[(entry("sodium bisulfate"), 2_000), (made(&["H318"]), 2_000)]);
    two.portions[1].from_memory = true;
    let class = two.class();
    assert_eq!(codes(&class), ["H318"]);
    assert_eq!(class.from_memory, [hazard("H318")], "2/3 alone, 4/3 together");
    two.portions[0].share = Percent::thousandths(3_000);
    assert!(two.class().from_memory.is_empty());
}

#[test]
fn a_dilution_is_exact_at_the_limits() {
    // 30 % in 1+2 is 10 %, at the limit.
    let third = Percent::thousandths(30_000).diluted(1, 3);
    assert_eq!(third, Percent::thousandths(10_000));
    // 29.999 % is not.
    let less = Portion::new("acetic acid", entry("acetic acid"), Percent::thousandths(29_999).diluted(1, 3));
    let less = Mixture { portions: vec![less], ..Mixture::default() };
    assert_eq!(codes(&less.class()), [""; 0]);
}
