//! The rows of the vocabulary table: each row is one statement of the language.

use std::borrow::Cow;

use super::kind::{Declared, Kind};
use super::pattern::{Form, Part, pattern_text};
use crate::model::{StepKind, words};

/// The newest edition of the language that this program reads. The first statement of a file states the file's edition.
pub const EDITION: u32 = 2;

/// One statement of the language.
#[derive(Debug)]
pub struct Row {
    /// The first word of the statement. Empty for a line of a chart or a formula, which begins with a value.
    pub word: &'static str,
    /// The blocks that may have the statement.
    pub blocks: &'static [Block],
    /// The pattern of the tokens after the first word.
    pub takes: &'static [Part],
    /// The block that the statement opens, such as a film's block; `None` if it opens no block.
    pub opens: Option<Block>,
    /// How often a block may have the statement.
    pub often: Often,
    /// The number of the first edition of the language that has the statement.
    pub since: u32,
    /// The meaning of the statement, in one line.
    pub meaning: &'static str,
    /// An example of the statement, as a recipe has it.
    pub example: &'static str,
}

impl Row {
    /// The first word and the pattern, as the reference prints them.
    pub fn text(&self) -> String {
        format!("{} {}", self.word, pattern_text(self.takes)).trim().to_owned()
    }

    /// All words that the pattern can contain, in order. The first word of the statement is not among them.
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
            _ => {}
        });
        words
    }

    /// The kinds of all values that the pattern can contain, in order.
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

/// A kind of block.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Block {
    /// the whole file, outside of all other blocks
    File,
    /// `film … {`
    Film,
    /// `ingredient … {`
    Ingredient,
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
    /// the block of a step of this kind, such as `develop {`
    Step(StepKind),
    /// `chart {`
    Chart,
    /// `trial … {`
    Trial,
    /// `strip … {`
    Strip,
    /// `wedge … {`
    Wedge,
    /// `reader … {`
    Reader,
    /// `bath … {`
    Bath,
    /// `test … {`
    Test,
    /// `session … {`
    Session,
    /// `backlog … {`
    Backlog,
    /// `collection … {`
    Collection,
}

words! {
    /// How often a block may have a statement.
    pub enum Often {
        Must = "once, needed",
        Once = "once",
        /// once for each of the slots that can come first in the statement, as `light room` and `light "a lamp"`
        OnceEach = "once each",
        Some = "at least once",
        Many = "any number",
    }
}

impl Block {
    /// The kind of block with an article, as messages have it, such as `a film`.
    pub fn words(self) -> Cow<'static, str> {
        match self {
            Block::File => "a file".into(),
            Block::Formula => "a formula".into(),
            Block::Chart => "a chart".into(),
            Block::Strip => "a strip".into(),
            Block::Step(StepKind::Expose) => "an expose step".into(),
            Block::Step(kind) => format!("a {} step", kind.word()).into(),
            _ => self.declares().map_or("", Declared::words).into(),
        }
    }

    /// The column at which the values of statements begin in the standard layout, counted after the indentation. It is
    /// fixed for each kind of block, so that a change of one line moves no value on another line. A word that reaches
    /// this column is followed by one space.
    pub fn column(self) -> usize {
        match self {
            Block::File => 0,
            Block::Chart => 7,
            Block::Formula => 17,
            _ => 10,
        }
    }
}
