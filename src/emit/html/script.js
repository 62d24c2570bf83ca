
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
  const moments = evening.moments.map(([at, until, step, text, acts]) => (
    { at, until, step: evening.steps[step], place: step, text: evening.texts[text], acts }));
  if (moments.length === 0) return;
  const end = moments[moments.length - 1].until;
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
  const lid = evening.lid;
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
  function open(time) {
    if (!lid || of !== null && time < lid.fillings[of][2] || timeInBath() >= Math.max(1, lid.needed)) return -1;
    return lid.fillings.findIndex(([pour, , out]) => pour <= time && time < out);
  }
  function confirmBath() {
    settle();
    const time = elapsed(), place = open(time);
    if (place < 0) return;
    of = place;
    since = Date.now() + Math.max(0, lid.fillings[place][1] - time);
    keep();
    update();
  }
  function lidNow(time) {
    const inBath = timeInBath(), then = lid.then;
    if (inBath >= Math.max(1, lid.needed)) return !then || then[1] <= time ? [lid.free, ""] : [lid.on, `until ${then[0]}`];
    if (inBath > 0 || of !== null) return [lid.on, `${lid.bath} in ${clock(inBath)} of ${clock(lid.needed)}`];
    return [lid.on, lid.until];
  }

  // A browser may refuse to store data for a file; then a reload starts over.
  function keep() {
    try { localStorage.setItem(evening.key, JSON.stringify({ origin, held, had, of, since })); } catch (refused) { }
  }
  function recall() {
    try {
      const kept = JSON.parse(localStorage.getItem(evening.key));
      if (!kept || !Number.isFinite(kept.held)) return;
      if (Number.isFinite(kept.origin) && Date.now() - kept.origin < end) origin = kept.origin;
      else if (kept.origin === null && kept.held < end) held = kept.held;
      else return;
      if (!lid || !Number.isFinite(kept.had) || !Number.isFinite(kept.since)) return;
      had = kept.had;
      since = kept.since;
      of = lid.fillings[kept.of] ? kept.of : null;
    } catch (refused) { }
  }

  // Pitch in Hz, start and length in seconds.
  const TONES = { warn: [[660, 0, 0.12], [660, 0.2, 0.12]], act: [[990, 0, 0.6]], rest: [[440, 0, 0.3]] };
  const BUZZES = { warn: [80, 80, 80], act: [500], rest: [150] };
  const signals = [];
  moments.forEach((moment, place) => {
    const before = moments[place - 1];
    if (!before) return;
    if (moment.acts && moment.at - before.at > WARNING) signals.push({ at: moment.at - WARNING, kind: "warn" });
    signals.push({ at: moment.at, kind: moment.acts ? "act" : "rest" });
  });
  if (moments[moments.length - 1].at < end) signals.push({ at: end, kind: "act" });

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
  const isWorking = () => origin !== null && elapsed() < evening.work;
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

  function show(place, over) {
    const moment = moments[place], next = moments[place + 1];
    const closing = over && moment.at < end;
    setText("step", closing ? "The session is over" : `${moment.step} · step ${moment.place + 1} of ${evening.steps.length}`);
    setText("now", closing ? "done" : moment.text);
    const turn = next && next.step !== moment.step ? `${next.step}: ` : "";
    setText("next", over ? "" : `then ${turn}${next ? next.text : "done"}`);
    blocks.forEach((block, step) => {
      if (step === moment.place && !over) block.setAttribute("aria-current", "step");
      else block.removeAttribute("aria-current");
    });
    fit();
  }

  function showLid(time) {
    if (!lid) return;
    const [word, condition] = lidNow(time), line = by("lid");
    line.hidden = false;
    for (const [place, text] of [word, condition].entries()) {
      if (line.children[place].textContent !== text) line.children[place].textContent = text;
    }
    const asks = open(time) >= 0;
    by("hold").hidden = !asks;
    if (asks) setText("hold", `Hold: the ${lid.bath} is in`);
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
    if (shown !== `${place} ${over}`) { shown = `${place} ${over}`; show(place, over); }
    setText("left", upwards(moment.until - time));
    by("moment").value = moment.until > moment.at ? (time - moment.at) / (moment.until - moment.at) : 1;
    const whole = time < evening.work ? evening.work : end, what = time < evening.work ? "of work" : "of drying";
    const ends = origin === null ? "" : `, until ${new Date(origin + whole).toTimeString().slice(0, 5)}`;
    setText("gone", over ? "" : `${clock(time)} elapsed · ${upwards(whole - time)} ${what} left${ends}`);
    by("whole").value = evening.work > 0 ? Math.min(1, time / evening.work) : 1;
    setText("go", origin !== null ? "Pause" : time > 0 && !over ? "Resume" : "Start");
    by("go").disabled = over;
    by("back").disabled = time <= 0;
    by("on").disabled = over;
    by("over").disabled = origin !== null || time <= 0;
    showLid(time);
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
    onHold(by("hold"), HOLD, confirmBath);
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
