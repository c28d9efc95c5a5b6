"use strict";
// The list of sizes: what the file says of each field, to be typed over, stepped through what can be bought, or chosen.
(() => {
  const { on, made, change, last } = window.hand;
  const box = document.getElementById("sizes"), all = document.getElementById("all"), look = document.getElementById("look");
  const rows = new Map();
  const unfolded = new Set();
  let fields = [], sizes = { lists: [], of: {} }, written = {}, problems = [];

  const said = (field) => {
    if (field.kind === "option") return written[`${field.path}.type`] ?? field.said;
    if (field.origin === "build") return field.said;
    return written[field.path] ?? byAxis(field.path) ?? "";
  };
  // A place may stand by axis in the file: at: {x: 1, y: 2}.
  const byAxis = (path) => {
    const found = path.match(/^(.*)\[(\d)\]$/);
    return found ? written[`${found[1]}.${"xyz"[found[2] - 1]}`] : undefined;
  };
  const listOf = (path) => sizes.lists[sizes.of[path]] || [];

  const send = async (row, value) => {
    const field = row.field;
    if (value === said(field)) return;
    row.sent = value;
    const edit = field.kind === "option" ? { path: field.path, option: value } : { path: field.path, value };
    const wrong = await change([edit]);
    row.said.textContent = wrong;
    if (wrong) row.box.classList.add("bad");
  };
  const step = (row, by) => {
    const list = listOf(row.field.path);
    if (!list.length) return false;
    const now = row.input.value.trim();
    // A list has the whole designation: M8x1.25 of what a file may call M8.
    const whole = now === said(row.field) ? row.field.means : now;
    let at = list.findIndex(([text]) => text === now || text === whole || text.replace(/ mm$/, "") === now);
    if (at < 0) {
      // Between two sizes: the next one on that side.
      const value = row.field.value ?? 0;
      at = by > 0 ? list.findIndex(([, size]) => size > value) - 1 : list.findIndex(([, size]) => size >= value);
      if (at === -2) at = list.length - 1;
      if (at === -1 && by < 0) at = list.length;
    }
    const next = list[Math.max(0, Math.min(list.length - 1, at + by))];
    row.input.value = next[0];
    send(row, next[0]);
    return true;
  };

  // A list: how many stand in it, and one more.
  const listed = (field) => {
    const input = made("button", { type: "button", id: `size ${field.path}`, class: "more", onclick: () => change([{ path: field.path, more: true }]) }, "One more");
    const means = made("span", { class: "means" }), wrong = made("p", { class: "bad", role: "alert" });
    const whole = made("div", { class: "size", "data-field": field.path }, made("label", { for: input.id, title: field.path }, field.key),
                       made("span", { class: "turn" }, means, input), wrong);
    const none = () => ({});
    return { box: whole, input, means, said: wrong, field, more: none(), less: none(), drop: none(), sent: null };
  };
  const row = (field) => {
    if (field.kind === "list") return listed(field);
    const id = `size ${field.path}`;
    const name = made("label", { for: id, title: field.path }, field.key);
    const means = made("span", { class: "means" }), wrong = made("p", { class: "bad", role: "alert" });
    const input = field.choices.length
      ? made("select", { id }, ...field.choices.map((one) => made("option", { value: one }, one)))
      : made("input", { id, type: "text", autocomplete: "off", spellcheck: "false", enterkeyhint: "done" });
    const more = made("button", { type: "button", class: "step", "aria-label": `${field.path}: next larger that can be bought` }, "▲");
    const less = made("button", { type: "button", class: "step", "aria-label": `${field.path}: next smaller that can be bought` }, "▼");
    const drop = made("button", { type: "button", class: "drop", "aria-label": `${field.path}: leave it to the default` }, "×");
    const whole = made("div", { class: "size", "data-field": field.path }, name, made("span", { class: "turn" }, input, less, more, drop), means, wrong);
    const one = { box: whole, input, means, said: wrong, field, more, less, drop, sent: null };
    input.addEventListener("change", () => send(one, input.value.trim()));
    input.addEventListener("keydown", (event) => {
      if (event.key === "Escape") { show(one); event.stopPropagation(); }
      if (field.choices.length || !["ArrowUp", "ArrowDown"].includes(event.key)) return;
      if (step(one, event.key === "ArrowUp" ? 1 : -1)) event.preventDefault();
    });
    more.addEventListener("click", () => step(one, 1));
    less.addEventListener("click", () => step(one, -1));
    drop.addEventListener("click", () => change([{ path: field.path, value: "" }]));
    return one;
  };

  const show = (one) => {
    const field = one.field, text = said(field), fixed = field.origin === "build";
    if (document.activeElement !== one.input || one.sent === null || one.sent === one.input.value) one.input.value = text;
    one.sent = null;
    one.input.disabled = fixed && one.input.tagName !== "INPUT";
    if (one.input.tagName === "INPUT") one.input.placeholder = field.origin === "default" ? field.means : "";
    else if (!text && one.input.tagName === "SELECT") one.input.value = field.means === "yes" ? "true" : field.means === "no" ? "false" : field.means;
    one.input.readOnly = fixed;
    const shown = field.kind === "list" ? `${field.means} stated` : text && text !== field.means ? field.means : "";
    one.means.textContent = fixed ? `${field.means}, from the build` : shown;
    one.means.title = field.what;
    const list = listOf(field.path);
    one.more.hidden = one.less.hidden = !list.length || fixed;
    one.drop.hidden = field.origin !== "file" || field.kind === "option" || /\]$/.test(field.path);
    const own = problems.filter((each) => at(each.field) === field.path);
    one.said.textContent = own.map((each) => [each.wrong, each.right].filter(Boolean).join("; ")).join("\n");
    one.box.classList.toggle("bad", own.length > 0);
    one.input.setAttribute("aria-invalid", String(own.length > 0));
  };

  // The field at which a problem is told: its own, else the first within it, else the nearest around it.
  const at = (name) => {
    if (rows.has(name)) return name;
    const within = fields.find((one) => one.path.startsWith(`${name}[`) || one.path.startsWith(`${name}.`));
    if (within) return within.path;
    const around = name.replace(/(\.[^.]*|\[\d+\])$/, "");
    return around && around !== name ? at(around) : "";
  };

  const seen = (field) => {
    const word = look.value.trim().toLowerCase();
    if (word && !`${field.path} ${field.what}`.toLowerCase().includes(word)) return false;
    return all.checked || word || said(field) !== "" || field.origin !== "default" || problems.some((one) => at(one.field) === field.path);
  };

  const group = (path) => path.replace(/\.?[^.]*$/, "") || "the part";
  const lay = () => {
    const focused = document.activeElement && document.activeElement.id;
    const groups = new Map();
    const known = new Set(fields.map((one) => one.path));
    for (const path of [...rows.keys()]) if (!known.has(path)) rows.delete(path);
    for (const field of fields) {
      const before = rows.get(field.path);
      if (!before || before.field.choices.join() !== field.choices.join()) rows.set(field.path, row(field));
      else before.field = field;
    }
    for (const field of fields) {
      if (!seen(field)) continue;
      const name = field.path.endsWith("]") ? group(field.path.replace(/(\[\d+\])+$/, "")) : group(field.path);
      groups.set(name, [...(groups.get(name) || []), rows.get(field.path).box]);
    }
    // A long list folds, but for what was unfolded, looked for, or is wrong.
    const folds = groups.size > 20 && !look.value.trim();
    const laid = [...groups].map(([name, inner]) => {
      const open = !folds || unfolded.has(name) || inner.some((one) => one.contains(document.activeElement) || one.classList.contains("bad"));
      const away = /\]$/.test(name) && inner.every((each) => !/\]\[\d\]$/.test(each.dataset.field))
        ? [made("button", { type: "button", class: "away", "aria-label": `Take ${name} away`, onclick: () => change([{ path: name, drop: true }]) }, "Take away")] : [];
      const one = made("details", { class: "group", open, "data-group": name }, made("summary", {}, name), ...away, ...inner);
      one.addEventListener("toggle", () => { if (folds) unfolded[one.open ? "add" : "delete"](name); });
      return one;
    });
    box.replaceChildren(...laid);
    for (const one of rows.values()) show(one);
    const again = focused && document.getElementById(focused);
    if (again && document.activeElement !== again) again.focus();
  };

  on("read", (told) => { fields = told.fields; lay(); });
  on("sizes", (told) => { sizes = told; for (const one of rows.values()) show(one); });
  on("problems", (told) => {
    problems = told.problems;
    written = told.written;
    if (!fields.length && problems.length) {
      fields = Object.entries(written).map(([path, text]) => ({ path, key: path.split(".").pop(), what: "", said: text, means: text,
                                                                kind: "", origin: "file", choices: [], value: null }));
    }
    if (problems.length) lay();
  });
  for (const one of [all, look]) one.addEventListener("input", lay);
  window.hand.go = (path) => {
    const known = at(path);
    if (!known) return;
    if (!rows.get(known).box.isConnected) { all.checked = true; lay(); }
    const one = rows.get(known), around = one.box.closest("details");
    if (around) { around.open = true; unfolded.add(around.dataset.group); }
    one.box.scrollIntoView({ block: "center" });
    one.input.focus();
    if (one.input.select) one.input.select();
  };
  window.hand.field = (path) => fields.find((one) => one.path === path);
  window.hand.lastSizes = () => last("sizes");
})();
