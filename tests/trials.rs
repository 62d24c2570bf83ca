//! Own tests of a developer: curves, laws and times, against worked examples, published values and an outside library.

mod coverage;
mod degrees;
mod exposures;
mod fits;
mod language;
mod readings;
mod numbers;
mod sure;
