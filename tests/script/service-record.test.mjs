// The service record: whole, chained, and any changed letter breaks the chain at its entry.
import assert from "node:assert/strict";
import { test } from "node:test";
import { brokenAt, canonical, serviceRecord } from "../../themes/bench/script/service-record.js";
import { nastyFlow } from "./flows.mjs";
import { Run } from "./run.mjs";

const flow = { ...nastyFlow(), edition: "0123456789abcdef" };

function longRun() {
  const run = new Run(flow, { person: "skilled", caller: true });
  run.acknowledgeAll().answer("Yes").answer("Technician").acknowledgeAll();
  return run;
}

test("keys in any order have one spelling, and nothing is lost", () => {
  assert.equal(canonical({ b: [1, { d: null, c: "é\n" }], a: true, gone: undefined }), '{"a":true,"b":[1,{"c":"é\\n","d":null}]}');
});

test("a run is told entry by entry", () => {
  const record = serviceRecord(flow, longRun().state);
  assert.equal(record.entries[0].what, "start");
  const caution = record.entries.find((entry) => entry.what === "caution");
  assert.deepEqual([caution.hazard, caution.acknowledged], ["toner", "repeated"]);
  const answer = record.entries.find((entry) => entry.what === "way");
  assert.deepEqual([answer.step, answer.way, answer.text, answer.how], ["look", "answer", "Yes", "told"]);
  assert.match(answer.at, /^2026-01-15T09:00:\d\dZ$/);
  assert.equal(record.status, "under-way");
  assert.equal(brokenAt(record), null);
  assert.equal(brokenAt(JSON.parse(JSON.stringify(record))), null, "it survives being written down");
});

/** Every leaf of a record, as a way to it. */
function leaves(value, path = []) {
  if (value === null || typeof value !== "object") return [path];
  return Object.keys(value).flatMap((key) => leaves(value[key], [...path, key]));
}

test("whatever is changed, the chain breaks there", () => {
  const record = serviceRecord(flow, longRun().state);
  const paths = leaves(record);
  assert.ok(paths.length > 50, `${paths.length} values`);
  for (const path of paths) {
    const forged = JSON.parse(JSON.stringify(record));
    const parent = path.slice(0, -1).reduce((one, key) => one[key], forged);
    const key = path.at(-1);
    parent[key] = typeof parent[key] === "number" ? parent[key] + 1 : typeof parent[key] === "boolean" ? !parent[key] : `${parent[key] ?? ""}x`;
    const expected = path[0] === "entries" ? Number(path[1]) + 1 : ["status", "ending", "left", "deviations", "seal"].includes(path[0]) ? "end" : "head";
    assert.equal(brokenAt(forged), expected, path.join("."));
  }
});

test("an entry taken out, put in or moved breaks the chain", () => {
  const record = serviceRecord(flow, longRun().state);
  const with_ = (change) => {
    const forged = JSON.parse(JSON.stringify(record));
    change(forged.entries);
    return brokenAt(forged);
  };
  assert.equal(with_((entries) => entries.splice(1, 1)), 2);
  assert.equal(with_((entries) => entries.splice(1, 0, entries[1])), 3);
  assert.equal(with_((entries) => entries.push(...entries.splice(0, 1))), 1);
  assert.equal(with_((entries) => entries.pop()), "end");
});
