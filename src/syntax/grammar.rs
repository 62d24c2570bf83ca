//! The parser that pest makes of `grammar/wetside.pest`. Its rules stay in this stage.
#![allow(missing_docs, unreachable_pub, reason = "made by pest; the grammar has the comments")]

#[derive(pest_derive::Parser)]
#[grammar = "grammar/wetside.pest"]
pub(super) struct Grammar;
