// One animal's capture, package and release: a form for wet thumbs. Unsaved work stays on this device.
import { h, fill, freshId, say, failureBox } from "./dom.js";
import { ask, get, path, who } from "./api.js";
import { t } from "./strings.js";
import { localMinute } from "./times.js";

const SECTIONS = [
  { key: "animal", columns: ["animal", "species", "group", "notes"] },
  { key: "catch", columns: ["trip", "vessel", "anglerCode", "handlerCode", "gear", "hookType", "hookLocation", "hookLeft", "bleeding", "hookedUtc", "fightMin", "captureDepthM", "waterTempC", "captureLatDeg", "captureLonDeg"] },
  { key: "handling", columns: ["airExposureS", "lengthM", "massKg", "sex", "barotrauma", "reflexesTested", "reflexesMissing", "injuryScore", "captureNotes"] },
  { key: "package", columns: ["packageSerial", "frequencyMHz", "pingsPerMin", "batteryH", "releaseMechanism", "packageMassG", "buoyancyG", "packageNotes"] },
  { key: "checklist", columns: [] },
  { key: "release", columns: ["releasedUtc", "releaseState", "plannedDetachmentUtc", "releaseLatDeg", "releaseLonDeg"] },
  { key: "back", columns: ["detachedUtc", "searchOutcome", "searchEndedUtc", "foundLatDeg", "foundLonDeg", "searchH", "searchNm", "packageCondition", "searchNotes"] },
];
const LONG = new Set(["notes", "captureNotes", "packageNotes", "packageCondition", "searchNotes"]);
const WHOLE = new Set(["reflexesTested", "reflexesMissing", "injuryScore"]);
const TEXT = new Set(["animal", "species", "group", "trip", "vessel", "anglerCode", "handlerCode", "gear", "packageSerial", "releaseMechanism"]);
const WATCH = /** @type {Record<string, number>} */ ({ fightMin: 60, airExposureS: 1 });
/** Columns that stay the same from animal to animal of one trip. */
const CARRIED = ["trip", "vessel", "anglerCode", "handlerCode", "gear", "hookType"];

/** @param {HTMLElement} place @param {string[]} parts @param {import("./main.js").Frame} frame */
export async function show(place, parts, frame) {
  const isNew = parts[0] === "new" || !parts[0];
  const name = isNew ? "" : parts[0];
  const [{ columns }, stored] = await Promise.all([
    get("/api/columns", { signal: frame.signal }),
    isNew ? { cells: {}, animal: "" } : get(path`/api/animals/${name}`, { signal: frame.signal }),
  ]);
  const form = new CaptureForm(place, columns, stored, isNew, frame);
  form.build();
}

class CaptureForm {
  /** @param {HTMLElement} place @param {any[]} columns @param {any} stored @param {boolean} isNew @param {import("./main.js").Frame} frame */
  constructor(place, columns, stored, isNew, frame) {
    this.place = place;
    this.columns = new Map(columns.map((c) => [c.name, c]));
    this.base = stored.cells;
    this.isNew = isNew;
    this.name = stored.animal;
    this.frame = frame;
    this.draftKey = `aftercast.draft.${frame.info.title}.${isNew ? "" : stored.animal}`;
    /** @type {Map<string, {get: () => string, set: (value: string) => void, mark: (problem: string|null) => void}>} */
    this.fields = new Map();
    this.problems = h("div");
    this.state = h("span", { class: "small", role: "status" });
  }

  build() {
    const c = t.capture;
    const form = h("form", { class: "capture", novalidate: true, onsubmit: (/** @type {Event} */ e) => { e.preventDefault(); this.save(); } },
      SECTIONS.map((section) => section.key === "checklist" ? this.checklist() : h("fieldset", { class: "sheet", "data-part": section.key },
        h("legend", null, c.sections[section.key]),
        h("div", { class: "fields" }, section.columns.filter((name) => this.columns.has(name)).map((name) => this.field(name))))),
      h("div", { class: "save-bar" }, this.state,
        h("a", { class: "button quiet", href: "#/study" }, c.back),
        h("button", { class: "main", type: "submit" }, c.save)));
    this.place.append(
      h("h1", null, this.isNew ? c.newTitle : c.title(this.name)),
      h("nav", { class: "jump", "aria-label": t.capture.jump }, SECTIONS.map((section) => h("button", { type: "button", class: "quiet", onclick: () => this.jump(section.key) }, c.sections[section.key]))),
      this.problems, form);
    this.fillIn();
    form.addEventListener("input", () => this.keepDraft());
    form.addEventListener("change", () => this.keepDraft());
  }

  /** @param {string} key */
  jump(key) {
    const part = /** @type {HTMLElement|null} */ (this.place.querySelector(`[data-part="${key}"]`));
    part?.scrollIntoView({ block: "start" });
    /** @type {HTMLElement|null|undefined} */ (part?.querySelector("input, textarea"))?.focus({ preventScroll: true });
  }

  fillIn() {
    const draft = this.readDraft();
    const carried = this.isNew ? JSON.parse(localStorage.getItem("aftercast.carried") ?? "{}") : {};
    for (const [name, field] of this.fields) {
      field.set(draft?.cells[name] ?? this.base[name] ?? carried[name] ?? "");
    }
    if (draft && Object.keys(draft.cells).length) {
      fill(this.problems, h("div", { class: "message warn" }, h("span", null, t.capture.restored, " "),
        h("button", { type: "button", onclick: () => { localStorage.removeItem(this.draftKey); location.reload(); } }, t.capture.discard)));
      this.state.textContent = t.capture.notSaved;
    }
  }

  readDraft() {
    try {
      return JSON.parse(localStorage.getItem(this.draftKey) ?? "null");
    } catch {
      return null;
    }
  }

  keepDraft() {
    const cells = this.changed();
    if (Object.keys(cells).length === 0) {
      localStorage.removeItem(this.draftKey);
      this.state.textContent = "";
    } else {
      localStorage.setItem(this.draftKey, JSON.stringify({ cells }));
      this.state.textContent = t.capture.notSaved;
    }
  }

  changed() {
    /** @type {Record<string, string>} */
    const cells = {};
    for (const [name, field] of this.fields) {
      const value = field.get().trim();
      if (value !== (this.base[name] ?? "")) cells[name] = value;
    }
    return cells;
  }

  checklist() {
    const c = t.capture;
    return h("fieldset", { class: "sheet", "data-part": "checklist" }, h("legend", null, c.sections.checklist),
      h("ul", null, c.checklist.map((words) => h("li", null, words))),
      h("p", { class: "small" }, c.stopRule),
      this.isNew ? h("p", { class: "faint" }, c.deckLater)
        : h("a", { class: "button", href: `#/deck/${encodeURIComponent(this.name)}` }, c.toDeck));
  }

  /** @param {string} name */
  field(name) {
    const column = this.columns.get(name);
    const [label, unit] = t.columns[name] ?? [name];
    if (column.words.length > 0) return this.choice(name, label, column.words);
    const id = freshId(name);
    const hint = h("span", { class: "problem", id: `${id}-problem` });
    const isTime = name.endsWith("Utc");
    const input = LONG.has(name)
      ? h("textarea", { id, name, "aria-describedby": `${id}-problem` })
      : h("input", {
        id, name, autocomplete: "off", "aria-describedby": `${id}-problem`,
        inputmode: isTime || TEXT.has(name) ? null : WHOLE.has(name) ? "numeric" : "decimal",
        placeholder: isTime ? "2026-06-01T14:05Z" : null,
        required: name === "animal", readonly: name === "animal" && !this.isNew,
      });
    const local = isTime ? h("span", { class: "small faint num" }) : null;
    const tell = () => {
      if (local) local.textContent = Number.isNaN(Date.parse(input.value)) ? "" : `${localMinute(new Date(Date.parse(input.value)).toISOString(), this.frame.info.timeZone)} ${this.frame.info.timeZone}`;
    };
    input.addEventListener("input", tell);
    this.fields.set(name, {
      get: () => input.value,
      set: (value) => { input.value = value; tell(); },
      mark: (problem) => { input.setAttribute("aria-invalid", problem ? "true" : "false"); hint.textContent = problem ?? ""; },
    });
    const put = (/** @type {string} */ value) => { input.value = value; input.dispatchEvent(new Event("input", { bubbles: true })); };
    const help = isTime
      ? h("button", { type: "button", "aria-label": `${label}: ${t.capture.now}`, onclick: () => put(new Date().toISOString().slice(0, 19) + "Z") }, t.capture.now)
      : name in WATCH ? this.stopwatch(label, WATCH[name], put)
        : name.endsWith("LatDeg") ? h("button", { type: "button", "aria-label": `${label}: ${t.capture.here}`, onclick: () => this.position(name) }, t.capture.here) : null;
    return h("div", { class: LONG.has(name) ? "field long" : "field" },
      h("label", { for: id }, label, unit ? h("span", { class: "faint" }, ` (${unit})`) : null, name === "animal" && this.isNew ? h("span", { class: "faint" }, ` – ${t.capture.required}`) : null),
      h("div", { class: "with" }, input, help), local, hint);
  }

  /** @param {string} label @param {number} per @param {(value: string) => void} put */
  stopwatch(label, per, put) {
    let started = 0;
    const button = h("button", { type: "button", "aria-label": `${label}: ${t.capture.start}`, onclick: () => {
      if (!started) {
        started = Date.now();
      } else {
        put(String(Math.round((Date.now() - started) / 100 / per) / 10));
        started = 0;
      }
      button.textContent = started ? t.capture.stop : t.capture.start;
      button.setAttribute("aria-label", `${label}: ${button.textContent}`);
    } }, t.capture.start);
    return button;
  }

  /** @param {string} latName */
  position(latName) {
    const lonName = latName.replace("LatDeg", "LonDeg");
    if (!navigator.geolocation || !window.isSecureContext) {
      say(t.capture.noPosition);
      return;
    }
    navigator.geolocation.getCurrentPosition((p) => {
      this.fields.get(latName)?.set(p.coords.latitude.toFixed(5));
      this.fields.get(lonName)?.set(p.coords.longitude.toFixed(5));
      this.keepDraft();
    }, () => say(t.capture.noPosition));
  }

  /** @param {string} name @param {string} label @param {string[]} words */
  choice(name, label, words) {
    const group = freshId(name);
    const problem = h("span", { class: "problem" });
    const radios = [...words, ""].map((word) => {
      const input = h("input", { type: "radio", name: group, value: word, "data-column": name });
      return { word, input, label: h("label", { class: word ? null : "none" }, input, h("span", null, word ? word.replaceAll("-", " ") : t.capture.notKnown)) };
    });
    const set = h("fieldset", { class: "field choice" }, h("legend", null, label), h("div", { class: "options" }, radios.map((r) => r.label)), problem);
    this.fields.set(name, {
      get: () => radios.find((r) => r.input.checked)?.word ?? "",
      set: (value) => radios.forEach((r) => { r.input.checked = r.word === value; }),
      mark: (text) => { problem.textContent = text ?? ""; },
    });
    return set;
  }

  async save() {
    this.fields.forEach((field) => field.mark(null));
    const cells = this.changed();
    const name = this.isNew ? (cells.animal ?? "") : this.name;
    if (!who()) return this.refuse({ message: t.frame.whoMissing }, "who");
    if (!name) return this.refuse({ message: `${t.columns.animal[0]}: ${t.capture.required}`, problems: [{ field: "animal", text: t.capture.required }] });
    delete cells.animal;
    if (Object.keys(cells).length === 0 && !this.isNew) {
      say(t.capture.nothingChanged);
      return undefined;
    }
    try {
      const result = await ask("PUT", path`/api/animals/${name}`, { cells, base: this.base, new: this.isNew });
      localStorage.removeItem(this.draftKey);
      const all = Object.fromEntries(CARRIED.map((column) => [column, this.fields.get(column)?.get() ?? ""]));
      localStorage.setItem("aftercast.carried", JSON.stringify(all));
      say(t.capture.saved);
      if (result.warnings.length) {
        this.state.textContent = "";
        fill(this.problems, h("div", { class: "message warn", role: "alert" }, h("strong", null, t.capture.warnings), h("ul", null, result.warnings.map((/** @type {string} */ w) => h("li", null, w))),
          h("a", { href: "#/study" }, t.capture.back)));
        const stored = await get(path`/api/animals/${name}`);
        this.base = stored.cells;
        this.isNew = false;
        this.name = stored.animal;
        window.scrollTo(0, 0);
      } else {
        location.hash = "#/study";
      }
    } catch (failure) {
      this.refuse(failure);
    }
    return undefined;
  }

  /** @param {any} failure @param {string} [focus] */
  refuse(failure, focus) {
    const retake = failure.kind === "conflict" && !this.isNew
      ? h("p", null, h("button", { type: "button", onclick: async () => {
        this.base = (await get(path`/api/animals/${this.name}`)).cells;
        fill(this.problems);
        this.keepDraft();
      } }, t.capture.conflictHelp)) : null;
    fill(this.problems, failureBox(failure), retake);
    for (const problem of failure.problems ?? []) this.fields.get(problem.field)?.mark(problem.text);
    if (focus) document.getElementById(focus)?.focus();
    else window.scrollTo(0, 0);
    return undefined;
  }
}
