// Every promise that the follower's `.yaml` makes names the tests that keep it, and they are there.
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { test } from "node:test";

const { parse } = createRequire(new URL("../outside/", import.meta.url))("yaml");
const ROOT = new URL("../../", import.meta.url);
const read = (path) => readFileSync(new URL(path, ROOT), "utf8");
const promises = parse(read("themes/bench/parts/follower/follower.yaml"));

/** The names of all tests: `test("…"`, `test(`…`` and Rust's `fn`s under `#[test]`. */
const names = new Set();
for (const folder of ["tests/script/", "tests/browser/", "tests/demo/", "tests/outside/"]) {
  for (const file of readdirSync(new URL(folder, ROOT)).filter((name) => name.endsWith(".test.mjs") && name !== "promises.test.mjs")) {
    for (const [, quote, name] of read(folder + file).matchAll(/^\s*test\((["`])(.*?)\1, /gm)) names.add(quote === '"' ? JSON.parse(`"${name}"`) : name);
  }
}
for (const file of readdirSync(new URL("tests/suite/", ROOT)).filter((name) => name.endsWith(".rs"))) {
  for (const [, name] of read(`tests/suite/${file}`).matchAll(/#\[test\]\s*fn (\w+)\(/g)) names.add(name);
}

test("the names of tests are read", () => assert.ok(names.size > 200, `${names.size} names`));

for (const [id, promise] of [...Object.entries(promises.keys), ...Object.entries(promises.promises)]) {
  test(`${id}: ${promise.does ?? promise.is}`, () => {
    const kept = [promise.test].flat();
    assert.ok(kept.length > 0 && (promise.does ?? promise.is).length > 10);
    assert.deepEqual(kept.filter((name) => !names.has(name)), [], "no test has this name");
  });
}

// The capabilities and duties that a follower answers for (job.md 2.4, 2.5, 2.8; safety.md), each at least once.
test("no capability of the follower, and none of its duties, is without a promise", () => {
  const all = Object.values(promises.promises);
  const cells = new Set(all.map((one) => one.cell));
  const wanted = ["HD-02", "HD-03", "HD-04", "HD-05", "HD-06", "HD-09", "HD-10", "HD-11", "HD-13", "FT-01", "FT-03", "FT-04", "FT-05", "FT-06", "FT-08", "FT-10", "FT-14", "FT-16", "FT-17", "AL-02", "AL-09", "AL-10", "AL-14"];
  assert.deepEqual(wanted.filter((cell) => !cells.has(cell)), []);
  const duties = new Set(all.map((one) => one.duty));
  assert.deepEqual([1, 2, 3, 4, 5, 6, 7, 8].filter((duty) => !duties.has(duty)), []);
});

test("every key that the follower answers to is promised", () => {
  const script = read("themes/bench/parts/follower/keys.js");
  const answered = new Set([...script.matchAll(/\bkey === "(\w+)"/g)].map(([, key]) => key));
  assert.deepEqual([...answered].filter((key) => !Object.hasOwn(promises.keys, key)), []);
  assert.deepEqual([...answered].sort(), ["Backspace", "Enter", "Escape"]);
  assert.match(script, /\^\[1-9\]\$/);
});
