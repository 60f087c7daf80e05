import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { type BareServer, startBareServer } from '../support/bare-server.js';
import { unitType } from '../support/load-stock.js';
import { type Made, Stock } from '../support/stock.js';

let server: BareServer;
let stock: Stock;
let lot: Made;
let other: Made;
let unit: Made;
let elsewhere: Made;

beforeAll(async () => {
  server = await startBareServer('verify');
  const owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  lot = await stock.lot(await stock.part(), { quantity: '9' });
  other = await stock.lot(await stock.part(), { quantity: '4' });
  unit = await stock.unit();
  elsewhere = await stock.place();
  expect((await owner.post('/api/put-aways', { code: lot.code, placeId: elsewhere.id, quantity: '2' })).status).toBe(200);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

/** What is found while somebody who owns the books has tampered with them; then it is put back. */
const triggered = ['balances', 'movements', 'things', 'units', 'unit_types'];

async function foundAfter(damage: string, repair: string): Promise<string[]> {
  for (const table of triggered) await stock.query(`ALTER TABLE ${table} DISABLE TRIGGER USER`);
  try {
    await stock.query(damage);
    const found = await verifyBooks(server.database);
    await stock.query(repair);
    return found.map(({ what, thing, kept, rebuilt }) => `${what} of ${thing}: kept ${kept}, rebuilt ${rebuilt}`).sort();
  } finally {
    for (const table of triggered) await stock.query(`ALTER TABLE ${table} ENABLE TRIGGER USER`);
  }
}

const balance = (thing: Made, place: string, by: string): string =>
  `UPDATE balances SET quantity = quantity ${by} WHERE thing_id = '${thing.id}' AND holder_id = '${place}'`;

describe('the books rebuilt', () => {
  afterEach(async () => {
    expect(await verifyBooks(server.database)).toEqual([]);
  });

  it('tell of a balance that is too high', async () => {
    expect(await foundAfter(balance(lot, stock.placeId, '+ 1'), balance(lot, stock.placeId, '- 1'))).toEqual([
      `balance of ${lot.code}: kept 8.0000, rebuilt 7.0000`,
      `conservation of ${lot.code}: kept 1.0000, rebuilt 0`,
    ]);
  });

  it('tell of what lies in another place than the movements say, though the sums are right', async () => {
    const swap = (by: '+' | '-', back: '+' | '-') =>
      `UPDATE balances SET quantity = quantity + CASE holder_id WHEN '${stock.placeId}' THEN ${by}0.0001 ELSE ${back}0.0001 END
        WHERE thing_id = '${lot.id}' AND holder_id IN ('${stock.placeId}', '${elsewhere.id}')`;
    expect(await foundAfter(swap('+', '-'), swap('-', '+'))).toEqual([
      `balance of ${lot.code}: kept 1.9999, rebuilt 2.0000`,
      `balance of ${lot.code}: kept 7.0001, rebuilt 7.0000`,
    ]);
  });

  it('tell of a balance that is not there, and of one that nothing moved', async () => {
    const [row] = await stock.query<{ single: boolean; boundary: boolean; quantity: string }>(
      `SELECT single, boundary, quantity::text AS quantity FROM balances WHERE thing_id = '${lot.id}' AND holder_id = '${elsewhere.id}'`,
    );
    expect(
      await foundAfter(
        `DELETE FROM balances WHERE thing_id = '${lot.id}' AND holder_id = '${elsewhere.id}'`,
        `INSERT INTO balances VALUES ('${lot.id}', '${elsewhere.id}', ${row!.single}, ${row!.boundary}, ${row!.quantity}, true)`,
      ),
    ).toContain(`balance of ${lot.code}: kept 0, rebuilt 2.0000`);
    expect(
      await foundAfter(
        `INSERT INTO balances VALUES ('${other.id}', '${elsewhere.id}', false, false, 3, true)`,
        `DELETE FROM balances WHERE thing_id = '${other.id}' AND holder_id = '${elsewhere.id}'`,
      ),
    ).toContain(`balance of ${other.code}: kept 3.0000, rebuilt 0`);
  });

  it('tell of a movement that was taken away or changed', async () => {
    const one = `(SELECT id FROM movements WHERE thing_id = '${lot.id}' ORDER BY sequence DESC LIMIT 1)`;
    expect(
      await foundAfter(
        `UPDATE movements SET quantity = 1 WHERE id = ${one}`,
        `UPDATE movements SET quantity = 2 WHERE id = ${one}`,
      ),
    ).toEqual([`balance of ${lot.code}: kept 2.0000, rebuilt 1.0000`, `balance of ${lot.code}: kept 7.0000, rebuilt 8.0000`]);
    await stock.query(`CREATE TABLE put_by AS SELECT * FROM movements WHERE thing_id = '${other.id}'`);
    expect(
      await foundAfter(
        `DELETE FROM movements WHERE thing_id = '${other.id}'`,
        'INSERT INTO movements OVERRIDING SYSTEM VALUE SELECT * FROM put_by',
      ),
    ).toEqual(
      expect.arrayContaining([
        `held of ${other.code}: kept 4.0000, rebuilt 0`,
        `balance of ${other.code}: kept 4.0000, rebuilt 0`,
      ]),
    );
  });

  it('tell of a movement that is not said to have come to us', async () => {
    const arrived = `thing_id = '${other.id}' AND crossing = 1`;
    expect(
      await foundAfter(
        `UPDATE movements SET crossing = 0 WHERE ${arrived}`,
        `UPDATE movements SET crossing = 1 WHERE thing_id = '${other.id}'`,
      ),
    ).toEqual([`crossing of ${other.code}: kept 0.0000, rebuilt 4.0000`]);
  });

  it('tell of counters that were raised', async () => {
    for (const [counter, words] of [
      ['held', `held of ${other.code}: kept 5.0000, rebuilt 4.0000`],
      ['awaited', `awaited of ${other.code}: kept 1.0000, rebuilt 0`],
      ['claimed', `claimed of ${other.code}: kept 1.0000, rebuilt 0`],
    ])
      expect(
        await foundAfter(
          `UPDATE things SET ${counter} = ${counter} + 1 WHERE id = '${other.id}'`,
          `UPDATE things SET ${counter} = ${counter} - 1 WHERE id = '${other.id}'`,
        ),
      ).toEqual([words]);
  });

  it('tell of a unit that would be in two places by its movements', async () => {
    const found = await foundAfter(
      `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
       SELECT gen_random_uuid(), command_key, thing_id, 1, from_holder_id, '${elsewhere.id}', 'twice', now() FROM movements WHERE thing_id = '${unit.id}'`,
      `DELETE FROM movements WHERE thing_id = '${unit.id}' AND reason = 'twice'`,
    );
    expect(found).toEqual(
      expect.arrayContaining([
        `holders of a single thing of ${unit.code}: kept 2, rebuilt 1`,
        `held of ${unit.code}: kept 1.0000, rebuilt 2.0000`,
      ]),
    );
  });

  it('tell of a unit that would be looked for by other words than its own', async () => {
    const found = await foundAfter(
      `UPDATE units SET sought = '''anchor''' WHERE thing_id = '${unit.id}'`,
      `UPDATE units SET sought = words_of_unit(unit_type_id, words, marks) WHERE thing_id = '${unit.id}'`,
    );
    expect(found).toHaveLength(1);
    expect(found[0]).toMatch(new RegExp(`^words of a unit of ${unit.code}: kept 'anchor', rebuilt .*axle`));
  });

  it('tell of a type that would be looked for by other words than its own', async () => {
    await unitType(stock);
    const found = await foundAfter(
      `UPDATE unit_types SET sought = '''anchor'''`,
      'UPDATE unit_types SET sought = words_of_type(maker_id, model, variant, kind)',
    );
    expect(found[0]).toMatch(/^words of a type of .*: kept 'anchor', rebuilt .*axle/);
  });
});
