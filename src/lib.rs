//! Wetside: recipes for film, kept as text, compiled into tonight's card.
//!
//! ```
//! use wetside::emit::{Look, card, json, text};
//! use wetside::model::{Format, Rolls, Temperature};
//! use wetside::{MemoryFiles, Tonight, check};
//!
//! let files = MemoryFiles::from([
//!     ("baths.wet", "wetside 1\nsolution soup \"Soup of the day\" {\n    role developer\n    needs 100 ml per roll\n}"),
//!     ("trial.wet", r#"wetside 1
//! use "baths.wet"
//! film trial-film {
//!     speed ISO 100
//! }
//! recipe trial {
//!     film trial-film
//!     index 100
//!     between 18 C and 24 C
//!     develop {
//!         in soup 1+3, one-shot
//!         time 6:30
//!         between 18 C and 24 C
//!         agitate first 30 s, then 10 s every 1 min
//!     }
//! }
//! "#)]);
//! let checked = check(&files, "trial.wet")?;
//! assert!(!checked.has_errors(), "{}", checked.report(&checked.findings));
//! let recipe = checked.recipe("trial").ok_or("there is no sound recipe of that name")?;
//! let tonight = Tonight::new(Temperature::celsius_whole(20), vec![Rolls { count: 2, format: Format::F120 }]);
//! let schedule = recipe.compile(&tonight).map_err(|reasons| checked.report(&reasons))?;
//! assert!(text(&card(&schedule, &checked.sources), Look::default()).contains("Soup of the day"));
//! assert!(json(&schedule, &checked.sources).contains("\"total_ms\": 390000"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! The core reads no files, no clock and no environment. The feature `disk` adds `DiskFiles`; the feature `cli`,
//! which is on by default, adds the program.
//!
//! The modules are stages, declared in the order of the work; each module uses only modules declared before it. A text
//! becomes a [`syntax::Tree`], trees become a [`model::Shelf`], a recipe and tonight's conditions become a
//! [`compile::Schedule`], and a schedule becomes a card.

// The generated parser refers to `alloc`.
extern crate alloc;

pub mod source;
pub mod report;
pub mod syntax;
pub mod chemistry;
pub mod trial;
pub mod model;
pub mod journal;
pub mod vocabulary;
pub mod check;
pub mod tidy;
pub mod compile;
pub mod plan;
pub mod measure;
pub mod compare;
pub mod evaluate;
pub mod emit;
pub mod editor;
pub mod page;
#[cfg(feature = "disk")]
#[allow(clippy::disallowed_methods, reason = "it reads files")]
pub mod disk;
#[cfg(feature = "cli")]
#[allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "the command line reads and writes files and the terminal"
)]
pub mod cli;

pub use check::check_file as check;
pub use compile::Tonight;
#[cfg(feature = "disk")]
pub use disk::DiskFiles;
pub use source::MemoryFiles;
