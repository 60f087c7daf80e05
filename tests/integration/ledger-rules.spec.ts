import { jest } from '@jest/globals';
import pg from 'pg';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { countDifferenceId } from '../../apps/api/src/stores/ledger.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { type Made, Stock } from '../support/stock.js';

// These statements go past every line of our code: what refuses here is the database itself.

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let ownerLogin: pg.Client;
let servingLogin: pg.Client;
let commandKey: string;

beforeAll(async () => {
  server = await startBareServer('rules');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  ownerLogin = new pg.Client({ connectionString: server.testDatabase.ownerUrl });
  servingLogin = new pg.Client({ connectionString: server.testDatabase.servingUrl });
  await Promise.all([ownerLogin.connect(), servingLogin.connect()]);
  commandKey = newId();
  await servingLogin.query("INSERT INTO commands (key, route, request_hash) VALUES ($1, 'test', '')", [commandKey]);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await Promise.all([ownerLogin.end(), servingLogin.end(), stock.close()]);
  await server.stop();
});

const logins = ['the serving login', 'the owner'] as const;
const clientOf = (login: (typeof logins)[number]): pg.Client => (login === 'the owner' ? ownerLogin : servingLogin);

function moveBy(client: pg.Client, thingId: string, from: string, to: string, quantity = '1'): Promise<unknown> {
  return client.query(
    `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
     VALUES ($1, $2, $3, $4, $5, $6, 'test', now())`,
    [newId(), commandKey, thingId, quantity, from, to],
  );
}

function claimBy(client: pg.Client, thingId: string, claimantId: string, quantity: string): Promise<unknown> {
  return client.query('INSERT INTO claims (id, thing_id, claimant_id, quantity) VALUES ($1, $2, $3, $4)', [
    newId(),
    thingId,
    claimantId,
    quantity,
  ]);
}

async function countersOf(thing: Made): Promise<unknown> {
  const [row] = await stock.query(
    'SELECT trim_scale(held)::text AS held, trim_scale(claimed)::text AS claimed FROM things WHERE id = $1',
    [thing.id],
  );
  return row;
}

describe.each(logins)('%s', (login) => {
  it('cannot take more from a place than lies there', async () => {
    const lot = await stock.lot(null, { quantity: '3' });
    await expect(moveBy(clientOf(login), lot.id, stock.placeId, countDifferenceId, '4')).rejects.toMatchObject({ code: '23514' });
    const elsewhere = await stock.place();
    await expect(moveBy(clientOf(login), lot.id, elsewhere.id, stock.placeId)).rejects.toMatchObject({
      code: '23514',
      constraint: 'nothing_below_none',
    });
    await expect(moveBy(clientOf(login), lot.id, stock.placeId, elsewhere.id, '4')).rejects.toMatchObject({
      constraint: 'nothing_below_none',
    });
    expect(await countersOf(lot)).toEqual({ held: '3', claimed: '0' });
  });

  it('cannot give a unit a second holder, nor two of it to one', async () => {
    const unit = await stock.unit();
    const elsewhere = await stock.place();
    await expect(moveBy(clientOf(login), unit.id, countDifferenceId, elsewhere.id)).rejects.toMatchObject({
      code: '23505',
      constraint: 'balances_one_holder_of_a_single_thing',
    });
    await expect(moveBy(clientOf(login), unit.id, countDifferenceId, stock.placeId)).rejects.toMatchObject({
      code: '23514',
      constraint: 'a_single_thing_is_one',
    });
    await moveBy(clientOf(login), unit.id, stock.placeId, elsewhere.id);
    expect(await countersOf(unit)).toEqual({ held: '1', claimed: '0' });
  });

  it('cannot move nothing, less than nothing, or from a holder to itself', async () => {
    const lot = await stock.lot(null, { quantity: '3' });
    const elsewhere = await stock.place();
    for (const quantity of ['0', '-1'])
      await expect(moveBy(clientOf(login), lot.id, stock.placeId, elsewhere.id, quantity)).rejects.toMatchObject({
        code: '23514',
      });
    await expect(moveBy(clientOf(login), lot.id, stock.placeId, stock.placeId)).rejects.toMatchObject({ code: '23514' });
  });

  it('cannot promise more than is held, nor move out what is promised', async () => {
    const lot = await stock.lot(null, { quantity: '3' });
    await claimBy(clientOf(login), lot.id, newId(), '2');
    await expect(claimBy(clientOf(login), lot.id, newId(), '2')).rejects.toMatchObject({
      code: '23514',
      constraint: 'claims_within_held',
    });
    await expect(moveBy(clientOf(login), lot.id, stock.placeId, countDifferenceId, '2')).rejects.toMatchObject({
      constraint: 'claims_within_held',
    });
    await expect(clientOf(login).query('UPDATE claims SET quantity = 4 WHERE thing_id = $1', [lot.id])).rejects.toMatchObject({
      constraint: 'claims_within_held',
    });
    expect(await countersOf(lot)).toEqual({ held: '3', claimed: '2' });
  });

  it('cannot promise a unit to two claimants', async () => {
    const unit = await stock.unit();
    await claimBy(clientOf(login), unit.id, newId(), '1');
    await expect(claimBy(clientOf(login), unit.id, newId(), '1')).rejects.toMatchObject({ constraint: 'claims_within_held' });
  });

  it('cannot hand a claim on to another thing or claimant, nor strike it out', async () => {
    const [lot, other] = [await stock.lot(null, { quantity: '3' }), await stock.lot(null, { quantity: '3' })];
    const claimant = newId();
    await claimBy(clientOf(login), lot.id, claimant, '1');
    const client = clientOf(login);
    await expect(client.query('UPDATE claims SET claimant_id = $2 WHERE thing_id = $1', [lot.id, newId()])).rejects.toMatchObject(
      { code: 'CW002' },
    );
    await expect(client.query('UPDATE claims SET thing_id = $2 WHERE thing_id = $1', [lot.id, other.id])).rejects.toMatchObject({
      code: 'CW002',
    });
    await expect(client.query('DELETE FROM claims WHERE thing_id = $1', [lot.id])).rejects.toMatchObject({
      code: login === 'the owner' ? 'CW001' : '42501',
    });
  });

  it('cannot say of a part that was fitted once that it is old stock', async () => {
    const lot = await stock.lot(await stock.part(), { source: 'old stock' });
    await expect(clientOf(login).query('UPDATE lots SET fitted_once = true WHERE thing_id = $1', [lot.id])).rejects.toMatchObject(
      { code: '23514', constraint: 'fitted_once_is_never_old_stock' },
    );
  });
});

const kept = [
  'movements',
  'commands',
  'outcomes',
  'fittings',
  'fitting_endings',
  'findings',
  'dates_given',
  'hold_changes',
  'sign_in_attempts',
];

describe('what is kept for good', () => {
  it('is there to be changed: the refusals below are of rows that exist', async () => {
    const partId = await stock.part({ name: 'Thrust washer, planet' });
    const lot = await stock.lot(partId, { quantity: '2' });
    const job = await stock.job([{ partId, quantity: '2' }]);
    const fitted = await owner.post<{ fittingId: string; actId: string }>('/api/fits', { code: lot.code, jobId: job.id });
    expect(fitted.status).toBe(200);
    expect((await owner.post(`/api/acts/${fitted.body.actId}/take-back`, {})).status).toBe(200);
    for (const table of ['movements', 'commands', 'outcomes', 'fittings', 'fitting_endings'])
      expect((await stock.query(`SELECT 1 FROM ${table} LIMIT 1`)).length).toBe(1);
  });

  it.each(kept)('%s: no UPDATE, no DELETE, no TRUNCATE, by neither login', async (table) => {
    const [column] = await stock.query<{ name: string }>(
      `SELECT attname AS name FROM pg_attribute WHERE attrelid = $1::regclass AND attnum > 0 AND attidentity = '' ORDER BY attnum LIMIT 1`,
      [table],
    );
    const statements = [
      `UPDATE ${table} SET ${column!.name} = ${column!.name}`,
      `DELETE FROM ${table}`,
      `TRUNCATE ${table} CASCADE`,
    ];
    for (const statement of statements) {
      await expect(ownerLogin.query(statement)).rejects.toMatchObject({ code: 'CW001' });
      await expect(servingLogin.query(statement)).rejects.toMatchObject({ code: '42501' });
    }
  });

  it.each([
    ['balances', 'UPDATE balances SET quantity = 1'],
    ['balances', 'DELETE FROM balances'],
    ['balances', `INSERT INTO balances VALUES ('${newId()}', '${countDifferenceId}', false, true, 1, false)`],
    ['the counters of a thing', 'UPDATE things SET held = 5'],
    ['the counters of a thing', 'UPDATE things SET claimed = 0'],
    ['the kind of a thing', "UPDATE things SET kind = 'L'"],
    ['things', 'DELETE FROM things'],
    ['codes', 'DELETE FROM codes'],
    ['the triggers', 'ALTER TABLE movements DISABLE TRIGGER ALL'],
    ['the rights of others', 'SET ROLE corewright_owner'],
    ['the triggers, for its session', "SET session_replication_role = 'replica'"],
  ])('the serving login cannot write %s: %s', async (_, statement) => {
    await expect(servingLogin.query(statement)).rejects.toMatchObject({ code: expect.stringMatching(/^(42501|22023)$/) });
  });

  it('a code once given is nobody else’s', async () => {
    const lot = await stock.lot(null);
    await expect(
      servingLogin.query("INSERT INTO codes (code, kind, subject_id) VALUES ($1, 'L', $2)", [lot.code, newId()]),
    ).rejects.toMatchObject({ code: '23505' });
  });

  it('a movement is reversed once', async () => {
    const lot = await stock.lot(null, { quantity: '3' });
    const elsewhere = await stock.place();
    await moveBy(servingLogin, lot.id, stock.placeId, elsewhere.id);
    const [first] = await stock.query<{ id: string }>(
      'SELECT id FROM movements WHERE thing_id = $1 ORDER BY sequence DESC LIMIT 1',
      [lot.id],
    );
    const reverse = (): Promise<unknown> =>
      servingLogin.query(
        `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at, reverses_id)
         VALUES ($1, $2, $3, 1, $4, $5, 'taken back', now(), $6)`,
        [newId(), commandKey, lot.id, elsewhere.id, stock.placeId, first!.id],
      );
    await reverse();
    await expect(reverse()).rejects.toMatchObject({ code: '23505' });
  });
});

describe('new old stock', () => {
  it('is none any more once it was fitted and taken out, nor is what a person keys over it', async () => {
    const partId = await stock.part({ name: 'Pinion bearing cup' });
    const lot = await stock.lot(partId, { quantity: '2', source: 'old stock' });
    const job = await stock.job([{ partId }]);
    const fitted = await owner.post<{ fittingId: string }>('/api/fits', { code: lot.code, jobId: job.id });
    const lotId = newId();
    const out = await owner.post(`/api/fittings/${fitted.body.fittingId}/removal`, {
      lotId,
      quantity: '1',
      placeId: stock.placeId,
      why: 'too much end float',
    });
    expect(out.status).toBe(200);
    const [row] = await stock.query(
      'SELECT source, fitted_once, packet_condition, taken_from_lot_id FROM lots WHERE thing_id = $1',
      [lotId],
    );
    expect(row).toEqual({ source: 'harvested', fitted_once: true, packet_condition: 'none', taken_from_lot_id: lot.id });
    await expect(servingLogin.query("UPDATE lots SET source = 'old stock' WHERE thing_id = $1", [lotId])).rejects.toMatchObject({
      constraint: 'fitted_once_is_never_old_stock',
    });
    await expect(servingLogin.query('UPDATE lots SET fitted_once = false WHERE thing_id = $1', [lotId])).rejects.toMatchObject({
      constraint: 'fitted_once_stays',
    });
    // The rest of the old lot, which never left its packet, is what it was.
    expect(await stock.query('SELECT source, fitted_once FROM lots WHERE thing_id = $1', [lot.id])).toEqual([
      { source: 'old stock', fitted_once: false },
    ]);
  });
});

describe('a person who may only look', () => {
  it('changes no stock', async () => {
    const viewer = await addPerson(server, owner, 'viewer', 'mary', 'Mary Fenwright');
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '2' });
    const job = await stock.job([{ partId }]);
    expect(await viewer.post('/api/fits', { code: lot.code, jobId: job.id })).toMatchObject({
      status: 403,
      body: { code: 'not-allowed' },
    });
    expect(await countersOf(lot)).toEqual({ held: '2', claimed: '0' });
  });
});
