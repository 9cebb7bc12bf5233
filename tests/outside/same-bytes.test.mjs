// Two builds give the same bytes (reproducible-builds.org: other time zone, locale, folder, order of files): `content/` published by the program itself.
import assert from 'node:assert/strict';
import { cpSync, mkdirSync, readFileSync, readdirSync, utimesSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { folder, root, stepward } from './support/library.mjs';

const DAY = '2026-11-24';

function files(path) {
  return readdirSync(path, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name))
    .sort();
}

const bytes = (path) => new Map(files(path).map((file) => [file.slice(path.length), readFileSync(file)]));

function publish(library, target, surroundings) {
  const run = stepward(['publish', '--library', library, '--to', target, '--today', DAY], surroundings);
  assert.equal(run.status, 0, run.err);
  return { site: bytes(target), said: run.out.replaceAll(target, 'SITE').replaceAll(library, 'LIBRARY') };
}

function same(one, other, what) {
  assert.deepEqual([...other.keys()], [...one.keys()], what);
  for (const [name, content] of one) assert.ok(content.equals(other.get(name)), `${what}: ${name}`);
}

test('time zone, locale, folder and order of the files leave every byte as it is', { timeout: 300_000 }, (context) => {
  const place = folder(context);
  const content = join(root, 'content');
  const plain = publish(content, join(place, 'one'), { env: { TZ: 'UTC', LC_ALL: 'C', LANG: 'C' } });
  const pages = [...plain.site.keys()].filter((name) => name.endsWith('.html'));
  assert.ok(pages.length >= 10, `only ${pages.length} pages`);

  const abroad = { TZ: 'Pacific/Kiritimati', LC_ALL: 'tr_TR.UTF-8', LANG: 'tr_TR.UTF-8' };
  const far = publish(content, join(place, 'a', 'b', 'two'), { cwd: place, env: abroad });
  same(plain.site, far.site, 'another time zone, locale and working folder');

  // The files come into being last one first, with other times.
  const copy = join(place, 'copy of content');
  for (const [index, file] of files(content).reverse().entries()) {
    const to = join(copy, file.slice(content.length));
    mkdirSync(dirname(to), { recursive: true });
    writeFileSync(to, readFileSync(file));
    utimesSync(to, index * 86_400, index * 86_400);
  }
  same(plain.site, publish(copy, join(place, 'three'), { cwd: copy, env: abroad }).site, 'a copy made in another order');
  same(plain.site, publish(copy, join(place, 'four'), { env: { TZ: 'America/St_Johns', RAYON_NUM_THREADS: '1' } }).site, 'one thread');

  const json = (surroundings) => stepward(['verify', '--library', content, '--format', 'json', '--today', DAY], surroundings).out;
  assert.equal(json({ env: abroad }), json({ env: { TZ: 'UTC', LC_ALL: 'C' } }));
  cpSync(join(root, 'content', 'stop.md'), join(copy, 'leaflets', 'one-more.md'));
  const changed = publish(copy, join(place, 'five'), {});
  assert.notEqual(changed.site.size, plain.site.size, 'the comparison can fail');
});
