// Holding a button, or the screen.
// A hold does its work after `time` ms, and `sign` shows how long it has lasted. A wet finger may slip.
const holding = (sign, time, work) => {
  const SLIP = 75; // pixels, 12 mm on a phone
  let timer = null, from = null;
  const stop = () => { clearTimeout(timer); timer = null; from = null; sign.classList.remove("held"); };
  const start = () => {
    if (timer !== null) return;
    sign.classList.add("held");
    timer = setTimeout(() => { stop(); work(); }, time);
  };
  const listen = (target, isOwn) => {
    target.addEventListener("pointerdown", (event) => {
      if (event.button !== 0 || !isOwn(event)) return;
      start();
      from = event;
    });
    target.addEventListener("pointermove", (event) => {
      if (from && Math.hypot(event.clientX - from.clientX, event.clientY - from.clientY) > SLIP) stop();
    });
    for (const kind of ["pointerup", "pointercancel"]) target.addEventListener(kind, stop);
    target.addEventListener("contextmenu", (event) => event.preventDefault());
  };
  const keys = (target, isOwn) => {
    target.addEventListener("keydown", (event) => { if (isOwn(event)) { event.preventDefault(); start(); } });
    target.addEventListener("keyup", stop);
  };
  return { stop, listen, keys };
};

// A button that is held does its work.
const onHold = (button, time, work) => {
  const { stop, listen, keys } = holding(button, time, work);
  listen(button, ({ pointerId }) => { button.setPointerCapture(pointerId); return true; });
  button.addEventListener("blur", stop);
  keys(button, ({ key }) => key === " " || key === "Enter");
};

// A hold anywhere on the screen does its work, while `bar` grows over the whole width. Buttons, panels and lists to scroll are
// no part of it. On a keyboard, the space bar is held.
const onHoldAnywhere = (screen, time, bar, work) => {
  const { listen, keys } = holding(bar, time, work);
  const isOwn = ({ target }) => target instanceof Element && target.closest("button, .panel, .cells, #controls") === null;
  listen(screen, isOwn);
  keys(document, (event) => event.key === " " && !screen.hidden && isOwn(event));
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
