// Holding a button, or the screen.
// A button that is held does its work after `time` ms. Its style shows how long it has been held.
const onHold = (button, time, work) => {
  const SLIP = 75; // pixels, 12 mm on a phone, that a held finger may move
  let timer = null, from = null;
  const stop = () => { clearTimeout(timer); timer = null; button.classList.remove("held"); };
  const start = () => {
    if (timer !== null) return;
    button.classList.add("held");
    timer = setTimeout(() => { stop(); work(); }, time);
  };
  button.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    from = event;
    button.setPointerCapture(event.pointerId);
    start();
  });
  button.addEventListener("pointermove", (event) => {
    if (from && Math.hypot(event.clientX - from.clientX, event.clientY - from.clientY) > SLIP) stop();
  });
  for (const kind of ["pointerup", "pointercancel", "blur"]) button.addEventListener(kind, stop);
  button.addEventListener("contextmenu", (event) => event.preventDefault());
  const isKey = (event) => event.key === " " || event.key === "Enter";
  button.addEventListener("keydown", (event) => { if (isKey(event)) { event.preventDefault(); start(); } });
  button.addEventListener("keyup", (event) => { if (isKey(event)) stop(); });
};

// A hold anywhere on the screen does its work after `time` ms, while `bar` grows over the whole width. A wet finger may
// slip. Buttons, panels and lists to scroll are no part of it. On a keyboard, the space bar is held.
const onHoldAnywhere = (screen, time, bar, work) => {
  const SLIP = 75; // pixels, 12 mm on a phone
  let timer = null, from = null;
  const stop = () => { clearTimeout(timer); timer = null; from = null; bar.classList.remove("held"); };
  const start = () => {
    if (timer !== null) return;
    bar.classList.add("held");
    timer = setTimeout(() => { stop(); work(); }, time);
  };
  const isOwn = (event) => event.target instanceof Element && event.target.closest("button, .panel, .cells, #controls") === null;
  screen.addEventListener("pointerdown", (event) => {
    if (event.button !== 0 || !isOwn(event)) return;
    start();
    from = event;
  });
  screen.addEventListener("pointermove", (event) => {
    if (from && Math.hypot(event.clientX - from.clientX, event.clientY - from.clientY) > SLIP) stop();
  });
  for (const kind of ["pointerup", "pointercancel"]) screen.addEventListener(kind, stop);
  screen.addEventListener("contextmenu", (event) => event.preventDefault());
  const isKey = (event) => event.key === " " && !screen.hidden && isOwn(event);
  document.addEventListener("keydown", (event) => { if (isKey(event)) { event.preventDefault(); start(); } });
  document.addEventListener("keyup", (event) => { if (event.key === " ") stop(); });
};

// The screen about wrong rolls. It calls `begin` once each of them was answered, in this tab or in a running session.
const askAboutRolls = (key, isRunning, begin) => {
  const HOLD = 2000; // ms
  const screen = document.getElementById("wrong"), other = document.getElementById("other");
  if (!screen) { begin(); return; }
  const rolls = [...screen.querySelectorAll(".roll")];
  let answered = 0;
  try { answered = isRunning ? rolls.length : Number(sessionStorage.getItem(key)) || 0; } catch (refused) { }
  const show = () => {
    if (answered >= rolls.length) {
      screen.remove();
      if (other) other.remove();
      begin();
      return;
    }
    rolls.forEach((roll, place) => { roll.hidden = place !== answered; });
  };
  screen.querySelectorAll("button").forEach((button) => { button.hidden = false; });
  screen.querySelectorAll(".really").forEach((button) => onHold(button, HOLD, () => {
    answered += 1;
    try { sessionStorage.setItem(key, answered); } catch (refused) { }
    show();
  }));
  const turn = (isOther) => { screen.hidden = isOther; other.hidden = !isOther; scrollTo(0, 0); };
  screen.querySelectorAll(".show").forEach((button) => button.addEventListener("click", () => turn(true)));
  if (other) document.getElementById("return").addEventListener("click", () => turn(false));
  show();
};
