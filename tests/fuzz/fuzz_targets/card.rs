//! Whatever is sound of any text compiles to a card that is harmless, or says why not.
#![no_main]

use libfuzzer_sys::fuzz_target;
use wetside::{compile::compile, emit};
use wetside_fuzz::{checked, evening, harmless};

fuzz_target!(|text: &str| {
    let (sources, file, shelf, _) = checked(text);
    let tank = shelf.tanks_of(file).next().map(|(_, tank)| tank);
    for recipe in shelf.recipes.iter().filter(|recipe| recipe.file == file && recipe.film.is_some()) {
        let Ok(schedule) = compile(&shelf, recipe, tank, &evening(), Vec::new()) else { continue };
        let look = emit::Look { width: 40, paint: emit::Paint::Plain, reasons: true };
        harmless(&emit::text(&emit::card(&schedule, &sources), look));
        harmless(&emit::json(&schedule, &sources));
    }
});
