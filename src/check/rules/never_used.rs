//! Something that a file declares and that none of its recipes asks for.

use std::collections::BTreeSet;

use super::super::read::Reading;
use super::Written;
use crate::source::Diagnostic;
use crate::vocabulary::Declared;

rule! {
    /// # never-used
    ///
    /// **What.** A file that has recipes of its own declares a film, a solution or an agitation, and nothing in it names that. A file that others use is let off.
    ///
    /// **Why.** Often it is what a recipe was meant to name, and that recipe names another: the wrong bath is poured, or the wrong scheme followed.
    ///
    /// ```fires
    /// wetside 1
    /// agitation gentle {
    ///     first     30 s
    ///     then      5 s every 1 min
    /// }
    /// recipe wrong {
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Name it where it was meant, or take it out.
    ///
    /// ```quiet
    /// wetside 1
    /// agitation gentle {
    ///     first     30 s
    ///     then      5 s every 1 min
    /// }
    /// recipe right {
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///         agitate   gentle
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "never-used", Advice, "a film, a solution or an agitation that is declared and never named", File(look)
}

fn look(written: &Written<'_>, faults: &mut Vec<Diagnostic>) {
    let statements = &written.statements;
    let understood = written.all_read && statements.iter().all(|it| it.sound && it.block_sound);
    let has_recipes = written.unit.readings.iter().any(|it| it.row.word == Declared::Recipe.word());
    if written.is_used || !understood || !has_recipes {
        return;
    }
    // Each kind has names of its own: to name the film is not to name the solution that is called the same.
    let named = statements.iter().copied().filter_map(|it| refers(it).map(|kind| (kind, it)));
    let named: BTreeSet<(&str, &str)> = named.flat_map(|(kind, it)| names(kind, it)).collect();
    let kinds = [Declared::Film, Declared::Solution, Declared::Agitation];
    let declares = |reading: &&Reading| kinds.iter().any(|kind| kind.word() == reading.row.word);
    let declared: Vec<&Reading> = written.unit.readings.iter().filter(declares).collect();
    let known: BTreeSet<(&str, &str)> = declared.iter().flat_map(|it| names(it.row.word, it)).collect();
    // A name that nothing here bears is told by itself: it may be this one, misspelt.
    if written.unit.uses.is_empty() && !named.is_subset(&known) {
        return;
    }
    for reading in declared {
        let is_named = |name: &str| named.contains(&(reading.row.word, name));
        let Some((name, span)) = reading.name().filter(|(name, _)| !is_named(name)) else { continue };
        let message = format!("nothing in this file names the {} '{name}'", reading.row.word);
        faults.push(RULE.found(span, message).help("name it where it was meant, or take it out"));
    }
}

/// The statements that name what is declared elsewhere, and the kind of what they name.
const REFERS: [(&str, Declared); 5] = [
    ("film", Declared::Film),
    ("roll", Declared::Film),
    ("in", Declared::Solution),
    ("clears", Declared::Solution),
    ("agitate", Declared::Agitation),
];

/// The word of the kind of which a statement names one that is declared elsewhere.
fn refers(statement: &Reading) -> Option<&'static str> {
    let own = REFERS.iter().find(|(word, _)| *word == statement.row.word);
    own.filter(|_| statement.row.opens.is_none()).map(|(_, kind)| kind.word())
}

fn names<'a>(kind: &'a str, statement: &'a Reading) -> impl Iterator<Item = (&'a str, &'a str)> {
    statement.names().map(move |(name, _)| (kind, name))
}
