// Notes in two taps with a glove on: a bearing on a dial, a drift by beginning and ending, a sweep by ear.
import { h, svg, fill, say } from "./dom.js";
import { t } from "./strings.js";

const three = (/** @type {number} */ deg) => String(deg).padStart(3, "0");
const BY_EAR = /** @type {[string, string][]} */ ([["-", "notHeard"], ["4", "faint"], ["8", "weak"], ["12", "fair"], ["16", "strong"], ["20!", "full"]]);
const LEAST_DRIFT_S = 120;

/** A dial: one tap sets the bearing to the nearest 5°, the buttons beside it move it by one. @param {HTMLInputElement} input @returns {HTMLElement} */
export function dial(input) {
  const s = t.search;
  const hand = svg("line", { x1: 0, y1: 0, x2: 0, y2: -112, class: "hand", hidden: true });
  const told = svg("text", { x: 0, y: 9, class: "told" }, "–");
  const ticks = [];
  for (let deg = 0; deg < 360; deg += 10) {
    const long = deg % 30 === 0;
    ticks.push(svg("line", { x1: 0, y1: -(long ? 104 : 110), x2: 0, y2: -118, transform: `rotate(${deg})` }));
    if (long) ticks.push(svg("text", { x: 0, y: -84, transform: `rotate(${deg} 0 0) rotate(${-deg} 0 -90)` }, three(deg)));
  }
  const picture = svg("svg", { viewBox: "-125 -125 250 250", class: "dial", "aria-hidden": "true" }, svg("circle", { r: 122 }), ticks, hand, svg("circle", { r: 40, class: "hub" }), told);
  const draw = () => {
    const deg = Number.parseFloat(input.value);
    const known = input.value.trim() !== "" && deg >= 0 && deg <= 360;
    hand.toggleAttribute("hidden", !known);
    hand.setAttribute("transform", `rotate(${known ? deg : 0})`);
    fill(told, known ? `${three(Math.round(deg) % 360)}°` : "–");
  };
  const set = (/** @type {number} */ deg) => {
    input.value = three(((deg % 360) + 360) % 360);
    draw();
  };
  picture.addEventListener("click", (/** @type {MouseEvent} */ e) => {
    const box = picture.getBoundingClientRect();
    const x = e.clientX - box.left - box.width / 2;
    const y = e.clientY - box.top - box.height / 2;
    set(Math.round((Math.atan2(x, -y) * 180) / Math.PI / 5) * 5);
  });
  input.addEventListener("input", draw);
  input.addEventListener("change", draw);
  const turn = (/** @type {number} */ by) => h("button", { type: "button", "aria-label": s.turnBy(by), onclick: () => set((Number.parseFloat(input.value) || 0) + by) }, by > 0 ? "+1°" : "−1°");
  return h("div", { class: "dial-row" }, turn(-1), picture, turn(1));
}

/** The boat drifts with the engine in neutral: one tap when it begins, one when it ends. @param {any} page @returns {HTMLElement} */
export function driftByTaps(page) {
  const s = t.search;
  /** @type {{at: number, lat: number, lon: number}|null} */
  let from = null;
  const told = h("p", { class: "small", role: "status" });
  const now = () => {
    const here = page.gps?.place();
    return here ? { at: Date.parse(page.gps.now().utc), lat: Number(here.lat), lon: Number(here.lon) } : null;
  };
  const button = h("button", { type: "button", onclick: async () => {
    const here = now();
    if (!here) return void fill(told, s.driftNoGps);
    if (!from) {
      from = here;
      fill(button, s.driftStop);
      return void fill(told, s.driftRuns);
    }
    const seconds = (here.at - from.at) / 1000;
    if (seconds < LEAST_DRIFT_S) return void fill(told, s.driftTooShort(Math.round(LEAST_DRIFT_S - seconds)));
    const north = (here.lat - from.lat) * 111_200;
    const east = (here.lon - from.lon) * 111_320 * Math.cos((here.lat * Math.PI) / 180);
    const to = ((Math.atan2(east, north) * 180) / Math.PI + 360) % 360;
    const values = `speed_mps=${(Math.hypot(east, north) / seconds).toFixed(3)} to_deg=${to.toFixed(0)} what=stopped-boat hours=${(seconds / 3600).toFixed(3)}`;
    from = null;
    fill(button, s.driftStart);
    fill(told);
    return page.note("drift", values);
  } }, s.driftStart);
  return h("div", { class: "by-taps" }, h("p", { class: "small" }, s.driftHelp), button, told);
}

/** Loudness by ear: a row of six buttons for every heading. Each press fills the field of that heading. @param {{deg: number, input: HTMLInputElement}[]} levels @returns {HTMLElement} */
export function byEar(levels) {
  const s = t.search;
  return h("div", { class: "by-ear" }, h("p", { class: "small" }, s.byEarHelp), levels.map((level) => {
    const buttons = BY_EAR.map(([value, word], i) => h("button", { type: "button", "aria-pressed": "false", "aria-label": `${three(level.deg)}°: ${s.ears[word]}`, title: s.ears[word], onclick: () => {
      level.input.value = value;
      level.input.dispatchEvent(new Event("input"));
      if (i === BY_EAR.length - 1) say(s.earFull);
    } }, i === 0 ? "–" : `${i}`));
    level.input.addEventListener("input", () => buttons.forEach((b, i) => b.setAttribute("aria-pressed", String(level.input.value.trim() === BY_EAR[i]?.[0]))));
    return h("div", { class: "ear" }, h("span", { class: "num" }, `${three(level.deg)}°`), buttons);
  }));
}
