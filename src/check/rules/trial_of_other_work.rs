//! The rule `trial-of-other-work`.

use super::*;

rule! {
    /// # trial-of-other-work: a time by a trial of another film, bath or agitation
    ///
    /// The rule compares what the trial states with the recipe: the film by its name, the developer with its dilution,
    /// the agitation, and the temperature with those that the step allows.
    ///
    /// **Why.** A trial says how long this film takes in this bath, moved in this way. Another film, another bath or
    /// another agitation takes another time.
    ///
    /// ```fires
    /// wetside 2
    /// film marsh-100 {
    /// }
    /// film heath-400 {
    /// }
    /// solution soup {
    ///     role      developer
    /// }
    /// trial heath "The mill wall" {
    ///     film      heath-400
    ///     in        soup 1+1 at 20 C
    ///     piece     6:00 "soft"
    ///     piece     8:00 "right"
    ///     piece     10:40 "hard"
    /// }
    /// recipe marsh {
    ///     film      marsh-100
    ///     develop {
    ///         in        soup 1+1, one-shot
    ///         time      by heath
    ///         within    0.5 C
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Make the trial as you work, and give each film its own.
    ///
    /// ```quiet
    /// wetside 2
    /// film marsh-100 {
    /// }
    /// solution soup {
    ///     role      developer
    /// }
    /// trial marsh "The mill wall" {
    ///     film      marsh-100
    ///     in        soup 1+1 at 20 C
    ///     agitate   first 30 s, then 10 s every 1 min
    ///     piece     6:00 "soft"
    ///     piece     8:00 "right"
    ///     piece     10:40 "hard"
    /// }
    /// recipe marsh {
    ///     film      marsh-100
    ///     develop {
    ///         in        soup 1+1, one-shot
    ///         time      by marsh
    ///         within    0.5 C
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Warning, Recipe(check)
}

fn check(recipe: &Recipe) -> Vec<Diagnostic> {
    let steps = recipe.steps.iter().filter_map(|step| Some((step, step.rests_on.as_ref()?)));
    steps.flat_map(|(step, rests)| differences(recipe, step, rests)).collect()
}

fn differences(recipe: &Recipe, step: &Step, rests: &RestsOn) -> Vec<Diagnostic> {
    let trial = &*rests.trial;
    let finding = |what: &str, own: &str, tested: &str, place: Span, label: &str| {
        let message = format!("the time rests on the trial '{}', whose {what} is {tested}, not {own}", trial.name);
        let help = format!("make a trial with {own}, or write the time itself");
        RULE.found(rests.span, message).other(place, label).other(trial.span, "the trial").help(help)
    };
    let film = recipe.film.as_ref().filter(|film| film.name != trial.film.name);
    let film = film.map(|film| finding("film", &film.name, &trial.film.name, film.span, "the film of the recipe"));
    let tested = format!("{} {}", trial.solution.name, trial.dilution);
    let bath = step.bath.as_ref().and_then(|bath| {
        let solution = bath.solution.as_ref()?;
        let is_it = solution.span == trial.solution.span
            && bath.dilution.reduced() == trial.dilution.reduced()
            && bath.part == trial.part;
        let own = format!("{} {}", solution.name, bath.dilution);
        (!is_it).then(|| finding("bath", &own, &tested, bath.span, "the bath of the step"))
    });
    let agitation = step.agitation.as_ref().zip(trial.agitation.as_ref()).and_then(|(own, tested)| {
        let message = format!("the time rests on the trial '{}', in which the film was agitated in another way", trial.name);
        ((&own.pulse, own.by) != (&tested.pulse, tested.by)).then(|| {
            RULE.found(rests.span, message)
                .other(own.span, "the agitation of the step")
                .other(tested.span, "the agitation of the trial")
                .help("agitate as in the trial, or make a trial that is agitated as here")
        })
    });
    film.into_iter().chain(bath).chain(agitation).chain(temperature(step, rests)).collect()
}

fn temperature(step: &Step, rests: &RestsOn) -> Option<Diagnostic> {
    let (Some(Band::Between(low, high)), Duration::Plain { at: Some(at), .. }) =
        (step.band.as_deref(), &step.duration.value)
    else {
        return None;
    };
    let name = &rests.trial.name;
    let message = format!("the trial '{name}' was made at {at}, and the step allows {low} to {high}");
    let help = format!("allow its temperature: within 0.5 C; or make a trial between {low} and {high}");
    let is_outside = at < low || high < at;
    is_outside.then(|| RULE.found(rests.span, message).other(rests.trial.span, "the trial").help(help))
}
