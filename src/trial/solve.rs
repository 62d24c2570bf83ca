//! Small systems of linear equations.

/// The inverse of a symmetric matrix with positive eigenvalues, by elimination without exchanging rows;
/// `None` if there is no inverse.
pub(super) fn inverse<const N: usize>(mut matrix: [[f64; N]; N]) -> Option<[[f64; N]; N]> {
    let mut inverse = [[0.0; N]; N];
    for (at, row) in inverse.iter_mut().enumerate() {
        *row.get_mut(at)? = 1.0;
    }
    for at in 0..N {
        let pivot = *matrix.get(at)?.get(at)?;
        if pivot.abs() < f64::MIN_POSITIVE || !pivot.is_finite() {
            return None;
        }
        scale(matrix.get_mut(at)?, 1.0 / pivot);
        scale(inverse.get_mut(at)?, 1.0 / pivot);
        let (row, own) = (*matrix.get(at)?, *inverse.get(at)?);
        for other in (0..N).filter(|other| *other != at) {
            let factor = *matrix.get(other)?.get(at)?;
            subtract(matrix.get_mut(other)?, &row, factor);
            subtract(inverse.get_mut(other)?, &own, factor);
        }
    }
    Some(inverse)
}

fn scale<const N: usize>(row: &mut [f64; N], factor: f64) {
    row.iter_mut().for_each(|value| *value *= factor);
}

fn subtract<const N: usize>(row: &mut [f64; N], other: &[f64; N], factor: f64) {
    row.iter_mut().zip(other).for_each(|(value, other)| *value -= factor * other);
}

/// `vector` times `matrix` times `vector`.
pub(super) fn form<const N: usize>(matrix: &[[f64; N]; N], vector: &[f64; N]) -> f64 {
    let row = |row: &[f64; N]| row.iter().zip(vector).map(|(one, other)| one * other).sum::<f64>();
    matrix.iter().zip(vector).map(|(own, value)| row(own) * value).sum()
}
