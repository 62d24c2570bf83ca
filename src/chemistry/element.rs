//! The weight of the elements, and from them the molar mass of a formula.
//!
//! A salt given in one state and had in another is weighed by the ratio of the two masses (R10).

/// Standard atomic weights of the elements that darkroom chemicals are made of, in g/mol.
///
/// Source: CIAAW, Standard Atomic Weights 2021; the conventional value where it publishes an interval.
/// Manganese and iodine stand here from memory; the masses of their salts agree with a public database.
const WEIGHTS: &[(&str, f64)] = &[
    ("H", 1.008),
    ("B", 10.81),
    ("C", 12.011),
    ("N", 14.007),
    ("O", 15.999),
    ("Na", 22.989_769_28),
    ("Al", 26.981_538_4),
    ("S", 32.06),
    ("Cl", 35.45),
    ("K", 39.0983),
    ("Cr", 51.9961),
    ("Mn", 54.938_043),
    ("Fe", 55.845),
    ("Se", 78.971),
    ("Br", 79.904),
    ("Ag", 107.8682),
    ("I", 126.904_47),
];

/// The molar mass of `formula` in g/mol.
///
/// A formula is written as on the jar: `Na2SO3·7H2O`, `(NH4)2S2O3`, `KAl(SO4)2·12H2O`. The middle dot parts
/// what crystallises together; what follows it may begin with its count, which need not be whole
/// (`K2CO3·1.5H2O`). Anything that cannot be read so, or that holds an element not in the table, has no mass
/// here: `None`.
pub fn molar_mass(formula: &str) -> Option<f64> {
    let mut total = 0.0;
    for part in formula.split('·') {
        let (count, atoms) = split_number(part);
        total += multiplier(count)? * mass_of_atoms(atoms)?;
    }
    Some(total)
}

/// The mass of a run of atoms and brackets, such as `KAl(SO4)2`.
///
/// The brackets still open are kept in a list, so that no depth of them can exhaust the program's own stack.
fn mass_of_atoms(atoms: &str) -> Option<f64> {
    let mut open = vec![0.0];
    let mut rest = atoms;
    while !rest.is_empty() {
        if let Some(inner) = rest.strip_prefix('(') {
            open.push(0.0);
            rest = inner;
            continue;
        }
        let (mass, after) = match rest.strip_prefix(')') {
            Some(after) => (open.pop().filter(|within| *within > 0.0)?, after),
            None => {
                let (symbol, after) = split_symbol(rest);
                (weight(symbol)?, after)
            }
        };
        let (count, after) = split_digits(after);
        *open.last_mut()? += mass * subscript(count)?;
        rest = after;
    }
    match open.as_slice() {
        [whole] if *whole > 0.0 => Some(*whole),
        _ => None,
    }
}

fn weight(symbol: &str) -> Option<f64> {
    WEIGHTS.iter().find(|(known, _)| *known == symbol).map(|(_, weight)| *weight)
}

/// How many of an atom or a bracket: a whole number from 1, or nothing written, which is one.
fn subscript(digits: &str) -> Option<f64> {
    match digits {
        "" => Some(1.0),
        written => written.parse::<u32>().ok().filter(|count| *count > 0).map(f64::from),
    }
}

/// How many of a part: as a subscript, or a number with decimals between digits.
fn multiplier(number: &str) -> Option<f64> {
    match number.split_once('.') {
        None => subscript(number),
        Some(("", _) | (_, "")) => None,
        Some(_) => number.parse::<f64>().ok().filter(|count| count.is_finite() && *count > 0.0),
    }
}

/// The symbol that `text` begins with (a capital and the small letters after it), and what follows.
fn split_symbol(text: &str) -> (&str, &str) {
    let end = text.char_indices().skip(1).find(|(_, letter)| !letter.is_ascii_lowercase());
    text.split_at(end.map_or(text.len(), |(at, _)| at))
}

fn split_digits(text: &str) -> (&str, &str) {
    text.split_at(text.find(|letter: char| !letter.is_ascii_digit()).unwrap_or(text.len()))
}

fn split_number(text: &str) -> (&str, &str) {
    let beyond = |letter: char| !letter.is_ascii_digit() && letter != '.';
    text.split_at(text.find(beyond).unwrap_or(text.len()))
}
