//! The differences between two recipes as a document, and as JSON by `grammar/comparison.schema.json`.

use super::document::{Block, Column, Document, Figure, Head, Section, Table};
use super::object::{Json, Object, list};
use super::phrase::{count, interval, rounded};
use super::plain::{joined, plain, prefixed};
use crate::compare::{Difference, Outcome, Place};
use crate::compile::Scale;
use crate::model::{
    Amount, Band, Change, Duration, Extend, Fingerprint, Key, Mass, Measure, Portion, Pulse, Recipe, Sign,
    Temperature, Time, Treats, Value, Volume, decimal,
};
use crate::source::Sources;

/// Raise this version when a change breaks programs that read the JSON.
const VERSION: u32 = 1;

/// The comparisons of all pairs of recipes, as one document. `pictures` has a list of pictures for each outcome, in the
/// same order.
pub fn comparison(outcomes: &[Outcome<'_>], pictures: Vec<Vec<Figure>>, scale: Scale) -> Document {
    let arrow = |outcome: &Outcome<'_>, text: fn(&Recipe) -> String| {
        let mut texts: Vec<String> = [outcome.old, outcome.new].into_iter().flatten().map(text).collect();
        texts.dedup();
        texts.join(" → ")
    };
    let names = |outcome: &Outcome<'_>| arrow(outcome, |recipe| plain(&recipe.name));
    let section = |outcome: &Outcome<'_>| {
        let fate = match (outcome.old, outcome.new) {
            (_, None) => "  gone",
            (None, _) => "  added",
            _ => "",
        };
        let marks = arrow(outcome, |recipe| Fingerprint::of(recipe).to_string()) + fate;
        let (work, wording): (Vec<_>, Vec<_>) =
            outcome.differences.iter().partition(|difference| difference.is_work);
        let mut blocks = vec![table(&work, scale)];
        if !wording.is_empty() {
            blocks.push(Block::Paragraph("without effect on the work:".to_owned()));
            blocks.push(table(&wording, scale));
        }
        Section { head: Head::Name(names(outcome), marks), blocks, ..Section::default() }
    };
    let pictures = pictures.into_iter().map(Some).chain(std::iter::repeat_with(|| None));
    let sections = (0..).zip(outcomes).zip(pictures).flat_map(|((number, outcome), drawings)| {
        let figures = drawings.and_then(|drawings| Section::figures(drawings, number));
        [Some(section(outcome)), figures].into_iter().flatten()
    });
    let last = match outcomes.iter().map(Outcome::count).sum() {
        0 => "the same work".to_owned(),
        number => count(number, "difference"),
    };
    Document {
        title: match outcomes {
            [one] => format!("Comparison: {}", names(one)),
            all => format!("Comparison of {}", count(all.len(), "recipe")),
        },
        is_bare: true,
        sections: sections.chain([Section::titled(last, Vec::new())]).collect(),
        ..Document::default()
    }
}

/// A table of differences: the place in the recipe, what differs, and `old → new`.
pub(super) fn table(differences: &[&Difference<'_>], scale: Scale) -> Block {
    let row = |difference: &&Difference<'_>| {
        let place = match difference.place {
            Place::Recipe => "recipe".to_owned(),
            Place::Film => "film".to_owned(),
            Place::Step(kind, name) => kind.word().to_owned() + &prefixed(" ", name.map(plain)),
        };
        let (old, new) = sides(&difference.old, &difference.new, scale);
        vec![place, called(difference, scale), format!("{old} → {new}")]
    };
    let place = Column { is_bold: true, ..Column::new("") };
    Block::Table(Table {
        columns: vec![place, Column::new(""), Column::new("")],
        rows: differences.iter().map(row).collect(),
        ..Table::default()
    })
}

/// What differs between the recipes, in words: `time at 20 °C`, `formula: metol`.
fn called(difference: &Difference<'_>, scale: Scale) -> String {
    let bottle = prefixed(" ", difference.bottle.map(plain));
    match difference.key {
        Key::ClearsIn(solution, dilution) => format!("clears in {} {dilution}", plain(solution)),
        Key::Formula(_) => format!("formula{bottle}"),
        Key::Makes(_) => format!("formula{bottle} makes"),
        Key::Item(_, what) | Key::ItemOrder(_, what) => format!("formula{bottle}: {}", plain(what)),
        Key::WithItem(what) | Key::WithItemOrder(what) => format!("with: {}", plain(what)),
        Key::ReplenisherItem(_, what) | Key::ReplenisherItemOrder(_, what) => {
            format!("replenisher: {}", plain(what))
        }
        Key::TimeAt(at) => format!("time at {}", Writer { scale, places: 2 }.degrees(at)),
        key => key.word().replace('-', " "),
    }
}

/// The comparison as indented JSON. `old` and `new` are the files of the two sides, for their names. `at` has the
/// temperatures at which developing times were compared.
pub fn comparison_json(
    outcomes: &[Outcome<'_>],
    at: &[Temperature],
    (old, new): (&Sources, &Sources),
) -> String {
    Object::of("comparison", VERSION)
        .put("same", outcomes.iter().all(|outcome| outcome.count() == 0))
        .put("temperatures_c", list(at, |at| *at))
        .put("recipes", list(outcomes, |outcome| recipe(outcome, old, new)))
        .text()
}

fn recipe(outcome: &Outcome<'_>, old: &Sources, new: &Sources) -> Object {
    let side = |recipe: &Recipe, files: &Sources| {
        Object::of("name", &recipe.name)
            .put("file", files.name(recipe.file))
            .put("fingerprint", Fingerprint::of(recipe).full())
    };
    let some = |is_work| {
        list(outcome.differences.iter().filter(|difference| difference.is_work == is_work), difference)
    };
    Object::default()
        .put("old", outcome.old.map(|recipe| side(recipe, old)))
        .put("new", outcome.new.map(|recipe| side(recipe, new)))
        .put("same", outcome.count() == 0)
        .put("differences", some(true))
        .put("said", some(false))
}

pub(super) fn difference(difference: &Difference<'_>) -> Object {
    let (place, step) = match difference.place {
        Place::Recipe => ("recipe", None),
        Place::Film => ("film", None),
        Place::Step(kind, name) => ("step", Some(Object::of("kind", kind.word()).put("name", name))),
    };
    let (at, of) = match difference.key {
        Key::TimeAt(at) => (Some(at), None),
        Key::ClearsIn(solution, dilution) => (None, Some(format!("{solution} {dilution}"))),
        Key::Item(_, what)
        | Key::ItemOrder(_, what)
        | Key::WithItem(what)
        | Key::WithItemOrder(what)
        | Key::ReplenisherItem(_, what)
        | Key::ReplenisherItemOrder(_, what) => (None, Some(what.to_owned())),
        _ => (None, None),
    };
    let (old, new) = sides(&difference.old, &difference.new, Scale::Celsius);
    Object::of("place", place)
        .put("step", step)
        .put("what", difference.key.word())
        .put("at_c", at)
        .put("of", of)
        .put("bottle", difference.bottle)
        .put("old", value(&difference.old, old))
        .put("new", value(&difference.new, new))
}

fn value(value: &Value<'_>, text: String) -> Object {
    let text = if *value == Value::Absent { Json::Plain(serde_json::Value::Null) } else { text.into() };
    let ms = if let Value::Time(time) = value { Some(*time) } else { None };
    Object::of("text", text).put("ms", ms)
}

/// The numbers of decimals to try, in order, until the two values look different.
const PLACES: [u32; 4] = [2, 4, 6, 12];

/// The old and the new value in words, with the fewest decimals that show a difference.
fn sides(old: &Value<'_>, new: &Value<'_>, scale: Scale) -> (String, String) {
    let texts = |places| {
        let writer = Writer { scale, places };
        (writer.value(old), writer.value(new))
    };
    PLACES.into_iter().map(texts).find(|(old, new)| old != new).unwrap_or_else(|| texts(2))
}

#[derive(Clone, Copy)]
struct Writer {
    scale: Scale,
    places: u32,
}

impl Writer {
    fn degrees(self, temperature: Temperature) -> String {
        rounded(temperature, self.scale, self.places)
    }

    fn volume(self, volume: Volume) -> String {
        format!("{} ml", volume.in_ml(self.places))
    }

    fn timed(self, time: Time, at: Option<Temperature>) -> String {
        time.to_string() + &prefixed(" at ", at.map(|at| self.degrees(at)))
    }

    fn value(self, value: &Value<'_>) -> String {
        match value {
            Value::Absent => "—".to_owned(),
            Value::Present => "yes".to_owned(),
            Value::NotAtThisTemperature => "no time at this temperature".to_owned(),
            Value::After(Some(name)) => format!("after {}", plain(name)),
            Value::After(None) => "first".to_owned(),
            Value::Name(text) => plain(text),
            Value::Words(text) => format!("\"{}\"", plain(text)),
            Value::Names(names) => plain(&names.join(", ")),
            Value::Word(word) => (*word).to_owned(),
            Value::Count(count) => count.to_string(),
            Value::Temperature(temperature) => self.degrees(*temperature),
            Value::Volume(volume) => self.volume(*volume),
            Value::Dilution(dilution) => dilution.to_string(),
            Value::Knock(knock) => knock.word().to_owned(),
            Value::Clock(clock) => format!("from {}", clock.word()),
            Value::Item(portion) => self.portion(portion),
            Value::Treats(rows) => joined(rows.iter().map(|row| self.treats(row)), ", "),
            Value::Extend(Extend { by, per_rolls }) => format!("{by} per {per_rolls} rolls"),
            Value::Rate(factor, per) => {
                let factor = decimal(*factor, 1_000_000, 6);
                format!("{factor} per {}", interval(*per, self.scale, self.places))
            }
            Value::Time(time) => time.to_string(),
            Value::Clears(time, at) => self.timed(*time, Some(*at)),
            Value::Plain(time, at) => self.timed(*time, *at),
            Value::Duration(written) => self.duration(written),
            Value::Band(Band::Between(low, high)) => {
                format!("{} to {}", self.degrees(*low), self.degrees(*high))
            }
            Value::Band(Band::Within(by)) => {
                format!("within {}", interval(by.base, self.scale, self.places))
            }
            Value::Pulse(written) => pulse(written),
        }
    }

    /// The amount of an ingredient: `5 g anhydrous in 500 ml`. If the formula makes one litre, the volume is left out.
    fn portion(self, Portion { item, makes, .. }: &Portion<'_>) -> String {
        let mass = |mass: Mass| format!("{} g", mass.in_g(self.places.max(3)));
        let measure = match item.measure {
            Measure::Mass(of) => mass(of),
            Measure::Volume(of) => self.volume(of),
            Measure::UpTo(of) => format!("to {}", self.volume(of)),
            Measure::MassPerLitre(of) => format!("{} in each litre", mass(of)),
            Measure::VolumePerLitre(of) => format!("{} in each litre", self.volume(of)),
        };
        let makes = Some(*makes).filter(|makes| *makes != Volume::from_ml(1000));
        [
            measure,
            prefixed(" ", item.state.as_deref().map(plain)),
            prefixed(" ", item.strength),
            prefixed(" at ", item.at.map(|at| self.degrees(at))),
            prefixed(" in ", makes.map(|makes| self.volume(makes))),
        ]
        .concat()
    }

    fn treats(self, row: &Treats) -> String {
        format!("{} rolls per {}{}", row.rolls, self.volume(row.per), prefixed(" at ", row.at.as_ref()))
    }

    /// The time of a step that ends at a sign: `until "no yellow is left", at most 15:00, look every 1:00`.
    fn sign(self, sign: &Sign) -> String {
        let text = plain(&sign.text);
        let end = match sign.times {
            Some(times) => format!("{times} x the time to \"{text}\""),
            None => format!("until \"{text}\""),
        };
        let flow = sign.flow.map(|flow| flow.per_minute.in_litres(self.places.max(3)));
        [
            end,
            bounds(sign.at_least, Some(sign.at_most)),
            prefixed(", look every ", sign.look),
            flow.map(|flow| format!(", in {flow} l/min")).unwrap_or_default(),
        ]
        .concat()
    }

    fn duration(self, written: &Duration) -> String {
        match written {
            Duration::Open => "not stated".to_owned(),
            Duration::Chart(chart) => {
                let points = chart.points().iter();
                joined(points.map(|point| self.timed(point.time, Some(point.temperature))), ", ")
            }
            Duration::Plain { time, at } => self.timed(*time, *at),
            Duration::Clearing { times, at_least, at_most } => {
                format!("{times} x clearing{}", bounds(*at_least, *at_most))
            }
            Duration::Sign(sign) => self.sign(sign),
            Duration::EachSide(time) => format!("{time} each side"),
            Duration::Changes(changes) => {
                joined(changes.chunk_by(|one, next| one == next).filter_map(self::changes), ", ")
            }
            Duration::Flow { flow, time } => {
                format!("{} l/min for {time}", flow.per_minute.in_litres(self.places.max(3)))
            }
        }
    }
}

fn bounds(least: Option<Time>, most: Option<Time>) -> String {
    prefixed(", at least ", least) + &prefixed(", at most ", most)
}

/// A run of equal changes of water in words: `5 x 1:00 of soaking`, `10 inversions`.
fn changes(run: &[Change]) -> Option<String> {
    let one = match run.first()? {
        Change::Inversions(inversions) => format!("{inversions} inversions"),
        Change::Soak(time) => format!("{time} of soaking"),
    };
    Some(if run.len() == 1 { one } else { format!("{} x {one}", run.len()) })
}

fn pulse(written: &Pulse) -> String {
    let amount = |amount: &Amount| match amount {
        Amount::For(time) => time.to_string(),
        Amount::Inversions(count) => format!("{count} inversions"),
    };
    match written {
        Pulse::None => "none".to_owned(),
        Pulse::Continuous => "continuous".to_owned(),
        Pulse::Rotary(speed) => format!("rotary {} rpm", speed.rpm),
        Pulse::At { times, amount: length } => {
            format!("at {} for {}", joined(times, ", "), amount(length))
        }
        Pulse::Interval { first, then } => {
            let first = first.iter().map(|first| format!("first {}", amount(first)));
            let then = then.iter().map(|(then, every)| format!("{} every {every}", amount(then)));
            joined(first.chain(then), ", then ")
        }
    }
}
