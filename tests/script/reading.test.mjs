// Readings as people type them, and where they lead.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { compareDecimals, decimalsWithin } from "../../themes/bench/script/decimal.js";
import { evaluateFormula } from "../../themes/bench/script/formula.js";
import { bandShows, measuredValue, readNumber, wayOfValue } from "../../themes/bench/script/reading.js";
import { band, measure, model, way } from "./flows.mjs";

const GAP = { id: "value", unit: "mm", from: "5", to: "90", whole: false };

const TYPED = [
  ["37.7", "37.7"], ["37,7", "37.7"], [" 37,70 ", "37.7"], ["5", "5"], ["90", "90"], ["90.0", "90"], ["007", "7"], ["5.000", "5"], ["89,999999", "89.999999"],
  ["", "empty"], ["   ", "empty"], ["abc", "letters"], ["37.7 mm", "letters"], ["1e1", "letters"], ["3 7", "letters"], ["٣٧", "letters"], ["NaN", "letters"], ["0x10", "letters"],
  ["+37", "sign"], ["-37", "sign"], ["\u221237", "sign"], ["3-7", "sign"], ["1,234.5", "separators"], ["1.2.3", "separators"], ["12,", "separators"], [",5", "separators"], [".", "separators"],
  ["4.999", "range"], ["90.001", "range"], ["377", "range"], ["0", "range"], ["1000000", "range"], ["12345678901234567890123", "separators"],
];

for (const [typed, expected] of TYPED) {
  test(`a gap of ${JSON.stringify(typed)}: ${expected}`, () => {
    const read = readNumber(typed, GAP);
    assert.equal(read.value ?? read.reason, expected);
    if (read.reason === "range") assert.deepEqual([read.from, read.to, read.unit], ["5", "90", "mm"]);
  });
}

test("the likely slip is named: a place lost or doubled, inches for millimetres", () => {
  assert.deepEqual(readNumber("377", GAP).meant, [{ value: "37.7", because: "ten" }]);
  assert.deepEqual(readNumber("2,97", GAP).meant, [{ value: "29.7", because: "ten" }, { value: "75.44", because: "inch" }]);
  assert.deepEqual(readNumber("99999", GAP).meant, []);
});

test("below nought a sign is allowed, and whole numbers are whole", () => {
  assert.equal(readNumber("-12,5", { id: "t", unit: "°C", from: "-20", to: "60" }).value, "-12.5");
  assert.equal(readNumber("\u22125", { id: "t", unit: "°C", from: "-20", to: "60" }).value, "-5");
  assert.equal(readNumber("2.5", { id: "bits", unit: "", from: "1", to: "8", whole: true }).reason, "whole");
  assert.equal(readNumber("2.0", { id: "bits", unit: "", from: "1", to: "8", whole: true }).value, "2");
});

test("decimals are compared exactly", () => {
  assert.equal(compareDecimals("0.30000000000000000001", "0.3"), 1);
  assert.equal(compareDecimals("48", "48.000"), 0);
  assert.equal(compareDecimals("-1", "1e-7"), -1);
  assert.equal(compareDecimals(1e21, "1000000000000000000000"), 0);
  assert.ok(decimalsWithin("76.9", "75.4", "1.5"));
  assert.ok(!decimalsWithin("76.90001", "75.4", "1.5"));
  assert.throws(() => compareDecimals("x", "1"), TypeError);
});

const LIMITS = measure("gap", "mm", "5", "400", [
  band({ inside: false, value: "65", figure: null }, "a"), band({ inside: true, value: "85", figure: null }, "b"), band({ inside: true, value: null, figure: "longest" }, "c"), band(null, "d"), way("unsure", "e"),
]);

test("a band ends where it says, its edge inside or not", () => {
  const desk = model("desk", { longest: { value: "200", unit: "mm" } });
  for (const [value, index] of [["5", 0], ["64.999", 0], ["65", 1], ["85", 1], ["85.0001", 2], ["200", 2], ["200.1", 3], ["400", 3]]) {
    assert.equal(wayOfValue(LIMITS, value, desk), index, value);
  }
  assert.equal(wayOfValue(LIMITS, "100", model("floor")), -1, "a model without the figure has no way");
});

test("a band shows a condition only if it lies wholly inside its range", () => {
  const desk = model("desk", { longest: { value: "200", unit: "mm" } });
  const range = (from, upTo, unit = "mm") => ({ unit, from, upTo });
  assert.ok(bandShows(LIMITS, 0, range(null, "65"), desk));
  assert.ok(!bandShows(LIMITS, 0, range(null, "64.9"), desk));
  assert.ok(bandShows(LIMITS, 1, range("65", "85"), desk));
  assert.ok(!bandShows(LIMITS, 1, range("65.1", "85"), desk));
  assert.ok(!bandShows(LIMITS, 0, range(null, "65", "cm"), desk));
});

test("a table is matched within its reach, both edges inside", () => {
  const parts = ["drum", "fuser", "roller"].map((text, index) => way("part", ["x", "y", "x"][index], { text }));
  const step = measure("match", "mm", "5", "400", [...parts, way("part", "s", { text: "several" }), way("part", "n", { text: "none" })], { measure: { match: { within: "1.5" } } });
  const desk = model("desk", {}, { drum: { value: "75.4" }, fuser: { value: "56.5" }, roller: { value: "77" } });
  const taken = (value) => step.ways[wayOfValue(step, value, desk)].text;
  assert.deepEqual(["73.9", "73.8", "58", "58.1", "76.2", "60"].map(taken), ["drum", "none", "fuser", "none", "drum", "none"]);
  const close = model("close", {}, { drum: { value: "57" }, fuser: { value: "56.5" } });
  assert.equal(step.ways[wayOfValue(step, "57", close)].text, "several");
  assert.equal(step.ways[wayOfValue(step, "57", model("bare"))].text, "none");
});

// Sheet sizes of ISO 216 and 25.4 mm to the inch: A4 at 600 dpi and one bit is 210/25.4*600 * 297/25.4*600 / 8 bytes.
const PAGE = ["$width", 25.4, "/", "$resolution", "*", "$height", "*", 25.4, "/", "$resolution", "*", "$bits", "*", 8, "/", 1e6, "/"];

test("formulas give what the arithmetic gives", () => {
  const value = evaluateFormula(PAGE, { width: 210, height: 297, resolution: 600, bits: 1 });
  assert.ok(Math.abs(value - 4.350) < 0.001, String(value));
  assert.equal(evaluateFormula([2.5, "round"], {}), 3);
  assert.equal(evaluateFormula([-2.5, "round"], {}), -2);
  assert.equal(evaluateFormula([7, 2, "-", 3, "min", "neg", "abs"], {}), 3);
  assert.equal(evaluateFormula([1, 0, "/"], {}), null);
  assert.equal(evaluateFormula([1, 0, "/", 5, "min"], {}), null, "nothing goes on from a division by nought");
  assert.equal(evaluateFormula(["$gone"], {}), null);
  assert.equal(evaluateFormula([1, "constructor"], {}), null);
  assert.equal(evaluateFormula([1, 2], {}), null);
});

test("a computed value outside its range is refused", () => {
  const step = measure("memory", "MB", "0", "100", [], { measure: { readings: [{ id: "width", unit: "mm", from: "50", to: "450" }], formula: { text: "", rpn: ["$width", "$scale", "*"] } } });
  const on = (scale) => measuredValue(step, { width: "200" }, model("desk", { scale: { value: scale, unit: "" } }));
  assert.equal(on("0.5").value, "100");
  assert.equal(on("0.51").reason, "range");
  assert.equal(measuredValue(step, { width: "200" }, model("bare")).reason, "no-value");
});

test("1,200 random formulas give the values that the compiler gives", () => {
  const vectors = JSON.parse(readFileSync(new URL("fixtures/formulas.json", import.meta.url), "utf8"));
  assert.equal(vectors.length, 1200);
  for (const [text, rpn, gap, pages, value] of vectors) {
    const found = evaluateFormula(rpn, { gap, "page-count": pages });
    // Powers, exponentials and logarithms may differ in the last bits; everything else is the same number.
    const near = /[\^]|exp|ln/.test(text) && found !== null && value !== null && Math.abs(found - value) <= 1e-12 * Math.max(1, Math.abs(value));
    assert.ok(near || Object.is(found === 0 ? 0 : found, value === 0 ? 0 : value), `${text}: ${found}, the compiler gives ${value}`);
  }
  const exact = vectors.filter(([text, , , , value]) => value !== null && !/[\^]|exp|ln/.test(text)).length;
  const refused = vectors.filter(([, , , , value]) => value === null).length;
  assert.ok(exact > 400 && refused > 20, `${exact} have the same bits, ${refused} have no value`);
});
