"use strict";
// Turns a part by pointer, keys and buttons. Lit and aimed as the still pictures are: an orthographic eye at an
// angle `turn` about z and `tilt` above the xy plane, with the lights fixed to the eye. A proved piece comes with
// states: under each load case how its vertices move and what stress they bear, which is drawn in bands with lines.
// Other scripts add to it by `window.tools`: each is given the viewer that `turnable` returns.
const turnable = (box) => {
  const data = document.getElementById(box.dataset.mesh || "mesh");
  if (!data) return;
  const canvas = box.querySelector("canvas");
  const said = box.querySelector("[aria-live]");
  const gl = canvas.getContext("webgl2", { antialias: true, alpha: false });
  if (!gl) {
    box.querySelector(".no-3d").hidden = false;
    return;
  }

  let part = JSON.parse(data.textContent);
  const bytes = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0)).buffer;
  const START = { turn: part.view[0], tilt: part.view[1], zoom: 1, x: 0, y: 0 };
  // By the part's own axes; those of a vehicle are its own: x points forward.
  const VIEWS = { slant: part.view, front: [-90, 0], back: [90, 0], left: [180, 0], right: [0, 0],
                  top: [-90, 90], bottom: [-90, -90], "its left": [90, 0], "its right": [-90, 0],
                  ahead: [0, 0], behind: [180, 0] };
  const INKS = [[0.62, 0.66, 0.70], [0.74, 0.62, 0.44], [0.45, 0.55, 0.62]];
  const PALE = [0.88, 0.9, 0.92];
  const KEPT = `view ${location.pathname} ${box.id}`;
  const view = { ...START, ...kept() };

  function kept() {
    try { return JSON.parse(sessionStorage.getItem(KEPT)) || {}; } catch { return {}; }
  }
  function keep() {
    try { sessionStorage.setItem(KEPT, JSON.stringify(view)); } catch { /* not allowed here */ }
  }

  const VERTEX = `#version 300 es
    in vec3 place; in vec3 normal; in vec3 moved; in float stress; in float known;
    uniform mat3 eye; uniform vec3 middle; uniform float size; uniform vec2 scale; uniform vec2 shift;
    uniform float depth; uniform float lift; uniform float stretch; uniform mat3 turned; uniform vec3 shifted;
    out vec3 facing; out float level; out float deep; out float sure; out vec3 here;
    void main() {
      vec3 stood = turned * (place * size) + shifted;
      vec3 seen = eye * (stood - middle + moved * stretch);
      facing = eye * (turned * normal);
      level = stress;
      sure = known;
      here = stood - middle;
      deep = 0.5 - 0.5 * seen.z / depth;
      gl_Position = vec4(seen.xy * scale + shift, -seen.z / depth - lift, 1.0);
    }`;
  const FRAGMENT = `#version 300 es
    precision highp float;
    in vec3 facing; in float level; in float deep; in float sure; in vec3 here;
    uniform vec4 ink; uniform bool lit; uniform bool measured; uniform int bands; uniform float edges[16];
    uniform vec3 ramp[3]; uniform bool painted; uniform vec4 plane;
    out vec4 colour;
    // Bands from light to dark, whose order survives in grey; a line between two of a proof; beyond the last, hatched.
    vec3 banded() {
      float wide = fwidth(level);
      int band = 0;
      for (int i = 1; i <= bands; i += 1) {
        if (!painted && abs(level - edges[i]) < 0.75 * wide) return vec3(0.03);
        if (level > edges[i]) band = i;
      }
      if (band == bands) return mod(gl_FragCoord.x + gl_FragCoord.y, 9.0) < 3.0 ? vec3(0.1) : vec3(1.0);
      float t = float(band) / float(max(bands - 1, 1));
      return t < 0.5 ? mix(ramp[0], ramp[1], 2.0 * t) : mix(ramp[1], ramp[2], 2.0 * t - 1.0);
    }
    void main() {
      if (dot(here, plane.xyz) > plane.w) discard;
      if (measured) { colour = vec4(floor(deep * 255.0) / 255.0, fract(deep * 255.0), 0.0, 1.0); return; }
      if (!lit) { colour = ink; return; }
      // Behind a cut the inside of the far walls is seen: that is the metal cut through, hatched.
      if (plane.w < 1e8 && !gl_FrontFacing) {
        colour = vec4(mod(gl_FragCoord.x - gl_FragCoord.y, 12.0) < 1.5 ? vec3(0.2) : vec3(0.82, 0.80, 0.72), 1.0);
        return;
      }
      vec3 n = normalize(facing);
      if (bands > 0 && (!painted || sure > 0.999)) { colour = vec4(banded() * (0.78 + 0.22 * max(n.z, 0.0)), 1.0); return; }
      float light = 0.28 + 0.34 * max(n.z, 0.0)
        + 0.78 * max(dot(n, normalize(vec3(-0.25, 1.0, 0.35))), 0.0)
        + 0.22 * max(dot(n, normalize(vec3(1.0, -0.2, 0.3))), 0.0);
      colour = vec4(ink.rgb * light, ink.a);
    }`;

  function shader(kind, text) {
    const one = gl.createShader(kind);
    gl.shaderSource(one, text);
    gl.compileShader(one);
    if (!gl.getShaderParameter(one, gl.COMPILE_STATUS)) throw new Error(gl.getShaderInfoLog(one));
    return one;
  }
  const program = gl.createProgram();
  gl.attachShader(program, shader(gl.VERTEX_SHADER, VERTEX));
  gl.attachShader(program, shader(gl.FRAGMENT_SHADER, FRAGMENT));
  gl.bindAttribLocation(program, 0, "place");
  gl.bindAttribLocation(program, 1, "normal");
  gl.bindAttribLocation(program, 2, "moved");
  gl.bindAttribLocation(program, 3, "stress");
  gl.bindAttribLocation(program, 4, "known");
  gl.linkProgram(program);
  gl.useProgram(program);
  const at = {};
  for (const name of ["eye", "middle", "size", "scale", "shift", "depth", "lift", "ink", "lit", "measured", "bands",
                      "edges", "ramp", "stretch", "painted", "plane", "turned", "shifted"]) {
    at[name] = gl.getUniformLocation(program, name);
  }
  const OPEN = [0, 0, 0, 1e9];
  // How a piece stands against the drawing: turned (by columns), then shifted [mm].
  const AS_DRAWN = [[1, 0, 0, 0, 1, 0, 0, 0, 1], [0, 0, 0]];
  const stand = ([turned, shifted]) => { gl.uniformMatrix3fv(at.turned, false, turned); gl.uniform3fv(at.shifted, shifted); };
  stand(AS_DRAWN);
  gl.uniform4fv(at.plane, OPEN);
  const states = part.states || [];
  let state = 0, scale = 0, deformed = true;
  if (states.length) gl.uniform3fv(at.ramp, part.ramp.flat());

  let buffers = [];
  const filled = (kind, content) => {
    const buffer = gl.createBuffer();
    buffers.push(buffer);
    gl.bindBuffer(kind, buffer);
    gl.bufferData(kind, content, gl.STATIC_DRAW);
    return buffer;
  };
  // One array of vertices for each piece, with its triangles and its inked edges.
  const built = (piece, i) => {
    const places = new Uint16Array(bytes(piece.places));
    const triangles = new Uint32Array(bytes(piece.triangles));
    const edges = new Uint32Array(bytes(piece.edges));
    const array = gl.createVertexArray();
    gl.bindVertexArray(array);
    filled(gl.ARRAY_BUFFER, places);
    gl.enableVertexAttribArray(0);
    gl.vertexAttribPointer(0, 3, gl.UNSIGNED_SHORT, true, 8, 0);
    filled(gl.ARRAY_BUFFER, new Int8Array(bytes(piece.normals)));
    gl.enableVertexAttribArray(1);
    gl.vertexAttribPointer(1, 3, gl.BYTE, true, 4, 0);
    const under = (piece.states || []).map((one) => [
      filled(gl.ARRAY_BUFFER, new Int8Array(bytes(one.moved))),
      filled(gl.ARRAY_BUFFER, new Uint16Array(bytes(one.stress))),
    ]);
    return { name: piece.name, under, places, triangles, array, shown: true, pose: AS_DRAWN, ink: piece.bought ? PALE : INKS[i % INKS.length],
             surface: [filled(gl.ELEMENT_ARRAY_BUFFER, triangles), triangles.length],
             lines: [filled(gl.ELEMENT_ARRAY_BUFFER, edges), edges.length] };
  };
  let pieces = part.pieces.map(built);
  // Chains of places in mm, in the units of the vertices.
  const relative = (flat) => new Float32Array(flat.map((v, i) => (v - part.low[i % 3]) / part.size));
  const chain = (flat) => {
    const places = relative(flat);
    const array = gl.createVertexArray();
    gl.bindVertexArray(array);
    filled(gl.ARRAY_BUFFER, places);
    gl.enableVertexAttribArray(0);
    gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 12, 0);
    return [array, places.length / 3, buffers[buffers.length - 1]];
  };
  const loops = part.loops.map(chain);
  const lines = part.lines.map(chain);
  let marked = true, lined = true, named = true;

  // Names of places stand in a drawing over the canvas. A name goes where it covers no other, nearest first;
  // one that finds no room waits until the eye comes closer.
  const names = box.querySelector("svg.names");
  const SVG = "http://www.w3.org/2000/svg";
  const made = (kind, attributes) => {
    const one = document.createElementNS(SVG, kind);
    for (const [name, value] of Object.entries(attributes)) one.setAttribute(name, value);
    names.append(one);
    return one;
  };
  const label = (point) => {
    const leader = made("line", {}), dot = made("circle", { r: point.bare ? 0 : 3 }), word = made("text", {});
    word.textContent = point.name;
    return { ...point, leader, dot, word, size: 0 };
  };
  const labels = names ? part.points.map(label) : [];
  const AWAY = [[8, 4], [-8, 4], [0, -9], [0, 17]];
  for (const far of [22, 38, 56, 76]) {
    for (let k = 0; k < 12; k += 1) {
      AWAY.push([far * Math.cos((k * Math.PI) / 6), far * Math.sin((k * Math.PI) / 6) + 4]);
    }
  }
  const apartFrom = (a, b) => a[2] < b[0] || b[2] < a[0] || a[3] < b[1] || b[3] < a[1];
  // What a leader covers, as spots along it; it begins beside its dot.
  function led(one, dx, dy) {
    const long = Math.hypot(dx, dy), spots = [];
    if (long <= 20) return spots;
    for (let at = 8; at < long - 3; at += 5) {
      const x = one.x + (dx * at) / long, y = one.y + ((dy - 4) * at) / long;
      spots.push([x - 1, y - 1, x + 1, y + 1]);
    }
    return spots;
  }
  // A name that belongs to a state stands on the surface: it shows with its state, and where nothing lies before it.
  function name(right, up, eye, across, wide, high) {
    names.setAttribute("viewBox", `0 0 ${wide} ${high}`);
    const taken = [], words = [];
    const before = states.length && named ? nearest() : null;
    for (const one of labels) {
      const off = one.moved && deformed ? one.moved : [0, 0, 0];
      const p = [0, 1, 2].map((k) => one.at[k] + off[k] - part.low[k] - middle[k]);
      const seen = (axis) => p[0] * axis[0] + p[1] * axis[1] + p[2] * axis[2];
      one.x = wide / 2 * (1 + seen(right) / across + view.x);
      one.y = high / 2 * (1 - seen(up) / across * (wide / high) - view.y);
      const now = one.state === state && (one.scale === undefined || one.scale === scale);
      one.there = one.state === undefined || (now && before !== null &&
        0.5 - 0.5 * seen(eye) / depth < before(one.x / wide, one.y / high) + 0.012);
      if (one.there) taken.push([one.x - 3, one.y - 3, one.x + 3, one.y + 3]);
    }
    for (const one of labels) {
      one.size = one.size || one.word.getComputedTextLength();
      one.dot.setAttribute("cx", one.x);
      one.dot.setAttribute("cy", one.y);
      one.dot.setAttribute("display", one.there ? "inline" : "none");
      const inside = one.there && one.x > 0 && one.y > 0 && one.x < wide && one.y < high;
      const fits = AWAY.find(([dx, dy]) => {
        const left = one.x + dx - (dx > 0.5 ? 0 : dx < -0.5 ? one.size : one.size / 2);
        const own = [left - 1, one.y + dy - 11, left + one.size + 1, one.y + dy + 3];
        one.box = own;
        return own[0] > 0 && own[1] > 0 && own[2] < wide && own[3] < high && taken.every((t) => apartFrom(own, t)) &&
          led(one, dx, dy).every((spot) => words.every((t) => apartFrom(spot, t)));
      });
      const shown = Boolean(inside && fits);
      one.word.setAttribute("display", shown ? "inline" : "none");
      one.leader.setAttribute("display", shown && Math.hypot(...fits) > 20 ? "inline" : "none");
      if (!shown) continue;
      taken.push(one.box, ...led(one, ...fits));
      words.push(one.box);
      one.word.setAttribute("x", one.box[0] + 1);
      one.word.setAttribute("y", one.y + fits[1]);
      const ends = { x1: one.x, y1: one.y, x2: one.x + fits[0], y2: one.y + fits[1] - 4 };
      for (const [key, value] of Object.entries(ends)) one.leader.setAttribute(key, value);
    }
    names.setAttribute("visibility", named ? "visible" : "hidden");
  }

  let own, middle, depth;
  // The least and greatest corner of what is there at first [mm], and its middle from the least corner of all: bought-in
  // hardware is away then.
  function centre() {
    const away = new Set((part.apart || []).map(([i]) => i));
    const least = [Infinity, Infinity, Infinity], most = [-Infinity, -Infinity, -Infinity];
    pieces.forEach(({ places }, at) => {
      if (away.has(at)) return;
      for (let i = 0; i < places.length; i += 4) {
        for (let k = 0; k < 3; k += 1) {
          least[k] = Math.min(least[k], places[i + k]);
          most[k] = Math.max(most[k], places[i + k]);
        }
      }
    });
    own = away.size ? [least, most].map((one) => one.map((v, k) => (v / 65535) * part.size + part.low[k])) : [part.low, part.high];
    middle = part.low.map((v, k) => (own[0][k] + own[1][k]) / 2 - v);
    depth = Math.hypot(...part.high.map((v, k) => Math.max(middle[k], v - part.low[k] - middle[k]))) * 1.1 || 1;
  }
  centre();
  const radians = (v) => (v * Math.PI) / 180;
  function axes() {
    const a = radians(view.turn), b = radians(view.tilt);
    const right = [-Math.sin(a), Math.cos(a), 0];
    const eye = [Math.cos(b) * Math.cos(a), Math.cos(b) * Math.sin(a), Math.sin(b)];
    const up = [-Math.sin(b) * Math.cos(a), -Math.sin(b) * Math.sin(a), Math.cos(b)];
    return [right, up, eye];
  }
  // Half of what is seen of the part across and up, about its middle, in mm.
  function reach() {
    const [right, up] = axes();
    const most = [1e-6, 1e-6];
    const take = (p) => {
      for (const [k, axis] of [right, up].entries()) {
        most[k] = Math.max(most[k], Math.abs(p[0] * axis[0] + p[1] * axis[1] + p[2] * axis[2]));
      }
    };
    const away = new Set((part.apart || []).map(([i]) => i));
    for (const [at, piece] of pieces.entries()) {
      const off = piece.off || [0, 0, 0];
      for (let i = 0; i < piece.places.length && (piece.shown || !away.has(at)); i += 4) {
        take([0, 1, 2].map((k) => (piece.places[i + k] / 65535) * part.size - middle[k] + off[k]));
      }
    }
    for (const flat of part.lines) {
      for (let i = 0; i < flat.length; i += 3) take([0, 1, 2].map((k) => flat[i + k] - part.low[k] - middle[k]));
    }
    for (const one of viewer.beside) take([0, 1, 2].map((k) => one[k] - part.low[k] - middle[k]));
    return most;
  }
  // What a tool sees of the viewer: `beside` are places [mm] that are kept in view, `after` is called when all is drawn.
  const viewer = { box, canvas, part, pieces, gl, at, made, said, redraw, beside: [], after: [], cutBy: null,
                   own: () => own,
                   isDiscarded: (place) => discards(place),
                   // Another stand of a piece (rows of three turns and a shift [mm]), line (places [mm]) or named place.
                   pose: (i, m) => {
                     const turned = [0, 1, 2].flatMap((k) => [m[k], m[k + 4], m[k + 8]]);
                     pieces[i].pose = [turned, [0, 1, 2].map((k) => m[4 * k + 3] - part.low[k] +
                       [0, 1, 2].reduce((sum, j) => sum + m[4 * k + j] * part.low[j], 0))];
                   },
                   lay: (i, flat) => {
                     gl.bindBuffer(gl.ARRAY_BUFFER, lines[i][2]);
                     gl.bufferData(gl.ARRAY_BUFFER, relative(flat), gl.DYNAMIC_DRAW);
                   },
                   put: (i, place) => { labels[i].at = place; }, fit: () => { half = reach(); redraw(); },
                   label: (point) => { const one = label(point); labels.push(one); return one; },
                   forget: (one) => {
                     labels.splice(labels.indexOf(one), 1);
                     for (const drawn of [one.leader, one.dot, one.word]) drawn.remove();
                   } };
  let half = reach();
  // Another solid in place of this one, seen from where this one was; what the card held of this one is given back.
  viewer.show = (next) => {
    for (const one of pieces) gl.deleteVertexArray(one.array);
    for (const one of buffers) gl.deleteBuffer(one);
    buffers = [];
    part = viewer.part = next;
    pieces = viewer.pieces = part.pieces.map(built);
    centre();
    half = reach();
    redraw();
  };
  const paper = () => {
    const [r, g, b] = getComputedStyle(document.documentElement).backgroundColor.match(/[\d.]+/g).map(Number);
    return [r / 255, g / 255, b / 255, 1];
  };
  // The side of the cutting plane that is nearer to the eye is taken away.
  function plane(eye) {
    if (!viewer.cutBy) return OPEN;
    const [axis, where] = viewer.cutBy, sign = eye[axis] >= 0 ? 1 : -1, normal = [0, 0, 0];
    normal[axis] = sign;
    return [...normal, sign * (where - part.low[axis] - middle[axis])];
  }
  let taken = OPEN;
  function discards(place) {
    return [0, 1, 2].reduce((sum, k) => sum + taken[k] * (place[k] - part.low[k] - middle[k]), 0) > taken[3] + 1e-3;
  }

  let waiting = false;
  function redraw() {
    if (!waiting) requestAnimationFrame(draw);
    waiting = true;
  }
  function surfaces() {
    for (const piece of pieces) {
      if (!piece.shown) continue;
      stand(piece.pose);
      gl.bindVertexArray(piece.array);
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, piece.surface[0]);
      gl.drawElements(gl.TRIANGLES, piece.surface[1], gl.UNSIGNED_INT, 0);
    }
  }
  // How far away the nearest surface is, as a function of the place on the canvas: drawn as a picture and read back.
  function nearest() {
    const wide = canvas.width, high = canvas.height, found = new Uint8Array(4 * wide * high);
    gl.uniform1i(at.measured, 1);
    gl.uniform1f(at.lift, 0);
    surfaces();
    gl.readPixels(0, 0, wide, high, gl.RGBA, gl.UNSIGNED_BYTE, found);
    gl.uniform1i(at.measured, 0);
    return (x, y) => {
      const i = 4 * (Math.floor((1 - y) * high) * wide + Math.floor(x * wide));
      return x < 0 || y < 0 || x >= 1 || y >= 1 ? 0 : found[i] / 255 + found[i + 1] / 65025;
    };
  }
  function take() {
    for (const piece of pieces) {
      gl.bindVertexArray(piece.array);
      const [moved, stress] = piece.under[state];
      gl.bindBuffer(gl.ARRAY_BUFFER, moved);
      gl.enableVertexAttribArray(2);
      gl.vertexAttribPointer(2, 3, gl.BYTE, true, 4, 0);
      gl.bindBuffer(gl.ARRAY_BUFFER, stress);
      gl.enableVertexAttribArray(3);
      gl.vertexAttribPointer(3, 1, gl.UNSIGNED_SHORT, true, 2, 0);
    }
    gl.uniform1f(at.stretch, deformed ? states[state].stretch : 0);
    gl.uniform1i(at.bands, part.scales[scale].length - 1);
    gl.uniform1fv(at.edges, part.scales[scale]);
    for (const [kind, now] of [["state", state], ["scale", scale]]) {
      for (const one of box.parentElement.querySelectorAll(`[data-${kind}]`)) {
        one.classList.toggle("off", Number(one.dataset[kind]) !== now);
      }
    }
    redraw();
  }
  function draw() {
    waiting = false;
    const dots = window.devicePixelRatio || 1;
    const wide = Math.max(1, Math.round(canvas.clientWidth * dots));
    const high = Math.max(1, Math.round(canvas.clientHeight * dots));
    if (canvas.width !== wide || canvas.height !== high) { canvas.width = wide; canvas.height = high; }
    gl.viewport(0, 0, wide, high);
    gl.clearColor(...paper());
    gl.enable(gl.DEPTH_TEST);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    const across = Math.max(half[0], (half[1] * wide) / high) * 1.06 / view.zoom;
    const [right, up, eye] = axes();
    gl.uniformMatrix3fv(at.eye, false, [0, 1, 2].flatMap((k) => [right[k], up[k], eye[k]]));
    gl.uniform3fv(at.middle, middle);
    gl.uniform1f(at.size, part.size);
    gl.uniform2f(at.scale, 1 / across, wide / high / across);
    gl.uniform2f(at.shift, view.x, view.y);
    gl.uniform1f(at.depth, depth);
    taken = plane(eye);
    gl.uniform4fv(at.plane, taken);
    // Where a place [mm] is seen: to the right and down [px], and how near the eye [mm].
    viewer.see = (place) => {
      const p = [0, 1, 2].map((k) => place[k] - part.low[k] - middle[k]);
      const along = (axis) => p[0] * axis[0] + p[1] * axis[1] + p[2] * axis[2];
      return [canvas.clientWidth / 2 * (1 + along(right) / across + view.x),
              canvas.clientHeight / 2 * (1 - along(up) / across * (wide / high) - view.y), along(eye)];
    };
    if (names) name(right, up, eye, across, canvas.clientWidth, canvas.clientHeight);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    for (const piece of pieces) {
      if (!piece.shown) continue;
      stand(piece.pose);
      gl.bindVertexArray(piece.array);
      gl.uniform1f(at.lift, 0);
      gl.uniform1i(at.lit, 1);
      gl.uniform4f(at.ink, ...piece.ink, 1);
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, piece.surface[0]);
      gl.drawElements(gl.TRIANGLES, piece.surface[1], gl.UNSIGNED_INT, 0);
      gl.uniform1f(at.lift, 0.0015);
      gl.uniform1i(at.lit, 0);
      gl.uniform4f(at.ink, 0.1, 0.12, 0.14, 1);
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, piece.lines[0]);
      gl.drawElements(gl.LINES, piece.lines[1], gl.UNSIGNED_INT, 0);
    }
    stand(AS_DRAWN);
    if (lined) {
      gl.uniform1f(at.lift, 0);
      gl.uniform1i(at.lit, 0);
      gl.uniform4f(at.ink, 0.25, 0.4, 0.6, 1);
      for (const [array, count] of lines) {
        gl.bindVertexArray(array);
        gl.drawArrays(gl.LINE_STRIP, 0, count);
      }
    }
    if (marked) {
      gl.disable(gl.DEPTH_TEST);
      gl.uniform1i(at.lit, 0);
      gl.uniform4f(at.ink, 0.72, 0.05, 0.05, 1);
      for (const [array, count] of loops) {
        gl.bindVertexArray(array);
        // Lines are one dot wide: drawn a dot apart they are seen as one thick line.
        for (const [i, j] of [[0, 0], [1, 0], [0, 1], [-1, 0], [0, -1]]) {
          gl.uniform2f(at.shift, view.x + (2 * i) / wide, view.y + (2 * j) / high);
          gl.drawArrays(gl.LINE_LOOP, 0, count);
        }
      }
    }
    for (const act of viewer.after) act();
    box.dataset.drawn = String(Number(box.dataset.drawn || 0) + 1);
  }

  let saying = 0;
  function changed(tell) {
    view.turn = ((((view.turn + 180) % 360) + 360) % 360) - 180;
    view.tilt = Math.max(-90, Math.min(90, view.tilt));
    view.zoom = Math.max(0.2, Math.min(40, view.zoom));
    keep();
    redraw();
    if (!tell) return;
    clearTimeout(saying);
    saying = setTimeout(() => {
      said.textContent = `Seen from ${Math.round(view.turn)} degrees about z, ` +
        `${Math.round(view.tilt)} degrees above the xy plane, ${view.zoom.toFixed(1)} times fit.`;
    }, 250);
  }
  function look(turn, tilt) {
    Object.assign(view, START, { turn, tilt });
    half = reach();
    changed(true);
  }

  const KEYS = {
    ArrowLeft: () => { view.turn -= 10; }, ArrowRight: () => { view.turn += 10; },
    ArrowUp: () => { view.tilt += 10; }, ArrowDown: () => { view.tilt -= 10; },
    "+": () => { view.zoom *= 1.2; }, "=": () => { view.zoom *= 1.2; }, "-": () => { view.zoom /= 1.2; },
  };
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "Home" || event.key === "0") look(...VIEWS.slant);
    else if (KEYS[event.key]) { KEYS[event.key](); changed(true); }
    else return;
    event.preventDefault();
  });
  const pointers = new Map();
  const apart = () => {
    const [a, b] = [...pointers.values()];
    return Math.hypot(a[0] - b[0], a[1] - b[1]);
  };
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    pointers.set(event.pointerId, [event.clientX, event.clientY]);
  });
  canvas.addEventListener("pointermove", (event) => {
    const last = pointers.get(event.pointerId);
    if (!last) return;
    const before = pointers.size === 2 ? apart() : 0;
    const x = event.clientX - last[0], y = event.clientY - last[1];
    pointers.set(event.pointerId, [event.clientX, event.clientY]);
    if (pointers.size === 2) view.zoom *= apart() / before || 1;
    if (pointers.size === 2 || event.shiftKey || event.buttons & 6) {
      const share = pointers.size || 1;
      view.x += (2 * x) / canvas.clientWidth / share;
      view.y -= (2 * y) / canvas.clientHeight / share;
    } else {
      view.turn -= x * 0.5;
      view.tilt += y * 0.5;
    }
    changed(false);
  });
  for (const name of ["pointerup", "pointercancel", "lostpointercapture"]) {
    canvas.addEventListener(name, (event) => pointers.delete(event.pointerId));
  }
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener("wheel", (event) => {
    if (document.activeElement !== canvas && !event.ctrlKey) return; // else the page could not be scrolled past
    event.preventDefault();
    view.zoom *= Math.exp(-Math.max(-60, Math.min(60, event.deltaY)) * 0.004);
    changed(false);
  }, { passive: false });
  for (const button of box.querySelectorAll("button[data-view]")) {
    button.addEventListener("click", () => look(...VIEWS[button.dataset.view]));
  }
  for (const button of box.querySelectorAll("button[data-key]")) {
    button.addEventListener("click", () => { KEYS[button.dataset.key](); changed(true); });
  }
  for (const input of box.querySelectorAll("input[data-piece]")) {
    input.addEventListener("change", () => { pieces[Number(input.dataset.piece)].shown = input.checked; redraw(); });
  }
  const switched = (name, act) => {
    const input = box.querySelector(`input[${name}]`);
    if (input) input.addEventListener("change", () => { act(input.checked); redraw(); });
  };
  switched("data-mark", (on) => { marked = on; });
  switched("data-lines", (on) => { lined = on; });
  switched("data-names", (on) => { named = on; });
  switched("data-moved", (on) => { deformed = on; take(); });
  const chosen = { states: (k) => { state = k; }, scales: (k) => { scale = k; } };
  for (const select of box.querySelectorAll("select[name=states], select[name=scales]")) {
    const choose = () => { chosen[select.name](Number(select.value)); take(); };
    select.addEventListener("change", choose);
    choose();
  }
  canvas.addEventListener("webglcontextlost", () => box.classList.remove("in-3d"));

  box.classList.add("in-3d");
  new ResizeObserver(redraw).observe(canvas);
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", redraw);
  redraw();
  return viewer;
};
for (const box of document.querySelectorAll("#viewer, .stressed")) {
  const viewer = turnable(box);
  if (!viewer || box.id !== "viewer") continue;
  box.viewer = viewer;
  for (const tool of window.tools || []) tool(viewer);
}
