//! A language server. It opens no file itself: the caller supplies them through a [`Desk`].

mod frames;
mod positions;
mod addresses;
mod documents;
mod view;
mod refusal;
mod abilities;
mod session;
mod diagnostics;
mod actions;
mod standing;
mod named;
mod far;
mod hover;
mod definition;
mod links;
mod references;
mod rename;
mod completion;
mod symbols;
mod folding;
mod formatting;
mod hints;

pub use documents::Desk;
pub use session::{Ended, serve};
