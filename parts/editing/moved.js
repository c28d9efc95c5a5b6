"use strict";
// What moved since the file was opened: sizes, mass and checks as a table; and the solid, once it is there.
(() => {
  const { on, made, figure, last } = window.hand;
  const box = document.getElementById("moved");
  const said = document.getElementById("solid-said"), stage = document.querySelector("#solid-box .solid");
  let viewer = null;

  const rows = () => {
    const found = [];
    const [a, b] = [last("first read"), last("read")];
    if (a && b) {
      const before = new Map(a.fields.map((one) => [one.path, one])), now = new Map(b.fields.map((one) => [one.path, one]));
      // What came or went as a whole is one row: an entry of a list, or a group.
      const whole = (path, others) => {
        const parts = path.match(/[^.[]+|\[\d+\]/g) || [path];
        let top = "";
        for (const one of parts.slice(0, -1)) {
          top += one.startsWith("[") || !top ? one : `.${one}`;
          if (![...others.keys()].some((each) => each.startsWith(`${top}.`) || each.startsWith(`${top}[`))) return top;
        }
        return path;
      };
      const came = new Set(), went = new Set();
      for (const [path, one] of now) {
        const old = before.get(path);
        if (!old) came.add(whole(path, before));
        else if (old.means !== one.means) found.push([path, old.means, one.means]);
      }
      for (const path of before.keys()) if (!now.has(path)) went.add(whole(path, now));
      for (const path of came) found.push([path, "was not there", now.has(path) ? now.get(path).means : "is there"]);
      for (const path of went) found.push([path, before.has(path) ? before.get(path).means : "was there", "is gone"]);
    }
    const [m, n] = [last("first solid"), last("solid")];
    if (m && n && m.mass && n.mass && (last("state") || n).version === n.version && Math.abs(m.mass - n.mass) > 5e-4) found.push(["mass", `${m.mass.toFixed(3)} kg`, `${n.mass.toFixed(3)} kg`]);
    const [c, d] = [last("first checked"), last("checked")];
    if (c && d) {
      const changed = Object.keys({ ...c.factors, ...d.factors }).map((name) => [name, c.factors[name], d.factors[name]])
        .filter(([, x, y]) => x === undefined || y === undefined || Math.abs(x - y) > 5e-4 * Math.abs(x || 1));
      const least = (one) => Math.min(one[1] ?? 1e9, one[2] ?? 1e9);
      changed.sort((x, y) => least(x) - least(y));
      for (const [name, x, y] of changed.slice(0, 12)) {
        found.push([`factor: ${name}`, x === undefined ? "was not there" : figure(x, 3), y === undefined ? "is gone" : figure(y, 3)]);
      }
      if (changed.length > 12) found.push([`and ${changed.length - 12} more checks`, "", ""]);
    }
    return found;
  };
  const near = document.getElementById("near");
  const lay = () => {
    const found = rows();
    if (!found.length) { box.replaceChildren(made("p", {}, "Nothing.")); return; }
    const cells = (kind, row) => made("tr", {}, ...row.map((one, i) => made(i ? "td" : kind, i ? {} : { scope: "row" }, one)));
    const head = made("tr", {}, ...["what", "opened", "now"].map((one) => made("th", { scope: "col" }, one)));
    box.replaceChildren(made("table", { class: "narrow" }, made("thead", {}, head), made("tbody", {}, ...found.map((one) => cells("th", one)))));
  };
  for (const one of ["read", "checked", "solid", "first read", "first checked", "first solid"]) on(one, lay);

  on("reformed", (told) => {
    const word = (one) => (one.holds === null ? "being checked" : `${one.holds ? "holds" : "falls short"}: ${figure(one.factor, 3)} of ${figure(one.required, 3)}, ${one.least}`);
    const own = told.parts.filter((one) => one.changed);
    const rows = own.map((one) => made("li", { class: one.holds === false ? "short" : "" },
      made("a", { href: `../${encodeURIComponent(one.file)}/` }, `${one.name} ${one.title}`), made("span", {}, word(one))));
    document.getElementById("reformed").replaceChildren(made("h3", {}, own.length ? `${own.length} of ${told.parts.length} parts re-form` : "No part re-forms"), made("ul", { class: "reformed" }, ...rows));
    if (!near.children.length) near.append(made("p", { class: "what" }, "Looking for what comes too near."));
  });
  on("near", (told) => {
    near.replaceChildren(made("h3", {}, told.said.length ? "Too near, as drawn" : "Nothing comes too near, as drawn"),
      made("ul", {}, ...told.said.map((one) => made("li", {}, one))));
  });
  on("new text", () => { near.replaceChildren(); said.textContent = "Being built."; });
  on("problems", (told) => { if (told.problems.length) said.textContent = ""; });
  on("read", (told) => {
    for (const one of ["solid-box", "key-box"]) document.getElementById(one).hidden = told.family === "build";
  });

  on("solid", (told) => {
    said.textContent = told.wrong || "";
    if (!told.mesh) return;
    if (viewer) { viewer.show(told.mesh); return; }
    stage.dataset.mesh = "mesh";
    document.body.append(made("script", { type: "application/json", id: "mesh" }, JSON.stringify(told.mesh)));
    viewer = turnable(stage);
    document.getElementById("mesh").remove();
  });
})();
