// Follows the session on the whole screen.
(() => {
  "use strict";
  const TICK = 200; // ms between two updates
  const AHEAD = 90000; // ms that sounds are set ahead, so that a page in the background still plays them
  const HOLD = 1000; // ms for which a person holds
  const SHUT = 20000; // ms after which the controls close
  const LOST = 60000; // ms without this page after which it asks which bath is in the tank
  const STAGES = ["READ", "ROLLS", "LISTEN", "START"];

  const by = (id) => document.getElementById(id);
  const evening = readEvening(by("evening").textContent);
  if (evening.beats.length === 0) return;
  const root = document.documentElement, follow = by("follow");
  const wall = (clock, to = 8) => new Date(clock).toTimeString().slice(0, to);

  // What the phone keeps: the screen before the start, the presses, the light, what was heard, and when the page ran.
  let kept = { stage: 0, presses: [], light: "white", ear: null, seen: 0 };
  let tank = new Tank(evening, []);
  let isLost = false, panel = null, shutAt = null, told = "", last = null, all = [];
  const signals = new Signals(evening.signals);

  // A browser may refuse to store data for a file; then a reload starts over.
  function keep() {
    kept.seen = Date.now();
    try { localStorage.setItem(evening.key, JSON.stringify(kept)); } catch (refused) { }
  }
  function recall() {
    try {
      const found = JSON.parse(localStorage.getItem(evening.key));
      if (found && Array.isArray(found.presses)) kept = { ...kept, ...found };
    } catch (refused) { }
  }
  const isRunning = () => tank.origin !== null;
  function replay() {
    tank = new Tank(evening, kept.presses);
    all = signals.list(tank);
    signals.silence();
    last = null;
  }
  function press(kind, more = {}) {
    kept.presses.push({ kind, clock: Date.now(), ...more });
    changed();
  }
  function changed() {
    isLost = false;
    keep();
    replay();
    stayAwake();
    tick();
  }
  const name = ({ kind, step, by: ms, tenths }) => ({
    start: "start", "not-now": "not now", done: "it is done", hung: "it hangs", behind: `behind by ${passed(ms || 0)}`,
    back: "it is back in", read: `read ${tenths / 10} ${evening.letter}`, in: `it went in now: ${(evening.steps[step] || {}).name}`, go: `go to ${(evening.steps[step] || {}).name}`,
  }[kind] || kind);

  // What a hold anywhere does, and its words.
  function holds() {
    if (isLost) return ["the clock is right: follow on", () => { isLost = false; shut(); changed(); }];
    const stage = STAGES[kept.stage];
    if (stage === "READ") return ["I have read it", () => turn(1)];
    if (stage === "ROLLS") return ["these are in the tank", () => turn(2)];
    if (stage === "LISTEN") return null;
    const { hold, place, word } = tank.now(Date.now());
    if (word === "DONE") return ["show the card", leave];
    return {
      start: ["start", () => { if (evening.isOpen) setLight("black"); press("start"); }],
      in: ["IT WENT IN NOW", () => press("in", { step: place })],
      lamp: ["THE LAMP IS ON", () => press("in", { step: place })],
      done: ["IT IS DONE", () => press("done")],
      "not-now": ["not now", () => press("not-now")],
      hung: ["it hangs", () => press("hung")],
    }[hold] || (isRunning() ? ["controls", () => show("controls")] : null);
  }
  function turn(stage) {
    kept.stage = stage;
    keep();
    tick();
  }
  function hear(isHeard) {
    kept.ear = isHeard ? Date.now() : 0;
    turn(3);
  }

  // The controls and the panels.
  const PANELS = ["controls", "late", "heat", "lights", "places"];
  function show(which) {
    panel = which;
    for (const id of PANELS) by(id).hidden = id !== which;
    root.classList.toggle("open", which !== null);
    shutAt = which === null ? null : Date.now() + SHUT;
    if (which === "controls") {
      setText("undo", undoing());
      by("back").disabled = tank.early === null;
      by("warm").disabled = tank.readable(Date.now()) === null;
    }
    view.fitAll();
  }
  const shut = () => { show(null); tick(); };
  const undoing = () => {
    const one = kept.presses[kept.presses.length - 1];
    return one ? `UNDO: ${name(one)}, ${wall(one.clock)}` : "UNDO: nothing";
  };
  function undo() {
    kept.presses.pop();
    changed();
    if (isRunning()) show("controls"); else shut();
  }
  // The bath that goes in now: while one is drained, the next one.
  function wentIn() {
    const { place, word } = tank.now(Date.now()), next = tank.steps[place + 1];
    const step = word === "DRAIN" && next && next.isWet ? place + 1 : place;
    if (tank.steps[step].isWet) press("in", { step });
    shut();
  }
  // The temperature that is read now, in tenths of a degree. It begins at the last one of this bath.
  const REACH = evening.letter === "F" ? 180 : 100; // as far as the tables of the steps go
  let tenths = 0, about = 0;
  function openHeat() {
    const step = tank.readable(Date.now());
    if (step === null) { shut(); return; }
    const own = tank.readings.filter((one) => one.step === step).pop();
    about = Math.round(evening.steps[step].tenths);
    tenths = own ? own.tenths : about;
    show("heat");
    warm(0);
  }
  function warm(more) {
    tenths = Math.min(about + REACH, Math.max(about - REACH, tenths + more));
    shutAt = Date.now() + SHUT;
    setText("reads", `IT READS ${(tenths / 10).toFixed(1)}\u00a0°${evening.letter}`);
    view.fitAll();
  }
  function setLight(light) {
    kept.light = light;
    keep();
    paint();
  }
  function paint() {
    root.dataset.light = kept.light;
    by("veil").hidden = kept.light !== "black";
  }

  // Where am I: a step, and since when its bath is in.
  let chosen = 0, since = null;
  function choose(step) {
    chosen = step;
    since = null;
    const known = tank.pourOf(step, Date.now());
    if (isLost && known) since = known.at;
    showPlaces();
  }
  function showPlaces() {
    shutAt = isLost ? null : Date.now() + SHUT;
    by("places").querySelectorAll("li button").forEach((one, place) => one.setAttribute("aria-pressed", String(place === chosen)));
    const { isWet } = evening.steps[chosen];
    by("is-in").disabled = !isWet;
    setText("is-in", since === null ? "IT IS IN NOW" : `IT IS IN since ${wall(since)}`);
    by("places").querySelector(".shut").textContent = isLost ? "CLOCK IS RIGHT" : "BACK";
    setText("is-due", isWet ? "POUR IT NEXT" : "IT BEGINS NOW");
    view.fitAll();
  }
  const shift = (ms) => { since = (since === null ? Date.now() : since) - ms; showPlaces(); };
  function openPlaces() {
    show("places");
    const said = kept.presses[kept.presses.length - 1];
    setText("lost", said ? `last said: ${name(said)}, ${wall(said.clock)}` : "");
    choose(isRunning() ? tank.stepAt(tank.at(Date.now())) : 0);
  }
  evening.steps.forEach((step, place) => {
    const item = document.createElement("li"), button = document.createElement("button");
    button.type = "button";
    button.textContent = step.name;
    button.addEventListener("click", () => choose(place));
    item.append(button);
    by("places").querySelector("ol").append(item);
  });

  let lock = null, asking = false, refused = false;
  const isWorking = () => isRunning() && tank.at(Date.now()) < tank.work;
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
  }
  // What a person must know about sound and screen.
  function ear() {
    if (!signals.Audio) return "NO SOUND: this browser plays none";
    if (isRunning() && !signals.isReady) return "NO SOUND: touch the screen once";
    const heard = kept.ear ? `sound heard ${wall(kept.ear, 5)}` : kept.ear === 0 ? "NO SOUND HEARD" : "";
    return refused && isWorking() ? `${heard} · this screen may switch itself off` : heard;
  }

  const view = sinkView(evening, by);
  const { setText, setLine } = view;
  function tick() {
    const clock = Date.now(), stage = STAGES[kept.stage], held = holds();
    if (shutAt !== null && clock > shutAt) show(null);
    const now = tank.now(clock);
    follow.dataset.hold = now.hold || "";
    const words = isLost ? { ...now, word: "OFF THE CLOCK", count: null } : stage === "START" ? now : { ...now, word: stage, count: null };
    const paper = isLost || (isRunning() && now.word !== "DONE") ? null : isRunning() ? "DONE" : stage;
    view.show(tank, clock, words, paper);
    setLine("hint", held ? `hold anywhere 1 s: ${held[0]}` : "");
    setLine("ear", ear());
    const hasMenu = isRunning() && paper === null && !(held && held[0] === "controls");
    if (by("menu").hidden === hasMenu) { by("menu").hidden = !hasMenu; view.fitAll(); }
    const speech = view.speech(tank, clock, words);
    if (speech !== told) { told = speech; by("say").textContent = speech; }
    if (isRunning()) sound(clock);
    if (isRunning() && clock - kept.seen > 5000) keep();
    if (!isWorking() && lock) stayAwake();
  }
  function sound(clock) {
    const wait = tank.countIn(clock), at = wait === null ? tank.at(clock) : tank.floor - wait;
    const due = last === null ? [] : all.filter((one) => last < one[0] && one[0] <= at);
    if (due.length > 0) signals.buzz(due[due.length - 1][1]);
    last = at;
    signals.schedule(all, at, wait === null ? tank.at(clock + AHEAD) : at + AHEAD);
  }

  function enter() {
    follow.hidden = false;
    root.classList.add("follows");
    follow.focus({ preventScroll: true });
    view.fitAll();
    tick();
    stayAwake();
  }
  function leave() {
    follow.hidden = true;
    root.classList.remove("follows");
    shut();
  }
  function listen() {
    by("begin").addEventListener("click", enter);
    for (const kind of ["pointerup", "keydown", "click"]) document.addEventListener(kind, () => signals.allow(tick), true);
    onHoldAnywhere(follow, HOLD, by("bar"), () => { const held = holds(); if (held) held[1](); });
    onHold(by("menu"), HOLD, () => show("controls"));
    onHold(by("veil"), HOLD, () => { setLight("red"); tick(); });
    const does = {
      in: wentIn, behind: () => show("late"), back: () => { press("back"); shut(); }, undo,
      warm: openHeat, reads: () => { press("read", { tenths }); shut(); }, where: openPlaces, screen: () => show("lights"), close: shut,
      earlier: () => shift(10000), long: () => shift(60000), now: () => { since = null; showPlaces(); },
      "is-in": () => { press("in", since === null ? { step: chosen } : { step: chosen, since }); shut(); },
      "is-due": () => { press("go", { step: chosen }); shut(); },
      card: leave, test: () => { by("test").disabled = true; setTimeout(() => { by("test").disabled = false; }, signals.test(view.mark)); },
      heard: () => hear(true), unheard: () => hear(false),
    };
    follow.addEventListener("click", (event) => {
      const button = event.target instanceof Element && event.target.closest("button");
      if (!button) return;
      const { by: ms, light, tenths: more } = button.dataset;
      if (button.className === "shut") { const wasLost = isLost; isLost = false; shut(); if (wasLost) changed(); }
      else if (ms) { press("behind", { by: ms * 1000 }); shut(); }
      else if (more) warm(Number(more));
      else if (light) { setLight(light); shut(); }
      else if (does[button.id]) does[button.id]();
    });
    document.addEventListener("keydown", (event) => { if (event.key === "Escape" && panel !== null && !isLost) shut(); });
    document.addEventListener("visibilitychange", () => { stayAwake(); tick(); });
    window.addEventListener("pageshow", tick);
    if (window.ResizeObserver) new ResizeObserver(view.fitAll).observe(follow);
    setInterval(tick, TICK);
  }
  // Nothing runs before a person has answered about wrong rolls, nor while another tab leads.
  function begin() {
    recall();
    replay();
    by("open").hidden = false;
    paint();
    listen();
    if (isRunning()) {
      isLost = Date.now() - kept.seen > LOST && tank.at(Date.now()) < tank.end;
      enter();
      if (isLost) openPlaces();
    }
    tick();
  }
  function lead() {
    const other = by("other-tab");
    const wait = setTimeout(() => { document.body.classList.add("led"); other.hidden = false; }, 500);
    const own = () => {
      clearTimeout(wait);
      document.body.classList.remove("led");
      other.hidden = true;
      recall();
      askAboutRolls(evening.key, kept.presses.length > 0, begin);
      return new Promise(() => { });
    };
    if (navigator.locks && window.isSecureContext) navigator.locks.request(evening.key, own).catch(own);
    else own();
  }
  lead();
})();
