//! What remains when the film hangs: the bottles, what is added to them, the waste.

use crate::compile::Schedule;
use crate::model::StepKind;

use super::fate::Fate;
use super::figure;
use super::load;
use super::naming;

/// What to do afterwards, each as a sentence without its full stop.
pub(super) fn afterwards(schedule: &Schedule) -> Vec<String> {
    let dries = schedule.steps.iter().any(|step| step.kind == StepKind::Dry);
    let hang = load::hanging(schedule).filter(|_| !dries).map(|order| format!("hang the film, {order}"));
    let mut said: Vec<String> = hang.into_iter().collect();
    said.extend(listed(schedule, Fate::Bottle, "back in its bottle"));
    said.extend(topped_up(schedule));
    said.extend(listed(schedule, Fate::Silver, "to the waste can, for its silver"));
    said.extend(listed(schedule, Fate::Waste, "to the waste can"));
    said.extend(listed(schedule, Fate::Away, "used up, to the sink or to waste as your local code says"));
    said.extend(listed(schedule, Fate::Unsaid, "kept, since the recipe does not say where it goes"));
    said
}

/// The baths of one fate, each once.
fn listed(schedule: &Schedule, fate: Fate, what: &str) -> Option<String> {
    let mut names: Vec<String> = Vec::new();
    for step in &schedule.steps {
        let Some(bath) = &step.bath else { continue };
        let name = naming::bath(bath);
        if Fate::of(step, bath, naming::written(schedule, step)) == fate && !names.contains(&name) {
            names.push(name);
        }
    }
    (!names.is_empty()).then(|| format!("{what}: {}", names.join(" · ")))
}

fn topped_up(schedule: &Schedule) -> Vec<String> {
    let baths = schedule.steps.iter().filter_map(|step| step.bath.as_ref());
    let added = baths.filter_map(|bath| Some((naming::bath(bath), bath.replenish?)));
    let mut said: Vec<String> = Vec::new();
    for (name, volume) in added {
        let text = format!("replenish: {} into the bottle of {name}", figure::measured(volume));
        if !said.contains(&text) {
            said.push(text);
        }
    }
    said
}
