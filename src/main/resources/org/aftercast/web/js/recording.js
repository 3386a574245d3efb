// One animal's recording: linked panels over one time axis.
import { h, fill, say, failureBox } from "./dom.js";
import { ask, get, path, who } from "./api.js";
import { t } from "./strings.js";
import { Panels } from "./plot/panels.js";
import { canvasPen } from "./plot/pen.js";
import { BOUTS, drawBout, drawEvent } from "./plot/ribbon.js";
import { colours } from "./plot/colours.js";
import { elapsed, span, localMinute } from "./times.js";

/** @param {HTMLElement} place @param {string[]} parts @param {import("./main.js").Frame} frame */
export async function show(place, parts, frame) {
  const study = await get("/api/study", { signal: frame.signal });
  const withRecording = study.animals.filter((/** @type {any} */ a) => a.recordingSha256);
  if (!parts[0]) {
    chooser(place, withRecording);
    return;
  }
  const waiting = h("p", { class: "waiting" }, t.recording.preparing);
  place.append(waiting);
  const meta = await get(path`/api/animals/${parts[0]}/recording`, { signal: frame.signal });
  waiting.remove();
  new RecordingPage(place, meta, withRecording, frame).build();
}

/** @param {HTMLElement} place @param {any[]} animals */
export function chooser(place, animals) {
  fill(place, h("h1", null, t.places.recording), animals.length === 0
    ? h("p", { class: "sheet" }, t.recording.none, " ", h("a", { href: "#/load" }, t.places.load))
    : [h("p", null, t.recording.choose), h("ul", { class: "choose" }, animals.map((a) => h("li", null, h("a", { class: "button", href: `#/recording/${encodeURIComponent(a.animal)}` }, a.animal))))]);
}

class RecordingPage {
  /** @param {HTMLElement} place @param {any} meta @param {any[]} animals @param {import("./main.js").Frame} frame */
  constructor(place, meta, animals, frame) {
    this.place = place;
    this.meta = meta;
    this.animals = animals;
    this.frame = frame;
  }

  build() {
    const { meta } = this;
    const r = t.recording;
    const zone = this.frame.info.timeZone;
    const view = h("div", { class: "panels" });
    this.panels = new Panels(view, meta, { zone, signal: this.frame.signal, start: stretch(this.frame.params) });
    this.message = h("div");
    this.markForm = h("div");
    const clock = h("select", { id: "clock", onchange: (/** @type {any} */ e) => this.panels?.setClock(e.target.value) },
      ["release", "local", "utc"].map((name) => h("option", { value: name, disabled: name !== "release" && !meta.startUtc }, r.clocks[name])));
    const others = this.animals.filter((a) => a.animal !== meta.animal);
    const compare = h("select", { id: "compare", onchange: (/** @type {any} */ e) => this.compare(e.target.value) },
      h("option", { value: "" }, r.alone), others.map((a) => h("option", { value: a.animal }, a.animal)));
    const spans = [["whole", 0], ["day", 86400], ["hour", 3600], ["minutes", 600], ["minute", 60], ["beats", 10]];
    this.place.append(...[
      h("div", { class: "spread tight" },
        h("div", null, h("h1", null, r.title(meta.animal)), h("p", { class: "faint" }, this.summary(zone))),
        h("div", { class: "row" },
          meta.reading
            ? h("a", { class: "button", href: `#/judge/${encodeURIComponent(meta.animal)}` }, t.places.judge)
            : h("button", { class: "main", onclick: (/** @type {any} */ e) => this.read(e.currentTarget) }, r.readNow))),
      this.message,
      h("div", { class: "bar", role: "toolbar", "aria-label": r.toolbar },
        h("div", { class: "group" }, spans.map(([name, s]) => h("button", { onclick: () => this.panels?.span(Number(s)) }, r.spans[name]))),
        h("div", { class: "group" },
          h("button", { "aria-label": r.earlier, onclick: () => this.panels?.pan(-0.5) }, "◀"),
          h("button", { "aria-label": r.closer, onclick: () => this.panels?.zoom(0.5) }, "+"),
          h("button", { "aria-label": r.wider, onclick: () => this.panels?.zoom(2) }, "−"),
          h("button", { "aria-label": r.later, onclick: () => this.panels?.pan(0.5) }, "▶")),
        h("label", null, r.clock, clock),
        others.length ? h("label", null, r.compare, compare) : null,
        h("div", { class: "group" },
          h("button", { onclick: () => this.startMark() }, r.mark),
          h("button", { onclick: () => this.save("svg") }, r.svg),
          h("button", { onclick: () => this.save("png") }, r.png))),
      this.markForm,
      this.blind(),
      view,
      this.legend(),
      h("p", { class: "small faint" }, r.keys),
      this.lists(),
    ].filter((part) => part !== null));
    this.panels.begin();
  }

  /** @param {string} zone */
  summary(zone) {
    const { meta } = this;
    const parts = [span(meta.durationS / 3600), `${Number(meta.sampleRateHz.toPrecision(6))} Hz`];
    if (meta.startUtc) parts.unshift(`${localMinute(meta.startUtc, zone)} (${zone})`);
    if (meta.reading) parts.push(t.recording.beats(meta.reading.beatCount));
    return parts.join(" · ");
  }

  /** While the reader is still to judge: what is kept back, and how to see it all the same. */
  blind() {
    const { meta } = this;
    if (meta.sight !== "blind" || !meta.reading) return null;
    const r = t.recording;
    const look = async () => {
      if (!who()) return fill(this.message, failureBox({ message: t.frame.whoMissing }));
      try {
        await ask("POST", path`/api/animals/${meta.animal}/look`, {});
        this.place.replaceChildren();
        await show(this.place, [meta.animal], this.frame);
      } catch (failure) {
        fill(this.message, failureBox(failure));
      }
      return undefined;
    };
    return h("div", { class: "message" }, h("p", null, r.blind),
      h("div", { class: "row" }, h("a", { class: "button", href: `#/judge/${encodeURIComponent(meta.animal)}` }, t.study.actions.read),
        this.frame.device.role === "view" ? null : h("button", { type: "button", onclick: look }, r.look)));
  }

  legend() {
    const open = this.meta.reading?.bouts;
    const items = [
      ...(open ? Object.keys(BOUTS) : []).map((kind) => ({ kind, event: false })),
      ...(open ? ["burst", "predator-attack", "surfacing"] : ["burst", "surfacing"]).map((kind) => ({ kind, event: true })),
    ];
    if (!this.meta.reading) return null;
    const list = h("ul", { class: "legend", "aria-label": t.recording.legend });
    const drawAll = () => fill(list, items.map(({ kind, event }) => {
      const canvas = h("canvas", { width: 48, height: 28, "aria-hidden": "true" });
      const ctx = canvas.getContext("2d");
      ctx.scale(2, 2);
      const c = colours();
      if (event) drawEvent(canvasPen(ctx), kind, 12, 12, c);
      else {
        canvasPen(ctx).box(0, 0, 24, 14, c.paper);
        drawBout(canvasPen(ctx), kind, 0, 0, 24, 14, c);
      }
      return h("li", null, canvas, t.recording.kinds[kind]);
    }));
    drawAll();
    window.addEventListener("aftercast-theme", drawAll, { signal: this.frame.signal });
    return list;
  }

  lists() {
    const { meta } = this;
    const r = t.recording;
    const bouts = meta.reading?.bouts ?? [];
    const events = meta.reading?.events ?? [];
    const release = meta.reading?.release.atS ?? 0;
    const when = (/** @type {number} */ s) => elapsed(s - release, 60);
    const jump = (/** @type {number} */ a, /** @type {number} */ b, /** @type {any} */ words) => h("button", { class: "quiet", onclick: () => { this.panels?.show(a, b); this.panels?.element.scrollIntoView({ block: "nearest" }); } }, words);
    return h("div", { class: "two lists" },
      h("section", { class: "sheet" }, h("h2", null, r.marks),
        meta.marks.length === 0 ? h("p", { class: "faint" }, r.noMarks)
          : h("ul", { class: "plain" }, meta.marks.map((/** @type {any} */ m) => h("li", null, jump(m.startS, m.endS, `${m.number}: ${when(m.startS)}–${when(m.endS)}`), " ", m.kind ? h("b", null, r.kinds[m.kind]) : null, " ", m.remark)))),
      meta.reading?.recovery ? h("section", { class: "sheet" }, h("h2", null, r.recovery), h("p", null, meta.reading.recovery.statement)) : null,
      meta.reading ? h("section", { class: "sheet" }, h("h2", null, r.events(events.length)),
        Number.isFinite(meta.reading.falseBurstsPerDay) ? h("p", { class: "faint" }, r.falseBursts(meta.reading.falseBurstsPerDay)) : null,
        h("div", { class: "tall", tabindex: 0, role: "region", "aria-label": r.events(events.length) },
          events.length ? h("ul", { class: "plain" }, events.map((/** @type {any} */ e) => h("li", null, jump(e.atS - 30, e.atS + e.durationS + 30, when(e.atS)), " ", r.kinds[e.kind], h("span", { class: "faint" }, ` ${e.durationS.toFixed(1)} s`)))) : h("p", { class: "faint" }, r.noEvents))) : null,
      meta.reading?.bouts ? h("section", { class: "sheet" }, h("h2", null, r.bouts(bouts.length)),
        h("div", { class: "tall", tabindex: 0, role: "region", "aria-label": r.bouts(bouts.length) },
          h("ul", { class: "plain" }, bouts.map((/** @type {any} */ b) => h("li", null, jump(b.startS, b.endS, `${when(b.startS)}–${when(b.endS)}`), " ", r.kinds[b.kind],
            h("span", { class: "faint" }, ` ${Math.round(b.probability * 100)} % `),
            h("button", { class: "quiet small", "aria-label": `${r.correct} ${when(b.startS)}`, onclick: () => this.startMark(b) }, r.correct)))))) : null,
      h("section", { class: "sheet" }, h("h2", null, r.notes),
        h("ul", null, [...meta.flags.map((/** @type {any} */ f) => f.note), ...(meta.reading?.notes ?? [])].map((note) => h("li", null, note))),
        meta.flags.length + (meta.reading?.notes.length ?? 0) === 0 ? h("p", { class: "faint" }, r.noNotes) : null));
  }

  /** @param {any} [bout] */
  startMark(bout) {
    const r = t.recording;
    const panels = /** @type {Panels} */ (this.panels);
    const stretchNow = bout ? [bout.startS, bout.endS] : panels.selection() ?? panels.middle();
    panels.select(stretchNow[0], stretchNow[1]);
    const kind = h("select", { id: "mark-kind" }, h("option", { value: "" }, r.asItIs), Object.keys(BOUTS).map((k) => h("option", { value: k }, r.kinds[k])));
    const remark = h("textarea", { id: "mark-remark" });
    const range = h("span", { class: "num" });
    const tell = () => {
      const [a, b] = panels.selection() ?? stretchNow;
      const release = this.meta.reading?.release.atS ?? 0;
      range.textContent = `${elapsed(a - release, 1)} – ${elapsed(b - release, 1)}`;
    };
    panels.onselect = tell;
    tell();
    const outcome = h("div");
    const save = async (/** @type {Event} */ event) => {
      event.preventDefault();
      if (!who()) return fill(outcome, failureBox({ message: t.frame.whoMissing }));
      const [startS, endS] = panels.selection() ?? stretchNow;
      try {
        await ask("POST", path`/api/animals/${this.meta.animal}/marks`, { startS, endS, kind: kind.value, remark: remark.value });
        say(t.capture.saved);
        const fresh = await get(path`/api/animals/${this.meta.animal}/recording`);
        panels.setMarks(fresh.marks);
        this.meta.marks = fresh.marks;
        fill(this.markForm);
        panels.clearSelection();
        const lists = this.place.querySelector(".lists");
        lists?.replaceWith(this.lists());
      } catch (failure) {
        fill(outcome, failureBox(failure));
      }
      return undefined;
    };
    fill(this.markForm, h("form", { class: "sheet mark", onsubmit: save },
      h("h2", null, r.markTitle, " ", range), h("p", { class: "small" }, r.markHelp), outcome,
      h("div", { class: "fields" },
        h("div", { class: "field" }, h("label", { for: "mark-kind" }, r.markKind), kind),
        h("div", { class: "field long" }, h("label", { for: "mark-remark" }, r.markRemark), remark)),
      h("div", { class: "row end" },
        h("button", { type: "button", onclick: () => { fill(this.markForm); panels.clearSelection(); } }, r.cancel),
        h("button", { class: "main" }, t.capture.save))));
    kind.focus();
  }

  /** @param {string} animal */
  async compare(animal) {
    try {
      await this.panels?.compare(animal ? await get(path`/api/animals/${animal}/recording`, { signal: this.frame.signal }) : null);
      fill(this.message);
    } catch (failure) {
      fill(this.message, failureBox(failure));
    }
  }

  /** @param {any} button */
  async read(button) {
    if (!who()) return fill(this.message, failureBox({ message: t.frame.whoMissing }));
    button.disabled = true;
    button.textContent = t.study.reading;
    try {
      await ask("POST", path`/api/animals/${this.meta.animal}/read`, {});
      this.place.replaceChildren();
      await show(this.place, [this.meta.animal], this.frame);
    } catch (failure) {
      button.disabled = false;
      button.textContent = t.recording.readNow;
      fill(this.message, failureBox(failure));
    }
    return undefined;
  }

  /** @param {"svg"|"png"} kind */
  async save(kind) {
    const blob = await this.panels?.picture(kind);
    if (!blob) return;
    const link = h("a", { href: URL.createObjectURL(blob), download: `${this.meta.animal}.${kind}` });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  }
}

/** @param {URLSearchParams} params @returns {[number, number]|null} */
function stretch(params) {
  const from = Number(params.get("from"));
  const to = Number(params.get("to"));
  return params.has("from") && to > from ? [from, to] : null;
}
