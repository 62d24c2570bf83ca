//! How much each rule weighs: by itself, by a house's or a call's own word, or not at all where a
//! recipe allows it and says why.

use std::cell::Cell;
use std::collections::BTreeMap;

use super::gather::Units;
use super::rules::{RULES, rule};
use crate::source::{Diagnostic, FileId, Level, Span, clip};
use crate::vocabulary::{Reading, say, suggest};

/// The faults that `allow` tells.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("unknown-rule", "a rule that does not exist"),
    ("allow-without-effect", "an allowance that silences nothing"),
    ("allow-without-reason", "an allowance whose reason is empty"),
];

/// Rules whose findings depend on which files are in the run: an allowance of one may be idle in one
/// run and needed in another.
const BY_THE_RUN: &[&str] = &[
    "bath-used-past-capacity",
    "bath-used-past-its-test",
    "bath-used-past-keeping",
    "never-used",
    "shared-without-source",
];

/// Rules that have nothing to say of a file that another file uses. Whoever checks many files in several
/// runs drops what such a rule told in a run that the user of the file was not in.
pub const QUIET_IF_USED: &[&str] = &["never-used"];

/// Weights that differ from the rules' own; `None` turns a rule off. A file may have weights of its own.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Levels {
    own: BTreeMap<String, Option<Level>>,
    files: BTreeMap<FileId, Levels>,
}

impl Levels {
    /// Sets a rule's weight; a later word outranks an earlier one.
    ///
    /// # Errors
    /// There is no such rule: what there is, in words.
    pub fn set(&mut self, name: &str, level: Option<Level>) -> Result<(), String> {
        if rule(name).is_none() {
            let near = suggest(name, RULES.iter().map(|rule| rule.name));
            return Err(match near {
                Some(near) => format!("there is no rule '{name}'; did you mean {near}?"),
                None => format!("there is no rule '{name}'; wetside rules lists them"),
            });
        }
        self.own.insert(name.to_owned(), level);
        Ok(())
    }

    /// Sets the weights of what stands in a file, and of what is wrong with a subject of it elsewhere.
    pub fn set_in(&mut self, file: FileId, levels: Levels) {
        self.files.insert(file, levels);
    }

    /// The weight of a finding that a rule made of a subject; `None` if the rule is off.
    fn of(&self, subject: Span, finding: &Diagnostic) -> Option<Level> {
        let files = [finding.span.file, subject.file];
        let levels = files.iter().find_map(|file| self.files.get(file)).unwrap_or(self);
        levels.own.get(finding.name).copied().unwrap_or(Some(finding.level))
    }
}

/// What recipes allow.
#[derive(Debug)]
pub(super) struct Allowances<'a> {
    levels: &'a Levels,
    all: Vec<Allowance>,
}

#[derive(Debug)]
struct Allowance {
    rule: String,
    /// Where it holds: its declaration, or its whole file.
    holds: Holds,
    /// The statement.
    span: Span,
    effect: Cell<bool>,
}

#[derive(Debug)]
enum Holds {
    File,
    Declaration(Span),
}

impl<'a> Allowances<'a> {
    /// Reads every `allow` of a run; one of a rule that does not exist is told.
    pub(super) fn of(units: &Units, levels: &'a Levels, faults: &mut Vec<Diagnostic>) -> Allowances<'a> {
        let mut all = Vec::new();
        let mut add = |row: &Reading, holds: Holds| {
            let Some(row) = row.view::<say::Allow>().filter(|row| row.sound) else { return };
            let Some((name, span)) = row.said(say::Allow::rule) else { return };
            if rule(name).is_none() {
                let fault =
                    Diagnostic::error("unknown-rule", span, format!("there is no rule '{}'", clip(name)));
                faults.push(match suggest(name, RULES.iter().map(|rule| rule.name)) {
                    Some(near) => fault.offer(near, format!("write {near}")),
                    None => fault.help("take the line out; wetside rules lists the rules"),
                });
                return;
            }
            if row.get(say::Allow::reason).is_none_or(|reason| reason.trim().is_empty()) {
                faults.push(
                    Diagnostic::error(
                        "allow-without-reason",
                        row.span,
                        format!("nothing says why {name} is allowed"),
                    )
                    .help(format!(
                        "write between the quotes why it is right here; without a reason {name} is told"
                    )),
                );
                return;
            }
            all.push(Allowance { rule: name.to_owned(), holds, span: row.span, effect: Cell::new(false) });
        };
        for reading in units.values().flat_map(|unit| unit.readings.iter()) {
            add(reading, Holds::File);
            reading.rows.iter().for_each(|row| add(row, Holds::Declaration(reading.extent)));
        }
        Allowances { levels, all }
    }

    /// The findings that a rule made of one subject, at their weights, without those that the
    /// subject's declaration, or the one where the finding stands, or its file allows.
    pub(super) fn weigh(&self, subject: Span, findings: Vec<Diagnostic>, faults: &mut Vec<Diagnostic>) {
        for mut finding in findings {
            let mut allowed = false;
            for allowance in self.all.iter().filter(|allowance| allowance.rule == finding.name) {
                let here = match allowance.holds {
                    Holds::File => {
                        allowance.span.file == subject.file || allowance.span.file == finding.span.file
                    }
                    Holds::Declaration(extent) => extent.holds(subject) || extent.holds(finding.span),
                };
                if here {
                    allowance.effect.set(true);
                    allowed = true;
                }
            }
            if let Some(level) = self.levels.of(subject, &finding).filter(|_| !allowed) {
                finding.level = level;
                faults.push(finding);
            }
        }
    }

    /// Tells of every allowance that silenced nothing.
    pub(super) fn without_effect(&self, faults: &mut Vec<Diagnostic>) {
        let idle = |allowance: &&Allowance| {
            !allowance.effect.get() && !BY_THE_RUN.contains(&allowance.rule.as_str())
        };
        for allowance in self.all.iter().filter(idle) {
            let message = format!("nothing here breaks the rule {}", allowance.rule);
            faults.push(
                Diagnostic::warning("allow-without-effect", allowance.span, message)
                    .help("take the line out, so that it cannot hide a fault to come"),
            );
        }
    }
}
