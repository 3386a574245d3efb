// Finding one package: what was heard goes in with two taps, where to go comes out. Cautions and turning back stay on top.
import { h, fill, say, failureBox } from "./dom.js";
import { ask, get, path, who } from "./api.js";
import { t } from "./strings.js";
import { localMinute } from "./times.js";
import { BoatGps } from "./gps.js";
import { moreNotes } from "./soundings.js";
import { dial } from "./taps.js";
import { course, keepOnTop, showOnTop } from "./ontop.js";
import { choose, isOver, recorded } from "./sought.js";

/** @param {HTMLElement} place @param {string[]} parts @param {import("./main.js").Frame} frame */
export async function show(place, parts, frame) {
  if (!parts[0]) {
    const study = await get("/api/study", { signal: frame.signal });
    choose(place, study.animals, (animals) => order(frame, animals));
    return;
  }
  const answer = await get(path`/api/animals/${parts[0]}/search`, { signal: frame.signal });
  await new SearchPage(place, answer, frame).build();
}

/** Which package first, over all searches of the study. @param {import("./main.js").Frame} frame @param {any[]} sought */
function order(frame, sought) {
  if (sought.length < 2) return null;
  const s = t.search;
  const outcome = h("div", { "aria-live": "polite" });
  const button = h("button", { type: "button", onclick: async () => {
    button.disabled = true;
    fill(outcome, h("p", { class: "faint" }, s.reckoning));
    try {
      const { result, refusal } = await get("/api/searches", { signal: frame.signal });
      fill(outcome, result ? h("ol", null, result.packages.map((/** @type {any} */ p) => h("li", null, h("b", null, p.name), " ", p.whyInThisOrder))) : h("p", { class: "message warn" }, refusal));
    } catch (failure) {
      fill(outcome, failureBox(failure));
    }
    button.disabled = false;
  } }, s.order);
  return h("section", { class: "sheet" }, h("h2", null, s.orderTitle), h("p", { class: "small" }, s.orderHelp), button, outcome);
}

/** So many rows of the log stay in sight: on a phone the map comes below them. */
const NEWEST = 4;
const percent = (/** @type {number} */ share) => `${Math.round(100 * share)} %`;

class SearchPage {
  /** @param {HTMLElement} place @param {any} answer @param {import("./main.js").Frame} frame */
  constructor(place, answer, frame) {
    this.place = place;
    this.answer = answer;
    this.frame = frame;
    /** @type {any} */
    this.map = null;
    /** @type {BoatGps|null} */
    this.gps = null;
    /** The way the boat has come since the page was opened. @type {number[][]} */
    this.way = [];
    this.ticking = false;
  }

  async build() {
    const s = t.search;
    const { answer } = this;
    const p = answer.floatPackage;
    this.advice = h("div");
    this.log = h("div");
    this.outcome = h("div");
    this.mapPlace = h("div", { class: "map", role: "region", "aria-label": s.map });
    const byHand = () => { if (this.follow) this.follow.checked = false; };
    this.lat = h("input", { id: "own-lat", inputmode: "decimal", autocomplete: "off", value: this.own()[0], oninput: byHand });
    this.lon = h("input", { id: "own-lon", inputmode: "decimal", autocomplete: "off", value: this.own()[1], oninput: byHand });
    this.follow = h("input", { type: "checkbox", id: "follow-gps", checked: true, onchange: () => this.boat() });
    this.gps ??= new BoatGps(this.frame.signal, () => this.boat());
    this.place.append(
      h("h1", null, s.title(answer.animal)),
      h("p", { class: "faint" }, [p?.serial, p?.frequencyMHz ? `${p.frequencyMHz.toFixed(3)} MHz` : null, p?.pingsPerMin ? s.pings(p.pingsPerMin) : null].filter(Boolean).join(" · ")),
      this.onTop = h("p", { class: "on-top", role: "status", hidden: true }),
      ...recorded(answer, this.frame.info.timeZone),
      this.battery = h("p", { class: "message warn", hidden: true }),
      h("details", { class: "message warn go", open: answer.rows.length === 0 }, h("summary", null, s.caution), h("ul", null, s.cautions.map((line) => h("li", null, line)))),
      this.advice, this.outcome,
      h("div", { class: "hunt" },
        h("div", null, this.mapPlace, h("p", { class: "small faint" }, s.mapHelp)),
        h("div", null, answer.rows.length === 0 ? this.startForm() : [this.entry(), moreNotes(this)], this.log, this.logFiles = h("p", { class: "small" }))));
    this.showAdvice();
    this.showLog();
    if (!this.ticking) keepOnTop(this);
    this.ticking = true;
    await this.drawMap();
  }

  /** Where the boat was last. @returns {[string, string]} */
  own() {
    const rows = this.answer.rows.filter((/** @type {any} */ r) => r.lat && !["start", "home"].includes(r.kind));
    const last = rows[rows.length - 1];
    const release = this.answer.release;
    return last ? [last.lat, last.lon] : [release.releaseLatDeg ?? this.answer.siteLatDeg ?? "", release.releaseLonDeg ?? this.answer.siteLonDeg ?? ""];
  }

  /** The first rows: where it came off, wind, tide, boat, home. */
  startForm() {
    const s = t.search;
    const off = this.answer.detachment?.detachedUtc ?? this.answer.release.plannedDetachmentUtc ?? "";
    const field = (/** @type {string} */ id, /** @type {string} */ label, /** @type {any} */ value, /** @type {boolean} */ decimal = true) => h("div", { class: decimal ? "field" : "field when" }, h("label", { for: id }, label), h("input", { id, value: value ?? "", placeholder: decimal ? null : "2026-06-01T14:05:00Z", inputmode: decimal ? "decimal" : null, autocomplete: "off" }));
    const form = h("form", { class: "sheet", onsubmit: async (/** @type {Event} */ e) => {
      e.preventDefault();
      const v = (/** @type {string} */ id) => /** @type {any} */ (document.getElementById(id)).value.trim();
      const time = v("s-time");
      const rows = [{ time, lat: v("own-lat"), lon: v("own-lon"), kind: "start", values: `sd_m=${v("s-sd")}${this.answer.release.plannedDetachmentUtc ? ` planned=${this.answer.release.plannedDetachmentUtc}` : ""}` }];
      const mhz = this.answer.floatPackage?.frequencyMHz;
      rows.push({ time, lat: "", lon: "", kind: "beacon", values: `${mhz ? `frequency_mhz=${mhz.toFixed(3)} ` : ""}range_nm=${v("s-range")}` });
      if (v("s-wind")) rows.push({ time, lat: "", lon: "", kind: "wind", values: `speed_mps=${v("s-wind")} from_deg=${v("s-windfrom")}` });
      if (v("s-tide")) rows.push({ time: v("s-tidetime") || time, lat: "", lon: "", kind: "tide", values: `speed_mps=${v("s-tide")} to_deg=${v("s-tideto")}` });
      if (v("s-boat")) rows.push({ time: v("s-depart") || new Date().toISOString(), lat: "", lon: "", kind: "boat", values: `speed_kn=${v("s-boat")}${v("s-fuel") ? ` fuel_h=${v("s-fuel")}` : ""}` });
      if (v("s-homelat")) rows.push({ time: "", lat: v("s-homelat"), lon: v("s-homelon"), kind: "home", values: "" });
      await this.add(rows);
    } },
    h("h2", null, s.start), h("p", { class: "small" }, s.startHelp),
    h("div", { class: "fields narrow-fields" },
      field("s-time", s.offTime, off, false),
      h("div", { class: "field" }, h("label", { for: "own-lat" }, s.offLat), this.lat), h("div", { class: "field" }, h("label", { for: "own-lon" }, s.offLon), this.lon),
      field("s-sd", s.offSd, 500), field("s-range", s.range, 8),
      field("s-wind", s.wind, ""), field("s-windfrom", s.windFrom, ""),
      field("s-tide", s.tide, ""), field("s-tideto", s.tideTo, ""), field("s-tidetime", s.tideTime, "", false),
      field("s-boat", s.boat, ""), field("s-fuel", s.fuel, ""), field("s-depart", s.depart, "", false),
      field("s-homelat", s.homeLat, ""), field("s-homelon", s.homeLon, "")),
    h("button", { class: "main" }, s.begin));
    // a search that ended is not begun again by accident
    if (isOver(this.answer.outcome)) return h("details", { class: "again" }, h("summary", null, s.again), form);
    return form;
  }

  /** Two taps: what, then how; the time is now and the place is the boat's. */
  entry() {
    const s = t.search;
    this.gain = h("select", { id: "gain", onchange: () => this.drawBoat() }, [1, 2, 3, 4, 5, 6].map((g) => h("option", { value: g }, `${g}`)));
    const bearing = h("input", { id: "bearing", inputmode: "numeric", autocomplete: "off", placeholder: "0–359" });
    const source = h("select", { id: "bearing-source" }, ["hand-compass", "true"].map((x) => h("option", { value: x }, s.sources[x])));
    const listen = (/** @type {boolean} */ heard) => () => this.note("listen", `heard=${heard ? "yes" : "no"} gain=${this.gain.value} seconds=60`);
    return h("section", { class: "sheet entry" }, h("h2", null, s.note),
      this.gps?.element,
      this.followRow = h("div", { class: "ticks", hidden: !this.gps?.state?.source }, h("label", null, this.follow, s.followGps)),
      h("div", { class: "row" },
        h("div", { class: "field" }, h("label", { for: "own-lat" }, s.ownLat), this.lat),
        h("div", { class: "field" }, h("label", { for: "own-lon" }, s.ownLon), this.lon),
        h("button", { type: "button", onclick: () => this.position() }, t.capture.here)),
      h("div", { class: "row" }, h("div", { class: "field" }, h("label", { for: "gain" }, s.gain), this.gain)),
      h("div", { class: "taps" },
        h("button", { class: "main", onclick: listen(true) }, s.heard),
        h("button", { onclick: listen(false) }, s.notHeard)),
      dial(bearing),
      h("div", { class: "row" },
        h("div", { class: "field" }, h("label", { for: "bearing" }, s.bearing), bearing),
        h("div", { class: "field" }, h("label", { for: "bearing-source" }, s.source), source),
        h("button", { class: "main", onclick: () => { if (bearing.value.trim()) this.note("bearing", `deg=${bearing.value.trim()} source=${source.value} gain=${this.gain.value}`); else bearing.focus(); } }, s.bearingSave)),
      h("div", { class: "taps" },
        h("button", { onclick: () => this.note("sighting", "seen=yes") }, s.seen),
        this.undoLast = h("button", { class: "last", hidden: true }),
        h("button", { onclick: () => { const end = /** @type {any} */ (document.getElementById("end-search")); end.closest("details").open = true; end.focus(); } }, s.end)));
  }

  /** The boat's place follows its GPS, unless somebody typed another. */
  boat() {
    const here = this.gps?.place();
    if (here && this.follow?.checked && this.answer.rows.length > 0) {
      this.lat.value = here.lat;
      this.lon.value = here.lon;
    }
    if (this.followRow) this.followRow.hidden = !this.gps?.state?.source;
    this.drawBoat();
  }

  position() {
    const boat = this.gps?.place();
    if (boat) {
      this.lat.value = boat.lat;
      this.lon.value = boat.lon;
      return undefined;
    }
    if (!navigator.geolocation || !window.isSecureContext) return void say(t.capture.noPosition);
    navigator.geolocation.getCurrentPosition((p) => {
      this.lat.value = p.coords.latitude.toFixed(5);
      this.lon.value = p.coords.longitude.toFixed(5);
    }, () => say(t.capture.noPosition));
    return undefined;
  }

  /** @param {string} kind @param {string} values */
  note(kind, values) {
    return this.add([{ time: this.gps?.now().utc ?? new Date().toISOString().slice(0, 19) + "Z", lat: this.lat.value.trim(), lon: this.lon.value.trim(), kind, values }]);
  }

  /** @param {any[]} rows @returns {Promise<boolean>} whether they were taken */
  async add(rows) {
    if (!who()) {
      fill(this.outcome, failureBox({ message: t.frame.whoMissing }));
      return false;
    }
    fill(this.outcome, h("p", { class: "faint", role: "status" }, t.search.reckoning));
    try {
      const first = this.answer.rows.length === 0;
      this.answer = await ask("POST", path`/api/animals/${this.answer.animal}/search`, { rows });
      fill(this.outcome);
      say(t.search.noted);
      if (first) {
        this.place.replaceChildren();
        await this.build();
      } else {
        this.showAdvice();
        this.showLog();
        this.drawResult();
        this.drawBoat();
      }
      return true;
    } catch (failure) {
      fill(this.outcome, failureBox(failure));
    }
    return false;
  }

  showAdvice() {
    const s = t.search;
    const { result, refusal, ended } = this.answer;
    showOnTop(this);
    if (ended?.length) return fill(this.advice, h("div", { class: "message" }, h("strong", null, s.ended), " ", h("span", null, ended.map((/** @type {any} */ e) => s.endedHow(s.outcomes[e.outcome] ?? e.outcome, e.hours.toFixed(1), e.miles.toFixed(1), e.howKnown)).join(" "))));
    if (refusal) return fill(this.advice, h("div", { class: "message warn" }, refusal));
    if (!result) return fill(this.advice);
    const sought = result.packages[0];
    const zone = this.frame.info.timeZone;
    const a = sought.advice;
    fill(this.advice, h("section", { class: "sheet next-step" },
      h("p", { class: "turn-back" }, h("b", null, s.turnBack, " "), sought.turnBack?.at ? `${localMinute(sought.turnBack.at, zone)} ` : "", h("span", { class: "faint" }, sought.turnBack?.reason ?? s.noBoat)),
      a ? [h("h2", null, s.actions[a.action] ?? a.action),
        a.leg && a.leg.distanceM >= 1 ? h("p", { class: "leg" }, h("b", { class: "num" }, course(a.leg.courseDeg, this.answer.declinationDeg)), " ", s.legFor((a.leg.distanceM / 1852).toFixed(1)), h("span", { class: "faint" }, ` ${a.leg.to.chart}, ${s.chance(Math.round(a.leg.chanceOfHearing * 100))}`)) : null,
        h("p", null, a.reason), a.pattern ? h("p", null, h("b", null, s.patterns[a.pattern.kind] ?? a.pattern.kind), `: ${a.pattern.reason}`) : null, h("p", null, h("b", null, s.useGain(a.gainStep)), " ", a.gainReason)] : h("p", { class: "faint" }, s.noBoat),
      h("p", { class: "small" }, s.fix(sought.fix.mean.chart, (sought.fix.radius95M / 1852).toFixed(1), sought.detectionOddsSoFar < 0.005 ? null : Math.round(sought.detectionOddsSoFar * 100)), h("span", { class: "faint" }, ` ${s.asOf(localMinute(result.asOf, zone))}`)),
      h("details", null, h("summary", null, s.more),
        h("p", { class: "small" }, s.beacon(percent(sought.beacon.adrift), percent(sought.beacon.ashore), percent(sought.beacon.stillAttached), percent(sought.beacon.insidePredator), percent(sought.beacon.beaconDead)), s.shed[sought.beacon.shedEarly] ?? ""),
        sought.residuals.length ? h("ul", { class: "small" }, sought.residuals.map((/** @type {any} */ r) => h("li", null, `${localMinute(r.time, zone)}: ${String(Math.round(r.trueBearingDeg) % 360).padStart(3, "0")}°: ${s.verdicts[r.verdict] ?? r.verdict}`))) : null,
        h("ul", { class: "small" }, result.cautions.map((/** @type {string} */ c) => h("li", null, c))))));
    return undefined;
  }

  /** What a row of the log says. @param {any} row */
  wordsOf(row) {
    return this.answer.words?.[this.answer.rows.indexOf(row)] ?? row.values;
  }

  showLog() {
    const s = t.search;
    const rows = [...this.answer.rows].reverse();
    if (rows.length === 0) return fill(this.log);
    if (this.logFiles) fill(this.logFiles, s.logFiles, " ", ["table", "gpx", "geojson"].map((form, i) => [i ? " · " : "", h("a", { href: `${path`/api/animals/${this.answer.animal}/search/log`}?form=${form}`, download: "" }, s.forms[form])]));
    const undone = new Set(this.answer.rows.filter((/** @type {any} */ r) => r.kind === "undo").map((/** @type {any} */ r) => Number(r.values.replace(/\D+/g, ""))));
    this.showUndo(rows.find((r) => !["undo", "start"].includes(r.kind) && !undone.has(r.line)));
    const line = (/** @type {any} */ r) => h("li", { class: undone.has(r.line) ? "undone" : null },
      r.kind !== "undo" && r.kind !== "start" && !undone.has(r.line) ? h("button", { class: "quiet small", "aria-label": `${s.undo}: ${s.kinds[r.kind] ?? r.kind}`, onclick: () => this.takeBack(r) }, s.undo) : null,
      h("span", { class: "num faint" }, r.time ? localMinute(r.time, this.frame.info.timeZone).slice(5) : "–"), " ", h("b", null, s.kinds[r.kind] ?? r.kind), " ", h("span", { class: "small" }, this.wordsOf(r)));
    const older = rows.length - NEWEST;
    fill(this.log, h("section", { class: "sheet" }, h("h2", null, s.log(rows.length)),
      h("ol", { class: "plain log", reversed: true, start: rows.length }, rows.slice(0, NEWEST).map(line)),
      older > 0 ? h("details", null, h("summary", null, s.older(older)), h("ol", { class: "plain log", reversed: true, start: older }, rows.slice(NEWEST).map(line))) : null));
    return undefined;
  }

  /** The last note can be taken back with one big button. @param {any} row */
  showUndo(row) {
    const s = t.search;
    if (!this.undoLast) return;
    this.undoLast.hidden = !row;
    fill(this.undoLast, s.undoLast, row ? h("span", { class: "small" }, `${s.kinds[row.kind] ?? row.kind}: ${this.wordsOf(row)}`) : null);
    this.undoLast.onclick = () => row && this.takeBack(row);
  }

  /** @param {any} row */
  takeBack(row) {
    return this.add([{ time: this.gps?.now().utc ?? new Date().toISOString().slice(0, 19) + "Z", lat: "", lon: "", kind: "undo", values: `line=${row.line}` }]);
  }

  async drawMap() {
    if (!document.querySelector("link[data-leaflet]")) {
      document.head.append(h("link", { rel: "stylesheet", href: "/parts/leaflet.css", "data-leaflet": true }));
    }
    const L = this.L = await import("/parts/leaflet.js");
    if (this.frame.signal.aborted) return;
    const [lat, lon] = this.own().map(Number);
    const centre = /** @type {[number, number]} */ (Number.isFinite(lat) && (lat || lon) ? [lat, lon] : [52.4, -4.4]);
    this.map = L.map(this.mapPlace, { attributionControl: false, zoomControl: true, keyboard: true }).setView(centre, 10);
    this.frame.signal.addEventListener("abort", () => this.map?.remove());
    const style = getComputedStyle(document.documentElement);
    const colour = (/** @type {string} */ name) => style.getPropertyValue(name).trim();
    try {
      const coast = await get(`/api/coast?latDeg=${centre[0]}&lonDeg=${centre[1]}`, { signal: this.frame.signal });
      this.coast = L.geoJSON(coast, { interactive: false, style: (/** @type {any} */ f) => ({ className: f.properties?.file ? "coast own" : "coast", color: colour(f.properties?.file ? "--ink" : "--faint"), weight: f.properties?.file ? 2 : 1, fillColor: colour("--sheet"), fillOpacity: 1 }) }).addTo(this.map);
    } catch {
      this.mapPlace.after(h("p", { class: "small" }, t.search.noCoast));
    }
    L.control.scale({ imperial: false }).addTo(this.map);
    try {
      for (const own of (await get("/api/tiles", { signal: this.frame.signal })).tiles) {
        L.tileLayer(`${path`/api/tiles/${own.file}`}/{z}/{x}/{y}`, { minNativeZoom: own.leastZoom, maxNativeZoom: own.mostZoom, maxZoom: 18, className: "own-tiles" }).addTo(this.map).bringToBack();
        this.coast?.setStyle({ fillOpacity: 0 }); // the study's own map shows the land
        this.mapPlace.after(h("p", { class: "small faint" }, [own.title, own.credit].filter(Boolean).join(" · ")));
      }
    } catch {
      this.mapPlace.after(h("p", { class: "small" }, t.search.noTiles));
    }
    this.map.on("click", (/** @type {any} */ e) => {
      this.follow.checked = false; // else the GPS would take the place back a second later
      this.lat.value = e.latlng.lat.toFixed(5);
      this.lon.value = e.latlng.lng.toFixed(5);
    });
    try {
      const track = await get("/api/gps/track", { signal: this.frame.signal });
      this.way = track.geometry.coordinates.map((/** @type {number[]} */ c) => [c[1], c[0]]).concat(this.way);
    } catch {
      // without it the way begins where the page was opened
    }
    this.drawResult();
    this.drawBoat();
  }

  /** Where the boat is now, and the way it has come today. */
  drawBoat() {
    const { L, map } = this;
    const here = this.gps?.place();
    if (!L || !map) return;
    const style = getComputedStyle(document.documentElement);
    this.drawRings(here ?? { lat: this.lat.value, lon: this.lon.value });
    this.boatMark?.remove();
    this.boatMark = null;
    if (!here) return;
    const at = [Number(here.lat), Number(here.lon)];
    const last = this.way[this.way.length - 1];
    if (!last || last[0] !== at[0] || last[1] !== at[1]) this.way.push(at);
    this.boatMark = L.featureGroup([
      L.polyline(this.way, { color: style.getPropertyValue("--faint").trim(), weight: 2, dashArray: "1 5" }),
      L.circleMarker(at, { radius: 8, color: style.getPropertyValue("--ink").trim(), weight: 3, fillColor: style.getPropertyValue("--plot-2").trim(), fillOpacity: 1 }).bindTooltip(t.gps.boat),
    ]).addTo(map);
  }

  /** How far the beacon is heard at the gain step chosen: surely, half the time, hardly. @param {{lat: string, lon: string}} at */
  drawRings(at) {
    this.rings?.remove();
    this.rings = null;
    const range = this.answer.result?.packages[0]?.ranges.find((/** @type {any} */ r) => `${r.gainStep}` === this.gain?.value);
    const place = [Number.parseFloat(at.lat), Number.parseFloat(at.lon)];
    if (!range || !place.every(Number.isFinite)) return;
    const ink = getComputedStyle(document.documentElement).getPropertyValue("--ink").trim();
    this.rings = this.L.featureGroup([range.surelyM, range.halfM, range.hardlyM].map((radius, i) => this.L.circle(place, { radius, color: ink, weight: i === 1 ? 2 : 1, dashArray: i === 1 ? null : "2 6", fill: false, interactive: false, className: "ring" }))).addTo(this.map);
  }

  drawResult() {
    const { L, map } = this;
    if (!map) return;
    this.layer?.remove();
    const style = getComputedStyle(document.documentElement);
    const colour = (/** @type {string} */ name) => style.getPropertyValue(name).trim();
    this.layer = L.featureGroup().addTo(map);
    const result = this.answer.result;
    if (result) {
      const geo = L.geoJSON(result.packages[0].regions, {
        style: (/** @type {any} */ f) => looks(f, colour),
        pointToLayer: (/** @type {any} */ f, /** @type {any} */ at) => L.circleMarker(at, { radius: 6, color: colour("--ink"), weight: 2, fillColor: colour("--sheet"), fillOpacity: 1 }),
        onEachFeature: (/** @type {any} */ f, /** @type {any} */ layer) => { const words = t.search.drawn[f.properties?.what]; if (words) layer.bindTooltip(words); },
      });
      geo.addTo(this.layer);
      const turns = result.packages[0].advice?.pattern?.turns ?? [];
      if (turns.length > 1) L.polyline(turns.map((/** @type {any} */ p) => [p.at.latDeg, p.at.lonDeg]), { color: colour("--plot-2"), weight: 2, dashArray: "10 6", className: "pattern" }).addTo(this.layer);
      if (geo.getBounds().isValid()) map.fitBounds(geo.getBounds(), { padding: [20, 20] });
    }
    for (const r of this.answer.rows) {
      if (!r.lat) continue;
      L.circleMarker([Number(r.lat), Number(r.lon)], { radius: 4, color: colour("--faint"), weight: 1, fillColor: r.kind === "start" ? colour("--plot-2") : colour("--sheet"), fillOpacity: 1 }).bindTooltip(`${t.search.kinds[r.kind] ?? r.kind}: ${this.wordsOf(r)}`).addTo(this.layer);
    }
  }
}

/** Regions by outline as well as by tint; bearings dashed; the leg bold. @param {any} feature @param {(name: string) => string} colour */
function looks(feature, colour) {
  const { what, probability } = feature.properties ?? {};
  if (what === "region" || what === "forecast") {
    const later = what === "forecast";
    const half = !later && probability < 0.9;
    return { className: what, color: colour("--plot"), weight: half ? 3 : later ? 1 : 2, dashArray: later ? "2 5" : half ? null : "8 4", fillColor: colour("--plot"), fillOpacity: half ? 0.25 : later ? 0 : 0.08 };
  }
  if (what === "leg") return { className: what, color: colour("--plot-2"), weight: 4 };
  if (what === "bearing") return { className: what, color: colour("--ink"), weight: 1.5, dashArray: "6 4" };
  return { color: colour("--faint"), weight: 2 };
}
