// Results as they are shown: rounded half up, the same digits as the compiler's (`src/trade/number.rs`).

/** @typedef {{places?: number | null, figures?: number | null}} Digits */

/** Ten to a small power, exactly. @param {number} exponent */
function power(exponent) {
  let power = 1;
  for (let n = 0; n < exponent; n += 1) power *= 10;
  return power;
}

/** Places, and the unit that is counted. @param {number} value @param {number} figures @returns {[number, number]} */
function rounding(value, figures) {
  let before = 1;
  while (before < 18 && Math.abs(value) >= power(before)) before += 1;
  if (figures < before) return [0, power(before - figures)];
  let places = figures - before;
  while (value !== 0 && places < 12 && before === 1 && Math.abs(value) * power(places) < power(figures - 1)) places += 1;
  return [places, 1];
}

/** A narrow space that never breaks between thousands, from 10 000 on. @param {string} text */
function apart(text) {
  const [whole, rest] = text.split(".");
  if (whole.length < 5) return text;
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, "\u202f");
  return rest === undefined ? grouped : `${grouped}.${rest}`;
}

/** @param {number} value @param {Digits} digits */
export function shown(value, digits) {
  const [places, unit] = typeof digits.figures === "number" ? rounding(value, digits.figures) : [digits.places ?? 0, 1];
  const scale = power(places);
  const whole = (Math.floor((value / unit) * scale + 0.5) / scale) * unit;
  return `${whole < 0 ? "\u2212" : ""}${apart(Math.abs(whole).toFixed(places))}`;
}
