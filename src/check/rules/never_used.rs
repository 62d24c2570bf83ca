//! The rule `never-used`.

use super::*;
use crate::source::Set;

rule! {
    /// # never-used: a film, a solution or an agitation that is never used
    ///
    /// The rule skips a file that others use, and one without recipes.
    ///
    /// **Why.** Often a recipe should name it and names another. Then the wrong bath is poured, or the wrong scheme
    /// followed.
    ///
    /// ```fires
    /// wetside 1
    /// agitation gentle {
    ///     then      5 s every 1 min
    /// }
    /// recipe wrong {
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Use it, or remove it.
    ///
    /// ```quiet
    /// wetside 1
    /// agitation gentle {
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
    Advice, File(check)
}

/// The kinds of declarations that are usually used in the file that declares them.
const KINDS: [Declared; 3] = [Declared::Film, Declared::Solution, Declared::Agitation];

fn check(file: &CheckedFile<'_>) -> Vec<Diagnostic> {
    let readings = &file.unit.readings;
    let understood = file.all_read && file.statements.iter().all(|it| it.sound && it.block_sound);
    let has_recipes = readings.iter().any(|it| it.declares() == Some(Declared::Recipe));
    if file.is_used || !understood || !has_recipes {
        return Vec::new();
    }
    let mut named: Set<(Declared, &str)> = Set::new();
    file.statements.iter().for_each(|statement| {
        statement.values(&mut |item| match &item.value {
            Value::Mention(kind, name) if KINDS.contains(kind) => _ = named.insert((*kind, name)),
            _ => {}
        });
    });
    let declared = readings.iter().filter_map(|it| Some((it.declares()?, it.name()?, it.row.word)));
    let declared: Vec<_> = declared.filter(|(kind, ..)| KINDS.contains(kind)).collect();
    let known: Set<(Declared, &str)> =
        declared.iter().map(|(kind, (name, _), _)| (*kind, *name)).collect();
    // If the file names something unknown, nothing is reported: that may be the misspelt name of the unused
    // declaration.
    if file.unit.uses.is_empty() && !named.iter().all(|name| known.contains(name)) {
        return Vec::new();
    }
    let unused = declared.into_iter().filter(|(kind, (name, _), _)| !named.contains(&(*kind, name)));
    let found = unused.map(|(_, (name, span), word)| {
        RULE.found(span, format!("the {word} '{name}' is never used in this file"))
            .help("use it, or remove it")
    });
    found.collect()
}
