// Does on the page what an evening of `tests/late` says, by its buttons, and returns where the page shows something else.
async (evening) => {
  const by = (id) => document.getElementById(id), soon = () => new Promise((done) => quick(done, 5));
  const line = (id) => by(id).textContent.replace(/\u00a0/g, " ").trim();
  const key = (target, type) => target.dispatchEvent(new KeyboardEvent(type, { key: " ", bubbles: true, cancelable: true }));
  const hold = async (target) => { key(target, "keydown"); await soon(); key(target, "keyup"); await soon(); };
  const anywhere = () => hold(by("follow"));
  const controls = async () => {
    if (!by("controls").hidden) return true;
    if (!by("menu").hidden) await hold(by("menu")); else if (by("hint").textContent.endsWith("controls")) await anywhere();
    return !by("controls").hidden;
  };
  const data = JSON.parse(by("evening").textContent);
  const step = (called) => data.steps.findIndex((one) => one.called === called);
  const click = (id) => by(id).click();
  const choose = async (called, button) => {
    await controls();
    click("where");
    document.querySelectorAll("#places li button")[step(called)].click();
    click("now");
    click(button);
  };
  const does = {
    start: anywhere, done: anywhere, lamp: anywhere, "not-now": anywhere,
    in: async (called) => {
      const isHere = by("follow").dataset.hold === "in" && by("name").textContent === data.steps[step(called)].name;
      if (isHere) await anywhere(); else await choose(called, "is-in");
    },
    behind: async (seconds) => { await controls(); click("behind"); document.querySelector(`[data-by="${seconds}"]`).click(); },
    go: (called) => choose(called, "is-due"),
    "back-in": async () => { await controls(); click("back"); },
    read: async (degrees) => {
      await controls();
      click("warm");
      const shown = () => Math.round(10 * Number(by("reads").textContent.match(/[\d.]+/)[0])), meant = Math.round(10 * degrees);
      for (const more of [10, -10, 1, -1]) {
        while (Math.abs(shown() + more - meant) < Math.abs(shown() - meant)) document.querySelector(`[data-tenths="${more}"]`).click();
      }
      click("reads");
    },
    undo: async () => { if (await controls()) { click("undo"); if (!by("controls").hidden) click("close"); } },
  };
  const lid = () => (by("lid").hidden ? null : [line("lid-one"), line("lid-two")].join(" ").trim());
  const due = () => {
    const late = line("below").match(/ due (\S+) ago/);
    if (late && by("below").dataset.kind === "due") return late[1];
    return line("count").startsWith("+") ? line("count").slice(1) : null;
  };
  const sees = {
    word: () => line("word"),
    count: () => line("count") || null,
    due,
    hold: () => by("follow").dataset.hold || null,
    lid,
    said: () => (by("below").dataset.kind === "said" ? line("below") : null),
    read: () => (by("below").dataset.kind === "change" ? line("below") : null),
    took: () => (line("when") === "TOOK" ? line("ahead") : ""),
  };
  const seconds = (time) => time.split(":").reduce((sum, part) => 60 * sum + Number(part), 0);
  const wrong = [];
  let now = 0;
  while (by("open").hidden) await soon();
  click("begin");
  await anywhere();
  await anywhere();
  click("heard");
  for (const row of evening.steps) {
    const { at, press, ...seen } = row;
    pass(seconds(at) - now);
    now = seconds(at);
    if (press) {
      const [kind, of] = press.split(":");
      await does[kind](of);
      pass(0);
    }
    for (const [name, value] of Object.entries(seen)) {
      const shown = sees[name](), meant = value && name === "lid" ? value.replace(/ +/g, " ") : value;
      if (shown !== meant) wrong.push(`${at} ${name}: ${shown} and not ${meant}`);
    }
  }
  return wrong;
}
