// A second checker of the published certificates, in Python and its standard library alone (`certificate.py`; `claims.py` tries to fool it), written from the handbook of the
// safety analysis. It accepts every certificate of the demo, refuses every claim of more, and finds in libraries that are unsafe what the compiler finds.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { folder, root, stepward } from './support/library.mjs';

const CLAIMS = process.env.SLOW ? 100_000 : 1000;

function python(program, ...parameters) {
  const file = fileURLToPath(new URL(program, import.meta.url));
  const run = spawnSync('python3', ['-B', file, ...parameters], { encoding: 'utf8', maxBuffer: 256 * 1024 * 1024 });
  assert.ok(run.stdout.startsWith('{'), run.stderr || String(run.error));
  return { status: run.status, ...JSON.parse(run.stdout) };
}

test('the demo is accepted, and every label that claims more is refused', { timeout: 3_600_000 }, (context) => {
  const site = join(folder(context), 'site');
  const published = stepward(['publish', '--library', join(root, 'content'), '--to', site, '--today', '2026-11-24']);
  assert.equal(published.status, 0, published.err);
  const result = python('certificate.py', site);
  context.diagnostic(`${result.accepted} of ${result.pages} certificates accepted, ${result.states} states`);
  assert.deepEqual([result.refused, result.status], [[], 0]);
  assert.ok(result.pages >= 10 && result.accepted === result.pages && result.states >= 900);

  const claims = python('claims.py', 'strengthen', site, String(CLAIMS), '7');
  context.diagnostic(`${claims.noticed} of ${claims.tried} claims of more noticed, of ${claims.possible} possible`);
  assert.deepEqual(claims.survivors, []);
  assert.ok(claims.tried >= 1000 && claims.noticed === claims.tried);
  const kinds = ['age younger', 'condition holds', 'cannot hold', 'waited more', 'waited at most less', 'person higher', 'checked', 'no unchecked cure', 'label taken out'];
  for (const kind of kinds) assert.ok(claims.kinds[kind]?.[1] > 0, `no claim of the kind ${kind}`);

  // A page that tells another flow than its certificate is refused, and so is a certificate of another edition.
  const page = join(site, 'procedures', 'isolate.html');
  const html = readFileSync(page, 'utf8');
  for (const [from, to] of [['"cautions":["start-up"]', '"cautions":[]'], ['"edition":"', '"edition":"0']]) {
    assert.ok(html.includes(from));
    writeFileSync(page, html.replace(from, to));
    const forged = python('certificate.py', site);
    assert.deepEqual([forged.accepted, forged.status], [result.pages - 1, 1], forged.refused.join('\n'));
  }
});

test('in libraries good and bad it finds what the compiler finds', { timeout: 1_200_000 }, (context) => {
  const file = join(folder(context), 'certificates.json');
  const path = `${process.env.HOME}/.cargo/bin:${process.env.PATH}`;
  const test = 'certificate::what_is_claimed_can_be_judged_by_another_program';
  const run = spawnSync('cargo', ['test', '--quiet', '--test', 'suite', '--', '--exact', test], {
    cwd: root, encoding: 'utf8', env: { ...process.env, PATH: path, STEPWARD_CERTIFICATES: file },
  });
  assert.equal(run.status, 0, run.stdout + run.stderr);
  const { demo, random, cases, mutants } = python('claims.py', 'verdicts', file);
  for (const [name, one] of Object.entries({ demo, random, cases, mutants })) {
    context.diagnostic(`${name}: ${one.certificates} certificates, ${one.unsafe} of unsafe procedures refused with ${one.findings} findings, ${one.differ.length} differ`);
    assert.deepEqual(one.differ.slice(0, 5), [], name);
    // What is safe from its own start is safe wherever it is carried out.
    assert.deepEqual(one.inside.slice(0, 5), [], name);
  }
  assert.ok(random.unsafe >= 300 && mutants.unsafe >= 80 && cases.unsafe >= 30 && demo.unsafe === 0);
});
