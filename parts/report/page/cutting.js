"use strict";
// A plane square to an axis of the part that slides through it; what lies before it is taken away.
(window.tools ||= []).push((viewer) => {
  const { box } = viewer, [low, high] = viewer.own();
  const select = box.querySelector("select[name=across]");
  const slide = box.querySelector("input[name=slide]");
  if (!select || !slide) return;
  const told = box.querySelector("output");
  const cut = () => {
    const axis = Number(select.value), none = select.value === "";
    const where = none ? 0 : low[axis] + Number(slide.value) / 1000 * (high[axis] - low[axis]);
    viewer.cutBy = none ? null : [axis, where];
    slide.disabled = none;
    told.textContent = none ? "" : `${"xyz"[axis]} ${where.toFixed(1)} mm (${(where / 25.4).toFixed(2)} in)`;
    viewer.redraw();
  };
  for (const input of [select, slide]) input.addEventListener("input", cut);
  cut();
});
