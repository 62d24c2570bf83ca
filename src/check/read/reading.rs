//! What reading a statement gives: its row of the vocabulary and its values.

use crate::chemistry::Ingredient;
use crate::model::{
    Difference, Dilution, Flow, Format, Keeping, Mass, Number, Share, Speed, StepKind, Temperature, Time,
    Volume,
};
use crate::source::Span;
use crate::vocabulary::{Often, Row};

/// A statement as it was read.
#[derive(Debug, Clone)]
pub(crate) struct Reading {
    /// The row it follows.
    pub(crate) row: &'static Row,
    /// Its values and words, in order; empty where it could not be read.
    pub(crate) items: Vec<Item>,
    /// From its first word to its last.
    pub(crate) span: Span,
    /// From its first word to the end of its block.
    pub(crate) extent: Span,
    /// What stands in its block.
    pub(crate) rows: Vec<Reading>,
    /// Whether it was read without a fault.
    pub(crate) sound: bool,
    /// Whether every line of its block was; a block that is not may lack what it seems to lack.
    pub(crate) block_sound: bool,
}

/// A value or a word, and its place.
#[derive(Debug, Clone)]
pub(crate) struct Item {
    /// The value.
    pub(crate) value: Value,
    /// Its place.
    pub(crate) span: Span,
}

/// What a piece of a statement gives.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Value {
    Word(&'static str),
    Count(u32),
    Number(Number),
    Time(Time),
    Keeping(Keeping),
    Temperature(Temperature),
    Difference(Difference),
    Volume(Volume),
    Mass(Mass),
    MassPerLitre(Mass),
    VolumePerLitre(Volume),
    Share(Share),
    Dilution(Dilution),
    Flow(Flow),
    Speed(Speed),
    Date(jiff::civil::Date),
    Text(String),
    Name(String),
    Ingredient(&'static Ingredient),
    Format(Format),
    Step(StepKind),
}

/// Getters for the first value of a kind; a reading that is sound has all that its pattern wants.
macro_rules! first {
    ($($name:ident: $kind:ident($inner:ty)),* $(,)?) => {
        $(pub(crate) fn $name(&self) -> Option<$inner> {
            self.items.iter().find_map(|item| match &item.value {
                Value::$kind(value) => Some(value.clone()),
                _ => None,
            })
        })*
    };
}

#[expect(clippy::wildcard_enum_match_arm, reason = "a getter takes one kind and passes over all others")]
impl Reading {
    first! {
        count: Count(u32),
        number: Number(Number),
        time: Time(Time),
        keeping: Keeping(Keeping),
        temperature: Temperature(Temperature),
        difference: Difference(Difference),
        volume: Volume(Volume),
        share: Share(Share),
        dilution: Dilution(Dilution),
        flow: Flow(Flow),
        date: Date(jiff::civil::Date),
        text: Text(String),
        format: Format(Format),
        step: Step(StepKind),
    }

    /// The names, in order, with their places.
    pub(crate) fn names(&self) -> impl Iterator<Item = (&str, Span)> {
        self.items.iter().filter_map(|item| match &item.value {
            Value::Name(name) => Some((name.as_str(), item.span)),
            _ => None,
        })
    }

    /// The place of the dilution, or of the whole statement.
    pub(crate) fn dilution_span(&self) -> Span {
        let found = self.items.iter().find(|item| matches!(item.value, Value::Dilution(_)));
        found.map_or(self.span, |item| item.span)
    }

    /// The first name.
    pub(crate) fn name(&self) -> Option<(&str, Span)> {
        self.names().next()
    }

    /// The counts, in order.
    pub(crate) fn counts(&self) -> Vec<u32> {
        let count = |item: &Item| match item.value {
            Value::Count(count) => Some(count),
            _ => None,
        };
        self.items.iter().filter_map(count).collect()
    }

    /// The temperatures, in order.
    pub(crate) fn temperatures(&self) -> Vec<Temperature> {
        let temperature = |item: &Item| match item.value {
            Value::Temperature(temperature) => Some(temperature),
            _ => None,
        };
        self.items.iter().filter_map(temperature).collect()
    }

    /// Whether this word of the pattern stands in it.
    pub(crate) fn has(&self, word: &str) -> bool {
        self.items.iter().any(|item| matches!(item.value, Value::Word(there) if there == word))
    }

    /// Whether one block has room for only one of the two, and the later replaces what was inherited.
    pub(crate) fn is_one_with(&self, other: &Reading) -> bool {
        let form = |reading: &Reading| match reading.items.first().map(|item| &item.value) {
            Some(Value::Word(word)) => Some(*word),
            _ => None,
        };
        self.row.word == other.row.word
            && match self.row.often {
                Often::Must | Often::Once => true,
                Often::OnceEach => form(self) == form(other),
                Often::Some | Often::Many => false,
            }
    }

    /// The first word of the pattern that stands in it, of those given.
    pub(crate) fn word_of(&self, words: &[&'static str]) -> Option<&'static str> {
        words.iter().copied().find(|word| self.has(word))
    }
}
