import { availableParallelism } from 'node:os';

// Two projects: the pure libraries need nothing; whole tests get a real Postgres from the global set-up.
const shared = {
  extensionsToTreatAsEsm: ['.ts', '.tsx'],
  transform: {
    '^.+\\.tsx?$': [
      '@swc/jest',
      {
        module: { type: 'es6' },
        jsc: {
          target: 'es2022',
          parser: { syntax: 'typescript', decorators: true, tsx: false },
          transform: { legacyDecorator: true, decoratorMetadata: true, useDefineForClassFields: false },
          keepClassNames: true,
        },
      },
    ],
  },
  moduleNameMapper: {
    '^@corewright/([^/]+)/(.*)$': '<rootDir>/libs/$1/src/$2',
    '^(\\.{1,2}/.*)\\.js$': '$1',
  },
  testPathIgnorePatterns: ['/node_modules/', '/dist/'],
  modulePathIgnorePatterns: ['/dist/', '/.data/'],
};

export default {
  // Two cores may be busy with a build: a slow machine is not a fault.
  testTimeout: 60_000,
  // Whole tests wait for servers and browsers more than they reckon: two go well together on two cores. With three, what must come within a second comes later.
  maxWorkers: Math.max(2, availableParallelism() - 1),
  testSequencer: '<rootDir>/tests/support/longest-first.mjs',
  projects: [
    {
      ...shared,
      displayName: 'pure',
      rootDir: import.meta.dirname,
      testMatch: ['<rootDir>/libs/**/*.spec.ts', '<rootDir>/apps/web/src/**/*.spec.ts', '<rootDir>/tests/reference/**/*.spec.ts'],
    },
    {
      ...shared,
      displayName: 'whole',
      rootDir: import.meta.dirname,
      testEnvironment: '<rootDir>/tests/support/whole-environment.mjs',
      transform: {
        '/(apps/api|libs/[^/]+)/src/((?!\\.spec\\.).)+\\.ts$': '<rootDir>/tests/support/outside-code.mjs',
        ...shared.transform,
      },
      moduleNameMapper: {
        ...shared.moduleNameMapper,
        // The server's own, and the large one of the browser tests.
        '^(pg|@nestjs/core|playwright-core)$': '<rootDir>/tests/support/outside/$1.mjs',
      },
      testMatch: ['<rootDir>/apps/api/**/*.spec.ts', '<rootDir>/tests/!(reference|bench)/**/*.spec.ts'],
      globalSetup: '<rootDir>/tests/support/global-setup.mjs',
      globalTeardown: '<rootDir>/tests/support/global-teardown.mjs',
    },
  ],
};
