// Before the whole tests: a server, and in it one template database with every migration, cloned for each test file.
import { BuildFailure, prepare, say } from '../../scripts/build.mjs';

export default async function setUp() {
  // Tests never touch the data of a workshop.
  delete process.env.DATABASE_URL;
  delete process.env.DATABASE_OWNER_URL;
  // Run by hand on a tree in the middle of a change: what has faults of types is written all the same, so the tests can go on.
  // `npm test` has built before, and does not come here when that failed.
  await prepare(['server']).catch((error) => {
    if (!(error instanceof BuildFailure)) throw error;
    say('The server does not build without faults. The tests go on, on what was written of it in spite of them.');
  });
  const { findTestServer } = await import('./server.mjs');
  const { makeTemplate } = await import('./template.mjs');
  const server = await findTestServer();
  globalThis.corewrightTestServer = server;
  const template = await makeTemplate(server);
  globalThis.corewrightTestTemplate = template;
  Object.assign(process.env, {
    CW_TEST_ADMIN_URL: server.adminUrl,
    CW_TEST_OWNER_URL: server.ownerUrl,
    CW_TEST_SERVING_URL: server.servingUrl,
    CW_TEST_TEMPLATE: template,
    // Copied file by file a database takes a third of the time, but is forced to the disk where that is not left out.
    CW_TEST_STRATEGY: server.isHasty ? 'FILE_COPY' : 'WAL_LOG',
  });
  process.stderr.write(`The whole tests run on ${server.kind}.\n`);
}
