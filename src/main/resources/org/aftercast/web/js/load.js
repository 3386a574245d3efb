// A download: drop it, see how it would be read, correct that, load it.
import { h, fill, say, failureBox } from "./dom.js";
import { ask, get, path, who } from "./api.js";
import { t } from "./strings.js";

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
    /** @type {any} */
    this.layout = null;
  }

  build() {
    const l = t.load;
    const waiting = this.animals.filter((a) => !a.recordingSha256);
    this.choose = h("select", { id: "load-animal" }, h("option", { value: "" }, l.chooseAnimal),
      this.animals.map((a) => h("option", { value: a.animal, selected: a.animal === this.animal }, `${a.animal} (${t.stages[a.stage]})`)));
    const file = h("input", { type: "file", id: "load-file", onchange: (/** @type {any} */ e) => this.arrive(e.target.files[0]) });
    const drop = h("div", { class: "drop" }, h("label", { for: "load-file" }, l.drop), file, h("p", { class: "small faint" }, l.kinds));
    drop.addEventListener("dragover", (/** @type {DragEvent} */ e) => { e.preventDefault(); drop.classList.add("over"); });
    drop.addEventListener("dragleave", () => drop.classList.remove("over"));
    drop.addEventListener("drop", (/** @type {DragEvent} */ e) => {
      e.preventDefault();
      drop.classList.remove("over");
      if (e.dataTransfer?.files[0]) this.arrive(e.dataTransfer.files[0]);
    });
    this.place.append(h("h1", null, l.title), h("p", null, l.about),
      this.animals.length === 0 ? h("p", { class: "sheet" }, l.noAnimals, " ", h("a", { href: "#/capture/new" }, t.study.add)) : h("div", { class: "sheet" },
        h("div", { class: "field" }, h("label", { for: "load-animal" }, l.animal), this.choose, waiting.length === 0 ? h("span", { class: "small faint" }, l.allLoaded) : null), drop),
      this.outcome, this.step);
  }

  /** @param {File|undefined} file */
  async arrive(file) {
    const l = t.load;
    if (!file) return;
    if (!who()) return void fill(this.outcome, failureBox({ message: t.frame.whoMissing }));
    fill(this.outcome, h("p", { class: "waiting", role: "status" }, l.looking(file.name)));
    fill(this.step);
    try {
      const arrived = await ask("POST", `/api/downloads?name=${encodeURIComponent(file.name)}`, file);
      this.download = arrived;
      this.layout = null;
      await this.explain(null);
    } catch (failure) {
      fill(this.outcome, failureBox(failure));
    }
  }

  /** @param {any} layout */
  async explain(layout) {
    const options = this.options();
    try {
      const seen = await ask("POST", path`/api/downloads/${this.download.id}/explain`, { layout, ...options });
      fill(this.outcome);
      this.layout = seen.layout;
      this.show(seen);
    } catch (failure) {
      fill(this.outcome, failureBox(failure));
    }
  }

  options() {
    const value = (/** @type {string} */ id) => /** @type {any} */ (document.getElementById(id))?.value.trim() ?? "";
    const rate = Number(value("load-rate"));
    return { zone: value("load-zone"), startUtc: value("load-start"), rateHz: rate > 0 ? rate : null };
  }

  /** @param {any} seen */
  show(seen) {
    const l = t.load;
    const options = this.options();
    const guess = seen.guess;
    const content = seen.content;
    const text = h("textarea", { id: "load-layout", spellcheck: "false", class: "code" });
    text.value = seen.layout ? JSON.stringify(seen.layout, null, 2) : "";
    const again = async () => {
      try {
        const layout = text.value.trim() ? JSON.parse(text.value) : null;
        const unchanged = seen.guess && seen.layout && JSON.stringify(layout) === JSON.stringify(seen.layout);
        await this.explain(unchanged ? null : layout);
      } catch (failure) {
        fill(this.outcome, failureBox({ message: `${l.notJson} ${/** @type {any} */ (failure).message}` }));
      }
    };
    const ready = content !== null;
    fill(this.step,
      h("section", { class: "sheet" }, h("h2", null, l.seen(this.download.name)),
        guess?.ambiguities.length ? h("div", { class: "message warn" }, h("strong", null, l.doubts), h("ul", null, guess.ambiguities.map((/** @type {string} */ a) => h("li", null, a)))) : null,
        guess ? h("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": l.columns }, h("table", null, h("thead", null, h("tr", null, l.columnHeads.map((head) => h("th", { scope: "col" }, head)))),
          h("tbody", null, guess.columns.map((/** @type {any} */ c) => h("tr", null, h("td", { class: "num" }, c.number), h("th", { scope: "row" }, c.name || "–"), h("td", null, c.takenFor), h("td", { class: "small" }, c.reason)))))) : null,
        guess?.notes.length ? h("ul", { class: "small" }, guess.notes.map((/** @type {string} */ n) => h("li", null, n))) : null),
      content ? this.content(content) : null,
      h("details", { class: "sheet", open: !ready }, h("summary", null, l.correct),
        h("div", { class: "fields" },
          h("div", { class: "field" }, h("label", { for: "load-zone" }, l.zone), h("input", { id: "load-zone", value: options.zone, placeholder: "Europe/London" })),
          h("div", { class: "field" }, h("label", { for: "load-start" }, l.start), h("input", { id: "load-start", value: options.startUtc, placeholder: "2026-06-01T14:05:00Z" })),
          h("div", { class: "field" }, h("label", { for: "load-rate" }, l.rate), h("input", { id: "load-rate", inputmode: "decimal", value: options.rateHz ?? "" })),
          h("div", { class: "field long" }, h("label", { for: "load-layout" }, l.layout), text)),
        h("button", { onclick: again }, l.lookAgain)),
      h("div", { class: "save-bar" }, h("span", { role: "status" }, ready ? "" : l.notReady),
        h("button", { class: "main", disabled: !ready, onclick: () => this.load() }, l.load)));
  }

  /** @param {any} c */
  content(c) {
    const l = t.load;
    return h("section", { class: "sheet" }, h("h2", null, l.content),
      h("p", null, l.contentLine(c.clock.startUtc ?? l.noStart, Number(c.clock.sampleRateHz.toPrecision(6)), c.sampleCount, (c.sampleCount / c.clock.sampleRateHz / 3600).toFixed(2))),
      h("table", null, h("thead", null, h("tr", null, l.channelHeads.map((head, i) => h("th", { scope: "col", class: i > 0 && i < 4 ? "num" : null }, head)))),
        h("tbody", null, c.summaries.map((/** @type {any} */ s) => h("tr", null, h("th", { scope: "row" }, l.channels[s.channel] ?? s.channel), h("td", { class: "num" }, Number(s.least.toPrecision(4))), h("td", { class: "num" }, Number(s.greatest.toPrecision(4))), h("td", { class: "num" }, s.count), h("td", { class: "sketch", "aria-hidden": "true" }, s.sketch))))),
      c.gaps.length ? h("p", null, l.gaps(c.gaps.length)) : null,
      c.flags.length ? h("ul", null, c.flags.map((/** @type {any} */ f) => h("li", null, f.note))) : null);
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
      const { work } = await ask("POST", path`/api/downloads/${this.download.id}/load`, { animal, layout: this.layout, ...this.options() });
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
      h("p", null, h("button", { class: "danger", onclick: () => ask("POST", path`/api/work/${work}/cancel`, {}) }, l.cancel))));
    return new Promise((done) => {
      const events = new EventSource(path`/api/work/${work}`);
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
          fill(this.step);
          fill(this.outcome, h("div", { class: "message", role: "status" }, l.cancelled));
        } else {
          fill(this.step);
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
    h("ul", { class: "plain" }, c.checks.map((/** @type {any} */ check) => h("li", null, h("b", null, check.answer === "yes" ? "✓ " : "✗ "), check.what, h("span", { class: "faint" }, `: ${check.note}`)))));
}
