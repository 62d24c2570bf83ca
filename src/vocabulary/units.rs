//! Units: what each is in base units, the other spellings that are certain, and the words that mean
//! two things and are therefore let through by no statement.

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
    /// How it is spelled.
    pub word: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// How many base units it is, exactly.
    pub factor: i64,
}

const fn row(word: &'static str, dimension: Dimension, factor: i64) -> Unit {
    Unit { word, dimension, factor }
}

/// Exact by definition: NIST Handbook 44 appendix C, NIST SP 811 appendix B.8.
const UNITS: &[Unit] = &[
    row("s", Dimension::Time, 1_000),
    row("min", Dimension::Time, 60_000),
    row("h", Dimension::Time, 3_600_000),
    row("days", Dimension::Keeping, 1),
    row("weeks", Dimension::Keeping, 1),
    row("months", Dimension::Keeping, 1),
    row("years", Dimension::Keeping, 1),
    row("C", Dimension::Temperature, 1),
    row("F", Dimension::Temperature, 1),
    row("ml", Dimension::Volume, 1_000_000_000_000),
    row("l", Dimension::Volume, 1_000_000_000_000_000),
    row("us-fl-oz", Dimension::Volume, 29_573_529_562_500),
    row("us-pt", Dimension::Volume, 473_176_473_000_000),
    row("us-qt", Dimension::Volume, 946_352_946_000_000),
    row("us-gal", Dimension::Volume, 3_785_411_784_000_000),
    row("imp-fl-oz", Dimension::Volume, 28_413_062_500_000),
    row("imp-pt", Dimension::Volume, 568_261_250_000_000),
    row("imp-qt", Dimension::Volume, 1_136_522_500_000_000),
    row("imp-gal", Dimension::Volume, 4_546_090_000_000_000),
    row("mg", Dimension::Mass, 1_000_000_000),
    row("g", Dimension::Mass, 1_000_000_000_000),
    row("kg", Dimension::Mass, 1_000_000_000_000_000),
    row("av-oz", Dimension::Mass, 28_349_523_125_000),
    row("grain", Dimension::Mass, 64_798_910_000),
    row("lb", Dimension::Mass, 453_592_370_000_000),
    row("g/l", Dimension::MassPerLitre, 1_000_000_000_000),
    row("ml/l", Dimension::VolumePerLitre, 1_000_000_000_000),
    row("l/min", Dimension::Flow, 1_000_000_000_000_000),
    row("rpm", Dimension::Turning, 1),
];

/// Other spellings that are read without a word, and written as the unit by the tidy form.
const ACCEPTED: &[(&str, &str)] =
    &[("°C", "C"), ("°F", "F"), ("day", "days"), ("week", "weeks"), ("month", "months"), ("year", "years")];

/// Other spellings that can mean only one thing.
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
    /// What it can mean: the unit to write, and in words.
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

const AMBIGUOUS: &[Ambiguous] = &[
    Ambiguous { word: "oz", readings: OUNCES },
    Ambiguous { word: "ounce", readings: OUNCES },
    Ambiguous { word: "ounces", readings: OUNCES },
    Ambiguous { word: "fl-oz", readings: FLUID_OUNCES },
    Ambiguous { word: "floz", readings: FLUID_OUNCES },
    Ambiguous { word: "pt", readings: PINTS },
    Ambiguous { word: "pint", readings: PINTS },
    Ambiguous { word: "pints", readings: PINTS },
    Ambiguous { word: "qt", readings: QUARTS },
    Ambiguous { word: "quart", readings: QUARTS },
    Ambiguous { word: "quarts", readings: QUARTS },
    Ambiguous { word: "gal", readings: GALLONS },
    Ambiguous { word: "gallon", readings: GALLONS },
    Ambiguous { word: "gallons", readings: GALLONS },
    Ambiguous { word: "fl", readings: FLUID_OUNCES },
    Ambiguous { word: "G", readings: GRAMS_OR_GALLONS },
    Ambiguous { word: "gr", readings: GRAINS },
    Ambiguous { word: "°", readings: DEGREES },
    Ambiguous { word: "deg", readings: DEGREES },
    Ambiguous { word: "degrees", readings: DEGREES },
];

/// All units, in the order of the reference.
#[must_use]
pub fn units() -> &'static [Unit] {
    UNITS
}

/// The unit of that spelling, or of one that is read as it.
#[must_use]
pub fn unit(word: &str) -> Option<&'static Unit> {
    let spelled = |word: &str| UNITS.iter().find(|unit| unit.word == word);
    let accepted = || ACCEPTED.iter().find(|(spelling, _)| *spelling == word);
    spelled(word).or_else(|| accepted().and_then(|(_, right)| spelled(right)))
}

/// The unit that another spelling certainly means.
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
