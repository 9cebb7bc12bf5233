// Sums that take more than an expression: rows of sentences and their values, as `src/trade/work.rs` gives them.
import { contrast } from "./colour.js";
import { poissonLimits } from "./count.js";
import { shown } from "./number.js";
import { best, byRatio, expected } from "./order.js";
import { sizesOf, sizesOfWidth } from "./paper.js";
import { doubt, gapsToMeasure, multiples, shares, SURE } from "./roller.js";

/**
 * @typedef {{key: string, values: [string, string][]}} Row
 * @typedef {Record<string, number>} Values
 * @typedef {{rollers: import("./roller.js").Roller[], sizes: import("./paper.js").Size[]}} Tables
 */

/** @param {string} key @param {...[string, string]} values @returns {Row} */
const row = (key, ...values) => ({ key, values });
/** @param {number} value @param {number} places */
const places = (value, places) => shown(value, { places });

/** @param {Values} values @param {Tables} tables */
function whichRoller({ length, gaps }, { rollers }) {
  const step = length / gaps;
  const rows = [row("roller-step", ["step", places(step, 1)], ["doubt", places(doubt(gaps), 2)])];
  const found = shares(rollers, step, gaps);
  if (found === null) rows.push(row("roller-none"));
  else {
    const all = rollers.map((roller, place) => ({ ...roller, share: found[place] })).filter(({ share }) => share >= 0.005).sort((a, b) => b.share - a.share);
    rows.push(...all.map((one) => row("roller-share", ["roller", one.name], ["distance", places(one.distance, 1)], ["share", places(one.share * 100, 1)])));
    const more = gapsToMeasure(rollers, step, gaps);
    if (all.length > 0 && all[0].share >= SURE) rows.push(row("roller-sure"));
    else rows.push(more === null ? row("roller-alike") : row("roller-more", ["gaps", String(more)]));
  }
  return [...rows, ...multiples(rollers, step).map(([place, times]) =>
    row("roller-multiple", ["roller", rollers[place].name], ["distance", places(rollers[place].distance, 1)], ["times", String(times)]))];
}

/** @param {Values} values @param {Tables} tables */
function paperSize({ width, length }, { sizes }) {
  const line = (/** @type {string} */ key) => (/** @type {import("./paper.js").Size} */ [name, w, l]) => row(key, ["size", name], ["width", places(w, 1)], ["length", places(l, 1)]);
  const fits = sizesOf(sizes, width, length);
  return fits.length > 0 ? fits.map(line("paper-fits")) : [row("paper-none"), ...sizesOfWidth(sizes, width).map(line("paper-width"))];
}

/** @param {Values} values */
function jamRate({ faults, sheets }) {
  const [low, high] = poissonLimits(faults);
  const thousand = (/** @type {number} */ count) => shown((count / sheets) * 1000, { figures: 2 });
  return [row("jam-rate", ["rate", thousand(faults)], ["low", thousand(low)], ["high", thousand(high)])];
}

/** @param {Values} values */
function checkOrder(values) {
  const checks = [];
  for (let n = 1; Object.hasOwn(values, `share-${n}`); n += 1) {
    checks.push({ share: values[`share-${n}`] / 100, minutes: values[`minutes-${n}`], afterSetup: values[`after-${n}`] === 1 });
  }
  if (checks.reduce((sum, check) => sum + check.share, 0) > 1 + 1e-9) return [row("order-too-much")];
  const found = best(checks, values.setup);
  const line = (/** @type {string} */ key, /** @type {number[]} */ order) =>
    row(key, ["order", order.map((place) => place + 1).join(", ")], ["minutes", places(expected(checks, order, values.setup), 1)]);
  return [line("order-best", found), line("order-plain", byRatio(checks)), line("order-back", [...found].reverse())];
}

/** @param {Values} values */
function contrastOf({ front, ground }) {
  const ratio = contrast(front, ground);
  const verdict = ratio >= 4.5 ? "contrast-words" : ratio >= 3 ? "contrast-large" : "contrast-fails";
  return [row("contrast", ["ratio", places(ratio, 2)]), row(verdict)];
}

/** By the name that the sum has for it. @type {Record<string, (values: Values, tables: Tables) => Row[]>} */
export const WORKS = { "which-roller": whichRoller, "paper-size": paperSize, "jam-rate": jamRate, "check-order": checkOrder, contrast: contrastOf };
