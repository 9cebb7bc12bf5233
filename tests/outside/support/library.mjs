// Runs the compiler on small libraries in a temporary folder.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../../../', import.meta.url));
const target = process.env.CARGO_TARGET_DIR ?? join(root, 'target');
const program = join(target, 'debug', 'stepward');

/** Runs the program; `tests/all` has built it before. */
export function stepward(parameters, { cwd = root, env = {} } = {}) {
  if (!existsSync(program)) throw new Error('the program is not built: run `cargo build` first');
  const run = spawnSync(program, parameters, { cwd, env: { ...process.env, STEPWARD_CACHE: '', ...env }, encoding: 'utf8', maxBuffer: 256 * 1024 * 1024 });
  if (run.error) throw run.error;
  return { status: run.status, out: run.stdout, err: run.stderr };
}

/** A temporary folder that is gone when the test is over. */
export function folder(context) {
  const path = mkdtempSync(join(tmpdir(), 'stepward-outside-'));
  context.after(() => rmSync(path, { recursive: true, force: true }));
  return path;
}

export function write(path, text) {
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, text);
}

/** The library that `create` writes, with these leaflets: id to text. */
export function libraryOf(path, leaflets) {
  const made = stepward(['create', path]);
  if (made.status !== 0) throw new Error(made.err);
  for (const [id, text] of leaflets) write(join(path, 'leaflets', `${id}.md`), text);
}
