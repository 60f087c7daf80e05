import { jest } from '@jest/globals';
import { SignInLinks } from '../../apps/api/src/people/sign-in-links.js';
import { WorkshopClock } from '../../apps/api/src/people/workshop.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import {
  addPerson,
  type BareServer,
  ownerPassPhrase,
  startBareServer,
  tokenIn,
  type Visitor,
  workshopKeyed,
} from '../support/bare-server.js';

// A busy machine is slow, not wrong.
jest.setTimeout(60_000);

interface PersonShown {
  id: string;
  displayName: string;
  role: string;
  active: boolean;
  hasPassPhrase: boolean;
  version: number;
  badge: string;
}

let server: BareServer;
let owner: Visitor;

beforeAll(async () => {
  server = await startBareServer('people');
});
afterAll(() => server.stop());

describe('the set-up of a workshop', () => {
  it('says that there is none yet', async () => {
    const answer = await server.visitor().get('/api/workshop');
    expect(answer.body).toMatchObject({
      needsSetUp: true,
      name: '',
      isExample: false,
      today: expect.stringMatching(/^\d{4}-\d\d-\d\d$/),
    });
  });

  it('has no account before it: nobody can sign in by any name', async () => {
    const [count] = await server.database.rows<{ people: number }>('SELECT count(*) AS people FROM people');
    expect(count).toEqual({ people: 0 });
    const answer = await server.visitor().signIn('owner', 'owner of this workshop');
    expect(answer).toMatchObject({ status: 403, body: { code: 'sign-in-refused' } });
  });

  it('refuses a token that nobody printed', async () => {
    const answer = await server
      .visitor()
      .post('/api/set-up', { ...workshopKeyed, token: 'AAAAAAAAAAAAAAAAAAAAAA' }, { key: null });
    expect(answer).toMatchObject({ status: 404, body: { code: 'link-unknown' } });
  });

  it('keeps the token good when what was keyed is refused', async () => {
    const token = tokenIn(await server.app.get(SignInLinks).pathForTerminal(false));
    const wrongZone = await server
      .visitor()
      .post('/api/set-up', { ...workshopKeyed, token, timeZone: 'Europe/Orrisden' }, { key: null });
    expect(wrongZone).toMatchObject({ status: 422, body: { code: 'bad-input', values: { fields: [{ path: 'timeZone' }] } } });
    const short = await server.visitor().post('/api/set-up', { ...workshopKeyed, token, passPhrase: 'short' }, { key: null });
    expect(short).toMatchObject({ status: 422, body: { values: { fields: [{ path: 'passPhrase' }] } } });
    owner = server.visitor();
    const answer = await owner.post('/api/set-up', { ...workshopKeyed, token }, { key: null });
    expect(answer).toMatchObject({ status: 200, body: { displayName: 'Edie Marrack', signInName: 'edie', role: 'owner' } });
    expect((await owner.get('/api/me')).body).toEqual(answer.body);
  });

  it('is done once: the token is used up, and a fresh one finds the workshop there', async () => {
    expect(await server.app.get(SignInLinks).pathForTerminal(false)).toBeNull();
    expect(await server.app.get(SignInLinks).pathForTerminal(true)).toBeNull();
    expect((await server.visitor().get('/api/workshop')).body).toMatchObject({
      needsSetUp: false,
      name: 'Orrisden Axle & Gear',
      currency: 'GBP',
    });
    const [row] = await server.database.rows<{ people: number }>('SELECT count(*) AS people FROM people');
    expect(row).toEqual({ people: 1 });
  });

  it('stands in the command log, without the token or the pass phrase', async () => {
    const rows = await server.database.rows(
      "SELECT route, status, body FROM commands JOIN outcomes ON command_key = key WHERE route = 'POST /api/set-up'",
    );
    expect(rows).toEqual([{ route: 'POST /api/set-up', status: 200, body: {} }]);
  });

  it('tells the day in its own time zone', async () => {
    const clock = new WorkshopClock(server.database, () => new Date('2026-07-01T23:30:00Z'));
    await expect(clock.today()).resolves.toBe('2026-07-02');
  });
});

describe('the people of a workshop', () => {
  it('are added with a badge and without a pass phrase; sent twice counts once', async () => {
    const key = newId();
    const body = { id: newId(), displayName: 'Wilf Peskett', signInName: ' Wilf ', role: 'bench' };
    const first = await owner.post<PersonShown>('/api/people', body, { key });
    expect(first).toMatchObject({
      status: 200,
      body: { displayName: 'Wilf Peskett', signInName: 'wilf', hasPassPhrase: false, active: true, version: 1 },
    });
    expect(first.body.badge).toMatch(/^B\d{8}$/);
    expect(first.headers.get('etag')).toBe('"1"');
    const second = await owner.post('/api/people', body, { key });
    expect(second.body).toEqual(first.body);
    const { people } = (await owner.get<{ people: PersonShown[] }>('/api/people')).body;
    expect(people.map((person) => person.displayName)).toEqual(['Edie Marrack', 'Wilf Peskett']);
    expect(new Set(people.map((person) => person.badge)).size).toBe(2);
  });

  it('have sign-in names of their own', async () => {
    const answer = await owner.post('/api/people', {
      id: newId(),
      displayName: 'Another Wilf',
      signInName: 'WILF',
      role: 'viewer',
    });
    expect(answer).toMatchObject({ status: 409, body: { code: 'name-taken', detail: expect.stringContaining('Wilf Peskett') } });
  });

  it('choose a pass phrase through a link that opens once', async () => {
    const tom = await addPerson(server, owner, 'stores', 'tom', 'Tom Hasleby');
    expect((await tom.get('/api/me')).body).toMatchObject({ displayName: 'Tom Hasleby', role: 'stores' });
    const link = await owner.post<{ path: string; expiresAt: string }>(`/api/people/${tom.id}/pass-phrase-link`, {});
    expect(link.body.path).toMatch(/^\/pass-phrase\?token=[\w-]{22}$/);
    expect(Date.parse(link.body.expiresAt)).toBeGreaterThan(Date.now() + 23 * 3600_000);
    const token = tokenIn(link.body.path);
    const choose = () =>
      server.visitor().post('/api/pass-phrase', { token, passPhrase: 'bevel pinion seventeen' }, { key: null });
    expect(await choose()).toMatchObject({ status: 200 });
    expect(await choose()).toMatchObject({ status: 410, body: { code: 'link-used' } });
    // Whoever was signed in with the old pass phrase is out.
    expect((await tom.get('/api/me')).status).toBe(401);
    expect((await server.visitor().signIn('tom', `${ownerPassPhrase} of tom`)).status).toBe(403);
    expect((await server.visitor().signIn('TOM ', 'bevel pinion seventeen')).status).toBe(200);
  });

  it('get one link at a time, which is shown once and kept nowhere', async () => {
    const mary = await addPerson(server, owner, 'viewer', 'mary', 'Mary Fenwright');
    const key = newId();
    const first = await owner.post<{ path: string }>(`/api/people/${mary.id}/pass-phrase-link`, {}, { key });
    const again = await owner.post(`/api/people/${mary.id}/pass-phrase-link`, {}, { key });
    expect(again).toMatchObject({ status: 409, body: { code: 'link-shown-once' } });
    const token = tokenIn(first.body.path);
    const found = await server.database.rows("SELECT 1 FROM outcomes WHERE body::text LIKE '%' || $1 || '%'", [token]);
    expect(found).toEqual([]);
    await owner.post(`/api/people/${mary.id}/pass-phrase-link`, {});
    const late = await server.visitor().post('/api/pass-phrase', { token, passPhrase: 'an older link than this' }, { key: null });
    expect(late).toMatchObject({ status: 410, body: { code: 'link-used' } });
  });

  it('are edited by version: the second of two browsers is told what the first wrote', async () => {
    const people = (await owner.get<{ people: PersonShown[] }>('/api/people')).body.people;
    const wilf = people.find((person) => person.displayName === 'Wilf Peskett')!;
    const change = { displayName: 'Wilf Peskett', role: 'stores', active: true };
    expect(await owner.patch(`/api/people/${wilf.id}`, change)).toMatchObject({
      status: 428,
      body: { code: 'if-match-missing' },
    });
    const first = await owner.patch(`/api/people/${wilf.id}`, change, { ifMatch: wilf.version });
    expect(first).toMatchObject({ status: 200, body: { role: 'stores', version: wilf.version + 1 } });
    const second = await owner.patch(`/api/people/${wilf.id}`, { ...change, role: 'viewer' }, { ifMatch: wilf.version });
    expect(second).toMatchObject({ status: 412, body: { code: 'changed-meanwhile', values: { current: { role: 'stores' } } } });
    expect(await owner.patch(`/api/people/${newId()}`, change, { ifMatch: 1 })).toMatchObject({ status: 404 });
  });

  it('are signed out when they are switched off, and their links are void', async () => {
    const sandiman = await addPerson(server, owner, 'bench', 'sandiman', 'R. Sandiman');
    const link = await owner.post<{ path: string }>(`/api/people/${sandiman.id}/pass-phrase-link`, {});
    const people = (await owner.get<{ people: PersonShown[] }>('/api/people')).body.people;
    const { version } = people.find((person) => person.id === sandiman.id)!;
    const off = await owner.patch(
      `/api/people/${sandiman.id}`,
      { displayName: 'R. Sandiman', role: 'bench', active: false },
      { ifMatch: version },
    );
    expect(off).toMatchObject({ status: 200, body: { active: false } });
    expect((await sandiman.get('/api/me')).status).toBe(401);
    expect(await server.database.rows('SELECT 1 FROM sessions WHERE person_id = $1', [sandiman.id])).toEqual([]);
    expect((await server.visitor().signIn('sandiman', `${ownerPassPhrase} of sandiman`)).status).toBe(403);
    const useLink = await server
      .visitor()
      .post('/api/pass-phrase', { token: tokenIn(link.body.path), passPhrase: 'let me in again' }, { key: null });
    expect(useLink.status).toBe(410);
    expect(await owner.post(`/api/people/${sandiman.id}/pass-phrase-link`, {})).toMatchObject({
      status: 409,
      body: { code: 'switched-off' },
    });
  });

  it('keep their only owner', async () => {
    const me = (await owner.get<{ id: string }>('/api/me')).body;
    const change = { displayName: 'Edie Marrack', role: 'owner', active: true };
    for (const away of [{ role: 'stores' }, { active: false }]) {
      const answer = await owner.patch(`/api/people/${me.id}`, { ...change, ...away }, { ifMatch: 1 });
      expect(answer).toMatchObject({ status: 409, body: { code: 'last-owner' } });
    }
  });

  it('keep one active owner, though two owners demote each other at the same moment', async () => {
    const edie = { id: (await owner.get<{ id: string }>('/api/me')).body.id, displayName: 'Edie Marrack', browser: owner };
    const mary = await addPerson(server, owner, 'owner', 'fenwright', 'M. Fenwright');
    const pair = [edie, { id: mary.id, displayName: 'M. Fenwright', browser: mary as Visitor }] as const;
    const setRole = async (by: Visitor, whom: { id: string; displayName: string }, role: string) => {
      const row = await server.database.row<{ version: number }>('SELECT version FROM people WHERE id = $1', [whom.id]);
      return by.patch(
        `/api/people/${whom.id}`,
        { displayName: whom.displayName, role, active: true },
        { ifMatch: row?.version ?? 0 },
      );
    };
    for (let round = 0; round < 10; round += 1) {
      const answers = await Promise.all([
        setRole(pair[0].browser, pair[1], 'viewer'),
        setRole(pair[1].browser, pair[0], 'viewer'),
      ]);
      expect(answers.filter((answer) => answer.status === 200)).toHaveLength(1);
      const owners = await server.database.rows<{ id: string }>("SELECT id FROM people WHERE role = 'owner' AND active");
      expect(owners).toHaveLength(1);
      const [left, gone] = owners[0]?.id === edie.id ? pair : ([pair[1], pair[0]] as const);
      expect((await setRole(left.browser, gone, 'owner')).status).toBe(200);
    }
  });
});
