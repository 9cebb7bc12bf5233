// A chart alone, read by programs that we did not write: the graph by Graphviz's `dot` (its own grammar), the drawing by expat (XML 1.0) in Python.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { folder, root, stepward, write } from './support/library.mjs';

const FLOWS = ['repeating-marks', 'white-sheet', 'isolate', 'wrong-content'];

/** The steps and ways of a published procedure, and its hazards by id. */
function published(id) {
  const page = readFileSync(join(root, 'site-demo/procedures', `${id}.html`), 'utf8');
  const flow = JSON.parse(/<script type="application\/json" id="flow-data">(.*?)<\/script>/s.exec(page)[1]);
  // A step by model has no words of its own.
  const steps = Object.values(flow.procedures[id].steps).map((step) => (step.kind === 'by-model' ? { ...step, text: 'Which model is it?' } : step));
  return { steps, hazards: new Map(flow.hazards.map((hazard) => [hazard.id, hazard])) };
}

function run(program, parameters, input) {
  const done = spawnSync(program, parameters, { input, encoding: 'utf8', maxBuffer: 1 << 26 });
  if (done.error) throw done.error;
  return done;
}

/** What `dot` makes of a graph: the names of its nodes and the ends of its edges, the dotted lines to signs apart. */
function parsed(graph) {
  const done = run('dot', ['-Tjson0'], graph);
  assert.equal(done.status, 0, done.stderr);
  assert.equal(done.stderr, '');
  const { objects, edges } = JSON.parse(done.stdout);
  const ways = edges.filter((edge) => edge.style !== 'dotted');
  const joined = edges.filter((edge) => edge.style === 'dotted').map((edge) => ({ step: objects[edge.head].name, words: objects[edge.tail].label.replaceAll('\\n', ' ') }));
  return { nodes: objects.filter((node) => !node.name.startsWith('sign ')), signs: joined, ways: ways.map((edge) => `${objects[edge.tail].name} > ${objects[edge.head].name}`) };
}

test('dot reads every graph as it was meant, and draws it', () => {
  for (const id of FLOWS) {
    const drawn = stepward(['draw', id, '--as', 'dot', '--today', '2026-11-24']);
    assert.equal(drawn.status, 0, drawn.err);
    const { steps, hazards } = published(id);
    const { nodes, signs, ways } = parsed(drawn.out);
    assert.deepEqual(nodes.map((node) => node.name).sort(), [...steps.map((step) => step.id), 'the start'].sort());
    const expected = [`the start > ${steps[0].id}`, ...steps.flatMap((step) => step.ways.map((way) => `${step.id} > ${way.then}`))];
    assert.deepEqual(ways.sort(), expected.sort());
    // A sign for each caution, and one for all that a step exposes to.
    for (const step of steps) {
      const own = signs.filter((sign) => sign.step === step.id).map((sign) => sign.words);
      const cautions = step.cautions.map((hazard) => `${hazards.get(hazard).signalWord.toUpperCase()}: ${hazards.get(hazard).name}`);
      const exposed = step.exposes.map((exposure) => hazards.get(exposure.hazard).name);
      assert.deepEqual(own.sort(), [...cautions, ...(exposed.length ? [`exposed: ${exposed.join('; ')}`] : [])].sort(), `${id}: ${step.id}`);
    }
    for (const step of steps) assert.ok(nodes.find((node) => node.name === step.id).label.replaceAll('\\n', ' ').includes(step.text.split(' ')[0]), step.id);
    const svg = run('dot', ['-Tsvg'], drawn.out);
    assert.equal(svg.status, 0, svg.stderr);
  }
});

test('words that DOT gives a meaning to are words', (context) => {
  const place = folder(context);
  write(join(place, 'library.yaml'), 'title: "Rooms \\\\N \\"a\\" -> b"\nroles: [service]\n');
  write(join(place, 'procedures/graph.md'), `---\ntitle: "digraph { \\\\G"\nrevision: 1\nowner: service\nreview-by: 2027-06-30\nsteps:
  node:\n    ask: 'Does "\\N" end in \\? <b>&amp;</b> {x|y}'\n    answers:\n      - { answer: 'a "b" \\', then: edge }\n      - { answer: '-> [x=y];', then: edge }\n    unsure: edge
  edge: { do: Keep it, outcome: handed-over }\n---\n`);
  const drawn = stepward(['draw', 'graph', '--as', 'dot', '--library', place]);
  assert.equal(drawn.status, 0, drawn.err);
  const { nodes, ways } = parsed(drawn.out);
  assert.deepEqual(nodes.map((node) => node.name), ['the start', 'node', 'edge']);
  assert.deepEqual(ways.sort(), ['node > edge', 'node > edge', 'node > edge', 'the start > node']);
  const svg = run('dot', ['-Tsvg'], drawn.out).stdout;
  // In the picture the words stand as they were written, backslash and all.
  assert.ok(svg.includes('&quot;\\N&quot;') || svg.includes('"\\N"'), svg);
});

const READ = `
import sys, json, xml.etree.ElementTree as tree
root = tree.fromstring(sys.stdin.buffer.read())
name = lambda e: e.tag.split('}')[1]
print(json.dumps({'root': root.tag, 'tags': sorted({name(e) for e in root.iter()}), 'attributes': sorted({a for e in root.iter() for a in e.attrib}), 'width': root.attrib['width'], 'viewBox': root.attrib['viewBox'],
  'texts': [' '.join(''.join(t.itertext()) for t in (list(e) or [e])) for e in root.iter() if name(e) == 'text']}))
`;

test('a drawing is XML that needs nothing and runs nothing, with the words of every step', () => {
  for (const id of FLOWS) {
    const drawn = stepward(['draw', id, '--today', '2026-11-24']);
    assert.equal(drawn.status, 0, drawn.err);
    const read = run('python3', ['-c', READ], drawn.out);
    assert.equal(read.status, 0, read.stderr);
    const svg = JSON.parse(read.stdout);
    assert.equal(svg.root, '{http://www.w3.org/2000/svg}svg');
    assert.deepEqual(svg.tags.filter((tag) => !['svg', 'title', 'style', 'g', 'rect', 'path', 'polygon', 'circle', 'text', 'tspan'].includes(tag)), []);
    assert.deepEqual(svg.attributes.filter((name) => /^on|href|style/.test(name)), []);
    for (const { text, kind, callee } of published(id).steps) {
      const words = text.replace(/\s+/g, ' ');
      assert.ok(svg.texts.some((one) => one.replace(/- /g, '').replace(/\s+/g, ' ').includes(words) || one.includes(words)), `${id}: ${kind} ${callee}: ${words}`);
    }
    assert.ok(Number(svg.viewBox.split(' ')[2]) === Number(svg.width) && Number(svg.width) > 500);
  }
});
