// Readings taken again: near the edge between two actions, over several gaps, more than once.
import assert from "node:assert/strict";
import { test } from "node:test";
import { readNumber } from "../../themes/bench/script/reading.js";
import { answer, ask, band, end, flow, measure, procedure, unsure } from "./flows.mjs";
import { Run } from "./run.mjs";

const limit = (value, inside) => ({ inside, value, figure: null });
const GAPS = flow([procedure("gaps", [
  measure("gap", "mm", "5", "90", [band(limit("40", false), "short"), band(limit("60", true), "middle"), band(null, "long"), unsure("none")]),
  ask("short", [answer("Yes", "none"), unsure("none")]), ask("middle", [answer("Yes", "none"), unsure("none")]), ask("long", [answer("Yes", "none"), unsure("none")]), end("none", "handed-over"),
])]);

const at = (run) => [run.state.step, run.state.refusal?.reason ?? null];
const typed = (run, values) => run.send({ type: "reading", typed: values });

const NEAR = [
  ["39", true], ["40", true], ["39.9", true], ["40.0", true], ["39.8", false], ["38", false], ["41", false], ["60", true], ["60.0", true], ["60.1", true], ["60.2", false], ["59,99", false], ["60,00", true], ["5", false], ["90", false],
];
for (const [value, near] of NEAR) {
  test(`${value} mm is ${near ? "" : "not "}near an edge at 40 (outside) or 60 (inside)`, () => {
    const run = typed(new Run(GAPS), { value });
    assert.equal(run.state.refusal?.reason === "near", near);
    if (near) assert.notEqual(typed(run, { value }).state.step, "gap", "the second reading counts");
  });
}

test("the first reading stays in the log, and the second decides", () => {
  const run = typed(typed(new Run(GAPS), { value: "40.0" }), { value: "39" });
  const entry = run.state.log.at(-1);
  assert.deepEqual([run.state.step, entry.value, entry.first.value, entry.near], ["short", "39", "40.0", true]);
});

test("an edge between two bands that lead to the same step asks nothing twice", () => {
  const same = flow([procedure("same", [measure("gap", "mm", "5", "90", [band(limit("40", false), "end"), band(null, "end"), unsure("end")]), end("end", "handed-over")])]);
  assert.equal(typed(new Run(same), { value: "40" }).state.step, "end");
});

test("several gaps are divided, several readings averaged, and their spread is kept", () => {
  const several = typed(new Run(GAPS), { value: "226.2", gaps: "3" });
  assert.deepEqual([...at(several), several.state.log.at(-1).value], ["long", null, "75.4"]);
  const thrice = typed(new Run(GAPS), { value: "75.2", "value-2": "75,8", "value-3": "75.4" });
  assert.deepEqual([thrice.state.log.at(-1).value, thrice.state.log.at(-1).spread], ["75.467", "0.6"]);
});

test("readings that would lead to different actions are refused, with their spread", () => {
  const run = typed(new Run(GAPS), { value: "30", "value-2": "70" });
  assert.deepEqual([...at(run), run.state.refusal.spread], ["gap", "apart", "40"]);
});

test("out of range is judged for one gap", () => {
  assert.equal(typed(new Run(GAPS), { value: "226.2" }).state.refusal.reason, "range");
  assert.equal(typed(new Run(GAPS), { value: "12", gaps: "3" }).state.refusal.reason, "range");
  for (const gaps of ["0", "21", "1.5", "x", "-2"]) assert.notEqual(typed(new Run(GAPS), { value: "75", gaps }).state.refusal, null, gaps);
});

test("a temperature is read once: no mean may hide the hotter reading", () => {
  const hot = flow([procedure("hot", [measure("warm", "°C", "0", "250", [band(limit("48", true), "end"), band(null, "hot"), unsure("end")]), end("end", "fixed"), end("hot", "handed-over")])]);
  const run = typed(new Run(hot), { value: "60", "value-2": "30", gaps: "2" });
  assert.equal(run.state.step, "hot");
});

// How numbers are written in English, German, French and Swiss hands (Unicode CLDR decimal and grouping signs): grouping is never guessed at.
const HANDS = [
  ["37.7", "37.7"], ["37,7", "37.7"], ["1,234.5", "separators"], ["1.234,5", "separators"], ["1 234,5", "letters"], ["1\u00a0234,5", "letters"], ["1\u202f234,5", "letters"], ["1'234.5", "letters"], ["1’234.5", "letters"], ["12,34,567", "separators"],
];
for (const [text, expected] of HANDS) {
  test(`typed as ${JSON.stringify(text)}`, () => {
    const read = readNumber(text, { id: "value", unit: "mm", from: "5", to: "5000" });
    assert.equal(read.value ?? read.reason, expected);
  });
}
