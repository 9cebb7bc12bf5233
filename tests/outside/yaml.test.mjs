// A second opinion on YAML: the general library `yaml` (npm, YAML 1.2, schema `failsafe`: every scalar is its text) reads random front matters and
// every file of the demo, and must see the keys, texts and lists that our reader sees. What ours saw is written by `tests/suite/outside.rs`.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { isMap, isSeq, parseDocument } from 'yaml';
import { folder, root } from './support/library.mjs';

const RANDOM = 300;

/** Numbers from a seed (mulberry32), so that a failure comes back. */
function dice(seed) {
  let state = seed;
  const next = () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  return { upTo: (n) => Math.floor(next() * n), one: (list) => list[Math.floor(next() * list.length)] };
}

const PLAIN = ['yes', 'no', 'on', 'off', 'null', '~', '010', '1.10', '1:30', '2024-01-01', '1e3', '0x1F', 'true', 'hot fuser', "drum's edge", 'a #b',
  '75.4 mm', 'x:y', '-1', '<<', '=', '.inf', 'größer', '热', 'a  b', '?x', ':x', '-x', 'a, b', '[not', 'ends with % '];
const FLOW = PLAIN.filter((text) => !/[,[\]{}]/.test(text) && !/^[?:-]x/.test(text));
const KEYS = ['a', 'b', 'title', 'then', 'on', 'yes', 'null', '~', '1', 'hot-fuser', 'two words', '"quoted: key"', "'single'", 'ü', '<<'];
const QUOTED = ['"a\\nb"', '"\\u00e9 \\x41 \\t"', '"say \\"so\\""', "'it''s'", "'# no comment'", '"- x"', '""', "''", '"{a: b}"', "'&x'", '"!y"'];

function frontMatter(random) {
  const keys = () => [...new Set(Array.from({ length: 1 + random.upTo(4) }, () => random.one(KEYS)))];
  const flow = (depth) => {
    const kind = random.upTo(depth > 2 ? 2 : 5);
    if (kind < 2) return random.one([...FLOW, ...QUOTED]).trim();
    if (kind < 4) return `[${Array.from({ length: random.upTo(4) }, () => flow(depth + 1)).join(random.one([', ', ',  ', ' , ']))}]`;
    return `{ ${keys().map((key) => `${key}: ${flow(depth + 1)}`).join(', ')} }`;
  };
  const note = () => (random.upTo(5) === 0 ? `${random.one([' ', '   '])}# a note: [of] {no} use` : '');
  const block = (indent) => {
    const lines = Array.from({ length: 1 + random.upTo(3) }, () => `${indent}  ${random.one(['one: two', '# kept', 'words here', '- x', '', '  deeper'])}`.trimEnd());
    // The first line sets how deep the text stands.
    lines[0] = `${indent}  first`;
    return `${random.one(['|', '>', '|-', '>-', '|+', '>+'])}\n${lines.join('\n')}\n`;
  };
  const folded = (indent) => random.one([`one\n${indent}  two\n\n${indent}  three`, `"one\n${indent}  two"`, `'one\n\n${indent}  two'`]);
  const value = (indent, depth) => {
    const kind = random.upTo(depth > 4 ? 5 : 9);
    if (kind === 0) return `${note()}\n`;
    if (kind === 1) return ` ${random.one(QUOTED)}${note()}\n`;
    if (kind === 2) return ` ${block(indent)}`;
    if (kind === 3) return ` ${flow(0)}${note()}\n`;
    if (kind === 4) return ` ${folded(indent)}\n`;
    if (kind === 5) return `${note()}\n${map(`${indent}  `, depth + 1)}`;
    if (kind === 6) return `\n${list(random.one([indent, `${indent}  `]), depth + 1)}`;
    return ` ${random.one(PLAIN.filter((text) => !text.startsWith('[')))}${note()}\n`;
  };
  const map = (indent, depth) => keys().map((key) => `${indent}${key}:${value(indent, depth)}`).join('');
  const list = (indent, depth) => Array.from({ length: 1 + random.upTo(3) }, () => {
    const inner = random.upTo(3) === 0 ? map(`${indent}  `, depth + 1).slice(indent.length + 2) : flow(1) + note() + '\n';
    return `${indent}- ${inner}`;
  }).join('');
  const text = map('', 0);
  return random.upTo(4) === 0 ? text.replaceAll('\n', '\r\n') : text;
}

function shape(node) {
  if (isMap(node)) return { map: node.items.map(({ key, value }) => [key.value, shape(value)]) };
  if (isSeq(node)) return { list: node.items.map(shape) };
  return node?.value ?? '';
}

function demo() {
  const files = readdirSync(join(root, 'content'), { recursive: true }).filter((name) => /\.(md|yaml)$/.test(name)).sort();
  const texts = files.map((name) => [name, readFileSync(join(root, 'content', name), 'utf8')]);
  return texts.flatMap(([name, text]) => {
    if (name.endsWith('.yaml')) return [[name, text]];
    const found = /^---\n([^]*?)^---$/m.exec(text)?.[1];
    return found === undefined ? [] : [[name, found]];
  });
}

test('another YAML library sees what our reader sees', { timeout: 600_000 }, (context) => {
  const made = Array.from({ length: RANDOM }, (_, seed) => [`seed ${seed}`, frontMatter(dice(seed))]);
  const library = demo();
  assert.ok(library.length >= 14, `only ${library.length} files of the demo`);
  const cases = [...library, ...made];
  const file = join(folder(context), 'cases.json');
  writeFileSync(file, JSON.stringify(cases.map(([, text]) => text)));
  const path = `${process.env.HOME}/.cargo/bin:${process.env.PATH}`;
  const run = spawnSync('cargo', ['test', '--quiet', '--test', 'suite', '--', '--exact', 'outside::what_the_reader_sees_can_be_compared'], {
    cwd: root, encoding: 'utf8', env: { ...process.env, PATH: path, STEPWARD_YAML_CASES: file },
  });
  assert.equal(run.status, 0, run.stdout + run.stderr);
  const seen = JSON.parse(readFileSync(file.replace('.json', '.seen'), 'utf8'));
  assert.equal(seen.length, cases.length);
  const differ = [];
  let good = 0;
  cases.forEach(([name, text], index) => {
    const ours = seen[index];
    const theirs = parseDocument(text, { schema: 'failsafe', version: '1.2', uniqueKeys: true });
    const refused = ours.problems.length > 0 || ours.twice > 0;
    const agree = refused ? theirs.errors.length > 0 : theirs.errors.length === 0 && JSON.stringify(ours.tree) === JSON.stringify(shape(theirs.contents));
    if (!refused) good += 1;
    if (!agree) differ.push(`${name}\n${text}\n  ours   ${JSON.stringify(ours)}\n  theirs ${JSON.stringify(shape(theirs.contents))} ${theirs.errors.map((error) => error.message)}`);
  });
  context.diagnostic(`${library.length} files of the demo, ${RANDOM} random ones; both refuse ${cases.length - good}`);
  assert.equal(differ.length, 0, `${differ.length} differ\n${differ.slice(0, 5).join('\n')}`);
  assert.ok(good >= library.length + 250, `only ${good} of ${cases.length} are read`);
});
