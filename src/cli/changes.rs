//! Tells what would change in a file, line by line. Tidying keeps every line that is not blank and
//! their order, so the old and the new are told apart without a search.

use std::fmt::Write;

use super::root::printable;
use crate::report::sanitise;

/// So many changes of one file are shown.
const SHOWN_MAX: usize = 20;

/// That a byte-order mark goes.
pub(super) fn of_a_mark(name: &str) -> String {
    format!("{}:1: a byte-order mark before it, in the tidy form none\n", printable(name))
}

/// The changes of a file, each with the number of its old line.
pub(super) fn told(name: &str, old: &str, new: &str) -> String {
    let name = printable(name);
    let mut all = Vec::new();
    let (mut old_above, mut new_above) = (0, 0);
    for ((old_at, old), (new_at, new)) in written(old).zip(written(new)) {
        let (was, is) = (old_at - old_above - 1, new_at - new_above - 1);
        if was != is {
            all.push(format!("{name}:{old_at}: blank lines above it: {was}, in the tidy form {is}\n"));
        }
        if old != new {
            all.push(format!("{name}:{old_at}:\n- {}\n+ {}\n", sanitise(old), sanitise(new)));
        }
        (old_above, new_above) = (old_at, new_at);
    }
    if all.is_empty() {
        return format!("{name}: how its lines end, or its blank lines at the end\n");
    }
    let mut text: String = all.iter().take(SHOWN_MAX).map(String::as_str).collect();
    if all.len() > SHOWN_MAX {
        // Writing to a string cannot fail.
        let _ = writeln!(text, "{name}: and {} more changes", all.len() - SHOWN_MAX);
    }
    text
}

/// The lines that are not blank, with their numbers.
fn written(text: &str) -> impl Iterator<Item = (usize, &str)> {
    (1..).zip(text.lines()).filter(|(_, line)| !line.trim_matches([' ', '\t', '\r']).is_empty())
}
