// Exact decimals. Limits are compared as decimals, never as binary fractions: 0.1 + 0.2 must not decide what somebody opens.

/** @typedef {{digits: bigint, scale: number}} Decimal  digits / 10^scale */

/**
 * A plain decimal (`-12.50`), or the shortest form of a number (`1e-7`).
 * @param {string | number} written
 * @returns {Decimal}
 */
export function decimalOf(written) {
  const parts = /^(-?)(\d+)(?:\.(\d+))?(?:e([+-]?\d+))?$/.exec(String(written));
  if (!parts) throw new TypeError(`not a decimal: ${written}`);
  const [, minus, whole, fraction = "", exponent = "0"] = parts;
  let digits = BigInt(whole + fraction);
  let scale = fraction.length - Number(exponent);
  if (scale < 0) {
    digits *= 10n ** BigInt(-scale);
    scale = 0;
  }
  return { digits: minus ? -digits : digits, scale };
}

/** @param {Decimal} left @param {Decimal} right @returns {[bigint, bigint, number]} */
function sameScale(left, right) {
  const scale = Math.max(left.scale, right.scale);
  const raise = (/** @type {Decimal} */ value) => value.digits * 10n ** BigInt(scale - value.scale);
  return [raise(left), raise(right), scale];
}

/**
 * Less than zero, zero or more than zero, as `left` is to `right`.
 * @param {string | number} left @param {string | number} right @returns {number}
 */
export function compareDecimals(left, right) {
  const [a, b] = sameScale(decimalOf(left), decimalOf(right));
  return a < b ? -1 : a > b ? 1 : 0;
}

/**
 * Whether two decimals lie no further apart than `reach`, the edge inside.
 * @param {string | number} left @param {string | number} right @param {string | number} reach
 */
export function decimalsWithin(left, right, reach) {
  const [a, b, scale] = sameScale(decimalOf(left), decimalOf(right));
  const gap = { digits: a < b ? b - a : a - b, scale };
  const [apart, allowed] = sameScale(gap, decimalOf(reach));
  return apart <= allowed;
}
