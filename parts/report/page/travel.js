"use strict";
// Moves the rear end through its travel: solids, lines and hardpoints, with the stress of the bar and the rate.
(window.tools = window.tools || []).push((viewer) => {
  const slide = viewer.box.querySelector("input[name=travel]"), told = viewer.part.motion;
  if (!slide || !told) return;
  const said = slide.parentElement.querySelector("output");
  const move = () => {
    const at = Number(slide.value), last = told.travel.length - 1;
    const next = Math.max(1, told.travel.findIndex((v, i) => v >= at || i === last));
    const share = (at - told.travel[next - 1]) / (told.travel[next] - told.travel[next - 1]);
    const between = (a, b) => a + share * (b - a);
    const number = (row) => between(row[next - 1], row[next]);
    const places = (rows) => rows[next - 1].map((v, i) => between(v, rows[next][i]));
    for (const [i, rows] of told.poses) viewer.pose(i, places(rows));
    for (const [i, rows] of told.lines) viewer.lay(i, places(rows));
    for (const [i, rows] of told.points) viewer.put(i, places(rows));
    said.textContent = ` ${at.toFixed(0)} mm: bar ${number(told.shear).toFixed(0)} of ${told.allowable.toFixed(0)} MPa, ` +
      `${number(told.rate).toFixed(1)} N/mm and ${number(told.force).toFixed(0)} N at the wheel`;
    viewer.redraw();
  };
  slide.addEventListener("input", move);
  move();
});
