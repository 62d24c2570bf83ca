//! Converts diagnostics to the protocol's form, and their fixes to code actions.

use serde_json::{Value, json};

use super::documents::Document;
use super::protocol::{Diagnostic, DiagnosticTag, Range, Related, Severity};
use super::view::{LISTED_MAX, View};
use crate::report::sanitise;
use crate::source::{Diagnostic as Finding, Level, Map, Span};

pub(super) fn all(view: &View, documents: &Map<String, Document>) -> Map<String, Vec<Diagnostic>> {
    let listed = |(file, address): (_, &String)| {
        let problem = documents.get(address).and_then(Document::problem);
        let config = view.config_errors.get(&file).map(|words| sanitise(words).into_owned());
        let mut all = Vec::new();
        all.extend(problem.map(|words| at_start(Severity::Error, words.to_owned())));
        all.extend(config.map(|words| at_start(Severity::Warning, words)));
        let own = view.findings.iter().filter(|found| problem.is_none() && found.span.file == file);
        let count = own.clone().count();
        let room = LISTED_MAX - all.len();
        all.extend(own.take(room).map(|found| diagnostic(view, found)));
        if count > room {
            let words = format!("{} more diagnostics are not shown\nhelp: fix the first ones", count - room);
            all.push(at_start(Severity::Information, words));
        }
        (address.clone(), all)
    };
    view.addresses().map(listed).collect()
}

/// The fixes of all diagnostics that touch `range`, as code actions. There are none if the editor asks only for other
/// kinds of code actions than `quickfix`.
pub(super) fn actions(view: &View, range: Span, kinds: Option<Vec<String>>) -> Vec<Value> {
    let meets = |span: Span| span.file == range.file && span.start <= range.end && range.start <= span.end;
    let is_asked = kinds.is_none_or(|kinds| kinds.iter().any(|kind| kind.is_empty() || kind == "quickfix"));
    let found = view.findings.iter().filter(|found| is_asked && meets(found.span));
    let actions = found.flat_map(|found| {
        found.fixes.iter().map(|fix| {
            json!({
                "title": sanitise(&fix.title),
                "kind": "quickfix",
                "diagnostics": [diagnostic(view, found)],
                "isPreferred": fix.certain,
                "edit": { "changes": view.edits(&fix.edits) },
            })
        })
    });
    actions.take(LISTED_MAX).collect()
}

fn diagnostic(view: &View, found: &Finding) -> Diagnostic {
    let mut lines = vec![found.message.clone()];
    lines.extend(Some(found.label.clone()).filter(|label| !label.is_empty()));
    lines.extend(found.help.iter().map(|help| format!("help: {help}")));
    let others = found.others.iter().map(|(span, words)| Related {
        location: view.location(*span),
        message: sanitise(if words.is_empty() { "here too" } else { words }).into_owned(),
    });
    let severity = match found.level {
        Level::Error => Severity::Error,
        Level::Warning => Severity::Warning,
        Level::Advice => Severity::Information,
    };
    Diagnostic {
        range: view.range(found.span),
        tags: (found.name == "deprecated-recipe").then_some(DiagnosticTag::Deprecated).into_iter().collect(),
        code: Some(found.name),
        related_information: others.collect(),
        ..at_start(severity, sanitise(&lines.join("\n")).into_owned())
    }
}

fn at_start(severity: Severity, words: String) -> Diagnostic {
    Diagnostic {
        range: Range::default(),
        severity,
        code: None,
        source: "wetside",
        message: words,
        tags: Vec::new(),
        related_information: Vec::new(),
    }
}
