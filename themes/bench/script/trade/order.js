// The order of checks that finds a fault in the fewest minutes: as `src/trade/order.rs`.

/** @typedef {{share: number, minutes: number, afterSetup: boolean}} Check */

/** Minutes on average. @param {Check[]} checks @param {number[]} order @param {number} setup */
export function expected(checks, order, setup) {
  let [open, made, sum] = [1, false, 0];
  for (const { share, minutes, afterSetup } of order.map((place) => checks[place])) {
    const first = afterSetup && !made;
    made ||= afterSetup;
    sum += (minutes + (first ? setup : 0)) * open;
    open -= share;
  }
  return sum;
}

/** Falling share over minutes. @param {Check[]} checks */
export function byRatio(checks) {
  const ratio = (/** @type {number} */ place) => checks[place].share / checks[place].minutes;
  return checks.map((_, place) => place).sort((a, b) => ratio(b) - ratio(a));
}

/** Every order of so many places. @param {number} count @param {number[]} order @returns {Generator<number[]>} */
function* orders(count, order = []) {
  if (order.length === count) yield order;
  else for (let place = 0; place < count; place += 1) if (!order.includes(place)) yield* orders(count, [...order, place]);
}

/** The best of all orders. @param {Check[]} checks @param {number} setup @returns {number[]} */
export function best(checks, setup) {
  let least = Infinity;
  /** @type {number[]} */
  let found = [];
  for (const order of orders(checks.length)) {
    const minutes = expected(checks, order, setup);
    if (minutes < least - 1e-9) [least, found] = [minutes, order];
  }
  return found;
}
