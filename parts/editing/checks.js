"use strict";
// The verdict, the checks that leave least, what would hold, and what is wrong of the whole.
(() => {
  const { on, made, change, figure, last } = window.hand;
  const verdict = document.getElementById("verdict"), wrong = document.getElementById("wrong");
  const list = document.getElementById("checks"), more = document.getElementById("more"), mended = document.getElementById("mended");
  const SHOWN = 8;
  let version = 0, bad = 0;

  const say = () => {
    const told = last("checked"), solid = last("solid");
    verdict.className = "";
    if (!told) { verdict.textContent = bad ? "No good part yet." : "Being worked out."; return; }
    const mass = solid && solid.mass && solid.version === told.version ? `${solid.mass.toFixed(3)} kg` : "";
    const word = told.holds === null ? "no load case, nothing to hold" : told.holds ? (told.once ? `holds once ${told.once}` : "holds") : "falls short";
    verdict.classList.add(told.holds === false ? "short" : "well");
    const old = told.version !== version;
    verdict.classList.toggle("old", old);
    verdict.textContent = `${old ? (bad ? "Last good part: " : "Before this change: ") : ""}${word}; ${told.ways} checks made${told.left_out ? ", " : ""}` +
      `${told.left_out ? `${told.left_out} ways of failing left out with reasons` : ""}${mass ? `; ${mass}` : ""}`;
  };
  const bar = (use, ok) => {
    const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    svg.setAttribute("viewBox", "0 0 100 8");
    svg.setAttribute("class", "bar");
    svg.setAttribute("aria-hidden", "true");
    const wide = use === null ? 100 : Math.min(100, use * 80);
    for (const [kind, x, w] of [["track", 0, 100], [ok ? "used" : "over", 0, wide]]) {
      const one = document.createElementNS("http://www.w3.org/2000/svg", "rect");
      for (const [name, value] of Object.entries({ class: kind, x, y: 0, width: w, height: 8 })) one.setAttribute(name, value);
      svg.append(one);
    }
    const limit = document.createElementNS("http://www.w3.org/2000/svg", "path");
    limit.setAttribute("class", "limit");
    limit.setAttribute("d", "M80 0V8");
    svg.append(limit);
    return svg;
  };

  on("new text", () => mended.replaceChildren());
  on("state", (told) => { version = told.version; say(); });
  on("problems", (told) => {
    bad = told.problems.length;
    wrong.replaceChildren();
    if (bad) {
      const first = told.problems.slice(0, 4).map((one) => made("li", {},
        one.field ? made("button", { type: "button", class: "to", onclick: () => window.hand.go(one.field) }, one.field) : "",
        ` ${[one.wrong, one.right].filter(Boolean).join("; ")}`));
      wrong.append(made("p", {}, "This cannot be; the last good part is shown:"), made("ul", {}, ...first));
      if (bad > 4) wrong.append(made("p", {}, `and ${bad - 4} more`));
    }
    say();
  });
  // Before the sections are solved: what falls short already does so in the end.
  on("beside", (told) => {
    if (told.version !== version || (last("checked") || {}).version === version) return;
    const short = told.checks.length;
    verdict.className = short ? "short" : "old";
    verdict.textContent = short ? `falls short: ${told.checks[0].name}; sections still to come` : `nothing short in ${told.made} checks so far; sections still to come`;
  });
  on("checked", (told) => {
    const rows = told.checks.map((one) => made("li", { class: one.ok ? "" : "short" },
      made("b", {}, one.name), made("span", { class: "figures" }, `${figure(one.factor, 3)} of ${figure(one.required, 3)}`), bar(one.use, one.ok),
      made("span", { class: "case" }, `${one.load_case || "no load"}: ${figure(one.demand)} of ${figure(one.capacity)}${one.unit === "-" ? "" : ` ${one.unit}`}`,
           one.ok ? "" : made("strong", {}, " falls short"))));
    list.replaceChildren(...rows.slice(0, SHOWN));
    const rest = document.getElementById("shorter");
    rest.hidden = rows.length <= SHOWN;
    rest.querySelector("summary").textContent = `${rows.length - SHOWN} more fall short`;
    document.getElementById("short").replaceChildren(...rows.slice(SHOWN));
    more.textContent = told.more > 0 ? `${told.more} more leave more. Factor of safety, of the one that is required.` : "Factor of safety, of the one that is required.";
    if (told.unloaded && told.unloaded.length) {
      more.textContent = `No load acts at ${told.unloaded.join(", ")}: what stands there is not checked under load. ${more.textContent}`;
    }
    if (told.holds === false) mended.replaceChildren(made("p", { class: "what" }, "Looking for what would hold."));
    say();
  });
  on("solid", say);
  on("mended", (told) => {
    if (told.version !== version) return;
    const ways = told.ways.map((one) => made("button", { type: "button", class: "way",
      onclick: () => change([{ path: one.path, value: one.text }]) },
      made("b", {}, `${one.path} ${one.text}`), made("span", {}, `is ${one.was}; ${one.mass >= 0 ? "+" : "−"}${Math.abs(one.mass * 1000).toFixed(0)} g`)));
    mended.replaceChildren(ways.length ? made("p", {}, "One of these would hold, the lightest first:")
      : made("p", {}, "No single size up to twice as large was found with which it holds."), ...ways);
  });
  on("fault", (told) => wrong.replaceChildren(made("p", {}, told.said)));
  on("silent", () => wrong.replaceChildren(made("p", {}, "The work has ended, or cannot be reached.")));
  on("open", () => { if (!bad) wrong.replaceChildren(); });
  on("refused", (told) => { if (told.said && told.act !== "save") wrong.replaceChildren(made("p", {}, told.said)); });
  on("read", (told) => {
    document.getElementById("title").textContent = `${told.name} ${told.title}`.trim();
    document.title = `${told.name} in hand`;
    document.getElementById("what").textContent = told.family;
  });
})();
