// How one file is to be read, as a form: what each column is, and how the time is told. Makes the layout of docs/interpretation/text.md.
import { h, fill, freshId } from "./dom.js";
import { t } from "./strings.js";

const SIGNS = /** @type {Record<string, string>} */ ({ comma: ",", semicolon: ";", tab: "\t", pipe: "|" });
const KINDS = ["year-first", "day-first", "month-first", "epoch-seconds", "epoch-milliseconds", "serial-days", "elapsed-seconds", "elapsed-milliseconds", "sample-number", "none"];
const CALENDAR = new Set(["year-first", "day-first", "month-first", "serial-days"]);
const TWO_COLUMNS = new Set(["year-first", "day-first", "month-first"]);
const NO_DATE = new Set(["elapsed-seconds", "elapsed-milliseconds", "sample-number", "none"]);
const UNITS = /** @type {Record<string, string[]>} */ ({
  accXG: ["g", "mg", "m/s2"], accYG: ["g", "mg", "m/s2"], accZG: ["g", "mg", "m/s2"],
  depthM: ["m", "cm", "ft"], pressureDbar: ["dbar", "bar", "mbar", "kPa", "Pa", "psi"], tempC: ["C", "F", "K"],
});
/** Names of channels in what reading gives, by their names in a layout. */
const CONTENT = /** @type {Record<string, string>} */ ({ accXG: "acceleration-x", accYG: "acceleration-y", accZG: "acceleration-z", depthM: "depth", pressureDbar: "pressure", tempC: "temperature" });
const DATE_DOUBT = /day first or month first/;

/** Cuts a line as the reader does: quotes may hold delimiters. @param {string} line @param {string} delimiter */
function cut(line, delimiter) {
  if (delimiter === "spaces") return line.trim().split(/\s+/);
  const sign = SIGNS[delimiter];
  const fields = [];
  let field = "";
  let quoted = false;
  for (let i = 0; i < line.length; i++) {
    const c = line[i];
    if (c === '"') {
      if (quoted && line[i + 1] === '"') field += line[++i];
      else quoted = !quoted;
    } else if (c === sign && !quoted) {
      fields.push(field.trim());
      field = "";
    } else field += c;
  }
  fields.push(field.trim());
  return fields;
}

/** @typedef {{use: string, unit: string, scale: string, offset: string}} Column */

export class LayoutForm {
  /** @param {any} file as explained: id, name, guess, layout, lines @param {() => void} changed */
  constructor(file, changed) {
    this.file = file;
    this.changed = changed;
    this.touched = false;
    /** Doubts that a person has settled. @type {Set<string>} */
    this.settled = new Set();
    /** @type {any} */
    this.rest = {};
    this.text = { delimiter: "comma", decimalMark: "point", headerLine: "1", firstDataLine: "2" };
    this.time = { kind: "", zone: "", startUtc: "", rateHz: "" };
    /** @type {Column[]} */
    this.columns = [];
    this.zero = { kind: "as-is", surface: "" };
    /** @type {Map<string, any[]>} */
    this.cells = new Map();
    this.body = h("div");
    this.take(file.layout);
    const doubt = this.doubts().find((d) => DATE_DOUBT.test(d));
    if (doubt) this.time.kind = "";
  }

  /** @returns {string[]} */
  doubts() {
    return this.file.guess?.ambiguities ?? [];
  }

  isSettled() {
    return this.doubts().every((d) => this.settled.has(d));
  }

  /** Takes over a layout, or what little is known without one. @param {any} layout */
  take(layout) {
    if (layout) {
      this.text = { delimiter: layout.text.delimiter, decimalMark: layout.text.decimalMark, headerLine: String(layout.text.headerLine), firstDataLine: String(layout.text.firstDataLine) };
      this.time = { kind: layout.time.kind, zone: layout.time.zone ?? "", startUtc: layout.time.startUtc ?? "", rateHz: layout.time.rateHz ? String(layout.time.rateHz) : "" };
      this.zero = { kind: layout.pressureZero?.kind ?? "as-is", surface: layout.pressureZero?.surface ?? "" };
      this.rest = { name: layout.name, clock: layout.clock, calibration: layout.calibration };
    } else {
      const counts = Object.entries(SIGNS).map(([name, sign]) => ({ name, n: this.file.lines.slice(0, 20).reduce((/** @type {number} */ n, /** @type {string} */ l) => n + l.split(sign).length - 1, 0) }));
      this.text.delimiter = counts.reduce((a, b) => (b.n > a.n ? b : a)).name;
    }
    this.columns = this.names().map(() => ({ use: "", unit: "", scale: "1", offset: "0" }));
    for (const c of layout?.columns ?? []) {
      const at = this.indexOf(c.column);
      if (at >= 0) this.columns[at] = { use: c.channel, unit: c.unit, scale: String(c.scale ?? 1), offset: String(c.offset ?? 0) };
    }
    (layout?.time.columns ?? []).forEach((/** @type {string} */ name, /** @type {number} */ i) => {
      const at = this.indexOf(name);
      if (at >= 0) this.columns[at].use = i === 0 ? "time" : "time-of-day";
    });
  }

  /** Names of the columns as they stand in the file. */
  names() {
    const header = Number(this.text.headerLine);
    const line = this.file.lines[(header > 0 ? header : Number(this.text.firstDataLine)) - 1] ?? "";
    const fields = cut(line, this.text.delimiter);
    return header > 0 ? fields : fields.map(() => "");
  }

  /** @param {string} column */
  indexOf(column) {
    if (/^#\d+$/.test(column)) return Number(column.slice(1)) - 1;
    return this.names().findIndex((name) => name.toLowerCase() === column.toLowerCase());
  }

  /** What the layout calls a column. @param {number} index */
  reference(index) {
    const names = this.names();
    const name = names[index];
    return name && names.filter((n) => n.toLowerCase() === name.toLowerCase()).length === 1 ? name : `#${index + 1}`;
  }

  /** The layout, or what is still missing. @returns {{layout?: any, missing?: string}} */
  build() {
    const m = t.load.missing;
    if (!this.time.kind) return { missing: m.kind };
    const channels = this.columns.map((c, i) => ({ ...c, i })).filter((c) => c.use in UNITS);
    if (channels.length === 0) return { missing: m.channels };
    const twice = channels.find((c, at) => channels.findIndex((d) => d.use === c.use) !== at);
    if (twice) return { missing: m.twice(t.load.uses[twice.use]) };
    const stamps = ["time", "time-of-day"].map((use) => this.columns.findIndex((c) => c.use === use)).filter((i) => i >= 0);
    if (this.time.kind !== "none" && this.columns.every((c) => c.use !== "time")) return { missing: m.time };
    if ((this.time.kind === "none" || this.time.kind === "sample-number") && !(Number(this.time.rateHz) > 0)) return { missing: m.rate };
    const used = this.time.kind === "none" ? [] : TWO_COLUMNS.has(this.time.kind) ? stamps : stamps.slice(0, 1);
    const layout = {
      ...this.rest,
      text: { delimiter: this.text.delimiter, decimalMark: this.text.decimalMark, headerLine: Number(this.text.headerLine), firstDataLine: Number(this.text.firstDataLine) },
      time: {
        kind: this.time.kind, columns: used.map((i) => this.reference(i)),
        zone: CALENDAR.has(this.time.kind) && this.time.zone.trim() ? this.time.zone.trim() : undefined,
        startUtc: NO_DATE.has(this.time.kind) && this.time.startUtc.trim() ? this.time.startUtc.trim() : undefined,
        rateHz: Number(this.time.rateHz) > 0 ? Number(this.time.rateHz) : undefined,
      },
      columns: channels.map((c) => ({ column: this.reference(c.i), channel: c.use, unit: c.unit || UNITS[c.use][0], scale: Number(c.scale), offset: Number(c.offset) })),
      pressureZero: this.zero.kind === "as-is" ? undefined : { kind: this.zero.kind, surface: this.zero.kind === "given" ? Number(this.zero.surface) : undefined },
    };
    return { layout };
  }

  /** Something was changed by hand. @param {boolean} [again] whether the form itself looks different now */
  edit(again) {
    this.touched = true;
    if (again) this.draw();
    this.changed();
  }

  /** @param {string} label @param {string[][]} options value and words @param {string} value @param {(value: string) => void} set @param {string} [id] */
  select(label, options, value, set, id) {
    return h("select", { id, "aria-label": id ? null : label, onchange: (/** @type {any} */ e) => set(e.target.value) },
      options.map(([v, words]) => h("option", { value: v, selected: v === value }, words)));
  }

  /** @param {string} label @param {any} control @param {string} id */
  labelled(label, control, id) {
    return h("div", { class: "field" }, h("label", { for: id }, label), control);
  }

  /** @param {string} label @param {Record<string, string>} holder @param {string} key @param {any} [more] */
  input(label, holder, key, more = {}) {
    const id = freshId(key);
    return this.labelled(label, h("input", { id, "data-set": key, autocomplete: "off", spellcheck: "false", value: holder[key], ...more, oninput: (/** @type {any} */ e) => { holder[key] = e.target.value; this.edit(); } }), id);
  }

  /** @param {string} label @param {Record<string, string>} holder @param {string} key @param {string[][]} options @param {boolean} [again] */
  choice(label, holder, key, options, again) {
    const id = freshId(key);
    const control = this.select(label, options, holder[key], (value) => { holder[key] = value; this.edit(again); }, id);
    control.dataset.set = key;
    return this.labelled(label, control, id);
  }

  draw() {
    const l = t.load;
    const kind = this.time.kind;
    fill(this.body,
      this.doubts().length ? h("div", { class: "message warn" }, h("strong", null, l.doubts),
        h("ul", { class: "plain ticks" }, this.doubts().map((d) => h("li", null, h("label", null,
          h("input", { type: "checkbox", checked: this.settled.has(d), onchange: (/** @type {any} */ e) => { if (e.target.checked) this.settled.add(d); else this.settled.delete(d); this.changed(); } }), plain(d)))))) : null,
      h("details", { class: "lines" }, h("summary", null, l.lines), h("pre", { tabindex: 0, "aria-label": l.lines }, this.file.lines.slice(0, 12).map((/** @type {string} */ line, /** @type {number} */ i) => `${String(i + 1).padStart(2)}  ${line.slice(0, 200)}\n`).join(""))),
      h("div", { class: "fields narrow-fields" },
        this.choice(l.delimiter, this.text, "delimiter", Object.entries(l.delimiters), true),
        this.choice(l.decimal, this.text, "decimalMark", Object.entries(l.decimals)),
        this.line(l.headerLine, "headerLine"), this.line(l.dataLine, "firstDataLine"),
        this.kindField(kind),
        CALENDAR.has(kind) ? this.input(l.zone, this.time, "zone", { placeholder: "Europe/London" }) : null,
        NO_DATE.has(kind) ? this.input(l.start, this.time, "startUtc", { placeholder: "2026-06-01T14:05:00Z" }) : null,
        this.input(kind === "none" || kind === "sample-number" ? l.rate : l.rateCheck, this.time, "rateHz", { inputmode: "decimal" }),
        this.columns.some((c) => c.use === "pressureDbar" || c.use === "depthM") ? this.choice(l.zero, this.zero, "kind", Object.entries(l.zeros), true) : null,
        this.zero.kind === "given" ? this.input(l.surface, this.zero, "surface", { inputmode: "decimal" }) : null),
      this.table(),
      this.file.guess?.notes.length ? h("ul", { class: "small" }, this.file.guess.notes.map((/** @type {string} */ n) => h("li", null, n))) : null,
      this.asText());
    this.preview(this.shown ?? null);
  }

  /** @param {string} kind */
  kindField(kind) {
    const options = [...(kind ? [] : [["", t.load.choose]]), ...KINDS.map((k) => [k, t.load.kindsOfTime[k]])];
    const id = freshId("kind");
    return this.labelled(t.load.kind, h("select", { id, "data-set": "timeKind", "aria-invalid": kind ? null : "true", onchange: (/** @type {any} */ e) => {
      this.time.kind = e.target.value;
      for (const d of this.doubts()) if (DATE_DOUBT.test(d)) this.settled.add(d);
      this.edit(true);
      /** @type {any} */ (this.body.querySelector("[data-set=timeKind]"))?.focus();
    } }, options.map(([v, words]) => h("option", { value: v, selected: v === kind }, words))), id);
  }

  /** A number of a line; the columns follow when it is settled. @param {string} label @param {"headerLine"|"firstDataLine"} key */
  line(label, key) {
    const id = freshId(key);
    return this.labelled(label, h("input", { id, "data-set": key, type: "number", min: key === "headerLine" ? 0 : 1, max: 60, value: this.text[key], onchange: (/** @type {any} */ e) => { this.text[key] = e.target.value; this.edit(true); } }), id);
  }

  table() {
    const l = t.load;
    const names = this.names();
    while (this.columns.length < names.length) this.columns.push({ use: "", unit: "", scale: "1", offset: "0" });
    this.columns.length = names.length;
    this.cells.clear();
    const rows = this.file.lines.slice(Number(this.text.firstDataLine) - 1).slice(0, 3).map((/** @type {string} */ line) => cut(line, this.text.delimiter));
    return h("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": l.columns },
      h("table", { class: "layout-columns" }, h("thead", null, h("tr", null, l.columnHeads.map((head) => h("th", { scope: "col" }, head)))),
        h("tbody", null, names.map((name, i) => this.row(name || `#${i + 1}`, i, rows.map((/** @type {string[]} */ r) => r[i] ?? ""))))));
  }

  /** @param {string} name @param {number} i @param {string[]} values */
  row(name, i, values) {
    const l = t.load;
    const column = this.columns[i];
    const units = UNITS[column.use];
    const guess = this.file.guess?.columns[i];
    const number = (/** @type {"scale"|"offset"} */ key) => h("input", { class: "number-field", inputmode: "decimal", "aria-label": l.of(l[key], name), "data-set": key, value: column[key], oninput: (/** @type {any} */ e) => { column[key] = e.target.value; this.edit(); } });
    const found = l.previewHeads.map((head) => h("td", { class: "num found", "data-head": head }));
    this.cells.set(column.use, found);
    return h("tr", { "data-column": name },
      h("th", { scope: "row" }, name, h("div", { class: "small faint sample" }, values.filter(Boolean).join(" · "))),
      h("td", { "data-head": l.columnHeads[1] }, this.select(l.of(l.columnHeads[1], name), [["", l.uses[""]], ...["time", "time-of-day", ...Object.keys(UNITS)].map((use) => [use, l.uses[use]])], column.use, (value) => {
        column.use = value;
        column.unit = UNITS[value]?.[0] ?? "";
        this.edit(true);
      }), guess && guess.takenFor === (column.use === "time-of-day" ? "time" : column.use) ? h("div", { class: "small faint" }, guess.reason) : null),
      h("td", { "data-head": l.columnHeads[2] }, units ? this.select(l.of(l.columnHeads[2], name), units.map((u) => [u, l.unitWords[u] ?? u]), column.unit, (value) => { column.unit = value; this.edit(); }) : null),
      h("td", { "data-head": l.scale }, units ? number("scale") : null),
      h("td", { "data-head": l.offset }, units ? number("offset") : null),
      units ? found : h("td", { colspan: found.length }));
  }

  /** Shows what reading gives beside its columns; null while it is not known. @param {any[]|null} summaries */
  preview(summaries) {
    this.shown = summaries;
    for (const [use, cells] of this.cells) {
      const s = summaries?.find((x) => x.channel === CONTENT[use]);
      cells.forEach((cell, k) => fill(cell, !s ? null : k < 4 ? round([s.first, s.last, s.least, s.greatest][k]) : sketch(s.sketch)));
    }
  }

  /** The layout as text: to keep, to bring, and for what the form has no field for. */
  asText() {
    const l = t.load;
    const id = freshId("layout-text");
    const problem = h("p", { class: "problem", role: "alert" });
    const text = h("textarea", { id, class: "code", spellcheck: "false" });
    const apply = (/** @type {string} */ json) => {
      try {
        const layout = JSON.parse(json);
        if (!layout?.text || !layout?.time || !Array.isArray(layout?.columns)) throw new Error(l.notLayout);
        this.take({ ...layout, text: { decimalMark: "point", headerLine: 0, firstDataLine: Number(layout.text.headerLine ?? 0) + 1, ...layout.text } });
        this.doubts().forEach((d) => this.settled.add(d));
        this.edit(true);
      } catch (failure) {
        problem.textContent = `${l.notJson} ${/** @type {any} */ (failure).message}`;
      }
    };
    const fileId = freshId("layout-file");
    const box = h("details", { class: "as-text", ontoggle: () => { text.value = JSON.stringify(this.build().layout ?? null, null, 2); } }, h("summary", null, l.layout),
      h("p", { class: "small" }, l.layoutHelp),
      this.labelled(l.layoutText, text, id), problem,
      h("div", { class: "row" },
        h("button", { type: "button", onclick: () => apply(text.value) }, l.useLayout),
        h("button", { type: "button", onclick: () => save(text.value) }, l.saveLayout),
        h("label", { for: fileId }, l.bringLayout), h("input", { id: fileId, type: "file", accept: ".json", onchange: async (/** @type {any} */ e) => apply(await e.target.files[0].text()) })));
    return box;
  }
}

/** A message of the reader without hints for the command line. @param {string} text */
export const plain = (text) => text.replace(/ \((?:say which with --|--)[^)]*\)/g, "");

/** @param {any} value */
const round = (value) => (value === null ? "–" : String(Number(Number(value).toPrecision(4))));

/** Block characters drawn as a line. @param {string} blocks */
function sketch(blocks) {
  const box = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  box.setAttribute("viewBox", `0 0 ${Math.max(1, blocks.length - 1)} 9`);
  box.setAttribute("preserveAspectRatio", "none");
  box.setAttribute("class", "course");
  box.setAttribute("aria-hidden", "true");
  let path = "";
  let pen = "M";
  [...blocks].forEach((block, i) => {
    const level = "▁▂▃▄▅▆▇█".indexOf(block);
    if (level < 0) pen = "M";
    else {
      path += `${pen}${i} ${8 - level} `;
      pen = "L";
    }
  });
  const line = document.createElementNS("http://www.w3.org/2000/svg", "path");
  line.setAttribute("d", path);
  box.append(line);
  return box;
}

/** @param {string} json */
function save(json) {
  const link = h("a", { href: URL.createObjectURL(new Blob([json + "\n"], { type: "application/json" })), download: "layout.json" });
  link.click();
  URL.revokeObjectURL(link.href);
}
