// The sets of graphs: seeded flows (flows.py), the examples of Debian's package graphviz-doc (here gv), and the process models that the crate
// graphlay carries for its tests (here pm). Nothing of them is kept here.

import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const BOX = [60, 60, 40, 0, 0];

const said = (command, args, input) => {
  const { status, stdout } = spawnSync(command, args, { input, encoding: 'utf8', maxBuffer: 1 << 28 });
  return status === 0 ? stdout : '';
};

function files(folder) {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name))
    .sort();
}

function graph(name, names, pairs) {
  const numbers = new Map(names.map((node, number) => [node, number]));
  const edges = pairs.map(([tail, head]) => [numbers.get(tail), numbers.get(head), 1, 0, 0]);
  return { name, start: 0, nodes: names.map(() => BOX), edges };
}

/** Directed graphs of eight nodes or more, read by dot's own reader. */
export function gv(folder) {
  const script = 'BEG_G { print(directed ? "digraph" : "graph"); } N { print("N\\t", name); } E { print("E\\t", tail.name, "\\t", head.name); }';
  const found = [];
  for (const file of files(folder).filter((name) => /\.(gv|dot)(\.gz)?$/.test(name))) {
    const text = file.endsWith('.gz') ? said('gzip', ['-dc', file]) : readFileSync(file, 'latin1');
    const lines = said('gvpr', [script.replaceAll('directed', '$G.directed')], text).split('\n');
    if (lines[0] !== 'digraph') continue;
    const words = lines.map((line) => line.split('\t'));
    const nodes = words.filter(([kind]) => kind === 'N').map(([, name]) => name);
    const edges = words.filter(([kind]) => kind === 'E').map(([, tail, head]) => [tail, head]);
    if (nodes.length >= 8) found.push(graph(`gv/${file.split("/").at(-1).replace(/\..*/, "")}`, nodes, edges));
  }
  return found;
}

export function pm(folder) {
  const found = [];
  for (const kind of ['dfg', 'ocdfg', 'ocpn', 'petri']) {
    for (const file of files(join(folder, kind)).filter((name) => name.endsWith('.json'))) {
      found.push(...model(`pm/${file.split("/").at(-1).replace(".json", "")}`, JSON.parse(readFileSync(file, "utf8"))));
    }
  }
  return found;
}

function model(name, told) {
  const nodes = told.nodes.map((_, node) => node);
  return nodes.length > 0 ? [graph(name, nodes, told.edges.map(({ from, to }) => [from, to]))] : [];
}
