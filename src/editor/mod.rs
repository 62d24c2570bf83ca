//! The editor's side: a language server that reads the protocol's frames and answers each with what the
//! stages before it know. It opens no file by itself; whoever runs it lends it a [`Desk`].

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
