import type { QueuedCommand } from '../../../api/queue-machine.js';
import { type FoundKeyed, findingCommand, findingsKept, piecesOf } from './finding-queue.js';

const [id, placeId, countId] = ['01', '02', '03'].map((end) => `0193f000-0000-7000-8000-0000000000${end}`) as [
  string,
  string,
  string,
];
const keyed: FoundKeyed = { id, kind: 'no label', placeId, code: '', words: 'a bag of springs', quantity: '14' };
const queued = (keyedNow: FoundKeyed): QueuedCommand =>
  ({ ...findingCommand(keyedNow, countId, new Date('2026-11-27T09:00:00Z')), key: 'k' }) as unknown as QueuedCommand;

describe('what is written down in a count', () => {
  it('is sent under the id by which its photographs come', () => {
    expect(findingCommand(keyed, countId, new Date('2026-11-27T09:00:00Z')).body).toEqual({
      id,
      kind: 'no label',
      placeId,
      countId,
      words: 'a bag of springs',
      quantity: 14,
      code: null,
      occurredAt: '2026-11-27T09:00:00.000Z',
    });
  });

  it.each<[string, Partial<FoundKeyed>, number | null | undefined]>([
    ['pieces', {}, 14],
    ['none said', { quantity: ' ' }, null],
    ['none of a figure in doubt', { kind: 'in doubt' }, null],
    ['halves are no number of pieces', { quantity: '2.5' }, undefined],
    ['nought is none', { quantity: '0' }, undefined],
  ])('has %s', (_, facts, pieces) => expect(piecesOf({ ...keyed, ...facts })).toBe(pieces));

  it('is found again in the queue by its count', () => {
    const snapshot = { waiting: [queued(keyed)], needsYou: [queued({ ...keyed, kind: 'in doubt', code: 'L00000117' })] };
    expect(findingsKept(snapshot, countId)).toMatchObject({
      waiting: [{ body: { words: 'a bag of springs' } }],
      refused: [{ body: { kind: 'in doubt' } }],
    });
    expect(findingsKept(snapshot, placeId)).toEqual({ waiting: [], refused: [] });
  });
});
