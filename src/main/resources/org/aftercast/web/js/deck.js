// On deck with one animal: the checklist before its release, photographs, and what people saw.
import { h, fill, freshId, say, failureBox } from "./dom.js";
import { ask, get, path, who } from "./api.js";
import { t } from "./strings.js";
import { localMinute } from "./times.js";
import { BoatGps } from "./gps.js";

/** @param {HTMLElement} place @param {string[]} parts @param {import("./main.js").Frame} frame */
export async function show(place, parts, frame) {
  if (!parts[0]) {
    const { animals } = await get("/api/study", { signal: frame.signal });
    fill(place, h("h1", null, t.titles.deck), animals.length === 0 ? h("p", { class: "sheet" }, t.load.noAnimals, " ", h("a", { href: "#/capture/new" }, t.study.add))
      : [h("p", null, t.deck.choose), h("ul", { class: "choose" }, animals.map((/** @type {any} */ a) => h("li", null, h("a", { class: "button", href: `#/deck/${encodeURIComponent(a.animal)}` }, a.animal))))]);
    return;
  }
  new DeckPage(place, await get(path`/api/animals/${parts[0]}/deck`, { signal: frame.signal }), frame).build();
}

class DeckPage {
  /** @param {HTMLElement} place @param {any} deck @param {import("./main.js").Frame} frame */
  constructor(place, deck, frame) {
    this.place = place;
    this.deck = deck;
    this.frame = frame;
    this.zone = frame.info.timeZone;
    this.outcome = h("div");
    this.list = h("section", { class: "sheet" });
    this.photos = h("section", { class: "sheet" });
    this.seen = h("section", { class: "sheet" });
    this.gps = new BoatGps(frame.signal, undefined, t.gps.noneOnDeck);
    this.draftKey = `aftercast.deck.${frame.info.title}.${deck.animal}`;
  }

  build() {
    const name = encodeURIComponent(this.deck.animal);
    this.place.append(
      h("div", { class: "spread tight" }, h("h1", null, t.deck.title(this.deck.animal)),
        h("div", { class: "row" }, h("a", { class: "button", href: `#/capture/${name}` }, t.titles.capture), h("a", { class: "button", href: "#/study" }, t.places.study))),
      this.outcome, this.gps.element, this.list, h("div", { class: "two" }, this.seen, this.photos));
    this.drawList();
    this.drawSeen();
    this.drawPhotos();
  }

  /** @param {() => Promise<any>} work @param {() => void} [after] */
  async change(work, after) {
    if (!who()) {
      fill(this.outcome, failureBox({ message: t.frame.whoMissing }));
      document.getElementById("who")?.focus();
      return false;
    }
    try {
      this.deck = await work();
      fill(this.outcome);
      say(t.capture.saved);
      after?.();
      return true;
    } catch (failure) {
      fill(this.outcome, failureBox(failure));
      this.outcome.scrollIntoView({ block: "nearest" });
      return false;
    }
  }

  /** @returns {Record<string, string>} what was typed and not saved, kept on this device */
  draft() {
    try {
      return JSON.parse(localStorage.getItem(this.draftKey) ?? "{}");
    } catch {
      return {};
    }
  }

  drawList() {
    const d = t.deck;
    const base = this.deck.checklist;
    const cells = { ...base, ...this.draft() };
    const state = h("span", { class: "small", role: "status" });
    const changed = () => Object.fromEntries(Object.entries(cells).filter(([key, value]) => value !== base[key]));
    const tell = () => {
      const mine = changed();
      const any = Object.keys(mine).length > 0;
      if (any) localStorage.setItem(this.draftKey, JSON.stringify(mine));
      else localStorage.removeItem(this.draftKey);
      state.textContent = any ? t.capture.notSaved : "";
    };
    const words = (/** @type {string} */ key, /** @type {Record<string, string>} */ options) => {
      const group = freshId(key);
      return h("fieldset", { class: "field choice" }, h("legend", null, d.fields[key]), h("div", { class: "options" },
        Object.entries(options).map(([word, text]) => h("label", null, h("input", { type: "radio", name: group, value: word, "data-cell": key, checked: cells[key] === word, onchange: () => { cells[key] = word; tell(); } }), h("span", null, text)))));
    };
    const time = (/** @type {string} */ key) => {
      const id = freshId(key);
      const from = h("span", { class: "small faint" }, cells[key] ? `${localMinute(cells[key], this.zone)} ${this.zone}` : "");
      const input = h("input", { id, "data-cell": key, autocomplete: "off", placeholder: "2026-06-01T14:05:00Z", value: cells[key], oninput: () => { cells[key] = input.value.trim(); from.textContent = ""; tell(); } });
      return h("div", { class: "field" }, h("label", { for: id }, d.fields[key]), h("div", { class: "with" }, input,
        h("button", { type: "button", "aria-label": `${d.fields[key]}: ${t.capture.now}`, onclick: () => {
          const now = this.gps.now();
          input.value = now.utc;
          cells[key] = now.utc;
          from.textContent = d.clocks[now.from];
          tell();
        } }, t.capture.now)), from);
    };
    const text = (/** @type {string} */ key, /** @type {boolean} */ long) => {
      const id = freshId(key);
      const input = h(long ? "textarea" : "input", { id, "data-cell": key, autocomplete: "off", oninput: () => { cells[key] = input.value.trim(); tell(); } });
      input.value = cells[key];
      return h("div", { class: long ? "field long" : "field" }, h("label", { for: id }, d.fields[key]), input);
    };
    const missing = this.deck.missing;
    const save = (/** @type {Event} */ e) => {
      e.preventDefault();
      const mine = changed();
      if (Object.keys(mine).length === 0) return void say(t.capture.nothingChanged);
      return this.change(() => ask("PUT", path`/api/animals/${this.deck.animal}/checklist`, { cells: mine, base }), () => {
        localStorage.removeItem(this.draftKey);
        this.drawList();
      });
    };
    const stopped = base.stopRule === "stop";
    fill(this.list, h("h2", null, t.capture.sections.checklist),
      h("p", { class: stopped ? "message alarm" : missing.length ? "message warn" : "message" }, stopped ? d.stopped : missing.length ? d.missing(missing.join(", ")) : d.complete),
      h("form", { onsubmit: save },
        h("ol", { class: "steps" },
          h("li", null, words("stillPoses", d.poses), h("p", { class: "small faint" }, d.posesHelp)),
          h("li", null, h("div", { class: "fields" }, ["tap1Utc", "tap2Utc", "tap3Utc"].map(time)), h("p", { class: "small faint" }, d.tapsHelp)),
          h("li", null, time("beaconHeardUtc"), h("p", { class: "small faint" }, d.beaconHelp)),
          h("li", null, words("stopRule", d.rules), h("p", { class: "small" }, t.capture.stopRule), text("permitCode", false))),
        text("checklistNotes", true),
        h("div", { class: "row end" }, state, h("button", { class: "main" }, t.capture.save))));
    if (Object.keys(this.draft()).length) tell();
  }

  drawSeen() {
    const d = t.deck;
    const what = h("select", { id: "seen-what" }, this.deck.kinds.map((/** @type {string} */ k) => h("option", { value: k }, d.kinds[k] ?? k)));
    const at = h("input", { id: "seen-at", autocomplete: "off", placeholder: "2026-06-01T14:05:00Z" });
    const note = h("textarea", { id: "seen-note" });
    const photo = h("select", { id: "seen-photo" }, h("option", { value: "" }, d.noPhoto), this.deck.photos.map((/** @type {any} */ p) => h("option", { value: p.sha256 }, p.caption ?? p.originalName)));
    const add = (/** @type {Event} */ e) => {
      e.preventDefault();
      this.change(() => ask("POST", path`/api/animals/${this.deck.animal}/seen`, { what: what.value, seenUtc: at.value, seenNote: note.value, photoSha256: photo.value }), () => this.drawSeen());
    };
    fill(this.seen, h("h2", null, d.seen), h("p", { class: "small" }, d.seenHelp),
      this.deck.seen.length === 0 ? h("p", { class: "faint" }, d.nothingSeen) : h("ul", { class: "plain seen" }, this.deck.seen.map((/** @type {any} */ s) => h("li", null,
        h("b", null, d.kinds[s.what] ?? s.what), s.seenUtc ? h("span", { class: "faint num" }, ` ${localMinute(s.seenUtc, this.zone)}`) : null, s.seenNote ? `: ${s.seenNote}` : "",
        s.photoSha256 ? h("a", { href: `/api/photos/${s.photoSha256}`, target: "_blank", rel: "noopener" }, ` ${d.photo}`) : null,
        h("button", { class: "quiet small", "aria-label": `${d.remove}: ${d.kinds[s.what] ?? s.what}`, onclick: () => this.change(() => ask("POST", path`/api/animals/${this.deck.animal}/seen/${s.number}/remove`, {}), () => this.drawSeen()) }, d.remove)))),
      h("form", { onsubmit: add },
        h("div", { class: "field" }, h("label", { for: "seen-what" }, d.what), what),
        h("div", { class: "field" }, h("label", { for: "seen-at" }, d.when), h("div", { class: "with" }, at, h("button", { type: "button", "aria-label": `${d.when}: ${t.capture.now}`, onclick: () => { at.value = this.gps.now().utc; } }, t.capture.now))),
        this.deck.photos.length ? h("div", { class: "field" }, h("label", { for: "seen-photo" }, d.showsIt), photo) : null,
        h("div", { class: "field" }, h("label", { for: "seen-note" }, d.note), note),
        h("button", null, d.addSeen)));
  }

  drawPhotos() {
    const d = t.deck;
    const file = h("input", { id: "photo-file", type: "file", accept: "image/jpeg,image/png", capture: "environment" });
    const caption = h("input", { id: "photo-caption", autocomplete: "off" });
    const add = async (/** @type {Event} */ e) => {
      e.preventDefault();
      const chosen = file.files[0];
      if (!chosen) return void file.focus();
      const taken = chosen.lastModified ? new Date(chosen.lastModified).toISOString() : "";
      const query = new URLSearchParams({ name: chosen.name, caption: caption.value.trim(), takenUtc: taken });
      await this.change(() => ask("POST", `${path`/api/animals/${this.deck.animal}/photos`}?${query}`, chosen), () => { this.drawPhotos(); this.drawSeen(); });
      return undefined;
    };
    fill(this.photos, h("h2", null, d.photos), h("p", { class: "small" }, d.photosHelp),
      this.deck.photos.length === 0 ? h("p", { class: "faint" }, d.noPhotos) : h("ul", { class: "plain gallery" }, this.deck.photos.map((/** @type {any} */ p) => h("li", null,
        h("a", { href: `/api/photos/${p.sha256}`, target: "_blank", rel: "noopener" }, h("img", { src: `/api/photos/${p.sha256}`, alt: p.caption ?? p.originalName, loading: "lazy" })),
        h("div", { class: "small" }, p.caption ?? p.originalName, p.takenUtc ? h("span", { class: "faint num" }, ` ${localMinute(p.takenUtc, this.zone)}`) : null)))),
      h("form", { onsubmit: add },
        h("div", { class: "field" }, h("label", { for: "photo-file" }, d.photoFile), file),
        h("div", { class: "field" }, h("label", { for: "photo-caption" }, d.caption), caption),
        h("button", null, d.addPhoto)));
  }
}
