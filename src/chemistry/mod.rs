//! Chemistry: what a recipe's ingredients are, what they weigh and what harm they do.
//!
//! Tables with their sources, and the small look-ups into them. Nothing here knows a recipe: a later stage
//! brings the names that a formula uses and takes away molar masses, states, and the cautions to print.

mod element;
mod hazard;
mod ingredient;
mod strength;
mod statement;
mod caution;
mod nature;

pub use caution::{Concern, Line, PRECAUTIONS, Precaution, cautions};
pub use element::molar_mass;
pub use hazard::{HAZARDS, Hazard, SAID_BY, Signal, hazard};
pub use ingredient::{Ingredient, State, ingredient, ingredients};
pub use statement::{STATEMENTS, STATEMENTS_SOURCE, Statement};
pub use strength::{Held, Strength};
