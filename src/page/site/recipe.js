// The page of a recipe.
if (document.body.dataset.page === "recipe") {
  const form = part("evening");
  const evening = () => ({ file: document.body.dataset.file, recipe: document.body.dataset.name });
  // The fingerprint in the address, if a link on a card led to this page.
  const linked = new URLSearchParams(location.hash.slice(1)).get("fingerprint");
  part("other").hidden = !linked || linked === part("mark").dataset.fingerprint;
  // The address is written 250 ms after the last change, because browsers refuse more than a few writes a second.
  let timer = 0;
  const keep = (given) => {
    const hash = new URLSearchParams(linked ? { fingerprint: linked, ...given } : given).toString();
    clearTimeout(timer);
    timer = setTimeout(() => history.replaceState(null, "", hash ? `#${hash}` : location.pathname + location.search), 250);
  };
  const show = cardFor(form, evening, keep);
  compiler.open(SHELF).then(() => {
    fill(form, location.hash);
    show();
    addEventListener("hashchange", () => {
      fill(form, location.hash);
      show();
    });
  });
}
