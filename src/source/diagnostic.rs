//! Diagnostics: what every stage reports, with its fixes.

use serde::Serialize;

use super::sources::Span;

/// The severity of a diagnostic.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Level {
    /// It would risk film, or cannot be understood: nothing is compiled.
    Error,
    /// It compiles, and the card prints the warning.
    Warning,
    /// Worth knowing; the card does not print it.
    Advice,
}

impl Level {
    /// Its word in reports.
    pub fn word(self) -> &'static str {
        match self {
            Level::Error => "error",
            Level::Warning => "warning",
            Level::Advice => "advice",
        }
    }
}

/// What is wrong, where, and what to write instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// Its stable name, such as `unknown-unit`.
    pub name: &'static str,
    /// Its severity.
    pub level: Level,
    /// The smallest span that shows it.
    pub span: Span,
    /// What is wrong, in lower case and without a full stop.
    pub message: String,
    /// The words under the span; may be empty.
    pub label: String,
    /// Related spans, each with its words.
    pub others: Vec<(Span, String)>,
    /// What to write instead; never empty for an error.
    pub help: Vec<String>,
    /// Ways to fix it.
    pub fixes: Vec<Fix>,
}

/// One way to fix a diagnostic.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Fix<At = Span> {
    /// What it does: 'write 1+4'.
    pub title: String,
    /// Whether it may be applied without asking, as the only sensible reading.
    pub certain: bool,
    /// Its replacements, which do not overlap.
    pub edits: Vec<Edit<At>>,
}

/// A replacement of text.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Edit<At = Span> {
    /// The range to replace.
    #[serde(flatten)]
    pub span: At,
    /// The new text.
    pub text: String,
}

impl Diagnostic {
    /// An error with this name.
    pub fn error(name: &'static str, span: Span, message: impl Into<String>) -> Diagnostic {
        Diagnostic {
            name,
            level: Level::Error,
            span,
            message: message.into(),
            label: String::new(),
            others: Vec::new(),
            help: Vec::new(),
            fixes: Vec::new(),
        }
    }

    /// A warning with this name.
    pub fn warning(name: &'static str, span: Span, message: impl Into<String>) -> Diagnostic {
        Diagnostic { level: Level::Warning, ..Diagnostic::error(name, span, message) }
    }

    /// Sets the words under the span.
    pub fn label(mut self, words: impl Into<String>) -> Diagnostic {
        self.label = words.into();
        self
    }

    /// Adds a related span.
    pub fn other(mut self, span: Span, words: impl Into<String>) -> Diagnostic {
        self.others.push((span, words.into()));
        self
    }

    /// Adds a help line.
    pub fn help(mut self, words: impl Into<String>) -> Diagnostic {
        self.help.push(words.into());
        self
    }

    /// Adds an uncertain fix with a text that a help line names.
    pub fn choice(mut self, span: Span, text: impl Into<String>) -> Diagnostic {
        let text = text.into();
        let title = format!("write {text}");
        self.fixes.push(Fix { title, edits: vec![Edit { span, text }], certain: false });
        self
    }

    /// Adds an uncertain fix that replaces the span; its title is also a help line.
    pub fn offer(self, text: impl Into<String>, title: impl Into<String>) -> Diagnostic {
        let span = self.span;
        self.change(span, text, title, false)
    }

    /// Adds an uncertain fix that replaces the span by a text, and says so in a help line.
    pub fn write(self, text: impl Into<String>) -> Diagnostic {
        let text = text.into();
        let title = format!("write {text}");
        self.offer(text, title)
    }

    /// Adds a certain fix that replaces the span by a text, and says so in a help line.
    pub fn mend(self, text: &str) -> Diagnostic {
        let span = self.span;
        self.change(span, text, format!("write {text}"), true)
    }

    /// Adds a fix that replaces any span; its title is also a help line.
    pub fn change(
        mut self,
        span: Span,
        text: impl Into<String>,
        title: impl Into<String>,
        certain: bool,
    ) -> Diagnostic {
        let title = title.into();
        self.help.push(title.clone());
        self.fixes.push(Fix { title, edits: vec![Edit { span, text: text.into() }], certain });
        self
    }

    /// The order of a report: by span, severity, name and message.
    pub fn sort_key(&self) -> (Span, Level, &'static str, &str) {
        (self.span, self.level, self.name, &self.message)
    }

    /// Sorts diagnostics in the order of a report.
    pub fn sort(all: &mut [Diagnostic]) {
        all.sort_by(|one, other| one.sort_key().cmp(&other.sort_key()));
    }
}
