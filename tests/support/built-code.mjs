// In the whole tests, a source of the server or of a library stands for what was built from it: the test's file has the names of the built
// module, which Node itself loads, once for all test files of a worker. Loaded by Jest the server would be read, linked and compiled anew for
// each of its files, and run cold: that took longer than what most files test.
import { createHash } from 'node:crypto';
import { sep } from 'node:path';
import { pathToFileURL } from 'node:url';

/** The address of what was built from a source: `…/src/x.ts` becomes `…/dist/x.js`. */
function builtFrom(source) {
  const [before, after] = source.split(`${sep}src${sep}`);
  return pathToFileURL(`${before}${sep}dist${sep}${after.replace(/\.ts$/, '.js')}`).href;
}

async function namesOf(source) {
  return Object.keys(await import(builtFrom(source)));
}

export default {
  async processAsync(_text, source) {
    const names = await namesOf(source);
    const lines = names.map((name) => (name === 'default' ? 'export default built.default;' : `export const ${name} = built.${name};`));
    return { code: [`const built = await globalThis.importBuilt(${JSON.stringify(builtFrom(source))});`, ...lines].join('\n') };
  },
  async getCacheKeyAsync(_text, source) {
    return createHash('sha256').update([source, ...(await namesOf(source))].join('\n')).digest('hex');
  },
};
