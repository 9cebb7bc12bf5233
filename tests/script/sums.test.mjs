// The bench sums in the script against what the compiler computes: every sum at its example, its edges and between, every work row by row.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { readField } from "../../themes/bench/parts/sums/sums.js";
import { useWords } from "../../themes/bench/parts/follower/words.js";
import { shown } from "../../themes/bench/script/trade/number.js";
import { answersOf } from "../../themes/bench/script/trade/sum.js";
import { WORKS } from "../../themes/bench/script/trade/work.js";

const { sums, rollers, sizes, digits } = JSON.parse(readFileSync(new URL("fixtures/sums.json", import.meta.url), "utf8"));

test("every result is the compiler's", () => {
  let compared = 0;
  for (const { sum, cases } of sums.filter(({ sum }) => sum.work === null)) {
    for (const { values, answers } of cases) {
      const found = answersOf(sum, values);
      assert.equal(found.length, answers.length, sum.id);
      for (const [place, expected] of answers.entries()) {
        const name = `${sum.id}: ${sum.results[place].id} at ${JSON.stringify(values)}`;
        if (!("value" in expected)) assert.deepEqual(found[place], expected, name);
        else {
          assert.ok(Math.abs(found[place].value - expected.value) <= Math.abs(expected.value) * 1e-12, `${name}: ${found[place].value}, the compiler has ${expected.value}`);
          assert.equal(shown(found[place].value, sum.results[place]), expected.shown, name);
          compared += 1;
        }
      }
    }
  }
  assert.ok(compared > 500, `${compared} results`);
});

test("every row of every work is the compiler's", () => {
  let compared = 0;
  for (const { sum, cases } of sums.filter(({ sum }) => sum.work !== null)) {
    for (const { values, rows } of cases) {
      assert.deepEqual(WORKS[sum.work](values, { rollers, sizes }), rows, `${sum.id} at ${JSON.stringify(values)}`);
      compared += rows.length;
    }
  }
  assert.ok(compared > 80, `${compared} rows`);
});

test("numbers are rounded alike", () => {
  assert.ok(digits.length > 100);
  for (const { value, places = null, figures = null, shown: text } of digits) assert.equal(shown(value, { places, figures }), text, `${value} ${places} ${figures}`);
});

test("what cannot be true is refused with the range and the likely slip", () => {
  useWords({ sums: { "refused-range": "{from} to {to} {unit}.", "refused-slip": "Slip: {slip}", "refused-meant": "{value}?", "refused-letters": "Digits.", "refused-colour": "Six.", "refused-sign": "Sign." } });
  const length = sums.find(({ sum }) => sum.id === "roller-diameter").sum.inputs[0];
  assert.deepEqual(readField(length, "226,5"), { value: 226.5, edge: false });
  assert.deepEqual(readField(length, "10"), { value: 10, edge: true });
  const hot = sums.find(({ sum }) => sum.id === "cooling-time").sum.inputs[0];
  assert.deepEqual(readField(hot, "374"), { refusal: `100 to 250 °C. Slip: ${hot.slip}` });
  assert.deepEqual(readField(hot, "19"), { refusal: `100 to 250 °C. Slip: ${hot.slip} 190 °C?` });
  assert.deepEqual(readField(hot, "190 C"), { refusal: "Digits." });
  assert.deepEqual(readField(hot, "-190"), { refusal: "Sign." });
  const front = sums.find(({ sum }) => sum.id === "contrast").sum.inputs[0];
  assert.deepEqual(readField(front, "#f9A900"), { value: 0xf9a900 });
  assert.deepEqual(readField(front, "#f9a90080"), { refusal: "Six." });
});
