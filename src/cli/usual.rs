//! The usual tank of the user's settings. It is taken if neither the command line nor the plan names a tank, and if it
//! suits the load.

use std::sync::Arc;

use super::choose::conditions;
use super::evening::Evening;
use super::personal::Settings;
use super::{Failure, Reader, fail};
use crate::compile::suits;
use crate::model::{Recipe, Shelf, Tank, Time, Volume};
use crate::source::FileId;
use crate::vocabulary::Declared;

/// Two tanks of the same volume count as different if their times to fill or to drain differ by more than this.
const APART: Time = Time::from_seconds(10);

/// Reads the files below the current folder that declare tanks. Empty if none of them declares the usual tank or the
/// only tank of the backlog.
pub(super) fn files(
    settings: &Settings,
    evening: &Evening,
    reader: &mut Reader,
) -> Result<Vec<FileId>, Failure> {
    let wanted = settings.tank.iter().chain(&evening.other_tank);
    let is_here = |name: &String| !evening.known.declaring(&[Declared::Tank], Some(name)).is_empty();
    if !wanted.into_iter().any(is_here) {
        return Ok(Vec::new());
    }
    evening.known.declaring(&[Declared::Tank], None).iter().map(|path| reader.read(path)).collect()
}

/// The usual tank of the user's settings, if it suits the load and the recipe. Fails, and asks which tank is meant, if
/// another tank of the same volume has clearly other times to fill or to drain (see `APART`).
pub(super) fn tank(
    settings: &Settings,
    evening: &Evening,
    (shelf, recipe): (&Shelf, &Arc<Recipe>),
    roots: &[FileId],
) -> Result<Option<Arc<Tank>>, Failure> {
    let Some(name) = settings.tank.as_ref().filter(|_| evening.tank.is_none()) else { return Ok(None) };
    let mut all: Vec<&Arc<Tank>> = Vec::new();
    for (file, _, tank) in &shelf.tanks {
        let is_new = !all.iter().any(|known| known.span == tank.span);
        if roots.contains(file) && *file == tank.span.file && is_new {
            all.push(tank);
        }
    }
    let figures = |tank: &Arc<Tank>| {
        let tonight = conditions(evening, Some(Arc::clone(tank))).ok()?;
        suits(shelf, recipe, &tonight)
    };
    let mut named = all.iter().filter(|tank| tank.name == *name);
    let (Some(usual), None) = (named.next(), named.next()) else { return Ok(None) };
    let Some(own) = figures(usual) else { return Ok(None) };
    let rivals = all.iter().filter(|tank| tank.span != usual.span);
    let mut rivals = rivals.filter_map(|tank| Some((*tank, figures(tank)?)));
    match rivals.find(|(_, figures)| is_confusable(own, *figures)) {
        None => Ok(Some(Arc::clone(usual))),
        Some((other, figures)) => fail(
            format!("which tank? {}; {}", told(usual, own), told(other, figures)),
            format!("say which: --tank {} or --tank {}", usual.name, other.name),
        ),
    }
}

/// The volume of the largest bath in a tank, and the tank's times to fill and to drain.
type Figures = (Volume, Option<Time>, Option<Time>);

/// Whether two tanks have baths of the same volume, but times to fill or to drain that differ by more than `APART`.
fn is_confusable((volume, fill, drain): Figures, (other, their_fill, their_drain): Figures) -> bool {
    let differs = |one: Option<Time>, two: Option<Time>| {
        one.zip(two).is_some_and(|(one, two)| (one - two).max(two - one) > APART)
    };
    volume == other && (differs(fill, their_fill) || differs(drain, their_drain))
}

/// A tank's name with its times to fill and to drain, for messages: `tall-five (fill 0:25, drain 0:20)`.
fn told(tank: &Tank, (_, fill, drain): Figures) -> String {
    let time = |time: Option<Time>| time.map_or_else(|| "not stated".to_owned(), |time| time.to_string());
    format!("{} (fill {}, drain {})", tank.name, time(fill), time(drain))
}
