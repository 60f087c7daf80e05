import { TestEnvironment } from 'jest-environment-node';

/** Node as the whole tests see it: they may have Node load what was built (built-code.mjs). */
export default class WholeEnvironment extends TestEnvironment {
  async setup() {
    await super.setup();
    this.global.importBuilt = (address) => import(address);
  }
}
