//! The facts of a recipe, which the fingerprint, `compare`, the plan and some lint rules use.
//!
//! A fact is work if a change of it can change what is done in a session. A fact that only names something or causes a
//! warning is not work.

use std::borrow::Cow;
use std::sync::Arc;

use super::agitation::{Amount, Motion, Pulse};
use super::fact::{Fact, Key, Portion, Value};
use super::recipe::{Clearing, Film, Lighting, Material, Recipe, Stated};
use super::solution::{Formula, Replenisher, Solution};
use super::step::{Band, Bath, Change, Duration, Step, Use};

use crate::source::Sorted as _;

impl Recipe {
    /// The recipe's facts that affect a session.
    pub fn work(&self) -> Vec<Fact<'_>> {
        facts(self, false)
    }

    /// All facts of the recipe.
    pub fn facts(&self) -> Vec<Fact<'_>> {
        facts(self, true)
    }

    /// Whether this recipe and `other` have the same facts, except for facts that a derived recipe does not inherit.
    /// Compares step by step, because two recipes usually differ in an early step.
    pub fn has_facts_of(&self, other: &Recipe) -> bool {
        fn facts_of(recipe: &Recipe, number: usize) -> Vec<Fact<'_>> {
            let mut gathered = Gathered { all: Vec::new(), step: number, with_rest: true };
            gathered.numbered(recipe);
            gathered.all.retain(|fact| !fact.key.is_own());
            gathered.all
        }
        self.steps.len() == other.steps.len()
            && (0..=self.steps.len()).all(|number| facts_of(self, number) == facts_of(other, number))
    }
}

struct Gathered<'a> {
    all: Vec<Fact<'a>>,
    step: usize,
    with_rest: bool,
}

fn facts(recipe: &Recipe, with_rest: bool) -> Vec<Fact<'_>> {
    let mut gathered = Gathered { all: Vec::with_capacity(128), step: 0, with_rest };
    for number in 0..=recipe.steps.len() {
        gathered.step = number;
        gathered.numbered(recipe);
    }
    gathered.all
}

impl<'a> Gathered<'a> {
    fn add(&mut self, is_work: bool, key: Key<'a>, value: impl FnOnce() -> Value<'a>) {
        if is_work || self.with_rest {
            self.all.push(Fact { step: self.step, key, value: value(), is_work });
        }
    }

    fn optional<T>(
        &mut self,
        is_work: bool,
        key: Key<'a>,
        stated: Option<T>,
        value: impl FnOnce(T) -> Value<'a>,
    ) {
        if let Some(stated) = stated {
            self.add(is_work, key, || value(stated));
        }
    }

    /// Adds the facts of the step with the number `self.step`; if it is 0, the facts of the recipe and its film.
    fn numbered(&mut self, recipe: &'a Recipe) {
        let film = recipe.film.as_deref().map(Arc::as_ref);
        let step = self.step.checked_sub(1).and_then(|at| recipe.steps.get(at));
        if let Some(step) = step {
            return self.step(step, film, &recipe.steps);
        }
        self.optional(true, Key::Film, film, |film| Value::Name(&film.name));
        self.optional(false, Key::Film, recipe.any, |any| Value::Words(format!("any {}", any.word()).into()));
        self.optional(false, Key::Index, recipe.index, |index| Value::Count(*index));
        for tested in &recipe.tested {
            self.add(false, Key::Tested, || Value::Words(tested.to_string().into()));
        }
        self.optional(false, Key::Deprecated, recipe.deprecated.as_ref(), |it| {
            Value::Words(it.to_string().into())
        });
        self.lighting(recipe.lighting.as_ref());
        self.optional(true, Key::Repeat, recipe.repeat, |repeat| {
            let (first, last) = (counted(repeat.first), counted(repeat.last));
            Value::Words(Cow::Owned(format!("{first} {last} {}", repeat.rounds)))
        });
        self.film(film);
    }

    fn film(&mut self, film: Option<&'a Film>) {
        let Some(film) = film else { return };
        let other = Some(film.material).filter(|material| *material != Material::Film);
        self.optional(true, Key::Material, other, |material| Value::Word(material.word()));
        self.optional(true, Key::BothSides, film.both_sides.then_some(()), |()| Value::Present);
        if !self.with_rest {
            return;
        }
        self.optional(false, Key::Grain, film.grain, |grain| Value::Word(grain.word()));
        self.optional(false, Key::Speed, film.speed, |speed| Value::Count(*speed));
        let mut clears: Vec<&Clearing> = film.clears.iter().collect();
        clears.order_by_key(|row| (&row.solution.name, &row.dilution, row.at, row.time));
        for row in clears {
            let key = Key::ClearsIn(&row.solution.name, &row.dilution);
            self.add(false, key, || Value::Clears(row.time, row.at));
        }
    }

    fn step(&mut self, step: &'a Step, film: Option<&'a Film>, all: &'a [Step]) {
        self.add(true, Key::Step, || Value::Word(step.kind.word()));
        self.optional(false, Key::Name, step.name.as_deref(), Value::Name);
        self.bath(step);
        self.place_of_bath(step, all);
        self.time(step, film);
        self.optional(true, Key::Band, step.band, |band| Value::Band(*band));
        self.optional(true, Key::OwnTemperature, step.at, |at| Value::Temperature(*at));
        self.agitation(step);
        self.optional(true, Key::Handling, step.handling, |time| Value::Time(*time));
        self.lighting(step.lighting.as_ref());
        self.optional(true, Key::Light, step.light.as_ref(), |light| Value::Words(Cow::Borrowed(light)));
        let is_wet = step.is_in_liquid();
        self.optional(is_wet, Key::Fill, step.fill, |time| Value::Time(*time));
        self.optional(is_wet, Key::Drain, step.drain, |time| Value::Time(*time));
        let changes = matches!(*step.duration, Duration::Changes(_));
        self.add(is_wet && !changes, Key::Clock, || Value::Clock(*step.clock));
    }

    fn lighting(&mut self, lighting: Option<&'a Stated<Lighting>>) {
        let Some(lighting) = lighting else { return };
        match &lighting.value {
            Lighting::Room => self.add(true, Key::LightSafe, || Value::Present),
            Lighting::None => self.add(true, Key::Lighting, || Value::Word("none")),
            Lighting::Safelight(lamp) => self.add(true, Key::Lighting, || Value::Words(Cow::Borrowed(lamp))),
        }
    }

    /// Adds the facts of the bath. A solution is identified by its bottles' formulas, or by its name if a formula is
    /// missing.
    fn bath(&mut self, step: &'a Step) {
        let Some(bath) = &step.bath else { return };
        let Some(solution) = &bath.solution else {
            // A kind of step that is always wet is in water unless it names a solution, so its water is not work. For
            // any other kind, water is work.
            self.add(!step.kind.is_wet(), Key::Solution, || Value::Word("water"));
            return self.optional(false, Key::Use, bath.reuse, |reuse| Value::Word(reuse.word()));
        };
        let formula = |bottle: usize| {
            let of = |formula: &&Formula| formula.part.as_ref() == solution.parts.get(bottle);
            Some((bottle, solution.formulas.iter().find(of)?))
        };
        let only = bath.bottle();
        let bottles = |bottle: &usize| only.is_none_or(|only| only == *bottle);
        let is_made = (0..solution.bottles()).filter(bottles).all(|bottle| formula(bottle).is_some());
        self.add(!is_made, Key::Solution, || Value::Name(&solution.name));
        self.add(true, Key::Dilution, || Value::Dilution(bath.dilution.reduced()));
        self.optional(true, Key::Use, bath.reuse, |reuse| Value::Word(reuse.word()));
        for (bottle, formula) in (0..solution.bottles()).filter(bottles).filter_map(formula) {
            let makes = *formula.makes;
            self.add(false, Key::Makes(bottle), || Value::Volume(makes));
            let number = if solution.parts.is_empty() { 0 } else { bottle + 1 };
            for (line, item) in (1..).zip(&formula.items) {
                let portion = Portion { item, makes, place: (number, line) };
                self.add(true, Key::Item(bottle, item.what.name()), || Value::Item(portion));
            }
        }
        self.optional(true, Key::Needs, solution.needs, |needs| Value::Volume(*needs));
        let is_kept = bath.reuse.is_some_and(Use::is_kept);
        let has_time = !matches!(*step.duration, Duration::Changes(_) | Duration::Sign(_));
        self.optional(is_kept && has_time, Key::Extend, solution.extend, |extend| Value::Extend(*extend));
        let is_replenished = bath.reuse == Some(Use::Replenished);
        self.optional(is_replenished, Key::Replenish, solution.replenish, |each| Value::Volume(*each));
        if let Some(replenisher) = &solution.replenisher {
            self.replenisher(is_replenished, replenisher);
        }
        self.optional(step.goes_by_rate(), Key::Rate, solution.rate, |rate| {
            Value::Rate(rate.factor.in_base(1_000_000).unwrap_or(i64::MAX), rate.interval.base)
        });
        if self.with_rest {
            self.only_stated(solution);
        }
    }

    /// Adds the facts that distinguish the baths of the recipe. Baths with the same contents are numbered in the order
    /// of the steps, so that their names do not matter.
    fn place_of_bath(&mut self, step: &'a Step, all: &'a [Step]) {
        let Some(bath) = step.bath.as_ref().filter(|bath| bath.solution.is_some()) else { return };
        self.addition(bath);
        if let Some(used) = bath.used {
            return self.add(true, Key::Used, || Value::Count(counted(used)));
        }
        let mut names: Vec<Option<&String>> = Vec::new();
        let baths = all.iter().filter_map(|step| step.bath.as_ref());
        for other in baths.filter(|other| other.used.is_none() && other.has_contents_of(bath)) {
            if !names.contains(&other.name.as_ref()) {
                names.push(other.name.as_ref());
            }
        }
        let number = |name: Option<&String>| names.iter().position(|own| *own == name).map(counted);
        self.optional(true, Key::Part, bath.bottle(), |bottle| Value::Count(counted(bottle)));
        self.optional(true, Key::Bath, number(bath.name.as_ref()), Value::Count);
        let becomes = bath.becomes.as_ref().and_then(|name| number(Some(name)));
        self.optional(true, Key::Becomes, becomes, Value::Count);
    }

    /// Adds the facts of the solution that is added to a bath. The solution is identified by its formula; without a
    /// formula, by its name.
    fn addition(&mut self, bath: &'a Bath) {
        let Some(added) = bath.added.as_ref().filter(|_| bath.used.is_none()) else { return };
        let solution = &added.solution;
        self.add(true, Key::With, || Value::Volume(added.per_litre));
        self.add(solution.formulas.is_empty(), Key::WithSolution, || Value::Name(&solution.name));
        for formula in &solution.formulas {
            let makes = *formula.makes;
            for (line, item) in (1..).zip(&formula.items) {
                let portion = Portion { item, makes, place: (0, line) };
                self.add(true, Key::WithItem(item.what.name()), || Value::Item(portion));
            }
        }
    }

    /// Adds the facts of the solution that replenishes a bath. The solution is identified by its formula;
    /// without a formula, by its name.
    fn replenisher(&mut self, is_work: bool, replenisher: &'a Replenisher) {
        let is_bought = replenisher.formulas.is_empty();
        self.add(is_work && is_bought, Key::Replenisher, || Value::Name(&replenisher.name));
        for portion in replenisher.portions() {
            let key = Key::ReplenisherItem(portion.place.0, portion.item.what.name());
            self.add(is_work, key, || Value::Item(portion));
        }
    }

    /// Adds those facts of a solution that do not affect any session.
    fn only_stated(&mut self, solution: &'a Solution) {
        self.optional(false, Key::Role, solution.role, |role| Value::Word(role.word()));
        let names = |names: Vec<Cow<'a, str>>| (!names.is_empty()).then_some(names);
        let parts = names(solution.parts.iter().map(Cow::from).collect());
        self.optional(false, Key::Bottles, parts, Value::Names);
        let mut contains: Vec<Cow<'a, str>> =
            solution.contains.iter().map(|one| one.to_string().into()).collect();
        contains.sort_unstable();
        self.optional(false, Key::Contains, names(contains), Value::Names);
        self.optional(false, Key::Ph, solution.ph, |ph| Value::Names(vec![ph.to_string().into()]));
        let treats = (!solution.treats.is_empty()).then_some(&*solution.treats);
        self.optional(false, Key::Treats, treats, Value::Treats);
        let keeps = names(solution.keeps.iter().map(|keeps| keeps.to_string().into()).collect());
        self.optional(false, Key::Keeps, keeps, Value::Names);
    }

    fn time(&mut self, step: &'a Step, film: Option<&'a Film>) {
        match &*step.duration {
            Duration::Plain { time, at } => {
                let within = step.band.is_some_and(|band| matches!(*band, Band::Within(_)));
                let counts = within || step.goes_by_rate();
                self.add(true, Key::Time, || Value::Plain(*time, at.filter(|_| counts)));
                self.optional(false, Key::HoldsAt, at.filter(|_| !counts), Value::Temperature);
            }
            Duration::Open => {}
            duration => self.add(true, Key::Time, || Value::Duration(duration)),
        }
        if matches!(*step.duration, Duration::Clearing { .. }) {
            let row = film.and_then(|film| film.clearing_in(step.bath.as_ref()?));
            self.optional(true, Key::Clearing, row, |row| Value::Clears(row.time, row.at));
        }
    }

    /// Adds the facts of the agitation. A fact counts as work if it affects how the film moves, or the volume
    /// in a drum.
    fn agitation(&mut self, step: &'a Step) {
        let Some(scheme) = step.agitation.as_deref() else { return };
        let counted = |amount: &Amount| matches!(amount, Amount::Inversions(_));
        let (moves, some, all) = match &scheme.pulse {
            Pulse::None => (false, false, false),
            Pulse::Continuous | Pulse::Rotary(_) => (true, false, false),
            Pulse::At { amount, .. } => (true, counted(amount), counted(amount)),
            Pulse::Interval { first, then } => {
                let mut amounts = first.iter().chain(then.iter().map(|(amount, _)| amount));
                (true, amounts.clone().any(counted), amounts.all(counted))
            }
        };
        let is_wet = step.is_in_liquid();
        let fills = matches!(&*step.duration, Duration::Changes(changes)
            if changes.iter().all(|change| matches!(change, Change::Inversions(_))));
        let turns = matches!(scheme.pulse, Pulse::Rotary(_));
        let moves = is_wet && moves && !fills;
        self.add(moves || (is_wet && turns), Key::Agitation, || Value::Pulse(&scheme.pulse));
        let is_said = scheme.by != Some(Motion::Inversion) || !all;
        self.optional(moves && !turns && is_said, Key::Motion, scheme.by, |by| Value::Word(by.word()));
        self.add(is_wet && (some || fills), Key::Inversion, || Value::Time(scheme.inversion));
        let rests = matches!(scheme.pulse, Pulse::At { .. } | Pulse::Interval { .. });
        self.optional(moves && rests, Key::Knock, scheme.knock, Value::Knock);
    }
}

fn counted(at: usize) -> u32 {
    u32::try_from(at).map_or(u32::MAX, |at| at.saturating_add(1))
}
