//! A language server. It opens no file itself: the caller supplies them through a [`Desk`].

mod frames;
mod positions;
mod documents;
mod view;
mod requests;
mod diagnostics;
mod lines;
mod places;
mod rename;
mod hover;
mod completion;
mod layout;
mod session;

pub use documents::Desk;
pub use session::{Ended, serve};
