// Notes beyond heard and bearing: a sweep of loudness by heading, a sighting, a measured drift.
import { h, fill, freshId, say, failureBox } from "./dom.js";
import { ask } from "./api.js";
import { t } from "./strings.js";
import { byEar, driftByTaps } from "./taps.js";

const HEADINGS = [0, 45, 90, 135, 180, 225, 270, 315];
const three = (/** @type {number} */ deg) => String(deg).padStart(3, "0");

/** @param {any} page the search page: its note(), gps and gain @returns {HTMLElement} */
export function moreNotes(page) {
  return h("details", { class: "sheet more-notes" }, h("summary", null, t.search.more2), sweep(page), sighting(page), drift(page), ending(page));
}

/** @param {string} label @param {Record<string, any>} attributes */
function field(label, attributes) {
  const id = attributes.id ?? freshId("note");
  const input = h("input", { inputmode: "decimal", autocomplete: "off", ...attributes, id });
  return { input, element: h("div", { class: "field" }, h("label", { for: id }, label), input) };
}

/** @param {any} page */
function sweep(page) {
  const s = t.search;
  const outcome = h("p", { class: "small", role: "status" });
  const levels = HEADINGS.map((deg) => ({ deg, ...field(`${three(deg)}°`, { "aria-label": s.heading(three(deg)), class: "level", "data-heading": deg, inputmode: "text" }) }));
  const heading = field(s.boatHeading, { id: "sweep-bow" });
  const source = h("select", { id: "sweep-source", onchange: () => { heading.element.hidden = source.value !== "bow-and-true-heading"; if (!heading.input.value && page.gps?.state?.headingTrueDeg != null) heading.input.value = page.gps.state.headingTrueDeg.toFixed(0); } },
    ["true", "hand-compass", "bow-and-true-heading"].map((x) => h("option", { value: x }, s.sources[x])));
  heading.element.hidden = true;
  const measure = async () => {
    const next = levels.find((l) => l.input.value.trim() === "");
    if (!next) return void fill(outcome, s.measureFull);
    fill(outcome, s.measuring);
    try {
      const found = await ask("POST", "/api/pings/line?seconds=10", {});
      next.input.value = found.verdict === "no-pings" ? "-" : found.verdict === "saturated" && found.levelDb != null ? `${found.levelDb.toFixed(1)}!` : found.levelDb == null ? "" : found.levelDb.toFixed(1);
      fill(outcome, s.measured(three(next.deg), found.note || found.verdict));
    } catch (failure) {
      fill(outcome, failureBox(failure));
    }
    return undefined;
  };
  const note = async (/** @type {Event} */ e) => {
    e.preventDefault();
    const given = levels.filter((l) => l.input.value.trim() !== "");
    if (given.length < 2) return void fill(outcome, s.sweepNone);
    const values = given.map((l) => `${l.deg}:${l.input.value.trim().replace(",", ".")}`).join("/");
    const bow = source.value === "bow-and-true-heading" ? ` heading_deg=${heading.input.value.trim()}` : "";
    if (await page.note("sweep", `levels=${values} source=${source.value}${bow} gain=${page.gain.value}`)) {
      for (const level of levels) {
        level.input.value = "";
        level.input.dispatchEvent(new Event("input"));
      }
      fill(outcome);
    }
    return undefined;
  };
  return h("form", { class: "part", onsubmit: note }, h("h3", null, s.sweep), h("p", { class: "small" }, s.sweepHelp),
    byEar(levels),
    h("details", null, h("summary", null, s.inDecibels), h("p", { class: "small" }, s.sweepDb), h("div", { class: "levels" }, levels.map((l) => l.element))),
    h("div", { class: "row" }, h("div", { class: "field" }, h("label", { for: "sweep-source" }, s.source), source), heading.element),
    outcome,
    h("div", { class: "row" }, page.frame.device.role === "view" ? null : h("button", { type: "button", onclick: measure }, s.measure), h("button", { class: "main" }, s.sweepSave)));
}

/** @param {any} page */
function sighting(page) {
  const s = t.search;
  const bearing = field(s.sightBearing, { id: "sight-bearing" });
  const distance = field(s.sightDistance, { id: "sight-distance", value: "200" });
  const note = (/** @type {boolean} */ seen) => () => {
    if (!seen && !distance.input.value.trim()) {
      say(s.sightNeeds);
      return void distance.input.focus();
    }
    const parts = [`seen=${seen ? "yes" : "no"}`];
    if (seen && bearing.input.value.trim()) parts.push(`bearing_deg=${bearing.input.value.trim()}`);
    if (distance.input.value.trim() && (!seen || bearing.input.value.trim())) parts.push(`distance_m=${distance.input.value.trim()}`);
    return page.note("sighting", parts.join(" "));
  };
  return h("div", { class: "part" }, h("h3", null, s.sighting), h("p", { class: "small" }, s.sightingHelp),
    h("div", { class: "row" }, bearing.element, distance.element),
    h("div", { class: "row" }, h("button", { type: "button", onclick: note(true) }, s.seenSave), h("button", { type: "button", onclick: note(false) }, s.notSeenSave)));
}

/** @param {any} page */
function drift(page) {
  const s = t.search;
  const speed = field(s.driftSpeed, { id: "drift-speed" });
  const to = field(s.driftTo, { id: "drift-to" });
  const what = h("select", { id: "drift-what" }, Object.entries(s.drifters).map(([word, text]) => h("option", { value: word }, text)));
  const note = (/** @type {Event} */ e) => {
    e.preventDefault();
    if (!speed.input.value.trim() || !to.input.value.trim()) return void say(s.driftNeeds);
    return page.note("drift", `speed_kn=${speed.input.value.trim()} to_deg=${to.input.value.trim()} what=${what.value}`);
  };
  return h("form", { class: "part", onsubmit: note }, h("h3", null, s.drift), driftByTaps(page), h("p", { class: "small" }, s.driftTyped),
    h("div", { class: "row" }, speed.element, to.element, h("div", { class: "field" }, h("label", { for: "drift-what" }, s.driftWhat), what)),
    h("button", null, s.driftSave));
}

/** The search is over; the boat's place is where the package was found. @param {any} page */
function ending(page) {
  const s = t.search;
  const outcome = h("select", { id: "end-search" }, Object.entries(s.outcomes).map(([word, text]) => h("option", { value: word }, text)));
  const note = (/** @type {Event} */ e) => {
    e.preventDefault();
    return page.note("end", `outcome=${outcome.value}`);
  };
  return h("form", { class: "part", onsubmit: note }, h("h3", null, s.end), h("p", { class: "small" }, s.endHelp),
    h("div", { class: "row" }, h("div", { class: "field" }, h("label", { for: "end-search" }, s.endHow), outcome)),
    h("button", { class: "main" }, s.endSave));
}
