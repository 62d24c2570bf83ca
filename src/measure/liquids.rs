//! Makes the liquids of a formula fit into its volume by taking water away.

use super::Findings;
use super::sheet::{Amount, Line, Water};
use crate::compile::measurable;
use crate::model::Volume;
use crate::source::{Diagnostic, Span};

pub(super) const FAULTS: &[(&str, &str)] = &[("no-room-for-it", "more liquid than the volume that is made")];

/// The liquids of one bottle, without its water.
pub(super) struct Liquids {
    /// The volume that is made.
    pub(super) make: Volume,
    /// The formula's volume in the file.
    pub(super) span: Span,
    /// The sum as the formula gives them.
    pub(super) wanted: Volume,
    /// The sum as they are measured.
    pub(super) had: Volume,
}

impl Liquids {
    /// Adds an ingredient as the formula gives it and as it is measured.
    pub(super) fn add(&mut self, wanted: Amount, had: Amount) {
        let volume = |amount| if let Amount::Volume(volume) = amount { volume } else { Volume::ZERO };
        self.wanted = self.wanted + volume(wanted);
        self.had = self.had + volume(had);
    }

    /// Takes the surplus of the liquids from the water. Without a mark to fill up to, it also adds water for liquids
    /// that are stronger than the formula's.
    pub(super) fn fit(&self, lines: &mut Vec<Line>, findings: &mut Findings) {
        let has_mark = lines.iter().any(|line| matches!(line, Line::Mark(..)));
        let poured = waters(lines).map(|water| water.volume).sum::<Volume>();
        let more = self.had - self.wanted;
        // With a mark, amounts that are rounded up may exceed it a little.
        let less = if has_mark { (poured + self.had - self.make).min(more) } else { more };
        if less.fl < 0 && !has_mark {
            let volume = Volume { fl: less.fl.saturating_neg() };
            let volume = volume.rounded(measurable(volume));
            if let Some(water) = waters(lines).next() {
                water.volume = water.volume + volume;
            } else {
                lines.insert(0, Line::Water(Water { volume, at: None, taps: None }));
            }
        }
        if less.fl <= 0 {
            return;
        }
        if let Some(water) = waters(lines).find(|water| less < water.volume) {
            let was = water.volume;
            let rest = was - less;
            water.volume = rest - Volume { fl: rest.fl.rem_euclid(measurable(rest).fl) };
            let (now, was) = (water.volume.in_ml(1), was.in_ml(1));
            findings
                .warnings
                .push(format!("only {now} ml of water instead of {was} ml: the liquids bring the rest"));
            return;
        }
        let message = if self.had > self.make {
            let (had, make) = (self.had.in_ml(1), self.make.in_ml(1));
            format!("the liquids alone are {had} ml, more than the {make} ml that is made")
        } else {
            format!("the liquids are {} ml more than in the formula, more than its water", more.in_ml(1))
        };
        let help = "use a stronger form, or leave it out of --have and take it as the formula says";
        findings.errors.push(Diagnostic::error("no-room-for-it", self.span, message).help(help));
    }
}

fn waters(lines: &mut [Line]) -> impl Iterator<Item = &mut Water> {
    lines.iter_mut().filter_map(|line| if let Line::Water(water) = line { Some(water) } else { None })
}
