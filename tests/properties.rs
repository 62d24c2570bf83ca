//! Property tests with random texts, charts and evenings, the same in every run. `PROPTEST_RNG_SEED` and
//! `PROPTEST_CASES` in the environment change the seed and the number of cases.

pub(crate) mod agitation;
mod anything;
mod charts;
mod evenings;
mod maps;
mod mixing;
mod numbers;
mod recipe;
mod sameness;
mod scheme;

use proptest::strategy::Strategy as _;
use proptest::test_runner::{Config, RngSeed};

/// This number of cases, without files for failures.
pub(crate) fn tried(cases: u32) -> Config {
    let mut config = Config { failure_persistence: None, ..Config::default() };
    if std::env::var_os("PROPTEST_CASES").is_none() {
        config.cases = cases;
    }
    if config.rng_seed == RngSeed::Random {
        config.rng_seed = RngSeed::Fixed(19_370_611);
    }
    config
}

/// The texts of two unrelated recipes.
pub(crate) fn drafts() -> impl proptest::strategy::Strategy<Value = (String, String)> {
    (recipe::draft(), recipe::draft())
        .prop_map(|(one, other)| (one.text(recipe::METRIC), other.text(recipe::METRIC)))
}
