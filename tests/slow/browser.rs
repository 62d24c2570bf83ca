//! The page in a browser: opened from the disk, followed, paused, left, loaded again, looked at and printed.
//!
//! It needs Chromium (`apt-get install chromium`), and says so on standard error where there is none. The
//! evening is the README's: its times are read off that card. Screenshots are left below `target/tmp`.

mod chromium;
mod following;
mod looks;
mod plan;
mod print;
mod reading;
mod stage;
