// Arithmetic of measurements, from the tokens that the compiler wrote. No text is ever parsed or run here.

/** @typedef {{number: string} | {name: string} | {op: string} | {call: string, count: number}} Token  in reverse Polish order */

/** @type {Record<string, (a: number, b: number) => number>} */
const ARITHMETIC = { "+": (a, b) => a + b, "-": (a, b) => a - b, "*": (a, b) => a * b, "/": (a, b) => a / b, "^": (a, b) => Math.pow(a, b) };

/** @type {Record<string, (...values: number[]) => number>} */
const FUNCTIONS = {
  min: Math.min, max: Math.max, abs: Math.abs, sqrt: Math.sqrt, exp: Math.exp, ln: Math.log, floor: Math.floor, ceil: Math.ceil,
  // Halves go away from zero, as on the compiler's side; `Math.round` would lift them.
  round: (value) => Math.sign(value) * (Math.abs(value) % 1 >= 0.5 ? Math.ceil(Math.abs(value)) : Math.floor(Math.abs(value))),
};

/**
 * The value of a formula, or `null` if it has none (a division by nought, a name without a value).
 * @param {Token[]} tokens
 * @param {Record<string, number>} values
 * @returns {number | null}
 */
export function evaluateFormula(tokens, values) {
  /** @type {number[]} */
  const stack = [];
  for (const token of tokens) {
    if ("number" in token) stack.push(Number(token.number));
    else if ("name" in token) stack.push(Object.hasOwn(values, token.name) ? values[token.name] : NaN);
    else if ("call" in token) stack.push((FUNCTIONS[token.call] ?? (() => NaN))(...stack.splice(stack.length - token.count, token.count)));
    else if (token.op === "negate") stack.push(-(stack.pop() ?? NaN));
    else {
      const [left, right] = stack.splice(stack.length - 2, 2);
      stack.push((ARITHMETIC[token.op] ?? (() => NaN))(left, right));
    }
  }
  return stack.length === 1 && Number.isFinite(stack[0]) ? stack[0] : null;
}
