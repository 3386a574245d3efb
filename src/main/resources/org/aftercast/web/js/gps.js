// The boat's own GPS as the server hears it: a line that says where the boat is, how old that is, and whose clock counts.
import { h, fill } from "./dom.js";
import { get } from "./api.js";
import { t } from "./strings.js";

const EVERY_MS = 1000;

/** Degrees and minutes, as charts have them. @param {number} deg @param {string} plus @param {string} minus */
function chart(deg, plus, minus) {
  const whole = Math.floor(Math.abs(deg));
  return `${whole}° ${((Math.abs(deg) - whole) * 60).toFixed(3).padStart(6, "0")}′ ${deg < 0 ? minus : plus}`;
}

export class BoatGps {
  /** Asks once a second until the page is left. @param {AbortSignal} signal @param {((state: any) => void)|undefined} [onstate] @param {string} [none] what is said without a GPS */
  constructor(signal, onstate, none = t.gps.none) {
    this.none = none;
    this.signal = signal;
    this.onstate = onstate;
    /** @type {any} */
    this.state = null;
    this.askedAt = 0;
    this.element = h("p", { class: "gps", role: "group", "aria-label": t.gps.label });
    this.ask();
  }

  async ask() {
    try {
      this.state = await get("/api/gps", { signal: this.signal });
      this.askedAt = Date.now();
    } catch {
      this.state = null;
    }
    if (this.signal.aborted) return;
    this.draw();
    this.onstate?.(this.state);
    // Without a source there is nothing to follow; somebody may still choose one.
    this.timer = setTimeout(() => this.ask(), this.state?.source ? EVERY_MS : 15 * EVERY_MS);
    this.signal.addEventListener("abort", () => clearTimeout(this.timer), { once: true });
  }

  /** The boat's place, or null when it is not known or too old. @returns {{lat: string, lon: string}|null} */
  place() {
    const s = this.state;
    if (!s?.position || s.stale) return null;
    return { lat: s.position.latDeg.toFixed(5), lon: s.position.lonDeg.toFixed(5) };
  }

  /** The time now by the GPS, else by this device. @returns {{utc: string, from: "gps"|"device"}} */
  now() {
    const s = this.state;
    if (s?.gpsTime && !s.stale) return { utc: whole(Date.parse(s.gpsTime) + s.ageS * 1000 + (Date.now() - this.askedAt)), from: "gps" };
    return { utc: whole(new Date().getTime()), from: "device" };
  }

  draw() {
    const g = t.gps;
    const s = this.state;
    if (!s) return fill(this.element, g.unreachable);
    if (!s.source) return fill(this.element, this.none);
    if (!s.position) return fill(this.element, g.waiting(s.source, s.link));
    const parts = [`${chart(s.position.latDeg, "N", "S")}, ${chart(s.position.lonDeg, "E", "W")}`];
    if (s.speedMps !== null) parts.push(g.speed((s.speedMps * 3600 / 1852).toFixed(1)));
    if (s.courseDeg !== null) parts.push(g.course(String(Math.round(s.courseDeg)).padStart(3, "0")));
    return fill(this.element, h("b", null, g.boat, " "), h("span", { class: "num" }, parts.join(" · ")), " ",
      s.stale ? h("strong", { class: "late" }, g.stale(Math.round(s.ageS))) : h("span", { class: "faint num" }, g.age(Math.round(s.ageS))));
  }
}

/** @param {number} ms */
function whole(ms) {
  return `${new Date(Math.round(ms / 1000) * 1000).toISOString().slice(0, 19)}Z`;
}
