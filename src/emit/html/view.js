// What is on the screen: one word, one number, what to pour, what is next.

// The session's data, with a name for each value of a row.
const readEvening = (json) => {
  const evening = JSON.parse(json), text = (place) => evening.texts[place];
  const kinds = evening.kinds.map(([step, word, amount, what, below, isKnocked, signal, isWarned, moves, each]) => ({
    step, word: text(word), amount: text(amount), what: text(what), below: text(below), signal, each,
    isKnocked: isKnocked === 1, isWarned: isWarned === 1, isFilling: moves === 1, isEmptying: moves === 2,
  }));
  // The beats have no gaps: each ends as the next one begins.
  const read = (rows, end) => rows.map(([at, kind], place) => {
    const next = rows[place + 1];
    return { at, until: next ? next[0] : end, ...kinds[kind] };
  });
  evening.beats = read(evening.beats, evening.end);
  for (const { pace } of evening.steps) if (pace) pace.more = read(pace.more, pace.until).map((beat) => ({ ...beat, isLonger: true }));
  return evening;
};

const sinkView = (evening, by) => {
  const SOON = 10000; // ms before the next word in which the screen says to get ready
  // Cap height of the common fonts, and the room of a whole line, in parts of the type's size.
  const CAPS = 1.32, WHOLE = 0.84, LID = 1;
  const SIZES = { word: CAPS, count: CAPS, amount: CAPS, what: CAPS, ahead: CAPS, "lid-one": LID, "lid-two": LID };
  const shown = {};
  let drawn = null, marks = null;

  function setText(id, text) {
    const element = by(id);
    if (element.textContent !== text) element.textContent = text;
  }
  // One line in the largest type that its row allows; letters get narrower where the line would be too long.
  function fit(line) {
    const inner = line.firstElementChild, { clientHeight: height, clientWidth: width } = line;
    if (height === 0) return;
    inner.style.fontSize = `${height * (SIZES[line.id] || WHOLE)}px`;
    inner.style.lineHeight = `${height}px`;
    inner.style.transform = "none";
    const own = inner.offsetWidth;
    if (own > width) inner.style.transform = `scaleX(${width / own})`;
  }
  function setLine(id, text) {
    if (shown[id] === text) return;
    shown[id] = text;
    by(id).firstElementChild.textContent = text;
    fit(by(id));
  }
  // Text on as many lines as there is room for, in smaller type if it needs more.
  function shrink(element) {
    element.style.fontSize = "";
    let size = parseFloat(getComputedStyle(element).fontSize);
    const { clientHeight: height, clientWidth: width } = element;
    if (height === 0) return;
    while ((element.scrollHeight > height + 1 || element.scrollWidth > width + 1) && size > 8) element.style.fontSize = `${size -= 1}px`;
  }
  function fitAll() {
    document.querySelectorAll("#follow .line").forEach(fit);
    [by("below"), ...document.querySelectorAll("#follow button")].forEach(shrink);
    drawn = null;
  }

  // The line about the lid on two lines of equal length.
  function showLid(line) {
    by("lid").hidden = line === null;
    if (line === null) return;
    const words = line.join(" ").trim().split(" ");
    let best = [words.join(" "), ""];
    if (best[0].length > 16) {
      const splits = words.map((_, place) => [words.slice(0, place).join(" "), words.slice(place).join(" ")]).slice(1);
      const longest = (two) => Math.max(two[0].length, two[1].length);
      best = splits.reduce((one, other) => (longest(other) < longest(one) ? other : one), best);
    }
    by("lid").classList.toggle("single", best[1] === "");
    setLine("lid-one", best[0]);
    setLine("lid-two", best[1]);
  }

  // The next word, and the words beside it.
  function following(tank, now) {
    const { open, beat, at } = now;
    const waits = tank.open.find((one) => !tank.made[one.place] && one.zero <= at && at < one.leaves);
    const look = waits && waits.zero + (waits.looks.length > 0 ? waits.looks[0] : waits.factor === null ? waits.least : 0);
    if (waits && !open && look < Math.min(now.until + 1, waits.leaves)) {
      return { big: "LOOK", small: `next · until ${waits.sign}` };
    }
    const from = open ? open.one.leaves : Math.max(now.until, at);
    const first = tank.beats.find((one) => one.at >= from && one.id !== beat.id && (one.until > one.at || one.isFilling || one.isEmptying));
    if (!first) return { big: "", small: "" };
    // A bath that comes out as the next one goes in.
    const both = tank.beats.filter((one) => one.at === first.at && one.until === one.at && one.id >= first.id);
    const list = both.length > 0 ? both : [first], main = list[list.length - 1];
    const big = list.map((one) => `${one.word} ${one.isFilling ? one.what : one.amount}`.trim()).join(", ");
    const step = evening.steps[main.step].name, isOther = main.step !== beat.step;
    const small = [open ? `at ${passed(open.one.most)} at the latest` : "next", isOther ? step : "", main.isFilling ? main.amount : ""];
    const isBath = main.isFilling || main.isEmptying;
    return { big, small: small.filter(Boolean).join(" · "), isBath };
  }
  // Before a bath goes in or comes out, the last ten seconds; before anything else, only those of a longer beat.
  const isSoon = (now, next) => now.until - now.at <= SOON && now.hold !== "lamp"
    && (next.isBath || now.until - now.beat.at > SOON);

  // The strip of the present step, with its agitation and what is poured and drained, and a mark for now.
  function strip(tank, now) {
    const { place } = now, step = tank.steps[place], bar = by("strip");
    const from = step.start, to = Math.max(step.end, from + 1), part = (time) => 100 * (time - from) / (to - from);
    const scene = `${place} ${from} ${to}`;
    if (drawn !== scene) {
      drawn = scene;
      bar.replaceChildren();
      for (const beat of tank.beats.filter((one) => one.step === place)) {
                const kind = beat.isFilling || beat.isEmptying ? "flow" : ["REST", "WAIT"].includes(beat.word) ? null : "move";
        if (kind && beat.until > beat.at) bar.append(mark(kind, part(beat.at), part(beat.until) - part(beat.at)));
        if (beat.isKnocked) bar.append(mark("knock", part(beat.until), 0));
      }
      marks = mark("here", 0, 0);
      bar.append(marks);
    }
    marks.style.left = `${Math.min(100, Math.max(0, part(now.open ? now.open.one.zero + now.open.clock : now.at)))}%`;
  }
  function mark(kind, left, width) {
    const element = document.createElement("i");
    element.className = kind;
    element.style.left = `${left}%`;
    if (width > 0) element.style.width = `${width}%`;
    return element;
  }

  // The screens before the start and after the end, from the card below.
  let onPaper = null;
  function paper(which, tank, clock) {
    by("paper").hidden = which === null;
    by("follow").classList.toggle("before", which !== null);
    if (which === onPaper) return;
    onPaper = which;
    const own = (tag, text) => { const element = document.createElement(tag); element.textContent = text; return element; };
    const copy = (selector) => [...document.querySelectorAll(selector)].map((one) => one.cloneNode(true));
    const button = (id, text) => { const one = own("button", text); one.type = "button"; one.id = id; return one; };
    const list = (tag, texts) => { const all = own(tag, ""); all.append(...texts.map((text) => own("li", text))); return all; };
    const parts = {
      READ: () => copy("body > .safety > :not(h2)"),
      ROLLS: () => [...copy("header .facts"), ...copy("main .wide table")],
      LISTEN: () => [
        own("p", "Turn the sound up. Four signals guide you:"),
        list("ol", evening.signals.meanings),
        button("test", "play the four"), button("heard", "heard"), button("unheard", "not heard"),
      ],
      START: () => [
        ...(evening.isOpen ? [own("p", evening.faceDown)] : []),
        own("p", "Have these open, in this order. Five seconds after the hold, the first begins."),
        list("ol", evening.steps.filter((step) => step.isWet).map((step) => `${step.name}: ${step.bath}`)),
      ],
      DONE: () => {
        const happened = [["TOOK", "took", tank.took(clock)], ["READ", "read", tank.reads()]].filter(([, , all]) => all.length > 0);
        const list = (all, part) => all.map((one) => one[part]).join(", ");
        const options = happened.map(([, option, all]) => ` --${option} ${list(all, "option").replace(/ /g, "")}`);
        return [
          own("p", "This call records the evening:"), own("code", evening.record + options.join("")),
          ...happened.map(([word, , all]) => own("p", `${word} ${list(all, "words")}`)),
          ...(tank.took(clock).length === 0 ? [own("p", "All steps took their time.")] : []),
        ];
      },
    };
    by("paper").replaceChildren(...(which === null ? [] : parts[which]()));
    by("paper").scrollTop = 0;
  }

  function show(tank, clock, now, which) {
    paper(which, tank, clock);
    showLid(tank.lidAt(clock));
    const { beat, step, word, count, due, at } = now, zero = now.open ? now.open.clock : at - step.zero;
    setLine("name", which === null ? step.name : evening.title);
    setLine("clock", which === null ? `${passed(zero)} of ${step.of}` : "");
    by("step").classList.toggle("whole", which !== null);
    by("follow").dataset.word = word;
    setLine("word", word);
    setLine("count", count === null ? "" : count);
    if (which !== null && which !== "DONE") return;
    const said = tank.said(clock), took = word === "HANG" ? tank.took(clock).map((one) => one.words).join(", ") : "";
    const isPlain = word === "START" || word === "OFF THE CLOCK";
    const look = now.open ? `${now.open.one.sign}${now.open.one.factor === null ? "" : `; ${now.open.one.factor} x that`}` : null;
    setLine("amount", now.open ? `${passed(now.open.one.least)} to ${passed(now.open.one.most)}` : isPlain ? "" : beat.amount);
    setLine("what", now.open || isPlain ? "" : beat.what);
    by("do").classList.toggle("plain", shown.amount === "" && shown.what === "");
    const late = due === null || beat.isFilling ? "" : `${step.name} due ${passed(due)} ago; hold if it is in`;
    const change = tank.change(clock);
    const below = change || late || said || look || (isPlain ? "" : beat.below);
    if (shown.below !== below) { shown.below = below; setText("below", below); shrink(by("below")); }
    by("below").dataset.kind = change ? "change" : late ? "due" : said ? "said" : "";
    const next = following(tank, now), soon = isSoon(now, next);
    by("next").dataset.soon = soon ? "yes" : "no";
    setLine("when", took ? "TOOK" : soon ? next.small.replace("next", "get ready") : next.small);
    setLine("ahead", took || next.big);
    const whole = at < tank.work ? tank.work : tank.end;
    // Later decisions may make it shorter.
    const less = tank.open.reduce((sum, one) => sum + (!tank.made[one.place] && at < one.leaves ? one.most - one.least : 0), 0);
    const range = (words) => (less > 0 ? `${words(whole - less)} to ` : "") + words(whole);
    const ends = tank.origin === null ? "" : `, until ${range((time) => new Date(clock + time - at).toTimeString().slice(0, 5))}`;
    setLine("all", `${range((time) => left(time - at))} left${ends}`);
    strip(tank, now);
  }
  // For a screen reader: the step, the word and what is next, once each; then the ten seconds.
  function speech(tank, clock, now) {
    const { beat, step, word } = now, next = following(tank, now), lid = tank.lidAt(clock);
    if (tank.origin === null || word === "OFF THE CLOCK" || word === "DONE") return word;
    if (isSoon(now, next) && next.big) return `In ten seconds: ${next.big}`;
    const what = now.open ? now.open.one.sign : [beat.amount, beat.what, beat.below].filter(Boolean).join(" ");
    return [`${step.name}. ${word} ${what}`, next.big && `Next: ${next.big}`, lid && lid[1] === "" ? lid[0] : ""].filter(Boolean).join(". ");
  }
  // Marks the signal that is played as a test.
  const play = (signal) => by("paper").querySelectorAll("li").forEach((one, place) => one.toggleAttribute("aria-current", place === signal));
  return { setText, setLine, fitAll, show, speech, mark: play };
};
