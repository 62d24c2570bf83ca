//! Something that a file declares and that none of its recipes asks for.

use std::collections::BTreeSet;

use super::Written;
use crate::source::Diagnostic;
use crate::vocabulary::{Declared, Value};

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
    let has_recipes = written.unit.readings.iter().any(|it| it.declares() == Some(Declared::Recipe));
    if written.is_used || !understood || !has_recipes {
        return;
    }
    // Each kind has names of its own: to name the film is not to name the solution that is called the same.
    let mut named: BTreeSet<(Declared, &str)> = BTreeSet::new();
    statements.iter().for_each(|statement| {
        statement.values(&mut |item| match &item.value {
            Value::Mention(kind, name) if KINDS.contains(kind) => _ = named.insert((*kind, name)),
            _ => {}
        });
    });
    let declared = written.unit.readings.iter().filter_map(|it| Some((it.declares()?, it.name()?)));
    let declared: Vec<_> = declared.filter(|(kind, _)| KINDS.contains(kind)).collect();
    let known: BTreeSet<(Declared, &str)> = declared.iter().map(|(kind, (name, _))| (*kind, *name)).collect();
    // A name that nothing here bears is told by itself: it may be this one, misspelt.
    if written.unit.uses.is_empty() && !named.is_subset(&known) {
        return;
    }
    for (kind, (name, span)) in declared {
        if !named.contains(&(kind, name)) {
            let message = format!("nothing in this file names the {} '{name}'", kind.word());
            faults.push(RULE.found(span, message).help("name it where it was meant, or take it out"));
        }
    }
}

/// What is declared to be named in the same file.
const KINDS: [Declared; 3] = [Declared::Film, Declared::Solution, Declared::Agitation];
