//! The area of a roll: 80 square inches (R12).

use wetside::model::Format;

use super::{CUSTOM, Published, assert_published};

const EXACT: &str = "the sheet's own inches; an inch is 2.54 cm: NIST SP 811";
const METRIC: &str = "the sheet's own centimetres, multiplied by hand";
const ROLLS: &str = "two independent notes of photo-chemists on film area";
const CINE: &str =
    "American Standard Z22.5-1947, as printed in 16-mm Sound Motion Pictures, a manual of 1949, page 106";
const RADIOGRAPHY: &str =
    "US Department of Defense, Nondestructive Inspection Methods, T.O. 33B-1-1, page 6-83";
const TRAYS: &str = "Studio Light, a trade magazine, 1916: trays by their area";
const RADIOGRAPHS: &str = "sizes of ISO 4090, as others list them, multiplied by hand";
const STANDARDS: &str = "ISO 1007 and ISO 732 lengths as others quote them, by hand";

/// The film of a format in square inches.
fn square_inches(word: &str) -> f64 {
    let thousandths = i128::from(Format::parse(word).unwrap().area()) * 80_000_000 / i128::from(Format::ROLL);
    f64::from(i32::try_from(thousandths).unwrap()) / 1e6
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
        row("3.25x4.25in", 13.8125, 2e-6, EXACT),
        // 16 mm are 0.629921 in, and 50 ft are 600 in: 377.95 square inches, which are 4.7244 rolls of 80.
        row("16mmx50ft", 377.952_756, 2e-6, EXACT),
        row("16mmx30ft", 226.771_654, 2e-6, EXACT),
        // The standard cuts 16 mm film 0.629 in wide, within 0.001 in: x 600 in.
        row("16mmx50ft", 377.4, 0.6, CINE),
        row("11x14in", 154.0, 1e-9, TRAYS),
        row("14x17in", 238.0, 1e-9, TRAYS),
        row("135-12", 26.666_667, 2e-6, "12 of 36 exposures; common practice, no source"),
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
        row("9x12cm", 108.0, 1e-5, METRIC),
        row("24x30cm", 720.0, 1e-5, METRIC),
        row("35x43cm", 1505.0, 1e-5, METRIC),
        row("240x300mm", 720.0, 1e-5, METRIC),
        row("13x18cm", 234.0, 1e-5, RADIOGRAPHS),
        row("18x24cm", 432.0, 1e-5, RADIOGRAPHS),
        row("24x30cm", 720.0, 1e-5, RADIOGRAPHS),
        row("30x40cm", 1200.0, 1e-5, RADIOGRAPHS),
        row("35x35cm", 1225.0, 1e-5, RADIOGRAPHS),
        row("35x43cm", 1505.0, 1e-5, RADIOGRAPHS),
        row("120", 516.0, 0.5, ROLLS),
    ];
    assert_published(&rows, |given| square_inches(given) * 6.4516);
}

#[test]
fn formats_have_simple_proportions() {
    let film = |word: &str| Format::parse(word).unwrap().area();
    assert_eq!(film("220"), 2 * film("120"), "{ROLLS}");
    assert_eq!(film("8x10in"), 4 * film("4x5in"), "{EXACT}");
    assert_eq!(36 * film("135-24"), 24 * film("135"), "{CUSTOM}");
}

#[test]
fn a_print_of_24_by_30_cm_is_a_roll_and_four_tenths() {
    // 720 cm² / 516.128 cm² = 1.39500, so a litre that treats 40 rolls treats 28 of these prints: 40 / 1.395 = 28.67.
    let print = Format::parse("24x30cm").unwrap().area();
    assert_eq!(print * 1000 / Format::ROLL, 1395, "{EXACT}");
    assert_eq!(40 * Format::ROLL / print, 28);
}

#[test]
fn a_format_is_the_same_turned_or_in_another_unit_and_a_shorter_strip_fits_its_spiral() {
    let format = |word: &str| Format::parse(word).unwrap();
    assert_eq!(format("9x12cm"), format("12x9cm"));
    assert_eq!(format("9x12cm"), format("90x120mm"));
    assert_ne!(format("9x12cm"), format("9x12in"));
    assert!(format("16mmx50ft").takes_strip(format("16mmx30ft")));
    assert!(!format("16mmx50ft").takes_strip(format("16mmx100ft")));
    assert!(!format("16mmx50ft").takes_strip(format("8mmx30ft")));
    assert!(!format("8x10in").takes_strip(format("4x10in")));
}

#[test]
fn a_format_is_written_as_it_was_read() {
    for word in
        ["120", "220", "135", "135-24", "135-12", "4x5in", "9x12cm", "3.25x4in", "16mmx50ft", "10x8in"]
    {
        assert_eq!(Format::parse(word).unwrap().to_string(), word);
    }
    assert_eq!(Format::parse("135-36").unwrap().to_string(), "135");
    for word in [
        "9x12",
        "x12cm",
        "9xcm",
        "9x12yd",
        "0x12cm",
        "135-0",
        "135-024",
        "1e3x2cm",
        "9x12cmx3",
        "4000x5000mm",
        "9.x4in",
        "9x9999999999999999999cm",
        "136",
        "",
    ] {
        assert!(Format::parse(word).is_none(), "{word}");
    }
}

/// 50 ft have a perforation each 0.3000 in, 2000 in a row, of 0.0720 x 0.0500 in: 7.2 square inches. Of 377.4 remain 370.2
/// with one row, and 363.0 with two.
#[test]
fn a_strip_counts_its_perforations_as_film() {
    for emulsion in [370.2, 363.0] {
        let share = square_inches("16mmx50ft") / emulsion;
        assert!((1.0..1.05).contains(&share), "{share} of {emulsion}: {CINE}");
    }
}

/// US Department of Defense, Nondestructive Inspection Methods, T.O. 33B-1-1, page 6-83, counts 50 films of 14 x 17 in for
/// 5 gallons: 50 x 238 = 11,900 square inches.
#[test]
fn fifty_large_radiographs_are_the_published_area() {
    assert!((50.0 * square_inches("14x17in") - 11_900.0).abs() < 1e-6, "{RADIOGRAPHY}");
}
