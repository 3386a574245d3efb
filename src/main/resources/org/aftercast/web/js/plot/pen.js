// Two pens with the same strokes: one on a canvas, one that writes SVG. What is on the screen is what is saved.

/**
 * @typedef {object} Pen
 * @property {(x: number, y: number, w: number, h: number, fill: string) => void} box
 * @property {(x: number, y: number, w: number, h: number, stroke: string) => void} frame
 * @property {(points: number[], stroke: string, width: number, dash?: number[]) => void} line x, y, x, y …; NaN breaks it
 * @property {(bars: number[], fill: string) => void} bars x, y, w, h, x, y, w, h …
 * @property {(points: number[], fill: string, stroke: string) => void} shape
 * @property {(x: number, y: number, text: string, fill: string, size: number, align: CanvasTextAlign, weight?: number) => void} text
 * @property {(x: number, y: number, w: number, h: number, inside: () => void) => void} clip
 */

const FONT = '"Liberation Sans", "Noto Sans", Arial, sans-serif';

/** @param {CanvasRenderingContext2D} ctx @returns {Pen} */
export function canvasPen(ctx) {
  return {
    box(x, y, w, h, fill) {
      ctx.fillStyle = fill;
      ctx.fillRect(x, y, w, h);
    },
    frame(x, y, w, h, stroke) {
      ctx.strokeStyle = stroke;
      ctx.lineWidth = 1;
      ctx.strokeRect(Math.round(x) + 0.5, Math.round(y) + 0.5, Math.round(w), Math.round(h));
    },
    line(points, stroke, width, dash) {
      ctx.strokeStyle = stroke;
      ctx.lineWidth = width;
      ctx.setLineDash(dash ?? []);
      ctx.lineJoin = "round";
      ctx.beginPath();
      let down = false;
      for (let i = 0; i < points.length; i += 2) {
        if (Number.isNaN(points[i + 1])) down = false;
        else if (down) ctx.lineTo(points[i], points[i + 1]);
        else {
          ctx.moveTo(points[i], points[i + 1]);
          down = true;
        }
      }
      ctx.stroke();
      ctx.setLineDash([]);
    },
    bars(bars, fill) {
      ctx.fillStyle = fill;
      for (let i = 0; i < bars.length; i += 4) ctx.fillRect(bars[i], bars[i + 1], bars[i + 2], bars[i + 3]);
    },
    shape(points, fill, stroke) {
      ctx.beginPath();
      for (let i = 0; i < points.length; i += 2) ctx.lineTo(points[i], points[i + 1]);
      ctx.closePath();
      ctx.fillStyle = fill;
      ctx.fill();
      ctx.strokeStyle = stroke;
      ctx.lineWidth = 1;
      ctx.stroke();
    },
    text(x, y, text, fill, size, align, weight) {
      ctx.fillStyle = fill;
      ctx.font = `${weight ?? 400} ${size}px ${FONT}`;
      ctx.textAlign = align;
      ctx.textBaseline = "alphabetic";
      ctx.fillText(text, x, y);
    },
    clip(x, y, w, h, inside) {
      ctx.save();
      ctx.beginPath();
      ctx.rect(x, y, w, h);
      ctx.clip();
      inside();
      ctx.restore();
    },
  };
}

/** @param {number} width @param {number} height @param {string} title */
export function svgPen(width, height, title) {
  /** @type {string[]} */
  const out = [];
  const n = (/** @type {number} */ v) => String(Math.round(v * 100) / 100);
  const safe = (/** @type {string} */ s) => s.replace(/[&<>"]/g, (c) => `&#${c.charCodeAt(0)};`);
  let clips = 0;
  /** @type {Pen & {finish: () => string}} */
  const pen = {
    box: (x, y, w, h, fill) => void out.push(`<rect x="${n(x)}" y="${n(y)}" width="${n(w)}" height="${n(h)}" fill="${fill}"/>`),
    frame: (x, y, w, h, stroke) => void out.push(`<rect x="${n(x)}" y="${n(y)}" width="${n(w)}" height="${n(h)}" fill="none" stroke="${stroke}"/>`),
    line(points, stroke, lineWidth, dash) {
      let d = "";
      let down = false;
      for (let i = 0; i < points.length; i += 2) {
        if (Number.isNaN(points[i + 1])) down = false;
        else {
          d += `${down ? "L" : "M"}${n(points[i])} ${n(points[i + 1])}`;
          down = true;
        }
      }
      if (d) out.push(`<path d="${d}" fill="none" stroke="${stroke}" stroke-width="${lineWidth}"${dash ? ` stroke-dasharray="${dash.join(" ")}"` : ""}/>`);
    },
    bars(bars, fill) {
      let d = "";
      for (let i = 0; i < bars.length; i += 4) d += `M${n(bars[i])} ${n(bars[i + 1])}h${n(bars[i + 2])}v${n(bars[i + 3])}h${n(-bars[i + 2])}z`;
      if (d) out.push(`<path d="${d}" fill="${fill}"/>`);
    },
    shape(points, fill, stroke) {
      const corners = [];
      for (let i = 0; i < points.length; i += 2) corners.push(`${n(points[i])},${n(points[i + 1])}`);
      out.push(`<polygon points="${corners.join(" ")}" fill="${fill}" stroke="${stroke}"/>`);
    },
    text: (x, y, text, fill, size, align, weight) => void out.push(
      `<text x="${n(x)}" y="${n(y)}" fill="${fill}" font-size="${size}" font-weight="${weight ?? 400}" text-anchor="${align === "right" ? "end" : align === "center" ? "middle" : "start"}">${safe(text)}</text>`),
    clip(x, y, w, h, inside) {
      clips += 1;
      out.push(`<clipPath id="c${clips}"><rect x="${n(x)}" y="${n(y)}" width="${n(w)}" height="${n(h)}"/></clipPath><g clip-path="url(#c${clips})">`);
      inside();
      out.push("</g>");
    },
    finish: () => `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" font-family="Liberation Sans, Arial, sans-serif" role="img"><title>${safe(title)}</title>${out.join("\n")}</svg>\n`,
  };
  return pen;
}
