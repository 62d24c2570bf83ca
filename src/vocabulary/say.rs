//! One module with the types of all statements. Example: `say::Keeps::time` is the slot for the time of `keeps`.

pub(crate) use super::collections::*;
pub(crate) use super::darkroom::*;
pub(crate) use super::files::*;
pub(crate) use super::recipes::*;
pub(crate) use super::shelf::*;
pub(crate) use super::tanks::*;
pub(crate) use super::trials::*;
