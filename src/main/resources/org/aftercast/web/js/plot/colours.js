// The theme's colours, as the pens need them.

const NAMES = /** @type {Record<string, string>} */ ({
  paper: "--paper", sheet: "--sheet", ink: "--ink", faint: "--faint", line: "--line", soft: "--soft", alarm: "--alarm",
  plot: "--plot", plot2: "--plot-2", plotSoft: "--plot-soft", nightShade: "--night-shade", gapFill: "--gap-fill", cursor: "--cursor",
  swim: "--swim", weak: "--weak", afloat: "--afloat", descend: "--descend", rest: "--rest", still: "--still", inside: "--inside",
});

/** @returns {Record<string, string>} */
export function colours() {
  const style = getComputedStyle(document.documentElement);
  return Object.fromEntries(Object.entries(NAMES).map(([key, name]) => [key, style.getPropertyValue(name).trim()]));
}
