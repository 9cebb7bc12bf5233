// Arithmetic of measurements, from the tokens that the compiler wrote in postfix order. No text is ever parsed or run here.

/** @typedef {number | string} Token  a number, `$name`, or an operation */

/** To 15 significant digits, as on the compiler's side: the last bit may differ between machines, and a `floor` behind it would make a step of it. @param {number} value */
const snapped = (value) => Number(value.toPrecision(15));

/** Operations that take two values. @type {Record<string, (a: number, b: number) => number>} */
const OF_TWO = {
  "+": (a, b) => a + b, "-": (a, b) => a - b, "*": (a, b) => a * b, "/": (a, b) => a / b, "^": (a, b) => snapped(Math.pow(a, b)),
  min: (a, b) => Math.min(a, b), max: (a, b) => Math.max(a, b),
};

/** Operations that take one. @type {Record<string, (a: number) => number>} */
const OF_ONE = {
  neg: (a) => -a, abs: Math.abs, sqrt: Math.sqrt, exp: (a) => snapped(Math.exp(a)), ln: (a) => snapped(Math.log(a)), floor: Math.floor, ceil: Math.ceil,
  // The whole number at or below the value plus a half, as on the compiler's side.
  round: (a) => Math.floor(a + 0.5),
};

/**
 * The value of a formula, or `null` where one operation has no finite result or a name no value.
 * @param {Token[]} tokens
 * @param {Record<string, number>} values
 * @returns {number | null}
 */
export function evaluateFormula(tokens, values) {
  /** @type {number[]} */
  const stack = [];
  for (const token of tokens) {
    const value = valueOf(token, values, stack);
    if (!Number.isFinite(value)) return null;
    stack.push(value);
  }
  return stack.length === 1 ? stack[0] : null;
}

/** @param {Token} token @param {Record<string, number>} values @param {number[]} stack */
function valueOf(token, values, stack) {
  if (typeof token === "number") return token;
  if (token.startsWith("$")) return Object.hasOwn(values, token.slice(1)) ? values[token.slice(1)] : NaN;
  const right = stack.pop() ?? NaN;
  if (Object.hasOwn(OF_ONE, token)) return OF_ONE[token](right);
  return Object.hasOwn(OF_TWO, token) ? OF_TWO[token](stack.pop() ?? NaN, right) : NaN;
}
