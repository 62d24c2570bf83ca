//! Checks the temperature of a step against the temperatures that the step allows, and against the temperature for
//! which its time holds.

use super::super::error;
use super::super::merge::MergedStep;
use super::Builder;
use crate::model::{Band, Bath, Duration, Stated, StepKind};
use crate::source::{Diagnostic, Level};
use crate::vocabulary::{Lines as _, say};

impl Builder<'_> {
    /// Reports a step whose temperature is outside the band that it allows, or, with `within`, differs from the
    /// temperature of its time. Outside the band it is only a warning if the step still works there, more slowly, as a
    /// fix does.
    pub(super) fn at_in_band(
        &mut self,
        own: &MergedStep<'_>,
        band: Option<Stated<Band>>,
        bath: Option<&Bath>,
    ) {
        let Some(at) = own.stated(say::At::temperature) else { return };
        if let Some(Stated { value: Band::Between(low, high), span }) = band
            && (at.value < low || high < at.value)
        {
            let fault = error(
                "at-outside-band",
                at.span,
                format!("{} is not between {low} and {high}", at.value),
                "correct one of the two lines; if 'between' is inherited, write a new one in this step",
            );
            let solution = bath.and_then(|bath| bath.solution.as_deref());
            let is_needed = own.id.kind.needs_its_temperature(solution, band.as_deref());
            let level = if is_needed { Level::Error } else { Level::Warning };
            self.report(Diagnostic { level, ..fault.other(span, "the allowed temperatures") });
        }
        if let Some(holds) = own.stated(say::Time::at)
            && holds.value != at.value
            && own.one::<say::Within>().is_some()
        {
            let fault = error(
                "at-outside-band",
                at.span,
                format!("the step is at {}, and its time is for {}", at.value, holds.value),
                "write the same temperature in both",
            );
            self.report(fault.other(holds.span, "its time"));
        }
    }

    /// Reports a time that holds only at some temperatures, if the step does not state which temperatures it allows (R3
    /// in the reference).
    pub(super) fn missing_band(&mut self, own: &MergedStep<'_>, duration: &Stated<Duration>) {
        let needed = match duration.value {
            Duration::Plain { at: Some(_), .. } => true,
            Duration::Chart(_) | Duration::Sign(_) | Duration::Open => false,
            _ => own.id.kind == StepKind::Develop,
        };
        let stated = own.one::<say::Between>().is_some() || own.one::<say::Within>().is_some();
        // If a line of the step has an error, nothing is reported: that line may state the allowed temperatures.
        if needed && !stated && own.sound {
            self.report(time_without_band(duration));
        }
    }

    /// Reports a `within` in a step that states no temperature. A step without a time (`Duration::Open`) is not
    /// reported: a derived recipe may state the time together with its temperature.
    pub(super) fn tolerance_has_temperature(&mut self, own: &MergedStep<'_>, duration: Option<&Duration>) {
        let Some(within) = own.one::<say::Within>() else { return };
        let is_open = matches!(duration, Some(Duration::Open));
        let unread = !own.sound || own.one::<say::Time>().is_some_and(|row| !row.sound) || is_open;
        // A time by a trial may hold at the temperature of the trial. `within` then refers to that temperature.
        let holds_at = matches!(duration, Some(Duration::Plain { at: Some(_), .. }));
        let by_trial = own.one::<say::Time>().is_some_and(|row| row.has(say::Time::trial));
        let has_none = own.stated(say::Time::at).is_none() && !(by_trial && (holds_at || duration.is_none()));
        if !unread && has_none && own.one::<say::At>().is_none() {
            let message = "the step states a tolerance and no temperature";
            let fault = Diagnostic::error("within-what", within.span, message);
            let fault = match duration {
                Some(Duration::Plain { time, at: None }) => {
                    fault.help(format!("add the temperature to the time, such as: time {time} at 20 C"))
                }
                _ => fault.help("add a line with the temperature, such as: at 20 C"),
            };
            self.report(fault.help("or put in place of this line the allowed range: between 18 C and 24 C"));
        }
    }
}

fn time_without_band(duration: &Stated<Duration>) -> Diagnostic {
    let fault = |message: String| Diagnostic::error("missing-band", duration.span, message);
    let range = "if it holds for a range, add a line: between 18 C and 24 C";
    match duration.value {
        Duration::Plain { at: Some(at), .. } => fault(format!(
            "this time is for {at}, and the step does not say how exactly the bath must be at {at}"
        ))
        .help("add a line with the tolerance, such as: within 0.3 C")
        .help(range),
        Duration::Plain { time, at: None } => fault(
            "this time does not say at which temperatures it holds".to_owned(),
        )
        .help(range)
        .help(format!(
            "if it holds for one temperature, write: time {time} at 20 C, and add a line: within 0.3 C"
        )),
        _ => fault("this time does not say at which temperatures it holds".to_owned()).help(range),
    }
}
