// The panels as a thing on the page: fetches what is in view, draws it, and follows hand, wheel and keys.
import { h, fill } from "../dom.js";
import { get, path } from "../api.js";
import { t } from "../strings.js";
import { canvasPen, svgPen } from "./pen.js";
import { colours } from "./colours.js";
import { draw, heightOf, panelsOf, valuesAt, clockLabel, GUTTER } from "./scene.js";

const RIGHT = 10;
const OVERVIEW = 46;
const SHORTEST_S = 0.5;
const FETCH_AFTER_MS = 60;

export class Panels {
  /** @param {HTMLElement} element @param {any} meta @param {{zone: string, signal: AbortSignal, start: [number, number]|null}} options */
  constructor(element, meta, options) {
    this.element = element;
    this.options = options;
    /** @type {import("./scene.js").Voice[]} */
    this.voices = [{ meta, offsetS: 0, data: null, whole: null }];
    const [fromS, toS] = options.start ? this.padded(options.start[0], options.start[1], meta.durationS) : [0, meta.durationS];
    /** @type {import("./scene.js").View} */
    this.view = { fromS, toS, clock: "release", zone: options.zone, cursorS: null, select: null };
    this.canvas = h("canvas", { class: "plot", tabindex: 0, role: "img", "aria-label": t.recording.plotLabel(meta.animal), "aria-describedby": "plot-values" });
    this.strip = h("canvas", { class: "strip", role: "img", "aria-label": t.recording.stripLabel });
    this.readout = h("dl", { class: "readout", id: "plot-values" });
    /** @type {(() => void)|null} */
    this.onselect = null;
    this.timer = 0;
    this.pending = false;
    this.fetching = new AbortController();
    /** @type {Map<number, {x: number, y: number}>} */
    this.pointers = new Map();
  }

  get duration() {
    return this.voices[0].meta.durationS;
  }

  async begin() {
    fill(this.element, this.strip, this.canvas, this.readout);
    const { signal } = this.options;
    new ResizeObserver(() => this.resized()).observe(this.element);
    window.addEventListener("aftercast-theme", () => this.resized(), { signal });
    this.listen();
    this.resized();
    for (const voice of this.voices) voice.whole = await this.window(voice, 0, voice.meta.durationS, 1600, signal);
    this.redraw();
    await this.fetch();
    this.element.dataset.ready = "yes";
  }

  /** @param {any} meta */
  async compare(meta) {
    this.voices.length = 1;
    if (meta) {
      const mine = this.voices[0].meta.reading?.release.atS ?? 0;
      const theirs = meta.reading?.release.atS ?? 0;
      const voice = { meta, offsetS: theirs - mine, data: null, whole: null };
      voice.whole = await this.window(voice, 0, meta.durationS, 1600, this.options.signal);
      this.voices.push(voice);
    }
    this.resized();
    await this.fetch();
  }

  /** @param {import("./scene.js").Voice} voice @param {number} fromS @param {number} toS @param {number} columns @param {AbortSignal} signal */
  window(voice, fromS, toS, columns, signal) {
    return get(`${path`/api/animals/${voice.meta.animal}/window`}?key=${encodeURIComponent(voice.meta.key)}&fromS=${fromS}&toS=${toS}&columns=${columns}`, { signal });
  }

  resized() {
    const ratio = Math.min(2, window.devicePixelRatio || 1);
    const width = Math.max(280, this.element.clientWidth);
    const height = heightOf(panelsOf(this.voices[0].meta), this.voices.length);
    for (const [canvas, hgt] of /** @type {[HTMLCanvasElement, number][]} */ ([[this.canvas, height], [this.strip, OVERVIEW]])) {
      canvas.width = Math.round(width * ratio);
      canvas.height = Math.round(hgt * ratio);
      canvas.style.width = `${width}px`;
      canvas.style.height = `${hgt}px`;
      canvas.getContext("2d")?.setTransform(ratio, 0, 0, ratio, 0, 0);
    }
    this.width = width;
    this.colours = colours();
    this.redraw();
    this.later();
  }

  redraw() {
    if (this.pending) return;
    this.pending = true;
    requestAnimationFrame(() => {
      this.pending = false;
      this.paint();
    });
  }

  paint() {
    const ctx = this.canvas.getContext("2d");
    if (!ctx || !this.colours) return;
    const began = performance.now();
    const height = draw(canvasPen(ctx), /** @type {number} */ (this.width), this.voices, this.view, this.colours);
    this.paintCursor(ctx, height);
    this.paintStrip();
    this.paintMs = performance.now() - began;
    // How often it is drawn can be seen from outside (bench/pages).
    this.element.dataset.paints = String(Number(this.element.dataset.paints ?? 0) + 1);
  }

  /** @param {CanvasRenderingContext2D} ctx @param {number} height */
  paintCursor(ctx, height) {
    const { cursorS } = this.view;
    const c = /** @type {Record<string, string>} */ (this.colours);
    if (cursorS !== null && cursorS >= this.view.fromS && cursorS <= this.view.toS) {
      canvasPen(ctx).line([this.x(cursorS), 16, this.x(cursorS), height - 24], c.cursor, 1);
    }
    const at = cursorS ?? (this.view.fromS + this.view.toS) / 2;
    const step = (this.view.toS - this.view.fromS) / 2000;
    const rows = [[t.recording.at, clockLabel(at, Math.min(1, step), this.view, this.voices[0].meta)]];
    const bout = (this.voices[0].meta.reading?.bouts ?? []).find((/** @type {any} */ b) => at >= b.startS && at < b.endS);
    if (bout) rows.push([t.recording.doing, t.recording.kinds[bout.kind]]);
    for (const voice of this.voices) {
      for (const [name, value] of Object.entries(valuesAt(voice, at))) {
        const label = t.recording.series[name] ?? name;
        const unit = voice.data?.series[name]?.unit ?? voice.whole?.series[name]?.unit ?? "";
        rows.push([this.voices.length > 1 ? `${voice.meta.animal} ${label}` : label, value === "–" ? value : `${value} ${unit}`]);
      }
    }
    fill(this.readout, rows.map(([label, value]) => h("div", null, h("dt", null, label), h("dd", { class: "num" }, value))));
  }

  /** The whole record small, with the view in it. */
  paintStrip() {
    const ctx = this.strip.getContext("2d");
    if (!ctx) return;
    const c = /** @type {Record<string, string>} */ (this.colours);
    const pen = canvasPen(ctx);
    const width = /** @type {number} */ (this.width);
    const w = width - GUTTER - RIGHT;
    pen.box(0, 0, width, OVERVIEW, c.paper);
    pen.box(GUTTER, 0, w, OVERVIEW, c.sheet);
    const X = (/** @type {number} */ s) => GUTTER + (s / this.duration) * w;
    for (const night of this.voices[0].meta.nights) pen.box(X(night.startS), 0, X(night.endS) - X(night.startS), OVERVIEW, c.nightShade);
    const whole = this.voices[0].whole;
    const name = ["depth", "pressure", "sway", "accXG"].find((n) => whole?.series[n]?.min);
    if (whole && name) {
      const { min, max } = whole.series[name];
      let lo = Infinity;
      let hi = -Infinity;
      for (let i = 0; i < min.length; i++) {
        if (min[i] === null) continue;
        lo = Math.min(lo, min[i]);
        hi = Math.max(hi, max[i]);
      }
      const down = name === "depth" || name === "pressure";
      const Y = (/** @type {number} */ v) => 3 + (down ? (v - lo) / (hi - lo || 1) : 1 - (v - lo) / (hi - lo || 1)) * (OVERVIEW - 6);
      const bars = [];
      for (let i = 0; i < min.length; i++) {
        if (min[i] === null) continue;
        const a = Math.min(Y(min[i]), Y(max[i]));
        bars.push(X((i / min.length) * this.duration), a, Math.max(1, w / min.length), Math.max(1, Math.abs(Y(min[i]) - Y(max[i]))));
      }
      pen.bars(bars, c.plotSoft);
    }
    const a = X(Math.max(0, this.view.fromS));
    const b = X(Math.min(this.duration, this.view.toS));
    pen.frame(a, 1, Math.max(2, b - a), OVERVIEW - 3, c.ink);
    pen.box(a, 0, Math.max(2, b - a), 3, c.plot2);
    pen.text(GUTTER - 6, 20, t.recording.wholeWord, c.faint, 11, "right");
  }

  later() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.fetch(), FETCH_AFTER_MS);
  }

  /** Fetches the view with half a view to either side, so that panning finds something. */
  async fetch() {
    this.fetching.abort();
    this.fetching = new AbortController();
    this.options.signal.addEventListener("abort", () => this.fetching.abort(), { once: true });
    const { signal } = this.fetching;
    const length = this.view.toS - this.view.fromS;
    const px = Math.max(200, /** @type {number} */ (this.width) - GUTTER - RIGHT) * Math.min(2, window.devicePixelRatio || 1);
    try {
      const answers = await Promise.all(this.voices.map((voice) => {
        const from = Math.max(0, this.view.fromS + voice.offsetS - length / 2);
        const to = Math.min(voice.meta.durationS, this.view.toS + voice.offsetS + length / 2);
        if (to <= from) return Promise.resolve(null);
        return this.window(voice, from, to, Math.max(50, Math.round((px * (to - from)) / length)), signal);
      }));
      answers.forEach((data, i) => { if (this.voices[i]) this.voices[i].data = data; });
      this.redraw();
      this.element.dataset.shown = `${this.view.fromS.toFixed(3)}-${this.view.toS.toFixed(3)}`;
    } catch (failure) {
      if (/** @type {any} */ (failure).name !== "AbortError") {
        fill(this.readout, h("div", { class: "problem", role: "alert" }, /** @type {any} */ (failure).message));
      }
    }
  }

  /** @param {number} s */
  x(s) {
    return GUTTER + ((s - this.view.fromS) / (this.view.toS - this.view.fromS)) * (/** @type {number} */ (this.width) - GUTTER - RIGHT);
  }

  /** @param {number} x */
  s(x) {
    return this.view.fromS + ((x - GUTTER) / (/** @type {number} */ (this.width) - GUTTER - RIGHT)) * (this.view.toS - this.view.fromS);
  }

  /** Moves the view; stays within the record. @param {number} fromS @param {number} toS */
  set(fromS, toS) {
    const length = Math.min(this.duration, Math.max(SHORTEST_S, toS - fromS));
    const from = Math.min(Math.max(0, fromS), this.duration - length);
    this.view.fromS = from;
    this.view.toS = from + length;
    this.redraw();
    this.later();
  }

  /** @param {number} factor @param {number} [aroundS] */
  zoom(factor, aroundS) {
    const { fromS, toS } = this.view;
    const around = aroundS ?? (this.view.cursorS !== null && this.view.cursorS > fromS && this.view.cursorS < toS ? this.view.cursorS : (fromS + toS) / 2);
    this.set(around - (around - fromS) * factor, around + (toS - around) * factor);
  }

  /** @param {number} share */
  pan(share) {
    const by = (this.view.toS - this.view.fromS) * share;
    this.set(this.view.fromS + by, this.view.toS + by);
  }

  /** So many seconds about the cursor, or the middle; 0 for all. @param {number} seconds */
  span(seconds) {
    if (seconds === 0) return this.set(0, this.duration);
    const around = this.view.cursorS ?? (this.view.fromS + this.view.toS) / 2;
    return this.set(around - seconds / 2, around + seconds / 2);
  }

  /** Shows a stretch with a little around it. @param {number} a @param {number} b */
  show(a, b) {
    const [from, to] = this.padded(a, b, this.duration);
    this.view.cursorS = (a + b) / 2;
    this.set(from, to);
  }

  /** @param {number} a @param {number} b @param {number} duration @returns {[number, number]} */
  padded(a, b, duration) {
    const pad = Math.max((b - a) * 0.3, 2);
    return [Math.max(0, a - pad), Math.min(duration, b + pad)];
  }

  /** @param {string} name */
  setClock(name) {
    this.view.clock = name;
    this.redraw();
  }

  /** @param {any[]} marks */
  setMarks(marks) {
    this.voices[0].meta.marks = marks;
    this.redraw();
  }

  /** @returns {[number, number]|null} */
  selection() {
    const s = this.view.select;
    return s ? [Math.max(0, Math.min(...s)), Math.min(this.duration, Math.max(...s))] : null;
  }

  /** @param {number} a @param {number} b */
  select(a, b) {
    this.view.select = [a, b];
    this.redraw();
    this.onselect?.();
  }

  clearSelection() {
    this.view.select = null;
    this.onselect = null;
    this.redraw();
  }

  /** The middle third of the view. @returns {[number, number]} */
  middle() {
    const third = (this.view.toS - this.view.fromS) / 3;
    return [this.view.fromS + third, this.view.toS - third];
  }

  listen() {
    const { canvas, strip } = this;
    const at = (/** @type {PointerEvent|WheelEvent|MouseEvent} */ e) => e.clientX - canvas.getBoundingClientRect().left;
    canvas.addEventListener("wheel", (/** @type {WheelEvent} */ e) => {
      e.preventDefault();
      if (Math.abs(e.deltaX) > Math.abs(e.deltaY) || e.shiftKey) this.pan((e.deltaX || e.deltaY) / 800);
      else this.zoom(Math.exp(Math.max(-200, Math.min(200, e.deltaY)) / 300), this.s(at(e)));
    }, { passive: false });
    canvas.addEventListener("pointerdown", (/** @type {PointerEvent} */ e) => {
      canvas.setPointerCapture(e.pointerId);
      this.pointers.set(e.pointerId, { x: at(e), y: e.clientY });
      if (e.shiftKey || this.onselect) this.view.select = [this.s(at(e)), this.s(at(e))];
      this.selecting = e.shiftKey || this.onselect !== null;
    });
    canvas.addEventListener("pointermove", (/** @type {PointerEvent} */ e) => {
      const before = this.pointers.get(e.pointerId);
      const x = at(e);
      if (!before) {
        this.view.cursorS = this.s(x);
        this.redraw();
        return;
      }
      if (this.selecting && this.view.select) {
        this.select(this.view.select[0], this.s(x));
      } else if (this.pointers.size === 1) {
        const by = this.s(before.x) - this.s(x);
        this.set(this.view.fromS + by, this.view.toS + by);
      } else {
        const other = [...this.pointers].find(([id]) => id !== e.pointerId)?.[1];
        if (other) {
          const was = Math.max(20, Math.abs(before.x - other.x));
          const now = Math.max(20, Math.abs(x - other.x));
          this.zoom(was / now, this.s(other.x));
        }
      }
      this.pointers.set(e.pointerId, { x, y: e.clientY });
    });
    for (const kind of ["pointerup", "pointercancel"]) {
      canvas.addEventListener(kind, (/** @type {PointerEvent} */ event) => {
        const e = /** @type {PointerEvent} */ (event);
        this.pointers.delete(e.pointerId);
        if (this.selecting && !this.onselect && this.view.select) {
          const [a, b] = /** @type {[number, number]} */ (this.selection());
          this.view.select = null;
          if (b - a > SHORTEST_S / 4) this.set(a, b);
        }
        this.selecting = false;
      });
    }
    canvas.addEventListener("dblclick", (/** @type {MouseEvent} */ e) => this.zoom(0.4, this.s(at(e))));
    canvas.addEventListener("keydown", (/** @type {KeyboardEvent} */ e) => this.key(e));
    const jump = (/** @type {PointerEvent} */ e) => {
      const share = (e.clientX - strip.getBoundingClientRect().left - GUTTER) / (/** @type {number} */ (this.width) - GUTTER - RIGHT);
      const half = (this.view.toS - this.view.fromS) / 2;
      this.set(share * this.duration - half, share * this.duration + half);
    };
    strip.addEventListener("pointerdown", (/** @type {PointerEvent} */ e) => { strip.setPointerCapture(e.pointerId); jump(e); });
    strip.addEventListener("pointermove", (/** @type {PointerEvent} */ e) => { if (e.buttons) jump(e); });
  }

  /** @param {KeyboardEvent} e */
  key(e) {
    const step = (this.view.toS - this.view.fromS) / 100;
    const keys = /** @type {Record<string, () => void>} */ ({
      ArrowLeft: () => (e.shiftKey ? this.cursor(-step) : this.pan(-0.1)),
      ArrowRight: () => (e.shiftKey ? this.cursor(step) : this.pan(0.1)),
      "+": () => this.zoom(0.6), "=": () => this.zoom(0.6), "-": () => this.zoom(1 / 0.6),
      Home: () => this.set(0, this.view.toS - this.view.fromS),
      End: () => this.set(this.duration, this.duration + this.view.toS - this.view.fromS),
      0: () => this.set(0, this.duration),
      n: () => this.event(1), p: () => this.event(-1),
    });
    const action = keys[e.key];
    if (!action || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    action();
  }

  /** @param {number} by */
  cursor(by) {
    this.view.cursorS = (this.view.cursorS ?? (this.view.fromS + this.view.toS) / 2) + by;
    this.redraw();
  }

  /** The next or previous event. @param {number} way */
  event(way) {
    const events = this.voices[0].meta.reading?.events ?? [];
    const now = this.view.cursorS ?? (this.view.fromS + this.view.toS) / 2;
    const next = way > 0 ? events.find((/** @type {any} */ e) => e.atS > now + 0.5) : [...events].reverse().find((/** @type {any} */ e) => e.atS < now - 0.5);
    if (!next) return;
    const half = Math.min(this.duration, this.view.toS - this.view.fromS) / 2;
    this.view.cursorS = next.atS;
    this.set(next.atS - half, next.atS + half);
  }

  /** The view as a picture. @param {"svg"|"png"} kind @returns {Promise<Blob|null>} */
  async picture(kind) {
    const width = /** @type {number} */ (this.width);
    const c = /** @type {Record<string, string>} */ (this.colours);
    const height = heightOf(panelsOf(this.voices[0].meta), this.voices.length);
    if (kind === "svg") {
      const pen = svgPen(width, height, t.recording.title(this.voices[0].meta.animal));
      draw(pen, width, this.voices, this.view, c);
      return new Blob([pen.finish()], { type: "image/svg+xml" });
    }
    const canvas = document.createElement("canvas");
    canvas.width = width * 2;
    canvas.height = height * 2;
    const ctx = canvas.getContext("2d");
    if (!ctx) return null;
    ctx.scale(2, 2);
    draw(canvasPen(ctx), width, this.voices, this.view, c);
    return new Promise((done) => canvas.toBlob(done, "image/png"));
  }
}
