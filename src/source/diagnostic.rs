//! Diagnostics: the errors, warnings and advice that the stages report, with their fixes.

use serde::Serialize;

use super::sorted::Sorted as _;
use super::sources::Span;

/// The severity of a diagnostic.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Level {
    /// The recipe would ruin film or cannot be understood. It is not compiled.
    Error,
    /// The recipe is doubtful, but compiles. Its card prints the warning.
    Warning,
    /// The recipe could be improved. Its card does not print the advice.
    Advice,
}

impl Level {
    /// The word for this severity in reports.
    pub fn word(self) -> &'static str {
        match self {
            Level::Error => "error",
            Level::Warning => "warning",
            Level::Advice => "advice",
        }
    }
}

/// One problem in a recipe file: what is wrong, where, and what to write instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// The stable name of the problem, such as `unknown-unit`.
    pub name: &'static str,
    /// The severity of the problem.
    pub level: Level,
    /// The smallest span of text that shows the problem.
    pub span: Span,
    /// What is wrong, in lower case and without a full stop at the end.
    pub message: String,
    /// The text printed under the span; may be empty.
    pub label: String,
    /// Other spans that the problem concerns, each with the text printed under it.
    pub others: Vec<(Span, String)>,
    /// What to write instead; never empty for an error.
    pub help: Vec<String>,
    /// Ways to fix the problem.
    pub fixes: Vec<Fix>,
}

/// One way to fix the problem of a diagnostic. `At` is the type of a place in the text: a span, or lines and columns.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Fix<At = Span> {
    /// What the fix does, such as 'write 1+4'.
    pub title: String,
    /// Whether a tool, such as `check --mend`, may apply the fix without asking.
    pub certain: bool,
    /// The replacements of text, which do not overlap.
    pub edits: Vec<Edit<At>>,
}

/// A replacement of the text at one place.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Edit<At = Span> {
    /// The place of the text to replace.
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

    /// Sets the text printed under the span.
    pub fn label(mut self, words: impl Into<String>) -> Diagnostic {
        self.label = words.into();
        self
    }

    /// Adds another span that the problem concerns, with the text printed under it.
    pub fn other(mut self, span: Span, words: impl Into<String>) -> Diagnostic {
        self.others.push((span, words.into()));
        self
    }

    /// Adds a help line.
    pub fn help(mut self, words: impl Into<String>) -> Diagnostic {
        self.help.push(words.into());
        self
    }

    /// Adds a fix that replaces this span by `text`. A tool must ask before it applies the fix. Adds no help line.
    pub fn choice(mut self, span: Span, text: impl Into<String>) -> Diagnostic {
        let text = text.into();
        let title = format!("write {text}");
        self.fixes.push(Fix { title, edits: vec![Edit { span, text }], certain: false });
        self
    }

    /// Adds a fix that replaces the diagnostic's own span by `text`. A tool must ask before it applies the fix. The
    /// title is also a help line.
    pub fn offer(self, text: impl Into<String>, title: impl Into<String>) -> Diagnostic {
        let span = self.span;
        self.change(span, text, title, false)
    }

    /// Adds a fix that replaces the diagnostic's own span by `text`, and the help line `write TEXT`. A tool must ask
    /// before it applies the fix.
    pub fn write(self, text: impl Into<String>) -> Diagnostic {
        let text = text.into();
        let title = format!("write {text}");
        self.offer(text, title)
    }

    /// Adds a fix that replaces the diagnostic's own span by `text`, and the help line `write TEXT`. A tool may apply
    /// the fix without asking.
    pub fn mend(self, text: &str) -> Diagnostic {
        let span = self.span;
        self.change(span, text, format!("write {text}"), true)
    }

    /// Adds a fix that replaces this span by `text`. A tool may apply it without asking if `certain`. The title is also
    /// a help line.
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

    /// The key by which reports sort diagnostics: span, severity, name and message.
    pub fn sort_key(&self) -> (Span, Level, &'static str, &str) {
        (self.span, self.level, self.name, &self.message)
    }

    /// Sorts diagnostics as reports list them.
    pub fn sort(all: &mut Vec<Diagnostic>) {
        all.order_by(|one, other| one.sort_key().cmp(&other.sort_key()));
    }
}
