// The results of a sum from its readings, by the formulas that the compiler wrote: as `src/trade/sum.rs`.
import { evaluateFormula } from "../formula.js";

/**
 * @typedef {{id: string, figure: string | null, kind: "number" | "choice" | "colour" | "model", name: string, unit: string, from: string, to: string, whole: boolean, value: number, slip: string, choices: [string, number][]}} Input
 * @typedef {{rpn: (number | string)[], from: number, to: number | null, says: string}} Need
 * @typedef {{id: string, name: string, unit: string, places: number | null, figures: number | null, rpn: (number | string)[], need: Need | null}} Outcome
 * @typedef {{id: string, inputs: Input[], results: Outcome[], work: string | null}} Sum
 * @typedef {{value: number} | {says: string} | {nothing: true}} Answer
 */

/** @param {Need} need @param {Record<string, number>} names */
function met(need, names) {
  const value = evaluateFormula(need.rpn, names);
  return value !== null && value >= need.from && (need.to === null || value <= need.to);
}

/** One answer for each result; what builds on one that is missing is missing too. @param {Sum} sum @param {Record<string, number>} values @returns {Answer[]} */
export function answersOf(sum, values) {
  const names = { ...values };
  /** @type {string | null} */
  let refused = null;
  return sum.results.map((outcome) => {
    if (refused === null && outcome.need !== null && !met(outcome.need, names)) refused = outcome.need.says;
    if (refused !== null) return { says: refused };
    const value = evaluateFormula(outcome.rpn, names);
    if (value === null) return { nothing: true };
    names[outcome.id] = value;
    return { value };
  });
}
