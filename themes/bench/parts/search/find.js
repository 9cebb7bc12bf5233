// Finds documents by words: adds up what the index says for each, and then asks which symptom says what was typed. No page is needed.

import { guess, SLIP, TWO_SLIPS } from "./slips.js";

/**
 * @typedef {{documents: [string, string, string, string, string[]][], codes: [string, string, number][], forms: string, slots: number[], posts: number[][]}} Index
 * @typedef {{slots: Map<number, number>, taken: string[]}} Meant a word's slots, each with how sure it is; and what a slip was taken for
 * @typedef {{kind: string, href: string, title: string, about: string, symptom: string | null, code: string | null, score: number}} Hit
 */

/** Words as the compiler parts them. @param {string} text @returns {string[]} */
export const wordsOf = (text) => text.normalize("NFKC").toLowerCase().match(/[\p{Alphabetic}\p{N}]+/gu) ?? [];

/** @param {Index} index */
export function prepare(index) {
  const forms = index.forms.split(" ");
  const bySpelling = new Map(forms.map((form, at) => [form, index.slots[at]]));
  const rarity = index.posts.map((post) => Math.log(1 + (index.documents.length - post.length / 2 + 0.5) / (post.length / 2 + 0.5)));
  /** @param {string} text */
  const slotsOf = (text) => [...new Set(wordsOf(text).map((word) => bySpelling.get(word) ?? -1))].filter((slot) => slot >= 0);
  /** @type {{text: string, slots: number[]}[][]} */
  const known = [];
  /** What a document's symptoms and title say; worked out when it is first asked for. @param {number} document */
  const said = (document) => {
    const [, , title, , symptoms] = index.documents[document];
    return (known[document] ??= [...symptoms, title].map((text) => ({ text, slots: slotsOf(text) })));
  };
  return { index, forms: forms.filter((form) => (bySpelling.get(form) ?? -1) >= 0), bySpelling, rarity, said };
}

/** @param {ReturnType<typeof prepare>} at @param {string} text @returns {Meant[]} */
function meant(at, text) {
  const words = wordsOf(text);
  const open = /[\p{Alphabetic}\p{N}]$/u.test(text);
  return words.flatMap((word, place) => {
    const slot = at.bySpelling.get(word);
    if (slot !== undefined && slot < 0) return [];
    const joined = at.bySpelling.get(word + (words[place + 1] ?? "")) ?? -1;
    const slots = new Map(joined >= 0 && slot === undefined ? [[joined, 0.9]] : []);
    if (slot !== undefined) return [{ slots: slots.set(slot, 1), taken: [] }];
    const [guessed, sure] = guess(at, word, open && place === words.length - 1);
    for (const form of guessed) slots.set(at.bySpelling.get(form) ?? -1, sure);
    return slots.size > 0 ? [{ slots, taken: sure === SLIP || sure === TWO_SLIPS ? guessed.slice(0, 3) : [] }] : [];
  });
}

/**
 * Documents whose panel code was typed, and what else was typed. A bare number of one or two digits is a code only where nothing else stands.
 * @param {Index} index @param {string} text @returns {{codes: Map<number, string>, rest: string}}
 */
function coded(index, text) {
  const words = wordsOf(text);
  const sure = (/** @type {string} */ code) => !/^\d{1,2}$/.test(code) || words.length === 1;
  const codes = new Map();
  const spent = new Set();
  for (const [code, written, document] of index.codes.filter(([code]) => sure(code))) {
    for (let at = 0; at < words.length; at++) {
      // A hyphen or a blank parts a code into words.
      const length = [1, 2, 3].find((length) => words.slice(at, at + length).join("") === code);
      if (length === undefined) continue;
      codes.set(document, written);
      for (let part = at; part < at + length; part++) spent.add(part);
    }
  }
  return { codes, rest: spent.size === 0 ? text : words.filter((_, at) => !spent.has(at)).join(" ") };
}

/** How far what was typed and a symptom are the same, by the rarity of their words: twice what they share over both. @param {ReturnType<typeof prepare>} at @param {Meant[]} typed @param {number[]} slots */
function likeness({ rarity }, typed, slots) {
  const weigh = (/** @type {number} */ sum, /** @type {number} */ slot) => sum + rarity[slot];
  const asked = typed.reduce((sum, { slots: all }) => sum + Math.max(...[...all.keys()].map((slot) => rarity[slot])), 0);
  const shared = typed.reduce((sum, { slots: all }) => sum + Math.max(0, ...slots.map((slot) => (all.get(slot) ?? 0) * rarity[slot])), 0);
  return shared === 0 ? 0 : (2 * shared) / (asked + slots.reduce(weigh, 0));
}

/** Of how many documents the symptoms are looked at, those with the best sums. */
const LIKELY = 200;

/** Symptoms come before tasks, tasks before what is only to be read. */
const RANK = /** @type {Record<string, number>} */ ({ fault: 1, stop: 1, task: 0.6, page: 0.4 });

/**
 * The documents that fit best, and the words that were taken for others.
 * @param {ReturnType<typeof prepare>} at @param {string} text @param {number} [most] @returns {{hits: Hit[], taken: string[]}}
 */
export function find(at, text, most = 8) {
  const { codes, rest } = coded(at.index, text);
  const typed = meant(at, rest);
  /** @type {Map<number, number>} */
  const sums = new Map([...codes.keys()].map((document) => [document, 0]));
  let best = 0;
  for (const { slots } of typed) {
    /** @type {Map<number, number>} */
    const said = new Map();
    for (const [slot, sure] of slots) {
      const post = at.index.posts[slot];
      for (let each = 0; each < post.length; each += 2) said.set(post[each], Math.max(said.get(post[each]) ?? 0, post[each + 1] * sure));
    }
    best += Math.max(0, ...said.values());
    for (const [document, says] of said) sums.set(document, (sums.get(document) ?? 0) + says);
  }
  const likely = [...sums].sort(([one, sum], [other, more]) => Number(codes.has(other)) - Number(codes.has(one)) || more - sum || one - other).slice(0, LIKELY);
  const hits = likely.map(([document, sum]) => {
    const [kind, href, title, about, symptoms] = at.index.documents[document];
    const alike = at.said(document).map(({ text: symptom, slots }) => ({ symptom, likeness: likeness(at, typed, slots) })).sort((one, other) => other.likeness - one.likeness)[0];
    const score = (codes.has(document) ? 10 : 0) + RANK[kind] * ((best ? sum / best : 0) + alike.likeness);
    return { kind, href, title, about, symptom: alike.likeness > 0 && symptoms.includes(alike.symptom) ? alike.symptom : null, code: codes.get(document) ?? null, score };
  });
  hits.sort((one, other) => other.score - one.score || (one.href < other.href ? -1 : 1));
  // What fits much worse than the best is no answer.
  const near = hits.filter((hit) => hit.score >= 0.25 * Math.min(hits[0].score, 2));
  return { hits: near.slice(0, most), taken: [...new Set(typed.flatMap((word) => word.taken))] };
}

/** Three letters at a time, the ends of the words among them. @param {string} text @returns {Set<string>} */
function trigrams(text) {
  const all = new Set();
  for (const word of wordsOf(text)) {
    const padded = ` ${word} `;
    for (let place = 0; place + 3 <= padded.length; place++) all.add(padded.slice(place, place + 3));
  }
  return all;
}

/** Twice what both have over what each has (Dice 1945). @param {Set<string>} one @param {Set<string>} other */
function overlap(one, other) {
  let shared = 0;
  for (const part of one) if (other.has(part)) shared++;
  return one.size + other.size === 0 ? 0 : (2 * shared) / (one.size + other.size);
}

/**
 * Where nothing was found: the symptoms whose letters are nearest, one of each procedure. What shares no three letters with any has none.
 * @param {ReturnType<typeof prepare>} at @param {string} text @param {number} [most] @returns {Hit[]}
 */
export function nearest(at, text, most = 3) {
  const typed = trigrams(text);
  const hits = at.index.documents.flatMap(([kind, href, title, about, symptoms]) => {
    if (kind !== "fault") return [];
    const [best] = [...symptoms, title].map((symptom) => ({ symptom, score: overlap(typed, trigrams(symptom)) })).sort((one, other) => other.score - one.score);
    return best.score > 0 ? [{ kind, href, title, about, symptom: symptoms.includes(best.symptom) ? best.symptom : null, code: null, score: best.score }] : [];
  });
  return hits.sort((one, other) => other.score - one.score || (one.href < other.href ? -1 : 1)).slice(0, most);
}
