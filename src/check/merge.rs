//! Merges a derived recipe with its parent: statements replace statements, new steps go where they say.

use crate::model::StepKind;
use crate::source::{Diagnostic, FileId, Span, clip, first_few};
use crate::vocabulary::{Lines, Reading, Row, Statement as _, say, suggest};

/// Whether a row is a certain statement.
type Is = fn(&'static Row) -> bool;

/// Statements of the time of a step.
const TIMES: &[Is] = &[say::Chart::has, say::Time::has, say::Fills::has, say::Soak::has];

/// Groups of statements of which a step has one; any of a group replaces the parent's.
const SLOTS: &[&[Is]] = &[TIMES, &[say::Between::has, say::Within::has]];

/// Groups of statements of which a block has at most one, and none replaces another.
const CLASHES: &[&[Is]] = &[&[say::Flow::has, say::Fills::has], &[say::Flow::has, say::Soak::has]];

/// A recipe with what it inherited.
#[derive(Debug, Clone)]
pub(super) struct Merged<'a> {
    /// Its own declaration.
    pub(super) own: &'a Reading,
    /// The recipe it is derived from.
    pub(super) parent: Option<(FileId, String)>,
    /// The number of its ancestors.
    pub(super) depth: usize,
    pub(super) rows: Vec<&'a Reading>,
    pub(super) steps: Vec<MergedStep<'a>>,
    /// Whether all its statements were read without an error.
    pub(super) sound: bool,
    /// Whether every line that may be a step was understood; if not, a missing step may be on such a line.
    knows_steps: bool,
}

/// A step with what it inherited.
#[derive(Debug, Clone)]
pub(super) struct MergedStep<'a> {
    pub(super) kind: StepKind,
    pub(super) name: Option<String>,
    /// The header that introduced it.
    pub(super) span: Span,
    pub(super) rows: Vec<&'a Reading>,
    /// Whether every line was understood; if not, a missing statement may be on such a line.
    pub(super) sound: bool,
}

struct Header<'a> {
    kind: StepKind,
    name: Option<&'a str>,
    place: Option<Place<'a>>,
}

/// Where a new step goes.
struct Place<'a> {
    after: bool,
    kind: StepKind,
    name: Option<&'a str>,
    span: Span,
}

impl<'a> MergedStep<'a> {
    /// The statement of its time.
    pub(super) fn time_row(&self) -> Option<&'a Reading> {
        TIMES.iter().find_map(|is| self.rows.iter().copied().find(|row| is(row.row)))
    }

    pub(super) fn title(&self) -> String {
        title(self.kind, self.name.as_deref())
    }

    fn is(&self, kind: StepKind, name: Option<&str>) -> bool {
        self.kind == kind && self.name.as_deref() == name
    }
}

impl<'a> Merged<'a> {
    fn position(&self, kind: StepKind, name: Option<&str>) -> Option<usize> {
        self.steps.iter().position(|step| step.is(kind, name))
    }
}

impl<'a> Lines<'a> for &Merged<'a> {
    fn lines(self) -> impl Iterator<Item = &'a Reading> {
        self.rows.iter().copied()
    }
}

impl<'a> Lines<'a> for &MergedStep<'a> {
    fn lines(self) -> impl Iterator<Item = &'a Reading> {
        self.rows.iter().copied()
    }
}

/// A recipe merged with its parent, if it has one.
pub(super) fn merge<'a>(
    parent: Option<&Merged<'a>>,
    own: &'a Reading,
    faults: &mut Vec<Diagnostic>,
) -> Merged<'a> {
    let mut merged = match parent {
        Some(parent) => {
            let name = parent.own.name().map_or(String::new(), |(name, _)| name.to_owned());
            let parent = parent.clone();
            Merged { own, parent: Some((parent.own.span.file, name)), depth: parent.depth + 1, ..parent }
        }
        None => Merged {
            own,
            parent: None,
            depth: 0,
            rows: Vec::new(),
            steps: Vec::new(),
            sound: true,
            knows_steps: true,
        },
    };
    merged.sound &= own.sound && own.block_sound;
    merged.knows_steps &= own.sound && own.block_sound;
    two_ways(&own.rows, faults);
    let mut all_placed = true;
    let mut stated: Vec<(StepKind, Option<String>, Span)> = Vec::new();
    for row in &own.rows {
        match header(row) {
            Some(header) => {
                let key = (header.kind, header.name.map(str::to_owned));
                let earlier = stated.iter().find(|(kind, name, _)| (*kind, name) == (key.0, &key.1));
                match earlier {
                    Some((.., earlier)) => faults.push(repeated(row, &header, *earlier)),
                    None => all_placed &= lay(&mut merged, &header, row, faults),
                }
                stated.push((key.0, key.1, row.span));
            }
            None if row.is::<say::Without>() => drop_step(&mut merged, row, faults),
            None => put(&mut merged.rows, row),
        }
    }
    merged.knows_steps &= all_placed;
    merged
}

/// Merges a step with the one of that name, or inserts a new one; whether its position is known.
fn lay<'a>(
    merged: &mut Merged<'a>,
    header: &Header<'_>,
    row: &'a Reading,
    faults: &mut Vec<Diagnostic>,
) -> bool {
    let sound = row.sound && row.block_sound && row.rows.iter().all(|row| row.sound && row.block_sound);
    merged.sound &= sound;
    two_ways(&row.rows, faults);
    if let Some(at) = merged.position(header.kind, header.name) {
        if let Some(place) = &header.place {
            let message = format!("the step {} already has its place", title(header.kind, header.name));
            faults.push(
                Diagnostic::error("needless-place", place.span, message)
                    .help("remove the place, or give the new step another name"),
            );
        }
        if let Some(step) = merged.steps.get_mut(at) {
            step.sound &= sound;
            row.rows.iter().for_each(|row| put(&mut step.rows, row));
        }
        return true;
    }
    // The place, or a `from`, may be on a header that was not understood.
    let place = if row.sound && merged.own.sound { place_of(merged, header, row, faults) } else { None };
    let Some(at) = place else {
        merged.sound = false;
        return false;
    };
    let mut rows = Vec::new();
    row.rows.iter().for_each(|row| put(&mut rows, row));
    let name = header.name.map(str::to_owned);
    merged.steps.insert(at, MergedStep { kind: header.kind, name, span: row.span, rows, sound });
    true
}

/// The index of a new step; without a parent the last.
fn place_of(
    merged: &Merged<'_>,
    header: &Header<'_>,
    row: &Reading,
    faults: &mut Vec<Diagnostic>,
) -> Option<usize> {
    let Some(place) = &header.place else {
        if merged.parent.is_none() {
            return Some(merged.steps.len());
        }
        if !merged.knows_steps {
            return None;
        }
        let steps: Vec<String> = merged.steps.iter().map(MergedStep::title).collect();
        let message = format!(
            "the parent has no step {}, and a new step needs a place",
            title(header.kind, header.name)
        );
        faults.push(Diagnostic::error("unplaced-step", row.span, message).help(format!(
            "write before or after one of its steps: {}",
            first_few(steps.iter().map(String::as_str), ", ")
        )));
        return None;
    };
    let found = merged.position(place.kind, place.name);
    if found.is_none() && merged.knows_steps {
        faults.push(no_step(merged, place.kind, place.name, place.span));
    }
    found.map(|at| at + usize::from(place.after))
}

fn drop_step<'a>(merged: &mut Merged<'a>, row: &'a Reading, faults: &mut Vec<Diagnostic>) {
    let Some(without) = row.view::<say::Without>() else { return };
    let Some(kind) = without.get(say::Without::kind) else { return };
    let name = without.get(say::Without::name);
    match merged.position(kind, name) {
        Some(at) => drop(merged.steps.remove(at)),
        None if merged.knows_steps => faults.push(no_step(merged, kind, name, row.span)),
        None => merged.sound = false,
    }
}

fn no_step(merged: &Merged<'_>, kind: StepKind, name: Option<&str>, span: Span) -> Diagnostic {
    let wanted = title(kind, name);
    let steps: Vec<String> = merged.steps.iter().map(MergedStep::title).collect();
    let fault = Diagnostic::error("unknown-step", span, format!("this recipe has no step {wanted} here"));
    match suggest(&wanted, steps.iter().map(String::as_str)) {
        Some(near) => fault.help(format!("it has a step {near}")),
        None if merged.parent.is_none() => fault.help("it has no parent: its steps are in the order written"),
        None => fault.help(format!("its steps are {}", first_few(steps.iter().map(String::as_str), ", "))),
    }
}

fn repeated(row: &Reading, header: &Header<'_>, earlier: Span) -> Diagnostic {
    let message = format!("the step {} occurs twice", title(header.kind, header.name));
    Diagnostic::error("repeated-step", row.span, message)
        .other(earlier, "the first")
        .help(format!("give one another name, such as: {} second {{", header.kind.word()))
}

/// Adds a statement; unless it may be repeated, it replaces the one that is there.
fn put<'a>(rows: &mut Vec<&'a Reading>, row: &'a Reading) {
    let slot = SLOTS.iter().find(|slot| slot.iter().any(|is| is(row.row)));
    let changes = row.is::<say::Fills>() || row.is::<say::Soak>();
    rows.retain(|there| {
        let replaced = slot.is_some_and(|slot| slot.iter().any(|is| is(there.row)));
        !(replaced || there.is_one_with(row) || changes && there.is::<say::Flow>())
    });
    rows.push(row);
}

/// Reports two statements of one group in one block.
fn two_ways(rows: &[Reading], faults: &mut Vec<Diagnostic>) {
    for slot in SLOTS.iter().chain(CLASHES) {
        let mut said = rows.iter().filter(|row| slot.iter().any(|is| is(row.row)));
        let Some(first) = said.next() else { continue };
        for second in said.filter(|second| !std::ptr::eq(second.row, first.row)) {
            let message =
                format!("'{}' and '{}' say the same thing in two ways", first.row.word, second.row.word);
            faults.push(
                Diagnostic::error("said-in-two-ways", second.span, message)
                    .other(first.span, "the first")
                    .help("keep the right one and remove the other"),
            );
        }
    }
}

fn header(row: &Reading) -> Option<Header<'_>> {
    let (kind, step) = row.step().zip(row.view::<say::Step>())?;
    let after = step.said(say::Step::after);
    let placing = after.or(step.said(say::Step::before)).zip(step.said(say::Step::by));
    let place = placing.map(|(((), from), (kind, to))| Place {
        after: after.is_some(),
        kind,
        name: step.get(say::Step::by_name),
        span: from.to(step.said(say::Step::by_name).map_or(to, |(_, span)| span)),
    });
    Some(Header { kind, name: step.get(say::Step::name), place })
}

fn title(kind: StepKind, name: Option<&str>) -> String {
    name.map_or_else(|| kind.word().to_owned(), |name| format!("{} {}", kind.word(), clip(name)))
}
