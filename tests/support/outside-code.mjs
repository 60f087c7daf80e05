// In the whole tests a source of the server or of a library stands for what was built from it, and Node itself loads that, once for all test
// files of a worker: the test's file has its names alone. Loaded by Jest, the server would be read, linked and compiled anew for each of its
// files, and run cold; that took longer than what most files test. What is asked for of some packages comes the same way (outside/).
import { createHash } from 'node:crypto';
import { sep } from 'node:path';
import { pathToFileURL } from 'node:url';

/** The address of what was built from a source: `…/src/x.ts` becomes `…/dist/x.js`. */
function builtFrom(source) {
  const [before, after] = source.split(`${sep}src${sep}`);
  return pathToFileURL(`${before}${sep}dist${sep}${after.replace(/\.ts$/, '.js')}`).href;
}

async function codeFor(source) {
  const address = builtFrom(source);
  const names = Object.keys(await import(address));
  const lines = names.map((name) =>
    name === 'default' ? 'export default outside.default;' : `export const ${name} = outside.${name};`,
  );
  return [`const outside = await globalThis.importOutside(${JSON.stringify(address)});`, ...lines].join('\n');
}

export default {
  processAsync: async (_text, source) => ({ code: await codeFor(source) }),
  getCacheKeyAsync: async (_text, source) =>
    createHash('sha256')
      .update(await codeFor(source))
      .digest('hex'),
};
