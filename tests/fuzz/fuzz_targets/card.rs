//! The sound recipes of any text compile to a harmless card, or to diagnostics.
#![no_main]

use libfuzzer_sys::fuzz_target;
use wetside::{Tonight, emit};
use wetside_fuzz::{checked, evening, harmless};

fuzz_target!(|text: &str| {
    let checked = checked(text);
    let tank = checked.shelf.tanks_of(checked.file).next().map(|(_, tank)| tank.clone());
    let tonight = Tonight { tank, ..evening() };
    for recipe in checked.recipes().filter(|recipe| recipe.film.is_some()) {
        let Ok(schedule) = recipe.compile(&tonight) else { continue };
        let look = emit::Look { width: 40, colour: false, reasons: true };
        harmless(&emit::text(&emit::card(&schedule, &checked.sources), look));
        harmless(&emit::json(&schedule, &checked.sources));
    }
});
