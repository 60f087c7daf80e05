import { TestEnvironment } from 'jest-environment-node';

/** Node as the whole tests see it: they may have Node load what is the same for all of them (outside-code.mjs). */
export default class WholeEnvironment extends TestEnvironment {
  async setup() {
    await super.setup();
    this.global.importOutside = (address) => import(address);
    // What Nest knows of the server's classes is kept where it was loaded.
    this.global.Reflect = Reflect;
  }
}
