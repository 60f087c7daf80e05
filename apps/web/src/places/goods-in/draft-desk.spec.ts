import type { LoadRow } from '@corewright/contracts/goods-in';
import { type DeskTools, DraftDesk, type SendAnswer } from './draft-desk.js';
import type { DraftStore } from './draft-store.js';
import { type RowAct, takingBack, withRow } from './row-acts.js';
import { rowInputOf, valuesOf } from './row-contract.js';
import type { RowCommand, RowDraft } from './row-draft.js';
import { blankRow, type RowValues } from './row-values.js';

const ring: RowValues = {
  ...blankRow('lot'),
  referenceId: 'part-1',
  referenceText: '48-2279',
  words: 'Felt ring, hub',
  count: '12',
  source: 'old stock',
};

/** The server's reading of a lot row. */
function rowOf(draft: RowDraft, command: RowCommand, version: number): LoadRow {
  return {
    id: draft.id,
    code: 'L00084824',
    kind: 'lot',
    position: draft.position,
    version,
    owner: null,
    place: null,
    note: '',
    name: command.values.words,
    unitType: null,
    part: { id: 'part-1', name: command.values.words, number: command.values.referenceText },
    words: command.values.words,
    grade: '',
    marks: command.values.marks,
    quantity: command.values.count,
    source: command.values.source,
    make: command.values.make,
    maker: null,
    condition: command.values.grade,
    packet: null,
    packetCondition: command.values.packetCondition,
    storageLife: null,
    pieceCount: null,
    pictures: [],
    labelled: false,
    struckOut: false,
    warnings: [],
  };
}

const placed = (values: RowValues): RowValues => (values.placeText === '' ? values : { ...values, placeId: 'place-1' });

/** A store that outlives the desk, as the browser's does. */
function memoryStore(kept: Map<string, RowDraft>): DraftStore {
  return {
    list: async () => [...kept.values()],
    find: async (id) => kept.get(id),
    put: async (draft) => void kept.set(draft.id, draft),
    remove: async (draft) => void kept.delete(draft.id),
    watch: () => () => undefined,
  };
}

function openDesk(send: (draft: RowDraft, command: RowCommand) => Promise<SendAnswer>, kept = new Map<string, RowDraft>()) {
  const waiting: (() => void)[] = [];
  const shown: LoadRow[] = [];
  const log: { acts: readonly RowAct[] } = { acts: [] };
  const lookUp = { answers: true };
  let keys = 0;
  const tools: DeskTools = {
    loadId: 'load-1',
    store: memoryStore(kept),
    send,
    resolve: async (values) => (lookUp.answers ? placed(values) : null),
    alone: (work) => work(),
    onAccepted: (row) => shown.push(row),
    onCommand: (act, row) => {
      log.acts = withRow(log.acts, act, row);
    },
    newKey: () => `key-${++keys}`,
    now: () => new Date('2026-11-25T10:00:00Z'),
    later: (callback) => {
      waiting.push(callback);
      return () => undefined;
    },
  };
  return { desk: new DraftDesk(tools), kept, waiting, shown, lookUp, log };
}

const fresh = { position: 1, base: null };

describe('rows that the server does not have yet', () => {
  it('are kept until the server has answered, then forgotten', async () => {
    const { desk, kept, shown } = openDesk(async (draft, command) => ({ kind: 'accepted', row: rowOf(draft, command, 1) }));
    desk.key('row-1', ring, fresh);
    expect(kept.get('row-1')?.values.count).toBe('12');
    await desk.save('row-1');
    expect(kept.size).toBe(0);
    expect(shown.map((row) => row.code)).toEqual(['L00084824']);
  });

  it('go out with the same key after the network was lost and the page was loaded again', async () => {
    const sent: string[] = [];
    const lost = openDesk(async (_draft, command) => {
      sent.push(command.key);
      return { kind: 'unreachable' };
    });
    lost.desk.key('row-1', ring, fresh);
    await lost.desk.save('row-1');
    const again = openDesk(async (draft, command) => {
      sent.push(command.key);
      return { kind: 'accepted', row: rowOf(draft, command, 1) };
    }, lost.kept);
    await again.desk.takeOver(null);
    await new Promise((resolve) => setImmediate(resolve));
    expect(sent).toEqual(['key-1', 'key-1']);
    expect(again.kept.size).toBe(0);
  });

  it('are sent one after another in the order of the load', async () => {
    const order: number[] = [];
    let answers = false;
    const { desk, waiting } = openDesk(async (draft, command) => {
      if (!answers) return { kind: 'unreachable' };
      order.push(draft.position);
      return { kind: 'accepted', row: rowOf(draft, command, 1) };
    });
    for (const position of [2, 1, 3]) {
      desk.key(`row-${position}`, ring, { position, base: null });
      await desk.save(`row-${position}`);
    }
    answers = true;
    for (const wake of waiting) wake();
    await new Promise((resolve) => setImmediate(resolve));
    expect(order).toEqual([1, 2, 3]);
  });

  it('wait for their places and parts to be looked up when the server cannot be asked, and then go', async () => {
    const places: string[] = [];
    const { desk, kept, lookUp } = openDesk(async (draft, command) => {
      places.push(`${draft.position} ${command.values.placeId}`);
      return { kind: 'accepted', row: rowOf(draft, command, 1) };
    });
    lookUp.answers = false;
    for (const position of [1, 2]) {
      desk.key(`row-${position}`, { ...ring, placeText: 'R1 B02' }, { position, base: null });
      await desk.save(`row-${position}`);
    }
    expect([...kept.values()]).toMatchObject([
      { awaitsLookup: true, command: null },
      { awaitsLookup: true, command: null },
    ]);
    desk.retryNow();
    await new Promise((resolve) => setImmediate(resolve));
    expect(places).toEqual([]);
    lookUp.answers = true;
    desk.retryNow();
    await new Promise((resolve) => setImmediate(resolve));
    expect(places).toEqual(['1 place-1', '2 place-1']);
    expect(kept.size).toBe(0);
  });

  it('stay with the reason when they are refused', async () => {
    const { desk, kept } = openDesk(async () => ({ kind: 'refused', title: 'Nought moves nothing.', detail: 'Key how many.' }));
    desk.key('row-1', { ...ring, count: '0' }, fresh);
    await desk.save('row-1');
    expect(kept.get('row-1')).toMatchObject({
      values: { count: '0' },
      command: null,
      problem: { kind: 'refused', detail: 'Key how many.' },
    });
  });

  it('are not sent while something is wanting, and forgotten when nothing was keyed', async () => {
    const { desk, kept } = openDesk(async () => {
      throw new Error('nothing should go out');
    });
    desk.key('row-1', { ...ring, count: '' }, fresh);
    await desk.save('row-1');
    expect(kept.has('row-1')).toBe(true);
    desk.key('row-2', blankRow('unit'), { position: 2, base: null });
    await desk.save('row-2');
    expect(kept.has('row-2')).toBe(false);
  });
});

describe('an act', () => {
  it('is each row that was keyed by itself, and all the rows that were keyed in one go', async () => {
    const { desk, log } = openDesk(async (draft, command) => ({ kind: 'accepted', row: rowOf(draft, command, 1) }));
    desk.key('row-1', ring, fresh);
    await desk.save('row-1');
    await desk.saveAll('2 more like row 1', [
      { id: 'row-2', position: 2, values: ring, base: null },
      { id: 'row-3', position: 3, values: ring, base: null },
    ]);
    desk.key('row-1', { ...ring, count: '7' }, { position: 1, base: { version: 1, values: ring } });
    await desk.save('row-1');
    expect(log.acts.map(({ words, rows }) => ({ words, rows }))).toEqual([
      { words: 'row 1', rows: [{ id: 'row-1', before: null }] },
      {
        words: '2 more like row 1',
        rows: [
          { id: 'row-2', before: null },
          { id: 'row-3', before: null },
        ],
      },
      { words: 'row 1', rows: [{ id: 'row-1', before: ring }] },
    ]);
  });

  it('is taken back from its last row to its first: struck out, dropped where nobody was told, or said as it was', () => {
    const act: RowAct = {
      id: 'act-1',
      words: 'several',
      rows: [
        { id: 'changed', before: ring },
        { id: 'begun', before: null },
        { id: 'unsent', before: null },
      ],
    };
    expect(takingBack(act, (id) => id !== 'unsent')).toEqual([
      { kind: 'drop', id: 'unsent' },
      { kind: 'strike', id: 'begun' },
      { kind: 'key', id: 'changed', values: ring },
    ]);
  });

  it('is not made by what is sent a second time, nor by what is taken back', async () => {
    const { desk, log, waiting } = openDesk(async () => ({ kind: 'unreachable' }));
    desk.key('row-1', ring, fresh);
    await desk.save('row-1');
    await desk.save('row-1');
    for (const wake of waiting) wake();
    desk.key('row-2', ring, { position: 2, base: null });
    await desk.save('row-2', null);
    expect(log.acts).toHaveLength(1);
  });
});

describe('a row in the form of the contract', () => {
  it('comes back as it was keyed', () => {
    const draft: RowDraft = {
      id: 'row-1',
      loadId: 'load-1',
      position: 1,
      values: ring,
      base: null,
      command: null,
      problem: null,
      awaitsLookup: false,
    };
    const command: RowCommand = { key: 'key-1', values: ring, version: null, madeAt: '2026-11-25T10:00:00Z' };
    expect(valuesOf(rowOf(draft, command, 1))).toEqual(ring);
  });

  it('keeps a number that nobody knows with the words', () => {
    expect(rowInputOf({ ...ring, referenceId: null, referenceText: '48-9?79' }, 4)).toMatchObject({
      partId: null,
      words: '48-9?79, Felt ring, hub',
      quantity: '12',
      position: 4,
    });
  });
});
