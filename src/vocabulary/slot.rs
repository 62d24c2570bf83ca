//! Statements as types with their slots as typed constants. A slot that its statement or its pattern lacks does not
//! compile.

use std::marker::PhantomData;

use super::pattern::{Form, Part, Place};
use super::row::{Often, Row};
use super::value::Value;

/// A statement of the language.
pub(crate) trait Statement: 'static {
    /// Its rows of the table: one, or several with the same pattern.
    fn rows() -> &'static [Row];

    /// Whether a row is one of them.
    fn has(row: &'static Row) -> bool {
        Self::rows().as_ptr_range().contains(&std::ptr::from_ref(row))
    }
}

/// What a slot can hold.
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
        takes: &[Part::Slot(Place { row: "", at: 0 }, Self::FORM)],
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
pub(crate) struct Slot<R, T> {
    place: Place,
    types: PhantomData<fn() -> (R, T)>,
}

impl<R, T> Clone for Slot<R, T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<R, T> Copy for Slot<R, T> {}

impl<R, T: Capture> Slot<R, T> {
    /// The slot of this name among those of its row.
    pub(super) const fn new(row: &'static str, slots: &[&str], name: &str) -> Slot<R, T> {
        let (mut left, mut at) = (slots, 0);
        while let [first, rest @ ..] = left
            && !same(first, name)
        {
            (left, at) = (rest, at + 1);
        }
        Slot { place: Place { row, at }, types: PhantomData }
    }

    /// Its index in its row.
    pub(super) fn at(self) -> u8 {
        self.place.at
    }

    /// Its part of the pattern.
    pub(super) const fn part(self) -> Part {
        Part::Slot(self.place, T::FORM)
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
        $crate::vocabulary::slot::list!($list $($name)*);
        $(
            #[doc = concat!("The statement", $(" `", $word, "`",)+ ".")]
            #[derive(Debug, Clone, Copy)]
            pub(crate) enum $name {}

            #[allow(non_upper_case_globals, reason = "a slot is written like the field that it is")]
            impl $name {
                const SLOTS: &'static [&'static str] = &[$(stringify!($slot)),*];
                $(
                    #[doc = concat!("The slot `", stringify!($slot), "`.")]
                    pub(crate) const $slot: $crate::vocabulary::slot::Slot<$name, $type> =
                        $crate::vocabulary::slot::Slot::new(stringify!($name), $name::SLOTS, stringify!($slot));
                )*
                const TAKES: &'static [$crate::vocabulary::pattern::Part] = {
                    $(const $slot: $crate::vocabulary::pattern::Part = $name::$slot.part();)*
                    &[$($part),*]
                };
            }

            impl $crate::vocabulary::slot::Statement for $name {
                fn rows() -> &'static [$crate::vocabulary::Row] {
                    static ROWS: &[$crate::vocabulary::Row] = &[$($crate::vocabulary::Row {
                        word: $word,
                        blocks: $blocks,
                        takes: $name::TAKES,
                        opens: $crate::vocabulary::slot::opens!($($opens)?),
                        often: $crate::vocabulary::Often::$often,
                        meaning: $meaning,
                        example: $example,
                    }),+];
                    ROWS
                }
            }

            const _: () = assert!(
                $crate::vocabulary::slot::fits($name::TAKES, stringify!($name), $name::SLOTS),
                "a pattern has each slot of its statement, and no slot of another",
            );
        )*
    };
}

/// The rows of statements, a list for each type.
macro_rules! list {
    (NONE $($name:ident)*) => {};
    ($list:ident $($name:ident)*) => {
        /// Their rows, a list for each type.
        pub(super) const $list: &[fn() -> &'static [$crate::vocabulary::Row]] =
            &[$(<$name as $crate::vocabulary::slot::Statement>::rows),*];
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

pub(super) use {list, opens, rows};

/// Whether a pattern has each of these slots of a row, and no slot of another row.
pub(super) const fn fits(parts: &[Part], row: &str, slots: &[&str]) -> bool {
    slots_in(parts, row) == (1 << slots.len()) - 1
}

/// The slots in a pattern, a bit for each by its index; the highest bit for a slot of another row.
const fn slots_in(parts: &[Part], row: &str) -> u64 {
    let (mut left, mut slots) = (parts, 0);
    while let [first, rest @ ..] = left {
        slots |= match first {
            Part::Word(_) | Part::Comma => 0,
            Part::Slot(place, _) => 1 << if same(place.row, row) { place.at } else { 63 },
            Part::Maybe(inner) | Part::List(inner) => slots_in(inner, row),
            Part::Either([]) => 0,
            Part::Either([way, ways @ ..]) => slots_in(way, row) | slots_in(&[Part::Either(ways)], row),
        };
        left = rest;
    }
    slots
}

const fn same(one: &str, other: &str) -> bool {
    let (mut one, mut other) = (one.as_bytes(), other.as_bytes());
    while let ([a, more @ ..], [b, others @ ..]) = (one, other) {
        if *a != *b {
            return false;
        }
        (one, other) = (more, others);
    }
    one.is_empty() && other.is_empty()
}
