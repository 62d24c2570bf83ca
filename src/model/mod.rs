//! What the trade talks about: quantities, films, solutions, tanks, agitation and recipes, as values
//! whose names are resolved and whose units are fixed.

mod agitation;
mod backlog;
mod band;
mod bath;
mod chart;
mod darkroom;
mod date;
mod dilution;
mod fact;
mod film;
mod format;
mod lines;
mod quantity;
mod reach;
mod recipe;
mod session;
mod shelf;
mod solution;
mod stated;
mod steepness;
mod step;
mod tank;
mod work;
mod words;

pub use agitation::{Amount, Knock, Motion, Pulse, Scheme};
pub use backlog::{Backlog, Exposed};
pub use band::Band;
pub use bath::{Bath, KeptBath, Use};
pub use chart::{Chart, Point};
pub use darkroom::{ClearingTest, Darkroom};
pub use date::{Date, NoDate};
pub use dilution::Dilution;
pub use fact::{Fact, Key, Portion, Value};
pub use film::{Clearing, Film, Grain};
pub use format::{Format, Rolls};
pub use lines::lines;
pub use quantity::{
    Difference, Flow, Limit, Mass, Number, Range, Share, Speed, Temperature, Time, Volume, decimal,
};
pub use recipe::Recipe;
pub use session::{Session, Slot, StepAt};
pub use shelf::{Shelf, Unsound};
pub use solution::{
    Extend, Formula, Item, Keeping, KeepingUnit, Measure, Quickening, Role, Solution, Substance, Treats,
};
pub use stated::Stated;
pub use steepness::{
    Coefficient, Steep, Stray, change_by_rate, coefficient, steep_part, stray_point, usual_time,
};
pub use step::{Change, Clock, Duration, Step, StepKind};
pub use tank::{Reels, Tank};
pub(crate) use words::words;
