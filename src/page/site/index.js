// The index: shows the entries that hold every word of the search, and the chosen kind.
if (document.body.dataset.page === "index") {
  const form = part("search");
  const entries = [...document.querySelectorAll("[data-words]")];
  // So many entries are laid out within a key press. The button shows the others.
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
      // Browsers compute the style of each entry to which an attribute is written, even if it has the same value.
      if (entry.hidden !== isHidden) entry.hidden = isHidden;
    }
    part("rest").hidden = count <= most;
    for (const section of document.querySelectorAll("main section")) {
      section.hidden = !section.querySelector("[data-words]:not([hidden])");
    }
    part("status").textContent = count === 0 ? WORDS.nothing : `${count} / ${entries.length}`;
  };
  // The link of a card opens the recipe that has its name and its fingerprint, else the only one of its name.
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
