"use strict";
// Bought-in hardware: away at first, then in its holes, then pulled apart along its axes.
(window.tools ||= []).push((viewer) => {
  const { box, part, pieces } = viewer;
  const slide = box.querySelector("input[name=apart]");
  if (!slide || !part.apart) return;
  const move = () => {
    const share = Math.max(0, Number(slide.value) - 1) / (Number(slide.max) - 1);
    for (const [i, by] of part.apart) {
      pieces[i].shown = Number(slide.value) > 0;
      pieces[i].off = by.map((v) => share * v);
      viewer.pose(i, [0, 1, 2].flatMap((k) => [0, 1, 2].map((j) => Number(j === k)).concat(share * by[k])));
    }
    viewer.fit();
  };
  slide.addEventListener("input", move);
  move();
});
