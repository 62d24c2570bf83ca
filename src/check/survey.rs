//! What was read in a run's files, without a judgement on it: names, and the values that an editor
//! shows in other words. It is made on request, since a check has no need of it.

use super::build::chart;
use super::gather::gather;
use super::names::Names;
use super::read::may_be_name;
use super::scope::Scopes;
use crate::model::{Chart, Dilution, Temperature};
use crate::source::{FileId, Files, Sources, Span};
use crate::vocabulary::{Reading, Value, say};

/// What was read.
#[derive(Debug, Default)]
pub struct Survey {
    /// The names.
    pub names: Names,
    /// The temperatures, in the order of files and places.
    pub temperatures: Vec<(Span, Temperature)>,
    /// The dilutions, in the order of files and places.
    pub dilutions: Vec<(Span, Dilution)>,
    /// The charts that could be one, each from its header to the end of its block.
    pub charts: Vec<(Span, Chart)>,
}

/// Reads files and all that they use.
#[must_use]
pub fn survey(sources: &mut Sources, roots: &[FileId], files: &dyn Files) -> Survey {
    // The same faults are told by the check.
    let (units, _) = gather(sources, roots, files, &mut Vec::new());
    let scopes = Scopes::of(&units, &mut Vec::new());
    let mut survey = Survey { names: Names::of(&units, &scopes, sources), ..Survey::default() };
    for unit in units.values() {
        unit.readings.iter().for_each(|reading| survey.values(reading));
    }
    survey
}

/// Whether a declaration may bear this name.
#[must_use]
pub fn is_free_name(name: &str) -> bool {
    may_be_name(name)
}

impl Survey {
    fn values(&mut self, reading: &Reading) {
        reading.values(&mut |item| {
            if let Value::Temperature(temperature) = item.value {
                self.temperatures.push((item.span, temperature));
            } else if let Value::Dilution(dilution) = &item.value {
                self.dilutions.push((item.span, dilution.clone()));
            }
        });
        if reading.is::<say::Chart>() {
            let chart = chart(reading, &mut Vec::new());
            self.charts.extend(chart.map(|chart| (reading.extent, chart)));
        }
        reading.rows.iter().for_each(|row| self.values(row));
    }
}
