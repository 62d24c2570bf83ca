//! A characteristic curve: density against the logarithm of exposure, and what is read off it.

use crate::source::Sorted as _;

/// The net density of the speed point, by ISO 6.
const SPEED_POINT: f64 = 0.10;
/// The radii, in units of density, of the two arcs by which the contrast index is defined (not looked up).
const ARCS: (f64, f64) = (0.2, 2.2);
/// A step belongs to the straight part of the curve if its slope is at least this share of the steepest (common
/// practice, no source).
const STRAIGHT: f64 = 0.85;
/// How often a search halves an interval: 40 halvings make it shorter by a factor of 10^12.
const HALVINGS: usize = 40;
/// The search for the contrast index tries lines whose starts are this far apart in log exposure: less than a step of
/// any wedge.
const APART: f64 = 0.05;
/// Two log exposures with at most this difference are one step; two angles in radians with at most this difference are
/// one line.
const SAME: f64 = 1e-6;

/// A characteristic curve through the steps of a wedge. Density never falls as exposure rises.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// The density of base and fog.
    pub fog: f64,
    points: Vec<Node>,
}

/// A point of the curve: the logarithm of exposure, the density, and the slope there.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Node {
    x: f64,
    y: f64,
    slope: f64,
}

impl Curve {
    /// A curve through these steps, each a logarithm of exposure and a density. Readings of one step are averaged.
    /// Densities that fall are replaced by their common mean. `None` with fewer than three different exposures, or if a
    /// number is not finite.
    pub fn new(steps: &[(f64, f64)], fog: f64) -> Option<Curve> {
        let mut steps = steps.to_vec();
        steps.order_by(|one, other| one.0.total_cmp(&other.0));
        let is_finite = fog.is_finite() && steps.iter().all(|(x, y)| x.is_finite() && y.is_finite());
        // Each step keeps the sum and the number of its readings: in `pooled`, a step that was read twice has twice the
        // weight.
        let same = steps.chunk_by(|one, other| other.0 - one.0 < SAME);
        let sums = same.filter_map(|group| {
            let count = group.iter().map(|_| 1.0).sum::<f64>();
            Some((group.first()?.0, (group.iter().map(|(_, y)| y).sum::<f64>(), count)))
        });
        let (exposures, sums): (Vec<f64>, Vec<(f64, f64)>) = sums.unzip();
        if exposures.len() < 3 || !is_finite {
            return None;
        }
        let points: Vec<(f64, f64)> = exposures.into_iter().zip(pooled(&sums)).collect();
        let slopes = slopes(&points);
        let points = points.into_iter().zip(slopes).map(|((x, y), slope)| Node { x, y, slope }).collect();
        Some(Curve { fog, points })
    }

    /// The lowest and the highest exposure, as logarithms.
    pub fn ends(&self) -> (f64, f64) {
        let end = |node: Option<&Node>| node.map_or(0.0, |node| node.x);
        (end(self.points.first()), end(self.points.last()))
    }

    /// The steps, each with the logarithm of its exposure and the mean density that [`pooled`] gives it.
    pub fn steps(&self) -> impl Iterator<Item = (f64, f64)> {
        self.points.iter().map(|node| (node.x, node.y))
    }

    /// The density at an exposure; `None` outside the steps.
    pub fn density(&self, x: f64) -> Option<f64> {
        let (left, right) =
            self.points.iter().zip(self.points.iter().skip(1)).find(|(_, right)| x <= right.x)?;
        (left.x <= x).then(|| between(left, right, x))
    }

    /// The least exposure, as a logarithm, at which this density is reached; `None` if the first step is already
    /// denser, or no step is.
    pub fn reaches(&self, density: f64) -> Option<f64> {
        let first = self.points.first()?;
        if density < first.y {
            return None;
        }
        let (left, right) =
            self.points.iter().zip(self.points.iter().skip(1)).find(|(_, right)| density <= right.y)?;
        Some(bisected(left.x, right.x, |x| between(left, right, x) >= density))
    }

    /// The speed point: the exposure, as a logarithm, of a net density of 0.10.
    pub fn speed_point(&self) -> Option<f64> {
        self.reaches(self.fog + SPEED_POINT)
    }

    /// How much the density rises from the speed point over this range of log exposure; `None` if the steps do not
    /// reach so far.
    pub fn rise(&self, range: f64) -> Option<f64> {
        Some(self.density(self.speed_point()? + range)? - self.fog - SPEED_POINT)
    }

    /// The average gradient from the speed point over this range of log exposure.
    pub fn gradient(&self, range: f64) -> Option<f64> {
        Some(self.rise(range)? / range)
    }

    /// The slope of the curve at the speed point.
    pub fn slope_at_speed_point(&self) -> Option<f64> {
        let (x, wide) = (self.speed_point()?, 0.075);
        Some((self.density(x + wide)? - self.density(x - wide)?) / (2.0 * wide))
    }

    /// Gamma: the slope of the straight part, by least squares over its steps; `None` with fewer than three such steps.
    pub fn gamma(&self) -> Option<f64> {
        let points: Vec<(f64, f64)> = self.steps().collect();
        let last = points.len().checked_sub(1)?;
        let slope = |at: usize| {
            let (left, right) = (points.get(at.saturating_sub(1))?, points.get((at + 1).min(last))?);
            Some((right.1 - left.1) / (right.0 - left.0))
        };
        let slopes: Vec<f64> = (0..=last).filter_map(slope).collect();
        let steepest = slopes.iter().copied().fold(0.0, f64::max);
        let least = STRAIGHT * steepest;
        let numbered: Vec<(usize, f64)> = slopes.into_iter().enumerate().collect();
        let runs = numbered.chunk_by(|one, other| (one.1 >= least) == (other.1 >= least));
        let straight =
            runs.filter(|run| run.iter().any(|(_, slope)| *slope >= least)).max_by_key(|run| run.len())?;
        let part: Vec<(f64, f64)> = straight.iter().filter_map(|(at, _)| points.get(*at).copied()).collect();
        (part.len() >= 3).then(|| slope_of(&part))
    }

    /// The contrast index: the slope of a line that starts on the level of base and fog, and cuts the curve at the
    /// distances 0.2 and 2.2 from its start; of several such lines, the one that starts at the highest exposure.
    pub fn contrast_index(&self) -> Option<f64> {
        let (low, high) = self.ends();
        let turn = |start: f64| {
            let far = self.angle(start, ARCS.1)?;
            Some(self.angle(start, ARCS.0)? - far)
        };
        let mut start = high;
        let mut above: Option<f64> = None;
        while start > low - ARCS.1 {
            let now = turn(start);
            // The start of the wanted line is between two starts at which `turn` has different signs. `turn` is `None`
            // if one of the arcs does not meet the curve. Both starts need a value: otherwise the line may cut the
            // curve after its last step.
            if let (Some(above), Some(now)) = (above, now)
                && above >= -SAME
                && now <= SAME
            {
                let best = bisected(start, start + APART, |x| turn(x).is_some_and(|turn| turn > 0.0));
                return self.angle(best, ARCS.1).map(libm::tan);
            }
            above = now;
            start -= APART;
        }
        None
    }

    /// The angle in radians of a line from the level of base and fog at `start` to the point of the curve at this
    /// distance from its start; `None` if the curve has no such point.
    fn angle(&self, start: f64, distance: f64) -> Option<f64> {
        let is_past = |x: f64, density: f64| {
            let (along, up) = (x - start, density - self.fog);
            along * along + up * up >= distance * distance
        };
        let (low, high) = self.ends();
        let from = start.max(low);
        if from > high || is_past(from, self.density(from)?) {
            return None;
        }
        let mut pairs = self.points.iter().zip(self.points.iter().skip(1));
        let (left, right) = pairs.find(|(_, right)| right.x > from && is_past(right.x, right.y))?;
        let x = bisected(left.x.max(from), right.x, |x| is_past(x, between(left, right, x)));
        Some(libm::atan2(between(left, right, x) - self.fog, x - start))
    }
}

/// The mean of each group of readings; a group is given as the sum and the number of its readings. If a mean is less
/// than the mean before it, their common mean replaces both, until no mean falls (pool adjacent violators).
pub fn pooled(groups: &[(f64, f64)]) -> Vec<f64> {
    let mut blocks: Vec<(f64, f64, usize)> = Vec::new();
    for (sum, count) in groups {
        let mut block = (*sum, *count, 1);
        while let Some(before) = blocks.last().copied()
            && before.0 / before.1 > block.0 / block.1
        {
            blocks.pop();
            block = (block.0 + before.0, block.1 + before.1, block.2 + before.2);
        }
        blocks.push(block);
    }
    blocks.into_iter().flat_map(|(sum, count, groups)| std::iter::repeat_n(sum / count, groups)).collect()
}

/// The slopes of a monotone cubic through these points: a weighted harmonic mean of the neighbouring slopes, after F.
/// N. Fritsch and J. Butland (SIAM Journal on Scientific and Statistical Computing, 1984; not looked up).
fn slopes(points: &[(f64, f64)]) -> Vec<f64> {
    let parts: Vec<(f64, f64)> = points
        .iter()
        .zip(points.iter().skip(1))
        .map(|((left, low), (right, high))| (right - left, (high - low) / (right - left)))
        .collect();
    let inner = parts.iter().zip(parts.iter().skip(1)).map(|((before, one), (after, other))| {
        if *one <= 0.0 || *other <= 0.0 {
            return 0.0;
        }
        let (first, second) = (2.0 * after + before, after + 2.0 * before);
        (first + second) / (first / one + second / other)
    });
    let end = |part: Option<&(f64, f64)>| part.map_or(0.0, |(_, slope)| *slope);
    let (first, last) = (end(parts.first()), end(parts.last()));
    std::iter::once(first).chain(inner).chain([last]).collect()
}

fn between(left: &Node, right: &Node, x: f64) -> f64 {
    let wide = right.x - left.x;
    let t = (x - left.x) / wide;
    let (square, cube) = (t * t, t * t * t);
    let (from_left, from_right) = (2.0 * cube - 3.0 * square + 1.0, 3.0 * square - 2.0 * cube);
    let (slope_left, slope_right) = (cube - 2.0 * square + t, cube - square);
    from_left * left.y + from_right * right.y + wide * (slope_left * left.slope + slope_right * right.slope)
}

/// Where `is_past` changes from false to true between `low` and `high`.
pub(super) fn bisected(mut low: f64, mut high: f64, is_past: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if is_past(middle) { high = middle } else { low = middle }
    }
    high
}

fn slope_of(points: &[(f64, f64)]) -> f64 {
    let count: f64 = points.iter().map(|_| 1.0).sum();
    let mean = |pick: fn(&(f64, f64)) -> f64| points.iter().map(pick).sum::<f64>() / count;
    let (x, y) = (mean(|point| point.0), mean(|point| point.1));
    let along: f64 = points.iter().map(|point| (point.0 - x) * (point.0 - x)).sum();
    let across: f64 = points.iter().map(|point| (point.0 - x) * (point.1 - y)).sum();
    across / along
}
