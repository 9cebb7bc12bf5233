// Findings as SARIF 2.1.0 (OASIS Standard 2020): every log is judged by the published JSON schema (draft-04; a copy stands in the npm package
// `@microsoft/jest-sarif`; but for its title, id and the dialect it names it is the `sarif-schema-2.1.0.json` of the standard's repository) with the general validator `ajv`, and by
// the rules that stand in the prose of the standard only. The numbers in brackets are its sections.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { test } from 'node:test';
import { examples, shared } from './support/examples.mjs';
import { folder, root, stepward, write } from './support/library.mjs';

const require = createRequire(import.meta.url);
const Ajv = require('ajv-draft-04').default;
const SCHEMA = JSON.parse(readFileSync(require.resolve('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json'), 'utf8'));
// The formats are `uri`, `uri-reference` and `date-time`; the first two are judged below, and we write no times.
// One of its patterns is none under the flag `u`.
const valid = new Ajv({ allErrors: true, strict: false, validateFormats: false, unicodeRegExp: false }).compile(SCHEMA);

const DAY = '2026-11-02';

/** Every object with one of these keys, wherever it stands. */
function* having(value, key) {
  if (typeof value !== 'object' || value === null) return;
  if (key in value) yield value;
  for (const inner of Object.values(value)) yield* having(inner, key);
}

/** Each rule of the prose: what breaks it, as a list of words. */
const PROSE = {
  'version comes first (3.13.2)': (log) => (Object.keys(log)[0] === 'version' ? [] : ['it does not']),
  'columnKind stands where there are results (3.14.17)': ({ runs }) =>
    runs.filter((run) => run.results?.length > 0 && !['utf16CodeUnits', 'unicodeCodePoints'].includes(run.columnKind)).map(() => 'it is missing'),
  'results are a list if the tool could begin (3.14.23)': ({ runs }) =>
    runs.filter((run) => run.invocations.every((one) => one.executionSuccessful) && !Array.isArray(run.results)).map(() => 'there is none'),
  'level is none unless the kind is fail (3.27.10)': ({ runs }) =>
    runs.flatMap((run) => run.results ?? []).filter(({ kind, level }) => (kind ?? 'fail') !== 'fail' && level !== 'none').map(({ kind, level }) => `${kind}, ${level}`),
  'a plain-text message holds no HTML (3.11.2)': (log) => [...having(log, 'text')].map(({ text }) => text).filter((text) => /<[a-z/!?]/i.test(text)),
  'braces of a message are doubled (3.11.5)': (log) =>
    [...having(log, 'text')].map(({ text }) => text).filter((text) => /[{}]/.test(text.replaceAll('{{', '').replaceAll('}}', ''))),
  'a message holds no link that is not meant (3.11.6)': (log) => [...having(log, 'text')].map(({ text }) => text).filter((text) => /(?<!\\)\]\(/.test(text)),
  'a relative address has a base, an absolute one none (3.4.4)': (log) =>
    [...having(log, 'uri')].filter(({ uri, uriBaseId }) => /^[a-z][a-z0-9+.-]*:/i.test(uri) === (uriBaseId !== undefined)).map(({ uri }) => uri),
  'an address is one by RFC 3986': (log) => [...having(log, 'uri')].map(({ uri }) => uri).filter((uri) => !/^(?:[A-Za-z0-9._~!$&'()*+,;=:@/-]|%[0-9A-F]{2})+$/.test(uri)),
  'no address climbs or begins at a root': (log) => [...having(log, 'uri')].map(({ uri }) => uri).filter((uri) => uri.startsWith('/') || uri.split('/').includes('..')),
  'every base is declared (3.14.14)': ({ runs }) => runs.flatMap((run) =>
    [...having(run, 'uriBaseId')].map((one) => one.uriBaseId).filter((base) => !(base in (run.originalUriBaseIds ?? {})))),
  'a base that is not said is described (3.14.14)': ({ runs }) =>
    runs.flatMap((run) => Object.values(run.originalUriBaseIds ?? {})).filter((base) => !base.uri && !base.description?.text).map(() => 'it is not'),
  'lines and columns count from 1, and a region does not end before it begins (3.30)': (log) =>
    [...having(log, 'startLine')].filter((it) => Math.min(it.startLine, it.startColumn, it.endLine, it.endColumn) < 1 || it.endLine < it.startLine
      || (it.endLine === it.startLine && it.endColumn < it.startColumn)).map((it) => JSON.stringify(it)),
  'every ruleId is declared, at its index (3.27.5, 3.27.6)': ({ runs }) => runs.flatMap((run) =>
    (run.results ?? []).filter(({ ruleId, ruleIndex }) => !ruleId || run.tool.driver.rules[ruleIndex]?.id !== ruleId).map(({ ruleId }) => String(ruleId))),
  'ids of rules are unique (3.19.23)': ({ runs }) => runs.filter(({ tool }) => new Set(tool.driver.rules.map(({ id }) => id)).size !== tool.driver.rules.length).map(() => 'they are not'),
  'a notification is declared, at its index (3.58.2)': ({ runs }) => runs.flatMap((run) =>
    [...having(run.invocations, 'descriptor')].map((one) => one.descriptor).filter(({ id, index }) => run.tool.driver.notifications[index]?.id !== id).map(({ id }) => id)),
  'the language is two letters, perhaps with a region (3.19.21)': ({ runs }) => runs.map(({ tool }) => tool.driver.language).filter((tag) => !/^[a-zA-Z]{2}(-[a-zA-Z]{2})?$/.test(tag)),
  'either all results say how they are suppressed or none (3.27.23)': ({ runs }) =>
    runs.filter(({ results = [] }) => new Set(results.map((one) => 'suppressions' in one)).size > 1).map(() => 'some do'),
  'a way has one location a step, the last one essential (3.38.13)': (log) => [...having(log, 'threadFlows')].flatMap(({ threadFlows }) => threadFlows)
    .filter(({ locations }) => locations.length === 0 || locations.some((one, index) => (one.importance === 'essential') !== (index === locations.length - 1))).map(() => 'it is not so'),
  'names of fingerprints end in their version (3.27.17)': (log) => [...having(log, 'partialFingerprints')].flatMap((one) => Object.keys(one.partialFingerprints)).filter((name) => !/\/v\d+$/.test(name)),
  'fingerprints tell results apart': ({ runs }) => runs.filter(({ results = [] }) => new Set(results.map((one) => JSON.stringify(one.partialFingerprints))).size !== results.length).map(() => 'they do not'),
  'no time and no machine is told': (log) => ['startTimeUtc', 'endTimeUtc', 'machine', 'account', 'workingDirectory', 'commandLine'].filter((key) => [...having(log, key)].length > 0),
};

/** What is wrong with a log, in words. */
function faults(log) {
  const found = valid(log) ? [] : valid.errors.map((error) => `schema: ${error.instancePath} ${error.message}`);
  return [...found, ...Object.entries(PROSE).flatMap(([rule, broken]) => broken(log).map((words) => `${rule}: ${words}`))];
}

function run(parameters, status, name = parameters.join(' ')) {
  const ran = stepward([...parameters, '--format', 'sarif', '--today', DAY]);
  assert.equal(ran.status, status, `${name}: ${ran.err}`);
  const log = JSON.parse(ran.out);
  assert.deepEqual(faults(log), [], name);
  const [invocation] = log.runs[0].invocations;
  assert.deepEqual([invocation.executionSuccessful, invocation.exitCode], [status < 2, status], name);
  return { log, results: log.runs[0].results, text: ran.out };
}

const asJson = (library) => JSON.parse(stepward(['verify', library, '--format', 'json', '--today', DAY]).out);

/** The same findings as in the stable JSON, at the same places, with the same ways. */
function agrees(results, library, name) {
  const { findings, counts } = asJson(library);
  const failed = results.filter(({ kind }) => kind === 'fail');
  assert.equal(failed.length, findings.length, name);
  assert.equal(results.filter(({ kind }) => kind === 'open').length, counts['not-analysed'], name);
  findings.forEach((finding, index) => {
    const result = failed[index];
    assert.deepEqual([result.ruleId, result.level], [finding.rule, finding.severity], name);
    const [{ physicalLocation: at, logicalLocations: [logical] = [] }] = result.locations.length > 0 ? result.locations : [{}];
    if (finding.file) assert.deepEqual([decodeURIComponent(at.artifactLocation.uri), at.region.startLine, at.region.startColumn], [finding.file, finding.line, finding.column], name);
    const path = [finding.procedure, finding.step].filter(Boolean).join('/');
    assert.equal(logical?.fullyQualifiedName ?? '', finding.procedure ? path : '', name);
    const steps = result.codeFlows?.[0].threadFlows[0].locations.map(({ location }) => location.logicalLocations[0].fullyQualifiedName);
    assert.deepEqual(steps ?? null, finding.witness?.map(({ procedure, step }) => `${procedure}/${step}`) ?? null, name);
  });
}

test('a library without a finding', (context) => {
  const place = folder(context);
  assert.equal(stepward(['create', join(place, 'new')]).status, 0);
  const { log, results } = run(['verify', join(place, 'new')], 0);
  assert.deepEqual(results, []);
  assert.deepEqual(Object.keys(log), ['version', '$schema', 'runs']);
  const { rules } = log.runs[0].tool.driver;
  assert.ok(rules.length >= 70 && rules.every((rule) => rule.shortDescription.text.endsWith('.') && rule.help.text.includes(`stepward rules ${rule.id}`)));
});

test('the demo, verified and published, twice the same bytes', (context) => {
  const content = join(root, 'content');
  const { results, text } = run(['verify', content], 0);
  agrees(results, content, 'demo');
  assert.equal(run(['verify', content], 0).text, text);
  assert.ok(!text.includes(content) && !text.includes(root));
  run(['publish', content, '--to', join(folder(context), 'site')], 0);
});

test('every failing example of the handbook', (context) => {
  const place = folder(context);
  let ways = 0;
  let related = 0;
  let judged = 0;
  for (const [index, one] of examples().filter(({ fails }) => fails).entries()) {
    const library = join(place, String(index));
    const files = new Map([...shared, ...[...one.files].map(([path, { text }]) => [path, text])]);
    for (const [path, text] of files) if (text.trim() !== '(none)') write(join(library, path), text);
    const name = `${one.page} / ${one.name}`;
    const json = asJson(library);
    const { results } = run(['verify', library], json.counts.error > 0 ? 1 : 0, name);
    assert.ok(results.some(({ ruleId }) => ruleId === one.rule) || json.findings.length === 0, name);
    agrees(results, library, name);
    ways += results.filter(({ codeFlows }) => codeFlows).length;
    related += results.filter(({ relatedLocations }) => relatedLocations).length;
    judged += 1;
  }
  context.diagnostic(`${judged} examples, ${ways} ways, ${related} with further places`);
  assert.ok(judged >= 100 && ways >= 40 && related >= 3, `${judged} ${ways} ${related}`);
});

const LINES = '---\ntitle: Lines\nsteps:\n  look:\n    ask: Is there a line?\n    answers:\n      - { answer: "Yes", then: book }\n      - { answer: "No", then: shut }\n    unsure: book\n'
  + '  book: { do: Book a visit, outcome: handed-over }\n  shut: { do: Close the call, outcome: no-fault }\n---\n\n## Look {#look}\n\nLook.\n\n## Book {#book}\n\nBook.\n\n## Close {#shut}\n\nClose.\n';

test('a broken file, addresses beyond ASCII, and an emoji before the place', (context) => {
  const place = folder(context);
  const library = join(place, 'lib');
  write(join(library, 'library.yaml'), 'title: [one\n');
  write(join(library, 'procedures/lines.md'), LINES.replace('then: shut', 'then: nowhere'));
  write(join(library, 'procedures/tiefer größer #1/a:b.md'), LINES);
  write(join(library, 'leaflets/über 100%.md'), '# Über\n\n🙂🙂 ![](../pictures/none.png) and <br>\n');
  const { results, log } = run(['verify', library], 1);
  agrees(results, library, 'broken');
  const of = (rule) => results.filter(({ ruleId, kind }) => ruleId === rule && kind === 'fail');
  assert.equal(of('front-matter-invalid').length, 1);
  const [tag] = of('raw-html');
  const { artifactLocation, region } = tag.locations[0].physicalLocation;
  assert.deepEqual(artifactLocation, { uri: 'leaflets/%C3%BCber%20100%25.md', uriBaseId: 'LIBRARY' });
  // Code points: two emojis count two (UTF-16 would count four).
  const line = '🙂🙂 ![](../pictures/none.png) and <br>';
  assert.equal(log.runs[0].columnKind, 'unicodeCodePoints');
  assert.deepEqual([region.startLine, region.startColumn], [3, [...line.slice(0, line.indexOf('<'))].length + 1]);
  assert.equal([...line].slice(region.startColumn - 1, region.endColumn - 1).join(''), '<br>');
  assert.ok(results.some(({ locations }) => locations[0]?.physicalLocation.artifactLocation.uri.includes('/tiefer%20gr%C3%B6%C3%9Fer%20%231/a%3Ab.md')));
  assert.ok(results.some(({ kind, level }) => kind === 'open' && level === 'none'), 'what was not judged is open');
  assert.ok(log.runs[0].invocations[0].toolExecutionNotifications.length > 0);
});

test('fingerprints do not move with the lines', (context) => {
  const library = join(folder(context), 'lib');
  write(join(library, 'library.yaml'), 'title: One\n');
  const broken = LINES.replace('then: shut', 'then: nowhere').replace('unsure: book', 'unsure: elsewhere');
  const prints = () => run(['verify', library], 1).results.map(({ partialFingerprints }) => partialFingerprints['stepwardFinding/v1']);
  write(join(library, 'procedures/lines.md'), broken);
  const before = prints();
  write(join(library, 'procedures/lines.md'), broken.replace('title: Lines\n', '# a comment\n\ntitle: Lines\n'));
  assert.deepEqual(prints(), before);
  write(join(library, 'procedures/lines.md'), broken.replaceAll('nowhere', 'somewhere'));
  assert.notDeepEqual(prints(), before);
});

test('a run that could not begin says so', (context) => {
  const place = folder(context);
  const { log } = run(['verify', join(place, 'gone')], 2);
  // The prose wants `null` here (3.14.23), the schema takes a list or nothing: nothing.
  assert.ok(!('results' in log.runs[0]));
  assert.match(log.runs[0].invocations[0].toolConfigurationNotifications[0].message.text, /library\.yaml/);
  run(['verify', '--no-such-option'], 2);
  run(['publish', join(root, 'content')], 2);
});

test('results of every kind, as the review writes them', (context) => {
  const file = join(folder(context), 'log.sarif');
  const path = `${process.env.HOME}/.cargo/bin:${process.env.PATH}`;
  const { spawnSync } = require('node:child_process');
  const ran = spawnSync('cargo', ['test', '--quiet', '--test', 'suite', '--', '--exact', 'sarif::results_are_of_the_three_kinds'], {
    cwd: root, encoding: 'utf8', env: { ...process.env, PATH: path, STEPWARD_SARIF_TO: file },
  });
  assert.equal(ran.status, 0, ran.stdout + ran.stderr);
  const log = JSON.parse(readFileSync(file, 'utf8'));
  assert.deepEqual(faults(log), []);
  assert.deepEqual([...new Set(log.runs[0].results.map(({ kind }) => kind))], ['fail', 'pass', 'open']);
});

/** A slip, and the words of the fault it must give. */
const SLIPS = [
  ['schema', (log) => { delete log.version; }],
  ['schema', (log) => { log.version = '2.0.0'; }],
  ['schema', (log) => { delete log.runs[0].tool.driver.name; }],
  ['schema', (log) => { delete log.runs[0].results[0].message; }],
  ['schema', (log) => { delete log.runs[0].invocations[0].executionSuccessful; }],
  ['schema', (log) => { log.runs[0].results[0].level = 'fatal'; }],
  ['schema', (log) => { log.runs[0].results[0].colour = 'red'; }],
  ['schema', (log) => { log.runs[0].results[0].locations[0].physicalLocation.region = { startLine: 0 }; }],
  ['version comes first', (log) => { const { version } = log; delete log.version; log.version = version; }],
  ['columnKind', (log) => { delete log.runs[0].columnKind; }],
  ['results are a list', (log) => { delete log.runs[0].results; }],
  ['level is none', (log) => { log.runs[0].results[0].kind = 'pass'; }],
  ['no HTML', (log) => { log.runs[0].results[0].message.text = 'a <b>bold</b> word'; }],
  ['braces', (log) => { log.runs[0].results[0].message.text = 'write {0}'; }],
  ['no link', (log) => { log.runs[0].results[0].message.text = 'see [here](1)'; }],
  ['has a base', (log) => { delete log.runs[0].results[0].locations[0].physicalLocation.artifactLocation.uriBaseId; }],
  ['has a base', (log) => { log.runs[0].results[0].locations[0].physicalLocation.artifactLocation.uri = 'file:///lib/a.md'; }],
  ['RFC 3986', (log) => { log.runs[0].results[0].locations[0].physicalLocation.artifactLocation.uri = 'a b.md'; }],
  ['climbs', (log) => { log.runs[0].results[0].locations[0].physicalLocation.artifactLocation.uri = '../a.md'; }],
  ['base is declared', (log) => { log.runs[0].originalUriBaseIds = {}; }],
  ['is described', (log) => { log.runs[0].originalUriBaseIds.LIBRARY = {}; }],
  ['count from 1', (log) => { log.runs[0].results[0].locations[0].physicalLocation.region.endLine = 1; }],
  ['at its index', (log) => { log.runs[0].results[0].ruleIndex += 1; }],
  ['at its index', (log) => { log.runs[0].results[0].ruleId = 'no-such-rule'; }],
  ['unique', (log) => { log.runs[0].tool.driver.rules[1].id = log.runs[0].tool.driver.rules[0].id; }],
  ['notification is declared', (log) => { log.runs[0].tool.driver.notifications = []; }],
  ['language', (log) => { log.runs[0].tool.driver.language = 'es-419'; }],
  ['suppressed', (log) => { delete log.runs[0].results[0].suppressions; }],
  ['essential', (log) => { [...having(log, 'threadFlows')][0].threadFlows[0].locations.at(-1).importance = 'important'; }],
  ['their version', (log) => { log.runs[0].results[0].partialFingerprints = { line: '1' }; }],
  ['tell results apart', (log) => { log.runs[0].results[1].partialFingerprints = log.runs[0].results[0].partialFingerprints; }],
  ['no machine', (log) => { log.runs[0].invocations[0].machine = 'host'; }],
];

test('each of these checks can fail', (context) => {
  const library = join(folder(context), 'lib');
  for (const [path, text] of shared) write(join(library, path), text);
  const unsafe = '---\ntitle: Fuser\nsteps:\n  swap: { do: Replace the fuser unit, touches: [fuser], then: end }\n  end: { do: Book a visit, outcome: handed-over }\n---\n';
  write(join(library, 'procedures/fuser.md'), unsafe);
  write(join(library, 'procedures/lines.md'), LINES.replace('then: shut', 'then: nowhere'));
  const { text } = run(['verify', library], 1);
  for (const [words, slip] of SLIPS) {
    const log = JSON.parse(text);
    slip(log);
    assert.ok(faults(log).some((fault) => fault.split(': ')[0].includes(words)), `${words}: ${faults(log)}`);
  }
  const untried = Object.keys(PROSE).filter((rule) => !SLIPS.some(([words]) => rule.includes(words)));
  assert.deepEqual(untried, []);
});
