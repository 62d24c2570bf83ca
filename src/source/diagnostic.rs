//! One finding about a recipe. Whatever any stage complains of becomes one of these, so that there
//! is one order, one way to draw and one way to mend.

use super::span::Span;

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// Film would be risked, or the recipe cannot be understood: nothing is compiled.
    Error,
    /// It compiles, and the doubt is printed on the card.
    Warning,
    /// Worth knowing; it does not reach the card.
    Advice,
}

impl Level {
    /// The word that people are shown.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Level::Error => "error",
            Level::Warning => "warning",
            Level::Advice => "advice",
        }
    }
}

/// A finding: what is wrong, where, and what to write instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// The stable kebab-case name of the fault.
    pub name: &'static str,
    /// Its weight.
    pub level: Level,
    /// The smallest place that shows it.
    pub span: Span,
    /// What is wrong, in the trade's words, lower case, no full stop.
    pub message: String,
    /// What stands under the place; empty where the message says it all.
    pub label: String,
    /// Other places that matter, each with its words.
    pub others: Vec<(Span, String)>,
    /// What to write instead; never empty for an error.
    pub help: Vec<String>,
    /// Changes of the text that would mend it.
    pub fixes: Vec<Fix>,
}

/// One way to mend a fault.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fix {
    /// What it does, as an offer: 'write 1+4'.
    pub title: String,
    /// The changes, none overlapping another.
    pub edits: Vec<Edit>,
    /// Whether it is the only sensible reading, so that it may be applied unasked.
    pub certain: bool,
}

/// One replacement of a place by a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    /// What goes.
    pub span: Span,
    /// What comes.
    pub text: String,
}

impl Diagnostic {
    /// An error of that name at that place.
    #[must_use]
    pub fn error(name: &'static str, span: Span, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(name, Level::Error, span, message.into())
    }

    /// A warning of that name at that place.
    #[must_use]
    pub fn warning(name: &'static str, span: Span, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(name, Level::Warning, span, message.into())
    }

    fn new(name: &'static str, level: Level, span: Span, message: String) -> Diagnostic {
        Diagnostic {
            name,
            level,
            span,
            message,
            label: String::new(),
            others: Vec::new(),
            help: Vec::new(),
            fixes: Vec::new(),
        }
    }

    /// Words to stand under the place.
    #[must_use]
    pub fn label(mut self, words: impl Into<String>) -> Diagnostic {
        self.label = words.into();
        self
    }

    /// A second place that matters.
    #[must_use]
    pub fn other(mut self, span: Span, words: impl Into<String>) -> Diagnostic {
        self.others.push((span, words.into()));
        self
    }

    /// What to write instead.
    #[must_use]
    pub fn help(mut self, words: impl Into<String>) -> Diagnostic {
        self.help.push(words.into());
        self
    }

    /// One of the texts that a help line names, offered for a place.
    #[must_use]
    pub fn choice(mut self, span: Span, text: impl Into<String>) -> Diagnostic {
        let text = text.into();
        let title = format!("write {text}");
        self.fixes.push(Fix { title, edits: vec![Edit { span, text }], certain: false });
        self
    }

    /// An offer to put `text` where the fault stands; its title is also a help line.
    #[must_use]
    pub fn offer(self, text: impl Into<String>, title: impl Into<String>) -> Diagnostic {
        let span = self.span;
        self.change(span, text, title, false)
    }

    /// The one sensible mend of the place: put `text` there.
    #[must_use]
    pub fn mend(self, text: impl Into<String>, title: impl Into<String>) -> Diagnostic {
        let span = self.span;
        self.change(span, text, title, true)
    }

    /// A change at any place, certain or offered; its title is also a help line.
    #[must_use]
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

    /// The total order of a report: by file, place, weight and name.
    #[must_use]
    pub fn sort_key(&self) -> (Span, Level, &'static str, &str) {
        (self.span, self.level, self.name, &self.message)
    }
}
