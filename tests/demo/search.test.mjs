// A hundred invented caller phrases (phrases.txt) against the published index: the right procedure among the first three for ninety of them (the job's bar, HD-01).
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { test } from "node:test";
import { pathToFileURL } from "node:url";
import { find, nearest, prepare } from "../../themes/bench/parts/search/find.js";
import { distance } from "../../themes/bench/parts/search/slips.js";

const SITE = process.env.SITE ? pathToFileURL(`${process.env.SITE}/`) : new URL("../../site-demo/", import.meta.url);
const asset = readdirSync(new URL("assets/", SITE)).find((name) => name.startsWith("search-index"));
assert.ok(asset, "the site has an index");

/** The index as a page gets it: the script run, with a page that only listens. */
function indexOf(script) {
  let detail = null;
  const page = { dispatchEvent: (event) => { detail = event.detail; } };
  new Function("document", "CustomEvent", script)(page, class { constructor(type, init) { this.detail = type === "stepward:index" ? init.detail : null; } });
  return detail;
}

const index = indexOf(readFileSync(new URL(`assets/${asset}`, SITE), "utf8"));
const at = prepare(index);
const phrases = readFileSync(new URL("phrases.txt", import.meta.url), "utf8").split("\n").filter((line) => line && !line.startsWith("#")).map((line) => line.split(" | "));
const href = (id) => `procedures/${id}.html`;
const placeOf = ([phrase, id]) => find(at, phrase).hits.findIndex((hit) => hit.href === href(id)) + 1;

test("ninety of a hundred caller phrases have the right procedure among the first three", () => {
  assert.equal(phrases.length, 100);
  const faults = index.documents.filter(([kind]) => kind === "fault").map(([, path]) => path);
  const asked = new Set(phrases.map(([, id]) => href(id)));
  assert.deepEqual([...asked].filter((path) => !faults.includes(path)), [], "phrases ask for procedures that are there");
  assert.ok(asked.size >= 34, `${asked.size} procedures are asked for`);
  const places = phrases.map(placeOf);
  const far = phrases.filter((_, row) => places[row] < 1 || places[row] > 3);
  const table = [1, 2, 3].map((place) => `${place}: ${places.filter((one) => one === place).length}`).join(", ");
  if (process.env.TABLE) for (const one of far) console.log(`${placeOf(one)} ${one.join(" | ")}: ${find(at, one[0]).hits.slice(0, 3).map((hit) => hit.href).join(" ")}`);
  if (process.env.TABLE) console.log(table);
  assert.ok(100 - far.length >= 90, `${table}; not among the first three: ${far.map(([phrase]) => phrase).join("; ")}`);
});

test("every symptom as written finds its procedure first, and is the sentence shown", () => {
  const wrong = index.documents.flatMap(([kind, path, , , symptoms]) => symptoms.filter((symptom) => {
    const { hits } = find(at, symptom);
    // The same words may stand in two procedures: then one of them.
    return kind === "fault" && !hits.slice(0, 2).some((hit) => hit.href === path && hit.symptom !== null);
  }).map((symptom) => `${symptom}: ${path}`));
  assert.deepEqual(wrong, []);
});

test("a panel code is found however it is written, and a bare number only alone", () => {
  const [, written, document] = index.codes.find(([, code]) => /^[A-Z]-\d\d$/.test(code));
  const [letter, digits] = written.split("-");
  for (const typed of [written, written.toLowerCase(), letter + digits, `${letter} ${digits}`, `the panel says ${written} now`]) {
    const [first] = find(at, typed).hits;
    assert.deepEqual([first?.href, first?.code], [index.documents[document][1], written], typed);
  }
  assert.equal(find(at, written).hits.length, 1, "a code is no other word");
  const [short, , ofShort] = index.codes.find(([code]) => /^\d{1,2}$/.test(code));
  assert.equal(find(at, short).hits[0].href, index.documents[ofShort][1]);
  assert.ok(find(at, `${short} sheets at once`).hits.every((hit) => hit.code === null));
});

test("beginnings and slips are understood, and nonsense finds nothing", () => {
  assert.ok(find(at, "repeating ma").hits.some((hit) => hit.href === href("repeating-marks")));
  assert.deepEqual(find(at, "cartrigde ").taken, ["cartridge"]);
  for (const typed of ["", "   ", "!?", "qqxzv wwkjq", "the and of", "x".repeat(200), "<b>&amp;</b>", "__proto__ constructor"]) assert.ok(Array.isArray(find(at, typed).hits), typed);
  assert.deepEqual(find(at, "qqxzv wwkjq").hits, []);
  assert.deepEqual(["abcd abdc 1", "abcd abd 1", "abcd abcd 0", "ab cd 2", "ab abcdef 3"].map((line) => line.split(" ")).filter(([left, right, far]) => distance(left, right, 2) !== Number(far)), []);
});

test("where nothing is found the three symptoms written most alike are told, each of another procedure", () => {
  for (const typed of ["jamming drumm", "smokey", "qqxzv striper"]) {
    const near = nearest(at, typed);
    assert.equal(near.length, 3, typed);
    assert.equal(new Set(near.map((hit) => hit.href)).size, 3, typed);
    assert.ok(near.every((hit, place) => hit.kind === "fault" && hit.score > 0 && (place === 0 || hit.score <= near[place - 1].score)), typed);
  }
  assert.equal(nearest(at, "smokey")[0].href, href("smoke"));
  assert.deepEqual(nearest(at, "qqxzv"), [], "what is like nothing has no neighbour");
  // Each symptom spoilt beyond what the search understands still lies nearest to itself.
  const faults = index.documents.filter(([kind]) => kind === "fault");
  const spoilt = (text) => text.replace(/\p{L}{6,}/gu, (word) => `${word.slice(0, -2)}xq`);
  const lost = faults.filter(([, path, , , symptoms]) => !symptoms.some((symptom) => nearest(at, spoilt(symptom)).some((hit) => hit.href === path)));
  assert.deepEqual(lost.map(([, path]) => path), []);
});

test("the page of what changed is found", () => {
  assert.ok(find(at, "what changed").hits.some((hit) => hit.href === "changes.html"));
});
