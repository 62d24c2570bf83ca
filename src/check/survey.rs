//! The names and values of a run's files, for editors.

use std::ops::Range;

use super::build::chart;
use super::gather::Units;
use super::names::Names;
use super::read::may_be_name;
use super::scope::Scopes;
use crate::model::{Chart, Dilution, Temperature};
use crate::source::{FileId, Sources, Span};
use crate::syntax::parse;
use crate::vocabulary::{Declared, Reading, Value, say};

/// The names and values that were read.
#[derive(Debug, Default)]
pub struct Survey {
    /// The names.
    pub names: Names,
    /// The temperatures, in the order of files and places.
    pub temperatures: Vec<(Span, Temperature)>,
    /// The dilutions, in the order of files and places.
    pub dilutions: Vec<(Span, Dilution)>,
    /// The sound charts, each from its header to the end of its block.
    pub charts: Vec<(Span, Chart)>,
}

/// The kind and the name of each declaration of a file, sound or not. A half-merged file has those of both versions.
#[must_use]
pub fn declared_names(sources: &Sources, file: FileId) -> Vec<(Declared, String)> {
    let (tree, _) = parse(sources, file);
    let text = sources.text(file);
    let declared = |pieces: &Range<usize>| {
        let [first, second, ..] = tree.tokens.get(pieces.clone())? else { return None };
        let kind = Declared::ALL.into_iter().find(|kind| kind.word() == sources.slice(first.span))?;
        let name = text.get(second.span.start as usize..)?.split([' ', '\t', '\r', '\n', '{']).next()?;
        (!name.is_empty() && !name.starts_with('"')).then(|| (kind, name.to_owned()))
    };
    match tree.half_merged {
        true => tree.lines.iter().filter_map(|line| declared(&line.tokens)).collect(),
        false => tree.statements.iter().filter_map(|statement| declared(&statement.tokens)).collect(),
    }
}

/// Whether a declaration may bear this name.
#[must_use]
pub fn is_free_name(name: &str) -> bool {
    may_be_name(name)
}

impl Survey {
    /// Lists what was read in these files, which hold all that they use.
    pub(super) fn of(units: &Units, sources: &Sources) -> Survey {
        let scopes = Scopes::of(units, &mut Vec::new());
        let mut survey = Survey { names: Names::of(units, &scopes, sources), ..Survey::default() };
        for unit in units.values() {
            unit.readings.iter().for_each(|reading| survey.values(reading));
        }
        survey
    }

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
