//! The page in a browser: opened from the disk, followed, reloaded and printed.
//!
//! Without Chromium or Firefox (`apt-get install chromium firefox-esr`) the tests report that on standard error and pass.
//! The times are those of the README's card. Screenshots are in `target/tmp`.

mod access;
mod chromium;
mod decisions;
mod firefox;
mod following;
mod in_firefox;
mod large;
mod late;
mod lid;
mod linked;
mod looks;
mod pages;
mod plan;
mod print;
mod reading;
mod recorded;
mod server;
mod sink;
mod site;
mod stage;
mod strange;
mod wrong_roll;
