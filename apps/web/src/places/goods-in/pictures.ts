import { type OutboundQueue, outboundQueue, type QueueSnapshot } from '../../api/outbound-queue.js';
import { draftStore } from './draft-store.js';

/** A row may be photographed before anything is keyed into it. */
const notSaved = 'its row is not saved yet';

/** Photographs that the server does not have yet. A large one on a weak network keeps neither a scan nor another one waiting. */
export const pictures: OutboundQueue = outboundQueue({
  name: 'corewright-pictures',
  order: 'in any order',
  doneKept: 0,
  requestMilliseconds: 180_000,
  whyHeldBack: async (command) => {
    const row = await draftStore().find(subjectOf(command.path));
    return row === undefined || row.base !== null ? null : notSaved;
  },
  heldBackBy: new Map([[404, notSaved]]),
});

const root = '/api/pictures/';

function subjectOf(path: string): string {
  return path.slice(root.length);
}

/** Keeps a photograph of a thing on this device; it is sent as soon as it can be, after the row that it belongs to. */
export async function keepPicture(subjectId: string, picture: Blob): Promise<void> {
  await pictures.add({
    method: 'POST',
    path: `${root}${subjectId}`,
    body: new Map([['picture', picture]]),
    words: 'Photograph',
  });
}

/** What waits of one thing's photographs. */
export function picturesOf({ waiting, needsYou }: QueueSnapshot, subjectId: string): Pick<QueueSnapshot, 'waiting' | 'needsYou'> {
  const isOfIt = ({ path }: { path: string }) => subjectOf(path) === subjectId;
  return { waiting: waiting.filter(isOfIt), needsYou: needsYou.filter(isOfIt) };
}
