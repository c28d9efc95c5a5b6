"use strict";
// The plan: outline over the old one, on a grid; places are dragged, or moved by the arrow keys.
(() => {
  const { on, change, last } = window.hand;
  const box = document.getElementById("plan-box"), svg = document.getElementById("plan");
  const grid = document.getElementById("grid"), at = document.getElementById("at");
  const side = document.getElementById("side"), sides = document.getElementById("sides");
  const NS = "http://www.w3.org/2000/svg";
  const made = (kind, more, ...inner) => {
    const one = document.createElementNS(NS, kind);
    for (const [name, value] of Object.entries(more)) one.setAttribute(name, value);
    one.append(...inner);
    return one;
  };
  let plan = null, first = null, held = null, count = 0, frame = null, outline = null;
  const spots = new Map();
  // Where the hand has moved places to, until an answer has come as far.
  const ahead = new Map();
  const pitch = () => {
    const [number, unit] = grid.value.split(" ");
    const [a, b] = number.split("/").map(Number);
    return (b ? a / b : a) * (unit === "in" ? 25.4 : 1);
  };
  const snapped = (v, by) => Math.round(v / by) * by;
  const tell = (name, [x, y]) => {
    at.textContent = `${name}: x ${x.toFixed(2)} mm, y ${y.toFixed(2)} mm (${(x / 25.4).toFixed(3)}, ${(y / 25.4).toFixed(3)} in)`;
  };

  // Room around the plate: as far as a place may sensibly be dragged in one go.
  const axes = () => (plan.sides ? plan.sides[side.value] : [0, 1]);
  const seen = (p) => axes().map((k) => p[k]);
  // Of a build every point stands in space: what is seen of it lies in two axes, the third stays.
  const laid = (told) => {
    if (!told || !told.sides) return;
    for (const one of told.handles) one.at = seen(one.full);
    const [a, b] = [0, 1].map((k) => told.handles.map((one) => one.at[k]));
    told.box = [Math.min(...a), Math.min(...b), Math.max(...a), Math.max(...b)];
    const path = (several) => several.filter((one) => one.length).map((one) => `M${one.map((p) => seen(p).join(" ")).join("L")}`).join("");
    told.outline = path(told.chains.map((one) => one.points));
    told.lines = path(told.around);
    for (const one of told.around.flat().map(seen)) {
      told.box = [Math.min(told.box[0], one[0]), Math.min(told.box[1], one[1]), Math.max(told.box[2], one[0]), Math.max(told.box[3], one[1])];
    }
  };
  const sent = (one, to) => {
    if (!one.full) return to;
    const whole = [...one.full];
    axes().forEach((k, i) => { whole[k] = to[i]; });
    return whole.map((v, k) => v - one.base[k]);
  };
  const room = () => {
    const [x0, y0, x1, y1] = plan.box, pad = Math.max(x1 - x0, y1 - y0) * 0.1 + 4;
    const shape = (svg.clientWidth || 4) / (svg.clientHeight || 3);
    const h = Math.max(y1 - y0 + 2 * pad, (x1 - x0 + 2 * pad) / shape), w = h * shape;
    return [(x0 + x1 - w) / 2, (y0 + y1 - h) / 2, w, h];
  };
  const lines = () => {
    const [x, y, w, h] = frame, step = pitch(), every = Math.max(1, Math.ceil(w / step / 60));
    const found = [];
    for (let v = Math.ceil(x / (step * every)) * step * every; v < x + w; v += step * every) found.push(`M${v} ${y}V${y + h}`);
    for (let v = Math.ceil(y / (step * every)) * step * every; v < y + h; v += step * every) found.push(`M${x} ${v}H${x + w}`);
    return found.join("");
  };

  const draw = () => {
    if (!plan) return;
    if (!held) frame = room();
    const [x, y, w, h] = frame, px = w / (svg.clientWidth || 400), dot = (plan.sides ? 4.5 : 7) * px;
    svg.setAttribute("viewBox", `${x} ${-y - h} ${w} ${h}`);
    const focused = document.activeElement && document.activeElement.dataset && document.activeElement.dataset.path;
    outline = made("path", { d: plan.outline, class: plan.sides ? "chain" : "plate", "fill-rule": "evenodd" });
    const inner = [made("path", { d: lines(), class: "grid" }), made("path", { d: `M${x} 0H${x + w}M0 ${y}V${y + h}`, class: "datum" })];
    if (plan.lines) inner.push(made("path", { d: plan.lines, class: "around" }));
    inner.push(outline);
    if (first && first.outline !== plan.outline) inner.push(made("path", { d: first.outline, class: "was" }));
    const turned = made("g", { transform: "scale(1 -1)" }, ...inner);
    const names = made("g", { "font-size": 12.5 * px });
    spots.clear();
    for (const one of plan.handles) {
      const spot = made("g", { class: one.fixed ? "spot fixed" : "spot", tabindex: "0", role: "button", "data-path": one.path,
        "aria-label": `${one.name} at x ${one.at[0].toFixed(2)}, y ${one.at[1].toFixed(2)} mm${one.fixed ? `; ${one.fixed}` : ""}` },
        made("title", {}, one.fixed || one.path), made("circle", { r: 22 * px, class: "reach" }), made("circle", { r: dot * 0.8, class: "mark" }),
        made("path", { d: `M${-dot * 1.4} 0H${dot * 1.4}M0 ${-dot * 1.4}V${dot * 1.4}`, class: "cross" }),
        made("text", { x: dot * 1.2, y: -dot * 1.1 }, one.name));
      place(spot, one.at);
      spots.set(one.path, { spot, one });
      names.append(spot);
    }
    svg.replaceChildren(turned, names);
    named(names, px);
    const again = focused && spots.get(focused);
    if (again) again.spot.focus();
  };
  // A name stands where it covers no other, nearest first; one without room shows while its place is pointed at.
  const named = (names, px) => {
    const near = 6 * px;
    const taken = [...spots.values()].map(({ one }) => [one.at[0] - near, -one.at[1] - near, one.at[0] + near, -one.at[1] + near]);
    for (const { spot, one } of spots.values()) {
      const word = spot.querySelector("text"), long = word.textContent.length * 6.9 * px, tall = 15 * px;
      const sides = [[9 * px, -8 * px], [-9 * px - long, -8 * px], [9 * px, 18 * px], [-9 * px - long, 18 * px], [-long / 2, -14 * px], [-long / 2, 26 * px]];
      const fit = sides.find(([dx, dy]) => {
        const box = [one.at[0] + dx, -one.at[1] + dy - tall, one.at[0] + dx + long, -one.at[1] + dy];
        const free = box[0] > frame[0] && box[2] < frame[0] + frame[2] &&
          taken.every((t) => box[2] < t[0] || t[2] < box[0] || box[3] < t[1] || t[3] < box[1]);
        if (free) taken.push(box);
        return free;
      });
      spot.classList.toggle("full", !fit);
      const [dx, dy] = fit || sides[0];
      word.setAttribute("x", dx);
      word.setAttribute("y", dy);
    }
  };
  const place = (spot, [x, y]) => spot.setAttribute("transform", `translate(${x} ${-y})`);

  const mm = (event) => {
    const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return [p.x, -p.y];
  };
  svg.addEventListener("pointerdown", (event) => {
    const spot = event.target.closest(".spot");
    if (!spot) return;
    const { one } = spots.get(spot.dataset.path);
    if (one.fixed) { at.textContent = `${one.name}: ${one.fixed}`; return; }
    const from = mm(event);
    count += 1;
    held = { one, path: one.path, off: [one.at[0] - from[0], one.at[1] - from[1]], at: one.at, gesture: `drag ${Date.now()} ${count}`, moved: false };
    svg.setPointerCapture(event.pointerId);
    event.preventDefault();
    tell(one.name, held.at);
  });
  svg.addEventListener("pointermove", (event) => {
    if (!held) return;
    const p = mm(event), by = pitch();
    const to = [0, 1].map((k) => snapped(p[k] + held.off[k], by));
    if (to[0] === held.at[0] && to[1] === held.at[1]) return;
    held.at = to;
    held.moved = true;
    place(spots.get(held.path).spot, to);
    tell(held.one.name, to);
    ahead.set(held.path, to);
    change([{ path: held.path, to: sent(held.one, to) }], held.gesture);
  });
  for (const name of ["pointerup", "pointercancel", "lostpointercapture"]) {
    svg.addEventListener(name, () => {
      if (!held) return;
      const { path, moved } = held;
      held = null;
      if (!moved) window.hand.go(`${path}[1]`);
      draw();
    });
  }
  const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
  svg.addEventListener("keydown", (event) => {
    const spot = event.target.closest(".spot");
    if (!spot || event.ctrlKey || event.metaKey || event.altKey) return;
    const { one } = spots.get(spot.dataset.path);
    if (event.key === "Enter") { window.hand.go(`${one.path}[1]`); event.preventDefault(); return; }
    if (event.key === "Delete" && /\[\d+\](\.at)?$/.test(one.path)) { change([{ path: one.path.replace(/\.at$/, ""), drop: true }]); return; }
    if (!WAYS[event.key]) return;
    event.preventDefault();
    if (one.fixed) { at.textContent = `${one.name}: ${one.fixed}`; return; }
    const by = pitch() * (event.shiftKey ? 0.1 : 1);
    one.at = one.at.map((v, k) => (WAYS[event.key][k] ? snapped(v + WAYS[event.key][k] * by, by) : v));
    place(spot, one.at);
    tell(one.name, one.at);
    ahead.set(one.path, one.at);
    change([{ path: one.path, to: sent(one, one.at) }]);
  });
  grid.addEventListener("change", draw);
  new ResizeObserver(() => { if (!held) draw(); }).observe(svg);

  side.addEventListener("change", () => { ahead.clear(); laid(plan); laid(first); draw(); });
  // Lists of places take one more, which is then dragged to where it belongs.
  const more = document.getElementById("more-places");
  on("read", (told) => {
    const known = told.plan ? told.plan.handles.map((one) => one.path) : [];
    const lists = told.fields.filter((one) => one.kind === "list" && one.origin !== "build" && known.some((path) => path.startsWith(`${one.path}[`)));
    if (lists.map((one) => one.path).join() === [...more.querySelectorAll("button")].map((one) => one.dataset.list).join()) return;
    more.replaceChildren(...lists.map((one) => window.hand.made("button", { type: "button", "data-list": one.path,
      onclick: () => change([{ path: one.path, more: true }]) }, `One more of ${one.path}`)));
    if (lists.length) more.append(window.hand.made("span", { class: "what" }, "Delete takes away the one that you stand on."));
  });
  on("first read", (told) => { first = told.plan; if (plan) { laid(first); draw(); } });
  on("read", (told) => {
    plan = told.plan;
    box.hidden = !plan;
    document.body.classList.toggle("of-build", told.family === "build");
    if (plan && plan.sides) {
      if (sides.hidden) side.replaceChildren(...Object.keys(plan.sides).map((one) => new Option(one, one)));
      sides.hidden = false;
      laid(plan);
      laid(first);
    }
    if (!window.hand.isBehind(told)) ahead.clear();
    for (const one of plan ? plan.handles : []) one.at = ahead.get(one.path) || one.at;
    if (held && plan) {
      // The hand is ahead: the outline follows, the place stays under the finger.
      outline.setAttribute("d", plan.outline);
      return;
    }
    draw();
  });
  on("problems", (told) => { box.classList.toggle("bad", told.problems.length > 0); if (!told.problems.length || held) return;
    if (last("read")) draw(); });
})();
