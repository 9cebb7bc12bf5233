// The two that draw: ours (draw.rs), and `dot` of Debian's package graphviz.

import { spawnSync } from 'node:child_process';

const run = (command, args, input) => {
  const { status, stdout, stderr, error } = spawnSync(command, args, { input, encoding: 'utf8', maxBuffer: 1 << 30 });
  if (status !== 0) throw new Error(`${command}: ${error ?? stderr}`);
  return stdout;
};

/** @returns {{ name: string, start: number, nodes: number[][], edges: number[][] }[]} */
export function readGraphs(text) {
  const graphs = [];
  for (const line of text.split('\n')) {
    const [kind, ...words] = line.split(' ');
    if (kind === 'graph') graphs.push({ name: words[0], start: Number(words[1]), nodes: [], edges: [] });
    if (kind === 'node') graphs.at(-1).nodes.push(words.map(Number));
    if (kind === 'edge') graphs.at(-1).edges.push(words.map(Number));
  }
  return graphs;
}

export function writeGraphs(graphs) {
  return graphs
    .map(({ name, start, nodes, edges }) =>
      [`graph ${name} ${start}`, ...nodes.map((node) => `node ${node.join(" ")}`), ...edges.map((edge) => `edge ${edge.join(" ")}`), ""].join("\n"),
    )
    .join('');
}

/** Compiles the geometry by itself, with optimisation: it needs nothing but the standard library. */
export function compile(source, target) {
  run('rustc', ['-O', '--edition', '2024', source, '-o', target]);
  return target;
}

export function ours(program, graphs) {
  const pictures = [];
  for (const line of run(program, [], writeGraphs(graphs)).split('\n')) {
    const [kind, ...words] = line.split(' ');
    const numbers = words.map(Number);
    if (kind === 'graph') {
      const ends = graphs[pictures.length].edges.map(([from, to]) => [from, to]);
      pictures.push({ boxes: [], lines: [], labels: [], ends, milliseconds: numbers[3] / 1e6 });
    }
    if (kind === 'box') pictures.at(-1).boxes.push(numbers);
    if (kind === 'label') pictures.at(-1).labels.push(numbers);
    if (kind === 'line') pictures.at(-1).lines.push(Array.from({ length: numbers.length / 2 }, (_, place) => numbers.slice(2 * place, 2 * place + 2)));
  }
  return pictures;
}

/** The same boxes, labels as wide and high, and the gaps that ours keeps (src/chart/space.rs, route.rs). */
export function dot(graph, { beside = 32, between = 36 } = {}) {
  const inches = (pixels) => (pixels / 72).toFixed(4);
  const lines = [`digraph { graph [splines=polyline, nodesep=${inches(beside)}, ranksep=${inches(between)}]; node [shape=box, fixedsize=true, label=""];`];
  graph.nodes.forEach(([left, right, height], node) => lines.push(`n${node} [width=${inches(left + right)}, height=${inches(height)}];`));
  graph.edges.forEach(([from, to, weight, width, height], edge) => {
    const label = width > 0 ? `<<table border="0" cellborder="0" cellpadding="0" cellspacing="0" fixedsize="true" width="${width}" height="${height}"><tr><td></td></tr></table>>` : '""';
    lines.push(`n${from} -> n${to} [id=${edge}, weight=${weight}, label=${label}];`);
  });
  const begin = performance.now();
  const told = JSON.parse(run("dot", ["-Tjson0"], `${lines.join("\n")}}`));
  const milliseconds = performance.now() - begin;
  const boxes = [];
  for (const { name, pos, width, height } of told.objects ?? []) {
    const [x, y] = pos.split(',').map(Number);
    const [w, h] = [Number(width) * 72, Number(height) * 72];
    boxes[Number(name.slice(1))] = [x - w / 2, -y - h / 2, w, h];
  }
  const routes = [];
  for (const { id, pos } of told.edges ?? []) routes[Number(id)] = route(pos);
  return { boxes, lines: routes, ends: graph.edges.map(([from, to]) => [from, to]), milliseconds };
}

/** A polyline as dot writes it: control points by threes; those of a straight piece lie on it. */
function route(pos) {
  const words = pos.split(' ');
  const point = (word) => word.split(',').slice(-2).map(Number);
  const ends = words.filter((word) => word.startsWith('e,')).map(point);
  const begins = words.filter((word) => word.startsWith('s,')).map(point);
  const points = words.filter((word) => /^[-\d]/.test(word)).map(point);
  return [...begins, ...points.filter((_, place) => place % 3 === 0), ...ends].map(([x, y]) => [x, -y]);
}
