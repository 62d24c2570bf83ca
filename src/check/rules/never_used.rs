//! Something that a file declares and that none of its recipes asks for.

use std::collections::BTreeSet;

use super::super::read::{Reading, Value};
use super::Written;
use crate::source::Diagnostic;
use crate::vocabulary::{Block, Declared};

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
    let statements = written.statements();
    let understood = !written.unit.incomplete && statements.iter().all(|it| it.sound && it.block_sound);
    let has_recipes = written.unit.readings.iter().any(|it| it.row.word == Declared::Recipe.word());
    if written.is_used || !understood || !has_recipes {
        return;
    }
    let named: BTreeSet<&str> = statements.into_iter().flat_map(named).collect();
    for kind in [Declared::Film, Declared::Solution, Declared::Agitation] {
        let declared = written.unit.readings.iter().filter(|reading| reading.row.word == kind.word());
        for (name, span) in declared.filter_map(Reading::name).filter(|(name, _)| !named.contains(name)) {
            let message = format!("nothing in this file names the {} '{name}'", kind.word());
            let help = "name it where it was meant, or take it out";
            faults.push(RULE.found(span, message).help(help));
        }
    }
}

/// The names that a statement refers to by; its own, if it declares something, is none of them.
fn named(statement: &Reading) -> impl Iterator<Item = &str> {
    let own = match statement.row.opens {
        Some(Block::Step(_)) => usize::MAX,
        Some(_) => 1,
        None => 0,
    };
    let name = |value| match value {
        &Value::Name(ref name) => Some(name.as_str()),
        _ => None,
    };
    statement.items.iter().filter_map(move |item| name(&item.value)).skip(own)
}
