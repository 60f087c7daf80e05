import { loadExample } from '../../apps/api/src/imports/load-example.js';
import { SignInLinks } from '../../apps/api/src/people/sign-in-links.js';
import { type BareServer, type BareServerOptions, serveOn, startBareServer } from './bare-server.js';
import { templateFilledOnce } from './database.js';

/**
 * A server of the example workshop, on a database of its own. The files of the example are brought in once for a whole run,
 * since that takes many seconds; each server has a clone.
 */
export async function startExampleServer(name: string, options: BareServerOptions = {}): Promise<BareServer> {
  const template = await templateFilledOnce('example', async (database) => {
    const server = await serveOn(database);
    await loadExample(server.app, () => {});
    await server.close();
  });
  return startBareServer(name, { ...options, template });
}

/** The path with which the example's owner comes in, once. */
export async function ownersPath(server: BareServer): Promise<string> {
  const path = await server.app.get(SignInLinks).pathForTerminal(true);
  if (path === null) throw new Error('This workshop is no example: nobody comes in by a printed link.');
  return path;
}
