"use strict";
// A finished piece: what was measured is held against its limits as it is typed, judged when asked, its record kept.
(() => {
  const { on, made, post, figure } = window.hand;
  const form = document.getElementById("measured"), rows = document.getElementById("measured-rows"), judged = document.getElementById("judged");
  const buttons = [document.getElementById("judge"), document.getElementById("keep")];
  const UNITS = { "": 1, mm: 1, cm: 10, in: 25.4, '"': 25.4 };
  let laid = "", typed = false;

  // Millimetres of a plain number with a unit or none; nothing where the server is to read it.
  const millimetres = (text) => {
    const found = /^([-+]?[\d.]+)\s*(mm|cm|in|"|)$/.exec(text.trim());
    return found ? Number(found[1]) * UNITS[found[2]] : NaN;
  };
  const limit = (one) => (one === null ? "" : one.toFixed(3));
  const mark = (row, input, cell, one) => {
    const value = millimetres(input.value);
    const out = one.low !== null && (value < one.low - 1e-6 || value > one.high + 1e-6);
    row.classList.toggle("out", out);
    input.setAttribute("aria-invalid", String(out));
    cell.textContent = !out ? "" : value < one.low ? `${(one.low - value).toFixed(3)} below` : `${(value - one.high).toFixed(3)} above`;
  };
  const line = (one, data, name, words) => {
    const cell = made("td", { class: "out-by", role: "status" });
    const input = made("input", { type: "text", class: "reading", inputmode: "decimal", "aria-label": `${name} measured`, ...data });
    const row = made("tr", {}, made("th", { scope: "row" }, name), made("td", {}, words), made("td", {}, limit(one.low)), made("td", {}, limit(one.high)), made("td", {}, input), cell);
    input.addEventListener("input", () => mark(row, input, cell, one));
    return row;
  };
  const table = (head, lines) => {
    const heads = ["no. and dimension", "drawn", "least mm", "greatest mm", "measured", "out by mm"].map((one) => made("th", { scope: "col" }, one));
    return made("table", { class: "narrow" }, made("caption", {}, head), made("thead", {}, made("tr", {}, ...heads)), made("tbody", {}, ...lines));
  };
  // What was judged is of the file as it was.
  on("new text", () => judged.replaceChildren());
  // What was typed stays while the sheet stays the same.
  on("sheet", (told) => {
    const now = JSON.stringify([told.sheets, told.joints]);
    if (now === laid) return;
    laid = now;
    const many = told.sheets.length > 1;
    const tables = told.sheets.map((sheet, k) => table(many ? sheet.piece : "Inspection sheet", sheet.rows.map((one) =>
      line(one, { "data-sheet": k, "data-number": one.number, "data-name": one.name }, `${one.number} ${one.name}`, `${one.words}, ${one.tool}`))));
    if (told.joints.length) tables.push(table("What goes together", told.joints.map((one) =>
      line(one, { "data-joint": one.joint, "data-size": one.size }, `${one.joint}: ${one.size}`, ""))));
    rows.replaceChildren(...tables);
    const metal = form.querySelector(".metal [name=what]");
    if (!metal.value) metal.value = told.metal;
  });
  const oneMore = (kind) => {
    const all = form.querySelectorAll(`.${kind}`), copy = all[all.length - 1].cloneNode(true);
    for (const input of copy.querySelectorAll("input")) input.value = input.defaultValue;
    all[all.length - 1].after(copy);
  };
  for (const one of form.querySelectorAll("[data-more]")) one.addEventListener("click", () => oneMore(one.dataset.more));

  // A record that was kept is filled in again: that of this piece at once while nothing is typed, any other when asked.
  form.addEventListener("input", () => { typed = true; });
  const put = (input, text) => { input.value = text; input.dispatchEvent(new Event("input", { bubbles: true })); };
  const fill = (one) => {
    for (const input of rows.querySelectorAll("input")) if (input.value) put(input, "");
    const all = [...rows.querySelectorAll("input")];
    for (const row of one.rows) {
      const input = all.find(({ dataset: d }) => d.number === row.number && d.name === row.name && (row.sheet === null || d.sheet === String(row.sheet)));
      if (input) put(input, row.measured);
    }
    for (const fit of one.fits) {
      const input = all.find(({ dataset: d }) => d.joint === fit.joint && d.size === fit.size);
      if (input) put(input, fit.measured);
    }
    for (const [name, text] of Object.entries({ piece: one.piece, who: one.record.who, when: one.record.when, within: one.record.within,
      tools: one.record.tools.join(", "), notes: one.record.notes.join("; ") })) form.elements[name].value = text ?? "";
    for (const kind of ["metal", "torque"]) {
      const lines = one.record[kind];
      for (const more of [...form.querySelectorAll(`.${kind}`)].slice(Math.max(1, lines.length))) more.remove();
      while (form.querySelectorAll(`.${kind}`).length < lines.length) oneMore(kind);
      form.querySelectorAll(`.${kind}`).forEach((row, k) => {
        for (const input of row.querySelectorAll("input")) input.value = (lines[k] || {})[input.name] ?? "";
      });
    }
    typed = false;
  };
  on("kept", (told) => {
    const box = document.getElementById("kept-pieces");
    box.hidden = !told.pieces.length;
    box.replaceChildren(made("span", {}, "Kept in the folder made:"), ...told.pieces.map((one) => (one.wrong
      ? made("span", { class: "short" }, `${one.file}: ${one.wrong}`)
      : made("button", { type: "button", "data-piece": one.piece, onclick: () => fill(one) }, `piece ${one.piece}${one.record.when ? `, ${one.record.when}` : ""}`))));
    const own = told.pieces.find((one) => one.piece === form.elements.piece.value.trim());
    if (own && !own.wrong && !typed) fill(own);
  });
  const said = (kind) => [...form.querySelectorAll(`.${kind}`)].map((row) =>
    Object.fromEntries([...row.querySelectorAll("input")].filter((one) => one.value.trim()).map((one) => [one.name, one.value.trim()])));
  const asked = () => {
    const filled = [...rows.querySelectorAll("input")].filter((one) => one.value.trim()).map((one) => ({ ...one.dataset, measured: one.value.trim() }));
    const word = (name) => form.elements[name].value.trim();
    return {
      piece: word("piece"), rows: filled.filter((one) => one.sheet !== undefined), fits: filled.filter((one) => one.joint !== undefined),
      record: {
        who: word("who"), when: word("when"), within: word("within"), tools: word("tools").split(",").map((one) => one.trim()).filter(Boolean),
        metal: said("metal").filter((one) => one.heat || one.certificate || one.what), torque: said("torque").filter((one) => one.of || one.put_on), notes: [word("notes")].filter(Boolean),
      },
    };
  };
  const busy = (now) => { for (const one of buttons) one.disabled = now; };
  const judge = async (more = {}) => {
    busy(true);
    judged.replaceChildren(made("p", {}, "Being judged."));
    const wrong = await post("measured", { ...asked(), ...more });
    if (!wrong) return;
    busy(false);
    const over = wrong.includes("is there already") ? made("button", { type: "button", id: "keep-over", onclick: () => judge({ keep: true, over: true }) }, "Write over it") : "";
    judged.replaceChildren(made("p", { class: "short" }, wrong), over);
  };
  form.addEventListener("submit", (event) => { event.preventDefault(); judge(); });
  buttons[1].addEventListener("click", () => judge({ keep: true }));

  const fit = (one) => `${one.joint}: ${one.least_mm.toFixed(3)} to ${one.greatest_mm.toFixed(3)} mm, drawn ${one.drawn_least_mm.toFixed(3)} to ${one.drawn_greatest_mm.toFixed(3)}; ${one.verdict}${one.remedy ? `: ${one.remedy}` : ""}`;
  const listed = (head, lines) => (lines.length ? [made("h3", {}, head), made("ul", {}, ...lines.map((one) => made("li", {}, one)))] : []);
  const lay = (told) => {
    if (told.wrong) return [made("p", { class: "short" }, told.wrong)];
    const found = told.found;
    const out = [...found.sizes.filter((one) => one.outside).map((one) => `${one.dimension} ${one.measured_mm} mm, stated ${one.stated_mm}`),
      ...found.rows.filter((one) => one.outside).map((one) => `${one.number} ${one.name} ${one.measured_mm} mm, ${one.least_mm} to ${one.greatest_mm}`)];
    const moved = found.changes.slice(0, 12).map((one) => made("tr", { class: one.made.factor === null || one.made.factor < one.made.required ? "out" : "" },
      made("th", { scope: "row" }, `${one.made.name}, ${one.made.load_case}`), ...[one.drawn.factor, one.made.factor, one.made.required].map((each) => made("td", {}, figure(each, 3)))));
    const heads = ["check, what got worse first", "drawn", "as made", "required"].map((one) => made("th", { scope: "col" }, one));
    return [
      made("p", { class: found.ok ? "" : "short" }, found.said),
      ...listed("Out of limits", out), ...listed("Joints as they are", found.fits.map(fit)),
      ...listed("Mates", found.mates.filter((one) => !one.ok).map((one) => `${one.part}: ${one.broken || "falls short, or does not go together"}`)),
      ...(moved.length ? [made("table", { class: "narrow" }, made("thead", {}, made("tr", {}, ...heads)), made("tbody", {}, ...moved))] : []),
      ...listed("It holds unless", found.holds_unless),
    ];
  };
  on("judged", (told) => {
    busy(false);
    judged.replaceChildren(...lay(told), ...(told.kept.length ? [made("p", { id: "kept" }, `Kept: ${told.kept.join(", ")}`)] : []));
  });
})();
