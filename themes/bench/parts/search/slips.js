// What a word that stands nowhere may have been meant for.

/**
 * How many letters are changed, left out, put in or swapped with their neighbour; more than `most` counts as `most + 1` (Damerau 1964).
 * @param {string} left @param {string} right @param {number} most
 */
export function distance(left, right, most) {
  if (Math.abs(left.length - right.length) > most) return most + 1;
  let before = /** @type {number[]} */ ([]);
  let above = Array.from({ length: right.length + 1 }, (_, at) => at);
  for (let row = 1; row <= left.length; row++) {
    const here = [row];
    let least = row;
    for (let at = 1; at <= right.length; at++) {
      const same = left[row - 1] === right[at - 1];
      here[at] = Math.min(above[at] + 1, here[at - 1] + 1, above[at - 1] + (same ? 0 : 1));
      if (row > 1 && at > 1 && left[row - 1] === right[at - 2] && left[row - 2] === right[at - 1]) here[at] = Math.min(here[at], before[at - 2] + 1);
      if (here[at] < least) least = here[at];
    }
    if (least > most) return most + 1;
    [before, above] = [above, here];
  }
  return above[right.length];
}

/** Two forms of one word, as far as a page can tell: they begin alike and end in little. @param {string} one @param {string} other */
function related(one, other) {
  let alike = 0;
  while (alike < one.length && one[alike] === other[alike]) alike++;
  return alike >= 4 && alike >= 0.6 * Math.max(one.length, other.length) && Math.max(one.length, other.length) - alike <= 4;
}

/** How sure a word is that was not typed as it is written, from trying. */
export const SLIP = 0.8;
export const TWO_SLIPS = 0.6;

/**
 * What a word that is written nowhere may mean: the beginning of one that is still typed, a slip, another form, two words in one.
 * @param {{forms: string[], bySpelling: Map<string, number>}} known @param {string} word @param {boolean} typing @returns {[string[], number]} forms, and how sure
 */
export function guess({ forms, bySpelling }, word, typing) {
  const begun = typing && word.length >= 2 ? forms.filter((form) => form.startsWith(word)) : [];
  if (begun.length > 0) return [begun, 0.9];
  if (/\d/.test(word) || word.length < 4) return [[], 0];
  const most = word.length >= 6 ? 2 : 1;
  const far = forms.map((form) => (form.length > 2 ? distance(word, form, most) : most + 1));
  const near = (/** @type {number} */ slips) => forms.filter((_, at) => far[at] === slips);
  const slips = near(1);
  if (slips.length > 0) return [slips, SLIP];
  const family = forms.filter((form) => related(word, form));
  if (family.length > 0) return [family, 0.7];
  for (let cut = 3; cut <= word.length - 3; cut++) {
    const parts = [word.slice(0, cut), word.slice(cut)];
    if (parts.every((part) => bySpelling.has(part))) return [parts.filter((part) => (bySpelling.get(part) ?? -1) >= 0), 0.7];
  }
  return most === 2 ? [near(2), TWO_SLIPS] : [[], 0];
}
