//! Film speeds on the two scales of ISO.

/// Pairs of an arithmetic speed S and the logarithmic speed S° that belongs to it: S° is 10 log10 S + 1, rounded. They
/// belong to ISO 6 and ISO 5800, which were not looked up.
const PAIRS: &[(u32, u32)] = &[
    (6, 9),
    (8, 10),
    (10, 11),
    (12, 12),
    (16, 13),
    (20, 14),
    (25, 15),
    (32, 16),
    (40, 17),
    (50, 18),
    (64, 19),
    (80, 20),
    (100, 21),
    (125, 22),
    (160, 23),
    (200, 24),
    (250, 25),
    (320, 26),
    (400, 27),
    (500, 28),
    (640, 29),
    (800, 30),
    (1000, 31),
    (1250, 32),
    (1600, 33),
    (2000, 34),
    (2500, 35),
    (3200, 36),
    (4000, 37),
    (5000, 38),
    (6400, 39),
];

/// The arithmetic speed in a text with both speeds: 100 for `100/21`. `None` if [`PAIRS`] does not have the two
/// numbers as a pair.
pub fn both_speeds(text: &str) -> Option<u32> {
    let (arithmetic, logarithmic) = text.split_once('/')?;
    let pair = (arithmetic.parse().ok()?, logarithmic.parse().ok()?);
    PAIRS.contains(&pair).then_some(pair.0)
}

/// The exposure index that is this many thirds of a stop above a film speed; below it, if `thirds` is negative.
/// Neighbours in [`PAIRS`] are a third of a stop apart. For a speed that is not in [`PAIRS`], only whole stops work,
/// each a factor of 2. `None` if there is no such index.
pub fn film_speed_pushed(speed: u32, thirds: i32) -> Option<u32> {
    let place = PAIRS.iter().position(|(own, _)| *own == speed);
    let place = place.and_then(|place| place.checked_add_signed(isize::try_from(thirds).ok()?));
    if let Some((index, _)) = place.and_then(|place| PAIRS.get(place)) {
        return Some(*index);
    }
    let stops = thirds.unsigned_abs().is_multiple_of(3).then_some(thirds / 3)?;
    let factor = 2u32.checked_pow(stops.unsigned_abs())?;
    match stops {
        0.. => speed.checked_mul(factor),
        _ => speed.is_multiple_of(factor).then_some(speed / factor),
    }
}

/// The pair of [`PAIRS`] that is nearest to an exact arithmetic speed; `None` outside the scale, if the natural
/// logarithms of the two speeds differ by 0.2 or more.
pub fn nearest_speed(exact: f64) -> Option<(u32, u32)> {
    let ratio = |pair: &&(u32, u32)| libm::fabs(libm::log(exact / f64::from(pair.0)));
    let nearest = PAIRS.iter().min_by(|one, other| ratio(one).total_cmp(&ratio(other)))?;
    (ratio(&nearest) < 0.2).then_some(*nearest)
}
