//! Recipes, films, solutions, tanks and the user's darkroom after checking: names are resolved, quantities are in base
//! units.

mod agitation;
mod canonical;
mod chart;
mod collection;
mod content;
mod darkroom;
mod date;
mod fact;
mod fingerprint;
mod format;
mod keeping;
mod mixed;
mod quantity;
mod recipe;
mod shelf;
mod solution;
mod speed;
mod step;
mod tank;
mod trial;
mod wash;
mod work;
mod words;

pub use agitation::{Amount, Knock, Motion, Pulse, Scheme};
pub use chart::{
    Chart, Coefficient, Point, Steep, Stray, change_by_rate, coefficient, steep_part, stray_point, usual_time,
};
pub use collection::{Collection, Export};
pub use content::{Concentration, Content, OwnContent};
pub use darkroom::{
    Backlog, ClearedThen, ClearingTest, Darkroom, DarkroomPart, Exposed, KeptBath, LeftOut, ReadThen,
    Session, Slot, TookThen, UsedBath,
};
pub use date::Date;
pub use fact::{Fact, Key, Portion, Value};
pub(crate) use fingerprint::short;
pub use fingerprint::{Fingerprint, FingerprintSought, is_fingerprint};
pub use format::{Format, LengthUnit, Side};
pub use keeping::{Keeping, KeepingUnit, Keeps, KeepsFor};
pub use mixed::{Mixed, Silent};
pub(crate) use quantity::gcd;
pub use quantity::{Difference, Flow, Limit, Mass, Number, Share, Speed, Temperature, Time, Volume, decimal};
pub use recipe::{Clearing, Deprecated, Film, Grain, Lighting, Material, Recipe, Repeat, Stated, Tested};
pub use shelf::{Shelf, Unsound};
pub use solution::{
    Contained, Dilution, Extend, Formula, Item, Measure, Quickening, Replenisher, Role, Solution, Substance,
    Treats,
};
pub use speed::{both_speeds, film_speed_pushed, nearest_speed};
pub use step::{Addition, Band, Bath, Change, Clock, Duration, Sign, Step, StepKind, Use};
pub use tank::{Reels, Rolls, Tank, Transfer};
pub use trial::{Aim, BracketStep, CHOSEN, ContrastMeasure, Piece, RestsOn, Slope, Thermometer, Trial};
pub use wash::Washing;
pub(crate) use words::words;
