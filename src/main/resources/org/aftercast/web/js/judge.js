// The record, what speaks for what, and a reader's verdict. Readers are blind until their own verdict is locked.
import { h, fill, say, failureBox } from "./dom.js";
import { ask, get, path, who } from "./api.js";
import { t } from "./strings.js";
import { Panels } from "./plot/panels.js";
import { elapsed, localMinute, span } from "./times.js";

/** @param {HTMLElement} place @param {string[]} parts @param {import("./main.js").Frame} frame */
export async function show(place, parts, frame) {
  if (!parts[0]) {
    await overview(place, frame);
    return;
  }
  const animal = parts[0];
  if (!who()) {
    place.append(h("h1", null, t.judge.title(animal)), failureBox({ message: t.judge.whoFirst }));
    return;
  }
  const [bench, meta] = await Promise.all([
    get(path`/api/animals/${animal}/bench`, { signal: frame.signal }),
    get(path`/api/animals/${animal}/recording`, { signal: frame.signal }),
  ]);
  new JudgePage(place, bench, meta, frame).build();
}

/** @param {HTMLElement} place @param {import("./main.js").Frame} frame */
async function overview(place, frame) {
  const j = t.judge;
  const progress = await get("/api/judging", { signal: frame.signal });
  const groups = [["unjudged", "danger"], ["firstOnly", ""], ["open", "danger"], ["settled", ""], ["agreed", ""]];
  place.append(h("h1", null, t.places.judge), h("p", null, j.about));
  const any = groups.some(([key]) => progress[key].length > 0);
  if (!any) place.append(h("p", { class: "sheet" }, j.none));
  place.append(h("div", { class: "two" }, groups.filter(([key]) => progress[key].length > 0).map(([key]) => h("section", { class: "sheet" },
    h("h2", null, j.groups[key], " ", h("span", { class: "faint num" }, progress[key].length)),
    h("ul", { class: "choose" }, progress[key].map((/** @type {string} */ name) => h("li", null, h("a", { class: "button", href: `#/judge/${encodeURIComponent(name)}` }, name))))))));
}

class JudgePage {
  /** @param {HTMLElement} place @param {any} bench @param {any} meta @param {import("./main.js").Frame} frame */
  constructor(place, bench, meta, frame) {
    this.place = place;
    this.bench = bench;
    this.meta = meta;
    this.frame = frame;
    this.zone = frame.info.timeZone;
  }

  build() {
    const { bench, meta } = this;
    const j = t.judge;
    const view = h("div", { class: "panels" });
    this.panels = new Panels(view, meta, { zone: this.zone, signal: this.frame.signal, start: null });
    this.outcome = h("div");
    this.place.append(
      h("div", { class: "spread tight" },
        h("div", null, h("h1", null, j.title(meta.animal)), h("p", { class: "faint" }, bench.sight === "blind" ? j.blind : j.open)),
        h("a", { class: "button", href: `#/recording/${encodeURIComponent(meta.animal)}` }, t.places.recording)),
      this.outcome,
      h("div", { class: "judge" },
        h("div", null, view, h("p", { class: "small faint" }, t.recording.keys)),
        h("div", null, this.verdicts(), this.form(), this.opinion(), this.record())));
    this.panels.begin();
  }

  /** @param {number} a @param {number} b @param {any} words */
  jump(a, b, words) {
    return h("button", { class: "quiet jump-to", onclick: () => { this.panels?.show(a, b); this.panels?.element.scrollIntoView({ block: "nearest" }); } }, words);
  }

  /** @param {number} s */
  when(s) {
    return elapsed(s - (this.meta.reading?.release.atS ?? 0), 60);
  }

  verdicts() {
    const { bench } = this;
    const j = t.judge;
    if (bench.verdicts.length === 0) return null;
    return h("section", { class: "sheet" }, h("h2", null, j.verdicts),
      h("ul", { class: "plain verdicts" }, bench.verdicts.map((/** @type {any} */ v) => h("li", null,
        h("b", null, `${j.roles[v.role]} (${v.reader})`), ": ", j.fates[v.animalFate], ", ", j.ends[v.recordEnd],
        v.changeUtc ? h("span", { class: "faint" }, ` ${localMinute(v.changeUtc, this.zone)}`) : null,
        h("br"), h("span", { class: "faint" }, v.reason)))));
  }

  form() {
    const { bench } = this;
    const j = t.judge;
    if (!bench.next) return h("p", { class: "sheet" }, bench.looked ? j.looked : bench.verdicts.length > 1 ? j.done : j.yours);
    const settle = bench.next === "settled";
    const fate = this.choice("animalFate", j.fate, bench.animalFates, j.fates);
    const end = this.choice("recordEnd", j.end, bench.recordEnds, j.ends);
    const change = h("input", { id: "change", placeholder: "2026-06-01T14:05:00Z", autocomplete: "off" });
    const local = h("span", { class: "small faint num" });
    const tell = () => { local.textContent = Number.isNaN(Date.parse(change.value)) ? "" : `${localMinute(new Date(Date.parse(change.value)).toISOString(), this.zone)} ${this.zone}`; };
    change.addEventListener("input", tell);
    const atCursor = h("button", { type: "button", disabled: !this.meta.startUtc, onclick: () => {
      const s = this.panels?.view.cursorS ?? ((this.panels?.view.fromS ?? 0) + (this.panels?.view.toS ?? 0)) / 2;
      change.value = new Date(Date.parse(this.meta.startUtc) + s * 1000).toISOString();
      change.dispatchEvent(new Event("input", { bubbles: true }));
    } }, j.fromCursor);
    const reason = h("textarea", { id: "reason" });
    const problem = h("div");
    const unsaved = h("p", { class: "small", role: "status" });
    // What is typed stays on this device until it is given.
    const draftKey = `aftercast.verdict.${this.frame.info.title}.${this.meta.animal}.${who()}`;
    const keep = () => {
      const draft = { fate: fate.value(), end: end.value(), change: change.value, reason: reason.value };
      const any = Object.values(draft).some(Boolean);
      if (any) localStorage.setItem(draftKey, JSON.stringify(draft));
      else localStorage.removeItem(draftKey);
      unsaved.textContent = any ? t.capture.notSaved : "";
    };
    const restore = () => {
      const draft = JSON.parse(localStorage.getItem(draftKey) ?? "null");
      if (!draft) return;
      fate.set(draft.fate);
      end.set(draft.end);
      change.value = draft.change;
      reason.value = draft.reason;
      tell();
      unsaved.textContent = t.capture.restored;
    };
    const give = async (/** @type {Event} */ event) => {
      event.preventDefault();
      try {
        await ask("POST", path`/api/animals/${this.meta.animal}/verdicts`, {
          animalFate: fate.value(), recordEnd: end.value(), changeUtc: change.value.trim(), reason: reason.value, settle,
        });
        localStorage.removeItem(draftKey);
        say(j.locked);
        this.place.replaceChildren();
        await show(this.place, [this.meta.animal], this.frame);
      } catch (failure) {
        fill(problem, failureBox(failure));
      }
    };
    restore();
    return h("form", { class: "sheet verdict", onsubmit: give, oninput: keep, onchange: keep },
      h("h2", null, settle ? j.settle : bench.next === "first" ? j.first : j.second), h("p", { class: "small" }, settle ? j.settleHelp : j.lockHelp),
      problem, fate.element, end.element,
      h("div", { class: "field" }, h("label", { for: "change" }, j.change), h("div", { class: "with" }, change, atCursor), local),
      h("div", { class: "field" }, h("label", { for: "reason" }, j.reason), reason),
      unsaved,
      h("button", { class: "main" }, j.lock));
  }

  /** @param {string} name @param {string} label @param {string[]} words @param {Record<string, string>} names */
  choice(name, label, words, names) {
    const radios = words.map((word) => ({ word, input: h("input", { type: "radio", name, value: word }) }));
    return {
      element: h("fieldset", { class: "field choice" }, h("legend", null, label), h("div", { class: "options" }, radios.map((r) => h("label", null, r.input, h("span", null, names[r.word] ?? r.word))))),
      value: () => radios.find((r) => r.input.checked)?.word ?? "",
      set: (/** @type {string} */ word) => radios.forEach((r) => { r.input.checked = r.word === word; }),
    };
  }

  /** The program's opinion, strongest evidence first; each line shows its stretch. */
  opinion() {
    const o = this.bench.opinion;
    const j = t.judge;
    if (!o) return null;
    const strongest = Math.max(0.1, ...o.evidence.map((/** @type {any} */ e) => Math.abs(e.logOdds)));
    const p = o.probabilities;
    return h("section", { class: "sheet" }, h("h2", null, j.program), h("p", null, o.summary),
      h("dl", { class: "chances" }, ["survived", "died", "eaten", "shed"].map((call) => [h("dt", null, j.calls[call]),
        h("dd", null, h("meter", { min: 0, max: 1, value: p[call], "aria-label": j.calls[call] }), h("span", { class: "num" }, ` ${Math.round(p[call] * 100)} %`))])),
      o.endings.length ? h("ul", { class: "plain endings" }, o.endings.filter((/** @type {any} */ e) => e.probability >= 0.05).map((/** @type {any} */ e) => h("li", null, h("span", { class: "num" }, `${Math.round(e.probability * 100)} % `), e.sentence))) : null,
      h("h3", null, j.evidence),
      h("ul", { class: "plain evidence" }, o.evidence.map((/** @type {any} */ e) => h("li", null,
        h("span", { class: "weight", "aria-label": j.weight(e.logOdds, j.calls[e.favours]) }, (e.logOdds >= 0 ? "+" : "−").repeat(Math.max(1, Math.round((Math.abs(e.logOdds) / strongest) * 4)))),
        h("div", null, this.jump(e.fromS, e.toS, e.sentence), h("div", { class: "faint small" }, j.speaks(e.logOdds, j.calls[e.favours])))))),
      o.wouldChangeTheMind.length ? [h("h3", null, j.otherwise), h("ul", null, o.wouldChangeTheMind.map((/** @type {string} */ line) => h("li", null, line)))] : null);
  }

  /** What the record shows, in order of time: seen by every reader. */
  record() {
    const reading = this.meta.reading;
    if (!reading) return null;
    const rows = [
      ...(reading.bouts ?? []).map((/** @type {any} */ b) => ({ a: b.startS, b: b.endS, kind: b.kind, length: span((b.endS - b.startS) / 3600) })),
      ...reading.events.filter((/** @type {any} */ e) => e.kind !== "surfacing").map((/** @type {any} */ e) => ({ a: e.atS - 20, b: e.atS + e.durationS + 20, kind: e.kind, length: `${e.durationS.toFixed(1)} s` })),
    ].sort((x, y) => x.a - y.a);
    return h("section", { class: "sheet" }, h("h2", null, t.judge.record),
      h("div", { class: "tall", tabindex: 0, role: "region", "aria-label": t.judge.record },
        h("ul", { class: "plain" }, rows.map((r) => h("li", null, this.jump(r.a, r.b, this.when(r.a)), " ", t.recording.kinds[r.kind], h("span", { class: "faint" }, ` ${r.length}`))))),
      this.bench.capture ? this.capture() : null);
  }

  capture() {
    const entries = Object.entries(this.bench.capture).filter(([key, value]) => value !== null && key !== "animal");
    return h("details", null, h("summary", null, t.judge.capture),
      h("dl", { class: "facts small" }, entries.map(([key, value]) => [h("dt", null, (t.columns[key] ?? [key])[0]), h("dd", null, String(value))])));
  }
}
