//! The output forms. A [`Card`] has all words of a card; the human-readable forms add only layout.

mod afterwards;
mod baths;
mod beats;
mod card;
mod comparison;
mod csv;
mod document;
mod history;
mod html;
mod ics;
mod json;
mod label;
mod lid;
mod listing;
mod live;
mod manual;
mod mixing;
mod moments;
<<<<<<< HEAD
mod next;
=======
mod negatives;
>>>>>>> f78ef5e3 (A plan says what to have, to buy and to mix before its loads; negatives, baths --soon and water from two taps)
mod object;
mod vessel;
mod phrase;
mod pdf;
mod picture;
mod plain;
mod plan;
mod sheet;
mod signs;
mod sound;
mod steps;
mod text;
mod trial;
mod trial_plan;
mod try_first;
mod water;
mod wav;
mod words;

pub use baths::{baths, baths_json};
pub use card::{Card, Line, Part, Place, Ready, Reason, StepText, Total, card};
pub use comparison::{comparison, comparison_json};
pub use csv::{csv, plan_csv};
pub use document::{Align, Block, Bullet, Column, Document, Head, Section, Table};
pub use history::{Changed, Once, history, history_json};
pub use html::{AskedRoll, Asking, asking_html, body, html, policy, style};
pub use ics::{ics, plan_ics};
pub use json::{json, plan_json};
pub use label::labels;
pub use listing::{About, Listed, found, listing, listing_json};
pub use live::{Hold, Live, Now, Press, Row, Said, Shade, Size, Took};
pub use manual::manual;
pub use mixing::{first_mixes, mixing_day, mixing_json};
pub use moments::{Moment, moments};
<<<<<<< HEAD
pub use next::{NextLoad, next, next_json};
=======
pub use negatives::{Developed, Sleeve, negatives, negatives_json};
>>>>>>> f78ef5e3 (A plan says what to have, to buy and to mix before its loads; negatives, baths --soon and water from two taps)
pub use pdf::{Paper, labels_pdf, pdf};
pub use picture::{curve, strip, trial_picture};
pub use plain::Look;
pub(crate) use plain::escaped;
pub use plan::plan;
pub use sheet::{Units, sheet, sheet_json};
pub use text::text;
pub use trial::{order_json, trial, trial_json, trial_order};
pub use trial_plan::trial_plan;
pub use water::{tempered, tempered_json};
pub use wav::{NoTrack, TRACK_MAX, wav};
pub use words::{kinds_with, measured, word, words, written};
