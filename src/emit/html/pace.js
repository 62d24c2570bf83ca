// The rest of a step after temperatures were read in its bath, from the step's table: the part of the step that is done in
// a second at some temperatures, and the sum of these parts over the temperature. A cubic joins two rows.
const SMALL = 0.05; // a remaining time that changes by less than this part stays

const paceOf = (knots) => {
  const around = (at) => {
    const upper = Math.max(1, knots.findIndex(([tenths]) => at <= tenths));
    const [[low, part, sum], [high, nextPart, nextSum]] = [knots[upper - 1], knots[upper]];
    return { wide: high - low, x: (at - low) / (high - low), part, sum, nextPart, nextSum };
  };
  const total = (at) => {
    const { wide, x, part, sum, nextPart, nextSum } = around(at), y = 1 - x;
    return y * y * ((1 + 2 * x) * sum + x * wide * part) + x * x * ((3 - 2 * x) * nextSum - y * wide * nextPart);
  };
  const slope = (at) => {
    const { wide, x, part, sum, nextPart, nextSum } = around(at), y = 1 - x;
    return 6 * x * y * (nextSum - sum) / wide + y * (1 - 3 * x) * part + x * (3 * x - 2) * nextPart;
  };
  return {
    holds: (at) => knots[0][0] <= at && at <= knots[knots.length - 1][0],
    // The part that is done in a second while the bath goes evenly from one temperature to another.
    between: (from, to) => (from === to ? slope(from) : (total(to) - total(from)) / (to - from)),
  };
};

// The time that a step takes after these readings, the last of them now, or why it stays. `planned` is the step's time before
// the first reading, `lasts` the time until now.
const lastingAfter = ({ pace, hasSign, pour, full, leaves, end }, planned, lasts, readings) => {
  if (!pace || hasSign) return "fixed";
  const { holds, between } = paceOf(pace.knots);
  let done = 0, before = { at: 0, tenths: pace.from };
  for (const reading of readings) {
    if (!holds(before.tenths) || !holds(reading.tenths)) return "outside";
    done += (reading.at - before.at) / 1000 * between(before.tenths, reading.tenths);
    before = reading;
  }
  const ending = before.tenths + (pace.to - pace.from) * (1 - Math.min(before.at, planned) / planned);
  if (!holds(ending)) return "outside";
  const time = Math.floor(before.at / 1000 + Math.max(0, 1 - done) / between(before.tenths, ending) + 0.5) * 1000;
  if (Math.abs(time - lasts) < SMALL * (lasts - before.at)) return "small";
  // The film leaves the bath after the reading, and the tank is filled and drained.
  const least = Math.max(before.at, full - pour) + (end - leaves) + 1000;
  return Math.max(time, least - least % 1000);
};
