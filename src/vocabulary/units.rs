//! Units: each in base units, other spellings, and the words that mean several units, which are errors.

/// What a unit measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dimension {
    /// in milliseconds
    Time,
    /// a word of keeping: the factor is unused
    Keeping,
    /// by name: the factor is unused
    Temperature,
    /// in femtolitres
    Volume,
    /// in picograms
    Mass,
    /// mass a litre, in picograms
    MassPerLitre,
    /// volume a litre, in femtolitres
    VolumePerLitre,
    /// volume a minute, in femtolitres
    Flow,
    /// turns a minute
    Turning,
}

/// A unit as recipes write it.
#[derive(Debug)]
pub struct Unit {
    /// Its spelling.
    pub word: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// Its exact size in base units.
    pub factor: i64,
}

use Dimension::{Flow, Keeping, Mass, MassPerLitre, Temperature, Time, Turning, Volume, VolumePerLitre};

const fn row(word: &'static str, dimension: Dimension, factor: i64) -> Unit {
    Unit { word, dimension, factor }
}

/// Exact by definition: NIST Handbook 44 appendix C, NIST SP 811 appendix B.8.
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
    row("g/l", MassPerLitre, 1_000_000_000_000),
    row("ml/l", VolumePerLitre, 1_000_000_000_000),
    row("l/min", Flow, 1_000_000_000_000_000),
    row("rpm", Turning, 1),
];

/// Other spellings that are accepted; `tidy` writes the unit.
const ACCEPTED: &[(&str, &str)] =
    &[("°C", "C"), ("°F", "F"), ("day", "days"), ("week", "weeks"), ("month", "months"), ("year", "years")];

/// Other spellings that can mean only one unit.
#[rustfmt::skip]
const SPELLINGS: &[(&str, &str)] = &[
    ("celcius", "C"), ("Celcius", "C"), ("degC", "C"), ("degF", "F"), ("c", "C"), ("f", "F"),
    ("Celsius", "C"), ("celsius", "C"), ("Fahrenheit", "F"), ("fahrenheit", "F"),
    ("°c", "C"), ("°f", "F"), ("ºC", "C"), ("ºF", "F"), ("˚C", "C"), ("˚F", "F"), ("℃", "C"), ("℉", "F"),
    ("sec", "s"), ("secs", "s"), ("second", "s"), ("seconds", "s"), ("S", "s"),
    ("mins", "min"), ("minute", "min"), ("minutes", "min"), ("Min", "min"), ("m", "min"),
    ("hr", "h"), ("hrs", "h"), ("hour", "h"), ("hours", "h"), ("H", "h"),
    ("d", "days"),
    ("mL", "ml"), ("ML", "ml"), ("cc", "ml"), ("ccm", "ml"), ("millilitre", "ml"), ("millilitres", "ml"),
    ("milliliter", "ml"), ("milliliters", "ml"),
    ("L", "l"), ("litre", "l"), ("litres", "l"), ("liter", "l"), ("liters", "l"), ("lt", "l"), ("ltr", "l"),
    ("gram", "g"), ("grams", "g"), ("gramme", "g"), ("grammes", "g"), ("gm", "g"), ("gms", "g"),
    ("KG", "kg"), ("Kg", "kg"), ("milligram", "mg"), ("milligrams", "mg"),
    ("lbs", "lb"), ("pound", "lb"), ("pounds", "lb"), ("grains", "grain"),
    ("g/L", "g/l"), ("mL/L", "ml/l"), ("ml/L", "ml/l"), ("L/min", "l/min"), ("lpm", "l/min"), ("RPM", "rpm"),
];

/// A word that means several units.
#[derive(Debug)]
pub struct Ambiguous {
    /// The word.
    pub word: &'static str,
    /// Each unit to write, with its explanation.
    pub readings: &'static [(&'static str, &'static str)],
}

const AV_OZ: (&str, &str) = ("av-oz", "a weight of 28.35 g");
const US_FL_OZ: (&str, &str) = ("us-fl-oz", "a volume of 29.57 ml, US");
const IMP_FL_OZ: (&str, &str) = ("imp-fl-oz", "a volume of 28.41 ml, imperial");
const OUNCES: &[(&str, &str)] = &[AV_OZ, US_FL_OZ, IMP_FL_OZ];
const FLUID_OUNCES: &[(&str, &str)] = &[US_FL_OZ, IMP_FL_OZ];
const PINTS: &[(&str, &str)] = &[("us-pt", "473 ml, US"), ("imp-pt", "568 ml, imperial")];
const QUARTS: &[(&str, &str)] = &[("us-qt", "946 ml, US"), ("imp-qt", "1137 ml, imperial")];
const GALLONS: &[(&str, &str)] = &[("us-gal", "3.785 l, US"), ("imp-gal", "4.546 l, imperial")];
const GRAMS_OR_GALLONS: &[(&str, &str)] =
    &[("g", "a gram"), ("us-gal", "3.785 l, US"), ("imp-gal", "4.546 l, imperial")];
const GRAINS: &[(&str, &str)] = &[("grain", "64.8 mg"), ("g", "a gram")];

const DEGREES: &[(&str, &str)] = &[("C", "degrees Celsius"), ("F", "degrees Fahrenheit")];

const fn many(word: &'static str, readings: &'static [(&'static str, &'static str)]) -> Ambiguous {
    Ambiguous { word, readings }
}

const AMBIGUOUS: &[Ambiguous] = &[
    many("oz", OUNCES),
    many("ounce", OUNCES),
    many("ounces", OUNCES),
    many("fl-oz", FLUID_OUNCES),
    many("floz", FLUID_OUNCES),
    many("pt", PINTS),
    many("pint", PINTS),
    many("pints", PINTS),
    many("qt", QUARTS),
    many("quart", QUARTS),
    many("quarts", QUARTS),
    many("gal", GALLONS),
    many("gallon", GALLONS),
    many("gallons", GALLONS),
    many("fl", FLUID_OUNCES),
    many("G", GRAMS_OR_GALLONS),
    many("gr", GRAINS),
    many("°", DEGREES),
    many("deg", DEGREES),
    many("degrees", DEGREES),
];

/// All units, in the order of the reference.
#[must_use]
pub fn units() -> &'static [Unit] {
    UNITS
}

/// The unit of this spelling, if it is accepted.
#[must_use]
pub fn unit(word: &str) -> Option<&'static Unit> {
    let spelled = |word: &str| UNITS.iter().find(|unit| unit.word == word);
    let accepted = || ACCEPTED.iter().find(|(spelling, _)| *spelling == word);
    spelled(word).or_else(|| accepted().and_then(|(_, right)| spelled(right)))
}

/// The unit that another spelling means, which a recipe must not use.
#[must_use]
pub fn respelled(word: &str) -> Option<&'static Unit> {
    SPELLINGS.iter().find(|(spelling, _)| *spelling == word).and_then(|(_, right)| unit(right))
}

/// The readings of a word that means several units.
#[must_use]
pub fn ambiguous(word: &str) -> Option<&'static Ambiguous> {
    AMBIGUOUS.iter().find(|row| row.word == word)
}

/// All words that mean several units, in the order of the reference.
#[must_use]
pub fn ambiguities() -> &'static [Ambiguous] {
    AMBIGUOUS
}
