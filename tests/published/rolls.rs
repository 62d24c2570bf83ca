//! What one roll is: 80 square inches of film (R12).

use wetside::model::Format;

use super::{CUSTOM, Published, hold};

const EXACT: &str = "the sheet's own inches; an inch is 2.54 cm: NIST SP 811";
const ROLLS: &str = "two independent notes of photo-chemists on film area";
const STANDARDS: &str = "ISO 1007 and ISO 732 lengths as others quote them, by hand";

/// A format's film in square inches.
fn square_inches(word: &str) -> f64 {
    f64::from(Format::parse(word).unwrap().twelfths()) * 80.0 / 12.0
}

#[test]
fn a_format_is_as_much_film_as_others_count_it() {
    let row = |given, expected, within, source| Published { what: "in²", given, expected, within, source };
    let rows = [
        row("8x10in", 80.0, 1e-9, EXACT),
        row("4x5in", 20.0, 1e-9, EXACT),
        row("120", 80.0, 1e-9, ROLLS),
        row("135", 80.0, 1e-9, ROLLS),
        row("220", 160.0, 1e-9, ROLLS),
        row("135-24", 53.33, 0.005, "24 of 36 exposures; common practice, no source"),
        // By its real size a 135 of 36 is a tenth more than a trade roll, and a 120 a little less.
        row("135", 86.8, 8.7, STANDARDS),
        row("120", 78.7, 2.0, STANDARDS),
    ];
    hold(&rows, square_inches);
}

#[test]
fn a_trade_roll_in_metric_is_as_printed() {
    let row = |given, expected, within, source| Published { what: "cm²", given, expected, within, source };
    let rows = [
        row("8x10in", 516.128, 0.000_5, EXACT),
        row("4x5in", 129.032, 0.000_5, EXACT),
        row("120", 516.0, 0.5, ROLLS),
    ];
    hold(&rows, |given| square_inches(given) * 6.4516);
}

#[test]
fn formats_stand_in_whole_proportions() {
    let film = |word: &str| Format::parse(word).unwrap().twelfths();
    assert_eq!(film("220"), 2 * film("120"), "{ROLLS}");
    assert_eq!(film("8x10in"), 4 * film("4x5in"), "{EXACT}");
    assert_eq!(36 * film("135-24"), 24 * film("135"), "{CUSTOM}");
}
