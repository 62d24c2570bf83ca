//! What a quantity may be in a recipe, each range named once: the check and its message read the
//! same row, so they cannot disagree. Common practice, no source: each catches a slip of the pen,
//! not a matter of taste.

/// The range of one quantity, in its base units, both ends included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Range {
    /// What it is the range of.
    pub what: &'static str,
    /// The least, in base units.
    pub least: i64,
    /// The most, in base units.
    pub most: i64,
    /// Both in words.
    pub words: &'static str,
}

/// The ranges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Limit {
    /// A bath's temperature.
    Bath,
    /// A difference of temperatures.
    Difference,
    /// A time in a step.
    Time,
    /// A time in a chart.
    ChartTime,
    /// A volume.
    Volume,
    /// A mass.
    Mass,
    /// A number of parts.
    Part,
    /// A film speed or an exposure index.
    Index,
    /// A count of reels, rolls, changes.
    Count,
    /// Turns a minute.
    Speed,
    /// Water running, by its volume a minute.
    Flow,
    /// A factor, for a change of temperature, in thousandths.
    Factor,
}

impl Limit {
    /// The row of that range.
    #[must_use]
    pub const fn range(self) -> Range {
        let (what, least, most, words) = match self {
            Limit::Bath => ("a temperature", -5 * 9000, 60 * 9000, "-5 C to 60 C (23 F to 140 F)"),
            Limit::Difference => ("a difference of temperatures", 90, 30 * 9000, "0.01 C to 30 C"),
            Limit::Time => ("a time", 0, 7 * 86_400_000, "0 s to 7 days"),
            Limit::ChartTime => ("a time in a chart", 5_000, 4 * 3_600_000, "5 s to 4 h"),
            Limit::Volume => ("a volume", 1_000_000_000, 1_000_000_000_000_000_000, "0.001 ml to 1000 l"),
            Limit::Mass => ("a mass", 1_000_000, 1_000_000_000_000_000_000, "0.001 mg to 1000 kg"),
            Limit::Part => ("a part", 1, 10_000, "1 to 10000"),
            Limit::Index => ("a film speed", 1, 1_000_000, "1 to 1000000"),
            Limit::Count => ("a count", 1, 10_000, "1 to 10000"),
            Limit::Speed => ("a drum's speed", 1, 500, "1 to 500 rpm"),
            Limit::Flow => {
                ("flowing water", 10_000_000_000_000, 100_000_000_000_000_000, "0.01 to 100 l/min")
            }
            Limit::Factor => ("a rate", 1_000, 10_000, "1 to 10"),
        };
        Range { what, least, most, words }
    }
}

impl Range {
    /// Whether a quantity of so many base units is in it.
    #[must_use]
    pub const fn holds(self, base: i64) -> bool {
        self.least <= base && base <= self.most
    }
}
