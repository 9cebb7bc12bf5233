// Service records of random walks against their published JSON Schema (draft 2020-12), by a validator that we did not write (ajv of the npm registry).
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import Ajv from "ajv/dist/2020.js";
import { brokenAt, serviceRecord } from "../../themes/bench/script/service-record.js";
import { nastyFlow } from "../script/flows.mjs";
import { random } from "../script/observer.mjs";
import { Run } from "../script/run.mjs";

const schema = JSON.parse(readFileSync(new URL("../../themes/bench/schema/record.schema.json", import.meta.url), "utf8"));
const ajv = new Ajv({ strict: true, allErrors: true });
const valid = ajv.compile(schema);

/** One thing that somebody might do here. */
function anything(run, roll) {
  const step = run.flow.procedures[run.state.frames.at(-1)?.procedure ?? run.flow.procedure].steps[run.state.step];
  switch (run.state.screen.name) {
    case "caution": return run.acknowledge();
    case "resume": return run.send({ type: "confirm", person: ["ordinary", "instructed", "skilled"][roll(3)], alone: true, caller: roll(2) === 0, raised: ["another", "mistaken"][roll(2)], conditions: Object.fromEntries(run.state.facts.holds.map((id) => [id, roll(3) > 0])) });
    case "wait": return roll(2) === 0 ? run.work(1900).next() : run.tick(roll(900) * 1000);
    case "step": {
      if (roll(9) === 0) return run.send({ type: "note", text: `note ${roll(99)}` });
      if (roll(12) === 0) return run.back();
      if (roll(25) === 0) return run.send({ type: "take-over" });
      if (roll(30) === 0) return run.send({ type: "machine", serial: `S-${roll(99)}` });
      if (step.kind === "measure") return run.read(String([20, 47.9, 48, 60, 300][roll(5)]));
      if (step.kind === "ask") return run.send({ type: "answer", way: roll(step.ways.length) });
      return roll(2) === 0 ? run.next() : run.send({ type: "begin-wait" });
    }
    default: return run.back();
  }
}

test("the records of 200 random walks fit the schema, and their chains are whole", () => {
  const flow = nastyFlow();
  flow.edition = "0123456789abcdef";
  const seen = new Set();
  for (let seed = 1; seed <= 200; seed++) {
    const roll = random(seed);
    const run = new Run(flow, { person: ["ordinary", "instructed", "skilled"][roll(3)], caller: roll(2) === 0 });
    for (let n = 0; n < 40 && !["refused"].includes(run.state.screen.name); n++) {
      anything(run, roll);
      if (run.state.screen.name === "ending" && roll(4) > 0) break;
    }
    const record = JSON.parse(JSON.stringify(serviceRecord(flow, run.state)));
    assert.ok(valid(record), `walk ${seed}: ${ajv.errorsText(valid.errors)}`);
    assert.equal(brokenAt(record), null, `walk ${seed}`);
    seen.add(record.status);
    for (const { what } of [...record.entries, ...record.deviations]) seen.add(what);
  }
  const wanted = ["start", "caution", "way", "note", "back", "resume", "wait-begun", "wait-over", "hand-over", "carry-out", "ending", "machine", "went-back", "person-raised", "handed-over", "ended", "under-way"];
  assert.deepEqual(wanted.filter((what) => !seen.has(what)), [], "never seen on these walks");
});

/** A record that is changed in one place, and what that change is. */
const WRONG = [
  ["a key that no record has", (record) => { record.name = "somebody"; }],
  ["a name in an entry", (record) => { record.entries[0].name = "somebody"; }],
  ["another schema", (record) => { record.schema = "stepward/record/9"; }],
  ["no edition", (record) => { delete record.edition; }],
  ["an edition that is no digest", (record) => { record.edition = "new"; }],
  ["a time without its zone", (record) => { record.entries[0].at = "2026-01-15 09:00"; }],
  ["a chain that is no digest", (record) => { record.entries[0].chain = "abc"; }],
  ["an entry of no kind", (record) => { record.entries[0].what = "thought"; }],
  ["an entry without its number", (record) => { delete record.entries[0].n; }],
  ["a caution neither read nor repeated", (record) => { record.entries.find((one) => one.what === "caution").acknowledged = "skipped"; }],
  ["a status that is none", (record) => { record.status = "lost"; }],
  ["ended without an ending", (record) => { record.status = "ended"; record.ending = null; }],
  ["a seal that is missing", (record) => { delete record.seal; }],
  ["a revision of nought", (record) => { record.revision = 0; }],
  ["a person of no level", (record) => { record.entries[0].person = "boss"; }],
  ["a deviation that is none", (record) => { record.deviations = [{ what: "lazy", n: 1 }]; }],
];

test("what is no record is refused", () => {
  const flow = nastyFlow();
  flow.edition = "0123456789abcdef";
  const right = () => JSON.parse(JSON.stringify(serviceRecord(flow, new Run(flow, { person: "skilled" }).acknowledgeAll().answer("No").state)));
  assert.ok(valid(right()), ajv.errorsText(valid.errors));
  for (const [what, change] of WRONG) {
    const record = right();
    change(record);
    assert.equal(valid(record), false, what);
  }
});
