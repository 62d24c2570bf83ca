// What is true of the tank: the schedule, and what a person has said until now. The presses in their order are the whole
// state: undo drops the last one, and a page that is opened again replays them. Times called `clock` are of the wall
// clock; `at` is the session's time. All are in milliseconds.
const COUNT_IN = 5000; // from the start to the first pour
const LATE_MAX = 120000; // for this long, a hold confirms a pour that is due
const SHOWN_MAX = 10000; // for this long, a pour without a filling time is shown, if it is not confirmed
const MISSED_MAX = 600000; // the latest that a movement in a long rest is still made
const SAID = 30000; // for this long, the line about the bath before is shown
const CHANGED = 10000; // for this long, what a reading changed is shown
// Why a reading changes nothing.
const STAYS = {
  small: "under 5 %, nothing changes", fixed: "its time does not depend on the temperature", outside: "outside its chart, nothing changes",
};
const optionOf = (step) => step.called.replace(/ /g, "-");

// A time that has passed, in whole seconds; a time that is left, rounded up to whole seconds.
const passed = (ms) => {
  const all = Math.floor(Math.max(0, ms) / 1000), two = (number) => String(number).padStart(2, "0");
  const hours = Math.floor(all / 3600), minutes = Math.floor(all / 60) % 60;
  return `${hours > 0 ? `${hours}:${two(minutes)}` : minutes}:${two(all % 60)}`;
};
const left = (ms) => passed(Math.ceil(Math.max(0, ms) / 1000) * 1000);

class Tank {
  constructor(evening, presses) {
    Object.assign(this, { evening, made: evening.decisions.map(() => null), origin: null, floor: 0, settled: -1 });
    // For each step, when its bath went in: the clock's times of the pour, of the full vessel and of the drain.
    Object.assign(this, { pours: evening.steps.map(() => null), soaks: 0, missed: null, isHung: false });
    // A bath that came out early, and one that is back in; the temperatures that were read.
    Object.assign(this, { early: null, back: null, readings: [] });
    this.layOut();
    for (const press of presses) { this.settle(press.clock); this.say(press); }
  }
  layOut() {
    const lasting = this.evening.steps.map(() => null);
    for (const { step, lasts } of this.readings) if (typeof lasts === "number") lasting[step] = lasts;
    Object.assign(this, laidOut(this.evening, this.made, lasting));
  }

  say({ kind, clock, step, by, since, tenths }) {
    switch (kind) {
      case "start": this.start(clock); break;
      case "in": this.pourNow(step, since === undefined ? clock : since, clock); break;
      case "behind": this.behind(by, clock); break;
      case "go": this.go(step, clock); break;
      case "not-now": this.missed = this.beatAt(this.at(clock)).at; break;
      case "done": this.decide(clock); break;
      case "back": this.backIn(clock); break;
      case "read": this.read(tenths, clock); break;
      case "hung": this.isHung = true; break;
    }
  }
  start(clock) {
    this.origin = clock + COUNT_IN;
    const first = this.steps[0];
    if (first.pour === 0) this.pours[0] = { at: this.origin, full: this.origin + first.full, isSaid: true, out: null };
  }
  // A bath that is said to have gone in earlier counts for the lid only from the press on.
  pourNow(index, since, clock) {
    const { pour, full } = this.steps[index];
    this.leave(index, since);
    this.forget(index);
    this.undecide(pour);
    const now = this.steps[index];
    this.pours[index] = { at: since, full: Math.max(since + now.full - now.pour, since < clock ? clock : 0), isSaid: true, isNow: true, out: null };
    this.moveTo(now.pour, since);
  }
  // Ends the baths before this step, if they have not ended yet.
  leave(index, clock) {
    for (const pour of this.pours.slice(0, index)) if (pour && pour.out === null) pour.out = clock;
  }
  // Forgets the pours from this step on. What the film had of the bath that ends the dark stays counted.
  forget(index) {
    const fillings = this.fillings();
    this.pours.forEach((pour, own) => {
      if (own < index || !pour) return;
      this.pours[own] = null;
      if (pour.isSaid && fillings.includes(own) && pour.out !== null) this.soaks += Math.max(0, pour.out - pour.full);
    });
    if (fillings.length === 0 || index < fillings[0]) this.soaks = 0;
  }
  behind(by, clock) {
    const at = this.at(clock), index = this.stepAt(at);
    if (this.origin === null || this.countIn(clock) !== null) return;
    const { pour, leaves } = this.steps[index], to = Math.max(at - by, pour), known = this.pours[index];
    if (at <= to) return;
    if (known) {
      known.at += at - to;
      known.full += at - to;
      if (to < leaves) known.out = null;
    }
    this.origin += at - to;
    Object.assign(this, { floor: to, missed: null, early: null, back: null });
  }
  go(index, clock) {
    const at = this.at(clock), step = this.stepAt(at), { pour, leaves, isWet } = this.steps[step], to = this.steps[index].pour;
    const isEarly = isWet && pour <= at && at < leaves && leaves <= to;
    this.leave(index, clock);
    this.forget(index);
    this.undecide(to);
    this.moveTo(this.steps[index].pour, clock);
    if (isEarly) this.early = { step, clock, at };
  }
  // From when a bath goes on that is back in now. Film goes on developing outside, at half the rate.
  resumes({ step, clock: since, at }, clock) {
    const { develops, leaves } = this.steps[step];
    return Math.min(at + (develops ? Math.trunc((clock - since) / 2) : 0), Math.max(leaves, at));
  }
  backIn(clock) {
    if (!this.early) return;
    const { step } = this.early, to = this.resumes(this.early, clock), pour = this.pours[step];
    this.forget(step);
    const { full, pour: begins } = this.steps[step];
    this.pours[step] = pour && { ...pour, full: clock + full - begins, out: null };
    this.moveTo(to, clock);
    Object.assign(this, { settled: to, back: { step, clock } });
  }
  moveTo(at, clock) {
    Object.assign(this, { origin: clock - at, floor: at, settled: at - 1, missed: null, isHung: false, early: null, back: null });
  }
  // The step in whose bath a temperature can be read now, or null.
  readable(clock) {
    const when = this.at(clock), place = this.stepAt(when), { zero, leaves, isWet } = this.steps[place];
    return this.origin !== null && isWet && zero <= when && when < leaves ? place : null;
  }
  read(tenths, clock) {
    const step = this.readable(clock), when = this.at(clock);
    if (step === null) return;
    const { duration, zero } = this.steps[step], at = Math.floor((when - zero) / 1000) * 1000;
    const own = [...this.readings.filter((one) => one.step === step), { at, tenths }];
    const lasts = lastingAfter(this.steps[step], this.evening.steps[step].duration, duration, own);
    this.readings.push({ step, when, clock, at, tenths, before: duration, lasts });
    this.layOut();
  }
  // A person sees the sign that ends the step, in whole seconds: what follows moves.
  decide(clock) {
    const open = this.openAt(clock);
    if (!open || !open.isRipe) return;
    const seen = Math.floor(open.clock / 1000) * 1000, { most, least, thousandths } = open.one;
    const ends = Math.min(most, Math.max(least, thousandths === null ? seen : seen * thousandths / 1000));
    this.made[open.one.place] = { when: open.one.zero + seen, saved: most - Math.max(ends, seen) };
    this.floor = open.one.zero + seen;
    this.layOut();
  }
  // Takes back the decisions and readings that were made after this time.
  undecide(at) {
    this.readings = this.readings.filter(({ when }) => when <= at);
    this.made = this.made.map((one) => (one && one.when > at ? null : one));
    this.layOut();
  }

  // The session's time. The clock does not pass a lamp that is not on yet, nor the end of a step that a person ends.
  at(clock) {
    if (this.origin === null) return this.floor;
    const lamps = this.steps.filter((step, place) => step.isLamp && !(this.pours[place] && this.pours[place].isSaid));
    const signs = this.open.filter((one) => !this.made[one.place] && one.factor === null);
    const gates = [...lamps.map((step) => step.pour), ...signs.map((one) => one.leaves - 1)];
    const gate = Math.min(this.end, ...gates.filter((one) => this.floor <= one));
    return Math.min(this.end, Math.max(this.floor, Math.min(clock - this.origin, gate)));
  }
  countIn(clock) {
    const wait = this.origin === null ? 0 : this.floor - (clock - this.origin);
    return wait > 0 ? wait : null;
  }
  stepAt(at) { return Math.max(0, this.steps.filter((step) => step.start <= at).length - 1); }
  beatAt(at) { return this.beats[Math.max(0, this.beats.filter((beat) => beat.at <= at).length - 1)]; }

  // Keeps what has happened by the schedule up to this clock time.
  settle(clock) {
    if (this.origin === null || this.countIn(clock) !== null) return;
    const at = this.at(clock), { origin } = this;
    this.steps.forEach((step, place) => {
      if (!this.pours[place] && this.settled < step.pour && step.pour <= at) this.pours[place] = this.due(step);
      const pour = this.pours[place];
      if (pour && pour.out === null && step.leaves <= at) pour.out = origin + step.leaves;
    });
    this.settled = Math.max(this.settled, at);
  }
  due({ pour, full }) { return { at: this.origin + pour, full: this.origin + full, isSaid: false, out: null }; }
  // When the bath of a step went in, if that is known.
  pourOf(index, clock) {
    const step = this.steps[index];
    if (this.pours[index] || !step || this.origin === null) return this.pours[index] || null;
    return this.settled < step.pour && step.pour <= this.at(clock) ? this.due(step) : null;
  }

  fillings() {
    const pours = this.evening.lid ? this.evening.lid.fillings : [];
    return pours.map((pour) => this.evening.steps.findIndex((step) => step.isWet && step.pour === pour)).filter((place) => place >= 0);
  }
  // How long the film has been in the bath that ends the dark, as a person confirmed it.
  soaked(clock) {
    let time = this.soaks, isSaid = time > 0;
    for (const place of this.fillings()) {
      const pour = this.pours[place], step = this.steps[place];
      if (!pour || !pour.isSaid) continue;
      const planned = step.leaves <= this.at(clock) ? this.origin + step.leaves : clock;
      time += Math.max(0, Math.min(clock, pour.out === null ? planned : pour.out) - pour.full);
      isSaid = true;
    }
    return { time, isSaid, isMet: this.lid && time >= Math.max(1, this.lid.needed) };
  }
  // The line about the lid: its word and its condition.
  lidAt(clock) {
    const { lid } = this;
    if (!lid) return null;
    const at = this.at(clock), { time, isSaid, isMet } = this.soaked(clock);
    const [, word, lamp] = lid.on.filter(([from]) => from <= at).pop() || lid.on[0];
    const on = lamp ? `${word} (${lamp})` : word;
    const exposure = lid.exposures.find(([from, to]) => from <= at && at < to);
    if (isMet && (!lid.then || lid.then[1] <= at)) return [lid.free, ""];
    if (exposure) return ["EXPOSE", `${exposure[2]}; then ${on}`];
    if (isMet) return [on, `until ${lid.then[0]}`];
    return [on, isSaid ? `${lid.bath} in ${passed(time)} of ${passed(lid.needed)}` : lid.until];
  }

  // The decision that is open now, with the step's clock, or null.
  openAt(clock) {
    const at = this.at(clock);
    const one = this.open.find(({ place, leaves }) => !this.made[place] && at < leaves);
    if (!one || this.origin === null || this.countIn(clock) !== null || at < one.zero) return null;
    if (this.open.some(({ place, leaves }) => place < one.place && at < leaves)) return null;
    const least = one.factor === null ? one.least : 0, first = one.zero + (one.looks.length > 0 ? one.looks[0] : least);
    // While the session waits for the sign, the step's clock goes on.
    const time = Math.max(at, one.factor === null ? clock - this.origin : at) - one.zero;
    return { one, clock: time, first, isLooking: at >= first, isRipe: time >= least };
  }

  // The end of the time in which a late movement is still made: half of the time to the next one.
  putOff(at) {
    if (this.missed === null || this.missed > at) return null;
    const next = this.beats.find((beat) => beat.at > this.missed && beat.step === this.stepAt(at) && beat.word !== "REST");
    const until = next ? this.missed + Math.min(MISSED_MAX, (next.at - this.missed) / 2) : 0;
    return at < until ? until : null;
  }
  // The pour to show: one that takes no time is shown until it is confirmed, for a while.
  pouring(at, due) {
    const step = this.stepAt(at), { pour } = this.steps[step];
    const beat = this.beats.filter((one) => one.isFilling && one.step === step && one.at <= at).pop();
    if (!beat) return null;
    const isFirst = beat.at === pour;
    if (beat.until > beat.at) return at < beat.until ? { ...beat, isFirst } : null;
    const next = this.beats.find((one) => one.until > beat.at && one.step === step);
    const most = isFirst ? (due === null ? 0 : SHOWN_MAX) : Math.min(SHOWN_MAX, next ? (next.until - beat.at) / 2 : 0);
    return at < beat.at + most ? { ...beat, isFirst } : null;
  }
  // How long ago the pour of the present step was due, while it is not confirmed and a hold can confirm it.
  dueAt(clock) {
    const at = this.at(clock), place = this.stepAt(at), step = this.steps[place], known = this.pours[place];
    const since = at - step.pour;
    if (!step.isWet || step.isLamp || step.isCoat || since < 0 || (known && known.isSaid)) return null;
    const lidWaits = this.lid && !this.soaked(clock).isMet && this.fillings().includes(place);
    return at < step.leaves && (since < LATE_MAX || lidWaits) ? since : null;
  }

  // What is true now: the word, the number, what a hold says, how late a pour is, and the beat with the words.
  now(clock) {
    const at = this.at(clock), place = this.stepAt(at), step = this.steps[place], beat = this.beatAt(at);
    const all = { word: beat.word, count: null, due: null, hold: null, beat, at, place, step, until: beat.until, isCounting: false };
    if (this.origin === null) return { ...all, word: "START", hold: "start" };
    const wait = this.countIn(clock);
    if (wait !== null) return { ...all, word: "START", count: left(wait), isCounting: true };
    if (this.end <= at || this.isHung) return { ...all, word: "DONE" };
    const due = this.dueAt(clock), open = this.openAt(clock), confirm = due === null ? null : "in";
    Object.assign(all, { due, hold: confirm });
    if (open) all.until = Math.min(all.until, open.isLooking ? Infinity : open.first);
    if (open && open.isLooking) {
      return { ...all, word: "LOOK", count: passed(open.clock), hold: confirm || (open.isRipe ? "done" : null), open };
    }
    const pouring = this.pouring(at, due);
    if (pouring) {
      const isLate = due !== null && pouring.isFirst, isLasting = pouring.until > pouring.at;
      const count = isLate ? `+${passed(due)}` : isLasting ? left(pouring.until - at) : null;
      const until = isLasting ? pouring.until : all.until;
      return { ...all, word: pouring.word, count, beat: pouring, hold: confirm || (pouring.isFirst ? "in" : null), until };
    }
    const off = this.putOff(at);
    if (off !== null) {
      const moved = this.beats.find((one) => one.at === this.missed && one.word === "AGITATE") || beat;
      return { ...all, word: "AGITATE", count: left(off - at), beat: moved, until: off };
    }
    if (beat.word === "HANG") return { ...all, hold: confirm || "hung" };
    const isUnlit = step.isLamp && beat.word === "LAMP" && !(this.pours[place] && this.pours[place].isSaid);
    if (isUnlit) return { ...all, count: left(beat.until - beat.at), hold: "lamp" };
    return { ...all, count: left(all.until - at), hold: confirm || (beat.word === "AGITATE" ? "not-now" : null) };
  }

  // By how much longer than in this plan a step took, in whole seconds, or null.
  later(plan, index, clock) {
    const own = this.pourOf(index, clock), next = this.pourOf(index + 1, clock);
    if (!own || !next) return null;
    const more = (next.at - own.at) - (plan[index + 1].pour - plan[index].pour);
    return Math.floor((more + 500) / 1000) * 1000;
  }
  // The true time of a step, if it differs from this plan or a person ended the step.
  tookBy(plan, index, clock) {
    const later = this.later(plan, index, clock), step = plan[index];
    if (later === null || !step.isWet || (later === 0 && !step.hasSign)) return null;
    const time = Math.max(0, step.duration + later), words = `${step.called} ${passed(time)}`;
    return { step, time, later, words: step.hasSign ? words : `${words} of ${passed(step.duration)}`, option: `${optionOf(step)}=${passed(time)}` };
  }
  took(clock) {
    const { steps } = this.evening;
    return steps.map((step, index) => this.tookBy(steps, index, clock)).filter(Boolean);
  }
  // The temperatures that were read, in words and as an option.
  reads() {
    const { steps, letter } = this.evening;
    return this.readings.map(({ step, at, tenths }) => ({
      words: `${steps[step].called} ${passed(at)} ${tenths / 10} ${letter}`, option: `${optionOf(steps[step])}=${passed(at)}=${tenths / 10}${letter}`,
    }));
  }
  // What the last reading changed, for a while.
  change(clock) {
    const last = this.readings[this.readings.length - 1];
    if (!last || clock - last.clock >= CHANGED) return null;
    const { called } = this.evening.steps[last.step], { lasts, before, at } = last;
    if (typeof lasts === "number") return `${called} ${passed(before)} → ${passed(lasts)}, from ${passed(at)} on`;
    return `${called}: ${STAYS[lasts]}`;
  }
  // The line about a bath that came out early, or is back in; else about the bath before, once the next one is in; else
  // about a bath that has been in for very long.
  said(clock) { return this.saidOfEarly(clock) || this.saidOfLast(clock) || this.saidOfLong(clock); }
  saidOfEarly(clock) {
    const { early, back } = this, own = early || back;
    if (!own || (!early && clock - back.clock >= SAID)) return null;
    const { name, leaves } = this.steps[own.step], wants = leaves - (early ? this.resumes(early, clock) : this.at(clock));
    return wants <= 0 ? null : `${name} ${early ? "came out early: back in, it" : "is back in: it"} wants another ${left(wants)}`;
  }
  saidOfLong(clock) {
    const index = this.pours.map((pour) => pour !== null && pour.isSaid).lastIndexOf(true), step = this.steps[index];
    if (!step || !step.longest || step.duration >= step.longest || this.at(clock) >= this.end) return null;
    const since = clock - this.pours[index].at;
    return since < step.longest ? null : `${step.name} went in ${passed(since)} ago: drain it, if it is still in`;
  }
  saidOfLast(clock) {
    const index = this.stepAt(this.at(clock)), pour = this.pours[index];
    if (index === 0 || !pour || !pour.isNow || pour.at > clock || clock - pour.at >= SAID) return null;
    const took = this.tookBy(this.steps, index - 1, clock);
    if (!took || took.step.hasSign) return null;
    if (took.time > took.step.longest) return `${took.words}: over ${passed(took.step.longest)}`;
    if (!took.step.develops) return null;
    const part = Math.abs(took.later) / took.step.duration * 100, isLonger = took.later > 0;
    const [, words] = this.evening.effects[isLonger ? "longer" : "shorter"].find(([most]) => most === null || part <= most);
    return `${took.words}, ${part.toFixed(1)} % ${isLonger ? "longer" : "shorter"}: ${words}`;
  }
}
