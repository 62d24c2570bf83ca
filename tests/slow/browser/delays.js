// Puts each bath in late by `delay` seconds, says so, and compares the word with the bath's own schedule at the middle of
// each of its actions and rests. `steps` has, for each step, its pour and its events [start, length, action], in
// milliseconds of the session. Returns what is wrong, and how many words were compared.
async ({ steps, delay }) => {
  const by = (id) => document.getElementById(id), soon = () => new Promise((done) => quick(done, 3));
  const key = (type) => by("follow").dispatchEvent(new KeyboardEvent(type, { key: " ", bubbles: true, cancelable: true }));
  const hold = async () => { key("keydown"); await soon(); key("keyup"); };
  const words = {
    pour: "POUR", fill: "POUR", lower: "LOWER", lift: "LIFT", drain: "DRAIN", dump: "DRAIN", agitate: "AGITATE",
    expose: "LAMP", dry: "HANG", coat: "COAT", handle: "WAIT", rest: "WAIT", warm: "WAIT", mix: "WAIT",
  };
  const wrong = [];
  let compared = 0;
  while (by("open").hidden) await soon();
  by("begin").click();
  await hold();
  await hold();
  by("heard").click();
  await hold();
  // The clock of the session, by what the person said.
  let now = -5000;
  const to = (at) => { pass((at - now) / 1000); now = at; };
  for (const { name, pour, end, isWet, isLamp, events } of steps) {
    to(pour);
    if ((isWet || isLamp) && pour > 0) {
      pass(delay);
      if (isLamp) await hold(); else await say(name);
      pass(0);
    }
    const edges = [...new Set([pour, ...events.flatMap(([at, length]) => [at, at + length]), end])].sort((one, other) => one - other);
    for (const [place, from] of edges.entries()) {
      const until = edges[place + 1];
      if (until === undefined || until - from < 1000 || from < pour) continue;
      const middle = Math.floor((from + until) / 2), event = events.find(([at, length]) => at <= middle && middle < at + length);
      to(middle);
      const meant = event ? words[event[2]] : isWet ? "REST" : "WAIT", shown = by("word").textContent;
      compared += 1;
      if (shown !== meant) wrong.push(`${name} at ${middle / 1000} s: ${shown} and not ${meant}`);
    }
  }
  return { wrong, compared };

  async function say(name) {
    const at = by("menu").hidden ? by("follow") : by("menu");
    for (const type of ["keydown", "keyup"]) {
      at.dispatchEvent(new KeyboardEvent(type, { key: " ", bubbles: true, cancelable: true }));
      await soon();
    }
    by("where").click();
    [...document.querySelectorAll("#places li button")].find((one) => one.textContent === name).click();
    by("now").click();
    by("is-in").click();
  }
}
