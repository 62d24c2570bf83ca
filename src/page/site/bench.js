// The page `bench.html`: a recipe text, its diagnostics with their fixes, and the card of one of its recipes. All that
// the page says about the text comes from the compiler's language server; this script only shows it.
if (document.body.dataset.page === "bench") {
  const MAIN = "bench.wet";
  const LINK_MAX = 4000;
  const UNPACKED_MAX = 16384;
  const COLOURED_MAX = 200000;
  // The symbol kind of a recipe, as the language server sends it.
  const RECIPE = 5;
  const field = part("text");
  const colours = part("colours");
  const offers = part("offers");
  let current = MAIN;
  let version = 0;
  let number = 0;
  let faults = [];
  let isRead = true;
  let offered = [];

  const address = () => `file:///${current}`;
  const tell = (method, params) => messages({ jsonrpc: "2.0", method, params });
  function demand(method, params) {
    number += 1;
    const message = { jsonrpc: "2.0", id: number, method: `textDocument/${method}`, params: { textDocument: { uri: address() }, ...params } };
    return messages(message).find((one) => one.id === number)?.result;
  }
  function messages(message) {
    const all = compiler.ask({ ask: "editor", message }).answer || [];
    for (const one of all) {
      if (one.method === "textDocument/publishDiagnostics" && one.params.uri === address()) faults = one.params.diagnostics;
    }
    return all;
  }

  // `offset` converts a line and a column of the language server protocol to an offset in the text, `position` back.
  const startsOf = (text) => [0, ...[...text.matchAll(/\n/g)].map((found) => found.index + 1)];
  function offset(starts, { line, character }) {
    return line < starts.length ? Math.min(starts[line] + character, field.value.length) : field.value.length;
  }
  function position(at) {
    const before = field.value.slice(0, at).split("\n");
    return { line: before.length - 1, character: before.at(-1).length };
  }

  function paint() {
    const text = field.value;
    // A long text gets no colours; then the text field itself shows it.
    field.classList.toggle("plain", text.length > COLOURED_MAX);
    if (text.length > COLOURED_MAX) return colours.replaceChildren();
    const starts = startsOf(text);
    const marks = [];
    for (const { start, end, kind } of compiler.ask({ ask: "tokens", text }).answer || []) marks.push([start, end, kind]);
    for (const { range, severity } of faults) {
      const start = offset(starts, range.start);
      marks.push([start, Math.max(offset(starts, range.end), start + 1), `fault-${severity}`]);
    }
    const cuts = [...new Set([0, text.length, ...marks.flatMap(([start, end]) => [start, Math.min(end, text.length)])])].sort((a, b) => a - b);
    marks.sort((a, b) => a[0] - b[0]);
    const open = [];
    const next = colours.cloneNode();
    let begun = 0;
    for (let at = 0; at + 1 < cuts.length; at += 1) {
      while (begun < marks.length && marks[begun][0] <= cuts[at]) open.push(marks[begun++]);
      const names = open.filter(([, end]) => end > cuts[at]).map(([, , name]) => name);
      next.append(element("span", text.slice(cuts[at], cuts[at + 1]), { className: names.join(" ") }));
    }
    next.append("\n");
    update(colours, next);
  }

  // Lists the diagnostics of the text, each with a button for each fix.
  function list() {
    const found = faults.map(({ range, message, severity }) => {
      const [first, ...rest] = message.split("\n");
      const level = ["error", "error", "warning", "advice"][severity] || "error";
      return { message: `${range.start.line + 1}: ${first}`, help: rest, level, range };
    });
    const whole = { start: { line: 0, character: 0 }, end: position(field.value.length) };
    const actions = found.length > 0 && demand("codeAction", { range: whole, context: { diagnostics: [] } }) || [];
    showFindings(part("faults"), found.slice(0, 100), (item, { range }) => {
      const own = actions.filter((action) => action.diagnostics.some((one) => JSON.stringify(one.range) === JSON.stringify(range)));
      for (const action of own) {
        const button = element("button", action.title, { type: "button" });
        button.addEventListener("click", () => apply(action.edit.changes[address()] || []));
        item.append(button);
      }
      const go = element("button", WORDS.show, { type: "button", className: "quiet" });
      go.addEventListener("click", () => {
        const starts = startsOf(field.value);
        field.focus();
        field.setSelectionRange(offset(starts, range.start), offset(starts, range.end));
      });
      item.append(go);
    });
    part("sound").hidden = faults.length > 0;
  }

  // Replaces a range of the text so that the browser's own undo works on this change.
  function replace(start, end, text) {
    field.focus();
    field.setSelectionRange(start, end);
    if (!document.execCommand(text ? "insertText" : "delete", false, text)) {
      field.setRangeText(text, start, end, "end");
      changed();
    }
  }

  function apply(edits) {
    const starts = startsOf(field.value);
    const ranges = edits.map(({ range, newText }) => [offset(starts, range.start), offset(starts, range.end), newText]);
    ranges.sort((one, other) => other[0] - one[0]);
    for (const [start, end, text] of ranges) replace(start, end, text);
  }

  function changed() {
    version += 1;
    compiler.change(current, field.value);
    tell("textDocument/didChange", { textDocument: { uri: address(), version }, contentChanges: [{ text: field.value }] });
    paint();
    list();
    recipes();
    showCard();
  }

  // Offers the recipes of the text in the field `recipe`.
  function recipes() {
    const choice = part("recipe");
    const before = choice.value;
    const symbols = demand("documentSymbol", {}) || [];
    const names = symbols.filter((symbol) => symbol.kind === RECIPE).map((symbol) => symbol.name);
    if (names.join() === [...choice.options].map((option) => option.value).join()) return;
    choice.replaceChildren(...names.map((name) => element("option", name, { value: name })));
    choice.value = names.includes(before) ? before : names.at(-1) || "";
  }

  function showCard() {
    part("evening").querySelectorAll("input, select").forEach((input) => { input.disabled = !isRead; });
    if (isRead) show();
  }

  function open(name) {
    if (version > 0) tell("textDocument/didClose", { textDocument: { uri: address() } });
    current = name;
    version += 1;
    faults = [];
    field.value = files[name];
    tell("textDocument/didOpen", { textDocument: { uri: address(), languageId: "wetside", version, text: field.value } });
    changed();
  }

  function listFiles() {
    const choice = part("file");
    choice.replaceChildren(...Object.keys(files).sort().map((name) => element("option", name, { value: name })));
    choice.value = current;
  }

  // Shows the language server's hover text for the word at the cursor.
  function about() {
    const told = demand("hover", { position: position(field.selectionStart) });
    part("about").textContent = told ? (told.contents.value || told.contents) : "";
  }

  function closeOffers() {
    offers.hidden = true;
    offered = [];
    field.removeAttribute("aria-activedescendant");
  }

  function offer() {
    const at = field.selectionStart;
    const items = demand("completion", { position: position(at) }) || [];
    const starts = startsOf(field.value);
    offered = (items.items || items).filter(({ textEdit }) => {
      const begun = field.value.slice(offset(starts, textEdit.range.start), at);
      return textEdit.newText.startsWith(begun) && textEdit.newText !== begun;
    }).slice(0, 12);
    if (offered.length === 0) return closeOffers();
    offers.replaceChildren(...offered.map((item, place) => {
      const line = element("li", item.label, { id: `offer-${place}` });
      line.setAttribute("role", "option");
      if (item.detail) line.append(element("span", ` ${item.detail}`));
      line.addEventListener("mousedown", (event) => {
        event.preventDefault();
        take(place);
      });
      return line;
    }));
    const { line, character } = position(at);
    offers.style.setProperty("--line", line + 1 - field.scrollTop / parseFloat(getComputedStyle(field).lineHeight));
    offers.style.setProperty("--column", character);
    offers.hidden = false;
    choose(0);
  }

  const chosen = () => [...offers.children].findIndex((one) => one.getAttribute("aria-selected") === "true");
  function choose(place) {
    [...offers.children].forEach((one, at) => one.setAttribute("aria-selected", String(at === place)));
    offers.children[place].scrollIntoView({ block: "nearest" });
    field.setAttribute("aria-activedescendant", `offer-${place}`);
  }

  function take(place) {
    const { range, newText } = offered[place].textEdit;
    const starts = startsOf(field.value);
    const start = offset(starts, range.start);
    closeOffers();
    replace(start, Math.max(field.selectionEnd, start), newText);
  }

  // Packs `text`, a JSON object of file names and their texts, for a link: compressed with DEFLATE, in base64.
  async function pack(text) {
    const stream = new Blob([text]).stream().pipeThrough(new CompressionStream("deflate-raw"));
    const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
    return btoa(String.fromCharCode(...bytes)).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
  }

  async function unpack(text) {
    if (text.length > LINK_MAX) throw new RangeError(WORDS.long);
    const bytes = Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), (letter) => letter.charCodeAt(0));
    const reader = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw")).getReader();
    const parts = [];
    let length = 0;
    for (let read = await reader.read(); !read.done; read = await reader.read()) {
      length += read.value.length;
      if (length > UNPACKED_MAX) throw new RangeError(WORDS.long);
      parts.push(read.value);
    }
    const sent = JSON.parse(await new Blob(parts).text());
    const names = Object.keys(sent);
    const fits = ([name, value]) => /^[a-z0-9][a-z0-9/-]*\.wet$/.test(name) && typeof value === "string";
    if (names.length === 0 || names.length > 20 || !Object.entries(sent).every(fits)) throw new TypeError(WORDS.unclear);
    return sent;
  }

  // The files that a file uses, directly or through others, and the file itself.
  function used(name, all = {}) {
    if (name in all || !(name in files)) return all;
    all[name] = name === current ? field.value : files[name];
    const folder = name.includes("/") ? name.slice(0, name.lastIndexOf("/") + 1) : "";
    for (const [, path] of all[name].matchAll(/^\s*use\s+"([^"]+)"/gm)) {
      used(new URL(folder + path, "file:///").pathname.slice(1), all);
    }
    return all;
  }

  async function copyLink() {
    const packed = await pack(JSON.stringify(used(current)));
    const note = part("link-note");
    if (packed.length > LINK_MAX) {
      note.textContent = WORDS.long;
      return;
    }
    const link = `${location.href.split("#")[0]}#recipe=${packed}`;
    part("link").value = link;
    part("link").hidden = false;
    part("link").select();
    note.textContent = "";
    await navigator.clipboard?.writeText(link).catch(() => {});
  }

  // Reads the files in the link of this page. Another person may have made it, so the reader must agree before they are
  // compiled.
  async function fromLink() {
    const packed = new URLSearchParams(location.hash.slice(1)).get("recipe");
    if (!packed) return null;
    try {
      return await unpack(packed);
    } catch (error) {
      part("link-note").textContent = error instanceof RangeError || error instanceof TypeError ? error.message : WORDS.unclear;
      return null;
    }
  }

  let files = { ...SHELF, [MAIN]: EXAMPLE };
  const show = cardFor(part("evening"), () => ({ file: current, recipe: part("recipe").value }), () => {});

  async function begin() {
    const sent = await fromLink();
    if (sent) {
      files = sent;
      isRead = false;
      part("stranger").hidden = false;
    }
    await compiler.open(files);
    compiler.ask({ ask: "editor", message: { jsonrpc: "2.0", id: 0, method: "initialize", params: { capabilities: {} } } });
    tell("initialized", {});
    const names = Object.keys(files);
    open(sent ? names[0] : MAIN);
    listFiles();
  }

  field.addEventListener("input", (event) => {
    changed();
    if (event.inputType === "insertText" && /^[a-z -]$/.test(event.data || "")) offer();
    else closeOffers();
  });
  field.addEventListener("keydown", (event) => {
    if (event.key === " " && event.ctrlKey) {
      event.preventDefault();
      offer();
    } else if (!offers.hidden && (event.key === "ArrowDown" || event.key === "ArrowUp")) {
      event.preventDefault();
      choose((chosen() + (event.key === "ArrowDown" ? 1 : offered.length - 1)) % offered.length);
    } else if (!offers.hidden && (event.key === "Enter" || event.key === "Tab")) {
      event.preventDefault();
      take(chosen());
    } else if (event.key === "Escape") {
      closeOffers();
    }
  });
  field.addEventListener("blur", closeOffers);
  field.addEventListener("scroll", () => {
    colours.scrollTop = field.scrollTop;
    colours.scrollLeft = field.scrollLeft;
  });
  document.addEventListener("selectionchange", () => {
    if (document.activeElement === field) about();
  });
  part("accept").addEventListener("click", () => {
    isRead = true;
    part("stranger").hidden = true;
    showCard();
  });
  part("file").addEventListener("change", (event) => {
    files[current] = field.value;
    open(event.target.value);
  });
  part("open").addEventListener("change", async (event) => {
    files[current] = field.value;
    const opened = [...event.target.files];
    for (const file of opened) {
      files[file.name] = await file.text();
      compiler.change(file.name, files[file.name]);
    }
    if (opened.length > 0) open(opened[0].name);
    listFiles();
    event.target.value = "";
  });
  part("save").addEventListener("click", () => save(current.split("/").at(-1), "text/plain", field.value));
  part("send").addEventListener("click", copyLink);
  begin();
}
