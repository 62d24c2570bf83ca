//! A characteristic curve: density against the logarithm of exposure, and what is read off it.

/// The net density of the speed point, by ISO 6.
const SPEED_POINT: f64 = 0.10;
/// The radii of the two arcs that the line of the contrast index cuts (from memory).
const ARCS: (f64, f64) = (0.2, 2.2);
/// The share of the steepest slope from which a step belongs to the straight part of the curve (common practice, no
/// source).
const STRAIGHT: f64 = 0.85;
/// Halvings of an interval: after 60, two neighbouring numbers are left.
const HALVINGS: usize = 60;

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
    /// A curve through these steps, each with the logarithm of its exposure and its density. Densities that fall are
    /// pooled. `None` with fewer than three steps, or if two steps have the same exposure.
    pub fn new(steps: &[(f64, f64)], fog: f64) -> Option<Curve> {
        let mut steps = steps.to_vec();
        steps.sort_by(|one, other| one.0.total_cmp(&other.0));
        let is_distinct = steps.windows(2).all(|pair| matches!(pair, [(one, _), (other, _)] if one < other));
        let is_finite = fog.is_finite() && steps.iter().all(|(x, y)| x.is_finite() && y.is_finite());
        if steps.len() < 3 || !is_distinct || !is_finite {
            return None;
        }
        let densities: Vec<f64> = steps.iter().map(|(_, y)| *y).collect();
        let smooth = pooled(&densities);
        let points: Vec<(f64, f64)> = steps.iter().zip(smooth).map(|((x, _), y)| (*x, y)).collect();
        let slopes = slopes(&points);
        let points = points.into_iter().zip(slopes).map(|((x, y), slope)| Node { x, y, slope }).collect();
        Some(Curve { fog, points })
    }

    /// The lowest and the highest exposure, as logarithms.
    pub fn ends(&self) -> (f64, f64) {
        let end = |node: Option<&Node>| node.map_or(0.0, |node| node.x);
        (end(self.points.first()), end(self.points.last()))
    }

    /// The steps, each with the logarithm of its exposure and its pooled density.
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

    /// How much the density rises from the speed point over this range of log exposure.
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
            let (near, far) = (self.angle(start, ARCS.0)?, self.angle(start, ARCS.1)?);
            Some(near - far)
        };
        let wide = 0.01;
        let mut start = high;
        let mut above: Option<f64> = None;
        while start > low - ARCS.1 {
            let now = turn(start);
            if let (Some(_), Some(now)) = (above, now)
                && now <= 0.0
            {
                let best = bisected(start, start + wide, |x| turn(x).is_some_and(|turn| turn > 0.0));
                return self.angle(best, ARCS.1).map(libm::tan);
            }
            above = now;
            start -= wide;
        }
        None
    }

    /// The angle, seen from a start on the level of base and fog, of the curve's point at this distance.
    fn angle(&self, start: f64, distance: f64) -> Option<f64> {
        let (low, high) = self.ends();
        let net = |x: f64| Some(self.density(x)? - self.fog);
        let away = |x: f64| net(x).map(|y| libm::hypot(x - start, y));
        let (from, to) = (start.max(low), (start + distance).min(high));
        if from > to || away(from)? > distance || away(to)? < distance {
            return None;
        }
        let x = bisected(from, to, |x| away(x).is_some_and(|away| away >= distance));
        Some(libm::atan2(net(x)?, x - start))
    }
}

/// Neighbouring values that fall are replaced by their mean until no value falls (pool adjacent violators).
pub fn pooled(values: &[f64]) -> Vec<f64> {
    let mut blocks: Vec<(f64, f64)> = Vec::new();
    for value in values {
        let (mut sum, mut count) = (*value, 1.0);
        while let Some((before, number)) = blocks.last().copied()
            && before / number > sum / count
        {
            blocks.pop();
            sum += before;
            count += number;
        }
        blocks.push((sum, count));
    }
    let mut all = Vec::new();
    for (sum, count) in blocks {
        let mut left = count;
        while left > 0.5 {
            all.push(sum / count);
            left -= 1.0;
        }
    }
    all
}

/// The slopes of a monotone cubic through these points: a weighted harmonic mean of the neighbouring slopes, as F. N.
/// Fritsch and J. Butland have it (SIAM Journal on Scientific and Statistical Computing, 1984; from memory).
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

/// The density between two points of the curve.
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

/// The slope of the line of least squares through these points.
fn slope_of(points: &[(f64, f64)]) -> f64 {
    let count: f64 = points.iter().map(|_| 1.0).sum();
    let mean = |pick: fn(&(f64, f64)) -> f64| points.iter().map(pick).sum::<f64>() / count;
    let (x, y) = (mean(|point| point.0), mean(|point| point.1));
    let along: f64 = points.iter().map(|point| (point.0 - x) * (point.0 - x)).sum();
    let across: f64 = points.iter().map(|point| (point.0 - x) * (point.1 - y)).sum();
    across / along
}
