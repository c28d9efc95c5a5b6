"use strict";
// A ruler: two touches, each on a face or in a hole. Faces are measured as faces and holes as axes, from the solid's own
// surfaces; where a surface is neither, from the places that were touched.
(window.tools ||= []).push((viewer) => {
  const { box, canvas, part, pieces, said } = viewer;
  const on = box.querySelector("input[name=ruler]");
  if (!on || !part.pieces.some((piece) => piece.faces)) return;
  const bytes = (text) => new Uint16Array(Uint8Array.from(atob(text), (c) => c.charCodeAt(0)).buffer);
  const faceOf = part.pieces.map((piece) => piece.face && bytes(piece.face));
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const less = (a, b) => a.map((v, k) => v - b[k]);
  const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  let picked = [], marks = [];

  // The place [mm] and the face that are nearest to the eye under a place of the canvas [px].
  function touch(x, y) {
    let best = null;
    for (const [i, piece] of pieces.entries()) {
      if (!piece.shown || !faceOf[i]) continue;
      const { places, triangles } = piece, mm = [], seen = [];
      for (let k = 0; k < places.length; k += 4) {
        const place = [0, 1, 2].map((j) => (places[k + j] / 65535) * part.size + part.low[j]);
        mm.push(place);
        seen.push(viewer.see(place));
      }
      for (let t = 0; t < triangles.length; t += 3) {
        const [p, q, r] = [0, 1, 2].map((k) => seen[triangles[t + k]]);
        const area = (q[0] - p[0]) * (r[1] - p[1]) - (r[0] - p[0]) * (q[1] - p[1]);
        if (Math.abs(area) < 1e-9) continue;
        const u = ((q[0] - x) * (r[1] - y) - (r[0] - x) * (q[1] - y)) / area;
        const v = ((r[0] - x) * (p[1] - y) - (p[0] - x) * (r[1] - y)) / area;
        if (u < 0 || v < 0 || u + v > 1) continue;
        const near = u * p[2] + v * q[2] + (1 - u - v) * r[2];
        if (best && near <= best.near) continue;
        const [a, b, c] = [0, 1, 2].map((k) => mm[triangles[t + k]]);
        const place = a.map((w, k) => u * w + v * b[k] + (1 - u - v) * c[k]);
        if (!viewer.isDiscarded(place)) best = { near, place, ...part.pieces[i].faces[faceOf[i][t / 3]] };
      }
    }
    return best;
  }
  const both = (mm) => `${mm.toFixed(2)} mm (${(mm / 25.4).toFixed(3)} in)`;
  const alone = (one) => one.kind === "round" ? `⌀ ${both(2 * one.radius)}` : one.kind === "flat" ? "a flat face" : "a place";
  function between(a, b) {
    if (!a.kind || !b.kind) return `${both(Math.hypot(...less(a.place, b.place)))} from place to place, as touched`;
    const turn = dot(a.way, b.way), off = less(b.at, a.at), flats = [a, b].filter((one) => one.kind === "flat");
    const degrees = Math.acos(Math.min(1, Math.abs(turn))) * 180 / Math.PI;
    if (flats.length === 2) {
      return degrees < 0.01 ? `${both(Math.abs(dot(off, a.way)))} from face to face` : `faces at ${degrees.toFixed(2)} degrees`;
    }
    if (flats.length === 1) {
      return degrees > 89.99 ? `${both(Math.abs(dot(off, flats[0].way)))} from face to axis`
        : `axis at ${(90 - degrees).toFixed(2)} degrees to the face`;
    }
    const square = cross(a.way, b.way), slant = Math.hypot(...square);
    const apart = slant < 1e-4 ? Math.hypot(...less(off, a.way.map((v) => v * dot(off, a.way))))
      : Math.abs(dot(off, square)) / slant;
    return `${both(apart)} from axis to axis` + (slant < 1e-4 ? "" : `, at ${degrees.toFixed(2)} degrees`);
  }
  function clear() {
    for (const one of marks) viewer.forget(one);
    [picked, marks] = [[], []];
  }
  // Shown on the part and told to who does not see it.
  function pick(x, y) {
    const one = touch(x, y);
    if (!one) return;
    if (picked.length === 2) clear();
    picked.push(one);
    const told = picked.length === 1 ? `${alone(one)}; touch another` : between(...picked);
    marks.push(viewer.label({ name: told, at: one.place }));
    said.textContent = told;
    box.dataset.measured = told;
    viewer.redraw();
  }
  let down = null;
  canvas.addEventListener("pointerdown", (event) => { down = [event.clientX, event.clientY]; });
  canvas.addEventListener("pointerup", (event) => {
    if (!on.checked || !down || Math.hypot(event.clientX - down[0], event.clientY - down[1]) > 4) return;
    const edge = canvas.getBoundingClientRect();
    pick(event.clientX - edge.left, event.clientY - edge.top);
  });
  canvas.addEventListener("keydown", (event) => {
    if (on.checked && event.key === "Enter") pick(canvas.clientWidth / 2, canvas.clientHeight / 2);
  });
  const line = viewer.made("path", { class: "ruler" });
  viewer.after.push(() => {
    const ends = picked.map((one) => viewer.see(one.place));
    line.setAttribute("d", ends.length === 2 ? `M${ends[0][0]} ${ends[0][1]}L${ends[1][0]} ${ends[1][1]}` : "");
  });
  on.addEventListener("change", () => { clear(); viewer.redraw(); });
});
