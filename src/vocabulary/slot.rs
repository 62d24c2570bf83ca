//! Statements as types with their slots as typed constants. A slot that its statement or its pattern lacks does not
//! compile.

use std::marker::PhantomData;

use super::pattern::{Form, Part};
use super::row::{Often, Row};
use super::value::Value;

pub(crate) trait Statement: Copy + 'static {
    /// Its rows of the table: one, or several with the same pattern.
    fn rows() -> &'static [Row];

    fn has(row: &'static Row) -> bool {
        Self::rows().as_ptr_range().contains(&std::ptr::from_ref(row))
    }
}

/// What a slot can hold.
#[diagnostic::on_unimplemented(note = "a choice of words is listed in `choices!` in src/vocabulary/value.rs")]
pub(crate) trait Capture: 'static {
    /// The type of the value in a reading.
    type Of<'a>;
    /// What a slot of this type holds.
    const FORM: Form;
    /// The row of such a value alone.
    #[cfg_attr(not(feature = "cli"), allow(dead_code, reason = "the command line reads its options with it"))]
    const ROW: &'static Row = &Row {
        word: "",
        blocks: &[],
        takes: &[Part::Slot(0, Self::FORM)],
        opens: None,
        often: Often::Once,
        meaning: "",
        example: match Self::FORM {
            Form::Value(kind) => kind.example(),
            _ => "",
        },
    };

    /// The value, if it is one of this type.
    fn of(value: &Value) -> Option<Self::Of<'_>>;
}

/// A named place in the pattern of `R`, which holds a `T`.
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

/// Defines statements: for each a type, a constant for each slot, its pattern and its rows.
///
/// ```text
/// rows! { LIST;
///     In { solution: SolutionName, dilution: Dilution } [solution, Maybe(&[dilution])]
///         "in" BATHS, Once, "what it means", "in fixer 1+4";
/// }
/// ```
///
/// A row that opens a block names it after its blocks: `FILE => Block::Film`.
macro_rules! rows {
    ($list:ident; $(
        $name:ident { $($slot:ident: $type:ty),* $(,)? } [$($part:expr),* $(,)?]
        $($word:literal $blocks:expr $(=> $opens:expr)?, $often:ident, $meaning:literal, $example:literal;)+
    )*) => {
        /// Their rows, a list for each type.
        pub(super) const $list: &[fn() -> &'static [$crate::vocabulary::Row]] =
            &[$(<$name as $crate::vocabulary::slot::Statement>::rows),*];
        $(
            #[doc = concat!("The statement", $(" `", $word, "`",)+ ".")]
            #[derive(Debug, Clone, Copy)]
            pub(crate) enum $name {}

            const _: () = {
                use $crate::vocabulary::slot::{self, Statement, opens};
                use $crate::vocabulary::{Often, Part, Row};

                #[allow(dead_code, non_camel_case_types, reason = "the numbers of the slots")]
                enum SlotIndex { $($slot),* }

                #[allow(non_upper_case_globals, reason = "a slot is written like the field that it is")]
                impl $name {
                    $(
                        #[doc = concat!("The slot `", stringify!($slot), "`.")]
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
                        #[doc = concat!("The value of the slot `", stringify!($slot), "`.")]
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

/// The block that a row opens, or `None`.
macro_rules! opens {
    () => {
        None
    };
    ($block:expr) => {
        Some($block)
    };
}

pub(super) use {opens, rows};

/// Whether a pattern has each of these slots.
pub(super) const fn fits(parts: &[Part], slots: &[&str]) -> bool {
    slots_in(parts) == (1 << slots.len()) - 1
}

/// The slots in a pattern, a bit for each by its index.
const fn slots_in(parts: &[Part]) -> u64 {
    let (mut left, mut slots) = (parts, 0);
    while let [first, rest @ ..] = left {
        slots |= match first {
            Part::Word(_) | Part::Comma | Part::Either([]) => 0,
            Part::Slot(at, _) => 1 << *at,
            Part::Maybe(inner) | Part::List(inner) => slots_in(inner),
            Part::Either([way, ways @ ..]) => slots_in(way) | slots_in(&[Part::Either(ways)]),
        };
        left = rest;
    }
    slots
}
