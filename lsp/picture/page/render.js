// Draws a built board with WebGL: solids by their depth, then each face that
// is turned to the eye, its shapes cut to the board by the stencil.
const SHADERS = [`#version 300 es
in vec3 position; in vec3 normal; in float role; in float item;
uniform mat4 camera; uniform float lift;
out vec3 place; out vec3 facing; flat out int kind; flat out float what;
void main() {
  place = position; facing = normal; kind = int(role + 0.5); what = item;
  gl_Position = camera * vec4(position, 1.0);
  gl_Position.z -= lift;
}`, `#version 300 es
precision highp float; precision highp int;
in vec3 place; in vec3 facing; flat in int kind; flat in float what;
uniform vec4 colours[17]; uniform vec4 cut; uniform vec3 eye; uniform vec3 light; uniform float grain;
uniform float lit[10]; uniform int picking; uniform float fade;
uniform vec4 under;
out vec4 colour;
float rule(float at, float thick) { // a line each unit, soft by a pixel
  float w = max(fwidth(at), 1e-6);
  float d = abs(fract(at) - 0.5) ;
  return 1.0 - smoothstep(thick - w, thick + w, d);
}
void main() {
  if (cut.w > 0.5 && dot(place.xy, cut.xy) > cut.z) discard;
  if (picking == 1) { int n = int(what + 0.5) + 1; colour = vec4(float(n & 255), float((n >> 8) & 255), float((n >> 16) & 255), 255.0) / 255.0; return; }
  if (picking == 2) { int d = int(gl_FragCoord.z * 16777215.0); colour = vec4(float(d & 255), float((d >> 8) & 255), float((d >> 16) & 255), 255.0) / 255.0; return; }
  vec4 c = colours[kind];
  vec2 g = (abs(facing.z) > 0.5 ? place.xy : vec2(place.x + place.y, place.z)) / grain;
  float h = 0.0;
  if (kind == 4) h = rule(g.x + g.y, 0.13);
  else if (kind == 5) h = rule(g.x * 1.2, 0.13);
  else if (kind == 6) h = 0.45 * rule(g.y * 0.5, 0.05);
  else if (kind == 9) h = 0.7 * max(rule(g.x * 0.7 + g.y * 0.7, 0.09), rule(g.x * 0.7 - g.y * 0.7, 0.09));
  else if (kind == 3) h = rule(g.x, 0.25);
  else if (kind == 8) h = length(fract(g * 0.9) - 0.5) < 0.2 ? 1.0 : 0.0;
  vec3 ink = kind == 3 || kind == 9 ? mix(c.rgb, under.rgb, 0.55) : kind == 8 ? c.rgb : colours[2].rgb;
  if (kind == 8) c.a = max(c.a, h); else c.rgb = mix(c.rgb, ink, h);
  if (dot(facing, facing) > 0.01) {
    vec3 n = normalize(facing); if (dot(n, eye) < 0.0) n = -n;
    c.rgb *= mix(0.62, 1.06, clamp(dot(n, light), 0.0, 1.0));
  }
  for (int i = 0; i < 10; i++) if (lit[i] >= 0.0 && abs(lit[i] - what) < 0.5 && kind != 12) c = vec4(mix(c.rgb, colours[15].rgb, 0.6), max(c.a, 0.6));
  colour = vec4(c.rgb * c.a, c.a);
}`];

// Nearer to the eye by this much, of the depth that is drawn, is what is laid on something: more than single
// precision loses, less than can be seen.
const LAY = 5e-5;

/** A vector's arithmetic, in threes. */
const dot3 = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

class Renderer {
  /** Throws where the browser gives no WebGL. */
  constructor(canvas) {
    const gl = canvas.getContext('webgl2', { stencil: true, antialias: true, alpha: true, premultipliedAlpha: true });
    if (!gl) throw new Error('no WebGL');
    this.gl = gl;
    this.canvas = canvas;
    this.program = lib.createProgramInfo(gl, SHADERS, (text) => { this.fault = text; });
    if (!this.program) throw new Error(this.fault);
    this.colours = new Float32Array(4 * ROLES.length);
    this.lit = new Float32Array(10).fill(-1);
  }

  buffer(mesh, old) {
    if (old) for (const a of Object.values(old.info.attribs)) this.gl.deleteBuffer(a.buffer);
    if (old) this.gl.deleteVertexArray(old.array.vertexArrayObject);
    const data = mesh.data.subarray(0, mesh.count * Mesh.WIDE);
    const buffer = this.gl.createBuffer();
    this.gl.bindBuffer(this.gl.ARRAY_BUFFER, buffer);
    this.gl.bufferData(this.gl.ARRAY_BUFFER, data, this.gl.STATIC_DRAW);
    const of = (numComponents, offset) => ({ buffer, numComponents, type: this.gl.FLOAT, stride: 4 * Mesh.WIDE, offset: 4 * offset });
    const info = { attribs: { position: of(3, 0), normal: of(3, 3), role: of(1, 6), item: of(1, 7) }, numElements: mesh.count };
    return { info, array: lib.createVertexArrayInfo(this.gl, this.program, info) };
  }

  /** Takes a built board; the buffers of the one before are given back. */
  load(built) {
    this.built = built;
    this.solid = this.buffer(built.solid, this.solid);
    this.lines = this.buffer(built.lines, this.lines);
  }

  /** Takes the faces of a cut, or none. */
  loadCut(mesh) {
    this.cap = mesh && this.buffer(mesh, this.cap);
  }

  use(what) {
    this.gl.bindVertexArray(what.array.vertexArrayObject);
  }

  run([first, count], lift = 0, mode = this.gl.TRIANGLES) {
    if (count <= 0) return;
    if (lift !== this.lifted) {
      this.lifted = lift;
      this.gl.uniform1f(this.liftAt, lift);
    }
    this.gl.drawArrays(mode, first, count);
  }

  /** Draws everything, to the canvas or, for picking, to the frame buffer that is bound. */
  draw(camera, picking = 0) {
    const { gl, built } = this;
    gl.useProgram(this.program.program);
    lib.setUniforms(this.program, {
      camera: camera.matrix, colours: this.colours, cut: camera.cut, eye: camera.eye, light: camera.light, grain: camera.grain,
      lit: this.lit, picking, under: this.colours.subarray(4 * ROLE.ground, 4 * ROLE.ground + 4),
    });
    this.liftAt ??= gl.getUniformLocation(this.program.program, 'lift');
    this.lifted = undefined;
    gl.clearColor(0, 0, 0, 0);
    gl.clearStencil(0);
    gl.depthMask(true);
    gl.stencilMask(255);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT | gl.STENCIL_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    gl.disable(gl.STENCIL_TEST);
    gl[picking ? 'disable' : 'enable'](gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    this.use(this.solid);
    this.run([0, built.core]);
    this.run(built.walls, LAY);
    this.face(built.faces[camera.eye[2] >= 0 ? 0 : 1], picking);
    if (this.cap) {
      this.use(this.cap);
      lib.setUniforms(this.program, { cut: [0, 0, 0, 0] });
      this.run([0, this.cap.info.numElements], LAY);
      lib.setUniforms(this.program, { cut: camera.cut });
    }
    if (!picking) {
      this.use(this.lines);
      this.run([0, built.rims], 2 * LAY + 0.6 / camera.k * camera.perMM, gl.LINES);
      if (camera.fielded) this.run([built.rims, built.lines.count - built.rims], 2 * LAY, gl.LINES);
    }
    gl.bindVertexArray(null);
  }

  /** A face: 1 in the stencil is board, 2 a tab, bit 4 a plane, bit 8 where mask is off. */
  face(face, picking) {
    const { gl } = this;
    gl.enable(gl.STENCIL_TEST);
    this.mark(face.outline, 1, 255);
    this.mark(face.cutouts, 0, 255);
    this.mark(face.tabs, 2, 255);
    this.mark(face.holes, 0, 255);
    gl.stencilMask(0);
    gl.stencilOp(gl.KEEP, gl.KEEP, gl.KEEP);
    this.where(1, 3);
    this.run(face.outline);
    this.where(2, 3);
    this.run(face.tabs);
    gl.depthMask(false);
    for (const p of face.planes) {
      this.mark(p.shape, 4, 4);
      this.mark(p.less, 0, 4);
      this.where(5, 7);
      this.run(p.shape, LAY);
      this.mark(p.shape, 0, 4);
    }
    this.where(1, 3);
    for (const range of face.laid) this.run(range, LAY);
    if (face.openings[1] > 0) {
      this.mark(face.openings, 8, 8);
      this.where(1, 11);
      if (!picking) this.run(face.mask, LAY);
      this.where(9, 11);
      this.run(face.openings, LAY);
    }
    gl.depthMask(true);
    gl.disable(gl.STENCIL_TEST);
  }

  where(value, bits) {
    this.gl.stencilMask(0);
    this.gl.stencilFunc(this.gl.EQUAL, value, bits);
    this.gl.stencilOp(this.gl.KEEP, this.gl.KEEP, this.gl.KEEP);
  }

  /** Writes a value into bits of the stencil where a shape is, seen or not. */
  mark(range, value, bits) {
    const { gl } = this;
    gl.stencilMask(bits);
    gl.stencilFunc(gl.ALWAYS, value, 255);
    gl.stencilOp(gl.REPLACE, gl.REPLACE, gl.REPLACE);
    gl.colorMask(false, false, false, false);
    gl.disable(gl.DEPTH_TEST);
    this.run(range);
    gl.enable(gl.DEPTH_TEST);
    gl.colorMask(true, true, true, true);
  }

  /** The item under a point of the canvas in its own pixels, from above, and its depth in 0 to 1. */
  pick(camera, x, y) {
    const { gl, canvas } = this;
    if (!this.spare || this.spare.w !== canvas.width || this.spare.h !== canvas.height) this.spare = this.target(canvas.width, canvas.height);
    gl.bindFramebuffer(gl.FRAMEBUFFER, this.spare.frame);
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.enable(gl.SCISSOR_TEST);
    gl.scissor(x, canvas.height - 1 - y, 1, 1);
    const read = (what) => {
      this.draw(camera, what);
      const p = new Uint8Array(4);
      gl.readPixels(x, canvas.height - 1 - y, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, p);
      return p[0] | p[1] << 8 | p[2] << 16;
    };
    const item = read(1) - 1;
    const depth = item >= 0 ? read(2) / 16777215 : 1;
    gl.disable(gl.SCISSOR_TEST);
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    return { item, depth };
  }

  target(w, h) {
    const { gl } = this;
    if (this.spare) {
      gl.deleteFramebuffer(this.spare.frame);
      this.spare.parts.forEach((r) => gl.deleteRenderbuffer(r));
    }
    const frame = gl.createFramebuffer();
    gl.bindFramebuffer(gl.FRAMEBUFFER, frame);
    const parts = [[gl.RGBA8, gl.COLOR_ATTACHMENT0], [gl.DEPTH24_STENCIL8, gl.DEPTH_STENCIL_ATTACHMENT]].map(([format, at]) => {
      const r = gl.createRenderbuffer();
      gl.bindRenderbuffer(gl.RENDERBUFFER, r);
      gl.renderbufferStorage(gl.RENDERBUFFER, format, w, h);
      gl.framebufferRenderbuffer(gl.FRAMEBUFFER, at, gl.RENDERBUFFER, r);
      return r;
    });
    return { frame, parts, w, h };
  }

  paint(camera) {
    const { gl, canvas } = this;
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    gl.viewport(0, 0, canvas.width, canvas.height);
    this.draw(camera);
  }
}
