// Readings: what somebody typed, whether it can be true, and which way it leads.
import { compareDecimals, decimalsWithin } from "./decimal.js";
import { evaluateFormula } from "./formula.js";

/**
 * @typedef {{id: string, ask?: string, unit: string, from: string, to: string, whole?: boolean}} Field
 * @typedef {{value: string, because: "ten" | "inch"}} Guess
 * @typedef {{reason: "empty" | "letters" | "sign" | "separators" | "whole" | "range" | "no-value" | "apart" | "near", field: string, from?: string, to?: string, unit?: string, meant?: Guess[]}} Refusal
 */

/**
 * The number somebody typed, as a plain decimal, or why it is refused.
 * @param {string} typed
 * @param {Field} field
 * @returns {{value: string} | Refusal}
 */
export function readNumber(typed, field) {
  const text = typed.trim().replace(/^\u2212/, "-");
  const refused = (/** @type {Refusal["reason"]} */ reason) =>
    ({ reason, field: field.id, from: field.from, to: field.to, unit: field.unit });
  if (text === "") return refused("empty");
  if (/[^\d.,+-]/.test(text)) return refused("letters");
  const digits = text.replace(/^-/, "");
  if (/[+-]/.test(digits) || (digits !== text && compareDecimals(field.from, "0") >= 0)) return refused("sign");
  // A separator needs a digit on each side, and there is at most one: `1,234.5` may be two different numbers.
  if (!/^\d{1,20}([.,]\d{1,20})?$/.test(digits)) return refused("separators");
  const value = plain((digits === text ? "" : "-") + digits.replace(",", "."));
  if (compareDecimals(value, field.from) < 0 || compareDecimals(value, field.to) > 0) {
    return { ...refused("range"), meant: likelySlips(value, field) };
  }
  if (field.whole && value.includes(".")) return refused("whole");
  return { value };
}

/** Without needless noughts: `007.50` is `7.5`. @param {string} decimal */
function plain(decimal) {
  const short = decimal.replace(/^(-?)0+(?=\d)/, "$1");
  return short.includes(".") ? short.replace(/\.?0+$/, "") : short;
}

/**
 * What a reading out of range may have been meant as: a lost or doubled place, or inches for millimetres.
 * @param {string} value @param {Field} field @returns {Guess[]}
 */
function likelySlips(value, field) {
  const number = Number(value);
  /** @type {[number, Guess["because"]][]} */
  const slips = [[number / 10, "ten"], [number * 10, "ten"]];
  if (field.unit === "mm") slips.push([number * 25.4, "inch"]);
  return slips
    .map(([slip, because]) => ({ value: String(Math.round(slip * 100) / 100), because }))
    .filter(({ value: slip }) => /^-?\d+(\.\d+)?$/.test(slip))
    .filter(({ value: slip }) => compareDecimals(slip, field.from) >= 0 && compareDecimals(slip, field.to) <= 0)
    .filter(({ value: slip }) => !field.whole || !slip.includes("."));
}

/** The fields of a measurement: its readings, or the one value itself. @param {any} step @returns {Field[]} */
export function fieldsOf(step) {
  const { unit, from, to, readings } = step.measure;
  return readings.length > 0 ? readings : [{ id: "value", unit, from, to }];
}

/** Lengths may be measured over several gaps, and more than once. */
const LENGTHS = ["mm", "cm", "m", "in"];
/** So many gaps at most, and so many readings. */
export const MOST_GAPS = 20;
export const MOST_READINGS = 5;

/** Whether a measurement may be read more than once, or over several gaps: one plain length, that ends no condition's waiting. @param {any} step */
export function repeatable(step) {
  const { unit, readings } = step.measure;
  return readings.length === 0 && LENGTHS.includes(unit) && !step.ways.some((/** @type {any} */ way) => way.sets.length + way.clears.length > 0);
}

/** The field of the `n`-th reading of the same thing, counted from 1; the first has the field's own name. @param {number} n */
export function readingName(n) {
  return n === 1 ? "value" : `value-${n}`;
}

/**
 * What was typed at a step as plain decimals, one a field; for several readings of one thing their mean. `step` of each: the last place that was typed.
 * @param {any} step @param {Record<string, string>} typed
 * @returns {{values: Record<string, string>, places: Record<string, number>, single: string[], spread: string | null} | Refusal}
 */
export function takenReadings(step, typed) {
  /** @type {Record<string, string>} */
  const values = {};
  /** @type {Record<string, number>} */
  const places = {};
  if (!repeatable(step)) {
    for (const field of fieldsOf(step)) {
      const read = readNumber(typed[field.id] ?? "", field);
      if ("reason" in read) return read;
      values[field.id] = read.value;
      if (!field.whole && field.unit !== "") places[field.id] = lastPlace(typed[field.id]);
    }
    return { values, places, single: [], spread: null };
  }
  const [field] = fieldsOf(step);
  const gaps = readNumber(typed.gaps === undefined || typed.gaps === "" ? "1" : typed.gaps, { id: "gaps", unit: "", from: "1", to: String(MOST_GAPS), whole: true });
  if ("reason" in gaps) return gaps;
  const times = Number(gaps.value);
  const names = Array.from({ length: MOST_READINGS }, (_, place) => readingName(place + 1)).filter((name, place) => place === 0 || (typed[name] ?? "").trim() !== "");
  /** @type {number[]} */
  const single = [];
  for (const name of names) {
    const wide = { ...field, id: name, from: String(Number(field.from) * times), to: String(Number(field.to) * times) };
    const read = readNumber(typed[name] ?? "", wide);
    if ("reason" in read) return read;
    single.push(Number(read.value) / times);
  }
  const mean = single.reduce((sum, value) => sum + value, 0) / single.length;
  // One reading of one gap stays as it was typed: nothing is computed of it.
  const exact = single.length === 1 && times === 1 ? readNumber(typed.value, field) : null;
  values.value = exact !== null && "value" in exact ? exact.value : String(Math.round(mean * 1000) / 1000);
  places.value = lastPlace(typed.value) / times;
  const spread = single.length > 1 ? String(Math.round((Math.max(...single) - Math.min(...single)) * 1000) / 1000) : null;
  return { values, places, single: single.map((value) => String(Math.round(value * 1000) / 1000)), spread };
}

/** The unit in the last place that was typed: 0.1 for `37.7`. @param {string} typed */
function lastPlace(typed) {
  const places = typed.trim().split(/[.,]/)[1]?.length ?? 0;
  return 10 ** -places;
}

/**
 * Whether the last place typed decides what is done next: one more or less there, and another way is taken.
 * @param {any} step @param {Record<string, string>} values @param {Record<string, number>} places @param {any} model @param {number} index of the way
 */
export function nearAnEdge(step, values, places, model, index) {
  return fieldsOf(step).some((field) => {
    const place = places[field.id];
    if (place === undefined) return false;
    return [-place, place].some((change) => {
      const moved = Math.round((Number(values[field.id]) + change) * 1e6) / 1e6;
      if (moved < Number(field.from) || moved > Number(field.to)) return false;
      const result = measuredValue(step, { ...values, [field.id]: String(moved) }, model);
      if ("reason" in result) return false;
      const other = wayOfValue(step, result.value, model);
      return other >= 0 && deed(step.ways[other]) !== deed(step.ways[index]);
    });
  });
}

/** What a way leads to and does. @param {any} way */
function deed(way) {
  return JSON.stringify([way.then, way.sets, way.clears]);
}

/**
 * The measured value, from everything typed, for one model.
 * @param {any} step
 * @param {Record<string, string>} values one plain decimal a field
 * @param {any} model `null`: the library has no models
 * @returns {{value: string} | Refusal}
 */
export function measuredValue(step, values, model) {
  const { unit, from, to, readings, formula } = step.measure;
  if (readings.length === 0) return { value: values.value };
  const names = Object.fromEntries(Object.entries(model?.figures ?? {}).map(([name, figure]) => [name, Number(figure.value)]));
  for (const { id } of readings) names[id] = Number(values[id]);
  const result = formula?.rpn ? evaluateFormula(formula.rpn, names) : null;
  if (result === null) return { reason: "no-value", field: readings[0].id };
  if (compareDecimals(result, from) < 0 || compareDecimals(result, to) > 0) {
    return { reason: "range", field: readings[0].id, from, to, unit };
  }
  return { value: String(result) };
}

/** The upper edge of a band as a decimal; `null` where the model lacks the figure. @param {any} limit @param {any} model */
function edgeOf(limit, model) {
  return limit.value ?? model?.figures[limit.figure]?.value ?? null;
}

/**
 * The index of the way that a value leads to, or -1 if this model has none.
 * @param {any} step @param {string} value @param {any} model
 * @returns {number}
 */
export function wayOfValue(step, value, model) {
  return step.measure.match ? matchedWay(step, value, model) : bandOf(step, value, model);
}

/** @param {any} step @param {string} value @param {any} model */
function bandOf(step, value, model) {
  for (const [index, way] of step.ways.entries()) {
    if (way.kind !== "band") continue;
    if (way.limit === null) return index;
    const edge = edgeOf(way.limit, model);
    if (edge === null) return -1;
    const side = compareDecimals(value, edge);
    if (side < 0 || (side === 0 && way.limit.inside)) return index;
  }
  return -1;
}

/** @param {any} step @param {string} value @param {any} model */
function matchedWay(step, value, model) {
  const { within } = step.measure.match;
  const named = (/** @type {string} */ name) => step.ways.findIndex((/** @type {any} */ way) => way.kind === "part" && way.text === name);
  const hits = [...step.ways.entries()].filter(([, way]) => {
    const entry = way.kind === "part" && Object.hasOwn(model?.repeats ?? {}, way.text) ? model.repeats[way.text] : null;
    return entry !== null && decimalsWithin(value, entry.value, within);
  });
  if (hits.length === 0) return named("none");
  return hits.every(([, way]) => way.then === hits[0][1].then) ? hits[0][0] : named("several");
}

/**
 * Whether a whole band lies inside the range that shows a condition.
 * @param {any} step @param {number} index of the way @param {any} shownBy @param {any} model
 */
export function bandShows(step, index, shownBy, model) {
  if (!shownBy || shownBy.unit !== step.measure.unit) return false;
  const bands = step.ways.filter((/** @type {any} */ way) => way.kind === "band");
  const place = bands.indexOf(step.ways[index]);
  const lower = place === 0 ? step.measure.from : edgeOf(bands[place - 1].limit, model);
  const upper = bands[place].limit === null ? step.measure.to : edgeOf(bands[place].limit, model);
  if (lower === null || upper === null) return false;
  const low = shownBy.from === null || compareDecimals(lower, shownBy.from) >= 0;
  return low && compareDecimals(upper, shownBy.upTo) <= 0;
}
