//! What a row of the table is: one statement of the language.

use super::kind::{Declared, Kind};
use super::pattern::{Form, Part, pattern_text};
use crate::model::StepKind;

/// One statement of the language.
#[derive(Debug)]
pub struct Row {
    /// Its word; empty for the lines of a chart and of a formula, which begin with a value.
    pub word: &'static str,
    /// Where it may stand.
    pub blocks: &'static [Block],
    /// What follows the word.
    pub takes: &'static [Part],
    /// The block that it opens.
    pub opens: Option<Block>,
    /// How often it may stand in one block.
    pub often: Often,
    /// What it means, in one line.
    pub meaning: &'static str,
    /// An example, as it stands in a recipe.
    pub example: &'static str,
}

impl Row {
    /// Its word and its pattern, as the reference prints them.
    #[must_use]
    pub fn text(&self) -> String {
        let pattern = pattern_text(self.takes);
        let pieces = [self.word, pattern.as_str()].into_iter().filter(|piece| !piece.is_empty());
        pieces.collect::<Vec<_>>().join(" ")
    }

    /// The words in its pattern, in order.
    #[must_use]
    pub fn words(&self) -> Vec<&'static str> {
        let mut words = Vec::new();
        Part::walk(self.takes, &mut |part| match part {
            Part::Word(word) => words.push(*word),
            Part::Slot(_, Form::Choice(choices)) => {
                words.extend(choices.iter().flat_map(|choice| choice.split(' ')));
            }
            Part::Slot(_, Form::Clause(rows)) => {
                words.extend(rows().iter().map(|row| row.word).filter(|word| !word.is_empty()));
            }
            Part::Slot(_, Form::Value(_))
            | Part::Comma
            | Part::Maybe(_)
            | Part::Either(_)
            | Part::List(_) => {}
        });
        words
    }

    /// The kinds of values in its pattern, in order.
    #[must_use]
    pub fn kinds(&self) -> Vec<Kind> {
        let mut kinds = Vec::new();
        Part::walk(self.takes, &mut |part| {
            if let Part::Slot(_, Form::Value(kind)) = part {
                kinds.push(*kind);
            }
        });
        kinds
    }
}

/// Where a statement can stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Block {
    /// The file itself.
    File,
    /// `film … {`
    Film,
    /// `solution … {`
    Solution,
    /// `formula … {`
    Formula,
    /// `agitation … {`
    Agitation,
    /// `tank … {`
    Tank,
    /// `recipe … {`
    Recipe,
    /// a step of this kind
    Step(StepKind),
    /// `chart {`
    Chart,
    /// `bath … {`
    Bath,
    /// `test … {`
    Test,
    /// `session … {`
    Session,
    /// `backlog … {`
    Backlog,
}

/// How often a statement may stand in one block.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Often {
    /// Exactly once.
    Must,
    /// At most once.
    Once,
    /// At most once in each of its forms, which the first value tells apart.
    OnceEach,
    /// At least once.
    Some,
    /// As often as one likes.
    Many,
}

impl Often {
    /// In words, for the reference.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Often::Must => "once, needed",
            Often::Once => "once",
            Often::OnceEach => "once each",
            Often::Some => "at least once",
            Often::Many => "any number",
        }
    }
}

impl Block {
    /// The declaration that it is the block of.
    #[must_use]
    pub fn declares(self) -> Option<Declared> {
        match self {
            Block::Film => Some(Declared::Film),
            Block::Solution => Some(Declared::Solution),
            Block::Agitation => Some(Declared::Agitation),
            Block::Tank => Some(Declared::Tank),
            Block::Recipe => Some(Declared::Recipe),
            Block::Bath => Some(Declared::Bath),
            Block::Test => Some(Declared::Test),
            Block::Session => Some(Declared::Session),
            Block::Backlog => Some(Declared::Backlog),
            Block::File | Block::Formula | Block::Chart | Block::Step(_) => None,
        }
    }

    /// What people call it, with its article.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Block::File => "a file",
            Block::Film => "a film",
            Block::Solution => "a solution",
            Block::Formula => "a formula",
            Block::Agitation => "an agitation",
            Block::Tank => "a tank",
            Block::Recipe => "a recipe",
            Block::Chart => "a chart",
            Block::Bath => "a bath",
            Block::Test => "a test",
            Block::Session => "a session",
            Block::Backlog => "a backlog",
            Block::Step(kind) => match kind {
                StepKind::Warm => "a warm step",
                StepKind::Presoak => "a presoak step",
                StepKind::Develop => "a develop step",
                StepKind::Stop => "a stop step",
                StepKind::Fix => "a fix step",
                StepKind::Bleach => "a bleach step",
                StepKind::BleachFix => "a bleach-fix step",
                StepKind::Clear => "a clear step",
                StepKind::Wash => "a wash step",
                StepKind::Tone => "a tone step",
                StepKind::Expose => "an expose step",
                StepKind::Rinse => "a rinse step",
                StepKind::Rest => "a rest step",
                StepKind::Dry => "a dry step",
            },
        }
    }
}
