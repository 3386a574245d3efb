// How each kind of bout and event looks: by its place and height in the ribbon first, then by its hatch, then by colour.

/** @typedef {import("./pen.js").Pen} Pen */

/** top and bottom as shares of the ribbon's height, like the plate in the report: what happens at the surface hangs from the top. */
export const BOUTS = /** @type {Record<string, {top: number, bottom: number, colour: string, hatch: string|null}>} */ ({
  swimming: { top: 0, bottom: 1, colour: "swim", hatch: null },
  "weak-at-surface": { top: 0, bottom: 0.5, colour: "weak", hatch: "rising" },
  afloat: { top: 0, bottom: 0.28, colour: "afloat", hatch: "level" },
  descending: { top: 0, bottom: 1, colour: "descend", hatch: "falling" },
  resting: { top: 0.5, bottom: 1, colour: "rest", hatch: "dotted" },
  motionless: { top: 0.76, bottom: 1, colour: "still", hatch: null },
  "inside-predator": { top: 0, bottom: 1, colour: "inside", hatch: "crossed" },
});

/** @param {Pen} pen @param {string} kind @param {number} x @param {number} y @param {number} w @param {number} h @param {Record<string, string>} colours */
export function drawBout(pen, kind, x, y, w, h, colours) {
  const style = BOUTS[kind];
  if (!style || w <= 0) return;
  const top = y + style.top * h;
  const height = (style.bottom - style.top) * h;
  pen.box(x, top, w, height, colours[style.colour]);
  if (w >= 4) {
    if (style.hatch) pen.clip(x, top, w, height, () => hatch(pen, /** @type {string} */ (style.hatch), x, top, w, height, style.hatch === "crossed" ? colours.paper : colours.ink));
    pen.frame(x, top, w, height, colours.line);
  }
}

/** @param {Pen} pen @param {string} kind @param {number} x @param {number} y @param {number} w @param {number} h @param {string} ink */
function hatch(pen, kind, x, y, w, h, ink) {
  const step = 6;
  /** @type {number[]} */
  const points = [];
  if (kind === "level") {
    for (let at = y + 3; at < y + h; at += 4) points.push(x, at, x + w, at, NaN, NaN);
  } else if (kind === "dotted") {
    for (let at = x + 3; at < x + w; at += step) for (let down = y + 4; down < y + h; down += 5) points.push(at, down, at + 1.5, down, NaN, NaN);
  } else {
    const begin = Math.floor((x - h) / step) * step;
    for (let at = begin; at < x + w + h; at += step) {
      if (kind === "rising" || kind === "crossed") points.push(at, y + h, at + h, y, NaN, NaN);
      if (kind === "falling" || kind === "crossed") points.push(at, y, at + h, y + h, NaN, NaN);
    }
  }
  pen.line(points, ink, kind === "dotted" ? 1.5 : 0.8);
}

/** A small sign for an event, its tip at x, y. @param {Pen} pen @param {string} kind @param {number} x @param {number} y @param {Record<string, string>} colours */
export function drawEvent(pen, kind, x, y, colours) {
  if (kind === "burst") pen.shape([x, y, x - 4, y - 8, x + 4, y - 8], colours.plot2, colours.paper);
  else if (kind === "predator-attack") pen.shape([x, y - 4, x + 3, y - 9, x + 5, y - 7, x + 1.5, y - 4.5, x + 5, y - 1, x + 3, y + 1, x, y - 3, x - 3, y + 1, x - 5, y - 1, x - 1.5, y - 4.5, x - 5, y - 7, x - 3, y - 9], colours.alarm, colours.paper);
  else pen.shape([x - 4, y - 4, x, y - 8, x + 4, y - 4, x, y], colours.paper, colours.ink);
}
