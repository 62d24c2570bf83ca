
// Follows the session.
(() => {
  "use strict";
  const WARNING = 10000; // ms before an action
  const TICK = 200; // ms between two updates
  const AHEAD = 90000; // ms that sounds are scheduled ahead, so that a page in the background still plays them
  const HOLD = 1000; // ms for which a button is held
  const RETURN = 2000; // ms into a moment within which Back goes to the one before

  const by = (id) => document.getElementById(id);
  const evening = JSON.parse(by("evening").textContent);
  const latest = evening.moments.map(([at, until, step, text, acts]) => (
    { at, until, step: evening.steps[step], place: step, text: evening.texts[text], acts }));
  if (latest.length === 0) return;

  // Steps that a person ends at a sign. Until the decision, all is laid out with the latest one. `made` has, for each
  // decision that was made, the session's time at which it was made, and by how much the step is shorter for it.
  const decisions = evening.decisions;
  let made = decisions.map(() => null);
  let moments, end, work, lid, signals;

  const saved = (place) => made[place] ? made[place].saved : 0;
  // The time at which something happens, from its time with the latest decisions.
  const moved = (time) => decisions.reduce((at, one, place) => one.leaves <= time ? at - saved(place) : at, time);
  const slack = (place) => made[place] ? 0 : decisions[place].most - decisions[place].least;

  function layOut() {
    moments = [];
    for (const moment of latest) {
      const leg = decisions.findIndex((one) => moment.at < one.leaves);
      const leaves = leg < 0 ? Infinity : moved(decisions[leg].leaves);
      const at = moved(moment.at);
      if (at < leaves) moments.push({ ...moment, at, until: Math.min(moved(moment.until), leaves), leg });
    }
    end = moments[moments.length - 1].until;
    work = moved(evening.work);
    lid = evening.lid && {
      ...evening.lid,
      on: evening.lid.on.map(([at, ...words]) => [moved(at), ...words]),
      exposures: evening.lid.exposures.map(([from, to, light]) => [moved(from), moved(to), light]),
      fillings: evening.lid.fillings.map((times) => times.map(moved)),
      then: evening.lid.then && [evening.lid.then[0], moved(evening.lid.then[1])],
    };
    setSignals();
  }

  // The decision that is open at this time, with the step's clock, or null.
  function openAt(time) {
    const place = decisions.findIndex((one, at) => !made[at] && time < moved(one.leaves));
    if (place < 0 || decisions.some((one, at) => at < place && time < moved(one.leaves))) return null;
    const one = decisions[place], zero = moved(one.zero);
    if (time < zero) return null;
    const least = one.factor === null ? one.least : 0;
    const first = zero + (one.looks.length > 0 ? one.looks[0] : least);
    return { place, one, clock: time - zero, zero, first, isLooking: time >= first, isRipe: time - zero >= least };
  }
  function words({ sign, factor, least, most }) {
    const bounds = `${clock(least)} to ${clock(most)}`;
    return factor === null ? `LOOK until ${sign}, from ${bounds}` : `LOOK for the time at which ${sign}; ${factor} x that, ${bounds}`;
  }
  const blocks = document.querySelectorAll(".work > ol > li");

  // Running since `origin`, or stopped at `held`.
  let origin = null;
  let held = 0;
  let shown = null; // the moment on the page
  let last = 0; // the session's time at the last update
  let touched = false;

  const elapsed = () => Math.min(end, Math.max(0, origin === null ? held : Date.now() - origin));

  const indexAt = (time) => moments.filter((moment) => moment.at <= time).length - 1;

  function clock(ms) {
    const all = Math.max(0, ms) / 1000 | 0;
    const two = (number) => String(number).padStart(2, "0");
    const hours = all / 3600 | 0, minutes = (all / 60 | 0) % 60;
    return `${hours > 0 ? `${hours}:${two(minutes)}` : minutes}:${two(all % 60)}`;
  }
  const upwards = (ms) => clock(Math.ceil(ms / 1000) * 1000);

  // How long the film has been in the bath that ends the dark: `had` before the filling `of`, which a person has
  // confirmed and which covers the film from the clock's time `since` on. Going to another moment adds nothing.
  let had = 0, of = null, since = 0;

  function timeInBath() {
    if (of === null) return had;
    const now = Date.now(), out = lid.fillings[of][2];
    return had + Math.max(0, (origin === null ? now : Math.min(now, origin + out)) - since);
  }
  // To be called before the session's clock stops, starts or is set.
  function settle() {
    if (!lid) return;
    had = timeInBath();
    if (of !== null && elapsed() >= lid.fillings[of][2]) of = null;
    since = Math.max(since, Date.now());
  }
  function followLid(time) {
    if (!lid) return;
    if (of !== null && (time < lid.fillings[of][1] || time >= lid.fillings[of][2])) of = null;
    if (time < lid.fillings[0][1]) had = 0;
  }
  // The filling that a person can confirm now, or -1.
  function openFilling(time) {
    if (!lid || of !== null && time < lid.fillings[of][2] || timeInBath() >= Math.max(1, lid.needed)) return -1;
    return lid.fillings.findIndex(([pour, , out]) => pour <= time && time < out);
  }
  function confirmBath() {
    settle();
    const time = elapsed(), place = openFilling(time);
    if (place < 0) return;
    of = place;
    since = Date.now() + Math.max(0, lid.fillings[place][1] - time);
    keep();
    update();
  }
  function lidNow(time) {
    const inBath = timeInBath(), then = lid.then;
    const [, word, lamp] = lid.on.filter(([at]) => at <= time).pop() || lid.on[0];
    const on = (condition) => [word, lamp ? `${lamp}; ${condition}` : condition];
    if (inBath >= Math.max(1, lid.needed)) return !then || then[1] <= time ? [lid.free, ""] : on(`until ${then[0]}`);
    const exposure = lid.exposures.find(([from, to]) => from <= time && time < to);
    if (exposure) return ["EXPOSE", `${exposure[2]}; then ${word}${lamp ? ` (${lamp})` : ""}`];
    if (inBath > 0 || of !== null) return on(`${lid.bath} in ${clock(inBath)} of ${clock(lid.needed)}`);
    return on(lid.until);
  }

  // A browser may refuse to store data for a file; then a reload starts over.
  function keep() {
    try { localStorage.setItem(evening.key, JSON.stringify({ origin, held, had, of, since, made })); } catch (refused) { }
  }
  function recall() {
    try {
      const kept = JSON.parse(localStorage.getItem(evening.key));
      if (!kept || !Number.isFinite(kept.held)) return;
      if (Array.isArray(kept.made) && kept.made.length === made.length) { made = kept.made; layOut(); }
      if (Number.isFinite(kept.origin) && Date.now() - kept.origin < end) origin = kept.origin;
      else if (kept.origin === null && kept.held < end) held = kept.held;
      else { undecide(-1); return; }
      if (!lid || !Number.isFinite(kept.had) || !Number.isFinite(kept.since)) return;
      had = kept.had;
      since = kept.since;
      of = lid.fillings[kept.of] ? kept.of : null;
    } catch (refused) { }
  }

  // Pitch in Hz, start and length in seconds.
  const TONES = { warn: [[660, 0, 0.12], [660, 0.2, 0.12]], act: [[990, 0, 0.6]], rest: [[440, 0, 0.3]] };
  const BUZZES = { warn: [80, 80, 80], act: [500], rest: [150] };
  function setSignals() {
    signals = [];
    moments.forEach((moment, place) => {
      const before = moments[place - 1];
      if (!before) return;
      if (moment.acts && moment.at - before.at > WARNING) signals.push({ at: moment.at - WARNING, kind: "warn" });
      signals.push({ at: moment.at, kind: moment.acts ? "act" : "rest" });
    });
    if (moments[moments.length - 1].at < end) signals.push({ at: end, kind: "act" });
    decisions.forEach((one, place) => {
      if (!made[place]) one.looks.forEach((look) => signals.push({ at: moved(one.zero) + look, kind: "warn" }));
    });
    signals.sort((one, other) => one.at - other.at);
  }
  layOut();

  const Sound = window.AudioContext || window.webkitAudioContext;
  let audio = null;
  let sounding = [];
  let setTo = 0; // the session's time up to which sounds are scheduled
  let skew = null; // the wall clock minus the audio clock, in ms

  function play(kind, when) {
    for (const [pitch, offset, length] of TONES[kind]) {
      const tone = audio.createOscillator(), level = audio.createGain(), begin = when + offset;
      tone.frequency.value = pitch;
      level.gain.setValueAtTime(0, begin);
      level.gain.linearRampToValueAtTime(0.8, begin + 0.02);
      level.gain.setValueAtTime(0.8, begin + length - 0.03);
      level.gain.linearRampToValueAtTime(0, begin + length);
      tone.connect(level).connect(audio.destination);
      tone.start(begin);
      tone.stop(begin + length);
      tone.onended = () => { sounding = sounding.filter((other) => other !== tone); };
      sounding.push(tone);
    }
  }
  function silence() {
    for (const tone of sounding) { try { tone.stop(); } catch (over) { } tone.disconnect(); }
    sounding = [];
    skew = null;
  }
  function scheduleSounds(time) {
    if (!audio || audio.state !== "running" || origin === null) return;
    const now = Date.now() - audio.currentTime * 1000;
    if (skew === null || Math.abs(now - skew) > 150) { silence(); skew = now; setTo = time; }
    for (const signal of signals) {
      if (signal.at <= setTo || signal.at > time + AHEAD) continue;
      play(signal.kind, audio.currentTime + (signal.at - time) / 1000);
      setTo = signal.at;
    }
  }
  function buzz(kind) {
    if (touched && navigator.vibrate) navigator.vibrate(BUZZES[kind]);
  }

  // Browsers allow sound and vibration only after a touch.
  function allowSound() {
    touched = true;
    if (!audio && Sound) audio = new Sound();
    if (audio && audio.state !== "running") audio.resume().then(update, () => { });
  }

  let lock = null;
  let asking = false;
  let refused = false;
  const isWorking = () => origin !== null && elapsed() < work;
  async function stayAwake() {
    if (!isWorking()) { if (lock) lock.release().catch(() => { }); lock = null; return; }
    if (lock || asking || document.visibilityState !== "visible") return;
    asking = true;
    try {
      const got = await navigator.wakeLock.request("screen");
      lock = got;
      refused = false;
      got.addEventListener("release", () => { if (lock === got) lock = null; });
    } catch (no) { refused = true; }
    asking = false;
    if (lock && !isWorking()) stayAwake();
    update();
  }

  function setText(id, text) {
    const element = by(id);
    if (element.textContent !== text) element.textContent = text;
  }

  // The largest type that fits; words break only if one alone is wider than the page.
  function fit() {
    const stage = by("stage"), now = by("now");
    const fits = (size) => {
      now.style.fontSize = `${size}px`;
      return now.scrollHeight <= stage.clientHeight && now.scrollWidth <= stage.clientWidth;
    };
    now.classList.remove("long");
    let low = 18, high = 220;
    if (!fits(low)) { now.classList.add("long"); return; }
    while (high - low > 1) { const middle = (low + high) / 2; if (fits(middle)) low = middle; else high = middle; }
    fits(Math.floor(low));
  }

  function show(place, over, open) {
    const moment = moments[place], next = moments[place + 1];
    const closing = over && moment.at < end;
    setText("step", closing ? "The session is over" : `${moment.step} · step ${moment.place + 1} of ${evening.steps.length}`);
    setText("now", closing ? "done" : open && open.isLooking ? words(open.one) : moment.text);
    const turn = next && next.step !== moment.step ? `${next.step}: ` : "";
    const then = `then ${turn}${next ? next.text : "done"}`;
    const isLast = open && next && next.leg !== moment.leg;
    setText("next", over ? ""
      : open && !open.isLooking && open.first < moment.until ? `then ${words(open.one)}`
        : open && open.isLooking ? `${moment.text}; ${isLast ? `at ${clock(open.one.most)} at the latest ` : ""}${then}` : then);
    blocks.forEach((block, step) => {
      if (step === moment.place && !over) block.setAttribute("aria-current", "step");
      else block.removeAttribute("aria-current");
    });
    fit();
  }

  // What a hold of the button says now.
  function ask(time, open) {
    const isLid = openFilling(time) >= 0, isSign = open && open.isRipe;
    by("hold").hidden = !isLid && !isSign;
    if (isLid || isSign) setText("hold", `Hold: ${isLid ? `the ${lid.bath} is in` : open.one.sign}`);
  }
  function confirm() {
    if (openFilling(elapsed()) >= 0) confirmBath(); else decide();
  }
  // A person sees the sign: what follows moves.
  function decide() {
    const time = elapsed(), open = openAt(time);
    if (!open || !open.isRipe) return;
    settle();
    const { most, least, thousandths } = open.one;
    // In whole seconds, as all other times of the session.
    const at = Math.floor(open.clock / 1000) * 1000;
    const seen = thousandths === null ? at : at * thousandths / 1000;
    made[open.place] = { when: open.zero + at, saved: most - Math.min(most, Math.max(least, seen)) };
    layOut();
    keep();
    silence();
    last = open.zero + at - 1;
    tick();
  }
  // Takes back the decisions that were made after this time.
  function undecide(time) {
    if (!made.some((one) => one && one.when > time)) return;
    made = made.map((one) => (one && one.when > time ? null : one));
    layOut();
  }

  function showLid(time) {
    if (!lid) return;
    const [word, condition] = lidNow(time), line = by("lid");
    line.hidden = false;
    for (const [place, text] of [word, condition].entries()) {
      if (line.children[place].textContent !== text) line.children[place].textContent = text;
    }
  }

  function notes() {
    if (origin === null) return "";
    const lines = [];
    if (!Sound) lines.push("This browser cannot play sounds.");
    else if (!audio || audio.state !== "running") lines.push("Touch the page once to allow sounds.");
    if (refused && isWorking()) lines.push("This browser cannot keep the screen on: change the setting of the device.");
    return lines.join(" ");
  }

  function update() {
    let time = elapsed();
    if (origin !== null && time >= end) { settle(); origin = null; held = end; keep(); stayAwake(); }
    const place = indexAt(time), over = time >= end, moment = moments[place];
    const open = openAt(time), looks = open && open.isLooking;
    const scene = `${place} ${over} ${looks} ${made.filter(Boolean).length}`;
    if (shown !== scene) { shown = scene; show(place, over, open); }
    // While a person looks for a sign, the step's clock counts up.
    const until = open && !looks ? Math.min(moment.until, open.first) : moment.until;
    setText("left", looks ? clock(open.clock) : upwards(until - time));
    by("left").setAttribute("aria-label", looks ? "Time in this step" : "Time left in this moment");
    by("moment").value = looks ? open.clock / open.one.most : until > moment.at ? (time - moment.at) / (until - moment.at) : 1;
    const whole = time < work ? work : end, what = time < work ? "of work" : "of drying";
    // Later decisions may make it shorter.
    const less = decisions.reduce((sum, one, at) => time < moved(one.leaves) ? sum + slack(at) : sum, 0);
    const range = (show) => (less > 0 ? `${show(whole - less)} to ` : "") + show(whole);
    const wall = (at) => new Date(origin + at).toTimeString().slice(0, 5);
    const ends = origin === null ? "" : `, until ${range(wall)}`;
    setText("gone", over ? "" : `${clock(time)} elapsed · ${range((at) => upwards(at - time))} ${what} left${ends}`);
    by("whole").value = work > 0 ? Math.min(1, time / work) : 1;
    setText("go", origin !== null ? "Pause" : time > 0 && !over ? "Resume" : "Start");
    by("go").disabled = over;
    by("back").disabled = time <= 0;
    by("on").disabled = over;
    by("over").disabled = origin !== null || time <= 0;
    showLid(time);
    ask(time, open);
    setText("note", notes());
  }

  function tick() {
    const time = elapsed();
    if (origin !== null || time > last) {
      const passed = signals.filter((signal) => last < signal.at && signal.at <= time);
      if (passed.length > 0) buzz(passed[passed.length - 1].kind);
    }
    last = time;
    if (!isWorking() && lock) stayAwake();
    update();
    scheduleSounds(time);
  }

  // Goes to a time of the session; a running clock keeps running.
  function jump(time) {
    silence();
    settle();
    undecide(time);
    followLid(time);
    if (navigator.vibrate && touched) navigator.vibrate(0);
    held = time;
    if (origin !== null) origin = Date.now() - time;
    last = time;
    keep();
    stayAwake();
    tick();
  }
  function go() {
    settle();
    if (origin === null) {
      if (held >= end) return;
      origin = Date.now() - held;
      last = held;
      by("follow").scrollIntoView({ block: "nearest" });
    } else {
      held = elapsed();
      origin = null;
      silence();
    }
    keep();
    stayAwake();
    tick();
  }
  function back() {
    const time = elapsed(), place = indexAt(time);
    const isNew = time - moments[place].at <= RETURN;
    jump(moments[isNew ? Math.max(0, place - 1) : place].at);
  }
  function forward() {
    const next = moments[indexAt(elapsed()) + 1];
    jump(next ? next.at : end);
  }

  function trySound() {
    const sound = () => { play("warn", audio.currentTime + 0.05); play("act", audio.currentTime + 0.8); };
    if (audio) audio.resume().then(sound, () => { });
    buzz("act");
  }

  recall();
  // Nothing runs before a person has answered about wrong rolls.
  function begin() {
    onHold(by("hold"), HOLD, confirm);
    const buttons = { go, back, on: forward, over: () => jump(0), sound: trySound };
    for (const id in buttons) by(id).addEventListener("click", buttons[id]);
    for (const kind of ["pointerup", "keydown", "click"]) document.addEventListener(kind, allowSound, true);
    document.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.altKey || event.metaKey) return;
      const onButton = event.target instanceof Element && event.target.closest("button, a, summary") !== null;
      if (event.key === " " && onButton) return;
      const does = { " ": go, ArrowLeft: back, ArrowRight: forward }[event.key];
      if (!does) return;
      event.preventDefault();
      if (!event.repeat) does();
    });
    document.addEventListener("visibilitychange", () => { stayAwake(); tick(); });
    window.addEventListener("pageshow", tick);

    by("follow").hidden = false;
    document.documentElement.classList.add("follows");
    last = elapsed();
    tick();
    stayAwake();
    if (window.ResizeObserver) new ResizeObserver(fit).observe(by("stage"));
    setInterval(tick, TICK);
  }
  askAboutRolls(evening.key, origin !== null, begin);
})();
