import { connectToCluster, isServingFolder, urlOf } from './cluster-connection.js';
import { embeddedLogins } from './postgres-cluster.js';
import { preparePlace } from './postgres-place.js';

/** How to reach the embedded server that another process owns. */
export interface RunningPostgres {
  ownerUrl: string;
  servingUrl: string;
}

/**
 * Finds the server that already runs in a workshop's folder, for short work beside its owner, as a check of the
 * books. It is neither taken over nor stopped; null where none answers.
 */
export async function findRunningPostgres(folder: string): Promise<RunningPostgres | null> {
  const place = await preparePlace({ folder });
  const client = await connectToCluster(place);
  if (client === null) return null;
  try {
    if (!(await isServingFolder(client, place))) return null;
    return { ownerUrl: urlOf(place, embeddedLogins.owner), servingUrl: urlOf(place, embeddedLogins.serving) };
  } finally {
    await client.end();
  }
}
