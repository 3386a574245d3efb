// The linked panels over one time axis, drawn with either pen.
import { drawBout, drawEvent } from "./ribbon.js";
import { elapsed } from "../times.js";
import { t } from "../strings.js";

/** @typedef {import("./pen.js").Pen} Pen */
/** @typedef {{fromS: number, toS: number, columns: number, series: Record<string, any>, beats: any}} Data */
/**
 * One animal in the picture.
 * @typedef {{meta: any, offsetS: number, data: Data|null, whole: Data|null}} Voice
 */
/** @typedef {{fromS: number, toS: number, clock: string, zone: string, cursorS: number|null, select: [number, number]|null}} View */

export const GUTTER = 58;
const RIGHT = 10;
const RIBBON = 34;
const AXIS = 26;
const HEAD = 22;
const GAP = 8;
const LABEL = 15;

/** Which panels there are for a recording. @param {any} meta */
export function panelsOf(meta) {
  const all = [
    { key: "depth", series: ["depth"], height: 120, down: true },
    { key: "pressure", series: ["pressure"], height: 120, down: true },
    { key: "sway", series: ["sway"], height: 110, even: true, beats: true },
    { key: "accXG", series: ["accXG"], height: 80 }, { key: "accYG", series: ["accYG"], height: 80 }, { key: "accZG", series: ["accZG"], height: 80 },
    { key: "beatHz", series: ["beatHz"], height: 80, zero: true },
    { key: "activity", series: ["activity"], height: 70, zero: true },
    { key: "posture", series: ["pitch", "roll"], height: 90, fixed: [-180, 180] },
    { key: "temperature", series: ["temperature"], height: 70 },
  ];
  const have = new Set(meta.tracks);
  if (meta.reading) ["beatHz", "activity", "pitch"].forEach((name) => have.add(name));
  return all.filter((panel) => have.has(panel.series[0]));
}

/** @param {any[]} panels @param {number} voices */
export function heightOf(panels, voices) {
  return HEAD + voices * (RIBBON + GAP) + panels.reduce((sum, p) => sum + LABEL + p.height + 3, 0) + AXIS;
}

/**
 * @param {Pen} pen @param {number} width @param {Voice[]} voices @param {View} view @param {Record<string, string>} colours
 */
export function draw(pen, width, voices, view, colours) {
  const panels = panelsOf(voices[0].meta);
  const height = heightOf(panels, voices.length);
  const x0 = GUTTER;
  const w = width - GUTTER - RIGHT;
  const X = (/** @type {number} */ s) => x0 + ((s - view.fromS) / (view.toS - view.fromS)) * w;
  pen.box(0, 0, width, height, colours.sheet);
  const bottom = height - AXIS;
  const ticks = ticksOf(view, w, voices[0].meta);

  let y = HEAD;
  for (const [i, voice] of voices.entries()) {
    ribbon(pen, voice, i, X, x0, y, w, view, colours);
    y += RIBBON + GAP;
  }
  for (const panel of panels) {
    const top = y + LABEL;
    pen.clip(x0, top, w, panel.height, () => {
      ground(pen, voices[0], X, x0, top, w, panel.height, view, colours);
      for (const tick of ticks) pen.box(X(tick.s), top, 1, panel.height, colours.soft);
    });
    const range = rangeOf(panel, voices, view);
    const Y = (/** @type {number} */ v) => {
      const share = (v - range[0]) / (range[1] - range[0]);
      return top + (panel.down ? share : 1 - share) * panel.height;
    };
    scale(pen, panel, range, Y, top, x0, w, colours);
    pen.clip(x0, top, w, panel.height, () => {
      for (let i = voices.length - 1; i >= 0; i--) curves(pen, panel, voices[i], i, X, Y, colours, w, view);
    });
    pen.frame(x0, top, w, panel.height, colours.line);
    y = top + panel.height + 3;
  }
  lines(pen, voices, X, x0, w, bottom, view, colours);
  for (const tick of ticks) pen.text(X(tick.s), bottom + 16, tick.label, colours.faint, 12, "center");
  if (view.select) {
    const a = X(Math.min(...view.select));
    const b = X(Math.max(...view.select));
    pen.clip(x0, HEAD, w, bottom - HEAD, () => {
      pen.line([a, HEAD, a, bottom, NaN, NaN, b, HEAD, b, bottom], colours.plot2, 2, [6, 3]);
    });
  }
  return height;
}

/** Night and gaps behind everything. @param {Pen} pen @param {Voice} voice @param {(s: number) => number} X @param {number} x0 @param {number} top @param {number} w @param {number} h @param {View} view @param {Record<string, string>} colours */
function ground(pen, voice, X, x0, top, w, h, view, colours) {
  for (const night of voice.meta.nights) stretch(night, colours.nightShade);
  for (const gap of voice.meta.gaps) {
    stretch(gap, colours.gapFill);
    if (X(gap.endS) - X(gap.startS) > 24) pen.text((Math.max(x0, X(gap.startS)) + Math.min(x0 + w, X(gap.endS))) / 2, top + h / 2 + 4, t.recording.gap, colours.faint, 11, "center");
  }
  /** @param {{startS: number, endS: number}} part @param {string} fill */
  function stretch(part, fill) {
    if (part.endS < view.fromS || part.startS > view.toS) return;
    pen.box(X(part.startS), top, Math.max(1, X(part.endS) - X(part.startS)), h, fill);
  }
}

/** @param {Pen} pen @param {Voice} voice @param {number} index @param {(s: number) => number} X @param {number} x0 @param {number} y @param {number} w @param {View} view @param {Record<string, string>} colours */
function ribbon(pen, voice, index, X, x0, y, w, view, colours) {
  const at = (/** @type {number} */ s) => X(s - voice.offsetS);
  const name = voice.meta.animal;
  pen.text(x0 - 6, y + 21, name.length > 9 ? `${name.slice(0, 8)}…` : name, index === 0 ? colours.ink : colours.plot2, 12, "right", 700);
  pen.box(x0, y, w, RIBBON, colours.paper);
  pen.clip(x0, y - 14, w, RIBBON + 18, () => {
    let last = -Infinity;
    if (voice.meta.sight === "blind" && voice.meta.reading) pen.text(x0 + w / 2, y + 20, w > 420 ? t.recording.blindRibbon : t.recording.blindRibbonShort, colours.faint, 12, "center");
    for (const bout of voice.meta.reading?.bouts ?? []) {
      const a = Math.max(x0 - 4, at(bout.startS));
      const b = Math.min(x0 + w + 4, at(bout.endS));
      if (b < x0 || a > x0 + w) continue;
      drawBout(pen, bout.kind, a, y, Math.max(b - a, 0.6), RIBBON, colours);
    }
    for (const event of voice.meta.reading?.events ?? []) {
      const x = at(event.atS);
      if (x < x0 - 6 || x > x0 + w + 6 || x - last < 3) continue;
      last = x;
      drawEvent(pen, event.kind, x, y, colours);
    }
    for (const mark of voice.meta.marks) {
      const a = at(mark.startS);
      const b = Math.max(at(mark.endS), a + 3);
      if (b < x0 || a > x0 + w) continue;
      pen.line([a, y + RIBBON - 6, a, y + RIBBON + 3, b, y + RIBBON + 3, b, y + RIBBON - 6], colours.plot2, 2);
      pen.text((Math.max(a, x0) + Math.min(b, x0 + w)) / 2, y + RIBBON - 1, `${mark.number}`, colours.plot2, 11, "center", 700);
    }
  });
  pen.frame(x0, y, w, RIBBON, colours.line);
}

/** Release and detachment. @param {Pen} pen @param {Voice[]} voices @param {(s: number) => number} X @param {number} x0 @param {number} w @param {number} bottom @param {View} view @param {Record<string, string>} colours */
function lines(pen, voices, X, x0, w, bottom, view, colours) {
  const reading = voices[0].meta.reading;
  if (!reading) return;
  for (const [moment, word] of /** @type {[any, string][]} */ ([[reading.release, t.recording.released], [reading.detachment, t.recording.detached]])) {
    if (!moment || moment.how === "not-seen" || moment.atS < view.fromS || moment.atS > view.toS) continue;
    const x = X(moment.atS);
    pen.line([x, HEAD - 4, x, bottom], colours.ink, 1.2, [2, 3]);
    const right = x > x0 + w - 90;
    pen.text(right ? x - 4 : x + 4, 12, word, colours.ink, 11, right ? "right" : "left");
  }
}

/** @param {any} panel @param {Voice[]} voices @param {View} view @returns {[number, number]} */
function rangeOf(panel, voices, view) {
  if (panel.fixed) return panel.fixed;
  let lo = Infinity;
  let hi = -Infinity;
  for (const voice of voices) {
    const source = panel.down || !voice.data ? voice.whole : voice.data;
    if (!source) continue;
    for (const name of panel.series) {
      const series = source.series[name];
      if (!series) continue;
      const n = (series.min ?? series.values).length;
      for (let i = 0; i < n; i++) {
        const s = timeOf(source, series, i) - voice.offsetS;
        if (!panel.down && (s < view.fromS || s > view.toS)) continue;
        const a = series.min ? series.min[i] : series.values[i];
        const b = series.max ? series.max[i] : series.values[i];
        if (a === null) continue;
        if (a < lo) lo = a;
        if (b > hi) hi = b;
      }
    }
  }
  if (!(lo <= hi)) return [0, 1];
  if (panel.even) {
    const most = Math.max(Math.abs(lo), Math.abs(hi), 0.05);
    const step = nice(most / 2);
    return [-Math.ceil(most / step) * step, Math.ceil(most / step) * step];
  }
  if (panel.zero) lo = Math.min(0, lo);
  // A sensor that reads a little above the surface does not deserve half the panel.
  if (panel.down) lo = lo > -0.08 * (hi - lo) ? -0.02 * (hi - lo) : lo;
  const step = nice(Math.max(hi - lo, 1e-3) / 3);
  if (panel.down && lo > -step) return [lo, Math.ceil(hi / step) * step];
  return [Math.floor(lo / step) * step, Math.max(Math.ceil(hi / step) * step, Math.floor(lo / step) * step + step)];
}

/** @param {number} x */
function nice(x) {
  const power = 10 ** Math.floor(Math.log10(x));
  const lead = x / power;
  return (lead <= 1 ? 1 : lead <= 2 ? 2 : lead <= 5 ? 5 : 10) * power;
}

/** @param {Pen} pen @param {any} panel @param {[number, number]} range @param {(v: number) => number} Y @param {number} top @param {number} x0 @param {number} w @param {Record<string, string>} colours */
function scale(pen, panel, range, Y, top, x0, w, colours) {
  const step = panel.fixed ? 90 : nice((range[1] - range[0]) / 3);
  const digits = Math.max(0, Math.min(4, -Math.floor(Math.log10(step) + 1e-9)));
  for (let v = Math.ceil(range[0] / step - 1e-6) * step; v <= range[1] + step * 1e-6; v += step) {
    const y = Y(v);
    pen.box(x0, Math.round(y), w, 1, colours.soft);
    const label = Math.abs(v) < step / 1e6 ? "0" : v.toFixed(digits).replace("-", "−");
    pen.text(x0 - 6, Math.min(Math.max(y + 4, top + 9), top + panel.height), label, colours.faint, 11, "right");
  }
  const [name, unit] = t.recording.panels[panel.key];
  pen.text(x0, top - 4, unit ? `${name} (${unit})` : name, colours.ink, 12, "left", 700);
}

/** @param {Data} source @param {any} series @param {number} i */
function timeOf(source, series, i) {
  return series.min ? source.fromS + ((i + 0.5) * (source.toS - source.fromS)) / source.columns : series.startS + i * series.stepS;
}

/** @param {Pen} pen @param {any} panel @param {Voice} voice @param {number} index @param {(s: number) => number} X @param {(v: number) => number} Y @param {Record<string, string>} colours @param {number} w @param {View} view */
function curves(pen, panel, voice, index, X, Y, colours, w, view) {
  const close = voice.data;
  panel.series.forEach((/** @type {string} */ name, /** @type {number} */ k) => {
    const colour = index > 0 ? colours.plot2 : k === 0 ? colours.plot : colours.plotSoft;
    const parts = [];
    if (voice.whole && (!close || close.fromS - voice.offsetS > view.fromS || close.toS - voice.offsetS < view.toS)) parts.push({ data: voice.whole, but: close });
    if (close) parts.push({ data: close, but: null });
    for (const { data, but } of parts) curve(pen, data, but, name, voice, index, k, X, Y, colour, view);
  });
  if (panel.beats && voice.data) beatEnvelope(pen, voice, index, X, Y, colours, w, view);
}

/** @param {Pen} pen @param {Data} data @param {Data|null} but @param {string} name @param {Voice} voice @param {number} index @param {number} k @param {(s: number) => number} X @param {(v: number) => number} Y @param {string} colour @param {View} view */
function curve(pen, data, but, name, voice, index, k, X, Y, colour, view) {
  const series = data.series[name];
  if (!series) return;
  const shift = voice.offsetS;
  const outside = (/** @type {number} */ s) => s - shift < view.fromS - data.columns * 1e-9 - (data.toS - data.fromS) / data.columns || s - shift > view.toS + (data.toS - data.fromS) / data.columns || (but !== null && s >= but.fromS && s <= but.toS);
  if (series.min) {
    const step = (data.toS - data.fromS) / data.columns;
    const width = Math.max(1, X(step) - X(0));
    /** @type {number[]} */
    const bars = [];
    /** @type {number[]} */
    const points = [];
    let before = null;
    for (let i = 0; i < series.min.length; i++) {
      const s = data.fromS + i * step;
      const lo = series.min[i];
      const hi = series.max[i];
      if (lo === null || outside(s)) {
        before = null;
        if (index > 0) points.push(NaN, NaN);
        continue;
      }
      const x = X(s - shift);
      if (index > 0) {
        points.push(x, Y((lo + hi) / 2));
        continue;
      }
      // Join to the neighbour so that a steep curve has no holes.
      const a = before ? Math.min(lo, before[1]) : lo;
      const b = before ? Math.max(hi, before[0]) : hi;
      const top = Math.min(Y(a), Y(b));
      bars.push(x, top - 0.5, width, Math.max(1.2, Math.abs(Y(a) - Y(b)) + 1));
      before = [lo, hi];
    }
    if (index > 0) pen.line(points, colour, 1.4, [5, 2]);
    else pen.bars(bars, colour);
    return;
  }
  /** @type {number[]} */
  const points = [];
  for (let i = 0; i < series.values.length; i++) {
    const v = series.values[i];
    points.push(X(series.startS + i * series.stepS - shift), v === null ? NaN : Y(v));
  }
  pen.line(points, colour, 1.5, index > 0 ? [5, 2] : k > 0 ? [2, 2] : undefined);
  const lone = [];
  for (let i = 0; i < points.length; i += 2) {
    if (!Number.isNaN(points[i + 1]) && (X(series.stepS) - X(0) > 5 || (Number.isNaN(points[i - 1] ?? NaN) && Number.isNaN(points[i + 3] ?? NaN)))) lone.push(points[i] - 1.5, points[i + 1] - 1.5, 3, 3);
  }
  pen.bars(lone, colour);
}

/** The beats' amplitude as an envelope: beat by beat when close, else the greatest a column. @param {Pen} pen @param {Voice} voice @param {number} index @param {(s: number) => number} X @param {(v: number) => number} Y @param {Record<string, string>} colours @param {number} w @param {View} view */
function beatEnvelope(pen, voice, index, X, Y, colours, w, view) {
  const { data, offsetS } = voice;
  if (!data || index > 0) return;
  const beats = data.beats;
  if (beats) {
    /** @type {number[]} */
    const upper = [];
    /** @type {number[]} */
    const lower = [];
    const ticks = [];
    for (let i = 0; i < beats.startS.length; i++) {
      const a = X(beats.startS[i] - offsetS);
      const b = X(beats.startS[i] + beats.periodS[i] - offsetS);
      if (i > 0 && beats.startS[i] - (beats.startS[i - 1] + beats.periodS[i - 1]) > 0.02) {
        upper.push(NaN, NaN);
        lower.push(NaN, NaN);
      }
      upper.push(a, Y(beats.amplitudeG[i]), b, Y(beats.amplitudeG[i]));
      lower.push(a, Y(-beats.amplitudeG[i]), b, Y(-beats.amplitudeG[i]));
      if (b - a > 4) ticks.push(a, Y(0) - 4, 1.5, 8);
    }
    pen.line(upper, colours.plot2, 1.5);
    pen.line(lower, colours.plot2, 1.5);
    pen.bars(ticks, colours.plot2);
    return;
  }
  const amplitude = data.series.beatAmplitude;
  if (!amplitude?.max) return;
  const step = (data.toS - data.fromS) / data.columns;
  for (const sign of [1, -1]) {
    /** @type {number[]} */
    const points = [];
    for (let i = 0; i < amplitude.max.length; i++) {
      const s = data.fromS + (i + 0.5) * step - offsetS;
      if (s < view.fromS || s > view.toS) continue;
      points.push(X(s), amplitude.max[i] === null ? NaN : Y(sign * amplitude.max[i]));
    }
    pen.line(points, colours.plot2, 1.2);
  }
}

const STEPS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10800, 21600, 43200, 86400, 172800];

/** @param {View} view @param {number} w @param {any} meta */
function ticksOf(view, w, meta) {
  const wanted = ((view.toS - view.fromS) / w) * 95;
  const step = STEPS.find((s) => s >= wanted) ?? STEPS[STEPS.length - 1];
  const zero = zeroOf(view, meta);
  const ticks = [];
  for (let s = Math.ceil((view.fromS - zero) / step) * step + zero; s <= view.toS; s += step) ticks.push({ s, label: clockLabel(s, step, view, meta) });
  return ticks;
}

/** Where ticks are counted from: the release, or local midnight. @param {View} view @param {any} meta */
function zeroOf(view, meta) {
  if (view.clock === "release" || !meta.startUtc) return meta.reading?.release.atS ?? 0;
  const start = Date.parse(meta.startUtc);
  const zone = view.clock === "utc" ? "UTC" : view.zone;
  const parts = Object.fromEntries(new Intl.DateTimeFormat("en-GB", { timeZone: zone, hour: "2-digit", minute: "2-digit", second: "2-digit", hourCycle: "h23" }).formatToParts(new Date(start)).map((p) => [p.type, Number(p.value)]));
  return -(parts.hour * 3600 + parts.minute * 60 + parts.second + (start % 1000) / 1000);
}

/** @param {number} s seconds from the first sample @param {number} step @param {View} view @param {any} meta */
export function clockLabel(s, step, view, meta) {
  if (view.clock === "release" || !meta.startUtc) return elapsed(s - (meta.reading?.release.atS ?? 0), step);
  const at = new Date(Date.parse(meta.startUtc) + Math.round(s * 1000));
  const zone = view.clock === "utc" ? "UTC" : view.zone;
  const options = /** @type {Intl.DateTimeFormatOptions} */ ({ timeZone: zone, hourCycle: "h23", hour: "2-digit", minute: "2-digit" });
  if (step < 60) options.second = "2-digit";
  if (step < 1) options.fractionalSecondDigits = step < 0.1 ? 2 : 1;
  const time = new Intl.DateTimeFormat("en-GB", options).format(at);
  const midnight = /^00:00(:00)?/.test(time);
  return step >= 86400 || (midnight && step >= 3600) ? new Intl.DateTimeFormat("en-GB", { timeZone: zone, day: "numeric", month: "short" }).format(at) : time;
}

/** The value of each series at a time. @param {Voice} voice @param {number} s seconds of the view @returns {Record<string, string>} */
export function valuesAt(voice, s) {
  /** @type {Record<string, string>} */
  const values = {};
  const data = voice.data ?? voice.whole;
  if (!data) return values;
  const at = s + voice.offsetS;
  for (const [name, series] of Object.entries(data.series)) {
    if (series.min) {
      const i = Math.floor(((at - data.fromS) / (data.toS - data.fromS)) * data.columns);
      const lo = series.min[i];
      const hi = series.max[i];
      values[name] = lo == null ? "–" : Math.abs(hi - lo) < 1e-9 ? String(lo) : `${lo} … ${hi}`;
    } else {
      const v = series.values[Math.round((at - series.startS) / series.stepS)];
      values[name] = v == null ? "–" : String(v);
    }
  }
  return values;
}
