//! A written number becomes the nearest whole number of base units, rounded once (R15).

use proptest::prelude::*;
use wetside::model::{Number, decimal};

use super::tried;

/// Whether `base` is the whole number nearest to `above / below`, a half going up.
fn is_nearest(base: i64, above: i128, below: i128) -> bool {
    let off = 2 * (i128::from(base) * below - above);
    -below < off && off <= below
}

proptest! {
    #![proptest_config(tried(500))]

    #[test]
    fn a_decimal_is_the_nearest_whole_base_unit(
        figures in -99_999_999_i64..=99_999_999, places in 0_u32..=8, factor in 1_i64..10_000_000_000,
    ) {
        let digits = format!("{:09}", figures.abs());
        let (whole, part) = digits.split_at(9 - places as usize);
        let sign = if figures < 0 { "-" } else { "" };
        let text = if part.is_empty() { format!("{sign}{whole}") } else { format!("{sign}{whole}.{part}") };
        let got = Number::parse(&text).unwrap().in_base(factor).unwrap();
        let above = i128::from(figures) * i128::from(factor);
        prop_assert!(is_nearest(got, above, 10_i128.pow(places)), "{text} of {factor}: {got}");
    }

    #[test]
    fn a_fraction_is_the_nearest_whole_base_unit(
        whole in 0_i64..1000, above in 0_i64..1000, below in 1_i64..=1000, factor in 1_i64..10_000_000_000_000,
    ) {
        let part = Number::parse_fraction(&format!("{above}/{below}")).unwrap();
        let got = Number::parse(&whole.to_string()).unwrap().plus(part).unwrap().in_base(factor).unwrap();
        let exact = i128::from(whole * below + above) * i128::from(factor);
        prop_assert!(is_nearest(got, exact, i128::from(below)), "{whole} {above}/{below} of {factor}: {got}");
    }

    #[test]
    fn a_printed_number_parses_to_the_same_number(
        base in -1_000_000_000_000_i64..1_000_000_000_000, unit in 1_i64..1_000_000_000, places in 0_u32..4,
    ) {
        let text = decimal(base, unit, places);
        prop_assume!(text.bytes().filter(u8::is_ascii_digit).count() <= 12);
        let read = i128::from(Number::parse(&text).unwrap().in_base(10_i64.pow(places)).unwrap());
        let exact = i128::from(base) * 10_i128.pow(places);
        prop_assert!(is_nearest(i64::try_from(read).unwrap(), exact, i128::from(unit)), "{base} of {unit}: {text}");
        prop_assert!(!text.contains('.') || !text.ends_with(['0', '.']), "{text}");
    }

    #[test]
    fn text_that_is_not_a_number_does_not_parse(text in "[-+0-9.eE_ /xà]{0,16}") {
        let figures = text.strip_prefix('-').unwrap_or(&text);
        let (whole, part) = figures.split_once('.').unwrap_or((figures, ""));
        let plain = |figures: &str| figures.bytes().all(|byte| byte.is_ascii_digit());
        let sound = !whole.is_empty() && plain(whole) && plain(part) && whole.len() + part.len() <= 12;
        prop_assert_eq!(Number::parse(&text).is_some(), sound, "{:?}", text);
    }
}
