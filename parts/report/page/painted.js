"use strict";
// How much of its strength each place uses under the chosen load case, in ten bands from light to dark; the reader
// chooses the share at which the darkest band ends. What is beyond is hatched, what no section covers stays metal.
(window.tools ||= []).push((viewer) => {
  const { box, part, gl, at, pieces } = viewer;
  const select = box.querySelector("select[name=case]");
  const [paint, most] = ["paint", "most"].map((name) => box.querySelector(`input[name=${name}]`));
  if (!paint || !part.pieces.some((piece) => piece.use)) return;
  const legend = box.querySelector(".scale");
  const bytes = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  const BANDS = 10;
  gl.uniform3fv(at.ramp, part.ramp.flat());

  function pour(place, content) {
    gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
    gl.bufferData(gl.ARRAY_BUFFER, content, gl.STATIC_DRAW);
    gl.enableVertexAttribArray(place);
    gl.vertexAttribPointer(place, 1, gl.UNSIGNED_BYTE, true, 1, 0);
  }
  function choose() {
    const share = Math.max(5, Math.min(200, Number(most.value) || 100)) / 100;
    gl.uniform1i(at.painted, 1);
    gl.uniform1i(at.bands, paint.checked ? BANDS : 0);
    gl.uniform1fv(at.edges, Array.from({ length: BANDS + 1 }, (_, k) => share * k / BANDS / part.full + (k ? 1e-3 : 0)));
    for (const [i, piece] of pieces.entries()) {
      if (!part.pieces[i].use) continue;
      gl.bindVertexArray(piece.array);
      pour(3, bytes(part.pieces[i].use[Number(select.value)]));
      pour(4, bytes(part.pieces[i].known));
    }
    legend.hidden = !paint.checked;
    for (const [k, word] of legend.querySelectorAll("text").entries()) {
      word.textContent = `${Math.round(1000 * share * k / BANDS) / 10}`;
    }
    viewer.redraw();
  }
  for (const input of [select, paint, most]) input.addEventListener("change", choose);
  choose();
});
