//! Diagnostics as the protocol has them, with help lines and related locations.

use std::collections::BTreeMap;

use gen_lsp_types::{
    Code, Diagnostic as Told, DiagnosticRelatedInformation, DiagnosticSeverity, Message, Position, Range,
};

use super::documents::Documents;
use super::view::{LISTED_MAX, View};
use crate::report::sanitise;
use crate::source::{Diagnostic, Level};

/// The source that each diagnostic names.
const SOURCE: &str = "wetside";

/// All diagnostics by address; every open text has an entry, which may be empty.
pub(super) fn all(view: &View, documents: &Documents) -> BTreeMap<String, Vec<Told>> {
    let mut all: BTreeMap<String, Vec<Told>> = documents
        .iter()
        .map(|(address, document)| {
            let problem =
                document.problem().map(|words| at_the_start(DiagnosticSeverity::Error, words.to_owned()));
            (address.clone(), problem.into_iter().collect())
        })
        .collect();
    for (file, words) in &view.unweighed {
        let told = at_the_start(DiagnosticSeverity::Warning, sanitise(words).into_owned());
        all.entry(view.uri(*file).0).or_default().push(told);
    }
    let mut left_out: BTreeMap<String, usize> = BTreeMap::new();
    for finding in &view.findings {
        let address = view.uri(finding.span.file).0;
        if documents.get(&address).is_some_and(|document| document.problem().is_some()) {
            continue;
        }
        if all.get(&address).is_some_and(|told| told.len() >= LISTED_MAX) {
            *left_out.entry(address).or_default() += 1;
        } else {
            all.entry(address).or_default().push(told(view, finding));
        }
    }
    for (address, count) in left_out {
        let words = format!("{count} more of this text are not told\nhelp: see to the first of them");
        all.entry(address).or_default().push(at_the_start(DiagnosticSeverity::Information, words));
    }
    all
}

/// A diagnostic as the protocol has it.
pub(super) fn told(view: &View, finding: &Diagnostic) -> Told {
    let mut words = vec![finding.message.as_str()];
    words.extend((!finding.label.is_empty()).then_some(finding.label.as_str()));
    let help = finding.help.iter().map(|help| format!("help: {help}"));
    let lines: Vec<String> = words.into_iter().map(str::to_owned).chain(help).collect();
    let others = finding.others.iter().map(|(span, words)| DiagnosticRelatedInformation {
        location: view.location(*span),
        message: sanitise(if words.is_empty() { "here too" } else { words }).into_owned(),
    });
    let others: Vec<DiagnosticRelatedInformation> = others.collect();
    Told {
        range: view.range(finding.span),
        severity: Some(match finding.level {
            Level::Error => DiagnosticSeverity::Error,
            Level::Warning => DiagnosticSeverity::Warning,
            Level::Advice => DiagnosticSeverity::Information,
        }),
        code: Some(Code::String(finding.name.to_owned())),
        source: Some(SOURCE.to_owned()),
        message: Message::String(sanitise(&lines.join("\n")).into_owned()),
        related_information: Some(others).filter(|others| !others.is_empty()),
        ..Told::default()
    }
}

/// What concerns a text and is at no place of it.
fn at_the_start(severity: DiagnosticSeverity, words: String) -> Told {
    let start = Position { line: 0, character: 0 };
    Told {
        range: Range { start, end: start },
        severity: Some(severity),
        source: Some(SOURCE.to_owned()),
        message: Message::String(words),
        ..Told::default()
    }
}
