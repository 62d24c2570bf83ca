// The page `index.html`: shows the entries that contain every word of the search and have the chosen kind.
if (document.body.dataset.page === "index") {
  const form = part("search");
  const entries = [...document.querySelectorAll("[data-words]")];
  // The number of entries that a browser can lay out between two key presses. A button shows the other entries.
  const MOST = 200;
  let most = MOST;
  const show = () => {
    const { words = "", kind = "", film = "", step = "" } = values(form);
    const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
    let count = 0;
    for (const entry of entries) {
      const fits = (!kind || entry.dataset.kind === kind)
        && (!film || entry.dataset.film === film)
        && (!step || (entry.dataset.steps || "").split(" ").includes(step))
        && wanted.every((word) => entry.dataset.words.includes(word));
      count += Number(fits);
      const isHidden = !fits || count > most;
      // An attribute is written only if it changes: browsers compute the style again even for an equal value.
      if (entry.hidden !== isHidden) entry.hidden = isHidden;
    }
    part("rest").hidden = count <= most;
    for (const section of document.querySelectorAll("main section")) {
      section.hidden = !section.querySelector("[data-words]:not([hidden])");
    }
    part("status").textContent = count === 0 ? WORDS.nothing : `${count} / ${entries.length}`;
  };
  // The link on a card opens the recipe with the card's name and fingerprint, else the only recipe with this name.
  const open = () => {
    const given = new URLSearchParams(location.hash.slice(1));
    const name = given.get("recipe");
    if (!name) return;
    const own = entries.filter((entry) => entry.dataset.name === name);
    const one = own.find((entry) => entry.dataset.fingerprint === given.get("fingerprint")) || (own.length === 1 && own[0]);
    given.delete("recipe");
    if (one) location.replace(`${one.querySelector("a").href}#${given}`);
    else form.elements.namedItem("words").value = name;
    part("other").hidden = Boolean(one);
  };
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", () => {
    most = MOST;
    show();
  });
  part("rest").addEventListener("click", () => {
    most = entries.length;
    show();
  });
  fill(form, location.hash);
  open();
  show();
}
