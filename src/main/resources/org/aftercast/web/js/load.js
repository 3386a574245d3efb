// A download: drop it, see how it would be read, correct that, load it.
import { h, fill, say, failureBox } from "./dom.js";
import { ask, get, path, who } from "./api.js";
import { t } from "./strings.js";
import { LayoutForm, plain } from "./layoutform.js";

/** @param {HTMLElement} place @param {string[]} parts @param {import("./main.js").Frame} frame */
export async function show(place, parts, frame) {
  const study = await get("/api/study", { signal: frame.signal });
  new LoadPage(place, study.animals, parts[0] ?? "", frame).build();
}

class LoadPage {
  /** @param {HTMLElement} place @param {any[]} animals @param {string} animal @param {import("./main.js").Frame} frame */
  constructor(place, animals, animal, frame) {
    this.place = place;
    this.animals = animals;
    this.animal = animal;
    this.frame = frame;
    this.step = h("div");
    this.outcome = h("div");
    this.found = h("div", { id: "load-found", "aria-live": "polite" });
    this.bar = h("div", { class: "save-bar" });
    /** The files in the order in which they are joined. @type {LayoutForm[]} */
    this.forms = [];
    this.notes = /** @type {Record<string, string>} */ ({ readLogger: "", readTrue: "", setLogger: "", setTrue: "", battery: "not-noted", secondCopy: "" });
    this.readable = false;
    this.turn = 0;
    /** @type {any} */
    this.later = 0;
    frame.signal.addEventListener("abort", () => clearTimeout(this.later));
    // The browser asks before a form that is not loaded yet is left by a reload.
    window.addEventListener("beforeunload", (event) => { if (this.forms.length > 0) event.preventDefault(); }, { signal: frame.signal });
  }

  build() {
    const l = t.load;
    const waiting = this.animals.filter((a) => !a.recordingSha256);
    this.choose = h("select", { id: "load-animal" }, h("option", { value: "" }, l.chooseAnimal),
      this.animals.map((a) => h("option", { value: a.animal, selected: a.animal === this.animal }, `${a.animal} (${t.stages[a.stage]})`)));
    const file = h("input", { type: "file", id: "load-file", multiple: true, onchange: async (/** @type {any} */ e) => {
      const chosen = [...e.target.files];
      e.target.value = "";
      await this.arrive(chosen);
    } });
    const drop = h("div", { class: "drop" }, h("label", { for: "load-file" }, l.drop), file, h("p", { class: "small faint" }, l.kinds));
    drop.addEventListener("dragover", (/** @type {DragEvent} */ e) => { e.preventDefault(); drop.classList.add("over"); });
    drop.addEventListener("dragleave", () => drop.classList.remove("over"));
    drop.addEventListener("drop", (/** @type {DragEvent} */ e) => {
      e.preventDefault();
      drop.classList.remove("over");
      this.arrive([...(e.dataTransfer?.files ?? [])]);
    });
    this.place.append(h("h1", null, l.title), h("p", null, l.about),
      this.animals.length === 0 ? h("p", { class: "sheet" }, l.noAnimals, " ", h("a", { href: "#/capture/new" }, t.study.add)) : h("div", { class: "sheet" },
        h("div", { class: "field" }, h("label", { for: "load-animal" }, l.animal), this.choose, waiting.length === 0 ? h("span", { class: "small faint" }, l.allLoaded) : null), drop),
      this.outcome, this.step);
  }

  /** @param {File[]} files */
  async arrive(files) {
    const l = t.load;
    if (files.length === 0) return;
    if (!who()) return void fill(this.outcome, failureBox({ message: t.frame.whoMissing }));
    try {
      const ids = this.forms.map((form) => form.file.id);
      for (const file of files) {
        fill(this.outcome, h("p", { class: "waiting", role: "status" }, l.looking(file.name)));
        const arrived = await ask("POST", `/api/downloads?name=${encodeURIComponent(file.name)}`, file);
        ids.push(arrived.id);
      }
      await this.guess(ids);
    } catch (failure) {
      fill(this.outcome, failureBox(failure));
    }
  }

  /** Asks what the files seem to be; what was set by hand stays. @param {string[]} ids */
  async guess(ids) {
    const seen = await ask("POST", "/api/downloads/explain", { downloads: ids });
    const kept = new Map(this.forms.filter((form) => form.touched).map((form) => [form.file.id, form]));
    this.forms = seen.files.map((/** @type {any} */ file) => kept.get(file.id) ?? new LayoutForm(file, () => this.soon()));
    fill(this.outcome);
    this.draw();
    if (seen.content && kept.size === 0) this.show(seen.content);
    else await this.look();
  }

  draw() {
    const l = t.load;
    const several = this.forms.length > 1;
    this.forms.forEach((form) => form.draw());
    fill(this.step,
      several ? h("p", null, l.several) : null,
      this.forms.map((form, i) => h("section", { class: "sheet", "data-file": form.file.name },
        h("div", { class: "spread tight" }, h("h2", null, several ? `${i + 1}. ` : "", l.seen(form.file.name)),
          h("div", { class: "row" }, i > 0 ? h("button", { type: "button", class: "quiet", onclick: () => this.reorder(i) }, l.sooner, h("span", { class: "hidden" }, form.file.name)) : null,
            h("button", { type: "button", class: "quiet", onclick: () => this.remove(i) }, l.remove, h("span", { class: "hidden" }, form.file.name)))),
        form.body)),
      this.found, this.before(), this.bar);
    this.drawBar(l.readingNow);
  }

  /** @param {number} i */
  reorder(i) {
    this.forms.splice(i - 1, 0, ...this.forms.splice(i, 1));
    this.draw();
    this.soon();
  }

  /** @param {number} i */
  remove(i) {
    this.forms.splice(i, 1);
    fill(this.outcome);
    if (this.forms.length === 0) fill(this.step);
    else this.guess(this.forms.map((form) => form.file.id)).catch((failure) => fill(this.outcome, failureBox(failure)));
  }

  /** Looks again a moment after the last change. */
  soon() {
    this.readable = false;
    this.turn += 1;
    this.drawBar(t.load.readingNow);
    clearTimeout(this.later);
    this.later = setTimeout(() => this.look(), 400);
  }

  async look() {
    const l = t.load;
    const turn = ++this.turn;
    const built = this.forms.map((form) => form.build());
    const missing = built.find((b) => b.missing);
    if (missing) {
      this.forms.forEach((form) => form.preview(null));
      fill(this.found, h("p", { class: "message warn" }, missing.missing));
      return void this.drawBar(l.notReady);
    }
    try {
      const seen = await ask("POST", "/api/downloads/explain", { ...this.wish(), layouts: built.map((b) => b.layout) });
      if (turn === this.turn) this.show(seen.content);
    } catch (failure) {
      if (turn !== this.turn) return;
      this.forms.forEach((form) => form.preview(null));
      fill(this.found, failureBox(failure));
      this.drawBar(l.notReadable);
    }
  }

  wish() {
    const { battery, secondCopy, ...clock } = this.notes;
    return { downloads: this.forms.map((form) => form.file.id), clock, battery, secondCopy };
  }

  /** What all files give together. @param {any} c */
  show(c) {
    const l = t.load;
    const start = c.clock.startUtc ? new Date(c.clock.startUtc) : null;
    const lengthS = (c.sampleCount - 1) / c.clock.sampleRateHz;
    const end = start ? new Date(start.getTime() + 1000 * lengthS) : null;
    this.forms.forEach((form) => form.preview(c.summaries));
    fill(this.found, h("section", { class: "sheet" }, h("h2", null, l.content),
      h("dl", { class: "facts" },
        h("dt", null, l.from), h("dd", null, start ? spelled(start) : l.noStart),
        h("dt", null, l.to), h("dd", null, end ? spelled(end) : l.noStart),
        h("dt", null, l.length), h("dd", null, l.contentLine(Number(c.clock.sampleRateHz.toPrecision(6)), c.sampleCount, (lengthS / 3600).toFixed(2))),
        h("dt", null, l.gapsHead), h("dd", null, l.gaps(c.gaps.length))),
      c.flags.length ? h("ul", null, c.flags.map((/** @type {any} */ f) => h("li", null, f.note))) : null));
    this.readable = true;
    this.drawBar("");
  }

  /** @param {string} text */
  drawBar(text) {
    const l = t.load;
    const settled = this.forms.every((form) => form.isSettled());
    const ready = this.readable && settled;
    fill(this.bar, h("span", { role: "status" }, text || (settled ? "" : l.notReady)),
      h("button", { class: "main", disabled: !ready, onclick: () => this.load() }, l.load));
  }

  /** What is noted before the logger may be erased. */
  before() {
    const l = t.load;
    const field = (/** @type {string} */ key) => h("div", { class: "field" }, h("label", { for: `load-${key}` }, l.notes[key]),
      h("div", { class: "with" }, h("input", { id: `load-${key}`, autocomplete: "off", spellcheck: "false", value: this.notes[key], placeholder: key === "secondCopy" ? l.copyHint : "2026-06-04T08:00:00Z",
        oninput: (/** @type {any} */ e) => { this.notes[key] = e.target.value.trim(); this.soon(); } }),
      key === "readTrue" ? h("button", { type: "button", onclick: () => {
        this.notes[key] = `${new Date().toISOString().slice(0, 19)}Z`;
        /** @type {any} */ (document.getElementById(`load-${key}`)).value = this.notes[key];
        this.soon();
      } }, t.capture.now) : null));
    return h("fieldset", { class: "sheet" }, h("legend", null, h("b", null, l.before)), h("p", { class: "small" }, l.beforeHelp),
      h("div", { class: "fields" }, ["readLogger", "readTrue", "setLogger", "setTrue"].map(field),
        h("div", { class: "field" }, h("label", { for: "load-battery" }, l.notes.battery),
          h("select", { id: "load-battery", onchange: (/** @type {any} */ e) => { this.notes.battery = e.target.value; } },
            Object.entries(l.batteries).map(([word, text]) => h("option", { value: word, selected: word === this.notes.battery }, text)))),
        this.frame.device.thisMachine ? field("secondCopy") : h("p", { class: "small faint" }, l.copyElsewhere)));
  }

  async load() {
    const l = t.load;
    const animal = this.choose.value;
    if (!animal) {
      fill(this.outcome, failureBox({ message: l.animalFirst }));
      this.choose.focus();
      return;
    }
    try {
      const layouts = this.forms.map((form) => form.build().layout);
      const { work } = await ask("POST", "/api/downloads/load", { ...this.wish(), animal, layouts });
      await this.follow(work, animal);
    } catch (failure) {
      fill(this.outcome, failureBox(failure));
    }
  }

  /** @param {string} work @param {string} animal */
  follow(work, animal) {
    const l = t.load;
    const bar = h("progress", { max: 1, "aria-label": l.loading(animal) });
    fill(this.step, h("section", { class: "sheet" }, h("h2", null, l.loading(animal)), bar,
      h("p", null, h("button", { class: "danger", onclick: () => ask("POST", path`/api/jobs/${work}/cancel`, {}) }, l.cancel))));
    return new Promise((done) => {
      const events = new EventSource(path`/api/jobs/${work}`);
      this.frame.signal.addEventListener("abort", () => events.close());
      events.onerror = () => {
        if (events.readyState === EventSource.CLOSED) fill(this.outcome, failureBox({ message: l.lost }));
      };
      events.onmessage = (message) => {
        const state = JSON.parse(message.data);
        if (state.stand === "under-way" && state.total > 0) bar.value = state.done / state.total;
        if (state.stand === "under-way" || state.stand === "waiting") return;
        events.close();
        if (state.stand === "done") this.loaded(animal, state.result);
        else if (state.stand === "cancelled") {
          this.draw();
          this.drawBar("");
          fill(this.outcome, h("div", { class: "message", role: "status" }, l.cancelled));
        } else {
          this.draw();
          this.drawBar("");
          fill(this.outcome, failureBox(state.error));
        }
        done(undefined);
      };
    });
  }

  /** @param {string} animal @param {any} result */
  loaded(animal, result) {
    const l = t.load;
    const read = h("button", { class: "main", onclick: async () => {
      read.disabled = true;
      read.textContent = t.study.reading;
      try {
        await ask("POST", path`/api/animals/${animal}/read`, {});
        location.hash = `#/recording/${encodeURIComponent(animal)}`;
      } catch (failure) {
        fill(this.outcome, failureBox(failure));
        read.disabled = false;
        read.textContent = t.recording.readNow;
      }
    } }, t.recording.readNow);
    say(l.loadedSay(animal));
    this.forms = [];
    fill(this.outcome);
    fill(this.step, h("section", { class: "sheet" }, h("h2", null, l.loaded(animal)),
      h("p", null, h("span", { class: "faint" }, "SHA-256 "), h("span", { class: "hash" }, result.sha256)),
      card(result.card),
      h("div", { class: "row" }, read, h("a", { class: "button", href: `#/recording/${encodeURIComponent(animal)}` }, t.places.recording))));
  }
}

/** Whether the logger may be erased. @param {any} c */
function card(c) {
  const may = c.checks.every((/** @type {any} */ check) => check.answer === "yes");
  return h("div", { class: may ? "message" : "message warn" }, h("strong", null, may ? t.load.mayErase : t.load.keep),
    h("ul", { class: "plain" }, c.checks.map((/** @type {any} */ check) => h("li", null, h("b", null, check.answer === "yes" ? "✓ " : "✗ "), check.what, h("span", { class: "faint" }, `: ${plain(check.note)}`)))));
}

/** A time with its month in letters, so that day and month cannot be mistaken. @param {Date} time */
function spelled(time) {
  return `${time.toLocaleString("en-GB", { day: "numeric", month: "long", year: "numeric", hour: "2-digit", minute: "2-digit", second: "2-digit", timeZone: "UTC" })} UTC`;
}
