"use strict";
// A drawing opened large: it fills the window, comes closer by wheel, pinch, + and -, and moves by dragging or arrow
// keys. Escape or the button closes it. Without this script the link opens the drawing's own file.
(() => {
  const links = document.querySelectorAll("a.large");
  if (!links.length) return;
  const dialog = document.createElement("dialog");
  dialog.className = "sheet-large";
  const picture = document.createElement("img");
  const close = document.createElement("button");
  close.type = "button";
  close.textContent = "close";
  dialog.append(picture, close);
  document.body.append(dialog);

  const at = { zoom: 1, x: 0, y: 0 };
  const show = () => {
    at.zoom = Math.max(1, Math.min(20, at.zoom));
    picture.style.transform = `translate(${at.x}px, ${at.y}px) scale(${at.zoom})`;
    dialog.dataset.zoom = at.zoom.toFixed(3);
  };
  // Closer about a place of the window, which stays where it is.
  const closer = (times, x, y) => {
    const before = at.zoom;
    at.zoom = Math.max(1, Math.min(20, at.zoom * times));
    const grown = at.zoom / before;
    at.x = x - (x - at.x) * grown;
    at.y = y - (y - at.y) * grown;
    show();
  };
  for (const link of links) {
    link.addEventListener("click", (event) => {
      event.preventDefault();
      const image = link.querySelector("img");
      picture.src = image.src;
      picture.alt = image.alt;
      Object.assign(at, { zoom: 1, x: 0, y: 0 });
      show();
      dialog.showModal();
    });
  }
  close.addEventListener("click", () => dialog.close());
  dialog.addEventListener("wheel", (event) => {
    event.preventDefault();
    closer(Math.exp(-Math.max(-90, Math.min(90, event.deltaY)) * 0.004), event.clientX, event.clientY);
  }, { passive: false });
  const KEYS = {
    "+": () => closer(1.25, innerWidth / 2, innerHeight / 2), "=": () => closer(1.25, innerWidth / 2, innerHeight / 2),
    "-": () => closer(0.8, innerWidth / 2, innerHeight / 2), "0": () => Object.assign(at, { zoom: 1, x: 0, y: 0 }),
    ArrowLeft: () => { at.x += 60; }, ArrowRight: () => { at.x -= 60; },
    ArrowUp: () => { at.y += 60; }, ArrowDown: () => { at.y -= 60; },
  };
  dialog.addEventListener("keydown", (event) => {
    if (!KEYS[event.key] || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    KEYS[event.key]();
    show();
  });
  const fingers = new Map();
  picture.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    picture.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
  });
  picture.addEventListener("pointermove", (event) => {
    const last = fingers.get(event.pointerId);
    if (!last) return;
    const apart = () => { const [a, b] = [...fingers.values()]; return Math.hypot(a[0] - b[0], a[1] - b[1]); };
    const before = fingers.size === 2 ? apart() : 0;
    at.x += (event.clientX - last[0]) / fingers.size;
    at.y += (event.clientY - last[1]) / fingers.size;
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
    if (before) {
      const [a, b] = [...fingers.values()];
      closer(apart() / before, (a[0] + b[0]) / 2, (a[1] + b[1]) / 2);
    }
    show();
  });
  for (const name of ["pointerup", "pointercancel", "lostpointercapture"]) {
    picture.addEventListener(name, (event) => fingers.delete(event.pointerId));
  }
})();
