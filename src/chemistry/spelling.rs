//! Other spellings of the names of ingredients.

use super::ingredient::ingredients;

/// Chemicals that are not ingredients, although their names look like other spellings of ingredients.
const OTHERS: &[&str] = &["glycine"];

/// The name of the ingredient that `name` spells another way, such as `sodium-sulphite`, or with one letter missing,
/// added or swapped with its neighbour.
///
/// A name with one wrong letter is not accepted, because sulfite, sulfate and sulfide differ by one letter.
pub fn respelled_ingredient(name: &str) -> Option<&'static str> {
    let own = sound(name);
    if own.is_empty() || OTHERS.contains(&name.to_lowercase().as_str()) {
        return None;
    }
    let names = || ingredients().iter().map(|known| known.name);
    if let Some(same) = names().find(|known| sound(known) == own) {
        return Some(same);
    }
    let mut near = names().filter(|known| is_slip(&own, &sound(known)));
    near.next().filter(|_| near.next().is_none())
}

/// The letters of a name after spelling differences are removed: case, `ph` for `f`, `y` for `i`, doubled letters, and
/// an `e` at the end of a word.
fn sound(name: &str) -> Vec<char> {
    let lower = name.to_lowercase().replace(['_', ' '], "-").replace("ph", "f").replace('y', "i");
    let words = lower.split('-').map(|word| word.strip_suffix('e').unwrap_or(word));
    let mut letters: Vec<char> = words.collect::<Vec<_>>().join("-").chars().collect();
    letters.dedup();
    letters
}

/// Whether the names differ by one missing letter, or by two neighbouring letters that are swapped.
fn is_slip(one: &[char], other: &[char]) -> bool {
    let same = one.iter().zip(other).take_while(|(a, b)| a == b).count();
    let end = one.iter().rev().zip(other.iter().rev()).take_while(|(a, b)| a == b).count();
    let (short, long) = (one.len().min(other.len()), one.len().max(other.len()));
    let swapped = || {
        let pair = |letters: &[char]| Some((*letters.get(same)?, *letters.get(same + 1)?));
        pair(one).zip(pair(other)).is_some_and(|((a, b), (c, d))| (a, b) == (d, c))
    };
    match long - short {
        0 => same + end + 2 == long && swapped(),
        1 => same + end >= short,
        _ => false,
    }
}
