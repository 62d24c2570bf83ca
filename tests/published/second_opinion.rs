//! Units, compared with a general library of units. Most of its factors have seven digits, so that is the tolerance.

use approx::assert_relative_eq;
use uom::si::f64::{Mass, TemperatureInterval, ThermodynamicTemperature, Volume};
use uom::si::mass::{grain, gram, kilogram, milligram, ounce, pound};
use uom::si::temperature_interval::{degree_celsius as celsius_apart, degree_fahrenheit as fahrenheit_apart};
use uom::si::thermodynamic_temperature::{degree_celsius, degree_fahrenheit};
use uom::si::volume::{
    fluid_ounce, fluid_ounce_imperial, gallon, gallon_imperial, liter, milliliter, pint_liquid, quart_liquid,
};

use super::units::{apart, degrees, grams, millilitres};

/// Half a unit of the seventh digit.
const SEVEN_DIGITS: f64 = 5e-7;

#[test]
fn volumes_agree_with_a_library_of_units() {
    let rows = [
        ("1 ml", Volume::new::<milliliter>(1.0)),
        ("1 l", Volume::new::<liter>(1.0)),
        ("1 us-fl-oz", Volume::new::<fluid_ounce>(1.0)),
        ("1 us-pt", Volume::new::<pint_liquid>(1.0)),
        ("1 us-qt", Volume::new::<quart_liquid>(1.0)),
        ("1 us-gal", Volume::new::<gallon>(1.0)),
        ("1 imp-fl-oz", Volume::new::<fluid_ounce_imperial>(1.0)),
        ("1 imp-gal", Volume::new::<gallon_imperial>(1.0)),
        // It has no imperial pint and quart, which are an eighth and a quarter of a gallon.
        ("1 imp-pt", Volume::new::<gallon_imperial>(0.125)),
        ("1 imp-qt", Volume::new::<gallon_imperial>(0.25)),
        ("37.5 us-fl-oz", Volume::new::<fluid_ounce>(37.5)),
        ("2.5 us-gal", Volume::new::<gallon>(2.5)),
    ];
    for (given, theirs) in rows {
        assert_relative_eq!(millilitres(given), theirs.get::<milliliter>(), max_relative = SEVEN_DIGITS);
    }
}

#[test]
fn masses_agree_with_a_library_of_units() {
    let rows = [
        ("1 mg", Mass::new::<milligram>(1.0)),
        ("1 g", Mass::new::<gram>(1.0)),
        ("1 kg", Mass::new::<kilogram>(1.0)),
        ("1 av-oz", Mass::new::<ounce>(1.0)),
        ("1 lb", Mass::new::<pound>(1.0)),
        ("1 grain", Mass::new::<grain>(1.0)),
        ("2.25 av-oz", Mass::new::<ounce>(2.25)),
        ("175 grain", Mass::new::<grain>(175.0)),
    ];
    for (given, theirs) in rows {
        assert_relative_eq!(grams(given), theirs.get::<gram>(), max_relative = SEVEN_DIGITS);
    }
}

#[test]
fn temperatures_agree_with_a_library_of_units() {
    for tenths in (230..=1400).step_by(13) {
        let fahrenheit = f64::from(tenths) / 10.0;
        let theirs = ThermodynamicTemperature::new::<degree_fahrenheit>(fahrenheit).get::<degree_celsius>();
        let ours = degrees(&format!("{fahrenheit} F"));
        assert_relative_eq!(ours, theirs, epsilon = 1e-9, max_relative = 1e-9);
    }
}

#[test]
fn differences_of_temperature_agree_with_a_library_of_units() {
    for tenths in (1..=540).step_by(7) {
        let fahrenheit = f64::from(tenths) / 10.0;
        let theirs = TemperatureInterval::new::<fahrenheit_apart>(fahrenheit).get::<celsius_apart>();
        assert_relative_eq!(apart(&format!("{fahrenheit} F")), theirs, max_relative = 1e-9);
    }
}
