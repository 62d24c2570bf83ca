//! The units with their sizes and spellings, and the words that are errors because they can mean several units.

use super::kind::Kind::{self, Flow, Keeping, Mass, Strength, Temperature, Time, Turning, Volume};

/// A unit as recipes write it.
#[derive(Debug)]
pub struct Unit {
    /// The standard spelling of the unit in recipes.
    pub word: &'static str,
    /// The kind of values that have this unit.
    pub kind: Kind,
    /// The exact size of the unit in the base unit of its kind: milliseconds, femtolitres, picograms or turns. For a
    /// rate, the base unit is per litre or per minute. Unused for keeping times and temperatures.
    pub factor: i64,
}

const fn row(word: &'static str, kind: Kind, factor: i64) -> Unit {
    Unit { word, kind, factor }
}

/// All units. Their sizes are exact by definition: NIST Handbook 44 appendix C, NIST SP 811 appendix B.8.
const UNITS: &[Unit] = &[
    row("s", Time, 1_000),
    row("min", Time, 60_000),
    row("h", Time, 3_600_000),
    row("days", Keeping, 1),
    row("weeks", Keeping, 1),
    row("months", Keeping, 1),
    row("years", Keeping, 1),
    row("C", Temperature, 1),
    row("F", Temperature, 1),
    row("ml", Volume, 1_000_000_000_000),
    row("l", Volume, 1_000_000_000_000_000),
    row("us-fl-oz", Volume, 29_573_529_562_500),
    row("us-pt", Volume, 473_176_473_000_000),
    row("us-qt", Volume, 946_352_946_000_000),
    row("us-gal", Volume, 3_785_411_784_000_000),
    row("imp-fl-oz", Volume, 28_413_062_500_000),
    row("imp-pt", Volume, 568_261_250_000_000),
    row("imp-qt", Volume, 1_136_522_500_000_000),
    row("imp-gal", Volume, 4_546_090_000_000_000),
    row("mg", Mass, 1_000_000_000),
    row("g", Mass, 1_000_000_000_000),
    row("kg", Mass, 1_000_000_000_000_000),
    row("av-oz", Mass, 28_349_523_125_000),
    row("grain", Mass, 64_798_910_000),
    row("lb", Mass, 453_592_370_000_000),
    row("g/l", Strength, 1_000_000_000_000),
    row("ml/l", Strength, 1_000_000_000_000),
    row("l/min", Flow, 1_000_000_000_000_000),
    row("us-gal/min", Flow, 3_785_411_784_000_000),
    row("imp-gal/min", Flow, 4_546_090_000_000_000),
    row("rpm", Turning, 1),
];

/// Units that edition 1 of the language lacks.
pub const NEWER_UNITS: &[&str] = &["us-gal/min", "imp-gal/min"];

/// For each unit, its other spellings that a recipe may use. `wetside tidy` replaces them by the standard spelling.
const ACCEPTED: &[(&str, &[&str])] = &[
    ("C", &["°C"]),
    ("F", &["°F"]),
    ("days", &["day"]),
    ("weeks", &["week"]),
    ("months", &["month"]),
    ("years", &["year"]),
];

/// For each unit, spellings that are errors in a recipe although they can mean only this unit.
const SPELLINGS: &[(&str, &[&str])] = &[
    ("C", &["c", "Celsius", "celsius", "Celcius", "celcius", "degC", "°c", "ºC", "˚C", "℃"]),
    ("F", &["f", "Fahrenheit", "fahrenheit", "degF", "°f", "ºF", "˚F", "℉"]),
    ("s", &["S", "sec", "secs", "second", "seconds"]),
    ("min", &["m", "Min", "mins", "minute", "minutes"]),
    ("h", &["H", "hr", "hrs", "hour", "hours"]),
    ("days", &["d"]),
    ("ml", &["mL", "ML", "cc", "ccm", "millilitre", "millilitres", "milliliter", "milliliters"]),
    ("l", &["L", "litre", "litres", "liter", "liters", "lt", "ltr"]),
    ("g", &["gram", "grams", "gramme", "grammes", "gm", "gms"]),
    ("kg", &["KG", "Kg"]),
    ("mg", &["milligram", "milligrams"]),
    ("lb", &["lbs", "pound", "pounds"]),
    ("grain", &["grains"]),
    ("g/l", &["g/L"]),
    ("ml/l", &["mL/L", "ml/L"]),
    ("l/min", &["L/min", "lpm"]),
    ("rpm", &["RPM"]),
];

/// The units that an ambiguous word such as `oz` can mean, each with its explanation.
pub type Readings = &'static [(&'static str, &'static str)];

const US_FL_OZ: (&str, &str) = ("us-fl-oz", "a volume of 29.57 ml, US");
const IMP_FL_OZ: (&str, &str) = ("imp-fl-oz", "a volume of 28.41 ml, imperial");
const US_GAL: (&str, &str) = ("us-gal", "3.785 l, US");
const IMP_GAL: (&str, &str) = ("imp-gal", "4.546 l, imperial");

const AMBIGUOUS: &[(&[&str], Readings)] = &[
    (&["oz", "ounce", "ounces"], &[("av-oz", "a weight of 28.35 g"), US_FL_OZ, IMP_FL_OZ]),
    (&["fl-oz", "floz", "fl"], &[US_FL_OZ, IMP_FL_OZ]),
    (&["pt", "pint", "pints"], &[("us-pt", "473 ml, US"), ("imp-pt", "568 ml, imperial")]),
    (&["qt", "quart", "quarts"], &[("us-qt", "946 ml, US"), ("imp-qt", "1137 ml, imperial")]),
    (&["gal", "gallon", "gallons"], &[US_GAL, IMP_GAL]),
    (&["G"], &[("g", "a gram"), US_GAL, IMP_GAL]),
    (&["gr"], &[("grain", "64.8 mg"), ("g", "a gram")]),
    (&["°", "deg", "degrees"], &[("C", "degrees Celsius"), ("F", "degrees Fahrenheit")]),
];

/// All units, in the order of the reference.
pub fn units() -> &'static [Unit] {
    UNITS
}

/// The unit with this spelling; `None` if a recipe may not use the spelling.
pub fn unit(word: &str) -> Option<&'static Unit> {
    UNITS.iter().find(|unit| unit.word == word).or_else(|| spelled(ACCEPTED, word))
}

/// The only unit that a word can mean whose spelling is an error in a recipe; `None` for other words.
pub fn respelled(word: &str) -> Option<&'static Unit> {
    spelled(SPELLINGS, word)
}

fn spelled(spellings: &[(&str, &[&str])], word: &str) -> Option<&'static Unit> {
    let (right, _) = spellings.iter().find(|(_, words)| words.contains(&word))?;
    UNITS.iter().find(|unit| unit.word == *right)
}

/// The units that an ambiguous word such as `oz` can mean; `None` if the word is not ambiguous.
pub fn ambiguous(word: &str) -> Option<Readings> {
    ambiguities().find(|(own, _)| *own == word).map(|(_, readings)| readings)
}

/// All ambiguous words with their units, in the order of the reference.
pub fn ambiguities() -> impl Iterator<Item = (&'static str, Readings)> {
    AMBIGUOUS.iter().flat_map(|(words, readings)| words.iter().map(|word| (*word, *readings)))
}
