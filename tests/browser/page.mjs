// A page that holds a follower as the compiler's pages do, served from this computer to this computer, for tests and for looking at.
//   node tests/browser/page.mjs      serves it until stopped, and says where
import { createServer } from "node:http";
import { readdirSync, readFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { extname } from "node:path";
import { createRequire } from "node:module";
import { nastyFlow } from "../script/flows.mjs";

const { parse } = createRequire(new URL("../outside/", import.meta.url))("yaml");
/** The interface's words as the compiler hands them to a procedure's page. */
export const WORDS = parse(readFileSync(new URL("../../themes/bench/words/en.yaml", import.meta.url), "utf8"));

const THEME = new URL("../../themes/bench/", import.meta.url);
const TYPES = { ".js": "text/javascript", ".css": "text/css" };

/** The theme's sheets in the order in which the compiler joins them. */
const PARTS = readdirSync(new URL("parts/", THEME), { recursive: true }).filter((name) => name.endsWith(".css")).sort().map((name) => `parts/${name}`);
const SHEETS = ["style/tokens.css", "style/base.css", ...PARTS, "style/print.css"];

/** The words of a step stand in its section and nowhere else: a test looks for them. */
export function secretOf(step) {
  return `[words of ${step}]`;
}

const json = (value) => JSON.stringify(value).replaceAll("<", "\\u003c");

export function pageFor(flow, words = WORDS) {
  const steps = Object.values(flow.procedures[flow.procedure].steps);
  const sections = steps.map((step) => `<section id="step-${step.id}" class="step"><h3>${step.text}</h3><div class="step__words"><p>${secretOf(step.id)}</p>${step.words.map((text) => `<p>${text}</p>`).join("")}</div></section>`);
  const nodes = steps.map((step, place) => `<g id="chart-${step.id}" data-step="${step.id}" class="chart__node"><a href="#step-${step.id}" aria-label="${place + 1}. Step: ${step.text}"><rect class="chart__shape" y="${place * 60}" width="60" height="40"/></a></g>`);
  const edges = steps.flatMap((step) => step.ways.map((way, index) => `<g class="chart__edge" data-from="${step.id}" data-to="${way.then}" data-way="${index}"><path class="chart__line" d="M0 0h9"/></g>`));
  return `<!doctype html><html lang="en" data-published="${new Date().toISOString().slice(0, 10)}" data-offline-days="30"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Follower</title>
${SHEETS.map((sheet) => `<link rel="stylesheet" href="/${sheet}">`).join("")}<link rel="icon" href="data:,"></head><body data-root="../" data-hand-over="/script/hand-over.js" data-script-type="module"><div class="sheet"><main><h1>A page with a follower</h1>
<script type="application/json" id="interface-words">${json({ site: words.site, follower: words.follower, flowchart: words.flowchart })}</script>
<script type="application/json" id="flow-data">${json(flow)}</script>
<section id="follower" class="follower" data-part="follower" hidden></section>
<section data-part="chart"><h2>Flowchart</h2><div class="chart-scroll" role="region" tabindex="0" aria-label="Flowchart"><svg class="chart" role="group" aria-label="Flowchart" width="60" height="${steps.length * 60}" viewBox="0 0 60 ${steps.length * 60}">${nodes.join("")}${edges.join("")}</svg></div></section>
${sections.join("\n")}</main></div><script type="module" src="/script/start.js"></script><script type="module" src="/script/chart.js"></script></body></html>`;
}

/** Serves a flow's page and the theme's files on the loopback address. */
export async function serve(flow = nastyFlow()) {
  const server = createServer(async (request, response) => {
    const path = new URL(request.url ?? "/", "http://localhost").pathname;
    try {
      if (path === "/procedures/page.html") response.setHeader("content-type", "text/html; charset=utf-8").end(pageFor(server.flow, server.words));
      else if (/^\/(script|parts|style)\/[a-z0-9/-]+\.(js|css)$/.test(path)) response.setHeader("content-type", TYPES[extname(path)]).end(await readFile(new URL(`.${path}`, THEME)));
      else response.writeHead(404).end();
    } catch {
      response.writeHead(404).end();
    }
  });
  server.flow = flow;
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  return { server, address: `http://127.0.0.1:${server.address().port}/procedures/page.html` };
}

if (import.meta.filename === process.argv[1]) console.log((await serve()).address);
