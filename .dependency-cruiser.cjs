// Who may import whom. The order of the server's areas is the order of this list: each imports only from those before it.
const areas = [
  'platform',
  'people',
  'scanning',
  'catalogue',
  'stores',
  'labels',
  'counting',
  'cores',
  'goods-in',
  'buying',
  'jobs',
  'bench',
  'opening',
  'reservations',
  'consumables',
  'coverage',
  'planning',
  'warnings',
  'selling',
  'costing',
  'exchange',
  'imports',
  'today',
];

const specs = '\\.spec\\.tsx?$';
const inArea = (names) => `^apps/api/src/(${names.join('|')})/`;

const orderOfAreas = areas.slice(0, -1).map((area, index) => ({
  name: `order-of-areas-${area}`,
  comment: `${area} comes before the areas that it imports here; what it needs of them they must register with it.`,
  severity: 'error',
  from: { path: inArea([area]), pathNot: specs },
  to: { path: inArea(areas.slice(index + 1)) },
}));

module.exports = {
  forbidden: [
    ...orderOfAreas,
    {
      name: 'areas-are-known',
      comment: 'A folder of the server that is not in the list of areas has no place in their order: give it one.',
      severity: 'error',
      from: {},
      to: { path: '^apps/api/src/[^/]+/', pathNot: [inArea(areas), '^apps/api/src/migrations/'] },
    },
    {
      name: 'areas-do-not-know-the-whole',
      comment: 'The files beside the areas put them together; an area that imports one of them knows too much.',
      severity: 'error',
      from: { path: inArea(areas), pathNot: specs },
      to: { path: '^apps/api/src/[^/]+\\.ts$' },
    },
    {
      name: 'migrations-stand-alone',
      comment: 'A migration must do next year what it did today, so it uses nothing that may change.',
      severity: 'error',
      from: { path: '^apps/api/src/migrations/', pathNot: specs },
      to: { path: '^(apps/api/src/(?!migrations/)|libs/)' },
    },
    {
      name: 'libraries-are-pure',
      comment: 'A library has no input and output and no framework: nothing of Node, and no package but zod in the contracts.',
      severity: 'error',
      from: { path: '^libs/[^/]+/src/', pathNot: specs },
      to: {
        dependencyTypes: ['core', 'npm', 'npm-dev', 'npm-optional', 'npm-peer', 'npm-no-pkg', 'npm-unknown'],
        pathNot: 'node_modules/zod/',
      },
    },
    {
      name: 'zod-in-contracts-only',
      comment: 'Input is parsed at the edge: the contracts and the applications.',
      severity: 'error',
      from: { path: '^libs/', pathNot: ['^libs/contracts/', specs] },
      to: { path: 'node_modules/zod/' },
    },
    {
      name: 'libraries-do-not-know-applications',
      severity: 'error',
      from: { path: '^libs/' },
      to: { path: '^(apps|tests|scripts)/' },
    },
    {
      name: 'web-never-imports-server',
      comment: 'They meet in the contracts.',
      severity: 'error',
      from: { path: '^apps/web/' },
      to: { path: '^apps/api/|node_modules/(@nestjs|typeorm|pg)/' },
    },
    {
      name: 'server-never-imports-web',
      severity: 'error',
      from: { path: '^apps/api/' },
      to: { path: '^apps/web/|node_modules/react(-|/)' },
    },
    {
      name: 'components-through-ui-only',
      comment: 'The design system wraps the component library once, so that the rest can be restyled in one place.',
      severity: 'error',
      from: { path: '^apps/web/', pathNot: '^apps/web/src/ui/' },
      to: { path: 'node_modules/(react-aria-components|react-aria|react-stately|@react-aria|@react-stately)/' },
    },
    {
      name: 'nothing-imports-tests',
      severity: 'error',
      from: { path: '^(apps|libs)/', pathNot: specs },
      to: { path: `^tests/|${specs}` },
    },
    {
      name: 'no-cycles',
      comment: 'Two things that need each other are one thing, or a third is hidden in them.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'no-unresolvable',
      severity: 'error',
      from: {},
      // of a name that ends so Vite gives the address; it fails itself where there is no such file
      to: { couldNotResolve: true, pathNot: ['[?]url$'] },
    },
    {
      name: 'no-undeclared-packages',
      comment: 'A package that no package.json names is there by accident of another.',
      severity: 'error',
      from: { pathNot: ['^tests/', specs] },
      to: { dependencyTypes: ['npm-no-pkg', 'npm-unknown'] },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: ['^(apps|libs)/[^/]+/dist/', '^tests/[^/]+/dist/'] },
    tsPreCompilationDeps: true,
    combinedDependencies: true,
    tsConfig: { fileName: 'tsconfig.base.json' },
    webpackConfig: { fileName: '.dependency-cruiser.resolve.cjs' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['types', 'import', 'node', 'default'],
      mainFields: ['module', 'main', 'types'],
    },
    skipAnalysisNotInRules: true,
  },
};
