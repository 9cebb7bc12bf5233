// What a search costs: the size of the index and the time of a query. `node benches/search.mjs [INDEX ...]`, without any the demo's. See README.md here.
import { readFileSync } from "node:fs";
import { basename } from "node:path";
import { fileURLToPath } from "node:url";
import { brotliCompressSync, gzipSync } from "node:zlib";
import { find, nearest, prepare } from "../themes/bench/parts/search/find.js";

const phrases = readFileSync(new URL("../tests/demo/phrases.txt", import.meta.url), "utf8").split("\n").filter((line) => line && !line.startsWith("#")).map((line) => line.split(" | ")[0]);
const median = (times) => times.toSorted((one, other) => one - other)[Math.floor(times.length / 2)];
const most = (times) => Math.max(...times);

function timed(work) {
  const start = performance.now();
  work();
  return performance.now() - start;
}

const files = process.argv.length > 2 ? process.argv.slice(2) : [fileURLToPath(new URL("../site-demo/assets/search-index.js", import.meta.url))];
for (const file of files) {
  const script = readFileSync(file, "utf8");
  let index;
  const run = () => new Function("document", "CustomEvent", script)({ dispatchEvent: (event) => { index = event; } }, class { constructor(_, { detail }) { return detail; } });
  const loads = Array.from({ length: 5 }, () => timed(run));
  const prepares = Array.from({ length: 5 }, () => timed(() => prepare(index)));
  const at = prepare(index);
  // The floor: every symptom and title is looked through for the words as they are typed, and nothing is weighed.
  const texts = index.documents.flatMap(([, , title, , symptoms]) => [...symptoms, title]).map((text) => text.toLowerCase());
  const plain = (phrase) => phrase.toLowerCase().split(" ").map((word) => texts.filter((text) => text.includes(word)).length);
  for (const phrase of phrases) [plain, find.bind(null, at), nearest.bind(null, at)].forEach((one) => one(phrase));
  const floor = phrases.map((phrase) => timed(() => plain(phrase)));
  const whole = phrases.map((phrase) => timed(() => find(at, phrase)));
  const slips = phrases.map((phrase) => phrase.replace(/(\p{L})(\p{L})(?=\p{L}{2})/u, "$2$1")).map((phrase) => timed(() => find(at, phrase)));
  const near = phrases.map((phrase) => timed(() => nearest(at, phrase)));
  const bytes = Buffer.from(script);
  console.log(`${basename(file)}: ${index.documents.length} documents, ${bytes.length} bytes, with gzip ${gzipSync(bytes, { level: 9 }).length}, with brotli ${brotliCompressSync(bytes).length}`);
  console.log(`  run the script ${median(loads).toFixed(1)} ms, make ready ${median(prepares).toFixed(1)} ms`);
  const tell = (what, times) => console.log(`  ${what.padEnd(34)} middle ${median(times).toFixed(2).padStart(7)} ms  ${(median(times) / median(floor)).toFixed(1).padStart(6)} x floor, most ${most(times).toFixed(2)} ms`);
  tell("floor: texts looked through", floor);
  tell("a query", whole);
  tell("a query with a slip", slips);
  tell("the nearest, where nothing is found", near);
}
