import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { Grade } from '../../libs/contracts/src/catalogue.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { keyRow, openLoad, type RowShown, unitRow } from '../support/load-stock.js';
import type { Problem } from '../support/strip-bench.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;

beforeAll(async () => {
  server = await startBareServer('grades');
  owner = await server.setUp();
});
afterAll(() => server.stop());

const meaning = 'Complete, turns freely.';
const put = (id: string, grade: Record<string, unknown>, ifMatch?: number) =>
  owner.put<Grade & Problem>(
    `/api/grades/${id}`,
    { scale: 'core', meaning, rank: 99, ...grade },
    ifMatch === undefined ? {} : { ifMatch },
  );
const scale = async () =>
  (await owner.get<{ grades: Grade[] }>('/api/grades')).body.grades.filter((grade) => grade.scale === 'core');
const letters = async () => (await scale()).map(({ letter }) => letter).join('');
const gradeOf = async (letter: string): Promise<Grade> => {
  const found = (await scale()).find((grade) => grade.letter === letter);
  if (!found) throw new Error(`There is no grade ${letter}`);
  return found;
};

describe('the scale for cores', () => {
  it('is made grade by grade, each where it is put, the others making room', async () => {
    for (const letter of ['A', 'C']) expect((await put(newId(), { letter })).status).toBe(200);
    const between = await put(newId(), { letter: 'B', rank: 2 });
    expect(between.body).toMatchObject({ letter: 'B', rank: 2, retired: false, version: 1 });
    expect((await scale()).map(({ letter, rank }) => `${letter}${rank}`)).toEqual(['A1', 'B2', 'C3']);
  });

  it('has each letter once, small or capital', async () => {
    const again = await put(newId(), { letter: 'b' });
    expect(again.status).toBe(422);
    expect(again.body.detail).toBe('Grade B is on this scale already.');
  });

  it('gives a letter that nothing bears another, and what it means other words', async () => {
    const b = await gradeOf('B');
    const renamed = await put(b.id, { letter: 'B+', rank: 2, meaning: 'Near it.' }, b.version);
    expect(renamed.body).toMatchObject({ letter: 'B+', rank: 2, meaning: 'Near it.', version: 2 });
    await put(b.id, { letter: 'B', rank: 2 }, 2);
  });

  it('moves one past the others, and tells whoever has one of those open', async () => {
    const [a, c] = [await gradeOf('A'), await gradeOf('C')];
    expect((await put(c.id, { letter: 'C', rank: 1 }, c.version)).body).toMatchObject({ rank: 1, version: c.version + 1 });
    expect(await letters()).toBe('CAB');
    const unseen = await put(a.id, { letter: 'A', rank: 1 }, a.version);
    expect(unseen).toMatchObject({ status: 412, body: { code: 'changed-meanwhile' } });
    await put(c.id, { letter: 'C', rank: 3 }, c.version + 1);
    expect(await letters()).toBe('ABC');
  });

  it('is not overwritten unsaid by the second of two who edit one grade', async () => {
    const b = await gradeOf('B');
    const both = await Promise.all([
      put(b.id, { letter: 'B', rank: 2, meaning: 'One.' }, b.version),
      put(b.id, { letter: 'B', rank: 2, meaning: 'Two.' }, b.version),
    ]);
    expect(both.map(({ status }) => status).sort()).toEqual([200, 412]);
    const without = await put(b.id, { letter: 'B', rank: 2 });
    expect(without.status).toBe(428);
    expect(await put(newId(), { letter: 'Q' }, 1)).toMatchObject({ status: 404 });
  });

  it('keeps its ranks apart when two add a grade at once', async () => {
    const two = await Promise.all([put(newId(), { letter: 'X', rank: 1 }), put(newId(), { letter: 'Y', rank: 1 })]);
    expect(two.map(({ status }) => status)).toEqual([200, 200]);
    expect((await scale()).map(({ rank }) => rank)).toEqual([1, 2, 3, 4, 5]);
  });

  it.each([
    ['no meaning', { letter: 'Z', meaning: '' }],
    ['no letter', { letter: ' ' }],
    ['a rank of nought', { letter: 'Z', rank: 0 }],
    ['another scale than there is', { letter: 'Z', scale: 'tool' }],
  ])('takes no grade with %s', async (_, grade) => {
    expect((await put(newId(), grade)).status).toBe(422);
  });

  it('stays on its own scale, and is edited by those who keep the books', async () => {
    const b = await gradeOf('B');
    expect(await put(b.id, { letter: 'B', scale: 'part' }, b.version)).toMatchObject({ status: 422 });
    const bench = await addPerson(server, owner, 'bench', 'tomh', 'Tom Hasleby');
    expect((await bench.put(`/api/grades/${newId()}`, { scale: 'core', letter: 'Z', rank: 1, meaning })).status).toBe(403);
  });
});

describe('a scale that is edited while a load is being keyed', () => {
  let loadId: string;
  let graded: RowShown;
  const change = (row: RowShown, fields: Record<string, unknown>) =>
    owner.put<RowShown & Problem>(`/api/loads/${loadId}/rows/${row.id}`, unitRow(fields), { ifMatch: row.version });

  beforeAll(async () => {
    loadId = (await openLoad(owner)).id;
    graded = (await keyRow(owner, loadId, unitRow({ grade: 'b' }))).body;
  });

  it('keeps the letter of what was graded', async () => {
    expect(graded.grade).toBe('B');
    const b = await gradeOf('B');
    const renamed = await put(b.id, { letter: 'S', rank: b.rank }, b.version);
    expect(renamed).toMatchObject({ status: 409, body: { code: 'grade-in-use' } });
    expect(renamed.body.detail).toContain('borne by 1 unit');
    expect((await put(b.id, { letter: 'B', rank: b.rank, meaning: 'Worn.' }, b.version)).status).toBe(200);
  });

  it('refuses in words, for the cell, what is no longer offered, and takes the row with what is', async () => {
    const b = await gradeOf('B');
    expect((await put(b.id, { letter: 'B', rank: b.rank, retired: true }, b.version)).body.retired).toBe(true);
    const id = newId();
    const refused = await keyRow(owner, loadId, unitRow({ position: 2, grade: 'B' }), id);
    expect(refused).toMatchObject({ status: 422, body: { values: { fields: [{ path: 'grade' }] } } });
    expect((refused.body as unknown as Problem).detail).toMatch(/^Grade B is no longer offered\. Key .*C, or leave it empty\.$/);
    expect((await keyRow(owner, loadId, unitRow({ position: 2, grade: 'C' }), id)).status).toBe(200);
  });

  it('lets the row that bears it be put right with it, and shows it there', async () => {
    const again = await change(graded, { grade: 'b', note: 'seen again' });
    expect(again).toMatchObject({ status: 200, body: { grade: 'B' } });
    expect(await put(newId(), { letter: 'B' })).toMatchObject({
      body: { detail: 'Grade B is on this scale already, though it is no longer offered: offer it again.' },
    });
  });

  it('is waited for by a row that is being given the grade, so that no unit bears a letter that nobody has', async () => {
    const [row, renamed] = await Promise.all([
      keyRow(owner, loadId, unitRow({ position: 3, grade: 'X' })),
      gradeOf('X').then((x) => put(x.id, { letter: 'W', rank: x.rank }, x.version)),
    ]);
    const known = (await scale()).map(({ letter }) => letter);
    if (row.status === 200) expect(known).toContain(row.body.grade);
    else expect(renamed.status).toBe(200);
  });
});
