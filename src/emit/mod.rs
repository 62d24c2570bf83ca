//! What goes out: the schedule as a card to read and as JSON to follow. An output decides nothing: what
//! a card says is settled in [`Card`], what a program reads in the schedule, and here it is only drawn.

mod actions;
mod afterwards;
mod card;
mod clock;
mod compose;
mod facts;
mod fate;
mod figure;
mod highlight;
mod html;
mod json;
mod load;
mod mix;
mod mixture;
mod moments;
mod moving;
mod naming;
mod page;
mod picture;
mod plain;
mod reasons;
mod reference;
mod style;
mod text;
mod work;
mod aspect;
mod reading;
mod wording;
mod words;
mod comparison;
mod comparison_json;

pub use card::{Block, Card, Line, Part, Place, Ready, Reason, Total};
pub use comparison::comparison;
pub use comparison_json::comparison_json;
pub use compose::card;
pub use highlight::highlight;
pub use html::{Reckoning, html};
pub use json::json;
pub use moments::{Moment, moments};
pub use picture::{Anchor, Drawing, Ink, Shape};
pub use reference::{Drawn, reference};
pub use style::{Look, Paint};
pub use text::text;
pub use words::{word, words};
