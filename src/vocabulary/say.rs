//! The statements as types, under one name: `say::Keeps::time` is the time of `keeps`.

pub(crate) use super::darkroom::*;
pub(crate) use super::files::*;
pub(crate) use super::recipes::*;
pub(crate) use super::shelf::*;
pub(crate) use super::tanks::*;
