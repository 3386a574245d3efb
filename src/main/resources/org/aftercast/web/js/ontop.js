// What stays in sight during a search: when to turn back by the clock, how old the last note is, where to go next.
import { h, fill } from "./dom.js";
import { t } from "./strings.js";
import { localMinute, span } from "./times.js";

const EVERY_MS = 5000;
const HOUR_MS = 3_600_000;
/** From this age of the last note on, the leg is no longer shown: the boat is elsewhere. */
const OLD_H = 1;
/** From this age on nothing of it holds any longer. */
const PAST_H = 24;

/** The latest of the last note, the boat's GPS and this device: a clock that is behind must not hide that it is late. @param {any} page */
function latest(page) {
  const boat = page.gps?.now();
  return Math.max(Date.parse(page.answer.result?.asOf ?? "") || 0, boat?.from === "gps" ? Date.parse(boat.utc) : 0, Date.now());
}

const three = (/** @type {number} */ deg) => `${String(Math.round(deg + 360) % 360).padStart(3, "0")}°`;

/** A course with what a magnetic compass shows, corrected for the declination only. @param {number} trueDeg @param {number|null|undefined} declinationDeg east positive */
export function course(trueDeg, declinationDeg) {
  return t.search.course(three(trueDeg), typeof declinationDeg === "number" ? three(trueDeg - declinationDeg) : null);
}

/** Redraws the line until the page is left. @param {any} page */
export function keepOnTop(page) {
  const timer = setInterval(() => showOnTop(page), EVERY_MS);
  page.frame.signal.addEventListener("abort", () => clearInterval(timer), { once: true });
}

/** @param {any} page the search page: answer, gps, frame, onTop, battery */
export function showOnTop(page) {
  const s = t.search;
  const { answer, onTop } = page;
  if (!onTop) return;
  const over = Boolean(answer.ended?.length);
  onTop.hidden = answer.rows.length === 0 || over;
  const zone = page.frame.info.timeZone;
  const now = latest(page);
  showBattery(page, now, over);
  const sought = answer.result?.packages[0];
  const leg = sought?.advice?.leg;
  const at = sought?.turnBack?.at;
  const today = localMinute(new Date(now).toISOString(), zone).slice(0, 10);
  const when = at ? localMinute(at, zone) : s.notKnown;
  const ageH = answer.result ? (now - Date.parse(answer.result.asOf)) / HOUR_MS : 0;
  const late = Boolean(at && Date.parse(at) <= now);
  const past = ageH >= PAST_H;
  const words = [
    when.startsWith(today) ? when.slice(-5) : when,
    late && !past ? s.nowHome : "",
    ageH < OLD_H ? "" : past ? s.notePast(ageH >= 48 ? s.days(Math.floor(ageH / 24)) : span(ageH)) : s.noteOld(span(Math.floor(ageH * 12) / 12)),
    !late && ageH < OLD_H && leg && leg.distanceM >= 1 ? `${course(leg.courseDeg, answer.declinationDeg)} ${s.legFor((leg.distanceM / 1852).toFixed(1))}` : "",
  ];
  const key = words.join("|");
  if (onTop.dataset.said === key) return; // a screen reader says it only when it changes
  onTop.dataset.said = key;
  onTop.classList.toggle("late", late || past);
  fill(onTop, h("b", null, s.turnBack, " ", words[0]), words[1] ? h("strong", null, ` ${words[1]}`) : null, words[2] ? h("span", { class: "old" }, ` ${words[2]}`) : null, words[3] ? h("span", { class: "num" }, ` · ${words[3]}`) : null);
}

/** The beacon was switched on at the release at the latest. @param {any} page @param {number} now @param {boolean} over */
function showBattery(page, now, over) {
  const { floatPackage, release } = page.answer;
  const until = floatPackage?.batteryH && release?.releasedUtc ? Date.parse(release.releasedUtc) + floatPackage.batteryH * HOUR_MS : null;
  page.battery.hidden = over || until === null || now < until;
  if (!page.battery.hidden && until !== null) {
    const words = t.search.batteryOver(floatPackage.batteryH, localMinute(new Date(until).toISOString(), page.frame.info.timeZone));
    if (page.battery.textContent !== words) fill(page.battery, words);
  }
}
