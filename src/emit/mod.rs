//! The output forms. A [`Card`] has all words of a card; the human-readable forms add only layout.

mod afterwards;
mod baths;
mod beats;
mod card;
mod card_document;
mod cells;
mod comparison;
mod csv;
mod document;
mod history;

mod html;
mod ics;
mod json;
mod label;
mod link;
mod lid;
mod listing;
mod live;
mod manual;
mod mixing;
mod moments;
mod negatives;
mod next;
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
mod trial;
mod trial_plan;
mod try_first;
mod water;
mod wav;
mod words;

pub use baths::{baths, baths_json};
pub use card::{Card, card};
pub use card_document::{pdf, text};
pub use comparison::{comparison, comparison_json};
pub use csv::{csv, plan_csv};
pub use document::{
    Align, Block, Bullet, Cell, Column, Document, Figure, Head, Line, Marks, Part, Place, Ready, Reason,
    Section, Side, StepRow, StepText, Stub, Table, Total,
};
pub use history::{Changed, Once, history, history_json};
pub use html::{AskedRoll, Asking, PageParts, body, html, policy, style};
pub use ics::{ics, plan_ics};
pub use json::{json, plan_json};
pub use label::labels;
pub(crate) use link::encoded;
pub use listing::{About, Listed, found, listing, listing_json};
pub use live::{Hold, Live, Now, Press, Row, Said, Shade, Size, Took};
pub use manual::manual;
pub use mixing::{first_mixes, mixing_day, mixing_json};
pub use moments::{Moment, moments};
pub use negatives::{Developed, Sleeve, negatives, negatives_json};
pub use next::{NextLoad, next, next_json};
pub use pdf::{Paper, labels_pdf};
pub use picture::{bath_uses, curve, pair, pair_picture, strip, trial_picture, uses_picture};
pub(crate) use plain::escaped;
pub use plain::{Look, command_line};
pub use plan::plan;
pub use sheet::{Units, sheet, sheet_json};
pub use trial::{order_json, trial, trial_json, trial_order};
pub use trial_plan::trial_plan;
pub use water::{tempered, tempered_json};
pub use wav::{NoTrack, TRACK_MAX, wav};
pub use words::{kinds_with, measured, word, words, written};
