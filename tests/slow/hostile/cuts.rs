//! A sound file that is cut off at any byte or has single changed bytes, as after a full disk or a bad transfer.

use std::fs;
use std::path::Path;

use super::{CALLS, Ends, Input, SOUND, all_end_in_order, unfit};
use crate::kitchen::{Kitchen, celsius, evening};

const SHELF: [&str; 4] = ["agitation.wet", "bases.wet", "films.wet", "solutions.wet"];

fn recipe(name: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes").join(name)).unwrap()
}

#[test]
fn a_sound_recipe_cut_anywhere_ends_in_order() {
    let cut = |at: usize| {
        let input = Input::new(format!("{at} bytes"), Ends::Either, SOUND.get(..at).unwrap());
        // Every cut goes through `check` and `card`, every seventh through all commands.
        if at.is_multiple_of(7) { input.in_a_darkroom() } else { input.only(CALLS.iter().take(2)) }
    };
    all_end_in_order(&(0..SOUND.len()).map(cut).collect::<Vec<_>>());
}

/// A recipe that derives and imports, checked and compiled in memory.
#[test]
fn a_recipe_cut_anywhere_is_reported_or_compiled() {
    let whole = recipe("wheelhouse-400-mq.wet");
    let others = SHELF.map(|name| (name, recipe(name)));
    let others = others.each_ref().map(|(name, text)| (*name, text.as_str()));
    let tonight = evening(celsius("20"), &[(1, wetside::model::Format::F120)]);
    let mut compiled = 0;
    for at in (0..=whole.len()).filter(|at| whole.is_char_boundary(*at)) {
        let kitchen = Kitchen::of_files(whole.get(..at).unwrap(), &others);
        assert_eq!(unfit(kitchen.report(&kitchen.findings).as_bytes()), None, "cut at {at}");
        if kitchen.shelf.recipes.iter().any(|recipe| recipe.film.is_some()) {
            match kitchen.tried(&tonight) {
                Ok(_) => compiled += 1,
                Err(faults) => assert!(faults.iter().all(|fault| !fault.help.is_empty()), "cut at {at}"),
            }
        }
    }
    assert!(0 < compiled, "not even the whole recipe compiles");
}

/// Every 13th byte, with one bit changed, or replaced by a byte with a special meaning.
#[test]
fn a_sound_recipe_with_one_changed_byte_ends_in_order() {
    let turned = (0..SOUND.len()).step_by(13).zip([1, 2, 4, 8, 16, 32, 64, 128].into_iter().cycle());
    let set = (5..SOUND.len()).step_by(29).zip(*b"\0\x1b{}\"#\n\r\xff\x80\xc0");
    let with = |at: usize, byte: u8| {
        let mut bytes = SOUND.as_bytes().to_vec();
        *bytes.get_mut(at).unwrap() = byte;
        Input::new(format!("byte {at} as {byte}"), Ends::Either, bytes)
    };
    let turned = turned.map(|(at, bit)| with(at, SOUND.as_bytes().get(at).unwrap() ^ bit));
    all_end_in_order(&turned.chain(set.map(|(at, byte)| with(at, byte))).collect::<Vec<_>>());
}
