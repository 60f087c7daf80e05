import { dropTemplate } from './template.mjs';

export default async function tearDown() {
  const server = globalThis.corewrightTestServer;
  if (server === undefined) return;
  const template = globalThis.corewrightTestTemplate;
  if (template !== undefined) await dropTemplate(server, template);
  await server.stop();
}
