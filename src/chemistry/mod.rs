//! Chemistry: ingredients with their molar masses and hazards, and the cautions of a card.

mod element;
mod hazard;
mod pictogram;
mod ingredient;
mod spelling;
mod entry;
mod density;
mod percent;
mod own_ingredient;
mod mixture;
mod pairs;
mod strength;
mod caution;

pub use caution::{Concern, Form, PRECAUTIONS, Precaution, RULES_USED, cautions, on_label};
pub use element::molar_mass;
pub use entry::{ENTRIES, ENTRIES_SOURCE, Entry, Limit, Route, says};
pub use hazard::{HAZARDS, Hazard, SAID_BY, Signal};
pub use ingredient::{Ingredient, State, ingredient, ingredients};
pub use mixture::{Class, Mixture, Name, Portion, is_extreme};
pub use own_ingredient::OwnIngredient;
pub use pairs::{ACIDS, BURNING_BY_PH, OXIDISERS, PAIRS, Pair};
pub use percent::Percent;
pub use pictogram::pictograms;
pub use spelling::respelled_ingredient;
pub use strength::{Held, STATEMENTS, STATEMENTS_SOURCE, Statement, first_aid, statements_for};
