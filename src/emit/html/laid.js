"use strict";
// The session as decisions and readings lay it out.
// The session's beats. Of a step that a reading has timed again, those past its planned end are the ones for that case.
const beatsFor = ({ beats, steps }, lasting) => steps.reduce((all, { pace, leaves }, place) => {
  if (lasting[place] === null) return all;
  const find = (time) => all.findIndex((beat) => beat.step === place && !beat.isFilling && beat.at >= time);
  return [...all.slice(0, find(pace.more[0].at)), ...pace.more, ...all.slice(find(leaves))];
}, beats);

// `made` has, for each decision that was made, the session's time at which it was made, and by how much the step is shorter
// for it. Open decisions are laid out as the latest. `lasting` has the time of each step that a reading has timed again.
const laidOut = (evening, made, lasting) => {
  const { decisions, steps } = evening;
  const shifts = [
    ...decisions.map((one, place) => [one.leaves, made[place] ? -made[place].saved : 0]),
    ...steps.map((step, place) => [step.leaves, lasting[place] === null ? 0 : lasting[place] - step.duration]),
  ];
  const moved = (time) => shifts.reduce((at, [from, by]) => (from <= time ? at + by : at), time);
  const beats = [];
  const still = (step, at, until) => {
    const last = beats[beats.length - 1], rest = evening.beats.find((one) => one.step === step && one.word === "REST") || last;
    if (last.word === "REST" && last.step === step) last.until = until;
    else beats.push({ ...rest, at, until });
  };
  for (const beat of beatsFor(evening, lasting)) {
    const step = steps[beat.step], by = moved(step.start) - step.start, at = beat.at + by, leaves = moved(step.leaves);
    if (!beat.isLonger && beat.at >= step.leaves) { beats.push({ ...beat, at: moved(beat.at), until: moved(beat.until) }); continue; }
    if (at >= leaves) continue;
    const planned = beat.until === step.leaves ? leaves : beat.until + by;
    if (planned <= leaves) { beats.push({ ...beat, at, until: planned }); continue; }
    // A movement that the end of the step cuts off has whole inversions only.
    const until = beat.each > 0 ? at + Math.floor((leaves - at) / beat.each) * beat.each : leaves;
    if (until > at) beats.push({ ...beat, at, until, amount: "", below: beat.isKnocked ? "" : beat.below, isKnocked: false });
    if (until < leaves) still(beat.step, until, leaves);
  }
  beats.forEach((beat, id) => { beat.id = id; });
  const lid = evening.lid && {
    ...evening.lid,
    on: evening.lid.on.map(([at, ...words]) => [moved(at), ...words]),
    exposures: evening.lid.exposures.map(([from, to, light]) => [moved(from), moved(to), light]),
    then: evening.lid.then && [evening.lid.then[0], moved(evening.lid.then[1])],
  };
  return {
    beats, lid, work: moved(evening.work), end: beats[beats.length - 1].until,
    open: decisions.map((one, place) => ({ ...one, place, zero: moved(one.zero), leaves: moved(one.leaves) })),
    steps: steps.map((step, place) => ({
      ...step, start: moved(step.start), pour: moved(step.pour), full: moved(step.full), zero: moved(step.zero),
      leaves: moved(step.leaves), end: moved(step.end),
      ...(lasting[place] === null ? {} : { duration: lasting[place], of: passed(lasting[place]) }),
    })),
  };
};
