//! The sheet for weighing or diluting a solution: a document with a box before each amount, and JSON by
//! `grammar/sheet.schema.json`.

use super::card::closed;
use super::document::{Align, Block, Bullet, Column, Document, Section, Table};
use super::json::{added as added_json, hazards_json, part_of, safety_json};
use super::object::{Json, Object, filled, list, number};
use super::phrase::{added, measured_down, rounded as degrees};
use super::plain::{all_plain, distinct, joined, plain, prefixed};
use super::water::water_json;
use crate::chemistry::{Hazard, STATEMENTS_SOURCE, statements_for};
use crate::compile::{Scale, spoken_volume};
use crate::measure::{Amount, Bottle, Form, FromTaps, Line, Mixture, Sheet, Water, Weighed, Work};
use crate::model::{Mass, Share, Temperature, Volume, decimal};
use crate::vocabulary::unit;

/// Raise this version when a change breaks programs that read the JSON.
const VERSION: u32 = 1;
/// The largest rounding error of an amount that the sheet does not mention, in hundredths of a percent: 1 %.
const OFF_SHOWN: i64 = 100;

/// A row of the sheet: an amount, and what to weigh or measure.
pub(super) struct Row {
    /// The amount to weigh or measure, in grams or millilitres: `5 g`.
    amount: String,
    /// The same amount in United States units; empty if they are not wanted.
    beside: String,
    what: String,
    more: Option<String>,
}

/// The sheet as a document, with a box to tick before each amount.
pub fn sheet(sheet: &Sheet, units: Units) -> Document {
    let (title, mut facts) = (plain(&sheet.solution.title), vec![plain(&sheet.solution.name)]);
    let title = match &sheet.work {
        Work::Dilute(mixture) => {
            let added = mixture.added.as_ref().map(|one| added(&one.planned()));
            format!("{title} {}{}", mixture.dilution, prefixed(" with ", added))
        }
        Work::Weigh(bottles, step) => {
            let written = |bottle: &Bottle| format!("formula for {}", spoken_volume(bottle.written_for));
            facts.extend(bottles.iter().map(written));
            facts.dedup();
            let beside = units.in_brackets(Amount::Mass(*step));
            facts.push(format!("scale to {} g{beside}", grams(*step)));
            title
        }
    };
    facts.extend(sheet.solution.keeps.iter().map(|keeps| format!("keeps {keeps}")));
    let work = match &sheet.work {
        Work::Weigh(bottles, _) => bottles.iter().map(|bottle| weigh(bottle, units)).collect(),
        Work::Dilute(mixture) => vec![dilute(mixture, units)],
    };
    let list = |title: &str, items: &[String]| Section::list(title, Bullet::Dash, items);
    let after = [
        list("LABELS", &labels(sheet)),
        list("CAUTIONS", &closed(&sheet.cautions)),
        list("FIRST AID", &all_plain(&sheet.first_aid)),
        list("NOTES", &all_plain(&sheet.notes)),
    ];
    let mut sections = vec![Section::safety(&sheet.safety)];
    sections.extend(Section::list("WARNINGS", Bullet::Warning, &all_plain(&sheet.warnings)));
    sections.extend(work);
    sections.extend(after.into_iter().flatten());
    Document { title, aside: spoken_volume(sheet.make), facts, sections, ..Document::default() }
}

pub(super) fn weigh(bottle: &Bottle, units: Units) -> Section {
    let rows = bottle.lines.iter().map(|line| match line {
        Line::Water(water) => poured(water, units),
        Line::Weighed(weighed) => weighed_out(weighed, units),
        Line::Solvent(what, volume) => row(Amount::Volume(*volume), units, plain(what)).up_to(),
        Line::Mark(volume, at) => row(Amount::Volume(*volume), units, units.warm("water", *at)).up_to(),
    });
    let how = "in this order, each wholly dissolved before the next".to_owned();
    let title = format!("WEIGH{}", prefixed(" ", bottle.part.as_deref().map(plain)));
    Section::titled(title, vec![Block::Paragraph(how), amounts(rows.collect())])
}

fn dilute(mixture: &Mixture, units: Units) -> Section {
    let stock = mixture.warmth.and_then(|warmth| warmth.stock);
    let parts = mixture
        .parts
        .iter()
        .map(|part| row(Amount::Volume(part.volume), units, units.warm(&plain(&part.what), stock)));
    let volumes = mixture.parts.iter().map(|part| part.volume).chain(mixture.water.map(|water| water.volume));
    let whole = volumes.fold(Volume::ZERO, |sum, part| sum + part);
    // If no cylinder measures the water exactly, a last row says to fill up with water to the whole volume.
    let fills = mixture.water.is_some_and(|water| measured_down(water.volume) < water.volume);
    let mark = fills.then(|| row(Amount::Volume(whole), units, "water".to_owned()).up_to());
    let water = mixture.water.iter().map(|water| poured(water, units));
    let rows: Vec<Row> = water.chain(parts).chain(mark).collect();
    let how = match (&mixture.water, mixture.parts.as_slice()) {
        (Some(_), [_]) => "the water first, then the solution into it",
        (Some(_), _) => "the water first, then each into it",
        (None, [_]) => "as it comes from its bottle",
        (None, _) => "each into the one before",
    };
    let at = mixture.warmth.map(|warmth| warmth.at);
    let makes = units.warm(&format!("makes {} ml", millilitres(whole)), at);
    let blocks = vec![Block::Paragraph(how.to_owned()), amounts(rows), Block::Paragraph(makes)];
    Section::titled("MEASURE", blocks)
}

pub(super) fn amounts(rows: Vec<Row>) -> Block {
    let amount = Column { align: Align::Decimal, is_bold: true, ..Column::new("") };
    Block::Table(Table {
        columns: vec![amount, Column::new(""), Column::new("")],
        below: rows.iter().map(|row| row.more.clone().unwrap_or_default()).collect(),
        rows: rows.into_iter().map(|row| vec![row.amount, row.beside, row.what]).collect(),
        has_boxes: true,
        is_wide: false,
    })
}

impl Row {
    /// The row, with `to` before its amount: `to 1000 ml`.
    fn up_to(self) -> Row {
        Row { amount: format!("to {}", self.amount), ..self }
    }
}

pub(super) fn row(amount: Amount, units: Units, what: String) -> Row {
    let (number, unit) = metric(amount);
    let beside = units.beside(amount).unwrap_or_default();
    Row { amount: format!("{number} {unit}"), beside, what, more: None }
}

fn poured(water: &Water, units: Units) -> Row {
    let row = row(Amount::Volume(measured_down(water.volume)), units, units.warm("water", water.at));
    Row { more: water.taps.map(|taps| from_taps(&taps, units)), ..row }
}

/// The water to take from each tap: `of it 1480 ml at 55 °C (131 °F) and 395 ml at 12 °C (53.6 °F)`.
fn from_taps(drawn: &FromTaps, units: Units) -> String {
    let drawn_from = |volume, at| (measured_down(volume), at);
    let mut both = vec![drawn_from(drawn.hot, drawn.taps.hot), drawn_from(drawn.cold, drawn.taps.cold)];
    both.retain(|(volume, _)| *volume > Volume::ZERO);
    let one = |(volume, at): &(Volume, Temperature)| {
        let beside = units.in_brackets(Amount::Volume(*volume));
        units.warm(&format!("{} ml{beside}", millilitres(*volume)), Some(*at))
    };
    let usual = if drawn.taps.are_usual { " (usual taps)" } else { "" };
    match both.as_slice() {
        [(_, at)] => units.warm("all of it", Some(*at)),
        both => format!("of it {}{usual}", joined(both.iter().map(one), " and ")),
    }
}

fn weighed_out(weighed: &Weighed, units: Units) -> Row {
    let mut what = plain(&weighed.what) + &prefixed(", ", form_text(&weighed.form));
    if let Some((amount, form)) = &weighed.instead_of {
        let (number, unit) = metric(rounded(*amount));
        let (beside, of) = (units.in_brackets(*amount), prefixed(" of ", form_text(form)));
        what.push_str(&format!(", for {number} {unit}{beside}{of}"));
    }
    if weighed.off.abs() > OFF_SHOWN {
        let side = if weighed.off < 0 { "under" } else { "over" };
        what.push_str(&format!(", {} % {side}", decimal(weighed.off.abs(), 100, 1)));
    }
    row(weighed.amount, units, what)
}

/// The amount; a mass of a gram or more is rounded to a hundredth of a gram.
fn rounded(amount: Amount) -> Amount {
    match amount {
        Amount::Mass(mass) if mass.pg >= Mass::G => Amount::Mass(mass.rounded(Mass { pg: Mass::G / 100 })),
        Amount::Mass(_) | Amount::Volume(_) => amount,
    }
}

pub(super) fn form_text(form: &Form) -> Option<String> {
    match form {
        Form::Plain => None,
        Form::State(state) => Some(plain(state)),
        Form::Strength(strength) => Some(strength.to_string()),
        Form::Dissolved(share, state) => {
            let of = prefixed(" of ", state.as_deref().map(plain));
            let grams = decimal(i64::from(share.basis_points), 100, 2);
            Some(format!("{share} solution, {grams} g{of} in 100 ml"))
        }
    }
}

fn labels(sheet: &Sheet) -> Vec<String> {
    let Work::Weigh(bottles, _) = &sheet.work else { return Vec::new() };
    let lines = bottles.iter().flat_map(|bottle| &bottle.lines);
    distinct(
        lines.filter_map(|line| if let Line::Weighed(weighed) = line { Some(label(weighed)) } else { None }),
    )
}

/// The label of an ingredient: `metol · CAS 55-55-0 · H302 H317 · P261 P280`.
fn label(weighed: &Weighed) -> String {
    let what = plain(&weighed.what);
    let own = weighed.own.as_ref().filter(|own| own.hazards.is_some()).map(|own| own.all_hazards());
    let Some(stated) = weighed.held.map(|held| held.hazards().to_vec()).or(own) else {
        let facts = [what, prefixed("CAS ", cas(weighed)), "not known here: see its own label".to_owned()];
        return joined(facts.iter().filter(|fact| !fact.is_empty()), " · ");
    };
    let mut hazards = joined(stated.iter().map(|hazard| hazard.code), " ");
    if hazards.is_empty() {
        hazards.push_str("not classified");
    }
    if weighed.held.is_some_and(|held| held.ingredient.is_from_memory()) {
        hazards.push_str(" (in part from memory)");
    }
    let statements = joined(statements_for(&stated).iter().map(|(code, _)| code), " ");
    let facts = [what, prefixed("CAS ", cas(weighed)), hazards, statements];
    joined(facts.iter().filter(|fact| !fact.is_empty()), " · ")
}

/// The CAS number of the state in which the ingredient is weighed, such as anhydrous; `None` if not known.
fn cas(weighed: &Weighed) -> Option<&str> {
    let Some(held) = weighed.held else { return weighed.own.as_ref()?.cas.as_deref() };
    let states = held.ingredient.states;
    let state = match &weighed.form {
        Form::State(word) | Form::Dissolved(_, Some(word)) => states.iter().find(|state| state.word == word),
        Form::Plain | Form::Strength(_) | Form::Dissolved(_, None) => states.first(),
    };
    state.map(|state| state.cas)
}

/// The sheet as an indented JSON object.
pub fn sheet_json(sheet: &Sheet) -> String {
    sheet_object(sheet).text()
}

pub(super) fn sheet_object(sheet: &Sheet) -> Object {
    let work = match &sheet.work {
        Work::Weigh(bottles, step) => {
            Object::of("scale_g", number(&grams(*step))).put("bottles", list(bottles, bottle_json))
        }
        Work::Dilute(mixed) => Object::of("mixture", mixture_json(mixed)),
    };
    Object::of("sheet", VERSION)
        .put("solution", &sheet.solution.name)
        .put("title", &sheet.solution.title)
        .put("make_ml", ml(sheet.make))
        .join(work)
        .put("warnings", &sheet.warnings)
        .put("safety", safety_json(&sheet.safety))
        .put("hazards", hazards_json(&sheet.concerns))
        .put("cautions", &closed(&sheet.cautions))
        .put("first_aid", filled(&sheet.first_aid))
        .put("notes", &sheet.notes)
}

pub(super) fn ml(volume: Volume) -> Json {
    number(&millilitres(volume))
}

fn percent(share: Share) -> Json {
    number(&decimal(i64::from(share.basis_points), 100, 2))
}

fn bottle_json(bottle: &Bottle) -> Object {
    let lines = list(&bottle.lines, |line| match line {
        Line::Water(poured) => Object::of("do", "water").join(water_json(poured)),
        Line::Weighed(one) => Object::of("do", "weigh").join(weighed_json(one)),
        Line::Solvent(what, volume) => Object::of("do", "fill").put("what", what).put("to_ml", ml(*volume)),
        Line::Mark(volume, at) => Object::of("do", "fill").put("to_ml", ml(*volume)).put("at_c", *at),
    });
    Object::default()
        .put("part", bottle.part.as_ref())
        .put("written_for_ml", ml(bottle.written_for))
        .put("lines", lines)
}

fn weighed_json(weighed: &Weighed) -> Object {
    let statement = |code: &str, text: &str| Object::of("code", code).put("text", text);
    let label = |hazards: &[&Hazard], source: &str| {
        Object::default()
            .put("cas", cas(weighed))
            .put("hazards", list(hazards, |one| statement(one.code, one.text)))
            .put("hazards_source", source)
            .put("precautions", list(statements_for(hazards), |(code, text)| statement(code, text)))
            .put("precautions_source", STATEMENTS_SOURCE)
    };
    let own = weighed.own.as_ref().filter(|own| own.hazards.is_some());
    let own = own.map(|own| label(&own.all_hazards(), "as declared beside the formula"));
    Object::of("what", &weighed.what)
        .join(amount_of(weighed.amount, &weighed.form))
        .put("off_percent", number(&decimal(weighed.off, 100, 2)))
        .put("instead_of", weighed.instead_of.as_ref().map(|(amount, form)| amount_of(*amount, form)))
        .put("label", weighed.held.map(|held| label(&held.hazards(), &held.source())).or(own))
}

pub(super) fn amount_of(amount: Amount, form: &Form) -> Object {
    let object = match amount {
        Amount::Mass(mass) => Object::of("g", number(&grams(mass))),
        Amount::Volume(volume) => Object::of("ml", ml(volume)),
    };
    match form {
        Form::Plain => object,
        Form::State(state) => object.put("state", state),
        Form::Strength(share) => object.put("strength_percent", percent(*share)),
        Form::Dissolved(share, state) => {
            object.put("state", state.as_ref()).put("dissolved_percent", percent(*share))
        }
    }
}

fn mixture_json(mixture: &Mixture) -> Object {
    Object::of("dilution", &mixture.dilution)
        .put("at_c", mixture.warmth.map(|warmth| warmth.at))
        .put("stock_c", mixture.warmth.and_then(|warmth| warmth.stock))
        .put("water", mixture.water.as_ref().map(water_json))
        .put("parts", list(&mixture.parts, |part| part_of(&part.what, ml(part.volume))))
        .put("with", mixture.added.as_ref().map(|one| added_json(&one.planned())))
}

/// The units that a sheet shows besides grams and millilitres.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Units {
    /// The temperature scale that comes first; the other follows in brackets.
    pub scale: Scale,
    /// Whether amounts are also in avoirdupois ounces, grains and fluid ounces.
    pub with_us: bool,
}

impl Units {
    fn beside(self, amount: Amount) -> Option<String> {
        self.with_us.then(|| match amount {
            Amount::Mass(mass) => avoirdupois(mass),
            Amount::Volume(volume) => fluid(volume),
        })
    }

    fn in_brackets(self, amount: Amount) -> String {
        prefixed(" ", self.beside(amount).map(|beside| format!("({beside})")))
    }

    /// What to measure, and its temperature to a tenth of a degree: `water at 50 °C (122 °F)`.
    pub(super) fn warm(self, what: &str, at: Option<Temperature>) -> String {
        let other = if self.scale == Scale::Celsius { Scale::Fahrenheit } else { Scale::Celsius };
        let at = at.map(|at| format!("{} ({})", degrees(at, self.scale, 1), degrees(at, other, 1)));
        format!("{what}{}", prefixed(" at ", at))
    }
}

pub(super) fn metric(amount: Amount) -> (String, &'static str) {
    match amount {
        Amount::Mass(mass) => (grams(mass), "g"),
        Amount::Volume(volume) => (millilitres(volume), "ml"),
    }
}

/// A mass in grams, without the unit: with up to 6 decimals if it is below 10 mg or a whole number of micrograms,
/// else with up to 3.
fn grams(mass: Mass) -> String {
    let is_whole_micrograms = mass.pg % (Mass::G / 1_000_000) == 0;
    mass.in_g(if mass.pg < Mass::G / 100 || is_whole_micrograms { 6 } else { 3 })
}

/// A volume in millilitres, without the unit: up to 4 decimals below 0.1 ml, else up to 1.
fn millilitres(volume: Volume) -> String {
    volume.in_ml(if volume.fl < Volume::ML / 10 { 4 } else { 1 })
}

/// A mass in avoirdupois units: `3 av-oz 231 grain`. Less than an ounce is in grains only, with decimals below 100
/// grains.
fn avoirdupois(mass: Mass) -> String {
    let (ounce, grain) = (factor("av-oz"), factor("grain"));
    let (ounces, rest) = (mass.pg.div_euclid(ounce), mass.pg.rem_euclid(ounce));
    let places = match rest.div_euclid(grain) {
        _ if ounces > 0 => 0,
        0 => 3,
        1..100 => 1,
        _ => 0,
    };
    match (ounces, decimal(rest, grain, places).as_str()) {
        (0, grains) => format!("{grains} grain"),
        (_, "0") => format!("{ounces} av-oz"),
        (_, grains) => format!("{ounces} av-oz {grains} grain"),
    }
}

fn fluid(volume: Volume) -> String {
    let ounce = factor("us-fl-oz");
    let places = match volume.fl.div_euclid(ounce) {
        0 => 3,
        1..10 => 2,
        _ => 1,
    };
    format!("{} us-fl-oz", decimal(volume.fl, ounce, places))
}

fn factor(word: &str) -> i64 {
    unit(word).map_or(1, |unit| unit.factor)
}
