// The command line as WebAssembly, in a worker: arguments in, what it would have printed out.

import type { Answer, Asked, Begin } from './protocol';

interface FileSystem {
  writeFile(path: string, bytes: Uint8Array | string): void;
  readFile(path: string, options: { encoding: 'utf8' }): string;
  unlink(path: string): void;
  readdir(path: string): string[];
}
interface Module {
  FS: FileSystem;
  ccall(name: string, returns: 'number', types: string[], values: unknown[]): number;
}

type Received = (instance: WebAssembly.Instance, compiled: WebAssembly.Module) => void;

const loaderAt = (base: string) => import(/* @vite-ignore */ `${base}glidewright.mjs`);

async function started({ base, compiled }: Asked): Promise<Module> {
  const { default: create } = await loaderAt(base);
  return new Promise((resolve, reject) => {
    const instantiateWasm = (imports: WebAssembly.Imports, received: Received) => {
      WebAssembly.instantiate(compiled, imports).then((instance) => received(instance, compiled), reject);
      return {};
    };
    (create({ locateFile: (name: string) => base + name, instantiateWasm }) as Promise<Module>).then(resolve, reject);
  });
}

/** What came with the engine is read like any other file, and stays. */
const SHIPPED = '/data/';

let module: Promise<Module> | undefined;

function textOf(fs: FileSystem, path: string): string {
  try {
    return fs.readFile(path, { encoding: 'utf8' });
  } catch {
    return '';
  }
}

function answer(at: Module, asked: Asked): Answer {
  const began = performance.now();
  for (const [path, bytes] of Object.entries(asked.files)) at.FS.writeFile(path, bytes);
  const code = at.ccall('glidewright_run', 'number', ['string'], [asked.args.map((one) => `${one}\n`).join('')]);
  const written: Record<string, string> = {};
  for (const path of asked.wanted) written[path] = textOf(at.FS, path);
  for (const path of [...Object.keys(asked.files), ...asked.wanted]) {
    if (path.startsWith(SHIPPED)) continue;
    try {
      at.FS.unlink(path);
    } catch {
      // It was never written.
    }
  }
  return {
    id: asked.id,
    code,
    out: textOf(at.FS, '/out'),
    err: textOf(at.FS, '/err').trim(),
    written,
    milliseconds: performance.now() - began,
  };
}

self.addEventListener('message', async (event: MessageEvent<Asked | Begin>) => {
  const asked = event.data;
  if ('begin' in asked) return void loaderAt(asked.begin).catch(() => undefined); // the question will say so
  try {
    module ??= started(asked);
    self.postMessage(answer(await module, asked));
  } catch (failed) {
    // After a trap its memory is in an unknown state: the next question starts it anew.
    module = undefined;
    const sentence = failed instanceof Error ? failed.message : String(failed);
    self.postMessage({ id: asked.id, code: 3, out: '', err: `the engine stopped: ${sentence}`, written: {}, milliseconds: 0 });
  }
});
