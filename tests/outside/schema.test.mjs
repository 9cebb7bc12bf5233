// The schemas that `stepward schema` prints, judged by a general validator (npm `ajv`, JSON Schema 2020-12) on files that a general YAML library (npm
// `yaml`, YAML 1.2, core schema, as editors read it) has read: they are schemas, they take what the compiler takes, and they refuse what a schema can.
import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { test } from 'node:test';
import { parse, parseDocument } from 'yaml';
import { examples, suite } from './support/examples.mjs';
import { folder, root, stepward, write } from './support/library.mjs';

const require = createRequire(import.meta.url);
const Ajv = require('ajv/dist/2020').default;

const NAMES = ['procedure', 'library', 'safety', 'equipment', 'stages', 'approvals', 'leaflet'];

function printed(...name) {
  const run = stepward(['schema', ...name]);
  assert.equal(run.status, 0, run.err);
  return run.out;
}

/** `date` is an annotation by default (JSON Schema 2020-12, validation, 7.2.1); the pattern beside it is what holds. */
const validator = () => new Ajv({ allErrors: true, strict: true, strictTypes: false, strictRequired: false, validateFormats: false, allowMatchingProperties: true });

const ajv = validator();
const check = Object.fromEntries(NAMES.map((name) => [name, ajv.compile(JSON.parse(printed(name)))]));

function kindOf(path) {
  if (/^procedures\/.*\.md$/.test(path)) return 'procedure';
  if (/^leaflets\/.*\.md$|^stop\.md$/.test(path)) return 'leaflet';
  return /^(library|safety|equipment|stages|approvals)\.yaml$/.exec(path)?.[1];
}

/** What an editor sees of a file; `undefined` if there is nothing in it that a schema could judge. */
function seen(path, text) {
  let yaml = text.replace(/^\uFEFF/, '');
  if (path.endsWith('.md')) {
    const found = /^---[ \t]*\r?\n([^]*?)^---[ \t]*$/m.exec(yaml);
    if (!found || found.index !== 0) return undefined;
    yaml = found[1];
  }
  const document = parseDocument(yaml, { version: '1.2' });
  return document.errors.length > 0 ? undefined : (document.toJS() ?? {});
}

/** Whether the schema takes a file: `null` where it has no say. */
function takes(path, text) {
  const kind = kindOf(path);
  if (!kind || text.trim() === '(none)') return null;
  const value = seen(path, text);
  return value === undefined ? null : check[kind](value);
}

const why = (path) => (check[kindOf(path)].errors ?? []).map((error) => `${error.instancePath} ${error.message}`).slice(0, 4).join('; ');

test('each schema is one by the meta-schema of 2020-12, and so is the one that holds them all', () => {
  for (const text of [printed(), ...NAMES.map((name) => printed(name))]) {
    const schema = JSON.parse(text);
    assert.equal(schema.$schema, 'https://json-schema.org/draft/2020-12/schema');
    assert.equal(text.at(-1), '\n');
    assert.ok(validator().validateSchema(schema), JSON.stringify(validator().errors));
  }
  assert.equal(validator().validateSchema({ type: 'objekt' }), false, 'the check can fail');
  assert.equal(printed(), printed(), 'the same bytes twice');
  const all = JSON.parse(printed());
  for (const name of NAMES) {
    const { $schema, $comment, $defs, ...alone } = JSON.parse(printed(name));
    assert.deepEqual(all.$defs[name], alone, name);
  }
});

test('a name of no file is refused with what there is', () => {
  const run = stepward(['schema', 'procedures']);
  assert.equal(run.status, 2);
  assert.match(run.err, /procedure, library, safety, equipment, stages, approvals, leaflet/);
});

test('every file of the demo and of a new library is taken', (context) => {
  const place = folder(context);
  assert.equal(stepward(['create', join(place, 'new')]).status, 0);
  assert.equal(stepward(['create', 'procedure', 'grey-sheets', '--library', join(place, 'new')]).status, 0);
  let judged = 0;
  for (const library of [join(root, 'content'), join(place, 'new')]) {
    for (const name of readdirSync(library, { recursive: true }).filter((name) => /^[^.].*\.(md|yaml)$/.test(name))) {
      const verdict = takes(name, readFileSync(join(library, name), 'utf8'));
      if (verdict !== null) judged += 1;
      assert.notEqual(verdict, false, `${name}: ${verdict === false ? why(name) : ''}`);
    }
  }
  assert.ok(judged >= 18, `only ${judged} files were judged`);
});

/** Rules whose whole point a schema can see, in the file where it is broken. */
const SEEN = new Set(['unknown-key', 'step-kind-unclear', 'unsure-missing', 'otherwise-missing', 'too-few-answers', 'too-many-answers', 'person-unasked',
  'branch-without-action', 'refers-nowhere', 'caution-incomplete', 'part-without-words', 'key-missing', 'bad-id', 'value-invalid', 'unknown-outcome']);
/** Those among their cases that take more than one value or one file to judge. */
const UNSEEN = [
  [/^A procedure `.*` is no id$/, 'the id is the name of the file'],
  [/^Settings of rules: (An error of|HTML) .*lowered$|^Settings of rules: Lowered with/, 'which rules may be lowered is told by the rules'],
  [/^No procedure at all$/, 'more than one file'],
  [/^A person named as the owner$|^`owner: nobody`$/, 'the roles stand in another file'],
  [/^from over to$|upside down$/, 'two numbers are compared'],
  [/^`revision: 012`$|`minutes: (1e3|012)`$|^`at-most: 02`$/, 'YAML has made a number of it'],
  [/^A condition: after itself$|in a circle$|^A hazard that returns with a timed condition$/, 'several conditions are compared'],
  [/^Carrying out fault finding$|^Referring to a task$/, 'the other procedure stands in another file'],
  [/^A task with an outcome it does not declare$|^A task with outcomes of its own/, 'two lists are compared'],
];
/** Bare words that YAML makes null, or a number that JSON does not have; a schema is never shown what stood there. */
const AS_NULL = [/^A title `(~|null|\.inf)`$/, /^A list of bare words$/, /^Answers that are bare words$/];

test('the schemas agree with the rules on every example and every case', (context) => {
  const wrong = [];
  const counts = { taken: 0, refused: 0, unseen: 0 };
  const used = new Set();
  for (const one of [...examples(), ...suite()]) {
    for (const [path, { text, rules }] of one.files) {
      const verdict = takes(path, text);
      if (verdict === null) continue;
      const name = `${one.page} / ${one.name} / ${path}`;
      if (rules.length === 0) {
        const excused = AS_NULL.find((pattern) => pattern.test(one.name));
        if (verdict) counts.taken += 1;
        else if (excused) used.add(excused);
        else wrong.push(`refused, and nothing is wrong: ${name}: ${why(path)}`);
      } else if (rules.every((rule) => SEEN.has(rule))) {
        const excused = UNSEEN.find(([pattern]) => pattern.test(one.name));
        if (excused) used.add(excused[0]);
        if (verdict === false) counts.refused += 1;
        else if (excused) counts.unseen += 1;
        else wrong.push(`taken, and ${rules.join(', ')}: ${name}`);
      }
    }
  }
  context.diagnostic(`${counts.taken} sound files taken, ${counts.refused} broken ones refused, ${counts.unseen} broken in a way no schema sees`);
  assert.equal(wrong.length, 0, `${wrong.length}\n${wrong.slice(0, 12).join('\n')}`);
  assert.ok(counts.taken > 700 && counts.refused > 450, JSON.stringify(counts));
  const idle = [...AS_NULL, ...UNSEEN.map(([pattern]) => pattern)].filter((pattern) => !used.has(pattern));
  assert.deepEqual(idle, [], 'an excuse that nothing needs');
});

const PROCEDURE = parse(`
title: Lines
kind: fault-finding
for: ordinary
status: released
revision: 1
owner: field service
review-by: 2027-06-30
equipment: [mono-desk]
faults: { scar: { name: Scar, weight: 2, comes-to: fixed } }
waivers: [{ step: clean, hazard: dust, of: least, reason: Tried, by: safety, until: 2027-01-31 }]
start: look
steps:
  look: { ask: Is there a line?, minutes: 2, answers: [{ answer: "Yes", then: gap, when: rest }, { answer: "No", then: shut, person: skilled }], unsure: book }
  gap:
    measure: Distance
    unit: mm
    from: 5
    to: 400
    readings: { width: { ask: Width, unit: mm, from: 0, to: 9, whole: true } }
    formula: width * 2
    bands: [{ below: 65 mm, then: table, when: { scar: 0.5 } }, { then: clean }]
    unsure: book
  table:
    measure: Distance again
    unit: none
    from: 0
    to: 9
    match: { table: repeats, within: 1.5, parts: { drum: clean, fuser: { then: clean, when: [scar] } }, several: book, none: book }
    unsure: book
  clean: { do: Clean it, least: skilled, cost: 3, wait: 4 h, at-most: 2, otherwise: book, then: model, cures: [scar] }
  model: { by-model: { mono-desk: off, others: off } }
  off: { carry-out: isolate, outcomes: { done: shut, not-done: { then: book, when: [not-fixed] } } }
  book: { do: Book a visit, outcome: referred, refer-to: by-code }
  shut: { do: Close the call, outcome: no-fault }
`);
const SAFETY = parse(`
conditions:
  isolated: { name: Unplugged, tried-out: true, clears: [cooled] }
  cooled: { name: Cool, after: isolated, takes: 30 min, shown-by: { unit: °C, up-to: 48 } }
hazards:
  dust: { kind: dust, place: bay, signal-word: caution, sign: M016, nature: Dust., consequence: It irritates., avoid: Keep off., least: ordinary }
  hot: { kind: hot-surface, place: rear, signal-word: warning, sign: W017, nature: Hot., consequence: Burns., avoid: Wait., requires: [cooled], least: skilled }
  stain: { kind: stain, place: tray, signal-word: notice, nature: Ink., avoid: Use paper. }
parts: { drum: { hazards: [dust], words: [drum] } }
caution-within: { steps: 6, minutes: 15 }
`);
const OTHERS = {
  library: { title: 'Print rooms', language: 'de-CH', roles: ['safety'], site: 'https://example.org/', 'offline-days': 30, rules: { 'limit-idle': { severity: 'note', reason: 'Known' } } },
  equipment: { models: { 'mono-desk': { name: 'One', figures: { memory: '128 MB', count: 3 }, repeats: { drum: '75.4 mm' } } } },
  stages: { stages: [{ id: 'fusing', name: 'Fusing', does: 'It melts.', faults: ['rubs off'] }] },
  approvals: { approvals: [{ procedure: 'lines', revision: 1, digest: 'a1', by: 'safety', on: '2026-11-02' }] },
  leaflet: { title: 'About', order: -1 },
};

/** A copy with the value at a path set, or taken out. */
function changed(value, path, to) {
  const copy = structuredClone(value);
  const keys = path.split('.');
  const holder = keys.slice(0, -1).reduce((at, key) => at[key], copy);
  const last = keys.at(-1);
  assert.ok(to !== undefined || last in holder, `${path} is there to be taken out`);
  if (to === undefined) delete holder[last];
  else holder[last] = to;
  return copy;
}

const long = (id) => id.repeat(65);
const many = (count, item) => Array.from({ length: count }, (_, index) => item(index));

/** Kind of file, path, and values that must be refused there; `undefined` takes the key out, `null` leaves it empty. */
const REFUSED = [
  ['procedure', 'title', [undefined, null, '', ' ', [], {}]],
  ['procedure', 'titel', ['Lines']],
  ['procedure', 'kind', ['fault finding', true, []]],
  ['procedure', 'for', ['expert', 3]],
  ['procedure', 'status', ['live', 'withdrawn']],
  ['procedure', 'revision', [undefined, null, -1, 1.5, '1', 4294967296]],
  ['procedure', 'owner', [undefined, null, '']],
  ['procedure', 'review-by', [undefined, null, '2027-6-30', '2027-02-30', '2023-02-29', '2100-02-29', '2027-13-01', '2027-04-31', '30.06.2027', '2027-06-30T00:00:00Z']],
  ['procedure', 'equipment', [[], 'mono-desk', ['Mono'], [null]]],
  ['procedure', 'requires', [['isolated'], 'isolated']],
  ['procedure', 'outcomes', [['done'], []]],
  ['procedure', 'symptoms', ['marks', [null], [['a']], { a: 1 }]],
  ['procedure', 'faults', [[], { Scar: {} }, { rest: {} }, { scar: { weight: 0 } }, { scar: { weight: -1 } }, { scar: { weight: '2' } }, { scar: { colour: 'red' } }, { scar: [] }]],
  ['procedure', 'steps', [undefined, null, {}, [], { Look: { do: 'a', outcome: 'fixed' } }, { [long('a')]: { do: 'a', outcome: 'fixed' } }, { 'a--b': { do: 'a', outcome: 'fixed' } }, { unsure: { do: 'a', outcome: 'fixed' } }]],
  ...['step', 'hazard', 'of', 'reason', 'by', 'until'].map((key) => ['procedure', `waivers.0.${key}`, [undefined, null]]),
  ['procedure', 'waivers.0.of', ['caution']],
  ['procedure', 'waivers.0.until', ['soon']],
  ['procedure', 'steps.look', [null, {}, 'ask', { minutes: 2 }]],
  ['procedure', 'steps.look.ask', [undefined, null, '']],
  ['procedure', 'steps.look.do', ['Clean it']],
  ['procedure', 'steps.look.unsure', [undefined, null, '', 'Book', 'rest']],
  ['procedure', 'steps.look.minutes', [-1, '2', 527041]],
  ['procedure', 'steps.look.then', ['gap']],
  ['procedure', 'steps.look.answers', [undefined, null, [], {}, [{ answer: 'Yes', then: 'gap' }], many(7, (index) => ({ answer: `a${index}`, then: 'gap' })), many(2, (index) => ({ answer: `a${index}`, then: 'gap', person: 'skilled' }))]],
  ['procedure', 'steps.look.answers.0.answer', [undefined, null, '']],
  ['procedure', 'steps.look.answers.0.then', [undefined, null, 'not-fixed']],
  ['procedure', 'steps.look.answers.0.when', ['all', [null], { scar: 1.5 }, { scar: -0.1 }, { scar: null }, ['otherwise']]],
  ['procedure', 'steps.look.answers.1.person', ['trained']],
  ['procedure', 'steps.look.answers.1.go-to', ['gap']],
  ...['measure', 'unit', 'from', 'to', 'unsure', 'bands', 'readings', 'formula'].map((key) => ['procedure', `steps.gap.${key}`, [undefined, null]]),
  ['procedure', 'steps.gap.unit', ['parsec', 'MM']],
  ['procedure', 'steps.gap.from', ['5', '5 mm']],
  ['procedure', 'steps.gap.match', [{ table: 'repeats', within: 1, parts: {}, several: 'book', none: 'book' }]],
  ['procedure', 'steps.gap.bands', [[], [{ below: 65, then: 'clean' }], [{ then: 'clean' }, { then: 'book' }], [{ below: 3, 'up-to': 4, then: 'clean' }, { then: 'clean' }], [...many(40, (index) => ({ below: index + 6, then: 'clean' })), { then: 'clean' }]]],
  ['procedure', 'steps.gap.bands.0.below', ['65', '65 parsec', '065 mm', '1e3', 'Memory', '.5 mm']],
  ['procedure', 'steps.gap.bands.0.then', [undefined, null]],
  ...['ask', 'from', 'to'].map((key) => ['procedure', `steps.gap.readings.width.${key}`, [undefined, null]]),
  ['procedure', 'steps.gap.readings.width.whole', ['yes', 1, 'true']],
  ['procedure', 'steps.gap.readings', [{ Width: { ask: 'a', from: 1, to: 2 } }]],
  ...['table', 'within', 'parts', 'several', 'none'].map((key) => ['procedure', `steps.table.match.${key}`, [undefined, null]]),
  ['procedure', 'steps.table.match.table', ['figures']],
  ['procedure', 'steps.table.match.within', [-1, '1.5 mm']],
  ['procedure', 'steps.table.match.parts.fuser', [{ when: ['scar'] }, { then: 'clean', person: 'skilled' }, [], null]],
  ...['several', 'none'].map((key) => ['procedure', `steps.table.match.${key}`, [{ when: ['scar'] }]]),
  ['procedure', 'steps.clean.then', [undefined, null]],
  ['procedure', 'steps.clean.outcome', ['fixed']],
  ['procedure', 'steps.clean.least', ['anyone']],
  ['procedure', 'steps.clean.cost', [-1, '3 EUR']],
  ['procedure', 'steps.clean.wait', ['30', 30, '5 days', '4.1 h', '241 min', '14401 s', '014 s', '-1 s']],
  ['procedure', 'steps.clean.at-most', [undefined, null, 0, 100, 1.5, '2']],
  ['procedure', 'steps.clean.otherwise', [undefined, null]],
  ['procedure', 'steps.clean.refer-to', ['lines']],
  ['procedure', 'steps.clean.cautions', ['dust', [null], ['Dust']]],
  ['procedure', 'steps.clean.not-touching', [['drum'], { drum: null }, { drum: '' }, { Drum: 'only named' }]],
  ['procedure', 'steps.model.by-model', [null, {}, [], { others: null }, { rest: 'off' }]],
  ['procedure', 'steps.model.minutes', [2]],
  ['procedure', 'steps.off.carry-out', [null, 'Isolate', ['isolate']]],
  ['procedure', 'steps.off.outcomes', [undefined, null, {}, { done: null }, { done: {} }]],
  ['procedure', 'steps.book.refer-to', [undefined, null, 'rest']],
  ['procedure', 'steps.shut.outcome', [undefined, null, 'done', 'solved']],
  ...['kind', 'place', 'signal-word', 'sign', 'nature', 'consequence', 'avoid', 'least'].map((key) => ['safety', `hazards.dust.${key}`, [undefined, null]]),
  ...['requires', 'least'].map((key) => ['safety', `hazards.hot.${key}`, [undefined, null]]),
  ['safety', 'hazards.hot.requires', [[]]],
  ['safety', 'hazards.dust.signal-word', ['attention', 'Caution']],
  ['safety', 'hazards.dust.sign', ['W17', 'X017', 'w017', 'W0170']],
  ['safety', 'hazards.dust.least', ['expert']],
  ['safety', 'hazards.dust.colour', ['red']],
  ['safety', 'hazards', [{ Dust: {} }, [], 'dust']],
  ['safety', 'conditions.isolated.tried-out', ['true', 1]],
  ['safety', 'conditions.cooled.after', [undefined, null]],
  ['safety', 'conditions.cooled.clears', [['isolated']]],
  ['safety', 'conditions.cooled.must-clear', [true]],
  ['safety', 'conditions.cooled.takes', ['30', 30, '5 days', 'Cooling', '030 min']],
  ['safety', 'conditions.cooled.shown-by.unit', [undefined, null, 'K']],
  ['safety', 'conditions.cooled.shown-by.up-to', [undefined, null, '48']],
  ['safety', 'parts.drum.words', [undefined, null, []]],
  ['safety', 'parts.drum.paint', ['black']],
  ['safety', 'caution-within.steps', [7, -1, 1.5, '6']],
  ['safety', 'caution-within.minutes', [16, -1, '15']],
  ['safety', 'rules', [{}]],
  ['library', 'title', [undefined, null, '']],
  ['library', 'language', ['german!', 'a', 'x', 'de-', 'toolongtag']],
  ['library', 'roles', ['safety', [null]]],
  ['library', 'site', ['example.org', 'ftp://example.org', 'https://', 'https://a b']],
  ['library', 'offline-days', [0, 3661, 1.5, '30']],
  ['library', 'rules', [{ 'limit-idel': { severity: 'note' } }, []]],
  ['library', 'rules.limit-idle.severity', [undefined, null, 'off']],
  ['library', 'rules.limit-idle.level', ['note']],
  ['library', 'titel', ['a']],
  ['equipment', 'models', [[], { Mono: {} }, { mono: { colour: 1 } }]],
  ['equipment', 'models.mono-desk.figures', [{ memory: null }, { memory: '128 parsec' }, { memory: 'large' }, { Memory: '1 MB' }, []]],
  ['equipment', 'models.mono-desk.repeats.drum', ['075 mm', '1e2 mm', '75,4 mm', true]],
  ['equipment', 'makers', [{}]],
  ['stages', 'stages', [{}, ['fusing'], [{}]]],
  ['stages', 'stages.0.id', [undefined, null, 'Fusing', 'none', 3]],
  ['stages', 'stages.0.faults', ['rubs off']],
  ['stages', 'stages.0.order', [1]],
  ...['procedure', 'revision', 'digest', 'by', 'on'].map((key) => ['approvals', `approvals.0.${key}`, [undefined, null]]),
  ['approvals', 'approvals.0.on', ['today']],
  ['approvals', 'approvals', [{}, 'none']],
  ['leaflet', 'order', ['1', 1.5]],
  ['leaflet', 'author', ['somebody']],
];

const SOUND = { procedure: PROCEDURE, safety: SAFETY, ...OTHERS };

test('a sound file of each kind is taken, and every single slip in it is refused', (context) => {
  for (const name of NAMES) assert.ok(check[name](SOUND[name]), `${name}: ${JSON.stringify(check[name].errors?.slice(0, 3))}`);
  const wrong = [];
  let tried = 0;
  for (const [kind, path, values] of REFUSED) {
    for (const value of values) {
      tried += 1;
      if (check[kind](changed(SOUND[kind], path, value))) wrong.push(`${kind} ${path}: ${JSON.stringify(value)}`);
    }
  }
  context.diagnostic(`${tried} slips`);
  assert.deepEqual(wrong, []);
});

/** Every `required` of a schema, with where it stands. */
function demands(schema, at = '') {
  if (typeof schema !== 'object' || schema === null) return [];
  const own = Array.isArray(schema.required) ? schema.required.map((key) => `${at}:${key}`) : [];
  return [...own, ...Object.entries(schema).flatMap(([key, value]) => demands(value, `${at}/${key}`))];
}

test('no demand of a schema is without a slip that it alone refuses', (context) => {
  // Each `required` is taken out in turn; one that nothing here would miss is one whose loss nobody would notice.
  const idle = [];
  let tried = 0;
  for (const name of NAMES) {
    const schema = JSON.parse(printed(name));
    const slips = REFUSED.filter(([kind]) => kind === name).flatMap(([, path, values]) => values.map((value) => changed(SOUND[name], path, value)));
    // That a step has the key of its kind is what chose the kind.
    const chosen = /\/step-([a-z-]+):\1$/;
    const plain = new Set(demands(schema).filter((one) => !/\/(if|then|else|anyOf|not|contains)(\/|:)/.test(one) && !chosen.test(one)));
    for (const one of plain) {
      tried += 1;
      const copy = structuredClone(schema);
      const [at, key] = one.split(':');
      const holder = at.split('/').slice(1).reduce((value, part) => value[part], copy);
      holder.required = holder.required.filter((other) => other !== key);
      const loose = validator().compile(copy);
      if (!slips.some((slip) => loose(slip))) idle.push(`${name} ${one}`);
    }
  }
  context.diagnostic(`${tried} demands`);
  assert.ok(tried >= 30, String(tried));
  assert.deepEqual(idle, []);
});

test('bare words stay texts, and what may be empty may be', () => {
  const bare = parse('title: yes\nsummary: 012\nsymptoms: [no, 1.10, true, 1e3]\nstatus:\nminutes-of: 1\n');
  delete bare['minutes-of'];
  const steps = parse('true: { ask: on, minutes: , answers: [{ answer: Yes, then: end }, { answer: 7, then: end }], unsure: true, do: }\nend: { do: 1, outcome: fixed }\n');
  assert.ok(check.procedure({ ...bare, steps }), JSON.stringify(check.procedure.errors));
  assert.ok(check.procedure({ title: 'Gone', status: 'withdrawn', 'replaced-by': 'nothing', 'withdrawn-because': 'Old', steps: ['kept as it was'] }));
  assert.ok(check.procedure({ title: 'Job', kind: 'task', outcomes: ['swapped'], steps: { a: { do: 'It', outcome: 'swapped' } } }));
  assert.ok(!check.procedure({ title: 'Job', kind: 'task', steps: { a: { do: 'It', outcome: 'fixed' } } }));
  assert.ok(check.safety({ conditions: { free: null }, parts: { drum: null }, hazards: null }));
});

test('`--to` writes a file for each, refreshes its own and leaves those of others', (context) => {
  const place = folder(context);
  const to = join(place, 'out');
  assert.equal(stepward(['schema', '--to', to]).status, 0);
  assert.deepEqual(readdirSync(to).sort(), NAMES.map((name) => `${name}.schema.json`).sort());
  for (const name of NAMES) assert.equal(readFileSync(join(to, `${name}.schema.json`), 'utf8'), printed(name));
  const old = printed('stages').replace('The stages', 'Some stages');
  write(join(to, 'stages.schema.json'), old);
  assert.equal(stepward(['schema', '--to', to]).status, 0);
  assert.equal(readFileSync(join(to, 'stages.schema.json'), 'utf8'), printed('stages'));
  write(join(to, 'safety.schema.json'), '{}\n');
  write(join(to, 'library.schema.json'), printed('library').replace('called', 'named'));
  const run = stepward(['schema', '--to', to]);
  assert.equal(run.status, 2);
  assert.match(run.err, /safety\.schema\.json/);
  assert.equal(readFileSync(join(to, 'safety.schema.json'), 'utf8'), '{}\n');
  assert.match(readFileSync(join(to, 'library.schema.json'), 'utf8'), /named/, 'a refusal leaves nothing half done');
});
