// How hard the library is to read, by the words of its steps and of what stands below them: words a sentence, and Flesch's reading ease (Flesch 1948) with the syllables
// of a general library. Plain English is 60 and more (Flesch 1949); a sentence of more than 20 words is too long for a procedure, of more than 25 for a description (ASD-STE100).
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { test } from "node:test";
import { root } from "./support/library.mjs";

const { parse } = createRequire(import.meta.url)("yaml");
const { flesch } = await import("flesch");
const { syllable } = await import("syllable");

const LONGEST = { step: 20, prose: 25 };
const MEAN = 13;
const EASE = 60;

const plain = (text) => text.replace(/\[([^\]]*)\]\([^)]*\)/g, "$1").replace(/[`*_]/g, "");
// A point in a number ends no sentence.
const sentences = (text) => plain(text).replace(/(\d)\.(\d)/g, "$1,$2").split(/(?<=[.!?:;])\s+|\n{2,}/).map((one) => one.trim()).filter((one) => /\p{L}/u.test(one));
const words = (sentence) => sentence.match(/[\p{L}\p{N}]+(?:['’,-][\p{L}\p{N}]+)*/gu) ?? [];

function measured(texts) {
  const all = texts.flatMap(sentences);
  const counts = all.map((sentence) => words(sentence).length);
  const total = counts.reduce((sum, one) => sum + one, 0);
  return { all, counts, sentences: all.length, mean: total / all.length, ease: flesch({ sentence: all.length, word: total, syllable: syllable(all.join(" ")) }) };
}

test("the library reads as plain English, step by step (Flesch, ASD-STE100)", (context) => {
  const steps = [];
  const prose = [];
  for (const file of readdirSync(join(root, "content/procedures")).filter((name) => name.endsWith(".md"))) {
    const [front, ...body] = readFileSync(join(root, "content/procedures", file), "utf8").replace(/^---\n/, "").split("\n---\n");
    const { steps: all = {} } = parse(front);
    steps.push(...Object.values(all).flatMap((step) => [step.do, step.ask, step.measure].filter(Boolean)));
    prose.push(body.join("\n---\n").replace(/^[#|].*$/gm, "\n"));
  }
  for (const [kind, texts] of [["step", steps], ["prose", prose]]) {
    const { all, counts, mean, ease } = measured(texts);
    const longest = Math.max(...counts);
    context.diagnostic(`${kind}: ${all.length} sentences, ${mean.toFixed(1)} words each, longest ${longest}, over 25: ${counts.filter((one) => one > 25).length}, reading ease ${ease.toFixed(0)}`);
    assert.ok(all.length > 500, `${all.length} sentences were read`);
    assert.deepEqual(all.filter((_, at) => counts[at] > LONGEST[kind]), [], `longer than ${LONGEST[kind]} words`);
    assert.ok(mean <= MEAN && ease >= EASE, `${kind}: ${mean} words a sentence, reading ease ${ease}`);
  }
  // Hard words are noticed: the measure can fail.
  assert.ok(measured(["Notwithstanding considerable institutional heterogeneity, operational interdependencies necessitate comprehensive reconsideration."]).ease < 0);
});
