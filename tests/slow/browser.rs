//! The page in a browser: opened from the disk, followed, reloaded and printed.
//!
//! Without Chromium (`apt-get install chromium`) the tests report that on standard error and pass. The times are those
//! of the README's card. Screenshots are in `target/tmp`.

mod chromium;
mod decisions;
mod following;
mod late;
mod lid;
mod looks;
mod pages;
mod plan;
mod print;
mod reading;
mod server;
mod sink;
mod site;
mod stage;
mod wrong_roll;
