import { jest } from '@jest/globals';
import { type BareServer, startBareServer } from '../support/bare-server.js';
import { type RouteFacts, routesOf } from '../support/routes.js';

// A busy machine is slow, not wrong.
jest.setTimeout(60_000);

/** What these answer is not JSON, so no schema declares it. */
const notJson = new Set([
  'GET /api/events',
  'GET /api/pictures/:id/:size',
  'GET /api/label-runs/:id/pdf',
  'GET /api/command-cards.pdf',
  'GET /api/sales/:id/receipt.pdf',
  'GET /api/trays/:id/missing-label.pdf',
  'GET /api/exports/:file',
  'GET /api/photograph-archive',
  'GET /api/stock-as-of/file',
]);
/** A stream of events has no place in a document of requests and answers. */
const notDescribed = new Set(['GET /api/events']);

/** What anybody who reaches the server may ask for. A route is added here only on purpose. */
const publicRoutes = [
  'GET /api/health',
  'GET /api/workshop',
  'POST /api/pass-phrase',
  'POST /api/set-up',
  'POST /api/sign-in',
  'POST /api/sign-in-link',
];

let server: BareServer;
let routes: RouteFacts[];

beforeAll(async () => {
  server = await startBareServer('structure');
  routes = routesOf(server.app);
});
afterAll(() => server.stop());

describe('every route of the server', () => {
  it('is found by the walk, which sees the routes of several areas', () => {
    const names = routes.map((route) => route.name);
    expect(names).toEqual(
      expect.arrayContaining(['GET /api/health', 'PATCH /api/people/:id', 'PUT /api/calendar/week', 'GET /api/receipts']),
    );
    expect(new Set(names).size).toBe(names.length);
  });

  it('has a schema on each Body, Query and Param', () => {
    const unchecked = routes
      .filter((route) => route.unchecked.length > 0)
      .map((route) => `${route.handler}: ${route.unchecked.join(', ')}`);
    expect(unchecked).toEqual([]);
  });

  it('declares what it answers, unless it answers with a file or a stream', () => {
    expect(routes.filter((route) => !route.declaresAnswer && !notJson.has(route.name)).map((route) => route.handler)).toEqual([]);
    expect(routes.filter((route) => route.declaresAnswer && notJson.has(route.name)).map((route) => route.handler)).toEqual([]);
  });

  it('says who may use it, and is public only where this list says so', () => {
    expect(routes.filter((route) => !route.isPublic && !route.roles?.length).map((route) => route.handler)).toEqual([]);
    expect(
      routes
        .filter((route) => route.isPublic)
        .map((route) => route.name)
        .sort(),
    ).toEqual(publicRoutes);
  });

  it('that writes is closed to a viewer, but for their own sign-out', () => {
    const open = routes.filter((route) => route.method !== 'GET' && !route.isPublic && route.roles?.includes('viewer'));
    expect(open.map((route) => route.name)).toEqual(['POST /api/sign-out']);
  });
});

describe('the description of the interface', () => {
  interface OpenApi {
    openapi: string;
    paths: Record<string, Record<string, { requestBody?: unknown; responses: Record<string, { content?: unknown }> }>>;
  }
  let document: OpenApi;

  beforeAll(async () => {
    document = (await server.visitor().get<OpenApi>('/api/openapi.json')).body;
  });

  const describedAs = (route: RouteFacts) => document.paths[route.path.replace(/:(\w+)/g, '{$1}')]?.[route.method.toLowerCase()];

  it('is a document of OpenAPI 3.1', () => {
    expect(document.openapi).toMatch(/^3\.1\.\d+$/);
  });

  it('contains each route and nothing else', () => {
    const described = routes.filter((route) => !notDescribed.has(route.name));
    expect(described.filter((route) => describedAs(route) === undefined).map((route) => route.name)).toEqual([]);
    const count = Object.values(document.paths).reduce((sum, methods) => sum + Object.keys(methods).length, 0);
    expect(count).toBe(described.length);
  });

  it('shows the answer that a route declares', () => {
    const silent = routes.filter((route) => route.declaresAnswer && describedAs(route)?.responses['200']?.content === undefined);
    expect(silent.map((route) => route.name)).toEqual([]);
  });
});
