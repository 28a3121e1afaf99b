"use strict";
/* The part drawn in ink: faces in quiet tones, visible edges wide, hidden edges narrow and dashed, sections hatched.
   Lengths are mm, angles radians.  Nothing moves by itself: a frame is drawn when something has changed. */

const Tone = { plain: 0, zone: 1, told: 2 };

const CUT = "uniform vec4 cut; void keep(vec3 p) { if (dot(cut.xyz, p) > cut.w) discard; }";

const FACE_VERTEX = `attribute vec3 way; attribute float tone; varying vec3 vWay; varying vec3 vPlace; varying float vTone;
void main() { vWay = way; vPlace = position; vTone = tone; gl_Position = projectionMatrix * viewMatrix * vec4(position, 1.0); }`;

// the same light and tones as the shaded picture: from the upper left, never quite dark
const FACE_FRAGMENT = `${CUT} uniform vec3 light; varying vec3 vWay; varying vec3 vPlace; varying float vTone;
void main() {
  keep(vPlace);
  float bright = 0.74 + 0.26 * pow(clamp(0.5 + 0.5 * dot(normalize(vWay), light), 0.0, 1.0), 1.4);
  vec3 paper = vTone > 1.5 ? vec3(0.925, 0.660, 0.570) : vTone > 0.5 ? vec3(0.900, 0.850, 0.740) : vec3(0.955, 0.940, 0.905);
  gl_FragColor = vec4(paper * bright, 1.0);
}`;

const LINE_VERTEX = `attribute vec3 from; attribute vec3 to; attribute vec3 left; attribute vec3 right; attribute float start;
uniform vec3 eye; uniform vec2 size; uniform float wide; uniform float lift; varying vec3 vPlace; varying float vAlong;
void main() {
  bool crease = dot(left, left) < 0.5;
  bool turns = (dot(left, eye) > 1e-6) != (dot(right, eye) > 1e-6);
  if (!crease && !turns) { gl_Position = vec4(2.0, 2.0, 2.0, 1.0); return; }
  vec4 a = projectionMatrix * viewMatrix * vec4(from + eye * lift, 1.0);
  vec4 b = projectionMatrix * viewMatrix * vec4(to + eye * lift, 1.0);
  vec2 run = (b.xy - a.xy) * size;
  float far = length(run);
  vec2 ahead = far > 1e-5 ? run / far : vec2(1.0, 0.0);
  vec4 here = mix(a, b, position.x);
  here.xy += (vec2(-ahead.y, ahead.x) * position.y + ahead * (position.x - 0.5)) * wide / size;
  vPlace = mix(from, to, position.x);
  vAlong = start + position.x * distance(from, to);
  gl_Position = here;
}`;

const LINE_FRAGMENT = `${CUT} uniform vec3 colour; uniform float dash; varying vec3 vPlace; varying float vAlong;
void main() {
  keep(vPlace);
  if (dash > 0.0 && fract(vAlong / dash) > 0.68) discard;
  gl_FragColor = vec4(colour, 1.0);
}`;

const CAP_VERTEX = "void main() { gl_Position = projectionMatrix * viewMatrix * vec4(position, 1.0); }";
// hatching at 45 degrees in narrow lines (ISO 128-3)
const CAP_FRAGMENT = `uniform float dots;
void main() {
  float away = abs(mod(gl_FragCoord.x - gl_FragCoord.y, 9.9 * dots) - 4.95 * dots);
  float ink = 1.0 - smoothstep(0.7 * dots - 0.7, 0.7 * dots + 0.7, away);
  gl_FragColor = vec4(mix(vec3(0.969, 0.957, 0.925), vec3(0.11, 0.106, 0.098), ink), 1.0);
}`;

function unpacked(text, Kind) {
  const raw = atob(text), bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i++) bytes[i] = raw.charCodeAt(i);
  return new Kind(bytes.buffer);
}

class Ink {
  constructor(canvas) {
    this.canvas = canvas;
    this.renderer = new THREE.WebGLRenderer({ canvas, antialias: true, stencil: true });
    this.renderer.setClearColor(0xf7f4ec, 1);
    this.scene = new THREE.Scene();
    this.camera = new THREE.OrthographicCamera(-1, 1, 1, -1, 0, 1);
    this.camera.matrixAutoUpdate = false;
    this.shared = {
      cut: { value: new THREE.Vector4(0, 0, 0, 1) }, eye: { value: new THREE.Vector3(0, 0, 1) },
      size: { value: new THREE.Vector2(1, 1) }, light: { value: new THREE.Vector3(0, 0, 1) }, dots: { value: 1 },
    };
    this.part = null;
    this.axis = "";
    this.share = 0.5;
    this.hidden = false;
    this.pieces = {};
    this.plane = null;
    this._faces();
    this._cap();
    this._lines("seen", 4, { wide: 2.0, lift: 1.0, dash: 0 }, { depthFunc: THREE.LessEqualDepth });
    this._lines("dashed", 5, { wide: 1.0, lift: -2.0, dash: 6.5 }, { depthFunc: THREE.GreaterDepth, depthWrite: false });
    this._lines("rim", 6, { wide: 2.0, lift: 1.0, dash: 0 }, { depthFunc: THREE.LessEqualDepth });
    this.pieces.rim.material.uniforms.cut = { value: new THREE.Vector4(0, 0, 0, 1) };
  }

  /* Materials stay, so that nothing is compiled anew for a save; only the arrays change. */
  show(part) {
    this.part = part;
    const points = this.points = unpacked(part.points, Float32Array);
    const corners = unpacked(part.triangles, Uint32Array);
    this.labels = unpacked(part.labels, Int32Array);
    const count = corners.length / 3, places = this.places = new Float32Array(count * 9);
    for (let i = 0; i < corners.length; i++) for (let k = 0; k < 3; k++) places[3 * i + k] = points[3 * corners[i] + k];
    const faces = new THREE.BufferGeometry();
    faces.setAttribute("position", new THREE.BufferAttribute(places, 3));
    faces.setAttribute("way", new THREE.BufferAttribute(unpacked(part.normals, Int8Array), 3, true));
    this.tones = new THREE.BufferAttribute(new Uint8Array(count * 3), 1);
    faces.setAttribute("tone", this.tones);
    this._put(["more", "less", "faces"], faces);
    this._put(["seen", "dashed"], this._ribbons(this._edges(part, places)));
    this.cutKey = "";
    this.middle = part.high.map((high, k) => (high + part.low[k]) / 2);
    this.radius = Math.hypot(...part.high.map((high, k) => high - part.low[k])) / 2 || 1;
    this.tell(new Set());
  }

  _put(names, geometry) {
    this.pieces[names[0]].geometry.dispose();
    for (const name of names) this.pieces[name].geometry = geometry;
  }

  _add(name, geometry, material, order) {
    const piece = this.pieces[name] = new THREE.Mesh(geometry, material);
    Object.assign(piece, { frustumCulled: false, renderOrder: order, matrixAutoUpdate: false });
    this.scene.add(piece);
  }

  _faces() {
    const { cut, light } = this.shared, none = new THREE.BufferGeometry();
    const plain = { uniforms: { cut, light }, vertexShader: FACE_VERTEX, fragmentShader: FACE_FRAGMENT };
    // where more back than front faces lie behind the section, it runs through material
    const unseen = { ...plain, colorWrite: false, depthWrite: false, depthTest: false, stencilWrite: true };
    const count = (side, stencilZPass) => new THREE.ShaderMaterial({ ...unseen, side, stencilZPass });
    this._add("more", none, count(THREE.BackSide, THREE.IncrementWrapStencilOp), 0);
    this._add("less", none, count(THREE.FrontSide, THREE.DecrementWrapStencilOp), 1);
    this._add("faces", none, new THREE.ShaderMaterial({ ...plain, side: THREE.FrontSide }), 3);
  }

  _cap() {
    const geometry = new THREE.BufferGeometry();
    geometry.setAttribute("position", new THREE.BufferAttribute(new Float32Array(12), 3));
    geometry.setIndex([0, 1, 2, 0, 2, 3]);
    const material = new THREE.ShaderMaterial({
      uniforms: { dots: this.shared.dots }, vertexShader: CAP_VERTEX, fragmentShader: CAP_FRAGMENT, side: THREE.DoubleSide,
      stencilWrite: true, stencilRef: 0, stencilFunc: THREE.NotEqualStencilFunc,
    });
    this._add("cap", geometry, material, 2);
  }

  /* Creases are always drawn; between them only those edges where a curved face turns away from the eye. */
  _edges(part, places) {
    const edges = unpacked(part.edges, Uint32Array), count = edges.length / 4, points = this.points;
    const made = this._segments(new Array(count));
    const way = (triangle, out, at) => {
      const o = 9 * triangle, p = places;
      const ux = p[o + 3] - p[o], uy = p[o + 4] - p[o + 1], uz = p[o + 5] - p[o + 2];
      const vx = p[o + 6] - p[o], vy = p[o + 7] - p[o + 1], vz = p[o + 8] - p[o + 2];
      const x = uy * vz - uz * vy, y = uz * vx - ux * vz, z = ux * vy - uy * vx, size = Math.hypot(x, y, z) || 1;
      out[at] = x / size; out[at + 1] = y / size; out[at + 2] = z / size;
    };
    for (let i = 0; i < count; i++) {
      for (let k = 0; k < 3; k++) {
        made.from[3 * i + k] = points[3 * edges[4 * i] + k];
        made.to[3 * i + k] = points[3 * edges[4 * i + 1] + k];
      }
      if (i >= part.creases) { way(edges[4 * i + 2], made.left, 3 * i); way(edges[4 * i + 3], made.right, 3 * i); }
    }
    this._walk(edges, part.creases, made);
    return made;
  }

  _segments(some) {
    const count = some.length;
    const made = { left: new Float32Array(3 * count), right: new Float32Array(3 * count), start: new Float32Array(count),
      from: new Float32Array(3 * count), to: new Float32Array(3 * count) };
    some.forEach((one, i) => { made.from.set(one.slice(0, 3), 3 * i); made.to.set(one.slice(3), 3 * i); });
    return made;
  }

  /* Short edges of a curve follow on one another, so that dashes run through: each gets the length before it. */
  _walk(edges, creases, made) {
    const meet = new Map(), done = new Uint8Array(creases);
    for (let i = 0; i < creases; i++) for (const end of [edges[4 * i], edges[4 * i + 1]]) {
      if (!meet.has(end)) meet.set(end, []);
      meet.get(end).push(i);
    }
    const follow = (first, point) => {
      let i = first, at = point, run = 0;
      while (i !== undefined && !done[i]) {
        done[i] = 1;
        const turned = edges[4 * i] !== at;
        if (turned) for (let k = 0; k < 3; k++) {
          [made.from[3 * i + k], made.to[3 * i + k]] = [made.to[3 * i + k], made.from[3 * i + k]];
        }
        made.start[i] = run;
        run += Math.hypot(...[0, 1, 2].map((k) => made.to[3 * i + k] - made.from[3 * i + k]));
        at = turned ? edges[4 * i] : edges[4 * i + 1];
        const next = meet.get(at);
        i = next.length === 2 ? next.find((one) => !done[one]) : undefined;
      }
    };
    for (const [point, some] of meet) if (some.length !== 2) for (const i of some) follow(i, point);
    for (let i = 0; i < creases; i++) follow(i, edges[4 * i]);
  }

  _lines(name, order, looks, depth) {
    const { cut, eye, size } = this.shared, colour = new THREE.Vector3(0.11, 0.106, 0.098);
    const material = new THREE.ShaderMaterial({
      uniforms: { cut, eye, size, wide: { value: 1 }, lift: { value: 0 }, dash: { value: 0 }, colour: { value: colour } },
      vertexShader: LINE_VERTEX, fragmentShader: LINE_FRAGMENT, side: THREE.DoubleSide, ...depth,
    });
    this._add(name, new THREE.BufferGeometry(), material, order);
    this.pieces[name].userData = looks;
  }

  _ribbons(segments) {
    const geometry = new THREE.InstancedBufferGeometry();
    geometry.setAttribute("position", new THREE.BufferAttribute(new Float32Array([0, -1, 0, 1, -1, 0, 1, 1, 0, 0, 1, 0]), 3));
    geometry.setIndex([0, 1, 2, 0, 2, 3]);
    for (const name of ["from", "to", "left", "right"]) {
      geometry.setAttribute(name, new THREE.InstancedBufferAttribute(segments[name], 3));
    }
    geometry.setAttribute("start", new THREE.InstancedBufferAttribute(segments.start, 1));
    geometry.instanceCount = segments.start.length;
    return geometry;
  }

  /* Which face labels are pointed at; zones keep a tone of their own. */
  tell(labels) {
    if (!this.part) return;
    const tones = this.tones.array, zones = new Set(this.part.zones);
    for (let i = 0; i < this.labels.length; i++) {
      const label = this.labels[i];
      tones.fill(labels.has(label) ? Tone.told : zones.has(label) ? Tone.zone : Tone.plain, 3 * i, 3 * i + 3);
    }
    this.tones.needsUpdate = true;
  }

  get level() {
    const k = ["x", "y", "z"].indexOf(this.axis);
    return k < 0 ? 0 : this.part.low[k] + this.share * (this.part.high[k] - this.part.low[k]);
  }

  _section(view) {
    const k = ["x", "y", "z"].indexOf(this.axis), on = k >= 0;
    for (const name of ["more", "less", "cap", "rim"]) this.pieces[name].visible = on;
    if (!on) { this.shared.cut.value.set(0, 0, 0, 1); this.plane = null; return; }
    // a hair off the middle, so that no corner lies exactly in the plane
    const level = this.level + 1.7e-5 * this.radius, sign = view.out[k] >= 0 ? 1 : -1;
    this.plane = { k, level, sign };
    this.shared.cut.value.set(k === 0 ? sign : 0, k === 1 ? sign : 0, k === 2 ? sign : 0, sign * level);
    const key = `${this.axis} ${level}`;
    if (this.cutKey === key) return;
    this.cutKey = key;
    const [u, v] = [(k + 1) % 3, (k + 2) % 3], cap = this.pieces.cap.geometry.attributes.position;
    [[-1, -1], [1, -1], [1, 1], [-1, 1]].forEach(([a, b], i) => {
      cap.array[3 * i + k] = level;
      cap.array[3 * i + u] = this.middle[u] + 1.1 * a * this.radius;
      cap.array[3 * i + v] = this.middle[v] + 1.1 * b * this.radius;
    });
    cap.needsUpdate = true;
    this._put(["rim"], this._ribbons(this._segments(this._crossings(k, level))));
  }

  _crossings(k, level) {
    const found = [], p = this.places;
    for (let o = 0; o < p.length; o += 9) {
      const ends = [];
      for (let a = 0; a < 3; a++) {
        const i = o + 3 * a, j = o + 3 * ((a + 1) % 3), from = p[i + k] - level, to = p[j + k] - level;
        if (from < 0 !== to < 0) for (let m = 0; m < 3; m++) ends.push(p[i + m] + (p[j + m] - p[i + m]) * from / (from - to));
      }
      if (ends.length === 6) found.push(ends);
    }
    return found;
  }

  draw(view) {
    const wide = this.canvas.clientWidth, high = this.canvas.clientHeight;
    if (!wide || !high) return;
    const dots = Math.min(window.devicePixelRatio || 1, 2);
    if (this.wasWide !== wide || this.wasHigh !== high || this.wasDots !== dots) {
      this.renderer.setPixelRatio(dots);
      this.renderer.setSize(wide, high, false);
      [this.wasWide, this.wasHigh, this.wasDots] = [wide, high, dots];
    }
    const shared = this.shared, camera = this.camera, { right, up, out } = view;
    shared.size.value.set(wide * dots, high * dots);
    shared.dots.value = dots;
    if (!this.part) { this.renderer.clear(); return; }
    const half = { x: wide * view.mm / 2, y: high * view.mm / 2 }, back = 2 * this.radius + Math.hypot(...view.target.map((at, k) => at - this.middle[k]));
    Object.assign(camera, { left: -half.x, right: half.x, bottom: -half.y, top: half.y, near: 0, far: 2 * back });
    camera.updateProjectionMatrix();
    const at = view.target.map((middle, k) => middle + back * out[k]);
    camera.matrix.set(right[0], up[0], out[0], at[0], right[1], up[1], out[1], at[1], right[2], up[2], out[2], at[2], 0, 0, 0, 1);
    camera.matrixWorldNeedsUpdate = true;
    shared.eye.value.set(...out);
    const light = [0, 1, 2].map((k) => -0.45 * right[k] + 0.55 * up[k] + 0.7 * out[k]), size = Math.hypot(...light);
    shared.light.value.set(light[0] / size, light[1] / size, light[2] / size);
    for (const piece of Object.values(this.pieces)) if (piece.userData.wide) {
      piece.material.uniforms.wide.value = piece.userData.wide * dots;
      piece.material.uniforms.lift.value = piece.userData.lift * view.mm;
      piece.material.uniforms.dash.value = piece.userData.dash * view.mm;
    }
    this.pieces.dashed.visible = this.hidden;
    this._section(view);
    this.renderer.render(this.scene, camera);
  }

  /* The face under a point of the canvas: {label, place}; label -1 on the cut face of a section; null beside the part. */
  under(view, x, y) {
    if (!this.part) return null;
    const dx = (x - this.canvas.clientWidth / 2) * view.mm, dy = (this.canvas.clientHeight / 2 - y) * view.mm;
    const { right, up, out } = view, p = this.places;
    const o = view.target.map((middle, k) => middle + dx * right[k] + dy * up[k] + 4 * this.radius * out[k]);
    let best = Infinity, found = -1, back = false;
    for (let t = 0; t < this.labels.length; t++) {
      const i = 9 * t;
      const ux = p[i + 3] - p[i], uy = p[i + 4] - p[i + 1], uz = p[i + 5] - p[i + 2];
      const vx = p[i + 6] - p[i], vy = p[i + 7] - p[i + 1], vz = p[i + 8] - p[i + 2];
      const hx = -out[1] * vz + out[2] * vy, hy = -out[2] * vx + out[0] * vz, hz = -out[0] * vy + out[1] * vx;
      const det = ux * hx + uy * hy + uz * hz;
      if (Math.abs(det) < 1e-12) continue;
      const sx = o[0] - p[i], sy = o[1] - p[i + 1], sz = o[2] - p[i + 2];
      const a = (sx * hx + sy * hy + sz * hz) / det;
      if (a < 0 || a > 1) continue;
      const qx = sy * uz - sz * uy, qy = sz * ux - sx * uz, qz = sx * uy - sy * ux;
      const b = -(out[0] * qx + out[1] * qy + out[2] * qz) / det;
      if (b < 0 || a + b > 1) continue;
      const far = (vx * qx + vy * qy + vz * qz) / det;
      if (far >= best || this._beyond(o, far, out)) continue;
      [best, found, back] = [far, t, det < 0];
    }
    if (found < 0) return null;
    const place = o.map((value, k) => value - best * out[k]);
    return { label: back ? -1 : this.labels[found], place };
  }

  _beyond(o, far, out) {
    const plane = this.plane;
    return plane !== null && plane.sign * (o[plane.k] - far * out[plane.k] - plane.level) > 0;
  }

  /* True for a place that a section has taken away. */
  gone(place) { return this._beyond(place, 0, place); }
}
