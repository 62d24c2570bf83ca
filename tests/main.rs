//! All quick tests in one program, with a `mod` line for each file; `house` checks that none is missing.
#![allow(
    clippy::disallowed_methods,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test may use the disk and panic"
)]

mod additions;
mod adopt;
mod autumn;
mod bad_input;
mod baths;
mod bottles;
mod bounds;
mod bundle;
mod calls;
mod cards;
mod cautions;
mod chemistry;
#[cfg(unix)]
mod closed_root;
mod code;
mod collections;
mod compare;
mod decisions;
mod declared;
mod documents;
mod doubts;
mod editions;
mod editor;
mod evenings;
mod exact;
mod false_alarms;
mod faults;
mod fingerprint;
mod first_edition;
mod follow;
mod forms;
mod habits;
mod highlight;
mod house;
mod in_part;
mod kinds;
mod kitchen;
mod labels;
mod late;
mod leaders;
mod lift;
mod light;
mod lint;
mod lint_files;
mod list;
mod lost;
mod measure;
mod meetings;
mod mend;
mod mislabelled;
mod moments;
mod moves;
mod negatives;
mod offers;
mod outdated;
mod page;
mod pages;
mod paper;
mod personal;
mod pictures;
mod plan;
mod planned;
mod plausible;
mod printed;
mod processes;
mod program;
mod properties;
mod published;
mod readers;
mod readme;
mod record;
mod reference;
mod report;
mod roots;
mod running;
mod safety;
mod schedule;
mod site;
mod spellings;
mod start;
mod strangers;
mod swap;
mod tanks;
mod tidy;
mod titled;
mod trials;
mod two_fixers;
mod unprivileged;
mod unread;
mod vessels;
mod words;
mod work;
mod writers;
mod wrong_roll;
