//! Tests that take minutes: hostile input through all commands, killed writers, and a browser. `cargo test --test slow`
//! runs them; `cargo test` leaves them out.
#![allow(
    clippy::disallowed_methods,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test may use the disk and panic"
)]
#![allow(dead_code, reason = "the other tests use the rest of these helpers")]

#[cfg(unix)]
#[path = "../closed_root.rs"]
mod closed_root;
#[path = "../evenings.rs"]
mod evenings;
#[path = "../kitchen.rs"]
mod kitchen;
#[path = "../mislabelled.rs"]
mod mislabelled;
#[path = "../unprivileged.rs"]
mod unprivileged;
#[path = "../printed.rs"]
mod printed;
#[path = "../program.rs"]
mod program;
#[path = "../readers.rs"]
mod readers;
#[path = "../titled.rs"]
mod titled;
#[path = "../writers.rs"]
mod writers;

mod adopted;
mod browser;
#[cfg(target_os = "linux")]
mod followed;
mod hostile;
#[cfg(unix)]
mod killed;
mod shelf;
