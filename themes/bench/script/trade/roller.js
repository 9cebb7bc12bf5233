// Which roller repeats a mark, and what to measure next: as `src/trade/roller.rs`, where the limits are explained.

/** @typedef {{name: string, distance: number, weight: number}} Roller */

const READ_TO = 0.5;
const TOLERANCE = 0.2;
export const SURE = 0.95;
const FITS = 3;
const WITHIN = 1.5;
const SHEET = 297;

/** @param {number} gaps */
export function doubt(gaps) {
  return (Math.sqrt(2) * READ_TO) / gaps;
}

/** The share of each roller, or `null` if none fits the step. @param {Roller[]} rollers @param {number} step @param {number} gaps */
export function shares(rollers, step, gaps) {
  const spread = Math.sqrt(doubt(gaps) ** 2 + TOLERANCE ** 2);
  const off = rollers.map((roller) => (step - roller.distance) / spread);
  const reach = Math.max(WITHIN, FITS * spread);
  if (!rollers.some((roller) => Math.abs(step - roller.distance) <= reach)) return null;
  const likely = rollers.map((roller, place) => roller.weight * Math.exp(-(off[place] ** 2) / 2));
  const sum = likely.reduce((all, one) => all + one, 0);
  return sum > 0 ? likely.map((one) => one / sum) : null;
}

/** The fewest gaps that would make the likeliest roller sure, and still lie on one sheet. @param {Roller[]} rollers @param {number} step @param {number} gaps */
export function gapsToMeasure(rollers, step, gaps) {
  const now = shares(rollers, step, gaps);
  if (now === null) return null;
  const best = rollers[now.indexOf(Math.max(...now))];
  for (let more = 1; more <= 12; more += 1) {
    if (more <= gaps || more * best.distance > SHEET) continue;
    if ((shares(rollers, best.distance, more) ?? []).some((share) => share >= SURE)) return more;
  }
  return null;
}

/** Rollers that make this step if only every second, third or fourth mark prints. @param {Roller[]} rollers @param {number} step @returns {[number, number][]} */
export function multiples(rollers, step) {
  return rollers.flatMap((roller, place) =>
    [2, 3, 4].filter((times) => Math.abs(step - times * roller.distance) <= WITHIN).map((times) => /** @type {[number, number]} */ ([place, times])));
}
