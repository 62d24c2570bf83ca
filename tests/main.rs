//! All tests are one program: a `mod` line a file, and `house` tells when one is forgotten.
#![allow(
    clippy::disallowed_methods,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test may touch the disk and fail loudly"
)]

mod bad_input;
mod calls;
mod cards;
mod cautions;
mod chemistry;
mod faults;
mod hostile;
mod house;
mod kitchen;
mod pages;
mod program;
mod properties;
mod readme;
mod reference;
mod schedule;
mod published;
