//! The language server. It opens no files itself: the caller supplies them through a [`Desk`].

mod protocol;
mod frames;
mod documents;
mod view;
mod requests;
mod diagnostics;
mod layout;
mod places;
mod hover;
mod completion;
mod session;

pub use documents::Desk;
pub use session::{Session, serve};
