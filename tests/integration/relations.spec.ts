import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { MayServe, RelationShown } from '../../libs/contracts/src/relations.js';
import { type Answer, addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('relations');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

interface Recorded {
  relations: RelationShown[];
  code: string;
  detail: string;
  values: { cycle?: string[] };
}
type Asked = Record<string, unknown>;
const evidence = { kind: 'catalogue', words: 'third edition, page 41' };

function record(from: string, kind: string, to: string[], more: Asked = {}, options = {}): Promise<Answer<Recorded>> {
  return owner.post<Recorded>(`/api/parts/${from}/relations`, { kind, toPartIds: to, evidence, ...more }, options);
}
const withdraw = (id: string, why = 'the page was misread') => owner.post<Recorded>(`/api/relations/${id}/withdrawal`, { why });
const mayServe = async (partId: string) => (await owner.get<MayServe>(`/api/parts/${partId}/may-serve`)).body;
const parts = (count: number) => Promise.all(Array.from({ length: count }, () => stock.part()));
const numberOf = (partId: string) => `T-${partId.slice(-12)}`;

describe('a relation between parts', () => {
  it('is recorded with its evidence and who accepted it, once though it is sent twice', async () => {
    const [old, now] = (await parts(2)) as [string, string];
    const key = newId();
    const first = await record(old, 'supersession', [now], { since: '1951-04' }, { key });
    const again = await record(old, 'supersession', [now], { since: '1951-04' }, { key });
    expect(first.status).toBe(200);
    expect(again.body).toEqual(first.body);
    expect(first.body.relations).toMatchObject([
      {
        kind: 'supersession',
        from: { id: old, number: numberOf(old) },
        to: { id: now },
        since: '1951-04',
        evidence,
        acceptedBy: 'Edie Marrack',
        withdrawn: null,
      },
    ]);
    expect(first.body.relations[0]?.words).toMatch(/ became .* in 1951-04\.$/);
    expect(await stock.query('SELECT id FROM relations WHERE from_part_id = $1', [old])).toHaveLength(1);
  });

  it.each([
    ['to no part', async () => record((await parts(1))[0]!, 'same as', []), 422],
    ['to a part that is not in the books', async () => record((await parts(1))[0]!, 'same as', [newId()]), 422],
    ['of a part that is not in the books', async () => record(newId(), 'same as', await parts(1)), 404],
    [
      'without evidence',
      async () => record((await parts(1))[0]!, 'same as', await parts(1), { evidence: { kind: 'told', words: ' ' } }),
      422,
    ],
    ['from before the trade', async () => record((await parts(1))[0]!, 'supersession', await parts(1), { since: '1879' }), 422],
    ['from a day to come', async () => record((await parts(1))[0]!, 'supersession', await parts(1), { since: '2100' }), 422],
    [
      'from a day that is none',
      async () => record((await parts(1))[0]!, 'supersession', await parts(1), { since: '1951-02-30' }),
      422,
    ],
    [
      'with a date that only a supersession has',
      async () => record((await parts(1))[0]!, 'same as', await parts(1), { since: '1951' }),
      422,
    ],
    ['to several at once that are no kit', async () => record((await parts(1))[0]!, 'same as', await parts(2)), 422],
    [
      'of sameness between what is counted otherwise',
      async () => record((await parts(1))[0]!, 'same as', [await stock.part({ unit: 'mm' })]),
      409,
    ],
  ])('%s is refused', async (_what, send, status) => {
    const before = await stock.query('SELECT id FROM relations');
    expect((await send()).status).toBe(status);
    expect(await stock.query('SELECT id FROM relations')).toHaveLength(before.length);
  });

  it('to itself is refused though the part exists', async () => {
    const [part] = (await parts(1)) as [string];
    const answer = await record(part, 'will serve for', [part]);
    expect(answer).toMatchObject({ status: 422, body: { code: 'bad-input' } });
    expect(JSON.stringify(answer.body)).toContain(`${numberOf(part)} cannot be related to itself`);
  });

  it('stands once, sameness whichever way about, and again only after it was withdrawn', async () => {
    const [one, other] = (await parts(2)) as [string, string];
    const first = await record(one, 'same as', [other]);
    expect(await record(one, 'same as', [other])).toMatchObject({ status: 409, body: { code: 'related-already' } });
    expect(await record(other, 'same as', [one])).toMatchObject({ status: 409, body: { code: 'related-already' } });
    expect((await withdraw(first.body.relations[0]!.id)).status).toBe(200);
    expect((await record(other, 'same as', [one])).status).toBe(200);
  });

  it('of sameness stands once though it is recorded both ways about at the same moment', async () => {
    const [one, other] = (await parts(2)) as [string, string];
    const answers = await Promise.all([record(one, 'same as', [other]), record(other, 'same as', [one])]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
  });

  it('is withdrawn with a reason, once, and stays on the record', async () => {
    const [one, other] = (await parts(2)) as [string, string];
    const id = (await record(one, 'will serve for', [other], { conditions: 'without its shim' })).body.relations[0]!.id;
    expect((await mayServe(other)).candidates).toMatchObject([
      { as: 'itself' },
      { part: { id: one }, conditions: ['without its shim'] },
    ]);
    const taken = await withdraw(id, 'the bore is 0.02 mm over');
    expect(taken.body.relations).toMatchObject([{ id, withdrawn: { by: 'Edie Marrack', why: 'the bore is 0.02 mm over' } }]);
    expect(await withdraw(id)).toMatchObject({ status: 409, body: { code: 'withdrawn-already' } });
    expect(await withdraw(newId())).toMatchObject({ status: 404 });
    const after = await mayServe(other);
    expect(after.candidates).toHaveLength(1);
    expect(after.refused).toMatchObject([{ part: { id: one }, why: 'withdrawn' }]);
    expect(after.refused[0]?.words).toContain('the bore is 0.02 mm over');
  });

  it('is kept by the database itself: no change but the one withdrawal, no deletion', async () => {
    const [one, other] = (await parts(2)) as [string, string];
    const id = (await record(one, 'same as', [other])).body.relations[0]!.id;
    const serving = (text: string) => server.database.rows(text, [id]);
    await expect(serving("UPDATE relations SET evidence_words = 'better' WHERE id = $1")).rejects.toMatchObject({
      code: 'CW001',
    });
    await expect(serving('DELETE FROM relations WHERE id = $1')).rejects.toMatchObject({ code: '42501' });
    await expect(stock.query('DELETE FROM relations WHERE id = $1', [id])).rejects.toMatchObject({ code: 'CW001' });
    await withdraw(id);
    const back = 'UPDATE relations SET withdrawn_at = NULL, withdrawn_by = NULL, withdrawn_why = NULL WHERE id = $1';
    await expect(serving(back)).rejects.toMatchObject({ code: 'CW001' });
  });

  it('is recorded and withdrawn by those who keep the books, and read by everybody', async () => {
    const bench = await addPerson(server, owner, 'bench', 'wilf', 'Wilf Peskett');
    const [one, other] = (await parts(2)) as [string, string];
    const body = { kind: 'same as', toPartIds: [other], evidence };
    expect((await bench.post(`/api/parts/${one}/relations`, body)).status).toBe(403);
    const id = (await record(one, 'same as', [other])).body.relations[0]!.id;
    expect((await bench.post(`/api/relations/${id}/withdrawal`, { why: 'no' })).status).toBe(403);
    expect((await bench.get(`/api/parts/${one}/may-serve`)).status).toBe(200);
  });
});

describe('a supersession', () => {
  it('that would close a circle is refused, and the circle is named', async () => {
    const [a, b, c] = (await parts(3)) as [string, string, string];
    await record(a, 'supersession', [b]);
    await record(b, 'supersession', [c]);
    const refused = await record(c, 'supersession', [a]);
    expect(refused).toMatchObject({ status: 409, body: { code: 'supersession-cycle' } });
    expect(refused.body.values.cycle).toEqual([c, a, b, c].map(numberOf));
  });

  it('of two that are recorded at the same moment and would close a circle is recorded once', async () => {
    for (let round = 0; round < 5; round += 1) {
      const [a, b, c, d] = (await parts(4)) as [string, string, string, string];
      await record(a, 'supersession', [b]);
      await record(c, 'supersession', [d]);
      const answers = await Promise.all([record(b, 'supersession', [c]), record(d, 'supersession', [a])]);
      expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
      expect(answers.find(({ status }) => status === 409)?.body.code).toBe('supersession-cycle');
    }
  });

  it('gives a number one successor, which may be a kit, withdrawn as a whole', async () => {
    const [old, one, two, three] = (await parts(4)) as [string, string, string, string];
    const kit = await record(old, 'supersession', [one, two], { since: '1949' });
    expect(kit.body.relations).toHaveLength(2);
    expect(await record(old, 'supersession', [three])).toMatchObject({ status: 409, body: { code: 'superseded-already' } });
    const { candidates } = await mayServe(old);
    expect(candidates.map(({ as }) => as)).toEqual(['itself', 'in a kit', 'in a kit']);
    expect(candidates.find(({ part }) => part.id === one)?.together).toMatchObject([{ id: two }]);
    expect((await withdraw(kit.body.relations[1]!.id)).body.relations.map(({ withdrawn }) => withdrawn === null)).toEqual([
      false,
      false,
    ]);
    expect((await record(old, 'supersession', [three])).status).toBe(200);
  });
});

describe('what may serve in place of a part', () => {
  it('comes with its path, its reasons and its stock, and what was refused with the reason', async () => {
    const [old, now, same, server1, server2, older] = (await parts(6)) as [string, string, string, string, string, string];
    await record(old, 'supersession', [now]);
    await record(same, 'same as', [now]);
    await record(server1, 'will serve for', [same], { conditions: 'with a 0.5 mm shim' });
    await record(server2, 'will serve for', [server1]);
    await record(older, 'supersession', [old]);
    await stock.lot(same, { quantity: '3' });
    const answer = await mayServe(old);
    expect(answer).toMatchObject({ part: { id: old }, complete: true });
    expect(answer.candidates).toMatchObject([
      { part: { id: old }, as: 'itself', free: '0' },
      { part: { id: now }, as: 'superseding', free: '0', places: '' },
      { part: { id: same }, as: 'superseding', free: '3', places: `Bin ${stock.placeId}` },
      { part: { id: server1 }, as: 'will serve for', conditions: ['with a 0.5 mm shim'] },
    ]);
    expect(answer.candidates.at(-1)?.path.map(({ kind }) => kind)).toEqual(['supersession', 'same as', 'will serve for']);
    expect(answer.refused.map(({ part, why }) => [part.id, why])).toEqual([
      [older, 'older'],
      [server2, 'second will serve for'],
    ]);
    expect((await mayServe(now)).refused.map(({ part }) => part.id)).toContain(old);
  });

  it('says so where more hangs together than was looked at, and answers still', async () => {
    const chain = await parts(230);
    for (const [index, part] of chain.slice(1).entries())
      await stock.query(
        `INSERT INTO relations (id, group_id, kind, from_part_id, to_part_id, evidence_kind, evidence_words, accepted_by)
         VALUES ($1, $1, 'same as', $2, $3, 'told', 'a list', (SELECT id FROM people LIMIT 1))`,
        [newId(), chain[index], part],
      );
    const answer = await mayServe(chain[0]!);
    expect(answer.complete).toBe(false);
    expect(answer.candidates.length).toBeGreaterThan(200);
  });

  it('is asked of a part that is in the books', async () => {
    expect((await owner.get(`/api/parts/${newId()}/may-serve`)).status).toBe(404);
  });
});

describe('a number that was superseded', () => {
  interface Hit {
    id: string;
    exact: boolean;
    successor: { chain: { id: string }[]; current: { id: string }[]; words: string } | null;
  }
  interface PartShown {
    successor: Hit['successor'];
    relations: RelationShown[];
  }

  it('is found, says what it became, and leads to what is current with the chain', async () => {
    const [a, b, c] = (await parts(3)) as [string, string, string];
    await record(a, 'supersession', [b], { since: '1938' });
    await record(b, 'supersession', [c], { since: '1946-06' });
    const { hits } = (await owner.get<{ hits: Hit[] }>(`/api/search?q=${numberOf(a)}`)).body;
    expect(hits).toMatchObject([
      { id: a, exact: true, successor: { chain: [{ id: a }, { id: b }, { id: c }], current: [{ id: c }] } },
    ]);
    expect(hits[0]?.successor?.words).toMatch(/ became .* in 1938\. .* became .* in 1946-06\.$/);
    const current = (await owner.get<{ hits: Hit[] }>(`/api/search?q=${numberOf(c)}`)).body.hits;
    expect(current).toMatchObject([{ id: c, successor: null }]);
  });

  it('shows on its page what it became, and every relation, the withdrawn last', async () => {
    const [a, b, c] = (await parts(3)) as [string, string, string];
    const wrong = (await record(a, 'same as', [c])).body.relations[0]!.id;
    await withdraw(wrong, 'another width');
    await record(a, 'supersession', [b]);
    const page = (await owner.get<PartShown>(`/api/parts/${a}`)).body;
    expect(page.successor).toMatchObject({ current: [{ id: b }] });
    expect(page.relations).toMatchObject([
      { kind: 'supersession', withdrawn: null, evidence },
      { id: wrong, withdrawn: { why: 'another width' } },
    ]);
    expect((await owner.get<PartShown>(`/api/parts/${b}`)).body).toMatchObject({
      successor: null,
      relations: [{ to: { id: b } }],
    });
  });
});
