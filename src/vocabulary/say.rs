//! The types of all statements in one module. Example: `say::Keeps` is the statement `keeps`, and `say::Keeps::time` is
//! its slot for a time.

pub(crate) use super::collections::*;
pub(crate) use super::darkroom::*;
pub(crate) use super::files::*;
pub(crate) use super::recipes::*;
pub(crate) use super::shelf::*;
pub(crate) use super::tanks::*;
pub(crate) use super::trials::*;
