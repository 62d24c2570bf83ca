//! The area of a roll: 80 square inches (R12).

use wetside::model::Format;

use super::{CUSTOM, Published, assert_published};

const EXACT: &str = "the sheet's own inches; an inch is 2.54 cm: NIST SP 811";
const ROLLS: &str = "two independent notes of photo-chemists on film area";
const STANDARDS: &str = "ISO 1007 and ISO 732 lengths as others quote them, by hand";

/// The film of a format in square inches.
fn square_inches(word: &str) -> f64 {
    f64::from(Format::parse(word).unwrap().twelfths()) * 80.0 / 12.0
}

#[test]
fn the_area_of_each_format_is_the_published_one() {
    let row = |given, expected, within, source| Published { what: "in²", given, expected, within, source };
    let rows = [
        row("8x10in", 80.0, 1e-9, EXACT),
        row("4x5in", 20.0, 1e-9, EXACT),
        row("120", 80.0, 1e-9, ROLLS),
        row("135", 80.0, 1e-9, ROLLS),
        row("220", 160.0, 1e-9, ROLLS),
        row("135-24", 53.33, 0.005, "24 of 36 exposures; common practice, no source"),
        // The real area of a 135 with 36 exposures is a tenth more than 80 square inches, and of a 120 a little less.
        row("135", 86.8, 8.7, STANDARDS),
        row("120", 78.7, 2.0, STANDARDS),
    ];
    assert_published(&rows, square_inches);
}

#[test]
fn a_roll_in_square_centimetres_is_the_published_one() {
    let row = |given, expected, within, source| Published { what: "cm²", given, expected, within, source };
    let rows = [
        row("8x10in", 516.128, 0.000_5, EXACT),
        row("4x5in", 129.032, 0.000_5, EXACT),
        row("120", 516.0, 0.5, ROLLS),
    ];
    assert_published(&rows, |given| square_inches(given) * 6.4516);
}

#[test]
fn formats_have_simple_proportions() {
    let film = |word: &str| Format::parse(word).unwrap().twelfths();
    assert_eq!(film("220"), 2 * film("120"), "{ROLLS}");
    assert_eq!(film("8x10in"), 4 * film("4x5in"), "{EXACT}");
    assert_eq!(36 * film("135-24"), 24 * film("135"), "{CUSTOM}");
}
