"use strict";
// Loads and what holds against them, as arrows of the chosen load case: full for loads, open for what holds; a moment
// has two heads, along the axis that it turns about. The longest is that of the largest force, or moment, of the case.
(window.tools ||= []).push((viewer) => {
  const { box, part } = viewer;
  const select = box.querySelector("select[name=case]");
  const shown = box.querySelector("input[name=arrows]");
  if (!select || !shown) return;
  const [low, high] = viewer.own(), wide = Math.max(...high.map((v, k) => v - low[k]));
  const LONG = 0.26 * wide, SHORT = 0.05 * wide;
  const length = (v) => Math.hypot(...v);
  let arrows = [];

  // Arrows of a case: tail and tip [mm]; a push ends at its place, a pull begins there, so that none lies in the metal.
  const laidOut = (one) => {
    const most = [1, 2].map((k) => Math.max(1e-9, ...one.acts.map((act) => length(act[k + 2]))));
    return one.acts.flatMap(([held, by, place, force, moment]) => [[force, most[0], false], [moment, most[1], true]]
      .filter(([vector, largest]) => length(vector) > 1e-3 * largest)
      .map(([vector, largest, turns]) => {
        const size = length(vector), long = Math.max(SHORT, LONG * size / largest);
        const way = vector.map((v) => v / size * long);
        const inward = place.reduce((sum, v, k) => sum + way[k] * ((low[k] + high[k]) / 2 - v), 0) > 0;
        const tail = inward ? place.map((v, k) => v - way[k]) : place;
        const tip = inward ? place : place.map((v, k) => v + way[k]);
        const unit = turns ? `${(size / 1000).toPrecision(3)} N·m` : `${Math.round(size)} N`;
        return { held, tail, tip, turns, name: `${unit} ${by}`, far: inward ? tail : tip };
      }));
  };
  for (const one of part.cases) viewer.beside.push(...laidOut(one).map((arrow) => arrow.far));
  viewer.fit();

  function choose() {
    for (const { label, line } of arrows) { viewer.forget(label); line.remove(); }
    const one = part.cases[Number(select.value)];
    arrows = !shown.checked ? [] : laidOut(one).map((arrow) => ({
      ...arrow,
      line: viewer.made("path", { class: arrow.held ? "arrow held" : "arrow" }),
      label: viewer.label({ name: arrow.name, at: arrow.far, bare: true }),
    }));
    viewer.redraw();
  }
  viewer.after.push(() => {
    for (const { tail, tip, turns, line } of arrows) {
      const [a, b] = [viewer.see(tail), viewer.see(tip)];
      const [dx, dy] = [b[0] - a[0], b[1] - a[1]], long = Math.hypot(dx, dy);
      if (long < 6) { // toward the eye or away from it: a ring with a dot or a cross
        const mark = b[2] > a[2] ? "m-1 0h2m-1 -1v2" : "m-4 -4l8 8m0 -8l-8 8";
        line.setAttribute("d", `M${b[0] - 7} ${b[1]}a7 7 0 1 0 14 0a7 7 0 1 0 -14 0M${b[0]} ${b[1]}${mark}`);
        continue;
      }
      const [u, v] = [dx / long, dy / long], head = Math.min(12, long * 0.6);
      const barb = (x, y) => `M${x - head * u - head * 0.4 * v} ${y - head * v + head * 0.4 * u}L${x} ${y}` +
        `L${x - head * u + head * 0.4 * v} ${y - head * v - head * 0.4 * u}Z`;
      const second = turns ? barb(b[0] - head * u, b[1] - head * v) : "";
      line.setAttribute("d", `M${a[0]} ${a[1]}L${b[0] - head * u} ${b[1] - head * v}${barb(b[0], b[1])}${second}`);
    }
  });
  for (const input of [select, shown]) input.addEventListener("change", choose);
  choose();
});
