// Two clocks handed in with every event: the wall clock, which anybody can set, and the running clock, which a sleeping phone stops.

/** @typedef {{wall: number, running: number}} Clock  both in milliseconds; `wall` since 1970, `running` since some moment of this page */

/** Apart by more than this, the clocks do not agree. */
export const CLOCKS_APART_MS = 2000;
/** Without an event for longer than this, it is a break. */
export const BREAK_MS = 15 * 60 * 1000;
/** After a screen changes, taps are not meant for the new one. */
export const DEAD_MS = 300;

/** Time that has surely passed: what both clocks say. @param {Clock} from @param {Clock} to */
export function surelyPassed(from, to) {
  return Math.max(0, Math.min(to.wall - from.wall, to.running - from.running));
}

/** Time that may have passed: what either clock says. @param {Clock} from @param {Clock} to */
export function perhapsPassed(from, to) {
  const wall = to.wall - from.wall;
  const running = to.running - from.running;
  return Math.max(0, wall, running);
}

/** @param {Clock} from @param {Clock} to */
export function clocksAgree(from, to) {
  return Math.abs(to.wall - from.wall - (to.running - from.running)) <= CLOCKS_APART_MS;
}

/** The day on the wall clock, for comparing with days in the data. @param {Clock} clock */
export function dayOf(clock) {
  return new Date(clock.wall).toISOString().slice(0, 10);
}
