//! Published formulas in ounces and grains, compared with their published grams per litre. The other column of an
//! American formula is for a quart, of a British one for 80 imperial ounces.

use super::units::{grams, millilitres};
use super::{Misprint, Published, assert_published, not_misled};

const HANDICRAFT: &str = "MQ carbonate developer: published formula, generic; from memory";
const BORIC: &str = "acid hardening fixer with boric acid: published formula, generic; from memory";
const PLATES: &str = "an MQ formula in imperial ounces beside grams, for 80 ounces";
const JONES: &str = "Jones (ed.), Cassell's Cyclopaedia of Photography, 1911, for 20 ounces";

const fn row(
    what: &'static str,
    given: &'static str,
    expected: f64,
    within: f64,
    source: &'static str,
) -> Published {
    Published { what, given, expected, within, source }
}

fn in_a_litre_of(given: &str, whole: &str) -> f64 {
    grams(given) / millilitres(whole) * 1000.0
}

#[test]
fn a_formula_for_a_quart_gives_the_published_grams_per_litre() {
    let rows = [
        row("metol", "45 grain", 3.1, 0.05, HANDICRAFT),
        row("sodium sulfite, anhydrous", "1 1/2 av-oz", 45.0, 0.1, HANDICRAFT),
        row("hydroquinone", "175 grain", 12.0, 0.05, HANDICRAFT),
        row("sodium carbonate, anhydrous", "2 1/4 av-oz", 67.5, 0.1, HANDICRAFT),
        row("potassium bromide", "27 grain", 1.9, 0.052, HANDICRAFT),
        row("hypo", "8 av-oz", 240.0, 0.5, BORIC),
        row("sodium sulfite, anhydrous", "1/2 av-oz", 15.0, 0.05, BORIC),
        row("boric acid", "1/4 av-oz", 7.5, 0.05, BORIC),
        // To three digits, worked by hand: grams over 0.946353.
        row("metol", "45 grain", 3.081, 0.000_5, "45 × 0.06479891 ÷ 0.946353"),
        row("sodium sulfite", "1 1/2 av-oz", 44.935, 0.000_5, "1.5 × 28.349523 ÷ 0.946353"),
        row("hydroquinone", "175 grain", 11.983, 0.000_5, "175 × 0.06479891 ÷ 0.946353"),
        row("sodium carbonate", "2 1/4 av-oz", 67.402, 0.000_5, "2.25 × 28.349523 ÷ 0.946353"),
        row("potassium bromide", "27 grain", 1.849, 0.000_5, "27 × 0.06479891 ÷ 0.946353"),
        row("hypo", "8 av-oz", 239.65, 0.005, "8 × 28.349523 ÷ 0.946353"),
    ];
    assert_published(&rows, |given| in_a_litre_of(given, "32 us-fl-oz"));
}

#[test]
fn a_formula_for_80_imperial_ounces_gives_the_published_grams_per_litre() {
    // Old published metric columns keep the proportions but are up to 7 % off.
    let rows = [
        row("metol", "200 grain", 6.0, 0.31, PLATES),
        row("sulphite", "6 av-oz", 75.0, 0.2, PLATES),
        row("hydroquinone", "150 grain", 4.0, 0.29, PLATES),
        row("potassium bromide", "50 grain", 1.5, 0.08, PLATES),
        row("potassium carbonate", "2 av-oz", 25.0, 0.1, PLATES),
        row("metol", "200 grain", 5.70, 0.005, "200 × 0.06479891 ÷ 2.27305"),
        row("sulphite", "6 av-oz", 74.83, 0.005, "6 × 28.349523 ÷ 2.27305"),
        row("hydroquinone", "150 grain", 4.28, 0.005, "150 × 0.06479891 ÷ 2.27305"),
        row("potassium bromide", "50 grain", 1.43, 0.005, "50 × 0.06479891 ÷ 2.27305"),
        row("potassium carbonate", "2 av-oz", 24.94, 0.005, "2 × 28.349523 ÷ 2.27305"),
    ];
    assert_published(&rows, |given| in_a_litre_of(given, "80 imp-fl-oz"));
}

#[test]
fn a_formula_for_20_imperial_ounces_gives_the_published_grams_per_litre() {
    let rows = [
        row("metol", "40 grain", 4.6, 0.05, JONES),
        row("sulphite", "120 grain", 14.0, 0.35, JONES),
        row("hydroquinone", "50 grain", 6.0, 0.31, JONES),
        row("potassium bromide", "10 grain", 1.2, 0.07, JONES),
        row("metol, of three solutions", "100 grain", 11.5, 0.11, JONES),
        row("sulphite, of three solutions", "300 grain", 34.5, 0.3, JONES),
        row("citric acid, of three solutions", "25 grain", 3.0, 0.16, JONES),
    ];
    assert_published(&rows, |given| in_a_litre_of(given, "20 imp-fl-oz"));
}

#[test]
fn a_quart_is_not_a_litre() {
    let hasty = Misprint {
        what: "sulfite, had the quart been a litre: 5.4 % too little",
        given: "1 1/2 av-oz",
        right: 44.935,
        printed: 42.524,
        within: 0.001,
        source: HANDICRAFT,
    };
    not_misled(&[hasty], |given| in_a_litre_of(given, "32 us-fl-oz"));
}
