//! Densities of liquids mixed with water, to convert millilitres into a share by mass.

use super::ingredient::Ingredient;

/// For each liquid, by rising strength: the strength in hundredths of a percent by mass, and the density in thousandths
/// of g/ml at 20 °C. No source was looked up; the densities should be right to about 0.01 g/ml.
const DENSITIES: &[(&str, &[(u32, u32)])] = &[
    ("acetic-acid", &[(0, 998), (1000, 1013), (2800, 1036), (6000, 1064), (8000, 1070), (10_000, 1049)]),
    ("ammonia", &[(0, 998), (1000, 957), (2500, 910), (3500, 880)]),
    ("formaldehyde", &[(0, 998), (1000, 1028), (3700, 1085)]),
    ("hydrochloric-acid", &[(0, 998), (1000, 1047), (2000, 1098), (3700, 1184)]),
    ("hydrogen-peroxide", &[(0, 998), (300, 1009), (3000, 1111), (5000, 1195), (10_000, 1450)]),
    ("isopropyl-alcohol", &[(0, 998), (1000, 982), (5000, 907), (10_000, 785)]),
    (
        "sulfuric-acid",
        &[(0, 998), (1000, 1066), (2000, 1139), (3000, 1218), (5000, 1395), (7000, 1611), (9600, 1836)],
    ),
];

impl Ingredient {
    /// The density in thousandths of g/ml at a strength in hundredths of a percent by mass; `None` if not known.
    /// Between two rows of the table, the density is interpolated linearly.
    pub fn density(&self, strength: u32) -> Option<u32> {
        let (_, rows) = DENSITIES.iter().find(|(name, _)| *name == self.name)?;
        let after = rows.iter().position(|(at, _)| strength <= *at);
        let Some(after) = after else { return rows.last().map(|(_, density)| *density) };
        let (low, high) = (rows.get(after.saturating_sub(1))?, rows.get(after)?);
        let (steps, all) = (i64::from(strength) - i64::from(low.0), i64::from(high.0) - i64::from(low.0));
        let rise = i64::from(high.1) - i64::from(low.1);
        u32::try_from(i64::from(low.1) + rise * steps / all.max(1)).ok()
    }
}
