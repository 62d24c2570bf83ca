//! How a solution is let down: parts of it, then parts of water.

/// Parts of the solution, in the order of its `parts`, and the water.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Dilution {
    /// Parts of the solution; one of each where it comes in several bottles. Never empty.
    pub parts: Vec<u32>,
    /// Parts of water; 0 for stock.
    pub water: u32,
}

impl Dilution {
    /// As it comes from the bottle.
    #[must_use]
    pub fn stock() -> Dilution {
        Dilution { parts: vec![1], water: 0 }
    }

    /// All parts together.
    #[must_use]
    pub fn whole(&self) -> u32 {
        self.parts.iter().fold(self.water, |sum, part| sum.saturating_add(*part))
    }

    /// The same strength in the lowest terms: `1+4` for `2+8`.
    #[must_use]
    pub fn reduced(&self) -> Dilution {
        let mut shared = self.water;
        for part in &self.parts {
            let mut part = *part;
            while part != 0 {
                (shared, part) = (part, shared % part);
            }
        }
        let shared = shared.max(1);
        Dilution { parts: self.parts.iter().map(|part| part / shared).collect(), water: self.water / shared }
    }

    /// The parts of the first bottle, which `needs` speaks of.
    #[must_use]
    pub fn first(&self) -> u32 {
        *self.parts.first().expect("a dilution has a first part")
    }
}

/// `stock`, `1+4`, `1+9+40`, `1+1 no-water`.
impl std::fmt::Display for Dilution {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.parts.len() == 1 && self.water == 0 {
            return f.write_str("stock");
        }
        let parts: Vec<String> = self.parts.iter().map(u32::to_string).collect();
        if self.water == 0 {
            write!(f, "{} no-water", parts.join("+"))
        } else {
            write!(f, "{}+{}", parts.join("+"), self.water)
        }
    }
}
