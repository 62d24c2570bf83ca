//! Molar masses of chemical formulas (rule R10).

/// Standard atomic weights, in g/mol.
///
/// Source: CIAAW, Standard Atomic Weights 2021, with the conventional value where that gives an interval. The
/// weights of manganese, iodine, phosphorus, copper, tin, gold and mercury were not looked up there. The masses of the
/// salts of manganese and iodine agree with a public database.
const WEIGHTS: &[(&str, f64)] = &[
    ("H", 1.008),
    ("B", 10.81),
    ("C", 12.011),
    ("N", 14.007),
    ("O", 15.999),
    ("Na", 22.989_769_28),
    ("Al", 26.981_538_4),
    ("P", 30.973_761_998),
    ("S", 32.06),
    ("Cl", 35.45),
    ("K", 39.0983),
    ("Cr", 51.9961),
    ("Mn", 54.938_043),
    ("Fe", 55.845),
    ("Cu", 63.546),
    ("Se", 78.971),
    ("Br", 79.904),
    ("Ag", 107.8682),
    ("Sn", 118.71),
    ("I", 126.904_47),
    ("Au", 196.966_57),
    ("Hg", 200.592),
];

/// The molar mass of a formula such as `KAl(SO4)2·12H2O` or `K2CO3·1.5H2O`, in g/mol; `None` if invalid.
pub fn molar_mass(formula: &str) -> Option<f64> {
    let parts = formula.split('·').map(|part| {
        let (number, atoms) = split_number(part);
        Some(count(number)? * mass_of_atoms(atoms)?)
    });
    parts.sum()
}

/// The mass in g/mol of atoms and brackets such as `KAl(SO4)2`; `None` if invalid. Works without recursion, so that
/// many brackets cannot overflow the stack.
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
        let (digits, after) = split_number(after);
        *open.last_mut()? += mass * count(digits)?;
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

const COUNT_MAX: f64 = 1e9;

/// The number of atoms or groups; 1 if `number` is empty, `None` if it is no valid number.
fn count(number: &str) -> Option<f64> {
    if number.is_empty() {
        return Some(1.0);
    }
    let is_complete = !number.starts_with('.') && !number.ends_with('.');
    number.parse().ok().filter(|count| is_complete && 0.0 < *count && *count <= COUNT_MAX)
}

fn split_symbol(text: &str) -> (&str, &str) {
    let end = text.char_indices().skip(1).find(|(_, letter)| !letter.is_ascii_lowercase());
    text.split_at(end.map_or(text.len(), |(at, _)| at))
}

fn split_number(text: &str) -> (&str, &str) {
    let beyond = |letter: char| !letter.is_ascii_digit() && letter != '.';
    text.split_at(text.find(beyond).unwrap_or(text.len()))
}
