// The flowchart's geometry beside a general reference: `dot` of Debian's package graphviz (Gansner and others 1993) draws the same graphs, with
// boxes and labels of the same size and the same gaps. Told as ratios of one run: crossings as a reader sees them (lines that run as one cross another
// once), crossings of every pair of lines, length, bends, area. Ours draws level and upright lines and keeps every label clear; dot slants its lines.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { compile, dot, ours, readGraphs } from './chart/engines.mjs';
import { faults, measures } from './chart/measures.mjs';
import { gv, pm } from './chart/sets.mjs';
import { folder, root } from './support/library.mjs';

const EXAMPLES = '/usr/share/doc/graphviz/examples/graphs/directed';
const MODELS = { name: 'graphlay', version: '0.3.1' };
const MOST = { demo: 0.8, gv: 0.8, pm: 0.8, f: 1, s: 1, d: 1 };
const AREA = 1.15;

const here = join(root, 'tests/outside/chart');

function run(command, parameters, options = {}) {
  const { status, stdout, stderr, error } = spawnSync(command, parameters, { encoding: 'utf8', maxBuffer: 1 << 28, ...options });
  assert.equal(status, 0, `${command}: ${error ?? stderr}`);
  return stdout;
}

/** The graphs of the demo, written by `tests/suite/chart_demo.rs`. */
function demo(place) {
  const file = join(place, 'demo.txt');
  run('cargo', ['test', '--quiet', '--test', 'suite', 'the_demo_can_be_drawn'], { cwd: root, env: { ...process.env, STEPWARD_CHART_GRAPHS: file } });
  return readGraphs(readFileSync(file, 'utf8')).filter(({ nodes }) => nodes.length > 1);
}

/** The folder of a crate's sources, fetched by cargo. */
function fetched(place, { name, version }) {
  const project = join(place, 'fetch');
  mkdirSync(join(project, 'src'), { recursive: true });
  writeFileSync(join(project, 'src/lib.rs'), '');
  writeFileSync(join(project, 'Cargo.toml'), `[package]\nname = "fetch"\nedition = "2024"\n[dependencies]\n${name} = "=${version}"\n[workspace]\n`);
  run('cargo', ['fetch', '--quiet'], { cwd: project });
  const sources = join(process.env.CARGO_HOME ?? join(homedir(), '.cargo'), 'registry/src');
  const found = readdirSync(sources).map((registry) => join(sources, registry, `${name}-${version}`));
  return found.find((path) => spawnSync('test', ['-d', path]).status === 0);
}

function sum(rows, key) {
  return rows.reduce((total, row) => total + row[key], 0);
}

test('our flowcharts cross less than those of a general reference, in no more room', { timeout: 1_200_000 }, (context) => {
  const place = folder(context);
  const program = compile(join(here, 'draw.rs'), join(place, 'draw'));
  const seeded = readGraphs(run('python3', [join(here, 'flows.py')]));
  const set = (name) => seeded.filter((graph) => graph.name.startsWith(`${name}/`));
  const sets = { demo: demo(place), f: set('f'), s: set('s'), d: set('d'), gv: gv(EXAMPLES), pm: pm(join(fetched(place, MODELS), 'fixtures')) };
  assert.deepEqual(Object.values(sets).slice(1).map((graphs) => graphs.length), [30, 30, 30, 45, 40]);
  for (const [name, some] of Object.entries(sets)) {
    const pictures = ours(program, some);
    pictures.forEach((picture, index) => assert.deepEqual(faults(picture), [], some[index].name));
    const mine = pictures.map(measures);
    const theirs = some.map((graph) => measures(dot(graph)));
    const won = mine.filter((row, index) => row.seen <= theirs[index].seen).length;
    const ratio = (key) => sum(mine, key) / sum(theirs, key);
    const told = ['seen', 'pairs', 'length', 'bends', 'area'].map((key) => `${key} ${ratio(key).toFixed(2)}`);
    context.diagnostic(`${name}: ${some.length} graphs, crossings ${sum(mine, 'seen')} / ${sum(theirs, 'seen')}, no more on ${won}; ${told.join(', ')}`);
    assert.ok(ratio('seen') <= MOST[name], `${name}: crossings ${ratio('seen')}`);
    assert.ok(ratio('area') <= AREA, `${name}: area ${ratio('area')}`);
  }
});
