//! Checks and compiles texts in memory. An unexpected error fails the test with its report.

use std::ops::Deref;
use std::sync::Arc;

use wetside::check::Checked;
use wetside::compile::{PlannedStep, Schedule, Tonight, compile};
use wetside::model::{Duration, Format, Number, Recipe, Rolls, Step, StepKind, Tank, Temperature};
use wetside::source::{Diagnostic, MemoryFiles};

/// Its moments in seconds, worked by hand: pour 0, agitate 10, still 20, agitate 30, still 35, agitate 60, still 65,
/// drain 85; then two changes of 10 s to fill, 60 s and 5 s to dump, so fill 90, still 100, dump 160, fill 165,
/// still 175, dump 235; dry from 240, for two hours.
pub(crate) const SMALL_EVENING: &str = "wetside 1

film trial-film {
    speed    ISO 100
}

solution soup \"Soup of the day\" {
    role     developer
    needs    100 ml per roll
}

tank small {
    reels    120 x 2, 500 ml each
    holds    1 l
    fill     10 s
    drain    5 s
}

recipe trial \"A trial\" {
    film     trial-film
    index    100
    between  18 C and 24 C

    develop {
        in       soup stock, one-shot
        time     1:30
        between  18 C and 24 C
        agitate  first 10 s, then 5 s every 30 s
    }
    wash {
        soak     1:00 x 2
    }
    dry {
        time     2 h
    }
}
";

/// A checked text.
pub(crate) struct Kitchen(Checked);

impl Deref for Kitchen {
    type Target = Checked;

    fn deref(&self) -> &Checked {
        &self.0
    }
}

impl Kitchen {
    /// Checks a text without imports.
    pub(crate) fn of(text: &str) -> Kitchen {
        Kitchen::of_files(text, &[])
    }

    /// Checks a text that imports others, given with their paths.
    pub(crate) fn of_files(text: &str, others: &[(&str, &str)]) -> Kitchen {
        let others = others.iter().copied();
        let files: MemoryFiles = std::iter::once(("trial.wet", text)).chain(others).collect();
        Kitchen(wetside::check(&files, "trial.wet").unwrap())
    }

    /// Checks a text that must have no error.
    #[track_caller]
    pub(crate) fn sound(text: &str) -> Kitchen {
        Kitchen::of(text).without_errors()
    }

    /// Panics with the report if there is an error.
    #[track_caller]
    pub(crate) fn without_errors(self) -> Kitchen {
        assert!(!self.has_errors(), "\n{}\n{}", self.report(&self.findings), self.sources.text(self.file));
        self
    }

    /// The last recipe with a film.
    #[track_caller]
    pub(crate) fn recipe(&self) -> &Arc<Recipe> {
        let whole = self.shelf.recipes.iter().rfind(|recipe| recipe.film.is_some());
        whole.expect("the text has a recipe for a film")
    }

    /// The first tank of the file, if there is one.
    pub(crate) fn tank(&self) -> Option<&Arc<Tank>> {
        self.shelf.tanks_of(self.file).next().map(|(_, tank)| tank)
    }

    /// Compiles the recipe.
    pub(crate) fn tried(&self, tonight: &Tonight) -> Result<Schedule, Vec<Diagnostic>> {
        let tank = tonight.tank.clone().or_else(|| self.tank().cloned());
        compile(&self.shelf, self.recipe(), &Tonight { tank, ..tonight.clone() }, Vec::new())
    }

    /// Compiles the recipe; panics with the report if there is an error.
    #[track_caller]
    pub(crate) fn compiled(&self, conditions: &Tonight) -> Schedule {
        match self.tried(conditions) {
            Ok(schedule) => schedule,
            Err(faults) => panic!("\n{}\n{}", self.report(&faults), self.sources.text(self.file)),
        }
    }
}

/// Checks a text and compiles its last recipe.
#[track_caller]
pub(crate) fn compiled(text: &str, conditions: &Tonight) -> Schedule {
    Kitchen::sound(text).compiled(conditions)
}

/// Checks a text and compiles its last recipe for two rolls of 120 at 20 C.
#[track_caller]
pub(crate) fn two_rolls(text: &str) -> Schedule {
    compiled(text, &evening(celsius("20"), &[(2, Format::F120)]))
}

/// An evening with only a temperature and rolls.
pub(crate) fn evening(temperature: Temperature, rolls: &[(u32, Format)]) -> Tonight {
    let rolls = rolls.iter().map(|(count, format)| Rolls { count: *count, format: *format });
    Tonight::new(temperature, rolls.collect())
}

/// A temperature in degrees Celsius, from a number as a recipe writes it.
pub(crate) fn celsius(degrees: &str) -> Temperature {
    Temperature::from_celsius(Number::parse(degrees).unwrap()).unwrap()
}

/// A temperature in degrees Fahrenheit, from a number as a recipe writes it.
pub(crate) fn fahrenheit(degrees: &str) -> Temperature {
    Temperature::from_fahrenheit(Number::parse(degrees).unwrap()).unwrap()
}

/// A text with one base recipe of one step with these lines.
pub(crate) fn step_text(kind: &str, lines: &[&str]) -> String {
    format!("wetside 1\n\nrecipe trial {{\n    {kind} {{\n        {}\n    }}\n}}\n", lines.join("\n        "))
}

/// The model of the step in such a text.
#[track_caller]
pub(crate) fn read_step(kind: &str, lines: &[&str]) -> Step {
    let kitchen = Kitchen::sound(&step_text(kind, lines));
    kitchen.shelf.recipes.first().unwrap().steps.first().unwrap().clone()
}

/// The duration of the step in such a text.
#[track_caller]
pub(crate) fn read_duration(kind: &str, lines: &[&str]) -> Duration {
    read_step(kind, lines).duration.value
}

/// The first step of this kind.
#[track_caller]
pub(crate) fn step(schedule: &Schedule, kind: StepKind) -> &PlannedStep {
    schedule.steps.iter().find(|step| step.kind == kind).unwrap()
}
