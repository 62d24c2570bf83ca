//! The rule `shadowed-name`.

use std::collections::BTreeMap;

use super::*;

rule! {
    /// # shadowed-name: one name for two things of different kinds, or a step named like a kind of step
    ///
    /// Examples are a solution and an agitation of one name, and a step `wash fix`. A film and its recipe may share
    /// a name.
    ///
    /// **Why.** The program distinguishes them by where they are. A reader confuses them.
    ///
    /// ```fires
    /// wetside 1
    /// solution stand {
    ///     role      developer
    /// }
    /// agitation stand {
    ///     at        0:00, 30:00 for 30 s
    /// }
    /// ```
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     wash stop {
    ///         soak      1:00 x 2
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Give one of them another name.
    ///
    /// ```quiet
    /// wetside 1
    /// solution syrup {
    ///     role      developer
    /// }
    /// agitation stand {
    ///     at        0:00, 30:00 for 30 s
    /// }
    /// recipe right {
    ///     develop {
    ///         in        syrup 1+100
    ///         time      60:00
    ///         between   18 C and 22 C
    ///         agitate   stand
    ///     }
    ///     wash developer-out {
    ///         soak      1:00 x 2
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Advice, File(check)
}

fn check(file: &CheckedFile<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    // For each name, the kind and the place of the first declaration of each kind.
    let mut seen: BTreeMap<&str, Vec<(Declared, Span)>> = BTreeMap::new();
    for (kind, (name, span)) in file.unit.readings.iter().filter_map(|it| it.declares().zip(it.name())) {
        let seen = seen.entry(name).or_default();
        match seen.iter().find(|(of, _)| *of != kind && !may_share(*of, kind)) {
            Some((other, earlier)) => found.push(
                RULE.found(span, format!("'{name}' is {} and {} here", other.words(), kind.words()))
                    .other(*earlier, "the first")
                    .help("give one of them another name"),
            ),
            None if seen.iter().all(|(of, _)| *of != kind) => seen.push((kind, span)),
            None => {}
        }
    }
    for (name, span) in file.statements.iter().copied().flat_map(inner_names) {
        if StepKind::parse(name).is_some() {
            let message = format!("'{name}' is a kind of step, and the name of a step or a bottle here");
            found.push(RULE.found(span, message).help(format!("choose another name, such as {name}-one")));
        }
    }
    found
}

fn may_share(one: Declared, other: Declared) -> bool {
    matches!((one, other), (Declared::Film, Declared::Recipe) | (Declared::Recipe, Declared::Film))
}

fn inner_names(statement: &Reading) -> Vec<(&str, Span)> {
    let step = statement.view::<say::Step>().and_then(|step| step.said(say::Step::name));
    let bottles = statement.view::<say::Parts>().into_iter().flat_map(|parts| parts.all(say::Parts::part));
    step.into_iter().chain(bottles).collect()
}
