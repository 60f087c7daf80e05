import { type OutboundQueue, outboundQueue, type QueueSnapshot } from '../../api/outbound-queue.js';
import type { QueuedCommand } from '../../api/queue-machine.js';
import { newKey } from '../../api/uuid.js';
import { draftStore } from '../goods-in/draft-store.js';
import { sendPicture, type TakenPicture, takenPictureOf } from './send-picture.js';

/** A row may be photographed before anything is keyed into it, and what was found before it is recorded. */
const notSaved = 'what it shows is not saved yet';

/** Photographs that the server does not have yet. A large one on a weak network keeps neither a scan nor another one waiting. */
export const pictures: OutboundQueue = outboundQueue({
  name: 'corewright-pictures',
  order: 'in any order',
  doneKept: 0,
  requestMilliseconds: 60_000,
  whyHeldBack: async (command) => {
    const row = await draftStore().find(takenPictureOf(command).subjectId);
    return row === undefined || row.base !== null ? null : notSaved;
  },
  heldBackBy: new Map([
    ['not-found', notSaved],
    ['upload-not-whole', 'it goes on where it broke off'],
    ['piece-out-of-place', 'it goes on where it broke off'],
  ]),
  travel: sendPicture,
});

/** Keeps a photograph of a thing, a job or a finding on this device; it is sent as soon as it can be, after what it shows. */
export async function keepPicture(subjectId: string, picture: File, ofMarks = false): Promise<void> {
  const fileDate = new Date(picture.lastModified).toISOString();
  const taken: TakenPicture = { id: newKey(), subjectId, picture, ofMarks, fileDate };
  await pictures.add({ method: 'POST', path: '/api/pictures', body: taken, words: 'Photograph' });
}

/** What waits of one thing's photographs. */
export function picturesOf({ waiting, needsYou }: QueueSnapshot, subjectId: string): Pick<QueueSnapshot, 'waiting' | 'needsYou'> {
  const isOfIt = (command: QueuedCommand) => takenPictureOf(command).subjectId === subjectId;
  return { waiting: waiting.filter(isOfIt), needsYou: needsYou.filter(isOfIt) };
}
