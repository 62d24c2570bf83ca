//! Statements as types, with their slots as typed constants. It is a compile error to use a slot that the statement
//! lacks, or to leave a slot out of the pattern.

use std::marker::PhantomData;

use super::pattern::{Form, Part};
use super::row::{Often, Row};
use super::value::Value;

pub(crate) trait Statement: Copy + 'static {
    /// The statement's rows of the vocabulary table. They have different first words or blocks, but the same pattern.
    fn rows() -> &'static [Row];

    fn has(row: &'static Row) -> bool {
        Self::rows().as_ptr_range().contains(&std::ptr::from_ref(row))
    }
}

/// A type of slot. It defines what a slot of this type holds, and the Rust type of the slot's value.
#[diagnostic::on_unimplemented(note = "a choice of words is listed in `choices!` in src/vocabulary/value.rs")]
pub(crate) trait Capture: 'static {
    /// The Rust type of the slot's value.
    type Of<'a>;
    /// What the slot holds, as part of the pattern of a statement.
    const FORM: Form;
    /// A row of the vocabulary table, without a first word, by which the value of a command-line option is read.
    #[cfg_attr(not(feature = "cli"), allow(dead_code, reason = "the command line reads its options with it"))]
    const ROW: &'static Row = &Row {
        word: "",
        blocks: &[],
        takes: &[Part::Slot(0, Self::FORM)],
        opens: None,
        often: Often::Once,
        since: 1,
        meaning: "",
        example: match Self::FORM {
            Form::Value(kind) => kind.example(),
            _ => "",
        },
    };

    /// The content of `value` as this slot's Rust type; `None` if `value` is of a kind that the slot does not hold.
    fn of(value: &Value) -> Option<Self::Of<'_>>;
}

/// A slot of the statement `R` that holds a value of the slot type `T`. Only the slot's index is stored.
#[derive(Clone, Copy)]
pub(crate) struct Slot<R, T> {
    pub(super) at: u8,
    types: PhantomData<fn() -> (R, T)>,
}

impl<R, T: Capture> Slot<R, T> {
    pub(super) const fn new(at: u8) -> Slot<R, T> {
        Slot { at, types: PhantomData }
    }

    pub(super) const fn part(&self) -> Part {
        Part::Slot(self.at, T::FORM)
    }
}

/// Defines statements: for each statement a type, a constant for each slot, the pattern and the rows.
///
/// ```text
/// rows! { LIST;
///     In { solution: SolutionName, dilution: Dilution } [solution, Maybe(&[dilution])]
///         "in" BATHS, Once, "what it means", "in fixer 1+4";
/// }
/// ```
///
/// A row that opens a block names this block after the blocks that may have the statement: `FILE => Block::Film`. A row
/// that edition 1 of the language lacks ends with the number of the first edition that has it.
macro_rules! rows {
    ($list:ident; $(
        $name:ident { $($slot:ident: $type:ty),* $(,)? } [$($part:expr),* $(,)?]
        $($word:literal $blocks:expr $(=> $opens:expr)?, $often:ident, $meaning:literal, $example:literal
            $(, $since:literal)?;)+
    )*) => {
        /// For each of these statements, a function that returns the statement's rows of the vocabulary table.
        pub(super) const $list: &[fn() -> &'static [$crate::vocabulary::Row]] =
            &[$(<$name as $crate::vocabulary::slot::Statement>::rows),*];
        $(
            #[derive(Debug, Clone, Copy)]
            pub(crate) enum $name {}

            const _: () = {
                use $crate::vocabulary::slot::{self, Statement, opens, since};
                use $crate::vocabulary::{Often, Part, Row};

                #[allow(dead_code, non_camel_case_types, reason = "the numbers of the slots")]
                enum SlotIndex { $($slot),* }

                #[allow(non_upper_case_globals, reason = "a slot is written like the field that it is")]
                impl $name {
                    $(
                        pub(crate) const $slot: slot::Slot<$name, $type> = slot::Slot::new(SlotIndex::$slot as u8);
                    )*
                    const TAKES: &'static [Part] = {
                        $(const $slot: Part = $name::$slot.part();)*
                        &[$($part),*]
                    };
                }

                #[allow(dead_code, reason = "some slots are read with their spans")]
                impl<'a> $crate::vocabulary::Matched<'a, $name> {
                    $(
                        pub(crate) fn $slot(self) -> Option<<$type as slot::Capture>::Of<'a>> {
                            self.get($name::$slot)
                        }
                    )*
                }

                impl Statement for $name {
                    fn rows() -> &'static [Row] {
                        static ROWS: &[Row] = &[$(Row {
                            word: $word,
                            blocks: $blocks,
                            takes: $name::TAKES,
                            opens: opens!($($opens)?),
                            often: Often::$often,
                            since: since!($($since)?),
                            meaning: $meaning,
                            example: $example,
                        }),+];
                        ROWS
                    }
                }

                assert!(slot::fits($name::TAKES, &[$(stringify!($slot)),*]), "a pattern has each slot of its statement");
            };
        )*
    };
}

/// The value of the field `opens` of a row: the block that the statement opens, if one is given.
macro_rules! opens {
    () => {
        None
    };
    ($block:expr) => {
        Some($block)
    };
}

/// The value of the field `since` of a row: the given edition, or 1 if none is given.
macro_rules! since {
    () => {
        1
    };
    ($edition:literal) => {
        $edition
    };
}

pub(super) use {opens, rows, since};

/// Whether the pattern `parts` has all slots of its statement. `slots` are the names of these slots, in the order of
/// their indices.
pub(super) const fn fits(parts: &[Part], slots: &[&str]) -> bool {
    slots_in(parts) == (1 << slots.len()) - 1
}

/// The slots in a pattern, as bits: bit n is set if the pattern has the slot with the index n.
const fn slots_in(parts: &[Part]) -> u64 {
    let (mut left, mut slots) = (parts, 0);
    while let [first, rest @ ..] = left {
        slots |= match first {
            Part::Word(_) | Part::Comma | Part::Either([]) => 0,
            Part::Slot(at, _) => 1 << *at,
            Part::Maybe(inner) | Part::Newer(_, inner) | Part::NewWay(_, inner) | Part::List(inner) => {
                slots_in(inner)
            }
            Part::Either([way, ways @ ..]) => slots_in(way) | slots_in(&[Part::Either(ways)]),
        };
        left = rest;
    }
    slots
}
