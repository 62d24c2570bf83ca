//! A lower bound on the number of tanks: the weight of all rolls, divided by the weight of the heaviest full tank.
//!
//! The best weights of the roll sizes solve a linear program, calculated in whole numbers. The dual solution says how
//! many tanks to fill in each way.

use super::tank::{Counts, Inside};

/// The most steps of the simplex method. The roll weights after any step give a valid lower bound.
const STEPS_MAX: usize = 100;

/// Weights for a lower bound: `each` is the weight of a roll of each size, `most` that of the heaviest full tank.
#[derive(Debug, Clone)]
pub(super) struct Weighed {
    each: Vec<i128>,
    most: i128,
}

impl Weighed {
    pub(super) fn tanks(&self, counts: &[u32]) -> usize {
        let heft = heft(&self.each, counts);
        let most = self.most.max(1);
        usize::try_from((heft + most - 1) / most).expect("weights and counts are never below 0")
    }

    fn fair(each: Vec<i128>, full: &[Counts]) -> Weighed {
        let most = full.iter().map(|way| heft(&each, way)).max().unwrap_or(1);
        Weighed { each, most }
    }
}

fn heft(each: &[i128], counts: &[u32]) -> i128 {
    each.iter().zip(counts).map(|(each, count)| each * i128::from(*count)).sum()
}

/// Lists of weights that give a lower bound for any numbers of rolls. In the first list, a size weighs as many parts of
/// the tank as a roll of it takes. In the second list, all sizes weigh 1. Then each size has a list in which this size
/// weighs 1 and all others 0. If `full` is `None`, only the first list is returned.
pub(super) fn plain(inside: Inside<'_>, full: Option<&[Counts]>) -> Vec<Weighed> {
    let reels: Vec<i128> = inside.sizes.iter().map(|size| i128::from(*size)).collect();
    let Some(full) = full else { return vec![Weighed { each: reels, most: inside.reels.into() }] };
    let sizes = inside.sizes.len();
    let of_one = |one: usize| (0..sizes).map(|size| i128::from(size == one)).collect();
    let single = (0..sizes).map(of_one);
    [reels, vec![1; sizes]].into_iter().chain(single).map(|each| Weighed::fair(each, full)).collect()
}

/// For these rolls: the weights with the best bound, and how many tanks to fill in each way of `full`, rounded down.
pub(super) fn best(full: &[Counts], counts: &[u32]) -> (Weighed, Vec<u32>) {
    let mut table = Table::of(full, counts);
    for _ in 0..STEPS_MAX {
        let Some(column) = table.column() else { break };
        let Some(row) = table.row(column) else { break };
        table.pivot(row, column);
    }
    (Weighed::fair(table.weights(), full), table.uses())
}

/// The simplex tableau; all its entries have the same denominator. It has a row for each way to fill a tank and a last
/// row for the objective, a column for each size and a last column for the bound.
struct Table {
    rows: Vec<Vec<i128>>,
    denominator: i128,
    /// The number of the variable in each row. The sizes are numbered first, then the ways to fill a tank.
    at_row: Vec<usize>,
    at_column: Vec<usize>,
}

impl Table {
    fn of(full: &[Counts], counts: &[u32]) -> Table {
        let sizes = counts.len();
        let row = |way: &Counts| way.iter().map(|count| i128::from(*count)).chain([1]).collect();
        let objective = counts.iter().map(|count| -i128::from(*count)).chain([0]).collect();
        Table {
            rows: full.iter().map(row).chain([objective]).collect(),
            denominator: 1,
            at_row: (sizes..sizes + full.len()).collect(),
            at_column: (0..sizes).collect(),
        }
    }

    fn entry(&self, row: usize, column: usize) -> i128 {
        *self.rows.get(row).and_then(|row| row.get(column)).expect("the table has this entry")
    }

    /// The column that enters the basis. By Bland's rule it is the column of the first variable that can enter, so
    /// that the method ends.
    fn column(&self) -> Option<usize> {
        let (objective, columns) = (self.at_row.len(), self.at_column.len());
        (0..columns)
            .filter(|column| self.entry(objective, *column) < 0)
            .min_by_key(|column| self.at_column.get(*column))
    }

    /// The row that leaves the basis: the row that most limits the variable of `column`; `None` if no row limits it.
    fn row(&self, column: usize) -> Option<usize> {
        let bound = self.at_column.len();
        (0..self.at_row.len()).filter(|row| self.entry(*row, column) > 0).min_by(|one, other| {
            let left = self.entry(*one, bound) * self.entry(*other, column);
            let right = self.entry(*other, bound) * self.entry(*one, column);
            left.cmp(&right).then_with(|| self.at_row.get(*one).cmp(&self.at_row.get(*other)))
        })
    }

    fn pivot(&mut self, row: usize, column: usize) {
        let pivot = self.entry(row, column);
        let turned = self.rows.get(row).expect("the row is one of the tableau").clone();
        for (_, own) in self.rows.iter_mut().enumerate().filter(|(at, _)| *at != row) {
            let factor = *own.get(column).expect("the table has this column");
            for (place, (entry, other)) in own.iter_mut().zip(&turned).enumerate() {
                // The division has no remainder: each entry is the determinant of a part of the first tableau.
                *entry = if place == column {
                    -factor
                } else {
                    (*entry * pivot - factor * other) / self.denominator
                };
            }
        }
        let own = self.rows.get_mut(row).and_then(|own| own.get_mut(column));
        *own.expect("the table has this entry") = self.denominator;
        self.denominator = pivot;
        if let (Some(one), Some(other)) = (self.at_row.get_mut(row), self.at_column.get_mut(column)) {
            std::mem::swap(one, other);
        }
    }

    fn weights(&self) -> Vec<i128> {
        let sizes = self.at_column.len();
        let row_of = |size: usize| self.at_row.iter().position(|at| *at == size);
        (0..sizes).map(|size| row_of(size).map_or(0, |row| self.entry(row, sizes).max(0))).collect()
    }

    fn uses(&self) -> Vec<u32> {
        let (objective, sizes) = (self.at_row.len(), self.at_column.len());
        let mut uses = vec![0; objective];
        for (column, at) in self.at_column.iter().enumerate() {
            let own = at.checked_sub(sizes).and_then(|way| uses.get_mut(way));
            let often = self.entry(objective, column) / self.denominator.max(1);
            own.into_iter().for_each(|own| *own = u32::try_from(often.max(0)).unwrap_or(u32::MAX));
        }
        uses
    }
}
