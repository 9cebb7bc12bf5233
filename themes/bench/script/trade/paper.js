// Which sizes a measured sheet can be: as `src/trade/paper.rs`.

/** @typedef {[name: string, width: number, length: number]} Size */

const RULE = 1;

/** How far a cut side may lie from its size. @param {number} side */
function tolerance(side) {
  return side <= 150 ? 1.5 : side <= 600 ? 2 : 3;
}

/** @param {number} measured @param {number} side */
function fits(measured, side) {
  return Math.abs(measured - side) <= tolerance(side) + RULE;
}

/** @param {Size[]} sizes @param {number} width @param {number} length */
export function sizesOf(sizes, width, length) {
  return sizes.filter(([, w, l]) => fits(width, w) && fits(length, l));
}

/** @param {Size[]} sizes @param {number} width */
export function sizesOfWidth(sizes, width) {
  return sizes.filter(([, w]) => fits(width, w));
}
