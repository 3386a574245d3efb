// Times and numbers as people read them.

/** @param {string|null|undefined} iso @param {string} zone */
export function localMinute(iso, zone) {
  if (!iso) return "";
  const parts = Object.fromEntries(new Intl.DateTimeFormat("en-GB", {
    timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit", hourCycle: "h23",
  }).formatToParts(new Date(iso)).map((p) => [p.type, p.value]));
  return `${parts.year}-${parts.month}-${parts.day} ${parts.hour}:${parts.minute}`;
}

/** Hours as "3 h 05 min" or "2 d 4 h". @param {number} hours */
export function span(hours) {
  if (hours >= 48) return `${Math.floor(hours / 24)} d ${Math.floor(hours % 24)} h`;
  const minutes = Math.round(hours * 60);
  return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")} min`;
}

/** Seconds as a short span for axes and cursors. @param {number} s @param {number} stepS */
export function elapsed(s, stepS) {
  const sign = s < 0 ? "−" : "";
  const a = Math.abs(s);
  const hours = Math.floor(a / 3600);
  const minutes = Math.floor((a % 3600) / 60);
  const seconds = a % 60;
  const two = (/** @type {number} */ n) => String(n).padStart(2, "0");
  if (stepS >= 60) return `${sign}${hours}:${two(minutes)}`;
  const digits = stepS >= 1 ? 0 : stepS >= 0.1 ? 1 : 2;
  const text = seconds.toFixed(digits);
  return `${sign}${hours}:${two(minutes)}:${text.padStart(digits ? 3 + digits : 2, "0")}`;
}
