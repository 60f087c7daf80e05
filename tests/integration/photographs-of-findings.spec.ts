import { extract } from 'tar-stream';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { phonePhotograph, sendPicture } from '../support/pictures.js';
import { type Made, Stock } from '../support/stock.js';
import { StripBench, unitTypeOf } from '../support/strip-bench.js';

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let unit: Made;
let bench: StripBench;

beforeAll(async () => {
  server = await startBareServer('findingpics');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  unit = await stock.unit({ unitTypeId: await unitTypeOf(stock, [{ name: 'Thrust bearing' }, { name: 'Worm' }]) });
  bench = await StripBench.open(owner, unit);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const findingsOf = async (position: number) =>
  (await bench.shown()).components.find((each) => each.position === position)!.findings;

describe('a photograph of a finding', () => {
  it('waits until the finding is recorded, and stands beside it then, not among those of the unit', async () => {
    const id = newId();
    const photograph = await phonePhotograph(320, 240);
    expect((await sendPicture(server.url, owner, id, photograph)).status).toBe(404);
    await bench.recorded(1, 'scrap', { id, finding: 'brinelled' });
    const sent = await sendPicture(server.url, owner, id, photograph, { words: 'the track' });
    expect(sent).toMatchObject({ status: 200, body: { subjectId: id, shows: 'finding' } });
    expect(await findingsOf(1)).toMatchObject([
      { id, pictures: [{ id: sent.body.id, words: 'the track', takenBy: 'Edie Marrack' }] },
    ]);
    expect(await findingsOf(2)).toEqual([]);
    const thing = await owner.get<{ pictures: unknown[] }>(`/api/things/${unit.id}`);
    expect(thing.body.pictures).toEqual([]);
  });

  it('stays with the finding that was put right, and another is taken of the one in its place', async () => {
    const [first] = await findingsOf(1);
    const id = newId();
    await bench.recorded(1, 'replace', { id, finding: 'worn', supersedesId: first!.id });
    await sendPicture(server.url, owner, id, await phonePhotograph(310, 240));
    const findings = await findingsOf(1);
    expect(findings.map((each) => [each.superseded, each.pictures.length])).toEqual([
      [false, 1],
      [true, 1],
    ]);
    expect(findings[0]!.pictures[0]!.subjectId).toBe(id);
  });

  it('is struck out, or said to show something else, as any other; it stays one of a finding', async () => {
    const picture = (await findingsOf(1))[0]!.pictures[0]!;
    const edited = await owner.patch(
      `/api/pictures/${picture.id}`,
      { words: 'both tracks', ofMarks: true },
      { ifMatch: picture.version },
    );
    expect(edited).toMatchObject({ status: 200, body: { words: 'both tracks', shows: 'finding' } });
    expect((await owner.post(`/api/pictures/${picture.id}/strike`, { reason: 'out of focus' })).status).toBe(200);
    expect((await findingsOf(1))[0]!.pictures[0]).toMatchObject({ words: 'both tracks', struckOut: { why: 'out of focus' } });
  });

  it('goes into an archive under its unit, for findings are in no file', async () => {
    const answer = await fetch(`${server.url}/api/photograph-archive`, { headers: { cookie: owner.cookie ?? '' } });
    const reader = extract();
    reader.end(Buffer.from(await answer.arrayBuffer()));
    let list = '';
    for await (const entry of reader) {
      for await (const piece of entry) if (entry.header.name === 'photographs.csv') list += String(piece);
    }
    const rows = list.trim().split('\r\n').slice(1);
    expect(rows).toHaveLength(2);
    expect(rows.every((row) => row.includes(`,unit,${unit.code},finding,`) || row.includes(`,unit,${unit.id},finding,`))).toBe(
      true,
    );
  });
});
